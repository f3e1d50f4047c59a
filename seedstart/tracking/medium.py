"""How warm a medium was, as far as it was measured: by loggers, and by hand.

A logger's reading speaks for the time up to the next one, if that is near enough; else for half of
the longest gap to either side. One by hand holds till the next one, whoever made that: who reads a
thermometer each morning means the day.
"""

from array import array
from bisect import bisect_left, bisect_right
from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from datetime import datetime
from math import inf
from typing import Final, Literal, NamedTuple

from seedstart.days import short_day
from seedstart.season.journal.entries import Adjusted, Read
from seedstart.season.journal.place_entries import Quantity
from seedstart.season.loggers.series import Series
from seedstart.season.plan.stations import Station
from seedstart.units import Temperatures, Units, parse_temperatures, show_temperature, steady

# Between readings farther apart than this nobody knows what lay between. Common practice, no
# source.
LONGEST_GAP_S: Final = 3 * 3600.0
# So that two readings just that far apart leave nothing open between them.
SPEAKS_S: Final = LONGEST_GAP_S / 2
# A reading by hand holds till the next one, if that comes within so long; the last one for a day.
# Common practice, no source.
HOLDS_S: Final = 8 * 86_400.0
LAST_HOLDS_S: Final = 86_400.0


class MeasuredC(NamedTuple):
    """Readings of one medium, in order of time.

    Attributes:
        at_s: Times in seconds of the epoch (UTC), rising.
        c: Temperatures, °C.
        only_by_hand: Whether there are readings, and no logger made one of them.
        next_s: When the first one was taken that is not known yet; infinite where none was.
        by_hand: Times of those that were read by hand and hold till the next one.
    """

    at_s: Sequence[float]
    c: Sequence[float]
    only_by_hand: bool = False
    next_s: float = inf
    by_hand: frozenset[float] = frozenset()

    def after_changes(self, changes: Iterable[float]) -> "MeasuredC":
        """The readings after changes of setting: what was read by hand before holds no longer."""
        if not self.by_hand:
            return self
        ended = set[float]()
        for change_s in changes:
            place = bisect_right(self.at_s, change_s) - 1
            if place >= 0:
                ended.add(self.at_s[place])
        return self._replace(by_hand=self.by_hand - ended)

    def goes_on_from(self, before: "MeasuredC") -> bool:
        """Whether it is another one's readings, and none or some after them."""
        if before.by_hand or self.by_hand:
            last_s = before.at_s[-1] if before.at_s else -inf  # how long that holds may change
            held = frozenset(at_s for at_s in self.by_hand if at_s < last_s)
            if held != before.by_hand - {last_s}:
                return False
        pairs = ((before.at_s, self.at_s), (before.c, self.c))
        return bool(before.at_s) and all(_begins(one, with_) for with_, one in pairs)

    def between(self, from_s: float, until_s: float) -> "MeasuredC":
        """The readings from one moment up to another."""
        first, end = bisect_left(self.at_s, from_s), bisect_left(self.at_s, until_s)
        return self._replace(at_s=self.at_s[first:end], c=self.c[first:end])


def _begins(numbers: Sequence[float], with_: Sequence[float]) -> bool:
    if not (isinstance(numbers, array) and isinstance(with_, array)):
        return False
    # As bytes: half a million numbers in a millisecond or two.
    return memoryview(numbers)[: len(with_)].tobytes() == memoryview(with_).tobytes()


def measured(
    series: Series | None,
    read: Iterable[Read],
    now_s: float = inf,
    quantity: Quantity = "soil_c",
) -> MeasuredC:
    """What was measured of a medium, or of the air over it, up to a moment.

    Args:
        series: A logger's readings; marked ones are passed over.
        read: Readings by hand in order of (at, id), of any quantity. Of two of one moment the later
            written holds, and a logger's goes before both.
        now_s: Nothing after this is known yet.
        quantity: Which readings by hand count.
    """
    at_s: Sequence[float] = ()
    c: Sequence[float] = ()
    if series is not None:
        good = series.good()
        at_s, c = good.at_s, good.value
    by_hand = {one.at.timestamp(): one.value for one in read if one.quantity == quantity}
    only = bool(by_hand) and not at_s
    if by_hand:
        at_s, c = _with(by_hand, at_s, c)
    end, hold = bisect_right(at_s, now_s), frozenset(by_hand)
    if end == len(at_s):
        return MeasuredC(at_s, c, only, by_hand=hold)
    return MeasuredC(at_s[:end], c[:end], only and end > 0, at_s[end], hold)


