"""Stations as lines: one each for the list, and the whole of one."""

from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime
from itertools import groupby
from typing import Final

from seedstart.crop_table.crop import BASIS_IN_WORDS
from seedstart.days import iso_week, short_day
from seedstart.drawing.lines import (
    Line,
    Role,
    Span,
    as_text,
    cells_wide,
    fitted,
    heading,
    plain,
    wrapped,
)
from seedstart.drawing.measured_curves import warmth_curve_lines, warmth_in_words
from seedstart.planning.space.clashes import Clash
from seedstart.planning.space.room_by_week import Load, Uncounted
from seedstart.planning.space.stations_now import CropLimits, StandsThere, StationView
from seedstart.text import joined, plural
from seedstart.tracking.whereabouts import containers_of
from seedstart.units import Units

_MOST_NAMES = 5
_BAR = 30
_HALF, _FULL_UP = "·", "█"


def space_lines(
    loads: Iterable[Load],
    clashes: Sequence[Clash],
    left_out: Uncounted,
    width: int = 80,
) -> list[Line]:
    """A line for each station and week with something on it, then the clashes with their remedies.

    Args:
        loads: What each station carries.
        clashes: Where it is too much.
        left_out: What is not counted.
        width: Columns.
    """
    loads = list(loads)
    lines = [heading("Space by station and week")]
    station = None
    for load in loads:
        if load.station != station:
            station = load.station
            lines += [plain(""), heading(_station(load))]
        lines.append(week_line(load, width))
    if station is None:
        lines.append(plain("Nothing is at a station yet."))
    for names, why in (
        (left_out.nowhere, "no station is named for them"),
        (left_out.unsized, "nobody knows how large their trays or pots are"),
    ):
        if names:
            text = f"Not counted, because {why}: {_few(names)}."
            lines += [plain(""), *wrapped(text, width, role="warn", hang="")]
    lines += _fits(loads, clashes, width, all_counted=not any(left_out))
    if not clashes:
        return lines
    lines += [plain(""), heading("! Too full")]
    for clash in clashes:
        lines += wrapped(_clash(clash), width, indent="  ", role="warn")
        for remedy in clash.remedies:
            lines += wrapped(f"- {remedy}", width, indent="    ")
    return lines


def _fits(
    loads: Sequence[Load], clashes: Sequence[Clash], width: int, *, all_counted: bool
) -> Iterator[Line]:
    """Whether it does, and where nobody can tell."""
    bare = list(dict.fromkeys(load.station for load in loads if load.of_m2 is None))
    measured = any(load.of_m2 is not None for load in loads)
    if not clashes and measured:
        counted = "Everything" if all_counted else "What is counted"
        fits = "Everything fits at the stations with an area." if bare else f"{counted} fits."
        yield from (plain(""), plain(fits))
    if bare:
        text = (
            f"No area is given for {_few(bare)}, so nobody can tell whether it fits there: write "
            '`area = "1.2 x 0.5 m"` in season.toml.'
        )
        yield from (plain(""), *wrapped(text, width, role="warn", hang=""))


def week_line(load: Load, width: int = 80) -> Line:
    """One week of one station: how full it is, and with what."""
    return _cut(_week(load), width)


def _cut(line: Line, width: int) -> Line:
    """A line that ends where the terminal does, with `…` where something is left out."""
    text = as_text(line)
    if cells_wide(text) <= width:
        return line
    room = width - sum(cells_wide(span.text) for span in line[:-1])
    return (*line[:-1], Span(fitted(line[-1].text, max(room, 1)), line[-1].role))


def _few(names: Sequence[str]) -> str:
    """At most five names, and how many more there are."""
    shown = list(names[:_MOST_NAMES])
    return joined(
        [*shown, f"{len(names) - _MOST_NAMES} more"] if len(names) > len(shown) else shown
    )


def _station(load: Load) -> str:
    return f"{load.station} ({load.of_m2:.2f} m²)" if load.of_m2 else f"{load.station} (no area)"


def _week(load: Load) -> Line:
    week = f"  {iso_week(load.monday)} {short_day(load.monday):<7}"
    if load.share is None:
        return (Span(f"{week} {load.used_m2:.2f} m²  {_what(load)}"),)
    filled = min(round(load.share * _BAR / 1.5), _BAR)
    bar = (_FULL_UP * filled).ljust(round(_BAR / 1.5), _HALF)
    percent = f"{100 * load.share:>4.0f} %"
    mark = " !" if load.share > 1 else "  "
    role: Role = "warn" if load.share > 1 else "plain"
    return (
        Span(f"{week}{percent}{mark} ", role),
        Span(f"{fitted(bar, round(_BAR / 1.5) + 1)} ", "quiet"),
        Span(_what(load)),
    )


def _what(load: Load) -> str:
    kinds = containers_of(load.stands)
    return ", ".join(f"{number} × {kind.name}" for kind, number in kinds.items())


