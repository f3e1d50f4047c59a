from datetime import date, timedelta

import pytest

from seasons import HEAD, lot, season
from seedstart.planning.calendar.frost_dates import frost_dates
from seedstart.planning.calendar.row import Row
from seedstart.planning.calendar.scheduler import plan
from seedstart.planning.calendar.season_rows import frost_of, season_rows
from seedstart.planning.calendar.sowing_request import Ask, tray_setting
from shipped import with_weeks
from tables import by_crop, figures

HIGH = "weeks_indoors_high"
TODAY = date(2027, 1, 2)
FROST = frost_dates(date(2027, 5, 12))


def rows(lots: str, head: str = HEAD) -> dict[str, Row]:
    """Rows by lot and number, as `leek` and `leek/2`."""
    return {
        f"{row.lot}/{row.number}" if row.number > 1 else str(row.lot): row
        for row in season_rows(season(lots, head), TODAY)
    }


def sow(row: Row) -> date:
    assert row.sow_day is not None
    return row.sow_day


def test_one_lot_a_crop_at_the_tray_setting_is_the_bare_calendar() -> None:
    crops = with_weeks()
    lots = "".join(lot(f"lot {number}", one.name) for number, one in enumerate(crops))
    found = {row.crop: row for row in season_rows(season(lots), TODAY)}
    assert len(found) == len(crops)
    for one in crops:
        bare = plan(Ask(crop=one, where=tray_setting(one), frost=FROST))
        assert found[one.name].steps == bare.steps


def test_a_station_moves_sowing_and_not_setting_out() -> None:
    found = rows(lot("warm", "pepper", station='"mat"') + lot("cool", "pepper", station='"shelf"'))
    # emergence_days.csv: pepper at 20 °C takes 13 days, at 25 °C 8; trays 1.6 times that.
    assert 1.6 * 4 < (sow(found["warm"]) - sow(found["cool"])).days <= 1.6 * 5
    assert found["cool"].window("set_out") == found["warm"].window("set_out")


def test_a_lot_on_a_station_too_cold_gets_the_cure_of_this_season() -> None:
    # 15 °C: emergence_days.csv, Harrington & Minges 1954. 15.6 °C: germination_temperature.csv.
    found = rows(lot("pepper", "pepper", station='"sill"'))["pepper"]
    assert found.problem == (
        "The sill at 12 °C is below 15 °C, the coldest at which pepper came up in the table of the "
        "University of California (Harrington); its printed lower limit is 15.6 °C (2 sources); "
        "on the mat (24 °C) it is up in 8 to 16 days."
    )


def test_successions_follow_each_other() -> None:
    found = rows(lot("oak", "lettuce", sowings="3", every='"14 days"'))
    days = [sow(found[name]) for name in ("oak", "oak/2", "oak/3")]
    assert [days[1] - days[0], days[2] - days[1]] == [timedelta(days=14)] * 2


def test_own_days_overrule_the_calendars() -> None:
    found = rows(lot("oak", "lettuce", sow='["2027-03-02", 2027-03-20]'))
    assert [sow(found[name]) for name in ("oak", "oak/2")] == [date(2027, 3, 2), date(2027, 3, 20)]


def test_a_ready_date_in_autumn_is_counted_back_from() -> None:
    found = rows(lot("kale", "kale", ready="2027-08-05"))["kale"]
    window = found.window("set_out")
    assert window is not None
    assert window.best == date(2027, 8, 5)
    weeks = figures(by_crop("transplant_timing.csv")["kale"], "weeks_indoors_low", HIGH)
    assert min(weeks) <= (window.best - sow(found)).days / 7 <= max(weeks)


@pytest.mark.parametrize(
    ("keys", "soaks"),
    [
        ({}, True),
        ({"form": '"pelleted"'}, False),
        ({"form": '"primed"'}, False),
        ({"form": '"treated"'}, False),
        ({"soak": '"none"'}, False),
        ({"soak": '"8 h"'}, True),
    ],
)
def test_coated_and_primed_seed_gets_no_soak(keys: dict[str, str], soaks: bool) -> None:
    # Okra's soak of 12 hours: University of Illinois Extension (sowing_notes.csv). What the packet
    # has had is not done again.
    step = rows(lot("okra", "okra", **keys))["okra"].step("treat")
    assert ("soak" in step.says if step else False) == soaks


def test_a_growers_own_cold_is_counted_back_from_the_sowing() -> None:
    found = rows(lot("lavender", "lavender", stratify='"28 days"'))["lavender"]
    treat = found.window("treat")
    assert treat is not None
    assert sow(found) - treat.best == timedelta(days=28)


def test_a_lot_that_cannot_come_up_where_it_is_planned_is_asked_no_number_of_seeds() -> None:
    # emergence_days.csv: pepper comes up at 15 °C and above; the sill has 12.
    warm, cold = (lot(at, "pepper", want="12", station=f'"{at}"') for at in ("mat", "sill"))
    found = rows(warm + cold)
    assert found["mat"].seeds is not None
    assert found["sill"].seeds is None


def test_without_a_frost_a_lot_needs_a_day_of_its_own() -> None:
    head = 'title = "Seed library"\ntimezone = "Europe/Vienna"\n'
    found = rows(lot("a", "tomato") + lot("b", "tomato", sow="[2027-03-01]"), head)
    assert "has no frost date" in (found["a"].problem or "")
    assert sow(found["b"]) == date(2027, 3, 1)
    assert found["b"].window("emerge") is not None
    assert frost_of(season("", head)) is None


def test_an_unknown_station_temperature_is_said_and_counted_at_the_tray_setting() -> None:
    head = HEAD.replace('expected = "12C"\n', "")
    row = rows(lot("kale", "kale", station='"sill"'), head)["kale"]
    assert any("Nobody has said how warm the sill is" in reason.text for reason in row.reasons)


def test_a_trusted_risk_makes_tender_lots_wait() -> None:
    # freeze_normals.csv: 17 days from the average to the 10 % date, a median of six places.
    head = HEAD.replace("last = 2027-05-12", "last = 2027-05-12\ntrust_percent = 10")
    waits, free = rows(lot("t", "tomato"), head)["t"], rows(lot("t", "tomato"))["t"]
    assert waits.window("set_out") is not None
    assert waits.steps[-1].window is not None
    assert free.steps[-1].window is not None
    assert waits.steps[-1].window.best == date(2027, 5, 29)
    assert free.steps[-1].window.best < date(2027, 5, 29)
