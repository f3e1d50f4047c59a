"""What is known of a crop's seed: depth, light, count, life, legal minimum; and its hardiness."""

from collections import Counter
from typing import Final

from crop_pooling.judgements import (
    HARDINESS,
    MINIMUM_GERMINATION_PERCENT,
    RAISED_IN,
    RAISING_NOTES,
    SEED_LIFE_BY_CROP,
    SEED_LIFE_YEARS,
    SET_OUT_SOIL_C,
    SOIL_ADVISES,
)
from crop_pooling.listed import Listed
from crop_pooling.pooling import Printed, borrowed_from, figure, pool
from crop_pooling.sources import institution_of, is_weak, key_of
from crop_pooling.tables import number, rows_of, span
from seedstart.crop_table.crop import Figure, From, Hardiness, LightToGerminate

_TENDEREST_LAST: Final[tuple[Hardiness, ...]] = ("hardy", "half_hardy", "tender", "very_tender")
_LIGHT: Final[tuple[LightToGerminate, ...]] = ("light", "cover", "dark")
_FIELD_DEPTHS: Final = "seed merchant's chart"  # too deep for small seeds in trays
_MINIMUM: Final = "minimum_germination_standards"
_FEDERAL: Final = "us-7-cfr-201-31"


def hardiness(crop: Listed) -> tuple[Hardiness, From]:
    """The word of most institutions; a tie goes to the more tender.

    Where one institution alone speaks, common practice has a vote beside it.
    """
    said = _hardiness_as_said(crop.name)
    if crop.name in HARDINESS:
        word, why = HARDINESS[crop.name]
        keys = sorted({key for (spoken, _), key in said.items() if spoken == word})
        return word, From("source" if keys else "practice", tuple(keys), why)
    votes = Counter(word for word, _ in said)
    if len({institution for _, institution in said}) < 2:
        votes[crop.usual] += 1
    word = max(votes, key=lambda each: (votes[each], _TENDEREST_LAST.index(each)))
    keys = sorted({key for (spoken, _), key in said.items() if spoken == word})
    if keys:
        return word, From("source", tuple(keys))
    return word, From("practice", (), "common practice, no source")


def raising(crop: Listed) -> From:
    """How its seedlings are raised, in whose words."""
    keys = {
        key_of(row.source)
        for row in rows_of(crop.name, "raised_in")
        if row.said["raised"] in RAISED_IN.get(crop.raising, ())
    } - {""}
    note = RAISING_NOTES[crop.raising]
    sound = sorted(key for key in keys if not is_weak(key))
    if sound:
        return From("source", tuple(sound), note)
    if keys:
        return From("weak", tuple(sorted(keys)), note)
    return From("practice", (), f"common practice: {note}" if note else "common practice")


def depth_mm(crop: Listed) -> Figure:
    """Depth in trays: as printed, else by common practice. Field depths are left out."""
    printed = [
        Printed(*ends, key_of(row.source))
        for column, table in (
            ("sowing_depth_mm", "sowing_notes"),
            ("depth_mm", "flower_germination"),
        )
        for row in rows_of(crop.name, table)
        if (ends := span(row.said[column])) and _FIELD_DEPTHS not in row.source
    ]
    pooled = pool(printed)
    if pooled is not None:
        return pooled
    deep = crop.depth_mm
    note = "common practice, no source: two to three times the seed's thickness, or pressed in"
    return figure(deep, deep, deep, "practice", note=note)


def light(crop: Listed) -> tuple[LightToGerminate | None, From | None]:
    """Uncovered, covered or dark until it is up, by most institutions; a tie is `cover`."""
    said = _light_as_said(crop.name)
    sound = [one for one in said if not is_weak(one[1])]
    counted = sound or said
    if not counted:
        if crop.group != "vegetable":
            return None, None
        practice = From("practice", (), "common practice, no source")
        return ("light" if crop.depth_mm == 0 else "cover"), practice
    votes = Counter(word for word, _ in counted)
    most = [word for word in votes if votes[word] == max(votes.values())]
    chosen = most[0] if len(most) == 1 else "cover"
    keys = sorted({key for _, key in counted} if len(most) > 1 else _of(counted, chosen))
    note = "the sources disagree" if len(votes) > 1 else ""
    return chosen, From("source" if sound else "weak", tuple(keys), note)


