from array import array
from datetime import datetime, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seasons import HEAD, season
from seedstart.growing.emergence import RateCurve, table_curve
from seedstart.season.journal.entries import Adjusted, Entry, Moved, Read, Sown
from seedstart.season.journal.journal import Journal
from seedstart.season.loggers.series import Readings, Series
from seedstart.tracking.fold_journal import records
from seedstart.tracking.thermal_time import Gathered
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
    # Tomato: 14 days at 15 °C, 6 at 25; a reading speaks for half of the longest gap, 1.5 h.
    assert found.share == pytest.approx(3 / 24 / 6 + 69 / 24 / 14)


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


# Readings by hand, trays, settings. Tomato: 14 days at 15 °C, 6 at 25 (emergence_days.csv:
# Harrington & Minges 1954).
HOUR = timedelta(hours=1)


def recorded(
    *entries: Entry,
    days: float = 3,
    planned_c: float | None = 15,
    readings: Readings | None = None,
    tray: str | None = None,
    heated: set[str] | None = None,
) -> Progress:
    """Progress of tomatoes sown on the mat at the start."""
    sown = entry(Sown, 1, START, sowing="t", lot="t", seeds=10, station="mat", tray=tray)
    journal = Journal()
    journal.take_in([sown, *entries])
    planned = {} if planned_c is None else {"mat": steady(planned_c)}
    warmth = Warmth(readings or {}, planned, ZONE, heated=heated)
    now = START + timedelta(days=days)
    found = warmth.progress(sown.id, records(journal, season("", HEAD)), emerging("Tomato"), now)
    assert found is not None
    return found


def read(number: int, hours: float, celsius: float, **where: str) -> Entry:
    where = where or {"station": "mat"}
    at = START + hours * HOUR
    return entry(Read, number, at, quantity="soil_c", value=celsius, **where)


def adjusted(number: int, hours: float, **fields: object) -> Entry:
    return entry(Adjusted, number, START + hours * HOUR, station="mat", **fields)


def test_a_single_reading_by_hand_holds_for_a_day_and_the_rest_is_as_planned() -> None:
    found = recorded(read(2, 30, 25.0))
    assert found.share == pytest.approx(25.5 / 24 / 6 + 46.5 / 24 / 14)
    assert found.measured_until == START + 30 * HOUR
    assert found.goes_on_c == 15
    assert "Read by hand only at the mat, last 25 °C on 2 Mar 14:00" in found.assumed
    assert "otherwise its planned 15 °C is used" in found.assumed


def test_readings_by_hand_near_each_other_are_joined_by_a_straight_line() -> None:
    found = recorded(read(2, 30, 25.0), read(3, 33, 15.0))
    by_rate = [curve_of("Tomato").rate(c) for c in (25.0, 15.0)]
    line = 3 / 24 * sum(by_rate) / 2 + 1.5 / 24 * by_rate[0] + 24 / 24 * by_rate[1]
    assert found.share == pytest.approx(line + 43.5 / 24 / 14)


def test_a_reading_by_hand_holds_till_the_next_one_and_two_mornings_go_on() -> None:
    # 25 °C on the first morning, 15 on the second and third; planned 20.
    found = recorded(read(2, 0, 25.0), read(3, 24, 15.0), read(4, 47, 15.0), planned_c=20, days=2)
    assert found.share == pytest.approx(1 / 6 + 1 / 14)
    assert found.goes_on_c == pytest.approx((25 + 15 + 15) / 3)
    assert "its average of the last three days" in found.assumed


def test_what_was_read_before_it_was_set_anew_holds_no_longer() -> None:
    held = recorded(read(2, 0, 25.0), read(3, 48, 25.0), days=2)
    assert held.share == pytest.approx(2 / 6)
    cut = recorded(read(2, 0, 25.0), adjusted(4, 6, expected="10C"), read(3, 48, 25.0), days=2)
    assert cut.share < held.share


def test_of_a_mat_that_fell_only_what_was_read_since_goes_on() -> None:
    dead = recorded(
        planned_c=25, readings=measured("mat", [25.0] * 60 + [17.0] * 12), heated={"mat"}
    )
    assert dead.goes_on_c == 17
    assert "its average since it stopped heating, 17 °C, is assumed" in dead.assumed
    # One cold reading is a slip, or water from the can.
    slip = recorded(planned_c=25, readings=measured("mat", [25.0] * 71 + [17.0]), heated={"mat"})
    assert slip.goes_on_c > 24


def test_a_mat_that_warms_again_is_counted_with_as_planned() -> None:
    again = [25.0] * 40 + [17.0] * 24 + [25.0] * 8
    found = recorded(planned_c=24, readings=measured("mat", again), heated={"mat"})
    assert found.goes_on_c == 24


