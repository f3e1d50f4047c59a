"""A small season in a folder, recorded in and walked through at any moment."""

from collections.abc import Callable, Iterable
from datetime import date, datetime
from pathlib import Path
from typing import Any, TypeVar
from zoneinfo import ZoneInfo

import pytest

from notebook import moment
from seasons import HEAD
from seedstart import clock
from seedstart.daily.answers import answer
from seedstart.daily.check import Alert, Check, Round
from seedstart.daily.check_status import lines_and_parts
from seedstart.disk import plan_files
from seedstart.open_season import OpenSeason
from seedstart.problems import Problem
from seedstart.season.journal.entries import BLANK, Entry
from shipped import crop_table

E = TypeVar("E", bound=Entry)


class Walk:
    """A season, and what its round says.

    It is kept open all the while, and each round is compared with that of a season opened afresh.
    """

    def __init__(
        self, folder: Path, patch: pytest.MonkeyPatch, lots: str = "", head: str = HEAD
    ) -> None:
        self.folder, self._now = folder, moment("1-02")
        patch.setattr(clock, "now", lambda zone: self._now.astimezone(ZoneInfo(zone)))
        patch.setattr(plan_files, "load_crops", lambda *_: crop_table())  # read once a test run
        self.edit(lots, head)
        self.opened = OpenSeason(folder, "bench")

    def edit(self, lots: str, head: str = HEAD) -> None:
        """Write the plan anew."""
        (self.folder / "season.toml").write_text(head, "utf-8")
        (self.folder / "lots.toml").write_text(lots, "utf-8")

    def write(self, kind: type[E], at: str | datetime, **fields: Any) -> E:
        """One entry, as it stands in the file."""
        when = moment(at) if isinstance(at, str) else at
        (entry,) = self.opened.record(kind(**BLANK, **fields), at=when)
        assert isinstance(entry, kind)
        return entry

    def log(self, station: str, quantity: str, read: Iterable[tuple[datetime, float]]) -> None:
        """A logger's file."""
        (self.folder / "readings").mkdir(exist_ok=True)
        lines = [f"{at.isoformat()},{station},{quantity},{value:.2f}," for at, value in read]
        path = self.folder / "readings" / f"{station}-{quantity}.csv"
        path.write_text("\n".join(["time,station,quantity,value,mark", *lines, ""]), "utf-8")

    def round(self, at: str | datetime) -> Round:
        """The round of a moment."""
        self._now = moment(at) if isinstance(at, str) else at
        self.opened.catch_up()
        found = self.opened.round()
        assert found == OpenSeason(self.folder, "fresh").round()
        return found

    def on(self, day: date) -> Round:
        """The round of a day, as `--on` shows it."""
        return OpenSeason(self.folder, "bench", day).round()

    def checks(self, at: str | datetime, what: str = "") -> list[Check]:
        """What is still to be done, all of it or of one kind."""
        every = lines_and_parts(self.round(at).checks)
        return [one for one in every if not one.done and not one.parts and what in {"", one.what}]

    def check(self, at: str | datetime, what: str) -> Check:
        """The one check of a kind that is to be done."""
        found = self.checks(at, what)
        assert len(found) == 1, [one.key for one in self.round(at).checks]
        return found[0]

    def done(self, at: str | datetime, what: str) -> list[Check]:
        """What was done that day of one kind."""
        every = lines_and_parts(self.round(at).checks)
        return [one for one in every if one.done and not one.parts and one.what == what]

    def alerts(self, at: str | datetime, kind: str = "") -> list[Alert]:
        """What goes wrong, all of it or of one kind."""
        return [one for one in self.round(at).alerts if kind in {"", one.kind}]

    def alert(self, at: str | datetime, kind: str) -> Alert:
        """The one alert of a kind."""
        found = self.alerts(at, kind)
        assert len(found) == 1, [one.key for one in self.round(at).alerts]
        return found[0]

    def drafts(self, check: Check, typed: str = "") -> tuple[Entry, ...]:
        """What an answer writes."""
        found = answer(check, typed, self.opened.known())
        assert not isinstance(found, Problem), str(found)
        return found

    def tick(self, check: Check, at: str | datetime, typed: str = "") -> list[Entry]:
        """An answer, recorded."""
        when = moment(at) if isinstance(at, str) else at
        return self.opened.record(*self.drafts(check, typed), at=when)

    def refused(self, check: Check, typed: str) -> str:
        """Why an answer does not do."""
        found = answer(check, typed, self.opened.known())
        assert isinstance(found, Problem), found
        return found.hint


MakeWalk = Callable[..., Walk]
