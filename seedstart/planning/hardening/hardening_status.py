"""Hardening off: who is at which step, what today's weather lets them do, what moves setting out.

What was done counts before what was forecast. A day that nobody wrote down is a missed one.
"""

from collections.abc import Iterable
from datetime import date, timedelta
from typing import Final, Literal

from msgspec import Struct, structs

from seedstart.crop_table.crop import Crop
from seedstart.days import Window, nearest_work_day, short_day
from seedstart.growing.hardening_rules import Light, steps
from seedstart.planning.calendar.crop_times import GROWS_AFTER_PRICKING_DAYS, is_tender
from seedstart.planning.calendar.frost_dates import FrostDates
from seedstart.planning.calendar.row import Reason, Row, Step
from seedstart.planning.calendar.season_rows import frost_of
from seedstart.planning.hardening.hardening_days import (
    Course,
    DayOut,
    Sheltered,
    length_days,
    limits_for,
)
from seedstart.planning.hardening.hardening_days import course as course_of
from seedstart.planning.hardening.hardening_weather import (
    Said,
    Today,
    judged,
    look_ahead,
    poor_days,
    told,
)
from seedstart.planning.hardening.set_out_gate import (
    NO_RISK_PERCENT,
    Against,
    Gate,
    Verdict,
    against_setting_out,
    verdict_of,
)
from seedstart.planning.known_weather import Weather
from seedstart.season.plan.season_file import Season
from seedstart.season.plan.stations import StationKind
from seedstart.text import natural, plural
from seedstart.tracking.records import Records
from seedstart.tracking.standing import Standing

_WEEK = timedelta(days=7)
Place = Literal["bench", "frame", "outdoors"]
_GLASS: Final[dict[StationKind, Place]] = {"frame": "frame", "tunnel": "frame"}


class Hardening(Struct, frozen=True, kw_only=True):
    """How far one sowing has come with hardening off, and what is up today.

    Attributes:
        id: Of the entry that made the sowing.
        name: What the sowing is called.
        crop: Its crop.
        station: Where it, or its tray, stands.
        tray: In which tray.
        plants: How many stand.
        due: The best day to begin, or the day on which it began.
        course: The steps, the days so far, and what they are worth.
        ahead: Days from today on that a forecast holds or halves, with the reason.
        night: Whether tonight is spent out: the step says so, and the forecast does not bar it.
        today: Whether plants go out today; `not judged` where no forecast says how warm it gets.
            Once today is written down it says what was done.
        why: The reasons of `today`, the first the shortest.
        set_out: When to set out, after what was held and missed and is forecast to be held.
        moved_days: By how many days a late beginning, or what was held and missed since or is
            forecast to be held, moved setting out; 0 where that comes later anyway.
        against: What is still against setting out today.
        asks_frost: Whether tonight is spent out and nobody knows if a frost is due.
        in_for: Why the night that the step asks for is spent in.
        cold_tonight: Whether that is for what is forecast, and not for the season.
        place: Where it stands: on a bench, in a frame, outdoors.
    """

    id: str
    name: str
    crop: str
    station: str | None = None
    tray: str | None = None
    plants: int
    due: date
    course: Course
    ahead: tuple[DayOut, ...] = ()
    night: bool
    today: Today
    why: tuple[Said, ...] = ()
    set_out: Window | None = None
    moved_days: int = 0
    against: tuple[Against, ...] = ()
    asks_frost: bool = False
    in_for: str = ""
    cold_tonight: bool = False
    place: Place = "bench"

    @property
    def is_hardened(self) -> bool:
        """Whether every step is done."""
        return not self.course.days_left

    @property
    def step(self) -> int:
        """Today's step, from 1."""
        return self.course.number

    @property
    def of(self) -> int:
        """How many steps there are."""
        return len(self.course.plan)

    @property
    def hours(self) -> float:
        """Hours out by day at today's step."""
        return self.course.step.hours

    @property
    def light(self) -> Light:
        """Where it stands out of doors at today's step."""
        return self.course.step.light

    @property
    def begun(self) -> date | None:
        """The first day out of doors; None before."""
        return self.course.begun

    @property
    def done_days(self) -> float:
        """Days that counted, halves too, today's among them once it is written down."""
        return self.course.done

    @property
    def days_left(self) -> int:
        """Days still to be done, today among them unless it is written down."""
        return self.course.days_left

    @property
    def written(self) -> bool:
        """Whether today is written down already."""
        return self.course.written is not None

    @property
    def held(self) -> tuple[DayOut, ...]:
        """The days on which it was kept in."""
        return tuple(day for day in self.course.days if day.counts == "held")

    @property
    def halved(self) -> tuple[DayOut, ...]:
        """The days out that count half for their weather."""
        days = self.course.days
        return tuple(day for day in days if day.counts == "half" and day.hours and day.why)

    @property
    def missed(self) -> tuple[DayOut, ...]:
        """The days of which nobody wrote anything."""
        return tuple(day for day in self.course.days if day.counts == "missed")

    @property
    def verdict(self) -> Verdict:
        """Whether it may be set out today, else what it waits for and till about when."""
        return verdict_of(self.against)

    @property
    def may_set_out(self) -> bool:
        """Whether nothing bars setting out today; what advises may still be said."""
        return not any(one.bars for one in self.against)


