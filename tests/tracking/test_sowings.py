"""What is known of one sowing. The cases are docs/tracking.md's."""

from typing import Any

import pytest

from notebook import Notebook, moment
from seedstart.season.journal.entries import (
    Counted,
    Dug,
    Entry,
    Finished,
    Given,
    Lost,
    Measured,
    MixedUp,
    Noted,
    Plant,
    PottedOn,
    PrickedOut,
    Relabelled,
    SetOut,
    Sown,
    Split,
    Thinned,
    Watered,
)
from seedstart.tracking.sowings import fold_sowing
from seedstart.tracking.standing import Closing


def sown(seeds: int | None = 24, at: str = "3-01", **fields: Any) -> Notebook:
    book = Notebook()
    book.write(Sown, at, sowing="leek", lot="leek", **({"seeds": seeds} | fields))
    return book


def test_plants_pricked_out_given_away_or_thrown_are_no_losses() -> None:
    book = sown(24)
    book.write(Counted, "3-12", sowing="leek", standing=20)
    book.write(PrickedOut, "3-20", sowing="leek", plants=12, into="leek.1", tray="blue")
    book.write(Finished, "3-20 08:05", sowing="leek", why="the rest thrown")
    book.write(PottedOn, "4-10", sowing="leek.1", container="9 cm pot")
    book.write(SetOut, "5-15", sowing="leek.1", plants=6)
    book.write(Given, "5-16", sowing="leek.1", plants=6, to="the neighbour")
    mother, daughter = book.standing("leek"), book.standing("leek.1")
    assert (mother.emerged, mother.seeds, mother.lost, mother.standing) == (20, 24, 0, 0)
    assert mother.left == {"pricked_out": 12, "finished": 8}
    assert (daughter.plants, daughter.standing, daughter.lost) == (12, 0, 0)
    assert daughter.left == {"given": 6, "set_out": 6}
    assert daughter.container == "9 cm pot"
    assert daughter.emerged == 0, "a daughter counts plants, never germination"
    assert daughter.closed is not None
    assert daughter.closed.why == "all gone"
    assert not mother.alive
    assert not daughter.alive


def test_a_count_of_monday_entered_on_wednesday_invents_no_death() -> None:
    book = sown(24)
    book.write(Counted, "3-10", sowing="leek", standing=15)  # Wednesday
    book.write(Counted, "3-08", sowing="leek", standing=8)  # of Monday, written after it
    leek = book.standing("leek")
    assert (leek.standing, leek.emerged, leek.inferred, leek.lost) == (15, 15, 0, 0)
    assert [count.entry.standing for count in leek.counts] == [8, 15]


def test_two_writers_counts_of_one_morning_are_a_disagreement_and_no_death() -> None:
    book = sown(24)
    book.write(Counted, "3-08 08:00", "bench", sowing="leek", standing=18)
    book.write(Counted, "3-08 08:20", "phone", sowing="leek", standing=17)
    leek = book.standing("leek")
    assert (leek.standing, leek.emerged, leek.inferred) == (17, 18, 0)
    (found,) = leek.disagreements
    assert (found.earlier.by, found.later.by, found.may_be_growth) == ("bench", "phone", False)
    book.write(Counted, "3-09", "bench", sowing="leek", standing=17)
    assert book.standing("leek").inferred == 0


def test_two_writers_who_see_the_same_do_not_disagree() -> None:
    book = sown(24)
    book.write(Counted, "3-08 08:00", "bench", sowing="leek", standing=18)
    book.write(Counted, "3-08 08:20", "phone", sowing="leek", standing=18)
    assert book.standing("leek").disagreements == ()


def test_a_last_count_after_plants_left_agrees_with_the_same_count_of_another() -> None:
    book = sown(24)
    book.write(Counted, "3-07", sowing="leek", standing=20)
    book.write(Given, "3-07 09:00", sowing="leek", plants=5, to="Ann")
    book.write(Counted, "3-08 08:00", "bench", sowing="leek", standing=15)
    book.write(Counted, "3-08 08:20", "phone", sowing="leek", standing=15, final=True)
    leek = book.standing("leek")
    assert [count.seen for count in leek.counts] == [20, 20, 20]
    assert leek.disagreements == ()


