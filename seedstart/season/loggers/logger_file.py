"""A foreign logger's file → readings: what it says, what it leaves open, what was made of it.

`understand` reads the file and says how; what the file does not decide it asks. `to_tidy` gives
the readings once nothing is open. Nothing is guessed: an order of day and month, a unit, a
zone, a station that the file does not show is a `Question`, answered by `Answers`.
"""

from array import array
from collections.abc import Callable, Sequence
from datetime import datetime
from typing import TYPE_CHECKING, Final, NamedTuple

from msgspec import Struct

from seedstart.problems import BadInputError, Problem, gathered
from seedstart.season.loggers.columns import UNITS, Role, counts_seconds, roles_of
from seedstart.season.loggers.local_time import find_zone
from seedstart.season.loggers.rows import Rows, Wanted, read_rows
from seedstart.season.loggers.series import QUANTITIES, Readings, Series
from seedstart.season.loggers.sources import (
    LEFT_OUT,
    Answers,
    Question,
    Source,
    find_sources,
    names_of,
    understand_sources,
)
from seedstart.season.loggers.table import SEPARATORS, Table, find_table, no_table
from seedstart.season.loggers.times import when
from seedstart.text import clean

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Indices = NDArray[np.intp]

_SHOWN: Final = 3
_LONGEST: Final = 80
_DECIMALS: Final = 4  # finer than any sensor; a Fahrenheit reading needs an end somewhere


class Column(Struct, frozen=True):
    """A column of the file and what it was taken for."""

    header: str
    role: Role


class Shown(Struct, frozen=True):
    """A reading as it was understood, to be looked at before it is kept."""

    line: int
    at: datetime
    station: str | None
    quantity: str | None
    value: float


class Understood(Struct, frozen=True, kw_only=True):
    """What was made of a logger's file.

    Attributes:
        file: Its name.
        separator: The word for what stands between its fields.
        first_line: Line of its first row, from 1.
        columns: Its columns and what they were taken for.
        sources: Its sensors and quantities, with unit and station.
        order: Of day and month; empty while open.
        zone: Where the stamps that state no offset were placed; empty where all state one.
        newest_first: The file runs backwards.
        rows: How many.
        readings: How many the sources that are kept give.
        repeated: How many more stood in the file, with a time that their source had already.
        missing: How many fields of values are empty.
        first, last: The times of the first and the last reading; None while the order is open.
        questions: What the file does not decide.
        problems: Rows that are no readings; each costs itself alone.
        shown: A few readings from both ends of the file.
    """

    file: str
    separator: str
    first_line: int
    columns: tuple[Column, ...]
    sources: tuple[Source, ...]
    order: str
    zone: str
    newest_first: bool
    rows: int
    readings: int
    repeated: int
    missing: int
    first: datetime | None
    last: datetime | None
    questions: tuple[Question, ...]
    problems: tuple[Problem, ...]
    shown: tuple[Shown, ...]
    read: "_Read"


class _Read(NamedTuple):
    """The columns themselves, kept for `to_tidy`."""

    at_s: "Floats"  # NaN where a row is set aside
    rows: Rows
    places: list["Indices"]  # rows of each source, oldest first


def understand(
    data: bytes,
    file: str,
    zone: str,
    answers: Answers | None = None,
    stations: Sequence[str] = (),
    progress: Callable[[int], None] | None = None,
) -> Understood:
    """Read a logger's file and say what was made of it.

    Args:
        data: The file.
        file: Its name, for messages.
        zone: The season's zone: where wall times without an offset are placed, unless the
            header of the time column or the answers say otherwise.
        answers: What the grower says about the file.
        stations: The season's stations; a sensor or column with the name of one is there,
            and where there is but one, everything is.
        progress: Called with the rows read so far, every 100 000 or so.

    Raises:
        BadInputError: There is no table of readings in the file, its rows contradict each
            other, or an answer names what there is not.
    """
    file = clean(file)
    answers = answers or Answers()
    table = find_table(data, file)
    roles = roles_of(table)
    if not {"time", "date"} & set(roles.values()):
        raise BadInputError([no_table(file)])
    rows = read_rows(table, _wanted(table, roles), progress)
    sources, open_ = understand_sources(
        find_sources(table, roles, rows, file), answers, stations, file
    )
    taken = when(table, roles, rows, zone, answers, file)
    places, repeated = _places(sources, roles, rows, taken.at_s)
    count = sum(map(len, places))
    if not any(source.quantity != LEFT_OUT for source in sources) or (taken.order and not count):
        raise BadInputError([*taken.problems, _no_readings(file)])
    read = _Read(taken.at_s, rows, places)
    shown = _shown(read, sources, zone)
    return Understood(
        file=file,
        separator=SEPARATORS[table.separator],
        first_line=table.first_line,
        columns=tuple(Column(name, roles[place]) for place, name in enumerate(table.names)),
        sources=tuple(sources),
        order=taken.order,
        zone=taken.zone,
        newest_first=taken.newest_first,
        rows=len(rows.line),
        readings=count,
        repeated=repeated,
        missing=_missing(rows),
        first=min((reading.at for reading in shown), default=None),
        last=max((reading.at for reading in shown), default=None),
        questions=(*taken.questions, *open_),
        problems=tuple(gathered([*_garbled(rows, file), *taken.problems])),
        shown=shown,
        read=read,
    )


