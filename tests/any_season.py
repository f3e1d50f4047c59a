"""Entries of any kind, about few things, so that they meet; clocks set back, seasons changing."""

from datetime import UTC, timedelta
from typing import Any

from hypothesis import strategies as st

from notebook import ZONE, as_read, moment, written
from seedstart.season.journal.entries import (
    Adjusted,
    Counted,
    Covered,
    Dug,
    Entry,
    Finished,
    Given,
    Hardened,
    Lost,
    MixedUp,
    Moved,
    Noted,
    PottedOn,
    PrickedOut,
    Read,
    Relabelled,
    SetOut,
    Sown,
    Split,
    Stratified,
    Struck,
    TakenOut,
    Thinned,
    Uncovered,
    Unknown,
    Watered,
)

# Around the change to summer time, and to winter time with its doubled hour.
_SPRING, _AUTUMN = moment("3-28 00:30").astimezone(UTC), moment("10-31 00:30").astimezone(UTC)
TIMES = [
    as_read((start + timedelta(minutes=minutes)).astimezone(ZONE))
    for start in (_SPRING, _AUTUMN)
    for minutes in (0, 45, 90, 150, 24 * 60, 30 * 60)
]
_NAMES = st.sampled_from(["leek"] * 6 + ["leek.1"] * 3 + ["leek/2", "Leek", "onion", "onion"])
_IN_FULL = st.sampled_from([f"leek#{written(2027, number)[-6:]}" for number in (1, 3, 5)])
_LINES = st.one_of(_NAMES, _NAMES, _NAMES, _NAMES, _IN_FULL)
_TRAYS, _STATIONS = st.sampled_from(["blue", "red"]), st.sampled_from(["mat", "shelf", "old mat"])
_FEW = st.integers(1, 6)
_ANY = st.integers(0, 9)


def _fields(kind: type[Entry]) -> dict[str, st.SearchStrategy[Any]]:
    lines = {"sowing": _LINES}
    placed = {"tray": st.none() | _TRAYS, "station": st.none() | _STATIONS}
    if kind is Sown:
        lots = st.sampled_from(["leek", "onion", "poree"])
        onto = st.none() | st.none() | st.just("leek.1")
        purpose = st.sampled_from(["plants", "test", "trial"])
        return {
            "sowing": st.sampled_from(["leek", "leek/2", "onion"]), "lot": lots, "onto": onto,
            "seeds": st.integers(1, 12), "purpose": purpose, **placed,
        }  # fmt: skip
    if kind is Counted:
        cells, looked_at = st.none() | _ANY, st.none() | st.none() | _FEW
        return lines | {
            "standing": _ANY, "cells": cells, "lost": st.none() | _FEW, "looked_at": looked_at,
            "final": st.booleans(),
        }  # fmt: skip
    return lines | placed if kind is PottedOn else lines


def _of(kind: type[Entry], **fields: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    return st.tuples(st.just(kind), st.fixed_dictionaries(_fields(kind) | fields))


def _without_sowing(kind: type[Entry], **fields: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    return st.tuples(st.just(kind), st.fixed_dictionaries(fields))


_DAUGHTER = {"plants": _FEW, "into": st.sampled_from(["leek.1", "leek.2"])}
_ENTRIES = [written(2027, number) for number in range(1, 13)]
_COUNTS = st.one_of(
    _of(Counted), _of(Counted), _of(Counted), _without_sowing(Counted, sowing=_LINES, new=_FEW)
)
_LEAVING = st.one_of(
    _of(Dug, sound=_ANY, soft=_FEW),
    _of(Lost, plants=_FEW),
    _of(Lost, left=_ANY),
    _of(Thinned, left=_ANY),
    _of(Given, plants=_FEW),
    _of(SetOut, left=_ANY),
    _of(Finished),
)
_DIVIDING = st.one_of(
    _of(PrickedOut, **_DAUGHTER, tray=st.none() | _TRAYS),
    _of(PrickedOut, **_DAUGHTER, station=st.none() | _STATIONS),
    _of(Split, **_DAUGHTER),
)
_NAMING = st.one_of(
    _of(Sown),
    _of(Sown),
    _of(Relabelled, name=st.sampled_from(["leek", "poree"])),
    _of(Relabelled, lot=st.just("onion"), sure=st.booleans()),
    _without_sowing(MixedUp, sowings=st.just(("leek", "onion")), into=_NAMES),
)
_CARE = st.one_of(
    _of(PottedOn),
    _of(Watered),
    _of(Noted, text=st.just("mould")),
    _without_sowing(Moved, tray=_TRAYS, station=_STATIONS),
    _of(Moved, station=_STATIONS),
    _without_sowing(Watered, tray=_TRAYS),
    _without_sowing(Watered, station=_STATIONS),
    _without_sowing(Covered, tray=_TRAYS),
    _without_sowing(Uncovered, station=_STATIONS),
    _without_sowing(Hardened, tray=_TRAYS, hours=st.just(2.0)),
    _without_sowing(Read, tray=_TRAYS, quantity=st.just("soil_c"), value=st.just(20.0)),
    _without_sowing(Adjusted, station=_STATIONS, mat=st.sampled_from(["on", "off"])),
)
_OTHERS = st.one_of(
    _without_sowing(Stratified, lot=st.sampled_from(["leek", "poree"])),
    _without_sowing(TakenOut, entry=st.sampled_from(_ENTRIES)),
    _without_sowing(Unknown, called=st.just("sung_to")),
    *[_without_sowing(Struck, entry=st.sampled_from(_ENTRIES))] * 3,
)
_SOWN = {name: _of(Sown, sowing=st.just(name), onto=st.none()) for name in ("leek", "onion")}
DRAFTS = st.one_of(
    *[_COUNTS] * 4, *[_LEAVING] * 2, *[_DIVIDING] * 2, _NAMING, *[_CARE] * 2, _OTHERS
)


@st.composite
def entries(draw: st.DrawFn, most: int = 14) -> list[Entry]:
    """A season's entries in the order in which they were written; times in any order."""
    count = draw(st.integers(1, most))
    found = []
    for number in range(1, count + 1):
        name = {1: "leek", 2: "onion"}.get(number)  # so that the others are about something
        kind, fields = draw(_SOWN[name] if name else DRAFTS)
        at, by = draw(st.sampled_from(TIMES)), draw(st.sampled_from(["bench", "phone"]))
        if fields.get("into", "") != fields.get("sowing"):
            found.append(kind(id=written(2027, number), at=at, by=by, **fields))
    return found
