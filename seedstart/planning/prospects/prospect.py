"""How a sowing is doing, as a value: the one judgement that everything told of it is told from."""

from bisect import bisect_left
from datetime import date, datetime, timedelta
from typing import Final, Literal, NamedTuple

from msgspec import Struct

from seedstart.crop_table.crop import Crop
from seedstart.days import Window, short_day
from seedstart.growing.coming_up import ComingUp, Span
from seedstart.season.plan.season_file import Season
from seedstart.tracking.meanings import Did, meaning
from seedstart.tracking.own_factor import OwnFactor
from seedstart.tracking.records import Records
from seedstart.tracking.standing import Standing
from seedstart.tracking.warmth import Progress, Warmth

# Intervals hold 95 %, as those of germination do.
LEVEL: Final = 0.95
# Sow again once the plants wanted are so unlikely. Of those who are told so, one in ten at most
# would have had them after all, however good the seed: docs/decisions/009-when-to-sow-again.md.
SOW_AGAIN_UNDER: Final = 0.02
# Less than half a seedling is none.
ONE_MORE: Final = 0.5

AdviceWord = Literal[
    "enough", "wait", "warmer", "cooler", "look", "dig", "sow again", "too late", "close"
]


# The word of an advice, as it stands before its text.
ADVICE: Final[dict[AdviceWord, str]] = {
    "enough": "Enough", "wait": "Wait", "warmer": "Warmer", "cooler": "Cooler", "look": "Look",
    "dig": "Dig a few up", "sow again": "Sow again", "too late": "Too late to sow again",
    "close": "Close the count",
}  # fmt: skip


class Advice(Struct, frozen=True):
    """What to do about a sowing.

    Attributes:
        what: `enough` are up; `wait`; a `warmer` or `cooler` place; `look`, since nobody has;
            `dig` a few seeds up, then finish or wait; `sow again`; `too late` for that; `close`
            the count.
        text: Why, with its figures; a sentence or more.
        until: The last useful day to sow again, where that is among what may be done; None where
            there is none.
        where: The better station, of `warmer` and `cooler`.
    """

    what: AdviceWord
    text: str
    until: date | None = None
    where: str | None = None

    @property
    def in_words(self) -> str:
        """The word, and why: `Wait: none of 24 up on 12 Mar.`."""
        return f"{ADVICE[self.what]}: {self.text}"


class ToCome(Struct, frozen=True, kw_only=True):
    """What is to come of one sowing from seed, and by when: all that most checks ask.

    Attributes:
        sowing: Its id.
        lot: Its lot.
        zero: From when its days count; None while the seed is in the cold.
        up: Came up, all told.
        is_open: Whether more may come up and is waited for.
        all_up: Whether it is plain from its counts alone that no more come.
        expected: The first, half and nine in ten of it up: the table's day, then as the counts
            have it; None where no date can be given.
        usual: The same before anything was counted.
        half: When half of those that come are up, with its 95 % interval.
        nine_in_ten: When nine in ten of them are.
        total: How many come in all, with the 95 % interval; None where no number is expected.
        more: How many of them are still to come, in the mean.
        chance_of_more: That at least one more comes.
        progress: How far its warmth has brought it.
        coming: All of that as it is reckoned; with `course` a curve can be drawn.
        assumed: What the days rest on, a sentence.
        unknown: Why something is not known.
    """

    sowing: str
    lot: str | None = None
    zero: datetime | None = None
    up: int = 0
    is_open: bool = True
    all_up: bool = False
    expected: Window | None = None
    usual: Window | None = None
    half: Window | None = None
    nine_in_ten: Window | None = None
    total: Span | None = None
    more: float | None = None
    chance_of_more: float | None = None
    progress: Progress | None = None
    coming: ComingUp | None = None
    assumed: str = ""
    unknown: str = ""

    @property
    def more_is_expected(self) -> bool:
        """Whether one more at least is to be counted on."""
        if self.all_up:
            return False
        if self.more is not None:
            return self.is_open and self.more >= ONE_MORE
        return self.is_open and self.chance_of_more is not None and self.chance_of_more >= ONE_MORE

    @property
    def last_day(self) -> date | None:
        """By then nine in ten of those that come should be up; None where nobody can say."""
        window = self.nine_in_ten or self.usual
        if window is None:
            return None
        return window.best if self.nine_in_ten else window.latest


