"""One sowing of the calendar in words: its dates, and each with its reasons and sources."""

from collections.abc import Iterator, Mapping
from typing import Final

from seedstart.crop_table.crop import Source
from seedstart.days import Window, long_day, short_day
from seedstart.drawing.lines import Line, Role, Span, cells_wide, fitted, heading, plain, wrapped
from seedstart.planning.calendar.row import (
    IN_WORDS,
    Happening,
    Row,
    Step,
    StepName,
    row_key,
    window_in_words,
)
from seedstart.text import joined, plural

HAPPENED: Final = "✓"
_WORD: Final = 12
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
        lines += [plain(""), heading("Sources")]
    for key, number in numbers.items():
        lines += wrapped(_cited(number, key, sources), width, role="quiet", hang="    ")
    return lines


_DONE: Final[dict[StepName, str]] = {
    "treat": "treated",
    "sow": "sown",
    "emerge": "up",
    "prick_out": "pricked out",
    "pot_on": "potted on",
    "harden": "hardening off",
    "set_out": "out",
}


def dates_in_words(row: Row) -> list[str]:
    """Each of its dates in a few words: `sown 18 Mar`, `prick out since 8 Apr, till 18 Apr`."""
    said = [_dated(row, step, step.window) for step in row.steps if step.window is not None]
    return said or [row.problem or "no date"]


def _dated(row: Row, step: Step, window: Window) -> str:
    day = short_day(window.best)
    if step.is_ == "happened":
        return f"{_DONE[step.name]} {day}"
    word = step.says or {"set_out": "out", "harden": "harden"}.get(step.name, IN_WORDS[step.name])
    if step.missed is not None:
        return f"{word} since {short_day(step.missed.best)}, till {short_day(step.missed.latest)}"
    if step.name == "sow" and row.seeds:
        word = f"sow {plural(row.seeds, 'seed')}"
    if step.name in {"sow", "set_out"} and window.earliest != window.latest:
        first, last = short_day(window.earliest), short_day(window.latest)
        return f"{word} {window.best:%a} {day}, any day from {first} to {last}"
    return f"{word} {day}"


def dates_lines(row: Row, width: int) -> list[Line]:
    """The dates of a row as running text, its name before it; a date is never broken."""
    name = f"{row_key(row)}   "
    lines, said = [], ""
    room = max(width - cells_wide(name), 20)
    for part in dates_in_words(row):
        more = f"{said} · {part}" if said else part
        if said and cells_wide(more) > room:
            lines.append(said)
            more = part
        said = more
    names = (name, " " * cells_wide(name))
    return [
        (Span(names[bool(number)], "name"), Span(fitted(text, room).rstrip()))
        for number, text in enumerate([*lines, said])
    ]


def row_beside_lines(row: Row, sources: Mapping[str, Source], width: int) -> list[Line]:
    """The same in a narrow column: the dates under each other, then why, then the sources."""
    numbers: dict[str, int] = {}
    lines = [heading(row_key(row)), *wrapped(_what(row), width, role="quiet", hang=""), plain("")]
    for said in (row.problem, *row.warnings):
        lines += wrapped(f"! {said}", width, role="warn") if said else []
    lines += [_beside(step, step.window) for step in row.steps if step.window is not None]
    lines += [plain(""), heading("Why")]
    for reason in row.reasons:
        cited = _marks(reason.sources, numbers)
        lines += wrapped(f"{reason.text}{cited}", width, hang="")
    if numbers:
        lines += [plain(""), heading("Sources")]
    for key, number in numbers.items():
        lines += wrapped(_cited(number, key, sources), width, role="quiet", hang="    ")
    return lines


def steps_to_come(row: Row) -> list[Line]:
    """The steps of a row that have not happened, a line each, for a narrow column."""
    return [_beside(step, step.window) for step in row.steps if step.window and not _is_done(step)]


def _is_done(step: Step) -> bool:
    return step.is_ == "happened"


def _beside(step: Step, window: Window) -> Line:
    word = IN_WORDS[step.name]
    if step.is_ == "happened":
        word = _DONE[step.name]
    word = word.removesuffix(" off")
    day = f"{window.best:%a} {window.best.day:>2} {window.best:%b}"
    if step.is_ == "happened":
        return (Span(f"{word:<{_WORD}}"), Span(f"{day} {HAPPENED}", "happened"))
    if step.missed is not None:
        said = f"since {short_day(step.missed.best)}, till {short_day(step.missed.latest)}"
        return (Span(f"{word:<{_WORD}}"), Span(said, "warn"))
    first, last = short_day(window.earliest), short_day(window.latest)
    between = f"  {first}–{last}" if first != last else ""
    return (Span(f"{word:<{_WORD}}"), Span(day, "expected"), Span(between, "quiet"))


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
