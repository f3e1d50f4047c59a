"""Lots on a screen: a line a lot, in one of two sets of columns, and what is said of each."""

from collections.abc import Iterable
from datetime import date
from typing import Final, Literal

from msgspec import Struct

from seedstart.crop_table.crop import Crop
from seedstart.days import short_day
from seedstart.drawing.lines import Line, Role, Span, fitted
from seedstart.drawing.lots_table import percent_in_words
from seedstart.planning.calendar.row import IN_WORDS, Row, Step, StepName
from seedstart.planning.prospects.prospect import Advice, AdviceWord, ToCome
from seedstart.season.plan.lot import Lot
from seedstart.text import joined, plural
from seedstart.tracking.figures import LotFigure, seeds_of, up_of
from seedstart.tracking.standing import SowingState, Standing

Columns = Literal["next", "figures"]
# Cells of each column, the gap behind it counted in; the last takes what is left.
_NAME, _STATE, _UP, _WANT, _WHERE = 15, 11, 10, 4, 15
_SOW, _CAME_UP, _PERCENT, _HALF = 8, 18, 15, 9
# What stands in place of what comes next where something is to be done, the most urgent first.
_TO_DO: Final[dict[AdviceWord, str]] = {
    "sow again": "sow again", "dig": "dig a few up", "look": "look at it",
    "warmer": "too cold", "cooler": "too hot", "too late": "too late to sow",
}  # fmt: skip
_SHORT: Final[dict[StepName, str]] = {"harden": "harden", "set_out": "out"}
_AHEAD: Final[tuple[StepName, ...]] = ("prick_out", "pot_on", "harden", "set_out")
# The order of states in the head.
_STATES: Final[tuple[SowingState, ...]] = ("coming up", "growing", "to sow", "over")


class LotLine(Struct, frozen=True):
    """One lot as it is listed.

    Attributes:
        lot: Its plan.
        figure: What came up.
        label: Its name; of several sowings that of the one in sight.
        state: How far that is; days behind `waiting`.
        up: How many of it are up, of how many.
        where: Where its plants stand now, else where it is to be sown.
        next: What comes next of it, or what is to be done.
        is_urgent: Whether something is to be done about it, or speaks against its dates.
        sow: Its next day to sow, or the last on which it was sown; a hook behind that.
        day: When what comes next falls due; None where nothing does.
        says: Two rows about it, for the line under the cursor.
    """

    lot: Lot
    figure: LotFigure
    label: str
    state: str
    up: str
    where: str
    next: str
    is_urgent: bool
    sow: str
    day: date | None
    says: tuple[str, str]


def lot_line_of(
    lot: Lot,
    figure: LotFigure,
    rows: tuple[Row, ...],
    today: date,
    *,
    crop: Crop,
    stations: tuple[str, ...] = (),
    advice: Iterable[Advice] = (),
    to_come: ToCome | None = None,
) -> LotLine:
    """What is listed of a lot.

    Args:
        lot: The lot.
        figure: What came up.
        rows: Its rows of the calendar, by the day to sow.
        today: The day.
        crop: Its crop.
        stations: Where its plants stand now, those with most of them first.
        advice: What to do about each of its sowings that may give too few.
        to_come: Of the sowing in sight (`in_sight`), where more of it may come.
    """
    one = in_sight(figure)
    told = {each.what: each for each in advice}
    to_do = next((told[what] for what in _TO_DO if what in told), None)
    enough = bool(lot.want) and to_come is not None and to_come.up >= (lot.want or 0)
    says, day = _next(figure, rows, today, to_do, None if enough else to_come)
    made = [row for row in rows if row.sowing is not None]
    row = made[-1] if made else next((row for row in rows if row.sow_day), None)
    sow_day = row.sow_day if row else None
    return LotLine(
        lot=lot,
        figure=figure,
        label=one.name if one is not None and figure.sowings[1:] else lot.name,
        state=_state(figure, one, today),
        up=_up(figure, one),
        where=_where(lot, figure, stations),
        next=says,
        is_urgent=figure.apart
        or to_do is not None
        or any(each.problem or each.warnings for each in rows),
        sow=f"{short_day(sow_day)}{'✓' if made else ''}" if sow_day else "no date",
        day=day,
        says=(_what_stands(lot, one, to_come), _what_counts(lot, figure, crop)),
    )


def in_sight(figure: LotFigure) -> Standing | None:
    """The sowing whose figures stand in a lot's line: the latest of its trays that lives."""
    grown = figure.grown
    return next((one for one in reversed(grown) if one.alive), grown[-1] if grown else None)


def _state(figure: LotFigure, one: Standing | None, today: date) -> str:
    if one is None:
        return "to sow"
    state = one.state
    if state != "waiting":
        return state if state != "over" or figure.state == "over" else figure.state
    return f"waiting {(today - one.at.date()).days}"


