"""The scheduler: set out → growing on → emergence → sow → soak before that, and forward again.

Two printed figures fix a crop: its weeks before the last frost to sow, counted in a mixed tray,
and its weeks after (or before) it to set out. What lies between, less emergence at that setting,
is the growing-on time. Sowing is then emergence less the days that *this* station needs.
Figures and rules: docs/calendar.md.
"""

from datetime import date, timedelta

from msgspec import structs

from seedstart.days import Window, is_away, nearest_work_day
from seedstart.growing.emergence import Expected
from seedstart.planning import reasons
from seedstart.planning.anchor import set_out_after, set_out_window
from seedstart.planning.ask import Ask
from seedstart.planning.crop_times import Growing, at_station, growing
from seedstart.planning.row import Reason, Row, Step
from seedstart.planning.treatments import Treatment, treatments

# Pricking out at the first true leaf, a quarter of the growing-on time after emergence, 8 to 28
# days; potting on at six tenths of it where plants stay six weeks. Common practice, no source.
_PRICK_OUT_SHARE = 0.25
_PRICK_OUT_DAYS = (8.0, 28.0)
_POT_ON_SHARE = 0.6
_POT_ON_FROM_DAYS = 42.0
# One to two weeks: University of Maryland Extension 2023, Hardening Vegetable Seedlings for the
# Home Garden (tests/reference/hardening_off.csv); ten days lie in the middle.
HARDEN_DAYS = (14, 10, 7)
# It never takes more than half of the time that the plants have.
_HARDEN_SHARE = 0.5


def plan(ask: Ask) -> Row:
    """The dated row of one sowing, or the reason why it has no dates."""
    found = at_station(ask.crop, ask.where.medium, ask.factor)
    grows = growing(ask.crop, ask.factor)
    allowed = set_out_window(ask)
    problem = _problem(ask, found.expected, grows, allowed)
    if problem or found.expected is None:
        return _row(ask, problem=problem)
    warnings = list(reasons.warnings(ask, found))
    to_treat = treatments(ask)
    sow = _sow_window(ask, found.expected, grows, allowed)
    counted = sow.best
    day, said = _sow_day(ask, sow, found.expected)
    warnings += said
    sow = Window(min(sow.earliest, day), day, max(sow.latest, day))
    steps = [Step("sow", sow), Step("emerge", _emerge_window(sow, found.expected))]
    if to_treat:
        steps.insert(0, _treat_step(sow, to_treat))
    if grows is not None:
        # For a ready date plants go out younger rather than late.
        grown = grows.growing_on if ask.ready is None else grows.growing_on_at_least
        ready = _after(sow.best, found.expected.best + grown)
        steps += _after_emergence(ask, grows, steps[-1], set_out_after(ready, allowed))
    why = reasons.reasons(ask, found, grows, to_treat, steps, counted)
    return _row(ask, steps=tuple(steps), reasons=why, warnings=tuple(warnings))


def _row(
    ask: Ask,
    *,
    steps: tuple[Step, ...] = (),
    reasons: tuple[Reason, ...] = (),
    problem: str | None = None,
    warnings: tuple[str, ...] = (),
) -> Row:
    return Row(
        lot=ask.lot,
        number=ask.number,
        crop=ask.crop.name,
        variety=ask.variety,
        station=ask.where.name or None,
        steps=steps,
        reasons=reasons,
        seeds=ask.seeds,
        problem=problem,
        warnings=warnings,
    )


def _problem(
    ask: Ask, expected: Expected | None, grows: Growing | None, allowed: Window | None
) -> str | None:
    """What keeps a row from being dated."""
    if expected is None:
        return reasons.too_cold_or_hot(ask)
    if ask.sow_on is not None:
        return None
    if grows is None:
        return reasons.sown_in_place(ask.crop)
    if allowed is None:
        return reasons.nothing_to_count_from(ask)
    return None


