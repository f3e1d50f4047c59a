"""What a line may hold, kind by kind, and whom it is about."""

from typing import Any

import pytest

from season.entries_for_tests import STAMP, line
from seedstart.season.journal.entries import (
    BLANK,
    KINDS,
    Counted,
    Entry,
    Fed,
    Relabelled,
    Subject,
    Unknown,
    Watered,
    makes,
)
from seedstart.season.journal.journal_lines import read_blocks

# One good line a kind, and the subjects into which it is folded.
GOOD: dict[str, tuple[dict[str, Any], list[Subject]]] = {
    "soaked": ({"lot": "pea", "hours": 12}, [("lot", "pea")]),
    "stratified": ({"lot": "sage", "days": 21, "c": 4}, [("lot", "sage")]),
    "scarified": ({"lot": "lupin", "seeds": 10}, [("lot", "lupin")]),
    "taken_out": ({"entry": STAMP["id"]}, []),
    "sown": ({"sowing": "leek", "lot": "leek", "seeds": 24}, [("sowing", "leek")]),
    "covered": ({"tray": "tray 1"}, [("tray", "tray 1")]),
    "uncovered": ({"station": "mat"}, [("station", "mat")]),
    "counted": ({"sowing": "leek", "standing": 0}, [("sowing", "leek")]),
    "dug": ({"sowing": "leek", "sound": 1, "soft": 4}, [("sowing", "leek")]),
    "lost": ({"sowing": "leek", "plants": 2, "why": "gnats"}, [("sowing", "leek")]),
    "thinned": ({"sowing": "leek", "left": 0}, [("sowing", "leek")]),
    "given": ({"sowing": "leek", "plants": 3, "to": "Ada"}, [("sowing", "leek")]),
    "pricked_out": (
        {"sowing": "leek", "plants": 6, "into": "leek.1", "tray": "tray 2"},
        [("sowing", "leek"), ("sowing", "leek.1")],
    ),
    "split": (
        {"sowing": "leek", "plants": 6, "into": "leek.2"},
        [("sowing", "leek"), ("sowing", "leek.2")],
    ),
    "potted_on": ({"sowing": "leek", "container": "9 cm pot"}, [("sowing", "leek")]),
    "moved": ({"tray": "tray 1", "station": "shelf"}, [("tray", "tray 1")]),
    "watered": ({"station": "shelf", "ml": 500}, [("station", "shelf")]),
    "fed": ({"sowing": "leek", "ppm_n": 100}, [("sowing", "leek")]),
    "weighed": ({"tray": "tray 1", "grams": 640, "state": "now"}, [("tray", "tray 1")]),
    "read": ({"station": "mat", "quantity": "soil_c", "value": 23.5}, [("station", "mat")]),
    "adjusted": ({"station": "mat", "thermostat_c": 24}, [("station", "mat")]),
    "measured": (
        {"sowing": "leek", "plants": [{"height_mm": 41, "diameter_mm": 1.2, "plant": "A3"}]},
        [("sowing", "leek")],
    ),
    "hardened": ({"tray": "tray 1", "hours": 3}, [("tray", "tray 1")]),
    "held": ({"sowing": "leek", "why": "wind"}, [("sowing", "leek")]),
    "set_out": ({"sowing": "leek", "left": 0}, [("sowing", "leek")]),
    "finished": ({"sowing": "leek"}, [("sowing", "leek")]),
    "checked": ({"check": "look leek"}, [("check", "look leek")]),
    "put_off": ({"check": "look leek", "until": "2027-03-16"}, [("check", "look leek")]),
    "planned": (
        {"lot": "leek", "set": {"want": 30}, "from": {"want": 20}},
        [("lot", "leek")],
    ),
    "relabelled": (
        {"sowing": "leek", "name": "early leek"},
        [("sowing", "leek"), ("sowing", "early leek")],
    ),
    "mixed_up": (
        {"sowings": ["leek", "onion"], "into": "leek"},
        [("sowing", "leek"), ("sowing", "onion")],
    ),
    "forecast": ({"date": "2027-03-15", "tmin_c": -2}, [("day", "2027-03-15")]),
    "noted": ({"text": "mould", "lot": "leek"}, [("lot", "leek")]),
    "struck": ({"entry": STAMP["id"]}, []),
}


