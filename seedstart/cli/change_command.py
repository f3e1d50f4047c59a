"""`seedstart change`, `rename`, `drop`: the plan changed in place, its comments and order kept."""

from collections.abc import Callable
from typing import Any

import click
from click.shell_completion import CompletionItem

from seedstart.cli.new_lot_command import LOT_HELP
from seedstart.cli.plan_options import WITHOUT_HELP, preview_option, with_left_out
from seedstart.cli.printing import show, tell, width
from seedstart.cli.recording import as_of_option, open_for
from seedstart.cli.season_files import season_option
from seedstart.cli.stations_command import CONTAINER_HELP, STATION_HELP
from seedstart.cli.test_command import change_test, drop_test
from seedstart.cli.trial_command import change_trial, drop_trial
from seedstart.days import parse_day
from seedstart.disk.plan_changes import Edit, edit_plan, previewed
from seedstart.drawing.lines import plain, wrapped
from seedstart.open_season import OpenSeason
from seedstart.planning.calendar.moves import moves, moves_in_words
from seedstart.planning.calendar.season_rows import frost_of
from seedstart.problems import BadInputError, Problem, Typed
from seedstart.season.plan.changes import (
    FILE_OF,
    Kind,
    change_season,
    drop,
    dropped_in_words,
    keys_of,
    rename,
)
from seedstart.season.plan.changes import change as change_keys
from seedstart.season.plan.names import Names
from seedstart.season.plan.season_file import SEASON_FILE, Season, zone_name
from seedstart.tracking.whereabouts import left_alone, whereabouts
from seedstart.units import parse_risk

_OPTION_OF = {
    "from": "donor",
    "ppf_umol_s": "ppf",
    "count": "lamps",
    "last": "last-frost",
    "risk_percent": "risk",
    "tender_risk_percent": "tender-risk",
}

_HELP: dict[Kind, dict[str, str]] = {
    "lot": LOT_HELP,
    "station": STATION_HELP,
    "container": CONTAINER_HELP,
}


def option_of(key: str) -> str:
    """The option of a key: `ppf_umol_s` is `--ppf`."""
    return f"--{_OPTION_OF.get(key, key).replace('_', '-')}"


def _names_of(kind: Kind) -> Callable[..., list[CompletionItem]]:
    """Names for the shell, from the season that is found."""

    def complete(ctx: click.Context, _: click.Parameter, begun: str) -> list[CompletionItem]:
        try:
            plan = open_for(ctx.params.get("folder")).plan
        except BadInputError:
            return []
        own = tuple(one for one in plan.containers if not one.source)
        listed: dict[Kind, Any] = {"lot": plan.lots, "station": plan.stations, "container": own}
        names = (one.name for one in listed[kind])
        wanted = begun.casefold()
        return [CompletionItem(name) for name in names if name.casefold().startswith(wanted)]

    return complete


@click.group()
def change() -> None:
    """Change the plan: the season's frost date, a lot, a station, a container, a test, a trial.

    Comments and order of its files stay. What happened is not touched.

    Example: seedstart change season --last-frost 2027-05-19 --preview
    """


@click.group(name="rename")
def rename_() -> None:
    """Give a lot or a station another name; its journal stays with it.

    Example: seedstart rename lot pepper-l pepper-long
    """


@click.group(name="drop")
def drop_() -> None:
    """Take a lot, a station, a container, a test or a trial out of the plan; its journal stays.

    Example: seedstart drop lot basil-broad --preview
    """


