from array import array
from datetime import datetime, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

import pytest

from seasons import HEAD, season
from seedstart.growing.emergence import RateCurve, table_curve
from seedstart.season.entries import Entry, Moved, Sown
from seedstart.season.journal import Journal
from seedstart.season.series import Readings, Series
from seedstart.tracking.recording import records
from seedstart.tracking.warmth import Emerging, Progress, Warmth
from seedstart.units import Temperatures, steady
from tables import emergence_tables

ZONE = ZoneInfo("Europe/Vienna")
START = datetime(2027, 3, 1, 8, tzinfo=ZONE)
TABLES = emergence_tables()


def curve_of(crop: str) -> RateCurve:
    temperatures, days = TABLES[crop]
    return table_curve(temperatures, days, 5.0, 35.0)


def emerging(crop: str, factor: float = 1.0) -> Emerging:
    return Emerging(curve_of(crop), "table", factor, 1 / factor, 1.25, steady(24))


def entry(kind: type[Entry], number: int, at: datetime, **fields: object) -> Entry:
    return kind(
        id=f"01a2124e-d926-7bec-812c-{number:012d}",
        at=at,
        by="bench",
        **fields,  # type: ignore[arg-type]
    )


def measured(station: str, celsius: list[float], hours: float = 1.0) -> Readings:
    times = [START.timestamp() + hours * 3600 * place for place in range(len(celsius))]
    series = Series(station, "soil_c", array("d", times), array("d", celsius), bytes(len(times)))
    return {(station, "soil_c"): series}


def progress(
    readings: Readings,
    days: float,
    crop: str = "Tomato",
    planned: dict[str, Temperatures] | None = None,
    moves: tuple[Entry, ...] = (),
    factor: float = 1.0,
) -> Progress:
    sown = entry(Sown, 1, START, sowing="t", lot="t", seeds=10, station="mat")
    journal = Journal()
    journal.take_in([sown, *moves])
    happened = records(journal, season("", HEAD))
    warmth = Warmth(readings, planned or {}, ZONE)
    now = START + timedelta(days=days)
    found = warmth.progress(sown.id, happened, emerging(crop, factor), now)
    assert found is not None
    return found


@pytest.mark.parametrize("crop", ["Tomato", "Pepper", "Lettuce", "Onion", "Cabbage"])
@pytest.mark.parametrize("soil_c", [15, 20, 25])
def test_at_constant_warmth_and_factor_1_progress_is_the_handbooks_days(
    crop: str, soil_c: float
) -> None:
    # emergence_days.csv: Harrington & Minges 1954.
    temperatures, table = TABLES[crop]
    days = table[temperatures.index(soil_c)]
    assert not isinstance(days, str)
    found = progress(measured("mat", [soil_c] * 24 * 40), days, crop)
    assert found.share == pytest.approx(1, abs=1e-9)
    assert found.expected is not None
    assert (found.expected.best - START.date()).days == pytest.approx(days, abs=1)


def test_half_the_time_is_half_the_way() -> None:
    assert progress(measured("mat", [25.0] * 24 * 20), 3).share == pytest.approx(0.5)


def test_trays_that_run_slower_by_a_factor_come_later_by_it() -> None:
    found = progress(measured("mat", [25.0] * 24 * 20), 6, factor=1.3)
    assert found.share == pytest.approx(1 / 1.3)
    assert found.expected is not None
    assert (found.expected.earliest - START.date()).days == 6
    assert (found.expected.best - START.date()).days in {7, 8}


def test_warmth_that_changes_is_the_trapezoid_of_the_rate() -> None:
    celsius = [20.0 + 5 * (place % 2) for place in range(24 * 10)]
    rates = [curve_of("Tomato").rate(c) for c in celsius]
    by_hand = sum((a + b) / 2 / 24 for a, b in pairwise(rates[:73]))
    assert progress(measured("mat", celsius), 3).share == pytest.approx(by_hand)


def test_a_long_gap_falls_back_on_what_is_planned_for_the_station() -> None:
    readings = measured("mat", [25.0, 25.0], hours=72)
    found = progress(readings, 3, planned={"mat": steady(15)})
    assert found.share == pytest.approx(3 / 14)  # tomato at 15 °C: 14 days


def test_without_readings_the_planned_temperature_stands_in_and_is_said() -> None:
    found = progress({}, 3, planned={"mat": steady(15)})
    assert found.share == pytest.approx(3 / 14)
    assert found.measured_until is None
    assert "Nothing was measured at the mat" in found.assumed
    assert "15 °C" in found.assumed


def test_after_the_last_reading_the_mean_of_its_last_three_days_goes_on() -> None:
    celsius = [15.0] * 24 * 3 + [25.0] * 24 * 3
    found = progress(measured("mat", celsius), 8)
    first, second = 3 / 14, 3 / 6
    assert found.share == pytest.approx(first + second + 2 / 6, abs=0.02)
    assert "last three days, 25 °C" in found.assumed
    assert found.measured_until == START + timedelta(hours=143)


def test_where_it_stood_counts_and_not_where_it_stands() -> None:
    moved = entry(Moved, 2, START + timedelta(days=2), sowing="t", station="sill")
    readings = measured("mat", [25.0] * 24 * 9) | measured("sill", [15.0] * 24 * 9)
    found = progress(readings, 4, moves=(moved,))
    assert found.share == pytest.approx(2 / 6 + 2 / 14)


def test_where_nothing_comes_up_no_day_is_expected() -> None:
    found = progress(measured("mat", [4.0] * 24 * 9), 5, planned={"mat": steady(4)})
    assert found.share == 0
    assert found.expected is None
