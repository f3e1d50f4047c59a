"""What checks and alerts are derived from: the plan, what happened, what is expected, the day."""

from bisect import bisect_right
from collections.abc import Mapping
from datetime import date, datetime
from functools import cached_property
from itertools import chain
from typing import Final

from msgspec import Struct

from seedstart.crop_table.crop import Crop
from seedstart.daily.alerts.spells import Trace
from seedstart.daily.check import Asked
from seedstart.daily.memo import Memo
from seedstart.days import Window
from seedstart.growing.emergence import TRAYS_OVER_TABLE
from seedstart.planning.calendar.row import Row, Step, StepName
from seedstart.planning.calendar.season_today import as_set, row_for
from seedstart.planning.hardening.hardening_status import Hardening
from seedstart.planning.known_weather import Weather
from seedstart.planning.prospects.prospect import took_its_medium
from seedstart.planning.prospects.prospects import Prospects
from seedstart.planning.prospects.to_come import is_open, replaced_by
from seedstart.season.journal.entries import Read
from seedstart.season.journal.place_entries import Quantity
from seedstart.season.loggers.series import Readings, Series
from seedstart.season.plan.lot import Lot
from seedstart.season.plan.season_file import Season
from seedstart.season.plan.stations import Station
from seedstart.tracking.medium import measured
from seedstart.tracking.own_factor import OwnFactor
from seedstart.tracking.records import Records
from seedstart.tracking.standing import Standing
from seedstart.tracking.warmth import Progress
from seedstart.units import Temperatures


def last_measured_s(readings: Readings, records: Records, until_s: float) -> float:
    """When something was last measured up to a moment, in seconds of the epoch; 0 for never."""
    logged = (
        series.at_s[place - 1]
        for series in readings.values()
        if (place := bisect_right(series.at_s, until_s))
    )
    read = (
        place.readings[-1].at.timestamp() for place in records.places.values() if place.readings
    )
    return max((*logged, *read), default=0.0)


def _traced(
    series: Series | None, read: tuple[Read, ...], now_s: float, quantity: Quantity
) -> Trace:
    """What was measured at a station up to a moment: by loggers, and by hand."""
    found = measured(series, read, now_s, quantity)
    return Trace(found.at_s, found.c, found.by_hand)


# Of those that are expected in all, so many are up before any is pricked out or taken off the
# warmth. Common practice, no source.
SHARE_UP: Final = 0.5


