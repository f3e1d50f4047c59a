"""The emergence of a sowing: counts as bars, what is still to come, and the same in words."""

from datetime import date

from msgspec import structs

from notebook import moment
from seedstart.days import Window
from seedstart.drawing.emergence_bars import bars_in_words, emergence_bars, signs_in_words
from seedstart.drawing.lines import as_text, cells_wide
from seedstart.drawing.measured_curves import outlook_lines
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


def drawn(found: Prospect, width: int = 78, height: int = 12) -> list[str]:
    return [as_text(line) for line in emergence_bars(found, width, height)]


def told(found: Prospect, width: int = 78) -> str:
    return " ".join(" ".join(as_text(line) for line in outlook_lines(found, width)).split())


def rows_of(found: Prospect) -> dict[int, str]:
    """The rows of seedlings by the number that each is marked with."""
    lines = drawn(found)[1:-1]
    return {int(line[:4]): line[4:] for line in lines if line[:4].strip()}


def test_each_count_is_a_bar_as_high_as_it_is_and_has_its_figure_above_it() -> None:
    lines, rows = drawn(OPEN), rows_of(OPEN)
    assert lines[0].startswith(" 40 ┄")
    assert lines[0].endswith("┄ sown")
    # In rows of 4: 4 fills the first; 22 fills five, and half of the sixth.
    assert list(rows) == [36, 32, 28, 24, 20, 16, 12, 8, 4, 0]
    at = rows[12].index("█")
    assert [rows[number][at] for number in (20, 16, 12, 8, 4)] == ["█"] * 5
    assert rows[24][at] == "▄"
    assert rows[28][at : at + 3].strip() == "22"
    assert rows[4].index("█") < at
    assert rows[8].index("4") == rows[4].index("█") + 2


def test_days_stand_under_their_bars_from_the_day_of_sowing() -> None:
    days = drawn(OPEN)[-1]
    # Sown on 1 March; the second count, on day 12, was the 13th.
    assert days.split()[:4] == ["1", "Mar", "3", "4"]
    assert days.index("13") == drawn(OPEN)[-6].index("█")


def test_past_the_last_count_stand_the_likely_number_and_its_band() -> None:
    rows = rows_of(OPEN)
    low, best, high = COMING.total(0.95)
    assert (low, round(best), high) == (23, 27, 33)
    assert rows[28].endswith("─      27")
    assert rows[36].strip() == "░░░"
    assert rows[24].endswith("▄▄▄ ░░░░░░░░░░░░")
    closed = structs.replace(OPEN, is_open=False)
    assert not set("░") & set("".join(drawn(closed)))


def test_in_words_each_count_has_its_day_and_what_is_likely_its_interval() -> None:
    words = " ".join(as_text(line) for line in bars_in_words(OPEN, 78))
    # Days 8 and 12 after 1 March; the interval is the drawing's, nine in ten by its 14 March.
    assert words == (
        "Up of 40 sown: 9 Mar 4, 13 Mar 22. "
        "Likely 27 in all (23 to 33), nine in ten of them by 14 Mar."
    )


def test_every_height_and_width_is_kept_to() -> None:
    for width in (30, 60, 78, 118):
        for height in (6, 10, 20):
            lines = drawn(OPEN, width, height)
            assert max(map(cells_wide, lines)) <= width
            assert len(lines) <= height


def test_what_is_still_to_come_goes_on_from_the_last_count() -> None:
    # At 1.2 of the way 1 / (1 + (1 / 1.2)^10.8) = 0.877 of those that come are up: of 18 missing
    # seeds each is alive with 0.85 × 0.123 / (1 - 0.85 × 0.877) = 0.41 where the packet holds, and
    # where it does not with less.
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
        sowing="1", name="leek", zero=moment("3-01"), days_now=9, up=4, counts=((8.0, 4),),
        unknown="Its seeds were not counted, so no number is expected.",
    )  # fmt: skip
    lines = drawn(bare)
    assert sum("█" in line for line in lines) == 4
    assert "sown" not in "".join(lines)
    assert [as_text(line) for line in signs_in_words(bare, 78)] == ["█ counted"]
    assert "not counted" in told(bare)


def test_with_nothing_to_draw_it_says_why() -> None:
    none = Prospect(
        sowing="1", name="leek", seeds=40,
        unknown="Its seed is still in the cold.",
    )  # fmt: skip
    assert drawn(none) == ["No bars: Its seed is still in the cold."]
