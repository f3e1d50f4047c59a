"""What was done to a lot's seed before it was sown, and when it was taken out."""

from collections.abc import Iterable
from typing import Final, Literal

from seedstart.season.entries import Entry, Scarified, Soaked, Stratified, TakenOut, Treatment
from seedstart.tracking.place import Treated

_WHAT: Final[dict[type[Entry], Literal["soaked", "stratified", "scarified"]]] = {
    Soaked: "soaked", Stratified: "stratified", Scarified: "scarified",
}  # fmt: skip


def fold_treatments(lot: str, entries: Iterable[Entry]) -> tuple[Treated, ...]:
    """The treatments of a lot's seed, in order.

    Args:
        lot: Its present name.
        entries: Those in force that name it, in order of (at, id), the ends of its treatments too.
            Of two ends of one treatment the later holds.
    """
    known = list(entries)
    ends = {entry.entry: entry for entry in known if isinstance(entry, TakenOut)}
    return tuple(
        Treated(
            id=entry.id,
            lot=lot,
            what=_WHAT[type(entry)],
            since=entry.at,
            until=ends[entry.id].at if entry.id in ends else None,
            hours=entry.days * 24 if entry.days is not None else entry.hours,
            seeds=entry.seeds,
            c=entry.c,
            liquid=entry.liquid,
            by=entry.by,
            ended_by=ends[entry.id].by if entry.id in ends else "",
        )
        for entry in known
        if isinstance(entry, Treatment)
    )
