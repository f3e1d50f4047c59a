from datetime import date
from typing import Any

import pytest

from notebook import Notebook
from runner import run_json
from seasons import HEAD, lot, season
from seedstart import disk
from seedstart.planning.calendar.season_today import as_set, by_number
from seedstart.planning.prospects.own_record import no_fair_chance
from seedstart.season.journal.entries import Adjusted, Sown
from shipped import crop

SAMPLE = str(disk.shipped("sample_season"))


@pytest.fixture(scope="module")
def rows() -> dict[str, dict[str, object]]:
    """The invented season's calendar as of 10 April 2026, by sowing or lot."""
    told = run_json("calendar", "--season", SAMPLE, "--on", "2026-04-10")
    return {row["sowing"] or f"{row['lot']}/{row['number']}": row for row in told}


def window(rows: dict[str, dict[str, object]], row: str, step: str) -> dict[str, str]:
    found = rows[row][step]
    assert isinstance(found, dict)
    return found


def test_a_lot_sown_again_has_one_row_that_of_the_new_sowing(
    rows: dict[str, dict[str, object]],
) -> None:
    assert "onion-red" not in rows
    assert window(rows, "onion-red/2", "sow")["best"] == "2026-03-15"


def test_the_plants_daughters_carry_the_row_on(rows: dict[str, dict[str, object]]) -> None:
    assert window(rows, "broccoli", "prick_out") == {
        "earliest": "2026-04-01",
        "best": "2026-04-01",
        "latest": "2026-04-01",
        "is": "happened",
        "due": None,
    }
    assert window(rows, "cabbage-early", "harden")["is"] == "happened"


def test_what_passed_undone_keeps_its_best_day_beside_the_day_that_is_counted_from(
    rows: dict[str, dict[str, object]],
) -> None:
    parsley = window(rows, "parsley-flat", "prick_out")
    assert (parsley["is"], parsley["due"], parsley["best"]) == (
        "expected", "2026-04-08", "2026-04-10",
    )  # fmt: skip
    assert window(rows, "parsley-flat", "harden")["due"] is None


def test_days_of_hardening_that_were_missed_move_setting_out_in_the_calendar_too() -> None:
    # Broccoli and cabbage went out on the 8th; nobody wrote down a day since.
    for on in ("2026-04-10", "2026-04-20"):
        season = ("--season", SAMPLE, "--on", on)
        told = {row["sowing"]: row for row in run_json("calendar", *season)}
        (cabbage,) = run_json("harden", "cabbage-early.1", *season)
        assert told["cabbage-early"]["set_out"]["best"] == cabbage["set_out"]["best"]
    why = " ".join(reason["text"] for reason in told["cabbage-early"]["reasons"])
    assert "of hardening off are left" in why


def test_treated_seed_shows_when_its_treatment_began(rows: dict[str, dict[str, object]]) -> None:
    assert window(rows, "lavender", "treat")["best"] == "2026-02-14"


def test_measured_warmth_gives_the_day_and_nothing_is_expected_before_today(
    rows: dict[str, dict[str, object]],
) -> None:
    up = window(rows, "pepper-long", "emerge")
    assert up["is"] == "expected"
    assert date.fromisoformat(up["best"]) >= date(2026, 4, 10)


def test_seed_on_the_cold_sill_gets_no_day_but_the_reason(
    rows: dict[str, dict[str, object]],
) -> None:
    assert rows["pepper-lantern"]["emerge"] is None
    assert "below 15 °C, the coldest" in str(rows["pepper-lantern"]["problem"])
    (lot,) = [
        one
        for one in run_json("lots", "--season", SAMPLE, "--on", "2026-04-10")
        if one["lot"] == "pepper-lantern"
    ]
    assert lot["sowings"][0]["expected"] is None
    assert 0 < lot["sowings"][0]["progress"] < 1


def test_what_is_not_sown_yet_is_planned(rows: dict[str, dict[str, object]]) -> None:
    assert window(rows, "kale-autumn/1", "sow")["is"] == "planned"


def numbered(*acts: dict[str, Any]) -> list[str]:
    """The sowings that count as the first, second … of a lot, written down one a day."""
    lots, book = lot("oak", "lettuce", sowings="3", every='"14 days"'), Notebook()
    for number, keys in enumerate(acts, 1):
        book.write(Sown, f"03-{number:02d}", lot="oak", seeds=20, station="shelf", **keys)
    found = book.records(lots)
    return [one.name for one in by_number(found.of_lot("oak"), found)]


def test_what_is_sown_instead_of_the_second_is_the_second() -> None:
    again = {"sowing": "again", "instead_of": "second"}
    acts: list[dict[str, Any]] = [{"sowing": "first"}, {"sowing": "second"}, {"sowing": "third"}]
    assert numbered(*acts, again) == ["first", "again", "third"]


def test_a_mat_that_is_off_is_planned_with_as_it_is_when_on() -> None:
    lots, book = lot("pepper", "pepper", station='"mat"'), Notebook()
    book.write(Adjusted, "01-02", station="mat", thermostat_c=26.0)
    book.write(Adjusted, "01-03", station="mat", mat="off")
    now = as_set(season(lots), book.records(lots), date(2027, 1, 4))
    warm = now.stations_by_name["mat"].expected
    assert warm is not None
    assert warm.mean_c == 26.0


def test_seed_on_a_station_of_unknown_warmth_had_a_fair_chance() -> None:
    head = HEAD.replace('expected = "12C"\n', "")
    lots, book = lot("pepper", "pepper"), Notebook()
    book.write(Sown, "03-01", sowing="pepper", lot="pepper", seeds=20, station="sill")
    assert (
        no_fair_chance(
            book.standing("pepper", lots),
            crop("pepper"),
            season(lots, head),
            book.records(lots, head),
        )
        == ""
    )
    assert "the sill is too cold or too hot for pepper" in no_fair_chance(
        book.standing("pepper", lots), crop("pepper"), season(lots), book.records(lots)
    )
