"""One value, read as the type of its key in the entry says."""

import re
from collections.abc import Callable
from datetime import date
from functools import cache
from types import UnionType
from typing import Annotated, Any, Final, Literal, NamedTuple, Union, get_args, get_origin

from msgspec import Meta
from msgspec.structs import fields

from seedstart.days import parse_day
from seedstart.season.journal.entries import Entry
from seedstart.text import folded
from seedstart.units import Units, parse_grams, parse_length, parse_temperature

_MOST_DIGITS: Final = 9
_YES: Final = frozenset({"yes", "y", "true"})
_NO: Final = frozenset({"no", "n", "false"})
_NO_END: Final = float("inf")


class NotAmongError(ValueError):
    """A word that is none of those that would do.

    Attributes:
        allowed: Those that would.
    """

    def __init__(self, allowed: tuple[str, ...]) -> None:
        super().__init__("")
        self.allowed = allowed


class Shape(NamedTuple):
    """What may stand under a key.

    Attributes:
        type: `int`, `float`, `str`, `bool`, `date`.
        least: The lowest value, and
        most: the highest.
        above: The lowest itself is too low.
        words: The only words that will do.
    """

    type: type
    least: float = -_NO_END
    most: float = _NO_END
    above: bool = False
    words: tuple[str, ...] = ()


@cache
def shape(kind: type[Entry], key: str) -> Shape:
    """What may stand under a key of a kind.

    Raises:
        KeyError: The kind has no such key.
    """
    hint: Any = {one.name: one.type for one in fields(kind)}[key]
    if get_origin(hint) in {Union, UnionType}:
        hint = next(one for one in get_args(hint) if one is not type(None))
    metas = [one for one in get_args(hint)[1:] if isinstance(one, Meta)]
    hint = get_args(hint)[0] if get_origin(hint) is Annotated else hint
    if get_origin(hint) is Literal:
        return Shape(str, words=get_args(hint))
    meta = metas[0] if metas else Meta()
    least = meta.gt if meta.gt is not None else meta.ge
    return Shape(
        hint,
        -_NO_END if least is None else least,
        _NO_END if meta.le is None else meta.le,
        meta.gt is not None,
    )


def value(kind: type[Entry], key: str, text: str, says: str, units: Units) -> object:
    """What was typed for a key of a kind, cleaned already.

    Args:
        kind: The entry.
        key: Its key; the unit of an amount stands in it.
        text: What was typed.
        says: What would do, for what is out of bounds.
        units: What a bare temperature or length means.

    Raises:
        ValueError: It does not do; says what would.
    """
    may = shape(kind, key)
    if may.words:
        return one_of(text, may.words)
    if may.type is int:
        return whole(text, int(max(may.least, 0)))
    if may.type is date:
        return parse_day(text)
    if may.type is bool:
        return yes(text)
    return amount(key, text, may, says, units) if may.type is float else text


def whole(text: str, least: int = 0) -> int:
    """A whole number.

    Raises:
        ValueError: Something else.
    """
    digits = text.strip()
    if not digits.isdecimal() or len(digits) > _MOST_DIGITS or int(digits) < least:
        raise ValueError(f"a whole number from {least}")
    return int(digits)


def yes(text: str) -> bool:
    """Whether it says yes.

    Raises:
        NotAmongError: Neither yes nor no.
    """
    if folded(text) not in _YES | _NO:
        raise NotAmongError(("yes", "no"))
    return folded(text) in _YES


def one_of(text: str, words: tuple[str, ...]) -> str:
    """One of a few words, or its beginning where that fits one alone.

    Raises:
        NotAmongError: None of them, or more than one.
    """
    wanted = folded(text)
    fits = [word for word in words if word.startswith(wanted)]
    if wanted in words:
        return wanted
    if len(fits) != 1 or not wanted:
        raise NotAmongError(words)
    return fits[0]


def number(text: str) -> float:
    """A finite number, with a full stop or a comma.

    Raises:
        ValueError: Not a number.
    """
    if not re.fullmatch(r"[+-]?\d{1,12}(?:[.,]\d{1,12})?", text.strip()):
        raise ValueError("a number, e.g. 2.5")
    return float(text.strip().replace(",", "."))


def amount(key: str, text: str, may: Shape, says: str, units: Units) -> float:
    """A number with its unit or without, within what may stand under the key.

    Raises:
        ValueError: It does not do; says what would.
    """
    if key == "c" or key.endswith("_c"):
        return parse_temperature(text, units, coldest_c=may.least, hottest_c=may.most)
    try:
        found = _READERS.get(key, _bare(*_UNITS.get(key, ())))(text, units)
    except ValueError as error:
        raise ValueError(says or str(error)) from None
    if not may.least <= found <= may.most or (may.above and found == may.least):
        raise ValueError(says or f"a number from {may.least:g} to {may.most:g}")
    return found


def _bare(*names: str) -> Callable[[str, Units], float]:
    """A reader of a number behind which one of these names of its unit may stand."""

    def read(text: str, _: Units) -> float:
        said = text.strip().casefold()
        unit = next((one for one in names if said.endswith(one)), "")
        return number(said.removesuffix(unit))

    return read


def _millilitres(text: str, _: Units) -> float:
    """`400`, `400 ml`, `1.5 l`."""
    said = text.strip().casefold().removesuffix("ml")
    litres = said.endswith("l")
    return number(said.removesuffix("l")) * (1000 if litres else 1)


def _grams(text: str, _: Units) -> float:
    """A bare number is grams."""
    try:
        return number(text)
    except ValueError:
        return round(parse_grams(text), 3)


def _millimetres(text: str, units: Units) -> float:
    """A bare number is centimetres, or inches."""
    return round(parse_length(text, units) * 1000, 1)


_UNITS: Final[dict[str, tuple[str, ...]]] = {
    "hours": ("hours", "hour", "h"),
    "lamp_hours": ("hours", "hour", "h"),
    "sun_h": ("hours", "hour", "h"),
    "ppm_n": ("ppm n", "ppm"),
    "lamp_percent": ("%",),
    "wind_ms": ("m/s",),
    "gust_ms": ("m/s",),
    "rain_mm": ("mm",),
}
_READERS: Final[dict[str, Callable[[str, Units], float]]] = {
    "ml": _millilitres,
    "grams": _grams,
    "lamp_height_mm": _millimetres,
    "depth_mm": _millimetres,
}
