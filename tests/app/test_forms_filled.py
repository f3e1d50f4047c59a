"""Forms without a screen: what is typed in their fields → what they write, or what is wrong."""

from datetime import date
from pathlib import Path
from typing import Any

import pytest

from form_host import filled, known, plain, season_in, write
from seedstart.acts.read import ACTS as ENTRY_ACTS
from seedstart.app.forms.act_chooser import act_named
from seedstart.app.forms.form_input import AT, form_fields
from seedstart.open_season import OpenSeason
from seedstart.problems import in_words
from seedstart.season.journal.entries import BLANK, KINDS, Finished, Plant, Soaked, Sown, TakenOut
from seedstart.season.journal.journal_lines import encode, stamped


@pytest.fixture
def season(tmp_path: Path) -> OpenSeason:
    return season_in(tmp_path)


# Every act: what is typed, and the fields of the lines that it writes.
WRITES: list[tuple[str, dict[str, str], list[dict[str, Any]]]] = [
    (
        "sow",
        {"lot": "LEEK", "seeds": "24", "station": "mat", "tray": "tray 9", "cells": "12"},
        [{"kind": "Sown", "sowing": "leek/2", "lot": "leek", "seeds": 24, "station": "mat",
          "tray": "tray 9", "cells": 12, "on": "medium", "purpose": "plants"}],
    ),
    (
        "sow",
        {"lot": "sweet-pea", "seeds": "about 100"},
        [{"kind": "Sown", "sowing": "sweet-pea", "lot": "sweet-pea", "about": 100,
          "station": "sill", "on": "medium", "purpose": "plants"}],
    ),
    (
        "sow",
        {"lot": "sweet-pea", "seeds": "2,5 g", "station": "", "depth": "6 mm",
         "place": "back row", "lies_on": "paper", "purpose": "test", "replicate": "2"},
        [{"kind": "Sown", "sowing": "sweet-pea", "lot": "sweet-pea", "grams": 2.5,
          "depth_mm": 6.0, "place": "back row", "replicate": 2, "on": "paper", "purpose": "test"}],
    ),
    (
        "soak",
        {"lot": "sweet-pea", "lasts": "12 h", "c": "68F"},
        [{"kind": "Soaked", "lot": "sweet-pea", "hours": 12.0, "c": 20.0}],
    ),
    (
        "stratify",
        {"lot": "sweet-pea", "lasts": "4 weeks", "seeds": "20"},
        [{"kind": "Stratified", "lot": "sweet-pea", "days": 28, "seeds": 20}],
    ),
    ("scarify", {"lot": "sweet-pea"}, [{"kind": "Scarified", "lot": "sweet-pea"}]),
    (
        "count",
        {"sowing": "leek", "standing": "44"},
        [{"kind": "Counted", "sowing": "leek", "standing": 44}],
    ),
    (
        "count",
        {"sowing": "leek", "standing": "=", "final": "yes"},
        [{"kind": "Counted", "sowing": "leek", "standing": 40, "final": True}],
    ),
    (
        "count",
        {"sowing": "leek", "standing": "37", "gone": "slugs"},
        [{"kind": "Counted", "sowing": "leek", "standing": 37, "lost": 3, "why": "slugs"}],
    ),
    (
        "measure",
        {"sowing": "leek", "plants": "82/3.1, 75/2.9"},
        [{"kind": "Measured", "sowing": "leek", "plants": (
            Plant(height_mm=82, diameter_mm=3.1), Plant(height_mm=75, diameter_mm=2.9))}],
    ),
    ("dig up", {"sowing": "leek", "sound": "1", "soft": "4"}, [
        {"kind": "Dug", "sowing": "leek", "sound": 1, "soft": 4, "gone": 0}]),
    ("thin", {"sowing": "leek", "plants": "30 left"}, [
        {"kind": "Thinned", "sowing": "leek", "left": 30}]),
    ("lose", {"sowing": "leek", "plants": "3", "why": "damping off"}, [
        {"kind": "Lost", "sowing": "leek", "plants": 3, "why": "damping off"}]),
    ("give away", {"sowing": "leek", "plants": "6", "to": "Ana"}, [
        {"kind": "Given", "sowing": "leek", "plants": 6, "to": "Ana"}]),
    ("set out", {"sowing": "leek", "plants": "all"}, [
        {"kind": "SetOut", "sowing": "leek", "left": 0}]),
    ("finish", {"sowing": "leek", "why": "bed full"}, [
        {"kind": "Finished", "sowing": "leek", "why": "bed full"}]),
    ("move", {"what": "tray 5", "station": "sill"}, [
        {"kind": "Moved", "tray": "tray 5", "station": "sill"}]),
    ("move", {"what": "leek", "station": "sill"}, [
        {"kind": "Moved", "sowing": "leek", "tray": "tray 5", "station": "sill"}]),
    ("move", {"what": "leek", "station": "Shelf", "tray": "tray 6"}, [
        {"kind": "Moved", "sowing": "leek", "station": "shelf", "tray": "tray 6"}]),
    (
        "prick out",
        {"sowing": "leek", "into": "30 into tray 5"},
        [{"kind": "PrickedOut", "sowing": "leek", "plants": 30, "into": "leek.1",
          "tray": "tray 5"}],
    ),
    (
        "prick out",
        {"sowing": "leek", "into": "tray 7:15, sill:10", "station": "mat", "container": "9 cm pot"},
        [
            {"kind": "PrickedOut", "sowing": "leek", "plants": 15, "into": "leek.1",
             "tray": "tray 7", "station": "mat", "container": "9 cm pot"},
            {"kind": "PrickedOut", "sowing": "leek", "plants": 10, "into": "leek.2",
             "station": "sill", "container": "9 cm pot"},
        ],
    ),
    ("split", {"sowing": "leek", "into": "sill:12"}, [
        {"kind": "Split", "sowing": "leek", "plants": 12, "into": "leek.1", "station": "sill"}]),
    ("pot on", {"sowing": "leek", "container": "9 CM POT"}, [
        {"kind": "PottedOn", "sowing": "leek", "container": "9 cm pot"}]),
    ("cover", {"what": "tray 5"}, [{"kind": "Covered", "tray": "tray 5"}]),
    ("uncover", {"what": "leek"}, [{"kind": "Uncovered", "sowing": "leek"}]),
    ("water", {"what": "shelf", "ml": "1.5 l"}, [
        {"kind": "Watered", "station": "shelf", "ml": 1500.0}]),
    ("feed", {"what": "tray 5", "ppm_n": "50", "with": "nettle"}, [
        {"kind": "Fed", "tray": "tray 5", "ppm_n": 50.0, "what": "nettle"}]),
    ("weigh", {"what": "tray 5", "grams": "1,7 kg", "state": "f"}, [
        {"kind": "Weighed", "tray": "tray 5", "grams": 1700.0, "state": "full"}]),
    ("read", {"what": "mat", "value": "23.5C"}, [
        {"kind": "Read", "station": "mat", "quantity": "soil_c", "value": 23.5}]),
    ("read", {"what": "tray 5", "value": "60%", "quantity": "humidity"}, [
        {"kind": "Read", "tray": "tray 5", "quantity": "rh_percent", "value": 60.0}]),
    ("adjust", {"station": "mat", "thermostat": "75F", "mat": "on", "lamp_height": "20 cm"}, [
        {"kind": "Adjusted", "station": "mat", "mat": "on", "lamp_height_mm": 200.0,
         "thermostat_c": pytest.approx(23.889, abs=0.001)}]),  # (75 - 32) × 5/9
    ("harden off", {"what": "tray 5", "hours": "3 h", "night": "y"}, [
        {"kind": "Hardened", "tray": "tray 5", "hours": 3.0, "night": True}]),
    ("keep in", {"what": "leek", "why": "windy"}, [
        {"kind": "Held", "sowing": "leek", "why": "windy"}]),
    ("note", {"text": "white fluff", "about": "mould", "what": "tray 5"}, [
        {"kind": "Noted", "text": "white fluff", "about": "mould", "tray": "tray 5"}]),
    ("note", {"text": "seed looks old", "what": "sweet-pea"}, [
        {"kind": "Noted", "text": "seed looks old", "lot": "sweet-pea"}]),
    ("count", {"sowing": "leek", "standing": "40", "normal": "30", "abnormal": "4", "hard": "3",
               "fresh": "2", "dead": "1", "cells": "38", "looked_at": "60"}, [
        {"kind": "Counted", "sowing": "leek", "standing": 40, "normal": 30, "abnormal": 4,
         "hard": 3, "fresh": 2, "dead": 1, "cells": 38, "looked_at": 60}]),
    ("count", {"sowing": "leek", "final": "yes"}, [
        {"kind": "Counted", "sowing": "leek", "standing": 40, "final": True}]),
    ("count", {"sowing": "leek", "standing": "5 new"}, [
        {"kind": "Counted", "sowing": "leek", "new": 5}]),
    ("relabel", {"sowing": "leek", "name": "leek-late", "lot": "pepper-long", "guess": "yes"}, [
        {"kind": "Relabelled", "sowing": "leek", "name": "leek-late", "lot": "pepper-long"}]),
    ("relabel", {"sowing": "leek", "lot": "pepper-long"}, [
        {"kind": "Relabelled", "sowing": "leek", "lot": "pepper-long", "sure": True}]),
    ("mix up", {"sowings": "leek, pepper-long", "into": "all of it"}, [
        {"kind": "MixedUp", "sowings": ("leek", "pepper-long"), "into": "all of it"}]),
    ("plan", {"lot": "leek", "keys": "want=80, station=mat"}, [
        {"kind": "Planned", "lot": "leek", "to": {"want": 80, "station": "mat"},
         "said": {"want": 48, "station": "shelf"}}]),
    ("forecast", {"day": "tomorrow", "tmin": "3C", "wind": "4 m/s", "rain": "4"}, [
        {"kind": "Forecast", "day": date(2027, 3, 21), "tmin_c": 3.0, "wind_ms": 4.0,
         "rain_mm": 4.0}]),
    ("note", {"text": "frost flowers on the pane"}, [
        {"kind": "Noted", "text": "frost flowers on the pane"}]),
]  # fmt: skip


