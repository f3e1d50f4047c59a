"""What every `log` command shares: the open season, names resolved, what was recorded said."""

from collections.abc import Callable, Sequence
from datetime import date, datetime

import click

from seedstart.cli.season_files import find_season
from seedstart.cli.show import show_json, tell
from seedstart.cli.typed import Typed
from seedstart.days import parse_day
from seedstart.drawing.wording import entry_in_words
from seedstart.open_season import OpenSeason
from seedstart.problems import Problem
from seedstart.season.entries import Entry, Struck
from seedstart.season.moments import parse_moment
from seedstart.season.names import Names, find_name
from seedstart.settings import read_settings
from seedstart.text import clean
from seedstart.tracking.naming import find_sowing


def open_for(folder: str | None, on: str | None = None) -> OpenSeason:
    """The season a command works on, with its records.

    Raises:
        BadInputError: No season, a plan that cannot be read, or a day that is none.
    """
    typed = Typed()
    day: date | None = typed.read("--on", on, parse_day)
    typed.done()
    return OpenSeason(find_season(folder), read_settings().writer, day)


on_option = click.option(
    "--on", metavar="DATE", help="As of the end of that day; what is recorded happened on it."
)


class Log:
    """One `log` command at work: gathers what is wrong, then records one act."""

    def __init__(self, folder: str | None, on: str | None, at: str | None) -> None:
        self.season = open_for(folder, on)
        self.typed = Typed()
        self.at: datetime | None = self.typed.read("--at", at, self._moment)

    def _moment(self, text: str) -> datetime:
        return parse_moment(text, self.season.now())

    def sowing(self, name: str, option: str = "SOWING") -> str:
        """The sowing that is meant, as a line is to call it."""
        found = find_sowing(self.season.records(), name, file=option)
        return self.typed.take(found) or ""

    def lot(self, name: str, option: str = "LOT") -> str:
        """The lot that is meant, by its present name."""
        lots = Names(self.season.plan.lots)
        return self.typed.take(find_name(name, lots, file=option, lists="seedstart lots")) or ""

    def station(self, name: str | None, option: str = "--station") -> str | None:
        """The station that is meant, by its present name."""
        if name is None:
            return None
        stations = Names(self.season.plan.stations)
        return self.typed.take(find_name(name, stations, file=option))

    def tray(self, name: str | None) -> str | None:
        """A tray by the name it is written with; a new one needs no registering."""
        if name is None:
            return None
        known = {place for kind, place in self.season.records().places if kind == "tray"}
        folded = {one.casefold(): one for one in known}
        return folded.get(clean(name).casefold(), clean(name).strip())

    def what(self, name: str) -> dict[str, str]:
        """A sowing, a tray or a station, by the one name that fits."""
        records = self.season.records()
        station = Names(self.season.plan.stations).find(name)
        trays = {place.casefold() for kind, place in records.places if kind == "tray"}
        sowing = find_sowing(records, name, file="WHAT")
        fits = []
        if station is not None:
            fits.append({"station": station})
        if clean(name).casefold() in trays:
            fits.append({"tray": self.tray(name) or ""})
        if not isinstance(sowing, Problem):
            fits.append({"sowing": sowing})
        if len(fits) == 1:
            return fits[0]
        if not fits:
            self.typed.take(sowing)
            return {"sowing": ""}
        kinds = tuple(f"{next(iter(one))}:{name}" for one in fits)
        hint = "More than one thing bears the name: give the tray or station another, or use `#`."
        self.typed.refuse(Problem(file="WHAT", found=name, allowed=kinds, hint=hint))
        return fits[0]

    def number(self, option: str, text: str | None, least: int = 0) -> int | None:
        """A whole number."""

        def parse(word: str) -> int:
            if not word.strip().isdigit() or int(word) < least:
                raise ValueError(f"a whole number from {least}")
            return int(word)

        return self.typed.read(option, text, parse)

    def word(self, option: str, text: str | None, allowed: tuple[str, ...]) -> str:
        """One of a few words; the first of them where nothing was typed."""
        if text is None:
            return allowed[0]
        found = clean(text).strip()
        if found not in allowed:
            self.typed.refuse(Problem(file=option, found=found, allowed=allowed))
        return found

    def amount(self, option: str, text: str | None) -> float | None:
        """A number, with a full stop or a comma."""

        def parse(word: str) -> float:
            try:
                return float(word.strip().replace(",", "."))
            except ValueError:
                raise ValueError("a number, as 2.5") from None

        return self.typed.read(option, text, parse)

    def read(self, option: str, text: str | None, parse: Callable[[str], object]) -> object:
        """Anything else that was typed."""
        return self.typed.read(option, text, parse)

    def record(self, make: Callable[[], Sequence[Entry]], *, as_json: bool) -> None:
        """Record one act, if nothing was wrong; say what was recorded."""
        self.typed.done()
        entries = self.season.record(*make(), at=self.at)
        if as_json:
            show_json(entries)
            return
        for entry in entries:
            if isinstance(entry, Struck):
                continue  # what was taken back has been said
            tell(f"Recorded: {entry_in_words(entry, self.season.plan.units)}")
        if self.season.unlocked:
            tell("This drive has no locks: let no other program write to this season meanwhile.")