def test_since_plants_last_left_only_the_counts_after_the_last_of_them_are_looked_at() -> None:
    book = sown(60)
    book.write(Counted, "3-08", sowing="leek", standing=40)
    book.write(Given, "3-09", sowing="leek", plants=5, to="Ann")
    book.write(Counted, "3-10", sowing="leek", standing=34)
    book.write(Given, "3-11", sowing="leek", plants=4, to="Ben")
    book.write(Counted, "3-12", sowing="leek", standing=30)
    book.write(Counted, "3-13", sowing="leek", standing=29)
    stood = [entry.standing for entry in book.standing("leek").counted_since_left]
    assert stood == [29, 30]


def test_one_writer_who_counts_again_on_the_same_day_disagrees_with_nobody() -> None:
    book = sown(24)
    book.write(Counted, "3-08 08:00", sowing="leek", standing=18)
    book.write(Counted, "3-08 18:00", sowing="leek", standing=17)
    leek = book.standing("leek")
    assert (leek.standing, leek.emerged, leek.inferred, leek.disagreements) == (17, 18, 0, ())


def test_more_by_the_evening_may_be_growth() -> None:
    book = sown(24)
    book.write(Counted, "3-08 08:00", "bench", sowing="leek", standing=8)
    book.write(Counted, "3-08 19:00", "phone", sowing="leek", standing=11)
    (found,) = book.standing("leek").disagreements
    assert found.may_be_growth


def test_fewer_on_a_later_day_are_inferred_lost_until_somebody_says_so() -> None:
    book = sown(24)
    book.write(Counted, "3-08", sowing="leek", standing=20)
    book.write(Counted, "3-09", sowing="leek", standing=17)
    leek = book.standing("leek")
    assert (leek.standing, leek.emerged, leek.inferred, leek.lost) == (17, 20, 3, 3)
    assert leek.left == {}
    assert [count.inferred for count in leek.counts] == [0, 3]
    book.write(Lost, "3-11", sowing="leek", plants=3, why="slugs")
    leek = book.standing("leek")
    assert (leek.standing, leek.emerged, leek.inferred, leek.lost) == (17, 20, 0, 3)
    assert leek.left == {"lost": 3}


def test_a_loss_that_explains_more_than_is_missing_takes_the_rest_from_what_stands() -> None:
    book = sown(24)
    book.write(Counted, "3-08", sowing="leek", standing=20)
    book.write(Counted, "3-09", sowing="leek", standing=17)
    book.write(Lost, "3-11", sowing="leek", plants=5)
    leek = book.standing("leek")
    assert (leek.standing, leek.emerged, leek.inferred, leek.left) == (15, 20, 0, {"lost": 5})


def test_losses_said_beside_a_count_are_counted_once_on_the_same_day_too() -> None:
    book = sown(24)
    book.write(Counted, "3-08 08:00", sowing="leek", standing=20)
    book.write(Counted, "3-08 18:00", sowing="leek", standing=17)
    book.write(Lost, "3-08 18:00", sowing="leek", plants=3)  # one act with the count
    leek = book.standing("leek")
    assert (leek.standing, leek.emerged, leek.left) == (17, 20, {"lost": 3})


def test_seedlings_found_dead_at_a_count_had_emerged() -> None:
    book = sown(24)
    book.write(Counted, "3-12", sowing="leek", standing=18, lost=2, why="damping off")
    leek = book.standing("leek")
    assert (leek.standing, leek.emerged, leek.lost, leek.inferred) == (18, 20, 2, 0)


def test_what_was_missing_and_stands_again_was_not_dead() -> None:
    book = sown(24)
    for day, standing in (("3-08", 20), ("3-09", 17), ("3-10", 20)):
        book.write(Counted, day, sowing="leek", standing=standing)
    leek = book.standing("leek")
    assert (leek.emerged, leek.inferred, leek.lost) == (20, 0, 0)


def test_a_struck_count_was_never_there() -> None:
    book = sown(24)
    wrong = book.write(Counted, "3-08", sowing="leek", standing=20)
    book.write(Counted, "3-09", sowing="leek", standing=17)
    strike = book.strike(wrong)
    assert book.standing("leek").emerged == 17
    assert book.standing("leek").inferred == 0
    book.strike(strike)
    assert book.standing("leek").emerged == 20


