"""Looking for the first seedlings, counting, lifting the cover."""

from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from typing import Final

from seedstart.crop_table.crop import Crop
from seedstart.daily.check import PRACTICE, Check, Choice, Doing, Why, names
from seedstart.daily.checks.care_checks import place_of
from seedstart.daily.checks.plant_checks import on_day, to_be_set_out
from seedstart.daily.round_context import Scene
from seedstart.daily.tray_groups import Carrier
from seedstart.days import short_day
from seedstart.planning.calendar.row import when_in_words, window_in_words
from seedstart.planning.calendar.season_rows import unknown_weather
from seedstart.planning.lots.seed_tests import next_count, planned_of
from seedstart.planning.prospects.prospect import NONE_NEW_DAYS, last_new
from seedstart.season.journal.entries import Covered
from seedstart.text import plural
from seedstart.tracking.entry_warnings import both_counts
from seedstart.tracking.standing import Standing

# What is due or overdue is counted every other day at least, and daily while new ones come. Where
# nobody knows when it comes, counts thin out while nothing changes: after one day, after two counts
# alike two days, then three, then a week. Common practice, no source.
_COUNT_DUE_DAYS: Final = (1, 2)
_COUNT_AGAIN_DAYS: Final = (1, 2, 3, 7)
# Of a crop that nobody knows any day may be the first, from the day after sowing on. Common
# practice, no source.
_OF_UNKNOWN_CROP_DAYS: Final = 1
# Out of doors, where nobody knows how warm it is, nothing is up within a week. Common practice, no
# source.
_IN_THE_WEATHER_DAYS: Final = 7
# A pile of reasons is read by nobody.
_MOST_WHYS: Final = 3


def look_or_count(carrier: Carrier, scene: Scene) -> Iterator[Check]:
    """What comes up: looked for from the first day that it may, then counted."""
    due = [
        (day, one) for one in carrier.alive for day in (count_due(one, scene),) if day is not None
    ]
    if not due:
        return
    sowings = [one for _, one in due]
    asked = tuple(scene.asked(one) for one in sowings)
    up = any(one.emerged for one in sowings)
    act = "count" if up else "look for seedlings of"
    of = tuple({"sowing": one.name} for one in asked)
    none_up = None if up else Doing("count", tuple({**one, "standing": "0"} for one in of))
    yield Check(
        key=count_key(carrier),
        what="count" if up else "look",
        says=f"{act} {names([one.name for one in asked])}",
        why=_whys(sowings, scene),
        subject=carrier.subject,
        station=carrier.station,
        tray=carrier.tray,
        sowings=asked,
        due=min(day for day, _ in due),
        tick=none_up,
        typed=Doing("count", of),
    )


def count_key(carrier: Carrier, before: int = 0) -> str:
    """The next count of what is in a tray, or one `before` it."""
    # What went today is left out: tomorrow it is not there, and the check must be the same one.
    counts = sum(len(one.counted) for one in carrier.alive)
    return f"count {carrier.in_key} {counts + 1 - before}"


def count_due(one: Standing, scene: Scene) -> date | None:
    """The day from which a sowing is to be looked at or counted; None while it need not be."""
    if not scene.may_come(one) or to_be_set_out(one, scene) is not None:
        return None
    if on_day(one.last_act("set_out"), scene.today):
        return None  # how many stood was said with it
    plan, zero = planned_of(one, scene.season), scene.records.day_zero(one.id)
    if plan is not None and zero is not None:  # a test is counted on the days of its plan
        day = next_count(one, plan, zero.date())
        last = zero.date() + timedelta(days=plan.last_count)
        return day if day is not None and day <= scene.today < last else None
    if not one.counted:
        day = _first_looked_for(one, scene)
        return day if day is not None and day <= scene.today else None
    last = one.counted[-1].at.date()
    if last >= scene.today or scene.quiet_since(one) is not None:
        return None  # counted today it is not asked how it is doing: once a day is enough
    day = last + timedelta(days=_count_again(one, scene))
    return day if day <= scene.today else None


