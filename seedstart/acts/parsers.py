"""What is typed for a reading, for seeds, plants and places → values of the journal.

Each parser takes text and raises ValueError with the words that would do.
"""

import re
from datetime import date, datetime, time, timedelta
from typing import Final, NamedTuple

from seedstart.days import WEEKDAYS, day_without_year, parse_day
from seedstart.season.journal.place_entries import VALUE_RANGES, Quantity, range_in_words
from seedstart.season.journal.sowing_entries import Plant
from seedstart.text import clean
from seedstart.units import Units, parse_grams, parse_length, parse_temperature

_SAY = "a time, e.g. 18:00, sat 18:00, yesterday 8:30, 20 Mar 18:00, or 2027-03-20 18:00"
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
        return day_without_year(text, today, ahead=False) or parse_day(text)
    except ValueError as error:
        raise ValueError(f"{error}; or {_SAY}") from None


# Unit as it is typed → quantity. A bare temperature is the medium's: that is what is asked for.
_UNITS: Final[dict[str, Quantity]] = {
    "lx": "lux",
    "lux": "lux",
    "umol": "ppfd_umol",
    "µmol".casefold(): "ppfd_umol",  # which makes a Greek letter of the micro sign
    "mol": "dli_mol",
    "%": "rh_percent",
    "ms": "ec_ms_cm",
    "ms/cm": "ec_ms_cm",
    "ph": "ph",
}
_PER_AREA_AND_TIME: Final = re.compile(r"\s*(?:/\s*m[2²]\s*/\s*[sd]|m[-⁻][2²]\s*[sd][-⁻][1¹])$")
_SAY_READING: Final = "a number with its unit, e.g. 23.5C, 8000lux, 150umol, 60%"
_SAY_PLANTS: Final = (
    "height/stem diameter in mm for each plant, e.g. 82/3.1 75/2.9; x for a dead one, - to skip one"
)
_SAY_SEEDS: Final = "how many seeds: 24, about 100, or by mass, 2 g"
_SAY_LEAVING: Final = "how many plants, e.g. 3; or how many are left, e.g. 12 left; or all"
_SAY_INTO: Final = "how many and where to, e.g. 30 into tray 5, or tray 5:15, tray 6:15, sill:30"
_EACH_INTO: Final = re.compile(r"(\d{1,9})\s*(?:plants?\s*)?(?:in)?to\s+([^:]+)", re.IGNORECASE)
_SAY_STANDING: Final = "how many stand now, e.g. 18; or those that are new, e.g. 5 new"
_SAY_TIME: Final = "a time, e.g. 12 h or 28 days"
_LASTS: Final = re.compile(r"(\d{1,5}(?:[.,]\d{1,4})?)\s*(h|hours?|d|days?|w|weeks?)")


def parse_reading(text: str, quantity: Quantity | None, units: Units) -> tuple[Quantity, float]:
    """A measured number with its unit: `23.5C`, `8000lux`, `150umol`, `12mol`, `60%`, `1.8mS`.

    Args:
        text: What was typed.
        quantity: What was measured, where that was said; else the unit says it.
        units: What a bare temperature means.

    Raises:
        ValueError: Not a number, another quantity's unit, or a value that cannot be.
    """
    match = re.fullmatch(r"([+-]?\d{1,9}(?:[.,]\d{1,9})?)\s*([^\d.,].*)?", text.strip())
    if not match:
        raise ValueError(_SAY_READING)
    unit = _PER_AREA_AND_TIME.sub("", (match[2] or "").casefold()).strip()
    what = quantity or _UNITS.get(unit) or "soil_c"
    if what in {"soil_c", "air_c"}:
        return what, round(parse_temperature(text, units), 2)
    number = float(match[1].replace(",", "."))
    low, high = VALUE_RANGES[what]
    if unit and _UNITS.get(unit) != what:
        raise ValueError(f"a unit that fits {what}")
    if not low <= number <= high:
        raise ValueError(range_in_words(what))
    return what, number


