"""Readings, seeds, plants and places as growers type them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from seedstart.acts.parsers import (
    PlantsLeaving,
    SeedsSown,
    TreatedFor,
    parse_destinations,
    parse_leaving,
    parse_plants,
    parse_reading,
    parse_seeds,
    parse_standing,
    parse_treated_for,
)
from seedstart.acts.values import number
from seedstart.season.journal.sowing_entries import Plant

_PLACES = st.sampled_from(["tray 5", "tray 6", "sill", "the back, left".replace(",", "")])
_PARTS = st.lists(st.tuples(_PLACES, st.integers(1, 500)), min_size=1, max_size=6)


@pytest.mark.parametrize(
    ("text", "reading"),
    [
        ("23.5C", ("soil_c", 23.5)),
        ("68F", ("soil_c", 20.0)),  # (68 - 32) × 5/9
        ("19", ("soil_c", 19.0)),
        ("8000 lux", ("lux", 8000.0)),
        ("150 µmol/m2/s", ("ppfd_umol", 150.0)),
        ("150 umol m-2 s-1", ("ppfd_umol", 150.0)),
        ("12mol", ("dli_mol", 12.0)),
        ("12 mol m⁻² d⁻¹", ("dli_mol", 12.0)),
        ("60 %", ("rh_percent", 60.0)),
        ("1,8mS/cm", ("ec_ms_cm", 1.8)),
        ("6.1pH", ("ph", 6.1)),
    ],
)
def test_the_unit_says_what_was_measured(text: str, reading: tuple[str, float]) -> None:
    assert parse_reading(text, None, "metric") == reading


def test_a_bare_number_is_what_was_said_to_be_measured() -> None:
    assert parse_reading("60", "rh_percent", "metric") == ("rh_percent", 60.0)
    assert parse_reading("50", "air_c", "us") == ("air_c", 10.0)


@pytest.mark.parametrize(
    ("text", "quantity", "said"),
    [
        ("warm", None, "a number with its unit"),
        ("60%", "ph", "a unit that fits ph"),
        ("60C", "rh_percent", "a unit that fits rh_percent"),
        ("101%", None, "rh_percent from 0 to 100"),
        ("-5lux", None, "lux from 0 up"),
        ("900C", None, "a temperature from -40C to 60C"),
    ],
)
def test_a_reading_that_cannot_be_is_refused(text: str, quantity: str, said: str) -> None:
    with pytest.raises(ValueError, match=said):
        parse_reading(text, quantity, "metric")  # type: ignore[arg-type]


def test_plants_are_height_and_stem_with_leaves_or_not() -> None:
    two = (Plant(height_mm=82, diameter_mm=3.1), Plant(height_mm=75, diameter_mm=2.9, leaves=4))
    for typed in ("82/3.1, 75/2.9/4", "82/3.1 75/2.9/4", " 82 / 3.1;75/2.9 / 4 "):
        assert parse_plants(typed) == (two, 0)
    assert parse_plants("A1: 82/3.1, 2:75/2.9").plants == (
        Plant(height_mm=82, diameter_mm=3.1, plant="A1"),
        Plant(height_mm=75, diameter_mm=2.9, plant=2),
    )


def test_dead_plants_are_counted_and_skipped_ones_are_not() -> None:
    assert parse_plants("x 82/3.1 - X") == ((Plant(height_mm=82, diameter_mm=3.1),), 2)
    assert parse_plants("x x") == ((), 2)
    with pytest.raises(ValueError, match=r"height/stem diameter|above 0 mm"):
        parse_plants("- -")


@pytest.mark.parametrize("text", ["82", "0/3", "82/0", "82/3,", "a/b", "82/3.1/x"])
def test_plants_without_height_and_stem_are_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r"height/stem diameter|above 0 mm"):
        parse_plants(text)


@pytest.mark.parametrize(
    ("text", "seeds"),
    [
        ("24", SeedsSown(seeds=24)),
        ("1 seed", SeedsSown(seeds=1)),
        ("About 100 seeds", SeedsSown(about=100)),
        ("ca. 100", SeedsSown(about=100)),
        ("~100", SeedsSown(about=100)),
        ("2,5 g", SeedsSown(grams=2.5)),
        ("500 mg", SeedsSown(grams=0.5)),
    ],
)
def test_seeds_are_counted_guessed_or_weighed(text: str, seeds: SeedsSown) -> None:
    assert parse_seeds(text) == seeds


@pytest.mark.parametrize("text", ["", "0", "about", "-3", "0 g", "2 handfuls", "1" * 12])
def test_seeds_that_say_nothing_are_refused(text: str) -> None:
    with pytest.raises(ValueError, match="how many seeds"):
        parse_seeds(text)


@pytest.mark.parametrize(
    ("text", "leaving"),
    [
        ("3", PlantsLeaving(plants=3)),
        ("3 plants", PlantsLeaving(plants=3)),
        ("12 left", PlantsLeaving(left=12)),
        ("left 0", PlantsLeaving(left=0)),
        ("All", PlantsLeaving(left=0)),
    ],
)
def test_plants_leave_by_their_number_or_by_what_is_left(text: str, leaving: object) -> None:
    assert parse_leaving(text) == leaving


@pytest.mark.parametrize("text", ["0", "none", "-1", "3 left over"])
def test_plants_that_do_not_leave_are_refused(text: str) -> None:
    with pytest.raises(ValueError, match="how many plants"):
        parse_leaving(text)


def test_a_treatment_lasts_hours_or_days_as_it_was_said() -> None:
    assert parse_treated_for("12 h") == TreatedFor(hours=12)
    assert parse_treated_for("1 day") == TreatedFor(days=1)
    assert parse_treated_for("4 weeks") == TreatedFor(days=28)
    assert parse_treated_for("1,5 days") == TreatedFor(days=1.5)
    with pytest.raises(ValueError, match=r"a time, e\.g\. 12 h or 28 days"):
        parse_treated_for("0 h")


@pytest.mark.parametrize(
    ("text", "places"),
    [
        ("30 into tray 5", [("tray 5", 30)]),
        ("30 plants into tray 5, sill", [("tray 5", 15), ("sill", 15)]),
        ("tray 5:15, tray 6:15, sill:30", [("tray 5", 15), ("tray 6", 15), ("sill", 30)]),
        ("45 to tray 5:15, tray 6", [("tray 5", 15), ("tray 6", 30)]),
        ("60 into tray 5:15, sill", [("tray 5", 15), ("sill", 45)]),
        ("7 into a, b", [("a", 4), ("b", 3)]),
    ],
)
def test_plants_go_to_one_place_or_several(text: str, places: list[tuple[str, int]]) -> None:
    assert parse_destinations(text) == places


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("tray 5", "30 into tray 5"),
        ("30", "30 into tray 5"),
        ("tray 5:0", "30 into tray 5"),
        (":4", "30 into tray 5"),
        ("tray 5:4,", "30 into tray 5"),
        ("10 into a:5, b:6", "that makes 11, and there are 10"),
        ("15 into a:15, b", "that makes 15, and there are 15"),
        ("9 into a:5", "that makes 5, and there are 9"),
    ],
)
def test_places_that_do_not_add_up_are_refused(text: str, said: str) -> None:
    with pytest.raises(ValueError, match=said):
        parse_destinations(text)


def test_a_count_is_a_number_as_many_as_before_or_what_is_new() -> None:
    assert parse_standing(" 18 ") == (18, None)
    assert parse_standing("=") == (None, None)
    assert parse_standing("5 new") == (None, 5)
    for text in ("", "x", "-3", "1.5", "1" * 10, "new", "5 old"):
        with pytest.raises(ValueError, match="how many stand now"):
            parse_standing(text)


@given(_PARTS)
def test_every_plant_has_a_place_however_it_is_said(parts: list[tuple[str, int]]) -> None:
    total = sum(number for _, number in parts)
    in_full = ", ".join(f"{place}:{number}" for place, number in parts)
    assert parse_destinations(in_full) == parts
    assert parse_destinations(f"{total} into {in_full}") == parts
    shared = parse_destinations(f"{total} into {', '.join(place for place, _ in parts)}")
    assert sum(number for _, number in shared) == total
    assert [place for place, _ in shared] == [place for place, _ in parts]
    assert max(number for _, number in shared) - min(number for _, number in shared) <= 1


@given(st.text(max_size=30))
def test_whatever_is_typed_is_read_or_refused_in_words(text: str) -> None:
    for parse in (parse_seeds, parse_leaving, parse_plants, parse_destinations, parse_treated_for):
        try:
            assert parse(text)
        except ValueError as error:
            assert len(str(error)) > 20


@pytest.mark.parametrize("text", ["1e308", "nan", "inf", "-inf", "1e999", "1_000", "9" * 20, "x"])
def test_an_amount_is_a_number_that_can_be_reckoned_with(text: str) -> None:
    with pytest.raises(ValueError, match="a number"):
        number(text)
