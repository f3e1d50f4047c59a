"""`seedstart harden`: who is at which step of hardening off, and what today lets them do."""

import sys
from collections.abc import Iterable

import click

from seedstart import disk
from seedstart.cli.printing import show, show_json, tell, width
from seedstart.cli.recording import (
    as_of_option,
    on_option,
    open_for,
    refuse_days_to_come,
    tell_written,
)
from seedstart.cli.season_files import season_option
from seedstart.daily.answers import alerts_as_json, answer, round_as_json, seen, seen_in_words
from seedstart.daily.check import Alert
from seedstart.daily.check_status import find
from seedstart.daily.round import days_away
from seedstart.days import day_ahead
from seedstart.drawing.harden_table import harden_lines, harden_sheet
from seedstart.drawing.lines import plain, wrapped
from seedstart.drawing.round_lines import alert_lines, round_lines
from seedstart.open_season import OpenSeason
from seedstart.planning.hardening.hardening_status import Hardening, coming
from seedstart.problems import BadInputError, Problem, Typed, count_of
from seedstart.season.journal.entries import Entry
from seedstart.text import folded, plural


@click.command()
@click.option("--tick", multiple=True, metavar="KEY", help="Tick a check, or an alert as seen.")
@click.option(
    "--answer", nargs=2, multiple=True, metavar="KEY TEXT",
    help='Tick it with what was counted, weighed or done: --answer "count tray 12" 34.',
)  # fmt: skip
@click.option("--put-off", "off", multiple=True, metavar="KEY", help="Put a check off.")
@click.option("--till", metavar="DAY", help="Till when, e.g. saturday, 3 days or 2027-03-20.")
@click.option("--why", is_flag=True, help="Show why each line is there, and its key.")
@click.option("--keys", is_flag=True, help="Show the key of each line.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON, for scripts.")
@on_option
@season_option
def round(  # noqa: A001 - the trade's word
    tick: tuple[str, ...],
    answer: tuple[tuple[str, str], ...],
    off: tuple[str, ...],
    till: str | None,
    why: bool,
    keys: bool,
    as_json: bool,
    on: str | None,
    folder: str | None,
) -> None:
    """Today's jobs and looks, in walking order.

    A key may be shortened as long as only one fits: --tick "water tray M" ticks that check.

    \b
    Example: seedstart round
             seedstart round --tick "water tray M" --answer "count tray 12" 34
             seedstart round --put-off "prick out celeriac" --till saturday
    """  # noqa: D301
    opened = open_for(folder, on)
    if till is not None:
        _refuse_unless_a_day(till, opened)
    put_off = f"put off: {till}" if till else "put off"
    asked = [("--tick", key, "") for key in tick]
    asked += [("--answer", key, text) for key, text in answer]
    asked += [("--put-off", key, put_off) for key in off]
    if till and not off:
        raise BadInputError([Problem(file="--till", found=till, hint="It belongs to --put-off.")])
    if asked:
        refuse_days_to_come(opened)
        _record(opened, asked, as_json=as_json)
        return
    found = opened.round()
    _tell_lines_set_aside(opened)
    if as_json:
        show_json(round_as_json(found, opened.known()))
        return
    away = days_away(opened.journal.by_id.values(), opened.today, opened.zone)
    show(round_lines(found, width(), why=why, keys=keys or why, away=away))


def _tell_lines_set_aside(opened: OpenSeason) -> None:
    """What was lost from the journal may be missing in the round."""
    lines = count_of(opened.journal_problems)
    if lines:
        which = f"{plural(lines, 'line')} of the journal"
        tell(
            f"{which} cannot be read, and what was written there is missing here: "
            "see `seedstart verify`."
        )


def _refuse_unless_a_day(till: str, opened: OpenSeason) -> None:
    typed = Typed()
    day = typed.read("--till", till, lambda text: day_ahead(text, opened.today))
    if day is None and not typed.problems:
        allowed = ("saturday", "3 days", "2 weeks", "2027-03-20")
        typed.refuse(Problem(file="--till", found=till, allowed=allowed))
    typed.done()


def _record(opened: OpenSeason, asked: list[tuple[str, str, str]], *, as_json: bool) -> None:
    """Record each answer as an act of its own, once all of them hold; say what was recorded.

    Where the disk refuses one, or the grower stops it, those before it are recorded and said.
    """
    problems = [
        drafts
        for option, key, text in asked
        if isinstance(drafts := _drafts(opened, option, key, text), Problem)
    ]
    if problems:
        raise BadInputError(problems)
    before, recorded = opened.records(), list[Entry]()
    alerts = {one.key: seen_in_words(one) for one in opened.round().alerts}
    try:
        for number, (option, key, text) in enumerate(asked):
            stood = len(disk.written())
            try:
                drafts = _drafts(opened, option, key, text)
                if not isinstance(drafts, Problem):  # else another of these has done it already
                    recorded += opened.record(*drafts)
            except KeyboardInterrupt:
                _refuse_what_is_left(asked[number + (len(disk.written()) > stood) :])
                raise
    finally:
        if recorded:
            tell_written(opened, before, recorded, as_json=as_json, seen=alerts)


