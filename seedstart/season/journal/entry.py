"""What every line of the journal carries, and whom it is about.

docs/formats_journal.md is the grower's version. Optional fields stay out of a line that does not
use them; fields that a newer version adds are passed over.
"""

from datetime import datetime
from typing import Annotated, Final, Literal, TypedDict

from msgspec import Meta, Struct

from seedstart.units import COLDEST_C, HOTTEST_C

_RANDOM_BITS: Final = 74
_TIME_BITS: Final = 48
_STEP_BITS: Final = 32


def next_id(last: str | None, now_ms: int, random: bytes) -> str:
    """An id above the last one of the same writer.

    Args:
        last: The writer's highest id so far; None, or one that is no UUIDv7, counts as none.
        now_ms: Milliseconds since 1970-01-01 UTC.
        random: Ten bytes from the machine's source of randomness.

    Raises:
        ValueError: Fewer than ten bytes, or a time that 48 bits do not hold.

    Source:
        RFC 9562 section 5.7, and 6.2 method 2: within a millisecond, or when the clock stands
        behind the last id, the random part of the last one grows by a random step.
    """
    if len(random) < 10 or not 0 <= now_ms < 1 << _TIME_BITS:
        raise ValueError("ten random bytes and a time from 1970 on")
    chance = int.from_bytes(random)
    fresh = now_ms << _RANDOM_BITS | chance % (1 << _RANDOM_BITS)
    before = _number(last)
    if before is None or fresh >> _RANDOM_BITS > before >> _RANDOM_BITS:
        return _written(fresh)
    # A carry out of the random part moves the time on by a millisecond: it still rises.
    risen = before + 1 + chance % (1 << _STEP_BITS)
    return _written(risen if risen < 1 << (_TIME_BITS + _RANDOM_BITS) else fresh)


def _number(written: str | None) -> int | None:
    """Time and random part as one number, version and variant left out."""
    digits = (written or "").replace("-", "")
    if len(digits) != 32 or digits[12] != "7" or digits[16] not in "89ab":
        return None
    try:
        whole = int(digits, 16)
    except ValueError:
        return None
    time, middle, end = whole >> 80, whole >> 64 & 0xFFF, whole & (1 << 62) - 1
    return time << _RANDOM_BITS | middle << 62 | end


def _written(number: int) -> str:
    time, middle, end = number >> _RANDOM_BITS, number >> 62 & 0xFFF, number & (1 << 62) - 1
    digits = f"{time << 80 | 7 << 76 | middle << 64 | 2 << 62 | end:032x}"
    return "-".join((digits[:8], digits[8:12], digits[12:16], digits[16:20], digits[20:]))


SubjectKind = Literal["sowing", "tray", "station", "lot", "check", "day", "season"]
Subject = tuple[SubjectKind, str]

Id = Annotated[str, Meta(min_length=36, max_length=36)]
Name = Annotated[str, Meta(min_length=1)]
MOST: Final = 10**9  # of anything: more is a slip, and sums of more could not be reckoned with
Count = Annotated[int, Meta(ge=0, le=MOST)]
Some = Annotated[int, Meta(ge=1, le=MOST)]  # things: a count of zero says nothing
Amount = Annotated[float, Meta(ge=0, le=MOST)]
Positive = Annotated[float, Meta(gt=0, le=MOST)]
HoursOfDay = Annotated[float, Meta(ge=0, le=24)]
Percent = Annotated[float, Meta(ge=0, le=100)]
MediumC = Annotated[float, Meta(ge=COLDEST_C, le=HOTTEST_C)]
LiquidC = Annotated[float, Meta(ge=COLDEST_C, le=100)]  # hard seed is scalded: up to boiling


class Stamp(TypedDict):
    """What every entry carries, as a draft is made with it."""

    id: str
    at: datetime
    by: str


# A draft is Counted(**BLANK, sowing="leek", standing=18): typed, and refused if it were read.
BLANK_AT: Final = datetime.min  # noqa: DTZ901 - no zone is what makes a reader refuse it
BLANK: Final[Stamp] = {"id": "", "at": BLANK_AT, "by": ""}


def kind_in_lines(name: str) -> str:
    """The `kind` of a struct by its name: PrickedOut is `pricked_out`."""
    return "".join(f"_{c.lower()}" if c.isupper() else c for c in name).removeprefix("_")


class Entry(
    Struct, frozen=True, kw_only=True, gc=False, omit_defaults=True, tag_field="kind",
    tag=kind_in_lines,
):  # fmt: skip
    """What every line carries.

    Attributes:
        id: UUIDv7, 36 characters.
        at: When it happened, with the offset of the season's zone; its day is the date as written.
        by: The writer.
        act: The id of the first line of an act of several lines.
    """

    id: Id
    at: Annotated[datetime, Meta(tz=True)]
    by: Name
    act: Id | None = None

    def subjects(self) -> tuple[Subject, ...]:
        """Into what it is folded: the subjects it names, by the names that stand in the line.

        Nothing for those that name another entry (`taken_out`, `struck`): the journal knows it.
        """
        return ()


class OfSowing(Entry, frozen=True, kw_only=True):
    """An act on one sowing."""

    sowing: Name

    def subjects(self) -> tuple[Subject, ...]:
        """Its sowing."""
        return (("sowing", self.sowing),)


class OfAny(Entry, frozen=True, kw_only=True):
    """An act on exactly one of a sowing, a tray, a station: the last two mean what stands there."""

    sowing: Name | None = None
    tray: Name | None = None
    station: Name | None = None

    def __post_init__(self) -> None:
        need_one((self.sowing, self.tray, self.station), "sowing, tray, station")

    def subjects(self) -> tuple[Subject, ...]:
        """The one it names."""
        return named(self.sowing, self.tray, self.station)


class OfPlants(Entry, frozen=True, kw_only=True):
    """An act on what is carried: exactly one of a sowing and a tray."""

    sowing: Name | None = None
    tray: Name | None = None

    def __post_init__(self) -> None:
        need_one((self.sowing, self.tray), "sowing, tray")

    def subjects(self) -> tuple[Subject, ...]:
        """The one it names."""
        return named(self.sowing, self.tray, None)


def named(sowing: str | None, tray: str | None, station: str | None) -> tuple[Subject, ...]:
    """The one subject that is not None, or nothing."""
    if tray is not None:
        return (("tray", tray),)
    if sowing is not None:
        return (("sowing", sowing),)
    return () if station is None else (("station", station),)


def need_one(values: tuple[object, ...], keys: str) -> None:
    """Refuse an entry unless exactly one of its values under these keys is there."""
    if values.count(None) != len(values) - 1:
        raise ValueError(f"exactly one of {keys}")


def need_any(entry: Entry, *keys: str) -> None:
    """Refuse an entry unless one of these keys has a value."""
    if all(getattr(entry, key) is None for key in keys):
        raise ValueError(f"at least one of {', '.join(keys)}")
