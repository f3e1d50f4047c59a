"""The act of measuring plants: height and stem, one by one."""

import re
from collections.abc import Sequence
from typing import Final, NamedTuple

from seedstart.acts.act import Act, Field, Texts, Values
from seedstart.acts.counting import ON_SOWINGS
from seedstart.acts.fields import (
    sowing_field,
)
from seedstart.acts.known import Known
from seedstart.acts.parsers import parse_plants
from seedstart.acts.sheet import Sheet
from seedstart.growing.sturdiness import middle_of, sturdiness_quotient, ten_times_off
from seedstart.season.journal.entries import (
    BLANK,
    Entry,
    Lost,
    Measured,
    Plant,
)
from seedstart.text import plural
from seedstart.units import Units

# Measure


# Seedlings are so much higher in cm than thick in mm, or nearly so: tomatoes 3 to 4 (Kubota et al.
# 2017). Far outside it somebody mixed up cm and mm. Common practice, no source.
_LEAST_QUOTIENT, _MOST_QUOTIENT = 0.25, 15.0
# Thicker no seedling's stem is that is measured so: common practice, no source.
_THICKEST_MM = 10.0
_HEIGHTS_IN_CM, _STEMS_IN_CM = "heights in cm", "stems in cm"
_STEMS_WITHOUT_POINT = "stems without their point"


def _measured_in_words(entry: Measured, _: Units) -> str:
    return ", ".join(map(_plant_in_words, entry.plants))


def _plant_in_words(one: Plant) -> str:
    """`A1: 82/3.1 mm with 4 leaves`."""
    label = "" if one.plant is None else f"{one.plant}: "
    leaves = "" if one.leaves is None else f" with {plural(one.leaves, 'leaf', 'leaves')}"
    return f"{label}{one.height_mm:g}/{one.diameter_mm:g} mm{leaves}"


def _plants_measured(text: str, _: Sheet) -> Values:
    found = parse_plants(text)
    return {"plants": found.plants, "dead": found.dead}


class Meant(NamedTuple):
    """What a plant was likely meant to be, where it is ten times off.

    Attributes:
        height_mm, diameter_mm: None where nothing speaks against what was typed.
    """

    height_mm: float | None = None
    diameter_mm: float | None = None


def likelier(plants: Sequence[Plant]) -> list[Meant]:
    """For each plant what was likely meant: a tenth or ten times, by the others and its shape."""
    if not plants:
        return []
    heights = ten_times_off([one.height_mm for one in plants])
    stems = ten_times_off([one.diameter_mm for one in plants])
    if any(heights) or any(stems):
        return [Meant(high, thick) for high, thick in zip(heights, stems, strict=True)]
    wrong = _wrong_unit(plants)
    if wrong == _HEIGHTS_IN_CM:
        return [Meant(height_mm=one.height_mm * 10) for one in plants]
    if wrong:
        factor = 10 if wrong == _STEMS_IN_CM else 0.1
        return [Meant(diameter_mm=round(one.diameter_mm * factor, 4)) for one in plants]
    return [Meant()] * len(plants)


def as_likely_meant(text: str) -> str:
    """What was typed of plants, with what is ten times off put right."""
    try:
        meant = iter(likelier(parse_plants(text).plants))
    except ValueError:
        return text

    def put_right(match: re.Match[str]) -> str:
        one = next(meant)
        high, thick = (
            typed if better is None else f"{better:g}"
            for typed, better in zip(match.groups(), one, strict=True)
        )
        return f"{high}/{thick}"

    return re.sub(r"([\d.]+)\s*/\s*([\d.]+)(?=[\s,;/]|$)", put_right, text)


def _wrong_unit(plants: Sequence[Plant]) -> str:
    """What was typed in another unit, where all plants are ten times off; empty where none is."""
    quotient = _quotient_of(plants)
    if quotient > _MOST_QUOTIENT:
        return _STEMS_IN_CM
    if quotient >= _LEAST_QUOTIENT:
        return ""
    thick = middle_of([one.diameter_mm for one in plants]) > _THICKEST_MM
    return _STEMS_WITHOUT_POINT if thick else _HEIGHTS_IN_CM


def _quotient_of(plants: Sequence[Plant]) -> float:
    return middle_of([sturdiness_quotient(one.height_mm, one.diameter_mm) for one in plants])


def _ten_times_off(sheet: Sheet) -> None:
    """Asks where a height or a stem is ten times off the others, or a plant is no plant's shape."""
    plants: tuple[Plant, ...] = sheet.values.get("plants", ())
    for what, values in (
        ("height", [one.height_mm for one in plants]),
        ("stem", [one.diameter_mm for one in plants]),
    ):
        for value, meant in zip(values, ten_times_off(values), strict=True):
            if meant is not None:
                others = [one for one in values if one != value]
                sheet.ask(
                    "plants",
                    f"A {what} of {value:g} mm? The others are {min(others):g} to "
                    f"{max(others):g}; {meant:g} was meant?",
                )
    if not plants:
        return
    if wrong := _wrong_unit(plants):
        quotient = _quotient_of(plants)
        sheet.ask(
            "plants",
            f"Height in cm over stem in mm is {quotient:.2g}, ten times off what seedlings have: "
            f"were {wrong} typed? Both are wanted in mm.",
        )


def _no_more_dead_than_stand(sheet: Sheet) -> None:
    one, dead = sheet.standing(), sheet.values.get("dead", 0)
    if one is not None and dead > one.standing:
        sheet.say("plants", f"{one.standing} stand; {dead} cannot have died.")


def _measured(sheet: Sheet) -> Sequence[Entry]:
    """Those that were measured, and those that were found dead."""
    sowing, plants, dead = (sheet.values[key] for key in ("sowing", "plants", "dead"))
    entries: list[Entry] = [Measured(**BLANK, sowing=sowing, plants=plants)] if plants else []
    if dead:
        entries.append(Lost(**BLANK, sowing=sowing, plants=dead, why="dead when measured"))
    return entries


def plants_in_short(typed: str, _: Known) -> Texts:
    """What is typed is the plants."""
    return {"plants": typed}


MEASURE: Final = Act(
    kind=Measured,
    name="measure",
    about="height and stem of some plants, in mm",
    example="leek 82/3.1 75/2.9 x",
    fields=(
        sowing_field(),
        Field(
            key="plants", label="Plants", arg=True, many=True,
            need="height/stem diameter in mm of each plant, e.g. 82/3.1 75/2.9",
            says="height/stem in mm, e.g. 82/3.1 75/2.9; leaves 82/3.1/4; A1: 82/3.1; x dead",
            read=_plants_measured,
        ),
    ),
    checks=(_ten_times_off, _no_more_dead_than_stand),
    make=_measured,
    asks="plants",
    short=plants_in_short,
    short_says="height and stem diameter of each plant in mm, e.g. 52/2.1 48/1.9; x for a dead one",
    on=ON_SOWINGS,
    also="height diameter sturdiness leggy",
    says=_measured_in_words,
)  # fmt: skip