def test_sixty_pricked_out_into_four_trays_add_up_and_leave_germination_alone() -> None:
    book = sown(80)
    book.write(Counted, "3-12", sowing="leek", standing=66)
    before = book.standing("leek").emerged
    for number, (plants, station) in enumerate(
        ((20, "mat"), (20, "shelf"), (10, "sill"), (10, "sill"))
    ):
        book.write(
            PrickedOut,
            "3-20",
            sowing="leek",
            plants=plants,
            into=f"leek.{number + 1}",
            tray=f"tray {number + 1}",
            station=station,
        )
    happened = book.records()
    leek = happened.by_name_in_line("leek")
    assert leek is not None
    daughters = happened.daughters(leek.id)
    assert sum(one.plants for one in daughters) == leek.left["pricked_out"] == 60
    assert (leek.standing, leek.emerged, leek.lost) == (6, before, 0)
    stations = [happened.station_of(one.id) for one in daughters]
    assert stations == ["mat", "shelf", "sill", "sill"]
    book.write(Lost, "3-25", sowing="leek.2", plants=9)
    assert book.standing("leek").emerged == before, "what happens to a daughter stays with her"


def test_more_that_left_than_were_counted_raise_what_emerged() -> None:
    book = sown(24)
    book.write(Counted, "3-12", sowing="leek", standing=8)
    book.write(PrickedOut, "3-20", sowing="leek", plants=12, into="leek.1")
    leek = book.standing("leek")
    assert (leek.emerged, leek.standing, leek.inferred) == (12, 0, 0)


def test_potting_on_takes_nothing_away() -> None:
    book = sown(24)
    book.write(Counted, "3-12", sowing="leek", standing=20)
    book.write(PottedOn, "4-01", sowing="leek", container="9 cm pot", station="sill")
    leek = book.standing("leek")
    assert (leek.standing, leek.left, leek.container) == (20, {}, "9 cm pot")


def test_how_many_are_left_says_how_many_went() -> None:
    book = sown(48)
    book.write(Counted, "3-12", sowing="leek", standing=40)
    book.write(Thinned, "3-20", sowing="leek", left=20)
    book.write(SetOut, "5-01", sowing="leek", left=5)
    leek = book.standing("leek")
    assert (leek.left, leek.standing, leek.emerged) == ({"set_out": 15, "thinned": 20}, 5, 40)


def test_left_without_a_count_before_is_a_count() -> None:
    book = sown(48)
    book.write(Thinned, "3-20", sowing="leek", left=20)
    leek = book.standing("leek")
    assert (leek.standing, leek.emerged, leek.left) == (20, 20, {})


def test_plants_lost_as_others_were_given_away_come_out_of_those_left() -> None:
    book = sown(24)
    book.write(Counted, "3-08", sowing="leek", standing=15)
    book.write(Given, "3-09", sowing="leek", left=10, to="Ann")
    book.write(Lost, "3-09", sowing="leek", plants=2, why="slugs")
    leek = book.standing("leek")
    assert (leek.standing, leek.lost, leek.emerged) == (8, 2, 15)


def test_new_ones_taken_away_as_counted_add_up() -> None:
    book = sown(50, on="paper", purpose="test")
    for day, new in (("3-04", 12), ("3-05", 20), ("3-08", 9)):
        book.write(Counted, day, sowing="leek", new=new)
    leek = book.standing("leek")
    assert (leek.emerged, leek.standing, leek.left) == (41, 0, {"counted": 41})
    assert [count.emerged for count in leek.counts] == [12, 32, 41]
    book.write(Split, "3-08 09:00", sowing="leek", plants=10, into="leek.1", tray="cells")
    leek = book.standing("leek")
    assert leek.emerged == 41, "those set into medium are of those that were taken away"
    assert leek.left == {"counted": 31, "split": 10}


def test_a_sample_is_an_estimate_and_nobody_dies_of_it() -> None:
    book = sown(200, cells=100)
    book.write(Counted, "3-12", sowing="leek", standing=18, looked_at=20)
    leek = book.standing("leek")
    assert (leek.emerged, leek.standing, leek.estimate) == (18, 90, 90)
    book.write(Counted, "3-14", sowing="leek", standing=80)
    leek = book.standing("leek")
    assert (leek.emerged, leek.standing, leek.estimate, leek.inferred) == (80, 80, None, 0)


def test_more_seedlings_than_seeds_are_kept() -> None:
    book = sown(10)
    book.write(Counted, "3-12", sowing="leek", standing=14)
    leek = book.standing("leek")
    assert (leek.emerged, leek.more_than_sown) == (14, True)


def test_as_many_seedlings_as_clusters_are_not_all_while_cells_are_empty() -> None:
    book = sown(12)
    book.write(Counted, "3-12", sowing="leek", standing=14, cells=6)
    book.write(PrickedOut, "3-13", sowing="leek", plants=14, into="leek.1")
    assert book.standing("leek").closed is None
    book.write(Counted, "3-16", sowing="leek", standing=13, cells=12)
    book.write(PrickedOut, "3-17", sowing="leek", plants=13, into="leek.2")
    leek = book.standing("leek")
    assert leek.closed is not None
    assert leek.closed.why == "all gone"


