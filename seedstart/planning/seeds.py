"""How many seeds of a lot to sow for the plants that are wanted, and why so many."""

from datetime import date
from typing import Final

from msgspec import Struct

from seedstart.crop_table.crop import Crop
from seedstart.growing.germination_belief import Belief
from seedstart.growing.sowing_rate import TooManySeedsError, chance_of_plants, seeds_for_plants
from seedstart.planning.crop_times import basis_in_words
from seedstart.planning.lot_germination import Expectation, OwnLots, expected_germination
from seedstart.planning.row import Reason
from seedstart.season.lot import Lot
from seedstart.text import plural

# How often a sowing should give all the plants wanted. Common practice, no source.
USUAL_CHANCE: Final = 0.9
_IN_WORDS: Final = {
    0.5: "every other time",
    0.8: "four times in five",
    0.9: "nine times in ten",
    0.95: "19 times in 20",
    0.99: "99 times in 100",
}


class SeedsAdvice(Struct, frozen=True, kw_only=True):
    """How many seeds to sow, for each sowing of a lot.

    Attributes:
        seeds: The smallest number that will do; None where no number does.
        plants: How many are wanted.
        asked: The chance that was asked for, 0 to 1.
        chance: The chance that is reached with `seeds`; None where no number does.
        germination: What the count rests on.
        reasons: First the sentence that says it all, then what was taken off or left out.
        warnings: What speaks against it: too few in the packet.
    """

    seeds: int | None
    plants: int
    asked: float
    chance: float | None
    germination: Belief
    reasons: tuple[Reason, ...]
    warnings: tuple[str, ...] = ()


def seeds_to_sow(
    lot: Lot,
    crop: Crop,
    station_share: float | None,
    today: date,
    *,
    chance: float = USUAL_CHANCE,
    own_lots: OwnLots = (),
) -> SeedsAdvice | None:
    """How many seeds of a lot to sow for the plants wanted from each sowing.

    Counted is what comes up. Losses after that are not counted in: no source gives a figure.

    Args:
        lot: The lot; its `want` says how many plants.
        crop: Its crop.
        station_share: Normal seedlings at the station over the crop's best, 0 to 1; None where it
            is not known.
        today: Tests after this day are not known yet, and seed ages up to it.
        chance: How often the sowing should give all of them, above 0 and below 1.
        own_lots: Of each past lot that had a fair chance, how many came up of how many.

    Returns:
        None where no number of plants is wanted, or nothing comes up at the station at all.
    """
    if lot.want is None or station_share == 0:
        return None
    expects = expected_germination(lot, crop, station_share, today, own_lots)
    try:
        found = seeds_for_plants(lot.want, chance, expects.belief)
    except TooManySeedsError as error:
        text = f"No number of seeds is given: {error} ({expects.rests_on})."
        return _advice(lot, chance, expects, (Reason("sow", text, expects.sources),))
    text = (
        f"{plural(found.seeds, 'seed')} for {plural(lot.want, 'plant')} {in_words(chance)}: "
        f"{expects.rests_on}."
    )
    reasons = (Reason("sow", text, expects.sources), *expects.reasons, *_told(crop))
    warnings = _too_few(lot, found.seeds, expects.belief)
    return _advice(lot, chance, expects, reasons, warnings, found.seeds, found.chance)


def _advice(
    lot: Lot,
    asked: float,
    expects: Expectation,
    reasons: tuple[Reason, ...],
    warnings: tuple[str, ...] = (),
    seeds: int | None = None,
    chance: float | None = None,
) -> SeedsAdvice:
    return SeedsAdvice(
        seeds=seeds,
        plants=lot.want or 0,
        asked=asked,
        chance=chance,
        germination=expects.belief,
        reasons=reasons,
        warnings=warnings,
    )


def in_words(chance: float) -> str:
    """A chance as it is said: `nine times in ten`, `with a chance of 93 %`."""
    return _IN_WORDS.get(chance) or f"with a chance of {100 * chance:.3g} %"


def _told(crop: Crop) -> tuple[Reason, ...]:
    told = [Reason("sow", "Losses after they are up are not counted in: no source says how many.")]
    several = crop.seedlings_per_seed
    if several is not None:
        text = (
            f"A seed of {crop.name} is a cluster that gives {several.low:g} to {several.high:g} "
            f"seedlings ({basis_in_words(several)}): each cluster that comes up counts as one "
            "plant, thinned or left as a clump. Pricked apart, fewer would do."
        )
        told.append(Reason("sow", text, several.sources))
    return tuple(told)


def _too_few(lot: Lot, seeds: int, belief: Belief) -> tuple[str, ...]:
    """Where the packet as it was at the season's beginning does not hold enough."""
    held = lot.have.seeds if lot.have else None
    sowings = max(lot.sowings, len(lot.sow), 1)
    if held is None or lot.want is None or held >= seeds * sowings:
        return ()
    if sowings > 1:
        return (f"{sowings} sowings need {seeds * sowings} seeds; the packet held {held}.",)
    reached = chance_of_plants(held, lot.want, belief)
    shown = f"{100 * reached:.0f} %" if reached >= 0.01 else "under 1 %"
    return (f"The packet held {held}: {plural(lot.want, 'plant')} of it with a chance of {shown}.",)
