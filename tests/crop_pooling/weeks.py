"""Weeks before the last frost to sow, weeks after it to set out, weeks indoors: as printed, pooled.

All weeks count from the average last frost. A row that counts from a safe date (a frost later
than that in one year of ten) is converted: the safe date lies 17 days after the average one, the
median at six places whose published tables give both. "Not said" is taken as average.
"""

from collections.abc import Iterator
from typing import Final

from crop_pooling.judged_weeks import (
    FIRST_SOWING_ONLY,
    MEMORY_WEEKS_INDOORS,
    NOT_A_SPRING_SOWING,
    OUTDOORS_BY_HAND,
    RAISED_AS,
    SET_OUT_AS_HALF_HARDY,
    SET_OUT_BY_HAND,
    SOW_BY_HAND,
    WEEKS_INDOORS_BY_HAND,
)
from crop_pooling.pooling import (
    OPEN_END_WEEKS,
    Printed,
    better_only,
    borrowed_from,
    by_institution,
    figure,
    pool,
)
from crop_pooling.sources import institution_of, is_weak, key_of
from crop_pooling.tables import Row, number, rows_of
from seedstart.crop_table.crop import Figure, Hardiness

SAFE_AFTER_AVERAGE_WEEKS: Final = round(17 / 7, 1)
_WIDEST_SOW_WEEKS: Final = 6.8  # 48 days: a longer window says nothing to a grower
_COUNTS_FROM_FROST: Final = "counts weeks before last frost"
_NEAR_THE_ONLY_ONE: Final = 1.0  # week
_SAME_WEEK: Final = 0.25  # weeks: two days are no difference
_A_WEEK: Final = 1.0
_SOW = "sow_weeks_before_last_frost"
_OUT = "set_out_weeks_after_last_frost"
_IN = "weeks_indoors"
_SOW_TABLES = ("sow_weeks_vegetables_herbs", "sow_weeks_flowers")
# What institutions print for a whole group, weeks after the average last frost.
_GROUP_RULES: Final[dict[Hardiness, tuple[Printed, ...]]] = {
    "hardy": (
        Printed(-5, -2, "idaho-cis-1209"),
        Printed(-4, -2, "colorado-gardennotes-720"),
        Printed(-6, -4, "daily-herald-2018"),
        Printed(-4, -4, "illinois-larson-2002"),
    ),
    "half_hardy": (Printed(-2, 0, "colorado-gardennotes-720"),),
    "tender": (
        Printed(1, 3, "idaho-cis-1209"),
        Printed(0, 0, "colorado-gardennotes-720"),
        Printed(0, 2, "illinois-larson-2002"),
    ),
    "very_tender": (
        Printed(1, 3, "idaho-cis-1209"),
        Printed(2, 3, "daily-herald-2018"),
        Printed(2, 4, "colorado-master-gardener-2021"),
    ),
}


def printed_sow_weeks(crop: str) -> list[Printed]:
    """Weeks before the average last frost to sow, each source's own row for the crop."""
    found = []
    for row in _spring_rows(crop):
        ends = _ends(row, _SOW)
        if ends is None:
            continue
        low, high = ends
        if _repeated(row):
            low = high
        later = _safe_weeks(row)
        found.append(Printed(low - later, high - later, key_of(row.source)))
    found += [
        Printed(*ends, key_of(row.source))
        for row in rows_of(crop, "transplant_timing")
        if _COUNTS_FROM_FROST in row.said["remark"] and (ends := _ends(row, _IN))
    ]
    return found


def printed_set_out(crop: str) -> list[Printed]:
    """Weeks after the average last frost to set out, each source's own row for the crop."""
    found = []
    for row in (*_spring_rows(crop), *rows_of(crop, "transplant_timing")):
        ends = _ends(row, _OUT)
        if ends is None:
            continue
        low, high = ends
        if _repeated(row):
            high = low
        later = _safe_weeks(row)
        found.append(Printed(low + later, high + later, key_of(row.source)))
    return found


def printed_weeks_indoors(crop: str) -> list[Printed]:
    """Weeks from sowing to setting out, each source's own row for the crop."""
    found = []
    for row in (*_spring_rows(crop), *rows_of(crop, "transplant_timing")):
        ends = _ends(row, _IN)
        if ends and _COUNTS_FROM_FROST not in row.said["remark"]:
            found.append(Printed(*ends, key_of(row.source)))
    return found


