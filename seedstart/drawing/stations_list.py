"""The stations in walking order, a line each: warmth, light and room."""

from collections.abc import Sequence
from datetime import date, datetime, timedelta
from typing import Final

from msgspec import Struct

from seedstart.days import monday_of, short_day
from seedstart.drawing.lines import Line, Role, Span, fitted
from seedstart.planning.light.station_light import StationLight
from seedstart.planning.space.room_by_week import Load
from seedstart.planning.space.stations_now import StationView
from seedstart.text import joined, plural
from seedstart.units import Units, f_from_c, show_temperature

_NAME, _NOW, _WEEK, _LIGHT, _FULL = 12, 8, 18, 14, 4
WEEKS: Final = 8
_WIDE: Final = 72  # in less, the light goes: `i` shows it
# A reading older than this is not "now": common practice, no source.
_STILL_NOW: Final = timedelta(days=1)
_STEPS: Final = "▁▂▃▄▅▆▇█"
_NO_DAY: Final = "·"
_OVER: Final = "!"
_FLAT_C: Final = 2.0  # a week within so many degrees is drawn as level
_DAYLIGHT: Final = frozenset({"frame", "greenhouse", "outdoors"})


class StationLine(Struct, frozen=True):
    """What a line says.

    Attributes:
        view: The station.
        light: Its light; None where the plan no longer lists it.
        now: The moment.
        units: Of the season.
    """

    view: StationView
    light: StationLight | None
    now: datetime
    units: Units = "metric"

    @property
    def fullest(self) -> Load | None:
        """The fullest of the weeks in sight."""
        loads = [load for load in weeks_of(self.view, self.now.date()) if load and load.share]
        return max(loads, key=lambda load: load.share or 0.0, default=None)

    @property
    def is_too_full(self) -> bool:
        """Whether more stands there than fits, now or in a week in sight."""
        most = self.fullest
        return (self.view.share or 0) > 1 or bool(most and (most.share or 0) > 1)

    @property
    def is_too_dark(self) -> bool:
        """Whether its lamps give too little for what stands there."""
        light = self.light
        if light is None or light.missing or not light.lamps or not self.view.stands:
            return False
        return light.mean_mol < light.need.low_mol


def weeks_of(view: StationView, today: date) -> list[Load | None]:
    """What it carries in each week in sight, this one first."""
    first, by_week = monday_of(today), {load.monday: load for load in view.loads}
    return [by_week.get(first + timedelta(weeks=number)) for number in range(WEEKS)]


def station_head(now: datetime, width: int = 80) -> Line:
    """What stands in the columns."""
    light = f"{'light at leaf':<{_LIGHT}} " if width >= _WIDE else ""
    first = now.date().isocalendar().week
    last = (now.date() + timedelta(weeks=WEEKS - 1)).isocalendar().week
    return (
        Span(
            f"  {'station':<{_NAME}} {'medium':<{_NOW}} {'this week':<{_WEEK}} "
            f"{light}{'full':>{_FULL}}  weeks {first}–{last}",
            "quiet",
        ),
    )


def station_line(line: StationLine, width: int = 80, *, plain: bool = False) -> Line:
    """One station; `plain` says in words what is drawn else."""
    view = line.view
    cold: Role = "warn" if view.outside else "plain"
    full: Role = "warn" if (view.share or 0) > 1 else "plain"
    light: Role = "warn" if line.is_too_dark else "quiet"
    marked = view.outside or line.is_too_full or line.is_too_dark
    name = max(_NAME, min(_NAME + width - 78, 20))
    return (
        Span("! " if marked else "  ", "warn"),
        Span(f"{fitted(view.name, name)} ", "name"),
        Span(f"{fitted(_now(line), _NOW)} ", cold),
        *_week(line, plain=plain),
        *([Span(f"{fitted(_light(line), _LIGHT)} ", light)] if width >= _WIDE else []),
        Span(f"{_full(view):>{_FULL}}  ", full),
        *([_most(line)] if plain else map(_load, weeks_of(view, line.now.date()))),
    )


def _now(line: StationLine) -> str:
    warm = line.view.warm
    if warm.last_at is None or warm.last_c is None or line.now - warm.last_at > _STILL_NOW:
        return "–"
    return f"{'air ' if warm.of == 'air' else ''}{show_temperature(warm.last_c, line.units)}"


