"""The sowing calendar as lines of text: a row a sowing, under the week in which it is sown."""

from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from itertools import groupby

from seedstart.crop_table.crop import Source
from seedstart.days import Window, iso_week, monday_of, short_day
from seedstart.drawing.lines import Line, Span, fitted, heading, plain, wrapped
from seedstart.drawing.row_sheet import HAPPENED
from seedstart.planning.calendar.row import (
    IN_WORDS,
    Row,
    StepName,
    row_key,
    when_in_words,
)
from seedstart.text import folded, joined, natural

# At 80 columns: a name, then a column a step. Gaps are two cells.
_NAME = 17
_NAME_BESIDE_SEEDS = 15
_SEEDS = 5
_SPAN = 13
_DAY = 6
_PASSED = ">"
_LATER: tuple[tuple[StepName, str], ...] = (
    ("emerge", "up"),
    ("prick_out", "prick"),
    ("harden", "harden"),
    ("set_out", "out"),
)


def calendar_lines(
    rows: Iterable[Row],
    sentence: str,
    *,
    width: int = 80,
    why: bool = False,
    sources: Mapping[str, Source] | None = None,
    in_full: str = "",
) -> list[Line]:
    """The whole calendar.

    Args:
        rows: Its rows, in any order.
        sentence: What the frost date means.
        width: Columns to use for text; the table takes 79.
        why: Whether to explain each row.
        sources: What the reasons' source keys stand for, to list them at the end.
        in_full: Where they are told in full.
    """
    rows = list(rows)
    dated = [row for row in rows if row.sow_day]
    undated = [row for row in rows if not row.sow_day]
    seeds = any(row.seeds for row in dated)
    numbers: dict[str, int] = {}
    lines = [
        heading("Sowing calendar"),
        *wrapped(sentence, width, role="quiet", hang=""),
        plain(""),
    ]
    if dated:
        lines.append(_columns(seeds=seeds))
    for monday, in_week in groupby(_by_week(dated), key=lambda job: monday_of(job[0])):
        lines.append(heading(f"{iso_week(monday)}  from Mon {short_day(monday)} {monday.year}"))
        for day, row in in_week:
            if day != _sow(row).best:
                lines.append(_ahead_line(row, day, seeds=seeds))
                continue
            lines += [_row_line(row, seeds=seeds), *_kind_line(row, width)]
            lines += _treatment(row)
            if why:
                lines += _why(row, width, numbers)
    lines += _signs(dated)
    lines += _needs_a_look(dated, width)
    lines += _no_date(undated, width)
    if numbers and sources:
        lines += [plain(""), *_sources_in_short(numbers, sources, in_full, width)]
    return lines


def _by_week(rows: Iterable[Row]) -> list[tuple[date, Row]]:
    """Every sowing on its day, and a treatment that begins in a week before it on its own."""
    jobs = [(_sow(row).best, row) for row in rows]
    jobs += [(day, row) for _, row in jobs if (day := _treated_ahead(row)) is not None]
    return sorted(jobs, key=lambda job: (job[0], natural(row_key(job[1]))))


def _treated_ahead(row: Row) -> date | None:
    """The day on which its seed is laid cold, where that is no job of the week of sowing."""
    treat = row.step("treat")
    if treat is None or treat.window is None or treat.is_ == "happened":
        return None
    day = treat.window.best
    return day if monday_of(day) < monday_of(_sow(row).best) else None


def _ahead_line(row: Row, day: date, *, seeds: bool) -> Line:
    """`lavender   27 Jan stratify 42 days, then sow on 10 Mar`."""
    treat = row.step("treat")
    says = treat.says if treat else ""
    name = fitted(row_key(row), _NAME_BESIDE_SEEDS if seeds else _NAME)
    gap = " " * (_SEEDS + 2) if seeds else ""
    what = f"{fitted(short_day(day), _DAY)}  {says}, then sow on {short_day(_sow(row).best)}"
    return (Span("  "), Span(f"{name}  {gap}", "name"), Span(what))


def _signs(rows: list[Row]) -> Iterator[Line]:
    """What the signs behind dates mean, where there are any."""
    steps = [step for row in rows for step in row.steps]
    if any(step.is_ == "happened" for step in steps):
        yield (Span(f"  {HAPPENED} done; later dates follow from it", "quiet"),)
    if any(step.missed for step in steps):
        text = (
            "overdue: later dates are worked out from today (the reasons name the day it was due)"
        )
        yield (Span(f"  {_PASSED} {text}", "quiet"),)


def _sow(row: Row) -> Window:
    window = row.window("sow")
    if window is None:
        raise ValueError("only dated rows stand under a week")
    return window