@pytest.mark.parametrize(("act", "texts", "lines"), WRITES)
def test_what_is_typed_becomes_the_lines_of_the_journal(
    season: OpenSeason, act: str, texts: dict[str, str], lines: list[dict[str, Any]]
) -> None:
    form = filled(season, act, **texts)
    assert not form.problems
    assert form.made is not None
    assert plain(form.made) == lines
    ids = [f"0195{number:04d}-1c00-7000-8000-00000000000a" for number in range(len(form.made))]
    assert encode(stamped(form.made, ids, season.now(), "bench"))  # a reader takes them


def test_every_act_of_the_list_is_tried_above_or_below() -> None:
    tried = {act for act, _, _ in WRITES} | {"take out"}
    assert tried == {act.name for act in ENTRY_ACTS if act.listed}
    kinds = {act.kind for act in ENTRY_ACTS}
    assert {name for name, kind in KINDS.items() if kind not in kinds} == {"struck"}


# A bad word in a field: what is said right there.
REFUSED: list[tuple[str, dict[str, str], str, str]] = [
    ("dig up", {"sowing": "leek", "sound": "0"}, "sound", "How many were sound, soft or gone?"),
    ("sow", {"lot": "lek", "seeds": "24"}, "lot", "Found 'lek', allowed: leek, pepper-long"),
    ("sow", {"lot": "lek", "seeds": "24"}, "lot", "Nearest: leek."),
    ("sow", {"lot": "leek", "seeds": "many"}, "seeds", "24, about 100"),
    ("sow", {"lot": "leek", "seeds": "0"}, "seeds", "How many seeds"),
    ("sow", {"lot": "leek", "seeds": "9", "station": "matt"}, "station", "Nearest: mat."),
    ("sow", {"lot": "leek", "seeds": "9", "tray": "mat"}, "tray", "That is a station."),
    ("sow", {"lot": "leek", "seeds": "9", "cells": "0"}, "cells", "A whole number from 1."),
    ("sow", {"lot": "leek"}, "seeds", "It is missing"),
    ("soak", {"lot": "leek", "lasts": "long"}, "lasts", "A time, e.g. 12 h or 28 days."),
    ("soak", {"lot": "leek", "c": "300"}, "c", "from -40C to 100C"),
    ("take out", {"lot": "leek"}, "lot", "No seed of that lot is soaking or in the cold."),
    ("count", {"sowing": "leek", "standing": "x"}, "standing", "How many stand now"),
    ("count", {"sowing": "leek", "standing": "1" * 12}, "standing", "How many stand now"),
    ("count", {"sowing": "leek", "standing": "41", "gone": "died"}, "gone", "None is missing."),
    ("count", {"sowing": "leek", "standing": "41", "final": "so"}, "final", "allowed: yes, no"),
    ("measure", {"sowing": "leek", "plants": "82"}, "plants", "Height/stem diameter in mm"),
    ("lose", {"sowing": "leek", "plants": "61"}, "plants", "60 seeds were sown; 61 plants now?"),
    ("thin", {"sowing": "leek", "plants": "40 left"}, "plants", "40 stand, so none would go"),
    ("thin", {"sowing": "leek", "plants": "0"}, "plants", "How many plants"),
    ("move", {"what": "mat", "station": "sill"}, "what", "That is a station; give a sowing or a"),
    ("move", {"what": "tray 5", "station": "sill", "tray": "t"}, "tray", "not put into a tray"),
    ("move", {"what": "tray 5"}, "station", "It is missing"),
    ("prick out", {"sowing": "leek", "into": "tray 5"}, "into", "30 into tray 5"),
    ("prick out", {"sowing": "leek", "into": "61 into sill"}, "into", "60 seeds were sown"),
    ("prick out", {"sowing": "leek", "into": "9 into a:5, b:5"}, "into", "That makes 10"),
    ("pot on", {"sowing": "leek", "container": "bucket"}, "container", "allowed: tray of 24"),
    ("water", {"what": "nowhere"}, "what", "Found 'nowhere'"),
    ("water", {"what": "shelf", "ml": "-3"}, "ml", "Millilitres, if you measured, e.g. 400"),
    ("feed", {"what": "shelf", "ppm_n": "lots"}, "ppm_n", "Parts per million of N"),
    ("weigh", {"what": "tray 5", "grams": "0"}, "grams", "A weight above 0"),
    ("weigh", {"what": "tray 5", "grams": "9", "state": "wet"}, "state", "allowed: dry, full, now"),
    ("read", {"what": "leek", "value": "20"}, "what", "That is a sowing"),
    ("read", {"what": "mat", "value": "120%"}, "value", "Rh_percent from 0 to 100."),
    ("read", {"what": "mat", "value": "8000lux", "quantity": "ph"}, "value", "A unit that fits ph"),
    ("adjust", {"station": "mat"}, "mat", "Say what was changed"),
    ("adjust", {"station": "mat", "lamp_percent": "130"}, "lamp_percent", "Percent, from 0 to 100"),
    ("adjust", {"station": "mat", "lamp_hours": "25"}, "lamp_hours", "Hours a day, from 0 to 24"),
    ("harden off", {"what": "leek", "hours": "30"}, "hours", "from 0 to 24"),
    ("keep in", {"what": "leek"}, "why", "It is missing"),
    ("note", {"what": "leek"}, "text", "It is missing: a word or two."),
    ("note", {"text": "x", "what": "nobody"}, "what", "Found 'nobody'"),
    ("cover", {"what": "tray 5", "at": "tomorrow"}, "at", "or a time, e.g. 18:00"),
    ("cover", {"what": "tray 5", "at": "2027-03-25"}, "at", "That lies ahead of now"),
]  # fmt: skip


