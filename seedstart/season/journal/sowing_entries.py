"""Entries about seed and sowings: from the soaking to the setting out."""

from typing import Annotated, Literal

from msgspec import Meta, Struct

from seedstart.season.journal.entry import (
    Amount,
    Count,
    Entry,
    Id,
    LiquidC,
    Name,
    OfSowing,
    Positive,
    Some,
    Subject,
    need_any,
    need_one,
)


class Treatment(Entry, frozen=True, kw_only=True):
    """Something done to seed before it is sown; a `taken_out` ends it.

    Attributes:
        hours: How long it is to last; or `days`.
        liquid: In what, where that is not water.
        c: At what temperature, °C.
    """

    lot: Name
    seeds: Some | None = None
    hours: Positive | None = None
    days: Positive | None = None
    liquid: str | None = None
    c: LiquidC | None = None

    def __post_init__(self) -> None:
        if self.hours is not None and self.days is not None:
            raise ValueError("one of hours, days")

    def subjects(self) -> tuple[Subject, ...]:
        """Its lot."""
        return (("lot", self.lot),)


class Soaked(Treatment, frozen=True, kw_only=True):
    """Seed laid in water."""


class Stratified(Treatment, frozen=True, kw_only=True):
    """Seed laid cold and damp."""


class Scarified(Treatment, frozen=True, kw_only=True):
    """Seed coats scratched, nicked or scalded."""


class TakenOut(Entry, frozen=True, kw_only=True):
    """The end of a treatment, named by the id of its entry."""

    entry: Id


class Sown(OfSowing, frozen=True, kw_only=True):
    """Seed of one lot sown together: the entry that makes a sowing.

    Attributes:
        seeds: Counted; or `about` so many, or `grams` of them.
        place: Where in the tray or on the station, in the grower's words.
        on: What the seed lies in or on.
        replicate: Which of several like sowings of a trial.
        instead_of: The sowing that this one replaces.
        onto: The sowing that this one tops up.
        after: Ids of the treatments that the seed had.
    """

    lot: Name
    seeds: Some | None = None
    about: Some | None = None
    grams: Positive | None = None
    station: Name | None = None
    tray: Name | None = None
    place: str | None = None
    cells: Some | None = None
    depth_mm: Amount | None = None
    medium: str | None = None
    on: Literal["medium", "paper", "sand", "agar"] = "medium"
    purpose: Literal["plants", "test", "trial"] = "plants"
    trial: Name | None = None
    replicate: Some | None = None
    instead_of: Name | None = None
    onto: Name | None = None
    after: tuple[Id, ...] = ()

    def __post_init__(self) -> None:
        need_one((self.seeds, self.about, self.grams), "seeds, about, grams")
        if self.onto == self.sowing:
            raise ValueError("onto another sowing")

    def subjects(self) -> tuple[Subject, ...]:
        """The sowing it makes, and the one it tops up: that one has no fair count any more."""
        made: Subject = ("sowing", self.sowing)
        return (made,) if self.onto is None else (made, ("sowing", self.onto))


class Counted(OfSowing, frozen=True, kw_only=True):
    """Seedlings of a sowing.

    Attributes:
        standing: All that stand at that moment, abnormal ones included; or
        new: Those that came since the last count, taken away as they were counted.
        cells: Cells that hold at least one.
        lost: Seedlings found dead at this count, and `why`.
        looked_at: A sample only: so many cells or seeds.
        final: The last count of this sowing.
        normal, abnormal, hard, fresh, dead: How the seeds of a test ended.
    """

    standing: Count | None = None
    new: Count | None = None
    cells: Count | None = None
    lost: Count | None = None
    why: str | None = None
    looked_at: Some | None = None
    final: bool = False
    normal: Count | None = None
    abnormal: Count | None = None
    hard: Count | None = None
    fresh: Count | None = None
    dead: Count | None = None

    def __post_init__(self) -> None:
        if (self.standing is None) == (self.new is None):
            raise ValueError("exactly one of standing, new")


