"""What was written down and leaves a doubt that only a person can settle: what `verify` lists.

Nothing here is lost or passed over in silence: each entry is kept, and what follows from it is what
docs/tracking.md says. A doubt goes when it is settled: entered, struck, or named in the plan.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import datetime
from typing import NamedTuple

from seedstart.days import short_day
from seedstart.problems import Problem
from seedstart.season.journal.entries import (
    Counted,
    Dividing,
    Entry,
    Planned,
    Sown,
    Struck,
    TakenOut,
)
from seedstart.season.journal.journal import Journal
from seedstart.season.plan.season_file import LOTS_FILE, SEASON_FILE, Season
from seedstart.text import folded, joined, natural, plural
from seedstart.tracking.history import standing_at
from seedstart.tracking.records import Records
from seedstart.tracking.standing import Disagreement, Standing


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
            f"{after.name}: {after.emerged} came up of {plural(seeds, 'seed')}. It is kept, but "
            "gets no percentage. If that was a slip, take it back."
        )


def _fewer(entry: Entry, before: Standing, after: Standing) -> int:
    """How far a count is below what stood, without those that were found dead at it."""
    if not isinstance(entry, Counted) or after.counted[-1].id != entry.id:
        return 0
    return before.standing - after.standing - (entry.lost or 0)


def _missing_later(before: Standing, after: Standing) -> Iterator[str]:
    """Warn where a later day's count of a sowing now falls short of what was written."""
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
            held = [found for sowing in those if (found := standing_at(before, sowing, at))]
            names = [sowing.name for sowing in held if sowing.standing]
            if names:
                yield f"{entry.tray} holds {', '.join(names)} too."


def _of_sowing(
    season: Season,
    before: Records,
    now: Records,
    entry: Entry,
    standing: Standing,
    at: datetime | None,
) -> Iterator[str]:
    """What is odd of one sowing as it was at the moment, and in what was counted since."""
    crop = season.crop_of(standing.lot)
    clusters = crop is not None and crop.seedlings_per_seed is not None
    was, is_ = standing_at(before, standing.id, at), standing_at(now, standing.id, at)
    if is_ is None:
        return
    yield from odd(entry, was, is_, clusters=clusters)
    if was is not None and _fewer(entry, was, is_) <= 0:
        yield from _missing_later(before.standings[standing.id], standing)


def _left_a_tray(sowing: str, before: Records, now: Records, at: datetime | None) -> Iterator[str]:
    """A sowing that was carried out of a tray in which others stay."""
    was = before.spot(sowing, at) if sowing in before.standings else None
    is_ = now.spot(sowing, at)
    if was is None or was.tray is None or is_ is None or is_.tray is not None:
        return
    stay = [now.standings[other].name for other in now.sowings_in(("tray", was.tray), at)]
    if stay:
        left = f"{now.standings[sowing].name} is in {was.tray} no more"
        yield f"{left}; {joined(stay)} {'stays' if len(stay) == 1 else 'stay'} in it."


_JOURNAL = "journal"
_LOTS = "lots"


class Doubt(NamedTuple):
    """A problem, and the id of the entry where it is seen first; None where no entry shows it."""

    problem: Problem
    entry: str | None = None


def doubts(journal: Journal, records: Records, season: Season, now: datetime) -> list[Doubt]:
    """All that is in doubt in what was recorded.

    Args:
        journal: What was recorded.
        records: What happened by it.
        season: The plan in force: which lots and stations there are, which crops give several
            seedlings a seed.
        now: The moment it is: what was written for a later one is named.
    """
    return [
        *_astray(records),
        *_unknown_lots(journal, records, season),
        *_unknown_stations(journal, records, season),
        *_empty_trays(records),
        *_of_sowings(records, season),
        *_ahead(journal.by_id.values(), now),
        *_without_their_entry(journal),
    ]


def _astray(records: Records) -> Iterator[Doubt]:
    """Lines about a sowing that is not there, or about one of several."""
    for name, entries in records.astray.items():
        kept = f"{plural(len(entries), 'entry', 'entries')} about it, kept and passed over"
        bearers = {bearer.sowing for bearer in records.identity.bearers(name)}
        there = [sowing for sowing in records.standings if sowing in bearers]
        if there:
            choices = tuple(records.name_in_line(sowing) for sowing in there)
            hint = (
                f"Several sowings have that name; {kept}: write them down again, and take "
                "these back."
            )
        else:
            choices = tuple(sorted(records.names_borne, key=natural))
            hint = f"{kept}."
        yield Doubt(_about("sowing", name, choices, hint, _LOTS), entries[0].id)


def _unknown_lots(journal: Journal, records: Records, season: Season) -> Iterator[Doubt]:
    names = tuple(lot.name for lot in season.lots)
    hint = f"Not listed in {LOTS_FILE}: add it, or put it under `was` of the lot it is now."
    # What a `planned` says of a lot is reported where plans are.
    entries = (entry for entry in _in_force(journal) if not isinstance(entry, Planned))
    for lot, entry in _unlisted(entries, "lot", records.called.lots):
        yield Doubt(_about("lot", lot, names, hint, _LOTS), entry.id)


def _unknown_stations(journal: Journal, records: Records, season: Season) -> Iterator[Doubt]:
    names = tuple(station.name for station in season.stations)
    hint = f"Not listed in {SEASON_FILE}: add it, or put it under `was` of the station it is now."
    for station, entry in _unlisted(_in_force(journal), "station", records.called.stations):
        yield Doubt(_about("station", station, names, hint, ""), entry.id)