class Prospect(ToCome, frozen=True, kw_only=True):
    """How one sowing from seed is doing: what is to come of it, and what to do about that.

    Attributes:
        name: What it is called now.
        chilled: Whether day zero is when it came out of the cold, and not the sowing.
        days_now: Days since then.
        way: How far it has come by now on its crop's own curve, in parts of the curve's days.
        seeds: Seeds sown, where they were counted.
        lost: Of those, died or are missing, pricked out ones too; or turned out to be of another
            lot.
        wanted: Plants wanted of it; None where nobody said, and of tests.
        counts: Of each count, days since day zero and how many had emerged.
        looked_at: When it was last looked at; None before that.
        days_looked: On how many days it was looked at: what a half-time rests on.
        late_days: By how many days the warmth that was measured makes it later than planned.
        first: When one in ten of those that come is up, with its 95 % interval.
        chance: Of the plants wanted, 0 to 1.
        chance_at_sowing: The same before anything was seen.
        chance_before: The same before the last look, where it is so low now that one sows again.
        dead: That none ever comes.
        course: Of days since day zero, how far on its way it is by then; only where asked for.
        rests_on: What the number rests on, the end of a sentence.
        advice: What to do; None where it is closed, replaced, or in the cold.
    """

    name: str
    chilled: bool = False
    days_now: float = 0.0
    way: float = 0.0
    seeds: int | None = None
    lost: int = 0
    wanted: int | None = None
    counts: tuple[tuple[float, int], ...] = ()
    looked_at: datetime | None = None
    days_looked: int = 0
    late_days: int = 0
    first: Window | None = None
    chance: float | None = None
    chance_at_sowing: float | None = None
    chance_before: float | None = None
    dead: float | None = None
    course: tuple[tuple[float, float], ...] = ()
    rests_on: str = ""
    advice: Advice | None = None

    @property
    def short(self) -> int:
        """How many of the plants wanted are not there; 0 where nobody said how many."""
        return short_of(self.up, self.lost, self.wanted)

    def days_to(self, window: Window | None) -> int | None:
        """Days from day zero to the best day of a window."""
        if window is None or self.zero is None:
            return None
        return (window.best - self.zero.date()).days

    @property
    def counted_on(self) -> float:
        """The day of the last count since day zero; 0 before any."""
        return self.counts[-1][0] if self.counts else 0.0


def short_of(up: int, lost: int, wanted: int | None) -> int:
    """How many of the plants wanted are not there; 0 where nobody said how many."""
    return max((wanted or 0) - (up - lost), 0)


def usual_end(found: Prospect, crop: Crop) -> date | None:
    """The last day of the curve's nine in ten and of the days printed for trays: then overdue."""
    if found.usual is None or found.zero is None:
        return None
    printed = round(crop.days_in_trays.high) if crop.days_in_trays else 0
    return max(found.usual.latest, found.zero.date() + timedelta(days=printed))


def seen(found: Prospect, *, seeds: bool = True) -> str:
    """What was seen last, and when: `None of 24 up on 12 Mar`."""
    of = f" of {found.seeds}" if seeds and found.seeds else ""
    if found.looked_at is None:
        return f"{found.up}{of} up" if found.up else "Not looked at since it was sown"
    when = short_day(found.looked_at.date())
    if not found.up:
        return f"None{of} up on {when}"
    return f"{found.up}{of} {'was' if found.up == 1 else 'were'} up by {when}"


def percent(chance: float) -> str:
    """A chance, as it is said."""
    if chance < 0.01:
        return "under 1 %"
    return "over 99 %" if chance > 0.99 else f"{100 * chance:.0f} %"


class Known(NamedTuple):
    """What a prospect is derived from.

    Attributes:
        season: The plan.
        records: What happened.
        warmth: The season's.
        now: The moment.
        own: The grower's own factor; None where no sowing of theirs speaks.
    """

    season: Season
    records: Records
    warmth: Warmth
    now: datetime
    own: OwnFactor | None = None


# A count may be closed when looks have found none new for so long; twice as long where nobody knows
# its last day. Common practice, no source.
NONE_NEW_DAYS: Final = 7
_DAY: Final = timedelta(days=1)
# What was set out, given away or parted as it stood took its medium along, and the seed in that;
# what was pricked out left both.
_WITH_ITS_MEDIUM: Final[tuple[Did, ...]] = ("set_out", "given", "split")


def looks_quiet(standing: Standing) -> bool:
    """Whether looks have found none new for so long at least: a prospect costs more to ask."""
    if not standing.emerged or not standing.counted:
        return False
    return (standing.counted[-1].at.date() - last_new(standing)).days >= NONE_NEW_DAYS


def quiet_since(standing: Standing, to_come: ToCome) -> date | None:
    """The day of the look since which a count may be closed; None while it goes on.

    By what looks found and not by today: where nobody looked nobody knows that none came.

    Args:
        standing: A sowing from seed.
        to_come: What is to come of it.
    """
    if not looks_quiet(standing) or to_come.more_is_expected:
        return None
    if to_come.all_up:
        return quiet_when_all_up(standing)
    last_day = to_come.last_day
    first = last_new(standing) + timedelta(days=NONE_NEW_DAYS * (1 if last_day else 2))
    return _first_look(standing, first if last_day is None else max(first, last_day + _DAY))


def quiet_when_all_up(standing: Standing) -> date | None:
    """The same where it is plain that no more come: its last day is past."""
    return _first_look(standing, last_new(standing) + timedelta(days=NONE_NEW_DAYS))


def _first_look(standing: Standing, on: date) -> date | None:
    """The first day of looking from a day on."""
    looks = (entry.at.date() for entry in standing.counted)
    return next((day for day in looks if day >= on), None)


def took_its_medium(standing: Standing) -> bool:
    """Whether what left a sowing last took the seed along that lay there."""
    pricked = standing.last_act("pricked_out") is not None
    with_it = bool(standing.acts) and meaning(standing.acts[-1]).did in _WITH_ITS_MEDIUM
    return with_it and not pricked


def last_new(standing: Standing) -> date:
    """The day on which the last that came was first seen."""
    return last_new_at(standing).date()


def last_new_at(standing: Standing) -> datetime:
    """The look that first found the last that came."""
    first = bisect_left(standing.emerged_by, standing.emerged)  # it never falls
    if first < len(standing.counted):
        return standing.counted[first].at
    # More were taken than had been counted.
    return (*standing.counted[-1:], *standing.acts[-1:])[-1].at
