"""What to do about a sowing: one rule, from its prospect; no face has another."""

from collections.abc import Iterator
from datetime import date, timedelta
from functools import cached_property
from typing import Final

from msgspec import Struct, structs

from seedstart.crop_table.crop import Crop
from seedstart.days import short_day
from seedstart.planning.calendar.crop_times import at_station
from seedstart.planning.calendar.scheduler import plan
from seedstart.planning.calendar.sowing_request import set_out_window
from seedstart.planning.prospects.own_record import last_loss
from seedstart.planning.prospects.prospect import (
    SOW_AGAIN_UNDER,
    Advice,
    Known,
    Prospect,
    percent,
    quiet_since,
    seen,
    usual_end,
)
from seedstart.planning.prospects.remedies import ask_again, better_places, last_day_to_sow
from seedstart.planning.prospects.to_come import replaced_by
from seedstart.season.plan.lot import Lot
from seedstart.text import plural
from seedstart.tracking.records import Records
from seedstart.tracking.standing import Standing
from seedstart.units import show_temperature, steady

# Under even there is something to find out, and in the last week in which it helps.
DIG_UNDER: Final = 0.5
# In that week, where nothing is left to be found out, one sows again under this:
# docs/decisions/009-when-to-sow-again.md.
LAST_CALL_UNDER: Final = 0.1
LAST_DAYS: Final = timedelta(days=7)
# A lot that is dead with such a chance, past its last usual day, is dug up too.
_MAY_BE_DEAD: Final = 0.25
# Where nobody said how many are wanted, that one comes at all is what is hoped for.
_SURELY_DEAD: Final = 1 - SOW_AGAIN_UNDER
# What was dug up answers for so long. Common practice, no source.
_WEEK: Final = timedelta(days=7)
# Where more than this share of the plants wanted is up nobody digs among the seedlings: what is
# short is sown again, or done without. Common practice, no source.
_DIG_AMONG: Final = 0.5
# From so many days without a look on one is asked for, where it would likely find something.
_LONG_UNSEEN: Final = timedelta(days=3)
_LIKELY: Final = 0.5
# Below this an emergence that is slow for its place alone is not worth carrying a tray.
LATE_DAYS: Final = 3


class _Case(Struct, frozen=True, dict=True):
    """A sowing to be judged."""

    found: Prospect
    standing: Standing
    lot: Lot
    crop: Crop
    known: Known

    @property
    def today(self) -> date:
        return self.known.now.date()

    @property
    def usual_end(self) -> date | None:
        return usual_end(self.found, self.crop)

    @cached_property
    def last_day_to_sow(self) -> date | None:
        return last_day_to_sow(self.lot, self.standing, self.known)

    @property
    def looked_on(self) -> date | None:
        return self.found.looked_at.date() if self.found.looked_at else None

    @property
    def is_unseen(self) -> bool:
        """Whether nobody has looked for days."""
        since = self.looked_on or (self.found.zero.date() if self.found.zero else self.today)
        return self.today - since >= _LONG_UNSEEN

    @property
    def was_dug(self) -> bool:
        """Whether what was dug up still answers for it."""
        dug = self.standing.dug
        return bool(dug) and self.known.now - dug[-1].at < _WEEK

    @property
    def few_came(self) -> bool:
        """Whether so few are up that one may dig among them."""
        return self.found.wanted is None or self.found.up < _DIG_AMONG * self.found.wanted


def advice_of(
    found: Prospect, standing: Standing, lot: Lot, crop: Crop, known: Known
) -> Advice | None:
    """What to do about a sowing.

    Args:
        found: Its prospect, but for the advice.
        standing: It.
        lot: Its lot.
        crop: Its crop.
        known: The season, and what is known by now.

    Returns:
        None where nothing is waited for, closed, finished, replaced by another; but of what was
        lost since its count was closed.
    """
    case = _Case(found, standing, lot, crop, known)
    if not found.is_open:
        return _lost_since(case)
    for rule in (_enough, _nothing_comes, _too_few, _close, _look, _dig, _slow_place):
        advice = rule(case)
        if advice is not None:
            return advice
    last = case.last_day_to_sow if _is_unlikely(case, DIG_UNDER) else None
    last = last if last is not None and case.today <= last else None
    return Advice("wait", " ".join(_why_wait(case, last)), until=last)


def lost_since_closed(standing: Standing, records: Records) -> bool:
    """Whether plants of a sowing were lost after its count was closed, and no other replaced it."""
    closed, lost = standing.closed, last_loss(standing, records)
    if closed is None or lost is None or lost <= closed.at:
        return False
    return standing.emerged > 0 and replaced_by(standing, records) is None


def _lost_since(case: _Case) -> Advice | None:
    """Too few are left of a closed sowing, and to sow again still helps."""
    found, closed, last = case.found, case.standing.closed, case.last_day_to_sow
    if closed is None or last is None or case.today > last or not found.short:
        return None
    if not lost_since_closed(case.standing, case.known.records):
        return None
    left = found.up - found.lost
    are = "is" if left == 1 else "are"
    text = (
        f"{left} of those that came up {are} left, and {found.wanted} are wanted: some were lost "
        f"after its count was closed on {short_day(closed.at.date())}."
    )
    return Advice("sow again", f"{text} {_in_time(last)}", until=last)


