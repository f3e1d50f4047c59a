"""One lot on a screen: what to do first, how it comes up, where it stands, its figures."""

from collections.abc import Sequence
from datetime import date

from msgspec import Struct

from seedstart.acts.sentences import entry_in_words
from seedstart.crop_table.crop import Caution
from seedstart.days import Window, short_day
from seedstart.drawing.emergence_bars import bars_in_words, emergence_bars
from seedstart.drawing.lines import Line, Role, Span, fitted, plain, wrapped
from seedstart.drawing.lots_table import (
    apart_in_words,
    caution_lines,
    percent_in_words,
)
from seedstart.growing.germination.time_curve import Time
from seedstart.planning.prospects.prospect import Prospect
from seedstart.season.journal.entries import Entry
from seedstart.season.plan.lot import Lot
from seedstart.text import plural
from seedstart.tracking.figures import LotFigure
from seedstart.tracking.standing import Standing
from seedstart.tracking.whereabouts import Group
from seedstart.units import Units

_WHERE, _PLANTS, _SINCE = 29, 8, 12
_WIDE = 60  # in less, a table keeps its first columns
_SOWING, _SEEDS, _UP, _HALF = 24, 7, 13, 15


class Stands(Struct, frozen=True):
    """Plants of a lot that stand together.

    Attributes:
        group: Where, in what, how many.
        since: The day since which they stand there; None where nobody said.
        next: What comes next of them.
    """

    group: Group
    since: date | None
    next: str


class Sowed(Struct, frozen=True):
    """A sowing of a lot, or plants of one, as the page tells of it.

    Attributes:
        standing: It.
        half: When half of those that come were up, days: by the curve of a closed one.
        nine_in_ten: Likewise nine in ten.
        prospect: Of a sowing from seed.
        history: Its entries in force.
    """

    standing: Standing
    half: Time | None
    nine_in_ten: Time | None
    prospect: Prospect | None
    history: tuple[Entry, ...]


class LotPage(Struct, frozen=True, kw_only=True):
    """What the page tells of a lot.

    Attributes:
        lot: Its plan.
        figure: What came up.
        drawn: The sowing whose bars are drawn, with its course; None before any is sown.
        to_sow: What comes next of it where nothing of it is sown.
        stands: Where its plants stand, by station.
        sowed: Its sowings, then what was pricked out or split off.
        warnings: What speaks against its dates.
        cautions: What can hurt of its crop.
        units: For the words.
    """

    lot: Lot
    figure: LotFigure
    drawn: Prospect | None
    to_sow: str
    stands: tuple[Stands, ...] = ()
    sowed: tuple[Sowed, ...] = ()
    warnings: tuple[str, ...] = ()
    cautions: tuple[Caution, ...] = ()
    units: Units = "metric"


def lot_page_lines(page: LotPage, width: int, height: int) -> list[Line]:
    """The page: the answer first.

    Args:
        page: What it tells.
        width: Columns.
        height: Lines of the drawing; 0 for its figures in words.
    """
    lines = _answer(page, width)
    if page.drawn is not None:
        bars = emergence_bars(page.drawn, width, height) if height else []
        lines += [plain(""), *(bars or bars_in_words(page.drawn, width))]
    if page.stands:
        lines += [plain(""), *_where(page.stands, width)]
    if page.drawn is not None and page.drawn.is_open and page.drawn.assumed:
        lines += wrapped(page.drawn.assumed, width, role="quiet", hang="")
    if page.sowed:
        lines += [plain(""), *_sowings(page, width)]
    lines += [plain(""), *_figures(page, width), *caution_lines(page.cautions, width)]
    for one in page.sowed:
        if one.history:
            lines += [plain(""), (Span(f"What was done with {one.standing.name}", "quiet"),)]
        for entry in one.history:
            lines += wrapped(entry_in_words(entry, page.units), width, indent="  ", role="quiet")
    return lines


def _answer(page: LotPage, width: int) -> list[Line]:
    """What to do; else how it came up, else when it is to be sown."""
    found, figure = page.drawn, page.figure
    if found is None:
        said = f"{page.to_sow[:1].upper()}{page.to_sow[1:]}." if page.to_sow else "Nothing planned."
        return wrapped(f"{said} Nothing of it is sown yet.", width, hang="")
    if found.advice is not None:
        role: Role = "plain" if found.advice.what in {"wait", "enough"} else "warn"
        return wrapped(found.advice.in_words, width, role=role, hang="")
    if figure.apart:
        return wrapped(apart_in_words(figure), width, role="warn", hang="")
    if figure.percent is not None:
        of = f"{figure.pooled_up} of {figure.pooled_seeds} {figure.of}"
        return wrapped(f"{of}: {percent_in_words(figure)}.", width, hang="")
    up = f"{found.up} of {found.seeds} up" if found.seeds else f"{found.up} up"
    return wrapped(f"{up}. {found.unknown}".strip(), width, hang="")