def coming(rows: Iterable[Row], today: date, days: int = 21) -> tuple[tuple[str, date], ...]:
    """What was sown and is to be hardened off in the days ahead: names, and when it begins."""
    until = today + timedelta(days=days)
    found = []
    for row in rows:
        step = row.step("harden")
        if row.sowing is None or step is None or step.window is None or step.is_ == "happened":
            continue
        if step.due is None and today < step.window.best <= until:
            found.append((row.sowing, step.window.best))
    return tuple(sorted(found, key=lambda one: (one[1], natural(one[0]))))


def hardening_of(
    standing: Standing,
    row: Row,
    season: Season,
    records: Records,
    forecasts: Weather,
    today: date,
    ground_c: float | None = None,
) -> Hardening | None:
    """How far one sowing is with hardening off.

    Args:
        standing: The sowing: the row's own, or one pricked out or split off from it.
        row: Its row of the calendar as it is expected today.
        season: The plan.
        records: What happened.
        forecasts: By day.
        today: The day it is.
        ground_c: Soil temperature out of doors, °C.

    Returns:
        None where nothing stands, and before the best day to begin unless it has begun.
    """
    if not standing.alive or not standing.standing:
        return None
    out, held = records.hours_out(standing.id), records.held_in(standing.id)
    planned_day = _due(row, standing)
    if not out and not held and (planned_day is None or planned_day > today):
        return None  # of most sowings of a season no more is asked
    crop = season.crops.crops[row.crop]
    around = sheltered(standing, crop, season, records)
    limits = limits_for(crop)
    around = around._replace(poor=poor_days(out, forecasts, limits, season.units))
    course = course_of(out, held, steps(length_days(crop)), today, around)
    due = (course.begun if out or held else None) or planned_day
    if due is None or due > today:
        return None
    step = course.step
    if course.written:
        seen = told(course.written, around.asked(step, today))
    else:
        hardened = not course.days_left
        seen = judged(today, forecasts, limits, step, season.units, around, hardened=hardened)
    ahead = look_ahead(course, today, forecasts, limits, season.units, around)
    # What passed undone begins anew each day: counted from there nothing would ever be late.
    to_go = row.step("set_out")
    planned = (to_go.missed or to_go.window) if to_go else None
    ready = min(course.hardened_from or ahead.ready, ahead.ready)
    setting_out = _set_out(planned, ready, season)
    # A beginning that is late has moved the row already.
    on_time = planned.best if planned and course.begun else due + timedelta(days=len(course.plan))
    gate = Gate(
        crop=crop,
        limits=limits,
        frost=frost_of(season),
        printed_from=planned.earliest if planned else None,
        best=planned.best if planned else None,
        days_left=course.days_left,
        ready=ahead.ready,
        units=season.units,
    )
    spot = records.spot(standing.id)
    return Hardening(
        id=standing.id,
        name=standing.name,
        crop=crop.name,
        station=spot.station if spot else None,
        tray=spot.tray if spot else None,
        plants=standing.standing,
        due=due,
        course=course,
        ahead=ahead.lost,
        night=seen.night,
        today=seen.today,
        why=seen.why,
        set_out=setting_out,
        moved_days=max((setting_out.best - on_time).days, 0) if setting_out else 0,
        against=against_setting_out(gate, forecasts, today, ground_c),
        asks_frost=seen.asks_frost and _may_freeze(gate.frost, today),
        in_for=seen.in_for,
        cold_tonight=seen.cold_tonight,
        place=_place(spot.station if spot else None, season),
    )


