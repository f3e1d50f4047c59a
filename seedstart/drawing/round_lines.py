"""The morning round as lines: alerts with what to do, then checks in walking order."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from itertools import groupby

from seedstart.crop_table.crop import Source
from seedstart.daily.check import Alert, Check, Round
from seedstart.daily.check_status import single_checks
from seedstart.days import long_day, short_day
from seedstart.drawing.lines import Line, Role, Span, heading, plain, wrapped
from seedstart.drawing.round_rows import DONE, LEVELS, OPEN
from seedstart.text import plural

BEFORE_THE_WALK = "before the walk"


def round_lines(
    found: Round,
    width: int = 80,
    *,
    why: bool = False,
    keys: bool = False,
    away: tuple[date, date] | None = None,
) -> list[Line]:
    """The whole round.

    Args:
        found: What a walk past the stations meets.
        width: Columns.
        why: Whether the reasons of each check stand under it.
        keys: Whether each key stands under its line.
        away: First and last day on which nothing was written, where they are several.
    """
    gone = wrapped(" ".join(away_in_words(*away)), width, hang="") if away else []
    lines = [heading(head(found)), *gone, *alert_lines(found.alerts, width, keys=keys)]
    if not found.checks:
        return [*lines, plain(""), plain("Nothing to do today.")]
    for station, checks in groupby(found.checks, key=lambda check: check.station):
        lines += [plain(""), heading(station or BEFORE_THE_WALK)]
        for check in checks:
            lines += check_lines(check, found.day, width)
            if keys:
                lines.append((Span(f"    key: {check.key}", "quiet"),))
            if why:
                lines += why_lines(check, width)
    return lines


def away_in_words(first: date, last: date) -> tuple[str, str]:
    """What is to be known of days on which nothing was written, in two sentences."""
    days = f"{first:%a} {short_day(first)} to {last:%a} {short_day(last)}"
    return (
        f"Nothing was written from {days}.",
        "Nobody looked, so nothing is taken for dead or dry.",
    )


def head(found: Round) -> str:
    """`Fri 10 Apr 2026, 38 days to the last frost date; 25 to do, 3 done`."""
    day = long_day(found.day)
    single = list(single_checks(found.checks))
    days, done = found.days_to_frost, sum(check.done for check in single)
    frost = ""
    if days is not None:
        frost = f", {plural(days, 'day')} to the last frost date"
        if days <= 0:
            frost = f", {plural(-days, 'day')} after the last frost date"
        if not days:
            frost = ", the last frost date"
    lines = f" in {len(found.checks)} lines" if len(found.checks) < len(single) else ""
    return f"{day}{frost}; {len(single) - done} to do, {done} done{lines}"


def check_lines(check: Check, today: date, width: int) -> Iterator[Line]:
    """One check: its sign, where, what to do, how long it is overdue, who did it."""
    sign = DONE if check.done else OPEN
    tray = f"{check.tray}: " if check.tray else ""
    role: Role = "quiet" if check.done else "plain"
    yield from wrapped(f"{sign} {tray}{check.says}{state(check, today)}", width, "  ", role, "    ")
    if check.counts and len(check.sowings) > 1 and not check.done:
        yield from wrapped(f"in this order: {_lasts(check)}", width, "    ", "quiet", "  ")


def state(check: Check, today: date) -> str:
    """How long a check is overdue, or who did it; of a count when the last one was."""
    if check.done:
        return f"  (done{f' by {check.done_by}' if check.done_by else ''})"
    past = check.days_past(today)
    said = [
        _done_of(check),
        f"{plural(past, 'day')} overdue" if past else _last_count(check, today),
        f"put off {plural(check.put_off, 'time')}" if check.put_off else "",
    ]
    return f"  ({', '.join(filter(None, said))})" if any(said) else ""


def _done_of(check: Check) -> str:
    """How far one is with a line that gathers several: `3 of 12 done`."""
    done = sum(part.done for part in check.parts)
    return f"{done} of {len(check.parts)} done" if done else ""


def _last_count(check: Check, today: date) -> str:
    """`last Fri 10`, with the month where it was another; nothing where it was yesterday."""
    day = check.last_on
    if day is None or check.parts or (today - day).days < 2:
        return ""
    return f"last {day:%a} {day.day}{f' {day:%b}' if day.month != today.month else ''}"


def _lasts(check: Check) -> str:
    """The sowings of a check with their last counts, in the order in which they are typed."""
    lasts = ("-" if one.last is None else str(one.last) for one in check.sowings)
    pairs = zip((one.name for one in check.sowings), lasts, strict=True)
    return ", ".join(f"{name} (last {last})" for name, last in pairs)


def why_lines(check: Check, width: int) -> Iterator[Line]:
    """Why a check is there, with what its figures rest on."""
    for why in check.why:
        basis = f" ({why.basis})" if why.basis else ""
        sources = f" [{', '.join(why.sources)}]" if why.sources else ""
        yield from wrapped(f"{why.text}{basis}{sources}", width, "    ", "quiet", "  ")


def alert_lines(alerts: Sequence[Alert], width: int = 80, *, keys: bool = False) -> Iterator[Line]:
    """Alerts, the most urgent first: what is wrong, what it costs, what to do."""
    if not alerts:
        yield plain("No alerts.")
    for alert in alerts:
        yield from wrapped(alert_text(alert), width, "", "warn", "  ")
        yield from wrapped(f"what to do: {'; '.join(alert.remedies)}", width, "  ", "plain", "  ")
        yield from wrapped(basis_text(alert), width, "  ", "quiet", "  ")
        if keys:
            yield (Span(f"  key: {alert.key}", "quiet"),)


def alert_text(alert: Alert) -> str:
    """`! act now: heat mat: …; costs 0.4 days`."""
    cost = f"; {alert.cost_in_words}" if alert.cost_in_words else ""
    where = f"{alert.station}{f', {alert.tray}' if alert.tray else ''}: " if alert.station else ""
    text = alert.text.removesuffix(".") if cost else alert.text
    return f"! {LEVELS[alert.level]}: {where}{text}{cost}"


def basis_text(alert: Alert) -> str:
    """Since when, and what the figures rest on."""
    sources = f" [{', '.join(alert.sources)}]" if alert.sources else ""
    return f"since {alert.since:%-d %b %H:%M}; {alert.basis}{sources}"


def why_sheet_lines(of: Check | Alert, sources: Mapping[str, Source], width: int) -> list[Line]:
    """The whole of it.

    Args:
        of: The check or the alert.
        sources: The crop table's, by key.
        width: Columns.
    """
    return list(_alert(of, sources, width) if isinstance(of, Alert) else _check(of, sources, width))


def _check(check: Check, sources: Mapping[str, Source], width: int) -> Iterator[Line]:
    where = ", ".join(part for part in (check.station, check.tray) if part)
    yield from wrapped(f"{where}: {check.says}" if where else check.says, width, "", "heading")
    for part in check.parts or (check,):
        yield plain("")
        if check.parts:
            yield from wrapped(f"{part.tray or ''} {part.says}".strip(), width, "", "name")
        for why in part.why:
            basis = f" ({why.basis})" if why.basis else ""
            yield from wrapped(f"{why.text}{basis}", width, "- ", "plain", "  ")
            yield from _cited(why.sources, sources, width)


def _alert(alert: Alert, sources: Mapping[str, Source], width: int) -> Iterator[Line]:
    where = ", ".join(part for part in (alert.station, alert.tray) if part)
    yield heading(f"{LEVELS[alert.level]}: {alert.kind}{f', {where}' if where else ''}")
    yield plain("")
    yield from wrapped(alert.text, width)
    if alert.costs:
        yield from wrapped(f"{alert.costs[:1].upper()}{alert.costs[1:]}.", width)
    elif alert.cost_in_words:
        yield from wrapped(f"It {alert.cost_in_words} so far.", width)
    yield from wrapped(f"What to do: {'; '.join(alert.remedies)}", width)
    yield plain("")
    yield from wrapped(f"Since {alert.since:%a %-d %b %H:%M}.", width)
    yield from wrapped(f"Rests on: {alert.basis}.", width)
    yield from _cited(alert.sources, sources, width)
    if alert.sowings:
        yield from wrapped(f"Sowings: {', '.join(alert.sowings)}", width)


def _cited(keys: tuple[str, ...], sources: Mapping[str, Source], width: int) -> Iterator[Line]:
    for key in keys:
        known = sources.get(key)
        yield from wrapped(known.text if known else key, width, "    ", "quiet", "  ")
