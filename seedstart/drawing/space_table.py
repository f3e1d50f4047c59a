"""How full each station is, week by week, and where it does not fit."""

from collections.abc import Iterable, Iterator, Sequence

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
from seedstart.planning.clashes import Clash
from seedstart.planning.space import Load, Uncounted
from seedstart.text import joined, plural
from seedstart.tracking.whereabouts import containers_of

_MOST_NAMES = 5
_BAR = 30
_HALF, _FULL = "·", "█"


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
        lines.append(plain("Nothing stands at a station yet."))
    for names, why in (
        (left_out.nowhere, "no station is named for them"),
        (left_out.unsized, "nobody knows how large their trays or pots are"),
    ):
        if names:
            text = f"Not counted in, since {why}: {_few(names)}."
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
    if not clashes and (measured or not bare):
        counted = "Everything" if all_counted else "What is counted"
        fits = "What stands where an area is given fits." if bare else f"{counted} fits."
        yield from (plain(""), plain(fits))
    if bare:
        text = (
            f"Whether it fits on {_few(bare)} nobody can tell: `area` in season.toml is to say how "
            'large that is, as "1.2 x 0.5 m".'
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
    bar = (_FULL * filled).ljust(round(_BAR / 1.5), _HALF)
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
