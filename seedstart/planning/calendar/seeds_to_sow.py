"""How many seeds a sowing wants, from packet, tests and losses, and why so many."""

from datetime import date
from typing import Final

from msgspec import Struct, structs

from seedstart.crop_table.crop import Crop
from seedstart.growing.germination_belief import Belief
from seedstart.growing.sowing_rate import TooManySeedsError, chance_of_plants, seeds_for_plants
from seedstart.planning.calendar.crop_times import basis_in_words
from seedstart.planning.calendar.row import Few, Reason
from seedstart.planning.prospects.lot_germination import Expectation, expected_germination
from seedstart.planning.prospects.own_record import NOTHING_OWN, Losses, Own
from seedstart.season.plan.lot import Lot
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
        seeds: The smallest number that will do, or what the packet has for it; None where no number
            does, and where the packet is empty.
        plants: How many are wanted at setting out.
        asked: The chance that was asked for, 0 to 1.
        chance: The chance that is reached with `seeds`; None where none are given.
        germination: What the count rests on, before losses.
        reasons: First the sentence that says it all, then what was taken off or left out.
        warnings: What speaks against it: too few in the packet.
        few: Where the packet holds fewer than will do.
    """

    seeds: int | None
    plants: int
    asked: float
    chance: float | None
    germination: Belief
    reasons: tuple[Reason, ...]
    warnings: tuple[str, ...] = ()
    few: Few | None = None


def seeds_to_sow(
    lot: Lot,
    crop: Crop,
    station_share: float | None,
    today: date,
    *,
    chance: float = USUAL_CHANCE,
    own: Own = NOTHING_OWN,
    sowings: int = 1,
) -> SeedsAdvice | None:
    """How many seeds of a lot to sow for the plants wanted from each sowing.

    Counted is what is there at setting out: what comes up, less what is lost after it.

    Args:
        lot: The lot; its `want` says how many plants.
        crop: Its crop.
        station_share: Normal seedlings at the station over the crop's best, 0 to 1; None where it
            is not known.
        today: Tests after this day are not known yet, and seed ages up to it.
        chance: How often the sowing should give all of them, above 0 and below 1.
        own: What the records say: tests, trays and losses.
        sowings: How many are still to be made of what is in the packet, 1 at least.

    Returns:
        None where no number of plants is wanted, or nothing comes up at the station at all.
    """
    if lot.want is None or station_share == 0:
        return None
    tested = structs.replace(lot, tests=own.of.tests_of(lot))
    trays = own.of.trays
    expects = expected_germination(tested, crop, station_share, today, own.other_lots, trays)
    plants_a_seed = expects.belief.times(1 - own.losses.share)
    try:
        found = seeds_for_plants(lot.want, chance, plants_a_seed)
    except TooManySeedsError as error:
        text = f"No number of seeds can be given: {error} ({expects.rests_on})."
        return _advice(lot, chance, expects, (Reason("sow", text, expects.sources),))
    text = (
        f"{plural(found.seeds, 'seed')} for {plural(lot.want, 'plant')} {in_words(chance)}: "
        f"{expects.rests_on}."
    )
    told = (_lost(own.losses), *_told(crop))
    reasons = (Reason("sow", text, expects.sources), *expects.reasons, *told)
    left = None if lot.have is None else lot.have.seeds
    if left is None or left - own.of.sown >= found.seeds * sowings:
        return _advice(lot, chance, expects, reasons, (), found.seeds, found.chance)
    advice = _advice(lot, chance, expects, reasons)
    return _of_packet(advice, max(left - own.of.sown, 0), sowings, plants_a_seed, found.seeds)


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


def _of_packet(
    advice: SeedsAdvice, left: int, sowings: int, plants_a_seed: Belief, needed: int
) -> SeedsAdvice:
    """What is asked of a packet that does not hold enough: as much for each of its sowings."""
    each = min(left // sowings, needed)
    if not each:
        text = (
            "The packet is empty."
            if not left
            else f"The packet has {plural(left, 'seed')} for {sowings} sowings."
        )
        return structs.replace(advice, warnings=(text,))
    reached = chance_of_plants(each, advice.plants, plants_a_seed)
    few = Few(reached, advice.plants, all_there_are=sowings == 1)
    has = f"The packet has {plural(left, 'seed')}"
    text = (
        f"{has}: {few.in_words}."
        if sowings == 1
        else f"{has} for {sowings} sowings, which need {needed * sowings}: {each} each, "
        f"{few.in_words}."
    )
    return structs.replace(advice, seeds=each, chance=reached, few=few, warnings=(text,))


def in_words(chance: float) -> str:
    """A chance as it is said: `nine times in ten`, `with a chance of 93 %`."""
    return _IN_WORDS.get(chance) or f"with a chance of {100 * chance:.3g} %"


def _lost(losses: Losses) -> Reason:
    """What is counted off for seedlings that are lost after they are up."""
    percent = f"{100 * losses.share:.0f} %"
    if losses.speak:
        text = (
            f"{percent} of those that come up are allowed for losses: of {losses.came_up} in your "
            f"{losses.sowings} finished sowings {losses.lost} were lost before setting out."
        )
    else:
        text = (
            f"{percent} of those that come up are allowed for losses before setting out (common "
            "practice, no source)."
        )
    return Reason("sow", text)


def _told(crop: Crop) -> tuple[Reason, ...]:
    told = []
    several = crop.seedlings_per_seed
    if several is not None:
        text = (
            f"A seed of {crop.name} is a cluster that gives {several.low:g} to {several.high:g} "
            f"seedlings ({basis_in_words(several)}): each cluster that comes up counts as one "
            "plant, thinned or left as a clump. Pricked out singly, fewer would do."
        )
        told.append(Reason("sow", text, several.sources))
    return tuple(told)
