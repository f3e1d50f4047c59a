"""`log` of seed: soaked, stratified, scarified, taken out, sown."""

from collections.abc import Sequence

import click

from seedstart.cli.log_options import command
from seedstart.cli.recording import Log
from seedstart.problems import Problem
from seedstart.season.entries import (
    BLANK,
    Entry,
    Scarified,
    Soaked,
    Sown,
    Stratified,
    TakenOut,
    Treatment,
    kind_in_lines,
)
from seedstart.season.names import later_sowing_name, wrong_lot_name
from seedstart.text import clean
from seedstart.tracking.typed_names import ended_treatments, open_treatments
from seedstart.units import parse_length, parse_temperature

COMMANDS: dict[str, click.Command] = {}

_OPTIONS = {
    "seeds": click.option("--seeds", metavar="N", help="How many seeds."),
    "hours": click.option("--hours", metavar="H", help="How long it is to last, in hours;"),
    "days": click.option("--days", metavar="D", help="or in days."),
    "liquid": click.option("--liquid", metavar="TEXT", help="In what, where that is not water."),
    "c": click.option("--c", "degrees", metavar="T", help="At what temperature, as 4C."),
}


def _treatment_command(kind: type[Treatment], says: str, example: str, *options: str) -> None:
    """A command that begins a treatment; nicking has no length and no warmth."""

    def run(log: Log, lot: str, **said: str | None) -> Sequence[Entry]:
        units = log.season.plan.units
        liquid = said.get("liquid")
        draft = {
            "lot": log.lot(lot),
            "seeds": log.number("--seeds", said.get("seeds"), 1),
            "hours": log.amount("--hours", said.get("hours")),
            "days": log.amount("--days", said.get("days")),
            "liquid": clean(liquid) if liquid else None,
            "c": log.read("--c", said.get("degrees"), lambda text: parse_temperature(text, units)),
        }
        if said.get("hours") and said.get("days"):
            log.refuse(Problem(file="--hours, --days", hint="Give one of them."))
        log.done()
        return [kind(**BLANK, **draft)]  # type: ignore[arg-type]

    run.__doc__ = says
    for option in reversed(options):
        run = _OPTIONS[option](run)
    command(COMMANDS, kind_in_lines(kind.__name__), example)(click.argument("lot")(run))


_treatment_command(
    Soaked, "Seed of a lot laid in water.", "seedstart log soaked pea-tall --hours 12", *_OPTIONS
)
_treatment_command(
    Stratified,
    "Seed of a lot laid cold and damp.",
    "seedstart log stratified lavender --days 28 --c 4C",
    *_OPTIONS,
)
_treatment_command(
    Scarified,
    "Seed coats of a lot nicked or rubbed.",
    "seedstart log scarified sweet-pea --seeds 24",
    "seeds",
)


@command(COMMANDS, "taken-out", "seedstart log taken-out pea-tall")
@click.argument("lot")
def taken_out(log: Log, lot: str) -> Sequence[Entry]:
    """Seed of a lot taken out of its soak or its cold."""
    name = log.lot(lot)
    open_ones = open_treatments(log.season.records(), name)
    if name and not open_ones:
        hint = "No soak or cold of that lot is open."
        log.refuse(Problem(file="LOT", found=lot, hint=hint))
    log.done()
    return [TakenOut(**BLANK, entry=one.id) for one in open_ones[-1:]]


@command(COMMANDS, "sown", "seedstart log sown pepper-long 24 --station 'heat mat'")
@click.argument("lot")
@click.argument("seeds", required=False)
@click.option("--about", metavar="N", help="About so many seeds, not counted.")
@click.option("--grams", metavar="G", help="By mass.")
@click.option("--station", metavar="NAME", help="Where; default: the lot's own station.")
@click.option("--tray", metavar="NAME", help="In which tray.")
@click.option("--place", metavar="TEXT", help="Where in the tray, in your words.")
@click.option("--cells", metavar="N", help="Over so many cells.")
@click.option("--depth", metavar="D", help="As 6 mm.")
@click.option("--medium", metavar="TEXT", help="Seed mix, coir, …")
@click.option("--lies-on", metavar="medium|paper|sand|agar", help="What the seed lies on.")
@click.option("--purpose", metavar="plants|test|trial", help="Default: plants.")
@click.option("--trial", metavar="NAME", help="Of which trial.")
@click.option("--replicate", metavar="N", help="Which of several like ones.")
@click.option("--instead-of", metavar="SOWING", help="The sowing that it replaces.")
@click.option("--onto", metavar="SOWING", help="The sowing that it tops up.")
@click.option("--name", "sowing", metavar="NAME", help="A name of its own for this sowing.")
def sown(log: Log, lot: str, seeds: str | None, **said: str | None) -> Sequence[Entry]:
    """Seed of one lot sown together, at one time, in one place."""
    name = log.lot(lot)
    records = log.season.records()
    amounts = {
        "seeds": log.number("SEEDS", seeds, 1),
        "about": log.number("--about", said["about"], 1),
        "grams": log.amount("--grams", said["grams"]),
    }
    if sum(value is not None for value in (seeds, said["about"], said["grams"])) != 1:
        hint = "Say how many seeds: a number, --about N, or --grams G."
        log.refuse(Problem(file="SEEDS", hint=hint))
    station = log.station(said["station"])
    onto = log.sowing(said["onto"], "--onto") if said["onto"] else None
    topped = records.by_name_in_line(onto) if onto else None
    spot = records.spot(topped.id) if topped else None  # seed sown onto another lies where that is
    if spot is not None and said["station"] is None and said["tray"] is None:
        station = spot.station
    elif station is None and said["station"] is None:
        station = next((one.station for one in log.season.plan.lots if one.name == name), None)
    units = log.season.plan.units
    depth = log.read("--depth", said["depth"], lambda text: parse_length(text, units))
    draft = {
        **amounts,
        "lot": name,
        "station": station,
        "tray": log.tray(said["tray"]) or (spot.tray if spot else None),
        "place": clean(said["place"]) if said["place"] else None,
        "cells": log.number("--cells", said["cells"], 1),
        "depth_mm": round(depth * 1000, 1) if isinstance(depth, float) else None,
        "medium": clean(said["medium"]) if said["medium"] else None,
        "on": log.word("--lies-on", said["lies_on"], ("medium", "paper", "sand", "agar")),
        "purpose": log.word("--purpose", said["purpose"], ("plants", "test", "trial")),
        "trial": clean(said["trial"]) if said["trial"] else None,
        "replicate": log.number("--replicate", said["replicate"], 1),
        "instead_of": log.sowing(said["instead_of"], "--instead-of")
        if said["instead_of"]
        else None,
        "onto": onto,
    }
    taken = records.names_borne
    called = _own_name(log, said["sowing"]) or later_sowing_name(name, taken)
    log.done()
    after = tuple(one.id for one in ended_treatments(records, name))
    return [Sown(**BLANK, sowing=called, after=after, **draft)]  # type: ignore[arg-type]


def _own_name(log: Log, name: str | None) -> str | None:
    if name is None:
        return None
    wrong = wrong_lot_name(clean(name)) if "#" in name or not clean(name).strip() else None
    if wrong:
        log.refuse(Problem(file="--name", found=name, hint=wrong))
    return clean(name).strip()
