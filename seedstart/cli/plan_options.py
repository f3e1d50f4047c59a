"""What commands that change the plan share: `--preview`, and keys that are changed or left out."""

from collections.abc import Mapping
from typing import Any

import click

from seedstart.cli.printing import show, tell
from seedstart.disk.plan_changes import Edit, edit_plan, previewed, take_file_away
from seedstart.disk.reading import read
from seedstart.drawing.lines import plain
from seedstart.open_season import OpenSeason
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


def change_file(opened: OpenSeason, path: str, edit: Edit, *, preview: bool) -> None:
    """Change a file of trials/ or show it, with the lines that are others.

    Raises:
        BadInputError: Everything wrong in the change; nothing was written.
    """
    made = (previewed if preview else edit_plan)(opened.folder, path, edit)
    show(plain(line) for line in made.changed_lines())
    if made.before == made.after:
        tell(f"{path} says that already; nothing is written.")
    else:
        tell(f"This is what {path} would say; nothing is written." if preview
             else f"Written: {path}.")  # fmt: skip


def drop_file(
    opened: OpenSeason, path: str, name: str, begun: str, *, file: str, preview: bool, sure: bool
) -> None:
    """Take a file of trials/ out of the plan; what was begun stays in the journal.

    Args:
        opened: The season.
        path: The file.
        name: What it plans.
        begun: What was sown of it, in words; empty for nothing.
        file: The command.
        preview: Say it, and write nothing.
        sure: Though it has begun.

    Raises:
        BadInputError: It has begun, and nobody is sure.
    """
    stays = f"{begun[:1].upper()}{begun[1:]}: that stays, and nothing asks for its days." * bool(
        begun
    )
    if begun and not (sure or preview):
        hint = f"{stays} Add --sure if it is to go all the same."
        raise BadInputError([Problem(file=file, found=name, hint=hint)])
    if preview:
        tell(f"{path} would be taken away; nothing is written.")
    else:
        take_file_away(opened.folder, path, read(opened.folder / path))
        tell(f"Taken away: {path}.")
    if stays:
        tell(stays)
