"""Entries in words: what was recorded, what was taken back, a sowing's history."""

from collections.abc import Iterator, Sequence
from typing import Final

from msgspec import structs

from seedstart.drawing.quantities import IN_WORDS, show_value
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
    TakenOut,
    kind_in_lines,
)
from seedstart.text import clean, plural
from seedstart.units import Units, show_temperature

# Fields that say about what, before the rest.
_ABOUT: Final = ("sowing", "tray", "station", "lot", "check")
_STAMP: Final = frozenset({"id", "at", "by", "act"})
# Amounts by their field, each with its unit.
_DEGREES: Final = {
    "c": "at", "thermostat_c": "thermostat", "tmin_c": "lowest", "tmax_c": "highest",
}  # fmt: skip
_AMOUNTS: Final = {
    "hours": "{} h", "days": "{} days", "seeds": "{} seeds", "grams": "{} g", "state": "{}",
    "lamp_hours": "lamp {} h a day", "lamp_height_mm": "lamp {} mm above",
    "lamp_percent": "lamp at {} %", "wind_ms": "wind {} m/s", "gust_ms": "gusts {} m/s",
    "rain_mm": "rain {} mm", "sun_h": "sun {} h", "day": "{}", "why": "{}",
}  # fmt: skip


def entry_in_words(entry: Entry, units: Units = "metric") -> str:
    """One entry as a short sentence: `counted leek: 18 standing (Wed 24 Mar 2027, 07:40)`."""
    kind = kind_in_lines(type(entry).__name__).replace("_", " ")
    about = _about(entry)
    said = _said(entry, units)
    text = f"{kind}{f' {about}' if about else ''}{f': {said}' if said else ''}"
    return clean(f"{text} ({entry.at:%a %-d %b %Y, %H:%M})")


def act_in_words(entries: Sequence[Entry], units: Units = "metric") -> str:
    """An act by its first entry, and how many more it has; strikes are none of its own."""
    own = [entry for entry in entries if not isinstance(entry, Struck)] or entries
    first, more = entry_in_words(own[0], units), len(own) - 1
    return f"{first} and {more} more of that act" if more else first


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
        return f"{IN_WORDS[entry.quantity]} {show_value(entry.quantity, entry.value, units)}"
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
    if isinstance(entry, TakenOut):
        return f"entry …{entry.entry[-6:]}"
    return ", ".join(_others(entry, units))


def _counted(entry: Counted) -> str:
    parts = [f"{entry.standing} standing" if entry.new is None else f"{entry.new} new"]
    if entry.lost:
        parts.append(f"{entry.lost} lost{f' ({entry.why})' if entry.why else ''}")
    if entry.final:
        parts.append("final")
    return ", ".join(parts)


def _others(entry: Entry, units: Units) -> Iterator[str]:
    for key, value in structs.asdict(entry).items():
        if key in _STAMP or key in _ABOUT or value in (None, False, (), ""):
            continue
        if key in _DEGREES:
            yield f"{_DEGREES[key]} {show_temperature(value, units)}".strip()
        elif key in _AMOUNTS:
            yield _AMOUNTS[key].format(_plainly(value))
        else:
            yield f"{key.replace('_', ' ')} {_plainly(value)}".strip()


def _plainly(value: object) -> object:
    """`9` for 9.0; a yes is said by its name alone."""
    if value is True:
        return ""
    return f"{value:g}" if isinstance(value, float) else value
