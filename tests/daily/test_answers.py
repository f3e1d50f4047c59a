"""What was typed into a check → the entries that it writes, or why it does not do."""

from datetime import date
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import structs

from notebook import Notebook, moment
from seasons import lot, season
from seedstart.acts.act import Texts
from seedstart.acts.known import Known
from seedstart.app.screens.round_items import Row
from seedstart.app.screens.round_keys import keys_of
from seedstart.daily.answers import answer, seen, seen_in_words
from seedstart.daily.check import Alert, AlertKind, Asked, Check, Doing
from seedstart.problems import Problem
from seedstart.season.journal.entries import (
    BLANK,
    Checked,
    Counted,
    Entry,
    Finished,
    Hardened,
    Held,
    Measured,
    Moved,
    PottedOn,
    PrickedOut,
    PutOff,
    SetOut,
    Sown,
    TakenOut,
    Thinned,
    Watered,
    Weighed,
)
from seedstart.season.journal.entry import Subject

TODAY = date(2027, 3, 17)  # a Wednesday
LOTS = lot("leek", "leek", station='"mat"') + lot("parsley", "parsley")


def bench() -> Known:
    """Leek of which 9, then 12 stood; parsley and celery not up; tray 5 on the sill."""
    book = Notebook()
    book.write(Moved, "3-01", tray="tray 5", station="sill")
    book.write(Sown, "3-02", sowing="leek", lot="leek", seeds=24)
    book.write(Sown, "3-02", sowing="parsley", lot="parsley", seeds=24)
    book.write(Sown, "3-02", sowing="celery", lot="parsley", seeds=24)
    for day, stand in (("3-13", 9), ("3-16", 12)):
        book.write(Counted, day, sowing="leek", standing=stand)
    plan = season(LOTS)
    return Known(plan=plan, records=book.records(), now=moment("3-17 08:00"), by="me")


KNOWN = bench()
LEEK = Asked("1", "leek", last=12, standing=12)
PARSLEY, CELERY = Asked("2", "parsley"), Asked("3", "celery")


