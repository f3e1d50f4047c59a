"""A `log` command from an act: arguments and options from its fields, its door `acts.read`."""

import re
from collections.abc import Mapping
from typing import Any

import click
from click.shell_completion import CompletionItem
from msgspec.structs import replace

from seedstart.acts.act import Act, Field, Way
from seedstart.acts.read import ACTS, Filled, read
from seedstart.acts.sheet import AT, SURE
from seedstart.cli.printing import show_json
from seedstart.cli.recording import (
    on_option,
    open_for,
    record,
    refuse_days_to_come,
    take_back,
    tell_without_lots,
)
from seedstart.cli.season_files import season_option
from seedstart.problems import BadInputError, Problem
from seedstart.season.journal.entries import journal_schema

_BARE = re.compile(r"\s*[+-]?\d+(?:[.,]\d+)?\s*")


def command_of(act: Act) -> click.Command:
    """The command that writes an act down."""

    def run(folder: str | None, on: str | None, json_: bool, **said: Any) -> None:  # noqa: ANN401
        season = open_for(folder, on, without_lots=True)
        refuse_days_to_come(season)
        tell_without_lots(season)
        texts, via = texts_of(act, said)
        filled = read(act, season.known(), texts)
        if filled.problems:
            raise BadInputError(problems_of(filled, via))
        record(season, filled.entries, filled.at, as_json=json_)

    about = f"{act.about[:1].upper()}{act.about[1:]}."
    example = f"seedstart log {act.command} {act.example}"
    return click.Command(
        act.command,
        callback=run,
        params=[*_arguments(act), *_options(act), *_common()],
        help=f"{about}\n\nExample: {example}",
    )


def _name(key: str) -> str:
    """What click calls a parameter: some keys are words of Python."""
    return f"the_{key}"


def _option(key: str) -> str:
    return f"--{key.replace('_', '-')}"


def _arguments(act: Act) -> list[click.Parameter]:
    """In order: of a field with a way that is an argument, that way."""
    found: list[click.Parameter] = []
    for one in act.fields:
        for key, way in one.ways.items():
            if way.arg:
                found.append(click.Argument([_name(key)], required=False, metavar=key.upper()))
        if one.arg:
            found.append(
                click.Argument(
                    [_name(one.key)], required=False, nargs=-1 if one.many else 1,
                    metavar=_argument(one), shell_complete=_completing(one),
                )
            )  # fmt: skip
    return found


def _argument(one: Field) -> str:
    return f"{one.metavar or one.key.upper()}{'…' if one.many else ''}"


def _options(act: Act) -> list[click.Parameter]:
    found: list[click.Parameter] = []
    for one in act.fields:
        says = f"{one.says[:1].upper()}{one.says[1:]}."
        if one.flag:
            found.append(click.Option([_option(one.key), _name(one.key)], is_flag=True, help=says))
        elif not one.arg:
            found.append(
                click.Option(
                    [_option(one.key), _name(one.key)], metavar=one.metavar or "TEXT", help=says,
                    shell_complete=_completing(one),
                )
            )  # fmt: skip
        found += [
            click.Option([_option(key), _name(key)], metavar=way.metavar, help=way.says)
            for key, way in one.ways.items()
            if not way.arg
        ]
    return found


def _common() -> list[click.Parameter]:
    """What every kind has."""

    @season_option
    @on_option
    @click.option("--at", _name(AT), metavar="WHEN", help="When, if not now: 'sat 18:00', 8:30.")
    @click.option(
        "--sure", _name(SURE), is_flag=True, help="Write it even though it looks like a slip."
    )
    @click.option("--json", "json_", is_flag=True, help="Print the entries as they were recorded.")
    def options() -> None: ...

    return click.command()(options).params


def _completing(one: Field) -> Any:  # noqa: ANN401 - as click types it
    """Names for the shell, from the season that is found."""

    def complete(
        ctx: click.Context,
        param: click.Parameter,  # noqa: ARG001
        begun: str,
    ) -> list[CompletionItem]:
        try:
            names = one.names(open_for(ctx.params.get("folder")).known())
        except BadInputError:
            return []
        wanted = begun.casefold()
        return [CompletionItem(name) for name in names if name.casefold().startswith(wanted)]

    return complete


