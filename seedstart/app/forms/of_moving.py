"""Forms of what goes elsewhere: move, prick out, part, pot on, cover, uncover."""

from collections.abc import Callable, Sequence
from typing import Any

from seedstart.app.forms.act import AT, EntryAct, Field
from seedstart.app.forms.known import Known
from seedstart.app.forms.slip import Slip, Texts
from seedstart.app.forms.usual import (
    container_field,
    last_count,
    sowing_field,
    sowing_meant,
    station_field,
    tray_field,
    what_field,
)
from seedstart.problems import Problem
from seedstart.season.entries import (
    BLANK,
    Covered,
    Dividing,
    Entry,
    Moved,
    PottedOn,
    PrickedOut,
    Split,
    Uncovered,
)
from seedstart.season.names import Names
from seedstart.season.typed_values import parse_destinations
from seedstart.tracking.standing import Standing
from seedstart.tracking.typed_names import daughter_names, tray_named


def _tray_station(known: Known, texts: Texts) -> str:
    """Where the tray stands that a sowing is to come into."""
    tray = tray_named(known.records, texts.get("tray", "")) if texts.get("tray") else None
    return (known.records.place(("tray", tray)).station_at() or "") if tray else ""


def _moved(slip: Slip) -> Sequence[Entry]:
    subject = slip.the_what("what", "sowing", "tray")
    slip.need("station", "the station that it goes to")
    station = slip.a_station()
    tray = slip.a_tray()
    if tray is not None and "tray" in subject:
        slip.say("tray", "A tray is not put into a tray; name a sowing, or leave this empty.")
    slip.done()
    records = slip.known.records
    one = records.by_name_in_line(subject.get("sowing", ""))
    if tray is None and one is not None:
        tray = records.goes_along(one.id)
    into = {} if tray is None else {"tray": tray}
    return [Moved(**BLANK, station=station or "", **(subject | into))]


MOVE = EntryAct(
    name="move",
    about="a sowing, or a tray with all in it, to a station",
    fields=(
        what_field("sowing", "tray"),
        station_field("To station", "where it goes", _tray_station, need=True),
        tray_field("the tray that a sowing comes into"),
        AT,
    ),
    make=_moved,
    asks="station",
    kinds=(Moved,),
    on=("sowing", "tray"),
    also="carry to the light",
)


def _dividing(kind: type[Dividing]) -> Callable[[Slip], Sequence[Entry]]:
    def make(slip: Slip) -> Sequence[Entry]:
        name, standing = slip.the_sowing()
        typed = slip.need("into", "how many and where to, as 30 into tray 5")
        parts = slip.read("into", typed or None, parse_destinations) or []
        _refuse_more_than_stand(slip, standing, sum(count for _, count in parts))
        station, container = slip.a_station(), slip.a_container()
        slip.done()
        names = daughter_names(slip.known.records, name, len(parts))
        return [
            kind(
                **BLANK, sowing=name, plants=count, into=called, container=container,
                **_place(slip.known, where, station),
            )
            for called, (where, count) in zip(names, parts, strict=True)
        ]  # fmt: skip

    return make


def _refuse_more_than_stand(slip: Slip, standing: Standing | None, plants: int) -> None:
    if standing is None or slip.at is not None or plants <= standing.standing:
        return
    hint = f"{plants} of {standing.standing}: count them first if more stand."
    slip.refuse(Problem(file="into", found=slip.text("into"), hint=hint))


def _place(known: Known, where: str, station: str | None) -> dict[str, Any]:
    """A station by its name, else a tray; a tray that stands somewhere stays there."""
    named = Names(known.plan.stations).find(where)
    if named is not None:
        return {"station": named}
    tray = tray_named(known.records, where) or where
    stands = known.records.place(("tray", tray)).station_at()
    return {"tray": tray, "station": None if stands else station}


def _then(known: Known, texts: Texts) -> str:
    """Where the lot goes at the first seedlings, else where its sowing stands."""
    one = sowing_meant(known, texts)
    if one is None:
        return ""
    lot = known.plan.lots_by_name.get(known.records.lot_of(one.id) or "")
    return (lot.then if lot else None) or known.records.station_of(one.id) or ""


def _trays_and_stations(known: Known) -> list[str]:
    return [*known.trays(), *known.stations()]


_INTO = Field(
    key="into", label="Into", need=True, names=_trays_and_stations, listed=True, told=last_count,
    says="30 into tray 5; tray 5:15, tray 6:15, sill:30",
)  # fmt: skip
_NEW_TRAYS = station_field("New trays at", "where trays stand that are new", _then)

PRICK_OUT = EntryAct(
    name="prick out",
    about="seedlings into their own cells, one place or several",
    fields=(sowing_field(), _INTO, container_field(), _NEW_TRAYS, AT),
    make=_dividing(PrickedOut),
    asks="into",
    kinds=(PrickedOut,),
    on=("sowing", "tray", "lot"),
    also="pricked out transplant",
)
PART = EntryAct(
    name="part",
    about="a sowing split as it stands, some to another place",
    fields=(sowing_field(), _INTO, container_field(), _NEW_TRAYS, AT),
    make=_dividing(Split),
    asks="into",
    kinds=(Split,),
    on=("sowing",),
    also="split divide",
)


def _potted_on(slip: Slip) -> Sequence[Entry]:
    name, _ = slip.the_sowing()
    container, station, tray = slip.a_container(), slip.a_station(), slip.a_tray()
    slip.done()
    return [PottedOn(**BLANK, sowing=name, container=container, station=station, tray=tray)]


POT_ON = EntryAct(
    name="pot on",
    about="plants into a bigger container",
    fields=(
        sowing_field(),
        container_field(),
        station_field(says="only if it goes elsewhere", default=_tray_station),
        tray_field("only if it comes into another"),
        AT,
    ),
    make=_potted_on,
    asks="container",
    kinds=(PottedOn,),
    on=("sowing",),
    also="potted pot up",
)


def _covering(kind: type[Covered | Uncovered]) -> Callable[[Slip], Sequence[Entry]]:
    def make(slip: Slip) -> Sequence[Entry]:
        subject = slip.the_what("what", "tray", "sowing", "station")
        slip.done()
        return [kind(**BLANK, **subject)]

    return make


COVER = EntryAct(
    name="cover",
    about="a cover laid on",
    fields=(what_field("tray", "sowing", "station"), AT),
    make=_covering(Covered),
    kinds=(Covered,),
    on=("tray", "sowing", "station"),
    also="lid dome",
)
UNCOVER = EntryAct(
    name="uncover",
    about="a cover lifted off",
    fields=(what_field("tray", "sowing", "station"), AT),
    make=_covering(Uncovered),
    kinds=(Uncovered,),
    on=("tray", "sowing", "station"),
    also="lid dome lift",
)

ACTS = (MOVE, PRICK_OUT, PART, POT_ON, COVER, UNCOVER)