def _refuse_what_is_left(asked: list[tuple[str, str, str]]) -> None:
    """A part of what was asked is no success, or a script would not try the rest."""
    hint = "Not recorded: you stopped before that."
    if asked:
        raise BadInputError(
            [Problem(file=option, found=key, hint=hint) for option, key, _ in asked]
        )


def _drafts(opened: OpenSeason, option: str, key: str, text: str) -> Iterable[Entry] | Problem:
    check = find(opened.round(), key, option=option)
    if isinstance(check, Problem):
        return check
    if isinstance(check, Alert):
        if option == "--tick":
            return (seen(check),)
        return Problem(
            file=option,
            found=key,
            hint="An alert cannot be put off: tick it as seen (--tick), or cure what is wrong.",
        )
    if check.done:
        by = f" by {check.done_by}" if check.done_by else ""
        return Problem(file=option, found=key, hint=f"It was done today already{by}.")
    return answer(check, text, opened.known())


@click.command()
@click.option("--json", "as_json", is_flag=True, help="Print JSON, for scripts.")
@as_of_option
@season_option
def alerts(as_json: bool, on: str | None, folder: str | None) -> None:
    """What is wrong: too cold, too hot, overdue, a mat that no longer heats.

    Exit code 1 when something is to be done now or today, else 0. Tick what you have seen with
    seedstart round --tick.

    \b
    Example: seedstart alerts
    """  # noqa: D301
    found = open_for(folder, on).round()
    if as_json:
        show_json(alerts_as_json(found))
    else:
        show(alert_lines(found.alerts, width(), keys=True))
    if any(alert.level != "know" for alert in found.alerts):
        sys.exit(1)


@click.command()
@click.argument("names", nargs=-1, metavar="[SOWING]...")
@season_option
@as_of_option
@click.option("--json", "json_", is_flag=True, help="Print JSON, for scripts.")
def harden(names: tuple[str, ...], folder: str | None, on: str | None, json_: bool) -> None:
    """Hardening off: today's step and hours, what stays in, what rules out setting out.

    Name sowings to see them in full, with the sources.

    Example: seedstart harden --season sample_season --on 2026-04-10
    """
    opened = open_for(folder, on)
    rows = opened.calendar()
    found = _named(opened.hardening(), names)
    if json_:
        show_json([_as_json(one) for one in found])
    elif names:
        for one in found:
            show(
                harden_sheet(
                    one, opened.plan.crops.sources, opened.today, width(), opened.weather(),
                    opened.plan.units,
                )
            )  # fmt: skip
            show([plain("")] if one is not found[-1] else [])
    else:
        ahead, known = coming(rows, opened.today), (opened.weather(), opened.plan.units)
        show(harden_lines(found, opened.today, ahead, width(), *known))
        if any(one.today == "not judged" for one in found):
            hint = (
                "Enter a forecast to see whether today counts: "
                f"`seedstart log forecast {opened.today.isoformat()} --tmin 3C --tmax 14C --wind 3`"
            )
            show([plain(""), *wrapped(hint, width(), role="quiet", hang="")])


def _named(found: tuple[Hardening, ...], names: tuple[str, ...]) -> tuple[Hardening, ...]:
    """Those that were asked for, in the order of the table.

    Raises:
        BadInputError: A name that is none of theirs.
    """
    if not names:
        return found
    known = {folded(one.name) for one in found}
    wrong = [
        Problem(
            file="SOWING",
            found=name,
            allowed=tuple(one.name for one in found),
            listed_by="hardening",
            hint="" if found else "Nothing is being hardened off, and nothing is due to be.",
        )
        for name in names
        if folded(name) not in known
    ]
    if wrong:
        raise BadInputError(wrong)
    asked = {folded(name) for name in names}
    return tuple(one for one in found if folded(one.name) in asked)


def _as_json(one: Hardening) -> dict[str, object]:
    window = one.set_out
    return {
        "sowing": one.name,
        "step": one.step,
        "of": one.of,
        "hours": one.hours,
        "today": one.today,
        "why": " ".join(said.text for said in one.why),
        "set_out": None if window is None else window._asdict(),
        "verdict": one.verdict.says,
        "waits_for": one.verdict.waits_for,
        "till": one.verdict.till,
    }
