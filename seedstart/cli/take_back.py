"""`seedstart log take-back`: the last act, or one of another time, taken back."""

import click

from seedstart.acts.sentences import entry_in_words
from seedstart.cli.recording import on_option, open_for, record, refuse_days_to_come
from seedstart.cli.season_files import season_option
from seedstart.cli.show import tell
from seedstart.open_season import OpenSeason
from seedstart.problems import BadInputError, Problem, Typed
from seedstart.season.entries import BLANK, Entry, Struck
from seedstart.season.moments import parse_moment


@click.command(name="take-back")
@click.argument("entry", required=False)
@click.option("--at", metavar="TIME", help="The entry of that time: '10 Mar 2027 07:14', 8:30.")
@click.option("--sure", is_flag=True, help="Also after your last entry was taken back just now.")
@click.option("--json", "json_", is_flag=True, help="Print the entries as recorded.")
@on_option
@season_option
def take_back(
    entry: str | None,
    at: str | None,
    sure: bool,
    json_: bool,
    on: str | None,
    folder: str | None,
) -> None:
    """Take back your last entry, or one of another time; taking that back restores it.

    An act of several lines is taken back whole. ENTRY is an id, or its last six characters.

    Example: seedstart log take-back --at 'sat 7:14'
    """
    season = open_for(folder, on)
    refuse_days_to_come(season)
    act = _act_meant(season, entry, at)
    if entry is None and at is None and not sure:
        _ask_after_another(season, act)
    for one in act:
        tell(f"Taken back: {entry_in_words(one, season.plan.units)}")
    record(season, [Struck(**BLANK, entry=one.id) for one in act], as_json=json_)


def _act_meant(season: OpenSeason, entry: str | None, at: str | None) -> tuple[Entry, ...]:
    if entry is not None and at is not None:
        raise BadInputError([Problem(file="ENTRY, --at", hint="Give one of them.")])
    if entry is not None:
        return _by_id(season, entry)
    if at is not None:
        return _of_time(season, at)
    act = season.journal.last_act(season.by)
    if not act:
        hint = f"{season.by} has nothing left to take back."
        raise BadInputError([Problem(file="take-back", hint=hint)])
    return act


def _ask_after_another(season: OpenSeason, act: tuple[Entry, ...]) -> None:
    """One after the other takes back ever older entries: the second says which, before it does."""
    last = season.journal.by_id.get(season.journal.last_id(season.by) or "")
    if isinstance(last, Struck):
        said = entry_in_words(act[0], season.plan.units)
        hint = (
            f"Your last entry was taken back already; next is: {said}. If you are sure, add --sure."
        )
        raise BadInputError([Problem(file="take-back", hint=hint)])


def _by_id(season: OpenSeason, entry: str) -> tuple[Entry, ...]:
    found = [one for one in season.journal.by_id.values() if one.id.endswith(entry)]
    if len(found) != 1 or len(entry) < 6:
        hint = "Give the whole id, or its last six characters or more: `lots NAME` shows them."
        raise BadInputError([Problem(file="ENTRY", found=entry, hint=hint)])
    return tuple(found)


def _of_time(season: OpenSeason, at: str) -> tuple[Entry, ...]:
    """The act of that minute that is in force; of several, the choices."""
    typed = Typed()
    moment = typed.read("--at", at, lambda text: parse_moment(text, season.now()))
    typed.done()
    journal = season.journal
    minute = moment.replace(second=0, microsecond=0) if moment else None
    found = {
        one.act or one.id: one
        for one in journal.by_id.values()
        if not isinstance(one, Struck)
        and one.id not in journal.struck
        and one.at.replace(second=0, microsecond=0) == minute
    }
    if len(found) == 1:
        return journal.act_of(next(iter(found)))
    if not found:
        hint = "Nothing that counts was written of that minute; `lots NAME` shows the times."
        raise BadInputError([Problem(file="--at", found=at, hint=hint)])
    units = season.plan.units
    choices = tuple(f"{one.id[-6:]} ({entry_in_words(one, units)})" for one in found.values())
    hint = "More than one was: give the six characters before it instead of a time."
    raise BadInputError([Problem(file="--at", found=at, allowed=choices, hint=hint)])