def parse_spot(text: str, units: Units) -> tuple[float, float]:
    """A spot on a station, from its left end and its front, metres: `60 x 35 cm`, `24 x 14 in`.

    Raises:
        ValueError: Something else.
    """
    parts = re.split(r"\s*[x×]\s*", text.strip().casefold())
    unit = (re.search(r"(?:mm|cm|m|in|ft)$", parts[-1]) or [""])[0]  # of the last, of all
    try:
        along, across = (
            parse_length(one if one[-1:].isalpha() else f"{one}{unit}", units) for one in parts
        )
    except ValueError:
        raise ValueError("from the left and from the front, e.g. 60 x 35 cm") from None
    return along, across


class PlantsMeasured(NamedTuple):
    """Plants of a sowing as they were measured: those that were, and how many were found dead."""

    plants: tuple[Plant, ...]
    dead: int = 0


def parse_plants(text: str) -> PlantsMeasured:
    """Plants measured one by one: `82/3.1 75/2.9`, `A2: 75/2.9/4`; `x` dead, `-` skipped.

    Height/stem diameter in mm/leaves, with blanks or commas between plants.

    Raises:
        ValueError: Something else.
    """
    joined = re.sub(r"\s*([/:])\s*", r"\1", text.strip())
    if not joined or joined[-1] in ",;":
        raise ValueError(_SAY_PLANTS)
    number = r"(\d{1,5}(?:[.]\d{1,4})?)"
    label = r"(?:([^\s:,;/]{1,20}):)?"
    found, dead = [], 0
    for part in re.split(r"[\s,;]+", joined):
        if part.casefold() == "x" or part in {"-", "−", "–"}:
            dead += part.casefold() == "x"
            continue
        match = re.fullmatch(rf"{label}{number}/{number}(?:/(\d{{1,3}}))?", part)
        if not match:
            raise ValueError(_SAY_PLANTS)
        if float(match[2]) <= 0 or float(match[3]) <= 0:
            raise ValueError(f"height and stem above 0 mm, not {part}; x for a dead plant")
        found.append(
            Plant(
                height_mm=float(match[2]),
                diameter_mm=float(match[3]),
                leaves=int(match[4]) if match[4] else None,
                plant=_label(match[1]),
            )
        )
    if not found and not dead:
        raise ValueError(_SAY_PLANTS)
    return PlantsMeasured(tuple(found), dead)


def _label(text: str | None) -> int | str | None:
    """A plant's label; a number is written as one."""
    return int(text) if text and text.isdecimal() else text


class SeedsSown(NamedTuple):
    """Seeds of a sowing, one of the three: counted, about so many, or their mass in grams."""

    seeds: int | None = None
    about: int | None = None
    grams: float | None = None


def parse_seeds(text: str) -> SeedsSown:
    """`24`, `24 seeds`, `about 100`, `2 g`, `0.1 oz`.

    Raises:
        ValueError: Something else, or none at all.
    """
    said = text.strip().casefold()
    counted = re.fullmatch(r"(about\s+|ca\.?\s*|~\s*)?(\d{1,9})\s*(?:seeds?)?", said)
    if counted and int(counted[2]) > 0:
        number = int(counted[2])
        return SeedsSown(about=number) if counted[1] else SeedsSown(seeds=number)
    try:
        grams = parse_grams(said)
    except ValueError:
        raise ValueError(_SAY_SEEDS) from None
    if grams <= 0:
        raise ValueError(_SAY_SEEDS)
    return SeedsSown(grams=grams)


class PlantsLeaving(NamedTuple):
    """Plants that leave a sowing: how many, or how many are `left`."""

    plants: int | None = None
    left: int | None = None


