"""The emergence of one sowing as a drawing: counts, what was expected, what is still to come."""

from math import ceil, nan
from typing import Final

from seedstart.days import Window
from seedstart.drawing.axis import Axis
from seedstart.drawing.curve import XY, Curves, Limit, curve_lines
from seedstart.drawing.lines import Line, plain, wrapped
from seedstart.drawing.lots_table import advice_lines
from seedstart.planning.prospect import LEVEL, Prospect
from seedstart.planning.prospect_advice import percent, seen

# Fewer looks than this say by when seedlings were up, but not when half of them were.
_FEWEST_LOOKS: Final = 3


def emergence_lines(found: Prospect, width: int = 80, height: int = 14) -> list[Line]:
    """The drawing and, under it, what its signs mean.

    Args:
        found: The sowing, with its course.
        width: Columns.
        height: Lines of the drawing, its axes among them; the words come below.
    """
    if not found.counts and found.coming is None:
        return wrapped(f"No curve: {found.unknown or 'nothing was counted.'}", width, role="quiet")
    return [*curve_lines(_curves(found), width, height), *sign_lines(found, width)]


def sign_lines(found: Prospect, width: int) -> list[Line]:
    """What the signs of the drawing mean."""
    signs = ["● counted"] if found.counts else []
    if found.total is not None:
        signs.append("line: " + ("as counted, then forecast" if _forecasts(found) else "expected"))
        if found.is_open:
            signs.append("dotted: 19 sowings in 20")
    return wrapped("   ".join(signs), width, role="quiet", hang="")


def outlook_lines(found: Prospect, width: int) -> list[Line]:
    """The same in words: what to do, how many are expected by when, what is still to come."""
    lines: list[Line] = []
    if found.advice is not None:
        lines += [*advice_lines(found.advice, width), plain("")]
    if found.unknown and (found.advice is None or found.unknown not in found.advice.text):
        lines += wrapped(found.unknown, width, role="quiet")
    if found.half is not None:
        lines += wrapped(" ".join(_when(found, found.half)), width)
    if found.total is not None:
        lines += wrapped(_how_many(found), width)
    if found.assumed:
        lines += wrapped(found.assumed, width, role="quiet", hang="")
    if found.is_open and found.more is not None:
        lines += wrapped(_still(found), width)
    return lines


def _when(found: Prospect, half: Window) -> list[str]:
    """Days of one in ten, half and nine in ten; of half, how sure that is and what it rests on."""
    first, best, last = (found.days_to(one) for one in (found.first, half, found.nine_in_ten))
    if found.zero is None:
        return []
    low, high = ((day - found.zero.date()).days for day in (half.earliest, half.latest))
    said = [f"Day {found.days_now:.0f} today."] if found.is_open else []
    is_ = "is" if found.is_open else "was"
    said.append(
        f"Of those that come, one in ten {is_} expected by day {first}, half by day {best} ({low} "
        f"to {high}), nine in ten by day {last}."
    )
    if 0 < found.days_looked < _FEWEST_LOOKS and found.up:
        looks = "one look" if found.days_looked == 1 else f"{found.days_looked} looks"
        said.append(f"It was counted at {looks} only.")
    return said


def _how_many(found: Prospect) -> str:
    total = found.total
    if total is None:
        return ""
    basis = f": {found.rests_on}" if found.rests_on else ""
    low, high = round(total.low), round(total.high)
    span = f", {low} to {high} in 19 sowings of 20" if high > low else ""
    return f"Some {total.best:.0f} of {found.seeds} may be expected in all{span}{basis}."


def _still(found: Prospect) -> str:
    more, one = found.more or 0.0, found.chance_of_more or 0.0
    are = "is" if round(more) == 1 else "are"
    some = (
        f"some {more:.0f} more {are} to be expected" if more >= 1 else "hardly any more will come"
    )
    return f"{seen(found)}; {some}, at least one with a chance of {percent(one)}."


def _forecasts(found: Prospect) -> bool:
    return found.is_open and bool(found.counts)


def _curves(found: Prospect) -> Curves:
    end = max([*(days for days, _ in found.course), found.counted_on, 1.0])
    total = found.total
    most = max([found.seeds or 0, found.up, round(total.high) if total else 0, 1])
    limits = (Limit(found.seeds, f"{found.seeds} sown"),) if found.seeds else ()
    return Curves(
        across=Axis(
            f"days since {'the cold' if found.chilled else 'sowing'}", 0, ceil(end), whole=True
        ),
        up=Axis.over("up", [0, most], whole=True),
        curve=_curve(found),
        band=_band(found),
        points=found.counts,
        limits=limits,
    )


def _curve(found: Prospect) -> list[XY]:
    """As the counts have it up to the last of them; from there what is still to come."""
    coming = found.coming
    if coming is None or found.total is None:
        return []
    if not _forecasts(found):
        return [(days, coming.up_by(way)) for days, way in found.course]
    since = found.counted_on
    before = [(days, coming.up_by(way)) for days, way in found.course if days < since]
    after = [(days, found.up + coming.more_by(way)) for days, way in found.course if days > since]
    return [*before, (since, nan), *after]


def _band(found: Prospect) -> list[tuple[float, float, float]]:
    """Between what it lies from the last count on; what was counted is known."""
    coming = found.coming
    if coming is None or found.total is None or not found.is_open:
        return []
    after = [(days, way) for days, way in found.course if days >= found.counted_on]
    spans = coming.band([way for _, way in after], LEVEL)
    return [(days, span.low, span.high) for (days, _), span in zip(after, spans, strict=True)]
