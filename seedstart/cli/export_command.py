"""`seedstart export`: what leaves the season for other programs."""

import re
import sys
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path

import click

from seedstart import disk
from seedstart.cli.printing import tell
from seedstart.cli.recording import as_of_option, open_for
from seedstart.cli.season_files import season_option
from seedstart.open_season import OpenSeason
from seedstart.problems import Typed
from seedstart.takeaway.calendar_file import Edition, calendar_file
from seedstart.takeaway.reminders import REMINDER_KINDS, ReminderKind, reminders
from seedstart.text import plural

_COUNTED_FROM = date(2020, 1, 1)


@click.group()
def export() -> None:
    """Reminders for the calendar of a phone.

    Example: seedstart export ics seedstart.ics
    """


@export.command()
@click.argument("file", required=False, type=click.Path(path_type=Path))
@click.option("--only", "kinds", multiple=True, metavar="KIND", help=", ".join(REMINDER_KINDS))
@click.option("--alarm", metavar="TIME", help="Ring on the day: 07:00.")
@season_option
@as_of_option
def ics(
    file: Path | None,
    kinds: tuple[str, ...],
    alarm: str | None,
    folder: str | None,
    on: str | None,
) -> None:
    """Write the steps still to be done as reminders. They are all-day events (iCalendar, RFC 5545).

    Export to the same FILE again and take it in again: what moved moves, where the reader obeys the
    standard. Some double it all the same: give it a calendar of its own, and empty that first.
    Without FILE it goes to standard output.

    Example: seedstart export ics seedstart.ics --only hardening --alarm 07:00
    """
    typed = Typed()
    only = [typed.read("--only", one, _kind) for one in kinds]
    rings = typed.read("--alarm", alarm, _clock)
    typed.done()
    season = open_for(folder, on)
    found = reminders(
        season.plan,
        season.calendar(),
        season.hardening(),
        season.today,
        [one for one in only if one] or REMINDER_KINDS,
    )
    edition = _edition(season)
    if file is None:
        sys.stdout.flush()
        sys.stdout.buffer.write(calendar_file(found, edition, alarm=rings))
        return
    if file.exists():
        disk.change_file(
            file,
            lambda old: calendar_file(found, edition, alarm=rings, old=old, file=str(file)),
        )
    else:
        disk.write_new(file, calendar_file(found, edition, alarm=rings))
    tell(f"{plural(len(found), 'reminder')} in {file}.")


def _edition(season: OpenSeason) -> Edition:
    """What tells this export from an earlier one: what was written down, and the day."""
    frost = season.plan.frost
    year = frost.last.year if frost and frost.last else ""
    entries = [one for one in season.journal.by_id.values() if one.at.date() <= season.today]
    midnight = datetime.combine(season.today, time(), season.zone)
    latest = max([midnight, *(one.at for one in entries)])
    return Edition(
        season=f"{season.plan.zone} {year}",
        title=season.plan.title or "seedstart",
        revision=len(entries) + (season.today - _COUNTED_FROM).days,
        stamp=latest.astimezone(UTC).replace(microsecond=0),
        today=season.today,
    )


def _kind(text: str) -> ReminderKind:
    wanted = text.strip().casefold().replace(" ", "-").replace("_", "-")
    wanted = {"harden": "hardening", "soak": "treat"}.get(wanted, wanted)
    for kind in REMINDER_KINDS:
        if kind == wanted:
            return kind
    raise ValueError(f"one of {', '.join(REMINDER_KINDS)}")


def _clock(text: str) -> timedelta:
    match = re.fullmatch(r"([01]?\d|2[0-3])(?:[:.]([0-5]\d))?(?:\s*h)?", text.strip())
    if not match:
        raise ValueError("a time of day, e.g. 07:00")
    return timedelta(hours=int(match[1]), minutes=int(match[2] or 0))
