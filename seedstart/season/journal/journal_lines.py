"""Lines of the journal ⇄ entries: what is none is set aside and costs itself alone."""

import re
import unicodedata
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime
from functools import cache
from math import isfinite
from typing import Annotated, Any, Final, NamedTuple, Union

from msgspec import DecodeError, Meta, Struct, ValidationError, json, structs, to_builtins

from seedstart.problems import BadInputError, Problem
from seedstart.season.journal.entries import BLANK_AT, KINDS, Entry, Id, Name, Struck, Unknown
from seedstart.season.journal.set_aside import SetAside, refused
from seedstart.text import clean


class Strikes:
    """An entry is struck while a strike in force names it; a circle strikes nothing.

    Attributes:
        struck: The ids that a strike in force names; strikes that were struck are among them.
        circles: The ids of strikes that name each other, each circle from its lowest id on.
    """

    def __init__(self) -> None:
        self.struck: set[str] = set()
        self.circles: set[tuple[str, ...]] = set()
        self._named_by: dict[str, str] = {}  # by the strike, what it names
        self._on: defaultdict[str, list[str]] = defaultdict(list)  # by what is named, the strikes
        self._circling: set[str] = set()

    def add(self, strikes: Sequence[Struck]) -> set[str]:
        """Take in strikes, whatever they name; returns the ids that were struck or restored."""
        for strike in strikes:
            self._named_by[strike.id] = strike.entry
            self._on[strike.entry].append(strike.id)
        changed: set[str] = set()
        for strike in strikes:
            changed ^= self._follow(strike.id)
        return changed

    def _follow(self, strike: str) -> set[str]:
        """Judge a strike, what it names, what that names if it is a strike too, and so on."""
        changed = set()
        for entry in self._chain(strike):
            is_struck = any(
                by not in self.struck and by not in self._circling for by in self._on.get(entry, ())
            )
            if is_struck != (entry in self.struck):
                self.struck ^= {entry}
                changed.add(entry)
        return changed

    def _chain(self, strike: str) -> list[str]:
        places: dict[str, int] = {}
        entry: str | None = strike
        while entry is not None and entry not in places:
            places[entry] = len(places)
            entry = self._named_by.get(entry)
        chain = list(places)
        if entry is not None:
            circle = chain[places[entry] :]
            self._circling.update(circle)
            lowest = circle.index(min(circle))
            self.circles.add((*circle[lowest:], *circle[:lowest]))
        return chain


# A fault sends its block down the slow path, and a block of this size stays in the cache while
# its entries are taken in.
_BLOCK_BYTES: Final = 1 << 20
_BOM: Final = b"\xef\xbb\xbf"
_ASCII: Final = bytes(range(128))
_PADDING: Final = b"\0\r\t "
# Where another line may begin on a line: a quote inside a text has a backslash before it.
_BEGINS: Final = b'{"kind":'
_PIECES: Final = re.compile(b"(?=" + re.escape(_BEGINS) + b")")
_FIRST_YEAR, _LAST_YEAR = 1900, 2200  # as days.parse_day: outside, sums of days overflow
_BROKEN: Final = (DecodeError, UnicodeDecodeError, RecursionError)

_DECODER: Final[json.Decoder[Entry]] = json.Decoder(Union[tuple(KINDS.values())])  # noqa: UP007


class Block(NamedTuple):
    """What a stretch of lines holds: its entries, cleaned, and what was set aside."""

    entries: list[Entry]
    set_aside: list[Problem]


class _Envelope(Struct):
    """What can be read of an entry of any kind."""

    kind: str
    id: Id
    at: Annotated[datetime, Meta(tz=True)]
    by: Name
    act: Id | None = None


_ENVELOPE: Final = json.Decoder(_Envelope)


