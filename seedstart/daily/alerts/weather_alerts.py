"""Told the evening before: a night or a wind that plants out of doors cannot stand."""

from collections.abc import Iterator, Sequence
from datetime import datetime, time, timedelta
from typing import Final

from msgspec import Struct

from seedstart.crop_table.crop import Crop
from seedstart.daily.check import PRACTICE, Alert, Level, degrees, first_few
from seedstart.daily.round_context import Scene
from seedstart.daily.tray_groups import Carrier
from seedstart.growing.hardening_rules import FREEZING, GUSTS, Limit
from seedstart.planning.calendar.crop_times import is_tender
from seedstart.planning.calendar.season_rows import frost_of
from seedstart.planning.hardening.hardening_days import limits_for
from seedstart.planning.hardening.set_out_gate import NO_RISK_PERCENT, stands_in_words
from seedstart.planning.known_weather import tonight
from seedstart.season.plan.stations import Station
from seedstart.tracking.standing import Standing
from seedstart.units import show_speed

# How long after setting out a cold night is still told. Common practice, no source.
_OUT_DAYS: Final = 30
_OUT_OF_DOORS: Final = frozenset({"outdoors"})
_FRAMES: Final = frozenset({"frame", "tunnel"})


class _Chilled(Struct, frozen=True):
    """A sowing that tonight is too cold for.

    Attributes:
        name: What it is called.
        crop: Its crop.
        limit: The night it needs, or stands once it is hardened.
        dies: Whether a frost kills it, and there is one.
        bars: Whether the figure bars: a frost, or a limit with a good source; else it advises.
    """

    name: str
    crop: str
    limit: Limit
    dies: bool
    bars: bool


def cold_night(carrier: Carrier, scene: Scene) -> Iterator[Alert]:
    """What stands out of doors, or was to stay out tonight, and has to come in.

    What stands in a frame is called in with the frame's sash: `close_tonight`.
    """
    here = scene.station(carrier.station)
    if here is not None and here.kind in _FRAMES:
        return
    stands_out = here is not None and here.kind in _OUT_OF_DOORS
    out = [one for one in carrier.alive if stands_out or _stays_out_tonight(one, scene)]
    # A figure that only advises stands among the reasons of the step that has the night out.
    chilled = [one for one in _chilled(out, scene) if one.bars or stands_out]
    cold = tonight(scene.weather, scene.today)
    if not chilled or cold is None:
        return
    yield _alert(
        scene,
        key=f"cold night {carrier.in_key} {scene.today.isoformat()}",
        carrier=carrier,
        chilled=chilled,
        brief=f"{carrier.name}: {_night(cold, scene)} tonight → bring in",
        text=f"bring in: {_night(cold, scene)} tonight, {_needs(chilled, scene)}",
        remedies=("bring it in before dusk", "or cover it: fleece, a cloche"),
    )


def close_tonight(station: Station, scene: Scene) -> Iterator[Alert]:
    """A frame with something in it that the night is too cold for, or may be."""
    if station.kind not in _FRAMES:
        return
    standings = scene.records.standings
    here = [standings[one] for one in scene.records.sowings_in(("station", station.name))]
    here = [one for one in here if scene.wants_care(one)]
    yield from _is_frost_due(station, here, scene)
    chilled = _chilled(here, scene)
    # A sash is shut every evening: only a frost, or a figure to rely on, is worth an alert.
    chilled = [one for one in chilled if one.bars]
    cold = tonight(scene.weather, scene.today)
    if not chilled or cold is None:
        return
    remedies = ["sash shut before dusk, a mat or fleece over it in hard frost"]
    if dies := [one.name for one in chilled if one.dies]:
        remedies.append(f"bring {first_few(dies)} in: a frost kills it, and frames freeze too")
    yield _alert(
        scene,
        key=f"close tonight {station.name} {scene.today.isoformat()}",
        station=station.name,
        chilled=chilled,
        brief=f"{_night(cold, scene)} tonight → close it",
        text=f"close it tonight: {_night(cold, scene)}, {_needs(chilled, scene)}",
        remedies=tuple(remedies),
    )


