"""The app, run: with the colours of the settings, and a fault of its own told as such."""

import os
from datetime import date
from pathlib import Path

from seedstart import disk
from seedstart.app.app import SeedstartApp
from seedstart.app.styles import GROUNDS, Ground
from seedstart.app.terminal import ask_for_ground, ground_in, has_few_signs
from seedstart.settings import SETTINGS_FILE, read_settings, settings_path, with_theme


def run_app(
    folder: Path | None,
    by: str,
    on: date | None,
    *,
    plain: bool = False,
) -> None:
    """Run the app until the grower quits.

    Args:
        folder: The season's folder; None where there is none yet.
        by: Who writes.
        on: Another day than today.
        plain: ASCII signs, and sentences for a screen reader, whatever the terminal is.

    Raises:
        Exception: What failed in the program itself, for the command line to tell.
    """
    ground = ground_of_settings() or ground_in(os.environ.get("COLORFGBG", ""))
    app = SeedstartApp(
        folder,
        by,
        on,
        ground=ground,
        keep_ground=keep_ground,
        plain=plain or has_few_signs(),
    )
    if ground is None:
        ask_for_ground(app)
    app.run()
    if app.failed is not None:
        raise app.failed


def ground_of_settings() -> Ground | None:
    """The ground that the settings say, if they say one."""
    theme = read_settings().theme
    return next((ground for ground in GROUNDS if ground == theme), None)


def keep_ground(ground: Ground) -> None:
    """Write the ground into the settings.

    Raises:
        NotRecorded: They cannot be written.
    """
    path = settings_path()
    if path.parent.is_dir():
        disk.change_file(path, lambda old: with_theme(old, ground))
    else:
        disk.make_folder(path.parent, {SETTINGS_FILE: with_theme(b"", ground)})
