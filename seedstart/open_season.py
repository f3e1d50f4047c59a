"""One season, open: the only object that changes, and the only one that records.

Bytes → entries → what happened → what is to come → what to do today. A record goes the same way as
every line that was there before: written first, then taken in.
"""

import os
from collections.abc import Callable, Mapping, Set
from contextlib import suppress
from datetime import date, datetime, time
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Final
from zoneinfo import ZoneInfo

from msgspec.structs import replace

from seedstart import clock, disk
from seedstart.acts.known import Known
from seedstart.daily.check import Round
from seedstart.daily.check_status import Said, hear, key_named
from seedstart.disk.growing_folders import JournalFiles, ReadingsFolder
from seedstart.disk.plan_files import Edited, PlanInForce
from seedstart.disk.weather_folder import WeatherFolder
from seedstart.planning.known_weather import KnownDay, forecasts_of, known_weather
from seedstart.problems import BadInputError, Problem
from seedstart.season.journal.entries import Entry
from seedstart.season.journal.entry import Subject, next_id
from seedstart.season.journal.journal import Journal, collector_at_rest
from seedstart.season.journal.journal_lines import encode, stamped
from seedstart.season.loggers.series import Readings
from seedstart.season.plan.names import Names
from seedstart.season.plan.season_file import Season
from seedstart.tracking.fold_journal import records, refold
from seedstart.tracking.records import Records

if TYPE_CHECKING:
    from seedstart.daily.derived import Derived
    from seedstart.planning.calendar.row import Row
    from seedstart.planning.following import Following, Moment
    from seedstart.planning.hardening.hardening_status import Hardening
    from seedstart.planning.prospects.prospects import Prospects
    from seedstart.tracking.own_factor import OwnFactor
    from seedstart.tracking.warmth import Progress

READINGS_FOLDER = "readings"
# Of either, so many are derived from within a tenth of a second; more in a thread, if there is one.
_LOTS_AT_ONCE: Final = 100
_READINGS_AT_ONCE: Final = 50_000


def _anew() -> "Derived":
    """Nothing derived yet. What derives is loaded by whoever asks for it: `log` does not."""
    from seedstart.daily.derived import Derived

    return Derived()


