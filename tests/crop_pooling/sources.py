"""A source as the reference tables cite it → its key and its entry in crops/sources.toml."""

import re
from functools import cache
from typing import NamedTuple

from crop_pooling.institutions import ADDED, FROM_MEMORY, KNOWN
from crop_pooling.tables import read
from seedstart.crop_table.crop import Source

_TABLES = (
    "emergence_days",
    "normal_seedlings_percent",
    "germination_temperature",
    "transplant_timing",
    "sow_weeks_vegetables_herbs",
    "sow_weeks_flowers",
    "flower_germination",
    "sowing_notes",
    "minimum_germination_standards",
    "heat_limits",
    "germination_light",
    "emergence_spread",
    "raised_in",
    "night_temperatures",
    "cautions",
)
# A weak source that sells seed is cited as "a seller's sheet", without the seller's name.
_SELLS = re.compile(r"retail|seller|shop|merchant|breeder|catalogue|seed packet|seed house")
# Copies that stand on a shop's page or behind a login are no address to send a grower to.
_NO_ADDRESS = re.compile(
    r"(?i)plantfinder|desertcart|pakanbazr|grovida|etsy|sundownfarms|fliphtml5|scribd|slides"
)

_SAID_PLAINLY = (
    ("(text by Wildseed Farms)", "(text by a seed grower)"),
    ("Plant Finder", "plant pages"),
    ("The Plant Guide", "plant pages"),
)


class Cited(NamedTuple):
    """A source with its key in crops/sources.toml."""

    key: str
    source: Source


@cache
def cited() -> dict[str, Cited]:
    """Every source of the tables, by the text that the tables cite it with."""
    found: dict[str, Cited] = {}
    weak: dict[str, Cited] = {}
    for table in _TABLES:
        for row in read(table):
            text = row["source"]
            if text == FROM_MEMORY or text in found:
                continue
            found[text] = _weak(text, weak) if text.startswith("(weak") else _known(text)
    return found


@cache
def by_key() -> dict[str, Source]:
    """Entries of crops/sources.toml, by key."""
    found: dict[str, Source] = {}
    for one in cited().values():
        found.setdefault(one.key, one.source)  # a page that is cited in two ways: the first
    return found | ADDED


def key_of(text: str) -> str:
    """Key of a source as the tables cite it; empty for what is from memory."""
    return "" if text == FROM_MEMORY else cited()[text].key


@cache
def weak_key(starts: str) -> str:
    """Key of a weak source, by how its citation starts behind the words on its kind."""
    for text, one in cited().items():
        if text.startswith("(weak") and text.partition(") ")[2].startswith(starts):
            return one.key
    raise LookupError(f"no weak source starts with {starts!r}")


def institution_of(key: str) -> str:
    """Who stands behind a source; what is from memory stands behind itself."""
    return by_key()[key].institution if key else FROM_MEMORY


def is_weak(key: str) -> bool:
    """Whether the source gives way to any better one; what is from memory does too."""
    return not key or by_key()[key].weak


def _known(text: str) -> Cited:
    for start, key, institution in KNOWN:
        if text.startswith(start):
            citation, where = _split(text)
            return Cited(key, Source(text=citation, institution=institution, where=where))
    raise LookupError(f"no institution is named for {text!r}")


def _weak(text: str, seen: dict[str, Cited]) -> Cited:
    kind, _, rest = text.removeprefix("(weak: ").partition(") ")
    if _SELLS.search(kind):
        seller = "seller " + _first_word(rest)
        if seller not in seen:
            place = 1 + sum(name.startswith("seller ") for name in seen)
            entry = Source(text="A seller's sheet", institution=f"seller {place}", weak=True)
            seen[seller] = Cited(f"sellers-sheet-{place}", entry)
        return seen[seller]
    page = f"{kind}: {rest.partition(',')[0]}"
    if page not in seen:
        year = re.search(r"\b(?:19|20)\d\d\b", rest)
        place = 1 + sum(not name.startswith("seller ") for name in seen)
        citation = f"{kind[0].upper()}{kind[1:]}, {year[0] if year else 'n.d.'}"
        entry = Source(text=citation, institution=f"weak page {place}", weak=True)
        seen[page] = Cited(f"weak-page-{place}", entry)
    return seen[page]


def _first_word(rest: str) -> str:
    """What tells one seller from another: the first word of the name, `The` left out."""
    return rest.removeprefix("The ").split()[0].removesuffix("'s")


def _split(text: str) -> tuple[str, str]:
    """The citation without its address, and the address."""
    address = re.search(r"https?://\S+?(?=[;,)]*(?:\s|$))", text)
    if not address:
        return text, ""
    citation = text[: address.start()].rstrip(" ,;(")
    for printed, plain in _SAID_PLAINLY:
        citation = citation.replace(printed, plain)
    if citation.count("(") > citation.count(")"):
        citation += ")"
    where = "" if _NO_ADDRESS.search(address[0]) else address[0]
    return citation, where
