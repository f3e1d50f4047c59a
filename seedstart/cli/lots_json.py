"""Lots for other programs: JSON as docs/formats_json.md gives it."""

from collections.abc import Iterable, Iterator, Mapping

from seedstart.open_season import OpenSeason
from seedstart.planning.prospects.prospect import Prospect
from seedstart.season.plan.lot import Lot
from seedstart.tracking.figures import LEVEL, LotFigure
from seedstart.tracking.records import Records
from seedstart.tracking.standing import Standing
from seedstart.tracking.whereabouts import Group, whereabouts


def lots_as_json(
    season: OpenSeason, lots: Iterable[Lot], figures: Mapping[str, LotFigure]
) -> Iterator[dict[str, object]]:
    """Each lot with what came up of it and its sowings; of those still waited for, the outlook."""
    records, prospects = season.records(), season.prospects()
    groups = {one.sowing: one for one in whereabouts(records, season.plan)}
    for lot in lots:
        sowings = [
            _sowing_as_json(
                one,
                records,
                prospects[one.id] if one.from_seed else None,
                groups.get(one.id),
            )
            for one in records.of_lot(lot.name)
        ]
        yield {**_lot_as_json(lot, figures[lot.name]), "sowings": sowings}


def _outlook_as_json(found: Prospect | None) -> dict[str, object] | None:
    """What is to come of a sowing from seed; None once nothing more is waited for."""
    if found is None or not (found.is_open or found.advice):
        return None
    advice, total = found.advice, found.total
    return {
        "advice": advice.what if advice else None,
        "text": advice.text if advice else None,
        "until": advice.until if advice else None,
        "where": advice.where if advice else None,
        "still_to_come": found.more,
        "chance": _percent(found.chance_of_more),
        "chance_of_wanted": _percent(found.chance),
        "chance_of_none": _percent(found.dead),
        "total": total.best if total else None,
        "total_low": total.low if total else None,
        "total_high": total.high if total else None,
        "days_10": found.days_to(found.first),
        "days_50": found.days_to(found.half),
        "days_90": found.days_to(found.nine_in_ten),
        "half_up": found.half._asdict() if found.half else None,
        "looked_on": found.looked_at.date() if found.looked_at else None,
        "days_looked": found.days_looked,
        "unknown": found.unknown or None,
    }


def _percent(chance: float | None) -> float | None:
    return None if chance is None else 100 * chance


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
        "apart": figure.apart,
        "level": LEVEL,
        "final": figure.final,
        "state": figure.state,
        "mean_days": figure.mean_days,
        "t50_days": figure.t50_days,
        "left_out": [{"sowing": one.sowing, "why": one.why} for one in figure.left_out],
    }


def _sowing_as_json(
    one: Standing, records: Records, found: Prospect | None, group: Group | None
) -> dict[str, object]:
    spot = records.spot(one.id)
    waits = found if found is not None and found.is_open else None
    progress, expected = (waits.progress, waits.expected) if waits else (None, None)
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
        "went": {why: plants for why, plants in one.left.items() if why != "lost"},
        "progress": None if progress is None else progress.share,
        "expected": expected._asdict() if expected else None,
        "state": one.state,
        "closed": one.closed.why if one.closed else None,
        "outlook": _outlook_as_json(found),
    }
