"""A row after something has happened: what follows is counted from that, not from the plan."""

from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from typing import Final

from msgspec import Struct, structs

from seedstart.days import SOON_DAYS, Window, nearest_work_day, short_day
from seedstart.planning.calendar.crop_times import AtStation, at_station, growing
from seedstart.planning.calendar.reasons import how_long_in_the_cold, how_warm_out_there
from seedstart.planning.calendar.row import (
    SOW_OUTDOORS,
    Reason,
    Row,
    Step,
    StepName,
    Telling,
)
from seedstart.planning.calendar.scheduler import (
    after_the_cold,
    emerge_window,
    plan,
    row_of,
    steps_after_emergence,
)
from seedstart.planning.calendar.sowing_request import Ask, set_out_after, set_out_window
from seedstart.planning.calendar.unsuitable import too_cold_or_hot, warnings_of
from seedstart.text import plural

# For cold that was asked for plants are set out so much past their window; past that it is dropped.
# Common practice, no source.
_LATER_FOR_THE_COLD_DAYS = 14
_SHOULD: Final[dict[StepName, str]] = {
    "prick_out": "It should have been pricked out",
    "pot_on": "It should have been potted on",
    "harden": "Hardening off should have begun",
    "set_out": "It should have been set out",
}


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
        stands_out_since: Since when some of it stands outdoors or in a frame: that hardens it off.
    """

    sowing: str
    stations: tuple[str, ...]
    days: Mapping[StepName, date]
    expected_up: Window | None = None
    rests_on: str = ""
    over: bool = False
    stands_out_since: date | None = None
    sowing_id: str | None = None


def row_today(
    ask: Ask, happened: Happened | None, today: date, cold_till: date | None = None
) -> Row:
    """The row of a sowing as it is expected today.

    A step whose best day passed undone is expected today and moves what follows, till its latest
    day; past that the row says so.

    Args:
        ask: What was asked of the calendar.
        happened: What has happened; None while nothing was sown.
        today: The day it is.
        cold_till: The day on which its seed, laid cold and not sown yet, comes out again.
    """
    if happened is None:
        return _in_the_cold_first(ask, today, cold_till)
    return _sown(ask, happened, today)


def _in_the_cold_first(ask: Ask, today: date, cold_till: date | None) -> Row:
    """What was not sown yet: no sooner than its seed has had the cold that it is to have.

    Where that is still to begin, and would bring it a fortnight past its window, it is dropped with
    a word; what a crop needs never is.
    """
    row = plan(ask)
    treat, sow = row.step("treat"), row.window("sow")
    if sow is None or ask.sow_on is not None:
        return _not_yet_sown(ask, row, today)
    if cold_till is not None:
        told = f"Its seed lies in the cold till {short_day(cold_till)}."
        return _sown_from(ask, row, cold_till, told, today) or _not_yet_sown(ask, row, today)
    cold = [one for one in treat.treatments if one.what == "stratify"] if treat else []
    if treat is None or treat.window is None or not cold or today <= treat.window.best:
        return _not_yet_sown(ask, row, today)
    days = sum(one.days for one in treat.treatments)
    told = f"{plural(cold[0].days, 'day')} in the cold come first, and have not begun."
    moved = _sown_from(ask, row, today + timedelta(days=days), told, today)
    allowed, out = set_out_window(ask), moved.window("set_out") if moved else None
    if moved is None or allowed is None or out is None or out.best <= allowed.latest:
        return moved or _not_yet_sown(ask, row, today)
    if cold[0].need == "needed" or (out.best - allowed.latest).days <= _LATER_FOR_THE_COLD_DAYS:
        late = f"Sown after its cold it is set out about {short_day(out.best)}, past its window."
        return structs.replace(moved, warnings=(*moved.warnings, late))
    without = structs.replace(ask, stratify_days=None, untreated=ask.untreated | {"stratify"})
    dropped = f"No time is left for {plural(cold[0].days, 'day')} in the cold: sow it without."
    bare = _not_yet_sown(without, plan(without), today)
    return structs.replace(bare, warnings=(*bare.warnings, dropped))


def _sown_from(ask: Ask, row: Row, day: date, told: str, today: date) -> Row | None:
    """The row if it is sown from a day on, later than its best; None where that is not later."""
    sow = row.window("sow")
    if sow is None or day <= sow.best:
        return None
    if today > day:  # out of the cold since, and not sown
        return _not_yet_sown(ask, structs.replace(row, steps=_sown_on(row, day)), today)
    moved = plan(structs.replace(ask, sow_on=day))
    steps = tuple(structs.replace(step, is_="expected") for step in moved.steps)
    return structs.replace(row, steps=steps, told=(*row.told, Reason("sow", told)))


def _sown_on(row: Row, day: date) -> tuple[Step, ...]:
    """The steps with another best day to sow."""
    return tuple(
        structs.replace(step, window=_stretched(step.window, day))
        if step.name == "sow" and step.window
        else step
        for step in row.steps
    )


def _not_yet_sown(ask: Ask, row: Row, today: date) -> Row:
    sow = row.window("sow")
    if sow is None or today <= sow.best:
        return row
    soon = Window(today, today, today + timedelta(days=SOON_DAYS))
    day = nearest_work_day(soon, ask.work_days, ask.away) or today
    in_place = row.steps[0].says == SOW_OUTDOORS
    moved = row if in_place else plan(structs.replace(ask, sow_on=day))
    steps = [
        structs.replace(step, is_="expected", window=_stretched(sow, day), missed=sow)
        if step.name == "sow"
        else structs.replace(step, is_="expected")
        for step in moved.steps
    ]
    due, taken = short_day(sow.best), short_day(day)
    late = f"It should have been sown on {due}; counted as if sown on {taken}."
    warnings = row.warnings
    if day > sow.latest:
        out = moved.window("set_out")
        then = (
            f" Sown on {short_day(day)} it is set out about {short_day(out.best)}." if out else ""
        )
        warnings = (*warnings, f"Its sowing time ended on {short_day(sow.latest)}.{then}")
    told = (*row.told, Reason("sow", late))
    return structs.replace(row, steps=tuple(steps), warnings=warnings, told=told)


def _stretched(window: Window, day: date) -> Window:
    """The window with another best day, and wide enough for it."""
    return Window(min(window.earliest, day), day, max(window.latest, day))


def _sown(ask: Ask, happened: Happened, today: date) -> Row:
    ask = structs.replace(ask, sow_on=happened.days["sow"], seeds=None)
    found = at_station(ask.crop, ask.where.medium, ask.factor)
    expected_up = happened.expected_up
    expected = after_the_cold(ask, found.expected)
    dated = ask.fridge_days is not None and not ask.unknown_weather
    if expected_up is None and expected is not None and dated:
        expected_up = emerge_window(Window.on(happened.days["sow"]), expected)
    emerge = _emergence(expected_up, happened, today)
    later, said = _after_emergence(ask, emerge, happened, today)
    told: list[Reason | Telling] = [_ToldOnceSown(ask)]
    if happened.rests_on and "emerge" not in happened.days:
        told.append(Reason("emerge", happened.rests_on))
    row = row_of(
        ask,
        steps=tuple(_in_order([*_done_before(happened), *later], happened)),
        told=tuple(told),
        problem=_no_date(ask, found) if emerge is None else None,
        warnings=(*_warnings(ask, found, expected_up, happened, today), *said),
    )
    return structs.replace(
        row,
        sowing=happened.sowing,
        sowing_id=happened.sowing_id,
        station=happened.stations[0] if happened.stations else row.station,
        others=happened.stations[1:],
    )


def _no_date(ask: Ask, found: AtStation) -> str | None:
    if ask.fridge_days is None:
        return how_long_in_the_cold(ask)
    if ask.unknown_weather:
        return how_warm_out_there(ask)
    return too_cold_or_hot(ask) if found.expected is None else None


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
        yield f"It should have been up by {short_day(expected_up.latest)}."


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
        out_since = happened.stands_out_since
        if step.name == "harden" and out_since is not None and window.best <= today:
            begun = max(out_since, window.best)
            moved += (begun - window.best).days
            found.append(structs.replace(step, window=Window.on(begun), is_="happened"))
            continue
        if today > window.latest:
            ended = short_day(window.latest)
            warnings.append(f"{_SHOULD[step.name]} by {ended}.")
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
