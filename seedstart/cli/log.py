"""`seedstart log KIND …`: what was done or seen, written down; a command is made of each act."""

import click

from seedstart.acts.act import Act
from seedstart.acts.all import ACTS
from seedstart.cli.log_command import command_of
from seedstart.cli.show import show_json
from seedstart.cli.take_back import take_back
from seedstart.problems import BadInputError, Problem
from seedstart.season.journal_schema import journal_schema

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
            formatter.write_dl([*lines, ("take-back", "your last entry, or one of another time")])


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