def to_tidy(understood: Understood) -> Readings:
    """The readings of a file on which no question is open, not yet marked.

    Values come in the unit of their quantity, rounded to four decimals, times to the
    millisecond.

    Raises:
        BadInputError: A question is open; each of them is named.
    """
    import numpy as np

    if understood.questions:
        raise BadInputError(q.as_problem(understood.file) for q in understood.questions)
    read = understood.read
    readings: Readings = {}
    for number, source in enumerate(understood.sources):
        if source.quantity == LEFT_OUT or not len(read.places[number]):
            continue
        quantity = next(known for known in QUANTITIES if known == source.quantity)
        station, rows = source.station or "", read.places[number]
        factor, summand = UNITS[source.unit or ""]
        values = np.round(read.rows.values[source.column][rows] * factor + summand, _DECIMALS)
        at_s = np.round(read.at_s[rows], 3)
        readings[station, quantity] = Series(
            station,
            quantity,
            array("d", at_s.tobytes()),
            array("d", (values + 0.0).tobytes()),  # + 0.0: no minus zero
            bytes(len(rows)),
        )
    return readings


def _wanted(table: Table, roles: dict[int, Role]) -> Wanted:
    by_role = {role: [p for p, other in roles.items() if other == role] for role in roles.values()}
    stamps = [place for role in ("time", "date", "clock") for place in by_role.get(role, [])]
    counts = [place for place in stamps if counts_seconds(table, place)]
    return Wanted(
        texts=tuple(place for place in stamps if place not in counts),
        names=tuple(by_role.get("sensor", []) + by_role.get("kind", [])),
        values=tuple(counts + by_role.get("value", [])),
    )


def _places(
    sources: Sequence[Source], roles: dict[int, Role], rows: Rows, at_s: "Floats"
) -> tuple[list["Indices"], int]:
    """The rows of each source that are readings, oldest first, and how many were repeats.

    Of rows of one source at one time the first in the file holds.
    """
    import numpy as np

    sensor, kind = (names_of(roles, rows, role)[0] for role in ("sensor", "kind"))
    one_source = len({source.numbers for source in sources}) == 1
    places, repeated = [], 0
    for source in sources:
        there = ~np.isnan(rows.values[source.column]) & ~np.isnan(at_s)
        if not one_source:
            there &= (sensor == source.numbers[0]) & (kind == source.numbers[1])
        found = np.flatnonzero(there)
        ms = np.round(at_s[found] * 1000)
        if (np.diff(ms) <= 0).any():
            ms, first = np.unique(ms, return_index=True)  # the first of equals, in order of time
            repeated += len(found) - len(first)
            found = found[first]
        places.append(found if source.quantity != LEFT_OUT else found[:0])
    return places, repeated


def _missing(rows: Rows) -> int:
    import numpy as np

    return sum(int(np.isnan(column).sum()) for column in rows.values.values()) - len(rows.garbled)


def _shown(read: "_Read", sources: Sequence[Source], zone: str) -> tuple[Shown, ...]:
    """The first and the last readings of each source, in order of time."""
    place = find_zone(zone)
    shown = []
    for source, rows in zip(sources, read.places, strict=True):
        factor, summand = UNITS[source.unit or ""]
        ends = rows if len(rows) <= 2 * _SHOWN else [*rows[:_SHOWN], *rows[-_SHOWN:]]
        for row in map(int, ends):
            value = float(read.rows.values[source.column][row]) * factor + summand
            at = datetime.fromtimestamp(float(read.at_s[row]), place)
            line = int(read.rows.line[row])
            shown.append(Shown(line, at, source.station, source.quantity, round(value, _DECIMALS)))
    return tuple(sorted(shown, key=lambda reading: (reading.at, reading.line)))


def _garbled(rows: Rows, file: str) -> list[Problem]:
    return [
        Problem(
            file=file,
            line=line,
            found=clean(found[:_LONGEST]),
            allowed=("numbers in the columns of values, one field for each column",),
        )
        for line, found in rows.garbled.items()
    ]


def _no_readings(file: str) -> Problem:
    return Problem(file=file, allowed=("at least one reading of a quantity with its time",))
