"""What is said when the whole round is done: what is still true, and what comes."""

from collections.abc import Iterator
from datetime import timedelta

from seedstart.acts.known import Known
from seedstart.daily.check import Round, first_few
from seedstart.daily.check_status import single_checks
from seedstart.days import short_day
from seedstart.planning.calendar.row import IN_WORDS
from seedstart.text import joined, plural


def done_in_full(found: Round) -> list[str]:
    """What is said when all of a round is done, and what is still to act on now."""
    single = list(single_checks(found.checks))
    if not single or not all(check.done for check in single):
        return []
    later = f", {len(found.later)} put off" if found.later else ""
    now = dict.fromkeys(
        alert.tray or alert.station or alert.kind
        for alert in found.alerts
        if alert.level == "act_now"
    )
    still = [f"Still to act on now: {joined(list(now))}."] if now else []
    return [f"That is the round: {plural(len(single), 'line')}{later}.", *still]


def all_done(found: Round, known: Known) -> Iterator[str]:
    """A row each: that it is done, what is still true, when to bring in what is out, tomorrow.

    Args:
        found: The round.
        known: The season.
    """
    said = done_in_full(found)
    yield from said
    if said:
        yield from _comes_in(known)
        yield from _tomorrow(known)


def _comes_in(known: Known) -> Iterator[str]:
    """`Bring in tray 21 at 14:00`, of what was carried out; no act says that it was."""
    out = [("tray", place.hardened) for place in known.records.places.values()]
    alive = [("sowing", one.hardened) for one in known.records.standings.values() if one.alive]
    ends: dict[str, list[str]] = {}
    for kind, hardened in (*out, *alive):
        if hardened and not hardened[-1].night:
            last = hardened[-1]
            until = last.at.astimezone(known.now.tzinfo) + timedelta(hours=last.hours)
            is_today = last.at.astimezone(known.now.tzinfo).date() == known.now.date()
            if is_today and (name := getattr(last, kind)):
                ends.setdefault(f"{until:%H:%M}", []).append(name)
    for at, names in sorted(ends.items()):
        yield f"Bring in {first_few(list(dict.fromkeys(names)))} at {at}."


def _tomorrow(known: Known) -> Iterator[str]:
    """`Tomorrow, Sun 12 Apr: sow tomato-cherry`, an act a row, of the calendar's best days."""
    day = known.now.date() + timedelta(days=1)
    acts: dict[str, list[str]] = {}
    for row in known.rows:
        for step in row.steps:
            planned = step.is_ != "happened" and step.name not in {"emerge", "harden"}
            if planned and step.window is not None and step.window.best == day:
                acts.setdefault(IN_WORDS[step.name], []).append(row.sowing or row.lot or row.crop)
    when = f"Tomorrow, {day:%a} {short_day(day)}"
    for act, names in acts.items():
        yield f"{when}: {act} {first_few(names)}."
    if not acts:
        yield f"{when}: nothing new in the plan; what is felt and counted comes again."
