"""What is believed of a lot's germination, and what that rests on: tests, packet, own lots, law."""

from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from typing import Final

from msgspec import Struct

from seedstart.crop_table.crop import Crop
from seedstart.days import short_day
from seedstart.growing.germination_belief import (
    EVEN,
    FEWEST_LOTS,
    Belief,
    anywhere_above,
    as_if_tested,
    belief_from_lots,
)
from seedstart.growing.sowing_rate import chance_of_plants
from seedstart.planning.calendar.crop_times import basis_in_words
from seedstart.planning.calendar.row import Reason
from seedstart.planning.prospects.own_record import OwnLots
from seedstart.season.plan.lot import Lot, LotTest
from seedstart.text import folded, joined, plural
from seedstart.tracking.figures import APART_P

# How many tested seeds a printed figure is worth: a packet's comes from a laboratory's hundreds,
# but of seed that has been about since; a label threshold is half as good. Common practice, no
# source.
PACKET_WORTH: Final = 50.0
THRESHOLD_WORTH: Final = 25.0
# A test of so many seeds or more stands alone; a smaller one is added to what is printed. Common
# practice, no source.
ENOUGH_TESTED: Final = 10
# Nearer to the best than this nothing is taken off: the table has whole percents.
_AS_GOOD_AS_BEST: Final = 0.99
# Where no figure of any kind is known: one seed in two, as after a test of so many seeds. Common
# practice, no source.
_NOTHING_KNOWN: Final = 0.5
_NOTHING_KNOWN_WORTH: Final = 25.0
# Nobody is surer than that of a share that no test has shown.
_SURELY: Final = 0.99
# So seldom would a lot like the grower's others test as this one did: then it is not like them.
# Common practice, no source.
_HARDLY: Final = 0.01
# Tests within a year of the last one are counted together; seed ages, so older ones are not.
_TOGETHER: Final = timedelta(days=365)


class Expectation(Struct, frozen=True):
    """How a lot is expected to come up.

    Attributes:
        belief: Share of seeds that come up at the station, and how sure.
        rests_on: The end of a sentence: `17 of 20 came up in your test of 10 Jan`.
        sources: Keys of the crop table's sources.
        reasons: What was taken off the figure, and why.
    """

    belief: Belief
    rests_on: str
    sources: tuple[str, ...] = ()
    reasons: tuple[Reason, ...] = ()


class _Known(Struct, frozen=True):
    """What is known without a test."""

    belief: Belief
    says: str
    sources: tuple[str, ...] = ()
    ages: bool = True


def expected_germination(
    lot: Lot,
    crop: Crop,
    station_share: float | None,
    today: date,
    own_lots: OwnLots = (),
    trays: Sequence[LotTest] = (),
) -> Expectation:
    """What share of a lot's seeds to expect, and how sure that is.

    Tests of the lot come first; then its own trays that are closed, never pooled with them; then
    the packet; then the grower's other lots, four at least; then the least that the law lets be
    sold. Seed past its life and a station's share of normal seedlings are taken off.

    Args:
        lot: The lot, with the tests that were recorded of it.
        crop: Its crop.
        station_share: Normal seedlings at the station over the crop's best, above 0 and up to 1;
            None where it is not known. Left out where every test was made at that station.
        today: Tests after this day are not known yet.
        own_lots: Of each other lot that had a fair chance, how many came up of how many.
        trays: The lot's own closed trays, in the form of tests.
    """
    tests, word = _current(lot.tests, today), "test"
    tested = sum(test.seeds for test in tests)
    grown = _current(trays, today)
    if tested < ENOUGH_TESTED <= sum(one.seeds for one in grown):
        tests, tested, word = grown, sum(one.seeds for one in grown), "tray"
    if tested >= ENOUGH_TESTED and _unlike(tests, own_lots):
        own_lots = ()
    known = _without_tests(lot, crop, own_lots, alone=tested >= ENOUGH_TESTED)
    belief = known.belief
    taken_off: list[Reason] = []
    if known.ages:
        belief, taken_off = _aged(belief, lot, crop, None, tests[-1].on if tests else today)
    if tests:
        belief, of_apart = _with_tests(belief, tests, word)
        taken_off += of_apart
        belief, since = _aged(belief, lot, crop, tests[-1].on, today)
        taken_off += since
    at_station = tests and all(_at_own_station(test, lot) for test in tests)
    if station_share is not None and station_share < _AS_GOOD_AS_BEST and not at_station:
        belief = belief.times(station_share)
        taken_off.append(_share_reason(crop, station_share))
    rests_on = joined([said for said in (_tests_say(tests, word, today), known.says) if said])
    return Expectation(belief, rests_on, known.sources, tuple(taken_off))


def _current(made: Iterable[LotTest], today: date) -> list[LotTest]:
    """Tests made by today, by day; those older than a year before the last are left out."""
    known = sorted((test for test in made if test.on <= today), key=lambda test: test.on)
    return [test for test in known if known[-1].on - test.on <= _TOGETHER]


