"""What a grower changes in the plan, made in the file's own text: lots, stations, containers."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any, Final, Literal

from msgspec import structs

from seedstart.days import parse_day
from seedstart.problems import BadInputError, Problem
from seedstart.season.plan.additions import (
    LAMP_KEYS,
    STATION_KEYS,
    check_container,
    check_lots,
    check_station,
    lot_value,
    number_value,
)
from seedstart.season.plan.lot import LOT_KEYS, Lot
from seedstart.season.plan.names import Named, Names
from seedstart.season.plan.season_file import LOTS_FILE, SEASON_FILE, Season
from seedstart.season.plan.toml_edits import set_keys, without_table
from seedstart.season.plan.toml_text import Path, parse_toml
from seedstart.text import folded, joined, plural

Kind = Literal["lot", "station", "container"]
TypedTexts = Mapping[str, str | None]
FILE_OF: Final[dict[Kind, str]] = {
    "lot": LOTS_FILE,
    "station": SEASON_FILE,
    "container": SEASON_FILE,
}
_WORK_DAYS_APART: Final = str.maketrans(",;", "  ")


def change(
    old: bytes, kind: Kind, name: str, texts: TypedTexts, season: Season, trays: Iterable[str] = ()
) -> bytes:
    """The file with other values under keys of one lot, station or container.

    Args:
        old: Its file as it is.
        kind: What it is.
        name: Its name, or one that it had.
        texts: What was typed, by key; nothing typed takes the key out. Those of a lamp are its own.
        season: The plan that the files hold.
        trays: Names that trays have in the journal.

    Raises:
        BadInputError: Everything that is wrong in what was typed, or why the file stays.
    """
    number, table = _found(old, kind, name, season, f"change {kind}")
    check_changed(kind, table, texts, season, trays, file=f"change {kind}")
    keys, lamp = _typed(kind, texts)
    at: Path = (kind, number)
    new = set_keys(old, FILE_OF[kind], at, keys)
    lamps = _lamps(table, lamp) if lamp else None
    if lamps and table.get("lamps"):
        return set_keys(new, FILE_OF[kind], (*at, "lamps", 0), lamp)
    return set_keys(new, FILE_OF[kind], at, {"lamps": lamps}) if lamp else new


def check_changed(
    kind: Kind,
    table: Mapping[str, Any],
    texts: TypedTexts,
    season: Season,
    trays: Iterable[str] = (),
    *,
    file: str,
    to: str | None = None,
) -> None:
    """Check what a lot, station or container would be, among all others.

    Args:
        kind: What it is.
        table: What its file holds of it.
        texts: What was typed, by key; nothing typed takes the key out.
        season: The plan that the files hold.
        trays: Names that trays have in the journal.
        file: What the grower calls the place where it was typed.
        to: Another name for it.

    Raises:
        BadInputError: Everything wrong in it.
    """
    keys, lamp = _typed(kind, texts)
    merged = {**table, **keys, **({"lamps": _lamps(table, lamp)} if lamp else {})}
    if to is not None:
        merged |= _names(table, to)
    after = {key: value for key, value in merged.items() if value is not None}
    _check(kind, after, season, str(table["name"]), trays, file, crop_typed="crop" in texts)


def _typed(kind: Kind, texts: TypedTexts) -> tuple[dict[str, object], dict[str, object]]:
    """The values of its own keys, and those of its lamps."""
    found = {key: _value(kind, key, text) for key, text in texts.items()}
    lamp: dict[str, object] = {
        key.removeprefix("lamp_"): found.pop(key) for key in LAMP_KEYS if key in found
    }
    return found, lamp


def _names(table: Mapping[str, Any], to: str) -> dict[str, Any]:
    """Its name and former names under another name."""
    present = str(table["name"])
    was = [name for name in table.get("was", []) if folded(str(name)) != folded(to)]
    if folded(present) != folded(to):
        was.append(present)
    return {"name": to, "was": was or None}


def rename(
    old: bytes, kind: Kind, name: str, to: str, season: Season, trays: Iterable[str] = ()
) -> bytes:
    """The file with another name for a lot or a station; the old one stands under `was`.

    By that its journal stays with it, and what names it in the plan still means it.

    Raises:
        BadInputError: There is none of that name, or nothing may have the new one.
    """
    number, table = _found(old, kind, name, season, f"rename {kind}")
    check_changed(kind, table, {}, season, trays, file=f"rename {kind}", to=to)
    return set_keys(old, FILE_OF[kind], (kind, number), _names(table, to))


def drop(old: bytes, kind: Kind, name: str, season: Season) -> bytes:
    """The file without a lot, a station or a container; what names it is in the way.

    Raises:
        BadInputError: There is none of that name, or lots name it.
    """
    number, table = _found(old, kind, name, season, f"drop {kind}")
    check_unused(kind, str(table["name"]), season, file=f"drop {kind}")
    return without_table(old, FILE_OF[kind], kind, number)


def check_unused(kind: Kind, name: str, season: Season, *, file: str) -> None:
    """What lots name cannot go out of the plan.

    Raises:
        BadInputError: They do; with their names.
    """
    named = [lot.name for lot in season.lots if name in _named_by(lot, kind)]
    if named:
        lots = f"{plural(len(named), 'lot')} ({', '.join(named[:5])}{', …' if named[5:] else ''})"
        hint = (
            f"It is in use: {lots} {'names' if len(named) == 1 else 'name'} it. Change that first."
        )
        raise BadInputError([Problem(file=file, found=name, hint=hint)])


def change_season(old: bytes, texts: TypedTexts) -> bytes:
    """season.toml with another frost date, or other values of what stands before the tables.

    Args:
        old: The file as it is.
        texts: What was typed: `title`, `timezone`, `work_days`, `last`, `risk_percent`, `record`,
            `tender_risk_percent`; nothing typed takes the key out. A date takes the place of a
            record, and a record that of a date.

    Raises:
        BadInputError: The file cannot be changed here. Whether it can be read is not checked.
    """
    top: dict[str, object] = {key: text or None for key, text in texts.items() if key in _TOP}
    if top.get("work_days"):
        days = str(top["work_days"]).translate(_WORK_DAYS_APART).split()
        top["work_days"] = days
    frost: dict[str, object] = dict.fromkeys(_instead_of(texts))
    frost |= {
        key: number_value(text) if text else None for key, text in texts.items() if key in _FROST
    }
    if "tender_risk_percent" in frost:
        frost["trust_percent"] = None  # its old name, still read, goes with its value
    if text := texts.get("last"):
        frost["last"] = parse_day(text)
    if text := texts.get("record"):
        files = [part.strip() for part in text.split(",")]
        frost["record"] = files if files[1:] else text.strip()
    new = set_keys(old, SEASON_FILE, (), top)
    return set_keys(new, SEASON_FILE, ("frost",), frost) if frost else new


_TOP: Final = frozenset({"title", "timezone", "work_days"})
_FROST: Final = frozenset({"last", "risk_percent", "tender_risk_percent", "record"})


def _instead_of(texts: TypedTexts) -> tuple[str, ...]:
    """The keys of the frost whose place is taken: a date by a record, or a record by a date."""
    if texts.get("record"):
        return ("last", "risk_percent")
    return ("record", "threshold", "year") if texts.get("last") else ()


def dropped_in_words(frost: Mapping[str, Any], texts: TypedTexts) -> str:
    """What a date or a record takes the place of; empty where it takes none.

    Args:
        frost: What stands under `[frost]`, key by key.
        texts: What was typed, by key.
    """
    gone = [
        f"{key} ({', '.join(map(str, value)) if isinstance(value, list) else value})"
        for key in _instead_of(texts)
        if (value := frost.get(key)) is not None and key not in texts
    ]
    if not gone:
        return ""
    by = "the record gives" if texts.get("record") else "you typed"
    files = " Its files stay where they are." if "record" in frost and texts.get("last") else ""
    return f"Dropped from [frost]: {joined(gone)}, because the date {by} now counts.{files}"


def texts_of(kind: Kind, table: Mapping[str, Any]) -> dict[str, str]:
    """What stands under the keys of a table, as it would be typed; a lamp's keys among them."""
    lamps = table.get("lamps", [])
    only = lamps[0] if kind == "station" and len(lamps) == 1 else {}
    own_keys = {key: key.removeprefix("lamp_") for key in LAMP_KEYS}
    lamp = {key: only[own] for key, own in own_keys.items() if own in only}
    return {
        key: ", ".join(map(str, value)) if isinstance(value, list) else str(value)
        for key, value in {**_without(table, "lamps"), **lamp}.items()
        if not isinstance(value, list) or not any(isinstance(part, dict) for part in value)
    }


