"""Acts on seed: sow, soak, stratify, scarify, take out."""

import re
from collections.abc import Callable, Iterator, Sequence
from datetime import datetime
from typing import TYPE_CHECKING, Any, Final

from msgspec import structs

from seedstart.acts.act import Act, Field, Texts, Values, Way, aside, place_in_words, seeds_of
from seedstart.acts.fields import (
    lot_field,
    number_field,
    sowing_field,
    sowing_meant,
    station_field,
    text_field,
    tray_field,
    word_field,
)
from seedstart.acts.known import Known
from seedstart.acts.parsers import parse_seeds, parse_treated_for
from seedstart.acts.sheet import AT, Sheet
from seedstart.days import long_day
from seedstart.season.journal.entries import (
    BLANK,
    Entry,
    Scarified,
    Soaked,
    Sown,
    Stratified,
    TakenOut,
    Treatment,
)
from seedstart.season.plan.lot import Lot
from seedstart.season.plan.names import later_sowing_name
from seedstart.text import folded, plural
from seedstart.tracking.typed_names import ended_treatments, open_treatments, tray_named
from seedstart.units import Units

if TYPE_CHECKING:
    from seedstart.planning.calendar.row import Row


def _lot_meant(known: Known, texts: Texts) -> Lot | None:
    name = known.records.called.lot(texts.get("lot", ""))
    return next((lot for lot in known.plan.lots if folded(lot.name) == folded(name)), None)


def _row_due(known: Known, texts: Texts) -> "Row | None":
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


def _tray_stands(known: Known, tray: str | None, at: datetime | None = None) -> str | None:
    """Where a tray stands, or stood, by what was typed or is written."""
    named = tray_named(known.records, tray) if tray else None
    return known.records.place(("tray", named)).station_at(at) if named else None


def _station_to_come_up(known: Known, texts: Texts) -> str:
    """Where its tray, or what it tops up, stands; else where the lot is to come up."""
    lot = _lot_meant(known, texts)
    topped = sowing_meant(known, texts, "onto")
    looked_at = known.subject if known.subject and known.subject[0] == "station" else None
    return (
        _tray_stands(known, texts.get("tray"))
        or (known.records.station_of(topped.id) if topped else None)
        or (lot.station if lot and lot.station else "")
        or (looked_at[1] if looked_at else "")
    )


def _tray_to_sow_in(known: Known, texts: Texts) -> str:
    """That of what it tops up; else the one under the cursor, unless the lot comes up elsewhere."""
    topped = sowing_meant(known, texts, "onto")
    spot = known.records.spot(topped.id) if topped else None
    if spot is not None and spot.tray is not None:
        return spot.tray if texts.get("station", "") in {"", spot.station} else ""
    if known.subject is None or known.subject[0] != "tray":
        return ""
    lot, at = _lot_meant(known, texts), known.records.place(known.subject).station_at()
    elsewhere = lot is not None and lot.station is not None and lot.station != at
    return "" if elsewhere else known.subject[1]


def _seeds(text: str, _: Sheet) -> Values:
    return {key: one for key, one in parse_seeds(text)._asdict().items() if one is not None}


def _own_name(text: str, _: Sheet) -> Values:
    if "#" in text:
        raise ValueError("a name without #")
    return {"sowing": text}


def _sown(sheet: Sheet) -> Sequence[Entry]:
    """A tray that stands at the station is not carried there again."""
    values, records = dict(sheet.values), sheet.known.records
    if _tray_stands(sheet.known, values.get("tray"), sheet.at) == values.get("station"):
        values.pop("station", None)
    after = tuple(one.id for one in ended_treatments(records, values["lot"]))
    name = later_sowing_name(values["lot"], (*records.names_borne, *sheet.known.taken))
    return [Sown(**BLANK, **{"sowing": name, "after": after, **values})]


_SOW_SHORT: Final = re.compile(
    r"(?P<seeds>.*?)(?:\s*\b(?:in|into|on|at|to)\s+(?P<where>\S.*))?", re.IGNORECASE
)