def _up(figure: LotFigure, one: Standing | None) -> str:
    if one is None:
        return ""
    if figure.clusters and one.cells_up is None and one.emerged:
        return f"{one.emerged} up"
    seeds = seeds_of(one, clusters=figure.clusters)
    up = up_of(one, clusters=figure.clusters)
    return f"{up} of {seeds}" if seeds else f"{up} up"


def _where(lot: Lot, figure: LotFigure, stations: tuple[str, ...]) -> str:
    """Where it stands now, else where it is to be sown: `shelf, sill`, `heat mat +2`."""
    if not stations:
        return "" if figure.sowings else lot.station or ""
    every, room = ", ".join(stations), _WHERE - 3
    if len(every) <= room:
        return every
    more = f" +{len(stations) - 1}" if stations[1:] else ""
    return fitted(stations[0], room - len(more)).rstrip() + more


def _next(
    figure: LotFigure,
    rows: tuple[Row, ...],
    today: date,
    to_do: Advice | None,
    to_come: ToCome | None,
) -> tuple[str, date | None]:
    """What comes next, and its day."""
    if to_do is not None:
        return _advised(to_do), today
    if figure.apart:
        percents = [f"{100 * each.up / each.of:.0f}" for each in figure.differing]
        return f"{', '.join(percents[-2:])} %: test it", today
    step = _step_ahead(rows)
    is_open = to_come is not None and to_come.is_open
    if to_come is not None and is_open and (step is None or step.missed is None):
        said, day = _coming(to_come, today)
        if said or step is None:
            return said or "close the count", day
    return _dated(step, today) if step is not None else _to_sow(rows)


def next_of(rows: tuple[Row, ...], today: date) -> str:
    """What comes next of what was sown, or is to be sown: `prick out 12 Apr`; empty for nothing."""
    step = _step_ahead(rows)
    return (_dated(step, today) if step is not None else _to_sow(rows))[0]


def _advised(advice: Advice) -> str:
    said = _TO_DO[advice.what]
    if advice.where is not None:
        return f"{said}: {advice.where}"
    if advice.until is not None:
        return f"{said} by {short_day(advice.until)}"
    return said


def _step_ahead(rows: tuple[Row, ...]) -> Step | None:
    """The next step of what was sown; of several sowings the one that falls due first."""
    steps = [
        next((step for name in _AHEAD if (step := _open(row, name)) is not None), None)
        for row in rows
        if row.sowing is not None
    ]
    return min(
        (step for step in steps if step is not None),
        key=lambda step: step.best_day or date.max,
        default=None,
    )


def _open(row: Row, name: StepName) -> Step | None:
    step = row.step(name)
    return step if step is not None and step.is_ != "happened" and step.window else None


def _word(step: Step) -> str:
    return _SHORT.get(step.name, IN_WORDS[step.name])


def _dated(step: Step, today: date) -> tuple[str, date | None]:
    """`prick out 12 Apr`; `prick out, 2 d over`."""
    if step.missed is not None:
        return f"{_word(step)}, {(today - step.missed.best).days} d over", step.missed.best
    day = step.best_day
    return (f"{_word(step)} {short_day(day)}", day) if day else ("", None)


def _coming(to_come: ToCome, today: date) -> tuple[str, date | None]:
    """What is still to come up: when, where none is up; how many more; nothing where none."""
    when = to_come.expected
    if not to_come.up:
        if when is None:
            return "no date", None
        if when.earliest <= today:  # none is up, so none came on a day that is past
            return f"up by {short_day(max(when.latest, today))}", when.best
        return f"up {_from_to(when.earliest, when.latest)}", when.best
    total = to_come.total
    if to_come.more_is_expected and total is not None:
        low, high = round(total.low) - to_come.up, round(total.high) - to_come.up
        if high > 0:
            return f"wait: {max(low, 0)} to {high} more", to_come.last_day
    return "", to_come.last_day


def _from_to(first: date, last: date) -> str:
    """`12 to 20 Apr`; `28 Mar to 4 Apr`."""
    if first.month == last.month:
        return short_day(last) if first == last else f"{first.day} to {short_day(last)}"
    return f"{short_day(first)} to {short_day(last)}"


def _to_sow(rows: tuple[Row, ...]) -> tuple[str, date | None]:
    row = next((each for each in rows if each.sowing is None and each.sow_day), None)
    if row is None or row.sow_day is None:
        return ("no date", None) if any(each.problem for each in rows) else ("", None)
    treat = row.step("treat")
    first = ""
    if treat is not None and treat.is_ != "happened" and treat.treatments:
        first = f"{treat.treatments[0].what}, "
    seeds = f" {row.seeds}" if row.seeds else ""
    return f"{first}sow{seeds} on {short_day(row.sow_day)}", row.sow_day


