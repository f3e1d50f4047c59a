"""Whose readings a logger's file holds: which sensor and column is which station and quantity."""

import re
from collections.abc import Collection, Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Final

from msgspec import Struct, field
from msgspec.structs import replace

from seedstart.problems import BadInputError, Problem
from seedstart.season.loggers.columns import UNITS_OF, Role, quantity_of, unit_in, unit_of_column
from seedstart.season.loggers.local_time import find_zone
from seedstart.season.loggers.rows import Rows
from seedstart.season.loggers.series import QUANTITIES
from seedstart.season.loggers.stamps import ORDERS
from seedstart.season.loggers.table import Table
from seedstart.text import folded

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Ints = NDArray[np.int64]
    Flags = NDArray[np.bool_]


class Answers(Struct, frozen=True, kw_only=True):
    """What a grower says about a logger's file; empty where the file is to speak.

    Attributes:
        order: Of day, month and year in its dates: dmy, mdy, ymd.
        zone: Where its clock hung: an IANA name, or an offset as `+01:00` for a clock that is
            never put forward.
        unit: Of temperatures that state none: C or F.
        station: Where the readings belong that are not in `stations`.
        quantity: What the readings are that are not in `quantities` and do not say it.
        stations: By sensor, or by column where the file names no sensors.
        quantities: By column, or by kind where a column names kinds; `none` leaves one out.
        units: By column or kind.
    """

    order: str | None = None
    zone: str | None = None
    unit: str | None = None
    station: str | None = None
    quantity: str | None = None
    stations: dict[str, str] = field(default_factory=dict)
    quantities: dict[str, str] = field(default_factory=dict)
    units: dict[str, str] = field(default_factory=dict)


class Question(Struct, frozen=True, kw_only=True):
    """Something that the file does not decide.

    Attributes:
        key: The field of `Answers` that answers it: order, zone, unit, station, quantity.
        about: The column, sensor or kind it is about; empty for the whole file.
        text: The question, as a sentence.
        allowed: What may be answered; empty where any name may.
    """

    key: str
    about: str = ""
    text: str
    allowed: tuple[str, ...] = ()

    def as_problem(self, file: str) -> Problem:
        """The question as what is missing from a command that cannot ask."""
        return Problem(file=file, key=self.key, allowed=self.allowed, hint=self.text)


LEFT_OUT: Final = "none"
# With more, the column that should distinguish sensors holds something else.
_MOST_SOURCES: Final = 500


class Source(Struct, frozen=True, kw_only=True):
    """One sensor's readings of one quantity, as the file has them and as they were understood.

    Attributes:
        column: Place of the column of values.
        header: What stands above it.
        sensor: Its name in the column that tells sensors apart; empty without such a column.
        kind: The same of the column that tells kinds of readings apart.
        numbers: Of sensor and kind in the rows.
        quantity: One of the quantities, `none` for what is left out, None while not decided.
        unit: As the file or the grower states it; empty where there is but one.
        station: None while not decided.
    """

    column: int
    header: str
    sensor: str = ""
    kind: str = ""
    numbers: tuple[int, int] = (0, 0)
    quantity: str | None = None
    unit: str | None = ""
    station: str | None = None

    @property
    def measures(self) -> str:
        """The name under which its quantity and unit are asked for."""
        return self.kind or self.header

    @property
    def stands(self) -> str:
        """The name under which its station is asked for."""
        return self.sensor or self.header

    @property
    def decided(self) -> bool:
        """Whether it can be read: left out, or with quantity, unit and station."""
        return self.quantity == LEFT_OUT or None not in (self.quantity, self.unit, self.station)


def find_sources(table: Table, roles: dict[int, Role], rows: Rows, file: str) -> list[Source]:
    """The sources that have at least one value, in order of columns, not yet understood.

    Raises:
        BadInputError: There are too many to be sensors.
    """
    import numpy as np

    (sensor, sensors), (kind, kinds) = (names_of(roles, rows, r) for r in ("sensor", "kind"))
    found = []
    for column in (place for place, role in roles.items() if role == "value"):
        there = ~np.isnan(rows.values[column])
        pairs = np.flatnonzero(np.bincount(sensor[there] * len(kinds) + kind[there]))
        if len(pairs) > _MOST_SOURCES:
            raise BadInputError([_too_many(file, len(pairs))])
        for number in pairs.tolist():
            which = divmod(number, len(kinds))
            name = kinds[which[1]]
            found.append(
                Source(
                    column=column,
                    header=table.headers[column] or table.names[column],
                    sensor=sensors[which[0]],
                    kind=name,
                    numbers=which,
                    unit=unit_in(name) or unit_of_column(table, column),
                )
            )
    return found


def _too_many(file: str, count: int) -> Problem:
    return Problem(
        file=file,
        key="sensor",
        found=f"{count} different names",
        allowed=(f"at most {_MOST_SOURCES} sensors and kinds of readings",),
    )


def names_of(roles: dict[int, Role], rows: Rows, role: Role) -> tuple["Ints", list[str]]:
    """Each row's number in a column of names, and the names; one empty name without a column."""
    import numpy as np

    places = [place for place, other in roles.items() if other == role]
    return rows.names[places[0]] if places else (np.zeros(len(rows.line), np.int64), [""])


