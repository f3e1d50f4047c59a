"""The morning round as lines: alerts with their cure, then checks in walking order."""

from collections.abc import Iterator, Sequence
from itertools import groupby

from seedstart.daily.check import Alert, Check, Level, Round
from seedstart.days import long_day
from seedstart.drawing.lines import Line, Role, Span, heading, plain, wrapped
from seedstart.text import plural

LEVELS: dict[Level, str] = {"act_now": "act now", "today": "today", "know": "to know"}
BEFORE_THE_WALK = "before the walk"
# A state is a word or a sign as well as a weight.
OPEN, DONE = "[ ]", "[x]"


def round_lines(
    found: Round, width: int = 80, *, why: bool = False, keys: bool = False
) -> list[Line]:
    """The whole round.

    Args:
        found: What a walk past the stations meets.
        width: Columns.
        why: Whether the reasons of each check stand under it.
        keys: Whether each key stands under its line, for `--done`, `--answer` and `--later`.
    """
    lines = [heading(head(found)), *alert_lines(found.alerts, width, keys=keys)]
    if not found.checks:
        return [*lines, plain(""), plain("Nothing to do today.")]
    for station, checks in groupby(found.checks, key=lambda check: check.station):
        lines += [plain(""), heading(station or BEFORE_THE_WALK)]
        for check in checks:
            lines += check_lines(check, found, width)
            if keys:
                lines.append((Span(f"      key: {check.key}", "quiet"),))
            if why:
                lines += why_lines(check, width)
    return lines


def head(found: Round) -> str:
    """`Fri 10 Apr 2026, 38 days to the last frost date; 25 to do, 3 done`."""
    day = long_day(found.day)
    days, done = found.days_to_frost, sum(check.done for check in found.checks)
    frost = ""
    if days is not None:
        frost = f", {plural(days, 'day')} to the last frost date"
        if days <= 0:
            frost = f", {plural(-days, 'day')} after the last frost date"
        if not days:
            frost = ", the last frost date"
    todo = len(found.checks) - done
    return f"{day}{frost}; {todo} to do, {done} done"


def check_lines(check: Check, found: Round, width: int) -> Iterator[Line]:
    """One check: its box, where, what to do, how late it is, who did it."""
    box = DONE if check.done else OPEN
    tray = f"{check.tray}: " if check.tray else ""
    role: Role = "quiet" if check.done else "plain"
    yield from wrapped(f"{box} {tray}{check.says}{state(check, found)}", width, "  ", role, "    ")


def state(check: Check, found: Round) -> str:
    """How late a check is, or who did it; empty for one that is due today."""
    if check.done:
        return f"  (done{f' by {check.done_by}' if check.done_by else ''})"
    late = (found.day - check.due).days
    off = f", put off {plural(check.put_off, 'time')}" if check.put_off else ""
    return f"  ({plural(late, 'day')} late{off})" if late > 0 else f"  ({off[2:]})" if off else ""


def why_lines(check: Check, width: int) -> Iterator[Line]:
    """Why a check is there, with what its figures rest on."""
    for why in check.why:
        basis = f" ({why.basis})" if why.basis else ""
        sources = f" [{', '.join(why.sources)}]" if why.sources else ""
        yield from wrapped(f"{why.text}{basis}{sources}", width, "      ", "quiet", "  ")


def alert_lines(alerts: Sequence[Alert], width: int = 80, *, keys: bool = False) -> Iterator[Line]:
    """Alerts, the most urgent first: what is wrong, what it costs, what cures it."""
    if not alerts:
        yield plain("No alerts.")
    for alert in alerts:
        yield from wrapped(alert_text(alert), width, "", "warn", "  ")
        yield from wrapped(f"cure: {alert.cure}", width, "  ", "plain", "  ")
        yield from wrapped(basis_text(alert), width, "  ", "quiet", "  ")
        if keys:
            yield (Span(f"  key: {alert.key}", "quiet"),)


def alert_text(alert: Alert) -> str:
    """`! act now: heat mat: …; costs 0.4 days`."""
    days = alert.costs_days
    cost = f"; costs {days:g} day{'' if days == 1 else 's'}" if days else ""
    where = f"{alert.station}{f', {alert.tray}' if alert.tray else ''}: " if alert.station else ""
    return f"! {LEVELS[alert.level]}: {where}{alert.text}{cost}"


def basis_text(alert: Alert) -> str:
    """Since when, and what the figures rest on."""
    sources = f" [{', '.join(alert.sources)}]" if alert.sources else ""
    return f"since {alert.since:%-d %b %H:%M}; {alert.basis}{sources}"
