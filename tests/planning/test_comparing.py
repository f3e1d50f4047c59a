"""Lots beside each other: what is shown, what is left out, and in what words."""

from datetime import timedelta
from typing import Any

import pytest

from notebook import Notebook, as_read, moment
from seasons import lot, season
from seedstart.drawing.compare_sheet import compare_lines, sentences
from seedstart.drawing.lines import as_text
from seedstart.growing.germination.lot_tests import SpeedTested
from seedstart.planning.lots.comparing import By, Comparison, compare
from seedstart.planning.lots.lot_course import in_warmth_now
from seedstart.planning.prospects.to_come import emerging_of
from seedstart.season.journal.entries import Counted, Soaked, Sown, TakenOut
from seedstart.units import steady

LOTS = "".join(lot(name, "tomato", station='"mat"') for name in ("plum", "cherry", "beef"))
PLAN = season(LOTS)
# Day of March → up so far. Plum and cherry of the drawn example: 17 of 22 and 13 of 21.
PLUM = {"3-07": 0, "3-08": 4, "3-09": 10, "3-10": 14, "3-12": 16, "3-14": 17, "3-24": 17}
LATE = {"3-08": 0, "3-10": 1, "3-12": 6, "3-13": 9, "3-15": 12, "3-17": 13, "3-24": 13}


def sow(
    book: Notebook, name: str, of: str, seeds: int, counts: dict[str, int], **more: Any
) -> None:
    closed = more.pop("closed", True)
    book.write(Sown, "3-01", sowing=name, lot=of, seeds=seeds, **{"station": "mat", **more})
    for day, up in counts.items():
        book.write(Counted, day, sowing=name, standing=up, final=closed and day == list(counts)[-1])


def compared(book: Notebook, *names: str, by: By = "lot") -> Comparison:
    return compare([PLAN.lots_by_name[one] for one in names], PLAN, book.records(LOTS), by)


def page(found: Comparison) -> str:
    return " ".join(" ".join(as_text(line) for line in compare_lines(found, 80)).split())


def test_two_lots_are_told_apart_by_speed_and_not_by_how_many() -> None:
    book = Notebook()
    sow(book, "plum", "plum", 22, PLUM)
    sow(book, "cherry", "cherry", 21, LATE)
    found = compared(book, "plum", "cherry")
    (pair,) = found.pairs
    # scipy 1.17.1: fisher_exact([[17, 5], [13, 8]]).pvalue
    assert pair.how_many.p == pytest.approx(0.33188888, abs=1e-8)
    said = sentences(found)
    assert said[0] == "No difference shown in how many came up."
    assert said[1].startswith("plum came up earlier, by 2 to ")
    assert "same" not in page(found)
    # Fleiss' formula by hand for 77.27 and 61.90 in 100: (1.2753 + 0.5399)² / 0.1537² = 139.5
    assert pair.seeds_needed == 140
    assert "about 140 seeds of each" in page(found)
    assert "All of it came up at one place: mat." in page(found)


def test_a_difference_in_how_many_names_the_better_one() -> None:
    book = Notebook()
    sow(book, "plum", "plum", 60, {"3-08": 10, "3-10": 40, "3-12": 50, "3-20": 54})
    sow(book, "cherry", "cherry", 60, {"3-08": 5, "3-10": 18, "3-12": 26, "3-20": 30})
    found = compared(book, "cherry", "plum")
    assert sentences(found)[0] == "More of plum came up than of cherry: 90 against 50 in 100."
    assert found.pairs[0].course is not None  # looked at on the same days


def test_what_had_no_fair_chance_and_what_is_still_open_is_left_out_with_the_reason() -> None:
    book = Notebook()
    sow(book, "plum", "plum", 22, PLUM)
    sow(book, "plum/2", "plum", 22, {"3-10": 3}, closed=False)
    sow(book, "cherry", "cherry", 21, LATE)
    sow(book, "cherry/2", "cherry", 40, {"3-10": 2})
    found = compared(book, "plum", "cherry")
    why = {one.sowing: one.why for one in found.left_out}
    assert why["plum/2"] == "still open"
    assert "fewer than half up" in why["cherry/2"]
    assert "Left out: plum/2 (still open)." in page(found)