def _columns(*, seeds: bool) -> Line:
    cells = [fitted("", 2 + (_NAME_BESIDE_SEEDS if seeds else _NAME))]
    if seeds:
        cells.append("seeds".rjust(_SEEDS))
    cells += [fitted("sow", _DAY), fitted("between", _SPAN)]
    cells += [fitted(label, _DAY) for _, label in _LATER]
    return (Span("  ".join(cells).rstrip(), "quiet"),)


def _row_line(row: Row, *, seeds: bool) -> Line:
    sow = _sow(row)
    name = fitted(row_key(row), _NAME_BESIDE_SEEDS if seeds else _NAME)
    spans = [Span("! " if row.warnings or row.problem else "  ", "warn"), Span(f"{name}  ", "name")]
    if seeds:
        spans.append(Span(f"{row.seeds or '':>{_SEEDS}}  "))
    between = f"{short_day(sow.earliest)}–{short_day(sow.latest)}"
    sown = _has_happened(row, "sow")
    spans += [
        _day(row, "sow"),
        Span(fitted("sown" if sown else between, _SPAN) + "  ", "quiet"),
        *(_day(row, name) for name, _ in _LATER),
    ]
    return tuple(spans)


def _kind_line(row: Row, width: int) -> Iterator[Line]:
    """Crop and variety, where the label that a row is called by does not say the crop."""
    if folded(row.crop) in folded(row_key(row)).replace("-", " "):
        return
    kind = f"{row.crop}, {row.variety}" if row.variety else row.crop
    yield (Span(f"      {fitted(kind, max(width - 6, 1)).rstrip()}", "quiet"),)


def _treatment(row: Row) -> Iterator[Line]:
    """What is done to the seed before, on a line of its own: a soak is soon forgotten."""
    sow = row.step("sow")
    if sow is not None and sow.window is not None and sow.says and sow.is_ != "happened":
        yield (Span(f"      {sow.says} from {short_day(sow.window.earliest)}", "quiet"),)
    treat = row.step("treat")
    here = treat is not None and treat.is_ != "happened" and _treated_ahead(row) is None
    if treat is not None and treat.window is not None and here:
        yield (Span(f"      {treat.says} from {short_day(treat.window.best)}", "quiet"),)


def _day(row: Row, name: StepName) -> Span:
    """The best day of a step; in the gap a sign where it has happened, or passed undone."""
    step = row.step(name)
    window = row.window(name)
    happened = _has_happened(row, name)
    text = fitted(short_day(window.best) if window else "-", _DAY)
    sign = HAPPENED if happened else _PASSED if step and step.missed else " "
    return Span(f"{text}{sign} ", "happened" if happened else "plain")


def _has_happened(row: Row, name: StepName) -> bool:
    step = row.step(name)
    return step is not None and step.is_ == "happened"


def _why(row: Row, width: int, numbers: dict[str, int]) -> Iterator[Line]:
    for reason in row.reasons:
        marks = sorted(numbers.setdefault(key, len(numbers) + 1) for key in reason.sources)
        cited = f" [{', '.join(map(str, marks))}]" if marks else ""
        text = f"{IN_WORDS[reason.step]}: {reason.text}{cited}"
        yield from wrapped(text, width, indent="      ", role="quiet")
    yield from _windows(row, width)


def _windows(row: Row, width: int) -> Iterator[Line]:
    """Every window of the row whole, which the table has no room for."""
    parts = [
        f"{step.says or IN_WORDS[step.name]} {when_in_words(step)}"
        for step in row.steps
        if step.window
    ]
    yield from wrapped(f"windows: {'; '.join(parts)}.", width, indent="      ", role="quiet")


def _needs_a_look(rows: list[Row], width: int) -> Iterator[Line]:
    said = [(row_key(row), text) for row in rows for text in (row.problem, *row.warnings) if text]
    if not said:
        return
    yield plain("")
    yield heading("! Faults")
    for name, text in said:
        yield from wrapped(f"{name}: {text}", width, indent="  ", role="warn")


def _no_date(rows: list[Row], width: int) -> Iterator[Line]:
    if not rows:
        return
    yield plain("")
    yield heading("No date")
    alike: dict[str, list[str]] = {}
    for row in sorted(rows, key=lambda row: natural(row_key(row))):
        alike.setdefault(row.problem or "", []).append(row_key(row))
    for problem, names in alike.items():
        yield from wrapped(f"{joined(names)}: {problem}", width, indent="  ", role="warn")


def _sources_in_short(
    numbers: Mapping[str, int], sources: Mapping[str, Source], in_full: str, width: int
) -> list[Line]:
    """Sources, in one paragraph: whole citations would bury the reasons."""
    cited = [
        f"[{number}] {sources[key].institution if key in sources else key}"
        for key, number in numbers.items()
    ]
    text = f"Sources: {'; '.join(cited)}. {in_full}".rstrip()
    return wrapped(text, width, role="quiet")
