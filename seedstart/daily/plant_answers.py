"""Sowing, thinning, pricking out, potting on, setting out: what was typed → the entries."""

import re
from collections.abc import Callable, Collection, Sequence
from typing import Any, Final

from seedstart.daily.check import Asked, Check, ToSow
from seedstart.daily.typed import RefusedError, amount, whole
from seedstart.season.entries import (
    BLANK,
    Checked,
    Counted,
    Entry,
    Finished,
    PottedOn,
    PrickedOut,
    SetOut,
    Sown,
    Thinned,
)
from seedstart.season.names import daughter_name, later_sowing_name
from seedstart.season.typed_values import parse_destinations

_SEEDS: Final = re.compile(
    r"(?:(about|ca\.?|~)\s*)?(\d+(?:[.,]\d+)?)?\s*(seeds?|g|grams?)?"
    r"(?:\s*\b(?:in|into|on|at|to)\s+(.+))?",
    re.IGNORECASE,
)
PlaceOf = Callable[[str], dict[str, str | None]]
_KEPT: Final = frozenset({"keep", "kept"})
_THROWN: Final = frozenset({"0", "thrown", "thrown away"})
SAY_SEEDS: Final = "how many seeds, as 24, about 100, 2 g, or 24 in tray 5"
SAY_LEFT: Final = "how many stand after it, as 12"
SAY_PLANTS: Final = "how many, as 12; nothing for all; keep if they stay"
SAY_INTO: Final = (
    "how many and where to, as 30 into tray 5, or 45 into tray 5:15, tray 6:30; keep if they stay"
)


def sow_answer(
    check: Check, typed: str, place_of: PlaceOf, taken: Collection[str]
) -> tuple[Entry, ...]:
    """The sowing; nothing typed takes the number of the plan.

    Raises:
        RefusedError: With what to type instead.
    """
    sow, match = check.to_sow, _SEEDS.fullmatch(typed)
    if sow is None or match is None:
        raise RefusedError(SAY_SEEDS)
    roughly, number, unit, where = match.groups()
    if number is None and (roughly or unit):
        raise RefusedError(SAY_SEEDS)
    seeds: dict[str, Any] = {"seeds": sow.seeds}
    if number is None and sow.seeds is None:
        raise RefusedError(SAY_SEEDS)
    if number is not None and (unit or "").casefold().startswith("g"):
        seeds = {"grams": amount(number, SAY_SEEDS)}
    elif number is not None:
        seeds = {"about" if roughly else "seeds": _some(number, SAY_SEEDS)}
    place = place_of(where) if where else {}
    return (
        _sown(sow, later_sowing_name(sow.lot, taken), {"station": sow.station, **place, **seeds}),
    )


def _sown(sow: ToSow, name: str, fields: dict[str, Any]) -> Sown:
    return Sown(**BLANK, sowing=name, lot=sow.lot, after=sow.after, **fields)


def thin_answer(check: Check, typed: str) -> tuple[Entry, ...]:
    """What stands after thinning.

    Raises:
        RefusedError: With what to type instead.
    """
    asked = _only(check)
    left = whole(typed, SAY_LEFT)
    if left >= asked.standing:
        raise RefusedError(f"{asked.standing} stood before: {SAY_LEFT}")
    return (Thinned(**BLANK, sowing=asked.name, left=left),)


def set_out_answer(check: Check, typed: str) -> tuple[Entry, ...]:
    """Plants that were set out; nothing typed means all of them.

    Raises:
        RefusedError: With what to type instead.
    """
    if of_rest := _rest_said(check, typed):
        return of_rest
    if not typed or typed.casefold() == "all":
        return tuple(
            entry
            for asked in check.sowings
            for entry in (SetOut(**BLANK, sowing=asked.name, left=0), *_last_count(asked))
        )
    asked = _only(check)
    plants = _some(typed, SAY_PLANTS)
    if plants > asked.standing:
        raise RefusedError(f"only {asked.standing} stand: count them first if there are more")
    out = SetOut(**BLANK, sowing=asked.name, plants=plants)
    return (out, *(_last_count(asked) if plants == asked.standing else ()))


def _last_count(asked: Asked) -> tuple[Counted, ...]:
    """What ends a sowing's count when its last plant leaves and none is to follow."""
    return (Counted(**BLANK, sowing=asked.name, standing=0, final=True),) if asked.closes else ()


def pot_on_answer(check: Check, typed: str, containers: Sequence[str]) -> tuple[Entry, ...]:
    """Plants in a bigger container, named or not.

    Raises:
        RefusedError: A container that the season does not know.
    """
    container = None
    if typed:
        container = next((one for one in containers if one.casefold() == typed.casefold()), None)
        if container is None:
            near = ", ".join(containers[:6])
            raise RefusedError(f"nothing, or a container of the season: {near}")
    return tuple(
        PottedOn(**BLANK, sowing=asked.name, container=container) for asked in check.sowings
    )


def prick_out_answer(
    check: Check, typed: str, place_of: PlaceOf, taken: Collection[str]
) -> tuple[Entry, ...]:
    """Seedlings in their own cells, a daughter for each destination.

    Raises:
        RefusedError: With what to type instead; more than stand, or some without a place.
    """
    if of_rest := _rest_said(check, typed):
        return of_rest
    asked = _only(check)
    try:
        parts = parse_destinations(typed)
    except ValueError as error:
        said = str(error)
        unsaid = said.startswith("where to")
        raise RefusedError(SAY_INTO if unsaid else f"{said}: {SAY_INTO}") from None
    plants = sum(number for _, number in parts)
    if plants > asked.standing:
        raise RefusedError(f"{plants} of {asked.standing}: count them first if more stand")
    entries: list[Entry] = []
    names = set(taken)
    for where, number in parts:
        called = daughter_name(asked.name.partition("#")[0], names)
        names.add(called)
        place: dict[str, Any] = {**place_of(where)}
        if "tray" in place:  # a new one is taken to stand where the seedlings came up
            place.setdefault("station", check.station)
        entries.append(PrickedOut(**BLANK, sowing=asked.name, plants=number, into=called, **place))
    return (*entries, *(_last_count(asked) if plants == asked.standing else ()))


def _rest_said(check: Check, typed: str) -> tuple[Entry, ...]:
    """That the plants stay where they are; of a rest, that it was thrown away. Else nothing."""
    word = typed.casefold().rstrip(" .")
    if word in _KEPT:
        return (Checked(**BLANK, check=check.key),)
    if word in _THROWN and check.sowings and all(asked.parted for asked in check.sowings):
        return tuple(
            Finished(**BLANK, sowing=asked.name, why="thrown away") for asked in check.sowings
        )
    return ()


def _some(text: str, say: str) -> int:
    number = whole(text, say)
    if number == 0:
        raise RefusedError(say)
    return number


def _only(check: Check) -> Asked:
    """The one sowing of a check that has a single one."""
    if len(check.sowings) != 1:
        raise RefusedError("one sowing at a time: open the line")
    return check.sowings[0]
