from datetime import date
from typing import Any

import pytest
from msgspec import structs

from seedstart.growing.germination_belief import (
    EVEN,
    anywhere_above,
    as_if_tested,
)
from seedstart.growing.sowing_rate import seeds_for_plants
from seedstart.planning.calendar.seeds_to_sow import SeedsAdvice, in_words, seeds_to_sow
from seedstart.planning.prospects.lot_germination import expected_germination
from seedstart.planning.prospects.own_record import Losses, OfLot, Own
from seedstart.season.plan.lot import Lot, LotTest, SeedAmount
from shipped import crop
from tables import rows

TODAY = date(2027, 2, 1)
TEST = LotTest(date(2027, 1, 10), 20, 17, "paper")
# seed_count_decision_cases.csv: plants wanted with a chance after a test, even start.
TESTED = [
    row
    for row in rows("seed_count_decision_cases.csv")
    if row["prior_a"] == "1" and row["want_plants"]
]
(AFTER_TEST,) = (
    int(row["answer"])
    for row in TESTED
    if (row["want_plants"], row["want_probability"], row["germ_test_y"], row["germ_test_n"])
    == ("12", "0.9", "17", "20")
)
# Made-up lots of empirical_bayes_cases.csv, with the belief that the table computes of them.
(OF_LOTS,) = (
    row
    for row in rows("empirical_bayes_cases.csv")
    if row["history"] == "grower_made_up_six_lots" and (row["new_y"], row["new_n"]) == ("18", "20")
)
OWN_LOTS = tuple(
    (int(up), int(of))
    for up, of in zip(OF_LOTS["lots_y"].split(), OF_LOTS["lots_n"].split(), strict=True)
)
# A packet as good as the handbook's pepper at its best.
PACKET = max(
    float(row["percent"])
    for row in rows("normal_seedlings_percent.csv")
    if row["crop"] == "Pepper" and row["percent"].isdigit()
)
NO_LOSS = Own(losses=Losses(sowings=4, came_up=10_000, lost=0))


def lot(crop_name: str = "pepper", **keys: Any) -> Lot:
    return structs.replace(Lot(name="a lot", crop=crop_name, want=12), **keys)


def advice(one: Lot, share: float | None = None, **keys: Any) -> SeedsAdvice:
    found = seeds_to_sow(one, crop(one.crop), share, TODAY, **keys)
    assert found is not None
    return found


def told(found: SeedsAdvice) -> str:
    return " ".join(reason.text for reason in found.reasons)


@pytest.mark.parametrize("row", TESTED, ids=lambda row: row["answer"])
def test_a_test_of_the_lot_decides(row: dict[str, str]) -> None:
    tested = LotTest(date(2027, 1, 10), int(row["germ_test_n"]), int(row["germ_test_y"]))
    one = lot(want=int(row["want_plants"]), tests=(tested,))
    found = advice(one, chance=float(row["want_probability"]), own=NO_LOSS)
    assert found.seeds == int(row["answer"])
    assert found.chance == pytest.approx(float(row["achieved"]), abs=1e-8)
    assert found.reasons[0].text == (
        f"{found.seeds} seeds for {one.want} plants {in_words(float(row['want_probability']))}: "
        f"{tested.up} of {tested.seeds} came up in your test of 10 Jan."
    )


TRAYS = (LotTest(date(2027, 1, 20), 160, 17, "mat"), LotTest(date(2027, 1, 22), 40, 5, "mat"))


@pytest.mark.parametrize(
    ("keys", "share", "of"),
    [
        ({"germination_percent": 99.0}, None, OfLot()),
        ({"tests": (TEST, LotTest(date(2027, 2, 2), 20, 1))}, None, OfLot()),  # of a later day
        ({"tests": (structs.replace(TEST, where="Mat"),), "station": "mat"}, 0.7, OfLot()),
        ({}, 1.0, OfLot()),
        ({}, None, OfLot(tests=(structs.replace(TEST, where="heat mat"),))),  # in the journal too
        ({}, None, OfLot(trays=TRAYS)),
        ({"have": SeedAmount(seeds=18)}, None, OfLot()),
        ({"have": SeedAmount(grams=0.1)}, None, OfLot()),
    ],
    ids=["packet", "later", "station", "warm", "both", "trays", "enough", "weighed"],
)
def test_beside_its_test_nothing_else_counts(
    keys: dict[str, Any], share: float | None, of: OfLot
) -> None:
    found = advice(lot(**{"tests": (TEST,), **keys}), share, own=structs.replace(NO_LOSS, of=of))
    assert (found.seeds, found.few, found.warnings) == (AFTER_TEST, None, ())
    assert "packet" not in told(found)


