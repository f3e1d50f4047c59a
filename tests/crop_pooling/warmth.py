"""Soil temperatures, days to emergence and the emergence table of a crop."""

from statistics import median
from typing import Final, Literal

from crop_pooling.institutions import EMERGENCE, HANDBOOK, NORMAL_SEEDLINGS
from crop_pooling.judgements import (
    DAYS_BY_HAND,
    HIGHEST_BY_HAND,
    LIMITS_BY_HARDINESS,
    MEMORY_DAYS,
    MEMORY_TRAY_C,
    TRAY_BY_HAND,
)
from crop_pooling.listed import Listed
from crop_pooling.pooling import (
    FEW_HIGH,
    FEW_LOW,
    Printed,
    better_only,
    borrowed_from,
    by_institution,
    figure,
    pool,
    quantile,
)
from crop_pooling.sources import is_weak, key_of
from crop_pooling.tables import number, rows_of
from seedstart.crop_table.crop import Basis, EmergenceTable, Figure, Hardiness, Shares

# Papers: germination in a cabinet. Their fitted limits are left out, their days are no tray's.
PAPERS: Final = frozenset(
    {
        "birjand-basil",
        "notulae-hyssop-basil-oregano",
        "mashhad-dill-fennel",
        "heidari-2014",
        "seed-technology-2009",
        "goodger-2013",
        "kurtar-2010",
        "abu-rayyan-2012",
        "wise-1995",
        "hassell-2004",
        "abdullateef-2011",
        "african-leafy-vegetables",
        "aghighi-shahverdi-2019",
        "akram-purslane",
        "baskin-1988",
        "carpenter-vinca",
        "carpenter-dusty-miller",
        "deno",
        "edamame-abstract",
        "guilan-chamomile-2017",
        "huyskens-1993",
        "ierna-2004",
        "lettuce-1975",
        "macchia-stevia",
        "monte-2013",
        "north-carolina-luffa",
        "nunes-2018",
        "physalis-2020",
        "physalis-abstract",
        "purslane-2014",
        "ransom-delphinium",
        "silva-2017",
        "singh-1973",
        "thompson-1974",
    }
)
# A page that prints days at one temperature and at another is a table too: no setting of trays, and
# no range from first to last.
NO_TRAYS: Final = PAPERS | {"cornell-watermelons"}
# Tables of lowest, fastest and highest temperature; their optimum is no setting of a mixed tray.
_TABLES_OF_LIMITS: Final = frozenset(
    {HANDBOOK, "florida-ifas", "texas-soil-temperature", "colorado-gardennotes-720"}
)
_NEAR_THE_BEST: Final = 5  # percent points of normal seedlings
_CELERY_CONTRADICTED_C: Final = 25
_ENOUGH_SHARES: Final = 4
_WIDEST_DAYS: Final = 4  # "14 to 90 days" tells a grower with trays nothing: left out


def lowest(crop: Listed, hardiness: Hardiness) -> Figure:
    """Lowest soil temperature for emergence."""
    return _limit(crop, "min_c", hardiness)


def highest(crop: Listed, hardiness: Hardiness) -> Figure:
    """Highest soil temperature for emergence."""
    return HIGHEST_BY_HAND.get(crop.name) or _limit(crop, "max_c", hardiness)


def shares(crop: Listed) -> Shares | None:
    """Share germinating by temperature, where no emergence table of the crop says it."""
    for name in (crop.name, crop.relative):
        rows = [
            (float(row.said["temp_c"]), float(row.said["percent_or_word"]), key_of(row.source))
            for row in rows_of(name, "heat_limits")
            if row.said["percent_or_word"].isdecimal()
        ]
        if len(rows) >= _ENOUGH_SHARES and emergence_table(crop) is None:
            soil_c, percent, keys = zip(*sorted(rows), strict=True)
            basis: Basis = "source" if name == crop.name else "relative"
            note = "" if name == crop.name else f"a relative's ({name})"
            return Shares(soil_c, percent, basis, tuple(sorted(set(keys))), note)
    return None


def _limit(crop: Listed, column: str, hardiness: Hardiness) -> Figure:
    """The handbook's, else a relative's, else our guess for the hardiness class."""
    own = _limit_as_printed(crop.name, column)
    if own is not None and own.basis == "source":
        return own
    if borrowed := _limit_as_printed(crop.relative, column):
        return borrowed_from(crop.relative, borrowed)
    if own is not None:
        return own
    coldest, hottest = LIMITS_BY_HARDINESS[hardiness]
    value = coldest if column == "min_c" else hottest
    if column == "max_c":  # neither a setting for trays nor the fastest temperature is a limit
        tray = tray_setting(crop)
        value = max(value, tray.high, fastest(crop, tray).best)
    note = f"our guess for {hardiness.replace('_', ' ')} plants"
    return figure(value, value, value, "guess", note=note)


