"""The words of a round: checks with their reasons, alerts with their cause and what to do."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date, datetime
from typing import Final, Literal

from msgspec import Struct

from seedstart.acts.act import Texts, Values
from seedstart.days import short_day
from seedstart.season.journal.entry import Subject
from seedstart.text import plural
from seedstart.units import Units, show_temperature

What = Literal[
    "take out",
    "treat",
    "sow",
    "look",
    "uncover",
    "move to light",
    "count",
    "settle",
    "close",
    "water",
    "moisten",
    "thin",
    "prick out",
    "pot on",
    "feed",
    "measure",
    "harden",
    "set out",
    "lamp on",
    "raise lamps",
]
AlertKind = Literal[
    "too cold",
    "too hot",
    "late",
    "mat no longer heats",
    "readings stopped",
    "overdue",
    "too few up",
    "not looked at",
    "cover still on",
    "too early to set out",
    "hardening missed",
    "cold night",
    "wind",
    "too little light",
    "day too long",
]
Level = Literal["act_now", "today", "know"]
LEVELS: Final[tuple[Level, ...]] = ("act_now", "today", "know")

# Where "moist" is an answer.
FELT: Final[frozenset[What]] = frozenset({"water", "moisten"})

PRACTICE: Final = "common practice, no source"


class Why(Struct, frozen=True):
    """A reason: one sentence, and what it rests on.

    Attributes:
        text: As a grower would say it.
        basis: What the figure in it rests on; empty where it is what was done or seen.
        sources: Keys of the crop table's sources.
    """

    text: str
    basis: str = ""
    sources: tuple[str, ...] = ()


class Asked(Struct, frozen=True):
    """One sowing that a check is about.

    Attributes:
        id: Of the entry that made it.
        name: As a line of the journal is to call it.
        last: How many stood at the last count, to be shown beside the field; None before any.
        standing: How many stand now.
        parted: Whether some of its plants went on elsewhere already: it is about the rest.
        closes: Whether its count ends when the last plant leaves: none is to be expected after it.
        last_on: The day of that count.
        want: How many plants are wanted of its lot; None where nobody said.
        then: The station that its lot goes to next; empty where none is planned.
    """

    id: str
    name: str
    last: int | None = None
    standing: int = 0
    parted: bool = False
    closes: bool = False
    last_on: date | None = None
    want: int | None = None
    then: str = ""


class Doing(Struct, frozen=True):
    """The act that a check stands for, with what the check knows of its fields.

    Attributes:
        act: Its name, as `acts.read.NAMED` knows it.
        of: Texts by field; one for each of those that it is done to.
        given: Values that were computed, by the field whose text would round them.
    """

    act: str
    of: tuple[Texts, ...]
    given: Mapping[str, Values] = {}


class Choice(Struct, frozen=True):
    """One of the counts that a check asks about.

    Attributes:
        text: What is typed for it.
        by: Its writer, whose name may be typed instead.
        strikes: The id of the entry that is taken back where this one stands.
    """

    text: str
    by: str
    strikes: str


class Together(Struct, frozen=True):
    """What several checks at one station are done in as one, however short the round is.

    Attributes:
        alike: What they have in common: those alike are one line.
        says: What that line says; `{}` where the names stand.
        hours: Of a sash, which is open for all under it alike, the hours that one of them asks for;
            the line goes by the fewest.
    """

    alike: str
    says: str
    hours: float | None = None


class CountedToday(Struct, frozen=True):
    """A sowing's last count, of a check that is done: a new one takes its place.

    Attributes:
        sowing: The sowing.
        says: What was counted: `19`, `5 new`.
        entry: The id of the count.
        at: When it was made.
    """

    sowing: Asked
    says: str
    entry: str
    at: datetime


class Check(Struct, frozen=True, kw_only=True):
    """One thing to do or to look at today.

    Attributes:
        key: The need and its occurrence, never the day: an overdue check is the same check.
        what: Which act.
        says: What to do, in a few words.
        why: Its reasons, the first the shortest.
        subject: Sowing (by id), tray, station or lot that it is about.
        station: Where that stands, by name.
        tray: In which tray.
        sowings: Those it is about, in order of their names.
        due: The day it fell or falls due.
        tick: What a tick alone does; None where something has to be typed.
        typed: What that does which is typed; None where nothing is.
        instead: What a word does that is typed in place of that.
        choices: Which of two counts stands, where that is asked.
        together: What it is one line with, of several at one station.
        put_off: How often it was put off so far.
        done_by: Who did it today; None while it is to be done.
        done_at: When.
        parts: The checks that this line stands for, where it gathers several.
        counted: Of a count that is done, each sowing with what was counted.
    """

    key: str
    what: What
    says: str
    why: tuple[Why, ...]
    subject: Subject
    station: str | None = None
    tray: str | None = None
    sowings: tuple[Asked, ...] = ()
    due: date
    tick: Doing | None = None
    typed: Doing | None = None
    instead: Mapping[str, Doing] = {}
    choices: tuple[Choice, ...] = ()
    together: Together | None = None
    put_off: int = 0
    done_by: str | None = None
    done_at: datetime | None = None
    parts: tuple["Check", ...] = ()
    counted: tuple[CountedToday, ...] = ()

    @property
    def done(self) -> bool:
        """Whether it was done today."""
        return self.done_by is not None

    @property
    def has_to_be_typed(self) -> bool:
        """Whether a tick alone says too little."""
        return not self.parts and self.tick is None and bool(self.typed or self.choices)

    @property
    def counts(self) -> bool:
        """Whether a count is typed."""
        return self.typed is not None and self.typed.act == "count"

    @property
    def last_on(self) -> date | None:
        """The day of the last count of the sowings that are to be counted; None before any."""
        days = (one.last_on for one in self.sowings if one.last_on is not None)
        return min(days, default=None) if self.counts else None

    def days_past(self, today: date) -> int:
        """Days past its day; 0 of a count, which is made when somebody is there."""
        return 0 if self.done or self.what in _NEVER_LATE else max((today - self.due).days, 0)


_NEVER_LATE: Final = frozenset({"look", "count", "close"})


_ROUGHLY_FROM_DAYS: Final = 3.0


class Alert(Struct, frozen=True, kw_only=True):
    """Something that goes wrong.

    Attributes:
        key: The event; a `checked` with it says that it was seen.
        kind: Which.
        level: How soon to act.
        subject: Sowing (by id), tray or station.
        station: Where, by name.
        tray: In which tray.
        sowings: Names of the sowings that it touches.
        brief: What is wrong and what helps, for one line of a narrow screen.
        text: What is wrong, with its figures.
        since: Since when.
        costs_days: What it costs those sowings, the worst of them, in days; None where no days.
        costs: The same in words, where these say more.
        remedies: What to do, each by itself.
        basis: What the figures rest on.
        sources: Keys of the crop table's sources.
    """

    key: str
    kind: AlertKind
    level: Level
    subject: Subject
    station: str | None = None
    tray: str | None = None
    sowings: tuple[str, ...] = ()
    brief: str
    text: str
    since: datetime
    costs_days: float | None = None
    costs: str = ""
    remedies: tuple[str, ...]
    basis: str
    sources: tuple[str, ...] = ()

    @property
    def cost_in_words(self) -> str:
        """`costs 0.4 days`, `none of these 36 days counted`; empty where it costs none."""
        if self.costs or not self.costs_days:
            return self.costs
        # A tenth of a day is more than anyone knows of weeks.
        days = self.costs_days if self.costs_days < _ROUGHLY_FROM_DAYS else round(self.costs_days)
        return f"costs {days:g} day{'' if days == 1 else 's'}"


class Round(Struct, frozen=True, kw_only=True):
    """What a walk past the stations meets on one day.

    Attributes:
        day: Which.
        days_to_frost: Days to the season's last frost date; below nought once it has passed.
        alerts: The most urgent first.
        checks: In walking order.
        later: Those that were put off beyond that day.
    """

    day: date
    days_to_frost: int | None = None
    alerts: tuple[Alert, ...] = ()
    checks: tuple[Check, ...] = ()
    later: tuple[Check, ...] = ()


_FEW = 3


def names(found: Sequence[str], of: str = "sowing") -> str:
    """Up to three names, else how many: `leek, parsley`, `6 sowings`."""
    return ", ".join(found) if len(found) <= _FEW else plural(len(found), of)


def first_few(found: Sequence[str]) -> str:
    """Up to three names, and how many more."""
    more = len(found) - _FEW
    return ", ".join(found) if more <= 0 else f"{', '.join(found[:_FEW])} and {more} more"


def moment(at: datetime, today: date) -> str:
    """`04:50` today, `yesterday 18:00`, else `Thu 9 Apr 22:00`."""
    clock = f"{at:%H:%M}"
    days = (today - at.date()).days
    if days == 0:
        return clock
    return f"yesterday {clock}" if days == 1 else f"{at:%a} {short_day(at.date())} {clock}"


def degrees(c: float, units: Units) -> str:
    """A temperature with one decimal at most, in the season's units."""
    return show_temperature(c, units)


def degrees_apart(c: float, units: Units) -> str:
    """A difference of temperatures, in the season's units."""
    return f"{c * 9 / 5:.1f} °F" if units == "us" else f"{c:.1f} °C"


def alone(called: str, beside: Sequence[str]) -> Iterator[str]:
    """That seed which is sent elsewhere goes without those that are up in its tray."""
    if beside:
        are, want = ("is", "wants") if len(beside) == 1 else ("are", "want")
        yield f"carry {called} alone: {first_few(beside)} in its tray {are} up and {want} the light"
