"""How warm a station's medium is expected to be where it was not measured, from when on.

First as the season plans it; from then on as was adjusted: `expected`, the thermostat, the mat.
"""

from collections.abc import Iterable
from datetime import datetime
from typing import Literal, NamedTuple

from seedstart.days import short_day
from seedstart.season.entries import Adjusted
from seedstart.season.stations import Station
from seedstart.units import Temperatures, Units, parse_temperatures, show_temperature, steady

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
        """What stands in, and why, as the end of a sentence: `its planned 24 °C stands in`."""
        counted = self.counted_with(tray_setting)
        degrees = show_temperature(counted.mean_c, units)
        if self.why == "off" and self.since is not None:
            as_what = "the mixed-tray setting" if counted == tray_setting else "as with the heat on"
            return (
                f"{degrees} is assumed, {as_what}, for its heat was switched off on "
                f"{short_day(self.since.date())} and how warm it is since is not known"
            )
        if self.medium is None:
            return f"{degrees} stands in, the mixed-tray setting, for no temperature is planned"
        if self.why == "thermostat":
            return f"the {degrees} of its thermostat stands in"
        if self.why == "said" and self.since is not None:
            return f"the {degrees} expected of it since {short_day(self.since.date())} stands in"
        return f"its planned {degrees} stands in"


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
        after = _after(found[-1], setting, _said(setting, units), thermostat_holds_it)
        if _holds(after) != _holds(found[-1]):
            found.append(after)
    return tuple(found)


def _holds(one: Expectation) -> tuple[object, ...]:
    return one.medium, one.with_heat, one.heated


def _after(
    before: Expectation, setting: Adjusted, said: Temperatures | None, thermostat_holds_it: bool
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
    if said is not None:
        now = now._replace(medium=said, why="said")
        if now.heated:
            now = now._replace(with_heat=said, heat_why="said")
    return now._replace(since=setting.at)


def _said(setting: Adjusted, units: Units) -> Temperatures | None:
    if setting.expected is None:
        return None
    try:
        return parse_temperatures(setting.expected, units)
    except ValueError:
        return None


def thermostat_holds_medium(station: Station) -> bool:
    """Whether a station's thermostat is one of its medium."""
    return station.kind in _HOLDS_THE_MEDIUM