def texts_of(act: Act, said: Mapping[str, Any]) -> tuple[dict[str, str], dict[str, str]]:
    """What was typed, by field, and by field the option or argument by which it was.

    Args:
        act: The act.
        said: What click found, by its parameters.

    Raises:
        BadInputError: Two options that say the same field otherwise.
    """
    texts: dict[str, str] = {}
    via: dict[str, str] = {}
    problems: list[Problem] = []
    for one in act.fields:
        own = _typed(said[_name(one.key)])
        ways = {key: text for key in one.ways if (text := _typed(said[_name(key)])) is not None}
        composed = {key: text for key, text in ways.items() if "{own}" in one.ways[key].text}
        others = [key for key in ways if key not in composed]
        if len(others) + (own is not None) > 1:
            names = [*([_called(one)] if own is not None else []), *map(_option, others)]
            problems.append(Problem(file=", ".join(names), hint="Give one of them."))
            continue
        via[one.key] = _option(others[0]) if others else _called(one)
        if others:
            texts[one.key] = _with(one.ways[others[0]], ways[others[0]])
        elif own is not None:
            texts[one.key] = own
        for key, text in composed.items():
            if one.key in texts:
                texts[one.key] = one.ways[key].text.format(it=text, own=texts[one.key])
    if problems:
        raise BadInputError(problems)
    common = {key: text for key in (AT, SURE) if (text := _typed(said[_name(key)])) is not None}
    return texts | common, via


def _typed(value: object) -> str | None:
    """One text of what click found; None where nothing was typed."""
    if isinstance(value, tuple):
        return ", ".join(value) if value else None
    if isinstance(value, bool):
        return "yes" if value else None
    return None if value is None else str(value)


def _with(way: Way, text: str) -> str:
    """As it is typed into the field; what has more than a number has its unit already."""
    says_all = way.metavar in {"N", "H", "D", "G"} and not _BARE.fullmatch(text)
    return text if says_all else way.text.format(it=text)


def _called(one: Field) -> str:
    return one.metavar or one.key.upper() if one.arg else _option(one.key)


def problems_of(filled: Filled, via: Mapping[str, str]) -> list[Problem]:
    """What is wrong, by what was typed on the command line."""
    return [
        replace(
            problem,
            file=via.get(key, _option(key)),
            hint=f"{problem.hint} If you are sure, add --sure.".strip()
            if key in filled.questions
            else problem.hint,
        )
        for key, problem in filled.problems.items()
    ]


BY_COMMAND: dict[str, Act] = {act.command: act for act in ACTS}
KINDS = (*BY_COMMAND, "take-back")
# As it was called: not listed, and still understood.
_WERE = {"struck": "take-back"}


class KindGroup(click.Group):
    """Kinds by name, with - or _, made one at a time."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002, D102
        return list(KINDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002, D102
        name = cmd_name.replace("_", "-").casefold()
        name = _WERE.get(name, name)
        if name == "take-back":
            return take_back
        if name not in BY_COMMAND:
            unknown = Problem(file="log", found=cmd_name, allowed=KINDS, listed_by="kinds")
            raise BadInputError([unknown])
        return command_of(BY_COMMAND[name])

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:  # noqa: ARG002
        """The list of kinds, without making their commands."""
        with formatter.section("Kinds"):
            lines = [(name, act.about) for name, act in BY_COMMAND.items()]
            formatter.write_dl(
                [*lines, ("take-back", "your last entry, or one written at another time")]
            )


def _show_schema(ctx: click.Context, _: click.Parameter, asked: bool) -> None:
    if asked and not ctx.resilient_parsing:
        show_json(journal_schema())
        ctx.exit()


@click.group(cls=KindGroup)
@click.option(
    "--schema", is_flag=True, is_eager=True, expose_value=False, callback=_show_schema,
    help="Print what a line of the journal may hold, as JSON Schema.",
)  # fmt: skip
def log() -> None:
    """Write down what was done or seen; each entry is on the disk before it is confirmed.

    Every kind takes --at 'sat 18:00' for a past time, and --sure for what looks like a slip. A
    lot's name is enough while only one of its sowings is growing.

    Example: seedstart log counted leek 18
    """
