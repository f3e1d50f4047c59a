"""What commands that change the plan share: `--preview`, and keys that are changed or left out."""

from collections.abc import Mapping
from typing import Any

import click

from seedstart.problems import BadInputError, Problem

preview_option = click.option(
    "--preview", is_flag=True, help="Show what would be written and what would move; write nothing."
)
WITHOUT_HELP = "Leave this key out; repeatable."


def with_left_out(
    typed: Mapping[str, Any], without: tuple[str, ...], options: Mapping[str, str], *, file: str
) -> dict[str, Any]:
    """What was typed, by key; None for what is to be left out.

    Args:
        typed: Values by key, of the options that were given.
        without: What was given with --without.
        options: The option of each key that there is: `--ppf`.
        file: The command.

    Raises:
        BadInputError: Nothing was typed, or a key is both changed and left out, or there is none.
    """
    by_option = {option.removeprefix("--"): key for key, option in options.items()}
    found, problems = dict(typed), []
    for word in without:
        key = by_option.get(word.removeprefix("--"))
        if key is None or key in typed:
            hint = "It is changed and left out: choose one." if key else ""
            allowed = () if key else tuple(by_option)
            problems.append(Problem(file="--without", found=word, allowed=allowed, hint=hint))
        else:
            found[key] = None
    if not found and not problems:
        hint = f"Say what is to change: {', '.join(options.values())}."
        problems.append(Problem(file=file, hint=hint))
    if problems:
        raise BadInputError(problems)
    return found
