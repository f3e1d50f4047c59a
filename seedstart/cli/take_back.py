"""`seedstart log take-back`: the last act, or one of another time, taken back."""

import click

from seedstart.cli.recording import (
    on_option,
    open_for,
    record,
    refuse_days_to_come,
    tell_without_lots,
)
from seedstart.cli.season_files import season_option
from seedstart.cli.taking_back import by_ids, last_act, of_time
from seedstart.problems import BadInputError, Problem, Typed
from seedstart.season.entries import BLANK, Struck
from seedstart.season.moments import parse_moment


@click.command(name="take-back")
@click.argument("entries", nargs=-1, metavar="[ID]...")
@click.option("--at", metavar="TIME", help="The act of that time: '10 Mar 2027 07:14', 8:30.")
@click.option("--json", "json_", is_flag=True, help="Print the entries as recorded.")
@on_option
@season_option
def take_back(
    entries: tuple[str, ...], at: str | None, json_: bool, on: str | None, folder: str | None
) -> None:
    """Take back your last act, whole; or the one of a time; or entries by their ids.

    A second one in a row, and one that reaches an act of another day, first say what they would
    take: give its ids then. An id may be cut to its last six characters. The id of what took
    something back restores it.

    Example: seedstart log take-back --at 'sat 7:14'
    """
    season = open_for(folder, on, without_lots=True)
    refuse_days_to_come(season)
    tell_without_lots(season)
    if entries and at is not None:
        raise BadInputError([Problem(file="ID, --at", hint="Give one of them.")])
    typed = Typed()
    moment = typed.read("--at", at, lambda text: parse_moment(text, season.now()))
    typed.done()
    if entries:
        act = by_ids(season, entries)
    else:
        act = last_act(season) if moment is None else of_time(season, moment)
    record(season, [Struck(**BLANK, entry=one.id) for one in act], as_json=json_)
