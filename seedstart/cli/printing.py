"""What commands print: lines on standard output, JSON, CSV, and errors on standard error."""

import codecs
import os
import sys
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager, suppress
from io import TextIOWrapper
from typing import IO, Final, TextIO

import msgspec

from seedstart.drawing.lines import Line, Role, as_text
from seedstart.drawing.signs import in_ascii
from seedstart.problems import BadInputError, Problem
from seedstart.text import clean

_LONG_BYTES: Final = 2_000_000  # reading less takes no second


def stand_in() -> None:
    """Something in place of each stream that was closed when the program was started.

    Nothing is read from it, what is told is lost, and what is shown fails as on a full disk.
    """
    if sys.stdin is None:
        sys.stdin = open(os.devnull, encoding="utf-8")  # noqa: SIM115, PTH123
    if sys.stdout is None:
        sys.stdout = os.fdopen(os.open(os.devnull, os.O_RDONLY), "w")
    if sys.stderr is None:
        sys.stderr = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115, PTH123


def somebody_types() -> bool:
    """Whether a question would be answered."""
    return sys.stdin is not None and sys.stdin.isatty()


def flush() -> None:
    """All that was shown is out.

    Raises:
        OSError: It cannot be.
    """
    sys.stdout.flush()


def give_up(stream: IO[str]) -> None:
    """What is still to go to a stream is lost, and its end says nothing of it."""
    with suppress(OSError, ValueError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, stream.fileno())
        os.close(nowhere)


# Weight holds on a light ground, on a dark one and in 16 colours; signs and words carry the rest.
_BOLD: frozenset[Role] = frozenset(
    {"heading", "warn", "good", "happened", "today", "frost", "point"}
)


def show(lines: Iterable[Line]) -> None:
    """Print lines: with styles on a terminal, as plain text into a pipe or under NO_COLOR."""
    let_any_letter_through()
    if not sys.stdout.isatty() or "NO_COLOR" in os.environ:
        sys.stdout.write("".join(f"{clean(as_text(line))}\n" for line in lines))
        return
    from rich.console import Console
    from rich.text import Text

    console = Console(highlight=False)
    for line in lines:
        parts = ((clean(span.text), "bold" if span.role in _BOLD else "") for span in line)
        text = Text.assemble(*parts)
        text.rstrip()
        console.print(text, soft_wrap=True)


# What shows all of many words that would do, by the word that a problem has for them.
_SHOWS: Final = {
    "crops": "seedstart crops", "lots": "seedstart lots", "checks": "seedstart round --keys",
    "keys of a lot": "seedstart new lot --help", "commands": "seedstart --help",
    "kinds": "seedstart log --help", "hardening": "seedstart harden",
}  # fmt: skip


def _plainer(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    letters = error.object[error.start : error.end]
    return in_ascii(letters), error.end


codecs.register_error("seedstart.plainer", _plainer)


def let_any_letter_through() -> None:
    """A terminal that knows few letters shows plainer signs or `?`, and nothing breaks."""
    for stream in (sys.stdout, sys.stderr):
        # A locale of ASCII alone takes bytes that it could not read, and still no other letter.
        if isinstance(stream, TextIOWrapper) and stream.errors in {"strict", "surrogateescape"}:
            stream.reconfigure(errors="seedstart.plainer")


def _in_utf8(stream: TextIO) -> None:
    """Data is UTF-8 whatever the locale: a program reads it."""
    if isinstance(stream, TextIOWrapper):
        stream.reconfigure(encoding="utf-8", errors="replace")


def width() -> int:
    """Columns for text: those of the terminal up to 100; in a pipe what `COLUMNS` says, else 80."""
    if sys.stdout.isatty():
        columns = os.get_terminal_size(sys.stdout.fileno()).columns
    else:
        typed = os.environ.get("COLUMNS", "")
        columns = int(typed) if typed.isdecimal() and len(typed) < 5 else 80
    return max(40, min(columns, 100))


def show_json(value: object) -> None:
    """Print one JSON document, indented: people read it too."""
    _in_utf8(sys.stdout)
    sys.stdout.write(msgspec.json.format(msgspec.json.encode(value), indent=2).decode() + "\n")


def show_csv(header: Sequence[str], rows: Iterable[Sequence[object]]) -> None:
    """Print a table that a spreadsheet opens: no cell is taken for a formula."""
    from seedstart.takeaway.tables import write_table

    _in_utf8(sys.stdout)
    write_table(sys.stdout, header, rows)


def tell(text: str) -> None:
    """Talk that is no data goes to standard error; where that is full or closed, it is lost."""
    let_any_letter_through()
    try:
        sys.stderr.write("".join(f"{clean(line)}\n" for line in text.split("\n")))
    except OSError:
        give_up(sys.stderr)


@contextmanager
def rows_told(*files: bytes) -> Iterator[Callable[[int], None]]:
    """How far the reading of long files is, in one line of standard error; into a pipe nothing.

    Yields:
        A function of the rows read so far, of all of them together.
    """
    if sum(map(len, files)) < _LONG_BYTES or not sys.stderr.isatty():
        yield lambda _: None
        return
    total, longest = sum(data.count(b"\n") for data in files), 0

    def told(rows: int) -> None:
        nonlocal longest
        text = f"reading {_by_thousands(min(rows, total))} of {_by_thousands(total)} rows"
        longest = max(longest, len(text))
        sys.stderr.write(f"\r{text:<{longest}}")
        sys.stderr.flush()

    try:
        yield told
    finally:
        sys.stderr.write(f"\r{'':<{longest}}\r")
        sys.stderr.flush()


def _by_thousands(count: int) -> str:
    return f"{count:,}".replace(",", " ")


def tell_problems(error: BadInputError, *, as_json: bool) -> None:
    """All the problems, a line each, or as JSON."""
    if as_json:
        errors = {"errors": [problem.as_json() for problem in error.problems]}
        _in_utf8(sys.stderr)
        tell(msgspec.json.encode(errors).decode())
        return
    for problem in error.problems:
        tell(in_full(problem))


def in_full(problem: Problem) -> str:
    """A problem, and the command that shows what would do."""
    return problem.said(_SHOWS)
