"""Where the plants are: every living group, after any acts."""

from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from any_season import entries
from notebook import Notebook, afresh
from seasons import HEAD, lot, season
from seedstart.season.journal.entries import (
    Counted,
    Entry,
    Finished,
    Lost,
    MixedUp,
    Moved,
    PottedOn,
    PrickedOut,
    Relabelled,
    Sown,
    Split,
    Struck,
)
from seedstart.season.plan.stations import SHIPPED
from seedstart.tracking.whereabouts import Group, containers_of, used_m2, whereabouts

LOTS = lot("leek", "leek", want="60", station='"mat"', container='"tray of 24"') + lot(
    "onion", "onion"
)
PLAN = season(LOTS)


def groups(book: Notebook, until: date | None = None) -> dict[str, Group]:
    return {one.name: one for one in whereabouts(book.records(LOTS, HEAD, until), PLAN)}


def place(one: Group) -> tuple[str | None, str | None, str, int]:
    """Station, tray, container, plants."""
    return (
        one.station,
        one.tray,
        one.container.name if one.container else one.container_text,
        one.plants,
    )


def up(stand: int = 60, tray: str | None = "tray 1") -> Notebook:
    book = Notebook()
    book.write(Sown, "2-01", sowing="leek", lot="leek", seeds=70, station="mat", tray=tray)
    book.write(Counted, "2-20", sowing="leek", standing=stand)
    return book


def test_each_pricking_out_is_a_group_of_its_own_after_any_moves() -> None:
    book = up()
    for number, tray in enumerate(("tray 2", "tray 3"), 1):
        book.write(
            PrickedOut, "3-01", sowing="leek", plants=20, into=f"leek.{number}", tray=tray,
            station="mat", container="tray of 72",
        )  # fmt: skip
    book.write(Moved, "3-04", tray="tray 3", station="shelf")
    book.write(PottedOn, "3-20", sowing="leek.2", container="9 cm pot", tray="crate")
    book.write(Moved, "3-21", tray="crate", station="sill")
    book.write(Lost, "3-22", sowing="leek.2", plants=2)
    found = groups(book)
    assert place(found["leek"]) == ("mat", "tray 1", "tray of 24", 20)
    assert place(found["leek.1"]) == ("mat", "tray 2", "tray of 72", 20)
    assert place(found["leek.2"]) == ("sill", "crate", "9 cm pot", 18)
    assert found["leek.2"].room_m2 == pytest.approx(18 * 0.09 * 0.09)
    assert found["leek"].room_m2 == pytest.approx(0.54 * 0.28)


def test_on_a_day_they_are_where_they_were_by_then() -> None:
    book = up()
    book.write(Moved, "3-04", tray="tray 1", station="shelf")
    assert place(groups(book, date(2027, 3, 3))["leek"])[0] == "mat"
    assert place(groups(book)["leek"])[0] == "shelf"


def test_a_tray_that_was_pricked_out_stands_until_its_count_is_closed() -> None:
    book = up()
    book.write(PrickedOut, "3-01", sowing="leek", plants=60, into="leek.1", tray="tray 2")
    assert place(groups(book)["leek"]) == ("mat", "tray 1", "tray of 24", 0)
    assert groups(book)["leek"].room_m2 == pytest.approx(3 * 0.54 * 0.28)
    book.write(Counted, "3-02", sowing="leek", standing=0, final=True)
    assert set(groups(book)) == {"leek.1"}
    book.write(Finished, "3-02", sowing="leek.1")
    assert groups(book) == {}


def test_what_was_split_off_whole_left_nothing_behind() -> None:
    book = up()
    book.write(Split, "3-01", sowing="leek", plants=60, into="leek.1", station="sill")
    assert set(groups(book)) == {"leek.1"}


