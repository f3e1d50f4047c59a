"""What holds of the records of any season, whatever is written, by whom, in whatever order."""

from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from any_season import TIMES, entries
from notebook import Notebook, afresh, journal_of, written
from seasons import HEAD, lot, season
from seedstart.season.journal.entries import (
    Counted,
    Entry,
    Moved,
    PrickedOut,
    Relabelled,
    Sown,
    Struck,
    Watered,
)
from seedstart.season.journal.journal import Journal
from seedstart.tracking import fold_journal
from seedstart.tracking.fold_journal import records, refold

PLAN = season(
    lot("leek", "leek", was='["poree"]') + lot("onion", "onion"),
    HEAD.replace('name = "mat"', 'name = "mat"\nwas = ["old mat"]'),
)
DAYS = st.sampled_from(sorted({at.date() for at in TIMES}))
ANY_SEASON = settings(max_examples=100, derandomize=True, deadline=None)


@ANY_SEASON
@given(entries(), st.data())
def test_entries_may_arrive_in_any_order_and_twice(
    written_: list[Entry], data: st.DataObject
) -> None:
    arrived = data.draw(st.permutations(written_ + written_[:3]))
    cut = data.draw(st.integers(0, len(arrived)))
    journal = Journal()
    journal.take_in(arrived[:cut])
    journal.take_in(arrived[cut:])
    assert records(journal, PLAN) == afresh(written_, PLAN)


@ANY_SEASON
@given(entries())
def test_folding_lines_while_they_are_at_hand_gives_what_seeking_them_out_gives(
    written_: list[Entry],
) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(fold_journal._Refold, "_begin", lambda *_: None)
        sought = afresh(written_, PLAN)
    assert afresh(written_, PLAN) == sought


def test_of_three_who_used_one_name_offline_each_means_their_own() -> None:
    book = Notebook()
    for number, by in enumerate(("bench", "tablet", "shed"), 3):
        book.write(Sown, "3-01", by, sowing="leek", lot="leek", seeds=24)
        book.write(Counted, "3-12", by, sowing="leek", standing=number)
    happened = records(book.journal(), PLAN)
    assert [(one.by, one.standing) for one in happened.standings.values()] == [
        ("bench", 3), ("tablet", 4), ("shed", 5),
    ]  # fmt: skip
    stranger = book.write(Counted, "3-13", "stranger", sowing="leek", standing=9)
    now = records(book.journal(), PLAN)
    assert now.astray == {"leek": (stranger,)}
    assert now.standings == happened.standings


@settings(max_examples=60, derandomize=True, deadline=None)
@given(entries(), st.data())
def test_records_refolded_after_each_entry_are_those_folded_afresh(
    written_: list[Entry], data: st.DataObject
) -> None:
    arrived = data.draw(st.permutations(written_))
    journal = Journal()
    happened = records(journal, PLAN)
    for number, entry in enumerate(arrived, 1):
        happened = refold(happened, journal.take_in([entry]), journal, PLAN)
        fresh = afresh(arrived[:number], PLAN)
        assert happened == fresh
        assert list(happened.standings) == list(fresh.standings)


@ANY_SEASON
@given(entries(), DAYS)
def test_records_as_of_a_day_are_those_of_what_had_happened_by_then(
    written_: list[Entry], day: date
) -> None:
    by_then = [e for e in written_ if e.at.date() <= day or isinstance(e, Struck)]
    found, expected = afresh(written_, PLAN, day), afresh(by_then, PLAN, day)
    assert found == expected


@ANY_SEASON
@given(entries(24))
def test_emerged_never_falls_and_covers_what_stands_and_what_left(written_: list[Entry]) -> None:
    for one in afresh(written_, PLAN).standings.values():
        emerged = list(one.emerged_by)
        assert emerged == sorted(emerged)
        assert one.standing >= 0
        assert one.inferred >= 0
        assert all(plants > 0 for plants in one.left.values())
        sampled = any(entry.looked_at for entry in one.counted)
        if one.from_seed and not one.mixed_up and not sampled:
            assert one.standing + sum(one.left.values()) + one.inferred <= one.emerged
            assert not emerged or one.emerged >= emerged[-1]


@ANY_SEASON
@given(entries(24))
def test_plants_are_conserved_from_mother_to_daughters(written_: list[Entry]) -> None:
    happened = afresh(written_, PLAN)
    for mother in happened.standings.values():
        daughters = [one for one in happened.daughters(mother.id) if one.made_from == mother.id]
        made = sum(one.plants for one in daughters if not one.mixed_up)
        joined = any(one.mixed_up for one in daughters)
        gone = mother.left.get("pricked_out", 0) + mother.left.get("split", 0)
        assert made == gone or joined


@ANY_SEASON
@given(entries(24))
def test_every_entry_is_about_something_or_astray(written_: list[Entry]) -> None:
    journal = journal_of(written_)
    happened = records(journal, PLAN)
    for (kind, name), about in journal.of.items():
        if kind == "sowing":
            astray = {entry.id for entry in happened.astray.get(name, ())}
            meant = {e.id: happened.identity.means(e, name) for e in about}
            in_force = [entry for entry in about if entry.id not in journal.struck]
            assert {e.id for e in in_force if meant[e.id] is None} == astray


