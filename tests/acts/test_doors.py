"""The doors of an act: command line, form, answer in the round give what `read` gives.

Texts are drawn at random from words that fit and words that do not; about half of what is drawn
has to fit, so that both are tried.
"""

from collections.abc import Callable, Iterator
from random import Random
from typing import Any

import pytest

from notebook import Notebook, moment, written
from seasons import lot, season
from seedstart.acts.act import Act, Field
from seedstart.acts.known import Known
from seedstart.acts.read import ACTS, NAMED, Filled, read
from seedstart.acts.sheet import AT, SURE
from seedstart.app.forms.form_input import fill_entry, form_fields
from seedstart.cli.log_command import command_of, texts_of
from seedstart.daily.answers import answer
from seedstart.daily.check import Asked, Check, Doing
from seedstart.problems import Problem
from seedstart.season.journal.entries import BLANK, Counted, Moved, PrickedOut, Soaked, Sown, Struck

LOTS = (
    lot("leek", "leek", station='"mat"')
    + lot("pea", "pea", station='"sill"', soak='"12 h"')
    + lot("sage", "sage")
)
DRAWS = 150
# By field, words that fit somewhere; those that never do come from BAD.
GOOD: dict[str, tuple[str, ...]] = {
    "sowing": ("leek", "LEEK", "pea", "leek.1"),
    "sowings": ("leek, pea", "leek, leek.1, pea"),
    "lot": ("leek", "pea", "Sage"),
    "what": ("leek", "tray 5", "tray:tray 5", "leek.1", "sowing:pea", "shelf"),
    "station": ("mat", "Shelf", "sill", ""),
    "tray": ("tray 5", "tray 9", ""),
    "container": ("9 cm pot", "TRAY OF 72", ""),
    "seeds": ("24", "9"),
    "standing": ("12", "=", "14", "15", "13"),
    "gone": ("died", "eaten", "earlier wrong", "slugs", ""),
    "plants": ("3", "2 left", "1", "5"),
    "into": ("5 into tray 9", "3 into sill", "tray 5:1, tray 9:2", "leeks"),
    "keys": ("want=80", "want=80, station=shelf"),
    "value": ("23.5C", "8000lux", "60%"),
    "quantity": ("", "medium", "lux"),
    "spot": ("", "", "60 x 35 cm"),
    "meter": ("", "", "phone"),
    "hours": ("3", "3 hours", "2.5 h", "0"),
    "grams": ("1700", "1.7 kg", "60 oz"),
    "state": ("now", "full", "d"),
    "ml": ("400", "1.5 l"),
    "ppm_n": ("50", "50 ppm"),
    "lamp_hours": ("14", "16 h"),
    "lamp_height": ("20 cm", "300 mm"),
    "lamp_percent": ("70", "70%"),
    "mat": ("on", "off"),
    "thermostat": ("24C", "75F"),
    "expected": ("22C", "21C day, 14C night"),
    "lasts": ("12 h", "28 days", "4 weeks"),
    "c": ("4C", "68F"),
    "day": ("2027-04-01", "saturday"),
    "tmin": ("3C",), "tmax": ("14C",), "wind": ("4",), "gust": ("9",), "rain": ("5",),
    "sun": ("3",),
    "check": ("water leek 2027-03-01",),
    "till": ("saturday", "3 days"),
    "cells": ("6", "12"), "looked_at": ("12",), "lost": ("1",), "replicate": ("2",),
    "sound": ("1",), "soft": ("2",),
    "depth": ("6 mm",), "lies_on": ("paper",), "purpose": ("test",), "name": ("second",),
    "onto": ("leek",), "instead_of": ("leek",),
    "normal": ("9",), "abnormal": ("1",), "hard": ("1",), "fresh": ("0",), "dead": ("2",),
    "text": ("white fluff", "ok"), "about": ("mould",), "why": ("slugs",), "to": ("Ana",),
    "with": ("rain",), "liquid": ("tea",), "medium": ("coir",), "place": ("left",),
    "trial": ("warm",),
    AT: ("2027-03-15", "yesterday 18:00"),
}  # fmt: skip
OF_ACT = {
    ("measure", "plants"): ("82/3.1, 75/2.9", "A1: 82/3.1/4"),
    ("dig up", "gone"): ("1", "0"),
    ("relabel", "name"): ("leek-late",),
}
BAD = ("nobody", "900", "-3", "x#y", "0", "all day", "2027-13-01", "9 into")


