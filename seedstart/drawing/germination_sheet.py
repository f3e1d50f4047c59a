"""How a lot came up, as lines: percentages, the curve, every index with its definition."""

from collections.abc import Iterable
from math import ceil
from typing import Final

from seedstart.days import long_day
from seedstart.drawing.curve import Axis, Curves, Limit, curve_lines
from seedstart.drawing.lines import Line, Span, heading, plain, wrapped
from seedstart.drawing.lots_table import apart_in_words
from seedstart.growing.germination.indices import Index
from seedstart.growing.germination.time_curve import NoFit, Time, TimeCurve
from seedstart.planning.lots.lot_course import DAYS, IN_WORDS, LotCourse, OfCase
from seedstart.text import plural
from seedstart.tracking.figures import LEVEL

_LABEL: Final = 28
_VALUE: Final = 22
_POINTS: Final = 80


def germination_lines(course: LotCourse, width: int = 80, height: int = 16) -> list[Line]:
    """All of it: the lot's percentage and curve, then each case with every index."""
    lines: list[Line] = [heading(f"How {course.lot} came up"), *_share_lines(course, width)]
    if not course.cases:
        return [*lines, plain("Nothing of it was counted yet.")]
    lines += [plain(""), *course_lines(course, width, height), plain("")]
    lines += curve_in_words(course, width)
    for one in course.cases:
        lines += [plain(""), *_case_lines(one, course, width)]
    return [*lines, plain(""), *_definitions(course, width)]


def _share_lines(course: LotCourse, width: int) -> list[Line]:
    figure = course.figure
    if figure.apart:
        return wrapped(apart_in_words(figure), width, role="warn")
    if figure.percent is None:
        return wrapped(f"No sowing counts yet: {figure.state}.", width)
    lines = wrapped(
        f"{figure.pooled_up} of {figure.pooled_seeds} {figure.of}: {figure.percent:.0f} in 100.",
        width,
    )
    for left in figure.left_out:
        lines += wrapped(f"Not counted in: {left.sowing} ({left.why}).", width, role="quiet")
    return lines


def course_lines(course: LotCourse, width: int, height: int) -> list[Line]:
    """The drawing: the best curve, the share that was up at each look."""
    drawn = curves_of(course)
    if drawn is None:
        return []
    signs = "● up at a look" + ("   line: the curve" if course.curve else "")
    return [*curve_lines(drawn, width, height), *wrapped(signs, width, role="quiet")]


def curves_of(course: LotCourse) -> Curves | None:
    """What is drawn of a lot, on the screen and in a picture; None where nobody looked."""
    looks = [one.by for one in course.steps]
    ends = [one.after for one in course.seen if one.seeds]
    if not course.seen:
        return None
    end = max([*looks, *ends, 1.0 if course.unit == DAYS else 0.1])
    end = float(ceil(end)) if course.unit == DAYS else end
    curve = course.curve
    line = [
        (end * part / _POINTS, 100 * curve.up_by(end * part / _POINTS))
        for part in range(_POINTS + 1)
    ] if curve else []  # fmt: skip
    label = "days since sowing" if course.unit == DAYS else course.unit
    limits = (Limit(100 * curve.share, "come at all"),) if curve and not curve.at_bound else ()
    return Curves(
        across=Axis(label, 0, end, whole=course.unit == DAYS),
        up=Axis("up, % of the seeds sown", 0, 100, whole=True),
        curve=line,
        points=[(one.by, 100 * one.up) for one in course.steps],
        limits=limits,
    )


def curve_in_words(course: LotCourse, width: int) -> list[Line]:
    """What share comes at all, and when; or why no curve is given."""
    if isinstance(course.curves, NoFit):
        text = f"No curve: {course.curves.why}."
        return wrapped(text, width, role="quiet")
    best, unit = course.curves[0], course.unit
    lines = wrapped(_comes_at_all(best), width)
    times = [(word, best.time_to(part)) for word, part in _PARTS]
    said = ", ".join(f"{word} {_time(time)}" for word, time in times)
    lines += wrapped(f"Of those that come, up after {said} {unit}.", width)
    half = best.time_to_of_sown(0.5)
    text = (
        f"Half of the seeds sown: after {_time(half)} {unit}."
        if half
        else "Half of the seeds sown never come up."
    )
    lines += wrapped(text, width)
    others = ", ".join(f"{one.family.name} {one.aic:.1f}" for one in course.curves)
    text = (
        f"Curve: {best.family.name}, the lowest AIC of those that fit ({others}); seeds counted "
        "between looks, those not up at the last one left open. Intervals: 95 %, by standard error."
    )
    return [*lines, *wrapped(text, width, role="quiet")]


