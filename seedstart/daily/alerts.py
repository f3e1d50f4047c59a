"""One function an alert, and the few that are told: urgent first, nothing twice."""

from collections.abc import Iterable, Iterator, Mapping
from datetime import date

from seedstart.daily.carriers import Carrier
from seedstart.daily.check import LEVELS, Alert
from seedstart.daily.cold_alerts import too_cold_or_hot
from seedstart.daily.light_alerts import day_too_long, too_little_light
from seedstart.daily.prospect_alerts import late, too_few_up
from seedstart.daily.said import Said
from seedstart.daily.scene import Scene
from seedstart.daily.sowing_alerts import (
    cover_still_on,
    hardening_missed,
    out_too_early,
)
from seedstart.daily.station_alerts import no_longer_heats, readings_stopped
from seedstart.season.stations import Station
from seedstart.text import natural

# Of a sowing that is told to be too cold or too hot these follow from it.
_FOR_WANT_OF_WARMTH = {"late", "overdue", "too few up"}
_OF_SOWING = (late, too_few_up, hardening_missed)


def station_alerts(station: Station, scene: Scene) -> tuple[Alert, ...]:
    """What goes wrong at a station."""
    standings = scene.records.standings
    here = (standings[one] for one in scene.records.sowings_in(("station", station.name)))
    waiting = [one for one in here if scene.waits(one)]
    return (
        *no_longer_heats(station, scene),
        *too_cold_or_hot(station, waiting, scene),
        *readings_stopped(station, scene),
        *too_little_light(station, scene),
        *day_too_long(station, scene),
    )


def carrier_alerts(carrier: Carrier, scene: Scene) -> tuple[Alert, ...]:
    """What goes wrong with what is carried as one."""
    found = [
        alert for one in carrier.sowings for of in _OF_SOWING for alert in of(one, carrier, scene)
    ]
    return (*cover_still_on(carrier, scene), *found)


def alerts_outdoors(scene: Scene) -> tuple[Alert, ...]:
    """What goes wrong with plants that were set out: they are carried no more."""
    return tuple(out_too_early(scene))


def told(alerts: Iterable[Alert], said: Mapping[str, Said], scene: Scene) -> tuple[Alert, ...]:
    """The alerts that were not seen yet, the most urgent first; one cause is told once."""
    found = list(_once([alert for alert in alerts if not _seen(alert, said, scene.today)]))
    order = {station.name: number for number, station in enumerate(scene.season.stations)}
    return tuple(
        sorted(
            found,
            key=lambda one: (
                LEVELS.index(one.level),
                order.get(one.station or "", 99),
                natural(one.key),
            ),
        )
    )


def _once(alerts: list[Alert]) -> Iterator[Alert]:
    """A sowing that is too cold is late and overdue for that."""
    chilled = {
        name for one in alerts if one.kind in {"too cold", "too hot"} for name in one.sowings
    }
    for one in alerts:
        if one.kind not in _FOR_WANT_OF_WARMTH or not chilled.intersection(one.sowings):
            yield one


def _seen(alert: Alert, said: Mapping[str, Said], today: date) -> bool:
    known = said.get(alert.key)
    if known is None:
        return False
    if known.hides_on(today):
        return True
    return known.checked is not None and today >= known.checked.at.date()
