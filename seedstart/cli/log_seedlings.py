"""`log` of seedlings: counted, lost, pricked out, potted on, measured, set out, finished."""

from collections.abc import Sequence
from typing import Any

import click

from seedstart.cli.log_options import command
from seedstart.cli.recording import Log
from seedstart.problems import Problem
from seedstart.season.entries import (
    BLANK,
    Counted,
    Dividing,
    Dug,
    Entry,
    Finished,
    Given,
    Leaving,
    Lost,
    Measured,
    MixedUp,
    PottedOn,
    PrickedOut,
    Relabelled,
    SetOut,
    Split,
    Thinned,
)
from seedstart.season.typed_values import parse_destinations, parse_plants
from seedstart.text import clean
from seedstart.tracking.typed_names import daughter_names

COMMANDS: dict[str, click.Command] = {}


@command(COMMANDS, "counted", "seedstart log counted leek 18")
@click.argument("sowing")
@click.argument("standing", required=False)
@click.option("--new", metavar="N", help="Those that came since, taken away as counted.")
@click.option("--cells", metavar="N", help="Cells with at least one.")
@click.option("--lost", metavar="N", help="Found dead at this count.")
@click.option("--why", metavar="TEXT", help="Why they died.")
@click.option("--looked-at", metavar="N", help="A sample only: so many cells or seeds.")
@click.option("--final", is_flag=True, help="The last count of this sowing.")
@click.option("--normal", metavar="N", help="Of a test: normal seedlings,")
@click.option("--abnormal", metavar="N", help="abnormal ones,")
@click.option("--hard", metavar="N", help="hard seed,")
@click.option("--fresh", metavar="N", help="fresh ungerminated seed,")
@click.option("--dead", metavar="N", help="dead seed.")
def counted(
    log: Log,
    sowing: str,
    standing: str | None,
    final: bool,
    why: str | None,
    **said: str | None,
) -> Sequence[Entry]:
    """Seedlings of a sowing that stand now, all of them; 0 is a count too."""
    name = log.sowing(sowing)
    if (standing is None) == (said["new"] is None):
        hint = "Say how many stand, or with --new how many came since."
        log.refuse(Problem(file="STANDING", hint=hint))
    numbers: dict[str, Any] = {
        key: log.number(f"--{key.replace('_', '-')}", text) for key, text in said.items()
    }
    standing_now = log.number("STANDING", standing)
    log.done()
    words = clean(why) if why else None
    return [Counted(**BLANK, sowing=name, standing=standing_now, final=final, why=words, **numbers)]


@command(COMMANDS, "dug", "seedstart log dug leek --sound 2 --soft 3")
@click.argument("sowing")
@click.option("--sound", metavar="N", help="Firm ones, which might still have come up.")
@click.option("--soft", metavar="N", help="Rotten or empty ones.")
@click.option("--gone", metavar="N", help="Places where none was found.")
def dug(
    log: Log, sowing: str, sound: str | None, soft: str | None, gone: str | None
) -> Sequence[Entry]:
    """Seeds of a sowing dug up and looked at; they are no longer in the medium."""
    name = log.sowing(sowing)
    numbers = {"--sound": sound, "--soft": soft, "--gone": gone}
    found = {key: log.number(key, text) or 0 for key, text in numbers.items()}
    if not log.problems and not any(found.values()):
        hint = "Say how many were sound, soft or gone: --sound 2 --soft 3."
        log.refuse(Problem(file="--sound", hint=hint))
    log.done()
    firm, rotten, missing = found.values()
    return [Dug(**BLANK, sowing=name, sound=firm, soft=rotten, gone=missing)]


_LEAVING: dict[str, tuple[type[Leaving], str, str]] = {
    "lost": (Lost, "Plants of a sowing that died, were eaten or broken.", "leek 3 --why slugs"),
    "thinned": (Thinned, "Plants of a sowing pulled to make room.", "leek 10"),
    "given": (Given, "Plants of a sowing given away.", "leek 6 --to Ana"),
}