def seeds_per_gram(crop: Listed) -> Figure | None:
    """Seeds in a gram; weak charts are all there is."""
    return pool(
        Printed(*ends, key_of(row.source))
        for row in rows_of(crop.name, "sowing_notes")
        if (ends := span(row.said["seeds_per_gram"]))
    )


def seed_life_years(crop: Listed) -> Figure:
    """Years of good storage, relative and no use-by date."""
    own = _seed_life(crop.name)
    if own is not None:
        return own
    if borrowed := _seed_life(crop.relative):
        return borrowed_from(crop.relative, borrowed)
    if crop.name in SEED_LIFE_BY_CROP:
        years = SEED_LIFE_BY_CROP[crop.name]
        return figure(years, years, years, "memory", note="no source prints it")
    years, note = SEED_LIFE_YEARS, f"our guess for {crop.group}s"
    return figure(years, years, years, "guess", note=note)


def _seed_life(crop: str) -> Figure | None:
    return pool(
        Printed(*ends, key_of(row.source))
        for table in ("sowing_notes", "flower_germination")
        for row in rows_of(crop, table)
        if (ends := span(row.said["seed_life_years"]))
    )


def minimum_germination_percent(crop: Listed) -> Figure | None:
    """The legal minimum on a label: federal where the federal list names the kind."""
    printed = [
        Printed(value, value, key_of(row.source))
        for row in rows_of(crop.name, _MINIMUM, name_column="kind")
        if (value := number(row.said["minimum_percent"])) is not None
    ]
    federal = [one for one in printed if one.key == _FEDERAL]
    pooled = pool(federal or printed)
    if pooled is None and crop.group in MINIMUM_GERMINATION_PERCENT:
        value = MINIMUM_GERMINATION_PERCENT[crop.group]
        return figure(value, value, value, "memory", note="no legal minimum found for this kind")
    return pooled


def set_out_soil_c(crop: Listed, word: Hardiness) -> Figure:
    """Soil temperature at setting out: as printed for seven crops, else usual for the class."""
    printed = [
        Printed(value, value, key_of(row.source))
        for row in rows_of(crop.name, "transplant_timing")
        if (value := number(row.said["min_soil_temp_at_set_out_c"])) is not None
    ]
    pooled = pool(one for one in printed if one.key not in SOIL_ADVISES)
    if pooled is not None and pooled.basis == "source":
        return pooled
    usual, guess = SET_OUT_SOIL_C[word], f"our guess for {word.replace('_', ' ')} plants"
    advised = [one.low for one in printed if one.key in SOIL_ADVISES]
    if not advised:
        return figure(usual, usual, usual, "guess", note=guess)
    keys = sorted({one.key for one in printed if one.key in SOIL_ADVISES})
    note = f"{guess}; a page of general advice prints {max(advised):g} °C"
    ends = min(usual, *advised), max(usual, *advised)
    return figure(usual, *ends, "practice", keys, note)


def _light_as_said(crop: str) -> list[tuple[LightToGerminate, str]]:
    """Each institution's word, with its source; its first word where it has several."""
    found: dict[str, tuple[LightToGerminate, str]] = {}
    for column, table in (
        ("light", "germination_light"),  # the sources' own keys, read again
        ("light_for_germination", "sowing_notes"),
        ("light", "flower_germination"),
    ):
        for row in rows_of(crop, table):
            key = key_of(row.source)
            said = "cover" if row.said[column] == "either" else row.said[column]
            for word in _LIGHT:
                if said == word:
                    found.setdefault(institution_of(key), (word, key))
    return list(found.values())


def _of(counted: list[tuple[LightToGerminate, str]], word: str) -> set[str]:
    return {key for said, key in counted if said == word}


def _hardiness_as_said(crop: str) -> dict[tuple[Hardiness, str], str]:
    found: dict[tuple[Hardiness, str], str] = {}
    tables = ("transplant_timing", "sow_weeks_vegetables_herbs", "sow_weeks_flowers")
    for row in rows_of(crop, *tables):
        said = row.said.get("hardiness_group") or row.said.get("hardiness", "")
        key = key_of(row.source)
        for word in _TENDEREST_LAST:
            if said == word and not is_weak(key):
                found.setdefault((word, institution_of(key)), key)
    return found
