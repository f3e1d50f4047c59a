"""The journal: the union of the lines is the truth, whatever way they came."""

import gc
from collections.abc import Callable
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from season.entries_for_tests import ENTRIES, KNOWN_ENTRIES, an_id, at, line
from seedstart.season.journal.entries import (
    Counted,
    Entry,
    Noted,
    Soaked,
    Struck,
    Subject,
    TakenOut,
    Watered,
)
from seedstart.season.journal.journal import Journal, Lines, collector_at_rest
from seedstart.season.journal.journal_lines import encode

State = tuple[dict[Subject, list[str]], set[str], list[str]]


def state(journal: Journal) -> State:
    """All that can be asked of a journal; as text, since times compare as moments."""
    of = {subject: [repr(entry) for entry in entries] for subject, entries in journal.of.items()}
    return of, set(journal.struck), [str(problem) for problem in journal.disputed]


def journal_of(*batches: list[Entry]) -> Journal:
    journal = Journal()
    for batch in batches:
        journal.take_in(batch)
    return journal


def counted(number: int, hour: str, sowing: str = "leek", standing: int = 1) -> Counted:
    return Counted(id=an_id(number), at=at(hour), by="bench", sowing=sowing, standing=standing)


def strike(number: int, names: int) -> Struck:
    return Struck(id=an_id(number), at=at("09:00Z"), by="bench", entry=an_id(names))


def numbers(entries: list[Entry] | tuple[Entry, ...]) -> list[int]:
    return [int(entry.id[-12:], 16) for entry in entries]


def parted(entries: list[Entry], random: Random) -> list[list[Entry]]:
    """The entries in another order, some of them twice, in several heaps."""
    arriving = entries + random.choices(entries, k=3) if entries else []
    random.shuffle(arriving)
    cuts = sorted(random.randint(0, len(arriving)) for _ in range(3))
    return [arriving[a:b] for a, b in zip([0, *cuts], [*cuts, len(arriving)], strict=True)]


# Some entries bear the same id and differ: even then no order of arrival may decide.
@settings(derandomize=True, deadline=None)
@given(st.lists(ENTRIES, max_size=20), st.randoms(use_true_random=False))
def test_entries_may_arrive_in_any_order_twice_and_in_parts(
    entries: list[Entry], random: Random
) -> None:
    heaps = parted(entries, random)
    assert state(journal_of(*heaps)) == state(journal_of(entries))


@settings(derandomize=True, deadline=None)
@given(st.lists(KNOWN_ENTRIES, max_size=20), st.randoms(use_true_random=False))
def test_lines_may_stand_in_one_file_or_in_many(entries: list[Entry], random: Random) -> None:
    heaps = parted(entries, random)
    files = [Lines(f"journal/{n}.jsonl", encode(heap)) for n, heap in enumerate(heaps)]
    together, one_by_one = Journal(), Journal()
    together.read(*files)
    for file in files:
        one_by_one.read(file)
    assert state(together) == state(one_by_one) == state(journal_of(entries))


@settings(derandomize=True, deadline=None)
@given(st.lists(ENTRIES, max_size=20), st.randoms(use_true_random=False))
def test_entries_stand_under_each_subject_in_order_and_once(
    entries: list[Entry], random: Random
) -> None:
    journal = journal_of(*parted(entries, random))
    for subject, listed in journal.of.items():
        keys = [(entry.at, entry.id) for entry in listed]
        assert keys == sorted(set(keys))
        for entry in listed:
            assert subject in entry.subjects() or isinstance(entry, TakenOut)
    assert set(journal.by_id) == {entry.id for entry in entries}


@settings(derandomize=True, deadline=None)
@given(st.lists(ENTRIES, max_size=20), st.randoms(use_true_random=False))
def test_whatever_changes_is_among_what_was_touched(entries: list[Entry], random: Random) -> None:
    journal = Journal()
    for heap in parted(entries, random):
        before = seen(journal)
        touched = journal.take_in(heap)
        after = seen(journal)
        changed = {s for s in before.keys() | after.keys() if before.get(s) != after.get(s)}
        assert changed <= touched


