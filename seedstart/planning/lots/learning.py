"""What a season has taught: the grower's own days, spread and germination, for the next one.

Days and spread of a crop rest on closed sowings whose warmth was measured, and are drawn toward the
handbook by how few they are. What rests on assumed warmth says nothing of the crop: it may be the
station that is warmer or colder than planned.
"""

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime
from math import exp, log
from typing import Any, Final

from msgspec import Struct

from seedstart.crop_table.crop import Crop, Figure, OwnLot
from seedstart.growing.emergence import TRAYS_OVER_TABLE
from seedstart.growing.germination.time_curve import NoFit, time_curve
from seedstart.planning.calendar.crop_times import rate_curve
from seedstart.planning.prospects.own_record import no_fair_chance, of_lot, tests_of_lots
from seedstart.planning.prospects.to_come import emerging_of, warmth_of
from seedstart.season.loggers.series import Readings
from seedstart.season.plan.lot import LotTest, SeedAmount
from seedstart.season.plan.season_file import Season
from seedstart.season.plan.toml_blocks import lines
from seedstart.season.plan.toml_text import parse_toml
from seedstart.text import plural
from seedstart.tracking.cases import case_of
from seedstart.tracking.own_factor import OwnFactor, own_factor, seen_ratio
from seedstart.tracking.records import Records
from seedstart.tracking.standing import Standing
from seedstart.tracking.warmth import Warmth
from seedstart.units import steady

# A crop's printed spread counts as so many sowings of one's own. Common practice, no source.
SPREAD_WORTH: Final = 4.0
# Eight sowings in ten lie within the range that is written.
_EIGHT_IN_TEN: Final = 1.281552
_HEAD: Final = (
    "# Your own figures, learned from the season before: delete a line to have the handbook's.\n"
)
_LEAST_SPREAD, _MOST_SPREAD = 1.01, 20.0  # as crops/*.toml may hold it


class OfCrop(Struct, frozen=True, kw_only=True):
    """What is learned of one crop.

    Attributes:
        crop: As last season knew it.
        sowings: How many closed sowings on measured warmth its days rest on.
        factor: Their days over the crop's figures, drawn toward these; None without any.
        days: Days to emergence in the grower's trays, at the crop's tray setting; None without any.
        spreads: How many sowings its spread rests on.
        spread: Days to the last over days to the first; None without any.
        lots: Its closed trays that had a fair chance, those of earlier seasons too.
    """

    crop: Crop
    sowings: int
    factor: OwnFactor | None
    days: Figure | None
    spreads: int
    spread: Figure | None
    lots: tuple[OwnLot, ...]


class OfStation(Struct, frozen=True):
    """What sowings on assumed warmth say of a station.

    Attributes:
        station: Which.
        sowings: How many.
        ratio: Their days over those expected at the warmth that is planned, in the middle.
    """

    station: str
    sowings: int
    ratio: float


class Learned(Struct, frozen=True):
    """All that a season has taught.

    Attributes:
        crops: By name, those of which anything is known.
        stations: What rests on assumed warmth.
        tests: By lot, its tests: those that stood in lots.toml and those recorded.
        left: By lot, the seed that is left, where it is known what the packet held.
    """

    crops: tuple[OfCrop, ...]
    stations: tuple[OfStation, ...]
    tests: Mapping[str, tuple[LotTest, ...]]
    left: Mapping[str, SeedAmount]


