"""A row after something has happened: what follows is counted from that, not from the plan."""

from collections.abc import Mapping
from datetime import date, timedelta

from msgspec import Struct, structs

from seedstart.days import Window, nearest_work_day, short_day
from seedstart.planning.anchor import set_out_after, set_out_window
from seedstart.planning.ask import Ask
from seedstart.planning.calendar import plan
from seedstart.planning.crop_times import growing
from seedstart.planning.forward import steps_after_emergence
from seedstart.planning.row import IN_WORDS, Reason, Row, Step, StepName

# How far ahead a work day is looked for when the day to sow has passed.
_SOON_DAYS = 14


class Happened(Struct, frozen=True, kw_only=True):
    """What has happened of one sowing, as the calendar needs it.

    Attributes:
        sowing: Its name.
        sowing_id: The entry that made it.
        station: Where it stands.
        days: The day of each step that happened; `sow` is always among them.
        expected_up: When it is expected up, by the warmth that was measured.
        rests_on: What that rests on, as a sentence.
        over: Nothing of it is left.
    """

    sowing: str
    station: str | None
    days: Mapping[StepName, date]
    expected_up: Window | None = None
    rests_on: str = ""
    over: bool = False
    sowing_id: str | None = None


def row_today(ask: Ask, happened: Happened | None, today: date) -> Row:
    """The row of a sowing as it is expected today.

    A step whose best day passed undone is expected today and moves what follows; past its latest
    the row says so.

    Args:
        ask: What was asked of the calendar.
        happened: What has happened; None while nothing was sown.
        today: The day it is.
    """
    if happened is None:
        return _not_yet_sown(ask, today)
    return _sown(ask, happened, today)


def _not_yet_sown(ask: Ask, today: date) -> Row:
    row = plan(ask)
    sow = row.window("sow")
    if sow is None or today <= sow.best:
        return row
    soon = Window(today, today, today + timedelta(days=_SOON_DAYS))
    day = nearest_work_day(soon, ask.work_days, ask.away) or today
    moved = plan(structs.replace(ask, sow_on=day))
    steps = [
        structs.replace(step, is_="expected", window=_stretched(sow, day), due=sow.best)
        if step.name == "sow"
        else structs.replace(step, is_="expected")
        for step in moved.steps
    ]
    late = f"It was to be sown on {short_day(sow.best)}; counted as if sown on {short_day(day)}."
    warnings = row.warnings
    if day > sow.latest:
        out = moved.window("set_out")
        then = (
            f" Sown on {short_day(day)} it is set out about {short_day(out.best)}." if out else ""
        )
        warnings = (*warnings, f"Its time to sow ended on {short_day(sow.latest)}.{then}")
    reasons = (*row.reasons, Reason("sow", late))
    return structs.replace(row, steps=tuple(steps), warnings=warnings, reasons=reasons)


def _stretched(window: Window, day: date) -> Window:
    """The window with another best day, and wide enough for it."""
    return Window(min(window.earliest, day), day, max(window.latest, day))


def _sown(ask: Ask, happened: Happened, today: date) -> Row:
    sown = happened.days["sow"]
    base = plan(structs.replace(ask, sow_on=sown))
    named = structs.replace(
        base,
        sowing=happened.sowing,
        sowing_id=happened.sowing_id,
        station=happened.station or base.station,
        seeds=None,
    )
    steps: list[Step] = []
    if "treat" in happened.days:
        steps.append(Step("treat", Window.on(happened.days["treat"]), "happened"))
    steps.append(Step("sow", Window.on(sown), "happened"))
    warnings = list(base.warnings if "emerge" not in happened.days else ())
    emerge = _emergence(base, happened, today)
    if emerge is not None:
        steps.append(emerge)
        if emerge.window and _overdue(emerge, happened.expected_up or base.window("emerge"), today):
            warnings.append(
                f"It was expected up by {short_day(_latest(base, happened))} at latest."
            )
    grows = growing(ask.crop, ask.factor)
    if grows is not None and emerge is not None and emerge.window is not None:
        # For a ready date plants go out younger rather than late.
        grown = grows.growing_on if ask.ready is None else grows.growing_on_at_least
        ready = emerge.window.best + timedelta(days=round(grown))
        out = set_out_after(ready, set_out_window(ask))
        planned = steps_after_emergence(ask, grows, emerge.window, out)
        later, said = _from_what_happened(ask, planned, happened, today)
        steps += later
        warnings += said
    reasons = tuple(
        Reason("sow", f"It was sown on {short_day(sown)}; the rest is counted from that.")
        if reason.step == "sow"
        else reason
        for reason in base.reasons
    )
    if happened.rests_on and "emerge" not in happened.days:
        reasons = (*reasons, Reason("emerge", happened.rests_on))
    problem = base.problem if emerge is None else None
    return structs.replace(
        named,
        steps=tuple(_in_order(steps, happened)),
        warnings=tuple(warnings),
        reasons=reasons,
        problem=problem,
    )


def _emergence(base: Row, happened: Happened, today: date) -> Step | None:
    if "emerge" in happened.days:
        return Step("emerge", Window.on(happened.days["emerge"]), "happened")
    window = happened.expected_up or base.window("emerge")
    if window is None or happened.over:
        return None
    return Step("emerge", _not_before(window, today), "expected")


def _not_before(window: Window, today: date) -> Window:
    """What has not happened yet is expected today at the earliest."""
    if window.best >= today:
        return window
    return _stretched(window, today)


def _overdue(step: Step, window: Window | None, today: date) -> bool:
    return step.is_ == "expected" and window is not None and today > window.latest


def _latest(base: Row, happened: Happened) -> date:
    window = happened.expected_up or base.window("emerge")
    if window is None:
        raise ValueError("nothing without a window is overdue")
    return window.latest


def _from_what_happened(
    ask: Ask, planned: list[Step], happened: Happened, today: date
) -> tuple[list[Step], list[str]]:
    """Later steps: what happened stands, and moves what follows by as much as it was off."""
    moved = 0
    found: list[Step] = []
    warnings: list[str] = []
    last_done = max(
        (place for place, step in enumerate(planned) if step.name in happened.days), default=-1
    )
    for place, step in enumerate(planned):
        if step.window is None:
            continue
        if step.name in happened.days:
            day = happened.days[step.name]
            moved = (day - step.window.best).days
            found.append(structs.replace(step, window=Window.on(day), is_="happened"))
            continue
        if place < last_done or happened.over:
            continue  # left out by the grower, who went on to a later step
        window = _moved(ask, step, moved)
        if today > window.latest:
            ended = short_day(window.latest)
            warnings.append(f"To {IN_WORDS[step.name]} was to be done by {ended} at latest.")
        waiting = max((today - window.best).days, 0)
        moved += waiting
        expected = structs.replace(step, window=_not_before(window, today), is_="expected")
        found.append(structs.replace(expected, due=window.best) if waiting else expected)
    return found, warnings


def _moved(ask: Ask, step: Step, days: int) -> Window:
    if step.window is None:
        raise ValueError("a step without a window does not move")
    if step.name == "set_out":
        best = step.window.best + timedelta(days=days)
        return set_out_after(best, set_out_window(ask))
    return step.window.shifted(days)


def _in_order(steps: list[Step], happened: Happened) -> list[Step]:
    """What is still to come does not come before what has happened."""
    last = max(happened.days.values())
    return [
        structs.replace(step, window=Window(*(max(day, last) for day in step.window)))
        if step.is_ == "expected" and step.window is not None
        else step
        for step in steps
    ]