def _where(stands: Sequence[Stands], width: int) -> list[Line]:
    head = f"{'Where they stand':<{_WHERE}}{'plants':<{_PLANTS}}"
    head += f"{'since':<{_SINCE}}next" if width >= _WIDE else ""
    lines: list[Line] = [(Span(head.rstrip(), "quiet"),)]
    for one in stands:
        group = one.group
        place = group.station or "nowhere that was named"
        if group.tray:
            tray = group.tray
            place += f", {tray if tray.casefold().startswith('tray') else f'tray {tray}'}"
        plants = f"{group.plants} up" if group.plants else "seed"
        since = short_day(one.since) if one.since else ""
        cells = (
            f"{fitted(plants, _PLANTS)}{since:<{_SINCE}}{one.next}" if width >= _WIDE else plants
        )
        lines.append((
            Span(fitted(f"  {place}", _WHERE), "name"),
            Span(fitted(cells, max(width - _WHERE, 1)).rstrip()),
        ))  # fmt: skip
    return lines


def _sowings(page: LotPage, width: int) -> list[Line]:
    head = f"{'Sowings':<{_SOWING}}{'seeds':<{_SEEDS}}{'up':<{_UP}}{'half up by':<{_HALF}}"
    head = f"{head}90 in 100 up by" if width >= _WIDE else fitted(head, width).rstrip(" …")
    lines: list[Line] = [(Span(head, "quiet"),)]
    for one in page.sowed:
        sowing = one.standing
        name = f"  {fitted(sowing.name, _SOWING - 10)} {short_day(sowing.at.date())}"
        if not sowing.from_seed:
            text = f"{plural(sowing.plants, 'plant')} of {_mother(sowing, page)}"
            cells = f"{text}, {sowing.standing} there now"
        else:
            seeds = str(sowing.seeds) if sowing.seeds is not None else "?"
            up = f"{sowing.emerged}{'' if sowing.closed else ' so far'}"
            half, nine = _days(one)
            cells = f"{seeds:<{_SEEDS}}{up:<{_UP}}{half:<{_HALF}}{nine}"
        lines.append((
            Span(fitted(name, _SOWING), "name"),
            Span(fitted(cells, max(width - _SOWING, 1)).rstrip()),
        ))  # fmt: skip
    return lines


def _mother(sowing: Standing, page: LotPage) -> str:
    """Whose plants they were."""
    names = {one.standing.id: one.standing.name for one in page.sowed}
    return next((names[one] for one in sowing.mothers if one in names), page.lot.name)


def _days(one: Sowed) -> tuple[str, str]:
    """`day 8 (7–8)`: of a closed sowing by its curve, of an open one as it is expected."""
    if one.half is not None and one.nine_in_ten is not None:
        return _time(one.half), _time(one.nine_in_ten)
    found = one.prospect
    if found is None or not found.is_open:
        return "no curve", ""
    return _expected(found, found.half), _expected(found, found.nine_in_ten)


def _time(time: Time) -> str:
    low, high = round(time.low), round(time.high)
    return f"day {time.best:.0f}{f' ({low}–{high})' if low != high else ''}"


def _expected(found: Prospect, window: Window | None) -> str:
    if window is None or found.zero is None:
        return ""
    zero = found.zero.date()
    low, best, high = ((day - zero).days for day in (window.earliest, window.best, window.latest))
    return f"day {best}{f' ({low}–{high})' if low != high else ''}"


def _figures(page: LotPage, width: int) -> list[Line]:
    """Its percentage, what is left out of it, and what speaks against its dates."""
    figure, lines = page.figure, []
    if page.drawn is not None and page.drawn.advice is not None:
        if figure.apart:
            lines += wrapped(apart_in_words(figure), width, role="warn")
        elif figure.percent is not None:
            share = f"{figure.pooled_up} of {figure.pooled_seeds} {figure.of} in closed sowings"
            lines += wrapped(f"{share}: {percent_in_words(figure)}, Wilson.", width)
    for left in figure.left_out if figure.percent is not None else ():
        lines += wrapped(f"Left out: {left.sowing} ({left.why}).", width, role="quiet")
    for said in page.warnings:
        lines += wrapped(f"! {said}", width, role="warn")
    return lines