_PARTS: Final = (("one in ten", 0.1), ("half", 0.5), ("nine in ten", 0.9))


def _comes_at_all(curve: TimeCurve) -> str:
    if curve.share_ends is None:
        return (
            "By the curve all of the seeds come up in the end: 100 in 100, at its bound, so it has "
            "no interval."
        )
    low, high = curve.share_ends
    return (
        f"By the curve {100 * curve.share:.0f} in 100 seeds come up at all "
        f"({100 * low:.0f} to {100 * high:.0f})."
    )


def _time(time: Time) -> str:
    return f"{time.best:.1f} ({time.low:.1f} to {time.high:.1f})"


def _case_lines(one: OfCase, course: LotCourse, width: int) -> list[Line]:
    case, (low, high) = one.case, one.interval
    what = "test" if case.is_test else "sowing"
    so_far = " so far" if case.is_open else ""
    where = f", {'on' if case.is_test and case.station in _LAID_ON else 'at the'} {case.station}"
    text = (
        f"{case.sowing}: {what} of {long_day(case.zero.date())}{where if case.station else ''}"
        f"{f', {case.treated}' if case.treated else ''}; {case.up} of {case.seeds}{so_far}, "
        f"{100 * case.up / case.seeds:.0f} in 100 ({100 * low:.0f} to {100 * high:.0f}, "
        f"{100 * LEVEL:.0f} %, {IN_WORDS[course.method]})"
    )
    lines = wrapped(f"{text}.", width, role="name")
    if case.ended is not None:
        ended = case.ended
        lines += wrapped(
            f"{ended.normal} normal, {ended.abnormal} abnormal, {ended.hard} hard, {ended.fresh} "
            f"fresh, {ended.dead} dead. The days below are of all that were counted.",
            width, indent="  ",
        )  # fmt: skip
    if case.why_no_course:
        return [*lines, *wrapped(f"No days: {case.why_no_course}.", width, indent="  ")]
    for index in one.indices:
        cells = f"  {index.label:<{_LABEL}}{_value(index, course.unit):<{_VALUE}}"
        lines.append((Span(cells), Span(index.formula, "quiet")))
    return lines


_LAID_ON: Final = frozenset({"paper", "sand", "agar"})


def _value(index: Index, unit: str) -> str:
    if index.value is None:
        return "none"
    said = index.unit
    if unit != DAYS:
        said = "" if "day" in said else said
    return f"{index.value:.4g} {said}".rstrip()


def _definitions(course: LotCourse, width: int) -> list[Line]:
    """Whose definitions these are, each source once."""
    indices = next((one.indices for one in course.cases if one.indices), ())
    if not indices:
        return []
    text = (
        "n new at day t, N in all, S seeds sown, c up by then, k the last look. Checked daily, as "
        "speed, sums and germination value suppose; with gaps they hang on the days of looking. "
        "Mean time is booked at the look: half an interval late."
    )
    lines = wrapped(text, width, role="quiet")
    for source, labels in _by_source(indices):
        lines += wrapped(f"{labels}: {source}.", width, role="quiet")
    return lines


def _by_source(indices: Iterable[Index]) -> list[tuple[str, str]]:
    by: dict[str, list[str]] = {}
    for one in indices:
        by.setdefault(one.source, []).append(one.label)
    return [(source, ", ".join(labels)) for source, labels in by.items()]


def case_count_in_words(course: LotCourse) -> str:
    """`3 sowings`, `1 test`: what a curve rests on."""
    tests = sum(one.case.is_test for one in course.cases)
    return plural(tests, "test") if tests else plural(len(course.cases), "sowing")