class Dug(OfSowing, frozen=True, kw_only=True):
    """Seeds of a sowing dug up and looked at; none of them is in the medium any more.

    Attributes:
        sound: Firm ones, which might still have come up.
        soft: Rotten or empty ones.
        gone: Places where a seed was sown and none was found.
    """

    sound: Count = 0
    soft: Count = 0
    gone: Count = 0

    def __post_init__(self) -> None:
        if not self.seeds:
            raise ValueError("at least one of sound, soft, gone above 0")

    @property
    def seeds(self) -> int:
        """All of them."""
        return self.sound + self.soft + self.gone


class Leaving(OfSowing, frozen=True, kw_only=True):
    """Plants that left a sowing for good.

    Attributes:
        plants: How many left; or `left`, how many stand after it.
        to: Who got them.
    """

    plants: Some | None = None
    left: Count | None = None
    why: str | None = None
    to: str | None = None

    def __post_init__(self) -> None:
        need_one((self.plants, self.left), "plants, left")


class Lost(Leaving, frozen=True, kw_only=True):
    """Died, eaten, broken."""


class Thinned(Leaving, frozen=True, kw_only=True):
    """Cut or pulled to make room."""


class Given(Leaving, frozen=True, kw_only=True):
    """Given away."""


class Dividing(OfSowing, frozen=True, kw_only=True):
    """Plants of a sowing that become a new one, `into`; one entry a destination."""

    plants: Some
    into: Name
    station: Name | None = None
    tray: Name | None = None
    place: str | None = None
    container: Name | None = None
    cells: Some | None = None

    def __post_init__(self) -> None:
        if self.into == self.sowing:
            raise ValueError("into another sowing")

    def subjects(self) -> tuple[Subject, ...]:
        """Mother and daughter."""
        return (("sowing", self.sowing), ("sowing", self.into))


class PrickedOut(Dividing, frozen=True, kw_only=True):
    """Seedlings moved to their own cells."""


class Split(Dividing, frozen=True, kw_only=True):
    """A sowing parted as it stands."""


class PottedOn(OfSowing, frozen=True, kw_only=True):
    """Plants moved to a bigger container; takes nothing away."""

    container: Name | None = None
    station: Name | None = None
    tray: Name | None = None


class Plant(Struct, frozen=True, kw_only=True, gc=False, omit_defaults=True):
    """One measured plant: height, stem diameter at the base, true leaves, its label."""

    height_mm: Positive
    diameter_mm: Positive
    leaves: Count | None = None
    plant: int | str | None = None


class Measured(OfSowing, frozen=True, kw_only=True):
    """Plants of a sowing measured one by one."""

    plants: Annotated[tuple[Plant, ...], Meta(min_length=1)]


class SetOut(OfSowing, frozen=True, kw_only=True):
    """Planted in the final place: how many, or how many are left."""

    plants: Some | None = None
    left: Count | None = None

    def __post_init__(self) -> None:
        need_one((self.plants, self.left), "plants, left")


class Finished(OfSowing, frozen=True, kw_only=True):
    """The end of a sowing: what still stands was thrown away, not lost."""

    why: str | None = None


class Relabelled(OfSowing, frozen=True, kw_only=True):
    """Another name for a sowing, or the lot it is of after all; `sure` or a guess."""

    name: Name | None = None
    lot: Name | None = None
    sure: bool | None = None

    def __post_init__(self) -> None:
        need_any(self, "name", "lot", "sure")

    def subjects(self) -> tuple[Subject, ...]:
        """The sowing by the name it had, and by the one it gets: later lines call it so."""
        old: Subject = ("sowing", self.sowing)
        return (old,) if self.name in {None, self.sowing} else (old, ("sowing", self.name or ""))


class MixedUp(Entry, frozen=True, kw_only=True):
    """Sowings that nobody can tell apart any longer, and the one they are from now on."""

    sowings: Annotated[tuple[Name, ...], Meta(min_length=2)]
    into: Name

    def subjects(self) -> tuple[Subject, ...]:
        """All of them, each once."""
        return tuple(("sowing", name) for name in dict.fromkeys((*self.sowings, self.into)))


def makes(entry: Entry) -> str | None:
    """The name of the sowing that an entry makes, if it makes one."""
    if isinstance(entry, Sown):
        return entry.sowing
    return entry.into if isinstance(entry, Dividing | MixedUp) else None
