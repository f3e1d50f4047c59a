"""How full each station is, week by week, and where it does not fit."""

from collections.abc import Iterable, Sequence

from seedstart.days import iso_week, short_day
from seedstart.drawing.lines import Line, Role, Span, fitted, heading, plain, wrapped
from seedstart.planning.clashes import Clash
from seedstart.planning.space import Load, trays
from seedstart.text import joined, plural

_NAME = 16
_BAR = 30
_HALF, _FULL = "·", "█"


def space_lines(loads: Iterable[Load], clashes: Sequence[Clash], width: int = 80) -> list[Line]:
    """A line for each station and week with something on it, then the clashes and their cures."""
    lines = [heading("Space by station and week")]
    station = None
    for load in loads:
        if load.station != station:
            station = load.station
            lines += [plain(""), heading(_station(load))]
        lines.append(_week(load))
    if not clashes:
        return [*lines, plain(""), plain("Everything fits.")]
    lines += [plain(""), heading("! Too full")]
    for clash in clashes:
        lines += wrapped(_clash(clash), width, indent="  ", role="warn")
        for cure in clash.cures:
            lines += wrapped(f"- {cure}", width, indent="    ")
    return lines


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
        Span(f"{fitted(bar, _BAR)} ", "quiet"),
        Span(_what(load)),
    )


def _what(load: Load) -> str:
    kinds: dict[str, int] = {}
    for stand in load.stands:
        kinds[stand.container.name] = kinds.get(stand.container.name, 0) + stand.cells
    containers = {stand.container.name: stand.container for stand in load.stands}
    counts = [f"{trays(containers[name], cells)} × {name}" for name, cells in kinds.items()]
    return ", ".join(counts)


def _clash(clash: Clash) -> str:
    worst = clash.worst
    over = worst.used_m2 - (worst.of_m2 or 0)
    when = f"the week of {short_day(clash.first)}"
    if clash.last != clash.first:
        when = f"from {when} to that of {short_day(clash.last)}"
    names = list(dict.fromkeys(stand.row for stand in worst.stands))
    cure = "One of these cures it:" if clash.cures else "No single change cures it."
    return (
        f"{clash.station}, {when}: {worst.used_m2:.2f} m² on {worst.of_m2:.2f} m², "
        f"{over:.2f} m² too much, with {plural(len(names), 'sowing')} there "
        f"({joined(names)}). {cure}"
    )
