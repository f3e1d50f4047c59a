"""How many tests of the calculations have a published source beside them, and which.

The rule: a test function has one where its own lines, the comment straight above it, or what it
uses of its module (constants and helpers, with the comments above those) name

- a table of tests/reference/, by file name, or read it through `tables`: every row there carries
  its citation;
- a key of crops/sources.toml that is not weak; or
- author and year that stand together in a citation of those, or in a paragraph of docs/.

A sentence that says "from memory", "weak" or "no source" names none. Tables that a library worked
out from a published formula are counted apart, as computed. A test of pure logic (order,
conservation, refusals) has neither, and one that calls a library itself neither.
`python tests/published.py` prints the count, and with `--without` the tests that have none.
"""

import ast
import calendar
import io
import re
import sys
import tokenize
from collections.abc import Iterator
from fnmatch import fnmatch
from functools import cache
from pathlib import Path
from typing import NamedTuple

import tomli

import tables

TESTS = Path(__file__).resolve().parent
ROOMS = ("growing", "planning", "crop_table")
# Tables of remembered or constructed rows alone.
UNPUBLISHED = {"ista_germination_tests.csv", "seed_viability_constants.csv", "crop_coverage.csv"}
# Tables of constructed cases, worked out by scipy or statsmodels.
COMPUTED = {
    "empirical_bayes_cases.csv", "germination_comparison_cases.csv",
    "germination_interval_cases.csv", "resow_decision_cases.csv", "seed_count_decision_cases.csv",
    "seed_viability_cases.csv", "strip_light_cases.csv",
}  # fmt: skip
_DISCLAIMED = re.compile(r"from memory|weak\b|no source|no page prints", re.IGNORECASE)
_YEAR = re.compile(r"\b(?:18|19|20)\d\d\b")
_NAME = re.compile(r"\b[A-Z][A-Za-z-]{2,}")
_NO_NAME = {*calendar.month_name, *calendar.month_abbr, "The", "University", "Extension", "County"}


class Counted(NamedTuple):
    """One test function, and whether a published source or a computed table stands beside it."""

    room: str
    name: str
    sourced: bool
    computed: bool


@cache
def _citations() -> tuple[str, ...]:
    """Whatever cites: source columns, crops/sources.toml, paragraphs of docs/."""
    cited = {
        text
        for path in tables.REFERENCE.glob("*.csv")
        for row in tables.rows(path.name)
        for text in (row.get("source"), row.get("note"))
        if text
    }
    cited |= {one["text"] for one in _keys().values()}
    for page in (TESTS.parent / "docs").glob("*.md"):
        cited |= set(page.read_text("utf-8").split("\n\n"))
    return tuple(text for text in cited if _YEAR.search(text))


@cache
def _keys() -> dict[str, dict[str, str]]:
    return tomli.loads((TESTS.parent / "crops" / "sources.toml").read_text("utf-8"))


def _cites(sentence: str) -> bool:
    """Whether a year stands behind a name with which some citation has it too."""
    for year in _YEAR.finditer(sentence):
        ahead = sentence[max(0, year.start() - 60) : year.start()]
        names = set(_NAME.findall(ahead)) - _NO_NAME
        for text in _citations():
            if year[0] in text and any(re.search(rf"\b{name}\b", text) for name in names):
                return True
    return False


def _names_a_source(code: str) -> bool:
    """Whether a definition with the comment above it names a source, by the rule."""
    tokens = list(tokenize.generate_tokens(io.StringIO(code).readline))
    said = " ".join(one.string.strip("# ") for one in tokens if one.type == tokenize.COMMENT)
    strings = [one.string.strip("'\"") for one in tokens if one.type == tokenize.STRING]
    if "emergence_tables(" in code or "handbook_limits(" in code:
        return True
    if any(text in _published() or not _keys().get(text, {"weak": True}).get("weak")
           for text in strings):  # fmt: skip
        return True
    return any(
        any(
            fnmatch(table, name)
            for name in re.findall(r"[\w*]+\.csv", part)
            for table in _published()
        )
        or _cites(part)
        for part in re.split(r"(?<=[.:;)])\s+(?=[A-Z])", said)
        if not _DISCLAIMED.search(part)
    )


@cache
def _published() -> frozenset[str]:
    return frozenset(path.name for path in tables.REFERENCE.glob("*.csv")) - UNPUBLISHED - COMPUTED


def _with_comment(node: ast.stmt, lines: list[str]) -> str:
    """The lines of a definition, and the comment straight above it."""
    decorated = getattr(node, "decorator_list", [])
    start = min([node.lineno, *(one.lineno for one in decorated)]) - 1
    while start and lines[start - 1].startswith("#"):
        start -= 1
    return "\n".join(lines[start : node.end_lineno])


def _named(node: ast.stmt) -> list[str]:
    """What a statement of a module defines."""
    if isinstance(node, ast.FunctionDef | ast.ClassDef):
        return [node.name]
    targets = node.targets if isinstance(node, ast.Assign) else [getattr(node, "target", node)]
    return [
        one.id
        for target in targets
        for one in (target.elts if isinstance(target, ast.Tuple) else [target])
        if isinstance(one, ast.Name)
    ]


def of_file(path: Path, room: str = "") -> Iterator[Counted]:
    """Every test function of one file of a room."""
    text = path.read_text("utf-8")
    lines = text.splitlines()
    defined = {name: node for node in ast.parse(text).body for name in _named(node)}
    said = {name: _with_comment(node, lines) for name, node in defined.items()}
    for name, node in defined.items():
        if name.startswith("test_"):
            used = _used(node, defined)
            sourced = any(_names_a_source(said[one]) for one in used)
            computed = any(table in said[one] for one in used for table in COMPUTED)
            yield Counted(room, name, sourced, computed and not sourced)


def _used(node: ast.stmt, defined: dict[str, ast.stmt]) -> set[str]:
    """What a test uses of its module, and what that uses, itself among them."""
    found: set[str] = set()
    ahead = [node]
    while ahead:
        for one in ast.walk(ahead.pop()):
            name = getattr(one, "id", None) or getattr(one, "name", None) or getattr(one, "arg", "")
            if name in defined and name not in found:
                found.add(name)
                ahead.append(defined[name])
    return found


def all_tests() -> list[Counted]:
    """The tests of the rooms that calculate, and of what lies in them."""
    return [
        test
        for room in ROOMS
        for path in sorted((TESTS / room).rglob("test_*.py"))
        for test in of_file(path, room)
    ]


def share(tests: list[Counted]) -> float:
    """Tests with a published source, of all of them."""
    return sum(test.sourced for test in tests) / len(tests)


def report(tests: list[Counted]) -> str:
    """The count, room by room and in all."""
    rooms = {room: [test for test in tests if test.room == room] for room in ROOMS}
    return "\n".join(
        f"{room:<12}{sum(one.sourced for one in found):>5} of {len(found):>4}{share(found):>7.0%}"
        f"{sum(one.computed for one in found):>6} computed"
        for room, found in (rooms | {"all": tests}).items()
    )


if __name__ == "__main__":
    found = all_tests()
    print(report(found))
    if "--without" in sys.argv:
        print(
            *(f"{one.room}: {one.name}" for one in found if not (one.sourced or one.computed)),
            sep="\n",
        )
