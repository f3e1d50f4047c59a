"""Crop files → the crop table; a shipped crop is read and checked when it is first asked for."""

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import cached_property
from types import NoneType, UnionType
from typing import Any, Final, Literal, Union, get_args, get_origin

import msgspec
import tomli
from msgspec import Struct, structs

from seedstart.crop_table.crop import BOUNDS, Crop, Source, wrong_figures
from seedstart.problems import BadInputError, Problem, gathered
from seedstart.text import clean, folded

_IN_WORDS = {str: "text", float: "a number", int: "a whole number", bool: "true or false"}


def faults_of(value: object, kind: object, file: str, key: str = "") -> list[Problem]:
    """Everything in a parsed value that its type does not allow, with the key it stands under."""
    if isinstance(kind, type) and issubclass(kind, Struct) and isinstance(value, dict):
        return _faults_of_table(value, kind, file, key)
    try:
        msgspec.convert(value, kind)
    except msgspec.ValidationError as error:
        inner = _table_inside(kind)
        if inner is not None and isinstance(value, dict):
            return faults_of(value, inner, file, key)
        if get_origin(kind) is tuple and isinstance(value, list):
            item = get_args(kind)[0]
            return [
                fault
                for number, part in enumerate(value, 1)
                for fault in faults_of(part, item, file, f"{key}[{number}]")
            ]
        return [_fault(value, kind, file, key, str(error))]
    return []


def _faults_of_table(
    value: dict[str, object], kind: type[Struct], file: str, key: str
) -> list[Problem]:
    prefix = f"{key}." if key else ""
    fields = {field.encode_name: field for field in structs.fields(kind)}
    allowed = tuple(fields)
    unknown = (
        Problem(file=file, key=f"{prefix}{name}", found=name, allowed=allowed)
        for name in value
        if name not in fields
    )
    faults = gathered(unknown)
    for name, field in fields.items():
        if name in value:
            faults += faults_of(value[name], field.type, file, f"{prefix}{name}")
        elif field.required:
            faults.append(_missing(field.type, file, f"{prefix}{name}"))
    return faults


def _missing(kind: object, file: str, key: str) -> Problem:
    return Problem(file=file, key=key, allowed=_allowed(kind), hint="The key is missing.")


def _table_inside(kind: object) -> type[Struct] | None:
    """The struct of an optional field."""
    for part in get_args(kind):
        if isinstance(part, type) and issubclass(part, Struct):
            return part
    return None


def _fault(value: object, kind: object, file: str, key: str, reason: str) -> Problem:
    allowed = _allowed(kind)
    found = value if isinstance(value, str) else _shown(value)
    hint = "" if allowed else f"{reason}."
    return Problem(file=file, key=key, found=found, allowed=allowed, hint=hint)


def _shown(value: object) -> str:
    match value:
        case list():
            return "a list"
        case dict():
            return "a table"
        case bool():
            return "true" if value else "false"
    try:
        return str(value)
    except ValueError:  # written in hexadecimal it may be longer than a text of it
        return "a number of very many digits"


def _allowed(kind: object) -> tuple[str, ...]:
    if get_origin(kind) is Literal:
        return tuple(str(word) for word in get_args(kind))
    if get_origin(kind) in {Union, UnionType}:
        return tuple(
            word for part in get_args(kind) if part is not NoneType for word in _allowed(part)
        )
    if isinstance(kind, type) and issubclass(kind, Struct):
        return ("a table { … }",)
    if get_origin(kind) is tuple:
        return ("a list [ … ]",)
    return (_IN_WORDS[kind],) if kind in _IN_WORDS else ()


SOURCES_FILE: Final = "sources.toml"
# As the shipped files write them; whatever is written otherwise is read whole for its names.
_NAME: Final = re.compile(rb'^name = (".*")$', re.MULTILINE)
_ALSO: Final = re.compile(rb"^also = (\[.*\])$", re.MULTILINE)


class _Head(Struct, frozen=True):
    """What a crop is called, and the file that says so."""

    name: str
    also: tuple[str, ...]
    file: str


