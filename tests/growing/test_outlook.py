import pytest

from seedstart.growing.outlook import Limits, Outlook, fails_above, outlook, share_of_best
from tables import rows

# Harrington & Minges 1954: pepper comes up from 15 to 35 °C; printed limits 15.6 and 35 °C.
PEPPER = Limits(15.6, 35.0, lowest_sourced=True, highest_sourced=True, tabulated_c=(15.0, 35.0))
UNSOURCED = Limits(10, 35, lowest_sourced=False, highest_sourced=False)
SOURCED = Limits(10, 35, lowest_sourced=True, highest_sourced=True)


@pytest.mark.parametrize(
    ("soil_c", "limits", "verdict"),
    [
        (24, PEPPER, "comes up"),
        (15.6, PEPPER, "comes up"),
        (35, PEPPER, "comes up"),
        (15.0, PEPPER, "badly"),
        (14.9, PEPPER, "too cold"),
        (35.1, PEPPER, "too hot"),
        (9.9, UNSOURCED, "badly"),
        (36, UNSOURCED, "badly"),
        (10, SOURCED, "comes up"),
        (9.9, SOURCED, "too cold"),
        (35.1, SOURCED, "too hot"),
    ],
)
def test_a_date_is_given_inside_the_limits_bounds_included(
    soil_c: float, limits: Limits, verdict: str
) -> None:
    assert outlook(soil_c, limits).verdict == verdict


def test_the_limit_named_is_where_nothing_came_up_any_more() -> None:
    assert outlook(12, PEPPER) == Outlook("too cold", 15.0, limit_sourced=True)


def test_few_normal_seedlings_are_a_warning() -> None:
    # normal_seedlings_percent.csv: lettuce 12 % at 30 °C against 99 % at 25 °C. Two thirds of the
    # best is common practice.
    assert outlook(30, SOURCED, 12 / 99).verdict == "badly"
    assert outlook(30, SOURCED, 0.67).verdict == "comes up"
    assert outlook(30, SOURCED, 0.66).verdict == "badly"


# tests/reference/normal_seedlings_percent.csv; between its figures, straight lines.
@pytest.mark.parametrize(
    ("crop", "soil_c", "percent"), [("Lettuce", 30, 12), ("Lettuce", 27, 64), ("Spinach", 25, 28)]
)
def test_normal_seedlings_are_the_tables(crop: str, soil_c: float, percent: float) -> None:
    table = [row for row in rows("normal_seedlings_percent.csv") if row["crop"] == crop]
    temperatures = [float(row["soil_temp_c"]) for row in table]
    percents = [float(row["percent"]) if row["percent"] else "not known" for row in table]
    best = max(value for value in percents if not isinstance(value, str))
    share = share_of_best(soil_c, temperatures, percents)
    assert share is not None
    assert share * best == pytest.approx(percent, abs=0.5)


# normal_seedlings_percent.csv: lettuce 99 % at 25 °C, 12 at 30; half of 99 lies 0.569 of the way.
# heat_limits.csv: pansy 56 % at 30 °C, 10 at 35; half of 90 lies 0.239 of the way.
@pytest.mark.parametrize(
    ("soil_c", "percent", "expected"),
    [
        ([20.0, 25.0, 30.0], [99.0, 99.0, 12.0], 27.8),
        ([20.0, 25.0, 30.0, 35.0], [90.0, 84.0, 56.0, 10.0], 31.2),
        ([20.0, 25.0], [90.0, 84.0], None),
        ([], [], None),
    ],
)
def test_half_of_the_best_share_is_left_between_the_figures(
    soil_c: list[float], percent: list[float | str], expected: float | None
) -> None:
    assert fails_above(soil_c, percent) == expected


@pytest.mark.parametrize(("soil_c", "share"), [(10, 0.5), (20, 1), (25, 0.75), (30, 0.5)])
def test_normal_seedlings_are_known_up_to_the_last_figure(soil_c: float, share: float) -> None:
    # Straight lines between the figures: 25 °C lies between 80 and 40 %.
    assert share_of_best(soil_c, [10, 20, 30], [40, 80, 40]) == pytest.approx(share)
    assert share_of_best(50, [10, 20], [50, 90]) is None
    assert share_of_best(15, [10, 20], ["not known", "not known"]) is None
