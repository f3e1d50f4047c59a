"""Lots, stations or treatments beside each other, as lines: the sentence first."""

from collections.abc import Iterable, Sequence
from typing import Final

from seedstart.drawing.lines import Line, Role, Span, cells_wide, fitted, heading, plain, wrapped
from seedstart.growing.germination.lot_tests import SpeedTested
from seedstart.growing.germination.time_curve import NoFit, Time
from seedstart.planning.lots.comparing import Comparison, Pair, Side
from seedstart.text import joined, plural

_NAME: Final = 16
_LEAST_BAR: Final = 20
_BAR, _AXIS = "━", "─"


def compare_lines(found: Comparison, width: int = 80) -> list[Line]:
    """All of it: what is shown, each side, the tests, what was left out."""
    if not found.sides:
        lines = [plain("Nothing of these is closed and had a fair chance yet.")]
        return [*lines, *_left_out(found, width)]
    lines = [heading(f"{joined([side.name for side in found.sides])} beside each other")]
    for text in sentences(found):
        lines += wrapped(text, width)
    lines += [plain(""), *_table(found.sides, width)]
    lines += [plain(""), *interval_lines(found.sides, width)]
    lines.append(plain(""))
    for pair in found.pairs:
        for text in pair_in_words(pair, several=len(found.pairs) > 1):
            lines += wrapped(text, width, role="quiet")
    for text in (*trays_in_words(found), *_where(found)):
        lines += wrapped(text, width, role="quiet")
    return [*lines, *_left_out(found, width)]


def sentences(found: Comparison) -> list[str]:
    """What is shown, in words: one sentence a pair on how many, and one on how fast."""
    if len(found.sides) < 2:
        return [f"Only {found.sides[0].name} has anything closed to compare."]
    return [text for pair in found.pairs for text in _shown(pair, found)]


def _shown(pair: Pair, found: Comparison) -> list[str]:
    sides = {side.name: side for side in found.sides}
    first, second = sides[pair.first], sides[pair.second]
    names = f"{pair.first} and {pair.second}"
    if pair.shown:
        better, worse = (first, second) if first.share > second.share else (second, first)
        text = (
            f"More of {better.name} came up than of {worse.name}: {100 * better.share:.0f} against "
            f"{100 * worse.share:.0f} in 100."
        )
    else:
        text = f"{names}: no difference shown in how many came up."
    return [text, _speed_shown(pair, names)]


def _speed_shown(pair: Pair, names: str) -> str:
    speed = pair.speed
    if isinstance(speed, NoFit):
        return f"{names}: speed is not compared ({speed.why})."
    if not pair.speed_shown:
        return f"{names}: no difference shown in how fast they came up."
    faster, low, high = pair.first, speed.low, speed.high
    if speed.days < 0:
        faster, low, high = pair.second, -speed.high, -speed.low
    return f"{faster} came up earlier, by {_days_between(low, high)}."


def _days_between(low: float, high: float) -> str:
    """`2 to 4 days`; parts of a day where they are few."""
    low = max(low, 0.0)
    if high < 3:
        return f"{low:.1f} to {high:.1f} days"
    ends = f"{low:.0f} to {high:.0f}" if round(low) != round(high) else f"{high:.0f}"
    return f"{ends} days"


def _table(sides: Sequence[Side], width: int) -> list[Line]:
    head = f"  {'':<{_NAME}} {'up':<11} {'in 100':<14} {'half up by day':<16} nine in ten"
    lines: list[Line] = [(Span(fitted(head, width).rstrip(), "quiet"),)]
    for side in sides:
        low, high = 100 * side.interval.low, 100 * side.interval.high
        share = f"{100 * side.share:.0f} ({low:.0f} to {high:.0f})"
        up = f"{side.up} of {side.seeds}"
        cells = f" {up:<11} {share:<14} {_day(side.half):<16} {_day(side.nine_in_ten)}"
        lines.append((Span(f"  {fitted(side.name, _NAME)}", "name"), Span(cells.rstrip())))
    return lines


def _day(time: Time | None) -> str:
    return "no curve" if time is None else f"{time.best:.0f} ({time.low:.0f} to {time.high:.0f})"


def interval_lines(sides: Iterable[Side], width: int) -> list[Line]:
    """The intervals on one scale from 0 to 100: bars with the figure in them."""
    room = max(width - _NAME - 4, _LEAST_BAR)
    axis = f"0{_AXIS * (room // 2 - 3)}50{_AXIS * (room - room // 2 - 4)}100"
    lines: list[Line] = [(Span(f"  {'95 in 100 sure':<{_NAME}} {axis}", "quiet"),)]
    columns = cells_wide(axis)
    bars = [(fitted(side.name, _NAME), _bar(side, columns)) for side in sides]
    return [*lines, *((Span(f"  {name} ", "name"), *bar) for name, bar in bars)]


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
    return (Span("".join(bar).rstrip(), role),)


def pair_in_words(pair: Pair, *, several: bool) -> list[str]:
    """The tests of a pair with what they say."""
    whose = f"{pair.first}, {pair.second}: " if several else ""
    by = (
        "Fisher's exact test"
        if pair.how_many_by == "Fisher"
        else "beta-binomial, the tray as unit, since trays differ more than coins do"
    )
    how_many = (
        f"{whose}how many: chance alone would part them so in {_of_100(pair.how_many.p)} of 100 "
        f"pairs ({by}){_after_holm(pair.how_many_p, pair.how_many.p)}."
    )
    said = [how_many]
    speed = pair.speed
    if isinstance(speed, SpeedTested):
        said.append(
            f"{whose}how fast those that come do: {_of_100(speed.p)} of 100 (two {speed.shape} "
            f"curves of one scale, likelihood ratio){_after_holm(pair.speed_p or 0.0, speed.p)}; "
            f"half-times apart by {_tenth(speed.days)} days ({_tenth(speed.low)} to "
            f"{_tenth(speed.high)})."
        )
    if pair.course is not None:
        said.append(
            f"{whose}the whole course, how many and how fast together: {_of_100(pair.course.p)} of "
            "100 (log-rank)."
        )
    if not pair.shown and pair.seeds_needed is not None:
        said.append(
            f"{whose}to show a difference as large as this, four times in five, you would need "
            f"about {_about(pair.seeds_needed)} of each."
        )
    return said if several else [f"{text[:1].upper()}{text[1:]}" for text in said]


def _tenth(days: float) -> str:
    """To a tenth, without a minus before nought."""
    return f"{round(days, 1) + 0.0:.1f}"


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
    if found.by == "station" or not every:
        return []
    if len(every) == 1:
        return [f"All of it came up at one place: {every[0]}."]
    where = [
        f"{side.name} {joined(some)}" for side, some in zip(found.sides, stations, strict=True)
    ]
    return [f"Not all at one place, so warmth may be the reason too: {', '.join(where)}."]


def _trays(side: Side) -> str:
    counted = joined([f"{one.up} of {one.seeds}" for one in side.cases])
    more = "more apart than" if (side.trays_p or 0) < 0.05 else "no more apart than"
    p = _of_100(side.trays_p or 0)
    return f"{side.name}: {counted}, {more} chance would put them ({p} of 100)."


def _left_out(found: Comparison, width: int) -> list[Line]:
    lines: list[Line] = []
    for one in found.left_out:
        lines += wrapped(f"Left out: {one.sowing} ({one.why}).", width, role="quiet")
    return lines
