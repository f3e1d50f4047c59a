"""Forms of seed: sow, soak, stratify, scarify, take out."""

from collections.abc import Callable, Sequence
from typing import Any

from msgspec import structs

from seedstart.app.forms.act import AT, EntryAct, Field
from seedstart.app.forms.known import Known
from seedstart.app.forms.slip import Slip, Texts
from seedstart.app.forms.usual import lot_field, station_field, tray_field
from seedstart.days import long_day
from seedstart.planning.row import Row
from seedstart.season.entries import (
    BLANK,
    Entry,
    Scarified,
    Soaked,
    Sown,
    Stratified,
    TakenOut,
    Treatment,
)
from seedstart.season.lot import Lot
from seedstart.season.names import later_sowing_name
from seedstart.season.typed_values import SeedsSown, parse_seeds, parse_treated_for
from seedstart.text import folded, plural
from seedstart.tracking.typed_names import ended_treatments, open_treatments, tray_named
from seedstart.units import parse_temperature


def _lot_meant(known: Known, texts: Texts) -> Lot | None:
    name = known.records.called.lot(texts.get("lot", ""))
    return next((lot for lot in known.plan.lots if folded(lot.name) == folded(name)), None)


def _row_due(known: Known, texts: Texts) -> Row | None:
    """The next sowing of the lot that the calendar asks for."""
    lot = _lot_meant(known, texts)
    due = (row for row in known.rows if lot and row.lot == lot.name and row.sowing is None)
    return next(due, None)


def _seeds_due(known: Known, texts: Texts) -> str:
    row = _row_due(known, texts)
    return str(row.seeds) if row and row.seeds else ""


def _told_of_lot(known: Known, texts: Texts) -> str:
    lot = _lot_meant(known, texts)
    if lot is None:
        return ""
    sown = [one for one in known.records.of_lot(lot.name) if one.from_seed]
    said = plural(len(sown), "sowing") + " so far" if sown else "not sown yet"
    parts = [f"{lot.crop}{f' {lot.variety}' if lot.variety else ''}", said]
    row = _row_due(known, texts)
    if row is not None and row.seeds:
        parts.append(f"{row.seeds} planned")
    return ", ".join(parts)


def _station_of_tray(known: Known, texts: Texts) -> str | None:
    tray = tray_named(known.records, texts.get("tray", ""))
    return known.records.place(("tray", tray)).station_at() if tray else None


def _station_to_come_up(known: Known, texts: Texts) -> str:
    """Where the tray stands; else where the lot is to come up; else what was looked at."""
    lot = _lot_meant(known, texts)
    looked_at = known.subject if known.subject and known.subject[0] == "station" else None
    return (
        _station_of_tray(known, texts)
        or (lot.station if lot and lot.station else "")
        or (looked_at[1] if looked_at else "")
    )


def _tray_looked_at(known: Known, texts: Texts) -> str:
    """The tray under the cursor, unless the lot is to come up at another station."""
    if known.subject is None or known.subject[0] != "tray":
        return ""
    lot, at = _lot_meant(known, texts), known.records.place(known.subject).station_at()
    elsewhere = lot is not None and lot.station is not None and lot.station != at
    return "" if elsewhere else known.subject[1]


def _sown(slip: Slip) -> Sequence[Entry]:
    lot = slip.the_lot()
    seeds_typed = slip.need("seeds", "how many seeds, as 24, about 100, 2 g")
    seeds = slip.read("seeds", seeds_typed or None, parse_seeds) or SeedsSown()
    draft: dict[str, Any] = {
        "lot": lot,
        "seeds": seeds.seeds,
        "about": seeds.about,
        "grams": seeds.grams,
        "station": slip.a_station(),
        "tray": slip.a_tray(),
        "cells": slip.number("cells", slip.text("cells"), 1),
        "medium": slip.text("medium"),
    }
    slip.done()
    records = slip.known.records
    name = later_sowing_name(lot, records.names_borne)
    after = tuple(one.id for one in ended_treatments(records, lot))
    return [Sown(**BLANK, sowing=name, after=after, **draft)]


SOW = EntryAct(
    name="sow",
    about="seed of one lot, in one place",
    fields=(
        structs.replace(lot_field(), told=_told_of_lot),
        Field(
            key="seeds", label="How many", need=True, default=_seeds_due,
            says="24; about 100; 2 g",
        ),
        station_field(says="where it is to come up", default=_station_to_come_up),
        structs.replace(tray_field(), default=_tray_looked_at),
        Field(key="cells", label="Cells", says="over so many cells"),
        Field(key="medium", label="Medium", says="seed mix, coir …"),
        AT,
    ),
    make=_sown,
    asks="seeds",
    kinds=(Sown,),
    on=("lot", "station", "tray"),
    also="sowing seed",
)  # fmt: skip


