"""One row of the calendar whole: its dates, the reckoning of each, and who says so."""

from collections.abc import Iterator, Mapping
from typing import Final

from seedstart.crop_table.crop import Source
from seedstart.days import long_day, short_day
from seedstart.drawing.lines import Line, Role, Span, heading, plain, wrapped
from seedstart.planning.row import IN_WORDS, Happening, Row, Step, row_key, window_in_words
from seedstart.text import joined

_STEP_WIDE: Final = 15
_ROLES: Final[dict[Happening, Role]] = {
    "planned": "planned",
    "expected": "expected",
    "happened": "happened",
}


def row_sheet_lines(row: Row, sources: Mapping[str, Source], width: int = 80) -> list[Line]:
    """The whole sheet.

    Args:
        row: The row.
        sources: What the reasons' source keys stand for.
        width: Columns.
    """
    numbers: dict[str, int] = {}
    lines = [heading(row_key(row)), *wrapped(_what(row), width, role="quiet", hang="")]
    for said in (row.problem, *row.warnings):
        lines += wrapped(f"! {said}", width, role="warn") if said else []
    for step in row.steps:
        lines += [plain(""), _step_line(step), *_reasons(row, step, width, numbers)]
    lines += _other_reasons(row, width, numbers)
    if numbers:
        lines += [plain(""), heading("Who says so")]
    for key, number in numbers.items():
        lines += wrapped(_cited(number, key, sources), width, role="quiet", hang="    ")
    return lines


def _what(row: Row) -> str:
    seeds = f"sow {row.seeds} seeds" if row.seeds and row.sowing is None else ""
    station = f"at the {joined(list(row.stations))}" if row.stations else ""
    return "; ".join(part for part in (row.crop, row.variety, station, seeds) if part)


def _step_line(step: Step) -> Line:
    name = step.says or IN_WORDS[step.name]
    if step.window is None:
        return (Span(f"{name:<{_STEP_WIDE}} ", "name"), Span("no date", "warn"))
    day = long_day(step.window.best)
    spans = [Span(f"{name:<{_STEP_WIDE}} ", "name"), Span(f"{day}  {step.is_}", _ROLES[step.is_])]
    if step.missed is not None:
        spans.append(Span(f"  was {window_in_words(step.missed)}", "quiet"))
    elif step.is_ != "happened" and step.window.days:
        first, last = short_day(step.window.earliest), short_day(step.window.latest)
        fits = "" if step.name == "emerge" else " will do"
        spans.append(Span(f"  {first} to {last}{fits}", "quiet"))
    return tuple(spans)


def _reasons(row: Row, step: Step, width: int, numbers: dict[str, int]) -> Iterator[Line]:
    for reason in row.reasons:
        if reason.step == step.name:
            cited = _marks(reason.sources, numbers)
            yield from wrapped(f"{reason.text}{cited}", width, indent="    ", hang="")


def _other_reasons(row: Row, width: int, numbers: dict[str, int]) -> Iterator[Line]:
    """Reasons of steps that this row does not have."""
    dated = {step.name for step in row.steps}
    for reason in row.reasons:
        if reason.step not in dated:
            text = f"{IN_WORDS[reason.step]}: {reason.text}{_marks(reason.sources, numbers)}"
            yield plain("")
            yield from wrapped(text, width)


def _marks(sources: tuple[str, ...], numbers: dict[str, int]) -> str:
    marks = sorted(numbers.setdefault(key, len(numbers) + 1) for key in sources)
    return f" [{', '.join(map(str, marks))}]" if marks else ""


def _cited(number: int, key: str, sources: Mapping[str, Source]) -> str:
    source = sources.get(key)
    return f"[{number}] {source.text}" if source else f"[{number}] {key}"
