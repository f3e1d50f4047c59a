"""A journal for tests, written as a grower would: what, when, and the rest."""

from collections.abc import Iterable
from datetime import date, datetime, timedelta, timezone
from typing import Any, TypeVar
from zoneinfo import ZoneInfo

from seasons import HEAD, season
from seedstart.open_season import OpenSeason
from seedstart.season.journal.entries import BLANK, Entry, Struck
from seedstart.season.journal.journal import Journal
from seedstart.season.plan.season_file import Season
from seedstart.tracking.fold_journal import records
from seedstart.tracking.records import Records
from seedstart.tracking.standing import Standing

ZONE = ZoneInfo("Europe/Vienna")
E = TypeVar("E", bound=Entry)


def moment(text: str) -> datetime:
    """A moment of 2027 as `3-02 08:00`, in Vienna; the time may be left out."""
    day, _, time = text.partition(" ")
    month, of_month = map(int, day.split("-"))
    hour, minute = map(int, (time or "08:00").split(":"))
    return as_read(datetime(2027, month, of_month, hour, minute, tzinfo=ZONE))


def as_read(at: datetime) -> datetime:
    """A moment as it comes out of a file: with its offset, and no zone behind it.

    Two times of one zone are compared by their clocks, and the hour that autumn doubles is lost.
    """
    return at.astimezone(timezone(at.utcoffset() or timedelta(0)))


def written(year: int, number: int) -> str:
    """An id of version 7; it rises with the number."""
    return f"0195{year:04d}-1c00-7000-8000-{number:012x}"


def take_back(season: OpenSeason) -> tuple[Entry, ...]:
    """Strike its writer's last act, whole."""
    season.catch_up()
    act = season.journal.last_act(season.by)
    season.record(*(Struck(**BLANK, entry=one.id) for one in act))
    return act


class Notebook:
    """Entries in the order in which they are written; their ids rise."""

    def __init__(self) -> None:
        self.entries: list[Entry] = []

    def write(self, kind: type[E], at: str | datetime, by: str = "bench", **fields: Any) -> E:
        """One more entry."""
        when = moment(at) if isinstance(at, str) else at
        entry = kind(id=written(2027, len(self.entries) + 1), at=when, by=by, **fields)
        self.entries.append(entry)
        return entry

    def strike(self, entry: Entry, at: str = "12-01") -> Struck:
        """Take one back."""
        return self.write(Struck, at, entry=entry.id)

    def journal(self) -> Journal:
        """All of it, read."""
        return journal_of(self.entries)

    def records(self, lots: str = "", head: str = HEAD, until: date | None = None) -> Records:
        """What happened."""
        return records(self.journal(), season(lots, head), until)

    def standing(self, name: str, lots: str = "") -> Standing:
        """What is known of the sowing that a line calls so."""
        found = self.records(lots).by_name_in_line(name)
        assert found is not None, f"no sowing, or more than one, is called {name}"
        return found


def journal_of(entries: Iterable[Entry]) -> Journal:
    """A journal with these entries, taken in at once."""
    journal = Journal()
    journal.take_in(entries)
    return journal


def afresh(entries: Iterable[Entry], plan: Season, until: date | None = None) -> Records:
    """The records of entries, folded from nothing."""
    return records(journal_of(entries), plan, until)
