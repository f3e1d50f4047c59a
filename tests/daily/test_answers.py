"""What was typed into a check → the entries that it writes, or why it does not do."""

from datetime import date
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from notebook import moment
from seasons import season
from seedstart.daily.answers import Known, answer, how_to_answer, seen
from seedstart.daily.check import Alert, Asked, Asks, Check, ToSow
from seedstart.problems import Problem
from seedstart.season.entries import (
    BLANK,
    Checked,
    Counted,
    Entry,
    Hardened,
    Held,
    Measured,
    Moved,
    PottedOn,
    PrickedOut,
    PutOff,
    SetOut,
    Sown,
    Struck,
    Thinned,
    Watered,
    Weighed,
)
from seedstart.season.entry import Subject
from seedstart.season.names import Names
from seedstart.tracking.place import Place
from seedstart.tracking.standing import Stay

TODAY = date(2027, 3, 17)  # a Wednesday
TRAY_5: Subject = ("tray", "tray 5")
PLACES = {
    TRAY_5: Place(subject=TRAY_5, stays=(Stay(("station", "sill"), moment("3-01")),)),
}
KNOWN = Known(TODAY, Names(season().stations), ("9 cm pot", "tray of 72"), ("leek",), PLACES)
LEEK = Asked("1", "leek", last=12, earlier=((12, "c" * 36), (9, "b" * 36)), standing=12, seeds=24)
PARSLEY = Asked("2", "parsley")
WATERED = Watered(**BLANK, tray="tray 5")


def check(asks: Asks, *sowings: Asked, tray: str | None = None, **more: Any) -> Check:
    subject: Subject = ("tray", tray) if tray else ("sowing", "1")
    fields: dict[str, Any] = {
        "key": "key", "what": "count", "says": "do it", "why": (), "subject": subject,
        "due": TODAY, "asks": asks, "sowings": sowings or (LEEK,), "tray": tray,
    }  # fmt: skip
    return Check(**(fields | more))


def entries(asked: Check, typed: str) -> tuple[Entry, ...]:
    found = answer(asked, typed, KNOWN)
    assert not isinstance(found, Problem), str(found)
    return found


def refused(asked: Check, typed: str) -> Problem:
    found = answer(asked, typed, KNOWN)
    assert isinstance(found, Problem), found
    return found


# Counts.


@pytest.mark.parametrize(
    ("typed", "standing", "final"),
    [("18", 18, False), ("=", 12, False), ("18 final", 18, True), ("= last", 12, True),
     (" 18 ", 18, False), ("012", 12, False), ("30", 30, False)],
)  # fmt: skip
def test_a_count_is_all_that_stand_now(typed: str, standing: int, final: bool) -> None:
    expected = Counted(**BLANK, sowing="leek", standing=standing, final=final)
    assert entries(check("count"), typed) == (expected,)


def test_several_are_counted_in_the_order_shown() -> None:
    both = check("count", LEEK, PARSLEY)
    assert [one.standing for one in entries(both, "13, 4") if isinstance(one, Counted)] == [13, 4]
    assert [one.standing for one in entries(both, "=") if isinstance(one, Counted)] == [12, 0]
    assert "one count each, with commas between: leek, parsley" in refused(both, "13").hint
    assert "one count each" in refused(both, "13, 4, 5").hint


def test_a_nought_for_a_whole_tray_holds_for_those_of_which_none_stood() -> None:
    none_up = check("count", PARSLEY, Asked("3", "celery"))
    found = entries(none_up, "0")
    assert [one.standing for one in found if isinstance(one, Counted)] == [0, 0]


def test_a_lower_count_is_no_death_until_someone_says_so() -> None:
    problem = refused(check("count"), "9")
    assert "12 stood, 3 are missing. What happened?" in problem.hint
    assert (problem.key, tuple(problem.allowed)) == ("leek", ("died", "eaten", "earlier wrong"))
    for why in ("died", "eaten"):
        (count,) = entries(check("count"), f"9 {why}")
        assert count == Counted(**BLANK, sowing="leek", standing=9, lost=3, why=why)


