"""lots.toml ⇄ lots: read with every fault at once, and blocks to add at its end."""

from collections.abc import Callable, Mapping, Sequence
from datetime import date
from functools import cache
from itertools import pairwise
from typing import Any, Final, get_args

from msgspec import Struct

from seedstart.crop_table.find import find_crop_name
from seedstart.crop_table.load import CropTable
from seedstart.problems import BadInputError, Problem
from seedstart.season.plan.checked import Fault, Table, key_of, placed_with, refuse_clashes
from seedstart.season.plan.lot import (
    LOT_KEYS,
    Form,
    Lot,
    LotTest,
    SeedAmount,
    cold_days,
    harvested,
    percent,
    scarified,
    seed_amount,
    soak_hours,
)
from seedstart.season.plan.names import Names, a_name, wrong_lot_name
from seedstart.season.plan.toml_blocks import add_blocks, block
from seedstart.season.plan.toml_text import parse_toml
from seedstart.season.plan.typed_values import (
    RefusedError,
    between,
    day,
    full_text,
    one_of,
    quantity,
    show,
    text,
    whole,
)
from seedstart.text import clean, plural
from seedstart.units import Units, parse_days, parse_length

__all__ = [
    "LOTS_FILE",
    "LOT_KEYS",
    "Form",
    "Known",
    "Lot",
    "LotReader",
    "LotTest",
    "SeedAmount",
    "add_lots",
    "lot_block",
    "read_lots",
]

LOTS_FILE: Final = "lots.toml"
KEYS_LISTED_BY: Final = "keys of a lot"
MOST_SOWINGS: Final = 366
TESTS_WRITTEN: Final = "tests = [{ on = 2027-01-10, seeds = 20, up = 17 }]"


class Known(Struct, frozen=True):
    """What a lot may name: crops, stations (None: not known, nothing is checked), containers."""

    crops: CropTable
    units: Units = "metric"
    stations: Names | None = None
    containers: tuple[str, ...] | None = None


def read_lots(data: bytes, known: Known, file: str) -> tuple[tuple[Lot, ...], list[Problem]]:
    """The lots of a lots.toml, and everything wrong in it.

    Where there are problems the lots hold what could be read and are fit for nothing else.
    """
    try:
        parsed = parse_toml(data, file)
    except BadInputError as error:
        return (), list(error.problems)
    faults: list[Fault] = []
    top = Table(parsed.values, faults)
    tables = list(top.tables("lot", "[[lot]]"))
    top.close()
    reader = LotReader(known, written_before=True)
    lots = [reader.read(table) for table in tables]
    refuse_clashes(
        [(key_of(table.path), table, lot) for table, lot in zip(tables, lots, strict=True)]
    )
    return tuple(lots), placed_with(parsed, faults, file)


class LotReader:
    """Reads lots one by one; what it looked up for one it knows for the next.

    What was written before may call a crop by its genus; who types one again is asked which.
    """

    def __init__(self, known: Known, *, written_before: bool = False) -> None:
        self._crop = _crop_reader(known.crops, as_before=written_before)
        self._station = _station_reader(known.stations)
        self._form = one_of(get_args(Form))
        self._container = text if known.containers is None else one_of(known.containers)
        self._depth_m = between(
            quantity(lambda typed, units: parse_length(typed, units, bare="mm"), known.units),
            0,
            0.1,
            "a depth up to 10 cm, e.g. 12 mm or 0.5 in",
        )

    def read(self, table: Table) -> Lot:
        """One lot; its faults go where the table puts them."""
        name = table.need("name", _lot_name, "", what="as on the label")
        table.whose = name
        _check_rhythm(table)
        depth_m = table.take("depth", self._depth_m, None)
        form: Form = table.take("form", self._form, "natural")
        sow = _sow_days(table)
        lot = Lot(
            name=name,
            crop=table.need("crop", self._crop, "", what="a crop of the crop table"),
            variety=table.take("variety", text, ""),
            want=table.take("want", whole(1, 1_000_000), None),
            sowings=table.take("sowings", whole(1, MOST_SOWINGS), max(1, len(sow))),
            every_days=table.take("every", _every_days, None),
            station=table.take("station", self._station, None),
            then=table.take("then", self._station, None),
            container=table.take("container", self._container, None),
            ready=table.take("ready", day, None),
            sow=sow,
            soak=table.take("soak", soak_hours, None),
            stratify=table.take("stratify", cold_days, None),
            scarify=table.take("scarify", scarified, None),
            depth_mm=None if depth_m is None else round(depth_m * 1000, 3),
            form=form,
            germination_percent=table.take("germination", percent, None),
            tests=tuple(_test(test) for test in table.tables("tests", TESTS_WRITTEN)),
            harvested=table.take("harvested", harvested, None),
            have=table.take("have", seed_amount, None),
            source=table.take("from", text, ""),
            was=table.take_list("was", a_name),
        )
        table.close(listed_by=KEYS_LISTED_BY)
        _check_sowings(table, lot)
        return lot