def test_without_own_losses_one_in_ten_of_those_that_come_up_is_counted_off() -> None:
    # scipy.stats.betabinom.sf(11, [20, 21], 16.2, 5.8) = 0.8789, 0.9130: Beta(18, 4), its mean
    # times 0.9.
    found = advice(lot(tests=(TEST,)))
    assert (found.seeds, found.germination) == (21, EVEN.updated(17, 20))
    assert "10 % of those that come up are allowed for losses" in told(found)
    assert "common practice, no source" in told(found)
    few = Own(losses=Losses(3, 60, 59))  # of three sowings: too few to speak
    assert "10 % of those" in told(advice(lot(), own=few))


def test_own_losses_stand_in_the_place_of_the_usual_ones() -> None:
    found = advice(lot(tests=(TEST,)), own=Own(losses=Losses(5, 98, 29)))
    assert found.seeds == seeds_for_plants(12, 0.9, EVEN.updated(17, 20).times(0.7)).seeds
    assert (
        "30 % of those that come up are allowed "
        "for losses: of 98 in your 5 finished sowings 29 were lost" in told(found)
    )


def test_a_small_test_is_added_to_the_packet() -> None:
    small = LotTest(date(2027, 1, 10), 3, 3)
    found = advice(lot(tests=(small,), germination_percent=PACKET))
    assert found.germination == as_if_tested(PACKET / 100, 50).updated(3, 3)
    said = f"3 of 3 came up in your test of 10 Jan and the packet says {PACKET:g} %"
    assert said in told(found)


def test_a_packet_counts_like_a_test_of_fifty_and_says_that_this_is_common_practice() -> None:
    from scipy import stats

    found = advice(lot(germination_percent=PACKET), own=NO_LOSS)
    share = PACKET / 100
    fewer, enough = (
        float(stats.betabinom.sf(11, of, 1 + 50 * share, 51 - 50 * share)) for of in (13, 14)
    )
    assert found.seeds == 14
    assert fewer < 0.9 <= enough
    assert f"the packet says {PACKET:g} %" in found.reasons[0].text
    assert "common practice, no source" in found.reasons[0].text


def test_without_test_and_packet_the_label_threshold_is_taken_and_called_one() -> None:
    # 7 CFR 201.31 (59 FR 64491, 1994): pepper 55 % (minimum_germination_standards.csv).
    found = advice(lot())
    assert found.germination == anywhere_above(0.55)
    # scipy.stats.betabinom.sf(11, [24, 25], 6.51, 2.8233) = 0.8872, 0.9055
    assert found.seeds == 25
    assert "55 % is a label threshold (1 source), not an expectation" in found.reasons[0].text
    assert found.reasons[0].sources == ("us-7-cfr-201-31",)


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("coleus", "(from memory)"),
        ("gourd", "nothing is known, so half are assumed to come up (common practice, no source)"),
    ],
)
def test_a_threshold_that_is_remembered_or_guessed_is_marked(name: str, said: str) -> None:
    assert said in advice(lot(name)).reasons[0].text


def lots_of_the_handbook() -> dict[str, tuple[float, float]]:
    """By kind, its lot's best share in the handbook's table, and the least that may be sold."""
    named = {"bean, snap": "bean, garden", "muskmelon": "melon"}
    federal = {
        row["kind"].casefold(): float(row["minimum_percent"]) / 100
        for row in rows("minimum_germination_standards.csv")
        if "Federal" in row["rule"]
    }
    best: dict[str, float] = {}
    for row in rows("normal_seedlings_percent.csv"):
        kind = row["crop"].casefold()
        if row["percent"].replace(".", "").isdigit():
            best[kind] = max(best.get(kind, 0.0), float(row["percent"]) / 100)
    return {kind: (share, federal[named.get(kind, kind)]) for kind, share in best.items()}


def test_of_what_is_sold_by_the_label_alone_the_handbooks_lots_are_as_good_as_is_believed() -> None:
    # Harrington's percentages, one lot of each of 24 vegetables, beside 7 CFR 201.31.
    lots = lots_of_the_handbook()
    assert len(lots) == 24
    from scipy import stats

    ranks = [float(stats.beta.cdf(share, *anywhere_above(least))) for share, least in lots.values()]
    # Nine in ten lie above what is believed of the worst tenth.
    assert sum(rank >= 0.1 for rank in ranks) >= 0.9 * len(ranks)
    assert sum(ranks) / len(ranks) > 0.5  # on the mean they are better: the count errs to the safe