def learn(season: Season, records: Records, readings: Readings, now: datetime) -> Learned:
    """What a season has taught.

    Args:
        season: Its plan.
        records: What happened.
        readings: What loggers measured.
        now: The moment; readings up to it count.
    """
    warmth = warmth_of(season, readings)
    by_crop: dict[str, list[Standing]] = {}
    for standing in records.standings.values():
        crop = season.crop_of(standing.lot)
        if (
            crop is not None
            and standing.from_seed
            and standing.purpose != "test"
            and standing.closed is not None
        ):
            by_crop.setdefault(crop.name, []).append(standing)
    fair = {
        name: [sowing for sowing in sowings
               if not no_fair_chance(sowing, season.crops.crops[name], season, records)]
        for name, sowings in by_crop.items()
    }  # fmt: skip
    names = {lot.crop for lot in season.lots}
    crops = [
        _of_crop(season.crops.crops[name], fair.get(name, []), season, records, warmth, now)
        for name in sorted(names)
    ]
    return Learned(
        tuple(one for one in crops if one.days or one.spread or one.lots),
        tuple(_of_stations(fair, season, records, warmth, now)),
        tests_of_lots(season, records),
        dict(_left(season, records)),
    )


def _of_crop(
    crop: Crop,
    sowings: Sequence[Standing],
    season: Season,
    records: Records,
    warmth: Warmth,
    now: datetime,
) -> OfCrop:
    emerging = emerging_of(crop)
    ratios = [
        ratio
        for sowing in sowings
        if (ratio := seen_ratio(sowing, records, warmth, emerging, now)) is not None
    ]
    first = TRAYS_OVER_TABLE if emerging.clock == "table" else 1.0
    factor = own_factor(ratios, first) if ratios else None
    spreads = list(_spreads(sowings, records, clusters=crop.seedlings_per_seed is not None))
    year = now.year
    return OfCrop(
        crop=crop,
        sowings=len(ratios),
        factor=factor,
        days=_days(crop, factor, year) if factor else None,
        spreads=len(spreads),
        spread=_spread(crop, spreads, year) if spreads else None,
        lots=(*crop.own_lots, *_own_lots(crop, season, records)),
    )


def _days(crop: Crop, factor: OwnFactor, year: int) -> Figure | None:
    """Days in the grower's trays, at the setting that the crop's weeks were counted at."""
    base = rate_curve(crop).days(steady(crop.tray_c.best))
    if not 0 < base < 400:
        return None
    best = base * factor.factor
    wide = exp(_EIGHT_IN_TEN * factor.next_sd)
    before = crop.days_in_trays.best if crop.days_in_trays else base * TRAYS_OVER_TABLE
    note = (
        f"from your own {plural(factor.sowings, 'sowing')} of {year}, drawn toward {_whose(crop)} "
        f"{before:.3g} days"
    )
    return Figure(_short(best), _short(best / wide), _short(best * wide), "own", (), note)


def _whose(crop: Crop) -> str:
    figure = crop.days_in_trays
    return "your earlier" if figure is not None and figure.basis == "own" else "the handbook's"


def _spreads(sowings: Sequence[Standing], records: Records, *, clusters: bool) -> Iterator[float]:
    """Days to nine in ten over days to one in ten, by the curve of each sowing."""
    for sowing in sowings:
        case = case_of(sowing, records, clusters=clusters)
        curves = time_curve(case.between) if case is not None and case.between else NoFit("")
        if not isinstance(curves, NoFit):
            yield curves[0].time_to(0.9).best / curves[0].time_to(0.1).best


def _spread(crop: Crop, seen: Sequence[float], year: int) -> Figure:
    """The printed spread after one's own, as if it had been so many sowings itself."""
    before = crop.first_to_last
    total = SPREAD_WORTH * log(before.best) + sum(map(log, seen))
    best = exp(total / (SPREAD_WORTH + len(seen)))
    best = min(max(best, _LEAST_SPREAD), _MOST_SPREAD)
    ends = [before.low, before.high, best]
    note = (
        f"from your own {plural(len(seen), 'sowing')} of {year}, drawn toward the printed "
        f"{before.best:.3g}"
    )
    return Figure(_short(best), _short(min(ends)), _short(max(ends)), "own", (), note)


def _own_lots(crop: Crop, season: Season, records: Records) -> Iterator[OwnLot]:
    for lot in season.lots:
        if lot.crop == crop.name:
            for tray in of_lot(lot, season, records).trays:
                yield OwnLot(lot.name, tray.on, tray.seeds, tray.up, tray.where)