def read(data: bytes) -> tuple[list[Entry], list[str]]:
    blocks = list(read_blocks(data, "journal/bench.jsonl"))
    problems = [str(problem) for block in blocks for problem in block.set_aside]
    return [entry for block in blocks for entry in block.entries], problems


def test_every_kind_is_tried_here() -> None:
    assert set(GOOD) == set(KINDS)


@pytest.mark.parametrize("kind", GOOD)
def test_a_line_of_each_kind_is_read_and_folded_into_whom_it_names(kind: str) -> None:
    fields, subjects = GOOD[kind]
    (entry,), problems = read(line(kind, **fields))
    assert problems == []
    assert type(entry) is KINDS[kind]
    assert list(entry.subjects()) == subjects


@pytest.mark.parametrize("kind", GOOD)
def test_a_field_of_a_newer_version_is_passed_over(kind: str) -> None:
    fields, _ = GOOD[kind]
    assert read(line(kind, **fields, moon="waxing")) == read(line(kind, **fields))


@pytest.mark.parametrize(
    ("kind", "fields", "said"),
    [
        ("counted", {"standing": -1}, "standing: found '-1', allowed: a whole number, 0 or more."),
        ("counted", {"standing": "ten"}, "standing: found 'ten', allowed: a whole number."),
        ("counted", {"standing": 1.5}, "standing: found '1.5', allowed: a whole number."),
        ("counted", {"new": 3}, "counted: allowed: exactly one of standing, new."),
        ("counted", {"standing": None}, "counted: allowed: exactly one of standing, new."),
        ("sown", {"about": 30}, "sown: allowed: exactly one of seeds, about, grams."),
        ("sown", {"seeds": 0}, "seeds: found '0', allowed: a whole number, 1 or more."),
        ("sown", {"onto": "leek"}, "sown: allowed: onto another sowing."),
        (
            "sown",
            {"on": "papr"},
            "on: found 'papr', allowed: medium, paper, sand, agar. Nearest: paper.",
        ),
        (
            "dug",
            {"sound": 0, "soft": 0},
            "dug: allowed: at least one of sound, soft, gone above 0.",
        ),
        ("lost", {"left": 4}, "lost: allowed: exactly one of plants, left."),
        ("set_out", {"left": None}, "set_out: allowed: exactly one of plants, left."),
        ("soaked", {"days": 1}, "soaked: allowed: one of hours, days."),
        ("stratified", {"c": 140}, "c: found '140', allowed: a number, 100 or less."),
        ("pricked_out", {"into": "leek"}, "pricked_out: allowed: into another sowing."),
        ("watered", {"tray": "1"}, "watered: allowed: exactly one of sowing, tray, station."),
        ("watered", {"station": None}, "watered: allowed: exactly one of sowing, tray, station."),
        ("moved", {"tray": None}, "moved: allowed: a sowing or a tray."),
        ("weighed", {"grams": 0}, "grams: found '0', allowed: a number, more than 0."),
        ("weighed", {"state": "wet"}, "state: found 'wet', allowed: dry, full, now."),
        ("read", {"value": 212}, "read: allowed: soil_c from -40 to 60."),
        ("read", {"quantity": "lux", "value": -1}, "read: allowed: lux from 0 up."),
        ("read", {"quantity": "ph", "value": 15}, "read: allowed: ph from 0 to 14."),
        ("hardened", {"hours": 25}, "hours: found '25', allowed: a number, 24 or less."),
        (
            "adjusted",
            {"thermostat_c": None},
            (
                "adjusted: allowed: at least one of lamp_hours, lamp_height_mm, lamp_percent, mat,"
                " thermostat_c, expected."
            ),
        ),
        (
            "measured",
            {"plants": [{"height_mm": 41, "diameter_mm": 0}]},
            "plants[0].diameter_mm: found '0', allowed: a number, more than 0.",
        ),
        ("measured", {"plants": [{"height_mm": 41}]}, "plants[0].diameter_mm. It is missing."),
        ("measured", {"plants": []}, "plants: found '[]', allowed: a list of 1 or more."),
        ("mixed_up", {"sowings": ["a"]}, "sowings: found '[\"a\"]', allowed: a list of 2 or more."),
        ("put_off", {"until": "soon"}, "until: found 'soon', allowed: a day, e.g. 2027-03-20."),
        (
            "noted",
            {"tray": "1"},
            "noted: allowed: one of sowing, tray, station, lot, or none of them.",
        ),
        ("held", {"why": ""}, "why: found '', allowed: text in quotes, 1 or more characters."),
        ("finished", {"by": None}, "by: found 'null', allowed: text in quotes."),
        ("finished", {"id": "7"}, "id: found '7', allowed: text in quotes, 36 or more characters."),
        (
            "finished",
            {"at": "2027-03-14T08:00:00"},
            (
                "at: found '2027-03-14T08:00:00', allowed: a time with "
                "its offset, e.g. 2027-03-20T08:00:00+01:00."
            ),
        ),
        (
            "finished",
            {"at": "0027-03-14T08:00:00Z"},
            "at: found '0027-03-14T08:00:00Z', allowed: a year from 1900 to 2200.",
        ),
    ],
)
def test_a_line_that_breaks_a_rule_is_set_aside_and_says_which(
    kind: str, fields: dict[str, object], said: str
) -> None:
    entries, problems = read(line(kind, **{**GOOD[kind][0], **fields}))
    assert entries == []
    assert problems == [f"journal/bench.jsonl, line 1, {said}"]