@pytest.fixture(scope="module")
def known() -> Known:
    book = Notebook()
    book.write(Sown, "3-01", sowing="leek", lot="leek", seeds=24, tray="tray 5")
    book.write(Moved, "3-01", tray="tray 5", station="shelf")
    book.write(Sown, "3-02", sowing="pea", lot="pea", seeds=24, station="mat")
    for sowing in ("leek", "pea"):
        book.write(Counted, "3-12", sowing=sowing, standing=16)
        book.write(Counted, "3-17", sowing=sowing, standing=17)
    book.write(PrickedOut, "3-17", sowing="leek", plants=4, into="leek.1", station="sill")
    book.write(Soaked, "3-17", lot="pea", hours=12.0)
    return Known(
        season(LOTS), book.records(LOTS), moment("3-20"), by="bench",
        keys_of=lambda _, name: {"name": name, "crop": name},
    )  # fmt: skip


def drawn(act: Act, random: Random) -> dict[str, str]:
    """Texts for some of its fields; what is needed is seldom left out."""
    texts: dict[str, str] = {}
    for one in act.fields:
        if random.random() < (0.03 if one.need or one.arg else 0.6):
            continue
        texts[one.key] = _word(act, one, random)
    if random.random() < 0.1:
        texts[AT] = random.choice(GOOD[AT])
    if random.random() < 0.1:
        texts[SURE] = "yes"
    return texts


def _word(act: Act, one: Field, random: Random) -> str:
    if one.flag:
        return "yes"
    good = OF_ACT.get((act.name, one.key)) or GOOD[one.key]
    return random.choice(BAD) if random.random() < 0.06 else random.choice(good)


def every_draw(act: Act) -> Iterator[dict[str, str]]:
    random = Random(act.name)
    return (drawn(act, random) for _ in range(DRAWS))


def on_command_line(act: Act, texts: dict[str, str]) -> dict[str, str]:
    """What the command makes of them, typed as arguments and options."""
    arguments, options = [], []
    for one in act.fields:
        if one.key in texts and one.arg:
            arguments.append(texts[one.key])
        elif one.key in texts and one.flag:
            options.append(f"--{one.key.replace('_', '-')}")
        elif one.key in texts:
            options += [f"--{one.key.replace('_', '-')}", texts[one.key]]
    options += [part for key in (AT, SURE) if key in texts for part in _common(key, texts[key])]
    command = command_of(act)
    context = command.make_context(act.command, [*options, "--", *arguments])
    said = {key: found for key, found in context.params.items() if key.startswith("the_")}
    return texts_of(act, said)[0]


def _common(key: str, text: str) -> list[str]:
    return [f"--{key}"] if key == SURE else [f"--{key}", text]


def in_a_form(act: Act, texts: dict[str, str], known: Known) -> dict[str, str]:
    """What stands in its fields: what was not typed is empty, or its default."""
    found = {one.key: texts.get(one.key, "") for one in form_fields(act)}
    for one in act.fields:
        if one.tacit and one.key not in texts:
            found[one.key] = one.default(known, found)
    return found | {key: texts[key] for key in (SURE,) if key in texts}


def left_out(act: Act, texts: dict[str, str]) -> dict[str, str]:
    """Without the arguments behind one that is missing: a command line cannot say them."""
    kept, gap = dict(texts), False
    for one in act.fields:
        if one.arg and one.key not in texts:
            gap = True
        elif one.arg and gap:
            del kept[one.key]
    return kept


def told(filled: Any) -> Any:
    return filled.entries, filled.at, dict(filled.problems), filled.questions


@pytest.mark.parametrize("act", ACTS, ids=lambda act: act.name)
def test_a_command_gives_what_the_door_gives(act: Act, known: Known) -> None:
    for texts in every_draw(act):
        typed = left_out(act, texts)
        given = on_command_line(act, typed)
        assert told(read(act, known, given)) == told(read(act, known, typed)), typed


@pytest.mark.parametrize("act", ACTS, ids=lambda act: act.name)
def test_a_form_gives_what_the_door_gives(act: Act, known: Known) -> None:
    for texts in every_draw(act):
        filled = fill_entry(act, known, in_a_form(act, texts, known))
        straight = read(act, known, texts)
        assert (filled.made or ()) == straight.entries, texts
        assert filled.at == straight.at
        assert set(filled.problems) == set(straight.problems), texts
        assert _hints(filled.problems) == _hints(straight.problems)
        assert filled.only_asks == straight.only_asks


def _hints(problems: Any) -> list[tuple[str, tuple[str, ...]]]:
    return sorted((one.hint, one.allowed) for one in problems.values())