def _sow_in_short(typed: str, known: Known) -> Texts:
    """`24`, `about 100`, `2 g`; `24 in tray 5`, `in tray 5`."""
    match = _SOW_SHORT.fullmatch(typed)
    seeds, where = (match["seeds"].strip(), match["where"]) if match else (typed, None)
    texts = {"seeds": seeds} if seeds else {}
    if where is None:
        return texts
    if where.strip() and folded(where) in map(folded, _station_names(known)):
        return texts | {"station": where}
    stands = _tray_stands(known, where)
    return texts | {"tray": where} | ({"station": stands} if stands else {})


def _station_names(known: Known) -> list[str]:
    return [name for one in known.plan.stations for name in (one.name, *one.was)]


def _sown_in_words(entry: Sown, _: Units) -> str:
    seeds = entry.seeds or (f"about {entry.about}" if entry.about else f"{entry.grams:g} g")
    where = f"in {entry.tray}" if entry.tray else f"at the {entry.station}" if entry.station else ""
    return f"{seeds} seeds of {entry.lot} {where}".strip()


def _confirm_sowing(entries: Sequence[Sown], known: Known) -> str:
    """`sowed 24 seeds of leek in tray 3, on the heat mat`."""
    said = []
    for one in entries:
        name = f" as {one.sowing}" if one.sowing != one.lot else ""
        place = place_in_words(one.tray, one.station, known)
        what = f"{seeds_of(one.seeds, one.about, one.grams, one.lot)}{name}"
        said.append(f"{f'sowed {what} {place}'.rstrip()}{aside(*_and_how(one))}")
    return "; ".join(said)


def _and_how(entry: Sown) -> Iterator[str]:
    """How it was sown, and what for."""
    if entry.place:
        yield entry.place
    if entry.cells:
        yield plural(entry.cells, "cell")
    if entry.medium:
        yield f"in {entry.medium}"
    if entry.depth_mm is not None:
        yield f"{entry.depth_mm:g} mm deep"
    if entry.on != "medium":
        yield f"on {entry.on}"
    if entry.purpose != "plants":
        yield f"for a {entry.purpose}"
    if entry.trial:
        yield f"trial {entry.trial}"
    if entry.replicate:
        yield f"replicate {entry.replicate}"
    if entry.onto:
        yield f"tops up {entry.onto}"
    if entry.instead_of:
        yield f"instead of {entry.instead_of}"


SOW: Final = Act(
    kind=Sown,
    name="sow",
    about="seed of one lot, in one place",
    example="pepper-long 24 --station 'heat mat'",
    fields=(
        lot_field(told=_told_of_lot),
        Field(
            key="seeds", label="How many", says="24; about 100; 2 g", read=_seeds, arg=True,
            need="how many seeds, e.g. 24, about 100, 2 g", default=_seeds_due,
            ways={
                "about": Way("about {it}", "Roughly this many seeds, not counted."),
                "grams": Way("{it} g", "Grams of seed, if weighed.", "G"),
            },
        ),
        station_field(
            says="where it will come up", default=_station_to_come_up, tacit=True
        ),
        tray_field(default=_tray_to_sow_in, tacit=True),
        number_field("cells", "Cells", "how many cells it fills"),
        text_field("medium", "Medium", "seed mix, coir …"),
        Field(key="depth", label="Depth", says="e.g. 6 mm", into="depth_mm", metavar="D",
              rare=True),
        text_field("place", "Spot", "where in the tray, in your words", rare=True),
        word_field("lies_on", "Lies on", "what the seed lies on: medium, paper, sand, agar",
                   ("medium", "paper", "sand", "agar"), into="on", rare=True),
        word_field("purpose", "Purpose", "plants (the default), test or trial",
                   ("plants", "test", "trial"), rare=True),
        text_field("trial", "Trial", "the trial it belongs to", rare=True),
        number_field("replicate", "Replicate", "replicate number", rare=True),
        sowing_field("onto", "Tops up", "the sowing it adds seed to", need="", rare=True),
        sowing_field("instead_of", "Instead of", "the sowing it replaces", need="",
                     over_too=True, rare=True),
        Field(key="name", label="Own name", says="for this sowing; otherwise the lot's", rare=True,
              read=_own_name, metavar="NAME"),
    ),
    make=_sown,
    asks="seeds",
    short=_sow_in_short,
    short_says="how many seeds, e.g. 24, about 100, 2 g, or 24 in tray 5",
    on=("lot", "station", "tray"),
    also="sown sowing seed",
    says=_sown_in_words,
    confirms=_confirm_sowing,
)  # fmt: skip


