"""Trials and germination tests as a list, and the trays of one trial."""

from collections.abc import Sequence
from datetime import date, timedelta

from seedstart.days import short_day
from seedstart.drawing.lines import Line, Role, Span, cells_wide, fitted, plain, wrapped
from seedstart.drawing.seed_test_sheet import state_in_words
from seedstart.drawing.trial_sheet import level_in_words
from seedstart.planning.lots.seed_tests import SeedTest
from seedstart.planning.trials.trial_trays import TrialTray
from seedstart.season.trials.trial_plan import TrialPlan
from seedstart.text import joined, plural
from seedstart.units import Units, show_length

_SIGN, _NAME, _KIND = 2, 18, 32
_TRAY, _LEVEL, _PLANTS = 7, 12, 9


def list_head() -> Line:
    """Over the columns of the list."""
    return (Span(f"{'':{_SIGN}}{'name':<{_NAME}}{'what':<{_KIND}}how far", "quiet"),)


def trial_line(trial: TrialPlan, trays: Sequence[TrialTray], today: date, width: int) -> Line:
    """One trial: its name, what is tried, how far it is."""
    size = f"{plural(len(trial.levels), 'level')} × {plural(trial.trays, 'tray')}"
    state, role = trial_state(trial, trays, today)
    return _line("", trial.name, f"{trial.kind}: {size}", state, role, width)


def test_line(test: SeedTest, width: int) -> Line:
    """One germination test of one lot."""
    verdict = test.verdict
    state = verdict[0] if verdict else state_in_words(test)
    role: Role = "warn" if verdict and verdict[0] != "good" else "plain"
    kind = f"germination: {test.lot}"
    sign = "✓" if test.state == "closed" else ""
    return _line(sign, test.name, kind, state, role, width)


def _line(sign: str, name: str, kind: str, state: str, role: Role, width: int) -> Line:
    room = max(width - _SIGN - _NAME - _KIND, 0)
    return (
        Span(f"{sign:<{_SIGN}}", "good"),
        Span(f"{fitted(name, _NAME - 1)} ", "name"),
        Span(f"{fitted(kind, _KIND - 1)} "),
        Span(fitted(state, room).rstrip(), role),
    )


def trial_state(trial: TrialPlan, trays: Sequence[TrialTray], today: date) -> tuple[str, Role]:
    """How far a trial is, and whether something is to be done."""
    of = len(trays)
    sown = sum(bool(one.sowing) for one in trays)
    done = sum(bool(one.plants or one.dead) for one in trays)
    up = [one.up_on for one in trays if one.up_on is not None]
    if done == of:
        return "measured", "good"
    if done:
        return f"{done} of {of} measured", "expected"
    if sown < of:
        return f"{sown} of {of} sown" if sown else f"{plural(of, 'tray')} to sow", "expected"
    if not up or not trial.measure_on:
        return "sown, not half up" if not up else f"day {(today - min(up)).days}", "plain"
    due = min(up) + timedelta(days=trial.measure_on[0])
    if due <= today:
        return "measure it", "warn"
    return f"day {(today - min(up)).days}, measure {short_day(due)}", "plain"


def trial_head(trial: TrialPlan, width: int) -> list[Line]:
    """What is tried, and how."""
    size = f"{plural(len(trial.levels), 'level')} × {plural(trial.trays, 'tray')}"
    days = joined([f"{day}" for day in trial.measure_on])
    on = f" Measured {days} days after half emergence." if trial.measure_on else ""
    why = f"{trial.title} " if trial.title else ""
    said = (
        f"{why}{size} × {plural(trial.plants, 'plant')} of {joined([*trial.lots])}, "
        f"places drawn by lot.{on}"
    )
    return wrapped(said, width, hang="")


def trays_head() -> Line:
    """Over the columns of the trays."""
    head = f"{'':{_SIGN}}{'tray':<{_TRAY}}{'level':<{_LEVEL}}{'plants':>{_PLANTS - 2}}  "
    return (Span(f"{head}height/stem in mm, or where it is to stand", "quiet"),)


def tray_line(tray: TrialTray, trial: TrialPlan, units: Units, width: int) -> Line:
    """One tray: what was measured of it, or where and how it stands."""
    measured = bool(tray.plants or tray.dead)
    number = len(tray.plants) if measured else tray.standing if tray.sowing else ""
    head = f"{fitted(level_in_words(tray.place.level, trial), _LEVEL)}{number:>{_PLANTS - 2}}  "
    room = max(width - _SIGN - _TRAY - cells_wide(head), 0)
    sign = "✓" if measured else "·"
    said = tray_in_words(tray, trial, units)
    return (
        Span(f"{sign:<{_SIGN}}", "good" if measured else "expected"),
        Span(fitted(tray.place.tray, _TRAY), "name"),
        Span(head),
        Span(fitted(said, room).rstrip(), "plain" if measured else "quiet"),
    )


def tray_in_words(tray: TrialTray, trial: TrialPlan, units: Units) -> str:
    """`38 2.4   quotient 1.6   35 to 42`; before it was measured, where it stands."""
    if tray.plants:
        heights = [one.height_mm for one in tray.plants]
        number = len(heights)
        mean, stem, quotient = (
            sum(values) / number
            for values in (
                heights,
                [one.diameter_mm for one in tray.plants],
                [one.quotient for one in tray.plants],
            )
        )
        dead = f", {tray.dead} dead" if tray.dead else ""
        span = f"{min(heights):.0f} to {max(heights):.0f}"
        return f"{mean:.0f} {stem:.1f}   quotient {quotient:.1f}   {span}{dead}"
    if tray.dead:
        return f"{tray.dead} dead, none left"
    if not tray.sowing:
        lot = f"{tray.place.lot} " if len(trial.lots) > 1 else ""
        high = tray.place.height_mm
        under = "" if high is None else f", {show_length(high / 1000, units)} under the lamps"
        return f"to sow: {lot}{tray.place.station}{under}"
    up = f"half up {short_day(tray.up_on)}" if tray.up_on else "sown, not half up"
    return f"{up}, {tray.place.station}"


def place_in_words(tray: TrialTray, units: Units) -> str:
    """Where a tray is to stand, as it was drawn."""
    place, said = tray.place, [f"{tray.place.tray} stands at {tray.place.station}"]
    if place.from_left_mm is not None and place.from_front_mm is not None:
        spot = place.from_left_mm, place.from_front_mm
        left, front = (show_length(mm / 1000, units) for mm in spot)
        said.append(f"its middle {left} from the left and {front} from the front")
    if place.height_mm is not None:
        said.append(
            f"on blocks so that the leaves are {show_length(place.height_mm / 1000, units)} "
            "under the lamps"
        )
    return f"{', '.join(said)}."


def nothing_lines(width: int) -> list[Line]:
    """Of a season without any."""
    said = (
        "No trials and no germination tests yet. How much light keeps your seedlings from "
        "stretching? How good is that old packet? A trial or a test says."
    )
    return [*wrapped(said, width, hang=""), plain("")]