def test_an_earlier_count_that_was_wrong_is_struck_and_nobody_died() -> None:
    struck, count = entries(check("count"), "10 earlier wrong")
    assert struck == Struck(**BLANK, entry="c" * 36)
    assert count == Counted(**BLANK, sowing="leek", standing=10)
    assert len(entries(check("count"), "8 earlier wrong")) == 3


def test_without_an_earlier_count_none_was_wrong() -> None:
    plants = Asked("4", "leek.1", standing=12)
    assert tuple(refused(check("count", plants), "9").allowed) == ("died", "eaten")
    assert isinstance(answer(check("count", plants), "9 earlier wrong", KNOWN), Problem)


@pytest.mark.parametrize("typed", ["many", "-3", "1.5", "12 died", "9 perhaps", "9999999999", "+1"])
def test_what_is_no_count_is_refused(typed: str) -> None:
    assert refused(check("count"), typed).hint


def test_a_count_has_to_be_typed_unless_none_is_up() -> None:
    assert "how many stand now" in refused(check("count"), "").hint
    zero = Counted(**BLANK, sowing="leek", standing=0)
    assert entries(check("count", writes=(zero,)), "") == (zero,)


# Water, weight, light, hours, heights.


def test_nothing_typed_at_a_felt_tray_waters_it_and_a_number_weighs_it() -> None:
    felt = check("grams", tray="tray 5", what="feel", writes=(WATERED,))
    assert entries(felt, "") == (WATERED,)
    for typed in ("1700", "1700 g", "1700 grams", "1700,0"):
        (weighed,) = entries(felt, typed)
        assert weighed == Weighed(**BLANK, tray="tray 5", grams=1700.0, state="now")
    for typed in ("0", "-5", "heavy", "1.7 kg"):
        assert "its weight in grams" in refused(felt, typed).hint


def test_hours_outdoors() -> None:
    step = Hardened(**BLANK, sowing="leek", hours=3.0)
    out = check("hours", what="harden", writes=(step,))
    assert entries(out, "") == (step,)
    assert entries(out, "2,5 h") == (Hardened(**BLANK, sowing="leek", hours=2.5),)
    for typed in ("8 night", "8 h + night", "8 hours and night"):
        assert entries(out, typed) == (Hardened(**BLANK, sowing="leek", hours=8.0, night=True),)
    assert entries(out, "held: windy") == (Held(**BLANK, sowing="leek", why="windy"),)
    for typed in ("25", "all day", "-1"):
        assert "hours outdoors" in refused(out, typed).hint
    assert "why they were kept in" in refused(out, "held").hint
    assert "hours outdoors" in refused(check("hours", what="harden"), "").hint


def test_a_tray_goes_out_as_one() -> None:
    out = check("hours", LEEK, PARSLEY, tray="tray 5", what="harden")
    assert entries(out, "2") == (Hardened(**BLANK, tray="tray 5", hours=2.0),)


def test_heights_and_stems() -> None:
    (measured,) = entries(check("heights"), "52/2.1, 48/1.9")
    assert isinstance(measured, Measured)
    assert [(one.height_mm, one.diameter_mm) for one in measured.plants] == [(52, 2.1), (48, 1.9)]
    for typed in ("", "52", "52/", "52/0", "tall/thin", "52/2.1,"):
        assert "height and stem" in refused(check("heights"), typed).hint
    assert "one sowing at a time" in refused(check("heights", LEEK, PARSLEY), "52/2.1").hint


def test_a_station_by_any_of_its_names() -> None:
    moved = check("station", what="move to light")
    assert entries(moved, "SHELF") == (Moved(**BLANK, sowing="leek", station="shelf"),)
    assert "mat, shelf, sill" in refused(moved, "").hint
    assert "mat, shelf, sill" in refused(moved, "shelv").hint


