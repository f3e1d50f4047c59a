"""What another plan moves: counted, by how many days, what ends, what could not be sown in time."""

from datetime import date, timedelta

from seasons import HEAD, lot, season
from seedstart.days import Window
from seedstart.planning.calendar.frost_dates import frost_dates
from seedstart.planning.calendar.moves import in_short, moves, moves_in_words
from seedstart.planning.calendar.row import Row, Step
from seedstart.planning.calendar.season_rows import season_rows
from seedstart.planning.frost_answer import risk_moves

TODAY, LAST = date(2027, 4, 1), date(2027, 5, 12)


def row(lot: str, day: int | None, *, sown: bool = False) -> Row:
    """A row to be sown (or, sown, to be set out) so many days after today; within four days."""
    if day is None:
        return Row(lot=lot, number=1, crop="leek", sowing_id=lot if sown else None)
    best = TODAY + timedelta(days=day)
    window = Window(best, best, best + timedelta(days=4))
    step = Step("set_out" if sown else "sow", window, "expected")
    return Row(lot=lot, number=1, crop="leek", steps=(step,), sowing_id=lot if sown else None)


def test_what_moves_alike_is_said_together_and_what_stays_is_not() -> None:
    before = [row("a", 10), row("b", 10), row("c", 10), row("d", 10, sown=True)]
    after = [row("a", 17), row("b", 17), row("c", 10), row("d", 9, sown=True)]
    assert moves_in_words(moves(before, after, TODAY)) == [
        "2 sowings would be sown 7 days later: a, b.",
        "1 sowing would be set out 1 day earlier: d.",
    ]
    assert moves_in_words(moves(before, after, TODAY), done=True)[0].startswith("2 sowings are")


def test_what_could_not_be_sown_in_time_and_what_loses_its_day_is_said() -> None:
    before = [row("a", 1), row("b", 1), row("c", None)]
    after = [row("a", -6), row("b", None), row("c", 3)]
    found = moves(before, after, TODAY)
    assert moves_in_words(found) == [
        "1 sowing would be sown 7 days earlier: a.",
        "1 sowing would have no day to be sown: b.",
        "1 sowing would get a day to be sown: c.",
        "Too late to sow 1 sowing: a.",
    ]
    assert in_short(found) == "1 sowing 7 days earlier, 1 too late to sow"


def test_many_different_moves_are_said_as_a_span() -> None:
    before = [row(name, 30) for name in "abcde"]
    after = [row(name, 30 + by) for name, by in zip("abcde", (-3, -9, 2, 5, 8), strict=True)]
    assert moves_in_words(moves(before, after, TODAY)) == [
        "2 sowings would be sown 3 to 9 days earlier: a, b.",
        "3 sowings would be sown 2 to 8 days later: c, d, e.",
    ]
    assert in_short(moves(before, after, TODAY)) == "5 sowings by up to 9 days"
    assert moves_in_words(moves(before, before, TODAY)) == ["No sowing moves."]
    assert in_short(()) == "nothing moves"


def test_a_risk_names_the_day_that_it_waits_for_and_moves_tender_sowings_alone() -> None:
    plan = season(
        lot("leek", "leek", station='"shelf"') + lot("pepper", "pepper", station='"mat"'),
        HEAD.replace("last = 2027-05-12", "last = 2027-05-12\ntender_risk_percent = 10"),
    )
    rows = season_rows(plan, TODAY)
    found = risk_moves(plan, TODAY, rows, lambda other: season_rows(other, TODAY))
    assert [one.risk_percent for one in found] == [50, 30, 20, 10, 5]
    assert [one.wait_for for one in found if one.is_taken] == [frost_dates(LAST, 50, 10).trusted]
    assert {move.name for one in found for move in one.moves or ()} == {"pepper"}
    assert [one.moves for one in risk_moves(plan, TODAY, rows, None)][::3] == [None, ()]
    assert risk_moves(season("", HEAD.split("[frost]")[0]), TODAY, (), None) == ()