class Scene(Struct, frozen=True, kw_only=True, dict=True):
    """One moment of a season; frozen.

    Attributes:
        season: The plan.
        records: What happened.
        rows: By lot, its rows of the calendar, as they are expected today.
        progress: How far each sowing has come that may still come up, by its id.
        prospects: How every sowing from seed is doing, by its id.
        hardening: Who is at which step of hardening off, by the sowing's id.
        own: The grower's own factor; None where no sowing of theirs speaks.
        weather: As it is known, by day.
        readings: What loggers measured.
        memo: What was made of parts of it before.
        today: The day.
        now: The moment; alerts count hours up to it.
    """

    season: Season
    records: Records
    rows: Mapping[str, tuple[Row, ...]]
    progress: Mapping[str, Progress]
    prospects: Prospects
    hardening: Mapping[str, Hardening]
    own: OwnFactor | None = None
    weather: Weather
    readings: Readings
    memo: Memo
    today: date
    now: datetime

    @property
    def factor(self) -> float:
        """Days in this grower's trays over days of the table."""
        return self.own.counted if self.own else TRAYS_OVER_TABLE

    @cached_property
    def _as_set(self) -> Season:
        return as_set(self.season, self.records, self.today)

    def expected_at(self, station: str) -> Temperatures | None:
        """The temperature that is expected of a station, as it is set now."""
        stations = (one for one in self._as_set.stations if one.name == station)
        return next((one.expected for one in stations), None)

    @cached_property
    def to_sow(self) -> tuple[Row, ...]:
        """Rows of lots of which nothing was sown yet."""
        every = chain.from_iterable(self.rows.values())
        return tuple(row for row in every if row.sowing_id is None)

    def medium(self, station: str) -> Trace:
        """How warm the medium at a station was, up to now."""
        return self._measured(station, "soil_c")

    def air(self, station: str) -> Trace:
        """How warm the air at a station was, up to now."""
        return self._measured(station, "air_c")

    def _measured(self, station: str, quantity: Quantity) -> Trace:
        series, read = self.readings.get((station, quantity)), self._read_at(station)
        subject, now_s = (station, quantity), self.now.timestamp()
        return self.memo.of(_traced, subject, series, read, now_s, quantity)

    def _read_at(self, station: str) -> tuple[Read, ...]:
        return self.records.place(("station", station)).readings

    def lot(self, one: Standing) -> Lot | None:
        """The lot of a sowing; None where the season no longer lists it."""
        return self.season.lots_by_name.get(self.records.lot_of(one.id) or "")

    def crop(self, one: Standing) -> Crop | None:
        """The crop of a sowing's lot."""
        return self.season.crop_of(self.records.lot_of(one.id))

    def station(self, name: str | None) -> Station | None:
        """A station by its present name."""
        return self.season.stations_by_name.get(name or "")

    def row(self, one: Standing) -> Row | None:
        """The row of a sowing, or of the one that heads its family."""
        return row_for(one.id, self.rows, self.records)

    def step_due(self, one: Standing, name: StepName) -> Step | None:
        """A step that is to be done today or was to be before.

        A row is of a sowing and all its daughters: what was done to one of them is to be done to
        the others from that day on.

        Returns:
            None where it is still ahead, was done, or the sowing has no such step.
        """
        row = self.row(one)
        step = row.step(name) if row else None
        if step is None or step.window is None or step.window.best > self.today:
            return None
        if step.is_ == "happened" and self._was_done(one, name):
            return None
        return step

    def _was_done(self, one: Standing, name: StepName) -> bool:
        """Whether a step that was done to a sowing of this family was done to this one."""
        if name == "pot_on":
            earlier = (each.last_act("potted_on") for each in self.records.lineage(one.id)[1:])
            before = any(act is not None and act.at <= one.at for act in earlier)
            return one.last_act("potted_on") is not None or before
        return name != "set_out" or one.last_act("set_out") is not None

    def expected(self, one: Standing) -> Window | None:
        """When a sowing is expected up: as its prospect has it, else by the calendar."""
        found = self.prospects.to_come(one.id) if one.from_seed and one.closed is None else None
        if found is not None and found.expected is not None:
            return found.expected
        step = self.to_come_up(one)
        return (step.missed or step.window) if step else None

    def is_dated(self, one: Standing) -> bool:
        """Whether it is known when a sowing is expected up, or came up."""
        step = self.to_come_up(one)
        by_calendar = step is not None and bool(step.missed or step.window)
        return by_calendar or self.expected(one) is not None

    def to_come_up(self, one: Standing) -> Step | None:
        """The calendar's step of a sowing that is to come up; None where it has none."""
        row = self.row(one)
        return row.step("emerge") if row else None

    def waits(self, one: Standing) -> bool:
        """Whether seed lies in it that may come up, and none has yet."""
        return one.from_seed and one.alive and not one.emerged and self._may_come(one)

    def may_come(self, one: Standing) -> bool:
        """Whether more may come up in it: of a mixed lot of seed some wait longer."""
        return one.from_seed and one.alive and self._may_come(one)

    def _may_come(self, one: Standing) -> bool:
        full = one.seeds is not None and one.emerged >= one.seeds and not self._clusters(one)
        if full or one.closed is not None:
            return False
        if one.id not in self._waited_for:
            cold = self.records.day_zero(one.id) is None
            self._waited_for[one.id] = not cold and is_open(one, self.records)
        return self._waited_for[one.id]

    @cached_property
    def _waited_for(self) -> dict[str, bool]:
        """What was asked: a round asks again and again."""
        return {}

    def expects_more(self, one: Standing) -> bool:
        """Whether one more at least is to come of a sowing from seed."""
        return self.may_come(one) and self.prospects.more_is_expected(one.id)

    def half_is_up(self, one: Standing) -> bool:
        """Whether half of what is to be expected of a sowing from seed is up, or no more is."""
        if one.seeds and one.emerged >= SHARE_UP * one.seeds:
            return True  # no more come than were sown: no prospect is needed
        to_come = self.prospects.to_come(one.id)
        if to_come.total is None or to_come.more is None:
            return one.emerged > 0
        return not self.expects_more(one) or one.emerged >= SHARE_UP * to_come.total.best

    def replaced_by(self, one: Standing) -> Standing | None:
        """What was sown in place of a sowing of which more might come; None where nothing was."""
        open_ = one.from_seed and one.alive and one.closed is None
        return replaced_by(one, self.records) if open_ else None

    def quiet_since(self, one: Standing) -> date | None:
        """The day of the look since which its count may be closed; None while it goes on."""
        return self.prospects.quiet_since(one.id)

    def is_empty(self, one: Standing) -> bool:
        """Whether all that came up in it has left, and nothing more is to be expected."""
        went = one.from_seed and not one.standing and one.emerged > 0
        return went and (took_its_medium(one) or not self.expects_more(one))

    def up_beside(self, one: Standing) -> tuple[str, ...]:
        """What is up in the tray in which a sowing still waits: a move would take it along."""
        spot = self.records.spot(one.id)
        if spot is None or spot.tray is None:
            return ()
        there = map(
            self.records.standings.__getitem__, self.records.sowings_in(("tray", spot.tray))
        )
        return tuple(self.asked(each).name for each in there if each.standing and each.id != one.id)

    def wants_care(self, one: Standing) -> bool:
        """Whether something stands in it, or is still to come that a tray must care for.

        The seedlings of a germination test are judged and thrown away: once it is closed nothing
        of it is cared for.
        """
        judged = one.purpose == "test" and one.closed is not None
        return one.alive and not judged and not self.is_empty(one)

    def _clusters(self, one: Standing) -> bool:
        crop = self.crop(one)
        return crop is not None and crop.seedlings_per_seed is not None

    @cached_property
    def _asked(self) -> dict[str, Asked]:
        return {}

    def asked(self, one: Standing) -> Asked:
        """A sowing as a check names it."""
        if one.id not in self._asked:
            self._asked[one.id] = self._as_asked(one)
        return self._asked[one.id]

    def _as_asked(self, one: Standing) -> Asked:
        return Asked(
            one.id,
            self.records.name_in_line(one.id),
            one.counted[-1].standing if one.counted else None,
            one.standing,
            one.last_act("pricked_out", "split", "set_out") is not None,
            last_on=one.counted[-1].at.date() if one.counted else None,
        )
