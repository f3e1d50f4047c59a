"""Lines of (text, role), the form in which both faces get what they show."""

from collections.abc import Iterable
from itertools import groupby
from textwrap import wrap
from typing import Literal, NamedTuple

Role = Literal[
    "plain",
    "heading",
    "name",
    "quiet",
    "warn",
    "good",
    "chosen",  # filled in, and gone with the next key
    # the calendar as bars
    "planned",
    "expected",
    "happened",
    "today",
    "frost",
    # curves
    "curve",
    "band",
    "point",
    "limit",
]


class Span(NamedTuple):
    """A stretch of text and what it is, never how it looks."""

    text: str
    role: Role = "plain"


Line = tuple[Span, ...]


def plain(text: str) -> Line:
    """A line of one plain span."""
    return (Span(text),)


def heading(text: str) -> Line:
    """A line that heads what follows."""
    return (Span(text, "heading"),)


def joined_spans(spans: Iterable[Span]) -> Line:
    """Neighbours of one role put together: a canvas of cells becomes a line of few spans."""
    return tuple(
        Span("".join(span.text for span in alike), role)
        for role, alike in groupby(spans, key=lambda span: span.role)
    )


def wrapped(
    text: str, width: int, indent: str = "", role: Role = "plain", hang: str = "  "
) -> list[Line]:
    """Text broken at blanks; the lines after the first hang a little to the right."""
    return [
        (Span(line, role),)
        for line in wrap(
            text,
            width,
            initial_indent=indent,
            subsequent_indent=indent + hang,
            break_long_words=False,
            break_on_hyphens=False,
        )
    ]


def as_text(line: Line) -> str:
    """A line without its roles."""
    return "".join(span.text for span in line).rstrip()


def cells_wide(text: str) -> int:
    """How many cells a text takes: wide letters count two, joining marks none."""
    if text.isascii():
        return len(text)
    from rich.cells import cell_len

    return cell_len(text)


def fitted(text: str, width: int) -> str:
    """Text in exactly so many cells: wide letters count two, what is too long ends in `…`."""
    if text.isascii():
        cut = text if len(text) <= width else f"{text[: width - 1]}…"
        return cut.ljust(width)
    from rich.cells import cell_len, set_cell_size

    if cell_len(text) <= width:
        return set_cell_size(text, width)
    return set_cell_size(f"{set_cell_size(text, width - 1).rstrip()}…", width)