@pytest.mark.parametrize("amount", [{"about": 60}, {"grams": 0.5}])
def test_seeds_that_were_not_counted_are_no_denominator(amount: dict[str, Any]) -> None:
    book = sown(None, **amount)
    book.write(Counted, "3-12", sowing="leek", standing=50)
    leek = book.standing("leek")
    assert (leek.seeds, leek.emerged, leek.more_than_sown) == (None, 50, False)


def test_how_the_seeds_of_a_test_ended_has_to_add_up() -> None:
    book = sown(20, purpose="test", on="paper")
    end: dict[str, Any] = {"normal": 15, "abnormal": 2, "hard": 1, "fresh": 1, "dead": 1}
    book.write(Counted, "3-12", sowing="leek", standing=17, final=True, **end)
    leek = book.standing("leek")
    assert leek.ended is not None
    assert (leek.ended.normal, leek.ended.seeds) == (15, 20)
    assert leek.closed is not None
    assert leek.closed.why == "final"
    wrong = sown(25, purpose="test", on="paper")
    wrong.write(Counted, "3-12", sowing="leek", standing=17, **end)
    leek = wrong.standing("leek")
    assert leek.ended is None
    assert "add up to 20 at the last count, 25 were sown" in str(leek.problems[0])


def test_what_each_count_of_a_test_took_away_is_summed() -> None:
    book = sown(20, purpose="test", on="paper")
    book.write(Counted, "3-05", sowing="leek", new=12, normal=12)
    book.write(Counted, "3-12", sowing="leek", new=5, normal=3, abnormal=2, dead=3)
    leek = book.standing("leek")
    assert leek.ended is not None
    assert (leek.ended.normal, leek.ended.abnormal, leek.ended.dead) == (15, 2, 3)


def test_counted_after_the_end_it_had_not_ended() -> None:
    book = sown(24)
    book.write(Counted, "3-12", sowing="leek", standing=8)
    book.write(Finished, "3-20", sowing="leek")
    assert not book.standing("leek").alive
    book.write(Counted, "3-22", sowing="leek", standing=8)
    leek = book.standing("leek")
    assert (leek.alive, leek.closed, leek.standing, leek.inferred, leek.left) == (
        True, None, 8, 0, {},
    )  # fmt: skip
    assert "counted again on 2027-03-22" in str(leek.problems[0])


def test_what_is_remembered_after_the_end_comes_out_of_what_was_thrown_away() -> None:
    book = sown(24)
    book.write(Counted, "3-12", sowing="leek", standing=8)
    book.write(Finished, "3-20 08:00", sowing="leek")
    book.write(Given, "3-20 08:05", sowing="leek", plants=6)
    leek = book.standing("leek")
    assert (leek.left, leek.emerged) == ({"given": 6, "finished": 2}, 8)


def test_a_final_count_closes_and_what_stands_lives_on() -> None:
    book = sown(24)
    last = book.write(Counted, "3-22", sowing="leek", standing=20, final=True)
    leek = book.standing("leek")
    assert leek.closed == Closing(last.at, "final")
    assert leek.alive
    book.write(SetOut, "5-01", sowing="leek", left=0)
    assert not book.standing("leek").alive


def test_none_standing_is_no_end_while_seeds_may_still_come() -> None:
    book = sown(24)
    book.write(Counted, "3-22", sowing="leek", standing=20)
    book.write(PrickedOut, "3-23", sowing="leek", plants=20, into="leek.1")
    leek = book.standing("leek")
    assert (leek.alive, leek.closed) == (True, None)
    book.write(PrickedOut, "3-25", sowing="leek", plants=4, into="leek.2")
    leek = book.standing("leek")
    assert leek.closed is not None
    assert leek.closed.why == "all gone"


def test_a_lower_count_in_a_daughter_is_inferred_lost_and_a_higher_one_named() -> None:
    book = sown(24)
    book.write(Counted, "3-12", sowing="leek", standing=20)
    book.write(PrickedOut, "3-20", sowing="leek", plants=12, into="leek.1")
    book.write(Counted, "3-24", sowing="leek.1", standing=10)
    daughter = book.standing("leek.1")
    assert (daughter.standing, daughter.inferred, daughter.plants) == (10, 2, 12)
    book.write(Counted, "3-25", sowing="leek.1", standing=13)
    daughter = book.standing("leek.1")
    assert daughter.inferred == 0
    assert "13 plants were there and 12 came" in str(daughter.problems[0])