def _sow_window(
    ask: Ask, expected: Expected, grows: Growing | None, allowed: Window | None
) -> Window:
    """When to sow for the set-out window, by the best of every figure; its range is the weeks'."""
    if ask.sow_on is not None:
        return Window.on(ask.sow_on)
    if grows is None or allowed is None:
        raise ValueError("a row without a day to count from has a problem, and no window")
    best = allowed.best - timedelta(days=round(grows.growing_on + expected.best))
    if ask.ready is not None:  # one day to be ready on: only the plants' age may vary
        return Window.around(best, grows.oldest - grows.age, grows.age - grows.youngest)
    return Window.around(best, grows.before, grows.after)


def _sow_day(ask: Ask, sow: Window, expected: Expected) -> tuple[date, list[str]]:
    """The day to sow: a work day, and none whose seedlings come up with nobody there."""
    if ask.sow_on is not None:
        return ask.sow_on, []
    if not ask.work_days and not ask.away:
        return sow.best, []
    days = [
        sow.earliest + timedelta(days=number)
        for number in range(sow.days + 1)
        if not is_away(_after(sow.earliest, number + expected.best), ask.away)
    ]
    attended = [
        day for day in days if nearest_work_day(Window.on(day), ask.work_days, ask.away) is not None
    ]
    if attended:
        return min(attended, key=lambda day: (abs((day - sow.best).days), day)), []
    day = nearest_work_day(sow, ask.work_days, ask.away)
    if day is not None:
        return day, [reasons.emerges_alone(_after(day, expected.best))]
    return sow.best, [reasons.no_work_day(sow)]


def _emerge_window(sow: Window, expected: Expected) -> Window:
    return Window(
        _after(sow.earliest, expected.earliest),
        _after(sow.best, expected.best),
        _after(sow.latest, expected.latest),
    )


def _after(day: date, days: float) -> date:
    return day + timedelta(days=round(days))


def _treat_step(sow: Window, to_treat: tuple[Treatment, ...]) -> Step:
    days = sum(treatment.days for treatment in to_treat)
    says = ", then ".join(treatment.says for treatment in to_treat)
    return Step("treat", sow.shifted(-days), says=says)


def _after_emergence(ask: Ask, grows: Growing, emerge: Step, out: Window) -> list[Step]:
    """Pricking or potting on, hardening off and setting out, counted forward from emergence."""
    up = emerge.window
    if up is None:
        return []
    out = out._replace(best=_work_day(ask, out))
    harden = _harden_window(out, grows)
    steps: list[Step] = []
    if ask.crop.raising == "pricked out":
        least, most = _PRICK_OUT_DAYS
        after = min(max(_PRICK_OUT_SHARE * grows.growing_on, least), most)
        window = _before(_around_after(up, after), harden)
        steps.append(Step("prick_out", window._replace(best=_work_day(ask, window))))
    if ask.crop.raising != "clump" and grows.growing_on >= _POT_ON_FROM_DAYS:
        window = _before(_around_after(up, _POT_ON_SHARE * grows.growing_on), harden)
        steps.append(Step("pot_on", window._replace(best=_work_day(ask, window))))
    return _in_order(emerge, [*steps, Step("harden", harden), Step("set_out", out)])


def _in_order(emerge: Step, steps: list[Step]) -> list[Step]:
    """No step may begin, be best or end before the one ahead of it does."""
    ahead = emerge.window
    ordered = []
    for step in steps:
        window = step.window
        if window is not None and ahead is not None:
            ahead = window = Window(*map(max, window, ahead))
        ordered.append(structs.replace(step, window=window))
    return ordered


def _harden_window(out: Window, grows: Growing) -> Window:
    most = _HARDEN_SHARE * grows.growing_on
    days = (min(days, most) for days in HARDEN_DAYS)
    return Window(*(_after(day, -before) for day, before in zip(out, days, strict=True)))


def _around_after(up: Window, days: float) -> Window:
    """A step so many days after emergence, give or take a third of them."""
    return Window(
        _after(up.earliest, days * 2 / 3), _after(up.best, days), _after(up.latest, days * 4 / 3)
    )


def _before(window: Window, harden: Window) -> Window:
    """A step that has to be done before hardening off begins."""
    return Window(*(min(day, end) for day, end in zip(window, harden, strict=True)))


def _work_day(ask: Ask, window: Window) -> date:
    return nearest_work_day(window, ask.work_days, ask.away) or window.best
