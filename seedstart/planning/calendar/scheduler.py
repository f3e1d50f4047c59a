"""The scheduler: set out → growing on → emergence → sow → soak before that, and forward again.

Two printed figures fix a crop: its weeks before the last frost to sow, counted in a mixed tray,
and its weeks after (or before) it to set out. What lies between, less emergence at that setting,
is the growing-on time. Sowing is then emergence less the days that *this* station needs.
Figures and rules: docs/calendar.md.
"""

from datetime import date, timedelta

from seedstart.days import Window, is_away, nearest_work_day
from seedstart.growing.emergence import Expected
from seedstart.growing.hardening_rules import days_of_hardening
from seedstart.planning.calendar import reasons
from seedstart.planning.calendar.crop_times import (
    GROWS_AFTER_PRICKING_DAYS,
    AtStation,
    Growing,
    at_station,
    growing,
)
from seedstart.planning.calendar.row import SOW_OUTDOORS, Reason, Row, Step, StepName, Telling
from seedstart.planning.calendar.seed_treatments import Treatment, treatments
from seedstart.planning.calendar.sowing_request import (
    Ask,
    outdoors_window,
    set_out_after,
    set_out_window,
)
from seedstart.planning.calendar.unsuitable import too_cold_or_hot, warnings_of

# Pricking out at the first true leaf, a quarter of the growing-on time after emergence, 8 to 28
# days; potting on at six tenths of it where plants get older than six weeks. Common practice, no
# source.
_PRICK_OUT_SHARE = 0.25
_PRICK_OUT_DAYS = (8.0, 28.0)
_POT_ON_SHARE = 0.6
_POT_ON_AFTER_DAYS = 42.0


def steps_after_emergence(ask: Ask, grows: Growing, up: Window | None, out: Window) -> list[Step]:
    """Pricking or potting on, hardening off and setting out, counted forward from emergence.

    Args:
        ask: What was asked.
        grows: The printed weeks in days.
        up: When it is up; without it there is nothing to count from.
        out: When to set out.
    """
    if up is None:
        return []
    out = out._replace(best=_work_day(ask, out))
    harden = _harden_window(out, grows)
    steps: list[tuple[StepName, Window]] = []
    if ask.crop.raising == "pricked out":
        least, most = _PRICK_OUT_DAYS
        after = min(max(_PRICK_OUT_SHARE * grows.growing_on, least), most)
        # It has to be done before hardening off begins, and the plants grow on between the two.
        window = _around_after(up, after).not_after(harden.shifted(-GROWS_AFTER_PRICKING_DAYS))
        window = window.not_before(_around_after(up, least))
        window = window._replace(best=_work_day(ask, window))
        harden = harden.not_before(window.shifted(GROWS_AFTER_PRICKING_DAYS))
        out = out.not_before(harden.shifted(days_of_hardening(grows.growing_on)[2]))
        steps.append(("prick_out", window))
    if ask.crop.raising != "clump" and grows.age > _POT_ON_AFTER_DAYS:
        window = _around_after(up, _POT_ON_SHARE * grows.growing_on).not_after(harden)
        steps.append(("pot_on", window._replace(best=_work_day(ask, window))))
    return _in_order(up, [*steps, ("harden", harden), ("set_out", out)])


def _in_order(up: Window, steps: list[tuple[StepName, Window]]) -> list[Step]:
    """No step may begin, be best or end before the one ahead of it does."""
    ahead = up
    ordered = []
    for name, window in steps:
        ahead = window.not_before(ahead)
        ordered.append(Step(name, ahead))
    return ordered


def _harden_window(out: Window, grows: Growing) -> Window:
    most, usual, least = days_of_hardening(grows.growing_on)
    return Window(_after(out.earliest, -most), _after(out.best, -usual), _after(out.latest, -least))


def _around_after(up: Window, days: float) -> Window:
    """A step so many days after emergence, give or take a third of them."""
    return Window(
        _after(up.earliest, days * 2 / 3), _after(up.best, days), _after(up.latest, days * 4 / 3)
    )


def _work_day(ask: Ask, window: Window) -> date:
    return nearest_work_day(window, ask.work_days, ask.away) or window.best


def _after(day: date, days: float) -> date:
    return day + timedelta(days=round(days))