# Plants.


def test_thinning_leaves_fewer_than_stood() -> None:
    thin = check("left", what="thin")
    assert entries(thin, "10") == (Thinned(**BLANK, sowing="leek", left=10),)
    for typed in ("12", "13", "", "x"):
        assert refused(thin, typed).hint


def test_setting_out_all_or_some() -> None:
    out = check("plants", what="set out")
    for typed in ("", "all", "ALL"):
        assert entries(out, typed) == (SetOut(**BLANK, sowing="leek", left=0),)
    assert entries(out, "5") == (SetOut(**BLANK, sowing="leek", plants=5),)
    assert "only 12 stand" in refused(out, "13").hint
    assert refused(out, "0").hint


def test_potting_on_into_a_container_of_the_season() -> None:
    pot = check("container", what="pot on")
    assert entries(pot, "") == (PottedOn(**BLANK, sowing="leek"),)
    assert entries(pot, "9 CM POT") == (PottedOn(**BLANK, sowing="leek", container="9 cm pot"),)
    assert "9 cm pot, tray of 72" in refused(pot, "bucket").hint


@pytest.mark.parametrize(
    ("typed", "parts"),
    [("8 into tray 6", [(8, "tray 6", None)]),
     ("tray 6:5, SILL:7", [(5, "tray 6", None), (7, None, "sill")]),
     ("9 into tray 6, tray 7:3", [(6, "tray 6", None), (3, "tray 7", None)]),
     ("5 into Tray 5", [(5, "tray 5", None)])],
)  # fmt: skip
def test_pricking_out_makes_a_daughter_a_place(
    typed: str, parts: list[tuple[int, str | None, str | None]]
) -> None:
    found = [one for one in entries(check("plants into"), typed) if isinstance(one, PrickedOut)]
    assert [(one.plants, one.tray, one.station) for one in found] == parts
    assert [one.into for one in found] == [f"leek.{n}" for n, _ in enumerate(parts, start=1)]


@pytest.mark.parametrize(
    "typed", ["", "0", "13", "tray 6", "into", "5 into tray 6:6", ",", "5 into ,"]
)
def test_pricking_out_more_than_stand_or_nowhere_is_refused(typed: str) -> None:
    assert refused(check("plants into"), typed).hint


SOW = check("seeds", what="sow", to_sow=ToSow("leek", 48, "mat", ("a" * 36,)))


@pytest.mark.parametrize(
    ("typed", "fields"),
    [("", {"seeds": 48, "station": "mat"}), ("24", {"seeds": 24, "station": "mat"}),
     ("about 100", {"about": 100, "station": "mat"}), ("ca. 100", {"about": 100, "station": "mat"}),
     ("2 g", {"grams": 2.0, "station": "mat"}), ("0,5g", {"grams": 0.5, "station": "mat"}),
     ("24 seeds in tray 9", {"seeds": 24, "tray": "tray 9", "station": "mat"}),
     ("24 into shelf", {"seeds": 24, "station": "shelf"}),
     ("in tray 9", {"seeds": 48, "tray": "tray 9", "station": "mat"})],
)  # fmt: skip
def test_a_sowing(typed: str, fields: dict[str, Any]) -> None:
    after = ("a" * 36,)
    expected = Sown(**BLANK, sowing="leek/2", lot="leek", after=after, **fields)
    assert entries(SOW, typed) == (expected,)


def test_sowing_into_a_tray_that_stands_elsewhere_does_not_carry_it() -> None:
    (sown,) = entries(SOW, "24 in Tray 5")
    assert isinstance(sown, Sown)
    assert (sown.tray, sown.station) == ("tray 5", None)


@pytest.mark.parametrize("typed", ["0", "about", "g", "1.5", "some", "about 0", "0 g", "24 24"])
def test_what_is_no_amount_of_seed_is_refused(typed: str) -> None:
    assert "how many seeds" in refused(SOW, typed).hint