@pytest.mark.parametrize("kind", GOOD)
def test_no_kind_is_read_without_what_it_needs(kind: str) -> None:
    entries, problems = read(line(kind))
    assert entries == []
    assert len(problems) == 1


def test_a_draft_is_refused_if_it_is_read() -> None:
    draft = Counted(**BLANK, sowing="leek", standing=18)
    assert (draft.sowing, draft.standing) == ("leek", 18)
    _, problems = read(line("counted", id=draft.id, sowing="leek", standing=18))
    assert len(problems) == 1
    _, problems = read(line("counted", at=draft.at.isoformat(), sowing="leek", standing=18))
    assert len(problems) == 1


def test_a_draft_that_breaks_a_rule_cannot_be_made() -> None:
    with pytest.raises(ValueError, match="exactly one of standing, new"):
        Counted(**BLANK, sowing="leek")


def test_feeding_is_not_taken_for_watering() -> None:
    assert not isinstance(Fed(**BLANK, tray="1"), Watered)


def test_a_sowing_moved_into_a_tray_is_what_is_moved() -> None:
    (entry,), _ = read(line("moved", sowing="leek", tray="tray 3", station="shelf"))
    assert entry.subjects() == (("sowing", "leek"),)


def test_seed_sown_onto_another_sowing_touches_that_one_too() -> None:
    (entry,), _ = read(line("sown", sowing="leek/2", onto="leek", lot="leek", seeds=9))
    assert entry.subjects() == (("sowing", "leek/2"), ("sowing", "leek"))


def test_a_note_about_nothing_is_about_the_season() -> None:
    (entry,), _ = read(line("noted", text="snow"))
    assert entry.subjects() == (("season", ""),)


@pytest.mark.parametrize(
    ("kind", "made"),
    [
        ("sown", "leek"),
        ("pricked_out", "leek.1"),
        ("split", "leek.2"),
        ("mixed_up", "leek"),
        ("counted", None),
    ],
)
def test_four_kinds_make_a_sowing(kind: str, made: str | None) -> None:
    (entry,), _ = read(line(kind, **GOOD[kind][0]))
    assert makes(entry) == made


def test_an_unknown_kind_is_kept_with_what_all_kinds_have() -> None:
    entries, problems = read(line("sung_to", sowing="leek", verses=3))
    assert problems == []
    (entry,) = entries
    assert isinstance(entry, Unknown)
    assert (entry.called, entry.id, entry.by) == ("sung_to", STAMP["id"], "bench")
    assert entry.at.isoformat() == STAMP["at"]
    assert entry.subjects() == ()


def test_an_unknown_kind_without_an_id_is_no_entry() -> None:
    entries, problems = read(line("sung_to", id=None))
    assert entries == []
    assert len(problems) == 1


def test_a_new_name_that_is_the_old_one_is_listed_once() -> None:
    assert Relabelled(**BLANK, sowing="leek", name="leek").subjects() == (("sowing", "leek"),)
