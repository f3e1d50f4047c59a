"""The plan in force: its files as they could be read last, and what was planned anew since."""

from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any, NamedTuple

from seedstart.disk.plan_files import (
    COLUMNS_PATH,
    Stamps,
    file_stamps,
    plan_stamps,
    read_lot_tables,
    read_plan,
    read_plan_without_lots,
    read_record,
    record_files,
)
from seedstart.problems import BadInputError, Problem
from seedstart.season.entries import Planned
from seedstart.season.journal import Journal
from seedstart.season.plan import Season
from seedstart.season.planned import with_planned


class Files(NamedTuple):
    """The plan's files as they were read.

    Attributes:
        season: What they say.
        lot_tables: lots.toml, table by table as it stands there.
    """

    season: Season
    lot_tables: list[dict[str, Any]]


class Plan(NamedTuple):
    """A plan that is in force, or is to be.

    Attributes:
        season: Its files, and what was planned anew.
        overruled: What was planned anew and is not in force.
        files: What it was made of.
    """

    season: Season
    overruled: list[Problem]
    files: Files


class PlanInForce:
    """The plan, read again when its files change; what is read counts once it is taken.

    Args:
        folder: The season's.
        today: The day in a zone, for the frost dates of a record.
        without_lots: Go on with stations alone where only lots.toml is wrong.

    Attributes:
        now: The plan in force.
        problems: What is wrong in the files now; the last good plan stands meanwhile.
        record_problems: Why the record of minima gives no frost date; the rest of the plan stands.

    Raises:
        BadInputError: The plan cannot be read; everything wrong in it.
    """

    def __init__(
        self, folder: Path, today: Callable[[str], date], *, without_lots: bool = False
    ) -> None:
        self.problems: tuple[Problem, ...] = ()
        self.record_problems: tuple[Problem, ...] = ()
        self._record_stamps: Stamps = ()
        self._folder, self._stamps, self._today = folder, plan_stamps(folder), today
        try:
            self._read = self._recorded(Files(read_plan(folder), read_lot_tables(folder)))
        except BadInputError as error:
            if not without_lots:
                raise
            self._read = self._recorded(Files(read_plan_without_lots(folder), []))
            self.problems = error.problems
        self.now = Plan(self._read.season, [], self._read)

    @property
    def is_behind(self) -> bool:
        """Whether the files were read again since the plan in force was made of them."""
        return self._read is not self.now.files

    def look(self) -> bool:
        """Read the files if they changed; whether they did."""
        stamps = plan_stamps(self._folder)
        if stamps == self._stamps and self._stamps_of(self._read.season) == self._record_stamps:
            return False
        self._stamps = stamps
        try:
            read = Files(read_plan(self._folder), read_lot_tables(self._folder))
            self._read, self.problems = self._recorded(read), ()
        except BadInputError as error:
            self.problems = error.problems
        return True

    def _recorded(self, read: Files) -> Files:
        """The plan with the frost dates of its record; one that cannot be read leaves none."""
        self.record_problems, self._record_stamps = (), self._stamps_of(read.season)
        try:
            season = read_record(self._folder, read.season, self._today(read.season.zone))
        except BadInputError as error:
            self.record_problems = error.problems
            return read
        return Files(season, read.lot_tables)

    def _stamps_of(self, season: Season) -> Stamps:
        """Size and time of the files that the frost dates come from, and of what was said."""
        if season.frost is None or not season.frost.record:
            return ()
        try:
            return file_stamps(self._folder, (*record_files(self._folder, season), COLUMNS_PATH))
        except BadInputError:  # whoever reads them is told
            return ()

    def to_be(self, journal: Journal, until: date | None = None) -> Plan:
        """The plan as the files say now, with what was planned anew.

        Args:
            journal: What has it.
            until: As of the end of that day.
        """
        planned = [
            entry
            for (kind, _), entries in journal.of.items()
            if kind == "lot"
            for entry in entries
            if isinstance(entry, Planned) and entry.id not in journal.struck
            if until is None or entry.at.date() <= until
        ]
        planned.sort(key=lambda entry: (entry.at, entry.id))
        read = self._read
        if not planned:
            return Plan(read.season, [], read)
        return Plan(*with_planned(read.season, read.lot_tables, planned), read)

    def take(self, plan: Plan) -> None:
        """Let a plan be the one in force."""
        self.now = plan
