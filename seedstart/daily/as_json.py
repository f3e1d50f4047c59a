"""Round and alerts as `--json` prints them; docs/formats_json.md tells the same."""

from typing import Any

from msgspec import to_builtins

from seedstart.acts.all import NAMED
from seedstart.acts.known import Known
from seedstart.daily.answers import ticked
from seedstart.daily.check import Alert, Check, Round
from seedstart.daily.finding import single_checks
from seedstart.season.entry import Entry

_STAMP = ("id", "at", "by")


def round_as_json(found: Round, known: Known) -> list[dict[str, Any]]:
    """Every check by itself, also where the face gathers several into a line."""
    return [_check(check, found, known) for check in single_checks(found.checks)]


def _check(check: Check, found: Round, known: Known) -> dict[str, Any]:
    names = [one.name for one in check.sowings]
    return {
        "check": check.key,
        "station": check.station,
        "tray": check.tray,
        "sowing": names[0] if len(names) == 1 else None,
        "sowings": names,
        "what": check.what,
        "says": check.says,
        "why": [
            {"text": why.text, "basis": why.basis, "sources": why.sources} for why in check.why
        ],
        "best_day": check.due,
        "days_past": check.days_past(found.day),
        "act": check.typed.act if check.typed else check.tick.act if check.tick else None,
        "choices": [choice.text for choice in check.choices],
        "asks": NAMED[check.typed.act].asks if check.typed else None,
        "entries": [] if check.done else [_draft(entry) for entry in ticked(check, known)],
        "done": check.done,
        "done_by": check.done_by,
    }


def _draft(entry: Entry) -> dict[str, Any]:
    """An entry as it would be written, but for its id, time and writer."""
    fields: dict[str, Any] = to_builtins(entry)
    return {key: value for key, value in fields.items() if key not in _STAMP}


def alerts_as_json(found: Round) -> list[dict[str, Any]]:
    """The alerts, the most urgent first."""
    return [_alert(alert) for alert in found.alerts]


def _alert(alert: Alert) -> dict[str, Any]:
    return {
        "alert": alert.key,
        "kind": alert.kind,
        "level": alert.level,
        "station": alert.station,
        "tray": alert.tray,
        "sowing": alert.sowings[0] if len(alert.sowings) == 1 else None,
        "sowings": alert.sowings,
        "text": alert.text,
        "since": alert.since.isoformat(timespec="minutes"),
        "costs_days": alert.costs_days,
        "costs": alert.cost_in_words,
        "remedies": alert.remedies,
        "basis": alert.basis,
        "sources": alert.sources,
    }
