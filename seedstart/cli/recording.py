"""What commands that record share: the open season, and what was written said."""

from collections.abc import Mapping, Sequence
from datetime import date, datetime, timedelta
from itertools import groupby
from typing import Final

import click

from seedstart import clock
from seedstart.acts.sentences import confirmed
from seedstart.acts.words import need_of
from seedstart.cli.season_files import find_season
from seedstart.cli.show import in_full, show_json, tell
from seedstart.cli.taking_back import struck_in_words
from seedstart.days import parse_day
from seedstart.open_season import OpenSeason
from seedstart.problems import BadInputError, Problem, Typed
from seedstart.season.entries import Checked, Entry, PutOff, Struck
from seedstart.settings import read_settings
from seedstart.text import plural
from seedstart.tracking.odd import odd_in
from seedstart.tracking.records import Records

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
    return OpenSeason(find_season(folder), read_settings().writer, day, without_lots=without_lots)


def refuse_days_to_come(season: OpenSeason) -> None:
    """Nothing is recorded on a day that has not come yet by this machine's clock.

    Raises:
        BadInputError: The season was opened on such a day.
    """
    today = clock.now(season.plan.zone).date()
    if season.on is None or season.on <= today:
        return
    hint = (
        f"That day has not come yet; today is {today.isoformat()}. What is written down has "
        "happened: a day to come may be looked at, and nothing is recorded on it."
    )
    raise BadInputError([Problem(file="--on", found=season.on.isoformat(), hint=hint)])


as_of_option = click.option("--on", metavar="DATE", help="As of the end of that day.")
on_option = click.option(
    "--on", metavar="DATE", help="As of the end of that day; what is recorded happened on it."
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
        tell(f"{said} Until that is put right, names are written as you type them.")


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
