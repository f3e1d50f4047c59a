"""Entries and lines to try the journal with."""

import json
from datetime import datetime
from typing import Any

from hypothesis import strategies as st

from seedstart.season.journal.entries import (
    Checked,
    Counted,
    Entry,
    MixedUp,
    Moved,
    Noted,
    PrickedOut,
    Relabelled,
    Soaked,
    Sown,
    Struck,
    TakenOut,
    Unknown,
    Watered,
)

STAMP: dict[str, Any] = {
    "id": "019596d8-1c00-7000-8000-000000000001",
    "at": "2027-03-14T08:00:00+01:00",
    "by": "bench",
}


def an_id(number: int) -> str:
    """One of many ids; they rise with the number."""
    return f"019596d8-1c00-7000-8000-{number:012x}"


def line(kind: str, number: int = 1, **fields: object) -> bytes:
    """A line of the journal with its line end."""
    return json.dumps({"kind": kind, **STAMP, "id": an_id(number), **fields}).encode() + b"\n"


def at(text: str) -> datetime:
    """A moment on the 14th of March 2027, as `08:00+01:00`."""
    return datetime.fromisoformat(f"2027-03-14T{text}")


# Few names, ids and times, so that entries meet: 07:00+01:00 is 06:00Z.
_IDS = st.integers(1, 12).map(an_id)
_NAMES = st.sampled_from(["leek", "leek/2", "leek.1"])
_TIMES = st.sampled_from(
    [at(f"{hour:02}:00{zone}") for hour in (6, 7, 8) for zone in ("Z", "+01:00")]
)
_STAMPS: dict[str, st.SearchStrategy[Any]] = {
    "id": _IDS,
    "at": _TIMES,
    "by": st.sampled_from(["bench", "phone"]),
}


def _of(struct: type[Entry], **fields: st.SearchStrategy[Any]) -> st.SearchStrategy[Entry]:
    return st.builds(struct, **_STAMPS, **fields)


STRIKES = _of(Struck, entry=_IDS)
# Any entry at all, two of them often alike or under one id.
ENTRIES = st.one_of(
    _of(Counted, sowing=_NAMES, standing=st.integers(0, 2)),
    _of(Watered, tray=st.sampled_from(["tray 1", "tray 2"])),
    _of(Moved, tray=st.just("tray 1"), station=st.just("shelf")),
    _of(Sown, sowing=_NAMES, lot=st.just("leek"), seeds=st.integers(1, 2)),
    _of(PrickedOut, sowing=st.just("leek"), into=st.just("leek.1"), plants=st.integers(1, 2)),
    _of(Relabelled, sowing=st.just("leek"), name=_NAMES),
    _of(MixedUp, sowings=st.just(("leek", "leek/2")), into=_NAMES),
    _of(Soaked, lot=st.sampled_from(["leek", "parsley"])),
    _of(TakenOut, entry=_IDS),
    _of(Checked, check=st.sampled_from(["look leek", "look parsley"])),
    _of(Noted, text=st.just("leggy")),
    _of(Unknown, called=st.just("sung_to")),
    STRIKES,
)
KNOWN_ENTRIES = ENTRIES.filter(lambda entry: not isinstance(entry, Unknown))
