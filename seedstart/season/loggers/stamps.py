"""Time stamps as loggers write them: a whole column of text → numbers, by the stamps' shapes.

Stamps of one file have few shapes (where digits stand, and which signs between them). Each
shape is understood once, by one pattern, and its digits are read off all its rows at a time.
"""

import re
from collections.abc import Sequence
from typing import TYPE_CHECKING, Final, Literal, NamedTuple

from seedstart.days import MONTHS

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Ints = NDArray[np.int32]
    Bytes = NDArray[np.uint8]
    Texts = NDArray[np.bytes_]

Order = Literal["dmy", "mdy", "ymd"]
ORDERS: Final[tuple[Order, ...]] = ("dmy", "mdy", "ymd")
# Before it a clock was not set: loggers that lose power start again in 1970 or 2000.
FIRST_YEAR, LAST_YEAR = 2001, 2199
# Month names, twelve hours and missing zeros make at most some hundred shapes; a file with
# more is no logger's.
_MOST_SHAPES: Final = 400
_LONGEST: Final = 48

_DATE = (
    r"(?P<p>\d{4}|\d{1,2})(?P<sign>[-/.])(?P<q>\d{1,2})(?P=sign)(?P<r>\d{4}|\d{1,2})"
    r"|(?P<day>\d{1,2})[-. ]{1,2}(?P<month>[A-Za-z]{3,9})[-. ,]{1,2}(?P<year>\d{4})"
    r"|(?P<month2>[A-Za-z]{3,9})\.? (?P<day2>\d{1,2}),? (?P<year2>\d{4})"
)
_CLOCK = (
    r"(?P<h>\d{1,2})[:.](?P<m>\d{2})(?:[:.](?P<s>\d{2})(?:[.,](?P<part>\d{1,9}))?)?"
    r"(?:\s?(?P<half>[AaPp])\.?[Mm]\.?)?"
    r"(?:\s?(?P<zone>Z|UTC|GMT|(?P<to>[+-])(?P<zh>\d{2}):?(?P<zm>\d{2})))?"
)
FULL: Final = re.compile(rf"\s*(?:{_DATE})(?:[T_]|,?\s{{1,3}})(?:{_CLOCK})\s*")
DATE: Final = re.compile(rf"\s*(?:{_DATE})\s*")
# Beside a date in its own column; with a full stop it could be a temperature.
LONE_CLOCK: Final = re.compile(rf"\s*(?:{_CLOCK.replace('[:.]', ':')})\s*")


class Stamps(NamedTuple):
    """A column of stamps, read but for the order of day and month.

    Attributes:
        first, middle, last: The three numbers of the date as they stand; where the date leaves
            no doubt (`settled`) they are year, month, day. Two-digit years count from 2000.
        settled: The year stands first with four digits, the month is a name, or the signs are
            full stops, which only the order day, month, year uses (common practice, no source).
        short: All three have one or two digits: any of them may be the year.
        clock_s: Seconds since midnight.
        offset_s: Offset from UTC that the stamp itself states; NaN where it states none.
        readable: Whether the row is a stamp at all. The other columns mean nothing where not.
    """

    first: "Ints"
    middle: "Ints"
    last: "Ints"
    settled: "NDArray[np.bool_]"
    short: "NDArray[np.bool_]"
    clock_s: "Floats"
    offset_s: "Floats"
    readable: "NDArray[np.bool_]"


def read_stamps(texts: "Texts") -> Stamps:
    """A column of stamps, each a date and a clock time in one text.

    What is no stamp is unreadable and no error.

    Args:
        texts: Fixed-width bytes, as `as_bytes` makes them, shape (n,).
    """
    import numpy as np

    count = len(texts)
    table = texts.view(np.uint8).reshape(count, texts.dtype.itemsize)
    numbers = np.zeros((3, count), np.int32)
    settled, short, readable = np.zeros((3, count), bool)
    clock_s, offset_s = np.zeros(count), np.full(count, np.nan)
    # Every digit as 0. Below "0" the bytes wrap round to large ones.
    shapes = np.where(table - np.uint8(48) < 10, np.uint8(48), table)
    shapes = shapes.view(texts.dtype).reshape(count)
    left = np.arange(count)
    for _ in range(_MOST_SHAPES):
        if not len(left):
            break
        shape = shapes[left[0]]
        alike = (shapes if len(left) == count else shapes[left]) == shape
        every = bool(alike.all()) and len(left) == count
        rows, left = (slice(None), left[:0]) if every else (left[alike], left[~alike])
        if match := FULL.fullmatch(shape.decode("latin-1")):
            read = _Shape(match, table[rows])
            numbers[:, rows], settled[rows], short[rows] = read.date()
            clock_s[rows], clock_fits = read.clock_s()
            offset_s[rows], offset_fits = read.offset_s()
            readable[rows] = clock_fits & offset_fits
    first, middle, last = numbers
    return Stamps(first, middle, last, settled, short, clock_s, offset_s, readable)


def as_bytes(texts: Sequence[str]) -> "Texts":
    """A column of texts as fixed-width bytes; what is not ASCII, or too long, is empty."""
    import numpy as np

    plain = [text if text.isascii() and len(text) <= _LONGEST else "" for text in texts]
    return np.array(plain, "S")


