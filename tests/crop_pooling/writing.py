"""Crops and sources as the TOML of crops/: one figure a line, so that the file reads well."""

from collections.abc import Iterator
from typing import Final

import msgspec
import tomli_w

from crop_pooling.compute import crop_table
from crop_pooling.sources import by_key
from seedstart.crop_table.crop import Crop, Source

_HEAD: Final = (
    "# Computed from the tables in tests/reference (docs/crop_table.md tells how); to change a"
    " figure for\n# yourself, put it in a file of this name in your season's own crops folder.\n"
)
_TABLES: Final = ("emergence", "treat", "cautions")


def shipped_files() -> dict[str, bytes]:
    """Every file of crops/ by its name."""
    files = {file_name(crop.name): crop_toml(crop) for crop in crop_table().values()}
    used = {key for crop in crop_table().values() for key in sources_of(crop)}
    files["sources.toml"] = sources_toml({key: by_key()[key] for key in sorted(used)})
    return files


def file_name(crop: str) -> str:
    """File of a crop: lower case with hyphens."""
    return f"{crop.replace(' ', '-').replace(chr(39), '-')}.toml"


def crop_toml(crop: Crop) -> bytes:
    """One crop as TOML."""
    plain = _without_defaults(msgspec.to_builtins(crop))
    lines = [f"{key} = {_inline(value)}" for key, value in plain.items() if key not in _TABLES]
    for name in _TABLES:
        value = plain.get(name, ())
        if isinstance(value, dict):
            lines += ["", f"[{name}]", *_pairs(value)]
        elif isinstance(value, list):
            for entry in value:
                lines += ["", f"[[{name}]]", *_pairs(entry)]
    return (_HEAD + "\n".join(lines) + "\n").encode()


def sources_toml(sources: dict[str, Source]) -> bytes:
    """crops/sources.toml: a table a source."""
    blocks = [
        "\n".join([f"[{key}]", *_pairs(_without_defaults(msgspec.to_builtins(source)))])
        for key, source in sources.items()
    ]
    return ("\n\n".join(blocks) + "\n").encode()


def sources_of(crop: Crop) -> Iterator[str]:
    """Keys of every source that a crop cites, wherever it stands."""
    yield from _cited(msgspec.to_builtins(crop))


def _cited(value: object) -> Iterator[str]:
    if isinstance(value, dict):
        for key, inner in value.items():
            if key == "sources":
                yield from inner
            else:
                yield from _cited(inner)
    elif isinstance(value, list | tuple):
        for inner in value:
            yield from _cited(inner)


def _pairs(table: dict[str, object]) -> list[str]:
    return [f"{key} = {_inline(value)}" for key, value in table.items()]


def _without_defaults(value: object) -> dict[str, object]:
    assert isinstance(value, dict)
    found: dict[str, object] = {}
    for key, inner in value.items():
        if isinstance(inner, dict):
            found[key] = _without_defaults(inner)
        elif isinstance(inner, list | tuple) and inner and isinstance(inner[0], dict):
            found[key] = [_without_defaults(entry) for entry in inner]
        elif inner is not None and inner != "" and inner not in ((), []) and inner is not False:
            found[key] = inner
    return _ends_first(found)


def _ends_first(table: dict[str, object]) -> dict[str, object]:
    """A figure reads low, best, high; then where it comes from."""
    if not {"low", "best", "high"} <= table.keys():
        return table
    order = ("low", "best", "high", "sources", "basis", "note")
    return {key: table[key] for key in order if key in table}


def _inline(value: object) -> str:
    if isinstance(value, dict):
        return f"{{ {', '.join(_pairs(value))} }}"
    if isinstance(value, list | tuple):
        return f"[{', '.join(_inline(entry) for entry in value)}]"
    if isinstance(value, float):
        return f"{value:g}"
    return tomli_w.dumps({"value": value}).removeprefix("value = ").rstrip("\n")
