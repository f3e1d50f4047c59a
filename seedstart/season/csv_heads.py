"""The heads of a CSV's columns → the keys of lots.toml: told, the same, another word, or near."""

from collections.abc import Iterator, Mapping, Sequence
from difflib import get_close_matches
from typing import Final, Literal

from msgspec import Struct

from seedstart.problems import Problem
from seedstart.season.lot import LOT_KEYS
from seedstart.season.lots import KEYS_LISTED_BY
from seedstart.text import folded

NEEDED: Final = ("name", "crop")
# What a column may be headed → the key, and the unit of a bare number under that head.
_HEADS: Final[dict[str, tuple[str, str]]] = {
    "label": ("name", ""),
    "lot": ("name", ""),
    "lot name": ("name", ""),
    "packet": ("name", ""),
    "species": ("crop", ""),
    "plant": ("crop", ""),
    "vegetable": ("crop", ""),
    "kind": ("crop", ""),
    "cultivar": ("variety", ""),
    "plants": ("want", ""),
    "plants wanted": ("want", ""),
    "wanted": ("want", ""),
    "how many": ("want", ""),
    "successions": ("sowings", ""),
    "interval": ("every", " days"),
    "every days": ("every", " days"),
    "days between": ("every", " days"),
    "place": ("station", ""),
    "where": ("station", ""),
    "then to": ("then", ""),
    "tray": ("container", ""),
    "pot": ("container", ""),
    "tray or pot": ("container", ""),
    "ready by": ("ready", ""),
    "sow on": ("sow", ""),
    "sowing date": ("sow", ""),
    "sowing dates": ("sow", ""),
    "soaking": ("soak", ""),
    "soak hours": ("soak", " h"),
    "stratification": ("stratify", ""),
    "cold days": ("stratify", " days"),
    "scarification": ("scarify", ""),
    "sowing depth": ("depth", ""),
    "depth mm": ("depth", " mm"),
    "seed form": ("form", ""),
    "pelleting": ("form", ""),
    "germination %": ("germination", "%"),
    "germination percent": ("germination", "%"),
    "germination rate": ("germination", "%"),
    "year": ("harvested", ""),
    "harvest": ("harvested", ""),
    "harvest year": ("harvested", ""),
    "stock": ("have", ""),
    "amount": ("have", ""),
    "packet size": ("have", ""),
    "in packet": ("have", ""),
    "seeds": ("have", " seeds"),
    "seeds left": ("have", " seeds"),
    "number of seeds": ("have", " seeds"),
    "grams": ("have", " g"),
    "weight g": ("have", " g"),
    "supplier": ("from", ""),
    "donor": ("from", ""),
    "source": ("from", ""),
    "seed from": ("from", ""),
    "former name": ("was", ""),
    "former names": ("was", ""),
}
# A bare number under the key's own name, where only one unit can be meant.
_UNITS_OF_KEYS: Final = {"germination": "%"}
_NO_COLUMN: Final = frozenset({"tests"})  # a table of its own: it stands in lots.toml alone
_KEYS: Final = tuple(key for key in LOT_KEYS if key not in _NO_COLUMN)
_NEAR: Final = 0.8  # "varity" is variety; "state" is not station

FoundBy = Literal["told", "key", "other word", "near"]


class Column(Struct, frozen=True):
    """A column of the file and the key it was taken for.

    Attributes:
        head: As it stands in the file.
        key: A key of lots.toml.
        by: How it was found: told by the grower, the key itself, another word for it, or
            a word near to it.
        unit: The unit of a bare number, from the head.
    """

    head: str
    key: str
    by: FoundBy
    unit: str = ""


def map_columns(
    heads: Sequence[str], mapping: Mapping[str, str], file: str
) -> tuple[list[Column | None], list[Problem]]:
    """What each column holds, and what is wrong with the heads.

    Args:
        heads: The first row.
        mapping: Heads and the keys that the grower says they hold; an empty key leaves the
            column out. What is told is not looked for in other columns.
        file: The file's name, for messages.
    """
    problems = list(_wrong_mapping(heads, mapping, file))
    told = {folded(head): key for head, key in mapping.items() if key in {"", *_KEYS}}
    columns = [_column(head, told) for head in heads]
    first: dict[str, int] = {}
    for number, column in enumerate(columns):
        if column and first.setdefault(column.key, number) != number:
            hint = f"{heads[first[column.key]]!r} is taken for {column.key} too: map one of them."
            problems.append(Problem(file=file, key="row 1", found=column.head, hint=hint))
    for key in NEEDED:
        if key not in first:
            hint = f"No column is taken for {key}: map one of {', '.join(filter(None, heads))}."
            problems.append(Problem(file=file, key="row 1", hint=hint))
    return columns, problems


def _wrong_mapping(
    heads: Sequence[str], mapping: Mapping[str, str], file: str
) -> Iterator[Problem]:
    known = {folded(head) for head in heads}
    for head, key in mapping.items():
        if folded(head) not in known:
            allowed = tuple(filter(None, heads))
            yield Problem(file=file, key="row 1", found=head, allowed=allowed, listed_by=file)
        if key and key not in _KEYS:
            yield Problem(
                file=file, key=f"row 1, {head}", found=key, allowed=_KEYS, listed_by=KEYS_LISTED_BY
            )


def _column(head: str, told: Mapping[str, str]) -> Column | None:
    word = folded(head.replace("_", " "))
    by_word = {key: (key, _UNITS_OF_KEYS.get(key, "")) for key in _KEYS} | _HEADS
    if folded(head) in told:
        return _told(head, told[folded(head)], by_word.get(word, ("", "")))
    near = [word] if word in by_word else get_close_matches(word, by_word, n=1, cutoff=_NEAR)
    if not near or by_word[near[0]][0] in told.values():
        return None
    key, unit = by_word[near[0]]
    by: FoundBy = "near" if near[0] != word else "key" if word in _KEYS else "other word"
    return Column(head, key, by, unit)


def _told(head: str, key: str, usual: tuple[str, str]) -> Column | None:
    """A column as the grower mapped it; its unit only where the head means the same key."""
    if not key:
        return None
    return Column(head, key, "told", usual[1] if usual[0] == key else _UNITS_OF_KEYS.get(key, ""))
