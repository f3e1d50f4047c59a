"""The rows of a logger's table: read in blocks, each garbled row set aside by its line."""

import csv
from collections.abc import Callable, Iterator, Sequence
from itertools import chain
from math import nan
from typing import TYPE_CHECKING, Any, Final, NamedTuple

from seedstart.season.loggers.stamps import Stamps, as_bytes, read_stamps
from seedstart.season.loggers.table import TOO_MUCH, Table, number, split, unit_of, without_tail
from seedstart.text import clean

if TYPE_CHECKING:
    import numpy as np
    import pandas as pd
    from numpy.typing import NDArray

    Ints = NDArray[np.int64]
    Floats = NDArray[np.float64]
    Texts = NDArray[np.bytes_]

_BLOCK: Final = 4_000_000  # characters; some 100 000 rows, a progress bar's step
MISSING: Final = ("", "-", "--", "---", "----", "nan", "NaN", "NAN", "NA", "N/A", "n/a", "null")


class Wanted(NamedTuple):
    """The columns to read, by place from 0.

    Attributes:
        texts: Each field is wanted as it stands: stamps.
        names: Few different texts: sensors.
        values: Numbers.
    """

    texts: tuple[int, ...]
    names: tuple[int, ...]
    values: tuple[int, ...]


class Block(NamedTuple):
    """Some rows of the table, in the order of the file.

    Attributes:
        line: Line of each row, from 1.
        texts: Of each wanted column of text, its fields.
        names: Of each wanted column of names, each row's place in the list of its names.
        values: Of each wanted column of numbers; NaN where the field is missing or no number.
        garbled: By line, a field that is no number, or a row with too many fields.
    """

    line: "Ints"
    texts: dict[int, "Texts"]
    names: dict[int, tuple["Ints", list[str]]]
    values: dict[int, "Floats"]
    garbled: dict[int, str]


def read_blocks(
    table: Table, wanted: Wanted, progress: Callable[[int], None] | None = None
) -> Iterator[Block]:
    """The rows of a table, block by block.

    Blocks in which every row has every field and every number is one are read by pandas; the
    others by hand, so that each garbled row costs itself alone.

    Args:
        table: As `find_table` found it.
        wanted: Which columns, and as what.
        progress: Called with the rows done after each block.
    """
    units = {place: unit_of(table, place) for place in wanted.values}
    start, line = table.start, table.first_line
    while start < len(table.text):
        end = table.text.find("\n", start + _BLOCK)
        end = len(table.text) if end < 0 else end
        part = table.text[start:end]
        block = None if any(units.values()) else _by_pandas(table, part, line, wanted)
        yield block or _by_hand(table, part, line, wanted, units)
        line += len(block.line) if block else part.count("\n") + 1
        start = end + 1
        if progress:
            progress(line - table.first_line)


def _decimal(table: Table, values: Sequence[int]) -> str:
    fields = chain.from_iterable(
        (row[place] for place in values if place < len(row)) for row in table.sample
    )
    return "," if table.separator != "," and any("," in field for field in fields) else "."


def _by_pandas(table: Table, part: str, line: int, wanted: Wanted) -> Block | None:
    """A block without a flaw; None where there is one."""
    width = len(table.names) - 1
    rows = part.count("\n") + 1
    first = part.split("\n", 1)[0]
    if '"' in part or part.count(table.separator) != rows * width:
        return None  # quotes, or rows with other numbers of fields: pandas would guess
    if first.count(table.separator) != width:
        return None
    import numpy as np

    # As bytes of fixed width pandas reads stamps ten times as fast as text. One byte more than
    # the longest of the sample: where it is used, a stamp may have been cut.
    widths = {place: 1 + _longest(table, place) for place in wanted.texts}
    types: dict[Any, Any] = {place: f"S{bytes_}" for place, bytes_ in widths.items()}
    types |= dict.fromkeys(wanted.names, "category") | dict.fromkeys(wanted.values, "float64")
    frame = _frame(table, part, types, wanted)
    if frame is None or len(frame) != rows:
        return None
    values = {place: frame[place].to_numpy(np.float64) for place in wanted.values}
    texts = {place: frame[place].to_numpy(types[place]) for place in wanted.texts}
    cut = ((np.char.str_len(texts[place]) == bytes_).any() for place, bytes_ in widths.items())
    if any((np.abs(column) >= TOO_MUCH).any() for column in values.values()) or any(cut):
        return None
    names = {place: frame[place].cat for place in wanted.names}
    if not all(isinstance(name, str) for column in names.values() for name in column.categories):
        return None  # categories take a probe called 007 for a number
    numbered = {
        place: (np.asarray(column.codes, np.int64), list(column.categories))
        for place, column in names.items()
    }
    return Block(np.arange(line, line + rows), texts, numbered, values, {})


