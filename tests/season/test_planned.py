from datetime import UTC, datetime
from typing import Any

import tomli

from seasons import lot, season
from seedstart.season.journal.entries import Planned
from seedstart.season.plan.additions import with_planned

LOTS = lot("leek", "leek", want="48", station='"shelf"') + lot("kale", "kale", was='["kale-old"]')


def planned(name: str, to: dict[str, Any], said: dict[str, Any], number: int = 1) -> Planned:
    return Planned(
        id=f"01a2124e-d926-7bec-812c-{number:012d}",
        at=datetime(2027, 3, number, 8, tzinfo=UTC),
        by="bench",
        lot=name,
        to=to,
        said=said,
    )


def applied(*entries: Planned) -> tuple[dict[str, int | None], list[str]]:
    found, problems = with_planned(season(LOTS), tomli.loads(LOTS)["lot"], entries)
    return {one.name: one.want for one in found.lots}, [str(problem) for problem in problems]


def test_what_was_planned_anew_holds_while_the_file_says_what_it_said() -> None:
    wants, problems = applied(planned("leek", {"want": 80}, {"want": 48}))
    assert wants == {"leek": 80, "kale": None}
    assert problems == []


def test_a_file_edited_by_hand_wins_and_that_is_told() -> None:
    wants, problems = applied(planned("leek", {"want": 80}, {"want": 50}))
    assert wants["leek"] == 48
    assert "leek.want" in problems[0]
    assert "was edited since 2027-03-01" in problems[0]


def test_the_later_of_two_holds_and_a_key_can_be_taken_away() -> None:
    wants, _ = applied(
        planned("leek", {"want": 80}, {"want": 48}),
        planned("leek", {"want": 90}, {"want": 48}, 2),
        planned("kale", {"want": 12}, {"want": None}, 3),
    )
    assert wants == {"leek": 90, "kale": 12}
    wants, _ = applied(planned("leek", {"want": None}, {"want": 48}))
    assert wants["leek"] is None


def test_a_former_name_is_the_lots() -> None:
    assert applied(planned("kale-old", {"want": 7}, {"want": None}))[0]["kale"] == 7


def test_what_cannot_hold_is_told_and_the_file_stands() -> None:
    wants, problems = applied(planned("leek", {"station": "shelv"}, {"station": "shelf"}))
    assert wants["leek"] == 48
    assert "Nearest: shelf" in problems[0]
    assert "No lot of that name" in applied(planned("gone", {"want": 3}, {}))[1][0]