@pytest.mark.parametrize(("act", "texts", "field", "said"), REFUSED)
def test_a_wrong_word_is_refused_at_its_field_and_nothing_is_made(
    season: OpenSeason, act: str, texts: dict[str, str], field: str, said: str
) -> None:
    form = filled(season, act, **texts)
    assert form.made is None
    assert set(form.problems) == {field}
    assert said in in_words(form.problems[field])


def test_all_that_is_wrong_is_said_at_once(season: OpenSeason) -> None:
    form = filled(season, "sow", lot="lek", seeds="x", station="y", cells="z", at="w")
    assert set(form.problems) == {"lot", "seeds", "station", "cells", "at"}


@pytest.mark.parametrize(
    ("said", "at"),
    [
        ("yesterday 18:00", "2027-03-19T18:00:00+01:00"),
        ("fri 8:30", "2027-03-19T08:30:00+01:00"),
        ("2027-03-16 07:05", "2027-03-16T07:05:00+01:00"),
        ("7:15", "2027-03-20T07:15:00+01:00"),
    ],
)
def test_a_past_time_is_taken_in_every_form(season: OpenSeason, said: str, at: str) -> None:
    form = filled(season, "water", what="tray 5", at=said)
    assert form.at is not None
    assert form.at.isoformat() == at
    assert all(AT in form_fields(act) for act in ENTRY_ACTS)


