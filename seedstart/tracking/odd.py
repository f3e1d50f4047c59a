"""What one more entry makes odd in a sowing: it is kept as it was written, and said."""

from collections.abc import Iterable, Iterator

from seedstart.season.entries import Counted, Dividing, Entry
from seedstart.season.plan import Season
from seedstart.text import joined, plural
from seedstart.tracking.records import Records
from seedstart.tracking.standing import Standing


def odd(entry: Entry, before: Standing | None, after: Standing, *, clusters: bool) -> Iterator[str]:
    """Sentences for whoever wrote it: nobody could be asked.

    Args:
        entry: What was written.
        before: The sowing before it; None where the entry made it.
        after: The sowing with it.
        clusters: Whether one seed of the crop gives several seedlings.
    """
    if before is None:
        return
    missing = after.inferred - before.inferred
    fewer = before.standing - after.standing - (getattr(entry, "lost", None) or 0)
    if isinstance(entry, Counted) and after.counted[-1].id == entry.id and fewer > 0:
        yield (
            f"{fewer} fewer than before ({before.standing}). If they died, write down {fewer} "
            "lost; if the earlier count was wrong, take it back."
        )
    elif missing > 0:
        yield (
            f"{after.name}: {plural(missing, 'plant')} missing at a count of a later day, and "
            f"marked so. If they died, write down {missing} lost; if a count was wrong, take it "
            "back."
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


def odd_in(
    season: Season, before: Records, now: Records, entries: Iterable[Entry]
) -> Iterator[str]:
    """What is odd in what was just recorded, as sentences.

    Args:
        season: The plan.
        before: What happened without the entries.
        now: With them.
        entries: What was recorded.
    """
    for entry in entries:
        name = getattr(entry, "sowing", None)
        one = now.by_name_in_line(name) if name else None
        if one is not None:
            crop = season.crop_of(one.lot)
            clusters = crop is not None and crop.seedlings_per_seed is not None
            yield from odd(entry, before.standings.get(one.id), one, clusters=clusters)
            yield from _left_a_tray(one.id, before, now)
        if isinstance(entry, Dividing) and entry.tray is not None:
            held = [before.standings[one] for one in before.sowings_in(("tray", entry.tray))]
            names = [one.name for one in held if one.standing]
            if names:
                yield f"{entry.tray} holds {', '.join(names)} too."


def _left_a_tray(sowing: str, before: Records, now: Records) -> Iterator[str]:
    """A sowing that was carried out of a tray in which others stay."""
    was, is_ = before.spot(sowing) if sowing in before.standings else None, now.spot(sowing)
    if was is None or was.tray is None or is_ is None or is_.tray is not None:
        return
    stay = [now.standings[one].name for one in now.sowings_in(("tray", was.tray))]
    if stay:
        left = f"{now.standings[sowing].name} is in {was.tray} no more"
        yield f"{left}; {joined(stay)} {'stays' if len(stay) == 1 else 'stay'} in it."