def seen(journal: Journal) -> dict[Subject, list[tuple[str, bool]]]:
    """What a fold sees of each subject: its entries, and which of them were struck."""
    return {
        subject: [(repr(entry), entry.id in journal.struck) for entry in entries]
        for subject, entries in journal.of.items()
    }


def test_a_line_of_one_subject_touches_no_other() -> None:
    journal = journal_of([counted(n, "08:00Z", sowing=f"lot {n}") for n in range(1, 9)])
    assert journal.take_in([counted(20, "07:00Z", sowing="lot 3")]) == {("sowing", "lot 3")}
    assert numbers(journal.of["sowing", "lot 3"]) == [20, 3]
    assert journal.take_in([strike(21, 5)]) == {("sowing", "lot 5")}
    assert journal.take_in([counted(20, "07:00Z", sowing="lot 3")]) == set()


def test_the_order_is_that_of_the_moments_and_not_of_the_clocks() -> None:
    journal = journal_of([counted(1, "08:30+01:00"), counted(2, "08:00Z"), counted(3, "07:10Z")])
    assert numbers(journal.of["sowing", "leek"]) == [3, 1, 2]


def test_at_one_moment_the_ids_decide() -> None:
    journal = journal_of([counted(2, "08:00Z")], [counted(1, "09:00+01:00"), counted(3, "08:00Z")])
    assert numbers(journal.of["sowing", "leek"]) == [1, 2, 3]


def test_a_struck_entry_stays_in_sight() -> None:
    journal = journal_of([counted(1, "08:00Z"), strike(2, 1)])
    assert numbers(journal.of["sowing", "leek"]) == [1]
    assert journal.struck == {an_id(1)}


def test_a_strike_may_come_before_what_it_names() -> None:
    journal = journal_of([counted(9, "08:00Z"), strike(2, 1)])
    assert journal.take_in([counted(1, "08:00Z")]) == {("sowing", "leek")}
    assert journal.struck == {an_id(1)}


def test_strikes_in_a_circle_are_named() -> None:
    journal = journal_of([strike(2, 3), strike(3, 2)])
    (problem,) = journal.disputed
    assert str(problem) == (
        f"journal, struck: found '{an_id(2)}, {an_id(3)}'."
        " These entries take each other back in a circle: they take back nothing."
    )
    assert journal.struck == set()


@pytest.mark.parametrize(
    "other",
    [
        counted(1, "08:00Z", standing=2),
        counted(1, "08:30Z"),
        counted(1, "08:00Z", sowing="onion"),
        counted(1, "09:00+01:00"),  # the same moment, but the day as written may be another
        Noted(id=an_id(1), at=at("08:00Z"), by="bench", text="leggy"),
    ],
)
def test_lines_that_differ_under_one_id_count_once_and_are_named(other: Entry) -> None:
    one = counted(1, "08:00Z")
    first, then = journal_of([one], [counted(2, "08:00Z")], [other]), journal_of([other, one])
    then.take_in([counted(2, "08:00Z")])
    assert state(first) == state(then)
    assert sum(entry.id == an_id(1) for listed in first.of.values() for entry in listed) == 1
    (problem,) = first.disputed
    assert str(problem) == (
        f"journal, id {an_id(1)}. Lines that differ have "
        "this id, and one of them counts: take it back and write it down again."
    )


def test_the_end_of_a_treatment_stands_with_the_lot_whichever_comes_first() -> None:
    soaked = Soaked(id=an_id(1), at=at("06:00Z"), by="bench", lot="pea")
    end = TakenOut(id=an_id(2), at=at("08:00Z"), by="phone", entry=an_id(1))
    early = journal_of([counted(5, "08:00Z")], [end])
    assert ("lot", "pea") not in early.of
    assert early.take_in([soaked]) == {("lot", "pea")}
    assert numbers(early.of["lot", "pea"]) == [1, 2]
    late = journal_of([counted(5, "08:00Z")], [soaked])
    assert late.take_in([end]) == {("lot", "pea")}
    assert state(early) == state(late)
    assert early.take_in([strike(7, 2)]) == {("lot", "pea")}


