"""Lots as lines: what is planned of each, what came up, and one lot with its sowings."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Final

from seedstart.acts.sentences import entry_in_words
from seedstart.crop_table.crop import Caution, caution_in_words
from seedstart.days import long_day, short_day
from seedstart.drawing.lines import Line, Role, Span, cells_wide, fitted, heading, plain, wrapped
from seedstart.planning.calendar.row import Row
from seedstart.planning.prospects.prospect import Advice, Prospect
from seedstart.season.journal.entries import Entry
from seedstart.season.plan.lot import Lot
from seedstart.text import joined, plural
from seedstart.tracking.entry_warnings import both_counts
from seedstart.tracking.figures import LotFigure
from seedstart.tracking.meanings import Made
from seedstart.tracking.standing import Standing, Why
from seedstart.tracking.whereabouts import Group
from seedstart.units import Units

_NAME, _CROP, _WANT, _PLACE = 18, 12, 6, 14
_STATE = 18
_MADE: Final[dict[Made, str]] = {
    "sown": "sown", "pricked_out": "pricked out", "split": "split off", "mixed_up": "mixed up",
}  # fmt: skip
# Those lost and those missing stand before these.
_LEFT: Final[dict[Why, str]] = {
    "pricked_out": "pricked out", "split": "split off", "set_out": "set out", "given": "given away",
    "thinned": "thinned", "counted": "removed when counted", "mixed_up": "mixed up with others",
    "finished": "thrown away",
}  # fmt: skip


def lot_list_lines(lots: Iterable[Lot], width: int = 80) -> list[Line]:
    """A line a lot as it is planned: crop, plants wanted, station, container; then the rest."""
    head = f"  {'lot':<{_NAME}} {'crop':<{_CROP}} {'want':>{_WANT - 1}}  "
    lines: list[Line] = [(Span(f"{head}{'station':<{_PLACE}} container", "quiet"),)]
    listed = list(lots)
    for lot in listed:
        lines.append(_planned(lot))
        if rest := "; ".join(_rest(lot)):
            lines += wrapped(rest, width, indent="    ", role="quiet")
    return [*lines, plain(""), *wrapped(f"{plural(len(listed), 'lot')}.", width)]


def _planned(lot: Lot) -> Line:
    cells = f" {fitted(lot.crop, _CROP)} {_want(lot):>{_WANT - 1}}  "
    cells += f"{fitted(lot.station or '-', _PLACE)} {lot.container or '-'}"
    return (Span(f"  {fitted(lot.name, _NAME)}", "name"), Span(cells))


def _rest(lot: Lot) -> Iterator[str]:
    """What else is known of the seed, as it was read: amounts and days show how signs were."""
    yield from filter(None, [lot.variety])
    if lot.germination_percent is not None:
        yield f"germination {lot.germination_percent:g} %"
    if lot.have is not None:
        yield str(lot.have)
    if lot.harvested:
        yield f"harvested {lot.harvested}"
    if lot.source:
        yield f"from {lot.source}"
    if lot.form != "natural":
        yield lot.form
    for what, hours in (("soak", lot.soak), ("stratify", lot.stratify)):
        if hours is not None:
            yield f"{what} {hours:g} {'h' if what == 'soak' else 'days'}" if hours else f"no {what}"
    if lot.sow:
        yield f"sow {joined([long_day(day) for day in lot.sow])}"
    if lot.ready:
        yield f"ready {long_day(lot.ready)}"


def _want(lot: Lot) -> str:
    times = max(lot.sowings, len(lot.sow))
    many = f" ×{times}" if times > 1 else ""
    return f"{lot.want}{many}" if lot.want else many.strip()


def lots_lines(
    lots: Iterable[Lot],
    figures: Mapping[str, LotFigure],
    rows: Mapping[str, Row],
    more: str,
    width: int = 80,
) -> list[Line]:
    """A line a lot: plants wanted, first day to sow, what came up and how sure that is.

    Args:
        lots: In this order.
        figures: What came up, by lot.
        rows: Each lot's next sowing.
        more: Where more of a lot is told, for the note below.
        width: Columns.
    """
    every = list(lots)
    name = min(max((cells_wide(lot.name) for lot in every), default=0), _NAME)
    crop = _NAME + _CROP - name + max(width - 80, 0)
    head = (
        f"  {'lot':<{name}} {'crop':<{crop}} {'want':>{_WANT - 1}}  {'sow':<8}"
        f"{'up':<{_STATE}}percent"
    )
    lines: list[Line] = [(Span(head, "quiet"),)]
    listed = [_line(lot, figures[lot.name], rows.get(lot.name), name, crop) for lot in every]
    note = (
        "Percent: seedlings out of seeds sown, of closed sowings that were not too cold or too "
        f"hot, with its 95 % interval (Wilson). {more}"
    )
    return [*lines, *listed, plain(""), *wrapped(note, width, role="quiet", hang="")]


def _line(lot: Lot, figure: LotFigure, row: Row | None, name: int, crop: int) -> Line:
    """One lot; its name and its crop with the variety in so many cells."""
    day = row.sow_day if row else None
    happened = row is not None and any(step.is_ == "happened" for step in row.steps)
    when = short_day(day) + ("✓" if happened else "") if day else "no date"
    kind = f"{lot.crop}, {lot.variety}" if lot.variety else lot.crop
    cells = f" {fitted(kind, crop)} {_want(lot):>{_WANT - 1}}  {when:<8}"
    return (
        Span(f"  {fitted(lot.name, name)}", "name"),
        Span(f"{cells}{fitted(figure.came_up or figure.state, _STATE)}"),
        Span(percent_in_words(figure).replace(" to ", "–"), "good"),
    )


def percent_in_words(figure: LotFigure) -> str:
    """`83 % (64 to 93)`; `11, 44 % apart` of sowings that differ; nothing before one counts."""
    if figure.apart:
        percents = [f"{100 * one.up / one.of:.0f}" for one in figure.differing]
        return f"{', '.join(percents[:2])}{', …' if percents[2:] else ''} % apart"
    if figure.percent is None or figure.interval is None:
        return ""
    low, high = 100 * figure.interval.low, 100 * figure.interval.high
    return f"{figure.percent:.0f} % ({low:.0f} to {high:.0f})"


def lot_lines(
    lot: Lot,
    figure: LotFigure,
    rows: Sequence[Row],
    prospects: Mapping[str, Prospect],
    histories: Mapping[str, Sequence[Entry]],
    units: Units = "metric",
    width: int = 80,
    daughters: Sequence[Standing] = (),
    groups: Mapping[str, Group] | None = None,
    cautions: Sequence[Caution] = (),
) -> list[Line]:
    """One lot in full: what it is, what came up, each sowing, where it stands now, its history.

    Then what was pricked out and split off from its sowings, and where those plants went.
    """
    lines: list[Line] = [heading(lot.name), *wrapped(_what(lot), width, role="quiet", hang="")]
    lines += caution_lines(cautions, width)
    share = "" if figure.apart else percent_in_words(figure)
    up = f"Up: {figure.came_up}" if figure.sowings else "To sow"
    closed = "" if figure.final else " of the closed sowings"
    up += f"; {share} {figure.of}{closed}, 95 % interval (Wilson)" if share else ""
    lines += [plain(""), *wrapped(f"{up}.", width)]
    lines += wrapped(apart_in_words(figure), width, role="warn") if figure.apart else []
    those = "the seedlings so far" if figure.percent is None else "the seedlings"
    if figure.mean_days is not None and figure.t50_days is not None:
        text = (
            f"Half of {those} were up by day {figure.t50_days:.1f}; mean {figure.mean_days:.1f} "
            "days, by the day they were counted."
        )
        lines += wrapped(text, width)
    elif figure.mean_days is not None:
        text = f"All of {those} were found at one count, {figure.mean_days:.1f} days after sowing."
        lines += wrapped(text, width)
    if groups:
        lines += wrapped(f"Now: {joined(_by_station(groups.values()))}.", width)
    for left in figure.left_out if figure.percent is not None else ():
        lines += wrapped(f"Left out: {left.sowing} ({left.why}).", width, role="quiet")
    for row in rows:
        for said in (row.problem, *row.warnings):
            lines += wrapped(f"! {said}", width, role="warn") if said else []
    for sowing in (*figure.sowings, *daughters):
        lines += [plain(""), *_sowing_or_daughter(sowing, figure, prospects, width)]
        group = (groups or {}).get(sowing.id)
        if group is not None:
            lines += wrapped(f"Now {where_in_words(group)}.", width, indent="    ")
        for entry in histories.get(sowing.id, ()):
            lines += wrapped(entry_in_words(entry, units), width, indent="    ", role="quiet")
    return lines


def apart_in_words(figure: LotFigure) -> str:
    """`leek 12 of 110 and leek/2 88 of 200 (11 % and 44 %): more than chance …`."""
    counted = joined(
        [
            f"{one.sowing} {one.up} of {one.of}{' so far' if one.is_open else ''}"
            for one in figure.differing
        ]
    )
    percents = joined([f"{100 * one.up / one.of:.0f} %" for one in figure.differing])
    what = "test 4 × 50 again" if figure.of == "germinated" else "sow a third, or test 4 × 50"
    return (
        f"{counted} ({percents}): more than chance would part them. They give no common figure: "
        f"{what}."
    )


def caution_lines(cautions: Iterable[Caution], width: int) -> list[Line]:
    """What can hurt, or is taken for something else: once and plainly."""
    return [
        line
        for one in cautions
        for line in wrapped(f"! Caution: {caution_in_words(one)}", width, role="warn")
    ]


def _sowing_or_daughter(
    sowing: Standing, figure: LotFigure, prospects: Mapping[str, Prospect], width: int
) -> list[Line]:
    if not sowing.from_seed:
        return _daughter(sowing, width)
    up = _up(sowing, clusters=figure.clusters)
    return _sowing(sowing, up, prospects.get(sowing.id), width)


def _by_station(groups: Iterable[Group]) -> list[str]:
    """`12 at the lower shelf`, `seed at the heat mat`: most plants first."""
    plants: dict[str, int] = {}
    for group in groups:
        where = f"at the {group.station}" if group.station else "somewhere nobody wrote down"
        plants[where] = plants.get(where, 0) + group.plants
    most_first = sorted(plants.items(), key=lambda one: -one[1])
    return [f"{number or 'seed'} {where}" for where, number in most_first]


def where_in_words(group: Group) -> str:
    """`in tray 12 (tray of 24) at the upper shelf`."""
    said = f" ({group.container_text})" if group.container_text else ""
    tray = (
        f"in {group.tray}{said}"
        if group.tray
        else f"in {group.container_text}"
        if group.container_text
        else ""
    )
    station = f"at the {group.station}" if group.station else "at no station that was named"
    return f"{tray} {station}".strip()


def _what(lot: Lot) -> str:
    parts = [lot.crop, lot.variety, f"wanted: {_want(lot)} plants" if lot.want else ""]
    parts += [f"planned at the {lot.station}" if lot.station else "", lot.container or ""]
    parts.append(f"harvested {lot.harvested}" if lot.harvested else "")
    return "; ".join(part for part in parts if part)


def _up(sowing: Standing, *, clusters: bool) -> str:
    """`20 of 24 up`; of clusters the seedlings, and in how many cells."""
    seeds = sowing.seeds if sowing.seeds is not None else "?"
    if not clusters:
        return f"{sowing.emerged} of {seeds} up"
    cells = "cells not counted"
    if sowing.cells_up is not None:
        cells = f"{sowing.cells_up} of {sowing.cells or seeds} cells up"
    return f"{plural(sowing.emerged, 'seedling')} from {seeds} clusters, {cells}"


def _sowing(sowing: Standing, up: str, found: Prospect | None, width: int) -> list[Line]:
    closed = f", closed ({sowing.closed.why})" if sowing.closed else " so far"
    text = f"{sowing.name}: sown {long_day(sowing.at.date())}, {up}{closed}; {_went(sowing)}"
    lines = wrapped(f"{text}.", width, indent="  ", role="name")
    for disagreement in sowing.unsettled:
        asked = f"! {both_counts(disagreement)}; which is right? The round asks."
        lines += wrapped(asked, width, indent="    ", role="warn")
    if found is None:
        return lines
    if found.is_open and found.progress is not None and not sowing.emerged:
        lines += wrapped(f"{_how_far(found)}{found.assumed}", width, indent="    ")
    if found.advice is not None:
        lines += advice_lines(found.advice, width, indent="    ")
    return lines


def _how_far(found: Prospect) -> str:
    """`47 % of the way; expected 31 Mar to 6 Apr, best 4 Apr. `: nothing where none comes."""
    when, usual = found.expected, found.usual
    if when is None or found.progress is None:
        return ""
    days = f"{short_day(when.earliest)} to {short_day(when.latest)}, best {short_day(when.best)}"
    if found.progress.share <= 1 or usual is None:
        return f"{100 * found.progress.share:.0f} % of the way; expected {days}. "
    if when == usual:
        return f"Past its day: it was expected {days}. "
    return f"Past its day, {short_day(usual.best)}; now expected {days}. "


def advice_lines(advice: Advice, width: int, indent: str = "") -> list[Line]:
    """What to do about a sowing, the word first."""
    role: Role = "plain" if advice.what in {"wait", "enough"} else "warn"
    return wrapped(advice.in_words, width, indent=indent, role=role)


def _daughter(sowing: Standing, width: int) -> list[Line]:
    made = _MADE[sowing.made]
    text = f"{sowing.name}: {made} {long_day(sowing.at.date())}, {plural(sowing.plants, 'plant')}"
    return wrapped(f"{text}; {_went(sowing)}.", width, indent="  ", role="name")


def _went(sowing: Standing) -> str:
    """What stands, what died, and where the others went: `6 stand, 0 lost, 6 given away`.

    Plants missing at a later count are told apart from those that somebody said were lost.
    """
    missing = [f"{sowing.inferred} missing at a later count"] if sowing.inferred else []
    lost = sowing.left.get("lost", 0)
    gone = [f"{plants} {_LEFT[why]}" for why, plants in sowing.left.items() if why in _LEFT]
    dug = sum(one.sound + one.soft + one.gone for one in sowing.dug)
    sound = sum(one.sound for one in sowing.dug)
    seeds = [f"{plural(dug, 'seed')} dug up, {sound} of them sound"] if dug else []
    return ", ".join((f"{sowing.standing} stand", f"{lost} lost", *missing, *gone, *seeds))
