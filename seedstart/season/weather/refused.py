"""What is no weather of a station, and why it is refused."""

import re
from typing import Final

from seedstart.problems import BadInputError, Problem
from seedstart.season.weather.cells import look_like_kelvins
from seedstart.season.weather.headed import monthly
from seedstart.season.weather.weather_days import Days

# A hundred years of every element of one station take some 4 MB in the widest of the layouts.
_MOST_BYTES: Final = 64_000_000
_TOO_LARGE: Final = (
    "a hundred years of one station take less than 5 MB: this file holds many, or no daily record. "
    "Get the file of one station"
)
_MONTHS: Final = re.compile(r"^\s*yyyy\s+mm\s+tmax", re.MULTILINE)


def refuse_too_large(file: str, size: int) -> None:
    """More bytes than any station's record has.

    Raises:
        BadInputError: It is so many.
    """
    if size > _MOST_BYTES:
        hint = f"{size / 1e6:.0f} MB: {_TOO_LARGE}."
        raise BadInputError([Problem(file=file, hint=hint)])


def refuse_what_is_no_text(data: bytes, file: str) -> None:
    """What is packed, empty, too large, or a picture of a table.

    Raises:
        BadInputError: It is.
    """
    refuse_too_large(file, len(data))
    hint = ""
    if data.startswith((b"PK\x03\x04", b"PK\x05\x06")):
        hint = "It is a zip (or a workbook): unpack it and name the daily table inside as text."
        hint += " Of a DWD archive that is produkt_klima_tag_….txt."
    elif data.startswith(b"\x1f\x8b"):
        hint = "It is packed with gzip: unpack it first."
    elif data.startswith(b"%PDF"):
        hint = "It is a PDF; a table as CSV or text is wanted."
    elif not data.strip():
        hint = "It is empty."
    if hint:
        raise BadInputError([Problem(file=file, hint=hint)])


def refuse_what_is_no_table(text: str, file: str) -> None:
    """A web page, and a table of months.

    Raises:
        BadInputError: It is one.
    """
    if re.match(r"\s*<(?:!doctype|html|head|\?xml)", text[:400], re.IGNORECASE):
        hint = "It is a web page, saved in place of the file: use the page's own link to the data."
        raise BadInputError([Problem(file=file, hint=hint)])
    if _MONTHS.search(text[:4000]):
        raise BadInputError([monthly(file)])


def refuse_odd(days: Days) -> Days:
    """Kelvins, and lowest and highest the wrong way about.

    Raises:
        BadInputError: Nearly all of the file is so.
    """
    hint = ""
    if look_like_kelvins(days.tmin_tenths):
        hint = "Its minima lie between 200 and 330: kelvins. Give them in °C."
    highest = days.others.get("tmax_c", {})
    low = days.tmin_tenths
    both = [10 * most - low[day] for day, most in highest.items() if day in low]
    if len(both) > 2 and sum(one < 0 for one in both) > 0.5 * len(both):
        hint = "Its lowest temperatures lie above its highest: the columns are the wrong way about."
    if hint:
        raise BadInputError([Problem(file=days.file, hint=hint)])
    return days


def all_missing(days: Days) -> Problem:
    """Why a file without a single minimum is refused."""
    hint = f"Not one of its {days.empty} days has a minimum: all are empty, or codes for missing."
    return Problem(file=days.file, hint=hint)


def nothing_found(file: str) -> Problem:
    """Why a file without days is refused."""
    hint = (
        "No daily weather was found in it. A plain file has the header date,tmin_c and a line a "
        "day, 2031-04-01,-3.0."
    )
    return Problem(file=file, hint=hint)
