"""The emergence of a sowing, drawn: counts, what was expected, what is still to come."""

from datetime import date

from notebook import moment
from seedstart.days import Window
from seedstart.drawing.lines import as_text
from seedstart.drawing.measured_curves import emergence_lines, outlook_lines
from seedstart.growing.coming_up import coming_up
from seedstart.growing.germination_belief import Belief
from seedstart.growing.tried_speeds import Look, Speed
from seedstart.planning.prospects.prospect import Advice, Prospect

COMING = coming_up(40, Belief(850, 150), Speed(1.0, 0.0, 10.8), (Look(0.8, 4), Look(1.2, 22)))
OPEN = Prospect(
    sowing="1",
    name="leek",
    zero=moment("3-01"),
    days_now=12,
    seeds=40,
    up=22,
    counts=((8.0, 4), (12.0, 22)),
    looked_at=moment("3-13"),
    days_looked=2,
    first=Window(date(2027, 3, 8), date(2027, 3, 9), date(2027, 3, 10)),
    half=Window(date(2027, 3, 10), date(2027, 3, 11), date(2027, 3, 13)),
    nine_in_ten=Window(date(2027, 3, 12), date(2027, 3, 14), date(2027, 3, 16)),
    total=COMING.total(0.95),
    more=COMING.expected_more,
    chance_of_more=COMING.chance_of(1),
    coming=COMING,
    course=tuple((day, day / 10) for day in range(20)),
    rests_on="34 of 40 came up in your test",
    assumed="By the warmth measured at the mat.",
    advice=Advice("wait", "The 20 plants wanted come."),
)


def drawn(found: Prospect, width: int = 78, height: int = 16) -> list[str]:
    return [as_text(line) for line in emergence_lines(found, width, height)]


def told(found: Prospect, width: int = 78) -> str:
    return " ".join(" ".join(as_text(line) for line in outlook_lines(found, width)).split())


def test_each_count_is_a_point_and_the_seeds_are_a_level() -> None:
    lines = drawn(OPEN)
    assert sum(line.count("●") for line in lines[:16]) == 2
    assert sum("┄" in line and "40 sown" in line for line in lines) == 1
    assert "● counted" in lines[16]


def test_the_forecast_goes_on_from_the_last_count() -> None:
    # At 1.2 of the way 1 / (1 + (1 / 1.2)^10.8) = 0.877 of those that come are up: of 18 missing
    # seeds each is alive with 0.85 × 0.123 / (1 - 0.85 × 0.877) = 0.41 where the packet holds, and
    # where it does not with less.
    assert "as counted, then forecast" in " ".join(drawn(OPEN))
    more = COMING.expected_more
    assert 3 < more < 7.5
    text = told(OPEN)
    assert f"22 of 40 were up by 13 Mar; about {more:.0f} more are likely" in text


def test_days_are_told_with_how_sure_they_are_and_how_often_it_was_looked_at() -> None:
    text = told(OPEN)
    assert (
        "one in ten is expected by day 8, half by day 10 (9 to 12), nine in ten by day 13" in text
    )
    assert "It was counted at 2 looks only." in text


def test_advice_comes_first_and_every_figure_says_what_it_rests_on() -> None:
    text = told(OPEN)
    assert text.startswith("Wait: The 20 plants wanted come.")
    assert "19 times in 20" in text
    assert "34 of 40 came up in your test" in text
    assert "By the warmth measured at the mat." in text


def test_without_a_number_the_counts_are_drawn_alone() -> None:
    bare = Prospect(
        sowing="1", name="leek", chilled=True, days_now=9, up=4, counts=((8.0, 4),),
        unknown="Its seeds were not counted, so no number is expected.",
    )  # fmt: skip
    lines = drawn(bare)
    assert sum(line.count("●") for line in lines[:16]) == 1
    assert "days since the cold" in lines[0]
    assert "expected" not in lines[16]
    assert "not counted" in told(bare)


def test_with_nothing_to_draw_it_says_why() -> None:
    none = Prospect(
        sowing="1", name="leek", seeds=40,
        unknown="Its seed is still in the cold.",
    )  # fmt: skip
    assert drawn(none) == ["No curve: Its seed is still in the cold."]


def test_it_never_is_wider_than_asked() -> None:
    for width in (30, 60, 78, 118):
        assert all(len(line) <= width for line in drawn(OPEN, width))