def check(
    act: str, *sowings: Asked, tick: Doing | None = None, texts: Texts | None = None, **more: Any
) -> Check:
    """A check whose answer goes to an act on these sowings, or on what `texts` name."""
    asked = sowings or (LEEK,)
    what = act in {"harden off", "move"}
    of: tuple[Texts, ...] = tuple(
        {"what": f"sowing:{one.name}"} if what else {"sowing": one.name} for one in asked
    )
    subject: Subject = ("sowing", "1")
    typed = Doing(act, (texts,) if texts is not None else of)
    fields: dict[str, Any] = {
        "key": "key", "what": "count", "says": "do it", "why": (), "subject": subject,
        "due": TODAY, "tick": tick, "typed": typed if act else None, "sowings": asked,
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


TRAY = {"what": "tray:tray 5"}
WATER = Doing("water", (TRAY,))
SEEN = Doing("check", ({},), {"check": {"check": "key"}})


# Counts.


@pytest.mark.parametrize(
    ("typed", "standing", "final"),
    [("18", 18, False), ("=", 12, False), ("18 final", 18, True), ("= last", 12, True),
     (" 18 ", 18, False), ("012", 12, False), ("24", 24, False), ("final", 12, True)],
)  # fmt: skip
def test_a_count_is_all_that_stand_now(typed: str, standing: int, final: bool) -> None:
    expected = Counted(**BLANK, sowing="leek", standing=standing, final=final)
    assert entries(check("count"), typed) == (expected,)


def test_several_are_counted_in_the_order_shown() -> None:
    both = check("count", LEEK, PARSLEY)
    assert [one.standing for one in entries(both, "13, 4") if isinstance(one, Counted)] == [13, 4]
    assert [one.standing for one in entries(both, "=") if isinstance(one, Counted)] == [12, 0]
    assert "one count each, separated by commas: leek, parsley" in refused(both, "13").hint
    assert "one count each" in refused(both, "13, 4, 5").hint
    assert refused(both, "9, 4").key == "leek"


def test_a_nought_for_a_whole_tray_holds_for_those_of_which_none_stood() -> None:
    none_up = check("count", PARSLEY, CELERY)
    found = entries(none_up, "0")
    assert [one.standing for one in found if isinstance(one, Counted)] == [0, 0]


@pytest.mark.parametrize(
    "typed", ["many", "-3", "1.5", "12 died", "9 perhaps", "18 finl", "9999999999", "+1"]
)
def test_what_is_no_count_is_refused(typed: str) -> None:
    assert refused(check("count"), typed).hint


def test_a_count_has_to_be_typed_unless_none_is_up() -> None:
    assert "how many stand now" in refused(check("count"), "").hint
    none_up = Doing("count", ({"sowing": "parsley", "standing": "0"},))
    zero = Counted(**BLANK, sowing="parsley", standing=0)
    assert entries(check("count", PARSLEY, tick=none_up), "") == (zero,)


# Water, weight, light, hours, heights.


def test_a_number_that_is_no_weight_of_the_tray_is_asked_about() -> None:
    book = Notebook()
    book.write(Moved, "3-01", tray="tray 5", station="sill")
    book.write(Weighed, "3-10", tray="tray 5", grams=1740.0, state="full")
    known = structs.replace(KNOWN, records=book.records())
    felt = check("weigh", texts=TRAY, what="water", tick=WATER)
    asked = answer(felt, "18", known)
    assert isinstance(asked, Problem)
    assert asked.hint.startswith("18 g? It weighed 1740 g on Wed 10 Mar 2027. How many are up")
    for typed in ("1100", "18!", "1.7 kg"):
        assert not isinstance(answer(felt, typed, known), Problem)


def test_a_sowing_is_put_off_to_the_next_work_day() -> None:
    plan = structs.replace(
        KNOWN.plan, work_days=("sat", "wed"), away=((date(2027, 3, 20), date(2027, 3, 21)),)
    )
    sow = check("sow", texts={"lot": "leek"}, what="sow")
    for season_of, until in ((plan, date(2027, 3, 24)), (KNOWN.plan, date(2027, 3, 18))):
        found = answer(sow, "put off", structs.replace(KNOWN, plan=season_of))
        assert not isinstance(found, Problem)
        (off,) = found
        assert isinstance(off, PutOff)
        assert off.until == until


def test_nothing_typed_at_a_felt_tray_waters_it_and_a_number_weighs_it() -> None:
    felt = check("weigh", texts=TRAY, what="water", tick=WATER)
    assert entries(felt, "") == (Watered(**BLANK, tray="tray 5"),)
    for typed in ("1700", "1700 g", "1700 grams", "1700,0", "1.7 kg"):
        (weighed,) = entries(felt, typed)
        assert weighed == Weighed(**BLANK, tray="tray 5", grams=1700.0, state="now")
    for typed in ("0", "-5", "heavy"):
        assert "its weight in grams" in refused(felt, typed).hint


def test_hours_outdoors() -> None:
    step = Doing("harden off", ({"what": "leek"},), {"hours": {"hours": 10 / 3}})
    out = check("harden off", what="harden", tick=step)
    assert entries(out, "") == (Hardened(**BLANK, sowing="leek", hours=10 / 3),)
    for typed in ("2,5 h", "2.5 hours", "2.5"):
        assert entries(out, typed) == (Hardened(**BLANK, sowing="leek", hours=2.5),)
    for typed in ("8 night", "8 h + night", "8 hours and night"):
        assert entries(out, typed) == (Hardened(**BLANK, sowing="leek", hours=8.0, night=True),)
    assert entries(out, "held: windy") == (Held(**BLANK, sowing="leek", why="windy"),)
    for typed in ("25", "all day", "-1"):
        assert "hours outdoors" in refused(out, typed).hint
    assert "why they were kept in" in refused(out, "held").hint
    assert "hours outdoors" in refused(check("harden off", what="harden"), "").hint


def test_a_tray_goes_out_as_one() -> None:
    out = check("harden off", LEEK, PARSLEY, texts=TRAY, what="harden")
    assert entries(out, "2") == (Hardened(**BLANK, tray="tray 5", hours=2.0),)


def test_heights_and_stems() -> None:
    (measured,) = entries(check("measure"), "52/2.1, 48/1.9")
    assert isinstance(measured, Measured)
    assert [(one.height_mm, one.diameter_mm) for one in measured.plants] == [(52, 2.1), (48, 1.9)]
    for typed in ("", "52", "52/", "52/0", "tall/thin", "52/2.1,"):
        assert "height and stem" in refused(check("measure"), typed).hint


def test_a_station_by_any_of_its_names() -> None:
    moved = check("move", what="move to light")
    assert entries(moved, "SHELF") == (Moved(**BLANK, sowing="leek", station="shelf"),)
    assert "mat, shelf, sill" in refused(moved, "").hint
    assert "“shelv” is not one of mat, shelf, sill" in refused(moved, "shelv").hint


# Plants.


def test_thinning_leaves_fewer_than_stood() -> None:
    thin = check("thin", what="thin")
    assert entries(thin, "10") == (Thinned(**BLANK, sowing="leek", left=10),)
    for typed in ("12", "13", "", "x"):
        assert refused(thin, typed).hint
    assert "none would go. Add !" in refused(thin, "13").hint
    assert entries(thin, "13 !") == (Thinned(**BLANK, sowing="leek", left=13),)


def test_setting_out_all_or_some() -> None:
    every = Doing("set out", ({"sowing": "leek", "plants": "all"},))
    out = check("set out", what="set out", tick=every)
    for typed in ("", "all", "ALL"):
        assert entries(out, typed) == (SetOut(**BLANK, sowing="leek", left=0),)
    assert entries(out, "5") == (SetOut(**BLANK, sowing="leek", plants=5),)
    assert "12 stood on Tue 16 Mar 2027, not 13" in refused(out, "13").hint
    assert entries(out, "13!") == (SetOut(**BLANK, sowing="leek", plants=13),)
    assert refused(out, "0").hint


def test_plants_that_stay_are_checked_and_a_rest_may_be_thrown_away() -> None:
    out = check("set out", what="set out")
    assert entries(out, "keep") == (Checked(**BLANK, check="key"),)
    rest = check("set out", Asked("1", "leek", standing=12, parted=True), what="set out")
    assert entries(rest, "0") == (Finished(**BLANK, sowing="leek", why="thrown away"),)


def test_potting_on_into_a_container_of_the_season() -> None:
    pot = check("pot on", what="pot on", tick=Doing("pot on", ({"sowing": "leek"},)))
    assert entries(pot, "") == (PottedOn(**BLANK, sowing="leek"),)
    assert entries(pot, "9 CM POT") == (PottedOn(**BLANK, sowing="leek", container="9 cm pot"),)
    assert "tray of 72" in refused(pot, "bucket").hint


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
    found = [one for one in entries(check("prick out"), typed) if isinstance(one, PrickedOut)]
    assert [(one.plants, one.tray, one.station) for one in found] == parts
    assert [one.into for one in found] == [f"leek.{n}" for n, _ in enumerate(parts, start=1)]


@pytest.mark.parametrize(
    "typed", ["", "0", "13", "tray 6", "into", "5 into tray 6:6", ",", "5 into ,", "13 into sill"]
)
def test_pricking_out_more_than_stand_or_nowhere_is_refused(typed: str) -> None:
    assert refused(check("prick out"), typed).hint


_SOWING = Doing("sow", ({"lot": "leek", "seeds": "48", "station": "mat"},))
SOW = check("sow", texts=_SOWING.of[0], what="sow", tick=_SOWING)


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
    assert entries(SOW, typed) == (Sown(**BLANK, sowing="leek/2", lot="leek", **fields),)


def test_sowing_into_a_tray_that_stands_elsewhere_does_not_carry_it() -> None:
    (sown,) = entries(SOW, "24 in Tray 5")
    assert isinstance(sown, Sown)
    assert (sown.tray, sown.station) == ("tray 5", None)


@pytest.mark.parametrize("typed", ["0", "about", "g", "1.5", "some", "about 0", "0 g", "24 24"])
def test_what_is_no_amount_of_seed_is_refused(typed: str) -> None:
    assert "how many seeds" in refused(SOW, typed).hint.casefold()


def test_without_a_number_in_the_plan_one_has_to_be_typed() -> None:
    assert "how many seeds" in refused(check("sow", texts={"lot": "leek"}), "").hint


def test_a_tick_ends_the_very_treatment_that_its_check_is_about() -> None:
    out = Doing("take out", ({},), {"lot": {"lot": "leek", "entry": "e" * 36}})
    assert entries(check("", tick=out), "") == (TakenOut(**BLANK, entry="e" * 36),)


# Ticks, later, several at once.


def test_a_tick_that_writes_nothing_else_says_that_it_was_done() -> None:
    assert entries(check("", tick=SEEN), "") == (Checked(**BLANK, check="key"),)
    assert "nothing to type here" in refused(check("", tick=SEEN), "5").hint


EVERY = (
    "", "count", "weigh", "thin", "set out", "sow", "prick out", "measure", "harden off", "pot on",
    "move",
)  # fmt: skip
TEXTS = {"weigh": TRAY, "sow": {"lot": "leek"}}


@pytest.mark.parametrize("act", EVERY)
def test_everything_may_be_put_off(act: str) -> None:
    (later,) = entries(check(act, texts=TEXTS.get(act)), "put off: Saturday")
    assert later == PutOff(**BLANK, check="key", until=date(2027, 3, 20))
    assert "is past" in refused(check(act, texts=TEXTS.get(act)), "put off: 2027-03-01").hint


def test_a_tick_of_several_does_each_that_is_not_done() -> None:
    parts = (
        check("weigh", texts=TRAY, what="water", key="a", tick=WATER),
        check("", key="b", tick=SEEN),
        check("", key="c", done_by="me"),
    )
    both = (Watered(**BLANK, tray="tray 5"), Checked(**BLANK, check="key"))
    assert entries(check("", parts=parts), "") == both
    later = entries(check("", parts=parts[:2], what="water"), "moist")
    assert [one.check for one in later if isinstance(one, PutOff)] == ["a", "b"]


def test_several_sowings_of_one_lot_at_once_get_a_name_each() -> None:
    found = entries(check("", parts=(SOW, SOW)), "")
    assert [one.sowing for one in found if isinstance(one, Sown)] == ["leek/2", "leek/3"]


def test_several_of_which_one_wants_an_answer_are_not_half_ticked() -> None:
    parts = (check("", key="a", tick=SEEN), check("thin", key="b", what="thin"))
    assert refused(check("", parts=parts), "").hint


SEEN_OF: tuple[AlertKind, ...] = ("too cold", "late", "overdue")


def alert_of(kind: AlertKind) -> Alert:
    return Alert(
        key=f"{kind} mat 2027-03-05", kind=kind, level="today", subject=("station", "mat"),
        brief="", text="", since=moment("3-05"), remedies=(), basis="",
    )  # fmt: skip


def test_an_alert_that_was_seen_leaves_its_key() -> None:
    assert seen(alert_of("too cold")) == Checked(**BLANK, check="too cold mat 2027-03-05")


def test_an_alert_that_was_seen_says_whether_it_can_come_back() -> None:
    said = {kind: seen_in_words(alert_of(kind)) for kind in SEEN_OF}
    assert said == {
        "too cold": "Seen. It comes back if it happens again.",
        "late": "Seen. It comes back if it gets worse.",
        "overdue": "Seen. It does not come back.",
    }


@pytest.mark.parametrize("act", EVERY)
def test_every_check_says_how_it_is_answered(act: str) -> None:
    keys = {key.key: key.label for key in keys_of(Row(check(act, tick=SEEN)))}
    assert {"Space", "p", "w"} <= keys.keys()
    assert not act or keys.keys() & {"0-9", "Enter"}
    assert all(keys.values())


NASTY = "\x1b[31m[bold]x[/]\u202e=cmd|' /C calc'!A0\x00\n"


@pytest.mark.parametrize("act", EVERY)
def test_hostile_text_is_refused_or_written_as_plain_text(act: str) -> None:
    for typed in (NASTY, f"put off: {NASTY}", f"held: {NASTY}", f"3 into {NASTY}"):
        found = answer(check(act, texts=TEXTS.get(act)), typed, KNOWN)
        shown = str(found)
        assert "\x1b" not in shown
        assert "\u202e" not in shown


@settings(derandomize=True, deadline=None, max_examples=200)
@given(st.sampled_from(EVERY), st.text(max_size=40) | st.from_regex(r"[0-9a-z:,/= ]{0,20}"))
def test_whatever_is_typed_is_taken_or_refused_in_a_sentence(act: str, typed: str) -> None:
    found = answer(check(act, texts=TEXTS.get(act)), typed, KNOWN)
    if isinstance(found, Problem):
        assert found.hint
        assert str(found)
    else:
        assert found


def test_a_new_trays_name_has_an_end() -> None:
    problem = refused(check("prick out"), f"5 into {'t' * 101}")
    assert "A name has up to 100 characters" in str(problem)
