"""Keys changed and tables taken out where they stand in a grower's TOML; the rest stays."""

from collections.abc import Iterator, Mapping
from typing import Any, Final, NamedTuple

from seedstart.problems import BadInputError, Problem
from seedstart.season.plan.toml_blocks import inline, key_as_written
from seedstart.season.plan.toml_text import Layout, Pair, Path, comments_in, layout_of, parse_toml

_MARK: Final = "\ufeff"


class _Edit(NamedTuple):
    """A stretch of the text, and what stands there instead."""

    start: int
    end: int
    text: str


def set_keys(old: bytes, file: str, at: Path, keys: Mapping[str, object]) -> bytes:
    """A file in which keys of one table have other values.

    A key that is there keeps its place and the comment behind it, a new one comes behind the
    table's last; comments between the lines of a value are kept above it.

    Args:
        old: The file as it is.
        file: Its name, for the message that refuses it.
        at: The table: `("lot", 2)`, `("frost",)`; `()` what stands before all tables.
        keys: The keys and their values; None takes a key out.

    Raises:
        BadInputError: The file cannot be read, or the table is written so that it has to be
            changed by hand.
    """
    text, values, layout = _opened(old, file)
    before = _table(values, at)
    wanted = {key: one for key, one in keys.items() if _plain(before.get(key)) != _plain(one)}
    edits: list[_Edit] = []
    new: dict[str, object] = {}
    for key, value in wanted.items():
        pair = layout.pairs.get((*at, key))
        if pair is None and key in before:
            raise _by_hand(file, f"{key} is written as a table of its own")
        if pair is None and value is not None:
            new[key] = value
        elif pair is not None and value is not None:
            edits += _replaced(text, pair, value)
        elif pair is not None:
            edits.append(_taken_out(text, pair))
    if new:
        edits.append(_inserted(text, layout, at, new))
    after = _applied(text, edits)
    expected = {key: value for key, value in (before | wanted).items() if value is not None}
    if _plain(_table(_read(after, file), at)) != _plain(expected):
        raise _by_hand(file, "it cannot be followed")
    return _encoded(old, after)


def without_table(old: bytes, file: str, header: str, number: int) -> bytes:
    """A file without one of its `[[…]]` tables, its sub-tables and the comments among its keys.

    Raises:
        BadInputError: The file cannot be read, or the table has no header of its own.
    """
    text, values, layout = _opened(old, file)
    path: Path = (header, number)
    start = next((at for table, at in layout.headers if table == path), None)
    if start is None:
        raise _by_hand(file, f"each {header} must stand under a [[{header}]] of its own")
    stretches: list[tuple[int, int]] = []
    starts = [at for _, at in layout.headers]
    for table, begins in layout.headers:
        if table[:2] == path:
            until = min((at for at in starts if at > begins), default=len(text))
            first, end = _section(text, layout, begins, until)
            if stretches and not text[stretches[-1][1] : first].strip():
                first = stretches.pop()[0]
            stretches.append((first, end))
    after = _applied(text, [_Edit(*_with_a_gap(text, *one), "") for one in stretches])
    left = [one for at, one in enumerate(values[header]) if at != number]
    if _plain(_read(after, file)) != _plain(
        {key: left if key == header else value for key, value in values.items()}
        if left
        else {key: value for key, value in values.items() if key != header}
    ):
        raise _by_hand(file, "it cannot be followed")
    return _encoded(old, after)


def _opened(old: bytes, file: str) -> tuple[str, dict[str, Any], Layout]:
    parsed = parse_toml(old, file)
    if parsed.problems:
        raise BadInputError(parsed.problems)
    layout = layout_of(parsed.text)
    if layout is None:
        raise _by_hand(file, "it cannot be followed")
    return parsed.text, parsed.values, layout


def _read(text: str, file: str) -> dict[str, Any]:
    try:
        return parse_toml(text.encode(), file).values
    except BadInputError:
        return {}


def _encoded(old: bytes, text: str) -> bytes:
    """With the byte order mark that the file began with."""
    mark = _MARK.encode()
    return (mark if old.startswith(mark) else b"") + text.encode()


def _by_hand(file: str, why: str) -> BadInputError:
    hint = f"The program cannot change this here ({why}): change it in the file by hand."
    return BadInputError([Problem(file=file, hint=hint)])


def _table(values: Any, at: Path) -> dict[str, Any]:  # noqa: ANN401 - whatever TOML holds
    for part in at:
        if isinstance(values, list) and isinstance(part, int) and part < len(values):
            values = values[part]
        else:
            values = values.get(part, {}) if isinstance(values, dict) else {}
    return values if isinstance(values, dict) else {}


def _plain(value: object) -> object:
    """Days as text: they may be written either way."""
    if isinstance(value, Mapping):
        return {key: _plain(part) for key, part in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(part) for part in value]
    return value if isinstance(value, bool | int | float) else str(value)


