"""The bytes of a TOML file → its values; where it is none, the line and what to do about it."""

import re
from collections.abc import Iterable
from contextlib import suppress
from typing import Any, Final

import tomli
from msgspec import Struct

from seedstart.days import parse_day
from seedstart.problems import BadInputError, Problem
from seedstart.season.plan.typed_values import cut, sentence

Path = tuple[str | int, ...]

_BLANKS: Final = re.compile(r"[ \t]*")
_GAPS: Final = re.compile(r"(?:[ \t\r\n]+|#[^\n]*)*")
_KEY: Final = re.compile(r"""[A-Za-z0-9_-]+|"(?:[^"\\\n]|\\.)*"|'[^'\n]*'""")
# Three quotes end a long string, and up to two more may be its last characters.
_STRING: Final = re.compile(
    r'"""(?:\\.|[^\\])*?"""(?:"{0,2})' + r"|'''.*?'''(?:'{0,2})"
    r'|"(?:[^"\\\n]|\\.)*"' + r"|'[^'\n]*'",
    re.DOTALL,
)
_BARE: Final = re.compile(r"[^,\]}#\n]+")
_STRING_OR_COMMENT: Final = re.compile(f"(?:{_STRING.pattern})|#[^\\r\\n]*", re.DOTALL)
_DEEPEST: Final = 50


def lines_of(text: str, wanted: Iterable[Path] | None = None) -> dict[Path, int]:
    """The line, from 1, of each table, key and list item of a TOML text that was parsed.

    A table of an array stands under its number from 0: `("lot", 2, "station")`. Where the text
    cannot be followed the rest is left out: no line is better than a wrong one.

    Args:
        text: The file's.
        wanted: What is looked for; once all of it is found the rest is left out.
    """
    scan = _Scan(text, wanted)
    with suppress(_LostError):
        scan.follow()
    return scan.lines


class Pair(Struct, frozen=True):
    """Where a key and its value stand in a text: offsets, the ends behind the last character."""

    key: int
    value: int
    end: int


class Layout(Struct, frozen=True):
    """Where everything stands in a TOML text.

    Attributes:
        headers: Each table with a header of its own, and the offset at which its line begins.
        pairs: Keys with their values, and items of lists; those inside a value too.
    """

    headers: tuple[tuple[Path, int], ...]
    pairs: dict[Path, Pair]


def layout_of(text: str) -> Layout | None:
    """Where tables and values stand; None where the text cannot be followed to its end."""
    scan = _Scan(text)
    try:
        scan.follow()
    except _LostError:
        return None
    return Layout(tuple(scan.headers), scan.pairs)


def comments_in(text: str) -> list[str]:
    """The comments in a stretch of TOML, in order; a # in quotes begins none."""
    return [found for found in _STRING_OR_COMMENT.findall(text) if found.startswith("#")]


class _LostError(Exception):
    """The text is not what was expected at this place; or no more of it is wanted."""


