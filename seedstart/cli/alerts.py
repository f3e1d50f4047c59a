"""`seedstart alerts`: what is wrong, since when, what it costs, what to do."""

import sys

import click

from seedstart.cli.recording import as_of_option, open_for
from seedstart.cli.season_files import season_option
from seedstart.cli.show import show, show_json, width
from seedstart.daily.as_json import alerts_as_json
from seedstart.drawing.round_lines import alert_lines


@click.command()
@click.option("--json", "as_json", is_flag=True, help="For scripts.")
@as_of_option
@season_option
def alerts(as_json: bool, on: str | None, folder: str | None) -> None:
    """What goes wrong: too cold, too hot, overdue, a mat that no longer heats.

    Exit code 1 when something is to be done about it now or today; 0 when not. What was seen is
    ticked with seedstart round --tick.

    \b
    Example: seedstart alerts
    """  # noqa: D301
    found = open_for(folder, on).round()
    if as_json:
        show_json(alerts_as_json(found))
    else:
        show(alert_lines(found.alerts, width(), keys=True))
    if any(alert.level != "know" for alert in found.alerts):
        sys.exit(1)
