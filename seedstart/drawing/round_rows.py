"""The round as rows of a screen: sign, label on the tray, what to do, how many or when.

Columns are those of every screen, counted from nought: the cursor in 0, which the list draws, the
sign in 1, the label from 3, the text from 14, and the right end before the last cell.
"""

from datetime import date
from typing import Final

from msgspec import Struct

from seedstart.daily.check import Alert, Asked, Check, Level
from seedstart.drawing.lines import Line, Role, Span, cells_wide, fitted
from seedstart.text import plural

LEVELS: Final[dict[Level, str]] = {"act_now": "act now", "today": "today", "know": "to know"}
# A state is a word or a sign as well as a weight.
OPEN, DONE, LOOK, OPENS, OPENED = "·", "✓", "!", "▸", "▾"
LABEL_WIDE: Final = 11
TEXT_FROM: Final = 3 + LABEL_WIDE
OF_A_PART: Final = 2  # cells that a row under its line stands in
# Where the counts of a tray are typed: the column of the field in the row of a sowing.
FIELD_FROM: Final = 60
_SOWN_FROM, _LAST_FROM = 31, 46


class Group(Struct, frozen=True):
    """A station's heading in a list: how warm it is, how many of its checks are done."""

    name: str
    warmth: str
    done: int
    checks: int


class More(Struct, frozen=True):
    """How many alerts more there are than are shown at first."""

    alerts: int
    shown: bool


class Seen(Struct, frozen=True):
    """How many alerts were seen on this walk: where the cursor stays after the last of them."""

    alerts: int


def row(
    sign: str, label: str, text: str, aside: str, width: int, *, role: Role = "plain",
    aside_role: Role = "quiet", sign_role: Role | None = None,
) -> Line:  # fmt: skip
    """One row; what is too long for its column ends in `…`, and the right end always stands."""
    room = max(width - TEXT_FROM - (cells_wide(aside) + 2 if aside else 0), 1)
    return (
        Span(f"{sign} ", sign_role or role),
        Span(f"{fitted(label, LABEL_WIDE - 1)} ", role),
        Span(fitted(text, room), role),
        Span(f"  {aside} " if aside else " ", aside_role),
    )


def group_row(group: Group, width: int) -> Line:
    """A station, how warm it is, and how far one is with it."""
    far = "all done" if group.done == group.checks else f"{group.done} of {group.checks} done"
    name = fitted(group.name, max(LABEL_WIDE + 1, cells_wide(group.name)))
    room = max(width - cells_wide(name) - cells_wide(far) - 4, 0)
    return (
        Span(f"{name} ", "heading"),
        Span(fitted(f" {group.warmth}" if group.warmth else "", room), "quiet"),
        Span(f"  {far} ", "quiet"),
    )


def more_row(more: More, width: int) -> Line:
    """The line that shows or hides the rest of the alerts."""
    if more.shown:
        return row(OPENED, "alerts", "fewer alerts", "Enter closes", width, role="quiet")
    text = f"{plural(more.alerts, 'alert')} more"
    return row(OPENS, "alerts", text, "Enter opens", width, role="quiet")


def seen_row(seen: Seen, width: int) -> Line:
    """The line that the last alert leaves behind."""
    return row(DONE, "alerts", f"{seen.alerts} seen", "↓ goes on", width, role="quiet")


def told_row(text: str, aside: str, width: int, *, look: bool) -> Line:
    """A line that only says something, across the columns."""
    room = max(width - 2 - (cells_wide(aside) + 2 if aside else 0), 1)
    sign: Role = "warn" if look else "plain"
    end = Span(f"  {aside} " if aside else "", "quiet")
    return (Span(f"{LOOK if look else ' '} ", sign), Span(fitted(text, room)), end)


def alert_row(alert: Alert, width: int) -> Line:
    """What is wrong, in one line, and how soon to act; what to do opens under it."""
    label = alert.tray or alert.station or ""
    what = alert.brief.partition(" → ")[0]
    what = what.removeprefix(f"{label}: ")
    now = alert.level == "act_now"
    return row(
        LOOK, label, what, LEVELS[alert.level], width, role="warn" if now else "plain",
        aside_role="warn" if now else "quiet", sign_role="warn",
    )  # fmt: skip


