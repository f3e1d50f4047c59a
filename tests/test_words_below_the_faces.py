"""What is not a face names no command: its sentences are shown in the app too."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

ROOMS = ("acts", "crop_table", "daily", "growing", "planning", "season", "tracking")
HOME = Path(__file__).parent.parent / "seedstart"
# What is written into a season's own files is read beside a command line.
FILES = {"new_season.py"}
COMMAND = re.compile(
    r"(?:\bseedstart |`)"
    r"(?:alerts|calendar|crops|harden|log|lots?|new|readings|round|space|station|verify)\b"
)


def sentences(path: Path) -> Iterator[str]:
    """Every text of a module but its docstrings."""
    tree = ast.parse(path.read_text("utf-8"))
    docs = {
        id(node.value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in docs:
            yield node.value


def test_no_sentence_below_the_faces_names_a_command() -> None:
    modules = [path for room in ROOMS for path in (HOME / room).glob("*.py")]
    assert len(modules) > 100
    found = {
        f"{path.name}: {text}"
        for path in modules
        if path.name not in FILES
        for text in sentences(path)
        if COMMAND.search(text)
    }
    assert found == set()
