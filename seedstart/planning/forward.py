"""From emergence on: pricking out, potting on, hardening off, setting out."""

from datetime import date, timedelta

from seedstart.days import Window, nearest_work_day
from seedstart.growing.hardening import days_of_hardening
from seedstart.planning.ask import Ask
from seedstart.planning.crop_times import GROWS_AFTER_PRICKING_DAYS, Growing
from seedstart.planning.row import Step, StepName

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
