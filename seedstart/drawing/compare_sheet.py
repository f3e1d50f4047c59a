"""Lots, stations or treatments beside each other, as lines: the sentence first."""

from collections.abc import Iterable
from typing import Final

from seedstart.days import short_day
from seedstart.drawing.lines import Line, Role, Span, cells_wide, fitted, heading, plain, wrapped
from seedstart.growing.germination.lot_tests import SpeedTested
from seedstart.growing.germination.time_curve import NoFit, Time
from seedstart.planning.lots.comparing import OF_EACH, Comparison, Pair, Side
from seedstart.planning.lots.lot_course import DAYS, OF_TABLE, OF_TRAYS
from seedstart.planning.lots.rates import NextTime
from seedstart.text import joined, plural

_NAME: Final = 16
_LEAST_BAR: Final = 20
# As wide as `100 to 100` with two blanks before it.
_ENDS: Final = 12
# A column a side where as many as these are compared, a row a side where more are.
_MOST_COLUMNS: Final = 3
_BAR, _AXIS = "━", "─"
# A share of the time below which it is said that how warm it was is told to be partly planned.
_MOSTLY_READ: Final = 0.8


def compare_lines(found: Comparison, width: int = 80, *, headed: bool = True) -> list[Line]:
    """All of it: what is shown, each side, the tests, what was left out.

    Args:
        found: What is compared.
        width: Columns.
        headed: Whether a line says who stands beside whom; a screen's own head does so.
    """
    if not found.sides:
        lines = [plain("Nothing of these is closed and had a fair chance yet.")]
        return [*lines, *_left_out(found, width)]
    names = joined([side.name for side in found.sides])
    lines = [heading(f"{names} beside each other")] if headed else []
    for text in _paragraphs(found):
        lines += wrapped(text, width, hang="")
    as_columns = len(found.sides) <= _MOST_COLUMNS
    lines += [plain(""), *(_columns if as_columns else _rows)(found, width), plain("")]
    for pair in found.pairs:
        text = pair_in_words(pair, found.unit, several=len(found.pairs) > 1)
        lines += wrapped(text, width, role="quiet")
    for text in (*trays_in_words(found), *_where(found)):
        lines += wrapped(text, width, role="quiet")
    return [*lines, *_left_out(found, width)]


def sentences(found: Comparison) -> list[str]:
    """What is shown, in words: one sentence a pair on how many, and one on how fast."""
    if len(found.sides) < 2:
        return [f"Only {found.sides[0].name} has anything closed to compare."]
    return [text for pair in found.pairs for text in _shown(pair, found)]


def _paragraphs(found: Comparison) -> list[str]:
    """The two sentences of one pair run on; of several pairs each has its own line."""
    said = sentences(found)
    return [" ".join(said)] if len(found.pairs) == 1 else said


def _shown(pair: Pair, found: Comparison) -> list[str]:
    sides = {side.name: side for side in found.sides}
    first, second = sides[pair.first], sides[pair.second]
    whose = f"{pair.first} and {pair.second}: " if len(found.pairs) > 1 else ""
    if pair.shown:
        better, worse = (first, second) if first.share > second.share else (second, first)
        text = (
            f"More of {better.name} came up than of {worse.name}: {100 * better.share:.0f} against "
            f"{100 * worse.share:.0f} in 100."
        )
    else:
        text = _capital(f"{whose}no difference shown in how many came up.")
    return [text, _speed_shown(pair, found.unit, whose)]


def _speed_shown(pair: Pair, unit: str, whose: str) -> str:
    speed = pair.speed
    if isinstance(speed, NoFit):
        return _capital(f"{whose}speed is not compared ({speed.why}).")
    if not pair.speed_shown:
        return _capital(f"{whose}no difference shown in how fast they came up.")
    faster, low, high = pair.first, speed.low, speed.high
    if speed.days < 0:
        faster, low, high = pair.second, -speed.high, -speed.low
    if unit == DAYS:
        return f"{faster} came up earlier, by {_days_between(low, high)}."
    return (
        f"{faster} came up earlier for the warmth it had, by {max(low, 0.0):.2f} to {high:.2f} "
        f"{unit}."
    )


def _capital(text: str) -> str:
    """A sentence that begins with a name keeps it as it is written."""
    return text if ": " in text else f"{text[:1].upper()}{text[1:]}"


def _days_between(low: float, high: float) -> str:
    """`2 to 4 days`; parts of a day where they are few."""
    low = max(low, 0.0)
    if high < 3:
        return f"{low:.1f} to {high:.1f} days"
    ends = f"{low:.0f} to {high:.0f}" if round(low) != round(high) else f"{high:.0f}"
    return f"{ends} days"


