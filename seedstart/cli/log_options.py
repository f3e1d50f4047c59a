"""The options that every `log` command has, and the way from its function to the journal."""

from collections.abc import Callable, Sequence
from functools import wraps
from inspect import cleandoc

import click

from seedstart.cli.recording import Log, on_option
from seedstart.cli.season_files import season_option
from seedstart.season.entries import Entry


def command(
    commands: dict[str, click.Command], name: str, example: str
) -> Callable[[Callable[..., Sequence[Entry]]], click.Command]:
    """Make a `log` command of a function that returns the drafts of one act."""

    def decorate(make: Callable[..., Sequence[Entry]]) -> click.Command:
        @wraps(make)
        def run(
            folder: str | None,
            on: str | None,
            at: str | None,
            json_: bool,
            **said: object,
        ) -> None:
            log = Log(folder, on, at)
            log.record(lambda: make(log, **said), as_json=json_)

        options = [
            season_option,
            on_option,
            click.option("--at", metavar="WHEN", help="When, if not now: 'sat 18:00', 8:30."),
            click.option("--json", "json_", is_flag=True, help="Print the entries as recorded."),
        ]
        function: Callable[..., None] = run
        for option in reversed(options):
            function = option(function)
        help_text = f"{cleandoc(make.__doc__ or '')}\n\nExample: {example}"
        made = click.command(name=name, help=help_text)(function)
        # Arguments first, then a kind's own options, then those that all have.
        made.params.sort(key=lambda one: one.name in {"folder", "on", "at", "json_"})
        commands[name] = made
        return made

    return decorate
