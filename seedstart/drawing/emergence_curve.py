"""The emergence of one sowing as a drawing: counts, what was expected, what is still to come."""

from math import ceil, nan
from typing import Final

from seedstart.drawing.axis import Axis
from seedstart.drawing.curve import XY, Curves, Limit, curve_lines
from seedstart.drawing.lines import Line, Role, plain, wrapped
from seedstart.planning.sowing_outlook import Advice, SowingOutlook, TimeCurve, Totals

_PLACES: Final = 160
_BEYOND_LATE: Final = 1.1  # the axis goes a little past the day by which nine in ten are up
_ADVICE: Final = {
    "enough": "Enough",
    "wait": "Wait",
    "sow again": "Sow again",
    "too late": "Too late to sow again",
}


def emergence_lines(found: SowingOutlook, width: int = 80, height: int = 14) -> list[Line]:
    """The drawing and, under it, what its signs mean.

    Args:
        found: The sowing.
        width: Columns.
        height: Lines of the drawing, its axes among them; the words come below.
    """
    if not found.counts and found.time is None:
        return wrapped(f"No curve: {found.unknown or 'nothing was counted.'}", width, role="quiet")
    return [*curve_lines(_curves(found), width, height), *sign_lines(found, width)]


def sign_lines(found: SowingOutlook, width: int) -> list[Line]:
    """What the signs of the drawing mean."""
    signs = ["● counted"] if found.counts else []
    if found.totals is not None:
        signs.append("line: " + ("expected, then forecast" if _forecasts(found) else "expected"))
        signs.append("dotted: nine sowings in ten")
    return wrapped("   ".join(signs), width, role="quiet", hang="")


def outlook_lines(found: SowingOutlook, width: int) -> list[Line]:
    """The same in words: what to do, how many are expected by when, what is still to come."""
    lines: list[Line] = []
    if found.advice is not None:
        lines += [*advice_lines(found.advice, width), plain("")]
    if found.unknown:
        lines += wrapped(found.unknown, width, role="quiet")
    if found.time is not None:
        lines += wrapped(_when(found.time, found), width)
    if found.totals is not None:
        lines += wrapped(_how_many(found.totals, found.seeds or 0, found.rests_on), width)
    if found.assumed:
        lines += wrapped(found.assumed, width, role="quiet", hang="")
    if found.still is not None and found.time is not None:
        lines += wrapped(_still(found), width)
    return lines


def advice_lines(advice: Advice, width: int) -> list[Line]:
    """What to do, the word first."""
    role: Role = "warn" if advice.what in {"sow again", "too late"} else "good"
    return wrapped(f"{_ADVICE[advice.what]}: {advice.text}", width, role=role)


def _when(time: TimeCurve, found: SowingOutlook) -> str:
    first, last = time.days_for(0.1), time.days_for(0.9)
    is_open = found.still is not None
    today = f"Day {found.days_now:.0f} today. " if is_open else ""
    return (
        f"{today}Of those that come, one in ten {'is' if is_open else 'was'} expected by day "
        f"{first:.0f}, half by day {time.half_days:.0f}, nine in ten by day {last:.0f}."
    )


def _how_many(totals: Totals, seeds: int, rests_on: str) -> str:
    basis = f": {rests_on}" if rests_on else ""
    return (
        f"Some {totals.mean:.0f} of {seeds} may be expected, {totals.low} to {totals.high} in nine "
        f"sowings of ten{basis}."
    )


def _still(found: SowingOutlook) -> str:
    still = found.still
    if still is None:
        return ""
    up = {0: "None was", 1: "1 was"}.get(found.up, f"{found.up} were")
    when = f"up on day {found.counted_on:.0f}" if found.counts else "counted so far"
    more, one = still.expected(), still.chance_of(1)
    chance = "over 99 %" if one > 0.99 else f"{100 * one:.0f} %"
    are = "is" if round(more) == 1 else "are"
    some = (
        f"some {more:.0f} more {are} to be expected" if more >= 1 else "hardly any more will come"
    )
    return f"{up} {when}; {some}, at least one with a chance of {chance}."


def _forecasts(found: SowingOutlook) -> bool:
    return found.still is not None and bool(found.counts)


def _curves(found: SowingOutlook) -> Curves:
    end = max([found.days_now if found.still else 0.0, found.counted_on, 1.0])
    if found.time is not None:
        end = max(end, found.time.days_for(0.9, found.time.late) * _BEYOND_LATE)
    most = max([found.seeds or 0, found.up, found.totals.high if found.totals else 0, 1])
    limits = (Limit(found.seeds, f"{found.seeds} sown"),) if found.seeds else ()
    days = [end * place / (_PLACES - 1) for place in range(_PLACES)]
    return Curves(
        across=Axis(
            f"days since {'the cold' if found.chilled else 'sowing'}", 0, ceil(end), whole=True
        ),
        up=Axis.over("up", [0, most], whole=True),
        curve=_curve(found, days),
        band=_band(found, days),
        points=found.counts,
        limits=limits,
    )


def _curve(found: SowingOutlook, days: list[float]) -> list[XY]:
    """Expected up to the last count; from there what is still to come on top of it."""
    if found.time is None or found.totals is None:
        return []
    time, mean = found.time, found.totals.mean
    still = found.still if _forecasts(found) else None
    if still is None:
        return [(day, mean * time.share(day)) for day in days]
    since, gap = found.counted_on, days[1] - days[0]  # two places: the lines are not joined
    before = [(day, mean * time.share(day)) for day in days if day < since - gap]
    after = [(day, found.up + still.expected(time.share(day))) for day in days if day > since + gap]
    return [*before, (since, nan), *after]


def _band(found: SowingOutlook, days: list[float]) -> list[tuple[float, float, float]]:
    if found.time is None or found.totals is None:
        return []
    time, totals = found.time, found.totals
    return [
        (day, totals.low * time.share(day, time.late), totals.high * time.share(day, time.early))
        for day in days
    ]