def _longest(table: Table, place: int) -> int:
    return max((len(row[place]) for row in table.sample if place < len(row)), default=0)


def _frame(table: Table, part: str, types: dict[Any, Any], wanted: Wanted) -> "pd.DataFrame | None":
    """The wanted columns; None where a field is not of its type, or a row too long."""
    from io import BytesIO

    import pandas as pd

    missing: dict[Any, list[str]] = {place: list(MISSING) for place in wanted.values}
    try:
        return pd.read_csv(
            BytesIO(part.encode()),
            sep=table.separator,
            header=None,
            names=list(range(len(table.names))),
            usecols=list(types),
            dtype=types,
            decimal=_decimal(table, wanted.values),
            keep_default_na=False,
            na_values=missing,
            skip_blank_lines=False,
            quoting=csv.QUOTE_NONE,
        )
    except (ValueError, OverflowError):
        return None


def _by_hand(table: Table, part: str, line: int, wanted: Wanted, units: dict[int, str]) -> Block:
    """A block with flaws, row by row. Blank lines are passed over."""
    import numpy as np

    lines: list[int] = []
    rows: list[list[str]] = []
    garbled: dict[int, str] = {}
    wide = len(table.names)
    for place, text in enumerate(part.split("\n"), line):
        row = split(text, table.separator)
        if len(row) > wide and len(without_tail(row)) > wide:
            garbled[place] = text
        elif text.strip():
            lines.append(place)
            rows.append(row if len(row) >= wide else row + [""] * (wide - len(row)))
    values = {}
    for column in wanted.values:
        read = _Numbers(units[column])
        found = [read[row[column]] for row in rows]
        for place, row, value in zip(lines, rows, found, strict=True):
            if value is None:
                garbled.setdefault(place, row[column])
        values[column] = np.array([nan if value is None else value for value in found], float)
    texts = {column: as_bytes([row[column] for row in rows]) for column in wanted.texts}
    names = {column: _numbered([row[column] for row in rows]) for column in wanted.names}
    return Block(np.array(lines, np.int64), texts, names, values, garbled)


def _numbered(names: list[str]) -> tuple["Ints", list[str]]:
    """Each name's place in the list of different names, and that list."""
    import numpy as np

    places = {name: place for place, name in enumerate(dict.fromkeys(names))}
    return np.array([places[name] for name in names], np.int64), list(places)


class _Numbers(dict[str, float | None]):
    """Each different field read once: NaN where it is missing, None where it is no number."""

    def __init__(self, unit: str) -> None:
        super().__init__()
        self.unit = unit

    def __missing__(self, field: str) -> float | None:
        read = number(field)
        if field.strip() in MISSING:
            self[field] = nan
        else:
            self[field] = read[0] if read and read[1] in ("", self.unit) else None
        return self[field]


class Rows(NamedTuple):
    """All rows of a table; every column has one entry a row, in the order of the file."""

    line: "Ints"
    stamps: Stamps | None
    names: dict[int, tuple["Ints", list[str]]]
    values: dict[int, "Floats"]
    garbled: dict[int, str]


def read_rows(table: Table, wanted: Wanted, progress: Callable[[int], None] | None = None) -> Rows:
    """The rows of a table as columns; one or two columns of text are its stamps."""
    import numpy as np

    lines, stamps = [], []
    garbled: dict[int, str] = {}
    names = {column: _Names() for column in wanted.names}
    values: dict[int, list[Floats]] = {column: [] for column in wanted.values}
    for block in read_blocks(table, wanted, progress):
        lines.append(block.line)
        if wanted.texts:
            stamps.append(read_stamps(_joined([block.texts[place] for place in wanted.texts])))
        for column, (codes, found) in block.names.items():
            names[column].add(codes, found)
        for column, found_values in block.values.items():
            values[column].append(found_values)
        garbled |= block.garbled
    return Rows(
        np.concatenate(lines),
        Stamps(*map(np.concatenate, zip(*stamps, strict=True))) if stamps else None,
        {column: (np.concatenate(found.codes), list(found)) for column, found in names.items()},
        {column: np.concatenate(parts) for column, parts in values.items()},
        garbled,
    )


def _joined(columns: list["Texts"]) -> "Texts":
    """A date and a clock of their own as one stamp."""
    import numpy as np

    if len(columns) == 1:
        return columns[0]
    return np.char.add(np.char.add(columns[0], b" "), columns[1])


class _Names(dict[str, int]):
    """The different names of a column over all blocks, cleaned, and the place of each row's."""

    def __init__(self) -> None:
        super().__init__()
        self.codes: list[Ints] = []

    def add(self, codes: "Ints", names: list[str]) -> None:
        """Take in a block's column."""
        import numpy as np

        places = [self.setdefault(clean(name).strip(), len(self)) for name in names]
        self.codes.append(np.array(places, np.int64)[codes] if len(codes) else codes)
