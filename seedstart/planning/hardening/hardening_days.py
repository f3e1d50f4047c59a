"""The days of hardening off as they were written down, and what each is worth."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date, timedelta
from math import ceil
from types import MappingProxyType
from typing import Final, Literal, NamedTuple

from msgspec import Struct, structs

from seedstart.crop_table.crop import Crop, Figure
from seedstart.days import is_away
from seedstart.growing.hardening_rules import (
    USUAL_DAYS,
    Counts,
    Limit,
    Limits,
    Step,
    days_of_hardening,
    limits_of,
)
from seedstart.planning.calendar.crop_times import growing
from seedstart.tracking.records import KeptIn, Out

# The steps are rounded to half an hour; a day that falls so far short of its step counts whole.
_ROUNDED_HOURS = 0.5


class DayOut(Struct, frozen=True):
    """One day of hardening off.

    Attributes:
        day: Which.
        counts: Whole (`out`), half, not (`held`); `missed` where nobody wrote anything.
        hours: Hours out.
        night: Out for the night too.
        why: Why it was held, or counts half for its weather.
    """

    day: date
    counts: Counts | Literal["missed"]
    hours: float = 0.0
    night: bool = False
    why: str = ""

    @property
    def worth(self) -> float:
        """How much of a step it makes: 1, 0.5 or 0."""
        return {"out": 1.0, "half": 0.5}.get(self.counts, 0.0)


class Sheltered(NamedTuple):
    """What besides its entries says what a day was worth, and what is asked on which.

    Attributes:
        outdoors: Stays out of doors since the plants were up: first day, and the day they left.
        framed: Stays in a frame or tunnel, likewise.
        away: First and last days of absences.
        nights_from: The first night that what a frost kills may spend out; None for other plants.
        nights_harden: Whether a step that asks for the night is done by half without it.
        poor: Days whose weather lets hours out count half, and why.
    """

    outdoors: tuple[tuple[date, date | None], ...] = ()
    framed: tuple[tuple[date, date | None], ...] = ()
    away: tuple[tuple[date, date], ...] = ()
    nights_from: date | None = None
    nights_harden: bool = True
    poor: Mapping[date, str] = MappingProxyType({})

    def is_attended(self, day: date) -> bool:
        """Whether somebody is there: carrying plants out is care, and not kept to work days."""
        return not is_away(day, self.away)

    def asked(self, step: Step, day: date) -> Step:
        """A step as it is asked on a day: no nights out before the last frost for tender plants."""
        if step.night and self.nights_from is not None and day < self.nights_from:
            return structs.replace(step, night=False)
        return step

    def of_itself(self, day: date) -> "DayOut | None":
        """What a day without an entry was where the plants stood: out, or half so in a frame."""
        if any(_in(stay, day) for stay in self.outdoors):
            return DayOut(day, "out", why="it stands outdoors")
        if any(_in(stay, day) for stay in self.framed):
            return DayOut(day, "half", why="it stands in a frame")
        return None


def _in(stay: tuple[date, date | None], day: date) -> bool:
    return stay[0] <= day and (stay[1] is None or day < stay[1])


NOTHING_AROUND: Final = Sheltered()


class Course(Struct, frozen=True):
    """How far the steps have come.

    Attributes:
        plan: The steps.
        days: Every day since it first was out, or was held.
        number: Today's step, from 1.
        written: Today, once it is written down.
        done: Days that counted, halves too.
    """

    plan: tuple[Step, ...]
    days: tuple[DayOut, ...]
    number: int
    written: DayOut | None
    done: float

    @property
    def begun(self) -> date | None:
        """The first day out of doors; None before."""
        return next((day.day for day in self.days if day.worth), None)

    @property
    def step(self) -> Step:
        """Today's step."""
        return self.plan[self.number - 1]

    @property
    def hardened_from(self) -> date | None:
        """The first day with every step done behind it; None before."""
        done = 0.0
        for one in self.days:
            done += one.worth
            if done >= len(self.plan):
                return one.day + timedelta(days=1)
        return None

    @property
    def days_left(self) -> int:
        """Days still to be done, today among them unless it is written down."""
        return ceil(max(len(self.plan) - self.done, 0.0))


