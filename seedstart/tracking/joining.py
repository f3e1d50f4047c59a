"""Sowings and places joined: what daughters have from their mothers, where trays stood."""

from collections import defaultdict
from collections.abc import Iterable, Mapping

from msgspec import Struct
from msgspec.structs import replace

from seedstart.season.journal.entry import Subject
from seedstart.tracking.links import Links
from seedstart.tracking.place import Begun, Place, stays
from seedstart.tracking.standing import Standing, Stay


class Joined(Struct, frozen=True):
    """Sowings in order of making, places, and what belongs together."""

    standings: dict[str, Standing]
    places: dict[Subject, Place]
    links: Links


def join(sowings: Mapping[str, Standing], places: Mapping[Subject, Place]) -> Joined:
    """All of it, from what each one's own entries say."""
    heirs = _Heirs(sowings)
    in_order = sorted(sowings.values(), key=lambda standing: (standing.at, standing.id))
    standings = {standing.id: heirs.heir(standing) for standing in in_order}
    joined = _with_trays(standings.values(), places)
    return Joined(standings, joined, Links.between(standings.values(), joined))


def leaves_others_alone(old: Standing | None, new: Standing | None) -> bool:
    """Whether a sowing's change touches nothing that others have from it, nor where trays stood."""
    return old is not None and new is not None and _bequeathed(old) == _bequeathed(new)


def _bequeathed(standing: Standing) -> tuple[object, ...]:
    return (standing.at, standing.lot, standing.lot_sure, standing.purpose, standing.trial,
            standing.replicate, standing.stays, standing.made_from, standing.mixed_of)  # fmt: skip


class _Heirs:
    """Daughters with what they have from their mothers."""

    def __init__(self, sowings: Mapping[str, Standing]) -> None:
        self.sowings = sowings
        self.done: dict[str, Standing] = {}

    def heir(self, standing: Standing, descendants: frozenset[str] = frozenset()) -> Standing:
        """A sowing with its mother's lot, trial and place; sowings that made each other stay."""
        if standing.from_seed or standing.id in descendants:
            return standing
        if standing.id not in self.done:
            known = [self.sowings[mother] for mother in standing.mothers if mother in self.sowings]
            heirs = [self.heir(mother, descendants | {standing.id}) for mother in known]
            self.done[standing.id] = inherit(standing, heirs)
        return self.done[standing.id]


def inherit(standing: Standing, mothers: list[Standing]) -> Standing:
    """A daughter with what she has from her mother, or from those that were mixed up into her."""
    if not mothers:
        return standing
    first = mothers[0]
    lots = {mother.lot for mother in mothers}
    theirs = standing.lot is None and len(lots) == 1
    of_trial = first.purpose == "trial" and len(mothers) == 1
    return replace(
        standing,
        lot=first.lot if theirs else standing.lot,
        lot_sure=all(mother.lot_sure for mother in mothers) if theirs else standing.lot_sure,
        purpose="trial" if of_trial else standing.purpose,
        trial=first.trial if of_trial else standing.trial,
        replicate=first.replicate if of_trial else standing.replicate,
        stays=_from_her_place(standing, first),
    )


def _from_her_place(standing: Standing, mother: Standing) -> tuple[Stay, ...]:
    begins = standing.stays[0].since if standing.stays else None
    hers = mother.stay_at(standing.at)
    if hers is None or (begins is not None and begins <= standing.at):
        return standing.stays
    return (Stay(hers.where, standing.at, begins), *standing.stays)


def _with_trays(
    standings: Iterable[Standing], places: Mapping[Subject, Place]
) -> dict[Subject, Place]:
    """The places, and trays that only sowings name; trays with what sowings say of their place."""
    of_trays: defaultdict[str, list[Begun]] = defaultdict(list)
    for standing in standings:
        for stay in standing.stays:
            kind, name = stay.where
            if kind == "tray":
                begun_there = of_trays[name]
                if stay.station is not None:
                    begun_there.append((("station", stay.station), stay.since, None))
    found = dict(places)
    for name, begun in sorted(of_trays.items()):
        subject: Subject = ("tray", name)
        tray = places.get(subject) or Place(subject=subject)
        found[subject] = tray
        if not begun:
            continue
        own: list[Begun] = [(stay.where, stay.since, None) for stay in tray.stays]
        # Of one moment the tray's own word holds.
        found[subject] = replace(tray, stays=_of_places(stays([*begun, *own])))
    return found


def _of_places(with_repeats: tuple[Stay, ...]) -> tuple[Stay, ...]:
    """Stays at one station after another; what says again where a tray stands begins no new one."""
    begun: list[Begun] = []
    for stay in with_repeats:
        if not begun or begun[-1][0] != stay.where:
            begun.append((stay.where, stay.since, None))
    return stays(begun)
