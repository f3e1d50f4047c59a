"""The lines of the journal as JSON Schema, made of the structs themselves."""

from typing import Any, Final, Union

from seedstart.season.entries import KINDS

_DIALECT: Final = "https://json-schema.org/draft/2020-12/schema"


def journal_schema() -> dict[str, Any]:
    """What a line may hold, kind by kind; docs/formats_journal.md says what has to fit together."""
    from msgspec.json import schema  # only who asks for it pays for it

    kinds: Any = Union[tuple(KINDS.values())]  # noqa: UP007 - made at run time
    return {"$schema": _DIALECT, "title": "A line of a season's journal", **schema(kinds)}