def _change_of(kind: Kind) -> click.Command:
    """`change lot` and its like: an option for each key."""

    def run(folder: str | None, name: str, preview: bool, without: Any, **said: Any) -> None:  # noqa: ANN401
        opened = open_for(folder)
        texts = _said(kind, said, without)
        trays = opened.known().trays()

        def edit(old: bytes, plan: Any) -> bytes:  # noqa: ANN401
            return change_keys(old, kind, name, texts, plan, trays)

        _do(opened, FILE_OF[kind], edit, preview=preview)

    keys = keys_of(kind)
    params: list[click.Parameter] = [
        click.Argument(["name"], metavar="NAME", shell_complete=_names_of(kind)),
        *(
            click.Option(
                [option_of(key), key], metavar="TEXT", help=_HELP[kind][key], multiple=key == "sow"
            )
            for key in keys
        ),
        click.Option(["--without"], metavar="KEY", multiple=True, help=WITHOUT_HELP),
    ]
    example = {
        "lot": "change lot pepper-long --want 20 --without ready",
        "station": 'change station "heat mat" --expected 26C',
        "container": 'change container "egg box" --cells 10',
    }[kind]
    command = click.Command(
        kind,
        callback=run,
        params=params,
        help=f"Change what the plan says of a {kind}.\n\nExample: seedstart {example}",
    )
    return preview_option(season_option(command))


def _said(kind: Kind, said: dict[str, Any], without: tuple[str, ...]) -> dict[str, str | None]:
    """What was typed, by key; None for what is to be left out."""
    typed = {
        key: ", ".join(text) if isinstance(text, tuple) else text
        for key, text in said.items()
        if text not in (None, ())
    }
    options = {key: option_of(key) for key in keys_of(kind)}
    return with_left_out(typed, without, options, file=f"change {kind}")


@change.command()
@season_option
@as_of_option
@preview_option
@click.option("--last-frost", "last", metavar="DATE", help="For example 2027-05-12.")
@click.option(
    "--risk",
    "risk_percent",
    metavar="PERCENT",
    help="What that date means: average (50), safe (10), or the percentage of years with a frost "
    "later than that.",
)
@click.option(
    "--tender-risk",
    "tender_risk_percent",
    metavar="PERCENT",
    help="The risk you take with tender plants; none lets each crop's own weeks decide.",
)
@click.option(
    "--record",
    metavar="FILE",
    multiple=True,
    help="A file or folder of daily minima in the season's folder, in place of the date; "
    "repeatable.",
)
@click.option("--title", help="Heads the calendar.")
@click.option("--timezone", metavar="NAME", help="An IANA name, e.g. Europe/Vienna.")
@click.option("--work-days", metavar="DAYS", help="Days on which you sow: 'wed sat sun', or every.")
def season(
    folder: str | None,
    on: str | None,
    preview: bool,
    record: tuple[str, ...],
    **said: str | None,
) -> None:
    """Change the season's frost date, title, time zone or work days.

    Shows how many sowings move, and by how much. A date takes the place of a record of minima, and
    a record that of a date.

    Example: seedstart change season --last-frost 2027-05-19 --risk average --preview
    """
    opened = open_for(folder, on)
    texts = _season_texts(said | {"record": ", ".join(record) or None})
    before = opened.known().keys_of("frost")
    plan = _do(opened, SEASON_FILE, lambda old, _: change_season(old, texts), preview=preview)
    if dropped := dropped_in_words(before, texts):
        show(wrapped(dropped, width()))
    frost = frost_of(plan)
    if frost is not None and _OF_FROST & texts.keys():
        show(wrapped(frost.sentence(), width()))


_OF_FROST = {"last", "risk_percent", "tender_risk_percent", "record"}


def _season_texts(said: dict[str, str | None]) -> dict[str, str | None]:
    """What was typed, each value as the file is to hold it.

    Raises:
        BadInputError: Everything wrong in it.
    """
    typed = Typed()
    texts: dict[str, str | None] = {key: text for key, text in said.items() if text is not None}
    if not texts:
        options = ", ".join(option_of(key) for key in said)
        hint = f"Say what is to change: {options}."
        raise BadInputError([Problem(file="change season", hint=hint)])
    if texts.get("last") and texts.get("record"):
        hint = "Give one of them: each says the date of the last frost."
        typed.take(Problem(file="--last-frost, --record", hint=hint))
    day = typed.read("--last-frost", texts.get("last"), parse_day)
    if day:
        texts["last"] = day.isoformat()
    for key in ("risk_percent", "tender_risk_percent"):
        text = texts.get(key)
        if key == "tender_risk_percent" and (text or "").strip().lower() == "none":
            texts[key] = None
        elif text is not None:
            risk = typed.read(option_of(key), text, parse_risk)
            texts[key] = f"{risk:g}" if risk else None
    if "timezone" in texts:
        typed.read("--timezone", texts["timezone"], zone_name)
    if (texts.get("work_days") or "").strip().lower() == "every":
        texts["work_days"] = None
    typed.done()
    return texts