def read_blocks(data: bytes, file: str, first_line: int = 1) -> Iterator[Block]:
    """The entries of a journal file, a block of lines at a time.

    An entry of an unknown kind comes as `Unknown`. Blank lines, a byte order mark, CRLF and the
    empty bytes that a power cut leaves before a line are passed over. Two entries run together
    on one line are two entries, and a whole one behind a torn one counts.

    Args:
        data: The file, or what is new at its end.
        file: Its name, for what is set aside.
        first_line: The number of the first line in `data`, from 1.
    """
    start = len(_BOM) if data.startswith(_BOM) else 0
    while start < len(data):
        end = data.rfind(b"\n", start, start + _BLOCK_BYTES) + 1
        end = end or data.find(b"\n", start) + 1 or len(data)
        block = data[start:end]
        line_ends = block.count(b"\n")
        yield _read_block(block, file, first_line, line_ends)
        first_line += line_ends
        start = end


def encode(entries: Iterable[Entry]) -> bytes:
    """The lines of entries, each with its line end; text is cleaned.

    Raises:
        BadInputError: An entry that could not be read again: a blank draft, a figure that is
            none (NaN) or out of range.
    """
    return b"".join(_line(entry) + b"\n" for entry in entries)


def stamped(drafts: Sequence[Entry], ids: Sequence[str], at: datetime, by: str) -> list[Entry]:
    """Drafts as the entries of one act, just as they will be read from the file.

    Args:
        drafts: What was done, made with `BLANK`; a time that a draft has, it keeps.
        ids: As many, rising.
        at: When it was done, with the offset of the season's zone.
        by: The writer.

    Raises:
        BadInputError: An entry that could not be read again, see `encode`.
    """
    act = ids[0] if len(drafts) > 1 else None
    entries = []
    for draft, new_id in zip(drafts, ids, strict=True):
        when = at if draft.at == BLANK_AT else draft.at
        entry = structs.replace(draft, id=new_id, at=when, by=by, act=act)
        entries.append(_DECODER.decode(_line(entry)))
    return entries


def _line(entry: Entry) -> bytes:
    """The line of an entry, proved to be read again."""
    values = to_builtins(entry)
    try:
        line = json.encode(_cleaned(values))
        _dated(_DECODER.decode(line))
    except (ValidationError, ValueError) as error:
        raise BadInputError([refused(values, str(error), "the entry")]) from None
    return line


def _read_block(block: bytes, file: str, first_line: int, line_ends: int) -> Block:
    try:
        entries = _DECODER.decode_lines(block)
        # As many entries as lines, so none is spread over several; and each of this century,
        # as most are: looking at the years one by one would cost a fifth of the decoding.
        if line_ends == len(entries) <= block.count(b'"at":"20'):
            _clean_where_needed(entries, block)
            return Block(entries, [])
    except _BROKEN:
        pass  # some line is no entry
    return _line_by_line(block, file, first_line)


def _clean_where_needed(entries: list[Entry], block: bytes) -> None:
    """Read again, cleaned, the entries of those lines that hold something to clean."""
    starts = {start for suspect in _suspects(block) for start in _lines_with(suspect, block)}
    number = counted = 0
    for start in sorted(starts):
        number += block.count(b"\n", counted, start)
        counted = start
        entry = _read_line(block[start : block.find(b"\n", start)])
        if entry.id != entries[number].id:
            raise ValidationError("one line holds two entries, or one entry is on two lines")
        entries[number] = entry


def _lines_with(suspect: bytes, block: bytes) -> Iterator[int]:
    """Where the lines begin that hold a suspect."""
    found = block.find(suspect)
    while found >= 0:
        yield block.rfind(b"\n", 0, found) + 1
        found = block.find(suspect, block.find(b"\n", found))


def _line_by_line(block: bytes, file: str, first_line: int) -> Block:
    found: list[Entry] = []
    set_aside = SetAside(file)
    # Never splitlines(): U+2028 and its like stand in texts.
    for number, line in enumerate(block.split(b"\n"), first_line):
        if line and not line.isspace():
            try:
                found.append(_read_line(line))
            except _BROKEN as error:
                # No brace, no entry: of a file that is none a million lines are soon read.
                if b"{" in line or not line.strip(_PADDING):
                    _mend(line, error, number, found, set_aside)
                else:
                    set_aside.add(line, error, number)
    return Block(found, set_aside.told())


