"""A row after something has happened: what follows is counted from that, not from the plan."""

from collections.abc import Iterator, Mapping
from datetime import date, timedelta

from msgspec import Struct, structs

from seedstart.days import Window, nearest_work_day, short_day
from seedstart.planning.calendar.crop_times import AtStation, at_station, growing
from seedstart.planning.calendar.row import (
    IN_WORDS,
    SOW_OUTDOORS,
    Reason,
    Row,
    Step,
    StepName,
    Telling,
)
from seedstart.planning.calendar.scheduler import emerge_window, plan, row_of, steps_after_emergence
from seedstart.planning.calendar.sowing_request import Ask, set_out_after, set_out_window
from seedstart.planning.calendar.unsuitable import too_cold_or_hot, warnings_of

# How far ahead a work day is looked for when the day to sow has passed.
_SOON_DAYS = 14


class Happened(Struct, frozen=True, kw_only=True):
    """What has happened of one sowing, as the calendar needs it.

    Attributes:
        sowing: Its name.
        sowing_id: The entry that made it.
        stations: Where it stands, most of it first.
        days: The day of each step that happened; `sow` is always among them.
        expected_up: When it is expected up, by the warmth that was measured.
        rests_on: What that rests on, as a sentence.
        over: Nothing of it is left.
    """

    sowing: str
    stations: tuple[str, ...]
    days: Mapping[StepName, date]
    expected_up: Window | None = None
    rests_on: str = ""
    over: bool = False
    sowing_id: str | None = None


def row_today(ask: Ask, happened: Happened | None, today: date) -> Row:
    """The row of a sowing as it is expected today.

    A step whose best day passed undone is expected today and moves what follows, till its latest
    day; past that the row says so.

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
    in_place = row.steps[0].says == SOW_OUTDOORS
    moved = row if in_place else plan(structs.replace(ask, sow_on=day))
    steps = [
        structs.replace(step, is_="expected", window=_stretched(sow, day), missed=sow)
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
    told = (*row.told, Reason("sow", late))
    return structs.replace(row, steps=tuple(steps), warnings=warnings, told=told)


def _stretched(window: Window, day: date) -> Window:
    """The window with another best day, and wide enough for it."""
    return Window(min(window.earliest, day), day, max(window.latest, day))


def _sown(ask: Ask, happened: Happened, today: date) -> Row:
    ask = structs.replace(ask, sow_on=happened.days["sow"], seeds=None)
    found = at_station(ask.crop, ask.where.medium, ask.factor)
    expected_up = happened.expected_up
    if expected_up is None and found.expected is not None:
        expected_up = emerge_window(Window.on(happened.days["sow"]), found.expected)
    emerge = _emergence(expected_up, happened, today)
    later, said = _after_emergence(ask, emerge, happened, today)
    told: list[Reason | Telling] = [_ToldOnceSown(ask)]
    if happened.rests_on and "emerge" not in happened.days:
        told.append(Reason("emerge", happened.rests_on))
    row = row_of(
        ask,
        steps=tuple(_in_order([*_done_before(happened), *later], happened)),
        told=tuple(told),
        problem=too_cold_or_hot(ask) if emerge is None and found.expected is None else None,
        warnings=(*_warnings(ask, found, expected_up, happened, today), *said),
    )
    return structs.replace(
        row,
        sowing=happened.sowing,
        sowing_id=happened.sowing_id,
        station=happened.stations[0] if happened.stations else row.station,
        others=happened.stations[1:],
    )


def _done_before(happened: Happened) -> Iterator[Step]:
    if "treat" in happened.days:
        yield Step("treat", Window.on(happened.days["treat"]), "happened")
    yield Step("sow", Window.on(happened.days["sow"]), "happened")


def _warnings(
    ask: Ask, found: AtStation, expected_up: Window | None, happened: Happened, today: date
) -> Iterator[str]:
    """What speaks against its emergence, until that has happened."""
    if "emerge" in happened.days:
        return
    if found.expected is not None:
        yield from warnings_of(ask, found)
    if expected_up is not None and not happened.over and today > expected_up.latest:
        yield f"It was expected up by {short_day(expected_up.latest)} at latest."


class _ToldOnceSown(Telling, frozen=True):
    """What the reasons of a row that was sown are told from: as planned, but for the day to sow."""

    ask: Ask

    def tell(self) -> Iterator[Reason]:
        for reason in plan(self.ask).reasons:
            if reason.step != "sow" or self.ask.sow_on is None:
                yield reason
            else:
                day = short_day(self.ask.sow_on)
                yield Reason("sow", f"It was sown on {day}; the rest is counted from that.")


def _emergence(expected_up: Window | None, happened: Happened, today: date) -> Step | None:
    if "emerge" in happened.days:
        return Step("emerge", Window.on(happened.days["emerge"]), "happened")
    if expected_up is None or happened.over:
        return None
    return _expected("emerge", expected_up, today)


def _after_emergence(
    ask: Ask, emerge: Step | None, happened: Happened, today: date
) -> tuple[list[Step], list[str]]:
    """Emergence and the steps that follow it, and what is to be said of them."""
    if emerge is None:
        return [], []
    grows, up = growing(ask.crop, ask.factor), emerge.window
    if grows is None or up is None:
        return [emerge], []
    # For a ready date plants go out younger rather than late.
    grown = grows.growing_on if ask.ready is None else grows.growing_on_at_least
    allowed = set_out_window(ask)
    out = set_out_after(up.best + timedelta(days=round(grown)), allowed)
    planned = steps_after_emergence(ask, grows, up, out)
    later, said = _from_what_happened(planned, allowed, happened, today)
    return [emerge, *later], said


def _expected(name: StepName, window: Window, today: date) -> Step:
    """What has not happened yet is expected today at the earliest."""
    if window.best >= today:
        return Step(name, window, "expected")
    return Step(name, _stretched(window, today), "expected", missed=window)


def _from_what_happened(
    planned: list[Step], allowed: Window | None, happened: Happened, today: date
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
        window = _moved(step, step.window, moved, allowed)
        if today > window.latest:
            ended = short_day(window.latest)
            warnings.append(f"To {IN_WORDS[step.name]} was to be done by {ended} at latest.")
        # Past its latest day it no longer keeps back what follows: not everybody writes it down.
        # But nothing is hardened off that is still to be pricked out.
        until = today if step.name == "prick_out" else min(today, window.latest)
        waiting = max((until - window.best).days, 0)
        moved += waiting
        found.append(_expected(step.name, window, today))
    return found, warnings


def _moved(step: Step, window: Window, days: int, allowed: Window | None) -> Window:
    if step.name == "set_out":
        return set_out_after(window.best + timedelta(days=days), allowed)
    return window.shifted(days) if days else window


def _in_order(steps: list[Step], happened: Happened) -> list[Step]:
    """What is still to come does not come before what has happened."""
    last = Window.on(max(happened.days.values()))
    return [
        structs.replace(step, window=step.window.not_before(last))
        if step.is_ == "expected"
        and step.window is not None
        and step.window.earliest < last.earliest
        else step
        for step in steps
    ]
