"""Single values as growers write them → checked: text, numbers, days, words, quantities."""

import re
from collections.abc import Callable, Sequence
from datetime import date, datetime
from typing import Final, TypeVar

from seedstart.days import parse_day
from seedstart.text import clean, folded
from seedstart.units import Units

T = TypeVar("T")
W = TypeVar("W", bound=str)

_NUMBER: Final = re.compile(r"[+-]?(\d{1,12}([.,]\d{0,12})?|[.,]\d{1,12})")
_TOO_MUCH: Final = 1e15
_LONGEST_SHOWN: Final = 80
_FIRST_YEAR, _LAST_YEAR = 1900, 2200  # as parse_day has it


class RefusedError(ValueError):
    """A value that may not stand there, with the words that may, or what to do."""

    def __init__(self, *, allowed: Sequence[str] = (), hint: str = "", listed_by: str = "") -> None:
        super().__init__(hint or ", ".join(allowed))
        self.allowed = tuple(allowed)
        self.hint = hint
        self.listed_by = listed_by


def sentence(phrase: str) -> str:
    """A phrase as a sentence."""
    return f"{phrase[:1].upper()}{phrase[1:]}."


def cut(text: str) -> str:
    """What was found, short enough for one line of a message."""
    return text if len(text) <= _LONGEST_SHOWN else f"{text[: _LONGEST_SHOWN - 1]}…"


def show(value: object) -> str:
    """A value as it stands in the file, for the message that refuses it."""
    match value:
        case bool():
            return "true" if value else "false"
        case float():
            return f"{value:g}"
        case int() if abs(value) >= _TOO_MUCH:
            return "a number of very many digits"
        case list():
            plain = not any(isinstance(part, list | dict) for part in value)
            return f"[{', '.join(map(show, value))}]" if plain else "a list"
        case dict():
            return "a table"
    return str(value)


def text(value: object) -> str:
    """Text in quotes, cleaned, without blanks at its ends; it may be empty."""
    if not isinstance(value, str):
        raise RefusedError(allowed=("text in quotes",))
    return clean(value).strip()


def full_text(value: object) -> str:
    """Text in quotes that says something."""
    if not (stripped := text(value)):
        raise ValueError("text in quotes that is not empty")
    return stripped


def whole(least: int, most: int, what: str = "a whole number") -> Callable[[object], int]:
    """A reader of whole numbers from `least` to `most`."""

    def read(value: object) -> int:
        found = _counted(value)
        if found is None or not found.is_integer() or not least <= found <= most:
            raise ValueError(f"{what} from {least} to {most}")
        return int(found)

    return read


def number(least: float, most: float, what: str = "a number") -> Callable[[object], float]:
    """A reader of numbers from `least` to `most`."""

    def read(value: object) -> float:
        found = _counted(value)
        if found is None or not least <= found <= most:
            raise ValueError(f"{what} from {least:g} to {most:g}")
        return found

    return read


def parse_bare_number(text: str) -> float | None:
    """A number with a full stop or a comma and nothing beside it; None for anything else."""
    return float(text.replace(",", ".")) if _NUMBER.fullmatch(text.strip()) else None


def _counted(value: object) -> float | None:
    """A number, in quotes or not; None for anything else."""
    if isinstance(value, str):
        return parse_bare_number(value)
    if isinstance(value, int | float) and not isinstance(value, bool) and abs(value) < _TOO_MUCH:
        return float(value)
    return None


def day(value: object) -> date:
    """A day, as a TOML date or as text."""
    if isinstance(value, datetime):
        raise RefusedError(hint="Write the day without a time: 2027-05-12.")
    if isinstance(value, date):
        if not _FIRST_YEAR <= value.year <= _LAST_YEAR:
            raise RefusedError(hint=f"The year lies outside {_FIRST_YEAR} to {_LAST_YEAR}.")
        return value
    try:
        return parse_day(value if isinstance(value, str) else "")
    except ValueError as error:
        raise RefusedError(hint=sentence(str(error))) from None


def one_of(words: Sequence[W], *, listed_by: str = "") -> Callable[[object], W]:
    """A reader of one word among some, case aside."""
    by_folded = {folded(word): word for word in words}

    def read(value: object) -> W:
        word = by_folded.get(folded(value)) if isinstance(value, str) else None
        if word is None:
            raise RefusedError(allowed=words, listed_by=listed_by)
        return word

    return read


def quantity(parse: Callable[[str, Units], T], units: Units) -> Callable[[object], T]:
    """A reader of text or bare numbers by a parser of `units`, in the season's own units."""

    def read(value: object) -> T:
        return parse(clean(show(value)), units)

    return read


def between(
    read: Callable[[object], float], least: float, most: float, allowed: str
) -> Callable[[object], float]:
    """A reader that lets through only what lies within bounds, ends included."""

    def read_within(value: object) -> float:
        found = read(value)
        if not least <= found <= most:
            raise ValueError(allowed)
        return found

    return read_within