def test_nothing_said_of_the_time_is_now(season: OpenSeason) -> None:
    assert filled(season, "water", what="tray 5", at=" ").at is None


def test_a_lower_count_of_before_the_last_one_asks_nothing(season: OpenSeason) -> None:
    form = filled(season, "count", sowing="leek", standing="9", at="2027-03-10")
    assert not form.problems


def test_what_was_over_by_then_is_refused_and_before_that_taken(season: OpenSeason) -> None:
    write(season, "03-18 10:00", Finished(**BLANK, sowing="leek"))
    late = filled(season, "lose", sowing="leek", plants="3")
    assert "It has been over since Thu 18 Mar 2027" in in_words(late.problems["sowing"])
    assert filled(season, "lose", sowing="leek", plants="3", at="2027-03-17").made


def test_a_name_that_fits_two_sowings_names_the_choices(season: OpenSeason) -> None:
    write(season, "03-16 09:00", Sown(**BLANK, sowing="a", lot="sweet-pea", seeds=9))
    write(season, "03-16 09:01", Sown(**BLANK, sowing="b", lot="sweet-pea", seeds=9))
    form = filled(season, "count", sowing="sweet-pea", standing="3")
    assert "allowed: a, b" in in_words(form.problems["sowing"])


def test_seed_that_was_soaked_belongs_to_its_next_sowing(season: OpenSeason) -> None:
    (soaked,) = write(season, "03-18 20:00", Soaked(**BLANK, lot="sweet-pea", hours=12))
    taken = filled(season, "take out", lot="sweet-pea")
    assert taken.made is not None
    assert plain(taken.made) == [{"kind": "TakenOut", "entry": soaked.id}]
    write(season, "03-19 08:00", TakenOut(**BLANK, entry=soaked.id))
    sown = filled(season, "sow", lot="sweet-pea", seeds="20")
    assert sown.made is not None
    assert plain(sown.made)[0]["after"] == (soaked.id,)
    too_early = filled(season, "take out", lot="sweet-pea")
    assert "No seed of that lot" in in_words(too_early.problems["lot"])


