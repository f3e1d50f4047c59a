"""What each kind of entry means for a sowing, a tray or a station: the one table of it.

Whoever asks what was done asks by these words, never by the classes. A kind that stands not here
means nothing to any of the three: seed before it is sown, the weather, checks, strikes.
"""

from typing import Final, Literal, NamedTuple

from msgspec import Struct

from seedstart.season.journal.entries import (
    Adjusted,
    Counted,
    Covered,
    Dug,
    Entry,
    Fed,
    Finished,
    Given,
    Hardened,
    Held,
    Lost,
    Measured,
    MixedUp,
    Moved,
    Noted,
    PottedOn,
    PrickedOut,
    Read,
    Relabelled,
    SetOut,
    Sown,
    Split,
    Thinned,
    Uncovered,
    Watered,
    Weighed,
)

Made = Literal["sown", "pricked_out", "split", "mixed_up"]
# What was done with plants of a sowing.
Did = Literal[
    "lost", "thinned", "given", "set_out", "pricked_out", "split", "potted_on", "finished",
    "mixed_up",
]  # fmt: skip
Care = Literal[
    "covered", "watered", "fed", "weighed", "hardened", "held", "noted", "measured", "dug",
    "readings", "settings",
]  # fmt: skip
# How `sowings.Fold` takes it.
Fold = Literal[
    "counts", "care", "leaving", "dividing", "finished", "mixed", "sown_onto", "relabelled",
    "potted_on", "place",
]  # fmt: skip


class Meaning(NamedTuple):
    """What a kind of entry means.

    Attributes:
        fold: How it changes what is known of a sowing; None where it is not about one.
        did: What was done with its plants.
        care: Where the sowing, the tray or the station that it names keeps it.
        made: How the sowing came to be that it makes.
    """

    fold: Fold | None = None
    did: Did | None = None
    care: Care | None = None
    made: Made | None = None


_NONE: Final = Meaning()
MEANINGS: Final[dict[type[Entry], Meaning]] = {
    Sown: Meaning("sown_onto", made="sown"),
    PrickedOut: Meaning("dividing", "pricked_out", made="pricked_out"),
    Split: Meaning("dividing", "split", made="split"),
    MixedUp: Meaning("mixed", "mixed_up", made="mixed_up"),
    Relabelled: Meaning("relabelled"),
    Counted: Meaning("counts"),
    Lost: Meaning("leaving", "lost"),
    Thinned: Meaning("leaving", "thinned"),
    Given: Meaning("leaving", "given"),
    SetOut: Meaning("leaving", "set_out"),
    Finished: Meaning("finished", "finished"),
    PottedOn: Meaning("potted_on", "potted_on"),
    Moved: Meaning("place"),
    Covered: Meaning("care", care="covered"),
    Uncovered: Meaning("care", care="covered"),
    Watered: Meaning("care", care="watered"),
    Fed: Meaning("care", care="fed"),
    Weighed: Meaning("care", care="weighed"),
    Hardened: Meaning("care", care="hardened"),
    Held: Meaning("care", care="held"),
    Noted: Meaning("care", care="noted"),
    Measured: Meaning("care", care="measured"),
    Dug: Meaning("care", care="dug"),
    Read: Meaning(care="readings"),
    Adjusted: Meaning(care="settings"),
}


def meaning(entry: Entry) -> Meaning:
    """What an entry means for the sowings and places that it names."""
    return MEANINGS.get(type(entry), _NONE)


class Cared(Struct, frozen=True, kw_only=True):
    """What was done to a sowing, a tray or a station itself, each in order of (at, id)."""

    covered: tuple[Covered | Uncovered, ...] = ()
    watered: tuple[Watered, ...] = ()
    fed: tuple[Fed, ...] = ()
    weighed: tuple[Weighed, ...] = ()
    hardened: tuple[Hardened, ...] = ()
    held: tuple[Held, ...] = ()
    noted: tuple[Noted, ...] = ()


class CaredSowing(Cared, frozen=True, kw_only=True):
    """What was done to a sowing.

    Attributes:
        measured: Measurements of its plants.
        dug: What was found of seeds that were dug up: they come up no more.
    """

    measured: tuple[Measured, ...] = ()
    dug: tuple[Dug, ...] = ()


class CaredPlace(Cared, frozen=True, kw_only=True):
    """What was done to a tray or station.

    Attributes:
        readings: Readings by hand.
        settings: What was adjusted.
    """

    readings: tuple[Read, ...] = ()
    settings: tuple[Adjusted, ...] = ()
