"""What a picture of curves shows, for whoever draws it: lines, points, axes, a caption."""

from msgspec import Struct

from seedstart.drawing.curve import XY
from seedstart.drawing.germination_sheet import case_count_in_words, curves_of
from seedstart.growing.germination.step_curve import step_curve
from seedstart.growing.germination.time_curve import TimeCurve
from seedstart.planning.lots.comparing import Comparison, Side
from seedstart.planning.lots.lot_course import DAYS, LotCourse
from seedstart.text import joined, plural
from seedstart.tracking.cases import pooled

_POINTS = 160
_SOURCES = (
    "Line: likelihood of the intervals between looks, with a share that never comes (Ritz, Pipper "
    "& Streibig 2013, Eur J Agron 45: 1-6). Points: Turnbull 1976, JRSS B 38: 290-295."
)


class Series(Struct, frozen=True):
    """One curve: its name, the fitted line, the share that was up at each look, percent."""

    name: str
    line: tuple[XY, ...]
    points: tuple[XY, ...]


class Picture(Struct, frozen=True):
    """A picture of one lot, or of several beside each other.

    Attributes:
        title: Above it.
        across: What the axis across counts.
        series: Its curves.
        caption: Below it: what it rests on, and whose methods these are.
    """

    title: str
    across: str
    series: tuple[Series, ...]
    caption: str


def picture_of_lot(course: LotCourse) -> Picture | None:
    """How a lot came up; None where nobody looked."""
    drawn = curves_of(course)
    if drawn is None:
        return None
    figure = course.figure
    share = f"; {figure.pooled_up} of {figure.pooled_seeds}" if figure.pooled_seeds else ""
    caption = f"{case_count_in_words(course)}{share}. {_shape(course.curve)}{_SOURCES}"
    series = Series(course.lot, tuple(drawn.curve), tuple(drawn.points))
    return Picture(f"How {course.lot} came up", drawn.across.label, (series,), caption)


def picture_of_comparison(found: Comparison, says: str) -> Picture | None:
    """Lots beside each other; None where nobody looked at any.

    Args:
        found: What is compared.
        says: The sentences: they head the caption.
    """
    least = 1.0 if found.unit == DAYS else 0.1  # of the axis, where nothing came up
    series = tuple(_series(side, least) for side in found.sides if pooled(side.cases))
    if not series:
        return None
    counted = joined([f"{side.name} {side.up} of {side.seeds}" for side in found.sides])
    names = joined([side.name for side in found.sides if pooled(side.cases)])
    title = f"{names} beside each other" if len(series) > 1 else names
    across = "days since sowing" if found.unit == DAYS else found.unit
    return Picture(title, across, series, f"{says} {counted}. {_SOURCES}")


def _series(side: Side, least: float) -> Series:
    seen = pooled(side.cases)
    steps = step_curve(seen)
    end = max([*(step.by for step in steps), *(one.after for one in seen), least])
    curve = side.curve if isinstance(side.curve, TimeCurve) else None
    line = (
        tuple((end * at / _POINTS, 100 * curve.up_by(end * at / _POINTS))
              for at in range(_POINTS + 1))
        if curve else ()
    )  # fmt: skip
    name = f"{side.name} ({plural(len(side.cases), 'sowing')})"
    return Series(name, line, tuple((step.by, 100 * step.up) for step in steps))


def _shape(curve: TimeCurve | None) -> str:
    return f"Curve: {curve.family.name}. " if curve else ""