def _is_frost_due(station: Station, here: Sequence[Standing], scene: Scene) -> Iterator[Alert]:
    """What a frost kills stands in a frame, one may still come, and no forecast says whether.

    Told once, till other plants come to stand there. The line that has the sash off for the night
    asks for itself.
    """
    frost = frost_of(scene.season)
    risk = frost.risk_left_percent(scene.today) if frost is not None else 0.0
    if risk < NO_RISK_PERCENT or tonight(scene.weather, scene.today) is not None:
        return
    found = [(one, crop) for one in here if (crop := _killed(one, scene)) is not None]
    if not found:
        return
    called = [scene.asked(one).name for one, _ in found]
    yield Alert(
        key=f"is frost due {station.name}: {', '.join(sorted(called))}",
        kind="cold night",
        level="today",
        subject=("station", station.name),
        station=station.name,
        sowings=tuple(called),
        brief=f"no forecast → {first_few(called)} in if frost is due",
        text=f"a frost kills {first_few(called)}, one still comes in {risk:.0f} % of years, and "
        "no forecast is known",
        since=_this_day(scene),
        remedies=(
            f"bring {first_few(called)} in before dusk if frost is due: frames freeze too",
            "sash shut before dusk",
        ),
        basis=f"the season's frost date; its risk {frost.basis if frost else ''}",
        sources=tuple(
            dict.fromkeys(key for _, crop in found for key in crop.hardiness_from.sources)
        ),
    )


def _killed(one: Standing, scene: Scene) -> Crop | None:
    """The crop of plants that a frost kills, where no line of the round asks about it."""
    crop, hardening = scene.crop(one), scene.hardening.get(one.id)
    if crop is None or not one.standing or not is_tender(crop):
        return None
    return None if hardening is not None and hardening.night and hardening.asks_frost else crop


def wind_tomorrow(carrier: Carrier, scene: Scene) -> Iterator[Alert]:
    """What stands out of doors when gusts are forecast in which plants were badly hurt."""
    here = scene.station(carrier.station)
    if here is None or here.kind not in _OUT_OF_DOORS or not carrier.alive:
        return
    day = scene.today + timedelta(days=1)
    known = scene.weather.get(day)
    if known is None or known.gust_ms is None or known.gust_ms < GUSTS.value:
        return
    speed = show_speed(known.gust_ms, scene.season.units)
    names = tuple(scene.asked(one).name for one in carrier.alive)
    yield Alert(
        key=f"wind {carrier.in_key} {day.isoformat()}",
        kind="wind",
        level="today",
        subject=carrier.subject,
        station=carrier.station,
        tray=carrier.tray,
        sowings=names,
        brief=f"{carrier.name}: gusts of {speed} tomorrow → into shelter",
        text=f"gusts of {speed} are forecast for tomorrow: at "
        f"{show_speed(GUSTS.value, scene.season.units)} new transplants were badly hurt",
        since=_this_day(scene),
        remedies=("into shelter tonight", "and out again when it has blown over"),
        basis=f"the forecast ({known.source})",
        sources=GUSTS.sources,
    )


def cold_over_set_out(scene: Scene) -> Iterator[Alert]:
    """What was set out in the last weeks, and tonight is too cold for."""
    cold = tonight(scene.weather, scene.today)
    if cold is None:
        return
    for one in scene.records.standings.values():
        act = one.last_act("set_out") if one.left.get("set_out") else None
        if act is None or (scene.today - act.at.date()).days > _OUT_DAYS:
            continue
        crop = scene.crop(one)
        if crop is None:
            continue
        stands, tender = limits_for(crop).hardened_night, is_tender(crop)
        # What is tender wants warmer nights than those that harm it: a cool one is no alert.
        harmed_below = limits_for(crop).day_held.value if tender else stands.value
        if cold >= harmed_below and not (tender and cold <= FREEZING.value):
            continue
        name = scene.asked(one).name
        dies = tender and cold <= FREEZING.value
        stood = f"hardened it stands {stands_in_words(stands.value, scene.season.units)}"
        if tender:
            stood = f"it wants nights of {degrees(stands.value, scene.season.units)} or more"
        why = f"a frost kills {crop.name}" if dies else stood
        yield Alert(
            key=f"cold night out {name} {scene.today.isoformat()}",
            kind="cold night",
            level="act_now" if dies else "today",
            subject=("sowing", one.id),
            sowings=(name,),
            brief=f"{name} is out, {_night(cold, scene)} tonight → cover it",
            text=f"{name} is set out, and tonight has {_night(cold, scene)}: {why}",
            since=_this_day(scene),
            remedies=("cover it before dusk: fleece, cloche, a pot turned over",),
            basis=_basis(scene, [stands]),
            sources=crop.hardiness_from.sources if dies else stands.sources,
        )