def _week(line: StationLine, *, plain: bool) -> list[Span]:
    """Each day's mean as a stair, and the lowest and highest of the week."""
    warm = line.view.warm
    if not warm.c:
        said = "" if line.view.kind in _DAYLIGHT and line.view.kind != "frame" else "no reading"
        return [Span(f"{said:<{_WEEK}} ", "quiet")]
    ends = (min(warm.c), max(warm.c))
    low, high = (f"{f_from_c(one) if line.units == 'us' else one:.1f}" for one in ends)
    stair = "" if plain else f"{_stair(line)} "
    return [Span(f"{fitted(f'{stair}{low}–{high}', _WEEK)} ", "quiet")]


def _stair(line: StationLine) -> str:
    by_day: dict[date, list[float]] = {}
    for at, c in zip(line.view.warm.at_s, line.view.warm.c, strict=True):
        day = datetime.fromtimestamp(at, line.now.tzinfo).date()
        by_day.setdefault(day, []).append(c)
    today = line.now.date()
    days = [today - timedelta(days=back) for back in range(6, -1, -1)]
    means = [sum(by_day[day]) / len(by_day[day]) if day in by_day else None for day in days]
    known = [mean for mean in means if mean is not None]
    low, high = min(known, default=0.0), max(known, default=0.0)
    return "".join(_NO_DAY if mean is None else _step(mean, low, high) for mean in means)


def _step(value: float, low: float, high: float) -> str:
    if high - low < _FLAT_C:
        return _STEPS[3]
    return _STEPS[round((value - low) / (high - low) * 6)]


def _light(line: StationLine) -> str:
    light = line.light
    if light is not None and light.lamps and not light.missing:
        return f"{light.mean_mol:.1f} of {light.need.low_mol:g} mol"
    if line.view.kind in _DAYLIGHT:
        return "daylight"
    return "no lamp" if light is None or "lamps" in light.missing else "not known"


def _full(view: StationView) -> str:
    return f"{100 * view.share:.0f} %" if view.share is not None else ""


def _load(load: Load | None) -> Span:
    share = load.share if load is not None else None
    if not share:
        return Span(_NO_DAY, "quiet")
    if share > 1:
        return Span(_OVER, "warn")
    return Span(_STEPS[min(int(share * 8), 7)], "quiet")


def _most(line: StationLine) -> Span:
    most = line.fullest
    if most is None or most.share is None:
        return Span("")
    said = f"at most {100 * most.share:.0f} %, week of {short_day(most.monday)}"
    return Span(said, "warn" if most.share > 1 else "quiet")


def pane_lines(line: StationLine, others: Sequence[StationLine], width: int) -> list[Line]:
    """Two lines: the room here and what stands in it; the station that gets too full."""
    view = line.view
    room = f"{view.used_m2:.2f} of {view.area_m2:.2f} m²: " if view.area_m2 else ""
    here = f"Space here   {room}{_stands(view)}."
    full = next((one for one in (line, *others) if one.is_too_full), None)
    over = _over(full) if full is not None else "No station gets too full in these weeks."
    return [(Span(fitted(here, width).rstrip()),), (Span(fitted(over, width).rstrip()),)]


def _over(line: StationLine) -> str:
    loads = [one for one in weeks_of(line.view, line.now.date()) if one and (one.share or 0) > 1]
    if not loads:
        return f"{line.view.name}   {100 * (line.view.share or 0):.0f} % full now"
    most = max(loads, key=lambda one: one.share or 0.0)
    last = loads[-1].monday + timedelta(days=6)
    return (
        f"{line.view.name}   {100 * (most.share or 0):.0f} % full from "
        f"{short_day(loads[0].monday)} to {short_day(last)}; Enter: week by week"
    )


def _stands(view: StationView) -> str:
    """Trays by name while they are few; plants, and how many sowings are not up."""
    if not view.stands:
        return "nothing stands here"
    trays = list(dict.fromkeys(one.tray for one in view.stands if one.tray))
    parts = [joined(trays) if len(trays) <= 3 else plural(len(trays), "tray")] if trays else []
    plants = sum(one.standing for one in view.stands)
    waiting = sum(not one.up for one in view.stands)
    parts += [plural(plants, "plant")] if plants else []
    parts += [f"{plural(waiting, 'sowing')} not up"] if waiting else []
    return ", ".join(parts)
