"""What the crop table rests on, and where it and its sources disagree."""

from collections import Counter
from collections.abc import Iterator

from crop_pooling.compute import crop_table
from crop_pooling.sources import by_key, institution_of, is_weak
from crop_pooling.weeks import printed_sow_weeks
from seedstart.crop_table.crop import Crop, Figure

_FIGURES = (
    "weeks_before_last_frost",
    "set_out_weeks",
    "weeks_indoors",
    "lowest_c",
    "fastest_c",
    "highest_c",
    "tray_c",
    "days_in_trays",
    "set_out_soil_c",
    "depth_mm",
    "seeds_per_gram",
    "seed_life_years",
    "minimum_germination_percent",
)


def report() -> str:
    """Counts by basis, institutions behind the weeks, misses and contradictions, as text."""
    crops = list(crop_table().values())
    groups = Counter(crop.group for crop in crops)
    lines = [f"{len(crops)} crops: " + ", ".join(f"{n} {group}s" for group, n in groups.items())]
    lines += ["", *_by_basis(crops), "", *_institutions(crops)]
    lines += ["", "Best weeks to sow outside every independent source's own row:", *misses()]
    lines += ["", "Contradictions said in the crops' notes:"]
    lines += [
        f"  {crop.name}: {note}"
        for crop in crops
        for note in crop.notes
        if note.startswith("The sources contradict")
    ]
    lines += ["", "Windows drawn in to 48 days:"]
    lines += [f"  {crop.name}" for crop in crops if "drawn in" in _note(crop)]
    return "\n".join(lines)


def misses() -> Iterator[str]:
    """Crops whose best weeks to sow no span of the independent sources' own rows holds."""
    for crop in crop_table().values():
        weeks = crop.weeks_before_last_frost
        sound = [one for one in printed_sow_weeks(crop.name) if not is_weak(one.key)]
        if weeks is None or not sound:
            continue
        low, high = min(one.low for one in sound), max(one.high for one in sound)
        if not low - 0.05 <= weeks.best <= high + 0.05:
            yield f"  {crop.name}: {weeks.best:g}, printed {low:g} to {high:g}"


def independent_institutions(figure: Figure) -> int:
    """Institutions behind a figure that are not weak."""
    keys = [key for key in figure.sources if not by_key()[key].weak]
    return len({institution_of(key) for key in keys})


def _by_basis(crops: list[Crop]) -> Iterator[str]:
    yield "figure: source, relative, weak, memory, practice, missing"
    for name in _FIGURES:
        found: list[Figure | None] = [getattr(crop, name) for crop in crops]
        counts = Counter(one.basis if one else "missing" for one in found)
        words = ("source", "relative", "weak", "memory", "practice", "missing")
        yield f"  {name}: " + ", ".join(str(counts[word]) for word in words)


def _institutions(crops: list[Crop]) -> Iterator[str]:
    yield "Independent institutions behind the weeks to sow (of those with basis source):"
    counts = Counter(
        min(independent_institutions(weeks), 3)
        for crop in crops
        if (weeks := crop.weeks_before_last_frost) and weeks.basis == "source"
    )
    yield "  " + ", ".join(f"{'3 or more' if n == 3 else n}: {counts[n]}" for n in sorted(counts))


def _note(crop: Crop) -> str:
    return crop.weeks_before_last_frost.note if crop.weeks_before_last_frost else ""
