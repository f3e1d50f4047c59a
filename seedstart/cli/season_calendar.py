"""The calendar of a season: its lots, those that were asked for."""

from seedstart.cli.calendar_command import Dated
from seedstart.cli.recording import open_for
from seedstart.crop_table.find import find_crop
from seedstart.planning.calendar.season_rows import frost_of
from seedstart.problems import BadInputError, Typed
from seedstart.season.plan.names import Names, find_name


def season_calendar(
    typed: Typed,
    folder: str | None,
    on: str | None,
    names: tuple[str, ...],
    lots: tuple[str, ...],
    stations: tuple[str, ...],
) -> Dated:
    """The rows of a season, those that were asked for."""
    typed.done()
    opened = open_for(folder, on)
    if opened.record_problems:  # without its frost date it would be a calendar of reasons
        raise BadInputError(opened.record_problems)
    season = opened.plan
    known, places = Names(season.lots), Names(season.stations)
    wanted = [typed.take(find_name(name, known, file="--lot", lists="lots")) for name in lots]
    at = [typed.take(find_name(name, places, file="--station")) for name in stations]
    crops = [typed.take(find_crop(season.crops, name, file="--crop")) for name in names]
    typed.done()
    only = {crop.name for crop in crops if crop}
    rows = [
        row
        for row in opened.calendar()
        if (not lots or row.lot in wanted)
        and (not stations or any(name in at for name in row.stations))
        and (not names or row.crop in only)
    ]
    return Dated(rows, frost_of(season), season.crops.sources)