def _rename_of(kind: Kind) -> click.Command:
    def run(folder: str | None, name: str, to: str, preview: bool) -> None:
        opened = open_for(folder)
        trays = opened.known().trays()
        _do(
            opened,
            FILE_OF[kind],
            lambda old, plan: rename(old, kind, name, to, plan, trays),
            preview=preview,
        )

    params: list[click.Parameter] = [
        click.Argument(["name"], metavar="OLD", shell_complete=_names_of(kind)),
        click.Argument(["to"], metavar="NEW"),
    ]
    command = click.Command(
        kind,
        callback=run,
        params=params,
        help=f"Give a {kind} another name. The old one is kept under `was`; its journal stays.\n\n"
        f"Example: seedstart rename {kind} OLD NEW --preview",
    )
    return preview_option(season_option(command))


def _drop_of(kind: Kind) -> click.Command:
    def run(folder: str | None, name: str, preview: bool, sure: bool = False) -> None:
        opened = open_for(folder)
        alone = _left_alone(opened, kind, name)
        if alone and not sure and not preview:
            raise BadInputError(_in_the_way(opened, kind, name, alone))
        _do(opened, FILE_OF[kind], lambda old, plan: drop(old, kind, name, plan), preview=preview)
        if alone:
            tell(alone)

    params: list[click.Parameter] = [
        click.Argument(["name"], metavar="NAME", shell_complete=_names_of(kind))
    ]
    if kind != "container":
        params.append(click.Option(["--sure"], is_flag=True, help="Though plants stand there."))
    command = click.Command(
        kind,
        callback=run,
        params=params,
        help=f"Take a {kind} out of the plan. What the journal says of it stays.\n\n"
        f"Example: seedstart drop {kind} NAME --preview",
    )
    return preview_option(season_option(command))


def _in_the_way(opened: OpenSeason, kind: Kind, name: str, alone: str) -> list[Problem]:
    """That plants stand there, and what else bars it."""
    hint = f"{alone} Add --sure if it is to go all the same."
    problems = [Problem(file=f"drop {kind}", found=name, hint=hint)]
    try:
        previewed(opened.folder, FILE_OF[kind], lambda old, plan: drop(old, kind, name, plan))
    except BadInputError as error:
        problems += error.problems
    return problems


def _left_alone(opened: OpenSeason, kind: Kind, name: str) -> str:
    named: Any = opened.plan.lots if kind == "lot" else opened.plan.stations
    present = Names(named).find(name) or name
    return left_alone(whereabouts(opened.records(), opened.plan), kind, present)


def _do(opened: OpenSeason, file: str, edit: Edit, *, preview: bool) -> Season:
    """Make the change or show it, and say what moves; gives the plan with it."""
    before = opened.calendar()
    made = previewed(opened.folder, file, edit)
    plan = opened.plan_if(made)
    after = opened.calendar_with(plan)
    if not preview:
        made = edit_plan(opened.folder, file, edit)
    show(plain(line) for line in made.changed_lines())
    for text in moves_in_words(moves(before, after, opened.today), done=not preview):
        show(wrapped(text, width()))
    place = opened.folder / file
    if made.before == made.after:
        tell(f"{place} says that already; nothing is written.")
    else:
        tell(f"This is what {place} would say; nothing is written." if preview
             else f"Written: {place}.")  # fmt: skip
    return plan


_KINDS: tuple[Kind, ...] = ("lot", "station", "container")
for _kind in _KINDS:
    change.add_command(_change_of(_kind))
    drop_.add_command(_drop_of(_kind))
    if _kind != "container":
        rename_.add_command(_rename_of(_kind))
for _command in (change_test, change_trial):
    change.add_command(_command)
for _command in (drop_test, drop_trial):
    drop_.add_command(_command)
