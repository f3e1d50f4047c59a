"""The group of commands: each is loaded when it is called, errors become exit code 2."""

import os
import sys
from collections.abc import Callable
from datetime import date
from functools import partial
from importlib import import_module
from pathlib import Path
from typing import Any

import click

from seedstart import disk
from seedstart.cli.printing import (
    flush,
    give_up,
    let_any_letter_through,
    somebody_types,
    stand_in,
    tell,
    tell_problems,
)
from seedstart.cli.usage_errors import NOW, as_problems, help_asked_for, no_longer
from seedstart.problems import BadInputError, Problem, Typed

REFUSED = 2
FAILED = 3


class SystemRefusedError(Exception):
    """The system refused something that no reader or writer of files has put into words."""

    def __init__(self, error: OSError) -> None:
        self.error = error
        super().__init__(str(error))


def code_of(error: Exception, *, as_json: bool) -> int:
    """Tell what ended a command.

    Returns:
        The exit code: 0 where all is recorded and only showing it failed or was stopped, for a
        script that sees another would try again.
    """
    if isinstance(error, SystemRefusedError):
        error = error.error
    if isinstance(error, click.ClickException):
        if not as_json and (help_text := help_asked_for(error)) is not None:
            tell(help_text)
            return REFUSED
        error = as_problems(error)
    if isinstance(error, BadInputError):
        tell_problems(error, as_json=as_json)
        return REFUSED
    if isinstance(error, click.Abort):
        return _stopped()
    if isinstance(error, OSError):
        return _refused_by_system(error, as_json=as_json)
    return _failed(error)


def _stopped() -> int:
    tell(f"Stopped. {_recorded()}" if disk.written() else "Stopped; nothing was written.")
    return 0 if disk.written() else REFUSED


def _refused_by_system(error: OSError, *, as_json: bool) -> int:
    if isinstance(error, BrokenPipeError):  # `| head` has seen enough
        give_up(sys.stdout)
        return 0
    if error.filename is None and _is_here():
        give_up(sys.stdout)
        file, hint = "standard output", f"It takes nothing: {disk.reason_of(error)}."
    else:
        file, hint = _of_a_file(error)
    stands = bool(disk.written())
    problem = Problem(file=file, hint=f"{hint} {_recorded()}" if stands else hint)
    tell_problems(BadInputError([problem]), as_json=as_json)
    return 0 if stands else REFUSED


def _is_here() -> bool:
    try:
        Path.cwd()
    except OSError:
        return False
    return True


def _of_a_file(error: OSError) -> tuple[str, str]:
    if error.filename is None:
        return disk.NOT_HERE.file, disk.NOT_HERE.hint
    reason = error.strerror or str(error)
    return os.fsdecode(error.filename), f"{reason[:1].upper()}{reason[1:]}."


def _recorded() -> str:
    paths = ", ".join(dict.fromkeys(str(one.path) for one in disk.written()))
    return f"It is recorded, so do not enter it again: it is in {paths}."


def _failed(error: Exception) -> int:
    """A fault in the program itself: said as such, with the traceback for whoever asks for it."""
    if "SEEDSTART_TRACEBACK" in os.environ:
        raise error
    tell(
        f"seedstart itself failed ({type(error).__name__}: {error}). "
        f"{_recorded() if disk.written() else 'What was confirmed before is safe.'} "
        "SEEDSTART_TRACEBACK=1 shows where, for a report."
    )
    return FAILED


# Command → (module, function, one line for the list). A command's module is loaded when called.
_COMMANDS = {
    "calendar": ("calendar_command", "calendar", "When to sow, prick out, harden off and set out."),
    "round": (
        "today_commands",
        "round",
        "This morning's jobs, station by station; tick them off here.",
    ),
    "alerts": (
        "today_commands",
        "alerts",
        "What is wrong, since when, how many days it costs and what to do.",
    ),
    "log": ("log_command", "log", "Write down what was done or seen: log counted leek 18."),
    "verify": ("verify_command", "verify", "Check every file and list what is wrong."),
    "readings": (
        "readings_command",
        "readings",
        "What was measured; readings add FILE takes in a logger's file.",
    ),
    "lots": ("lots_command", "lots", "How much of each lot came up; lots NAME for one in full."),
    "test": ("test_command", "test_group", "Germination tests: plan one, see what it says."),
    "sowing-rate": (
        "sowing_rate_command",
        "sowing_rate_command",
        "How many seeds give the plants you want.",
    ),
    "compare": ("compare_command", "compare_command", "Is one lot better or faster than another?"),
    "harden": (
        "today_commands",
        "harden",
        "Hardening off: today's step and hours, what stays in, what rules out setting out.",
    ),
    "space": (
        "stations_command",
        "space",
        "Whether everything fits on the stations, week by week.",
    ),
    "frost": ("frost_command", "frost", "When the last frost comes, at the risk you choose."),
    "weather": ("weather_command", "weather", "What the days bring; weather add FILE."),
    "export": (
        "export_command",
        "export",
        "Reminders for a phone's calendar: export ics FILE.",
    ),
    "light": (
        "light_command",
        "light",
        "Light at the leaf, what to set and what it costs.",
    ),
    "trial": (
        "trial_command",
        "trial",
        "Trials of light or anything else: trial new, trial show.",
    ),
    "learn": ("learn_command", "learn", "What your own sowings say, for the next season."),
    "new": ("new_command", "new", "A new season, lot, station or container."),
    "change": ("change_command", "change", "Change the plan: frost date, lots, stations, tests."),
    "rename": ("change_command", "rename_", "Another name for a lot or station."),
    "drop": ("change_command", "drop_", "Take a lot, station or test out of the plan."),
    "crops": ("crops_command", "crops", "The crop table, and the source of each figure."),
}


