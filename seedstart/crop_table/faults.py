"""All the faults of one table against its struct: msgspec itself stops at the first."""

from types import NoneType, UnionType
from typing import Literal, Union, get_args, get_origin

import msgspec
from msgspec import Struct, structs

from seedstart.problems import Problem, gathered

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


def _fault(value: object, kind: object, file: str, key: str, said: str) -> Problem:
    allowed = _allowed(kind)
    found = value if isinstance(value, str) else _shown(value)
    hint = "" if allowed else f"{said}."
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