def _treated(kind: type[Treatment]) -> Callable[[Slip], Sequence[Entry]]:
    def make(slip: Slip) -> Sequence[Entry]:
        units = slip.known.plan.units
        lasts = slip.get("lasts", parse_treated_for)
        draft: dict[str, Any] = {
            "lot": slip.the_lot(),
            "seeds": slip.number("seeds", slip.text("seeds"), 1),
            "hours": lasts.hours if lasts else None,
            "days": lasts.days if lasts else None,
            "c": slip.get("c", lambda text: parse_temperature(text, units)),
            "liquid": slip.text("liquid"),
        }
        slip.done()
        return [kind(**BLANK, **draft)]

    return make


def _how_long(what: str) -> Callable[[Known, Texts], str]:
    """What the lot asks for, else what the crop does."""

    def default(known: Known, texts: Texts) -> str:
        lot = _lot_meant(known, texts)
        if lot is None:
            return ""
        own = lot.soak if what == "soak" else lot.stratify
        if own:
            return f"{own:g} {'h' if what == 'soak' else 'days'}"
        crop = known.plan.crops.crops.get(lot.crop)
        treats = [one for one in crop.treat if one.what == what] if crop else []
        figure = next((one.hours if what == "soak" else one.days for one in treats), None)
        return f"{figure.best:g} {'h' if what == 'soak' else 'days'}" if figure else ""

    return default


_SEEDS = Field(key="seeds", label="Seeds", says="how many, if you counted")
_WARM = Field(key="c", label="Temperature", says="as 4C, 39F")

SOAK = EntryAct(
    name="soak",
    about="seed laid in water before it is sown",
    fields=(
        lot_field(),
        Field(key="lasts", label="How long", says="as 12 h", default=_how_long("soak")),
        _SEEDS,
        Field(key="liquid", label="Liquid", says="if it is not water"),
        _WARM,
        AT,
    ),
    make=_treated(Soaked),
    kinds=(Soaked,),
    on=("lot",),
)
STRATIFY = EntryAct(
    name="stratify",
    about="seed laid cold and damp before it is sown",
    fields=(
        lot_field(),
        Field(key="lasts", label="How long", says="as 28 days", default=_how_long("stratify")),
        _SEEDS,
        _WARM,
        AT,
    ),
    make=_treated(Stratified),
    kinds=(Stratified,),
    on=("lot",),
    also="cold fridge",
)
SCARIFY = EntryAct(
    name="scarify",
    about="seed coats nicked or scratched",
    fields=(lot_field(), _SEEDS, AT),
    make=_treated(Scarified),
    kinds=(Scarified,),
    on=("lot",),
    also="nick scratch scald",
)


def _in_treatment(known: Known) -> list[str]:
    """Lots with seed in a soak or in the cold."""
    return [lot for lot in known.lots() if open_treatments(known.records, lot)]


def _lot_in_treatment(known: Known, _: Texts) -> str:
    looked_at, waiting = known.subject_name("lot"), _in_treatment(known)
    if looked_at in waiting:
        return looked_at
    return waiting[0] if len(waiting) == 1 else ""


def _told_of_treatment(known: Known, texts: Texts) -> str:
    found = open_treatments(known.records, known.records.called.lot(texts.get("lot", "")))
    return f"{found[-1].what} since {long_day(found[-1].since.date())}" if found else ""


def _taken_out(slip: Slip) -> Sequence[Entry]:
    lot = slip.the_lot()
    waiting = open_treatments(slip.known.records, lot)
    if lot and not waiting:
        slip.say("lot", "No soak or cold of that lot is open.")
    elif waiting and waiting[-1].since > slip.moment:
        slip.say("at", f"It was laid in only on {waiting[-1].since:%a %-d %b, %H:%M}.")
    slip.done()
    return [TakenOut(**BLANK, entry=one.id) for one in waiting[-1:]]


TAKE_OUT = EntryAct(
    name="take out",
    about="seed out of its soak, or out of the cold",
    fields=(
        Field(
            key="lot", label="Lot", says="whose seed is soaking or in the cold", need=True,
            names=_in_treatment, only=True, default=_lot_in_treatment, told=_told_of_treatment,
        ),
        AT,
    ),
    make=_taken_out,
    kinds=(TakenOut,),
    on=("lot",),
    also="taken out drain",
)  # fmt: skip

ACTS = (SOW, SOAK, STRATIFY, SCARIFY, TAKE_OUT)