def set_out_weeks(crop: str, hardiness: Hardiness) -> Figure:
    """Every institution once: its own row for the crop, else its rule for the hardiness group."""
    if crop in SET_OUT_BY_HAND:
        return SET_OUT_BY_HAND[crop]
    group = "half_hardy" if crop in SET_OUT_AS_HALF_HARDY else hardiness
    own = [one for one in printed_set_out(crop) if not is_weak(one.key)]
    spoken = {institution_of(one.key) for one in own}
    rules = [one for one in _GROUP_RULES[group] if institution_of(one.key) not in spoken]
    pooled = pool([*own, *rules])
    assert pooled is not None
    best = min(pooled.best, 0) if group in {"hardy", "half_hardy"} and not own else pooled.best
    low, high = min(pooled.low, best - 1), max(pooled.high, best + 1)
    note = "" if own else f"the rule for {group.replace('_', '-')} plants"
    if hardiness == "hardy":
        best, high, low = min(best, 0), 0, min(low, best, -2)
    elif hardiness == "half_hardy":
        high = max(high, 0)
    if crop in SET_OUT_AS_HALF_HARDY:
        note = SET_OUT_AS_HALF_HARDY[crop]
        return figure(best, low, high, "practice", pooled.sources, note)
    return figure(best, low, high, pooled.basis, pooled.sources, note)


def weeks_indoors(crop: str) -> Figure | None:
    """Weeks from sowing to setting out, pooled."""
    if crop in WEEKS_INDOORS_BY_HAND:
        return WEEKS_INDOORS_BY_HAND[crop]
    if crop in RAISED_AS:
        raised = weeks_indoors(RAISED_AS[crop])
        return raised and borrowed_from(RAISED_AS[crop], raised)
    pooled = pool(printed_weeks_indoors(crop), widen=True)
    if pooled is None and crop in MEMORY_WEEKS_INDOORS:
        low, high = MEMORY_WEEKS_INDOORS[crop]
        return figure((low + high) / 2, low, high, "memory", note="no source prints it")
    return pooled


def sow_weeks(crop: str, set_out: Figure) -> Figure | None:
    """Weeks before the last frost to sow: as printed, or weeks indoors less weeks to set out."""
    if crop in SOW_BY_HAND:
        return SOW_BY_HAND[crop]
    if crop in RAISED_AS:
        raised = sow_weeks(RAISED_AS[crop], set_out)
        return raised and borrowed_from(RAISED_AS[crop], raised)
    printed, basis = better_only(printed_sow_weeks(crop))
    if basis == "source" and len(by_institution(printed)) > 1:
        return _within_reason(pool(printed, widen=True))
    counted_back = list(_counted_back(crop, set_out, printed))
    sound = [one for one in (*printed, *counted_back) if not is_weak(one.key)]
    if sound:
        note = (
            ""
            if all(one in printed for one in sound)
            else (
                "fewer than two institutions print weeks to sow: printed weeks indoors, less the"
                " weeks to set out, count beside them"
            )
        )
        pooled = pool(sound, widen=True, note=note)
        return _within_reason(_kept_near(pooled, printed) if basis == "source" else pooled)
    if printed or counted_back:
        return _within_reason(pool(printed or counted_back, widen=True))
    indoors = weeks_indoors(crop)
    if indoors is None:
        return None
    ends = (indoors.low - set_out.best, indoors.high - set_out.best)
    note = "weeks indoors, from memory, less the weeks to set out"
    return _within_reason(pool([Printed(*ends, "")], widen=True, note=note))


def sow_outdoors_weeks(crop: str, hardiness: Hardiness) -> Figure:
    """Weeks after the average last frost to sow in place, of what is not raised indoors.

    What the sources print of planting such a crop speaks of its seed.
    """
    if crop in OUTDOORS_BY_HAND:
        return OUTDOORS_BY_HAND[crop]
    return set_out_weeks(crop, hardiness)