def _of_stations(
    fair: Mapping[str, Sequence[Standing]],
    season: Season,
    records: Records,
    warmth: Warmth,
    now: datetime,
) -> Iterator[OfStation]:
    """What sowings say of their station whose warmth was not measured enough."""
    by_station: dict[str, list[float]] = {}
    for name, sowings in fair.items():
        emerging = emerging_of(season.crops.crops[name])
        first = TRAYS_OVER_TABLE if emerging.clock == "table" else 1.0
        for sowing in sowings:
            station = records.station_of(sowing.id, sowing.at)
            measured = seen_ratio(sowing, records, warmth, emerging, now)
            ratio = seen_ratio(sowing, records, warmth, emerging, now, least_measured=0.0)
            if station and measured is None and ratio is not None:
                by_station.setdefault(station, []).append(log(ratio / first))
    for station, ratios in by_station.items():
        yield OfStation(station, len(ratios), exp(sorted(ratios)[len(ratios) // 2]))


def _left(season: Season, records: Records) -> Iterator[tuple[str, SeedAmount]]:
    """The seed that is left, where the packet's was counted; and grams where all was weighed."""
    for lot in season.lots:
        if lot.have is None:
            continue
        sown = [sowing for sowing in records.of_lot(lot.name) if sowing.from_seed]
        if lot.have.seeds is not None and all(sowing.seeds is not None for sowing in sown):
            left = max(lot.have.seeds - sum(sowing.seeds or 0 for sowing in sown), 0)
            yield lot.name, SeedAmount(seeds=left)
        elif lot.have.grams is not None and all(sowing.grams is not None for sowing in sown):
            grams = max(lot.have.grams - sum(sowing.grams or 0 for sowing in sown), 0.0)
            yield lot.name, SeedAmount(grams=round(grams, 3))


def keys_of(found: OfCrop) -> dict[str, Any]:
    """What is learned of a crop, in the keys of crops/*.toml."""
    keys: dict[str, Any] = {"name": found.crop.name}
    if found.days is not None:
        # The handbook's table lends its shape; the days are the grower's own.
        keys |= {"clock": "trays", "days_in_trays": _figure(found.days)}
    if found.spread is not None:
        keys["first_to_last"] = _figure(found.spread)
    if found.lots:
        keys["own_lots"] = [
            {"lot": lot.lot, "on": lot.on, "seeds": lot.seeds, "up": lot.up,
             "where": lot.where or None}
            for lot in found.lots
        ]  # fmt: skip
    return keys


def _figure(figure: Figure) -> dict[str, Any]:
    return {
        "low": figure.low, "best": figure.best, "high": figure.high, "basis": "own",
        "note": figure.note,
    }  # fmt: skip


def _short(value: float) -> float:
    return float(f"{value:.3g}")


def crop_files(learned: Learned, own: Mapping[str, bytes]) -> dict[str, bytes]:
    """The files of the next season's crops folder.

    Args:
        learned: What last season taught.
        own: The files of last season's crops folder: they come along, and what was learned of a
            crop that one of them is about goes into it.
    """
    rest = {crop.crop.name: keys_of(crop) for crop in learned.crops}
    files: dict[str, bytes] = {}
    for name, data in own.items():
        table = parse_toml(data, f"crops/{name}").values
        keys = rest.pop(str(table.get("name")), None)
        files[name] = data if keys is None else _file(table | keys)
    for crop, keys in rest.items():
        stem = "".join(sign if sign.isalnum() else "-" for sign in crop)
        name = f"{stem}.toml"
        files[name if name not in files else f"{stem}-own.toml"] = _file(keys)
    return files


def _file(keys: Mapping[str, Any]) -> bytes:
    """A file of the crops folder; a table that is left out stays as it is printed."""
    return (_HEAD + lines(keys)).encode()
