"""The files of a new season: empty with words of help, or with what last season leaves."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any, Final

from msgspec import Struct

from seedstart.crop_table.load import CropTable
from seedstart.days import parse_day
from seedstart.problems import Problem, Typed
from seedstart.season.plan.lot import LotTest, SeedAmount
from seedstart.season.plan.lots import LOTS_FILE
from seedstart.season.plan.season_file import SEASON_FILE, Frost, Season, read_season
from seedstart.season.plan.toml_blocks import block, lines
from seedstart.season.plan.toml_text import parse_toml
from seedstart.text import clean, folded, joined, plural
from seedstart.units import Units, parse_risk

# Of last season's season.toml; its title, its days away and its frost are its own.
_KEPT: Final = ("timezone", "units", "work_days")
_NONE_LEFT: Final = (SeedAmount(seeds=0), SeedAmount(grams=0.0))
_FROST_HELP: Final = """\
# The last frost to count from. risk_percent: in so many of a hundred years a frost comes later:
# 50 is the average date, 10 a safe one. tender_risk_percent: the risk taken with tender plants;
# without it each crop's own weeks decide. In place of last: record, a file of daily minima.
"""
_FROST_EXAMPLE: Final = """\
# [frost]
# last = 2027-05-12
# risk_percent = 50
"""
_STATIONS_HELP: Final = """\
# Where trays stand, in walking order. kind: shelf, bench, mat, sill, propagator, cabinet,
# fridge, greenhouse, tunnel, frame or outdoors. expected: the temperature of the medium to
# plan with until there are readings.
"""
_STATION_EXAMPLE: Final = """\
# [[station]]
# name = "heat mat"
# kind = "mat"
# expected = "24C"                # or "21C day, 14C night", or 75F
# area = "1.2 x 0.5 m"            # for the space plan
# lamps = [{ count = 2, watts = 20, ppf_umol_s = 50, length = "1.2 m", height = "30 cm" }]
"""
_CONTAINERS_HELP: Final = """\
# Trays and pots of your own; trays of 24 to 288 cells and a 9 cm pot are there already.
"""
_CONTAINER_EXAMPLE: Final = """\
# [[container]]
# name = "egg box"
# cells = 12
# footprint = "30 x 10 cm"
# cell_ml = 40
"""
_LOTS_HELP: Final = """\
# Your lots: one [[lot]] for each packet, or batch of seed that you saved.
# Edit them here as you like. What the program changes here, on your word,
# leaves your comments and order as they are.
#
# [[lot]]
# name = "pepper-long"            # as on the label
# crop = "pepper"                 # `seedstart crops` lists them
# variety = "Long red, own seed"
# want = 12                       # plants wanted at setting out from each sowing
# station = "heat mat"            # where it will come up
# then = "shelf 1"                # where it goes at the first seedlings
# container = "tray of 72"
# germination = "85%"             # as printed on the packet
# harvested = "2026"              # a year, "2022-2024", or "unknown"
# have = "50 seeds"               # or grams: "2.5 g"
# from = "swap day"               # donor or supplier
"""


_NAMED: Final = 5  # of what stays behind; more are counted


class NewFiles(Struct, frozen=True):
    """The bytes of a new season's files.

    Attributes:
        season_toml: Title, stations, frost.
        lots_toml: Lots.
        crops: Own crops, and what was learned of shipped ones: by the file's name.
    """

    season_toml: bytes
    lots_toml: bytes
    crops: dict[str, bytes] = {}


def new_season(title: str, zone: str, units: Units = "metric", frost: Frost | None = None) -> bytes:
    """A season.toml to begin with, its keys explained.

    Args:
        title: For the head of the calendar.
        zone: IANA time zone.
        units: What the faces show, and what a bare number means.
        frost: The last frost to count from; None for a season without one.
    """
    return _season_text({"title": title, "timezone": zone, "units": units}, frost, {})


def new_lots() -> bytes:
    """A lots.toml to begin with: one lot as an example, commented out."""
    return _LOTS_HELP.encode()


def next_season(
    season_toml: bytes,
    lots_toml: bytes,
    crops: CropTable,
    *,
    title: str,
    frost: Frost | None,
    left: Mapping[str, SeedAmount] | None = None,
    tests: Mapping[str, Sequence[LotTest]] | None = None,
    own_crops: Mapping[str, bytes] | None = None,
) -> NewFiles:
    """The files of the season after: zone, units, work days, stations, containers, lots.

    Left behind are the days of the old year (away, ready, sow), its frost, and comments. Tests
    and former names come along.

    Args:
        season_toml: Last season's file.
        lots_toml: Likewise.
        crops: The crop table.
        title: The new season's.
        frost: The new season's last frost.
        left: By lot, the seed that is left; a lot with none left stays behind, and one that
            is not named comes along as it was.
        tests: By lot, its germination tests, those of the journal too; a lot that is not named
            keeps those that its file has.
        own_crops: Files of the new season's crops folder.

    Raises:
        BadInputError: Last season's files cannot be read.
    """
    season = read_season(season_toml, lots_toml, crops)
    old = parse_toml(season_toml, SEASON_FILE).values
    old_lots = parse_toml(lots_toml, LOTS_FILE).values.get("lot", [])
    amounts = {folded(name): amount for name, amount in (left or {}).items()}
    lots = [
        block("lot", _carried(keys, amounts.get(folded(lot.name)), (tests or {}).get(lot.name, ())))
        for keys, lot in zip(old_lots, season.lots, strict=True)
        if amounts.get(folded(lot.name)) not in _NONE_LEFT
    ]
    head = {"title": title} | {key: old[key] for key in _KEPT if key in old}
    text = "\n".join([_LOTS_HELP, *lots]).encode()
    return NewFiles(_season_text(head, frost, old), text, dict(own_crops or {}))


def came_over(last: Season, new: Season) -> Iterator[str]:
    """What a season has of the one before, and what stayed behind, a sentence each."""
    names = {folded(lot.name) for lot in new.lots}
    out = [lot.name for lot in last.lots if folded(lot.name) not in names]
    tests = sum(len(lot.tests) for lot in new.lots)
    things = [
        plural(len(found), word)
        for found, word in (
            (new.stations, "station"), (new.lots, "lot"), (range(tests), "germination test")
        )
        if found
    ]  # fmt: skip
    yield f"Taken over: {joined(things) or 'nothing'}."
    if out:
        yield f"No seed is left of {joined(out[:_NAMED])}{_and_more(out)}: left behind."
    dated = [lot.name for lot in last.lots if lot.sow or lot.ready is not None]
    if dated or last.away:
        whose = f" of {joined(dated[:_NAMED])}{_and_more(dated)}" if dated else ""
        own = f"your own days to sow or be ready{whose}" if dated else ""
        parts = [part for part in ("the days away" if last.away else "", own) if part]
        yield f"Left behind with the old year: {joined(parts)}."
    if new.frost is None and last.frost is not None:
        yield "The last frost did not come over: give the new season one, or a weather record."


def _and_more(names: Sequence[str]) -> str:
    return f" and {len(names) - _NAMED} more" if len(names) > _NAMED else ""


def _carried(
    keys: Mapping[str, Any], amount: SeedAmount | None, tests: Sequence[LotTest]
) -> dict[str, Any]:
    """The keys of a lot without the days of the old year, with what is left and its tests."""
    kept = {key: value for key, value in keys.items() if key not in {"ready", "sow"}}
    if "every" not in kept:  # its sowings stood in `sow`, day by day
        kept.pop("sowings", None)
    if amount is not None:
        kept["have"] = str(amount)
    if tests:
        kept["tests"] = [_test(test) for test in sorted(tests, key=lambda test: test.on)]
    return kept


def _test(test: LotTest) -> dict[str, Any]:
    """A test as it stands in lots.toml."""
    where = {"where": test.where} if test.where else {}
    return {"on": test.on, "seeds": test.seeds, "up": test.up} | where


def _season_text(head: Mapping[str, Any], frost: Frost | None, old: Mapping[str, Any]) -> bytes:
    parts = [lines(head), _FROST_HELP + (_frost_text(frost) if frost else _FROST_EXAMPLE)]
    for kind, comment, example in (
        ("station", _STATIONS_HELP, _STATION_EXAMPLE),
        ("container", _CONTAINERS_HELP, _CONTAINER_EXAMPLE),
    ):
        places = [block(kind, keys) for keys in old.get(kind, [])]
        parts.append("\n".join([comment, *(places or [example])]))
    parts += [block("tray", keys) for keys in old.get("tray", [])]
    return "\n".join(parts).encode()


def _frost_text(frost: Frost) -> str:
    keys = {
        "last": frost.last,
        "risk_percent": None if frost.record else _short(frost.risk_percent),
        "tender_risk_percent": _short(frost.tender_risk_percent),
        "record": list(frost.record) if frost.record[1:] else next(iter(frost.record), None),
        "year": frost.year,
        "threshold": f"{frost.threshold_c:g}C" if frost.threshold_c else None,
    }
    return f"[frost]\n{lines(keys)}"


def _short(percent: float | None) -> float | None:
    """50 and not 50.0."""
    return int(percent) if percent is not None and percent == int(percent) else percent


class Wishes(Struct):
    """What was typed; None where nothing was.

    Attributes:
        title: For the head of the calendar.
        zone: An IANA time zone.
        units: `metric` or `us`.
        last_frost: A day, or `none` for a seed library.
        risk: What that day means: `average`, `safe`, or a percentage.
        tender_risk: The risk taken with tender plants, or `none`.
    """

    title: str | None = None
    zone: str | None = None
    units: str | None = None
    last_frost: str | None = None
    risk: str | None = None
    tender_risk: str | None = None


def frost_wished(wishes: Wishes, typed: Typed, prefix: str = "--") -> Frost | None:
    """The last frost to count from; None for a season without one.

    Args:
        wishes: What was typed.
        typed: Where what is wrong goes.
        prefix: What the grower sees before the names `last-frost`, `risk`, `tender-risk`.
    """
    if wishes.last_frost is None or wishes.last_frost.strip().lower() == "none":
        if wishes.risk:
            hint = f"It says what {prefix}last-frost means: give both."
            typed.refuse(Problem(file=f"{prefix}risk", hint=hint))
        return None
    last = typed.read(f"{prefix}last-frost", wishes.last_frost, parse_day)
    if wishes.risk is None:
        hint = (
            "Say what the date means: average (a later frost in half of all years), safe (in one "
            "year of ten), or the percentage."
        )
        typed.refuse(Problem(file=f"{prefix}risk", hint=hint))
    risk = typed.read(f"{prefix}risk", wishes.risk, parse_risk)
    no_risk = (wishes.tender_risk or "none").strip().lower() == "none"
    tender_risk = (
        None if no_risk else typed.read(f"{prefix}tender-risk", wishes.tender_risk, parse_risk)
    )
    return Frost(last=last, risk_percent=risk or 50, tender_risk_percent=tender_risk)


def parse_units(text: str) -> Units:
    """`metric` or `us`.

    Raises:
        ValueError: Something else.
    """
    if text == "metric":
        return "metric"
    if text == "us":
        return "us"
    raise ValueError("metric or us")


def first_season(
    title: str, zone: str, units: Units, frost: Frost | None, crops: CropTable
) -> NewFiles:
    """The files of a season that takes nothing over, checked as they will be read.

    Raises:
        BadInputError: They could not be read again, as with a time zone that is none.
    """
    text = new_season(clean(title), zone, units, frost)
    read_season(text, new_lots(), crops)
    return NewFiles(text, new_lots())