def _clash(clash: Clash) -> str:
    worst = clash.worst
    over = worst.used_m2 - (worst.of_m2 or 0)
    when = f"the week of {short_day(clash.first)}"
    if clash.last != clash.first:
        when = f"from {when} to that of {short_day(clash.last)}"
    names = list(dict.fromkeys(stand.row for stand in worst.stands))
    todo = "What to do, any one of:" if clash.remedies else "No single change makes it fit."
    return (
        f"{clash.station}, {when}: {worst.used_m2:.2f} m² on {worst.of_m2:.2f} m², "
        f"{over:.2f} m² too much, with {plural(len(names), 'sowing')} there "
        f"({_few(names)}). {todo}"
    )


_TRAY, _SOWING, _CROP, _STATE = 11, 20, 16, 22
_NARROW, _NARROW_TRAY, _NARROW_SOWING = 60, 8, 14
_CURVE_LINES: Final = 12


def station_sheet(
    view: StationView, now: datetime, units: Units = "metric", width: int = 80
) -> list[Line]:
    """All about one station: warmth, what stands there tray by tray, space week by week."""
    kind = f" ({view.kind})" if view.kind else " (not in season.toml)"
    lines = [heading(f"{view.name}{kind}")]
    lines += warnings_of(view, width)
    lines += warmth_in_words(view, now, units, width)
    lines += warmth_curve_lines(view, now, units, width, _CURVE_LINES)
    lines += [plain(""), *stands_lines(view, width)]
    return [*lines, plain(""), *space_of(view, width)]


def warnings_of(view: StationView, width: int = 80) -> list[Line]:
    """Crops that the last reading is too cold or too hot for, and the first week too full."""
    c = view.warm.last_c
    said = []
    for cold in (True, False):
        those = [one for one in view.outside if c is not None and (c < one.lowest_c) is cold]
        crops = [f"{one.crop}{_unprinted(one, cold=cold)}" for one in those]
        if crops:
            said.append(f"The last reading is too {'cold' if cold else 'hot'} for {joined(crops)}.")
    over = next((one for one in view.loads if one.share is not None and one.share > 1), None)
    if over is not None and over.share is not None:
        when = f"the week of {short_day(over.monday)}"
        said.append(f"Too full in {when}, as expected today: {100 * over.share:.0f} %.")
    return [line for text in said for line in wrapped(f"! {text}", width, role="warn")]


def _unprinted(one: CropLimits, *, cold: bool) -> str:
    """How far to trust a limit that no source prints, in brackets."""
    basis = one.lowest_basis if cold else one.highest_basis
    return f" (limit: {basis})" if basis in BASIS_IN_WORDS.values() else ""


def stands_lines(view: StationView, width: int = 80) -> list[Line]:
    """What stands there, tray by tray."""
    lines = [heading("What stands there")]
    if not view.stands:
        return [*lines, plain("Nothing.")]
    for tray, those in groupby(view.stands, key=lambda one: one.tray):
        lines += _tray_lines(tray, list(those), width)
    return lines


def _tray_lines(tray: str | None, those: list[StandsThere], width: int) -> Iterator[Line]:
    """A tray with one sowing takes one line."""
    head = tray or "in no tray"
    wide = width >= _NARROW
    tray_wide, name_wide = (_TRAY, _SOWING) if wide else (_NARROW_TRAY, _NARROW_SOWING)
    left = width - 2 - tray_wide - 1 - name_wide - 1
    crop = _CROP if left - _CROP - 1 >= _STATE else 0  # the name of a lot mostly says it
    for number, one in enumerate(those):
        yield (
            Span(f"  {fitted(head if number == 0 else '', tray_wide)} ", "quiet"),
            Span(f"{fitted(one.name, name_wide)} ", "name"),
            Span(f"{fitted(one.crop, crop)} " if crop else "", "quiet"),
            Span(fitted(_state(one), max(left - crop, 10)).rstrip()),
        )


def _state(one: StandsThere) -> str:
    if not one.up:
        return f"{plural(one.seeds, 'seed')}, none up" if one.seeds else "none up"
    if not one.from_seed:
        return plural(one.standing, "plant")
    if not one.standing:
        return f"none left; {one.emerged} came up"
    of = f" of {one.seeds}" if one.seeds else ""
    gone = f", {one.standing} here" if one.standing != one.emerged else ""
    return f"{one.emerged}{of} up{gone}"


def space_of(view: StationView, width: int = 80) -> list[Line]:
    """How full it gets, from this week on."""
    area = f" ({view.area_m2:.2f} m²)" if view.area_m2 else ""
    lines = [heading(f"Space week by week, as expected today{area}")]
    if not view.loads:
        return [*lines, plain("Nothing is expected here from this week on.")]
    return [*lines, *(week_line(load, width) for load in view.loads)]