class _Shape:
    """The stamps of one shape: digits are read where the pattern found them in the shape."""

    def __init__(self, match: re.Match[str], table: "Bytes") -> None:
        self.match = match
        self.table = table

    def number(self, group: str) -> "Ints":
        """The digits of a group as a number for each row; zeros where it is missing."""
        import numpy as np

        found = np.zeros(len(self.table), np.int32)
        start, end = self.match.span(group)
        for place in range(start, end):
            found *= 10
            found += self.table[:, place] - np.uint8(48)
        return found

    def has(self, group: str) -> bool:
        """Whether the shape has this group."""
        return self.match[group] is not None

    def date(self) -> tuple["Ints", bool, bool]:
        """The three numbers of the date, whether they are settled, and all short."""
        import numpy as np

        if not self.has("p"):
            tail = "" if self.has("day") else "2"
            name = self.match[f"month{tail}"][:3].lower()
            month = MONTHS.index(name) + 1 if name in MONTHS else 0
            day, year = self.number(f"day{tail}"), self.number(f"year{tail}")
            return np.stack((year, np.full_like(year, month), day)), True, False
        first, middle, last = (self.number(group) for group in "pqr")
        if len(self.match["p"]) == 4:
            return np.stack((first, middle, last)), len(self.match["r"]) < 4, False
        if len(self.match["r"]) == 4 or self.match["sign"] == ".":
            last = last if len(self.match["r"]) == 4 else last + 2000
            if self.match["sign"] == ".":
                return np.stack((last, middle, first)), True, False
            return np.stack((first, middle, last)), False, False
        return np.stack((first, middle, last)), False, True

    def clock_s(self) -> tuple["Floats", "NDArray[np.bool_]"]:
        """Seconds since midnight, and whether the clock can show them."""
        import numpy as np

        hour, minute, second = (self.number(group) for group in "hms")
        fits = (hour < 24) & (minute < 60) & (second < 60)
        if self.has("half"):
            fits &= (hour >= 1) & (hour <= 12)
            hour = hour % 12 + (12 if self.match["half"] in "pP" else 0)
        parts = 10.0 ** len(self.match["part"] or "")
        whole_s, part_s = hour * 3600 + minute * 60 + second, self.number("part") / parts
        return whole_s.astype(np.float64) + part_s.astype(np.float64), fits

    def offset_s(self) -> tuple["Floats", "NDArray[np.bool_]"]:
        """The offset from UTC, NaN where none is stated, and whether there is such an offset."""
        import numpy as np

        hours, minutes = self.number("zh"), self.number("zm")
        sign = -1.0 if self.match["to"] == "-" else 1.0
        offset = sign * (hours * 3600.0 + minutes * 60)
        stated: Floats = np.where(self.has("zone"), offset, np.nan)
        return stated, (hours < 24) & (minutes < 60)


def possible_orders(stamps: Stamps) -> dict[Order, int]:
    """How many rows contradict each order of day, month and year that the file may have.

    Empty where no row leaves a doubt.
    """
    open_ = stamps.readable & ~stamps.settled
    if not open_.any():
        return {}
    orders: tuple[Order, ...] = ("dmy", "mdy")
    if (open_ & stamps.short).any():
        orders = ("dmy", "mdy", "ymd")
    return {order: int((open_ & ~_fits(*dates(stamps, order))).sum()) for order in orders}


def dates(stamps: Stamps, order: Order) -> tuple["Ints", "Ints", "Ints"]:
    """Year, month and day of each row, its doubtful dates read in this order."""
    import numpy as np

    first, middle, last = stamps.first, stamps.middle, stamps.last
    year_first = stamps.settled | (stamps.short & (order == "ymd"))
    year = np.where(year_first, first, last)
    month = np.where(year_first | (order == "dmy"), middle, first)
    day = np.where(year_first, last, first if order == "dmy" else middle)
    return np.where(stamps.short, year + 2000, year), month, day


def wall_s(stamps: Stamps, order: Order) -> "Floats":
    """Wall time of each row in seconds of the epoch, NaN where the date does not exist.

    Years before `FIRST_YEAR` do not count as dates: the clock had lost its time.
    """
    import numpy as np

    year, month, day = dates(stamps, order)
    fits = stamps.readable & _fits(year, month, day)
    months = np.where(fits, (year - 1970) * 12 + month - 1, 0).astype(np.int64)
    first = months.astype("M8[M]").astype("M8[D]").astype(np.int64)
    wall = (first + day - 1) * 86400.0 + stamps.clock_s
    wall[~fits] = np.nan
    return wall


def _fits(year: "Ints", month: "Ints", day: "Ints") -> "NDArray[np.bool_]":
    import numpy as np

    length = np.array([0, 31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31])
    leap = (year % 4 == 0) & ((year % 100 != 0) | (year % 400 == 0))
    real = (month >= 1) & (month <= 12)
    last = length[np.where(real, month, 0)] + (leap & (month == 2))
    sane = (year >= FIRST_YEAR) & (year <= LAST_YEAR)
    fits: NDArray[np.bool_] = real & (day >= 1) & (day <= last) & sane
    return fits