def _what_stands(lot: Lot, one: Standing | None, to_come: ToCome | None) -> str:
    """`tomato-plum   22 sown 1 Apr for 16 plants; 15 up, 18 likely (16 to 20)` and a stop."""
    wanted = f" for {plural(lot.want, 'plant')}" if lot.want else ""
    if one is None:
        return (
            f"{lot.name}   Nothing of it is sown yet{f'; wanted:{wanted[4:]}' if wanted else ''}."
        )
    seeds = one.seeds if one.seeds is not None else "Not counted,"
    said = f"{one.name}   {seeds} sown {short_day(one.at.date())}{wanted}; {one.emerged} up"
    total = to_come.total if to_come is not None and to_come.is_open else None
    if total is not None:
        said += f", {total.best:.0f} likely ({total.low:.0f} to {total.high:.0f})"
    gone = one.emerged - one.standing
    return f"{said}{f', {one.standing} still there' if gone and one.alive else ''}."


def _what_counts(lot: Lot, figure: LotFigure, crop: Crop) -> str:
    """What its percentage is, or why there is none; how old its seed is; the legal least."""
    if figure.apart:
        percents = joined([f"{100 * each.up / each.of:.0f}" for each in figure.differing])
        said = f"Its sowings gave {percents} in 100, more apart than chance would put them."
    elif figure.percent is not None and figure.interval is not None:
        said = (
            f"{percent_in_words(figure)} {figure.of}, {figure.pooled_up} of {figure.pooled_seeds}."
        )
    elif figure.sowings:
        closed = any(one.closed is not None for one in figure.sowings)
        said = (
            "No closed count had a fair chance: no percentage."
            if closed
            else "No count is closed yet, so no percentage."
        )
    else:
        said = ""
    seed = f"Seed of {lot.harvested}" if lot.harvested and lot.harvested != "unknown" else ""
    least = crop.minimum_germination_percent
    legal = f"label minimum {least.best:g} %" if least else ""
    both = "; ".join(part for part in (seed, legal) if part)
    return f"{said} {both[:1].upper()}{both[1:]}{'.' if both else ''}".strip()


def states_in_words(lines: Iterable[LotLine]) -> str:
    """`8 coming up, 9 growing, 7 to sow, 2 over`; those waited for are to come up."""
    seen = (line.figure.state for line in lines)
    states = ["coming up" if state == "waiting" else state for state in seen]
    return ", ".join(f"{states.count(state)} {state}" for state in _STATES if state in states)


def lots_head(columns: Columns = "next") -> Line:
    """The names of the columns."""
    if columns == "figures":
        cells = (("lot", _NAME), ("sow", _SOW), ("up", _CAME_UP), ("percent", _PERCENT),
                 ("half up", _HALF), ("crop", 0))  # fmt: skip
    else:
        cells = (("lot", _NAME), ("state", _STATE), ("up", _UP), ("want", _WANT),
                 ("  stands at", _WHERE), ("next", 0))  # fmt: skip
    return (Span("  " + "".join(f"{name:<{wide}}" for name, wide in cells), "quiet"),)


def lot_list_line(line: LotLine, width: int, columns: Columns = "next") -> Line:
    """A lot: its sign, its name, and the cells of a set of columns."""
    role: Role = "quiet" if not line.figure.sowings or line.figure.state == "over" else "plain"
    rest = width - 2 - _NAME
    return (
        Span("! " if line.is_urgent else "  ", "warn"),
        Span(_cell(line.label, _NAME), "name"),
        *(_figures(line, rest, role) if columns == "figures" else _ahead(line, rest, role)),
    )


def _ahead(line: LotLine, width: int, role: Role) -> tuple[Span, ...]:
    want = f"{line.lot.want}" if line.lot.want else ""
    cells = f"{_cell(line.state, _STATE)}{_cell(line.up, _UP)}{want:>{_WANT}}"
    cells += f"  {_cell(line.where, _WHERE - 2)}"
    urgent: Role = "warn" if line.is_urgent and line.figure.sowings else role
    return Span(cells, role), Span(fitted(line.next, max(width - len(cells), 1)).rstrip(), urgent)


def _figures(line: LotLine, width: int, role: Role) -> tuple[Span, ...]:
    figure = line.figure
    # Of what still comes up half is not up: the lot's page says when it will be.
    half = figure.t50_days if figure.percent is not None else None
    cells = _cell(line.sow, _SOW) + _cell(figure.came_up, _CAME_UP)
    cells += _cell(percent_in_words(figure).replace(" to ", "–"), _PERCENT)
    cells += _cell(f"day {half:.0f}" if half is not None else "", _HALF)
    return (Span(f"{cells}{fitted(line.lot.crop, max(width - len(cells), 1))}".rstrip(), role),)


def _cell(text: str, wide: int) -> str:
    """A text and the gap behind it, in so many cells."""
    return fitted(text, wide - 1) + " "
