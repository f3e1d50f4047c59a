"""Where seed would be better off: the stations as warm as they really are, the quickest first."""

from typing import Final

from seedstart.crop_table.crop import Crop
from seedstart.planning.ask import Where
from seedstart.planning.crop_times import at_station
from seedstart.planning.prospect import Known
from seedstart.planning.season_rows import places_to_come_up
from seedstart.planning.season_today import as_set
from seedstart.units import steady

# A place that is by so much colder than planned is no help. Common practice, no source.
_NO_LONGER_HEATS_C: Final = 4.0
_AS_PLANNED_C: Final = 1.0  # no further from its plan than this, it is taken as planned


def better_places(crop: Crop, here: str | None, known: Known) -> tuple[Where, ...]:
    """The other stations at which a crop comes up well, the quickest first.

    Each is as warm as was read there within a day, else as it goes on. A mat that no longer heats
    is left out, whatever the plan says of it. The calendar's warnings name the first of them too.

    Args:
        crop: What lies there.
        here: Where it lies now, which is left out too.
        known: The season, and what is known by now.
    """
    at_best: list[tuple[float, Where]] = []
    for name, place in places_now(known).items():
        found = at_station(crop, place.medium)
        if name != here and found.expected and found.outlook.verdict == "comes up":
            at_best.append((found.expected.best, place))
    return tuple(place for _, place in sorted(at_best, key=lambda one: one[0]))


def places_now(known: Known) -> dict[str, Where]:
    """The stations where seed is brought up, as warm as they are now; none that no longer heats."""
    season, records, warmth, now, _ = known
    found = {}
    for name, place in places_to_come_up(as_set(season, records, now.date())).items():
        c = warmth.now_c(name, records, place.medium, now)
        if place.medium.mean_c - c >= _NO_LONGER_HEATS_C:
            continue
        as_planned = abs(place.medium.mean_c - c) < _AS_PLANNED_C
        found[name] = place if as_planned else Where(name, steady(round(c, 1)))
    return found
