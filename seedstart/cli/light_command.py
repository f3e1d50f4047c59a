"""`seedstart light`: what the lamps give at the leaf, and what to set."""

from collections.abc import Callable, Mapping
from typing import Any

import click
from msgspec import structs

from seedstart import clock
from seedstart.acts.values import amount, shape
from seedstart.cli.crop_files import crop_table
from seedstart.cli.printing import show, show_json, width
from seedstart.cli.recording import as_of_option, open_for
from seedstart.cli.season_files import season_option
from seedstart.crop_table.find import find_crop
from seedstart.crop_table.load import CropTable
from seedstart.drawing.light_sheet import Money, light_lines, why_lines
from seedstart.drawing.lines import Line, heading, plain, wrapped
from seedstart.open_season import OpenSeason
from seedstart.planning.light.lamp_distance import Distance, distance_at
from seedstart.planning.light.light_options import LightOption, light_options
from seedstart.planning.light.station_light import StationLight, light_at, light_over
from seedstart.problems import BadInputError, Problem, Typed
from seedstart.season.journal.entries import Adjusted
from seedstart.season.plan.additions import station_keys
from seedstart.season.plan.checked import Fault, Table, key_of
from seedstart.season.plan.names import Names, find_name
from seedstart.season.plan.stations import LAMP_CAUTIONS, Station, read_station
from seedstart.units import Units

Found = tuple[StationLight, tuple[LightOption, ...], Distance | None]
_PACKET = ("count", "watts", "ppf_umol_s", "lumens", "light", "lamp_kind", "length", "lamp_width")


@click.command()
@click.argument("names", nargs=-1, metavar="[STATION]...")
@season_option
@as_of_option
@click.option("--crop", "crops", multiple=True, metavar="NAME", help="For this crop; repeatable.")
@click.option("--height", metavar="L", help="What if the lamps hung so high over the leaves.")
@click.option("--hours", metavar="H", help="What if they burned so long a day.")
@click.option("--dimming", metavar="P", help="What if they were dimmed to so much, e.g. 70%.")
@click.option("--area", metavar="TEXT", help="Without a season: length and width lit.")
@click.option("--lamps", "count", metavar="N", help="Without a season: how many, all alike.")
@click.option("--watts", metavar="N", help="… of one.")
@click.option("--ppf", "ppf_umol_s", metavar="N", help="… photon flux of one, in µmol/s.")
@click.option("--lumens", metavar="N", help="… or lumens of one.")
@click.option("--light", metavar="TEXT", help="… white, warm white, cool white, red-blue …")
@click.option("--lamp-kind", metavar="TEXT", help="… strip, bar, tube or panel.")
@click.option("--length", metavar="TEXT", help="… of its lit part.")
@click.option("--lamp-width", metavar="TEXT", help="… of a panel.")
@click.option("--why", is_flag=True, help="Where each figure comes from, and what to mind.")
@click.option("--json", "json_", is_flag=True, help="For scripts.")
def light(
    names: tuple[str, ...],
    folder: str | None,
    on: str | None,
    crops: tuple[str, ...],
    why: bool,
    json_: bool,
    **said: str | None,
) -> None:
    """Light at the leaf of each station with lamps, how even it is, and what to set.

    Example: seedstart light "upper shelf" --season sample_season --on 2026-04-10 --why

    Example: seedstart light --area "1.2 x 0.5 m" --lamps 4 --lumens 1800 --length "1.2 m"
    --height "20 cm" --hours 16 --crop tomato
    """
    if said["area"] is not None or said["count"] is not None:
        units: Units = "metric"
        found = [_bare(said, crops)]
        money = Money()
    else:
        _refuse_packet(said)
        opened = open_for(folder, on)
        units, plan = opened.plan.units, opened.plan
        found = _of_season(opened, names, crops, said)
        money = Money(plan.price_per_kwh, plan.currency)
    if json_:
        show_json([_as_json(*one, money) for one in found])
        return
    show(_sheets(found, money, units, why=why))


def _sheets(found: list[Found], money: Money, units: Units, *, why: bool) -> list[Line]:
    lines: list[Line] = []
    for one, options, distance in found:
        lines += [plain("")] if lines else []
        lines += light_lines(one, options, distance, money, units, width())
        if why and not one.missing:
            lines += [plain(""), heading("Why"), *why_lines(one, units, width())]
    if not found:
        lines.append(plain("No station has lamps: give them in season.toml, under lamps."))
    elif why:
        lines += [line for text in LAMP_CAUTIONS for line in wrapped(text, width(), role="warn")]
    return lines


def _refuse_packet(said: Mapping[str, str | None]) -> None:
    given = [key for key in _PACKET if said[key] is not None]
    if given:
        hint = "A packet is read with --area and --lamps; a station's stands in season.toml."
        option = f"--{given[0].replace('_', '-').replace('ppf-umol-s', 'ppf')}"
        raise BadInputError([Problem(file=option, found=said[given[0]], hint=hint)])


