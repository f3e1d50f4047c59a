"""What commands that record share: the open season, and what was written said."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, datetime, timedelta
from itertools import groupby
from typing import Final

import click

from seedstart import clock
from seedstart.acts.notes_and_plan import need_of
from seedstart.acts.parsers import parse_moment
from seedstart.acts.sentences import confirmed, entry_in_words
from seedstart.cli.printing import in_full, show_json, tell
from seedstart.cli.season_files import find_season, season_option
from seedstart.days import parse_day
from seedstart.open_season import OpenSeason
from seedstart.problems import BadInputError, Problem, Typed
from seedstart.season.journal.entries import BLANK, Checked, Entry, PutOff, Struck
from seedstart.settings import read_settings
from seedstart.text import plural
from seedstart.tracking.entry_warnings import odd_in
from seedstart.tracking.history import strikes_in_force
from seedstart.tracking.records import Records

_FEWEST_LETTERS = 6
_COMMAND = "take-back"


def last_act(season: OpenSeason) -> tuple[Entry, ...]:
    """The writer's last act, which is of the season's day and was not reached by going back.

    Raises:
        BadInputError: There is none; or it is another, and is said first.
    """
    act = season.journal.last_act(season.by)
    if not act:
        hint = f"{season.by} has nothing left to take back."
        raise BadInputError([Problem(file=_COMMAND, hint=hint)])
    newest = season.journal.act_of(season.journal.last_id(season.by) or "")
    if all(isinstance(one, Struck) for one in newest):
        raise BadInputError([_said_first(season, act, "Your last act was itself a taking back.")])
    if act[0].at.astimezone(season.zone).date() != season.today:
        raise BadInputError([_said_first(season, act, "It is of another day.")])
    return _in_force(season, act)


def of_time(season: OpenSeason, at: datetime) -> tuple[Entry, ...]:
    """The writer's act of a minute.

    Raises:
        BadInputError: There is none, or there are several, which are said with their ids.
    """
    minute = at.replace(second=0, microsecond=0)
    found = {
        one.act or one.id: season.journal.act_of(one.id)
        for one in season.journal.by_id.values()
        if one.by == season.by and not isinstance(one, Struck)
        if one.id not in season.journal.struck
        if one.at.replace(second=0, microsecond=0) == minute
    }
    if not found:
        hint = f"{season.by} wrote nothing at {at:%a %-d %b %Y, %H:%M} that still counts."
        raise BadInputError([Problem(file=_COMMAND, hint=hint)])
    if len(found) > 1:
        why = "Several acts have that time."
        raise BadInputError(_said_first(season, act, why) for act in found.values())
    return _in_force(season, *found.values())


def by_ids(season: OpenSeason, typed: Sequence[str]) -> tuple[Entry, ...]:
    """Entries by their ids, or by how those end.

    Raises:
        BadInputError: None or several end so.
    """
    found: dict[str, Entry] = {}
    problems: list[Problem] = []
    for text in typed:
        fits = [one for one in season.journal.by_id.values() if one.id.endswith(text)]
        if len(fits) == 1 and len(text) >= _FEWEST_LETTERS:
            found[fits[0].id] = fits[0]
        else:
            hint = "Give the whole id, or at least its last six characters; or the time: --at TIME."
            problems.append(Problem(file=_COMMAND, found=text, hint=hint))
    if problems:
        raise BadInputError(problems)
    return tuple(found.values())


def struck_in_words(season: OpenSeason, strike: Struck) -> str:
    """What was taken back or restored, and how that is undone."""
    by_id = season.journal.by_id
    entry, done, undone = by_id[strike.entry], "Taken back", "To restore it"
    while isinstance(entry, Struck) and entry.entry in by_id:
        entry = by_id[entry.entry]
        done, undone = ("Taken back", "To restore it") if done == "Restored" else (
            "Restored", "To take it back again",
        )  # fmt: skip
    words = entry_in_words(entry, season.plan.units)
    return f"{done}: {words}. {undone}: seedstart log take-back {_short(season, strike)}"


def _in_force(season: OpenSeason, act: Iterable[Entry]) -> tuple[Entry, ...]:
    return tuple(one for one in act if one.id not in season.journal.struck)


def _said_first(season: OpenSeason, act: Sequence[Entry], why: str) -> Problem:
    act = _in_force(season, act)
    own = [one for one in act if not isinstance(one, Struck)]
    words = "; ".join(entry_in_words(one, season.plan.units) for one in own)
    ids = " ".join(_short(season, one) for one in act)
    hint = (
        f"{why} Nothing was taken back yet. Next is: {words}. "
        f"To take it back: seedstart log take-back {ids}"
    )
    return Problem(file=_COMMAND, hint=hint)


def to_restore(season: OpenSeason, act: Iterable[Entry]) -> str:
    """The command that puts an act in force again that was taken back whole."""
    strikes = strikes_in_force(season.journal, act)
    ids = " ".join(_short(season, season.journal.by_id[one]) for one in strikes)
    return f"seedstart log take-back {ids}"


def _short(season: OpenSeason, entry: Entry) -> str:
    """The end of an id, as short as it is plain."""
    ids = [one for one in season.journal.by_id if one != entry.id]
    for length in range(_FEWEST_LETTERS, len(entry.id)):
        if not any(one.endswith(entry.id[-length:]) for one in ids):
            return entry.id[-length:]
    return entry.id


_NOW: Final = timedelta(minutes=1)  # what was done so lately needs no time beside it


def open_for(
    folder: str | None, on: str | None = None, *, without_lots: bool = False
) -> OpenSeason:
    """The season a command works on, with its records.

    Args:
        folder: As it was named.
        on: The day, as it was typed.
        without_lots: Go on with stations and journal alone where only lots.toml is wrong.

    Raises:
        BadInputError: No season, a plan that cannot be read, or a day that is none.
    """
    typed = Typed()
    day: date | None = typed.read("--on", on, parse_day)
    typed.done()
    season = OpenSeason(find_season(folder), read_settings().writer, day, without_lots=without_lots)
    if not without_lots:  # what needs names alone waits for no record
        for problem in season.record_problems:
            tell(in_full(problem))
    return season


def refuse_days_to_come(season: OpenSeason) -> None:
    """Nothing is recorded on a day that has not come yet by this machine's clock.

    Raises:
        BadInputError: The season was opened on such a day.
    """
    today = clock.now(season.plan.zone).date()
    if season.on is None or season.on <= today:
        return
    hint = (
        f"That day has not come yet; today is {today.isoformat()}. You can look at a future day "
        "but not record anything on it."
    )
    raise BadInputError([Problem(file="--on", found=season.on.isoformat(), hint=hint)])


as_of_option = click.option("--on", metavar="DATE", help="Show the end of that day.")
on_option = click.option(
    "--on", metavar="DATE", help="Show the end of that day; anything you record is dated that day."
)


def record(
    season: OpenSeason, drafts: Sequence[Entry], at: datetime | None = None, *, as_json: bool
) -> None:
    """Record one act and say what was written."""
    before = season.records()
    tell_written(season, before, season.record(*drafts, at=at), at, as_json=as_json)


def tell_written(
    season: OpenSeason,
    before: Records,
    entries: Sequence[Entry],
    at: datetime | None = None,
    *,
    as_json: bool,
    seen: Mapping[str, str] | None = None,
) -> None:
    """Say what was written, and what is odd in it.

    Args:
        season: With the entries in it.
        before: The records without them.
        entries: As they stand in the file.
        at: When it happened; None for now.
        as_json: As the file has them, for a script.
        seen: What is said of alerts that were seen, by their keys.
    """
    if as_json:
        show_json(entries)
        return
    for act in acts_of(entries):
        alert = (seen or {}).get(getattr(act[0], "check", ""))
        tell(_in_words(season, act, alert))
    try:
        odd = list(odd_in(season.plan, before, season.records(), entries, at))
    except BadInputError as error:  # it is recorded all the same
        odd = [str(problem) for problem in error.problems]
    for text in dict.fromkeys(odd):
        tell(text)


def tell_without_lots(season: OpenSeason) -> None:
    """Where lots.toml cannot be read, say what is wrong and what that means for names."""
    problems = season.plan_problems
    if problems:
        more = f" And {plural(len(problems) - 1, 'thing')} more." if problems[1:] else ""
        said = f"{in_full(problems[0])}{more}"
        tell(f"{said} Until that is corrected, names are written as you type them.")


def acts_of(entries: Sequence[Entry]) -> list[list[Entry]]:
    """Entries as they were recorded, act by act."""
    return [list(act) for _, act in groupby(entries, key=lambda one: one.act or one.id)]


def _in_words(season: OpenSeason, act: Sequence[Entry], seen: str | None) -> str:
    """What was written, and when it was where that is not now; or what was taken back."""
    if all(isinstance(one, Struck) for one in act):
        strikes = [one for one in act if isinstance(one, Struck)]
        return "\n".join(struck_in_words(season, one) for one in strikes)
    said, at = seen or confirmed(act, season.known()), act[0].at
    past = season.on is not None or clock.now(season.plan.zone) - at > _NOW
    when = f" ({at:%a %-d %b %Y, %H:%M})" if past else ""
    need = need_of(act[0].check) if isinstance(act[0], Checked | PutOff) else ""
    of = f"{need}: " if need and need not in said and len(act) == 1 else ""  # no cursor is on it
    return f"Written: {of}{said[:1].lower()}{said[1:].removesuffix('.')}{when}."


@click.command(name="take-back")
@click.argument("entries", nargs=-1, metavar="[ID]...")
@click.option(
    "--at", metavar="TIME", help="The act written at that time, e.g. '10 Mar 2027 07:14' or 8:30."
)
@click.option("--json", "json_", is_flag=True, help="Print the entries as they were recorded.")
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