def test_a_tray_that_stands_somewhere_is_not_moved_by_pricking_out(season: OpenSeason) -> None:
    form = filled(season, "prick out", sowing="leek", into="tray 5:4, tray 8:4", station="sill")
    assert form.made is not None
    where = [(line.get("tray"), line.get("station")) for line in plain(form.made)]
    assert where == [("tray 5", None), ("tray 8", "sill")]


@pytest.mark.parametrize(
    ("act", "subject", "field", "default"),
    [
        ("count", ("tray", "tray 5"), "sowing", "leek"),
        ("count", ("lot", "pepper-long"), "sowing", "pepper-long"),
        ("count", ("station", "mat"), "sowing", "pepper-long"),
        ("cover", ("sowing", "leek"), "what", "leek"),
        ("water", ("station", "shelf"), "what", "shelf"),
        ("read", ("sowing", "leek"), "what", "tray 5"),
        ("read", ("tray", "tray 5"), "what", "tray 5"),
        ("adjust", ("tray", "tray 5"), "station", "shelf"),
        ("adjust", ("sowing", "pepper-long"), "station", "mat"),
        ("sow", ("lot", "sweet-pea"), "lot", "sweet-pea"),
        ("soak", ("lot", "sweet-pea"), "lot", "sweet-pea"),
        ("count", None, "sowing", ""),
    ],
)
def test_what_was_looked_at_is_the_default(
    season: OpenSeason, act: str, subject: Any, field: str, default: str
) -> None:
    found = next(one for one in act_named(act).fields if one.key == field)
    assert found.default(known(season, subject), {}) == default


