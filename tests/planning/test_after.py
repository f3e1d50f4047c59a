from datetime import date, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from seedstart.days import Window
from seedstart.planning.calendar.frost_dates import frost_dates
from seedstart.planning.calendar.reschedule import Happened, row_today
from seedstart.planning.calendar.row import STEP_NAMES, Row, StepName
from seedstart.planning.calendar.scheduler import plan
from seedstart.planning.calendar.sowing_request import Ask, Where
from seedstart.units import steady
from shipped import crop

FROST = date(2027, 5, 12)
PEPPER = Ask(
    crop=crop("pepper"),
    where=Where("mat", steady(24)),
    frost=frost_dates(FROST, 50, 10),
    lot="pepper",
)
PLAN = plan(PEPPER)


def day(row: Row, step: StepName) -> date:
    window = row.window(step)
    assert window is not None
    return window.best


SOW = day(PLAN, "sow")


def after(today: date, **days: date) -> Row:
    named: dict[StepName, date] = {name: days[name] for name in STEP_NAMES if name in days}
    return row_today(PEPPER, Happened(sowing="pepper", stations=("mat",), days=named), today)


def is_(row: Row) -> dict[str, str]:
    return {step.name: step.is_ for step in row.steps}


def test_a_sowing_passed_undone_is_expected_today_and_moves_what_follows() -> None:
    assert row_today(PEPPER, None, SOW) == PLAN
    today = SOW + timedelta(days=4)
    row = row_today(PEPPER, None, today)
    assert day(row, "sow") == today
    assert day(row, "emerge") == day(PLAN, "emerge") + timedelta(days=4)
    assert set(is_(row).values()) == {"expected"}
    assert any("It should have been sown on" in reason.text for reason in row.reasons)
    latest = PLAN.window("sow")
    assert latest is not None
    late = row_today(PEPPER, None, latest.latest + timedelta(days=10))
    assert any("Its sowing time ended" in warning for warning in late.warnings)


def test_once_sown_the_dates_after_it_are_counted_from_that_day() -> None:
    late = SOW + timedelta(days=10)
    row = after(late, sow=late)
    assert row.window("sow") == Window.on(late)
    assert is_(row)["sow"] == "happened"
    assert is_(row)["emerge"] == "expected"
    assert day(row, "emerge") == day(PLAN, "emerge") + timedelta(days=10)
    assert row.sowing == "pepper"


def test_measured_warmth_moves_emergence() -> None:
    window = Window(SOW + timedelta(days=5), SOW + timedelta(days=7), SOW + timedelta(days=9))
    happened = Happened(
        sowing="pepper",
        stations=("mat",),
        days={"sow": SOW},
        expected_up=window,
        rests_on="By what the mat measured.",
    )
    row = row_today(PEPPER, happened, SOW)
    assert row.window("emerge") == window
    assert row.reasons[-1].text == "By what the mat measured."


def test_what_is_overdue_is_expected_today_and_said() -> None:
    # emergence_days.csv: 8 to 13 days at 25 to 20 °C; trays 1.6 times that, no 40.
    planned = PLAN.window("emerge")
    assert planned is not None
    assert 1.6 * 8 - 1 <= (planned.best - SOW).days <= 1.6 * 13
    today = SOW + timedelta(days=40)
    row = after(today, sow=SOW)
    assert day(row, "emerge") == today
    assert any("should have been up by" in warning for warning in row.warnings)


def test_later_steps_are_counted_from_the_emergence_that_happened() -> None:
    up = day(PLAN, "emerge") - timedelta(days=3)
    row = after(up, sow=SOW, emerge=up)
    for today in (up, up + timedelta(days=100)):
        assert after(today, sow=SOW, emerge=up).window("emerge") == Window.on(up)
    shift = (day(row, "prick_out") - day(PLAN, "prick_out")).days
    assert shift == -3
    # Plants that are ready early still wait for the trusted date: 17 days after the average of
    # 12 May (freeze_normals.csv).
    assert day(row, "set_out") == date(2027, 5, 29)


def test_a_late_step_moves_the_ones_after_it() -> None:
    up = day(PLAN, "emerge")
    pricked = day(PLAN, "prick_out") + timedelta(days=6)
    on_time = after(up, sow=SOW, emerge=up)
    late = after(pricked, sow=SOW, emerge=up, prick_out=pricked)
    assert day(late, "pot_on") == day(on_time, "pot_on") + timedelta(days=6)


def test_a_step_the_grower_left_out_is_gone_once_a_later_one_has_happened() -> None:
    up = day(PLAN, "emerge")
    potted = day(PLAN, "pot_on")
    row = after(potted, sow=SOW, emerge=up, pot_on=potted)
    assert "prick_out" not in is_(row)


def test_a_sowing_that_is_over_has_nothing_to_come() -> None:
    happened = Happened(sowing="pepper", stations=("mat",), days={"sow": SOW}, over=True)
    row = row_today(PEPPER, happened, SOW + timedelta(days=30))
    assert is_(row) == {"sow": "happened"}


def test_seed_sown_where_nothing_comes_up_is_recorded_and_has_the_reason() -> None:
    # emergence_days.csv, Harrington & Minges 1954: pepper at 15 °C after 25 days, at 10 °C never.
    cold = Ask(crop=crop("pepper"), where=Where("sill", steady(12)), frost=frost_dates(FROST))
    happened = Happened(sowing="pepper", stations=("sill",), days={"sow": SOW})
    row = row_today(cold, happened, SOW)
    assert is_(row) == {"sow": "happened"}
    assert "is below 15 °C, the coldest at which pepper came up in" in (row.problem or "")


@given(
    st.integers(-30, 60),
    st.lists(st.integers(0, 30), min_size=1, max_size=6),
    st.integers(0, 200),
)
@settings(max_examples=200)
def test_whatever_happened_windows_are_in_order_and_nothing_is_expected_before_today(
    start: int, gaps: list[int], later: int
) -> None:
    names: list[StepName] = ["sow", "emerge", "prick_out", "pot_on", "harden", "set_out"]
    at = SOW + timedelta(days=start)
    days: dict[StepName, date] = {}
    for name, gap in zip(names, [0, *gaps], strict=False):
        at += timedelta(days=gap)
        days[name] = at
    today = at + timedelta(days=later)
    row = row_today(PEPPER, Happened(sowing="p", stations=("mat",), days=days), today)
    bests = []
    for step in row.steps:
        assert step.window is not None
        assert step.window.earliest <= step.window.best <= step.window.latest
        if step.is_ == "expected":
            assert step.window.best >= today
        bests.append(step.window.best)
    assert bests == sorted(bests)
