"""The emergence of a sowing, drawn: counts, what was expected, what is still to come."""

from seedstart.drawing.emergence_curve import emergence_lines, outlook_lines
from seedstart.drawing.lines import as_text
from seedstart.growing.still_to_come import still_to_come
from seedstart.planning.sowing_outlook import Advice, SowingOutlook, TimeCurve, Totals

OPEN = SowingOutlook(
    name="leek",
    zero=None,
    chilled=False,
    days_now=12,
    seeds=40,
    counts=((8.0, 4), (12.0, 22)),
    time=TimeCurve(half_days=10, slope=11.0, early=8, late=12.5),
    totals=Totals(26, 34.0, 39),
    still=still_to_come(40, 22, 0.88, 0.85),
    rests_on="34 of 40 came up in your test",
    assumed="By the warmth measured at the mat.",
    advice=Advice("wait", "It still gives the 20 plants wanted."),
)


def drawn(found: SowingOutlook, width: int = 78, height: int = 16) -> list[str]:
    return [as_text(line) for line in emergence_lines(found, width, height)]


def told(found: SowingOutlook, width: int = 78) -> str:
    return " ".join(" ".join(as_text(line) for line in outlook_lines(found, width)).split())


def test_each_count_is_a_point_and_the_seeds_are_a_level() -> None:
    lines = drawn(OPEN)
    assert sum(line.count("●") for line in lines[:16]) == 2
    assert sum("┄" in line and "40 sown" in line for line in lines) == 1
    assert "● counted" in lines[16]


def test_the_forecast_goes_on_from_the_last_count() -> None:
    # 18 missing seeds, each still alive with 0.85 x 0.12 / (1 - 0.85 x 0.88) = 0.405: 7.3 of them
    assert "expected, then forecast" in " ".join(drawn(OPEN))
    assert "22 were up on day 12; some 7 more are to be expected" in told(OPEN)


def test_advice_comes_first_and_every_figure_says_what_it_rests_on() -> None:
    text = told(OPEN)
    assert text.startswith("Wait: It still gives the 20 plants wanted.")
    assert "Some 34 of 40 may be expected, 26 to 39 in nine sowings of ten" in text
    assert "34 of 40 came up in your test" in text
    assert "By the warmth measured at the mat." in text


def test_without_a_number_the_counts_are_drawn_alone() -> None:
    bare = SowingOutlook(
        name="leek", zero=None, chilled=True, days_now=9, seeds=None, counts=((8.0, 4),),
        unknown="Its seeds were not counted, so no number is expected.",
    )  # fmt: skip
    lines = drawn(bare)
    assert sum(line.count("●") for line in lines[:16]) == 1
    assert "days since the cold" in lines[0]
    assert "expected" not in lines[16]
    assert "not counted" in told(bare)


def test_with_nothing_to_draw_it_says_why() -> None:
    none = SowingOutlook(
        name="leek", zero=None, chilled=False, days_now=0, seeds=40, counts=(),
        unknown="Its seed is in the cold: its days have not begun.",
    )  # fmt: skip
    assert drawn(none) == ["No curve: Its seed is in the cold: its days have not begun."]


def test_it_never_is_wider_than_asked() -> None:
    for width in (30, 60, 78, 118):
        assert all(len(line) <= width for line in drawn(OPEN, width))