def _columns(found: Comparison, width: int) -> list[Line]:
    """A column a side: its seed, what is closed of it, what came up and when."""
    sides, room = found.sides, (width - _NAME - 3) // len(found.sides)

    def row(label: str, cells: Iterable[str]) -> Line:
        said = " ".join(fitted(cell, room - 1) for cell in cells).rstrip()
        return (Span(f"  {label:<{_NAME}} ", "quiet"), Span(said))

    lines: list[Line] = [
        (Span(" " * (_NAME + 3)),
         Span(" ".join(fitted(side.name, room - 1) for side in sides).rstrip(), "name")),
    ]  # fmt: skip
    if any(side.seed for side in sides):
        lines.append(row("seed", (side.seed or "not written down" for side in sides)))
    lines += [
        row("closed", (_closed(side) for side in sides)),
        row("up", (f"{side.up} of {side.seeds}" for side in sides)),
        row("in 100", (f"{100 * side.share:.0f}" for side in sides)),
        *interval_lines(sides, width),
        row("half up by", (_time(side.half, found.unit) for side in sides)),
        row("90 in 100 by", (_time(side.nine_in_ten, found.unit) for side in sides)),
    ]
    return lines


def _closed(side: Side) -> str:
    """`1 Apr, 22 seeds`; `3 sowings, 66 seeds`."""
    seeds = plural(side.seeds, "seed")
    if len(side.cases) > 1:
        what = "replicate" if all(one.is_test for one in side.cases) else "sowing"
        return f"{plural(len(side.cases), what)}, {seeds}"
    return f"{short_day(side.cases[0].zero.date())}, {seeds}"


def _rows(found: Comparison, width: int) -> list[Line]:
    """A row a side, where columns have no room; then the intervals."""
    head = f"  {'':<{_NAME}} {'up':<11} {'in 100':<14} {'half up by':<18} 90 in 100 by"
    lines: list[Line] = [(Span(fitted(head, width).rstrip(), "quiet"),)]
    for side in found.sides:
        low, high = 100 * side.interval.low, 100 * side.interval.high
        share = f"{100 * side.share:.0f} ({low:.0f} to {high:.0f})"
        up, half = f"{side.up} of {side.seeds}", _time(side.half, found.unit)
        cells = f" {up:<11} {share:<14} {half:<18} {_time(side.nine_in_ten, found.unit)}"
        lines.append((Span(f"  {fitted(side.name, _NAME)}", "name"), Span(cells.rstrip())))
    return [*lines, plain(""), *interval_lines(found.sides, width)]


def _time(time: Time | None, unit: str) -> str:
    """`day 8 (7 to 8)`; along the warmth `0.95 (0.91 to 1.00)`."""
    if time is None:
        return "no curve"
    if unit == DAYS:
        return f"day {time.best:.0f} ({time.low:.0f} to {time.high:.0f})"
    return f"{time.best:.2f} ({time.low:.2f} to {time.high:.2f})"


def interval_lines(sides: Iterable[Side], width: int) -> list[Line]:
    """The intervals on one scale from 0 to 100: bars with the figure in them, their ends beside."""
    room = max(width - _NAME - 3 - _ENDS, _LEAST_BAR)
    axis = f"0{_AXIS * (room // 2 - 3)}50{_AXIS * (room - room // 2 - 4)}100"
    lines: list[Line] = [(Span(f"  {'95 in 100 sure':<{_NAME}} {axis}", "quiet"),)]
    columns = cells_wide(axis)
    for side in sides:
        low, high = 100 * side.interval.low, 100 * side.interval.high
        lines.append((
            Span(f"    {fitted(side.name, _NAME - 2)} ", "name"), *_bar(side, columns),
            Span(f"  {low:.0f} to {high:.0f}"),
        ))  # fmt: skip
    return lines


