"""Entries in words: what was written down, what was taken back, a sowing's history."""

from collections.abc import Iterator, Sequence
from typing import Any, Final

from msgspec import structs

from seedstart.acts.act import at_station
from seedstart.acts.known import Known
from seedstart.acts.notes_and_plan import need_of
from seedstart.acts.read import OF_KIND
from seedstart.season.journal.entries import (
    Checked,
    Counted,
    Dividing,
    Entry,
    Leaving,
    SetOut,
    Struck,
    kind_in_lines,
)
from seedstart.season.plan.typed_values import sentence
from seedstart.text import clean, joined
from seedstart.tracking.typed_names import tray_named
from seedstart.units import Units, show_temperature

# Fields that say about what, before the rest.
_ABOUT: Final = ("sowing", "tray", "station", "lot", "check")
_STAMP: Final = frozenset({"id", "at", "by", "act"})
# Amounts by their field, each with its unit.
_DEGREES: Final = {
    "c": "at", "thermostat_c": "thermostat", "tmin_c": "lowest", "tmax_c": "highest",
}  # fmt: skip
_AMOUNTS: Final = {
    "hours": "{} h", "days": "{} days", "seeds": "{} seeds", "lamp_hours": "lamp {} h a day",
    "lamp_height_mm": "lamp {} mm above", "lamp_percent": "lamp at {} %", "wind_ms": "wind {} m/s",
    "gust_ms": "gusts {} m/s", "rain_mm": "rain {} mm", "sun_h": "sun {} h", "day": "{}",
    "why": "{}",
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


def confirmed(entries: Sequence[Entry], known: Known) -> str:
    """An act that was written down, as it is confirmed: verb first, figures before words.

    Args:
        entries: Of one act, as they stand in the journal.
        known: With them in it.
    """
    own = [entry for entry in entries if not isinstance(entry, Struck)]
    kinds = dict.fromkeys(map(type, own))
    said = [_of_kind([one for one in own if type(one) is kind], known) for kind in kinds]
    if own and len(own) < len(entries):
        counted = any(isinstance(one, Counted) for one in own)
        said.append(
            f"the {'earlier counts above it are' if counted else 'other count is'} taken back"
        )
    return clean(sentence("; ".join(said)))


def would_write(entries: Sequence[Entry], known: Known) -> str:
    """An act that is not written yet, as it is shown while it is typed.

    Args:
        entries: Drafts of one act.
        known: The season, without them.
    """
    own = [entry for entry in entries if not isinstance(entry, Struck | Checked)]
    kinds = dict.fromkeys(map(type, own))
    said = (_before_it(kind, [one for one in own if type(one) is kind], known) for kind in kinds)
    return clean("; ".join(filter(None, said)))


def _before_it(kind: type[Entry], entries: Sequence[Any], known: Known) -> str:
    """What would be done, and what it would leave behind."""
    if issubclass(kind, Dividing):
        mothers = dict.fromkeys(one.sowing for one in entries)
        return "; ".join(
            _dividing(mother, [one for one in entries if one.sowing == mother], known)
            for mother in mothers
        )
    if issubclass(kind, Leaving | SetOut):
        return "; ".join(f"{one.sowing}: {_said(one, known.plan.units)}" for one in entries)
    return _of_kind(entries, known)


def _dividing(mother: str, parts: Sequence[Dividing], known: Known) -> str:
    """`33 of 33 celeriac: tray 40 (20) and tray 41 (13), new, on the lower shelf; none stay`."""
    one = known.standing(mother)
    stand, plants = one.standing if one else 0, sum(part.plants for part in parts)
    places = [f"{part.tray or part.station} ({part.plants})" for part in parts]
    trays = [part.tray for part in parts if part.tray]
    new = trays and all(tray_named(known.records, tray) is None for tray in trays)
    stations = dict.fromkeys(at_station(part.station, known) for part in parts if part.station)
    containers = dict.fromkeys(part.container for part in parts if part.container)
    how = ["new" if new else "", *containers, *(stations if trays else ())]
    spot = known.records.spot(one.id) if one else None
    rest, where = max(stand - plants, 0), f" in {spot.tray}" if spot and spot.tray else ""
    stays = f"{rest or 'none'} {'stays' if rest == 1 else 'stay'}{where}"
    into = ", ".join(filter(None, (joined(places), *how)))
    others = "".join(f"; {said}" for said in _not_free(trays, mother, known))
    return f"{plants} of {max(stand, plants)} {mother}: {into}; {stays}{others}"


def _not_free(trays: Sequence[str], mother: str, known: Known) -> Iterator[str]:
    """`tray 41 already holds leek, tray 42 is free`: before it is written, and no reason not to."""
    for tray in trays:
        held = map(known.records.standings.get, known.records.sowings_in(("tray", tray)))
        names = [one.name for one in held if one and one.standing and one.name != mother]
        if names:
            yield f"{tray} already holds {joined(names)}, {known.free_tray()} is free"


def _of_kind(entries: Sequence[Entry], known: Known) -> str:
    """What was done, of the entries of one kind."""
    act = OF_KIND.get(type(entries[0]))
    if act is not None and act.confirms is not None:
        return act.confirms(entries, known)
    kind = kind_in_lines(type(entries[0]).__name__).replace("_", " ")
    said: dict[str, list[str]] = {}
    for entry in entries:
        said.setdefault(_said(entry, known.plan.units), []).append(_about(entry))
    parts = (": ".join(filter(None, (joined(names), text))) for text, names in said.items())
    return f"{kind} {'; '.join(parts)}".strip()


def _about(entry: Entry) -> str:
    key = _about_key(entry)
    name = str(getattr(entry, key)) if key else ""
    return need_of(name) if key == "check" else name


def _about_key(entry: Entry) -> str:
    return next((key for key in _ABOUT if getattr(entry, key, None)), "")


def _said(entry: Entry, units: Units) -> str:
    """In the words of its act, else its keys one after the other."""
    act = OF_KIND.get(type(entry))
    if act is not None and act.says is not None:
        return act.says(entry, units)
    return ", ".join(_keys_of(entry, units))


def _keys_of(entry: Entry, units: Units) -> Iterator[str]:
    about = _about_key(entry)
    for key, value in structs.asdict(entry).items():
        if key in _STAMP or key == about or value in (None, False, (), ""):
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