def grown_as_long_as_printed(crop: str, sow: Figure, out: Figure, indoors: Figure | None) -> Figure:
    """Weeks to sow, such that plants are as old at setting out as weeks indoors are printed.

    The two kinds of weeks come from different pages, and their sum is what no page prints. It is
    kept in the middle half of the printed weeks indoors; what gives way is the sowing date.
    """
    if indoors is None or indoors.basis not in {"source", "relative", "weak"}:
        return sow
    if sow.basis == "practice":  # decided by hand, with the weeks indoors before one's eyes
        return sow
    low, high = _as_printed(crop, indoors)
    if indoors.basis != "weak" or sow.basis == "weak":
        low, high = (low + indoors.best) / 2, (indoors.best + high) / 2
    best = min(max(sow.best + out.best, low), high) - out.best
    if abs(best - sow.best) < _SAME_WEEK:
        return sow
    note = (
        f"the sources' own weeks are {sow.low:g} to {sow.high:g}, {sow.best:g} at best: moved, so"
        f" that plants are {best + out.best:.3g} weeks old at setting out, as weeks indoors are"
        " printed"
    )
    note = f"{sow.note}; {note}" if sow.note else note
    first = max(sow.low, indoors.low - out.high)
    last = min(sow.high, indoors.high - out.low)
    ends = min(first, best - _A_WEEK), max(last, best + _A_WEEK)
    moved = figure(best, *ends, sow.basis, sow.sources, note)
    return _within_reason(moved) or moved


def _as_printed(crop: str, indoors: Figure) -> tuple[float, float]:
    """Ends of the printed weeks indoors, without what few sources were widened by."""
    if crop in WEEKS_INDOORS_BY_HAND:
        return indoors.low, indoors.high
    printed = pool(printed_weeks_indoors(RAISED_AS.get(crop, crop)))
    return (printed.low, printed.high) if printed else (indoors.low, indoors.high)


def _spring_rows(crop: str) -> Iterator[Row]:
    for row in rows_of(crop, *_SOW_TABLES):
        if (crop, key_of(row.source)) not in NOT_A_SPRING_SOWING:
            yield row


def _ends(row: Row, column: str) -> tuple[float, float] | None:
    low, high = number(row.said[f"{column}_low"]), number(row.said[f"{column}_high"])
    if low is None:
        return None  # "up to 16 weeks" says nothing of the middle
    return low, low + OPEN_END_WEEKS if high is None else high


def _repeated(row: Row) -> bool:
    return FIRST_SOWING_ONLY in row.said["remark"]


def _safe_weeks(row: Row) -> float:
    return SAFE_AFTER_AVERAGE_WEEKS if row.said.get("frost_meaning") == "safe" else 0.0


def _counted_back(crop: str, set_out: Figure, printed: list[Printed]) -> Iterator[Printed]:
    spoken = {institution_of(one.key) for one in printed}
    for one in printed_weeks_indoors(crop):
        if institution_of(one.key) not in spoken:
            yield Printed(one.low - set_out.best, one.high - set_out.best, one.key)


def _kept_near(pooled: Figure | None, printed: list[Printed]) -> Figure | None:
    """The only source of weeks to sow keeps the best in its range, where the others nearly agree.

    Others here are weeks indoors, counted back from setting out.
    """
    if pooled is None or not printed:
        return pooled
    low, high = min(one.low for one in printed), max(one.high for one in printed)
    best = min(max(pooled.best, low), high)
    if abs(best - pooled.best) > _NEAR_THE_ONLY_ONE:
        return pooled
    ends = min(pooled.low, best), max(pooled.high, best)
    return figure(best, *ends, pooled.basis, pooled.sources, pooled.note)


def _within_reason(pooled: Figure | None) -> Figure | None:
    if pooled is None or pooled.high - pooled.low <= _WIDEST_SOW_WEEKS:
        return pooled
    share = _WIDEST_SOW_WEEKS / (pooled.high - pooled.low)
    best, low, high = pooled.best, pooled.low, pooled.high
    note = f"printed {low:g} to {high:g} weeks, drawn in to 48 days round the best"
    return figure(
        best,
        best - (best - low) * share,
        best + (high - best) * share,
        pooled.basis,
        pooled.sources,
        f"{pooled.note}; {note}" if pooled.note else note,
    )
