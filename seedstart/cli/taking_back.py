"""Which act `log take-back` takes, and what it says of it."""

from collections.abc import Iterable, Sequence
from datetime import datetime

from seedstart.acts.sentences import entry_in_words
from seedstart.open_season import OpenSeason
from seedstart.problems import BadInputError, Problem
from seedstart.season.entries import Entry, Struck

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
        raise BadInputError([_said_first(season, act, "What you did last was to take back.")])
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
        hint = f"{season.by} wrote nothing of {at:%a %-d %b %Y, %H:%M} that is still in force."
        raise BadInputError([Problem(file=_COMMAND, hint=hint)])
    if len(found) > 1:
        why = "Several acts are of that time."
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
            hint = "Give the whole id, or its last six characters or more: `lots NAME` shows them."
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


def _short(season: OpenSeason, entry: Entry) -> str:
    """The end of an id, as short as it is plain."""
    ids = [one for one in season.journal.by_id if one != entry.id]
    for length in range(_FEWEST_LETTERS, len(entry.id)):
        if not any(one.endswith(entry.id[-length:]) for one in ids):
            return entry.id[-length:]
    return entry.id