def parse_leaving(text: str) -> PlantsLeaving:
    """`3`, `3 plants`; `12 left`, `left 12`; `all`.

    Raises:
        ValueError: Something else, or no plant at all.
    """
    said = text.strip().casefold()
    if said == "all":
        return PlantsLeaving(left=0)
    if left := re.fullmatch(r"(\d{1,9})\s*left|left\s*(\d{1,9})", said):
        return PlantsLeaving(left=int(left[1] or left[2]))
    plants = re.fullmatch(r"(\d{1,9})\s*(?:plants?|seedlings?)?", said)
    if not plants or int(plants[1]) == 0:
        raise ValueError(_SAY_LEAVING)
    return PlantsLeaving(plants=int(plants[1]))


class TreatedFor(NamedTuple):
    """How long a treatment is to last: in hours or in days, as it was said."""

    hours: float | None = None
    days: float | None = None


def parse_treated_for(text: str) -> TreatedFor:
    """`12 h`, `28 days`, `4 weeks`.

    Raises:
        ValueError: Something else.
    """
    match = _LASTS.fullmatch(text.strip().casefold())
    long = float(match[1].replace(",", ".")) if match else 0.0
    if match is None or long <= 0:
        raise ValueError(_SAY_TIME)
    if match[2].startswith("h"):
        return TreatedFor(hours=long)
    return TreatedFor(days=long * (7 if match[2].startswith("w") else 1))


class Standing(NamedTuple):
    """A count: all that stand, or those that came since (`new`); neither for as many as before."""

    standing: int | None = None
    new: int | None = None


def parse_standing(text: str) -> Standing:
    """`18`, `=`; `5 new`.

    Raises:
        ValueError: Something else.
    """
    said = text.strip().casefold()
    if said == "=":
        return Standing()
    match = re.fullmatch(r"(\d{1,9})\s*(new)?", said)
    if not match:
        raise ValueError(_SAY_STANDING)
    return Standing(new=int(match[1])) if match[2] else Standing(standing=int(match[1]))


def parse_destinations(text: str) -> list[tuple[str, int]]:
    """Places with the plants that each gets: `30 into tray 5`, `tray 5:15, tray 6:15, sill:30`.

    Each may have its own sum: `20 into 40, 13 into 41`; behind a sum a bare number is a tray.

    Those without a number share what is left of a known sum evenly, the first ones one more.

    Args:
        text: What was typed, the sum before it or not.

    Raises:
        ValueError: Something else, or numbers that do not add up.
    """
    said, total = clean(text).strip(), None
    each_said = [_EACH_INTO.fullmatch(part.strip()) for part in said.split(",")]
    if len(each_said) > 1 and all(each_said):
        return [(one[2].strip(), int(one[1])) for one in each_said if one and int(one[1])]
    summed = re.fullmatch(r"(?:(\d{1,9})\s*(?:plants?\s*)?(?:in)?to\s+)(.+)", said, re.IGNORECASE)
    if summed:
        total, said = int(summed[1]), summed[2]
    places = [_destination(part.strip(), bare=total is not None) for part in said.split(",")]
    known = sum(number for _, number in places if number is not None)
    unsaid = sum(number is None for _, number in places)
    if total is None:
        if unsaid:
            raise ValueError(_SAY_INTO)
        total = known
    left = total - known
    if left < unsaid or (left and not unsaid):
        raise ValueError(f"that makes {known}, and there are {total}")
    each, more = divmod(left, max(unsaid, 1))
    shares = iter([each + (place < more) for place in range(unsaid)])
    return [(where, next(shares) if number is None else number) for where, number in places]


def _destination(part: str, *, bare: bool) -> tuple[str, int | None]:
    where, colon, number = part.rpartition(":")
    if not colon:
        if not part or (part.isdecimal() and not bare):
            raise ValueError(_SAY_INTO)
        return part, None
    digits = number.strip()
    if not where.strip() or not digits.isdecimal() or len(digits) > 9 or int(digits) == 0:
        raise ValueError(_SAY_INTO)
    return where.strip(), int(digits)
