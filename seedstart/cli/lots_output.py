"""Lots for other programs: JSON as docs/formats_json.md gives it."""

from collections.abc import Iterable, Iterator, Mapping

from seedstart.open_season import OpenSeason
from seedstart.planning.row import Row
from seedstart.planning.sowing_outlook import SowingOutlook, sowing_outlook
from seedstart.season.lot import Lot
from seedstart.tracking.figures import LEVEL, LotFigure
from seedstart.tracking.records import Records
from seedstart.tracking.standing import Standing
from seedstart.tracking.warmth import Progress
from seedstart.tracking.whereabouts import Group, whereabouts


def lots_as_json(
    season: OpenSeason, lots: Iterable[Lot], figures: Mapping[str, LotFigure]
) -> Iterator[dict[str, object]]:
    """Each lot with what came up of it and its sowings; of those still waited for, the outlook."""
    records, progress = season.records(), season.progress()
    groups = {one.sowing: one for one in whereabouts(records, season.plan)}
    rows: dict[str, list[Row]] = {}
    for row in season.calendar():
        rows.setdefault(row.lot or "", []).append(row)
    for lot in lots:
        own = tuple(rows.get(lot.name, ()))
        sowings = [
            _sowing_as_json(one, records, progress.get(one.id), groups.get(one.id))
            | {"outlook": _outlook(one, season, progress.get(one.id), own)}
            for one in records.of_lot(lot.name)
        ]
        yield {**_lot_as_json(lot, figures[lot.name]), "sowings": sowings}


def _outlook(
    one: Standing, season: OpenSeason, progress: Progress | None, rows: tuple[Row, ...]
) -> dict[str, object] | None:
    """What is to come of a sowing from seed; None once nothing more is counted in it."""
    if not one.from_seed or not one.alive or one.closed is not None:
        return None
    records, now = season.records(), season.now()
    return _outlook_as_json(sowing_outlook(one, season.plan, records, progress, now, rows))


def _outlook_as_json(found: SowingOutlook) -> dict[str, object]:
    time, totals, still, advice = found.time, found.totals, found.still, found.advice
    return {
        "advice": advice.what if advice else None,
        "text": advice.text if advice else None,
        "still_to_come": still.expected() if still else None,
        "chance": 100 * still.chance_of(1) if still else None,
        "total": totals.mean if totals else None,
        "total_low": totals.low if totals else None,
        "total_high": totals.high if totals else None,
        "days_10": time.days_for(0.1) if time else None,
        "days_50": time.half_days if time else None,
        "days_90": time.days_for(0.9) if time else None,
        "unknown": found.unknown or None,
    }


def _lot_as_json(lot: Lot, figure: LotFigure) -> dict[str, object]:
    low, high = figure.interval or (None, None)
    return {
        "lot": lot.name,
        "crop": lot.crop,
        "variety": lot.variety,
        "seeds_sown": figure.seeds_sown,
        "emerged": figure.emerged,
        "percent": figure.percent,
        "percent_low": None if low is None else 100 * low,
        "percent_high": None if high is None else 100 * high,
        "of": figure.of,
        "level": LEVEL,
        "final": figure.final,
        "state": figure.state,
        "mean_days": figure.mean_days,
        "t50_days": figure.t50_days,
        "left_out": [{"sowing": one.sowing, "why": one.why} for one in figure.left_out],
    }


def _sowing_as_json(
    one: Standing, records: Records, progress: Progress | None, group: Group | None
) -> dict[str, object]:
    spot = records.spot(one.id)
    expected = progress.expected if progress else None
    return {
        "id": one.id,
        "sowing": records.name_in_line(one.id),
        "from": one.made_from,
        "station": spot.station if spot else None,
        "tray": spot.tray if spot else None,
        "container": group.container.name if group and group.container else one.container,
        "sown_on": one.at.date(),
        "seeds": one.seeds,
        "standing": one.standing,
        "emerged": one.emerged if one.from_seed else None,
        "lost": one.left.get("lost", 0),
        "missing": one.inferred,
        "left": {why: plants for why, plants in one.left.items() if why != "lost"},
        "progress": None if progress is None else progress.share,
        "expected": expected._asdict() if expected else None,
        "state": _state(one),
    }


def _state(one: Standing) -> str:
    if not one.alive:
        return "over"
    if one.closed is not None:
        return f"closed: {one.closed.why}"
    return "up" if one.up_since is not None else "waiting"
