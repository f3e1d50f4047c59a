"""The morning round as lines: alerts with their cure, then checks in walking order."""

from collections.abc import Iterable, Iterator
from itertools import groupby

from seedstart.daily.check import Alert, Check, Round
from seedstart.days import long_day, short_day
from seedstart.drawing.lines import Line, Role, Span, heading, plain, wrapped
from seedstart.text import plural

_LEVELS = {"act_now": "act now", "today": "today", "know": "to know"}
# A state is a word or a sign as well as a weight.
_OPEN, _DONE = "[ ]", "[x]"


def round_lines(found: Round, width: int = 80, *, keys: bool = False) -> list[Line]:
    """The whole round.

    Args:
        found: What a walk past the stations meets.
        width: Columns.
        keys: Whether each check's key stands under it, for `--done` and `--later`.
    """
    lines = [heading(_head(found))]
    lines += alert_lines(found.alerts, width)
    if not found.checks:
        return [*lines, plain(""), plain("Nothing to do today.")]
    for station, checks in groupby(found.checks, key=lambda check: check.station):
        lines += [plain(""), heading(station or "not at a station")]
        for check in checks:
            lines += check_lines(check, found, width)
            if keys:
                lines.append((Span(f"        {check.key}", "quiet"),))
    return lines


def _head(found: Round) -> str:
    day = long_day(found.day)
    days = found.days_to_frost
    if days is None:
        return day
    if days > 0:
        return f"{day}, {plural(days, 'day')} to the last frost date"
    return (
        f"{day}, {plural(-days, 'day')} after the last frost date"
        if days
        else f"{day}, the last frost date"
    )


def check_lines(check: Check, found: Round, width: int) -> Iterator[Line]:
    """One check: its box, what to do, where; then why."""
    box = _DONE if check.done else _OPEN
    tray = f"{check.tray}: " if check.tray else ""
    late = (found.day - check.due).days
    overdue = f"  ({plural(late, 'day')} late)" if late > 0 and not check.done else ""
    done = f"  (done by {check.done_by})" if check.done else ""
    role: Role = "quiet" if check.done else "plain"
    yield from wrapped(f"{box} {tray}{check.says}{overdue}{done}", width, "  ", role, "    ")
    for why in check.why if not check.done else ():
        basis = f" ({why.basis})" if why.basis else ""
        yield from wrapped(f"{why.text}{basis}", width, "      ", "quiet", "")


def alert_lines(alerts: Iterable[Alert], width: int = 80) -> Iterator[Line]:
    """Alerts, the most urgent first: what is wrong, what it costs, what cures it."""
    for alert in alerts:
        cost = f" Costs {alert.costs_days:.1f} days." if alert.costs_days else ""
        where = f"{alert.station}: " if alert.station else ""
        text = f"! {_LEVELS[alert.level]}: {where}{alert.text}{cost}"
        yield from wrapped(text, width, "", "warn", "  ")
        yield from wrapped(f"→ {alert.cure}", width, "    ", "plain", "  ")
        since = f"since {short_day(alert.since.date())} {alert.since:%H:%M}; {alert.basis}"
        yield from wrapped(since, width, "    ", "quiet", "  ")
