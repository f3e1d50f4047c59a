"""A crop as the handbooks know it: figures with their range, their sources and their basis.

These structs are the keys of `crops/*.toml`; docs/formats.md is the grower's version.
"""

from collections.abc import Iterator, Mapping
from datetime import date
from typing import Final, Literal

from msgspec import Struct

from seedstart.problems import Problem
from seedstart.text import clean, folded
from seedstart.units import COLDEST_C, HOTTEST_C

Group = Literal["vegetable", "herb", "flower"]
Hardiness = Literal["hardy", "half_hardy", "tender", "very_tender"]
Basis = Literal["source", "relative", "weak", "memory", "practice", "guess", "own"]
Raising = Literal["pricked out", "own pot", "clump", "sown in place"]
LightToGerminate = Literal["light", "cover", "dark"]

BASIS_IN_WORDS: dict[Basis, str] = {
    "source": "",
    "relative": "a relative's figure",
    "weak": "weak source",
    "memory": "from memory",
    "practice": "common practice, no source",
    "guess": "our guess",
    "own": "your own figure",
}


class Figure(Struct, frozen=True, forbid_unknown_fields=True):
    """A number of the trade: its best value, its range, and where it comes from.

    Attributes:
        best: The value to count with.
        low: Low end of the printed range; equal to best where none is printed.
        high: High end.
        sources: Keys of sources.toml. The number of institutions among them is the number of
            independent sources.
        basis: How far to trust it; see `BASIS_IN_WORDS`.
        note: What was decided about it by hand, and why.
    """

    best: float
    low: float
    high: float
    basis: Basis
    sources: tuple[str, ...] = ()
    note: str = ""


class From(Struct, frozen=True, forbid_unknown_fields=True):
    """Where a word of the table (hardiness, light, raising) comes from."""

    basis: Basis
    sources: tuple[str, ...] = ()
    note: str = ""


class EmergenceTable(Struct, frozen=True, forbid_unknown_fields=True):
    """Days from sowing to emergence over soil temperature, as a handbook prints them.

    Attributes:
        soil_c: Soil temperatures in °C, rising.
        days: At each temperature the days, or `no germination`, or `not tested`.
        normal_percent: Share of normal seedlings at each, in percent, or `not known`.
        sources: Keys of sources.toml.
        note: What was decided by hand, and why.
    """

    soil_c: tuple[float, ...]
    days: tuple[float | Literal["no germination", "not tested"], ...]
    normal_percent: tuple[float | Literal["not known"], ...] = ()
    sources: tuple[str, ...] = ()
    note: str = ""


class Shares(Struct, frozen=True, forbid_unknown_fields=True):
    """Share that germinates over soil temperature, for a crop that no emergence table names.

    Attributes:
        soil_c: Soil temperatures in °C, rising.
        percent: Share germinating at each, in percent.
        basis: How far to trust it.
        sources: Keys of sources.toml.
        note: What was decided by hand, and why.
    """

    soil_c: tuple[float, ...]
    percent: tuple[float, ...]
    basis: Basis
    sources: tuple[str, ...] = ()
    note: str = ""


class Treat(Struct, frozen=True, forbid_unknown_fields=True):
    """Something done to the seed before sowing.

    Attributes:
        what: The act.
        need: Only what is *needed* moves dates; `some do` is only mentioned.
        hours: How long, for a soak.
        days: How long, for cold (stratify).
        c: At what temperature, °C.
        text: What to do, in the grower's words, where that says more.
    """

    what: Literal["soak", "stratify", "scarify"]
    need: Literal["needed", "helps", "some do"]
    basis: Basis
    hours: Figure | None = None
    days: Figure | None = None
    c: Figure | None = None
    text: str = ""
    sources: tuple[str, ...] = ()


class Caution(Struct, frozen=True, forbid_unknown_fields=True):
    """What can hurt a person or an animal, or be taken for something else.

    Attributes:
        text: The whole of it, plainly.
        label: The same in a few words, for a label and for a line of the round.
    """

    text: str
    basis: Basis
    sources: tuple[str, ...] = ()
    label: str = ""


class OwnLot(Struct, frozen=True, forbid_unknown_fields=True):
    """What came up of a lot of the grower's own in an earlier season.

    Attributes:
        lot: Its name then.
        on: The day its count was closed.
        seeds: Sown.
        up: What came up of them.
        where: The station.
    """

    lot: str
    on: date
    seeds: int
    up: int
    where: str = ""