def test_a_count_that_looks_twice_finds_what_a_plain_one_finds() -> None:
    """A sample of everything is no sample; it goes the longer way."""
    standings = [3, 8, 8, 5, 0, 9, 7, 7, 12, 11]
    plain, odd = Notebook(), Notebook()
    for book in (plain, odd):
        book.write(Sown, "3-01", sowing="leek", lot="leek", seeds=24)
        for number, standing in enumerate(standings):
            looked_at = 24 if book is odd and number % 3 else None
            book.write(
                Counted, f"3-{4 + number // 2:02}", sowing="leek", standing=standing,
                looked_at=looked_at,
            )  # fmt: skip
    one, other = plain.standing("leek"), odd.standing("leek")
    assert (one.emerged_by, one.seen_by, one.inferred_by) == (
        other.emerged_by, other.seen_by, other.inferred_by,
    )  # fmt: skip
    assert (one.standing, one.emerged, one.inferred) == (
        other.standing,
        other.emerged,
        other.inferred,
    )


def test_what_an_entry_does_not_touch_stays_the_same_object() -> None:
    book = Notebook()
    for name in ("leek", "onion"):
        book.write(Sown, "3-01", sowing=name, lot=name, seeds=24, tray="blue", station="mat")
    journal = book.journal()
    before = records(journal, PLAN)
    count = book.write(Counted, "3-12", sowing="leek", standing=3)
    after = refold(before, journal.take_in([count]), journal, PLAN)
    leek, onion = after.standings
    assert after.standings[onion] is before.standings[onion]
    assert after.places["tray", "blue"] is before.places["tray", "blue"]
    assert after.standings[leek].standing == 3
    assert refold(after, set(), journal, PLAN) is after


def test_a_renamed_station_and_lot_keep_what_was_written_of_them() -> None:
    book = Notebook()
    book.write(Sown, "3-01", sowing="poree", lot="poree", seeds=24, station="old mat")
    old = book.write(Watered, "3-02", station="old mat")
    new = book.write(Watered, "3-03", station="mat")
    happened = records(book.journal(), PLAN)
    (sowing,) = happened.standings
    assert happened.standings[sowing].lot == "leek"
    assert happened.station_of(sowing) == "mat"
    assert happened.places["station", "mat"].watered == (old, new)
    assert [one.id for one in happened.of_lot("poree")] == [sowing]


def test_a_station_renamed_without_saying_so_stays_in_sight() -> None:
    book = Notebook()
    book.write(Watered, "3-02", station="the old bench")
    happened = records(book.journal(), PLAN)
    assert ("station", "the old bench") in happened.places


def test_the_plan_may_change_between() -> None:
    book = Notebook()
    book.write(Sown, "3-01", sowing="poree", lot="poree", seeds=24, station="old mat")
    journal = book.journal()
    without = season(lot("leek", "leek"))
    before = records(journal, without)
    assert refold(before, set(), journal, PLAN) == records(journal, PLAN)


@pytest.mark.parametrize("year", [1970, 2027, 2199])
def test_a_clock_that_is_wrong_by_years_loses_nothing(year: int) -> None:
    book = Notebook()
    book.write(Sown, "3-01", sowing="leek", lot="leek", seeds=24)
    book.write(Counted, "3-10", sowing="leek", standing=8)
    late = book.entries[1].at.replace(year=year, day=11)
    book.write(Counted, late, sowing="leek", standing=9)
    leek = book.standing("leek")
    assert leek.emerged == 9
    assert leek.standing == (8 if year == 1970 else 9)


def test_the_doubled_hour_of_autumn_is_told_apart() -> None:
    book = Notebook()
    book.write(Sown, "10-01", sowing="leek", lot="leek", seeds=24)
    first, second = TIMES[6], TIMES[8]  # 02:30 in summer time, 02:00 an hour and a half later
    assert (first.hour, second.hour, second > first) == (0, 2, True)
    book.write(Counted, second, sowing="leek", standing=9)
    book.write(Counted, first, sowing="leek", standing=8)
    assert [count.entry.standing for count in book.standing("leek").counts] == [8, 9]


def test_striking_an_act_takes_the_daughter_and_puts_the_plants_back() -> None:
    book = Notebook()
    book.write(Sown, "3-01", sowing="leek", lot="leek", seeds=24)
    book.write(Counted, "3-10", sowing="leek", standing=8)
    out = book.write(PrickedOut, "3-12", sowing="leek", plants=5, into="leek.1")
    book.write(Counted, "3-13", sowing="leek.1", standing=5)
    book.strike(out)
    happened = book.records()
    leek = happened.by_name_in_line("leek")
    assert leek is not None
    assert (leek.standing, leek.left, len(happened.standings)) == (8, {}, 1)
    assert list(happened.astray) == ["leek.1"], "its count stays in sight"


def test_ids_of_the_test_seasons_rise() -> None:
    assert written(2027, 9) < written(2027, 10) < written(2027, 16)


def test_moved_and_relabelled_are_refolded_with_what_they_touch() -> None:
    book = Notebook()
    book.write(Sown, "3-01", sowing="leek", lot="leek", seeds=24, tray="blue", station="mat")
    book.write(Counted, "3-10", sowing="leek", standing=8)
    book.write(PrickedOut, "3-12", sowing="leek", plants=5, into="leek.1")
    journal = book.journal()
    happened = records(journal, PLAN)
    for entry in (
        book.write(Moved, "3-13", tray="blue", station="shelf"),
        book.write(Relabelled, "3-14", sowing="leek", lot="onion"),
    ):
        happened = refold(happened, journal.take_in([entry]), journal, PLAN)
    daughter = happened.by_name_in_line("leek.1")
    assert daughter is not None
    assert daughter.lot == "onion"
    assert happened.station_of(daughter.id) == "shelf"