def test_many_pairs_at_once_are_held_to_more() -> None:
    book = Notebook()
    for name, up in (("plum", 52), ("cherry", 42), ("beef", 45)):
        sow(book, name, name, 60, {"3-09": up // 3, "3-11": up // 2, "3-13": up - 2, "3-20": up})
    found = compared(book, "plum", "cherry", "beef")
    assert len(found.pairs) == 3
    worst = min(found.pairs, key=lambda one: one.how_many.p)
    assert worst.how_many.p < 0.05 < worst.how_many_p
    assert "after Holm" in page(found)
    assert all("no difference shown in how many" in text for text in sentences(found)[::2])


def test_trays_that_differ_more_than_coins_do_are_the_unit() -> None:
    book = Notebook()
    for lot_, ups in (("plum", (18, 6, 15)), ("cherry", (12, 4, 12))):
        for number, up in enumerate(ups, 1):
            counts = {"3-09": up // 2, "3-20": up}
            sow(book, f"{lot_}/{number}", lot_, 20, counts)
    found = compared(book, "plum", "cherry")
    assert found.trays_differ
    assert found.pairs[0].how_many_by == "beta-binomial"
    assert not found.pairs[0].shown
    assert "seeds of a tray fare alike" in page(found)


def test_treatments_and_stations_of_one_lot_stand_beside_each_other() -> None:
    book = Notebook()
    soak = book.write(Soaked, "2-27", lot="plum", hours=12)
    book.write(TakenOut, "2-28", entry=soak.id)
    sow(book, "plum", "plum", 22, PLUM, after=(soak.id,))
    sow(book, "plum/2", "plum", 21, LATE, station="shelf")
    treated = compared(book, "plum", by="treatment")
    assert [side.name for side in treated.sides] == ["soaked", "untreated"]
    assert "warmth may be the reason too: soaked mat, untreated shelf" in page(treated)
    assert [side.name for side in compared(book, "plum", by="station").sides] == ["mat", "shelf"]


def judged(book: Notebook, name: str, of: str, seeds: int, normals: tuple[int, ...]) -> None:
    for number, normal in enumerate(normals, 1):
        sowing = f"{name} {number}"
        more: dict[str, Any] = {"purpose": "test", "on": "paper", "replicate": number}
        book.write(Sown, "2-01", sowing=sowing, lot=of, seeds=seeds, **more)
        ended: dict[str, Any] = {
            "normal": normal,
            "abnormal": 0,
            "hard": 0,
            "fresh": 0,
            "dead": seeds - normal,
        }
        book.write(Counted, "2-14", sowing=sowing, standing=normal, final=True, **ended)


def test_replicates_of_a_test_are_judged_by_the_printed_table_where_one_applies() -> None:
    book = Notebook()
    # ista_tolerances.csv (7 CFR 201.55): at a mean of 91 four may lie 11 apart, and these do.
    judged(book, "a", "plum", 100, (96, 92, 85, 91))
    judged(book, "b", "cherry", 50, (40, 41, 39, 44))
    sow(book, "plum", "plum", 22, PLUM)
    found = compared(book, "plum", "cherry")
    assert found.of_tests
    text = page(found)
    assert "11 points apart, within the 11 that are allowed at 91 % (7 CFR 201.55" in text
    assert "cherry: printed tolerances are for 4 × 100 (or 2 × 100); none applies." in text
    assert "ISTA" not in text
    assert {one.sowing: one.why for one in found.left_out}["plum"] == (
        "a tray; its tests count instead"
    )


def test_what_was_never_looked_at_in_time_is_compared_by_how_many_alone() -> None:
    book = Notebook()
    sow(book, "plum", "plum", 22, {"3-24": 17})
    sow(book, "cherry", "cherry", 21, LATE)
    said = sentences(compared(book, "plum", "cherry"))
    assert said[1] == ("Speed is not compared (all that came up were found at one look).")


def test_lots_without_anything_closed_say_so() -> None:
    found = compared(Notebook(), "plum", "cherry")
    assert "Nothing of these is closed" in page(found)


def one_lot_at_two_stations() -> Notebook:
    """Plum on the mat at 24 °C, cherry on the shelf at 20 °C: each as late as its warmth makes it.

    The days are those of tomato at 25 and 20 °C, 6 and 8 (emergence_days.csv, Harrington & Minges
    1954), read between them by the crop's own curve.
    """
    curve = emerging_of(PLAN.crops.crops["tomato"]).curve
    book = Notebook()
    for name, station, c in (("plum", "mat", 24.0), ("cherry", "shelf", 20.0)):
        book.write(Sown, "3-01", sowing=name, lot=name, seeds=60, station=station)
        for part, up in zip((0.8, 0.95, 1.1, 1.25, 1.5, 3.0), (0, 12, 34, 46, 52, 52), strict=True):
            at = moment("3-01") + timedelta(days=part * curve.days(steady(c)))
            book.write(Counted, as_read(at), sowing=name, standing=up, final=part == 3.0)
    return book


def test_in_warmth_a_colder_station_is_no_slower_lot() -> None:
    book = one_lot_at_two_stations()
    lots = [PLAN.lots_by_name[one] for one in ("plum", "cherry")]
    (in_days,) = compared(book, "plum", "cherry").pairs
    assert in_days.speed_shown
    warm = in_warmth_now(PLAN, {}, moment("4-20"))
    found = compare(lots, PLAN, book.records(LOTS), in_warmth=warm)
    (pair,) = found.pairs
    assert isinstance(pair.speed, SpeedTested)
    assert not pair.speed_shown
    assert abs(pair.speed.days) < 0.01
    assert pair.course is None
    text = page(found)
    assert "day " not in text.partition("half up by")[2].partition("Chance alone")[0]
    assert "1 is the day of the crop's table" in text
    assert "Measured only plum for 0 in 100 of its time and cherry for 0 in 100" in text


def test_crops_that_are_timed_by_other_tables_are_not_compared_in_warmth() -> None:
    both = LOTS + lot("leek", "leek", station='"shelf"')
    plan, book = season(both), Notebook()
    sow(book, "plum", "plum", 22, PLUM)
    sow(book, "leek", "leek", 21, LATE, station="shelf")
    lots = [plan.lots_by_name[one] for one in ("plum", "leek")]
    warm = in_warmth_now(plan, {}, moment("4-20"))
    found = compare(lots, plan, book.records(both), in_warmth=warm)
    assert "Speed is not compared (their warmth is counted by different tables)." in page(found)
