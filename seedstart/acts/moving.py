"""Acts that put things elsewhere: move, prick out, split, pot on, cover, uncover."""

import re
from collections.abc import Callable, Sequence
from typing import Any, Final

from msgspec import structs

from seedstart.acts.act import (
    Act,
    Field,
    Texts,
    Values,
    Way,
    aside,
    left_in_words,
    place_in_words,
    plants_of,
    then,
)
from seedstart.acts.fields import (
    container_field,
    last_count,
    number_field,
    plants_leave,
    sowing_field,
    sowing_meant,
    station_field,
    text_field,
    tray_field,
    what_field,
)
from seedstart.acts.known import Known
from seedstart.acts.parsers import parse_destinations
from seedstart.acts.sheet import Sheet
from seedstart.season.journal.entries import (
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
from seedstart.season.plan.names import Names
from seedstart.text import joined, plural
from seedstart.tracking.typed_names import daughter_names, tray_named
from seedstart.units import Units

_SPOT: Final = text_field("place", "Spot", "where exactly, in your words", rare=True)


def _station_of_tray(known: Known, texts: Texts) -> str:
    """Where the tray stands that a sowing comes into."""
    tray = tray_named(known.records, texts.get("tray", "")) if texts.get("tray") else None
    return (known.records.place(("tray", tray)).station_at() or "") if tray else ""


def _moved_into(text: str, sheet: Sheet) -> Values:
    """A sowing comes into a tray; a tray does not."""
    if "tray" in sheet.values:
        raise ValueError("a tray is not put into a tray; name a sowing, or leave this empty")
    tray = sheet.tray(text)
    return {} if tray is None else {"tray": tray}


def _moved_in_words(entry: Moved, _: Units) -> str:
    into = f", {entry.tray}" if entry.sowing and entry.tray else ""
    return f"to {entry.station}{into}"


def _moved(sheet: Sheet) -> Sequence[Entry]:
    """A sowing that is alone in its tray is carried with it."""
    values = dict(sheet.values)
    one = sheet.known.records.by_name_in_line(values.get("sowing", ""))
    if one is not None and "tray" not in values:
        tray = sheet.known.records.goes_along(one.id, sheet.at)
        values |= {} if tray is None else {"tray": tray}
    return (Moved(**BLANK, **values),)


def _station_in_short(typed: str, _: Known) -> Texts:
    return {"station": typed}


def _confirm_moving(entries: Sequence[Moved], _: Known) -> str:
    """`moved tray 3 to the upper shelf`."""
    return "; ".join(
        f"moved {one.sowing or one.tray} to the {one.station}"
        f"{f', into {one.tray}' if one.sowing and one.tray else ''}{aside(one.place or '')}"
        for one in entries
    )


MOVE: Final = Act(
    kind=Moved,
    name="move",
    about="a sowing, or a whole tray, to another station",
    example="leek 'shelf 2' --tray 'tray 5'",
    fields=(
        what_field("sowing", "tray"),
        station_field(
            "To station", "where it goes", _station_of_tray, need="the station it goes to"
        ),
        structs.replace(tray_field("the tray that a sowing goes into"), read=_moved_into),
        _SPOT,
    ),
    make=_moved,
    asks="station",
    short=_station_in_short,
    short_says="the station it goes to",
    on=("sowing", "tray"),
    also="moved moving carry to the light",
    says=_moved_in_words,
    confirms=_confirm_moving,
)


def _parts(text: str, sheet: Sheet) -> Values:
    parts = [(_called(where, sheet.known), count) for where, count in parse_destinations(text)]
    plants_leave(sheet, "into", sum(count for _, count in parts))
    for where, _ in parts:
        if Names(sheet.known.plan.stations).find(where) is None:
            sheet.tray(where)  # a new one needs a name that can be borne
    return {"parts": parts}


def _called(where: str, known: Known) -> str:
    """A bare number is a tray's: `40` is tray 40, unless something bears the number alone."""
    if not where.isdecimal() or tray_named(known.records, where):
        return where
    return f"tray {where}"


def _divided(sheet: Sheet) -> Sequence[Entry]:
    """A new sowing for each place."""
    values = dict(sheet.values)
    parts, mother = values.pop("parts"), values.pop("sowing")
    station = values.pop("station", None)
    names = daughter_names(sheet.known.records, mother, len(parts))
    kind: Any = sheet.act.kind
    entries: list[Entry] = []
    for called, (where, count) in zip(names, parts, strict=True):
        place = _place(sheet, where, station)
        entries.append(kind(**BLANK, **values, **place, sowing=mother, plants=count, into=called))
    return entries


def _place(sheet: Sheet, where: str, station: str | None) -> dict[str, Any]:
    """A station by its name, else a tray; a tray that stands somewhere stays there."""
    known = sheet.known
    named = Names(known.plan.stations).find(where)
    if named is not None:
        return {"station": named}
    tray = tray_named(known.records, where) or where
    stands = known.records.place(("tray", tray)).station_at(sheet.at)
    return {"tray": tray, "station": None if stands else station}


def _where_they_came_up(known: Known, texts: Texts) -> str:
    """A tray of which nothing is known is taken to stand where the seedlings do."""
    one = sowing_meant(known, texts)
    return (known.records.station_of(one.id) or "") if one else ""


def _divided_in_words(entry: Dividing, _: Units) -> str:
    where = entry.tray or entry.station
    return f"{entry.plants} into {entry.into}{f' ({where})' if where else ''}"


def _confirm_dividing(verb: str) -> Callable[[Sequence[Dividing], Known], str]:
    """`pricked out 20 celeriac into tray 40, on the lower shelf; 13 left in tray M`."""

    def confirm(entries: Sequence[Dividing], known: Known) -> str:
        said = []
        for mother in dict.fromkeys(one.sowing for one in entries):
            parts = [one for one in entries if one.sowing == mother]
            plants = sum(one.plants for one in parts)
            places = [_goes_to(one, known) for one in parts]
            into = places[0]
            if len(parts) > 1:
                each = zip(parts, places, strict=True)
                into = ", and ".join(f"{one.plants} {where}" for one, where in each)
            colon = ":" if len(parts) > 1 else ""
            what = f"{verb} {plants} {mother}{colon} {into}".rstrip()
            said.append(then(what, left_in_words(mother, known)))
        return "; ".join(said)

    return confirm


def _goes_to(entry: Dividing, known: Known) -> str:
    """`into tray 40, on the lower shelf`."""
    place = place_in_words(entry.tray, entry.station, known)
    cells = plural(entry.cells, "cell") if entry.cells else ""
    how = aside(entry.place or "", entry.container or "", cells)
    where = f"into {place.removeprefix('in ')}" if entry.tray else place
    return f"{where}{how}".lstrip()


def _confirm_potting(entries: Sequence[PottedOn], known: Known) -> str:
    """`potted on 6 leek: 9 cm pot, in tray 5, on the bench`."""
    said = []
    for one in entries:
        stands = known.standing(one.sowing)
        what = plants_of(stands.standing if stands else None, one.sowing)
        rest = [one.container or "", place_in_words(one.tray, one.station, known)]
        said.append(": ".join(filter(None, (f"potted on {what}", ", ".join(filter(None, rest))))))
    return "; ".join(said)


def _confirm_cover(verb: str) -> Callable[[Sequence[Covered | Uncovered], Known], str]:
    """`covered tray M`, `lifted the cover of tray M`."""
    return lambda entries, _: (
        f"{verb} {joined([name for one in entries for _, name in one.subjects()])}"
    )


def _into_in_short(typed: str, _: Known) -> Texts:
    """`20 into 40`, `20 into 40 at upper shelf`."""
    into, at, station = re.sub(r"\s+at\s+", "\0", typed, flags=re.IGNORECASE).partition("\0")
    return {"into": into, **({"station": station} if at else {})}


_DIVIDING: Final = (
    sowing_field(),
    Field(
        key="into", label="Into", read=_parts, names=lambda one: [*one.trays(), *one.stations()],
        listed=True, told=last_count, says="30 into tray 5; tray 5:15, tray 6:15, sill:30",
        need="how many and where to, e.g. 30 into tray 5", metavar="WHERE",
        ways={"plants": Way("{it} into {own}", "How many in all.", arg=True)},
    ),
    container_field(),
    station_field("Station", "where the new trays stand", _where_they_came_up,
                  tacit=True),
    number_field("cells", "Cells", "how many cells each lot of plants fills", rare=True),
    _SPOT,
)  # fmt: skip
PRICK_OUT: Final = Act(
    kind=PrickedOut,
    name="prick out",
    about="seedlings into their own cells, one place or several",
    example="leek 60 --into 'tray 5:30, tray 6:30'",
    fields=_DIVIDING,
    make=_divided,
    asks="into",
    short=_into_in_short,
    short_says=(
        "how many and where to, e.g. 30 into tray 5, or 45 into tray 5:15, tray 6:30; keep if "
        "they stay"
    ),
    on=("sowing", "tray", "lot"),
    also="pricked pricking out transplant",
    says=_divided_in_words,
    confirms=_confirm_dividing("pricked out"),
)
SPLIT: Final = Act(
    kind=Split,
    name="split",
    about="a sowing divided without pricking it out",
    example="leek 12 --into 'sill:12'",
    fields=_DIVIDING,
    make=_divided,
    asks="into",
    on=("sowing",),
    also="part divide",
    says=_divided_in_words,
    confirms=_confirm_dividing("split off"),
)


def _container_in_short(typed: str, _: Known) -> Texts:
    return {"container": typed}


POT_ON: Final = Act(
    kind=PottedOn,
    name="pot on",
    about="plants into a bigger container",
    example="pepper-long --container '9 cm pot'",
    fields=(
        sowing_field(),
        container_field(),
        tray_field("only if they go into another tray"),
        station_field(says="only if they go to another station", default=_station_of_tray),
    ),
    asks="container",
    short=_container_in_short,
    short_says="the container, e.g. 9 cm pot",
    on=("sowing",),
    also="potted potting up repot repotted",
    confirms=_confirm_potting,
)
COVER: Final = Act(
    kind=Covered,
    name="cover",
    about="a cover put on",
    example="'tray 5'",
    fields=(what_field("tray", "sowing", "station"),),
    on=("tray", "sowing", "station"),
    also="lid dome",
    confirms=_confirm_cover("covered"),
)
UNCOVER: Final = Act(
    kind=Uncovered,
    name="uncover",
    about="a cover lifted off",
    example="'tray 5'",
    fields=(what_field("tray", "sowing", "station"),),
    on=("tray", "sowing", "station"),
    also="lid dome lift take took off",
    confirms=_confirm_cover("lifted the cover of"),
)