def _lasts(text: str, _: Sheet) -> Values:
    found = parse_treated_for(text)._asdict()
    return {key: long for key, long in found.items() if long is not None}


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


def _lasts_field(what: str, says: str) -> Field:
    return Field(
        key="lasts", label="How long", says=says, read=_lasts, default=_how_long(what),
        metavar="TIME",
        ways={
            "hours": Way("{it} h", "How long, in hours.", "H"),
            "days": Way("{it} days", "How long, in days.", "D"),
        },
    )  # fmt: skip


_SEEDS: Final = number_field("seeds", "Seeds", "how many, if you counted them")
_LIQUID: Final = text_field("liquid", "Liquid", "if not water")
_WARM: Final = Field(key="c", label="Temperature", says="e.g. 4C, 39F", into="c", metavar="T")


def _treatment(kind: type[Treatment], name: str, about: str, *fields: Field, **more: Any) -> Act:  # noqa: ANN401
    return Act(
        kind=kind, name=name, about=about, fields=(lot_field(), *fields), on=("lot",), **more
    )


SOAK: Final = _treatment(
    Soaked, "soak", "seed soaked in water before sowing",
    _lasts_field("soak", "e.g. 12 h"), _SEEDS, _LIQUID, _WARM,
    example="pea-tall --hours 12",
)  # fmt: skip
STRATIFY: Final = _treatment(
    Stratified, "stratify", "seed kept cold and damp before sowing",
    _lasts_field("stratify", "e.g. 28 days"), _SEEDS, _WARM, structs.replace(_LIQUID, rare=True),
    example="lavender --days 28 --c 4C", also="cold fridge",
)  # fmt: skip
SCARIFY: Final = _treatment(
    Scarified, "scarify", "seed coats nicked, scratched or scalded",
    _SEEDS, structs.replace(_WARM, rare=True), structs.replace(_LIQUID, rare=True),
    example="sweet-pea --seeds 24", also="nick scratch scald",
)  # fmt: skip


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


def _is_in_treatment(sheet: Sheet) -> None:
    lot = sheet.values.get("lot")
    if lot is None or "entry" in sheet.values:
        return
    waiting = open_treatments(sheet.known.records, lot)
    if not waiting:
        sheet.say("lot", "No seed of that lot is soaking or in the cold.")
    elif waiting[-1].since > sheet.moment:
        sheet.say(AT, f"It was put in only on {waiting[-1].since:%a %-d %b, %H:%M}.")


def _taken_out(sheet: Sheet) -> Sequence[Entry]:
    """The latest that is open, unless a check says which."""
    known = sheet.values.get("entry")
    entry = known or open_treatments(sheet.known.records, sheet.values["lot"])[-1].id
    return [TakenOut(**BLANK, entry=entry)]


_WAS: Final = {"soaked": "soak", "stratified": "cold", "scarified": "tray"}


def _confirm_taking_out(entries: Sequence[TakenOut], known: Known) -> str:
    """`took pea out of its soak`."""
    ended = (known.records.treatments.get(one.entry) for one in entries)
    return "; ".join(f"took {one.lot} out of its {_WAS[one.what]}" for one in ended if one)


TAKE_OUT: Final = Act(
    kind=TakenOut,
    name="take out",
    about="seed out of its soak, or out of the cold",
    example="pea-tall",
    fields=(
        structs.replace(
            lot_field(_in_treatment, _told_of_treatment), default=_lot_in_treatment, makes="",
            says="whose seed is soaking or in the cold",
        ),
    ),
    checks=(_is_in_treatment,),
    make=_taken_out,
    on=("lot",),
    also="taken out drain",
    says=lambda _entry, _units: "",
    confirms=_confirm_taking_out,
)  # fmt: skip
