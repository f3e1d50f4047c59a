"""Why a line of the journal was set aside, in a grower's words."""

import re
from functools import lru_cache
from typing import Any, Final, Literal, get_args, get_origin, get_type_hints

from msgspec import DecodeError, ValidationError, json, structs

from seedstart.problems import Gathered, Problem
from seedstart.season.journal.entries import KINDS
from seedstart.text import clean

_MERGE_MARKS: Final = (b"<<<<<<<", b"=======", b">>>>>>>", b"|||||||")
_MERGED: Final = "a mark of a merge"
_LONGEST_SHOWN: Final = 60
_MOST_CLEANED: Final = 1000
_WORDED: Final = 5  # so many are worded
_AT: Final = re.compile(r" - at `\$([^`]*)`$")
_MISSING: Final = re.compile(r"Object missing required field `(\w+)`")
_EXPECTED: Final = re.compile(
    r"Expected `(\w+)(?: \| null)?`(?: of length)?(?: ([<>]=?) ([\d.]+))?"
)
_TYPES: Final = {
    "int": "a whole number",
    "float": "a number",
    "str": "text in quotes",
    "bool": "true or false",
    "array": "a list",
    "object": "an object in braces",
    "datetime": "a time with its offset, e.g. 2027-03-20T08:00:00+01:00",
    "date": "a day, e.g. 2027-03-20",
}
_BOUNDS: Final = {">=": "{} or more", ">": "more than {}", "<=": "{} or less", "<": "less than {}"}


class SetAside:
    """What is set aside of a stretch of lines, each kind worded a few times and then counted."""

    def __init__(self, file: str) -> None:
        self._file = file
        self._found = Gathered()
        self._alike: dict[str, tuple[int, Problem]] = {}  # by what the decoder says

    def add(self, line: bytes, error: Exception, number: int) -> None:
        """A line that is no entry, as `not_an_entry` takes it."""
        reason = _MERGED if line.startswith(_MERGE_MARKS) else str(error)
        count, problem = self._alike.get(reason, (0, None))
        if problem is None or count < _WORDED:  # to word each of a million would take a minute
            problem = not_an_entry(line, error, self._file, number)
            self._found.add(problem)
        self._alike[reason] = count + 1, problem

    def add_empty(self, line: bytes, number: int) -> None:
        """A line of nothing but empty bytes."""
        self._found.add(nothing_but_empty_bytes(line, self._file, number))

    def told(self) -> list[Problem]:
        """What was set aside, see `problems.Gathered`."""
        for count, problem in self._alike.values():
            if count > _WORDED:
                self._found.add(structs.replace(problem, more=count - _WORDED - 1))
        self._alike.clear()
        return self._found.told()


def not_an_entry(line: bytes, error: Exception, file: str, number: int) -> Problem:
    """The problem of a line that is no entry.

    Args:
        line: What stands there.
        error: Why it could not be decoded.
        file: The file's name.
        number: The line's number from 1.
    """
    found = _shown(line.decode(errors="replace"))
    if line.startswith(_MERGE_MARKS):
        hint = "A merge left this mark: delete the line; the lines around it count."
        return Problem(file=file, line=number, found=found, hint=hint)
    if isinstance(error, ValidationError):
        try:
            return refused(json.decode(line), str(error), file, number)
        except (DecodeError, UnicodeDecodeError, RecursionError):
            pass  # wrong in one place and torn behind it
    hint = "It is torn or garbled and counts for nothing; the other lines do."
    return Problem(file=file, line=number, found=found, hint=hint)


def nothing_but_empty_bytes(line: bytes, file: str, number: int) -> Problem:
    """The problem of a line of NULs, as a power cut leaves them."""
    hint = f"A power cut left {line.count(0)} empty bytes here; the other lines count."
    return Problem(file=file, line=number, hint=hint)


def refused(value: Any, message: str, file: str, number: int | None = None) -> Problem:  # noqa: ANN401 - JSON
    """The problem of an entry in which a key is wrong.

    Args:
        value: The entry as JSON values.
        message: What the decoder says of it, with the path of the key.
        file: The file's name, or what the entry was made by.
        number: The line's number from 1.
    """
    at = _AT.search(message)
    path = at[1] if at else ""
    message = _AT.sub("", message)
    key = path.removeprefix(".")
    if missing := _MISSING.match(message):
        key = f"{key}.{missing[1]}".removeprefix(".")
        return Problem(file=file, line=number, key=key, hint="It is missing.")
    words = _words(_kind(value), key)
    return Problem(
        file=file,
        line=number,
        key=key or _kind(value),
        found=_found(value, path) if key or not isinstance(value, dict) else None,
        allowed=words or (_in_words(message),),
    )


def _shown(value: object) -> str:
    text = value if isinstance(value, str) else json.encode(value).decode()
    text = clean(text[:_MOST_CLEANED])
    return text if len(text) <= _LONGEST_SHOWN else f"{text[: _LONGEST_SHOWN - 1]}…"


def _kind(value: object) -> str:
    return str(value.get("kind", "")) if isinstance(value, dict) else ""


def _found(value: Any, path: str) -> str | None:  # noqa: ANN401 - JSON
    """What stands at a path as the decoder writes it, `.plants[0].height_mm`, to be shown.

    The decoder may have seen keys cleaned, and of two that are then alike another one: where
    the path leads nowhere nothing is shown.
    """
    for name, index in re.findall(r"\.(\w+)|\[(\d+)\]", path):
        if name and isinstance(value, dict):
            keys = [key for key in value if clean(key) == name]
            if not keys:
                return None
            value = value[keys[-1]]
        elif index and isinstance(value, list) and int(index) < len(value):
            value = value[int(index)]
        else:
            return None
    return _shown(value)


@lru_cache(maxsize=256)
def _words(kind: str, key: str) -> tuple[str, ...]:
    """The words that may stand under a key, where it holds one of a few."""
    struct = KINDS.get(kind)
    hint = get_type_hints(struct).get(key) if struct else None
    for choice in (hint, *get_args(hint)):
        if get_origin(choice) is Literal:
            return tuple(str(word) for word in get_args(choice))
    return ()


def _in_words(message: str) -> str:
    """What the decoder expected, in words; what entries say of themselves is in words already."""
    if "RFC3339" in message or "timezone" in message:
        return _TYPES["date" if message.endswith(" date") else "datetime"]
    expected = _EXPECTED.match(message)
    if not expected:
        return message
    words = _TYPES.get(expected[1], expected[1])
    if not expected[2]:
        return words
    bound = _BOUNDS[expected[2]].format(expected[3].removesuffix(".0"))
    if expected[1] == "str":
        return f"{words}, {bound} characters"
    return f"{words} of {bound}" if expected[1] == "array" else f"{words}, {bound}"
