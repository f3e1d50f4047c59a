"""What is not a face names no command and no key: its sentences are shown in both faces."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

ROOMS = (
    "acts", "crop_table", "daily", "drawing", "growing", "planning", "season", "tracking",
)  # fmt: skip
HOME = Path(__file__).parent.parent / "seedstart"
# What is written into a season's own files is read beside a command line.
FILES = {"new_season.py"}
# Rows that the app alone draws say at their end how they are opened.
ROWS_OF_THE_APP = {"round_rows.py", "stations_list.py"}
COMMAND = re.compile(
    r"(?:\bseedstart |`)"
    r"(?:alerts|calendar|compare|crops|harden|learn|sowing-rate|test|log|lots?|new|readings|round|space|station|verify)\b"
    r"|(?:^|[\s(])--[a-z]"
)
KEY = re.compile(
    r"\b(?:Enter|Space|Esc|Escape|Tab)\b(?=[:;,.)]| (?:opens|ticks|says|closes|shows))"
)
# An act's example and its options are what the command line makes of it.
OF_THE_COMMAND_LINE = {"example", "ways"}


def sentences(path: Path) -> Iterator[str]:
    """Every text of a module but its docstrings and what only the command line shows."""
    tree = ast.parse(path.read_text("utf-8"))
    passed = {
        id(node.value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.keyword) and node.arg in OF_THE_COMMAND_LINE:
            passed |= {id(part) for part in ast.walk(node.value)}
    for node in ast.walk(tree):
        text = node.value if isinstance(node, ast.Constant) else None
        if isinstance(text, str) and id(node) not in passed:
            yield text


def test_no_sentence_below_the_faces_names_a_command_or_a_key() -> None:
    modules = [path for room in ROOMS for path in (HOME / room).rglob("*.py")]
    assert len(modules) > 100
    found = {
        f"{path.name}: {text}"
        for path in modules
        if path.name not in FILES | ROWS_OF_THE_APP
        for text in sentences(path)
        if COMMAND.search(text) or KEY.search(text)
    }
    assert found == set()