def test_parted_and_mixed_up_plants_stay_in_what_they_were_in() -> None:
    book = up()
    book.write(PottedOn, "3-01", sowing="leek", container="9 cm pot")
    book.write(Split, "3-02", sowing="leek", plants=10, into="leek.1", station="sill")
    assert place(groups(book)["leek.1"]) == ("sill", None, "9 cm pot", 10)
    book.write(MixedUp, "3-03", sowings=("leek", "leek.1"), into="leeks")
    assert place(groups(book)["leeks"])[2:] == ("9 cm pot", 60)


def test_a_relabelling_moves_nothing() -> None:
    book = up()
    before = place(groups(book)["leek"])
    book.write(Relabelled, "3-02", sowing="leek", lot="onion", name="onion")
    assert place(groups(book)["onion"]) == (*before[:2], "tray of 72", *before[3:])


def test_a_container_that_nobody_knows_takes_no_known_room() -> None:
    book = up()
    book.write(PottedOn, "3-01", sowing="leek", container="yoghurt pot")
    found = groups(book)["leek"]
    assert (found.container, found.container_text, found.room_m2) == (None, "yoghurt pot", None)


def test_a_container_is_known_however_it_is_written() -> None:
    book = up()
    book.write(PottedOn, "3-01", sowing="leek", container="9 CM Pot")
    assert place(groups(book)["leek"])[2] == "9 cm pot"


def test_a_tray_with_a_name_counts_once_and_is_as_large_as_its_largest_content() -> None:
    kinds = {one.name: one for one in SHIPPED}
    shared = [
        Group("1", "a", None, None, "tray 9", kinds["seed tray"], "", 5, 1),
        Group("2", "b", None, None, "tray 9", kinds["half seed tray"], "", 5, 1),
        Group("3", "c", None, None, None, kinds["seed tray"], "", 5, 1),
        Group("4", "d", None, None, "tray 9", kinds["9 cm pot"], "", 3, 3),
    ]
    assert containers_of(shared) == {kinds["seed tray"]: 2, kinds["9 cm pot"]: 3}
    assert used_m2(shared) == pytest.approx(2 * 0.38 * 0.24 + 3 * 0.09 * 0.09)


ANY_SEASON = settings(max_examples=150, derandomize=True, deadline=None)
ANY_PLAN = season(LOTS, HEAD.replace('name = "mat"', 'name = "mat"\nwas = ["old mat"]'))


@ANY_SEASON
@given(entries(24))
def test_all_that_stands_stands_somewhere_and_once(written: list[Entry]) -> None:
    happened = afresh(written, ANY_PLAN)
    found = whereabouts(happened, ANY_PLAN)
    assert len({one.sowing for one in found}) == len(found)
    assert sum(one.plants for one in found) == sum(
        one.standing for one in happened.standings.values() if one.alive
    )
    for one in found:
        assert one.station == happened.station_of(one.sowing)
        assert one.cells >= 1
        assert one.room_m2 is None or one.room_m2 > 0


@ANY_SEASON
@given(entries(20), st.sampled_from([date(2027, 3, 28), date(2027, 3, 29), date(2027, 10, 31)]))
def test_on_a_day_they_are_those_of_what_had_happened_by_then(
    written: list[Entry], day: date
) -> None:
    by_then = [one for one in written if one.at.date() <= day or isinstance(one, Struck)]
    then = whereabouts(afresh(written, ANY_PLAN, day), ANY_PLAN)
    assert then == whereabouts(afresh(by_then, ANY_PLAN), ANY_PLAN)


@ANY_SEASON
@given(entries(24))
def test_every_sowing_is_in_one_family_and_that_of_its_mother_unless_relabelled(
    written: list[Entry],
) -> None:
    happened = afresh(written, ANY_PLAN)
    families = [happened.family(head) for head in {*happened.links.heads.values()}]
    assert sorted(one.id for family in families for one in family) == sorted(happened.standings)
    for one in happened.standings.values():
        head = happened.standings[happened.head_of(one.id)]
        assert happened.lot_of(one.id) == head.lot
        assert one.lot in {None, head.lot}
        assert head in happened.lineage(one.id)
        own = happened.of_lot(head.lot) if head.lot else ()
        assert head.lot is None or one in own
