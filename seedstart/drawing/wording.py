"""Entries in words: what was recorded, what was taken back, a sowing's history."""

from typing import Final

from msgspec import structs

from seedstart.season.entries import (
    Counted,
    Dividing,
    Entry,
    Leaving,
    Measured,
    Moved,
    Noted,
    Planned,
    Poured,
    Read,
    SetOut,
    Sown,
    Struck,
    kind_in_lines,
)
from seedstart.text import clean, plural
from seedstart.units import Units, show_temperature

# Fields that say about what, before the rest.
_ABOUT: Final = ("sowing", "tray", "station", "lot", "check")
_STAMP: Final = frozenset({"id", "at", "by", "act"})


def entry_in_words(entry: Entry, units: Units = "metric") -> str:
    """One entry as a short sentence: `counted leek: 18 standing (Wed 24 Mar 2027, 07:40)`."""
    kind = kind_in_lines(type(entry).__name__).replace("_", " ")
    about = _about(entry)
    said = _said(entry, units)
    text = f"{kind}{f' {about}' if about else ''}{f': {said}' if said else ''}"
    return clean(f"{text} ({entry.at:%a %-d %b %Y, %H:%M})")


def _about(entry: Entry) -> str:
    names = [str(value) for key in _ABOUT if (value := getattr(entry, key, None))]
    return ", ".join(names[:1])


def _said(entry: Entry, units: Units) -> str:
    if isinstance(entry, Counted):
        return _counted(entry)
    if isinstance(entry, Sown):
        seeds = entry.seeds or (f"about {entry.about}" if entry.about else f"{entry.grams} g")
        where = entry.tray or entry.station
        return f"{seeds} seeds of {entry.lot}{f' in {where}' if where else ''}"
    if isinstance(entry, Dividing):
        where = entry.tray or entry.station
        return f"{entry.plants} into {entry.into}{f' ({where})' if where else ''}"
    if isinstance(entry, Leaving | SetOut):
        plants = f"{entry.left} left" if entry.plants is None else plural(entry.plants, "plant")
        why = getattr(entry, "why", None) or getattr(entry, "to", None)
        return f"{plants}{f', {why}' if why else ''}"
    if isinstance(entry, Moved):
        into = f", {entry.tray}" if entry.sowing and entry.tray else ""
        return f"to {entry.station}{into}"
    if isinstance(entry, Read):
        if entry.quantity in {"soil_c", "air_c"}:
            where = entry.quantity.removesuffix("_c")
            return f"{where} {show_temperature(entry.value, units)}"
        return f"{entry.quantity} {entry.value:g}"
    if isinstance(entry, Poured):
        parts = [f"{entry.ml:g} ml" if entry.ml is not None else "", entry.what or ""]
        parts.append(f"{entry.ppm_n:g} ppm N" if entry.ppm_n is not None else "")
        return ", ".join(part for part in parts if part)
    if isinstance(entry, Measured):
        return ", ".join(f"{one.height_mm:g}/{one.diameter_mm:g} mm" for one in entry.plants)
    if isinstance(entry, Planned):
        return ", ".join(f"{key} {value}" for key, value in entry.to.items())
    if isinstance(entry, Noted):
        return f"{entry.text}{f' ({entry.about})' if entry.about else ''}"
    if isinstance(entry, Struck):
        return entry.entry
    return ", ".join(f"{key} {value}".strip() for key, value in _others(entry))


def _counted(entry: Counted) -> str:
    parts = [f"{entry.standing} standing" if entry.new is None else f"{entry.new} new"]
    if entry.lost:
        parts.append(f"{entry.lost} lost{f' ({entry.why})' if entry.why else ''}")
    if entry.final:
        parts.append("final")
    return ", ".join(parts)


def _others(entry: Entry) -> list[tuple[str, object]]:
    return [
        (key.replace("_", " "), _plainly(value))
        for key, value in structs.asdict(entry).items()
        if key not in _STAMP and key not in _ABOUT and value not in (None, False, (), "")
    ]


def _plainly(value: object) -> object:
    """`9` for 9.0; a yes is said by its name alone."""
    if value is True:
        return ""
    return f"{value:g}" if isinstance(value, float) else value
