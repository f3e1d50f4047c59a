"""Calendar and round name one best day of each step, on every day of the sample season."""

import re
from collections.abc import Iterator
from datetime import date, timedelta
from typing import Any

import pytest

from seedstart import disk
from seedstart.cli.calendar_command import row_as_json
from seedstart.daily.check import Check, What
from seedstart.daily.check_status import single_checks
from seedstart.days import short_day
from seedstart.open_season import OpenSeason
from seedstart.planning.calendar.row import Row, StepName, row_key

# What both name; `happened` is left out: the calendar then tells when it was, not when it is best.
STEPS: dict[What, StepName] = {
    "treat": "treat", "sow": "sow", "look": "emerge", "prick out": "prick_out", "pot on": "pot_on",
    "harden": "harden", "set out": "set_out",
}  # fmt: skip


def rows_of(check: Check, opened: OpenSeason) -> Iterator[tuple[str, Row]]:
    """The rows that a check is about, each with the name of its sowing or lot."""
    rows, standings = opened.calendar(), opened.records().standings
    if check.subject[0] == "lot":
        yield from (
            (row_key(row), row)
            for row in rows
            if row.sowing is None and row_key(row) == check.key.partition(" ")[2]
        )
    for asked in check.sowings:
        one = standings[asked.id]
        while one.made_from:
            one = standings[one.made_from]
        yield from ((asked.name, row) for row in rows if row.sowing_id == one.id)


def in_calendar(row: Row, step: StepName) -> tuple[str, str | None]:
    """A step's best day as scripts read it, and whether it is still to be done."""
    window: dict[str, Any] | None = row_as_json(row, None)[step]  # type: ignore[assignment]
    if window is None:
        return "", None
    return window["is"], short_day(window["due"] or window["best"])


def in_round(check: Check, name: str) -> set[str]:
    """The best days that its reasons name for a sowing."""
    texts = [why.text for why in check.why]
    own = [text for text in texts if text.startswith(f"{name}: ")] or texts
    return {day for text in own for day in re.findall(r"best (\d+ [A-Z][a-z]{2})", text)}


# How many steps are compared in a month at least: none of them is due before March.
@pytest.mark.parametrize(("month", "at_least"), [(2, 0), (3, 30), (4, 250), (5, 600), (6, 600)])
def test_each_day_calendar_and_round_name_the_same_best_days(month: int, at_least: int) -> None:
    folder, day, compared = disk.shipped("sample_season"), date(2026, month, 1), 0
    while day.month == month:
        opened = OpenSeason(folder, "tests", day)
        for check in single_checks(opened.round().checks):
            if check.done or check.what not in STEPS:
                continue
            for name, row in rows_of(check, opened):
                is_, best = in_calendar(row, STEPS[check.what])
                if is_ == "happened" or best is None:
                    continue
                where = (day, check.key, name)
                if len(check.sowings) <= 1 or check.what == "harden":
                    assert short_day(check.due) == best or check.what == "look", where
                assert in_round(check, name) <= {best}, where
                compared += bool(in_round(check, name)) or check.what != "look"
        day += timedelta(days=1)
    assert compared >= at_least
