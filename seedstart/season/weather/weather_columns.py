"""`weather/columns.toml`: what a grower said of weather files that leave something open."""

from collections.abc import Mapping
from typing import Any, Final

from seedstart.problems import BadInputError
from seedstart.season.plan.checked import Fault, Table, placed_with
from seedstart.season.plan.toml_blocks import block
from seedstart.season.plan.toml_text import parse_toml
from seedstart.season.plan.typed_values import full_text, one_of
from seedstart.season.weather.weather_days import COLUMNS_FILE, WEATHER_FOLDER
from seedstart.season.weather.weather_file import Answers, header_of

_FILE: Final = f"{WEATHER_FOLDER}/{COLUMNS_FILE}"

Known = Mapping[str, Answers]


def read_columns(data: bytes) -> dict[str, Answers]:
    """What was said, by the header of the files that it was said of; the last word counts.

    Raises:
        BadInputError: Everything wrong in it.
    """
    parsed = parse_toml(data, _FILE)
    faults: list[Fault] = []
    table = Table(parsed.values, faults)
    found: dict[str, Answers] = {}
    for layout in table.tables("layout", "[[layout]]"):
        header = layout.need("header", full_text, "", what="the header line of the file")
        found[header] = Answers(
            unit=layout.take("unit", one_of(("C", "F")), None),
            station=layout.take("station", full_text, None),
            order=layout.take("order", one_of(("dmy", "mdy")), None),
            columns=layout.take("columns", _texts, {}),
        )
        layout.close()
    table.close()
    if problems := placed_with(parsed, faults, _FILE):
        raise BadInputError(problems)
    return found


def _texts(value: object) -> dict[str, str]:
    if not isinstance(value, dict):
        raise ValueError('columns by element, as { tmin_c = "Low|F" }')  # noqa: TRY004 - a fault
    return {key: full_text(pair) for key, pair in value.items()}


def answers_for(data: bytes, file: str, known: Known) -> Answers:
    """What was said of files with this file's header; nothing where nobody did.

    Raises:
        BadInputError: It is no text, or no table.
    """
    return known.get(header_of(data, file), Answers()) if known else Answers()


def with_answers(old: bytes, data: bytes, file: str, answers: Answers) -> bytes:
    """`columns.toml` with what was said of a file added at its end.

    Args:
        old: What stands there.
        data: The weather file.
        file: Its name.
        answers: What was said of it.

    Raises:
        BadInputError: The file is no table, or has no header to know it by.
    """
    keys: dict[str, Any] = {
        "header": header_of(data, file),
        "unit": answers.unit,
        "station": answers.station,
        "order": answers.order,
        "columns": answers.columns or None,
    }
    head = old.rstrip() + b"\n\n" if old.strip() else b""
    return head + block("layout", keys).encode()