def test_where_nothing_else_is_known_the_readings_by_hand_go_on() -> None:
    found = recorded(read(2, 0, 25.0), read(3, 30, 25.0), planned_c=None)
    assert found.share == pytest.approx(3 / 6)
    assert "read by hand only at the mat" in found.assumed


def test_a_trays_readings_go_before_its_stations() -> None:
    of_mat = measured("mat", [15.0] * 24 * 3)
    of_tray = [read(number, 29 + number, 25.0, tray="blue") for number in (2, 3, 4)]
    found = recorded(*of_tray, readings=of_mat, tray="blue")
    spoken_hours = 2 + 3  # from the first to the last, and 1.5 h to either side
    expected = spoken_hours / 24 / 6 + (72 - spoken_hours) / 24 / 14
    assert found.share == pytest.approx(expected)
    assert found.goes_on_c == pytest.approx(15)
    assert "Readings by hand in the blue, last 25 °C on 2 Mar 17:00, are used" in found.assumed


def test_a_trays_readings_count_where_it_stood_when_they_were_made() -> None:
    other = read(2, 30, 25.0, tray="red")
    assert recorded(other, tray="blue").share == pytest.approx(3 / 14)


def test_air_is_not_the_medium_and_that_is_said() -> None:
    air = entry(Read, 2, START + HOUR, station="mat", quantity="air_c", value=25.0)
    found = recorded(air)
    assert found.share == pytest.approx(3 / 14)
    assert found.assumed.endswith("Only its air was measured, not the medium.")


def test_of_air_that_nobody_measured_nothing_is_said() -> None:
    assert "air" not in (progress({}, 2, planned={"mat": steady(20)}).assumed or "")
    soil = entry(Read, 2, START + HOUR, station="mat", quantity="soil_c", value=20.0)
    assert "air" not in (recorded(soil).assumed or "")


def test_what_came_before_the_first_reading_is_reckoned_back_at_the_rate_before_it() -> None:
    # A tenth of an emergence a day: half of what was gathered in ten days was there on the fifth.
    way = Gathered([0.0], [0.0], before=0.1, after=0.2)
    assert way.when(-10 * 86_400.0, 0.5) == pytest.approx(-5 * 86_400.0)


def test_what_is_expected_anew_holds_from_then_on_and_not_before() -> None:
    found = recorded(adjusted(2, 24, expected="25C"))
    assert found.share == pytest.approx(1 / 14 + 2 / 6)
    assert found.goes_on_c == 25
    assert "the 25 °C expected of it since 2 Mar is used" in found.assumed


def test_a_thermostat_is_the_medium_from_then_on_also_after_a_loggers_last_reading() -> None:
    found = recorded(adjusted(2, 48, thermostat_c=25.0), readings=measured("mat", [15.0] * 25))
    assert found.share == pytest.approx(2 / 14 + 1 / 6, abs=1e-9)
    assert "its setting was changed since, so after that its thermostat's 25 °C" in found.assumed


def test_a_mat_switched_off_is_not_counted_with_as_a_warm_one() -> None:
    found = recorded(adjusted(2, 24, mat="off"), planned_c=25)
    assert found.share == pytest.approx(1 / 6 + 2 * curve_of("Tomato").rate(24))
    assert "24 °C is assumed (the mixed-tray setting)" in found.assumed
    assert "switched off on 2 Mar and how warm it has been since is not known" in found.assumed


def test_a_late_reading_by_hand_leaves_a_loggers_mean_in_place() -> None:
    found = recorded(read(2, 60, 15.0), readings=measured("mat", [25.0] * 49))
    assert found.share == pytest.approx(58.5 / 24 / 6 + 13.5 / 24 / 14), "it holds"
    assert found.goes_on_c == 25
    assert found.measured_until == START + 60 * HOUR


def test_less_than_a_day_of_readings_is_no_mean_that_goes_on() -> None:
    found = recorded(readings=measured("mat", [25.0] * 12))
    assert found.share == pytest.approx(12.5 / 24 / 6 + 59.5 / 24 / 14)
    assert "less than a day was measured" in found.assumed


def test_nothing_counts_that_was_not_known_by_then() -> None:
    later = [read(2, 80, 20.0), adjusted(3, 90, thermostat_c=20.0)]
    cold = measured("mat", [25.0] * 60 + [15.0] * 60)
    warm = measured("mat", [25.0] * 60)
    assert recorded(*later, readings=cold, days=2) == recorded(readings=warm, days=2)


CELSIUS = st.sampled_from([15.0, 20.0, 25.0])


