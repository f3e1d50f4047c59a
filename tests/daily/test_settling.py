"""Two writers counted one sowing on one day: the round asks which count stands."""

import pytest

from notebook import moment
from seasons import lot
from seedstart.acts.sentences import confirmed
from seedstart.open_season import OpenSeason
from seedstart.season.journal.entries import BLANK, Checked, Counted, Sown, Struck
from seedstart.tracking.entry_warnings import doubts
from walk import MakeWalk, Walk


def counted_by_two(walk: MakeWalk, bench: int = 18, phone: int = 17) -> Walk:
    found = walk(lot("leek", "leek", station='"shelf"'))
    found.write(Sown, "3-01", sowing="leek", lot="leek", seeds=24, tray="tray 5", station="shelf")
    found.write(Counted, "3-12 08:00", sowing="leek", standing=bench)
    other = OpenSeason(found.folder, "phone")
    other.record(Counted(**BLANK, sowing="leek", standing=phone), at=moment("3-12 08:20"))
    return found


def doubted(found: Walk) -> list[str]:
    """What `verify` lists."""
    opened = found.opened
    every = doubts(opened.journal, opened.records(), opened.plan, opened.now())
    return [str(one.problem) for one in every]


def test_the_check_names_both_writers_and_their_counts(walk: MakeWalk) -> None:
    check = counted_by_two(walk).check("3-12 09:00", "settle")
    assert check.says == (
        "leek: bench counted 18 (08:00) and phone 17 (08:20) on Fri 12 Mar; which is right?"
    )
    assert (check.tray, check.has_to_be_typed) == ("tray 5", True)


@pytest.mark.parametrize(
    ("typed", "stands"), [("18", 18), ("17", 17), ("bench", 18), ("Phone", 17)]
)
def test_the_answer_takes_the_other_count_back(walk: MakeWalk, typed: str, stands: int) -> None:
    found = counted_by_two(walk)
    strike, checked = found.tick(found.check("3-12 09:00", "settle"), "3-12 09:00", typed)
    assert (type(strike), type(checked)) == (Struck, Checked)
    assert found.checks("3-12 10:00", "settle") == []
    leek = found.opened.records().by_name_in_line("leek")
    assert leek is not None
    assert (leek.standing, leek.emerged, leek.unsettled) == (stands, stands, ())
    assert not any("counted" in one for one in doubted(found))


def test_two_of_one_day_are_asked_one_by_one(walk: MakeWalk) -> None:
    found = counted_by_two(walk)
    found.write(Counted, "3-12 08:40", sowing="leek", standing=16)
    first, second = found.checks("3-12 09:00", "settle")
    found.tick(first, "3-12 09:00", "17")
    assert [one.key for one in found.checks("3-12 10:00", "settle")] == [second.key]


def test_what_settled_it_is_an_act_that_can_be_taken_back(walk: MakeWalk) -> None:
    found = counted_by_two(walk)
    check = found.check("3-12 09:00", "settle")
    found.tick(check, "3-12 09:00", "18")
    act = found.opened.journal.last_act("bench")
    assert [type(one).__name__ for one in act] == ["Struck", "Checked"]
    assert confirmed(act, found.opened.known()) == (
        "Ticked: settle leek; the other count is taken back."
    )
    for one in act:
        found.write(Struck, "3-12 09:30", entry=one.id)
    assert found.check("3-12 10:00", "settle") == check


@pytest.mark.parametrize("typed", ["", "16", "nobody"])
def test_another_answer_says_which_will_do(walk: MakeWalk, typed: str) -> None:
    found = counted_by_two(walk)
    said = found.refused(found.check("3-12 09:00", "settle"), typed)
    assert said == "the count that is right: 18 (bench) or 17 (phone)"


def test_it_is_asked_on_later_days_too_until_it_is_settled(walk: MakeWalk) -> None:
    found = counted_by_two(walk)
    found.write(Counted, "3-13", sowing="leek", standing=17)
    assert found.check("3-20", "settle").due.isoformat() == "2027-03-12"


def test_more_by_the_second_count_may_have_come_up_and_nobody_is_asked(walk: MakeWalk) -> None:
    assert counted_by_two(walk, 17, 18).checks("3-12 09:00", "settle") == []


def test_verify_names_it_in_the_same_words(walk: MakeWalk) -> None:
    found = counted_by_two(walk)
    says = found.check("3-12 09:00", "settle").says.removeprefix("leek: ").partition(";")[0]
    assert any(says in one for one in doubted(found))