def _with(
    by_hand: Mapping[float, float], at_s: Sequence[float], c: Sequence[float]
) -> tuple[Sequence[float], Sequence[float]]:
    """Few readings by hand put among a logger's many."""
    times, found, place = array("d"), array("d"), 0
    # Parts of a view are copied once, slices of an array twice.
    logged = [
        memoryview(one if isinstance(one, array) else array("d", one)).cast("B")
        for one in (at_s, c)
    ]
    for at in (*sorted(by_hand), None):
        here = len(at_s) if at is None else bisect_left(at_s, at, place)
        for into, part in zip((times, found), logged, strict=True):
            into.frombytes(part[place * into.itemsize : here * into.itemsize])
        place = here
        if at is not None and (here == len(at_s) or at_s[here] != at):
            times.append(at)
            found.append(by_hand[at])
    return times, found


def is_near(before_s: float, at_s: float, by_hand: Container[float] = ()) -> bool:
    """Whether it is known what lay between two readings that follow each other."""
    apart_s = at_s - before_s
    return apart_s <= LONGEST_GAP_S or (before_s in by_hand and apart_s <= HOLDS_S)


def runs(
    at_s: Sequence[float], begun: tuple[int, int] = (0, 0), by_hand: Container[float] = ()
) -> Iterator[tuple[int, int]]:
    """First and last place of each run of readings with no gap in it.

    Args:
        at_s: Times, rising.
        begun: The first run as far as it is known; earlier ones are left out.
        by_hand: Those that hold till the next one.
    """
    first, known = begun
    for place in range(known + 1, len(at_s)):
        if not is_near(at_s[place - 1], at_s[place], by_hand):
            yield first, place - 1
            first = place
    if len(at_s):
        yield first, len(at_s) - 1


def spoken_of(
    measured: MeasuredC, stretches: Iterable[tuple[int, int]] | None = None
) -> list[tuple[float, float]]:
    """Begin and end of each time of which readings speak, in seconds of the epoch.

    What holds is no measurement: a reading by hand speaks for as long as any other.

    Args:
        measured: The readings.
        stretches: The runs of them without a gap, where they are known: of half a million it takes
            long to find them again.
    """
    at_s = measured.at_s
    found = runs(at_s) if stretches is None else _parted(measured, stretches)
    return [(at_s[first] - SPEAKS_S, at_s[last] + SPEAKS_S) for first, last in found]


def _parted(measured: MeasuredC, stretches: Iterable[tuple[int, int]]) -> Iterator[tuple[int, int]]:
    """Runs, parted behind each reading by hand that holds for longer than a gap may be."""
    at_s, last_place = measured.at_s, len(measured.at_s) - 1
    places = (bisect_left(at_s, read_s) for read_s in sorted(measured.by_hand))
    ends = [one for one in places if one < last_place and not is_near(at_s[one], at_s[one + 1])]
    for begun, last in stretches:
        first = begun
        for end in ends[bisect_left(ends, first) : bisect_left(ends, last)]:
            yield first, end
            first = end + 1
        yield first, last


def covered_s(spoken: Iterable[tuple[float, float]], from_s: float, until_s: float) -> float:
    """Seconds between two moments of which some reading speaks."""
    seconds, upto_s = 0.0, from_s
    for begin_s, end_s in sorted(spoken):
        more_s = min(end_s, until_s) - max(begin_s, upto_s)
        if more_s > 0:
            seconds, upto_s = seconds + more_s, min(end_s, until_s)
    return seconds


# Kinds of stations whose thermostat holds the medium; that of a greenhouse keeps the air from
# falling below it. A cabinet among them is common practice, no source.
_HOLDS_THE_MEDIUM = frozenset({"mat", "propagator", "cabinet"})


Why = Literal["plan", "thermostat", "said", "off"]


