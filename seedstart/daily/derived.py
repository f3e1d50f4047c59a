"""Calendar and round of a season, kept up together."""

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta

from seedstart.daily.check import Round
from seedstart.daily.rounds import Rounds
from seedstart.daily.said import Said
from seedstart.daily.scene import Scene
from seedstart.daily.traces import Traces, last_measured_s
from seedstart.planning.following import Following, Moment


class Derived:
    """What follows from a season's moments, one after the other.

    What a failure left half derived is not gone on from.
    """

    def __init__(self) -> None:
        """Know nothing yet."""
        self._forget()

    def _forget(self) -> None:
        self._following, self._rounds, self._traces = Following(), Rounds(), Traces()
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
            traces=self._traces,
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
