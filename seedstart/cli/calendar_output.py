"""A calendar's rows for other programs: JSON as docs/formats.md gives it, and CSV."""

from seedstart.days import Window
from seedstart.planning.frost_dates import FrostDates
from seedstart.planning.row import SOW_OUTDOORS, STEP_NAMES, Row, Step


def row_as_json(row: Row, frost: FrostDates | None) -> dict[str, object]:
    """One row: every step a window with its `is`, or null."""
    windows: dict[str, object] = {
        name: _window_as_json(step, step.window) if step and step.window else None
        for name in STEP_NAMES
        for step in [row.step(name)]
    }
    return {
        "lot": row.lot,
        "number": row.number,
        "sowing": row.sowing,
        "crop": row.crop,
        "variety": row.variety,
        "station": row.station,
        "stations": row.stations,
        "last_frost": frost.given if frost else None,
        "risk_percent": frost.risk_percent if frost else None,
        **windows,
        "outdoors": any(step.says == SOW_OUTDOORS for step in row.steps),
        "seeds": row.seeds,
        "problem": row.problem,
        "warnings": row.warnings,
        "reasons": [
            {"step": reason.step, "text": reason.text, "source": list(reason.sources)}
            for reason in row.reasons
        ],
    }


def _window_as_json(step: Step, window: Window) -> dict[str, object]:
    return {**window._asdict(), "is": step.is_, "due": step.due}


CSV_HEADER = (
    "lot",
    "number",
    "crop",
    "variety",
    "station",
    "seeds",
    "last_frost",
    "risk_percent",
    *(f"{name}_{end}" for name in STEP_NAMES for end in Window._fields),
    "problem",
)


def row_as_csv(row: Row, frost: FrostDates | None) -> list[object]:
    """One row as cells under `CSV_HEADER`."""
    ends: list[object] = []
    for name in STEP_NAMES:
        ends += row.window(name) or ("", "", "")
    given = (frost.given, frost.risk_percent) if frost else ("", "")
    named = (row.lot, row.number, row.crop, row.variety, row.station, row.seeds)
    return [*named, *given, *ends, row.problem]