def test_own_lots_come_before_the_threshold_and_after_the_packet() -> None:
    own = Own(other_lots=OWN_LOTS)
    found = advice(lot(), own=own)
    assert found.germination.mean == pytest.approx(float(OF_LOTS["prior_mean"]), abs=2e-6)
    assert "your 6 other lots came up to 84 % on average" in told(found)
    packet = advice(lot(germination_percent=PACKET), own=own)
    assert packet.germination == as_if_tested(PACKET / 100, 50)
    assert "threshold" in told(advice(lot(), own=Own(other_lots=OWN_LOTS[:3])))  # too few


def test_own_lots_of_old_seed_are_not_aged_again() -> None:
    # They came up as old as they were: onion seed of 2023 is past its one year.
    old = advice(lot("onion", harvested="2023"), own=Own(other_lots=OWN_LOTS))
    assert old.germination.mean == pytest.approx(float(OF_LOTS["prior_mean"]), abs=2e-6)
    assert "seed life" not in told(old)


def test_a_test_is_added_to_own_lots() -> None:
    tested = LotTest(date(2027, 1, 10), int(OF_LOTS["new_n"]), int(OF_LOTS["new_y"]))
    found = advice(lot(tests=(tested,)), own=Own(other_lots=OWN_LOTS))
    assert found.germination.mean == pytest.approx(float(OF_LOTS["shrunk_estimate"]), abs=2e-6)
    assert "18 of 20 came up in your test of 10 Jan and your 6 other lots" in told(found)


def test_tests_of_one_winter_are_pooled_and_older_ones_left_out() -> None:
    second = LotTest(date(2027, 1, 24), 25, 20)
    old = LotTest(date(2024, 1, 10), 20, 20)
    found = advice(lot(tests=(old, second, TEST)))
    assert found.germination == EVEN.updated(37, 45)
    assert "37 of 45 came up in your tests of 10 Jan and 24 Jan." in told(found)
    other_year = advice(lot(tests=(LotTest(date(2026, 12, 10), 20, 17),)))
    assert "your test of 10 Dec 2026." in other_year.reasons[0].text


def test_seed_past_its_life_is_lowered_and_the_source_of_its_life_named() -> None:
    # Pepper: 2 years in Knott's handbook 1997.
    young, old = (
        advice(lot(germination_percent=85.0, harvested=year)) for year in ("2025", "2024")
    )
    assert young == advice(lot(germination_percent=85.0))
    assert young.seeds is not None
    assert old.seeds is not None
    assert old.seeds > young.seeds
    assert old.germination.mean == pytest.approx(young.germination.mean * 0.8)
    aged = next(reason for reason in old.reasons if "past its seed life" in reason.text)
    assert "1 year past its seed life of 2 years" in aged.text
    assert "common practice, no source" in aged.text
    assert aged.sources == ("knott-1997",)


def test_seed_whose_life_nobody_prints_is_not_aged() -> None:
    one = lot(harvested="2015", germination_percent=PACKET)
    unknown = structs.replace(crop("pepper"), seed_life_years=None)
    found = expected_germination(one, unknown, None, TODAY)
    assert found.belief == as_if_tested(PACKET / 100, 50)
    assert found.reasons == ()


def test_of_a_range_of_harvests_the_oldest_counts_and_an_unknown_one_makes_less_sure() -> None:
    known, ranged, old, unknown = (
        advice(lot(germination_percent=85.0, **harvested))
        for harvested in (
            {}, {"harvested": "2024-2026"}, {"harvested": "2024"}, {"harvested": "unknown"}
        )
    )  # fmt: skip
    # Pepper: 2 years (Maynard & Hochmuth, Knott's Handbook 1997, in sowing_notes.csv).
    assert ranged == old != known
    assert unknown.germination.mean == pytest.approx(known.germination.mean)
    assert unknown.germination.strength < known.germination.strength


def test_only_the_years_since_a_test_are_taken_off_it() -> None:
    # Onion: 1 year (Maynard & Hochmuth, Knott's Handbook 1997, in sowing_notes.csv). Harvested
    # 2023, tested past its life in 2026, sown in 2027: one year more.
    tested = LotTest(date(2026, 3, 1), 20, 17)
    found = advice(lot("onion", harvested="2023", tests=(tested,)))
    assert found.germination.mean == pytest.approx(EVEN.updated(17, 20).mean * 0.8)
    fresh = LotTest(date(2027, 1, 10), 20, 17)
    again = advice(lot("onion", harvested="2023", tests=(fresh,)))
    assert again.germination == EVEN.updated(17, 20)