class Crop(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True, eq=False):
    """A row of the crop table; compared as an object, so that curves can be kept for it.

    Attributes:
        name: Lower-case English name.
        also: Other names a grower may type.
        clock: On which clock days to emergence are: `table` (a handbook's fastest, in a
            controlled medium) or `trays` (ranges that growers see in mixed trays).
        weeks_before_last_frost: Weeks from sowing to the average last frost, at `tray_c`.
        set_out_weeks: Weeks from the average last frost to setting out; negative is before.
        weeks_indoors: Weeks from sowing to setting out, as printed; the weeks to sow are such that
            what lies between them and setting out is among these.
        sow_outdoors_weeks: Weeks from the average last frost to sowing outdoors, of what is sown
            in place.
        lowest_c, fastest_c, highest_c: Soil temperatures for emergence, °C.
        tray_c: The soil temperature of a mixed tray, °C: what the weeks were counted at.
        days_in_trays: Days to emergence at `tray_c`, on the trays' clock.
        first_to_last: Days to the last seedlings (90 %) over days to the first (10 %).
        set_out_soil_c: Soil temperature at setting out, °C.
        night_unhardened_c: Nights that plants stand while they are not hardened yet, °C; `best` is
            the most cautious figure.
        night_hardened_c: The same of hardened plants.
        bolts_below_c: Young plants bolt after a spell colder than this, °C.
        bolts_after_days: How long such a spell is, days.
        light: `light`, do not cover; `cover`, just covered; `dark`, dark until it is up.
        shares: Share germinating by temperature, where no emergence table says it.
        seedlings_per_seed: Where one seed (a cluster) gives several.
        own_lots: The grower's own closed trays of earlier seasons.
    """

    name: str
    also: tuple[str, ...] = ()
    botanical: str = ""
    group: Group
    hardiness: Hardiness
    hardiness_from: From
    clock: Literal["table", "trays"]
    light: LightToGerminate | None = None
    light_from: From | None = None
    raising: Raising
    raising_from: From
    weeks_before_last_frost: Figure | None = None
    set_out_weeks: Figure | None = None
    weeks_indoors: Figure | None = None
    sow_outdoors_weeks: Figure | None = None
    lowest_c: Figure
    fastest_c: Figure
    highest_c: Figure
    tray_c: Figure
    days_in_trays: Figure | None = None
    first_to_last: Figure
    set_out_soil_c: Figure | None = None
    night_unhardened_c: Figure | None = None
    night_hardened_c: Figure | None = None
    bolts_below_c: Figure | None = None
    bolts_after_days: Figure | None = None
    depth_mm: Figure | None = None
    seeds_per_gram: Figure | None = None
    seed_life_years: Figure | None = None
    minimum_germination_percent: Figure | None = None
    seedlings_per_seed: Figure | None = None
    emergence: EmergenceTable | None = None
    shares: Shares | None = None
    treat: tuple[Treat, ...] = ()
    cautions: tuple[Caution, ...] = ()
    notes: tuple[str, ...] = ()
    own_lots: tuple[OwnLot, ...] = ()


def label_words(crop: Crop) -> str:
    """What belongs on the label beside the name: `poisonous, not a pea to eat`; often nothing."""
    return ", ".join(caution.label or caution.text.rstrip(".") for caution in crop.cautions)


def caution_in_words(caution: Caution) -> str:
    """A caution whole, with how far to trust it."""
    marked = BASIS_IN_WORDS[caution.basis]
    return f"{caution.text.rstrip('.')} ({marked})." if marked else f"{caution.text.rstrip('.')}."


class Source(Struct, frozen=True, forbid_unknown_fields=True):
    """Where figures come from.

    Attributes:
        text: Author, body, title, year, as it is cited.
        institution: Who stands behind it; one institution counts once per figure.
        where: Address, where there is one.
        weak: Retail, blog or undated local page: used only where nothing better exists.
    """

    text: str
    institution: str
    where: str = ""
    weak: bool = False