def _unlisted(
    entries: Iterable[Entry], key: str, listed: Mapping[str, str]
) -> Iterator[tuple[str, Entry]]:
    """Names under a key that no file lists, and the first entry of each."""
    known = set(listed)
    for entry in entries:
        name = getattr(entry, key, None)
        if name and folded(name) not in known:
            known.add(folded(name))
            yield name, entry


def _empty_trays(records: Records) -> Iterator[Doubt]:
    """Trays that were cared for, and nothing was ever said to be in them: a slip of the pen."""
    used = {
        stay.where[1]
        for standing in records.standings.values()
        for stay in standing.stays
        if stay.where[0] == "tray"
    }
    hint = f"Nothing was ever in it. Is it another tray? Then put it under `was` in {SEASON_FILE}."
    for (kind, name), place in records.places.items():
        care = [*place.watered, *place.fed, *place.covered, *place.readings, *place.hardened]
        if kind == "tray" and name not in used and care:
            first = min(care, key=lambda entry: entry.id)
            yield Doubt(
                _about("tray", name, tuple(sorted(used, key=natural)), hint, _LOTS), first.id
            )


def _of_sowings(records: Records, season: Season) -> Iterator[Doubt]:
    several = {
        lot.name
        for lot in season.lots
        if season.crops.crops[lot.crop].seedlings_per_seed is not None
    }
    for standing in records.standings.values():
        name = records.name_in_line(standing.id)
        yield from (Doubt(problem, standing.id) for problem in standing.problems)
        for disagreement in standing.unsettled:
            both = both_counts(disagreement)
            hint = f"{both}: which is right? Until one is taken back, the later one is used."
            yield Doubt(_of_one(name, hint), disagreement.later.entry.id)
        if (early := _first_too_soon(standing)) is not None:
            hint = (
                f"It was counted on {early.at.date()}, before it was sown on {standing.at.date()}: "
                "take the count back, or the sowing."
            )
            yield Doubt(_of_one(name, hint), early.id)
        if standing.inferred and standing.alive:
            yield Doubt(_of_one(name, _missing(standing)), _fell_at(standing))
        if standing.more_than_sown and standing.lot not in several:
            hint = (
                f"{standing.emerged} came up and {standing.seeds} seeds were sown: one is wrong. "
                "Until then it gets no percentage."
            )
            yield Doubt(_of_one(name, hint), standing.id)


def both_counts(disagreement: Disagreement) -> str:
    """`bench counted 18 (08:00) and phone 17 (08:20) on Thu 12 Mar`."""
    earlier, later = disagreement.earlier, disagreement.later
    day = later.at.date()
    return (
        f"{earlier.by} counted {earlier.entry.standing} ({earlier.at:%H:%M}) and "
        f"{later.by} {later.entry.standing} ({later.at:%H:%M}) on {day:%a} {short_day(day)}"
    )


def _missing(standing: Standing) -> str:
    are = "plant is" if standing.inferred == 1 else "plants are"
    return (
        f"{standing.inferred} {are} missing since an earlier count, and nobody said why. "
        f"If they died, write down {standing.inferred} lost; "
        "if the earlier count was wrong, take it back."
    )


def _fell_at(standing: Standing) -> str:
    falls = (count.entry.id for count in reversed(standing.counts) if count.inferred)
    return next(falls, standing.id)


def _ahead(entries: Iterable[Entry], now: datetime) -> Iterator[Doubt]:
    """What was written for a moment that is still to come: a clock was wrong, or is now."""
    by_writer: defaultdict[str, list[Entry]] = defaultdict(list)
    for entry in entries:
        if entry.at > now:
            by_writer[entry.by].append(entry)
    for by, ahead in sorted(by_writer.items()):
        first = min(ahead, key=lambda entry: (entry.at, entry.id))
        lie = "entry lies" if len(ahead) == 1 else "entries lie"
        hint = (
            f"{len(ahead)} {lie} ahead of now, the first on {first.at:%Y-%m-%d %H:%M}: the clock "
            f"of {by} was wrong, or this one is. It counts as written."
        )
        yield Doubt(Problem(file=_JOURNAL, key="at", hint=hint), first.id)


def _without_their_entry(journal: Journal) -> Iterator[Doubt]:
    """What names an entry that has not come: it waits for it."""
    hint = "No entry of this id is here (yet): another writer's file may hold it."
    for entry in journal.by_id.values():
        for named in _named_by(entry):
            if named not in journal.by_id:
                yield Doubt(Problem(file=_JOURNAL, key="entry", found=named, hint=hint), entry.id)


def _named_by(entry: Entry) -> Sequence[str]:
    if isinstance(entry, Struck | TakenOut):
        return (entry.entry,)
    return entry.after if isinstance(entry, Sown) else ()


def _in_force(journal: Journal) -> Iterator[Entry]:
    return (entry for entry in journal.by_id.values() if entry.id not in journal.struck)


def _about(key: str, found: str, allowed: tuple[str, ...], hint: str, listed_by: str) -> Problem:
    return Problem(
        file=_JOURNAL, key=key, found=found, allowed=allowed, hint=hint, listed_by=listed_by
    )


def _of_one(name: str, hint: str) -> Problem:
    return Problem(file=_JOURNAL, key=f"sowing {name}", hint=hint)


def _first_too_soon(sowing: Standing) -> Counted | None:
    """The first count of a day before it was sown: nothing can be up of seed not sown yet."""
    sown = sowing.at.date()
    return next((entry for entry in sowing.counted if entry.at.date() < sown), None)