def _leaving_command(kind: str) -> None:
    struct, doc, example = _LEAVING[kind]

    def run(
        log: Log,
        sowing: str,
        plants: str | None,
        left: str | None,
        why: str | None,
        to: str | None,
    ) -> Sequence[Entry]:
        name = log.sowing(sowing)
        if (plants is None) == (left is None):
            hint = "Say how many plants, or with --left how many stand after it."
            log.refuse(Problem(file="PLANTS", hint=hint))
        count, rest = log.number("PLANTS", plants, 1), log.number("--left", left)
        log.done()
        words, who = clean(why) if why else None, clean(to) if to else None
        return [struct(**BLANK, sowing=name, plants=count, left=rest, why=words, to=who)]

    run.__doc__ = doc
    run = click.option("--to", metavar="TEXT", help="Who got them.")(run)
    run = click.option("--why", metavar="TEXT", help="Why.")(run)
    run = click.option("--left", metavar="N", help="So many stand after it.")(run)
    run = click.argument("plants", required=False)(run)
    run = click.argument("sowing")(run)
    command(COMMANDS, kind, f"seedstart log {kind} {example}")(run)


for _kind in _LEAVING:
    _leaving_command(_kind)


_DIVIDING: dict[str, tuple[type[Dividing], str, str]] = {
    "pricked-out": (
        PrickedOut,
        "Seedlings of a sowing moved to their own cells; one part a destination.",
        "leek 60 --into 'tray 5:30, tray 6:30'",
    ),
    "split": (Split, "A sowing parted as it stands.", "leek 12 --into 'sill:12'"),
}


def _dividing_command(kind: str) -> None:
    struct, doc, example = _DIVIDING[kind]

    def run(
        log: Log,
        sowing: str,
        plants: str | None,
        into: str | None,
        station: str | None,
        container: str | None,
    ) -> Sequence[Entry]:
        name = log.sowing(sowing)
        total = log.number("PLANTS", plants, 1)
        parts = _parts(log, into, total)
        at = log.station(station)
        log.done()
        return _daughters(log, struct, name, parts, at, container)

    run.__doc__ = doc
    run = click.option("--container", metavar="NAME", help="As 'tray of 72'.")(run)
    run = click.option("--station", metavar="NAME", help="Where those trays stand.")(run)
    run = click.option(
        "--into", metavar="PLACES", help="Trays or stations, each with its number: 'sill:30'."
    )(run)
    run = click.argument("plants", required=False)(run)
    run = click.argument("sowing")(run)
    command(COMMANDS, kind, f"seedstart log {kind} {example}")(run)


def _parts(log: Log, into: str | None, total: int | None) -> list[tuple[str, int]]:
    """Places and numbers; they add up to the plants, and some may be left to the arithmetic."""
    if not into:
        hint = "Say where to: --into 'tray 5:30, sill:30', or --into 'tray 5'."
        log.refuse(Problem(file="--into", hint=hint))
        return []
    return log.read("--into", into, lambda text: parse_destinations(text, total)) or []


def _daughters(
    log: Log,
    struct: type[Dividing],
    name: str,
    parts: Sequence[tuple[str, int]],
    station: str | None,
    container: str | None,
) -> list[Entry]:
    records = log.season.records()
    names = daughter_names(records, name, len(parts))
    mother = records.by_name_in_line(name)
    here = records.station_of(mother.id) if mother else None
    drafts: list[Entry] = []
    for called, (place, count) in zip(names, parts, strict=True):
        as_station = log.season.station_named(place)
        tray = None if as_station else log.tray(place)
        # A tray of which nothing is known is taken to stand where the seedlings came up.
        is_new = tray is not None and not records.place(("tray", tray)).stays
        drafts.append(
            struct(
                **BLANK,
                sowing=name,
                plants=count,
                into=called,
                station=as_station or station or (here if is_new else None),
                tray=tray,
                container=clean(container) if container else None,
            )
        )
    return drafts


for _kind in _DIVIDING:
    _dividing_command(_kind)


