"""What one more entry makes odd in a sowing: it is kept as it was written, and said."""

from collections.abc import Iterable, Iterator
from datetime import datetime

from seedstart.season.entries import Counted, Dividing, Entry
from seedstart.season.plan import Season
from seedstart.text import joined, plural
from seedstart.tracking.records import Records
from seedstart.tracking.standing import Standing
from seedstart.tracking.then import standing_at


def odd(entry: Entry, before: Standing | None, after: Standing, *, clusters: bool) -> Iterator[str]:
    """Sentences for whoever wrote it: nobody could be asked.

    Args:
        entry: What was written.
        before: The sowing before it, at that moment; None where the entry made it.
        after: The sowing with it, at that moment.
        clusters: Whether one seed of the crop gives several seedlings.
    """
    if before is None:
        return
    fewer = _fewer(entry, before, after)
    if fewer > 0:
        yield (
            f"{fewer} fewer than before ({before.standing}). If they died, write down {fewer} "
            "lost; if the earlier count was wrong, take it back."
        )
    if not isinstance(entry, Counted) and after.emerged > before.emerged and after.from_seed:
        yield (
            f"{after.name}: {before.standing} stood, so {after.emerged - before.emerged} came up "
            "that nobody counted. If that was a slip, take it back."
        )
    seeds = after.seeds
    if seeds is not None and not clusters and before.emerged <= seeds < after.emerged:
        yield (
            f"{after.name}: {after.emerged} came up of {plural(seeds, 'seed')}. It is kept, and "
            "gets no percentage. If that was a slip, take it back."
        )


def _fewer(entry: Entry, before: Standing, after: Standing) -> int:
    """By how many a count is below what stood, without those that were found dead at it."""
    if not isinstance(entry, Counted) or after.counted[-1].id != entry.id:
        return 0
    return before.standing - after.standing - (entry.lost or 0)


def _missing_later(before: Standing, after: Standing) -> Iterator[str]:
    """Of a sowing as it is now: a count of a later day falls short of what was written."""
    missing = after.inferred - before.inferred
    if missing > 0:
        yield (
            f"{after.name}: {plural(missing, 'plant')} missing at a count of a later day, and "
            f"marked so. If they died, write down {missing} lost; if a count was wrong, take it "
            "back."
        )


def odd_in(
    season: Season,
    before: Records,
    now: Records,
    entries: Iterable[Entry],
    at: datetime | None = None,
) -> Iterator[str]:
    """What is odd in what was just recorded, as sentences.

    Args:
        season: The plan.
        before: What happened without the entries.
        now: With them.
        entries: What was recorded.
        at: When it happened; None for now. It is held against what stood then.
    """
    for entry in entries:
        name = getattr(entry, "sowing", None)
        one = now.by_name_in_line(name) if name else None
        if one is not None:
            yield from _of_sowing(season, before, now, entry, one, at)
            yield from _left_a_tray(one.id, before, now, at)
        if isinstance(entry, Dividing) and entry.tray is not None:
            those = before.sowings_in(("tray", entry.tray), at)
            held = [found for one in those if (found := standing_at(before, one, at))]
            names = [one.name for one in held if one.standing]
            if names:
                yield f"{entry.tray} holds {', '.join(names)} too."


def _of_sowing(
    season: Season,
    before: Records,
    now: Records,
    entry: Entry,
    one: Standing,
    at: datetime | None,
) -> Iterator[str]:
    """What is odd of one sowing as it was at the moment, and in what was counted since."""
    crop = season.crop_of(one.lot)
    clusters = crop is not None and crop.seedlings_per_seed is not None
    was, is_ = standing_at(before, one.id, at), standing_at(now, one.id, at)
    if is_ is None:
        return
    yield from odd(entry, was, is_, clusters=clusters)
    if was is not None and _fewer(entry, was, is_) <= 0:
        yield from _missing_later(before.standings[one.id], one)


def _left_a_tray(sowing: str, before: Records, now: Records, at: datetime | None) -> Iterator[str]:
    """A sowing that was carried out of a tray in which others stay."""
    was = before.spot(sowing, at) if sowing in before.standings else None
    is_ = now.spot(sowing, at)
    if was is None or was.tray is None or is_ is None or is_.tray is not None:
        return
    stay = [now.standings[one].name for one in now.sowings_in(("tray", was.tray), at)]
    if stay:
        left = f"{now.standings[sowing].name} is in {was.tray} no more"
        yield f"{left}; {joined(stay)} {'stays' if len(stay) == 1 else 'stay'} in it."