# Weeks and days outside these are slips of the pen; seeds per gram reach 100 000 (begonia).
BOUNDS: Final[dict[str, tuple[float, float]]] = {
    "weeks_before_last_frost": (-10, 40),
    "set_out_weeks": (-20, 20),
    "weeks_indoors": (0, 40),
    "sow_outdoors_weeks": (-20, 20),
    "lowest_c": (COLDEST_C, HOTTEST_C),
    "fastest_c": (COLDEST_C, HOTTEST_C),
    "highest_c": (COLDEST_C, HOTTEST_C),
    "tray_c": (COLDEST_C, HOTTEST_C),
    "set_out_soil_c": (COLDEST_C, HOTTEST_C),
    "night_unhardened_c": (COLDEST_C, HOTTEST_C),
    "night_hardened_c": (COLDEST_C, HOTTEST_C),
    "bolts_below_c": (COLDEST_C, HOTTEST_C),
    "bolts_after_days": (1, 100),
    "days_in_trays": (0.5, 400),
    "first_to_last": (1.01, 20),
    "depth_mm": (0, 200),
    "seeds_per_gram": (0.01, 200_000),
    "seed_life_years": (0.1, 100),
    "minimum_germination_percent": (0, 100),
    "seedlings_per_seed": (1, 20),
}


def wrong_figures(crop: Crop, file: str, sources: Mapping[str, Source]) -> Iterator[Problem]:
    """What is wrong in the figures of one crop, and which of its sources nobody knows."""
    for key, (least, most) in BOUNDS.items():
        figure: Figure | None = getattr(crop, key)
        if figure is None:
            continue
        if not figure.low <= figure.best <= figure.high:
            found = f"low {figure.low:g}, best {figure.best:g}, high {figure.high:g}"
            yield Problem(file=file, key=key, found=found, allowed=("low ≤ best ≤ high",))
        for end in {figure.low, figure.best, figure.high}:
            if not least <= end <= most:
                allowed = (f"{least:g} to {most:g}",)
                yield Problem(file=file, key=key, found=f"{end:g}", allowed=allowed)
        yield from _unknown_sources(figure.sources, file, key, sources)
    if not crop.lowest_c.best < crop.fastest_c.best <= crop.highest_c.best:
        found = f"{crop.lowest_c.best:g}, {crop.fastest_c.best:g}, {crop.highest_c.best:g}"
        allowed = ("lowest_c < fastest_c ≤ highest_c",)
        yield Problem(file=file, key="fastest_c", found=found, allowed=allowed)
    if not crop.lowest_c.best <= crop.tray_c.best <= crop.highest_c.best:
        allowed = (f"within the limits, {crop.lowest_c.best:g} to {crop.highest_c.best:g}",)
        yield Problem(file=file, key="tray_c", found=f"{crop.tray_c.best:g}", allowed=allowed)
    if crop.emergence is None and crop.days_in_trays is None:
        hint = "A crop needs an [emergence] table or days_in_trays."
        yield Problem(file=file, key="days_in_trays", hint=hint)
    if crop.emergence is not None:
        yield from _wrong_table(crop.emergence, file)
        yield from _unknown_sources(crop.emergence.sources, file, "emergence", sources)
    if crop.shares is not None:
        soil_c, percent = crop.shares.soil_c, crop.shares.percent
        if len(soil_c) != len(percent) or list(soil_c) != sorted(set(soil_c)):
            hint = "soil_c rises, and percent has one value a temperature."
            yield Problem(file=file, key="shares", hint=hint)
        yield from _unknown_sources(crop.shares.sources, file, "shares", sources)
    for number, lot in enumerate(crop.own_lots, 1):
        if not 0 <= lot.up <= lot.seeds or not lot.seeds:
            key, found = f"own_lots[{number}].up", f"{lot.up} of {lot.seeds}"
            yield Problem(file=file, key=key, found=found, allowed=("0 up to its seeds",))
    if crop.name != folded(clean(crop.name)):
        allowed = ("a name in lower case, without control characters",)
        yield Problem(file=file, key="name", found=crop.name, allowed=allowed)


def _unknown_sources(
    keys: tuple[str, ...], file: str, where: str, sources: Mapping[str, Source]
) -> Iterator[Problem]:
    for key in keys:
        if key not in sources:
            yield Problem(
                file=file,
                key=f"{where}.sources",
                found=key,
                allowed=tuple(sources),
                listed_by="crops/sources.toml",
            )


def _wrong_table(table: EmergenceTable, file: str) -> Iterator[Problem]:
    lengths = {len(table.soil_c), len(table.days), len(table.normal_percent or table.days)}
    if len(lengths) > 1:
        hint = "soil_c, days and normal_percent have one value a temperature each."
        yield Problem(file=file, key="emergence", hint=hint)
    if list(table.soil_c) != sorted(set(table.soil_c)):
        yield Problem(file=file, key="emergence.soil_c", allowed=("temperatures that rise",))
    days = [value for value in table.days if not isinstance(value, str)]
    if not days or min(days) <= 0:
        yield Problem(file=file, key="emergence.days", allowed=("at least one figure above 0",))