def test_what_stands_where_one_looked_is_offered_first(season: OpenSeason) -> None:
    sown = Sown(**BLANK, sowing="leek/2", lot="leek", seeds=9, tray="tray 5")
    write(season, "03-16 09:00", sown)
    write(season, "03-16 09:01", Sown(**BLANK, sowing="pea", lot="sweet-pea", seeds=9))
    looked_at = known(season, ("tray", "tray 5"))
    assert looked_at.sowings() == ["leek/2", "leek", "pea", "pepper-long"]
    assert known(season).sowings() == ["pea", "leek/2", "pepper-long", "leek"]
    assert looked_at.subject_name("sowing") == ""  # two stand there: none is taken for granted


def test_a_sowing_may_be_named_by_its_id(season: OpenSeason) -> None:
    leek = next(one for one in season.records().standings.values() if one.name == "leek")
    assert known(season, ("sowing", leek.id)).subject_name("sowing") == "leek"


def test_defaults_follow_the_other_fields(season: OpenSeason) -> None:
    fields = {one.key: one for one in act_named("sow").fields}
    here = known(season)
    assert fields["station"].default(here, {"lot": "pepper-long"}) == "mat"
    assert fields["station"].default(here, {"lot": "pepper-long", "tray": "tray 5"}) == "shelf"
    row = next(row for row in season.calendar() if row.lot == "leek")
    assert row.sowing is not None  # it is sown: nothing is due any more
    assert fields["seeds"].default(here, {"lot": "leek"}) == ""
    lasts = next(one for one in act_named("soak").fields if one.key == "lasts")
    assert lasts.default(here, {"lot": "sweet-pea"}) == "12 h"
    quantity = next(one for one in act_named("read").fields if one.key == "quantity")
    assert quantity.default(here, {"value": "8000 lux"}) == "lux"
    assert quantity.default(here, {"value": "19"}) == "medium"


def test_a_us_season_takes_a_bare_number_for_fahrenheit(tmp_path: Path) -> None:
    opened = season_in(tmp_path)
    plan = tmp_path / "season.toml"
    plan.write_text(plan.read_text("utf-8").replace("[frost]", 'units = "us"\n\n[frost]'), "utf-8")
    opened.catch_up()
    form = filled(opened, "read", what="mat", value="68")
    assert form.made is not None
    assert plain(form.made)[0]["value"] == 20.0
