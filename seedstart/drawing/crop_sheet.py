"""The crop table as lines: all crops in a list, or one crop with the source of each figure."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Final

from seedstart.crop_table.crop import (
    BASIS_IN_WORDS,
    Crop,
    Figure,
    From,
    LightToGerminate,
    Source,
    Treat,
    caution_in_words,
)
from seedstart.drawing.lines import Line, Span, fitted, heading, plain, wrapped
from seedstart.planning.calendar.crop_times import at_station
from seedstart.units import Units, show_temperature, steady

_LABEL = 34
# Label and unit of each figure, in the order of a grower's questions.
_FIGURES: Final[tuple[tuple[str, str, str], ...]] = (
    ("weeks_before_last_frost", "Sow before the last frost", "weeks"),
    ("set_out_weeks", "Set out after the last frost", "weeks"),
    ("weeks_indoors", "Weeks indoors, as printed", "weeks"),
    ("sow_outdoors_weeks", "Sow outdoors after the last frost", "weeks"),
    ("tray_c", "Mixed-tray setting", "c"),
    ("days_in_trays", "Up in trays at that setting", "days"),
    ("lowest_c", "Lowest soil temperature", "c"),
    ("fastest_c", "Fastest soil temperature", "c"),
    ("highest_c", "Highest soil temperature", "c"),
    ("first_to_last", "Last seedlings over first", "times"),
    ("set_out_soil_c", "Soil at setting out", "c"),
    ("night_unhardened_c", "Nights it stands, unhardened", "c"),
    ("night_hardened_c", "Nights it stands, hardened", "c"),
    ("bolts_below_c", "Bolts after a spell below", "c"),
    ("bolts_after_days", "Such a spell lasts", "days"),
    ("depth_mm", "Depth", "mm"),
    ("seeds_per_gram", "Seeds in a gram", ""),
    ("seed_life_years", "Seed keeps", "years"),
    ("minimum_germination_percent", "Legal minimum germination", "%"),
    ("seedlings_per_seed", "Seedlings from one seed", ""),
)


_LIGHT: Final[dict[LightToGerminate, str]] = {
    "light": "light: press it in, do not cover",
    "cover": "just cover it",
    "dark": "dark until it is up",
}

# Crops are called as their sources call them; what British growers say is shown beside that.
_BRITISH: Final = {
    "eggplant": "aubergine", "rutabaga": "swede", "beet": "beetroot", "summer squash": "courgette",
    "snap bean": "french bean",
}  # fmt: skip


def crop_list_lines(crops: Iterable[Crop], more: str, units: Units = "metric") -> list[Line]:
    """A line a crop: hardiness, weeks, temperature and days of a mixed tray.

    Args:
        crops: In this order within each group.
        more: Where more of a crop is told, for the note below.
        units: To show temperatures in.
    """
    degrees = "°F" if units == "us" else "°C"
    head = f"  {'crop':<21}{'hardiness':<13}{'sow weeks':<14}{'set out':<14}{degrees:<6}up in days"
    lines: list[Line] = [(Span(head, "quiet"),)]
    for group in ("vegetable", "herb", "flower"):
        lines.append(heading(f"{group}s".capitalize()))
        lines += [_crop_line(crop, units) for crop in crops if crop.group == group]
    note = (
        "Sow weeks count before, set-out weeks after the average last frost (minus is before); "
        f"days are those of a mixed tray. {more}"
    )
    return [*lines, plain(""), *wrapped(note, 79, role="quiet", hang="")]


def _crop_line(crop: Crop, units: Units) -> Line:
    found = at_station(crop, steady(crop.tray_c.best)).expected
    days = f"{found.earliest:.0f} to {found.latest:.0f}" if found else "-"
    weeks = _range(crop.weeks_before_last_frost) if crop.weeks_before_last_frost else "in place"
    out = _range(crop.set_out_weeks) if crop.set_out_weeks else "-"
    tray = show_temperature(round(crop.tray_c.best), units).split(" ", maxsplit=1)[0]
    cells = f"{fitted(crop.hardiness.replace('_', ' '), 13)}{weeks:<14}{out:<14}{tray:<6}{days}"
    return (Span(f"  {fitted(crop.name, 20)} ", "name"), Span(cells))


def crop_lines(
    crop: Crop, sources: Mapping[str, Source], units: Units = "metric", width: int = 80
) -> list[Line]:
    """Everything the table knows of a crop, with numbered sources."""
    numbers: dict[str, int] = {}
    lines: list[Line] = [heading(_name(crop)), *_names(crop, width), plain("")]
    lines += _words(crop, numbers, width)
    for key, label, unit in _FIGURES:
        figure: Figure | None = getattr(crop, key)
        if figure is not None:
            lines += _figure(label, figure, unit, units, numbers, width)
    lines += _emergence(crop, units, numbers, width)
    lines += _shares(crop, units, numbers, width)
    for treat in crop.treat:
        lines += _treat(treat, units, numbers, width)
    for note in crop.notes:
        lines += wrapped(f"Note: {note}", width, role="quiet")
    for caution in crop.cautions:
        cited = _cited(caution.sources, numbers)
        lines += wrapped(f"Caution: {caution_in_words(caution)}{cited}", width, role="warn")
    return [*lines, plain(""), *source_lines(numbers, sources, width)]


def source_lines(
    numbers: Mapping[str, int], sources: Mapping[str, Source], width: int
) -> Iterator[Line]:
    """The numbered sources that were cited, in full."""
    if not numbers:
        return
    yield heading("Sources")
    for key, number in numbers.items():
        source = sources.get(key)
        text = f"[{number}] {source.text if source else key}"
        if source and source.where:
            text += f", {source.where}"
        if source and source.weak:
            text += " (weak source)"
        yield from wrapped(text, width, indent="  ", role="quiet")


def _name(crop: Crop) -> str:
    """Its name, with the British one beside it where that is another."""
    british = _BRITISH.get(crop.name)
    return f"{crop.name} ({british})" if british else crop.name


def _names(crop: Crop, width: int) -> Iterator[Line]:
    text = f"{crop.botanical}; {crop.group}" if crop.botanical else crop.group
    also = [name for name in crop.also if name != _BRITISH.get(crop.name)]
    if also:
        text += f"; also {', '.join(also)}"
    yield from wrapped(text, width, role="quiet")


def _words(crop: Crop, numbers: dict[str, int], width: int) -> Iterator[Line]:
    words: list[tuple[str, str, From | None]] = [
        ("Hardiness", crop.hardiness.replace("_", " "), crop.hardiness_from),
        ("Raising", crop.raising, crop.raising_from),
    ]
    if crop.light is not None:
        words.append(("Light to germinate", _LIGHT[crop.light], crop.light_from))
    for label, word, origin in words:
        trust = _trust(origin.basis, origin.sources, origin.note, numbers) if origin else ""
        yield from wrapped(f"{label + ':':<{_LABEL}}{word}{trust}", width)


def _figure(
    label: str, figure: Figure, unit: str, units: Units, numbers: dict[str, int], width: int
) -> Iterator[Line]:
    ends = [figure.low, figure.best, figure.high]
    if unit == "c":
        low, best, high = (show_temperature(end, units) for end in ends)
        low, high = low.split(" ", maxsplit=1)[0], high.split(" ", maxsplit=1)[0]
    else:
        low, best, high = (f"{end:.3g}" for end in ends)
        best = f"{best} {unit}".rstrip()
    span = f" ({low} to {high})" if low != high else ""
    trust = _trust(figure.basis, figure.sources, figure.note, numbers)
    yield from wrapped(f"{label + ':':<{_LABEL}}{best}{span}{trust}", width)


def _trust(basis: str, keys: tuple[str, ...], note: str, numbers: dict[str, int]) -> str:
    in_words = {str(word): text for word, text in BASIS_IN_WORDS.items()}[basis]
    stem = in_words.partition(",")[0].removesuffix(" figure")
    if stem and note.startswith(stem):
        in_words = ""  # the note says so itself
    parts = [part for part in (in_words, "" if note in in_words else note.rstrip(".")) if part]
    said = f"; {'; '.join(parts)}" if parts else ""
    return said + _cited(keys, numbers)


def _cited(keys: tuple[str, ...], numbers: dict[str, int]) -> str:
    marks = sorted(numbers.setdefault(key, len(numbers) + 1) for key in keys)
    return f" [{', '.join(map(str, marks))}]" if marks else ""


def _emergence(crop: Crop, units: Units, numbers: dict[str, int], width: int) -> Iterator[Line]:
    table = crop.emergence
    if table is None:
        return
    yield plain("")
    yield heading(f"Days to emergence by soil temperature{_cited(table.sources, numbers)}")
    if table.note:
        yield from wrapped(table.note, width, indent="  ", role="quiet")
    yield (Span(f"  {'soil':<10}{'table':<18}{'in trays':<14}normal seedlings", "quiet"),)
    percents = table.normal_percent or ("not known",) * len(table.soil_c)
    for soil_c, days, percent in zip(table.soil_c, table.days, percents, strict=True):
        found = at_station(crop, steady(soil_c)).expected
        trays = f"{found.best:.0f} to {found.latest:.0f}" if found else "-"
        printed = days if isinstance(days, str) else f"{days:g} days"
        share = percent if isinstance(percent, str) else f"{percent:g} %"
        degrees = show_temperature(soil_c, units)
        yield plain(f"  {degrees:<10}{printed:<18}{trays:<14}{share}")
    yield plain("")


def _shares(crop: Crop, units: Units, numbers: dict[str, int], width: int) -> Iterator[Line]:
    """Share germinating by temperature, of a crop whose emergence nobody tabulated."""
    shares = crop.shares
    if shares is None:
        return
    parts = [
        f"{percent:g} % at {show_temperature(c, units)}"
        for c, percent in zip(shares.soil_c, shares.percent, strict=True)
    ]
    trust = _trust(shares.basis, shares.sources, shares.note, numbers)
    yield from wrapped(f"{'Share germinating:':<{_LABEL}}{', '.join(parts)}{trust}", width)


def _treat(treat: Treat, units: Units, numbers: dict[str, int], width: int) -> Iterator[Line]:
    how = [
        f"{figure.low:g} to {figure.high:g} {unit}"
        if figure.low != figure.high
        else f"{figure.best:g} {unit}"
        for figure, unit in ((treat.hours, "h"), (treat.days, "days"))
        if figure is not None
    ]
    if treat.c is not None:
        low, high = (show_temperature(c, units) for c in (treat.c.low, treat.c.high))
        how.append(low if low == high else f"{low} to {high}")
    said = f"{treat.what} ({treat.need}){': ' if how else ''}{', '.join(how)}"
    text = f"{'Before sowing:':<{_LABEL}}{said}"
    if treat.text:
        text += f"; {treat.text.rstrip('.')}"
    yield from wrapped(text + _trust(treat.basis, treat.sources, "", numbers), width)


def _range(figure: Figure) -> str:
    if figure.low == figure.high:
        return f"{figure.low:.2g}"
    return f"{figure.low:.2g} to {figure.high:.2g}"