def check_row(
    check: Check, label: str, today: date, width: int, *, part: bool = False, shown: bool = False
) -> Line:
    """A check in one line; under a line that gathers several, one of those."""
    role: Role = "quiet" if check.done else "plain"
    sign, text, aside = DONE if check.done else OPEN, _in_brief(check), _aside(check, today)
    if check.parts:
        label = _how_many(check)
        text = text.replace(f"{label}: ", "", 1).replace(label, "them", 1)
        text = _by_their_numbers(check, text)
        sign = sign if check.done else OPENED if shown else OPENS
    if part:
        tray = f"{check.tray}: " if check.tray else ""
        text = f"{' ' * OF_A_PART}{tray}{text}"
    return row(sign, label, text, aside, width, role=role)


def _in_brief(check: Check) -> str:
    """What to do; of plants that are pricked out how many are up, and how many are wanted."""
    if check.what != "prick out" or len(check.sowings) != 1 or check.done:
        return check.says
    (one,) = check.sowings
    wanted = f", {one.want} wanted" if one.want is not None else ""
    return f"{check.says.partition(' (')[0]}: {one.standing} up{wanted}"


def _by_their_numbers(check: Check, text: str) -> str:
    """`10, 14, 21`: where each is called a tray, and the label says the word."""
    said, colon, names = text.partition(": ")
    called = all((part.tray or "").startswith("tray ") for part in check.parts)
    return f"{said}{colon}{names.replace('tray ', '')}" if called else text


def _how_many(check: Check) -> str:
    """`3 trays`: as the sentence of a line that gathers several begins its list."""
    left = [part for part in check.parts if not part.done] or check.parts
    for of in ("tray", "sowing", "lot"):
        if f"{plural(len(left), of)}" in check.says:
            return plural(len(left), of)
    return plural(len(left), "line")


def _aside(check: Check, today: date) -> str:
    if check.done:
        at = f"{check.done_at:%H:%M}" if check.done_at else ""
        return " ".join(part for part in (check.done_by or "", at) if part)
    if check.parts:
        done = sum(part.done for part in check.parts)
        return f"{done} of {len(check.parts)} done" if done else "Enter opens"
    past = check.days_past(today)
    if past:
        return f"{past} d overdue"
    if check.counts:
        return _last_counts(check, today)
    return f"put off {plural(check.put_off, 'time')}" if check.put_off else ""


def _last_counts(check: Check, today: date) -> str:
    """`last 33`, `last Wed 8`: the number of one, else the day; of another month with it."""
    lasts = [one.last for one in check.sowings if one.last is not None]
    number = str(lasts[0]) if len(check.sowings) == 1 and lasts else ""
    day = check.last_on
    on = ""
    if day is not None and (today - day).days >= _YESTERDAY:
        on = f"{day:%a} {day.day}{f' {day:%b}' if day.month != today.month else ''}"
    said = ", ".join(part for part in (number, on) if part)
    return f"last {said}" if said else ""


_YESTERDAY: Final = 2


def group_of_counts_row(check: Check, label: str, today: date, width: int, *, shown: bool) -> Line:
    """A tray of several sowings that are counted: Enter opens it, a row each."""
    if check.done:
        return check_row(check, label, today, width)
    many = plural(len(check.sowings), "sowing")
    verb = "look at" if check.what == "look" else "count"
    aside = _last_counts(check, today) or "Enter opens"
    return row(OPENED if shown else OPENS, label, f"{verb} its {many}", aside, width)


def count_row(one: Asked, seeds: int | None, width: int, *, now: str | None) -> Line:
    """One sowing of a tray that is counted; `now` is its count of today, None while none is."""
    sown = f"{seeds} sown" if seeds is not None else ""
    last = f"last {one.last}" if one.last is not None and now is None else ""
    text = f"{fitted(f'  {one.name}', _SOWN_FROM - TEXT_FROM - 1)} {sown}"
    text = f"{fitted(text, _LAST_FROM - TEXT_FROM)}{last}"
    text = f"{fitted(text, FIELD_FROM - TEXT_FROM)}{now or OPEN}"
    done = now is not None
    return row(DONE if done else OPEN, "", text, "", width, role="quiet" if done else "plain")