def _nothing_comes(case: _Case) -> Advice | None:
    """At that warmth nothing comes up at all, or nothing is dated."""
    if case.found.usual is not None:
        return None
    progress = case.found.progress
    if progress is None:
        return Advice("wait", case.found.unknown)
    cold = progress.goes_on_c < case.crop.fastest_c.best
    return _elsewhere(case, cold=cold, why=case.found.unknown)


def _elsewhere(case: _Case, *, cold: bool, why: str) -> Advice:
    where = _better_place(case)
    units = case.known.season.units
    best = show_temperature(case.crop.fastest_c.best, units)
    to = f"the {where}" if where else f"a {'warmer' if cold else 'cooler'} place"
    text = f"{why} Move it to {to}: it is quickest at {best}."
    return Advice("warmer" if cold else "cooler", text, where=where)


def _better_place(case: _Case) -> str | None:
    """The station where it is up days sooner than here."""
    progress = case.found.progress
    if progress is None:
        return None
    here = case.known.records.station_of(case.standing.id)
    best = next(iter(better_places(case.crop, here, case.known)), None)
    if best is None:
        return None
    there = at_station(case.crop, best.medium).expected
    stays = at_station(case.crop, steady(round(progress.goes_on_c, 1))).expected
    if stays is not None and there is not None and stays.best - there.best < LATE_DAYS:
        return None
    return best.name


def has_enough(up: int, lost: int, wanted: int | None) -> bool:
    """Whether of those that came as many are left as are wanted."""
    return wanted is not None and up - lost >= wanted


def _enough(case: _Case) -> Advice | None:
    found = case.found
    if not has_enough(found.up, found.lost, found.wanted):
        return None
    enough = enough_of(found.up - found.lost, found.wanted or 0)
    if _is_quiet(case):
        return Advice("close", f"{enough.text} {_quiet(case)}")
    return enough


def enough_of(left: int, wanted: int) -> Advice:
    """That as many are left of those that came as are wanted."""
    are = "is" if left == 1 else "are"
    return Advice("enough", f"{left} of those that came up {are} left, and {wanted} are wanted.")


def _too_few(case: _Case) -> Advice | None:
    """Too few will come: sow again, or what still makes sense."""
    found = case.found
    # Of so few seeds that the plants wanted never were to be had only the last one tells.
    hopeless = found.chance is None or (found.chance_at_sowing or 0.0) < SOW_AGAIN_UNDER
    if found.wanted is None or hopeless:
        dead = found.dead or 0.0
        if found.up or case.standing.purpose == "test" or dead < _SURELY_DEAD:
            return None
        return _again(case, f"{seen(found)}. {_none_comes(dead)}")
    if not (_is_unlikely(case, SOW_AGAIN_UNDER) or _is_last_call(case)):
        return None
    return _again(case, f"{seen(found)}. {_chance(found)}")


def _is_unlikely(case: _Case, chance: float) -> bool:
    """Whether the plants wanted are less likely than that, and by half than at sowing."""
    found = case.found
    at_sowing = found.chance_at_sowing or 0.0
    return found.chance is not None and found.chance < min(chance, at_sowing / 2)


def _is_last_call(case: _Case) -> bool:
    """Whether the last week to sow again has come, and nothing is left to be found out.

    A few seeds were dug up of late, or so many are up that one does not dig among them.
    """
    last = case.last_day_to_sow
    if last is None or not last - LAST_DAYS <= case.today <= last:
        return False
    known = case.was_dug or not case.few_came
    return known and not case.is_unseen and _is_unlikely(case, LAST_CALL_UNDER)


def _chance(found: Prospect) -> str:
    """How likely the plants wanted are, and how many of them are not there yet."""
    if found.chance is None:
        return ""
    chance = percent(found.chance)
    if found.short == found.wanted:
        return f"The chance that {found.wanted} come up is {chance}."
    if found.short == 1:
        return f"1 more is wanted; the chance that it comes up is {chance}."
    return f"{found.short} more are wanted; the chance that they come up is {chance}."


def _is_news(case: _Case) -> bool:
    """Whether it was the last look that took the hope: then there is something to find out first.

    So nobody is told to wait, and in the next moment that it is too late.
    """
    before = case.found.chance_before
    return not case.standing.dug and before is not None and before >= SOW_AGAIN_UNDER


def _again(case: _Case, short: str) -> Advice | None:
    last = case.last_day_to_sow
    if last is None:
        return Advice("sow again", short)
    if case.today > last and _is_news(case):
        return None
    if case.today <= last:
        return Advice("sow again", f"{short} {_in_time(last)}", until=last)
    return Advice("too late", f"{short} {' '.join(_what_is_left(case, last))}", until=last)


def _none_comes(dead: float) -> str:
    return f"The chance that none comes is {percent(dead)}."


def _in_time(last: date) -> str:
    return f"Sown again by {short_day(last)} it can still be set out in time."