class CommandGroup(click.Group):
    """Commands by name, loaded one at a time; wrong input ends in exit code 2 and no traceback."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002, D102
        return list(_COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002, D102
        if cmd_name not in _COMMANDS:
            return None
        module, function, _ = _COMMANDS[cmd_name]
        command: click.Command = getattr(import_module(f"seedstart.cli.{module}"), function)
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Find the command, or name the nearest one."""
        name = args[0]
        if not name.startswith("-") and name not in _COMMANDS:
            was = " ".join(args[:2]) if " ".join(args[:2]) in NOW else name
            if was in NOW:
                raise BadInputError([no_longer(was, was, ())])
            unknown = Problem(
                file="seedstart",
                found=name,
                allowed=tuple(_COMMANDS),
                listed_by="commands",
            )
            raise BadInputError([unknown])
        return super().resolve_command(ctx, args)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:  # noqa: ARG002
        """The list of commands, without loading them."""
        with formatter.section("Commands"):
            formatter.write_dl([(name, line) for name, (_, _, line) in _COMMANDS.items()])

    def invoke(self, ctx: click.Context) -> Any:  # noqa: ANN401
        """Run a command; where the system refuses, `main` says it, not click."""
        try:
            return super().invoke(ctx)
        except OSError as error:
            raise SystemRefusedError(error) from None

    def main(self, *args: Any, **kwargs: Any) -> Any:  # noqa: ANN401
        """Run; what goes wrong is told on standard error, all of it, as JSON if that was asked."""
        as_json = "--json" in (kwargs.get("args") or (args[0] if args else sys.argv[1:]) or ())
        kwargs["standalone_mode"] = False
        stand_in()
        let_any_letter_through()
        disk.begin_run()
        try:
            try:
                code = super().main(*args, **kwargs)
            except SystemExit as ended:
                code = ended.code
            flush()
        except Exception as error:  # noqa: BLE001 - all are told, and none with a traceback
            code = code_of(error, as_json=as_json)
        except KeyboardInterrupt:
            code = code_of(click.Abort(), as_json=as_json)
        for text in dict.fromkeys(text for one in disk.written() for text in one.remarks):
            tell(text)
        sys.exit(code if isinstance(code, int) else 0)


def _show_version(ctx: click.Context, _: click.Parameter, asked: bool) -> None:
    if not asked or ctx.resilient_parsing:
        return
    from importlib.metadata import version  # 27 ms that only this option pays for

    click.echo(f"seedstart {version('seedstart')}")
    ctx.exit()


@click.group(
    name="seedstart",
    cls=CommandGroup,
    invoke_without_command=True,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
)
@click.option(
    "--season",
    "folder",
    metavar="PATH",
    help="Without a command: open the app on this season.",
)
@click.option(
    "--on", metavar="DATE", help="Without a command: open the app at the end of that day."
)
@click.option(
    "--plain",
    is_flag=True,
    help="Without a command: the app with ASCII signs, and a sentence for each line.",
)
@click.option(
    "--version",
    is_flag=True,
    is_eager=True,
    expose_value=False,
    callback=_show_version,
    help="Show the version.",
)
@click.pass_context
def cli(ctx: click.Context, folder: str | None, on: str | None, plain: bool) -> None:
    """Indoor seed starting: a sowing calendar from the frost date, checks, germination.

    Without a command it opens the app: the round at the bench, on the season in this folder or the
    nearest above.

    Example: seedstart calendar --last-frost 2027-05-12
    """
    if ctx.invoked_subcommand is not None:
        if plain:
            raise click.UsageError("--plain is for the app: seedstart --plain, without a command.")
        if folder is not None or on is not None:
            given = "--season" if folder is not None else "--on"
            raise click.UsageError(f"{given} goes after the command: {_behind(ctx, given)}")
        return
    if ctx.obj is None or not is_on_a_terminal():
        click.echo(ctx.get_help())
        return
    _open_app(partial(ctx.obj, plain=True) if plain else ctx.obj, folder, on)


def is_on_a_terminal() -> bool:
    """Whether somebody looks, and can press keys."""
    return somebody_types() and sys.stdout.isatty()


def _behind(ctx: click.Context, option: str) -> str:
    return f"seedstart {ctx.invoked_subcommand} {option} …"


def _open_app(
    open_app: Callable[[Path | None, str, date | None], None], folder: str | None, on: str | None
) -> None:
    """Open the app on the season that was named, or the nearest; on an offer to make one else."""
    from seedstart.cli.season_files import find_season
    from seedstart.days import parse_day
    from seedstart.disk.season_folder import season_at_or_above
    from seedstart.settings import read_settings

    typed = Typed()
    day = typed.read("--on", on, parse_day)
    typed.done()
    season = find_season(folder) if folder is not None else season_at_or_above(disk.here())
    open_app(season, read_settings().writer, day)