def understand_sources(
    sources: Sequence[Source], answers: Answers, stations: Sequence[str], file: str
) -> tuple[list[Source], list[Question]]:
    """The sources with quantity, unit and station, and the questions that remain.

    Raises:
        BadInputError: An answer names what there is not, or two sources would be one series.
    """
    if wrong := list(_wrong_answers(sources, answers, stations)):
        raise BadInputError(wrong)
    known = [_understood(source, answers, stations) for source in sources]
    if doubles := list(_doubles(known, file)):
        raise BadInputError(doubles)
    questions: dict[tuple[str, str], Question] = {}
    for source in known:
        for question in _questions(source, stations):
            questions.setdefault((question.key, question.about), question)
    return known, list(questions.values())


def _understood(source: Source, answers: Answers, stations: Sequence[str]) -> Source:
    maybe = quantity_of(source.measures, source.unit or "")
    quantity = answers.quantities.get(source.measures)
    if quantity is None and len(maybe) == 1:
        quantity = maybe[0]
    if quantity is None and (answers.quantity in maybe or not maybe):
        quantity = answers.quantity
    return replace(
        source,
        quantity=quantity,
        unit=_unit(source, quantity, answers),
        station=answers.stations.get(source.stands)
        or _station_in(source.stands, stations)
        or answers.station
        or (stations[0] if len(stations) == 1 else None),
    )


def _unit(source: Source, quantity: str | None, answers: Answers) -> str | None:
    """The unit; None while it is not decided. A quantity with one unit needs no word for it."""
    units = UNITS_OF.get(quantity or "", ())
    if quantity is None:  # may still be a temperature, of soil or of air
        units = UNITS_OF["soil_c"] if quantity_of(source.measures, source.unit or "") else ()
    if not units:
        return ""
    unit = answers.units.get(source.measures) or source.unit
    if unit not in units and "C" in units:
        unit = answers.unit
    return unit if unit in units else None


def _station_in(name: str, stations: Sequence[str]) -> str | None:
    """The station that a sensor or header names: itself, or inside it; the longest of several."""
    text = _plain(name)
    inside = [station for station in stations if _plain(station) in text]
    return max(inside, key=len, default=None)


def _plain(name: str) -> str:
    """Words alone, between blanks: heat_mat, and a comma behind it, are the heat mat."""
    words = re.findall(r"[^\W_]+", folded(name))
    return f" {' '.join(words)} "


def _questions(source: Source, stations: Sequence[str]) -> Iterable[Question]:
    if source.quantity == LEFT_OUT:
        return
    if source.quantity is None:
        maybe = quantity_of(source.measures, source.unit or "") or QUANTITIES
        yield Question(
            key="quantity",
            about=source.measures,
            text=f"What does {source.measures!r} measure?",
            allowed=(*maybe, LEFT_OUT),
        )
    if source.unit is None:
        units = UNITS_OF[source.quantity or "soil_c"]
        warm = "C" in units
        yield Question(
            key="unit",
            about="" if warm else source.measures,
            text=f"In which unit is {source.measures!r}?",
            allowed=units,
        )
    if source.station is None:
        yield Question(
            key="station",
            about=source.stands,
            text=f"At which station is {source.stands!r}?",
            allowed=tuple(stations),
        )


def _doubles(sources: Sequence[Source], file: str) -> Iterable[Problem]:
    """Sources that would run into one series: no reading could be told from the other's."""
    seen: dict[tuple[str, str], Source] = {}
    for source in sources:
        if source.decided and source.quantity != LEFT_OUT:
            first = seen.setdefault((source.station or "", source.quantity or ""), source)
            if first is not source:
                one, other = (
                    f"{s.sensor} {s.measures}".strip() if s.sensor else s.measures
                    for s in (first, source)
                )
                yield Problem(
                    file=file,
                    key=other,
                    found=f"{source.quantity} at {source.station}",
                    allowed=(f"one source for it: {one} is it already",),
                    hint="Name another station, or leave one of them out with none.",
                )


def _wrong_answers(
    sources: Sequence[Source], answers: Answers, stations: Sequence[str]
) -> Iterable[Problem]:
    every = tuple(unit for units in UNITS_OF.values() for unit in units)
    yield from _words("order", [answers.order], ORDERS)
    yield from _words("unit", [answers.unit], UNITS_OF["soil_c"])
    yield from _words("unit", answers.units.values(), tuple(dict.fromkeys(every)))
    kept = (*QUANTITIES, LEFT_OUT)
    yield from _words("quantity", [answers.quantity, *answers.quantities.values()], kept)
    if stations:
        named = [answers.station, *answers.stations.values()]
        yield from _words("station", named, stations)
    measures = list(dict.fromkeys(source.measures for source in sources))
    stands = list(dict.fromkeys(source.stands for source in sources))
    yield from _words("quantity", answers.quantities, measures)
    yield from _words("unit", answers.units, measures)
    yield from _words("station", answers.stations, stands)
    if answers.zone:
        try:
            find_zone(answers.zone)
        except ValueError as error:
            yield Problem(file="zone", found=answers.zone, allowed=(str(error),))


def _words(
    option: str, found: "Iterable[str | None] | Mapping[str, str]", allowed: Collection[str]
) -> Iterable[Problem]:
    for word in found:
        if word is not None and word not in allowed:
            yield Problem(file=option, found=word, allowed=tuple(allowed))