def _crops(typed: Typed, table: CropTable, names: tuple[str, ...]) -> list[str]:
    found = [typed.take(find_crop(table, name, file="--crop")) for name in names]
    return [crop.name for crop in found if crop is not None]


def _bare(said: Mapping[str, str | None], names: tuple[str, ...]) -> Found:
    """Lamps that stand in no season, from their packet."""
    faults: list[Fault] = []
    keys = station_keys({"name": "these lamps", "kind": "shelf", **said})
    station = read_station(Table(keys, faults), "metric")
    typed = Typed()
    crops = _crops(typed, crop_table(), names)
    problems = [fault.as_problem("light", key_of(fault.path)) for fault in faults]
    if problems or typed.problems:
        raise BadInputError([*problems, *typed.problems])
    one = light_over(station, crops=crops, today=clock.now("UTC").date())
    if one.missing:
        hint = f"Say also: {'; '.join(one.missing)}."
        raise BadInputError([Problem(file="light", hint=hint)])
    return one, light_options(one), None


def _of_season(
    opened: OpenSeason, names: tuple[str, ...], crops: tuple[str, ...], said: Mapping[str, Any]
) -> list[Found]:
    typed, plan, records = Typed(), opened.plan, opened.records()
    asked = _crops(typed, plan.crops, crops)
    known = Names(plan.stations)
    chosen = {
        typed.take(find_name(name, known, file="STATION", lists="season.toml")) for name in names
    }
    tried = _tried(typed, said, plan.units)
    typed.done()
    stations = [one for one in plan.stations if (one.name in chosen if names else one.lamps)]

    def lit(station: Station) -> Found:
        now = opened.now()
        what_if: list[Adjusted] = []
        if tried:
            what_if.append(
                Adjusted(id="0" * 36, at=now, by="what if", station=station.name, **tried)  # type: ignore[arg-type]
            )
        one = light_at(
            station,
            plan,
            records,
            opened.today,
            crops=asked,
            logged=opened.readings(),
            tried=what_if,
        )
        return one, light_options(one), distance_at(station, records, now)

    return [lit(station) for station in stations]


def _tried(typed: Typed, said: Mapping[str, str | None], units: Units) -> dict[str, float]:
    """What the lamps are tried with: keys of `adjusted`."""
    high = typed.read("--height", said["height"], _adjusted("lamp_height_mm", units))
    if high is not None and not 10 <= high <= 5000:
        hint = "A height from 1 cm to 5 m."
        typed.refuse(Problem(file="--height", found=said["height"], hint=hint))
    tried = {
        "lamp_height_mm": high,
        "lamp_hours": typed.read("--hours", said["hours"], _adjusted("lamp_hours", units)),
        "lamp_percent": typed.read("--dimming", said["dimming"], _adjusted("lamp_percent", units)),
    }
    return {key: value for key, value in tried.items() if value is not None}


def _adjusted(key: str, units: Units) -> Callable[[str], float]:
    """A reader of what `log adjusted` takes under a key."""

    def read(text: str) -> float:
        return amount(key, text, shape(Adjusted, key), "", units)

    return read


def _as_json(
    one: StationLight, options: tuple[LightOption, ...], distance: Distance | None, money: Money
) -> dict[str, object]:
    need, scale, field, dose = one.need, one.scale, one.ppfd, one.dose
    return {
        "station": one.station.name,
        "missing": one.missing,
        "crops": one.crops,
        "verdict": None if one.missing else one.verdict,
        "ppfd_umol": {"mean": field.mean, "least": field.least, "most": field.most},
        "evenness": field.evenness,
        "landing_percent": 100 * field.landing,
        "map": one.grid,
        "dli_mol": {
            "mean": one.mean_mol, "least": dose.least, "edge": one.edge_mol,
            "window": None if one.window is None else one.window._asdict(),
        },
        "error_percent": 100 * one.error,
        "readings": scale.number,
        "of_packet": scale.factor,
        "needs": {
            "low": need.low_mol, "high": need.high_mol, "longest_hours": need.longest_hours,
            "sources": [need.range_source, need.hours_source],
        },
        "height_mm": one.height_mm,
        "hours": one.hours,
        "kwh_per_day": one.kwh_a_day,
        "cost_per_month": money.a_month(one.kwh_a_day) or None,
        "leaf_to_lamp_mm": None if distance is None else distance.now_mm,
        "too_close_on": None if distance is None else distance.too_close_on,
        "options": [
            {**structs.asdict(option), "patch": option.patch and option.patch._asdict()}
            for option in options
        ],
    }  # fmt: skip
