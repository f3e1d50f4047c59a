"""TOML blocks with all their tables inline, so that one more may be added at a file's end.

The library writes a list of tables now inline, now as `[[headers]]`, by its length: appended
twice, the file would be broken. Here a value is always one line.
"""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

import tomli_w

from seedstart.text import clean


def block(header: str, values: Mapping[str, Any]) -> str:
    """A table with its header, as `[[lot]]`; keys without a value are left out."""
    return f"[[{header}]]\n{lines(values)}"


def lines(values: Mapping[str, Any]) -> str:
    """A key and its value on each line."""
    return "".join(f"{_key(key)} = {inline(value)}\n" for key, value in _said(values))


def inline(value: object) -> str:
    """A value on one line; text is cleaned."""
    if isinstance(value, str):
        value = clean(value)
    if isinstance(value, Mapping):
        pairs = ", ".join(f"{_key(key)} = {inline(part)}" for key, part in _said(value))
        return f"{{ {pairs} }}" if pairs else "{}"
    if isinstance(value, Sequence) and not isinstance(value, str):
        return f"[{', '.join(inline(part) for part in value)}]"
    return tomli_w.dumps({"k": value}).removeprefix("k = ").rstrip("\n")


def _said(values: Mapping[str, Any]) -> Iterable[tuple[str, Any]]:
    return ((key, value) for key, value in values.items() if value is not None)


def _key(key: str) -> str:
    return tomli_w.dumps({clean(key): 0}).removesuffix(" = 0\n")