IN_THE_ROUND = {
    "count": "standing", "weigh": "grams", "thin": "plants", "set out": "plants", "sow": "seeds",
    "prick out": "into", "measure": "plants", "harden off": "hours", "pot on": "container",
    "move": "station",
}  # fmt: skip


@pytest.mark.parametrize("name", IN_THE_ROUND)
def test_an_answer_in_the_round_gives_what_the_door_gives(name: str, known: Known) -> None:
    act, asks = NAMED[name], IN_THE_ROUND[name]
    for texts in every_draw(act):
        typed = texts.get(asks, "").strip()
        of = {key: text for key, text in texts.items() if key not in {asks, SURE}}
        if not typed:
            continue
        found = answer(check(name, of), f"{typed}{'!' if SURE in texts else ''}", known)
        try:
            short = act.short(typed, known)
        except ValueError:
            assert isinstance(found, Problem)
            continue
        sure = {SURE: "yes"} if SURE in texts else {}
        straight = read(act, known, {**of, **short, **sure})
        assert isinstance(found, Problem) == bool(straight.problems), texts
        if not isinstance(found, Problem):
            assert found == straight.entries, texts
        else:
            first = next(iter(straight.problems.values()))
            assert first.hint in found.hint


def check(name: str, texts: dict[str, str]) -> Check:
    """A check that is answered by this act."""
    asked = Asked("1", texts.get("sowing", "leek"))
    return Check(
        key="key", what="count", says="do it", why=(), subject=("sowing", "1"),
        due=moment("3-20").date(), typed=Doing(name, (texts,)), sowings=(asked,),
    )  # fmt: skip


def by_command(texts: dict[str, str], _: str, known: Known) -> object:
    filled = read(NAMED["count"], known, on_command_line(NAMED["count"], texts))
    return filled.entries or next(iter(filled.problems.values()))


def by_form(texts: dict[str, str], _: str, known: Known) -> object:
    form = fill_entry(NAMED["count"], known, in_a_form(NAMED["count"], texts, known))
    return form.made or next(iter(form.problems.values()))


def by_round(_: dict[str, str], typed: str, known: Known) -> object:
    return answer(check("count", {"sowing": "pea"}), typed, known)


@pytest.mark.parametrize("door", [by_command, by_form, by_round])
@pytest.mark.parametrize(
    ("texts", "typed", "lost", "struck"),
    [
        ({"standing": "14"}, "14", None, None),  # no death until someone says so
        ({"standing": "14", SURE: "yes"}, "14!", {}, 0),
        ({"standing": "14", "gone": "died"}, "14 died", {"lost": 3, "why": "died"}, 0),
        ({"standing": "14", "gone": "eaten"}, "14 eaten", {"lost": 3, "why": "eaten"}, 0),
        ({"standing": "16", "gone": "earlier wrong"}, "16 earlier wrong", {}, 1),
        ({"standing": "9", "gone": "Earlier wrong"}, "9 earlier wrong", {}, 2),
    ],
)
def test_a_lower_count_says_the_same_by_whichever_door(
    door: Callable[[dict[str, str], str, Known], object],
    texts: dict[str, str],
    typed: str,
    lost: dict[str, Any] | None,
    struck: int | None,
    known: Known,
) -> None:
    found = door({"sowing": "pea", **texts}, typed, known)
    if lost is None or struck is None:
        assert isinstance(found, Problem)
        assert found.hint == "17 stood, 3 are missing. What happened?"
        assert found.allowed == ("died", "eaten", "pulled out", "earlier wrong")
        return
    counted = Counted(**BLANK, sowing="pea", standing=int(texts["standing"]), **lost)
    latest_first = (written(2027, 7), written(2027, 6))
    assert found == (*(Struck(**BLANK, entry=one) for one in latest_first[:struck]), counted)


def test_about_half_of_what_is_drawn_fits(known: Known) -> None:
    found = {
        act.name: [bool(read(act, known, texts).entries) for texts in every_draw(act)]
        for act in ACTS
    }
    fits = sum(map(sum, found.values()))
    assert 0.35 < fits / (DRAWS * len(ACTS)) < 0.75
    assert [name for name, made in found.items() if not any(made) or all(made)] == []


def test_a_field_that_an_act_does_not_have_is_never_passed_over(known: Known) -> None:
    with pytest.raises(KeyError, match="water has no grams"):
        read(NAMED["water"], known, {"what": "leek", "grams": "3"})


