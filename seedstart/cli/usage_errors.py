"""A command typed wrongly, as problems like all others: what was found, what may stand there."""

import re
from typing import Final

import click

from seedstart.problems import BadInputError, Problem

# Options and commands as they were called, for whoever types them still: named, and not taken.
NOW: Final = {
    "--done": "--tick",
    "--later": "--put-off",
    "--until": "--till",
    "--dry-run": "--preview",
    "--source": "--donor",
    "--trust": "--tender-risk",
    "lot": "new lot",
    "lot add": "new lot",
    "station": "new station",
    "station add": "new station",
    "new FOLDER": "new season FOLDER",
}


def help_asked_for(error: click.ClickException) -> str | None:
    """The help of a group whose command was left out; None for what is really wrong."""
    return error.message if isinstance(error, click.exceptions.NoArgsIsHelpError) else None


def as_problems(error: click.ClickException) -> BadInputError:
    """What the parser of the command line refused, in our own words."""
    ctx = error.ctx if isinstance(error, click.UsageError) else None
    at = ctx.command_path if ctx is not None else "seedstart"
    shows = f"`{at} --help` shows what it takes." if ctx is not None else ""
    return BadInputError([_problem(error, at, shows)])


def _problem(error: click.ClickException, at: str, shows: str) -> Problem:
    if isinstance(error, click.NoSuchOption):
        return _as_it_was_called(error, at) or Problem(
            file=at, found=error.option_name, allowed=_options(error), hint=shows
        )
    if isinstance(error, click.BadOptionUsage):
        return Problem(
            file=at, key=error.option_name, hint=f"A value goes after it. {shows}".rstrip()
        )
    if isinstance(error, click.MissingParameter):
        missing = error.param.human_readable_name if error.param is not None else ""
        return Problem(file=at, key=missing, hint=f"It is missing. {shows}")
    if isinstance(error, click.exceptions.NoSuchCommand):
        return Problem(file=at, found=error.command_name, allowed=_commands(error))
    more = re.fullmatch(r"Got unexpected extra arguments? \((.*)\)", error.message, re.DOTALL)
    if more:
        return Problem(file=at, found=more[1], hint=f"Nothing more is expected there. {shows}")
    return Problem(file=at, hint=error.format_message())


def _options(error: click.NoSuchOption) -> tuple[str, ...]:
    if error.ctx is None:
        return ()
    options = (one for one in error.ctx.command.params if isinstance(one, click.Option))
    return (*(name for one in options for name in one.opts if name.startswith("--")), "--help")


def _commands(error: click.UsageError) -> tuple[str, ...]:
    if error.ctx is None or not isinstance(error.ctx.command, click.Group):
        return ()
    return tuple(error.ctx.command.list_commands(error.ctx))


def _as_it_was_called(error: click.NoSuchOption, at: str) -> Problem | None:
    """What an option is called now, with the others of its command: one is seldom typed alone."""
    here = set(_options(error))
    went = {was: now for was, now in NOW.items() if now in here}
    now = went.pop(error.option_name, None)
    if now is None:
        return None
    others = "".join(f", {was} {other}" for was, other in went.items())
    return Problem(file=at, hint=f"{error.option_name} is now {now}{others}.")


def no_longer(was: str, typed: str, allowed: tuple[str, ...]) -> Problem:
    """What a command that was called otherwise is called now."""
    hint = f"`seedstart {was}` is now `seedstart {NOW[was]}`."
    return Problem(file="seedstart", found=typed, allowed=allowed, hint=hint, listed_by="commands")