def _what_is_left(case: _Case, last: date) -> Iterator[str]:
    """What still makes sense when the time to sow again is over."""
    ask = ask_again(case.lot, case.standing, case.known)
    yield f"The last day to sow again was {short_day(last)}."
    out = plan(structs.replace(ask, sow_on=case.today)).window("set_out")
    allowed = set_out_window(ask)
    if out is not None and allowed is not None:
        days = (out.best - allowed.latest).days
        past = f", {plural(days, 'day')} past its window" if days > 0 else ""
        yield f"Sown today it would be set out about {short_day(out.best)}{past}."
    if case.crop.raising in {"own pot", "clump", "sown in place"}:
        yield "Or sow it where it is to grow."


def _is_quiet(case: _Case) -> bool:
    """Whether nothing new came for a week of looking, and nothing more is to be expected."""
    return quiet_since(case.standing, case.found) is not None


def _quiet(case: _Case) -> str:
    if case.found.chance_of_more is None:
        return "Nothing new for two weeks."
    more = percent(case.found.chance_of_more)
    return f"Nothing new for a week; the chance that one more comes up is {more}."


def _close(case: _Case) -> Advice | None:
    """Nothing more comes; plants that are missing all the same are sown again while it helps."""
    if not _is_quiet(case):
        return None
    found, last = case.found, case.last_day_to_sow
    text = f"{seen(found)}. {_quiet(case)}"
    if not found.short:
        return Advice("close", text)
    text = f"{text} It is {found.short} short of the {found.wanted} plants wanted"
    if last is not None and case.today <= last:
        text = f"{text}: sow again by {short_day(last)}, or close."
        return Advice("close", text, until=last)
    return Advice("close", f"{text}.")


def _look(case: _Case) -> Advice | None:
    """Nobody has looked, and something is likely to be seen."""
    found, zero = case.found, case.found.zero
    if zero is None or found.coming is None:
        return None
    if not case.is_unseen:
        return None
    likely = found.coming.chance_of_one_by(found.way) >= _LIKELY
    if not (likely or _is_overdue(case) or _is_unlikely(case, DIG_UNDER)):
        return None
    on = f"since {short_day(found.looked_at.date())}" if found.looked_at else "since it was sown"
    text, last = f"Not looked at {on}.", case.last_day_to_sow
    if not found.looked_at or not _is_unlikely(case, DIG_UNDER):
        return Advice("look", text)
    text = f"{text} {seen(found)}. {_chance(found)}"
    if last is None or case.today > last:
        return Advice("look", text)
    return Advice("look", f"{text} {_in_time(last)}", until=last)


def _is_overdue(case: _Case) -> bool:
    return not case.found.up and case.usual_end is not None and case.today > case.usual_end


def _dig(case: _Case) -> Advice | None:
    """What lies there may be sound or rotten: to be found out while it helps."""
    found, end = case.found, case.usual_end
    if found.coming is None or end is None or case.standing.purpose == "test":
        return None
    last = case.last_day_to_sow
    gone = last is not None and case.today > last and _is_news(case)
    if case.was_dug or not (case.few_came or gone):
        return None
    seldom = _is_unlikely(case, DIG_UNDER)
    overdue = case.looked_on is not None and case.looked_on > end
    dead = not found.up and overdue and (found.dead or 0.0) >= _MAY_BE_DEAD
    ends = last is not None and last - LAST_DAYS <= case.today
    if not (dead or (seldom and (overdue or ends))):
        return None
    useful = last if last is not None and case.today <= last else None
    return Advice("dig", " ".join(_why_dig(case, end, useful)), until=useful)


def _why_dig(case: _Case, end: date, last: date | None) -> Iterator[str]:
    found = case.found
    due = f", and nine in ten were expected by {short_day(end)}" if case.today > end else ""
    yield f"{seen(found)}{due}."
    if found.chance is not None:
        yield _chance(found)
    elif found.dead is not None:
        yield _none_comes(found.dead)
    yield "Firm seeds may still come, soft ones have rotted."
    if last is not None:
        yield _in_time(last)


def _slow_place(case: _Case) -> Advice | None:
    """The medium is so cool or so hot that it comes up days later than planned."""
    progress = case.found.progress
    if case.found.up or progress is None or case.found.late_days < LATE_DAYS:
        return None
    cold = progress.goes_on_c < case.crop.fastest_c.best
    why = f"It comes up {case.found.late_days} days later than planned."
    return _elsewhere(case, cold=cold, why=why)


def _why_wait(case: _Case, last: date | None) -> Iterator[str]:
    found = case.found
    if found.looked_at is not None or found.up:
        yield f"{seen(found)}."
    if found.chance is not None and found.wanted is not None:
        was = f"; it was {percent(found.chance_at_sowing or 0.0)} when it was sown"
        yield f"{_chance(found).rstrip('.')}{was if found.counts else ''}."
    if last is not None:
        yield _in_time(last)
    if found.expected is not None and not found.up:
        yield f"Half of it is expected up by {short_day(found.expected.best)}."