def test_a_question_is_answered_by_being_sure_and_a_fault_is_not(known: Known) -> None:
    def lose(plants: str, **more: str) -> Filled:
        return read(NAMED["lose"], known, {"sowing": "leek", "plants": plants, **more})

    asked = lose("14")
    assert asked.only_asks
    assert "13 stood on Wed 17 Mar 2027, not 14" in asked.problems["plants"].hint
    assert lose("14", sure="yes").entries
    assert not lose("x", sure="yes").entries
    both = read(NAMED["lose"], known, {"sowing": "leek", "plants": "14", "at": "tomorrow"})
    assert not both.only_asks


def test_what_was_never_counted_is_taken_as_come_up_uncounted() -> None:
    book = Notebook()
    book.write(Sown, "3-01", sowing="leek", lot="leek", seeds=24)
    book.write(Sown, "3-01", sowing="dust", lot="sage", grams=0.1)
    fresh = Known(season(LOTS), book.records(LOTS), moment("3-20"))

    def prick(sowing: str, into: str) -> Filled:
        return read(NAMED["prick out"], fresh, {"sowing": sowing, "into": into})

    assert prick("leek", "24 into sill").entries
    assert prick("leek", "25 into sill").questions == {"into"}  # more than were sown
    assert prick("dust", "500 into sill").entries  # nobody knows how many were sown


def test_a_count_of_more_than_three_days_ago_no_longer_says_what_stands() -> None:
    book = Notebook()
    book.write(Sown, "3-01", sowing="leek", lot="leek", seeds=24)
    book.write(Counted, "3-10 20:00", sowing="leek", standing=5)
    texts = {"sowing": "leek", "plants": "6"}
    asked = {
        day: bool(
            read(
                NAMED["give away"], Known(season(LOTS), book.records(), moment(day)), texts
            ).problems
        )
        for day in ("3-13 08:00", "3-14 08:00")
    }
    assert asked == {"3-13 08:00": True, "3-14 08:00": False}


def test_another_writers_lower_count_of_the_same_morning_is_a_disagreement() -> None:
    book = Notebook()
    book.write(Sown, "3-01", sowing="leek", lot="leek", seeds=24)
    book.write(Counted, "3-12 08:00", sowing="leek", standing=18)
    texts = {"sowing": "leek", "standing": "17"}

    def count(by: str, at: str) -> Filled:
        return read(NAMED["count"], Known(season(LOTS), book.records(), moment(at), by=by), texts)

    (entry,) = count("phone", "3-12 08:20").entries
    assert isinstance(entry, Counted)
    assert (entry.standing, entry.lost, entry.why) == (17, None, None)
    assert count("bench", "3-12 08:20").questions == {"gone"}
    assert count("phone", "3-13 08:20").questions == {"gone"}


@pytest.mark.parametrize(("at", "tray"), [("2027-03-12", "tray M"), ("2027-03-16", None)])
def test_a_sowing_carried_at_a_past_time_takes_its_tray_if_it_was_alone_in_it_then(
    at: str, tray: str | None
) -> None:
    book = Notebook()
    book.write(Sown, "3-01", sowing="leek", lot="leek", seeds=60, tray="tray M", station="mat")
    book.write(Sown, "3-15", sowing="pea", lot="pea", seeds=9, tray="tray M", station="mat")
    book.write(Moved, "3-18", sowing="pea", station="sill")
    book.write(Moved, "3-18", sowing="leek", station="sill")
    lots = lot("leek", "leek") + lot("pea", "pea")
    known = Known(season(lots), book.records(lots), moment("3-20"))
    filled = read(NAMED["move"], known, {"what": "leek", "station": "shelf", "at": at})
    (entry,) = filled.entries
    assert isinstance(entry, Moved)
    assert entry.tray == tray


def test_a_tray_that_is_pricked_out_into_at_a_past_time_stands_where_it_stood_then() -> None:
    book = Notebook()
    book.write(Sown, "3-01", sowing="leek", lot="leek", seeds=60, tray="tray M", station="mat")
    book.write(Counted, "3-10", sowing="leek", standing=20)
    book.write(Moved, "3-18", tray="tray 40", station="sill")
    lots = lot("leek", "leek")
    known = Known(season(lots), book.records(lots), moment("3-20"))
    texts = {"sowing": "leek", "into": "9 into tray 40", "station": "shelf", "at": "2027-03-12"}
    (entry,) = read(NAMED["prick out"], known, texts).entries
    assert isinstance(entry, PrickedOut)
    assert (entry.tray, entry.station) == ("tray 40", "shelf")
