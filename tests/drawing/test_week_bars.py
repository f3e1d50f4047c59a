"""The calendar as bars: what stands in which column, told apart without colour."""

from datetime import date, timedelta
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import structs

from seedstart.days import Window
from seedstart.drawing.lines import Line, as_text, cells_wide
from seedstart.drawing.week_bars import (
    FROST,
    LETTERS,
    SEVERAL,
    TODAY,
    Zoom,
    bar_line,
    first_day_of,
    stretch_for,
    week_bars,
)
from seedstart.planning.calendar.row import STEP_NAMES, Happening, Row, Step, StepName
from seedstart.planning.calendar.scheduler import plan
from seedstart.planning.calendar.sowing_request import Ask, frost_dates, tray_setting
from shipped import with_weeks

MONDAY = date(2027, 3, 1)
ELSEWHERE = date(2020, 1, 1)  # out of sight, where a test is not about today
GUTTER = 19  # at 80 columns: 17 for the name, one for `!`, one for what lies to the left
COLUMNS = 60


def step(name: StepName, *days: int, is_: Happening = "planned") -> Step:
    """A step so many days after MONDAY: one day, or earliest, best and latest."""
    window = Window(*(MONDAY + timedelta(days=day) for day in (days * 3)[:3]))
    return Step(name, window, is_)


def row(*steps: Step, lot: str = "leek", problem: str | None = None) -> Row:
    return Row(lot=lot, number=1, crop="leek", steps=steps, problem=problem)


def bar(one: Row, zoom: Zoom = "days", today: date = ELSEWHERE, frost: date | None = None) -> str:
    """The columns of one row, without its name."""
    stretch = stretch_for(80, MONDAY, today, frost, zoom)
    text = "".join(span.text for span in bar_line(one, stretch, 80))
    assert len(text) == 80
    return text[GUTTER : GUTTER + COLUMNS]


def head(today: date, frost: date | None, zoom: Zoom = "weeks", first: date = MONDAY) -> list[str]:
    """The three lines of the ruler, from its first column on."""
    lines = week_bars([], first, today, frost, 80, zoom)[:3]
    return ["".join(span.text for span in line)[GUTTER:] for line in lines]


def test_a_letter_stands_on_its_day() -> None:
    drawn = bar(row(step("sow", 2), step("emerge", 9), step("set_out", 58)))
    assert [drawn.index(letter) for letter in "suo"] == [2, 9, 58]


def test_a_half_week_is_monday_to_thursday() -> None:
    # columns of two weeks: Mon-Thu, Fri-Sun, Mon-Thu, Fri-Sun
    drawn = [bar(row(step("sow", day)), "weeks").index("s") for day in range(14)]
    assert drawn == [0, 0, 0, 0, 1, 1, 1, 2, 2, 2, 2, 3, 3, 3]


def test_the_days_that_would_do_stand_around_sowing_and_setting_out() -> None:
    drawn = bar(
        row(step("sow", 3, 6, 8), step("prick_out", 15, 20, 30), step("set_out", 40, 42, 49))
    )
    assert drawn[3:6] == "░░░"
    assert drawn[7:9] == "░░"
    assert drawn[9:20] == "·" * 11  # pricking out follows from sowing: its window is not drawn
    assert drawn[21:40] == "·" * 19
    assert drawn[40:50] == "░░o░░░░░░░"
    assert drawn[50:].strip() == ""


def test_planned_expected_and_happened_differ_without_colour() -> None:
    steps = (step("sow", 2, 4, 6), step("emerge", 10, 14, 18), step("set_out", 30, 33, 36))
    planned = bar(row(*steps))
    happened = structs.replace(steps[0], is_="happened")
    later = [structs.replace(one, is_="expected") for one in steps[1:]]
    expected = bar(row(happened, *later))
    assert planned[2:37] == "░░s░░" + "·" * 7 + "u" + "·" * 15 + "░░░o░░░"
    # what comes next keeps its window: emergence, once sown
    assert expected[4:37] == "S" + "─" * 5 + "════u════" + "─" * 11 + "═══o═══"
    up = structs.replace(steps[1], is_="happened")
    assert bar(row(happened, up, later[1]))[4:15] == "S━━━━━━━━━U"


def test_the_lines_of_today_and_of_the_frost_run_through_bars_and_blanks() -> None:
    today, frost = MONDAY + timedelta(days=5), MONDAY + timedelta(days=50)
    drawn = bar(row(step("sow", 2, 4, 8)), "days", today, frost)
    assert drawn.index(TODAY) == 5
    assert drawn.index(FROST) == 50
    assert drawn[2:9] == "░░s│░░░"
    on_sowing = bar(row(step("sow", 4)), "days", MONDAY + timedelta(days=4), frost)
    assert on_sowing[4] == "s"


def test_letters_of_one_half_week_stand_side_by_side_and_sowing_keeps_its_place() -> None:
    drawn = bar(row(step("treat", 7), step("sow", 8), step("emerge", 10)), "weeks")
    assert drawn[:4].strip() == "tsu"
    assert drawn.index("s") == 2
    crowded = bar(row(step("sow", 0), step("emerge", 1), step("prick_out", 2)), "weeks")
    assert crowded.strip() == f"s{SEVERAL}"


def test_steps_of_one_day_are_one_sign_where_a_column_is_a_day() -> None:
    assert bar(row(step("pot_on", 9), step("harden", 9), step("set_out", 19)))[9] == SEVERAL