class Crops(Mapping[str, Crop]):
    """Crops by name; one that was not read yet is read when it is asked for."""

    def __init__(
        self, names: Iterable[str], read: Callable[[str], Crop], have: Mapping[str, Crop]
    ) -> None:
        """Crops of these names, in order: how one is read, and those that were."""
        self._read = read
        self._have: dict[str, Crop | None] = {name: have.get(name) for name in names}

    def __getitem__(self, name: str) -> Crop:
        """The crop of a name.

        Raises:
            BadInputError: Everything wrong in its file.
        """
        found = self._have[name]
        if found is None:
            found = self._have[name] = self._read(name)
        return found

    def __contains__(self, name: object) -> bool:
        """Whether there is one of that name; it is not read for that."""
        return name in self._have

    def __iter__(self) -> Iterator[str]:
        """Their names."""
        return iter(self._have)

    def __len__(self) -> int:
        """How many there are."""
        return len(self._have)


class CropTable:
    """The crops, and the sources of their figures.

    To read and check all that ships takes longer than the rest of a short command, and a season
    grows some of it: what the crops are called is known from the start, the rest of a shipped one
    when it is first asked for. A season's own are read at once.

    Attributes:
        crops: By name.
        names: Each crop's name by all its names, folded.
    """

    def __init__(self, shipped: Mapping[str, bytes], own: Mapping[str, bytes]) -> None:
        """A table of such files; `load_crops` says more."""
        problems: list[Problem] = []
        self._files = {f"crops/{name}": data for name, data in shipped.items()}
        self._sources_toml = self._files.pop(f"crops/{SOURCES_FILE}", b"")
        self._shipped: dict[str, _Head] = {}
        for file, data in self._files.items():
            _put(_head(file, data, problems), self._shipped, problems)
        have: dict[str, Crop] = {}
        heads: dict[str, _Head] = {}
        for name, data in own.items():
            crop = self._read_own(f"the season's crops/{name}", data, problems)
            if crop is not None:
                _put(_Head(crop.name, crop.also, f"the season's crops/{name}"), heads, problems)
                have[crop.name] = crop
        heads = self._shipped | heads
        self.names = _names(heads.values(), problems)
        if problems:
            raise BadInputError(problems)
        self.crops: Mapping[str, Crop] = Crops(heads, self._read_shipped, have)

    @cached_property
    def sources(self) -> dict[str, Source]:
        """The sources by key.

        Raises:
            BadInputError: Everything wrong in their file.
        """
        problems: list[Problem] = []
        found = _sources(self._sources_toml, problems)
        if problems:
            raise BadInputError(problems)
        return found

    def read_all(self) -> None:
        """Read every crop.

        Raises:
            BadInputError: Everything wrong in all of the files.
        """
        problems: list[Problem] = []
        for name in self.crops:
            try:
                self.crops[name]
            except BadInputError as error:
                problems += error.problems
        if problems:
            raise BadInputError(problems)

    def _read_shipped(self, name: str) -> Crop:
        file = self._shipped[name].file
        problems: list[Problem] = []
        found = _checked(_parsed(file, self._files[file], problems), file, self.sources, problems)
        if found is None:
            raise BadInputError(problems)
        return found

    def _read_own(self, file: str, data: bytes, problems: list[Problem]) -> Crop | None:
        """A season's own crop: a new one, or keys that change some of a shipped one."""
        own = _with_own_figures(_parsed(file, data, problems), self.sources)
        changed = self._shipped.get(str(own.get("name")))
        below = _parsed(changed.file, self._files[changed.file], problems) if changed else {}
        return _checked(below | own, file, self.sources, problems)


def load_crops(shipped: Mapping[str, bytes], own: Mapping[str, bytes] | None = None) -> CropTable:
    """The crop table from the shipped files and a season's own.

    Args:
        shipped: Files by name, `sources.toml` among them.
        own: A season's own crop files: new crops, or single keys of a shipped one changed.
            A figure may be a bare number there, a source any text.

    Raises:
        BadInputError: Everything wrong in the season's own, and names that clash.
    """
    return CropTable(shipped, own or {})