def _first_looked_for(one: Standing, scene: Scene) -> date | None:
    """The first day on which it may be up; None where it is too cold or too hot for that."""
    expected = scene.expected(one)
    if expected is not None:
        return expected.earliest
    zero = scene.records.day_zero(one.id)
    if zero is not None and unknown_weather(scene.records.station_of(one.id), scene.season):
        return zero.date() + timedelta(days=_IN_THE_WEATHER_DAYS)
    if scene.crop(one) is not None or zero is None:
        return None
    return zero.date() + timedelta(days=_OF_UNKNOWN_CROP_DAYS)


def _count_again(one: Standing, scene: Scene) -> int:
    alike = _alike(one)
    if one.emerged and alike <= len(_COUNT_DUE_DAYS):
        return _COUNT_DUE_DAYS[alike - 1]  # whatever is expected
    expected = None if one.emerged else scene.expected(one)
    # By the last count and not by today: what is due stays due.
    if expected and one.counted[-1].at.date() < expected.latest:
        return 1
    days = _COUNT_DUE_DAYS if expected or scene.is_dated(one) else _COUNT_AGAIN_DAYS
    return days[min(alike, len(days)) - 1]


def _alike(one: Standing) -> int:
    """How many of the last days of counting brought nothing new, that of the newest included."""
    alike, day = 0, None
    for entry, emerged in zip(reversed(one.counted), reversed(one.emerged_by), strict=True):
        if entry.at.date() == day:
            continue  # the last count of a day stands for it
        if emerged != one.emerged_by[-1]:
            break
        alike, day = alike + 1, entry.at.date()
    return max(alike, 1)


def _whys(sowings: Sequence[Standing], scene: Scene) -> tuple[Why, ...]:
    found = [why for one in sowings[:_MOST_WHYS] for why in _why(one, scene)]
    if len(sowings) > _MOST_WHYS:
        found.append(Why(f"and {len(sowings) - _MOST_WHYS} more"))
    return tuple(found)


def _why(one: Standing, scene: Scene) -> Iterator[Why]:
    if one.emerged:
        of = f" of {one.seeds}" if one.seeds is not None else ""
        last = short_day(one.counted[-1].at.date()) if one.counted else "then"
        alike = _alike(one) if one.counted else 1
        since = f", the same for {plural(alike, 'count')}" if alike > 1 else ""
        yield Why(f"{one.name}: {one.emerged}{of} up on {last}{since}", "counted")
        yield from _what_to_do(one, scene)
        return
    expected, progress = scene.expected(one), scene.progress.get(one.id)
    crop = scene.crop(one)
    if crop is None:
        lot = f"the lot {one.lot}" if one.lot else "its lot"
        text = f"{one.name}: {lot} is not in lots.toml, so nobody knows when it comes up"
        yield Why(f"{text}: looked for from the day after sowing", PRACTICE)
    if expected is None:
        return
    step = scene.to_come_up(one)
    when = when_in_words(step) if step else window_in_words(expected)
    text = f"{one.name}: expected up {when}"
    basis = progress.assumed if progress and progress.expected else "the calendar's days"
    yield Why(text, basis, _sources(crop))
    yield from _what_to_do(one, scene)


def _what_to_do(one: Standing, scene: Scene) -> Iterator[Why]:
    """What the prospect of a sowing says is to be done; that one looks the line says itself."""
    advice = scene.prospects.advice(one.id)
    if advice is not None and advice.what != "look":
        yield Why(advice.in_words)


def _sources(crop: Crop | None) -> tuple[str, ...]:
    if crop is None:
        return ()
    if crop.emergence is not None:
        return crop.emergence.sources
    return crop.days_in_trays.sources if crop.days_in_trays else ()