@command(COMMANDS, "potted-on", "seedstart log potted-on pepper-long --container '9 cm pot'")
@click.argument("sowing")
@click.option("--container", metavar="NAME", help="As '9 cm pot'.")
@click.option("--station", metavar="NAME", help="Where it stands now.")
@click.option("--tray", metavar="NAME", help="In which tray.")
def potted_on(
    log: Log, sowing: str, container: str | None, station: str | None, tray: str | None
) -> Sequence[Entry]:
    """Plants of a sowing moved to a bigger container."""
    name, at, carried = log.sowing(sowing), log.station(station), log.tray(tray)
    log.done()
    pot = clean(container) if container else None
    return [PottedOn(**BLANK, sowing=name, container=pot, station=at, tray=carried)]


@command(COMMANDS, "measured", "seedstart log measured leek '82/3.1, 75/2.9'")
@click.argument("sowing")
@click.argument("plants")
def measured(log: Log, sowing: str, plants: str) -> Sequence[Entry]:
    """Plants measured: height and stem diameter at the base in mm, with / between."""
    name = log.sowing(sowing)
    found = log.read("PLANTS", plants, parse_plants)
    log.done()
    return [Measured(**BLANK, sowing=name, plants=found)]  # type: ignore[arg-type]


@command(COMMANDS, "set-out", "seedstart log set-out leek 40")
@click.argument("sowing")
@click.argument("plants", required=False)
@click.option("--left", metavar="N", help="So many stand after it.")
def set_out(log: Log, sowing: str, plants: str | None, left: str | None) -> Sequence[Entry]:
    """Plants of a sowing planted in the final place."""
    name = log.sowing(sowing)
    if (plants is None) == (left is None):
        hint = "Say how many plants, or with --left how many stand after it."
        log.refuse(Problem(file="PLANTS", hint=hint))
    count, rest = log.number("PLANTS", plants, 1), log.number("--left", left)
    log.done()
    return [SetOut(**BLANK, sowing=name, plants=count, left=rest)]


@command(COMMANDS, "finished", "seedstart log finished leek --why 'bed full'")
@click.argument("sowing")
@click.option("--why", metavar="TEXT", help="Why.")
def finished(log: Log, sowing: str, why: str | None) -> Sequence[Entry]:
    """The end of a sowing: what still stands is thrown away, not lost."""
    name = log.sowing(sowing)
    log.done()
    return [Finished(**BLANK, sowing=name, why=clean(why) if why else None)]


@command(COMMANDS, "relabelled", "seedstart log relabelled leek --name leek-late")
@click.argument("sowing")
@click.option("--name", "new_name", metavar="NAME", help="What it is called from now on.")
@click.option("--lot", metavar="LOT", help="The lot it is of after all.")
@click.option("--guess", is_flag=True, help="The lot is a guess.")
def relabelled(
    log: Log,
    sowing: str,
    new_name: str | None,
    lot: str | None,
    guess: bool,
) -> Sequence[Entry]:
    """Another name for a sowing, or the lot that it is of after all."""
    name = log.sowing(sowing)
    of = log.lot(lot, "--lot") if lot else None
    if not (new_name or lot or guess):
        log.refuse(Problem(file="relabelled", hint="Give --name, --lot or --guess."))
    log.done()
    called = clean(new_name).strip() if new_name else None
    sure = False if guess else (True if lot else None)
    return [Relabelled(**BLANK, sowing=name, name=called, lot=of, sure=sure)]


@command(COMMANDS, "mixed-up", "seedstart log mixed-up leek leek/2 --into leeks")
@click.argument("sowings", nargs=-1, required=True)
@click.option("--into", metavar="NAME", required=True, help="What they are called together.")
def mixed_up(log: Log, sowings: tuple[str, ...], into: str) -> Sequence[Entry]:
    """Sowings that can no longer be told apart."""
    names = tuple(log.sowing(name) for name in sowings)
    if len(set(names)) < 2:
        log.refuse(Problem(file="SOWINGS", hint="Name at least two sowings."))
    log.done()
    return [MixedUp(**BLANK, sowings=names, into=clean(into).strip())]