def _mend(
    line: bytes, error: Exception, number: int, found: list[Entry], set_aside: SetAside
) -> None:
    """What a line that is no entry still holds; what is none is named."""
    if _is_one_piece(line):  # most are: read again it would say the same
        try:
            found.append(_of_unknown_kind(line, error))
        except _BROKEN as worse:
            set_aside.add(line, _without_frames(worse), number)
        return
    wrong: tuple[bytes, Exception] | None = None
    pieces = [piece.removeprefix(_BOM).strip(_PADDING) for piece in _PIECES.split(line)]
    for piece in filter(None, pieces):
        try:
            found.append(_read_line_of_any_kind(piece))
        except _BROKEN as worse:
            bare = _without_frames(worse)
            wrong = wrong or (piece, bare)
    if wrong:
        set_aside.add(*wrong, number)
    elif not any(pieces):
        set_aside.add_empty(line, number)


def _without_frames(error: Exception) -> Exception:
    """Its frames would hold it in turn, and while a journal is read nothing collects such."""
    error.__context__ = None
    return error.with_traceback(None)


def _is_one_piece(line: bytes) -> bool:
    return line.startswith(b"{") and line.rfind(_BEGINS) <= 0 and line[-1:] not in _PADDING


def _read_line_of_any_kind(line: bytes) -> Entry:
    try:
        return _read_line(line)
    except ValidationError as error:
        return _of_unknown_kind(line, error)


def _of_unknown_kind(line: bytes, error: Exception) -> Entry:
    """An entry of a kind that a newer version writes, from what can be read of it.

    Args:
        line: What stands there.
        error: Why it is none of a known kind; raised where that is no matter of the kind.
    """
    if not isinstance(error, ValidationError):
        raise error
    envelope = _ENVELOPE.decode(line)
    if envelope.kind in KINDS:
        raise error
    return _dated(
        Unknown(
            id=envelope.id,
            at=envelope.at,
            by=clean(envelope.by),
            act=envelope.act,
            called=clean(envelope.kind),
        )
    )


def _read_line(line: bytes) -> Entry:
    entry = _DECODER.decode(line)
    if _suspects(line):
        values = json.decode(line)
        cleaned = _cleaned(values)
        if cleaned != values:
            entry = _DECODER.decode(json.encode(cleaned))
    return _dated(entry)


def _dated(entry: Entry) -> Entry:
    if not _FIRST_YEAR <= entry.at.year <= _LAST_YEAR:
        raise ValidationError(f"a year from {_FIRST_YEAR} to {_LAST_YEAR} - at `$.at`")
    return entry


def _suspects(lines: bytes) -> list[bytes]:
    r"""What stands in whole lines that may have to be cleaned.

    An escape may hide anything, but for those of a quote and of a backslash: \" and \\.
    Looking at all bytes at once costs little, cleaning each string more than the decoding: so
    nearly all lines are known to be clean, and the few others pay.
    """
    suspects = [b"\x7f"] if b"\x7f" in lines else []
    if _hides_something(lines):
        suspects.append(b"\\")
    if not lines.isascii():
        foreign = set(lines.translate(None, _ASCII).decode())
        suspects += [sign.encode() for sign in foreign if not _is_harmless(sign)]
    return suspects


def _hides_something(lines: bytes) -> bool:
    """Whether there is an escape that is none of a quote or a backslash."""
    found = lines.find(b"\\")
    while found >= 0:
        if lines[found + 1] not in b'"\\':
            return True
        found = lines.find(b"\\", found + 2)
    return False


@cache
def _is_harmless(character: str) -> bool:
    """Whether a character stays as it is, whatever stands before it.

    Marks and the Korean letters that make up syllables may join what they follow.
    """
    joins = unicodedata.category(character).startswith("M") or "\u1100" <= character <= "\u11ff"
    return not joins and character.isprintable() and clean(character) == character


def _cleaned(value: Any) -> Any:  # noqa: ANN401 - JSON
    if isinstance(value, str):
        return clean(value)
    if isinstance(value, dict):
        return {clean(key): _cleaned(under) for key, under in value.items()}
    if isinstance(value, list | tuple):
        return [_cleaned(item) for item in value]
    if isinstance(value, float) and not isfinite(value):
        raise ValueError("a number; NaN and infinity are none")
    return value
