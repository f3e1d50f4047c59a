"""Blocks added at the end of a grower's TOML file, and taken off again: the rest stays as it is."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

import tomli_w
from msgspec import Struct

from seedstart.problems import BadInputError, Problem
from seedstart.season.plan.toml_text import lines_of, parse_toml
from seedstart.text import clean, folded


def block(header: str, values: Mapping[str, Any]) -> str:
    """A table with its header, as `[[lot]]`; keys without a value are left out."""
    return f"[[{header}]]\n{lines(values)}"


def lines(values: Mapping[str, Any]) -> str:
    """A key and its value on each line."""
    return "".join(f"{key_as_written(key)} = {inline(value)}\n" for key, value in _stated(values))


def inline(value: object) -> str:
    """A value on one line; text is cleaned."""
    if isinstance(value, str):
        value = clean(value)
    if isinstance(value, Mapping):
        pairs = ", ".join(f"{key_as_written(key)} = {inline(part)}" for key, part in _stated(value))
        return f"{{ {pairs} }}" if pairs else "{}"
    if isinstance(value, Sequence) and not isinstance(value, str):
        return f"[{', '.join(inline(part) for part in value)}]"
    return tomli_w.dumps({"k": value}).removeprefix("k = ").rstrip("\n")


def _stated(values: Mapping[str, Any]) -> Iterable[tuple[str, Any]]:
    return ((key, value) for key, value in values.items() if value is not None)


def key_as_written(key: str) -> str:
    """A key, in quotes where it needs them."""
    return tomli_w.dumps({clean(key): 0}).removesuffix(" = 0\n")


class Added(Struct, frozen=True):
    """What was added at the end of a file.

    Attributes:
        file: `lots.toml` or `season.toml`.
        header: What each block stands under: `lot`, `station`.
        names: What the blocks name.
        text: The bytes that came behind those that were there.
    """

    file: str
    header: str
    names: tuple[str, ...]
    text: bytes


def add_blocks(old: bytes, file: str, header: str, blocks: Sequence[bytes]) -> bytes:
    r"""A file with blocks at its end: not a byte of the old is changed.

    Args:
        old: The file as it is; may be empty. Its line ends (`\n` or `\r\n`) go on.
        file: Its name, for the message that refuses it.
        header: What the blocks stand under: `lot` for `[[lot]]`.
        blocks: Each with its header and an end of line.

    Raises:
        BadInputError: The old file cannot be read, or nothing can be added at its end.
    """
    before = parse_toml(old, file)
    if before.problems:
        raise BadInputError(before.problems)
    if not blocks:
        return old
    added = b"".join(b"\n" + block for block in blocks)
    if old and not old.endswith(b"\n"):
        added = b"\n" + added
    if b"\r\n" in old:
        added = added.replace(b"\n", b"\r\n")
    whole_file = old + (added if old else added.lstrip(b"\r\n"))
    _make_sure(whole_file, before.values, file, header, len(blocks))
    return whole_file


def take_off_end(old: bytes, added: Added) -> bytes:
    """A file without what was added, which must still be its end, byte by byte.

    Raises:
        BadInputError: Something else stands there now; with the line where the block is.
    """
    if old.endswith(added.text):
        return old[: len(old) - len(added.text)]
    hint = "It is no longer the end of the file as it was added; take it out there by hand."
    key = f"{added.header} {', '.join(added.names)}"
    raise BadInputError([Problem(file=added.file, line=_line_of(old, added), key=key, hint=hint)])


def _line_of(data: bytes, added: Added) -> int | None:
    """Where the first of the blocks stands now; None where it is gone or cannot be found."""
    try:
        parsed = parse_toml(data, added.file)
    except BadInputError:
        return None
    wanted = {folded(name) for name in added.names}
    tables = parsed.values.get(added.header, [])
    for number, table in enumerate(tables if isinstance(tables, list) else []):
        if isinstance(table, dict) and folded(str(table.get("name", ""))) in wanted:
            return lines_of(parsed.text).get((added.header, number))
    return None


def _make_sure(
    whole_file: bytes, before: Mapping[str, Any], file: str, header: str, added: int
) -> None:
    """Parse what is about to be written: all that was there before, then the new blocks."""
    old = before.get(header, [])
    try:
        after = parse_toml(whole_file, file).values
        listed = after.pop(header)
        fits = listed[: len(old)] == old and len(listed) == len(old) + added
        fits = fits and after == {key: value for key, value in before.items() if key != header}
    except (BadInputError, KeyError, TypeError):
        fits = False
    if not fits:
        hint = (
            f"Nothing can be added at its end: each {header} must be under a [[{header}]] of "
            "its own."
        )
        raise BadInputError([Problem(file=file, key=header, hint=hint)])