def _applied(text: str, edits: list[_Edit]) -> str:
    for edit in sorted(edits, reverse=True):
        text = text[: edit.start] + edit.text + text[edit.end :]
    return text


def _line(text: str, at: int) -> tuple[int, int]:
    """The line that an offset is in: where it begins, and where the next one does."""
    end = text.find("\n", at)
    return text.rfind("\n", 0, at) + 1, len(text) if end < 0 else end + 1


def _newline(text: str) -> str:
    return "\r\n" if "\r\n" in text else "\n"


def _indent(text: str, at: int) -> str:
    line = text[_line(text, at)[0] : at]
    return line if not line.strip() else ""


def _replaced(text: str, pair: Pair, value: object) -> Iterator[_Edit]:
    yield _Edit(pair.value, pair.end, inline(value))
    kept = comments_in(text[pair.value : pair.end])
    if kept:
        start, indent = _line(text, pair.key)[0], _indent(text, pair.key)
        lines = (f"{indent}{comment}{_newline(text)}" for comment in kept)
        yield _Edit(start, start, "".join(lines))


def _taken_out(text: str, pair: Pair) -> _Edit:
    """Without the key: its line goes, and what comments stood on it stay."""
    start, end = _line(text, pair.key)[0], _line(text, pair.end)[1]
    before, behind = text[start : pair.key], text[pair.end : end]
    if before.strip() or behind.lstrip()[:1] in {",", "}"}:
        return _out_of_braces(text, pair)
    kept = comments_in(text[pair.value : end])
    return _Edit(start, end, "".join(f"{before}{comment}{_newline(text)}" for comment in kept))


def _out_of_braces(text: str, pair: Pair) -> _Edit:
    behind = text[pair.end :].lstrip(" \t")
    if behind.startswith(","):
        rest = behind[1:].lstrip(" \t")
        return _Edit(pair.key, len(text) - len(rest), "")
    before = text[: pair.key].rstrip(" \t")
    return _Edit(len(before) - before.endswith(","), pair.end, "")


def _inserted(text: str, layout: Layout, at: Path, new: Mapping[str, object]) -> _Edit:
    """New keys behind the last one of their table."""
    lines = [f"{key_as_written(key)} = {inline(value)}" for key, value in new.items()]
    braces = layout.pairs.get(at)
    if braces is not None:
        return _into_braces(layout, at, braces, lines)
    begins = next((start for table, start in layout.headers if table == at), None)
    if begins is None and at:
        return _new_table(text, layout, at, lines)
    starts = [start for _, start in layout.headers if begins is None or start > begins]
    until = min(starts, default=len(text))
    own = [one for one in layout.pairs.values() if (begins or 0) <= one.key < until]
    end = max((one.end for one in own), default=begins or 0)
    keys = [pair.key for path, pair in layout.pairs.items() if path[:-1] == at and pair in own]
    indent = _indent(text, keys[-1]) if keys else ""
    return _as_lines(
        text, _line(text, end)[1] if own or at else 0, [indent + line for line in lines]
    )


def _as_lines(text: str, at: int, lines: list[str]) -> _Edit:
    newline = _newline(text)
    open_end = newline if at and text[at - 1 : at] != "\n" else ""
    return _Edit(at, at, open_end + "".join(f"{line}{newline}" for line in lines))


def _new_table(text: str, layout: Layout, at: Path, lines: list[str]) -> _Edit:
    """Add keys beside a table written as `frost.last = …`; else a table at the end."""
    name = ".".join(str(part) for part in at)
    dotted = [pair.end for path, pair in layout.pairs.items() if path[: len(at)] == at]
    if dotted:
        return _as_lines(text, _line(text, max(dotted))[1], [f"{name}.{line}" for line in lines])
    gap = [""] if text.strip() else []
    return _as_lines(text, len(text), [*gap, f"[{name}]", *lines])


def _into_braces(layout: Layout, at: Path, braces: Pair, pairs: list[str]) -> _Edit:
    inside = [pair.end for path, pair in layout.pairs.items() if path[:-1] == at]
    more = ", ".join(pairs)
    if not inside:
        return _Edit(braces.value, braces.end, f"{{ {more} }}")
    return _Edit(max(inside), max(inside), f", {more}")


def _section(text: str, layout: Layout, begins: int, until: int) -> tuple[int, int]:
    """A header with its keys: from its line to the end of its last key's."""
    ends = [pair.end for pair in layout.pairs.values() if begins <= pair.key < until]
    return begins, _line(text, max(ends, default=begins))[1]


def _with_a_gap(text: str, start: int, end: int) -> tuple[int, int]:
    """With one of the empty lines around it, so that two do not become one gap."""
    before = text[:start].rstrip(" \t\r\n")
    if not text[end:].strip() and start:
        return len(before) + (len(_newline(text)) if before else 0), end
    line_end = _line(text, end)[1]
    blank_before = start == 0 or not text[_line(text, start - 1)[0] : start].strip()
    if blank_before and not text[end:line_end].strip():
        return start, line_end
    return start, end
