"""The plan in force: its files as they could be read last, and what was planned anew since."""

from datetime import date
from pathlib import Path
from typing import Any, NamedTuple

from seedstart.disk.plan_files import (
    plan_stamps,
    read_lot_tables,
    read_plan,
    read_plan_without_lots,
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
        without_lots: Go on with stations alone where only lots.toml is wrong.

    Attributes:
        now: The plan in force.
        problems: What is wrong in the files now; the last good plan stands meanwhile.

    Raises:
        BadInputError: The plan cannot be read; everything wrong in it.
    """

    def __init__(self, folder: Path, *, without_lots: bool = False) -> None:
        self.problems: tuple[Problem, ...] = ()
        self._folder, self._stamps = folder, plan_stamps(folder)
        try:
            self._read = Files(read_plan(folder), read_lot_tables(folder))
        except BadInputError as error:
            if not without_lots:
                raise
            self._read, self.problems = Files(read_plan_without_lots(folder), []), error.problems
        self.now = Plan(self._read.season, [], self._read)

    @property
    def is_behind(self) -> bool:
        """Whether the files were read again since the plan in force was made of them."""
        return self._read is not self.now.files

    def look(self) -> bool:
        """Read the files if they changed; whether they did."""
        stamps = plan_stamps(self._folder)
        if stamps == self._stamps:
            return False
        self._stamps = stamps
        try:
            self._read = Files(read_plan(self._folder), read_lot_tables(self._folder))
            self.problems = ()
        except BadInputError as error:
            self.problems = error.problems
        return True

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