def test_what_is_set_aside_is_named_by_file_and_line() -> None:
    journal = Journal()
    journal.read(
        Lines("journal/bench.jsonl", line("noted", 1, text="a") + b"torn\n", first_line=7),
        Lines("journal/phone.jsonl", b"=======\n" + line("noted", 2, text="b")),
    )
    assert [(problem.file, problem.line) for problem in journal.set_aside] == [
        ("journal/bench.jsonl", 8),
        ("journal/phone.jsonl", 1),
    ]
    assert numbers(journal.of["season", ""]) == [1, 2]


def test_an_unknown_kind_is_kept_and_can_be_struck() -> None:
    journal = Journal()
    journal.read(Lines("journal/bench.jsonl", line("sung_to", 1, sowing="leek")))
    journal.take_in([strike(2, 1)])
    assert journal.of == {}
    assert list(journal.by_id) == [an_id(1), an_id(2)]
    assert journal.struck == {an_id(1)}


def act(*of: int, by: str = "bench", name: str = "leek") -> list[Entry]:
    first = an_id(of[0]) if len(of) > 1 else None
    return [
        Watered(id=an_id(number), at=at("08:00Z"), by=by, act=first, sowing=name) for number in of
    ]


def test_the_last_act_of_a_writer_is_whole_and_was_not_taken_back() -> None:
    journal = journal_of(act(1), act(2, 3, 4), act(5, by="phone"))
    assert numbers(journal.last_act("bench")) == [2, 3, 4]
    assert numbers(journal.last_act("phone")) == [5]
    assert journal.last_act("tablet") == ()
    journal.take_in([strike(6, 2), strike(7, 3), strike(8, 4)])
    assert numbers(journal.last_act("bench")) == [1]
    journal.take_in([strike(9, 1)])
    assert journal.last_act("bench") == ()


def test_an_act_is_had_by_any_of_its_entries() -> None:
    journal = journal_of(act(1), act(2, 3, 4))
    for number in (2, 3, 4):
        assert numbers(journal.act_of(an_id(number))) == [2, 3, 4]
    assert numbers(journal.act_of(an_id(1))) == [1]
    assert journal.act_of(an_id(99)) == ()


def test_the_next_id_is_made_above_the_writers_own() -> None:
    journal = journal_of(act(1, 2), act(9, by="phone"))
    assert journal.last_id("bench") == an_id(2)
    journal.take_in([*act(7), *act(5)])
    assert journal.last_id("bench") == an_id(7)
    assert journal.last_id("tablet") is None


@pytest.mark.parametrize(
    "arrive", [lambda j, e: j.take_in(e), lambda j, e: j.read(Lines("f", encode(e)))]
)
def test_nothing_touches_nothing(arrive: Callable[[Journal, list[Entry]], set[Subject]]) -> None:
    journal = Journal()
    assert arrive(journal, []) == set()
    assert arrive(journal, act(1)) == {("sowing", "leek")}
    assert arrive(journal, []) == set()


def test_ids_that_are_no_uuids_are_read_from_several_files_too() -> None:
    strange = "é" * 36, "~" * 36, "\U0001f331" * 36
    files = [
        Lines(f"journal/{n}.jsonl", line("noted", 1, text="a") + line("noted", text="b", id=id_))
        for n, id_ in enumerate(strange)
    ]
    journal = Journal()
    journal.read(*files)
    assert [entry.id for entry in journal.of["season", ""]] == sorted([an_id(1), *strange])
    assert journal.set_aside == []


def test_garbage_is_collected_again_after_reading() -> None:
    with collector_at_rest():
        assert not gc.isenabled()
    assert gc.isenabled()
    gc.unfreeze()