def fastest(crop: Listed, tray: Figure) -> Figure:
    """Where emergence is fastest: the handbook's, a paper's, a relative's, else the setting."""
    for name in (crop.name, crop.relative):
        own = _limit_as_printed(name, "optimum_c")
        if own is not None and (own.best >= tray.best or not _from_papers(own)):
            return own if name == crop.name else borrowed_from(name, own)
    best = tray.best
    note = "no fastest temperature is printed: the setting of trays stands in"
    return figure(best, tray.low, tray.high, "practice", tray.sources, note)


def tray_setting(crop: Listed) -> Figure:
    """The soil temperature of a mixed tray: the median of the ranges for trays."""
    if crop.name in TRAY_BY_HAND:
        return TRAY_BY_HAND[crop.name]
    own = pool(_settings(crop.name))
    if own is not None and own.basis == "source":
        return own
    if borrowed := pool(_settings(crop.relative)):
        return borrowed_from(crop.relative, borrowed)
    if own is not None:
        return own
    if (warm := _warm_enough(crop.name)) is not None:
        note = (
            "no setting for trays is printed: the fastest tabulated temperature within 5 points"
            " of the best share of normal seedlings"
        )
        return figure(warm, warm, warm, "source", (EMERGENCE, NORMAL_SEEDLINGS), note)
    laboratory = pool([*_optimum_ranges(crop.name), *_optimum_ranges(crop.relative)])
    if laboratory is not None:
        note = "the best range that is printed; no setting for trays is"
        low, high, keys = laboratory.low, laboratory.high, laboratory.sources
        return figure(laboratory.best, low, high, laboratory.basis, keys, note)
    low, high = MEMORY_TRAY_C[crop.name]
    return figure((low + high) / 2, low, high, "memory", note="no source prints it")


def days_in_trays(crop: Listed) -> Figure | None:
    """Days to emergence that sources for growers in trays print, at the setting of trays."""
    if crop.name in DAYS_BY_HAND:
        return DAYS_BY_HAND[crop.name]
    own = _wider_than_a_point(pool(_days(crop.name)))
    if own is not None and own.basis == "source":
        return own
    if borrowed := pool(_days(crop.relative)):
        return borrowed_from(crop.relative, borrowed)
    if own is None and crop.name in MEMORY_DAYS:
        low, high = MEMORY_DAYS[crop.name]
        return figure((low + high) / 2, low, high, "memory", note="no source prints it")
    return own


def first_to_last(crop: Listed, every_crop: tuple[str, ...]) -> Figure:
    """Days of the last seedlings over days of the first: how a printed range of days is read."""
    note = "our reading of printed ranges of days: the first seedlings to the last"
    at_one_warmth = [
        Printed(float(row.said["days_first"]), float(row.said["days_last"]), key_of(row.source))
        for row in rows_of(crop.name, "emergence_spread")
    ]
    printed = [*at_one_warmth, *_sound_days(crop.name)]
    own = [one for one in by_institution(better_only(printed)[0]) if one.high > one.low]
    if own:
        ratios = [one.high / one.low for one in own]
        keys = sorted({key for one in own for key in one.keys})
        return figure(median(ratios), min(ratios), max(ratios), "practice", keys, note)
    ratios = [
        one.high / one.low
        for name in every_crop
        for one in by_institution(_sound_days(name))
        if one.high > one.low
    ]
    low, high = quantile(ratios, 0.25), quantile(ratios, 0.75)
    return figure(median(ratios), low, high, "practice", (), f"{note}; median over all crops")


def emergence_table(crop: Listed) -> EmergenceTable | None:
    """The handbook's table of the crop, or of the relative whose table it borrows."""
    borrowed = crop.relative if crop.borrows_table else ""
    table = _tabulated(crop.name) or (_tabulated(borrowed) if borrowed else None)
    if table is None:
        return None
    soil_c, days, normal = table
    notes = []
    if not _tabulated(crop.name):
        notes.append(f"a relative's table ({borrowed})")
    if crop.name == "celery":
        days = tuple(
            "not tested" if c == _CELERY_CONTRADICTED_C and day == "no germination" else day
            for c, day in zip(soil_c, days, strict=True)
        )
        notes.append(
            "the table says no germination at 25 °C, against 65 % normal seedlings there and"
            " settings for trays up to 24 °C: taken as not tested"
        )
    return EmergenceTable(
        soil_c=soil_c,
        days=days,
        normal_percent=normal,
        sources=(EMERGENCE, NORMAL_SEEDLINGS),
        note="; ".join(notes),
    )