def _parsed(file: str, data: bytes, problems: list[Problem]) -> dict[str, Any]:
    try:
        return tomli.loads(data.decode("utf-8-sig"))
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        problems.append(Problem(file=file, line=line, hint="Save the file as UTF-8."))
    except tomli.TOMLDecodeError as error:
        problems.append(Problem(file=file, line=error.lineno, hint=f"Not TOML: {error.msg}."))
    except (RecursionError, ValueError) as error:  # too deep, or a number that is too long
        hint = f"Not TOML as a crop is written: {str(error).split(';')[0]}."
        problems.append(Problem(file=file, hint=hint))
    return {}


def _head(file: str, data: bytes, problems: list[Problem]) -> _Head | None:
    """What a crop is called, without reading the rest of its file where it is written as usual."""
    top = data.partition(b"\n[")[0]
    name, also = _NAME.search(top), _ALSO.search(top)
    try:
        if name is not None:
            others = msgspec.json.decode(also[1], type=tuple[str, ...]) if also else ()
            return _Head(msgspec.json.decode(name[1], type=str), others, file)
    except msgspec.DecodeError:
        pass
    values = _parsed(file, data, problems)
    try:
        return msgspec.convert({"also": (), **values, "file": file}, _Head)
    except msgspec.ValidationError:
        if values:
            problems += faults_of(values, Crop, file)
        return None


def _put(head: _Head | None, heads: dict[str, _Head], problems: list[Problem]) -> None:
    """A crop under its name, which no other may have."""
    if head is None:
        return
    other = heads.setdefault(head.name, head)
    if other is not head:
        hint = f"{other.file} has the same name."
        problems.append(Problem(file=head.file, key="name", found=head.name, hint=hint))


def _sources(data: bytes, problems: list[Problem]) -> dict[str, Source]:
    table = _parsed(f"crops/{SOURCES_FILE}", data, problems)
    try:
        return msgspec.convert(table, dict[str, Source])
    except msgspec.ValidationError:
        for key, value in table.items():
            problems += faults_of(value, Source, f"crops/{SOURCES_FILE}", key)
        return {}


def _checked(
    table: dict[str, Any], file: str, sources: Mapping[str, Source], problems: list[Problem]
) -> Crop | None:
    """One crop from its table; None where there are problems."""
    if not table:
        return None
    try:
        crop = msgspec.convert(table, Crop)
    except msgspec.ValidationError:
        problems += faults_of(table, Crop, file)
        return None
    found = list(wrong_figures(crop, file, sources))
    problems += found
    return None if found else crop


def _with_own_figures(table: dict[str, Any], sources: dict[str, Source]) -> dict[str, Any]:
    """A season's own crop file with bare numbers made figures, and its sources let in as texts."""
    whole = dict(table)
    if whole.get("light") == "either":  # the word of version 0.1.0 for seed that is just covered
        whole["light"] = "cover"
    for key in BOUNDS:
        value = whole.get(key)
        if isinstance(value, int | float) and not isinstance(value, bool):
            whole[key] = {"best": value, "low": value, "high": value, "basis": "own"}
    for value in whole.values():
        named = value.get("sources", ()) if isinstance(value, dict) else ()
        for text in named if isinstance(named, list) else ():
            if isinstance(text, str):
                sources.setdefault(text, Source(text=clean(text), institution=clean(text)))
    return whole


def _names(heads: Iterable[_Head], problems: list[Problem]) -> dict[str, str]:
    """Each crop's name by all its names, folded; no two may share one."""
    found: dict[str, _Head] = {}
    for head in heads:
        for name in dict.fromkeys(map(folded, (head.name, *head.also))):
            other = found.setdefault(name, head)
            if other is not head:
                hint = f"{other.name} has that name too."
                problems.append(Problem(file=head.file, key="also", found=name, hint=hint))
    return {name: head.name for name, head in found.items()}