def _lot_name(value: object) -> str:
    name = full_text(value)
    if why := wrong_lot_name(name):
        raise RefusedError(hint=why)
    return name


def _crop_reader(crops: CropTable, *, as_before: bool) -> Callable[[object], str]:
    @cache
    def look_up(typed: str) -> str | Problem:
        return find_crop_name(crops, typed, file=LOTS_FILE, as_before=as_before)

    def read(value: object) -> str:
        found = look_up(full_text(value))
        if isinstance(found, Problem):
            raise RefusedError(allowed=found.allowed, hint=found.hint, listed_by=found.listed_by)
        return found

    return read


def _station_reader(stations: Names | None) -> Callable[[object], str]:
    def read(value: object) -> str:
        typed = full_text(value)
        if stations is None:
            return typed
        if not stations.current:
            raise RefusedError(hint="season.toml lists no station: add a [[station]] there.")
        name = stations.find(typed)
        if name is None:
            raise RefusedError(allowed=stations.current, listed_by="season.toml")
        return name

    return read


def _every_days(value: object) -> int:
    days = parse_days(clean(show(value)))
    if days > 366:
        raise ValueError("a time up to 366 days, e.g. 14 days or 2 weeks")
    return days


def _sow_days(table: Table) -> tuple[date, ...]:
    days = table.take_list("sow", day)
    for number, (earlier, later) in enumerate(pairwise(days), 1):
        if later <= earlier:
            hint = f"It is not later than the sowing before it, {earlier}."
            table.refuse("sow", number, found=str(later), hint=hint)
    return days


def _test(table: Table) -> LotTest:
    test = LotTest(
        on=table.need("on", day, date.min, what="the day of the test"),
        seeds=table.need("seeds", whole(1, 100_000), 1, what="how many seeds were tested"),
        up=table.need("up", whole(0, 100_000), 0, what="how many of them came up"),
        where=table.take("where", text, ""),
    )
    table.close()
    if test.up > test.seeds and not table.refused("seeds"):
        table.refuse("up", found=str(test.up), hint=f"More came up than the {test.seeds} tested.")
    return test


def _check_rhythm(table: Table) -> None:
    if "every" in table and "sowings" not in table:
        table.refuse("every", hint="Say how many with sowings = 3, or leave every out.")


def _check_sowings(table: Table, lot: Lot) -> None:
    """Sowings, their rhythm and the grower's own dates must fit each other."""
    if len(lot.sow) > lot.sowings:
        hint = f"sow holds {len(lot.sow)} days for {plural(lot.sowings, 'sowing')}."
        table.refuse("sow", hint=hint)
    elif (
        lot.sowings > max(1, len(lot.sow)) and lot.every_days is None and not table.refused("every")
    ):
        hint = 'Say the time between them, every = "14 days", or give a day in sow for each.'
        table.refuse("sowings", found=str(lot.sowings), hint=hint)


def lot_block(keys: Mapping[str, Any]) -> bytes:
    """A `[[lot]]` to add at the end of lots.toml: every value on its line, tables inline.

    Args:
        keys: Keys of lots.toml and their values; those that are None are left out.
    """
    in_order = sorted(keys, key=lambda key: LOT_KEYS.index(key) if key in LOT_KEYS else 99)
    return block("lot", {key: keys[key] for key in in_order}).encode()


def add_lots(old: bytes, new_lots: Sequence[Mapping[str, Any]]) -> bytes:
    r"""lots.toml with lots added at its end: not a byte of the old is changed.

    Args:
        old: The file as it is; may be empty. Its line ends (`\n` or `\r\n`) go on.
        new_lots: The keys and values of each lot, checked before (`check_lots`).

    Raises:
        BadInputError: The old file cannot be read, or nothing can be added at its end.
    """
    return add_blocks(old, LOTS_FILE, "lot", [lot_block(keys) for keys in new_lots])