class Expectation(NamedTuple):
    """What is expected of a station from one moment on, until the next of them.

    Attributes:
        since: From when on; None from the beginning.
        medium: Temperature of the medium; None where nobody knows.
        why: It is planned so, the thermostat's, it was said; or the heat is off and nobody knows.
        with_heat: The same while the heat is on.
        heat_why: Why that.
        heated: Whether the heat is on, where there is any.
    """

    since: datetime | None
    medium: Temperatures | None
    why: Why
    with_heat: Temperatures | None
    heat_why: Why
    heated: bool = True

    def counted_with(self, tray_setting: Temperatures) -> Temperatures:
        """The temperature that stands in for a crop.

        Args:
            tray_setting: The crop's mixed-tray setting, for where nobody knows. A medium whose heat
                is off is counted with it, but no warmer than it was with the heat on.
        """
        if self.medium is not None:
            return self.medium
        if self.with_heat is not None and self.with_heat.mean_c < tray_setting.mean_c:
            return self.with_heat
        return tray_setting

    def in_words(self, tray_setting: Temperatures, units: Units) -> str:
        """What stands in, and why, as the end of a sentence: `its planned 24 °C is used`."""
        counted = self.counted_with(tray_setting)
        degrees = show_temperature(counted.mean_c, units)
        if self.why == "off" and self.since is not None:
            as_what = "the mixed-tray setting" if counted == tray_setting else "as with the heat on"
            return (
                f"{degrees} is assumed ({as_what}), since its heat was switched off on "
                f"{short_day(self.since.date())} and how warm it has been since is not known"
            )
        if self.medium is None:
            return f"the mixed-tray setting, {degrees}, is used, since no temperature is planned"
        if self.why == "thermostat":
            return f"its thermostat's {degrees} is used"
        if self.why == "said" and self.since is not None:
            return f"the {degrees} expected of it since {short_day(self.since.date())} is used"
        return f"its planned {degrees} is used"


def expectations(
    planned: Temperatures | None,
    settings: Iterable[Adjusted],
    *,
    thermostat_holds_it: bool = True,
    units: Units = "metric",
) -> tuple[Expectation, ...]:
    """What is expected of a station, one after the other.

    - `mat` off: what was expected no longer holds, and nobody knows; on: it holds again.
    - `thermostat_c`: the medium from then on; to set it is to switch it on, unless the line says
      `mat` off.
    - `expected`: the medium from then on, whether the heat is on or off; one that can't be read is
      passed over.

    What changes nothing begins nothing new: what was measured before it goes on counting.

    Args:
        planned: As the season plans it; None where it does not say.
        settings: What was adjusted, in order of (at, id).
        thermostat_holds_it: Whether the thermostat is one of the medium.
        units: What a bare number in `expected` means.
    """
    found = [Expectation(None, planned, "plan", planned, "plan")]
    for setting in settings:
        after = _after(found[-1], setting, _set_by_grower(setting, units), thermostat_holds_it)
        if _holds(after) != _holds(found[-1]):
            found.append(after)
    return tuple(found)


def _holds(expectation: Expectation) -> tuple[object, ...]:
    return expectation.medium, expectation.with_heat, expectation.heated


def _after(
    before: Expectation,
    setting: Adjusted,
    set_medium: Temperatures | None,
    thermostat_holds_it: bool,
) -> Expectation:
    now = before
    set_to = setting.thermostat_c if thermostat_holds_it else None
    if set_to is not None:
        now = now._replace(with_heat=steady(set_to), heat_why="thermostat")
    if setting.mat == "off":
        now = now._replace(medium=None, why="off", heated=False)
    elif setting.mat == "on" or set_to is not None:
        if set_to is not None or not now.heated:
            now = now._replace(medium=now.with_heat, why=now.heat_why)
        now = now._replace(heated=True)
    if set_medium is not None:
        now = now._replace(medium=set_medium, why="said")
        if now.heated:
            now = now._replace(with_heat=set_medium, heat_why="said")
    return now._replace(since=setting.at)


def _set_by_grower(setting: Adjusted, units: Units) -> Temperatures | None:
    if setting.expected is None:
        return None
    try:
        return parse_temperatures(setting.expected, units)
    except ValueError:
        return None


def thermostat_holds_medium(station: Station) -> bool:
    """Whether a station's thermostat is one of its medium."""
    return station.kind in _HOLDS_THE_MEDIUM
