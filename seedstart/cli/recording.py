"""What every `log` command shares: the open season, names resolved, what was recorded said."""

from collections.abc import Callable, Sequence
from datetime import date, datetime

import click

from seedstart import clock
from seedstart.cli.season_files import find_season
from seedstart.cli.show import show_json, tell
from seedstart.cli.taking_back import struck_in_words
from seedstart.days import parse_day
from seedstart.drawing.wording import entry_in_words
from seedstart.open_season import OpenSeason
from seedstart.problems import BadInputError, Problem, Typed
from seedstart.season.entries import Entry, Struck, TakenOut
from seedstart.season.moments import parse_moment
from seedstart.settings import read_settings
from seedstart.text import clean, plural
from seedstart.tracking.naming import find_sowing
from seedstart.tracking.odd import odd_in
from seedstart.tracking.records import Records
from seedstart.tracking.too_soon import counted_too_soon
from seedstart.tracking.typed_names import TypedNames


def open_for(
    folder: str | None, on: str | None = None, *, without_lots: bool = False
) -> OpenSeason:
    """The season a command works on, with its records.

    Args:
        folder: As it was named.
        on: The day, as it was typed.
        without_lots: Go on with stations and journal alone where only lots.toml is wrong.

    Raises:
        BadInputError: No season, a plan that cannot be read, or a day that is none.
    """
    typed = Typed()
    day: date | None = typed.read("--on", on, parse_day)
    typed.done()
    return OpenSeason(find_season(folder), read_settings().writer, day, without_lots=without_lots)


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
        self.season = open_for(folder, on, without_lots=True)
        self._tell_without_lots()
        refuse_days_to_come(self.season)
        super().__init__(lambda: self.season.plan, self.season.records)
        self.at: datetime | None = self.read("--at", at, self._moment)

    def _tell_without_lots(self) -> None:
        problems = self.season.plan_problems
        if problems:
            more = f" And {plural(len(problems) - 1, 'thing')} more." if problems[1:] else ""
            tell(
                f"{problems[0]}{more} Until that is put right, names are written as you type them."
            )

    def sowing(self, name: str, option: str = "SOWING") -> str:
        """The sowing that is meant; one that only lots.toml would know, as it was typed."""
        found = find_sowing(self.season.records(), name, file=option)
        if self.season.plan_problems and isinstance(found, Problem) and found.listed_by:
            return clean(name).strip()
        return super().sowing(name, option)

    def lot(self, name: str, option: str = "LOT") -> str:
        """The lot that is meant; as it was typed where lots.toml cannot be read."""
        return clean(name).strip() if self.season.plan_problems else super().lot(name, option)

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
        tell_recorded(self.season, before, entries)


def tell_recorded(season: OpenSeason, before: Records, entries: Sequence[Entry]) -> None:
    """Say what was recorded, and what is odd in it."""
    for entry in entries:
        tell(_in_words(season, entry))
    try:
        odd = list(odd_in(season.plan, before, season.records(), entries))
    except BadInputError as error:  # it is recorded all the same
        odd = [str(problem) for problem in error.problems]
    for text in dict.fromkeys(odd):
        tell(text)


def _in_words(season: OpenSeason, entry: Entry) -> str:
    """What was recorded; the end of a treatment and a strike name what they are about."""
    units, by_id = season.plan.units, season.journal.by_id
    if isinstance(entry, Struck) and entry.entry in by_id:
        return struck_in_words(season, entry)
    ended = by_id.get(entry.entry) if isinstance(entry, TakenOut) else None
    also = f" (ends: {entry_in_words(ended, units)})" if ended else ""
    return f"Recorded: {entry_in_words(entry, units)}{also}"