def test_mixed_up_sowings_end_and_their_plants_go_on_together() -> None:
    book = sown(24)
    book.write(Sown, "3-01 08:10", sowing="onion", lot="onion", seeds=24)
    book.write(Counted, "3-12", sowing="leek", standing=10)
    book.write(Counted, "3-12", sowing="onion", standing=7)
    book.write(MixedUp, "3-20", sowings=("leek", "onion"), into="either")
    happened = book.records()
    either, leek = happened.by_name_in_line("either"), happened.by_name_in_line("leek")
    assert either is not None
    assert leek is not None
    assert (either.standing, either.lot, either.made) == (17, None, "mixed_up")
    assert len(either.mixed_of) == 2
    assert (leek.left, leek.standing, leek.mixed_up, leek.alive) == (
        {"mixed_up": 10}, 0, True, False,
    )  # fmt: skip
    book.write(Counted, "3-22", sowing="either", standing=15)
    assert book.standing("either").inferred == 2


def test_one_of_the_mixed_up_may_go_on_under_its_name() -> None:
    book = sown(24)
    book.write(Sown, "3-01 08:10", sowing="onion", lot="onion", seeds=24)
    book.write(Counted, "3-12", sowing="leek", standing=10)
    book.write(Counted, "3-12", sowing="onion", standing=7)
    book.write(MixedUp, "3-20", sowings=("leek", "onion"), into="leek")
    leek, onion = book.standing("leek"), book.standing("onion")
    assert (leek.standing, leek.emerged, leek.mixed_up, leek.alive) == (17, 10, True, True)
    assert (onion.standing, onion.left) == (0, {"mixed_up": 7})


def test_seed_sown_onto_another_spoils_the_count_of_both() -> None:
    book = sown(24)
    book.write(Sown, "3-10", sowing="leek/2", lot="leek", seeds=10, onto="leek")
    first, second = book.standing("leek"), book.standing("leek/2")
    assert (first.topped_up, second.onto, second.topped_up) == (True, "leek", False)


def test_a_doubtful_label_is_a_doubtful_lot() -> None:
    book = sown(24)
    book.write(Relabelled, "3-10", sowing="leek", lot="onion", sure=False)
    leek = book.standing("leek")
    assert (leek.lot, leek.lot_sure) == ("onion", False)
    book.write(Relabelled, "3-11", sowing="leek", sure=True)
    assert book.standing("leek").lot_sure


def test_care_and_measurements_are_kept_with_the_sowing() -> None:
    book = sown(24)
    watered = book.write(Watered, "3-02", sowing="leek", ml=200)
    noted = book.write(Noted, "3-03", sowing="leek", text="mould")
    plant = Plant(height_mm=50, diameter_mm=2.0)
    measured = book.write(Measured, "3-20", sowing="leek", plants=(plant,))
    leek = book.standing("leek")
    assert (leek.watered, leek.noted, leek.measured) == ((watered,), (noted,), (measured,))


def test_seeds_dug_up_are_no_longer_to_come() -> None:
    book = sown(24)
    book.write(Counted, "3-10", sowing="leek", standing=18)
    dug = book.write(Dug, "3-12", sowing="leek", sound=1, soft=4, gone=1)
    book.write(PrickedOut, "3-20", sowing="leek", plants=18, into="leek.1")
    leek = book.standing("leek")
    assert (leek.dug, leek.emerged, leek.seeds, leek.seeds_with_a_chance) == ((dug,), 18, 24, 23)
    assert leek.closed == Closing(moment("3-20"), "all gone")


def test_a_sowing_with_seeds_left_in_the_medium_goes_on() -> None:
    book = sown(24)
    book.write(Counted, "3-10", sowing="leek", standing=18)
    book.write(Dug, "3-12", sowing="leek", soft=5)
    book.write(PrickedOut, "3-20", sowing="leek", plants=18, into="leek.1")
    assert book.standing("leek").closed is None


def test_first_seen_is_the_first_count_with_one_up_or_the_first_taken() -> None:
    book = sown(24)
    book.write(Counted, "3-05", sowing="leek", standing=0)
    assert book.standing("leek").up_since is None
    first = book.write(PrickedOut, "3-09", sowing="leek", plants=2, into="leek.1")
    book.write(Counted, "3-12", sowing="leek", standing=8)
    assert book.standing("leek").up_since == first.at


def test_a_sowing_without_the_entry_that_made_it_is_refused() -> None:
    with pytest.raises(ValueError, match="the entry x that made the sowing is missing"):
        fold_sowing("x", list[Entry]())