def uncover(carrier: Carrier, scene: Scene) -> Iterator[Check]:
    """The cover comes off once half of what is under it is up."""
    covered = [one for one in carrier.alive if scene.records.is_covered(one.id)]
    seen = [one for one in covered if one.from_seed]
    up = [one for one in seen if one.emerged]
    since = to_be_lifted_since(covered, scene)
    if since is None:
        return
    waiting = [scene.asked(one).name for one in seen if scene.waits(one)]
    damp = f"; keep {names(waiting)} damp" if waiting else ""
    text = f"{len(up)} of {len(seen)} are up" if len(seen) > 1 else f"{up[0].name} is up"
    yield Check(
        key=f"uncover {carrier.in_key} {covered_on(covered, scene).isoformat()}",
        what="uncover",
        says=f"lift the cover{'' if carrier.tray else f' of {carrier.name}'}{damp}",
        why=(Why(f"{text}: under a cover seedlings stretch and damp off", PRACTICE),),
        subject=carrier.subject,
        station=carrier.station,
        tray=carrier.tray,
        sowings=tuple(scene.asked(one) for one in covered),
        due=since,
        tick=Doing("uncover", (place_of(carrier),)),
    )


def to_be_lifted_since(covered: Sequence[Standing], scene: Scene) -> date | None:
    """Since when the cover over these is to come off; None before half of them are up."""
    since = _half_up_since([one for one in covered if one.from_seed])
    return max(since, covered_on(covered, scene)) if since else None


def _half_up_since(sowings: Sequence[Standing]) -> date | None:
    ups = sorted(one.up_since.date() for one in sowings if one.emerged and one.up_since is not None)
    half = (len(sowings) + 1) // 2
    return ups[half - 1] if sowings and len(ups) >= half else None


def covered_on(covered: Sequence[Standing], scene: Scene) -> date:
    """The day these were covered: what tells one covering from the next."""
    covers = [scene.records.cover(one.id) for one in covered]
    return max(cover.at.date() for cover in covers if isinstance(cover, Covered))


def close(carrier: Carrier, scene: Scene) -> Iterator[Check]:
    """Whether a count is to be closed: without that its lot gets no percentage.

    Not on the day of a count: once a day is enough.
    """
    for one in carrier.sowings:
        counted = one.counted and one.counted[-1].at.date() == scene.today
        if one.alive and one.from_seed and one.closed is None and not counted:
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
        why = Why(f"{short}: nothing more is expected of it")
    elif scene.is_empty(one):
        seen = (entry.at for entry in (*one.counted[-1:], *one.acts[-1:]))
        due = max(seen, default=one.at).date()
        short = "nothing is left in it"
        why = Why(f"{short}, and no more should come up")
    elif since is not None:
        weeks_let_by = -(-(one.counted[-1].at.date() - since).days // NONE_NEW_DAYS)
        due = since + timedelta(days=1 + NONE_NEW_DAYS * weeks_let_by)
        short = f"none new for {plural((one.counted[-1].at.date() - last_new(one)).days, 'day')}"
        why = Why(f"{short}, and no more should come up", PRACTICE)
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
        why=(why, Why("it gets no percentage until its count is closed")),
        **carrier.line_of(one, asked),
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
        **carrier.line_of(one, asked),
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
        why=(why, Why("until then its tray is cared for and takes up room")),
        **carrier.line_of(one, asked),
        due=due,
        tick=Doing("finish", ({"sowing": asked.name},)),
        typed=Doing("count", ({"sowing": asked.name},)),
    )


def settle(carrier: Carrier, scene: Scene) -> Iterator[Check]:
    """Asked until one of the two is taken back; until then the later one is gone by."""
    for one in carrier.sowings:
        yield from _of_one(one, carrier, scene)


def _of_one(one: Standing, carrier: Carrier, scene: Scene) -> Iterator[Check]:
    for found in one.unsettled:
        asked = scene.asked(one)
        pair = (found.earlier, found.later), (found.later, found.earlier)
        yield Check(
            key=f"settle {asked.name} {found.later.at:%Y-%m-%d %H:%M}",
            what="settle",
            says=f"{asked.name}: {both_counts(found)}; which is right?",
            why=(Why("until one is taken back, the later one is used"),),
            **carrier.line_of(one, asked),
            due=found.later.at.date(),
            choices=tuple(
                Choice(str(stands.entry.standing), stands.by, other.entry.id)
                for stands, other in pair
            ),
        )
