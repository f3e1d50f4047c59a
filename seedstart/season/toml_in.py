"""The bytes of a TOML file → its values; where it is none, the line and what to do about it."""

import re
from typing import Any, Final

import tomli
from msgspec import Struct

from seedstart.days import parse_day
from seedstart.problems import BadInputError, Problem
from seedstart.season.values import cut, sentence

# A day without quotes that TOML refuses: 2027-02-30, 2027-13-01, 2027-5-2.
_LIKE_A_DAY: Final = re.compile(r"(?<![\w\"'+-])\d{4}-\d{1,2}-\d{1,2}(?![\w\"'-])")
_MOST_DAYS_MENDED: Final = 100
# What the parser says, and what a grower has most likely done.
_HINTS: Final = {
    "Invalid value": "Text stands in quotes, a list in [ ]",
    "Expected newline or end of document after a statement": (
        "Text stands in quotes, and each key on a line of its own"
    ),
    "Cannot overwrite a value": "The key stands here twice",
    "Illegal character '\\n'": "The quote is not closed on its line",
    "Unterminated string": "The quote is not closed",
}


class Parsed(Struct, frozen=True):
    """A TOML file: its values, its text, and days that are none."""

    values: dict[str, Any]
    text: str
    problems: tuple[Problem, ...] = ()


def parse_toml(data: bytes, file: str) -> Parsed:
    """The values of a TOML file in UTF-8, a byte order mark or not.

    A day that the calendar lacks (2027-02-30) is put down as a problem and read as text, so that
    the rest of the file is checked too.

    Raises:
        BadInputError: Not UTF-8, or not TOML, with the line.
    """
    text = decode(data, file)
    problems: list[Problem] = []
    for _ in range(_MOST_DAYS_MENDED):
        try:
            return Parsed(tomli.loads(text), text, tuple(problems))
        except tomli.TOMLDecodeError as error:
            day = _day_at(error.doc, error.pos)
            if day is None:
                raise BadInputError([*problems, _not_toml(error, file)]) from None
            text = f"{error.doc[: day.start()]}'{day[0]}'{error.doc[day.end() :]}"
            problems.append(_no_day(day[0], error.lineno, file))
        except (RecursionError, ValueError) as error:
            hint = f"The file is not TOML as seedstart reads it: {str(error).split(';')[0]}."
            raise BadInputError([Problem(file=file, hint=hint)]) from None
    raise BadInputError(problems)


def decode(data: bytes, file: str) -> str:
    """Text from UTF-8, a byte order mark or not.

    Raises:
        BadInputError: Not UTF-8, with the first line that is not.
    """
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        found = f"byte {data[error.start]:02X}"
        hint = "The file is not UTF-8: save it anew with the encoding UTF-8."
        raise BadInputError([Problem(file=file, line=line, found=found, hint=hint)]) from None


def _day_at(text: str, position: int) -> re.Match[str] | None:
    """What looks like a day where the parser stopped."""
    start = text.rfind("\n", 0, position) + 1
    for day in _LIKE_A_DAY.finditer(text, start):
        if day.start() > position:
            return None
        if position <= day.end():
            return day
    return None


def _no_day(day: str, line: int, file: str) -> Problem:
    try:
        hint = f"Write the day as {parse_day(day)}."
    except ValueError as error:
        hint = sentence(str(error))
    return Problem(file=file, line=line, found=day, hint=hint)


def _not_toml(error: tomli.TOMLDecodeError, file: str) -> Problem:
    line = error.doc.split("\n")[error.lineno - 1]
    hint = _HINTS.get(error.msg, error.msg)
    if error.doc[error.pos : error.pos + 1] in {*"“”„‟«»‘’"}:
        hint = 'Typographic quotes are none in TOML: write "'
    hint = f"{hint} (column {error.colno})."
    return Problem(file=file, line=error.lineno, found=cut(line.strip()), hint=hint)