def keys_of(kind: Kind) -> Sequence[str]:
    """The keys that may be changed."""
    if kind == "lot":
        return [key for key in LOT_KEYS if key not in {"name", "tests", "was"}]
    if kind == "station":
        return [*(key for key in STATION_KEYS if key not in {"name", "lamps", "was"}), *LAMP_KEYS]
    return ["cells", "footprint", "cell_ml"]


def _without(table: Mapping[str, Any], key: str) -> dict[str, Any]:
    return {one: value for one, value in table.items() if one != key}


def _value(kind: Kind, key: str, text: str | None) -> object:
    if not text:
        return None
    if key == "sow":
        return [part.strip() for part in text.split(",")]
    return lot_value(key, text) if kind == "lot" else number_value(text, key)


def _named_by(lot: Lot, kind: Kind) -> tuple[str | None, ...]:
    if kind == "station":
        return lot.station, lot.then
    return (lot.container,) if kind == "container" else ()


def _found(
    old: bytes, kind: Kind, name: str, season: Season, file: str
) -> tuple[int, dict[str, Any]]:
    """Which of the file's tables it is, and what it holds."""
    tables = parse_toml(old, FILE_OF[kind]).values.get(kind, [])
    own = [str(table["name"]) for table in tables]
    named: Sequence[Named] = season.lots if kind == "lot" else season.stations
    present = name if kind == "container" else Names(named).find(name)
    for number, one in enumerate(own):
        if present is not None and folded(one) == folded(present):
            return number, tables[number]
    hint = "" if own else f"There is no {kind} of your own yet."
    raise BadInputError([Problem(file=file, found=name, allowed=tuple(own), hint=hint)])


