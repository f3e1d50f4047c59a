"""What a command ended with, in words and as an exit code; what was written before is said."""

import os
import sys
from io import StringIO
from pathlib import Path

import click

from seedstart import disk
from seedstart.cli.show import tell, tell_problems
from seedstart.cli.streams import give_up
from seedstart.problems import BadInputError, Problem

# Options as they were called, for whoever types them still: named, and not taken.
_NOW = {"--done": "--tick", "--later": "--put-off", "--until": "--till"}
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
    if isinstance(error, click.NoSuchOption):
        error = _as_it_was_called(error) or error
    if isinstance(error, click.UsageError) and not as_json:
        _tell_usage(error)
        return REFUSED
    if isinstance(error, click.ClickException):
        error = BadInputError([Problem(file="command line", hint=error.format_message())])
    if isinstance(error, BadInputError):
        tell_problems(error, as_json=as_json)
        return REFUSED
    if isinstance(error, click.Abort):
        return _stopped()
    if isinstance(error, OSError):
        return _refused_by_system(error, as_json=as_json)
    return _failed(error)


def _as_it_was_called(error: click.NoSuchOption) -> BadInputError | None:
    """What an option is called now, with the others of its command: one is seldom typed alone."""
    if error.ctx is None:
        return None
    here = {option for one in error.ctx.command.params for option in one.opts}
    went = {was: now for was, now in _NOW.items() if now in here}
    now = went.pop(error.option_name, None)
    if now is None:
        return None
    others = "".join(f", {was} {other}" for was, other in went.items())
    hint = f"{error.option_name} is now {now}{others}."
    return BadInputError([Problem(file=error.ctx.command_path, hint=hint)])


def _tell_usage(error: click.UsageError) -> None:
    said = StringIO()
    error.show(said)
    tell(said.getvalue().rstrip("\n"))


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
    return f"It is recorded, so do not enter it again: it stands in {paths}."


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
