"""When the count of a sowing may be closed: none came for so long, or nothing is left of it."""

from bisect import bisect_left
from datetime import date, datetime, timedelta
from typing import Final

from seedstart.planning.prospect import ToCome
from seedstart.tracking.meanings import Did, meaning
from seedstart.tracking.standing import Standing

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
