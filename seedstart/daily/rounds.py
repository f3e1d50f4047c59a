"""The round as it follows what happens: a tick derives anew what it touches, no more."""

from collections.abc import Mapping
from contextlib import nullcontext

from seedstart.daily.alerts import alerts_outdoors, carrier_alerts, station_alerts, told
from seedstart.daily.carriers import Carrier, carriers, carriers_again
from seedstart.daily.check import Alert, Round
from seedstart.daily.checks import checks_of, trayless_checks
from seedstart.daily.round import Placed, Walk, placed, round_of
from seedstart.daily.said import Said
from seedstart.daily.same import Same
from seedstart.daily.scene import Scene
from seedstart.planning.following import Changed, is_new
from seedstart.season.entry import Subject
from seedstart.season.journal import collector_at_rest
from seedstart.tracking.records import Records


class Rounds:
    """Checks and alerts of a season, kept up; equal parts of two rounds are the same objects."""

    def __init__(self) -> None:
        """Know nothing yet."""
        self._records = Records()
        self._carriers: dict[Subject, Carrier] = {}
        self._checks: dict[Subject, tuple[Placed, ...]] = {}
        self._alerts: dict[Subject, tuple[Alert, ...]] = {}
        self._same, self._walk = Same(), Walk()
        self._seed: tuple[Placed, ...] = ()

    def round(self, scene: Scene, changed: Changed, said: Mapping[str, Said]) -> Round:
        """The round of a moment.

        Args:
            scene: The moment.
            changed: What was derived anew since the last round.
            said: What was said of checks and alerts, by their keys.
        """
        before = {} if changed.everything else self._carriers
        now = self._carried(scene, changed)
        anew = [one for one in now.values() if _is_new(one, before.get(one.subject), changed)]
        gone = [one for one in before.values() if one.subject not in now]
        stations = {
            station.name
            for station in scene.season.stations
            if changed.everything or ("station", station.name) in changed.places
        }
        if stations:  # a remedy names another station, as warm as it is now
            kept = self._alerts.items()
            stations |= {name for (kind, name), found in kept if kind == "station" and found}
        for one in (*anew, *gone):
            old = before.get(one.subject)
            stations |= {place.station for place in (one, old) if place and place.station}
        with collector_at_rest() if changed.everything else nullcontext():
            self._derive(now, anew, stations, scene, everything=changed.everything)
        alerts = [alert for found in self._alerts.values() for alert in found]
        alerts += (self._same.of(one.key, one) for one in alerts_outdoors(scene))
        seed = (self._same.of(one.key, one) for one in trayless_checks(scene))
        self._seed = _kept(self._seed, placed(seed, scene))
        parts = [*map(self._checks.__getitem__, now), self._seed]
        return round_of(scene, parts, told(alerts, said, scene), said, self._walk)

    def _carried(self, scene: Scene, changed: Changed) -> dict[Subject, Carrier]:
        records, before = scene.records, self._records
        self._records = records
        moved = records.links is not before.links or records.identity is not before.identity
        if changed.everything or moved:
            return carriers(records, scene.today, scene.wants_care)
        return carriers_again(
            self._carriers, changed.sowings, records, scene.today, scene.wants_care
        )

    def _derive(
        self,
        now: dict[Subject, Carrier],
        anew: list[Carrier],
        stations: set[str],
        scene: Scene,
        *,
        everything: bool,
    ) -> None:
        before = self._checks
        if everything:
            self._checks, self._alerts = {}, {}
        for subject in self._carriers.keys() - now.keys():
            self._checks.pop(subject, None)
            self._alerts.pop(subject, None)
        self._carriers = now
        for one in anew:
            now_placed = placed(checks_of(one, scene), scene)
            self._checks[one.subject] = _kept(before.get(one.subject, ()), now_placed)
            self._alerts[one.subject] = carrier_alerts(one, scene)
        for station in scene.season.stations:
            if station.name in stations:
                self._alerts["station", station.name] = station_alerts(station, scene)


def _kept(before: tuple[Placed, ...], now: tuple[Placed, ...]) -> tuple[Placed, ...]:
    """What is derived anew and equals what there was is the same object."""
    known = {one.check.key: one for one in before}
    return tuple(
        old if (old := known.get(one.check.key)) is not None and old == one else one for one in now
    )


def _is_new(one: Carrier, before: Carrier | None, changed: Changed) -> bool:
    if one is before:
        return one.subject in changed.places
    if before is None or before.station != one.station or one.subject in changed.places:
        return True
    if len(before.sowings) != len(one.sowings):
        return True
    pairs = zip(before.sowings, one.sowings, strict=True)
    return any(new.id in changed.sowings or is_new(old, new) for old, new in pairs)