def _lamps(table: Mapping[str, Any], lamp: Mapping[str, object]) -> list[dict[str, object]] | None:
    """The lamps of a station with other values; no number of them means none."""
    lamps = list(table.get("lamps", []))
    if len(lamps) > 1:
        hint = "Lamps of several kinds hang there: change them in season.toml."
        raise BadInputError([Problem(file="change station", key="lamps", hint=hint)])
    if "count" in lamp and lamp["count"] is None:
        return None
    merged = {**(lamps[0] if lamps else {}), **lamp}
    return [{key: value for key, value in merged.items() if value is not None}]


def _check(
    kind: Kind,
    table: Mapping[str, Any],
    season: Season,
    name: str,
    trays: Iterable[str],
    file: str,
    *,
    crop_typed: bool = False,
) -> None:
    """Read it as its file would be read, among all others."""
    if kind == "lot":
        present = Names(season.lots).find(name)
        others = tuple(lot for lot in season.lots if lot.name != present)
        rest = structs.replace(season, lots=others)
        check_lots([table], rest, file=file, written_before=not crop_typed)
    elif kind == "station":
        present = Names(season.stations).find(name)
        left = tuple(station for station in season.stations if station.name != present)
        check_station(table, structs.replace(season, stations=left), trays, file=file)
    else:
        own = tuple(
            container for container in season.containers if folded(container.name) != folded(name)
        )
        check_container(table, structs.replace(season, containers=own), file=file)