def _stays_out_tonight(one: Standing, scene: Scene) -> bool:
    """Whether it was written down so, or the step that has the night out is barred from it.

    Where the line of the round has it out, no alert calls it in.
    """
    found = scene.hardening.get(one.id)
    if found is None:
        return False
    written = found.course.written
    return written.night if written is not None else found.cold_tonight


def _chilled(sowings: Sequence[Standing], scene: Scene) -> list[_Chilled]:
    cold = tonight(scene.weather, scene.today)
    if cold is None:
        return []
    found = []
    for one in sowings:
        crop = scene.crop(one)
        if crop is None or not one.standing:
            continue
        limits, hardening = limits_for(crop), scene.hardening.get(one.id)
        is_done = hardening is not None and not hardening.days_left
        limit = limits.hardened_night if is_done else limits.night
        dies = is_tender(crop) and cold <= FREEZING.value
        if dies or cold < limit.value or (not is_done and cold <= FREEZING.value):
            least = limits.day_held if is_tender(crop) else FREEZING
            bars = cold < least.value or cold <= FREEZING.value or limit.basis == "source"
            found.append(_Chilled(scene.asked(one).name, crop.name, limit, dies, bars))
    return found


def _needs(chilled: Sequence[_Chilled], scene: Scene) -> str:
    """`basil needs 10 °C`, the one that needs most first."""
    hardest = max(chilled, key=lambda one: one.limit.value)
    others = len({one.name for one in chilled}) - 1
    more = f", and {others} more cannot stand it" if others else ""
    return f"{hardest.name} needs {degrees(hardest.limit.value, scene.season.units)}{more}"


def _alert(
    scene: Scene,
    *,
    key: str,
    chilled: Sequence[_Chilled],
    brief: str,
    text: str,
    remedies: tuple[str, ...],
    carrier: Carrier | None = None,
    station: str | None = None,
) -> Alert:
    level: Level = "today" if any(one.bars for one in chilled) else "know"
    level = "act_now" if any(one.dies for one in chilled) else level
    return Alert(
        key=key,
        kind="cold night",
        level=level,
        subject=carrier.subject if carrier else ("station", station or ""),
        station=carrier.station if carrier else station,
        tray=carrier.tray if carrier else None,
        sowings=tuple(dict.fromkeys(one.name for one in chilled)),
        brief=brief,
        text=text,
        since=_this_day(scene),
        remedies=remedies,
        basis=_basis(scene, [one.limit for one in chilled]),
        sources=tuple(dict.fromkeys(each for one in chilled for each in one.limit.sources)),
    )


def _basis(scene: Scene, limits: Sequence[Limit]) -> str:
    days = (scene.weather.get(scene.today + timedelta(days=step)) for step in (1, 0))
    source = next((one.source for one in days if one is not None), "")
    weak = [one for one in limits if one.basis != "source"]
    figure = f"; the plants’ figure only advises ({PRACTICE} or weak)" if weak else ""
    return f"the forecast ({source}){figure}"


def _night(cold: float, scene: Scene) -> str:
    return degrees(cold, scene.season.units)


def _this_day(scene: Scene) -> datetime:
    return datetime.combine(scene.today, time(), scene.now.tzinfo)