def test_what_lies_out_of_sight_is_pointed_at() -> None:
    stretch = stretch_for(80, MONDAY, ELSEWHERE, None, "days")
    early = as_text(bar_line(row(step("sow", -20), step("set_out", 5)), stretch, 80))
    late = as_text(bar_line(row(step("sow", 5), step("set_out", 90)), stretch, 80))
    assert early[GUTTER - 1] == "‹"
    assert not early.endswith("›")
    assert late[GUTTER - 1] == " "
    assert late.endswith("›")


def test_the_ruler_numbers_weeks_as_iso_8601_across_a_year_of_53() -> None:
    # ISO 8601: 2026 begins on a Thursday, so it has 53 weeks; W01 of 2027 begins on 4 January.
    months, weeks, _ = head(ELSEWHERE, None, first=date(2026, 12, 16))
    assert weeks.split()[:4] == ["51", "53", "02", "04"]
    assert months.index("Jan 2027") == 5  # 1 January is the Friday of the third week
    _, by_day, _ = head(ELSEWHERE, None, "days", first=date(2026, 12, 16))
    assert by_day.split()[:4] == ["W51", "W52", "W53", "W01"]


def test_the_ruler_points_at_today_and_at_the_frost() -> None:
    marks = head(date(2027, 3, 15), date(2027, 5, 12))[2]
    assert marks.index("▾ today 15 Mar") == 4  # the third week
    assert marks.index("▾ frost 12 May") == 20  # the eleventh
    near = head(date(2027, 5, 8), date(2027, 5, 12))[2]
    assert near.index("today 8 May ▾") + len("today 8 May ") == 19
    assert near.index("▾ frost 12 May") == 20
    one = head(date(2027, 5, 11), date(2027, 5, 12))[2]  # one half week
    assert one.index("▾ today 11 May, frost 12 May") == 20
    corner = head(MONDAY, date(2027, 3, 6))[2]
    assert corner.startswith("▾▾ today 1 Mar, frost 6 Mar")
    gone = head(date(2027, 2, 1), date(2027, 2, 5))[2]
    assert gone.startswith("‹ today 1 Feb, frost 5 Feb")
    beyond = head(date(2027, 2, 1), date(2028, 5, 12))[2]
    assert beyond.startswith("‹ today 1 Feb")
    assert beyond.rstrip().endswith("frost 12 May ›")


DAYS = st.dates(date(2026, 1, 1), date(2029, 1, 1))


@settings(derandomize=True, deadline=None)
@given(first=DAYS, today=DAYS, frost=st.none() | DAYS, width=st.integers(40, 220))
@pytest.mark.parametrize("zoom", ["weeks", "days"])
def test_no_line_is_wider_than_the_window(
    zoom: Zoom, first: date, today: date, frost: date | None, width: int
) -> None:
    rows = [
        row(step("sow", 1, 5, 9), step("set_out", 60), lot="胡蘿蔔胡蘿蔔胡蘿蔔胡蘿蔔胡蘿蔔"),
        row(lot="Früher Möhrentraum aus dem Norden, 2025", problem="too cold here: " * 20),
    ]
    lines = week_bars(rows, first, today, frost, width, zoom)
    assert all(sum(cells_wide(span.text) for span in line) <= width for line in lines)
    if width >= 80:
        said = as_text(lines[2])
        assert "today" in said
        assert frost is None or "frost" in said


def test_a_row_without_dates_says_why() -> None:
    lines = week_bars([row(problem="too cold: leek needs 5 °C")], MONDAY, MONDAY, None, 80, "weeks")
    assert as_text(lines[3]).split("!")[1].strip() == "too cold: leek needs 5 °C"


def test_the_legend_explains_every_sign() -> None:
    legend = " ".join(as_text(line) for line in week_bars([], MONDAY, MONDAY, None)[4:])
    assert all(f"{letter} " in legend for letter in LETTERS.values())
    assert all(sign in legend for sign in (*"░·═─━", SEVERAL, TODAY, FROST))


@pytest.mark.parametrize("name", STEP_NAMES)
def test_every_step_has_a_letter_of_its_own(name: StepName) -> None:
    assert bar(row(step(name, 7)))[7] == LETTERS[name]
    assert bar(row(step(name, 7, is_="happened")))[7] == LETTERS[name].upper()
    assert len({*LETTERS.values()}) == len(STEP_NAMES)


def test_the_letters_of_every_shipped_crop_stand_in_order_of_time() -> None:
    frost = frost_dates(date(2027, 5, 12), 50)
    rows = [plan(Ask(crop=crop, where=tray_setting(crop), frost=frost)) for crop in with_weeks()]
    first = first_day_of(rows)
    assert first is not None
    zooms: tuple[Zoom, ...] = ("weeks", "days")
    for one, zoom in product([one for one in rows if one.sow_day], zooms):
        stretch = stretch_for(400, first, ELSEWHERE, None, zoom)  # wide enough for all of it
        text = "".join(span.text for span in bar_line(one, stretch, 400))[24 + 2 :]
        drawn = [sign for sign in text if sign in LETTERS.values() or sign == SEVERAL]
        wanted = [LETTERS[step.name] for step in one.steps if step.window]
        if SEVERAL in drawn:
            assert len(drawn) < len(wanted)
        else:
            assert drawn == wanted, one.crop


def test_nothing_to_draw_is_a_ruler_and_a_legend() -> None:
    lines: list[Line] = week_bars([], MONDAY, MONDAY, None)
    assert first_day_of([]) is None
    assert as_text(lines[3]) == ""