class _Scan:
    """A walk through a TOML text that notes where things stand and not what they are."""

    def __init__(self, text: str, wanted: Iterable[Path] | None = None) -> None:
        self.lines: dict[Path, int] = {}
        self._wanted = None if wanted is None else set(wanted)
        self._text = text
        self._at = 0
        self._line, self._counted = 1, 0
        self._tables: dict[Path, int] = {}
        self.headers: list[tuple[Path, int]] = []
        self.pairs: dict[Path, Pair] = {}

    def follow(self) -> None:
        table: Path = ()
        while self._skip(_GAPS) < len(self._text):
            if self._text.startswith("[", self._at):
                table = self._header()
            else:
                self._key_and_value(table, 0)

    def _note(self, path: Path, line: int) -> None:
        self.lines.setdefault(path, line)
        if self._wanted is not None:
            self._wanted.discard(path)
            if not self._wanted:
                raise _LostError

    def _header(self) -> Path:
        line, start = self._here(), self._text.rfind("\n", 0, self._at) + 1
        many = self._text.startswith("[[", self._at)
        self._at += 2 if many else 1
        parts = self._key()
        self._expect("]]" if many else "]")
        path: Path = ()
        for number, part in enumerate(parts):
            path = (*path, part)
            last = number == len(parts) - 1
            if many and last:
                self._tables[path] = self._tables.get(path, 0) + 1
            if path in self._tables:
                path = (*path, self._tables[path] - 1)
        self.headers.append((path, start))
        self._note(path, line)
        return path

    def _key_and_value(self, table: Path, depth: int) -> None:
        line, key = self._here(), self._at
        path = (*table, *self._key())
        self._expect("=")
        self._note(path, line)
        value = self._skip(_BLANKS)
        self._value(path, depth)
        self.pairs[path] = Pair(key, value, value + len(self._text[value : self._at].rstrip()))

    def _value(self, path: Path, depth: int) -> None:
        self._skip(_BLANKS)
        first = self._text[self._at : self._at + 1]
        if depth > _DEEPEST:
            raise _LostError
        if first == "[":
            self._list(path, depth)
        elif first == "{":
            self._inline_table(path, depth)
        else:
            self._take(_STRING if first in {'"', "'"} else _BARE)

    def _list(self, path: Path, depth: int) -> None:
        self._at += 1
        number = 0
        while not self._closed("]"):
            self._note((*path, number), self._here())
            start = self._at
            self._value((*path, number), depth + 1)
            self.pairs[(*path, number)] = Pair(start, start, self._at)
            number += 1
            self._skip(_GAPS)
            self._comma("]")

    def _inline_table(self, path: Path, depth: int) -> None:
        self._at += 1
        while not self._closed("}"):
            self._key_and_value(path, depth + 1)
            self._skip(_GAPS)
            self._comma("}")

    def _closed(self, bracket: str) -> bool:
        self._skip(_GAPS)
        closed = self._text.startswith(bracket, self._at)
        self._at += closed
        return closed

    def _comma(self, bracket: str) -> None:
        if self._text.startswith(",", self._at):
            self._at += 1
        elif not self._text.startswith(bracket, self._at):
            raise _LostError

    def _key(self) -> list[str]:
        parts = []
        while True:
            self._skip(_BLANKS)
            parts.append(_plain(self._take(_KEY)))
            self._skip(_BLANKS)
            if not self._text.startswith(".", self._at):
                return parts
            self._at += 1

    def _expect(self, sign: str) -> None:
        self._skip(_BLANKS)
        if not self._text.startswith(sign, self._at):
            raise _LostError
        self._at += len(sign)

    def _skip(self, pattern: re.Pattern[str]) -> int:
        match = pattern.match(self._text, self._at)
        self._at = match.end() if match else self._at
        return self._at

    def _take(self, pattern: re.Pattern[str]) -> str:
        match = pattern.match(self._text, self._at)
        if not match:
            raise _LostError
        self._at = match.end()
        return match[0]

    def _here(self) -> int:
        self._line += self._text.count("\n", self._counted, self._at)
        self._counted = self._at
        return self._line


def _plain(key: str) -> str:
    """A key without its quotes and escapes."""
    if key.startswith("'"):
        return key[1:-1]
    if key.startswith('"'):
        try:
            return next(iter(tomli.loads(f"{key} = 0")))
        except tomli.TOMLDecodeError:
            raise _LostError from None
    return key


# A day without quotes that TOML refuses: 2027-02-30, 2027-13-01, 2027-5-2.
_LIKE_A_DAY: Final = re.compile(r"(?<![\w\"'+-])\d{4}-\d{1,2}-\d{1,2}(?![\w\"'-])")
_MOST_DAYS_MENDED: Final = 100
# What the parser says, and what a grower has most likely done.
_HINTS: Final = {
    "Invalid value": "Put text in quotes, a list in [ ]",
    "Expected newline or end of document after a statement": (
        "Put text in quotes, and each key on a line of its own"
    ),
    "Cannot overwrite a value": "The key is here twice",
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
        hint = "The file is not UTF-8: save it again as UTF-8."
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
        hint = 'TOML needs straight quotes: write "'
    hint = f"{hint} (column {error.colno})."
    return Problem(file=file, line=error.lineno, found=cut(line.strip()), hint=hint)