def _bar(side: Side, columns: int) -> tuple[Span, ...]:
    low, at, high = (
        round(share * (columns - 1))
        for share in (side.interval.low, side.share, side.interval.high)
    )
    figure = f"{100 * side.share:.0f}"
    bar = [_BAR if low <= column <= high else " " for column in range(columns)]
    start = min(max(at - len(figure) // 2, 0), columns - len(figure))
    bar[start : start + len(figure)] = figure
    role: Role = "point"
    return (Span("".join(bar), role),)


def pair_in_words(pair: Pair, unit: str, *, several: bool) -> str:
    """The tests of a pair with what they say, and how many seeds would show a difference."""
    by = (
        "Fisher's exact test"
        if pair.how_many_by == "Fisher"
        else "beta-binomial, the tray as unit, since trays differ more than coins do"
    )
    pairs = f"{_of_100(pair.how_many.p)} of 100 pairs"
    holm = _after_holm(pair.how_many_p, pair.how_many.p)
    said = [f"Chance alone would part them so in {pairs} ({by}){holm}."]
    speed = pair.speed
    if isinstance(speed, SpeedTested):
        said.append(
            f"Speed of those that come: {_of_100(speed.p)} of 100 (two {speed.shape} curves of "
            f"one scale, likelihood ratio){_after_holm(pair.speed_p or 0.0, speed.p)}; half-times "
            f"{_apart(speed, unit)} apart."
        )
    if pair.course is not None:
        said.append(f"The whole course, both together: {_of_100(pair.course.p)} of 100 (log-rank).")
    if not pair.shown and pair.seeds_needed is not None:
        said.append(
            "To show a difference as large as this, four times in five, you would need about "
            f"{_about(pair.seeds_needed)} of each."
        )
    whose = f"{pair.first}, {pair.second}: " if several else ""
    return f"{whose}{' '.join(said)}"


def _apart(speed: SpeedTested, unit: str) -> str:
    """`2.1 days (1.3 to 3.0)`, without a minus before nought."""
    digits = 1 if unit == DAYS else 2
    best, low, high = (
        f"{round(one, digits) + 0.0:.{digits}f}" for one in (speed.days, speed.low, speed.high)
    )
    return f"{best} {unit} ({low} to {high})"


def _about(seeds: int) -> str:
    """Seeds in round figures: nobody sows 147."""
    step = 5 if seeds < 100 else 10 if seeds < 1000 else 100
    return plural(-(-seeds // step) * step, "seed")


def _of_100(p: float) -> str:
    if p < 0.001:
        return "fewer than 0.1"
    return f"{100 * p:.1f}" if p < 0.1 else f"{100 * p:.0f}"


def _after_holm(after: float, before: float) -> str:
    return f", {_of_100(after)} after Holm" if after > before else ""


def trays_in_words(found: Comparison) -> list[str]:
    """Whether trays of one side differ, and by which table replicates are judged."""
    said = []
    for side in found.sides:
        tolerance = side.tolerance
        if tolerance is not None:
            verdict = "within" if tolerance.within else "beyond"
            said.append(
                f"{side.name}: its replicates lie {tolerance.apart:.0f} points apart, {verdict} "
                f"the {tolerance.allowed} that are allowed at {tolerance.mean} % "
                f"({tolerance.source})."
            )
        elif found.of_tests and len(side.cases) > 1:
            said.append(
                f"{side.name}: printed tolerances are for 4 × 100 (or 2 × 100); none applies."
            )
        if side.trays_p is not None:
            said.append(_trays(side))
    if found.trays_differ and found.spread is not None:
        said.append(
            "Trays of one side differ more than coins do: seeds of a tray fare alike "
            f"(correlation {found.spread.rho:.2f}), so a tray of 50 says as much as "
            f"{found.spread.worth(50):.0f} seeds by themselves."
        )
    return said


def _where(found: Comparison) -> list[str]:
    """Where they came up: what stood elsewhere had another warmth."""
    stations = [sorted({case.station for case in side.cases if case.station})
                for side in found.sides]  # fmt: skip
    every = sorted({one for some in stations for one in some})
    if found.unit != DAYS:
        return _warmth(found)
    if found.by == "station" or not every:
        return []
    if len(every) == 1:
        return [f"All of it came up at one place: {every[0]}."]
    where = [
        f"{side.name} {joined(some)}" for side, some in zip(found.sides, stations, strict=True)
    ]
    return [f"Not all at one place, so warmth may be the reason too: {', '.join(where)}."]


def _warmth(found: Comparison) -> list[str]:
    """What time is counted in, and how much of the warmth was measured."""
    said = [f"Time is counted in the warmth that each had: {_ONE_IS[found.unit]}."]
    poor = [
        f"{side.name} for {100 * side.warmth_read:.0f} in 100 of its time"
        for side in found.sides
        if side.warmth_read is not None and side.warmth_read < _MOSTLY_READ
    ]
    if poor:
        said.append(f"Measured only {joined(poor)}; the rest is as planned.")
    return said


_ONE_IS: Final = {
    OF_TABLE: "1 is the day of the crop's table, which trays seldom keep",
    OF_TRAYS: "1 is the days in trays that are printed for it",
    OF_EACH: "1 is the days expected, of some by a table and of some as printed for trays",
}


def _trays(side: Side) -> str:
    counted = joined([f"{one.up} of {one.seeds}" for one in side.cases])
    more = "more apart than" if (side.trays_p or 0) < 0.05 else "no more apart than"
    p = _of_100(side.trays_p or 0)
    return f"{side.name}: {counted}, {more} chance would put them ({p} of 100)."


def next_time_in_words(found: Iterable[NextTime]) -> list[str]:
    """`Next time sow 27 of cherry for 12 plants, by its own 62 in 100 (21 sown)` and so on."""
    return [
        f"Next time sow {one.seeds} of {one.lot} for {plural(one.plants, 'plant')}, by its own "
        f"{one.percent:.0f} in 100{f' ({one.sown} sown)' if one.sown else ''}."
        for one in found
    ]


def _left_out(found: Comparison, width: int) -> list[Line]:
    lines: list[Line] = [] if found.left_out else [(Span("Left out: nothing.", "quiet"),)]
    for one in found.left_out:
        lines += wrapped(f"Left out: {one.sowing} ({one.why}).", width, role="quiet")
    return lines