@st.composite
def said_of_the_mat(draw: st.DrawFn) -> list[Entry]:
    """Readings by hand at the mat and in its tray, and settings, over five days."""
    kinds = st.sampled_from(["station", "tray", "expected", "thermostat", "off", "on"])
    found: list[Entry] = []
    for number in range(2, 2 + draw(st.integers(0, 12))):
        hours, celsius, kind = draw(st.integers(0, 120)), draw(CELSIUS), draw(kinds)
        if kind in {"station", "tray"}:
            where = {"station": "mat"} if kind == "station" else {"tray": "blue"}
            found.append(read(number, hours, celsius, **where))
        elif kind in {"on", "off"}:
            found.append(adjusted(number, hours, mat=kind))
        elif kind == "expected":
            found.append(adjusted(number, hours, expected=f"{celsius:g}C"))
        else:
            found.append(adjusted(number, hours, thermostat_c=celsius))
    return found


@given(said_of_the_mat(), st.booleans(), st.data())
@settings(derandomize=True, deadline=None, max_examples=150)
def test_order_and_repeats_change_nothing_and_the_way_is_one_of_known_warmth(
    entries: list[Entry], logger: bool, data: st.DataObject
) -> None:
    readings = measured("mat", [20.0] * 60) if logger else {}
    found = recorded(*entries, readings=readings, days=5, tray="blue")
    arrived = data.draw(st.permutations([*entries, *entries[:2]]))
    assert recorded(*arrived, readings=readings, days=5, tray="blue") == found
    # Nobody said or read less than 15 °C or more than 25; the way lies between theirs.
    assert 5 / 14 - 1e-9 <= found.share <= 5 / 6 + 1e-9


@given(said_of_the_mat(), st.lists(st.integers(0, 130), min_size=1, max_size=4))
@settings(derandomize=True, deadline=None, max_examples=100)
def test_what_is_kept_is_what_is_found_afresh(entries: list[Entry], hours: list[int]) -> None:
    sown = entry(Sown, 1, START, sowing="t", lot="t", seeds=10, station="mat", tray="blue")
    readings, planned = measured("mat", [20.0] * 60), {"mat": steady(15)}
    kept, journal = Warmth(readings, planned, ZONE), Journal()
    journal.take_in([sown])
    for place, hour in enumerate(hours):
        journal.take_in(entries[place :: len(hours)])
        happened, now = records(journal, season("", HEAD)), START + hour * HOUR
        afresh = Warmth(readings, planned, ZONE)
        assert kept.progress(sown.id, happened, emerging("Tomato"), now) == afresh.progress(
            sown.id, happened, emerging("Tomato"), now
        )


# Hours from one reading to the next: close by, just a gap, days of nothing.
_STEPS = st.sampled_from([0.2, 0.5, 1.0, 2.9, 3.0, 3.1, 30.0, 100.0])
_POINTS = st.lists(
    st.tuples(_STEPS, st.sampled_from([14.0, 18.5, 22.0, 24.5, 31.0])), min_size=1, max_size=80
)


@given(
    _POINTS,
    st.lists(st.integers(1, 30), min_size=1, max_size=6),
    st.lists(st.sampled_from([0.0, 5.0, 26.0, 70.0]), max_size=2, unique=True),
    st.lists(st.integers(0, 200), max_size=3, unique=True),
    st.integers(0, 400),
)
@settings(max_examples=150, deadline=None)
def test_readings_that_come_one_by_one_give_what_all_of_them_give_at_once(
    points: list[tuple[float, float]],
    batches: list[int],
    set_after_h: list[float],
    by_hand_h: list[int],
    now_h: int,
) -> None:
    sown = entry(Sown, 1, START, sowing="t", lot="t", seeds=10, station="mat")
    more = [
        entry(
            Adjusted, 10 + n, START + timedelta(hours=hours), station="mat", thermostat_c=20.0 + n
        )
        for n, hours in enumerate(sorted(set_after_h))
    ] + [
        entry(
            Read, 20 + n, START + timedelta(hours=hours), station="mat", quantity="soil_c", value=19
        )
        for n, hours in enumerate(sorted(by_hand_h))
    ]
    journal = Journal()
    journal.take_in([sown, *more])
    happened = records(journal, season("", HEAD))
    hours, times = 0.0, []
    for step, _ in points:
        hours += step
        times.append(START.timestamp() + 3600 * hours)
    grown, count = Warmth({}, {"mat": steady(24)}, ZONE), 0
    now = START + timedelta(hours=now_h)
    for batch in batches:
        count += batch
        values = array("d", [c for _, c in points[:count]])
        there = Series("mat", "soil_c", array("d", times[:count]), values, bytes(len(values)))
        readings: Readings = {("mat", "soil_c"): there}
        grown.take_in(readings)
        afresh = Warmth(readings, {"mat": steady(24)}, ZONE)
        for crop in ("Tomato", "Pepper") if batch % 2 else ("Tomato",):
            ways = [
                warmth.progress(sown.id, happened, emerging(crop), now)
                for warmth in (grown, afresh)
            ]
            assert ways[0] == ways[1]