def test_without_a_number_in_the_plan_one_has_to_be_typed() -> None:
    assert "how many seeds" in refused(check("seeds", to_sow=ToSow("leek")), "").hint


# Ticks, later, several at once.


def test_a_tick_that_writes_nothing_else_says_that_it_was_done() -> None:
    assert entries(check("tick"), "") == (Checked(**BLANK, check="key"),)
    assert "nothing is typed here" in refused(check("tick"), "5").hint


EVERY: tuple[Asks, ...] = (
    "tick", "count", "grams", "left", "plants", "seeds", "plants into", "heights", "hours",
    "container", "station",
)  # fmt: skip


@pytest.mark.parametrize("asks", EVERY)
def test_everything_may_be_put_off(asks: Asks) -> None:
    (later,) = entries(check(asks, to_sow=SOW.to_sow), "put off: Saturday")
    assert later == PutOff(**BLANK, check="key", until=date(2027, 3, 20))


def test_a_tick_of_several_does_each_that_is_not_done() -> None:
    parts = (
        check("grams", what="feel", key="a", tray="tray 5", writes=(WATERED,)),
        check("tick", key="b"),
        check("tick", key="c", done_by="me"),
    )
    assert entries(check("tick", parts=parts), "") == (WATERED, Checked(**BLANK, check="b"))
    later = entries(check("tick", parts=parts[:2], what="feel"), "moist")
    assert [one.check for one in later if isinstance(one, PutOff)] == ["a", "b"]


def test_several_sowings_of_one_lot_at_once_get_a_name_each() -> None:
    parts = (SOW, check("seeds", key="d", what="sow", to_sow=SOW.to_sow))
    found = entries(check("tick", parts=parts), "")
    assert [one.sowing for one in found if isinstance(one, Sown)] == ["leek/2", "leek/3"]


def test_several_of_which_one_wants_an_answer_are_not_half_ticked() -> None:
    parts = (check("tick", key="a"), check("left", key="b", what="thin"))
    assert refused(check("tick", parts=parts), "").hint


def test_an_alert_that_was_seen_leaves_its_key() -> None:
    alert = Alert(
        key="too cold mat 2027-03-05", kind="too cold", level="today", subject=("station", "mat"),
        brief="", text="", since=moment("3-05"), cure="", basis="",
    )  # fmt: skip
    assert seen(alert) == Checked(**BLANK, check="too cold mat 2027-03-05")


@pytest.mark.parametrize("asks", EVERY)
def test_every_check_says_how_it_is_answered(asks: Asks) -> None:
    said = how_to_answer(check(asks))
    assert said.endswith(".")
    assert "  " not in said


NASTY = "\x1b[31m[bold]x[/]\u202e=cmd|' /C calc'!A0\x00\n"


@pytest.mark.parametrize("asks", EVERY)
def test_hostile_text_is_refused_or_written_as_plain_text(asks: Asks) -> None:
    for typed in (NASTY, f"put off: {NASTY}", f"held: {NASTY}", f"3 into {NASTY}"):
        found = answer(check(asks, to_sow=SOW.to_sow), typed, KNOWN)
        shown = str(found)
        assert "\x1b" not in shown
        assert "\u202e" not in shown


@settings(derandomize=True, deadline=None, max_examples=200)
@given(st.sampled_from(EVERY), st.text(max_size=40) | st.from_regex(r"[0-9a-z:,/= ]{0,20}"))
def test_whatever_is_typed_is_taken_or_refused_in_a_sentence(asks: Asks, typed: str) -> None:
    writes = (WATERED,) if asks == "grams" else ()
    found = answer(check(asks, to_sow=SOW.to_sow, writes=writes), typed, KNOWN)
    if isinstance(found, Problem):
        assert found.hint
        assert str(found)
    else:
        assert found


def test_a_new_trays_name_has_an_end() -> None:
    problem = refused(check("plants into"), f"5 into {'t' * 101}")
    assert "A name has up to 100 characters" in str(problem)
