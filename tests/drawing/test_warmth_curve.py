"""The week's warmth as a drawing: curve, gaps, single readings, limits, days."""

from datetime import datetime, timedelta

from notebook import moment
from seedstart.drawing.lines import as_text
from seedstart.drawing.measured_curves import warmth_curve_lines, warmth_in_words
from seedstart.drawing.station_sheet import station_sheet
from seedstart.drawing.stations_list import StationLine, station_line
from seedstart.planning.space.stations_now import CropLimits, StandsThere, StationView, Warm
from seedstart.units import Units

NOW = moment("03-31 12:00")  # clocks went forward on 28 March
PEPPER = CropLimits("pepper", 15.6, 35.0, "2 sources", "2 sources")


def view(readings: dict[datetime, float], *limits: CropLimits) -> StationView:
    at = sorted(readings)
    warm = Warm(
        "medium",
        tuple(one.timestamp() for one in at),
        tuple(readings[one] for one in at),
        at[-1] if at else None,
        readings[at[-1]] if at else None,
    )
    return StationView(name="mat", kind="mat", warm=warm, limits=limits)


def hours(*values: float, last: datetime = NOW) -> dict[datetime, float]:
    return {
        last - timedelta(hours=len(values) - 1 - number): value
        for number, value in enumerate(values)
    }


def drawn(shown: StationView, units: Units = "metric", width: int = 80) -> str:
    return "\n".join(as_text(line) for line in warmth_curve_lines(shown, NOW, units, width, 12))


def braille(text: str) -> int:
    return sum("\u2800" < sign <= "\u28ff" for sign in text)


def test_the_drawing_keeps_to_its_height_and_width() -> None:
    for width in (40, 80, 120):
        lines = warmth_curve_lines(view(hours(*[20.0, 24.0] * 80)), NOW, "metric", width, 12)
        assert len(lines) == 12
        assert all(len(as_text(line)) <= max(width, 78) for line in lines)


def test_each_day_of_the_week_is_named_also_over_a_change_of_clocks() -> None:
    text = drawn(view(hours(*[20.0] * 160)))
    for day in ("Thu 25", "Fri 26", "Sat 27", "Sun 28", "Mon 29", "Tue 30", "Wed 31"):
        assert day in text


def test_a_limit_near_the_readings_is_drawn_and_named_and_a_far_one_is_not() -> None:
    text = drawn(view(hours(*[18.0, 20.0] * 40), PEPPER))
    assert "pepper from 15.6 °C" in text
    assert "35" not in text


def test_crops_with_one_limit_share_its_name() -> None:
    eggplant = CropLimits("eggplant", 15.6, 35.0, "2 sources", "2 sources")
    text = drawn(view(hours(*[18.0, 20.0] * 40), PEPPER, eggplant))
    assert "pepper and eggplant from 15.6 °C" in text


def test_what_is_too_cold_by_a_limit_that_nobody_prints_is_said_to_be_so_by_our_guess() -> None:
    sweet_pea = CropLimits("sweet pea", 15.0, 35.0, "our guess", "our guess")
    shown = view(hours(12.0), PEPPER, sweet_pea)
    text = " ".join(as_text(line) for line in station_sheet(shown, NOW, "metric", 120))
    assert "too cold for pepper and sweet pea (limit: our guess)." in text


def test_a_gap_in_the_readings_is_a_gap_in_the_curve() -> None:
    whole = hours(*[20.0] * 168)
    middle = NOW - timedelta(hours=84)
    parted = {at: c for at, c in whole.items() if abs((at - middle).total_seconds()) > 36 * 3600}
    assert braille(drawn(view(parted))) < 0.7 * braille(drawn(view(whole)))


def test_readings_far_apart_are_points() -> None:
    text = drawn(view({NOW - timedelta(days=back): 18.0 + back for back in range(5)}))
    assert text.count("●") == 5
    assert braille(text) == 0


def test_us_units_change_the_axis_and_the_limit() -> None:
    text = drawn(view(hours(*[18.0, 20.0] * 40), PEPPER), "us")
    assert "medium, °F" in text
    assert "pepper from 60.1 °F" in text
    assert "65│" in text  # 18 and 20 °C are 64.4 and 68 °F
    assert "20│" not in text


def test_without_readings_there_is_no_curve_and_it_is_said() -> None:
    never = StationView(name="sill", kind="sill", warm=Warm("medium"))
    assert warmth_curve_lines(never, NOW) == []
    assert "Nobody has measured here" in as_text(warmth_in_words(never, NOW)[0])
    old = Warm("medium", (), (), NOW - timedelta(days=20), 18.0)
    lines = warmth_curve_lines(StationView(name="sill", kind="sill", warm=old), NOW)
    assert [as_text(line) for line in lines] == ["No reading in the last week."]


def test_a_reading_of_days_ago_is_not_now() -> None:
    old = Warm("medium", (), (), NOW - timedelta(days=2), 18.0)
    sill = StationView(name="sill", kind="sill", warm=old)
    assert "18 °C" not in as_text(station_line(StationLine(sill, None, NOW)))


def test_long_and_wide_names_are_cut_to_the_width() -> None:
    stands = StandsThere(
        "x", "甜椒" * 20, "pepper", "盆" * 12, "tray of 72", 20, 3, 3, up=True, from_seed=True
    )
    shown = StationView(
        name="ночная полка " * 4, kind="shelf", warm=Warm("medium"), stands=(stands,)
    )
    from rich.cells import cell_len

    for width in (58, 80, 120):
        lines = [station_line(StationLine(shown, None, NOW), max(width, 78))]
        lines += station_sheet(shown, NOW, "metric", width)[1:]
        assert all(cell_len(as_text(line)) <= max(width, 78) for line in lines)
