"""What stands beside a line of the round, where there is room: the sowing or the tray of it."""

from collections.abc import Iterator

from seedstart.acts.sentences import entry_in_words
from seedstart.app.screens.round_items import CountRow, Item, Row
from seedstart.app.screens.season_screen import LinesFor
from seedstart.daily.check import Alert, Check
from seedstart.drawing.emergence_bars import emergence_bars
from seedstart.drawing.lines import Line, Span, fitted, heading, plain, wrapped
from seedstart.drawing.round_lines import why_sheet_lines
from seedstart.drawing.row_sheet import steps_to_come
from seedstart.open_season import OpenSeason
from seedstart.planning.calendar.row import Row as CalendarRow
from seedstart.planning.prospects.prospect import Prospect
from seedstart.season.journal.entries import Entry
from seedstart.tracking.history import history
from seedstart.tracking.standing import Standing
from seedstart.units import Units

_CURVE_HIGH = 9
_LATEST = 8
_NAME = 18


def beside(item: Item | None, opened: OpenSeason) -> LinesFor | None:
    """The lines beside an item of the round; None beside a heading, or where nothing is listed."""
    if isinstance(item, Alert):
        sources = opened.plan.crops.sources
        return lambda width: why_sheet_lines(item, sources, width)
    if not isinstance(item, Row | CountRow):
        return None
    check = item.check
    sowing = _sowing_of(check)
    if sowing in opened.records().standings:
        return _beside_sowing(check, sowing, opened)
    return _beside_tray(check, opened)


def _sowing_of(check: Check) -> str:
    """The one sowing that a check is about; empty where there are several, or none."""
    kind, name = check.subject
    if kind == "sowing":
        return name
    return check.sowings[0].id if len(check.sowings) == 1 else ""


def _beside_sowing(check: Check, sowing: str, opened: OpenSeason) -> LinesFor:
    records = opened.records()
    standing, spot = records.standings[sowing], records.spot(sowing)
    drawn = opened.prospects().drawn(sowing) if standing.from_seed else None
    rows = (row for row in opened.calendar() if row.sowing_id == sowing)
    row = next(rows, None)
    done = history(records, opened.journal, sowing)[-_LATEST:]
    where = spot.tray or spot.station if spot else None
    units = opened.plan.units

    def lines(width: int) -> Iterator[Line]:
        yield heading(f"{standing.name} in {where}" if where else standing.name)
        yield from _why(check, width)
        yield from _how_many(standing, drawn)
        if drawn is not None and drawn.counts:
            yield from [plain(""), *emergence_bars(drawn, width, _CURVE_HIGH)]
        yield from _then(row)
        yield from _done(done, units, width)

    return lambda width: list(lines(width))


def _why(check: Check, width: int) -> Iterator[Line]:
    yield plain("")
    for part in check.parts or (check,):
        for why in part.why:
            yield from wrapped(why.text, width, hang="")


def _how_many(standing: Standing, drawn: Prospect | None) -> Iterator[Line]:
    yield plain("")
    if standing.from_seed and standing.seeds:
        yield _fact("up", f"{standing.emerged} of {standing.seeds} sown")
    yield _fact("stand now", f"{standing.standing}")
    if drawn is not None and drawn.wanted:
        yield _fact("wanted", f"{drawn.wanted}")


def _fact(name: str, said: str) -> Line:
    return (Span(f"{name:<11}", "quiet"), Span(said))


def _then(row: CalendarRow | None) -> Iterator[Line]:
    coming = steps_to_come(row) if row is not None else []
    if coming:
        yield from [plain(""), heading("Then"), *coming]


def _done(entries: list[Entry], units: Units, width: int) -> Iterator[Line]:
    if entries:
        yield from [plain(""), heading("Done with it")]
    for entry in reversed(entries):
        said = entry_in_words(entry, units).rpartition(" (")[0]
        day = f"{entry.at:%a %-d %b}"
        yield (Span(f"{day:<11}", "quiet"), Span(fitted(said, max(width - 11, 10)).rstrip()))


def _beside_tray(check: Check, opened: OpenSeason) -> LinesFor | None:
    """The tray, or the station, that a check is about, and what stands there."""
    kind, name = check.subject
    if kind not in {"tray", "station"}:
        return lambda width: [heading(check.says), *_why(check, width)]
    records = opened.records()
    there = []
    for one in records.standings.values():
        spot = records.spot(one.id) if one.lives else None
        if spot is not None and (spot.tray if kind == "tray" else spot.station) == name:
            there.append(one)

    def lines(width: int) -> Iterator[Line]:
        yield heading(name)
        yield from _why(check, width)
        yield from [plain(""), heading("What stands there")] if there else []
        for one in there:
            said = f"{one.standing} stand"
            if one.from_seed:
                said = f"{one.emerged} of {one.seeds} up" if one.seeds else f"{one.emerged} up"
            yield (Span(f"{fitted(one.name, _NAME)} ", "name"), Span(said))

    return lambda width: list(lines(width))
