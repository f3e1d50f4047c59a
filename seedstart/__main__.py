"""The door: runs the command line and hands it a way to open the app."""

import sys
from datetime import date
from pathlib import Path


def main() -> None:
    """Run `seedstart`."""
    try:
        from seedstart.cli.main import cli  # it may be stopped while it loads, too

        cli(obj=open_app)
    except KeyboardInterrupt:
        sys.exit(2)


def open_app(folder: Path | None, by: str, on: date | None, *, plain: bool = False) -> None:
    """Open the app on a season, or on the offer to make one where there is none."""
    from seedstart.season.journal.journal import collector_at_rest

    with collector_at_rest():
        from seedstart.app.opening import run_app  # Textual, for those who open it
    run_app(folder, by, on, plain=plain)


if __name__ == "__main__":
    main()