def _with_tests(belief: Belief, tests: Sequence[LotTest], word: str) -> tuple[Belief, list[Reason]]:
    """The belief after tests or trays; those that lie apart count for fewer seeds."""
    counted = [(test.up, test.seeds) for test in tests]
    up, seeds = (sum(side) for side in zip(*counted, strict=True))
    if len(tests) < 2:
        return belief.updated(up, seeds), []
    # Few lots have two; a bare calendar does not pay for them.
    from seedstart.growing.germination.lot_tests import more_than_chance
    from seedstart.growing.germination.tray_spread import tray_spread

    if more_than_chance(counted) >= APART_P:
        return belief.updated(up, seeds), []
    spread = tray_spread([counted])
    worth = min(sum(spread.worth(of) for _, of in counted), float(seeds))
    share = spread.means[0]
    text = (
        f"Your {word}s differ more than chance would have it "
        f"({joined([f'{one} of {of}' for one, of in counted])}): their {seeds} seeds count as "
        f"{worth:.0f}. A test of 4 × 50 would tell."
    )
    apart = Belief(belief.a + share * worth, belief.b + (1 - share) * worth)
    return apart, [Reason("sow", text)]


def _unlike(tests: Sequence[LotTest], own_lots: OwnLots) -> bool:
    """Whether a lot's own tests lie where hardly a lot like the others would: these say nothing."""
    if len(own_lots) < FEWEST_LOTS:
        return False
    others = belief_from_lots(own_lots)
    up, seeds = sum(test.up for test in tests), sum(test.seeds for test in tests)
    as_good = chance_of_plants(seeds, up, others)
    as_bad = 1 - chance_of_plants(seeds, up + 1, others)
    return min(as_good, as_bad) < _HARDLY


def _at_own_station(test: LotTest, lot: Lot) -> bool:
    return lot.station is not None and folded(test.where) == folded(lot.station)


def _without_tests(lot: Lot, crop: Crop, own_lots: OwnLots, *, alone: bool) -> _Known:
    """What the tests are added to; where they stand alone, the grower's own lots or nothing."""
    if alone and len(own_lots) < FEWEST_LOTS:
        return _Known(EVEN, "", ages=False)
    if lot.germination_percent is not None and not alone:
        percent = lot.germination_percent
        text = (
            f"the packet says {percent:g} %, counted like a test of {PACKET_WORTH:g} seeds "
            "(common practice, no source)"
        )
        return _Known(as_if_tested(percent / 100, PACKET_WORTH), text)
    if len(own_lots) >= FEWEST_LOTS:
        belief = belief_from_lots(own_lots)
        text = f"your {len(own_lots)} other lots came up to {100 * belief.mean:.0f} % on average"
        return _Known(belief, text, ages=False)
    return _threshold(crop)


def _threshold(crop: Crop) -> _Known:
    least = crop.minimum_germination_percent
    if least is None:
        belief = as_if_tested(_NOTHING_KNOWN, _NOTHING_KNOWN_WORTH)
        return _Known(
            belief, "nothing is known, so half are assumed to come up (common practice, no source)"
        )
    text = (
        f"{least.best:g} % is a label threshold ({basis_in_words(least)}), not an expectation: any "
        "share from there to all is taken as equally likely (common practice, no source); a test "
        "would show"
    )
    return _Known(anywhere_above(min(least.best / 100, _SURELY)), text, least.sources)


def _tests_say(tests: list[LotTest], word: str, today: date) -> str:
    if not tests:
        return ""
    up, seeds = sum(test.up for test in tests), sum(test.seeds for test in tests)
    days = list(dict.fromkeys(_day(test.on, today) for test in tests))
    return f"{up} of {seeds} came up in your {word}{'s' * (len(days) > 1)} of {joined(days)}"


def _day(day: date, today: date) -> str:
    return short_day(day) if day.year == today.year else f"{short_day(day)} {day.year}"


def _aged(
    belief: Belief, lot: Lot, crop: Crop, known_on: date | None, today: date
) -> tuple[Belief, list[Reason]]:
    """A figure that was right on one day, after the seed aged; None for a packet's own day."""
    life = crop.seed_life_years
    born = lot.harvest_year or (known_on.year if known_on else None)
    if lot.harvested == "unknown" and known_on is None:
        text = (
            "Nobody knows when it was harvested: the figure counts half as much (common practice, "
            "no source)."
        )
        return belief.weakened(), [Reason("sow", text)]
    if life is None or born is None:
        return belief, []
    past = max(0.0, today.year - born - life.best)
    before = max(0.0, known_on.year - born - life.best) if known_on else 0.0
    years = past - before
    if years <= 0:
        return belief, []
    aged = belief.aged(years)
    since = f", {plural(years, 'year')} of it since your test" if known_on and before else ""
    text = (
        f"It is {plural(past, 'year')} past its seed life of {plural(life.best, 'year')} "
        f"({basis_in_words(life)}){since}: {100 * aged.mean:.0f} % is used instead of "
        f"{100 * belief.mean:.0f} %, and less surely (common practice, no source). Test it."
    )
    return aged, [Reason("sow", text, life.sources)]


def _share_reason(crop: Crop, share: float) -> Reason:
    text = (
        f"At this temperature expect {100 * share:.0f} % of the normal seedlings the crop gives at "
        "its best; the number of seeds allows for that."
    )
    return Reason("sow", text, crop.emergence.sources if crop.emergence else ())
