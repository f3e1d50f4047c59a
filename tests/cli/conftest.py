"""The clock of every command that runs here."""

from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

import pytest

from seedstart import clock

# After the sample season and the test bench's: what these tests record has come by then.
NOON = datetime(2027, 12, 31, 12, tzinfo=UTC)


@pytest.fixture(autouse=True)
def clock_of_the_tests(monkeypatch: pytest.MonkeyPatch) -> None:
    """The same moment on every machine, whatever day it is there."""
    monkeypatch.setattr(clock, "now", lambda zone: NOON.astimezone(ZoneInfo(zone)))
    monkeypatch.setattr(clock, "today", lambda zone=None: _today(zone))


def _today(zone: str | None) -> date:
    return NOON.astimezone(ZoneInfo(zone)).date() if zone else NOON.date()