def was_out(standing: Standing, season: Season, records: Records) -> bool:
    """Whether plants were ever out of doors, for hours or by where they stood."""
    hours = any(out.hours for out in records.hours_out(standing.id).values())
    spots = records.spots(standing.id)
    return hours or any(_place(spot.station, season) != "bench" for spot in spots)


def _may_freeze(frost: FrostDates | None, today: date) -> bool:
    """Whether a frost may still come: after that nobody need ask."""
    return frost is None or frost.risk_left_percent(today) >= NO_RISK_PERCENT


def _place(station: str | None, season: Season) -> Place:
    known = season.stations_by_name.get(station or "")
    if known is None:
        return "bench"
    return "outdoors" if known.kind == "outdoors" else _GLASS.get(known.kind, "bench")


def sheltered(standing: Standing, crop: Crop, season: Season, records: Records) -> Sheltered:
    """Where plants stood out of doors or in a frame since they were up, and who is there when.

    Args:
        standing: The sowing.
        crop: Its crop.
        season: The plan.
        records: What happened.
    """
    seed = records.lineage(standing.id)[-1]
    since = seed.up_since or (standing.at if not standing.from_seed else None)
    frost = frost_of(season)
    stays: dict[Place, list[tuple[date, date | None]]] = {"outdoors": [], "frame": []}
    for spot in records.spots(standing.id) if since is not None else ():
        place = _place(spot.station, season)
        if since is None or place == "bench" or (spot.until is not None and spot.until <= since):
            continue
        left = spot.until.date() if spot.until else None
        stays[place].append((max(spot.since, since).date(), left))
    return Sheltered(
        outdoors=tuple(stays["outdoors"]),
        framed=tuple(stays["frame"]),
        away=season.away,
        nights_from=frost.average if frost is not None and is_tender(crop) else None,
        nights_harden=limits_for(crop).nights_harden,
    )


def row_as_hardened(row: Row, family: Iterable[Hardening]) -> Row:
    """The row with setting out moved by what was held and missed; those that go first count.

    Args:
        row: A row as it is expected today.
        family: What of it is being hardened off: the sowing, and what was pricked out of it.
    """
    step = row.step("set_out")
    out = [(one.set_out, one.days_left) for one in family if one.set_out is not None]
    if step is None or step.window is None or step.is_ == "happened" or not out:
        return row
    window, days_left = min(out, key=lambda found: found[0].best)
    if step.missed is not None and step.missed.best < window.best < step.window.best:
        return _with(row, structs.replace(step, missed=window))
    if window.best < step.window.best or (step.missed is None and window.best == step.window.best):
        return row
    moved = structs.replace(step, window=window, missed=None)
    if not days_left:
        return _with(row, moved)
    text = (
        f"{plural(days_left, 'day')} of hardening off are left; days kept in or missed move "
        f"setting out to about {short_day(window.best)}."
    )
    return structs.replace(_with(row, moved), told=(*row.told, Reason("set_out", text)))


def _with(row: Row, step: Step) -> Row:
    """A row with one of its steps in place of the one that stands there."""
    steps = (step if one.name == step.name else one for one in row.steps)
    return structs.replace(row, steps=tuple(steps))


def _due(row: Row, standing: Standing) -> date | None:
    """The best day to begin; of what was pricked out later than the first of its row, later too."""
    step = row.step("harden")
    if step is None or step.window is None or step.best_day is None:
        return None
    if standing.made != "pricked_out":
        return step.best_day
    grown = standing.at.date() + timedelta(days=GROWS_AFTER_PRICKING_DAYS)
    return max(step.best_day, grown)


def _set_out(planned: Window | None, ready: date, season: Season) -> Window | None:
    """The window after what was held and missed: nothing goes out before it is hardened off."""
    if planned is None:
        return None
    earliest = max(planned.earliest, ready)
    if ready <= planned.best:
        return planned._replace(earliest=earliest)
    soon = Window(ready, ready, ready + _WEEK)
    best = nearest_work_day(soon, season.work_days, season.away) or ready
    return Window(earliest, best, max(planned.latest, best))
