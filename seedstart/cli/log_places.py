"""`log` of places: covered, moved, watered, weighed, read, adjusted, hardened."""

from collections.abc import Sequence

import click

from seedstart.cli.log_options import command
from seedstart.cli.recording import Log
from seedstart.problems import Problem
from seedstart.season.entries import (
    BLANK,
    VALUE_RANGES,
    Adjusted,
    Covered,
    Entry,
    Fed,
    Hardened,
    Held,
    Moved,
    Read,
    Uncovered,
    Watered,
    Weighed,
)
from seedstart.season.typed import parse_amount
from seedstart.season.typed_values import parse_reading
from seedstart.text import clean
from seedstart.units import parse_length, parse_temperature, parse_temperatures

COMMANDS: dict[str, click.Command] = {}


def _cover_command(kind: str, struct: type[Covered | Uncovered], doc: str) -> None:
    def run(log: Log, what: str) -> Sequence[Entry]:
        subject = log.what(what)
        log.done()
        return [struct(**BLANK, **subject)]

    run.__doc__ = doc
    command(COMMANDS, kind, f"seedstart log {kind} 'tray 5'")(click.argument("what")(run))


_cover_command("covered", Covered, "A cover laid on a sowing, a tray or a station.")
_cover_command("uncovered", Uncovered, "A cover lifted off a sowing, a tray or a station.")


@command(COMMANDS, "moved", "seedstart log moved leek 'shelf 2' --tray 'tray 5'")
@click.argument("what")
@click.argument("station")
@click.option("--tray", metavar="NAME", help="The tray that a sowing comes into.")
@click.option("--place", metavar="TEXT", help="Where, in your words.")
def moved(
    log: Log, what: str, station: str, tray: str | None, place: str | None
) -> Sequence[Entry]:
    """A sowing, or a tray with all in it, carried to a station."""
    subject = log.what(what)
    if "station" in subject:
        log.refuse(Problem(file="WHAT", found=what, hint="A station is not carried about."))
    at, records = log.station(station, "STATION"), log.season.records()
    if tray is not None and "sowing" in subject:
        subject["tray"] = log.tray(tray) or ""
    elif one := records.by_name_in_line(subject.get("sowing", "")):
        subject |= {"tray": along} if (along := records.goes_along(one.id)) else {}
    log.done()
    where = clean(place) if place else None
    return [Moved(**BLANK, station=at or "", place=where, **subject)]


def _pour_command(kind: str, struct: type[Watered | Fed], doc: str) -> None:
    def run(
        log: Log, what: str, ml: str | None, with_what: str | None, ppm_n: str | None
    ) -> Sequence[Entry]:
        subject = log.what(what)
        amount, nitrogen = log.amount("--ml", ml), log.amount("--ppm-n", ppm_n)
        log.done()
        said = clean(with_what) if with_what else None
        return [struct(**BLANK, ml=amount, what=said, ppm_n=nitrogen, **subject)]

    run.__doc__ = doc
    run = click.option("--ppm-n", metavar="N", help="Nitrogen in it, ppm.")(run)
    run = click.option("--with", "with_what", metavar="TEXT", help="What was given.")(run)
    run = click.option("--ml", metavar="ML", help="How much, millilitres.")(run)
    command(COMMANDS, kind, f"seedstart log {kind} 'tray 5' --ml 400")(click.argument("what")(run))


_pour_command("watered", Watered, "Water given to a sowing, a tray, or all that stands there.")
_pour_command("fed", Fed, "Feed given to a sowing, a tray, or all that stands there.")


def _grams(text: str) -> float:
    grams = parse_amount(text.removesuffix("g"))
    if grams <= 0:
        raise ValueError("a weight in grams, above 0, as 1700")
    return grams


def _hours_of_day(text: str) -> float:
    hours = parse_amount(text.removesuffix("h"))
    if not 0 <= hours <= 24:
        raise ValueError("hours of a day, 0 to 24, as 3 or 2.5")
    return hours


@command(COMMANDS, "weighed", "seedstart log weighed 'tray 5' 1700 now")
@click.argument("what")
@click.argument("grams")
@click.argument("state", default="now")
def weighed(log: Log, what: str, grams: str, state: str) -> Sequence[Entry]:
    """A sowing or a tray weighed: dry, full (wet through and drained), or now."""
    subject = log.what(what)
    if "station" in subject:
        log.refuse(Problem(file="WHAT", found=what, hint="Weigh a sowing or a tray."))
    mass = log.read("GRAMS", grams, _grams)
    how = log.word("STATE", state, ("dry", "full", "now"))
    log.done()
    return [Weighed(**BLANK, grams=mass, state=how, **subject)]  # type: ignore[arg-type]


