"""`log` of words: checks, plans, forecasts, notes, and what is taken back."""

from collections.abc import Sequence
from datetime import date
from typing import Any

import click
import tomli

from seedstart.cli.log_options import command
from seedstart.cli.recording import Log
from seedstart.cli.show import tell
from seedstart.cli.taking_back import by_ids, last_act, of_time
from seedstart.daily.finding import find
from seedstart.daily.later import day_named
from seedstart.days import parse_day
from seedstart.problems import BadInputError, Problem
from seedstart.season.entries import (
    BLANK,
    Checked,
    Entry,
    Forecast,
    Noted,
    Planned,
    PutOff,
    Struck,
)
from seedstart.season.lot import LOT_KEYS
from seedstart.season.new_lots import check_lots
from seedstart.text import clean, folded
from seedstart.units import parse_temperature

COMMANDS: dict[str, click.Command] = {}


@command(COMMANDS, "checked", "seedstart log checked KEY")
@click.argument("key")
def checked(log: Log, key: str) -> Sequence[Entry]:
    """A check done that leaves no other record, or an alert that was seen, by its key."""
    log.done()
    _tell_unknown(log, key)
    return [Checked(**BLANK, check=clean(key))]


def _tell_unknown(log: Log, key: str) -> None:
    """A key that no check or alert of the day bears is written down all the same, and said."""
    found = find(log.season.round(), key, option="KEY")
    if isinstance(found, Problem):
        tell(f"No check and no alert of this day has this key. {found}")
    elif folded(found.key) != folded(clean(key)):
        tell(f"A key is written whole here: `{found.key}` is one of this day.")


def _day_ahead(text: str, today: date) -> date:
    day = day_named(text, today)
    if day is None:
        raise ValueError("a day ahead, as saturday, 3 days, 2 weeks or 2027-03-27")
    return day


@command(COMMANDS, "put-off", "seedstart log put-off KEY --until 2027-03-27 --why moist")
@click.argument("key")
@click.option("--until", metavar="DAY", help="saturday, 3 days, 2027-03-27; else tomorrow.")
@click.option("--why", metavar="TEXT", help="Why.")
def put_off(log: Log, key: str, until: str | None, why: str | None) -> Sequence[Entry]:
    """A check left for later, by its key."""
    day = log.read("--until", until, lambda text: _day_ahead(text, log.season.today))
    log.done()
    _tell_unknown(log, key)
    said = clean(why) if why else None
    return [PutOff(**BLANK, check=clean(key), until=day, why=said)]


@command(COMMANDS, "planned", "seedstart log planned leek-giant want=80")
@click.argument("lot")
@click.argument("keys", nargs=-1, required=True)
def planned(log: Log, lot: str, keys: tuple[str, ...]) -> Sequence[Entry]:
    """Keys of a lot set anew, as KEY=VALUE; holds while lots.toml still says what it said."""
    if log.season.plan_problems:  # what the lot says now goes into the entry
        raise BadInputError(log.season.plan_problems)
    name = log.lot(lot)
    values = {key: value for text in keys for key, value in [_pair(log, text)] if key}
    log.done()
    said = log.season.lot_keys(name)
    merged = {**said, **values}
    others = [one for one in log.season.plan.lots if one.name != name]
    plan = log.season.plan.__class__(
        **{field: getattr(log.season.plan, field) for field in log.season.plan.__struct_fields__}
        | {"lots": tuple(others)}
    )
    check_lots([merged], plan, file="planned")
    return [Planned(**BLANK, lot=name, to=values, said={key: said.get(key) for key in values})]


def _pair(log: Log, text: str) -> tuple[str, object]:
    key, sign, value = text.partition("=")
    if not sign or key not in LOT_KEYS:
        log.refuse(
            Problem(
                file="KEY=VALUE", found=text, allowed=LOT_KEYS, listed_by="seedstart lot add --help"
            )
        )
        return "", None
    try:
        return key, tomli.loads(f"v = {value}")["v"]
    except tomli.TOMLDecodeError:
        return key, clean(value)


@command(COMMANDS, "forecast", "seedstart log forecast 2027-05-02 --tmin 3C --wind 4")
@click.argument("day")
@click.option("--tmin", metavar="T", help="Lowest temperature, as 3C.")
@click.option("--tmax", metavar="T", help="Highest temperature.")
@click.option("--wind", metavar="MS", help="Mean wind, m/s.")
@click.option("--gust", metavar="MS", help="Gusts, m/s.")
@click.option("--rain", metavar="MM", help="Rain, mm.")
@click.option("--sun", metavar="H", help="Hours of sun.")
def forecast(log: Log, day: str, **said: str | None) -> Sequence[Entry]:
    """The weather that is forecast for a day."""
    units = log.season.plan.units
    when = log.read("DAY", day, parse_day)
    degrees = {
        f"{key}_c": log.read(f"--{key}", said[key], lambda text: parse_temperature(text, units))
        for key in ("tmin", "tmax")
    }
    amounts = {
        key: log.amount(f"--{option}", said[option])
        for option, key in (
            ("wind", "wind_ms"),
            ("gust", "gust_ms"),
            ("rain", "rain_mm"),
            ("sun", "sun_h"),
        )
    }
    if not any(said.values()):
        hint = "Give at least one of --tmin, --tmax, --wind, --gust, --rain, --sun."
        log.refuse(Problem(file="forecast", hint=hint))
    log.done()
    weather: dict[str, Any] = {"day": when, **degrees, **amounts}
    return [Forecast(**BLANK, **weather)]


@command(COMMANDS, "noted", "seedstart log noted 'white fluff' --about mould --tray 'tray 5'")
@click.argument("text")
@click.option("--about", metavar="TEXT", help="damping off, mould, gnats, leggy, wilted, eaten …")
@click.option("--sowing", metavar="NAME")
@click.option("--tray", metavar="NAME")
@click.option("--station", metavar="NAME")
@click.option("--lot", metavar="NAME")
def noted(
    log: Log,
    text: str,
    about: str | None,
    sowing: str | None,
    tray: str | None,
    station: str | None,
    lot: str | None,
) -> Sequence[Entry]:
    """Words about a sowing, a tray, a station, a lot, or the season."""
    if sum(one is not None for one in (sowing, tray, station, lot)) > 1:
        hint = "Name one of --sowing, --tray, --station, --lot."
        log.refuse(Problem(file="noted", hint=hint))
    named = {
        "sowing": log.sowing(sowing, "--sowing") if sowing else None,
        "tray": log.tray(tray),
        "station": log.station(station),
        "lot": log.lot(lot, "--lot") if lot else None,
    }
    words = clean(text).strip()
    if not words:
        log.refuse(Problem(file="TEXT", hint="Write a word or two."))
    log.done()
    return [Noted(**BLANK, text=words, about=clean(about) if about else None, **named)]


@command(COMMANDS, "take-back", "seedstart log take-back")
@click.argument("entries", nargs=-1, metavar="[ID]...")
def take_back(log: Log, entries: tuple[str, ...]) -> Sequence[Entry]:
    """Take back your last act, whole; or, with --at, the one of that time; or entries by their ids.

    A second one in a row, and one that reaches an act of another day, first say what they would
    take: give its ids then. The id of what took something back restores it.
    """
    log.done()
    if entries:
        act = by_ids(log.season, entries)
    elif log.at is not None:
        act = of_time(log.season, log.at)
    else:
        act = last_act(log.season)
    log.at = None  # it says which act is meant; it is taken back now
    return [Struck(**BLANK, entry=one.id) for one in act]
