"""Days of weather as a file gives them, and several files of one station as one."""

from collections.abc import Iterable, Mapping
from datetime import date
from typing import Final, Literal, get_args

from msgspec import Struct, field

from seedstart.growing.minima_screen import Minima
from seedstart.problems import BadInputError, Problem
from seedstart.text import joined as in_a_row
from seedstart.text import plural

WEATHER_FOLDER: Final = "weather"
COLUMNS_FILE: Final = "columns.toml"  # what was said of its files
FIRST_YEAR: Final = 1650  # the oldest series of a thermometer begins in 1659
LAST_YEAR: Final = 2200
Element = Literal["tmin_c", "tmax_c", "wind_ms", "gust_ms", "rain_mm", "sun_h"]
ELEMENTS: Final[tuple[Element, ...]] = get_args(Element)


class Days(Struct, frozen=True, kw_only=True):
    """What one file says of the weather, by the day's ordinal number.

    Attributes:
        file: Its name.
        layout: What kind of file it is, in words.
        tmin_tenths: Minimum, tenths of a degree Celsius.
        others: The other elements, in the unit of their names.
        below_zero: Days whose minimum is known to be below 0 °C and no more.
        above_zero: Days whose minimum is known to be above it and no more.
        stations: Whose it is, as the file says; empty where it does not.
        empty: Days on which the file has no minimum, or a code for a missing one.
        flagged: Minima that the file itself marks as failed.
        twice: Days that stand there again with another minimum; the first holds.
        of_nights: Whether each minimum is that of the night before its day, and no later hour's.
        notes: What else a grower should know of it, as sentences.
        problems: Lines that could not be read.
    """

    file: str
    layout: str
    tmin_tenths: Mapping[int, int]
    others: Mapping[Element, Mapping[int, float]] = field(default_factory=dict)
    below_zero: frozenset[int] = frozenset()
    above_zero: frozenset[int] = frozenset()
    stations: tuple[str, ...] = ()
    empty: int = 0
    flagged: int = 0
    twice: int = 0
    of_nights: bool = False
    notes: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = ()

    @property
    def minima(self) -> Minima:
        """The minima alone."""
        return Minima(self.tmin_tenths, self.below_zero, self.above_zero)

    @property
    def days(self) -> set[int]:
        """Every day of which it says anything."""
        found = set(self.tmin_tenths) | self.below_zero | self.above_zero
        return found.union(*self.others.values())

    def sentences(self) -> list[str]:
        """What was left out of it, and why."""
        found = [*self.notes]
        if self.flagged:
            found.append(f"{plural(self.flagged, 'minimum', 'minima')} that failed the file's own "
                         "quality check left out")  # fmt: skip
        if self.empty:
            found.append(f"{plural(self.empty, 'day')} without a minimum")
        if known := len(self.below_zero):
            found.append(f"{plural(known, 'day')} known to be below 0 °C without a figure")
        if self.twice:
            again = plural(self.twice, "day")
            found.append(f"{again} there again with another minimum: the first holds")
        return found


def joined_days(parts: Iterable[Days]) -> Days:
    """Several files of one station as one; where two say something of a day the first holds.

    Raises:
        BadInputError: They are of two stations.
    """
    found = list(parts)
    stations = {station for part in found for station in part.stations}
    if len(stations) > 1:
        refuse_several(found[-1].file, sorted(stations))
    if len(found) == 1:
        return found[0]
    tmin: dict[int, int] = {}
    others: dict[Element, dict[int, float]] = {}
    for part in reversed(found):
        tmin |= part.tmin_tenths
        for element, values in part.others.items():
            others.setdefault(element, {}).update(values)
    below = frozenset().union(*(part.below_zero for part in found)) - tmin.keys()
    above = frozenset().union(*(part.above_zero for part in found)) - tmin.keys() - below
    return Days(
        file=in_a_row([part.file for part in found]),
        layout=in_a_row(list(dict.fromkeys(part.layout for part in found))),
        tmin_tenths=tmin,
        others=others,
        below_zero=below,
        above_zero=above,
        stations=tuple(stations),
        empty=sum(part.empty for part in found),
        flagged=sum(part.flagged for part in found),
        twice=sum(part.twice for part in found) + _differing(found, tmin),
        of_nights=all(part.of_nights for part in found),
        notes=tuple(dict.fromkeys(note for part in found for note in part.notes)),
        problems=tuple(problem for part in found for problem in part.problems),
    )


def _differing(parts: list[Days], holds: Mapping[int, int]) -> int:
    """Days of which two files give different minima."""
    return len({
        day
        for part in parts
        for day, value in part.tmin_tenths.items()
        if holds[day] != value
    })  # fmt: skip


def refuse_several(file: str, stations: list[str]) -> None:
    """A record is of one station: two would mix their frosts.

    Raises:
        BadInputError: Always.
    """
    shown = in_a_row(stations[:6]) + (f" and {len(stations) - 6} more" if stations[6:] else "")
    hint = f"It holds {len(stations)} stations ({shown}): name one of them as the station."
    raise BadInputError([Problem(file=file, hint=hint)])


def day_in_words(ordinal: int) -> str:
    """A day of a record as it is written."""
    return date.fromordinal(ordinal).isoformat()
