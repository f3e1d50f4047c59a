"""No sentence that a grower meets is in a dialect: not on a screen, not in a page of docs."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

TOP = Path(__file__).resolve().parent.parent
# Words that no gardener writes on a bench sheet, and German turns of phrase.
DIALECT = re.compile(
    r"\b(?:anew|nought|mend(?:s|ed|ing)?|told|tells|bears|bore"
    r"|stands? in for|stand anew|of late|so it is|hurt)\b"
    r"|(?:^|[,:;(] )[Aa]s (?:\d|['\"`]\d|tray of|Europe/|none\b)"
)
# What holds such a word for a reason: a part of the text, and why it may stay.
ALLOWED = {
    "new transplants were badly hurt": "of plants in wind, as its source has it",
    "told apart": "said of everything that looks alike",
}


def shown_by(path: Path) -> Iterator[str]:
    """The texts of a module but its docstrings."""
    tree = ast.parse(path.read_text("utf-8"))
    passed = {
        id(node.value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
    }
    # The docstring of a command is its help.
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef) and node.decorator_list:
            first = node.body[0]
            if isinstance(first, ast.Expr) and path.parent.name == "cli":
                passed.discard(id(first.value))
    for node in ast.walk(tree):
        text = node.value if isinstance(node, ast.Constant) else None
        if isinstance(text, str) and id(node) not in passed and " " in text.strip():
            yield text


def faults(text: str) -> list[str]:
    """What is dialect in a text."""
    for allowed in ALLOWED:
        text = text.replace(allowed, "")
    return [found[0] for found in DIALECT.finditer(text)]


def test_no_sentence_of_the_program_is_in_dialect() -> None:
    modules = sorted((TOP / "seedstart").rglob("*.py"))
    found = {
        f"{path.relative_to(TOP)}: {word}: {text[:60]}"
        for path in modules
        for text in shown_by(path)
        for word in faults(text)
    }
    assert found == set()


@pytest.mark.parametrize(
    "page",
    [
        "README.md",
        "CHANGELOG.md",
        *sorted(str(p.relative_to(TOP)) for p in (TOP / "docs").glob("*.md")),
    ],
)
def test_no_page_is_in_dialect(page: str) -> None:
    lines = (TOP / page).read_text("utf-8").splitlines()
    assert [f"{n}: {word}" for n, line in enumerate(lines, 1) for word in faults(line)] == []


def test_a_word_of_dialect_is_found_and_an_allowed_one_is_not() -> None:
    assert faults("Mend it, as 24C: nought is told anew.") == [", as 2", "nought", "told", "anew"]
    assert faults("new transplants were badly hurt") == []