def plan(ask: Ask) -> Row:
    """The dated row of one sowing, or the reason why it has no dates."""
    in_place = outdoors_window(ask) if ask.sow_on is None else None
    if in_place is not None:
        return _sown_outdoors(ask, in_place)
    found = at_station(ask.crop, ask.where.medium, ask.factor)
    expected = after_the_cold(ask, found.expected)
    grows = growing(ask.crop, ask.factor)
    allowed = set_out_window(ask)
    problem = _problem(ask, expected, grows, allowed)
    if problem or expected is None:
        return row_of(ask, problem=problem)
    warnings = list(warnings_of(ask, found))
    to_treat = treatments(ask)
    sow = _sow_window(ask, expected, grows, allowed)
    counted = sow.best
    day, said = _sow_day(ask, sow, expected)
    warnings += said
    sow = Window(min(sow.earliest, day), day, max(sow.latest, day))
    steps = [
        Step("sow", sow, says=_into_the_fridge(ask)),
        Step("emerge", emerge_window(sow, expected)),
    ]
    if to_treat:
        steps.insert(0, _treat_step(sow, to_treat))
    if grows is not None:
        # For a ready date plants go out younger rather than late.
        grown = grows.growing_on if ask.ready is None else grows.growing_on_at_least
        ready = sow.best + timedelta(days=round(expected.best) + round(grown))
        out = set_out_after(ready, allowed)
        steps += steps_after_emergence(ask, grows, steps[-1].window, out)
    told = _Reckoning(ask, found, grows, to_treat, tuple(steps), counted)
    return row_of(ask, steps=tuple(steps), told=(told,), warnings=tuple(warnings))


def after_the_cold(ask: Ask, expected: Expected | None) -> Expected | None:
    """Days from sowing to emergence, those in the fridge among them."""
    if expected is None or not ask.fridge_days:
        return expected
    return Expected(*(days + ask.fridge_days for days in expected))


def _into_the_fridge(ask: Ask) -> str:
    return f"sow into the {ask.fridge} for {ask.fridge_days} days" if ask.fridge else ""


def _sown_outdoors(ask: Ask, window: Window) -> Row:
    """The row of what is sown where it is to grow: a line of its own, and no tray."""
    day = nearest_work_day(window, ask.work_days, ask.away) or window.best
    step = Step("sow", window._replace(best=day), says=SOW_OUTDOORS)
    return row_of(ask, steps=(step,), told=tuple(reasons.sown_outdoors(ask)))


class _Reckoning(Telling, frozen=True):
    """What the reasons of a planned row are told from."""

    ask: Ask
    found: AtStation
    grows: Growing | None
    to_treat: tuple[Treatment, ...]
    steps: tuple[Step, ...]
    counted: date

    def tell(self) -> tuple[Reason, ...]:
        return reasons.reasons(
            self.ask, self.found, self.grows, self.to_treat, self.steps, self.counted
        )


def row_of(
    ask: Ask,
    *,
    steps: tuple[Step, ...] = (),
    told: tuple[Reason | Telling, ...] = (),
    problem: str | None = None,
    warnings: tuple[str, ...] = (),
) -> Row:
    """The row that an ask has, with what is known of it."""
    return Row(
        lot=ask.lot,
        number=ask.number,
        crop=ask.crop.name,
        variety=ask.variety,
        station=ask.fridge or ask.where.name or None,
        steps=steps,
        told=told,
        seeds=ask.seeds,
        problem=problem,
        warnings=warnings,
    )


def _problem(
    ask: Ask, expected: Expected | None, grows: Growing | None, allowed: Window | None
) -> str | None:
    """What keeps a row from being dated."""
    if ask.fridge_days is None:
        return reasons.how_long_in_the_cold(ask)
    if ask.unknown_weather:
        return reasons.how_warm_out_there(ask)
    if expected is None:
        return too_cold_or_hot(ask)
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
    best = allowed.best - timedelta(days=grows.growing_on + round(expected.best))
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


def emerge_window(sow: Window, expected: Expected) -> Window:
    """When it is up, sown within a window."""
    return Window(
        _after(sow.earliest, expected.earliest),
        _after(sow.best, expected.best),
        _after(sow.latest, expected.latest),
    )


def _treat_step(sow: Window, to_treat: tuple[Treatment, ...]) -> Step:
    days = sum(treatment.days for treatment in to_treat)
    says = ", then ".join(treatment.says for treatment in to_treat)
    return Step("treat", sow.shifted(-days), says=says, treatments=to_treat)