def test_a_packet_is_aged_once_though_a_small_test_lies_between() -> None:
    # Onion: 1 year (Maynard & Hochmuth, Knott's Handbook 1997, in sowing_notes.csv).
    small = LotTest(date(2026, 3, 1), 3, 3)
    one = lot("onion", harvested="2024", germination_percent=80.0, tests=(small,))
    # Past its life by 1 year at the test and by 2 today.
    by_hand = as_if_tested(0.8, 50).aged(1).updated(3, 3).aged(1)
    assert advice(one).germination == by_hand


def test_a_cold_station_asks_for_more_seeds() -> None:
    found = advice(lot(tests=(TEST,)), 0.7, own=NO_LOSS)
    assert found.germination.mean == pytest.approx(0.7 * EVEN.updated(17, 20).mean)
    assert found.seeds == seeds_for_plants(12, 0.9, found.germination).seeds > AFTER_TEST
    assert "expect 70 % of the normal seedlings" in told(found)


def test_a_cluster_counts_as_one_plant_and_says_so() -> None:
    found = advice(lot("beet", tests=(TEST,)), own=NO_LOSS)
    assert found.seeds == AFTER_TEST
    assert "a cluster that gives 2 to 4 seedlings (common practice, no source)" in told(found)


def test_no_more_is_asked_than_the_packet_has_and_its_chance_is_said() -> None:
    # scipy.stats.betabinom.sf(11, 15, 18, 4) = 0.694
    from scipy import stats

    chance = float(stats.betabinom.sf(11, 15, 18, 4))
    found = advice(lot(tests=(TEST,), have=SeedAmount(seeds=15)), own=NO_LOSS)
    assert found.seeds == 15
    assert found.chance == pytest.approx(chance)
    said = f"{100 * chance:.0f} % chance of 12 plants to set out"
    assert found.few is not None
    assert (found.few.in_words, found.few.all_there_are) == (said, True)
    assert found.warnings == (f"The packet has 15 seeds: {said}.",)
    assert f"{AFTER_TEST} seeds for 12 plants nine times in ten" in told(found)


def test_sowings_in_succession_share_the_packet() -> None:
    own = structs.replace(NO_LOSS, of=OfLot(sown=5))
    found = advice(lot(tests=(TEST,), have=SeedAmount(seeds=50)), own=own, sowings=3)
    assert found.seeds == 15  # 45 are left
    assert found.few is not None
    assert not found.few.all_there_are
    assert found.warnings[0].startswith(
        f"The packet has 45 seeds for 3 sowings, which need {3 * AFTER_TEST}: 15 each, 69 % chance"
    )


def test_of_an_empty_packet_nothing_is_asked() -> None:
    found = advice(lot(have=SeedAmount(seeds=20)), own=Own(of=OfLot(sown=24)))
    assert (found.seeds, found.chance, found.warnings) == (None, None, ("The packet is empty.",))


def test_own_trays_speak_before_the_packet() -> None:
    found = advice(lot(germination_percent=PACKET), own=Own(of=OfLot(trays=TRAYS)))
    assert found.germination == EVEN.updated(22, 200)
    assert "22 of 200 came up in your trays of 20 Jan and 22 Jan." in told(found)


def test_no_plants_wanted_or_nothing_coming_up_gives_no_advice() -> None:
    assert seeds_to_sow(lot(want=None), crop("pepper"), None, TODAY) is None
    assert seeds_to_sow(lot(), crop("pepper"), 0.0, TODAY) is None


def test_a_wish_that_no_number_of_seeds_fulfils_says_so() -> None:
    found = advice(lot(want=900_000))
    assert (found.seeds, found.chance) == (None, None)
    assert "more than 1000000 seeds would be needed" in found.reasons[0].text


@pytest.mark.parametrize("percent", [0.0, 100.0])
def test_a_packet_of_nothing_or_all_is_never_certain(percent: float) -> None:
    found = expected_germination(lot(germination_percent=percent), crop("pepper"), None, TODAY)
    assert 0 < found.belief.mean < 1


@pytest.mark.parametrize(
    ("chance", "said"),
    [(0.5, "every other time"), (0.8, "four times in five"), (0.99, "99 times in 100")],
)
def test_a_chance_is_said_in_words(chance: float, said: str) -> None:
    assert f" plants {said}:" in advice(lot(tests=(TEST,)), chance=chance).reasons[0].text
    assert in_words(chance) == said
    assert in_words(0.93) == "with a chance of 93 %"