class OpenSeason:
    """A season's plan and journal in memory, and the way to add to them.

    Attributes:
        folder: Where it lies.
        by: The writer here, of `journal/<by>.jsonl`.
        journal: What was done and seen.
        readings_folder: What loggers measured.
        weather_folder: Days that were measured out of doors, and forecasts.
        is_looking_ahead: Whether a thread derives, and what it found is not taken in yet.
        reads_at_once: Bytes of a file of readings; more is left to whoever reads on in a thread.
    """

    def __init__(
        self, folder: Path, by: str, on: date | None = None, *, without_lots: bool = False
    ) -> None:
        """Read a season.

        Args:
            folder: Its folder.
            by: Who writes.
            on: Records as of the end of that day; what is recorded happened on it.
            without_lots: Go on with stations and journal alone where only lots.toml is wrong.

        Raises:
            BadInputError: The plan cannot be read; everything wrong in it.
        """
        self.folder, self.by, self.on = folder, by, on
        self._plans = PlanInForce(
            folder, lambda zone: on or clock.now(zone).date(), without_lots=without_lots
        )
        self.journal, self._journals = Journal(), JournalFiles(folder)
        self._records: Records | None = None
        self._unfolded: set[Subject] = set()
        self._unheard: set[Subject] = set()
        self._said: dict[str, Said] = {}
        self._weather: tuple[date, dict[date, KnownDay]] | None = None
        self.weather_folder = WeatherFolder(folder)
        self.readings_folder = ReadingsFolder(folder / READINGS_FOLDER)
        self.reads_at_once: int | None = None
        self.is_looking_ahead = self._is_tidy = False
        self._hour: datetime | None = None  # counts until the next was looked ahead to
        with collector_at_rest():
            self.catch_up()
        if self._journals.unread:
            raise BadInputError(self._journals.unread)

    @property
    def plan(self) -> Season:
        """The plan in force: its files, and what was planned anew since."""
        return self._plans.now.season

    @property
    def plan_problems(self) -> tuple[Problem, ...]:
        """What is wrong in the plan's files now; the last good plan stands meanwhile."""
        return self._plans.problems

    @property
    def record_problems(self) -> tuple[Problem, ...]:
        """Why the record of minima gives no frost date; the rest of the plan stands."""
        return self._plans.record_problems

    @property
    def planned_problems(self) -> list[Problem]:
        """What was planned anew and is not in force."""
        return self._plans.now.overruled

    @property
    def zone(self) -> ZoneInfo:
        """The season's time zone."""
        return ZoneInfo(self.plan.zone)

    def now(self) -> datetime:
        """The moment; on another day than today, its end (its noon for what is recorded)."""
        return self._on_the_day(time(23, 59, 59))

    def _on_the_day(self, at: time) -> datetime:
        moment = clock.now(self.plan.zone)
        if self.on is None or self.on == moment.date():
            return moment
        return datetime.combine(self.on, at, self.zone)

    @property
    def today(self) -> date:
        """The day it is in the season's zone, or the day asked for."""
        return self.on or self.now().date()

    def plan_if(self, edited: Edited) -> Season:
        """The plan with a change that is not made yet; refused where a new record gives no date."""
        return self._plans.to_be(self.journal, self.on, edited).season

    def calendar_with(self, plan: Season) -> "tuple[Row, ...]":
        """Every sowing as it would be expected under another plan."""
        happened = records(self.journal, plan, self.on)
        moment = self._as_if(plan, happened, self._hour or self._hour_now())
        return _anew().follow(moment).calendar

    def catch_up(self, *, ahead: bool = False) -> bool:
        """Take in what others have written since; whether there was anything.

        A file that cannot be read leaves what was read of it before, and is among the problems.

        Args:
            ahead: What takes long to derive, as another plan or another hour of a large season,
                is left to `look_ahead`, and `is_behind` says so.
        """
        before = self._journals.unread
        found = self._journals.read_on()
        if found.all_over:
            self.journal, self._records, self._said, self._weather = Journal(), None, {}, None
        changed = found.all_over or bool(found.lines) or self._journals.unread != before
        changed = self._plans.look() or changed
        at_once = not (ahead and self._is_large)
        if self._plans.is_behind and at_once:
            self._put_in_force()
        if found.lines:
            self._touched(self.journal.read(*found.lines))
        if found.all_over:
            self._put_in_force()
        if self.weather_folder.was_read and self.weather_folder.read_on(self.zone):
            self._weather, changed = None, True
        if self.readings_folder.was_read and not self.is_looking_ahead:
            changed = self.readings_folder.read_on(self.reads_at_once) or changed
        if ahead and self.on is None and (at_once or self._hour is None):
            changed = changed or self._hour != self._hour_now()
            self._hour = self._hour_now()
        return changed

    @property
    def _is_large(self) -> bool:
        """Whether to derive all of it takes so long that one would feel it."""
        return len(self.plan.lots) > _LOTS_AT_ONCE or self.readings_folder.count > _READINGS_AT_ONCE

    @property
    def journal_problems(self) -> tuple[Problem, ...]:
        """Journals that cannot be read now (what was read of them stands), and lines set aside."""
        return (*self._journals.unread, *self.journal.set_aside)

    def records(self) -> Records:
        """What happened, as of the end of the day asked for."""
        if self._records is None:
            with collector_at_rest():
                self._records = records(self.journal, self.plan, self.on)
        elif self._unfolded:
            self._records = refold(self._records, self._unfolded, self.journal, self.plan)
        self._unfolded = set()
        return self._records

    def progress(self) -> "Mapping[str, Progress]":
        """How far every sowing has come that may still come up, by its id."""
        return self._follow().progress

    def prospects(self) -> "Prospects":
        """How every sowing from seed is doing, and what is to come of it, by its id."""
        return self._follow().prospects

    def own_factor(self) -> "OwnFactor | None":
        """Days in this grower's trays over days of the table; None where no sowing speaks."""
        return self._follow().own

    def calendar(self) -> "tuple[Row, ...]":
        """Every sowing, planned or made, as it is expected today."""
        return self._follow().calendar

    def hardening(self) -> "tuple[Hardening, ...]":
        """Who is being hardened off or is due to: what is carried out first, the farthest first."""
        return self._follow().hardening_in_order()

    def round(self) -> Round:
        """What to do and to look at today, and what goes wrong."""
        said = self._what_was_said()
        return self._derived.round(self._as_it_is(), said, is_today=self.on is None)

    def known(self) -> Known:
        """What may be named in what is written down, and what stands."""
        return Known(
            plan=self.plan,
            records=self.records(),
            now=self.now(),
            look_up_rows=self.calendar,
            by=self.by,
            keys_of=self._plans.now.files.keys_of,
            lots_wrong=self.plan_problems,
            check_named=lambda typed: key_named(self.round(), typed),
        )

    @cached_property
    def _derived(self) -> "Derived":
        return _anew()

    def _follow(self) -> "Following":
        return self._derived.follow(self._as_it_is())

    def _as_it_is(self) -> "Moment":
        """All that is derived from; of the hour, so that within it nothing new has to be."""
        return self._as_if(self.plan, self.records(), self._hour or self._hour_now())

    def _as_if(self, plan: Season, happened: Records, hour: datetime) -> "Moment":
        from seedstart.planning.following import Moment

        readings, weather = self.readings(), self._weather_on(hour.date())
        return Moment(plan, happened, readings, weather, hour.date(), hour)

    def _hour_now(self) -> datetime:
        now = self.now()
        return now if self.on is not None else now.replace(minute=0, second=0, microsecond=0)

    @property
    def is_behind(self) -> bool:
        """Whether something came that takes long to derive, and nobody looks ahead to it yet."""
        another_hour = self._hour is not None and self._hour != self._hour_now()
        behind = self.readings_folder.is_behind or self._plans.is_behind or another_hour
        return behind and not self.is_looking_ahead

    def look_ahead(self) -> Callable[[], Callable[[], None]]:
        """Take in another plan, hour or a great many readings; what stood before stands till then.

        Returns:
            What reads them and derives what follows, for a thread; it returns what takes that in
            here, where what else happened meanwhile is derived too.
        """
        hour, happened, said = self._hour_now(), self.records(), dict(self._what_was_said())
        before = plan = self._plans.now
        if self._plans.is_behind:
            plan = self._plans.to_be(self.journal, self.on)
            happened = records(self.journal, plan.season, self.on)
        moment = self._as_if(plan.season, happened, hour)
        self.is_looking_ahead = True

        def work() -> Callable[[], None]:
            folder, derived = self.readings_folder, _anew()
            try:
                found = folder.look()
                joined = folder.joined_of(found, Names(plan.season.stations).find)
                then = replace(moment, readings=joined.readings)
                with suppress(Exception):  # whoever asks for it next fails where it can be shown
                    derived.round(then, said, is_today=self.on is None)
            except BaseException:
                self.is_looking_ahead = False
                raise

            def take_in() -> None:
                folder.take(found, joined)
                self._hour = self._hour and hour
                if plan is not before and self._plans.now is before:
                    self._plans.take(plan)
                    self._records = None
                self._derived, self.is_looking_ahead = derived, False

            return take_in

        return work

    def _what_was_said(self) -> Mapping[str, Said]:
        """Of checks and alerts, by their keys; what was struck is not said."""
        hear(self._said, (key for _, key in self._unheard), self.journal, self.on)
        self._unheard = set()
        return self._said

    def readings(self) -> Readings:
        """All that was measured, by station and quantity, as of the last `catch_up`.

        Raises:
            BadInputError: A file cannot be read, the first time that it is asked for.
        """
        self.readings_folder.read_once()  # a station that was renamed keeps its readings
        return self.readings_folder.joined(Names(self.plan.stations).find)

    def weather(self) -> Mapping[date, KnownDay]:
        """The weather as it is known today, by day, as of the last `catch_up`."""
        return self._weather_on(self.today)

    def _weather_on(self, day: date) -> Mapping[date, KnownDay]:
        if not self.weather_folder.was_read:
            self.weather_folder.read_on(self.zone)
        if self._weather is None or self._weather[0] != day:
            typed = forecasts_of(self.journal, self.on)
            self._weather = day, known_weather(typed, self.weather_folder.files, day)
        return self._weather[1]

    @property
    def reading_problems(self) -> list[Problem]:
        """What could not be read of the readings, and what of them is no reading."""
        return self.readings_folder.problems

    def record(self, *drafts: Entry, at: datetime | None = None) -> list[Entry]:
        """Write entries, and take them in once they are on the disk.

        Args:
            drafts: What was done or seen, made with `BLANK`: one act.
            at: When; now, or the day the season was opened on.

        Returns:
            The entries as they stand in the file.

        Raises:
            NotRecorded: The disk refused them; nothing was written.
            PerhapsRecorded: It failed so that nobody knows.
            BadInputError: One of them could not be read again; nothing was written.
        """
        self.catch_up()
        moment = at or self._on_the_day(time(12))  # of what is recorded without a time
        last, ids = self.journal.last_id(self.by), []
        for _ in drafts:
            now_ms = round(clock.now(self.plan.zone).timestamp() * 1000)
            last = next_id(last, now_ms, os.urandom(10))
            ids.append(last)
        entries = stamped(drafts, ids, moment.astimezone(self.zone), self.by)
        path = self._journals.of(self.by)
        if not self._is_tidy:  # before the first entry: what killed runs left half-made goes
            disk.clear([self.folder, self.folder / READINGS_FOLDER])
            self._is_tidy = True
        disk.append(path, encode(entries))
        self._take_own(path)
        return entries

    def _take_own(self, path: Path) -> None:
        """Read what was just written, as any other line: another may have written in between."""
        try:
            lines = self._journals.read_own(path).lines
        except BadInputError as error:  # the next look takes it in
            disk.remark(
                f"It is recorded, so do not enter it again; but it cannot be read back now: {error}"
            )
            return
        self._touched(self.journal.read(*lines))

    def _touched(self, subjects: Set[Subject]) -> None:
        """What is derived of these subjects is derived anew when it is next asked for."""
        self._unfolded |= subjects
        self._unheard |= {subject for subject in subjects if subject[0] == "check"}
        kinds = {kind for kind, _ in subjects}
        if "lot" in kinds:
            self._put_in_force()
        if "day" in kinds:
            self._weather = None

    def _put_in_force(self) -> None:
        """The plan as its files say now, and as it was planned anew since."""
        if self._plans.is_behind:
            self._records = None
        self._plans.take(self._plans.to_be(self.journal, self.on))
