"""What every `log` command shares: the open season, names resolved, what was recorded said."""

from collections.abc import Callable, Sequence
from datetime import date, datetime

import click

from seedstart import clock
from seedstart.cli.season_files import find_season
from seedstart.cli.show import show_json, tell
from seedstart.days import parse_day
from seedstart.drawing.wording import entry_in_words
from seedstart.open_season import OpenSeason
from seedstart.problems import BadInputError, Problem, Typed
from seedstart.season.entries import Entry, Struck, TakenOut
from seedstart.season.moments import parse_moment
from seedstart.settings import read_settings
from seedstart.tracking.odd import odd_in
from seedstart.tracking.too_soon import counted_too_soon
from seedstart.tracking.typed_names import TypedNames


def open_for(folder: str | None, on: str | None = None) -> OpenSeason:
    """The season a command works on, with its records.

    Raises:
        BadInputError: No season, a plan that cannot be read, or a day that is none.
    """
    typed = Typed()
    day: date | None = typed.read("--on", on, parse_day)
    typed.done()
    return OpenSeason(find_season(folder), read_settings().writer, day)


def refuse_days_to_come(season: OpenSeason) -> None:
    """Nothing is recorded on a day that has not come yet by this machine's clock.

    Raises:
        BadInputError: The season was opened on such a day.
    """
    today = clock.now(season.plan.zone).date()
    if season.on is None or season.on <= today:
        return
    hint = (
        f"That day has not come yet; today is {today.isoformat()}. What is written down has "
        "happened: a day to come may be looked at, and nothing is recorded on it."
    )
    raise BadInputError([Problem(file="--on", found=season.on.isoformat(), hint=hint)])


as_of_option = click.option("--on", metavar="DATE", help="As of the end of that day.")
on_option = click.option(
    "--on", metavar="DATE", help="As of the end of that day; what is recorded happened on it."
)


class Log(TypedNames):
    """One `log` command at work: gathers what is wrong, then records one act."""

    def __init__(self, folder: str | None, on: str | None, at: str | None) -> None:
        self.season = open_for(folder, on)
        refuse_days_to_come(self.season)
        super().__init__(lambda: self.season.plan, self.season.records)
        self.at: datetime | None = self.read("--at", at, self._moment)

    def _moment(self, text: str) -> datetime:
        return parse_moment(text, self.season.now())

    def record(self, make: Callable[[], Sequence[Entry]], *, as_json: bool) -> None:
        """Record one act, if nothing was wrong; say what was recorded."""
        self.done()
        before = self.season.records()
        drafts = make()
        for problem in counted_too_soon(before, drafts, self.at) if self.at else ():
            self.refuse(problem)
        self.done()
        entries = self.season.record(*drafts, at=self.at)
        if as_json:
            show_json(entries)
            return
        for entry in entries:
            if isinstance(entry, Struck):
                continue  # what was taken back has been said
            tell(f"Recorded: {self._in_words(entry)}")
        for text in dict.fromkeys(odd_in(self.season.plan, before, self.season.records(), entries)):
            tell(text)
        if self.season.unlocked:
            tell("This drive has no locks: let no other program write to this season meanwhile.")

    def _in_words(self, entry: Entry) -> str:
        """What was recorded; the end of a treatment names what it ends."""
        units = self.season.plan.units
        begun = self.season.journal.by_id.get(entry.entry) if isinstance(entry, TakenOut) else None
        ended = f" (ends: {entry_in_words(begun, units)})" if begun else ""
        return f"{entry_in_words(entry, units)}{ended}"