@command(COMMANDS, "read", "seedstart log read 'heat mat' 23.5C")
@click.argument("place")
@click.argument("value")
@click.option("--quantity", metavar="NAME", help=f"One of {', '.join(VALUE_RANGES)}.")
def read(log: Log, place: str, value: str, quantity: str | None) -> Sequence[Entry]:
    """A measured number at a station or in a tray: 23.5C is the medium's temperature.

    Others: 8000lux, 150umol, 12mol, 60%, 1.8mS, 6.1pH; air with --quantity air_c.
    """
    subject = log.what(place)
    if subject.get("sowing"):
        log.refuse(Problem(file="PLACE", found=place, hint="Read a station or a tray."))
    units = log.season.plan.units
    chosen = log.word("--quantity", quantity, tuple(VALUE_RANGES)) if quantity else ""
    named = next((one for one in VALUE_RANGES if one == chosen), None)
    found = log.read("VALUE", value, lambda text: parse_reading(text, named, units))
    log.done()
    if found is None:
        return []
    return [Read(**BLANK, quantity=found[0], value=found[1], **subject)]


@command(COMMANDS, "adjusted", "seedstart log adjusted 'heat mat' --thermostat 24C")
@click.argument("station")
@click.option("--lamp-hours", metavar="H", help="Hours of light a day.")
@click.option("--lamp-height", metavar="L", help="Over the leaves, as '20 cm'.")
@click.option("--lamp-percent", metavar="P", help="Dimmed to so many percent.")
@click.option("--mat", metavar="on|off", help="The heat mat.")
@click.option("--thermostat", metavar="T", help="As 24C.")
@click.option("--expected", metavar="T", help="What to plan with from now on, as 22C.")
def adjusted(log: Log, station: str, **said: str | None) -> Sequence[Entry]:
    """Lamps, mat or thermostat of a station set anew."""
    units = log.season.plan.units
    at = log.station(station, "STATION")
    height = log.read("--lamp-height", said["lamp_height"], lambda text: parse_length(text, units))
    log.read("--expected", said["expected"], lambda text: parse_temperatures(text, units))
    found = {
        "lamp_hours": log.amount("--lamp-hours", said["lamp_hours"]),
        "lamp_height_mm": round(height * 1000, 1) if isinstance(height, float) else None,
        "lamp_percent": log.amount("--lamp-percent", said["lamp_percent"]),
        "mat": log.word("--mat", said["mat"], ("on", "off")) if said["mat"] else None,
        "thermostat_c": log.read(
            "--thermostat", said["thermostat"], lambda text: parse_temperature(text, units)
        ),
        "expected": clean(said["expected"]) if said["expected"] else None,
    }
    if not any(said.values()):
        hint = "Say what was set: --thermostat, --mat, --lamp-hours, …"
        log.refuse(Problem(file="adjusted", hint=hint))
    log.done()
    return [Adjusted(**BLANK, station=at or "", **found)]  # type: ignore[arg-type]


@command(COMMANDS, "hardened", "seedstart log hardened leek 3")
@click.argument("what")
@click.argument("hours")
@click.option("--night", is_flag=True, help="Out at night too.")
def hardened(
    log: Log,
    what: str,
    hours: str,
    night: bool,
) -> Sequence[Entry]:
    """A sowing or a tray stood outdoors for so many hours today."""
    subject = _carried(log, what)
    out = log.read("HOURS", hours, _hours_of_day)
    log.done()
    return [Hardened(**BLANK, hours=out, night=night, **subject)]  # type: ignore[arg-type]


@command(COMMANDS, "held", "seedstart log held leek --why windy")
@click.argument("what")
@click.option("--why", metavar="TEXT", default="not said", help="Why.")
def held(log: Log, what: str, why: str) -> Sequence[Entry]:
    """A sowing or a tray kept in on a day on which it was to go out."""
    subject = _carried(log, what)
    log.done()
    return [Held(**BLANK, why=clean(why), **subject)]


def _carried(log: Log, what: str) -> dict[str, str]:
    subject = log.what(what)
    if "station" in subject:
        log.refuse(Problem(file="WHAT", found=what, hint="Name a sowing or a tray."))
    return subject
