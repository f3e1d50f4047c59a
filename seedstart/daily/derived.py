"""Calendar and round of a season, kept up together."""

from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager, nullcontext
from datetime import UTC, datetime, timedelta

from seedstart.daily.alerts.all_alerts import alerts_outdoors, carrier_alerts, station_alerts
from seedstart.daily.alerts.telling import told
from seedstart.daily.check import Alert, Check, Round
from seedstart.daily.check_status import Said
from seedstart.daily.checks.all_checks import checks_of, trayless_checks
from seedstart.daily.memo import Memo
from seedstart.daily.round import Placed, Walk, placed, round_of
from seedstart.daily.round_context import Scene, last_measured_s
from seedstart.daily.tray_groups import Carrier, carriers, carriers_again
from seedstart.planning.following import Changed, Following, Moment, is_new
from seedstart.season.journal.entry import Subject
from seedstart.season.journal.journal import collector_at_rest
from seedstart.tracking.records import Records


class Rounds:
    """Checks and alerts of a season, kept up; equal parts of two rounds are the same objects."""

    def __init__(self, memo: Memo) -> None:
        """Know nothing yet.

        Args:
            memo: That of the moments it is asked about.
        """
        self._records = Records()
        self._carriers: dict[Subject, Carrier] = {}
        self._checks: dict[Subject, tuple[Placed, ...]] = {}
        self._alerts: dict[Subject, tuple[Alert, ...]] = {}
        self._memo, self._walk = memo, Walk(memo)

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
        alerts += (self._memo.same(("alert", one.key), one) for one in alerts_outdoors(scene))
        parts = [*map(self._checks.__getitem__, now), self._placed(trayless_checks(scene), scene)]
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
        if everything:
            self._checks, self._alerts = {}, {}
            self._memo.turn()
        for subject in self._carriers.keys() - now.keys():
            self._checks.pop(subject, None)
            self._alerts.pop(subject, None)
        self._carriers = now
        for one in anew:
            self._checks[one.subject] = self._placed(checks_of(one, scene), scene)
            self._alerts[one.subject] = carrier_alerts(one, scene)
        for station in scene.season.stations:
            if station.name in stations:
                self._alerts["station", station.name] = station_alerts(station, scene)

    def _placed(self, checks: Iterable[Check], scene: Scene) -> tuple[Placed, ...]:
        """Checks in walking order; those that are derived anew and equal stay the same objects."""
        every = placed(checks, scene)
        return tuple(self._memo.same(("check", one.check.key), one) for one in every)


def _is_new(one: Carrier, before: Carrier | None, changed: Changed) -> bool:
    if one is before:
        return one.subject in changed.places
    if before is None or before.station != one.station or one.subject in changed.places:
        return True
    if len(before.sowings) != len(one.sowings):
        return True
    pairs = zip(before.sowings, one.sowings, strict=True)
    return any(new.id in changed.sowings or is_new(old, new) for old, new in pairs)


class Derived:
    """What follows from a season's moments, one after the other.

    What a failure left half derived is not gone on from.
    """

    def __init__(self) -> None:
        """Know nothing yet."""
        self._forget()

    def _forget(self) -> None:
        self._following, self._memo = Following(), Memo()
        self._rounds = Rounds(self._memo)
        self._round_of: datetime | None = None

    def follow(self, moment: Moment) -> Following:
        """Calendar, progress and hardening off at a moment."""
        with self._whole():
            self._following.follow(moment)
        return self._following

    def round(self, moment: Moment, said: Mapping[str, Said], *, is_today: bool) -> Round:
        """What to do and to look at, and what goes wrong.

        Args:
            moment: The moment.
            said: What was said of checks and alerts, by their keys.
            is_today: Whether it is the hour that it is, and no past day.
        """
        following = self.follow(moment)
        scene = Scene(
            season=moment.season,
            records=moment.records,
            rows=following.rows,
            progress=following.progress,
            prospects=following.prospects,
            hardening=following.hardening,
            own=following.own,
            weather=moment.forecasts,
            readings=moment.readings,
            memo=self._memo,
            today=moment.today,
            now=_last_known(moment, is_today=is_today),
        )
        changed = following.take_changed()
        if scene.now != self._round_of:  # alerts look up to that moment: on a past day a reading
            self._round_of, changed.everything = scene.now, True
        with self._whole():
            return self._rounds.round(scene, changed, said)

    @contextmanager
    def _whole(self) -> Iterator[None]:
        try:
            yield
        except BaseException:
            self._forget()
            raise


def _last_known(moment: Moment, *, is_today: bool) -> datetime:
    """The moment to which alerts look: this hour's end; on another day its last reading."""
    hour = moment.now
    if is_today:  # what was read within the hour is told at once
        return (hour.astimezone(UTC) + timedelta(hours=1)).astimezone(hour.tzinfo)
    begins_s = hour.replace(hour=0, minute=0, second=0).timestamp()
    last_s = last_measured_s(moment.readings, moment.records, hour.timestamp())
    return datetime.fromtimestamp(last_s, hour.tzinfo) if last_s >= begins_s else hour
