"""Closing a count: asked when none came for a week past its last day, or when nothing is left."""

from collections.abc import Iterator
from datetime import date, timedelta

from seedstart.daily.carriers import Carrier
from seedstart.daily.check import PRACTICE, Check, Doing, Why
from seedstart.daily.scene import Scene
from seedstart.planning.quiet import NONE_NEW_DAYS, last_new
from seedstart.planning.seed_tests import planned_of
from seedstart.text import plural
from seedstart.tracking.standing import Standing


def close(carrier: Carrier, scene: Scene) -> Iterator[Check]:
    """Whether a count is to be closed: without that its lot gets no percentage."""
    for one in carrier.sowings:
        if one.alive and one.from_seed and one.closed is None:
            check = _close(one, carrier, scene)
            if check is not None and check.due <= scene.today:
                yield check


def _close(one: Standing, carrier: Carrier, scene: Scene) -> Check | None:
    planned = _last_count_of_test(one, scene)
    if planned is not None:
        return _close_test(one, planned, carrier, scene)
    if planned_of(one, scene.season) is not None:
        return None  # till its last count nothing of it is closed
    since, again = scene.quiet_since(one), scene.replaced_by(one)
    if again is not None:
        due = again.at.date()
        short = f"sown again as {scene.asked(again).name}"
        why = Why(f"{short}: no more is waited for in it")
    elif scene.is_empty(one):
        seen = (entry.at for entry in (*one.counted[-1:], *one.acts[-1:]))
        due = max(seen, default=one.at).date()
        short = "nothing is left in it"
        why = Why(f"{short}, and none more is to be expected")
    elif since is not None:
        weeks_let_by = -(-(one.counted[-1].at.date() - since).days // NONE_NEW_DAYS)
        due = since + timedelta(days=1 + NONE_NEW_DAYS * weeks_let_by)
        short = f"none new for {plural((one.counted[-1].at.date() - last_new(one)).days, 'day')}"
        why = Why(f"{short}, and no more is to be expected", PRACTICE)
    else:
        return None
    asked = scene.asked(one)
    if again is not None and not one.emerged:
        return _finish(one, short, why, due, carrier, scene)
    of = f" of {one.seeds}" if one.seeds is not None else ""
    what = "test" if one.purpose == "test" else "count"
    missing = scene.prospects.short(one.id)
    wanted = f", {missing} short of the plants wanted" if missing and again is None else ""
    return Check(
        key=f"close {asked.name} {len(one.counted) + 1}",
        what="close",
        says=f"{asked.name}: {short}; close the {what} at {one.emerged}{of}{wanted}?",
        why=(why, Why("without a last count it gets no percentage")),
        subject=("sowing", one.id),
        station=carrier.station,
        tray=carrier.tray,
        sowings=(asked,),
        due=due,
        # How the seeds of a test ended only a person can say.
        tick=None
        if what == "test"
        else Doing(
            "count",
            ({"sowing": asked.name},),
            {"standing": {"standing": one.standing}, "final": {"final": True}},
        ),
        typed=Doing("count", ({"sowing": asked.name},)),
    )


def _last_count_of_test(one: Standing, scene: Scene) -> date | None:
    """The day of the last count of a planned test, once it has come."""
    plan, zero = planned_of(one, scene.season), scene.records.day_zero(one.id)
    if plan is None or zero is None:
        return None
    day = zero.date() + timedelta(days=plan.last_count)
    return day if day <= scene.today else None


def _close_test(one: Standing, due: date, carrier: Carrier, scene: Scene) -> Check:
    """The last count of a planned test: what lies there is normal, abnormal, hard, fresh, dead."""
    asked, left = scene.asked(one), (one.seeds or 0) - one.left.get("counted", 0)
    return Check(
        key=f"close {asked.name} {len(one.counted) + 1}",
        what="close",
        says=f"{asked.name}: last count; say how the {plural(left, 'seed')} left ended",
        why=(
            Why(f"day {(scene.today - due).days + _plan_day(one, scene)}", "your plan"),
            Why(
                "normal, abnormal, hard, fresh and dead add up to what lies there, e.g. 5 new 2 "
                "abnormal 3 hard 4 fresh 22 dead"
            ),
        ),
        subject=("sowing", one.id),
        station=carrier.station,
        tray=carrier.tray,
        sowings=(asked,),
        due=due,
        tick=None,
        typed=Doing("count", ({"sowing": asked.name},)),
    )


def _plan_day(one: Standing, scene: Scene) -> int:
    plan = planned_of(one, scene.season)
    return plan.last_count if plan else 0


def _finish(
    one: Standing, short: str, why: Why, due: date, carrier: Carrier, scene: Scene
) -> Check:
    """Whether a sowing of which none came, and that was sown again, is to be finished."""
    asked = scene.asked(one)
    return Check(
        key=f"finish {asked.name}",
        what="close",
        says=f"{asked.name}: {short}; finish it?",
        why=(why, Why("till then its tray is cared for and takes room")),
        subject=("sowing", one.id),
        station=carrier.station,
        tray=carrier.tray,
        sowings=(asked,),
        due=due,
        tick=Doing("finish", ({"sowing": asked.name},)),
        typed=Doing("count", ({"sowing": asked.name},)),
    )
