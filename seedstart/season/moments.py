"""When something happened, as a grower types it: `sat 18:00`, `yesterday`, `8:30`."""

import re
from datetime import date, datetime, time, timedelta

from seedstart.days import WEEKDAYS, parse_day

_SAY = "a time as 18:00, sat 18:00, yesterday 8:30, or 2027-03-20 18:00"
# Where only the day is said: nobody remembers better, and the day is what counts.
_NOON = time(12)


def parse_moment(text: str, now: datetime) -> datetime:
    """The moment that was meant, never after now.

    A weekday is the last one that is not ahead; a bare time is today's. In the hour that autumn
    doubles the first one is taken, as the standard library does.

    Args:
        text: What was typed.
        now: The moment it is, in the season's zone.

    Raises:
        ValueError: Not a moment, or one that is still to come; the text says what would do.
    """
    words = text.strip().casefold()
    clock = re.search(r"(?:^|[ t])(\d{1,2})[:.](\d{2})$", words)
    day_text = words[: clock.start()].strip() if clock else words
    at = _clock(int(clock[1]), int(clock[2])) if clock else None
    day = _day(day_text, now, at)
    moment = datetime.combine(day, at or min(_NOON, _time_of(now, day)), tzinfo=now.tzinfo)
    if moment > now:
        raise ValueError(f"that lies ahead of now, {now:%Y-%m-%d %H:%M}; say {_SAY}")
    return moment


def _clock(hours: int, minutes: int) -> time:
    if hours > 23 or minutes > 59:
        raise ValueError(_SAY)
    return time(hours, minutes)


def _time_of(now: datetime, day: date) -> time:
    return now.time() if day == now.date() else time.max


def _day(text: str, now: datetime, at: time | None) -> date:
    today = now.date()
    if text in {"", "today"}:
        return today
    if text == "yesterday":
        return today - timedelta(days=1)
    if len(text) >= 3 and text[:3] in WEEKDAYS and text.isalpha():
        back = (today.weekday() - WEEKDAYS.index(text[:3])) % 7
        if back == 0 and at is not None and at > now.time():
            back = 7
        return today - timedelta(days=back)
    try:
        return parse_day(text)
    except ValueError as error:
        raise ValueError(f"{error}; or {_SAY}") from None
