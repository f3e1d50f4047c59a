"""Closing a count: asked when none came for a week past its last day, or when nothing is left."""

from collections.abc import Iterator
from datetime import date, timedelta
from typing import Final

from seedstart.daily.carriers import Carrier
from seedstart.daily.check import PRACTICE, Check, Why
from seedstart.daily.scene import Scene
from seedstart.days import short_day
from seedstart.season.entries import BLANK, Counted
from seedstart.text import plural
from seedstart.tracking.standing import Standing

# A count is closed when looks have found none new for so long; twice as long where nobody knows
# its last day. Whoever says that it stays open is asked again after as long. Common practice, no
# source.
_NONE_NEW_DAYS: Final = 7


def close(carrier: Carrier, scene: Scene) -> Iterator[Check]:
    """Whether a count is to be closed: without that its lot gets no percentage."""
    for one in carrier.sowings:
        if one.alive and one.from_seed and one.closed is None:
            check = _close(one, carrier, scene)
            if check is not None and check.due <= scene.today:
                yield check


def _close(one: Standing, carrier: Carrier, scene: Scene) -> Check | None:
    since = quiet_since(one, scene)
    if scene.is_empty(one):
        due = scene.to_come(one).looked_on
        why = Why("nothing is left in it, and none more is to be expected")
    elif since is not None:
        weeks_let_by = -(-(one.counted[-1].at.date() - since).days // _NONE_NEW_DAYS)
        due = since + timedelta(days=1 + _NONE_NEW_DAYS * weeks_let_by)
        why = _none_new(one, scene)
    else:
        return None
    asked = scene.asked(one)
    of = f" of {one.seeds}" if one.seeds is not None else ""
    is_test = one.purpose == "test"
    return Check(
        key=f"close {asked.name} {len(one.counted) + 1}",
        what="close",
        says=f"close the {'test' if is_test else 'count'} of {asked.name} at {one.emerged}{of}?",
        why=(why, Why("without a last count it gets no percentage")),
        subject=("sowing", one.id),
        station=carrier.station,
        tray=carrier.tray,
        sowings=(asked,),
        due=due,
        asks="count",
        # How the seeds of a test ended only a person can say.
        writes=() if is_test else (_last_count(one, asked.name),),
    )


def _last_count(one: Standing, name: str) -> Counted:
    return Counted(**BLANK, sowing=name, standing=one.standing, final=True)


def _none_new(one: Standing, scene: Scene) -> Why:
    days = (one.counted[-1].at.date() - _last_new(one)).days
    last_day = scene.to_come(one).last_day
    past = f", and past its last day, {short_day(last_day)}" if last_day else ""
    return Why(f"none new for {plural(days, 'day')}{past}", PRACTICE)


def quiet_since(one: Standing, scene: Scene) -> date | None:
    """The day of the look since which a count may be closed; None while it goes on.

    By what looks found and not by today: where nobody looked nobody knows that none came.
    """
    if not one.emerged or not one.counted:
        return None
    looks, new = [entry.at.date() for entry in one.counted], _last_new(one)
    if (looks[-1] - new).days < _NONE_NEW_DAYS or scene.to_come(one).more:
        return None
    last_day = scene.to_come(one).last_day
    first = new + timedelta(days=_NONE_NEW_DAYS * (1 if last_day else 2))
    return next(
        (day for day in looks if day >= first and (last_day is None or day > last_day)), None
    )


def _last_new(one: Standing) -> date:
    """The day on which the last that came was first seen."""
    by = zip(one.counted, one.emerged_by, strict=True)
    counted = next((entry.at for entry, emerged in by if emerged == one.emerged), None)
    # More were taken than had been counted.
    return (counted or (*one.counted[-1:], *one.acts[-1:])[-1].at).date()