def course(
    out: Mapping[date, Out],
    held: Mapping[date, KeptIn],
    plan: tuple[Step, ...],
    today: date,
    around: Sheltered = NOTHING_AROUND,
) -> Course:
    """How far the steps have come by today.

    Args:
        out: What was said of the hours of a day.
        held: On which days it was kept in.
        plan: The steps.
        today: The day it is.
        around: What else says what a day was worth.
    """
    days = tuple(_days_out(out, held, plan, today, around))
    said = (today in out) or (today in held)
    written = days[-1] if said and days and days[-1].day == today else None
    done = sum(day.worth for day in days)
    return Course(
        plan=plan,
        days=days,
        number=step_number(done - (written.worth if written else 0.0), plan),
        written=written,
        done=done,
    )


class DayAhead(Struct, frozen=True):
    """A day of hardening off that is still to come.

    Attributes:
        day: Which.
        number: The step that it is, from 1.
        step: What the step asks for.
        counts: Whole (`out`), half, or not (`held`), as far as a forecast says.
        why: Why it does not count whole.
    """

    day: date
    number: int
    step: Step
    counts: Counts | Literal["missed"] = "out"
    why: str = ""


def days_to_come(course: Course, lost: Sequence[DayOut], today: date) -> tuple[DayAhead, ...]:
    """Every day until the steps are done, today among them unless it is written down.

    Args:
        course: How far they have come.
        lost: Days that a forecast holds or halves.
        today: The day it is.
    """
    by_day, done = {one.day: one for one in lost}, course.done
    day = today + timedelta(days=1) if course.written else today
    found: list[DayAhead] = []
    while done < len(course.plan):
        number = step_number(done, course.plan)
        seen = by_day.get(day) or DayOut(day, "out")
        found.append(DayAhead(day, number, course.plan[number - 1], seen.counts, seen.why))
        done += seen.worth
        day += timedelta(days=1)
    return tuple(found)


def limits_for(crop: Crop) -> Limits:
    """What a crop bears: its own nights where they are printed, else those of its class."""
    return limits_of(
        crop.hardiness, _as_limit(crop.night_unhardened_c), _as_limit(crop.night_hardened_c)
    )


def _as_limit(figure: Figure | None) -> Limit | None:
    return Limit(figure.best, figure.basis, figure.sources) if figure else None


def length_days(crop: Crop) -> int:
    """How many days a crop is hardened off, as the calendar counts them."""
    grows = growing(crop)
    return USUAL_DAYS if grows is None else round(days_of_hardening(grows.growing_on)[1])


def _days_out(
    out: Mapping[date, Out],
    held: Mapping[date, KeptIn],
    plan: Sequence[Step],
    today: date,
    around: Sheltered,
) -> Iterator[DayOut]:
    """Every day from the first out or held to today; today only once it is written down."""
    first = [*(day for day, entry in out.items() if entry.hours), *held]
    first += [since for since, _ in (*around.outdoors, *around.framed)]
    day = min((day for day in first if day <= today), default=None)
    done = 0.0
    while day is not None and day <= today:
        step = around.asked(plan[step_number(done, plan) - 1], day)
        one = _day(day, out.get(day), held.get(day), step, around)
        own = around.of_itself(day) if one.counts == "missed" and day < today else None
        one = own or one
        missed = one.counts == "missed"
        # A finished plant may stand as it likes, today is not over, and who is not there misses
        # nothing.
        left = done < len(plan) and day < today
        if (left and not (missed and not around.is_attended(day))) or not (missed or own):
            yield one
        done += one.worth
        day += timedelta(days=1)


def step_number(done: float, plan: Sequence[Step]) -> int:
    """Today's step, from 1, after so many days that counted: half a step is done again."""
    return min(int(done) + 1, len(plan))


def _day(day: date, out: Out | None, held: KeptIn | None, step: Step, around: Sheltered) -> DayOut:
    if held is not None and (out is None or held.at > out.at):
        return DayOut(day, "held", why=held.why)
    if out is None:
        return DayOut(day, "missed")
    if not out.hours:
        return DayOut(day, "held", why="0 h out")
    by_night = step.night and around.nights_harden
    whole = out.night if by_night else out.hours >= step.hours - _ROUNDED_HOURS
    if whole and day in around.poor:
        return DayOut(day, "half", out.hours, out.night, around.poor[day])
    return DayOut(day, "out" if whole else "half", out.hours, out.night)