_Day = float | Literal["no germination", "not tested"]
_Share = float | Literal["not known"]


def _tabulated(crop: str) -> tuple[tuple[float, ...], tuple[_Day, ...], tuple[_Share, ...]] | None:
    in_words: dict[str, _Day] = {"no_germination": "no germination", "not_tested": "not tested"}
    days: dict[float, _Day] = {
        float(row.said["soil_temp_c"]): number(row.said["days_to_emergence"])
        or in_words[row.said["status"]]
        for row in rows_of(crop, "emergence_days")
    }
    normal: dict[float, _Share] = {
        float(row.said["soil_temp_c"]): float(row.said["percent"])
        if row.said["percent"]
        else "not known"
        for row in rows_of(crop, "normal_seedlings_percent")
    }
    if not days:
        return None
    soil_c = tuple(sorted(days))
    return soil_c, tuple(days[c] for c in soil_c), tuple(normal[c] for c in soil_c)


def _limit_as_printed(crop: str, column: str) -> Figure | None:
    printed = []
    for row in rows_of(crop, "germination_temperature"):
        value, key = number(row.said[column]), key_of(row.source)
        if value is not None and (key not in PAPERS or column == "optimum_c"):
            printed.append(Printed(value, value, key))
    handbook = [one for one in printed if one.key == HANDBOOK]
    if handbook or any(one.key not in PAPERS for one in printed):
        printed = [one for one in printed if one.key not in PAPERS]
    pooled = pool(
        printed, note="" if any(one.key for one in printed) else "the handbook's, from memory"
    )
    if pooled is None or not handbook:
        return pooled
    best = handbook[0].low
    low, high = min(pooled.low, best), max(pooled.high, best)
    return figure(best, low, high, pooled.basis, pooled.sources)


def _from_papers(printed: Figure) -> bool:
    """A fitted optimum below the setting of trays is an artefact (dill, 13 °C)."""
    return bool(printed.sources) and PAPERS.issuperset(printed.sources)


def _settings(crop: str) -> list[Printed]:
    found = []
    for row in rows_of(crop, "germination_temperature"):
        key = key_of(row.source)
        low, high = number(row.said["opt_low_c"]), number(row.said["opt_high_c"])
        if key == "michigan-sweet-pea":  # one figure, in the column of the optimum
            low = high = number(row.said["optimum_c"])
        if low is not None and high is not None and key and key not in NO_TRAYS | _TABLES_OF_LIMITS:
            found.append(Printed(low, high, key))
    for row in rows_of(crop, "flower_germination"):
        low, high = number(row.said["temp_low_c"]), number(row.said["temp_high_c"])
        if low is not None and row.said["kind_of_temperature"] == "setting":
            found.append(Printed(low, low if high is None else high, key_of(row.source)))
    return [one for one in found if one.key not in PAPERS]


def _optimum_ranges(crop: str) -> list[Printed]:
    found = []
    for row in rows_of(crop, "germination_temperature"):
        low, high = number(row.said["opt_low_c"]), number(row.said["opt_high_c"])
        if low is not None and high is not None:
            found.append(Printed(low, high, key_of(row.source)))
    for row in rows_of(crop, "flower_germination"):
        low, high = number(row.said["temp_low_c"]), number(row.said["temp_high_c"])
        if low is not None and row.said["kind_of_temperature"] == "optimum":
            found.append(Printed(low, low if high is None else high, key_of(row.source)))
    return found


def _warm_enough(crop: str) -> float | None:
    table = _tabulated(crop)
    if table is None:
        return None
    shares = [share for share in table[2] if isinstance(share, float)]
    fit = [
        (day, c)
        for c, day, share in zip(*table, strict=True)
        if isinstance(day, float)
        and isinstance(share, float)
        and share >= max(shares) - _NEAR_THE_BEST
    ]
    return min(fit)[1] if fit else None


def _days(crop: str) -> list[Printed]:
    found = []
    for table in ("germination_temperature", "flower_germination"):
        for row in rows_of(crop, table):
            low, high = number(row.said["days_low"]), number(row.said["days_high"])
            key = key_of(row.source)
            if low is None or key in NO_TRAYS:
                continue
            high = low if high is None else high
            if high <= _WIDEST_DAYS * low:
                found.append(Printed(low, high, key))
    return found


def _sound_days(crop: str) -> list[Printed]:
    return [one for one in _days(crop) if not is_weak(one.key)]


def _wider_than_a_point(days: Figure | None) -> Figure | None:
    if days is None or days.high > days.low:
        return days
    low, high = days.best * FEW_LOW, days.best * FEW_HIGH
    note = "one figure printed, widened to -20 % .. +25 %"
    return figure(days.best, low, high, days.basis, days.sources, note)
