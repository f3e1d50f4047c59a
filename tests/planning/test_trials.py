"""A trial planned, sown, measured: from raw plants to what a grower can act on."""

from random import Random
from typing import Any

import pytest
from msgspec import structs

from notebook import Notebook, moment
from seasons import lot, season
from seedstart.drawing.lines import as_text
from seedstart.drawing.trial_picture import trial_picture
from seedstart.drawing.trial_sheet import of_light, result_lines, sentences
from seedstart.planning.light.station_light import light_at
from seedstart.planning.trials.trial_planning import Planned, plan_trial
from seedstart.planning.trials.trial_result import TrialResult, trial_result
from seedstart.problems import BadInputError
from seedstart.season.journal.entries import Adjusted, Counted, Lost, Measured, Read, Sown
from seedstart.season.journal.sowing_entries import Plant
from seedstart.season.plan.season_file import Season
from seedstart.season.trials.light_trial import read_trial, write_trial
from seedstart.season.trials.trial_plan import TrialPlan

HEAD = """
timezone = "Europe/Vienna"

[[station]]
name = "bench"
kind = "shelf"
area = "1.2 x 0.5 m"
lamps = [{ count = 4, ppf_umol_s = 60, length = "115 cm", height = "90 cm", hours = 14, lines = 4 }]
"""
LOTS = lot("kale", "kale") + lot("dill", "dill")
PLAN: Season = season(LOTS, HEAD)
LEVELS = (3.6, 4.8, 6.2, 8.0, 10.0)


def planned(**more: Any) -> Planned:
    asked = TrialPlan(
        name="kale-light", kind="light", lots=("kale",), levels=LEVELS, trays=2, plants=6,
        measure_on=(21,), seed=7,
    )  # fmt: skip
    wanted = more.pop("wanted", None)
    light = light_at(PLAN.stations[0], PLAN, Notebook().records(LOTS, HEAD), moment("3-01").date())
    return plan_trial(structs.replace(asked, **more), [light], wanted)


def grown(book: Notebook, trial: TrialPlan, join: float = 6.5, **more: Any) -> None:
    """Sown on 1 March, half up on the 6th, measured 21 days later: 90 - 8 mm a mol up to a join."""
    random = Random(1)
    for number, place in enumerate(trial.places, 1):
        sowing = place.lot if number == 1 else f"{place.lot}/{number}"
        book.write(
            Sown, "3-01", sowing=sowing, lot=place.lot, seeds=8, tray=place.tray,
            station=place.station, purpose="trial", trial=trial.name,
        )  # fmt: skip
        book.write(Counted, "3-05", sowing=sowing, standing=2)
        book.write(Counted, "3-06", sowing=sowing, standing=6)
        book.write(Counted, "3-09", sowing=sowing, standing=7)
        level = place.level if isinstance(place.level, float) else more[place.level]
        plants = tuple(
            Plant(height_mm=90 - 8 * min(level, join) + random.gauss(0, 1.5), diameter_mm=2.0)
            for _ in range(trial.plants)
        )
        book.write(Measured, "3-27", sowing=sowing, plants=plants)


def result(book: Notebook, trial: TrialPlan) -> TrialResult:
    return trial_result(trial, PLAN, book.records(LOTS, HEAD))


def test_each_tray_gets_its_level_where_it_is_put() -> None:
    trial = planned().trial
    assert sorted(place.level for place in trial.places) == sorted([*LEVELS, *LEVELS])
    book = Notebook()
    grown(book, trial)
    for tray in result(book, trial).trays:
        assert tray.dose_basis == "lamps as they were set"
        assert tray.dose_mol == pytest.approx(tray.place.level, rel=0.01)


def test_a_level_that_the_lamps_cannot_give_there_is_said() -> None:
    found = planned(levels=(3.6, 30.0))
    assert any("not 30: other hours" in one for one in found.remarks)
    low = planned(levels=(0.5, 8.0))
    assert any("gets at least" in one for one in low.remarks)


def test_the_size_that_shows_a_difference_is_said() -> None:
    assert (planned(wanted=20).enough_trays or 0) > 2
    assert planned(trays=1).remarks[-1].startswith("One tray a level is one replicate")


def test_the_file_that_is_written_reads_as_it_was_planned() -> None:
    trial = planned().trial
    assert read_trial(write_trial(trial), "kale-light", PLAN) == trial
    assert read_trial(b'kind = "germination test"\n', "other", PLAN) is None


@pytest.mark.parametrize(
    ("was", "now", "said"),
    [
        ('lots = ["kale"]', 'lots = ["kail"]', "Nearest: kale"),
        ("levels = [3.6", "levels = [360", "mol of light a day from 0 to 80"),
        ("levels = [3.6, 4.8, 6.2, 8.0, 10.0]", "levels = [3.6]", "two levels at least"),
        ("trays = 2", "trais = 2", "Nearest: trays"),
        ('station = "bench"', 'station = "bensh"', "Nearest: bench"),
        ("level = 3.6", "level = 3.7", "allowed: 3.6, 4.8"),
    ],
)
def test_what_is_wrong_in_a_trial_is_named(was: str, now: str, said: str) -> None:
    text = write_trial(planned().trial).decode()
    assert was in text
    with pytest.raises(BadInputError) as refused:
        read_trial(text.replace(was, now).encode(), "kale-light", PLAN)
    assert said in str(refused.value)
    assert "trials/kale-light.toml, line" in str(refused.value)


def test_plants_become_a_sentence() -> None:
    trial, book = planned().trial, Notebook()
    grown(book, trial)
    found = result(book, trial)
    fit = found.responses[""]["height_mm"].plateau
    assert fit is not None
    assert fit.join == pytest.approx(6.5, abs=0.2)  # the join that the plants were made with
    assert fit.low < 6.6 < fit.high
    assert found.unit == "tray"
    assert sentences(found)[0].startswith("Up to about 6.")
    assert "2 trays a level are 2 replicates, not 12 plants" in " ".join(found.remarks)
    text = "\n".join(as_text(line) for line in result_lines(found, 80))
    assert "height, mm" in text
    assert "┃ mean and its interval   ╲ fitted, ─ level at " in text
    assert max(map(len, text.split("\n"))) <= 80
    assert "colour, warmth and spacing" in " ".join(of_light(found))


def test_the_dose_is_what_the_lamps_did() -> None:
    trial, book = planned().trial, Notebook()
    grown(book, trial)
    book.write(Adjusted, "3-16 08:00", station="bench", lamp_hours=7)
    tray = result(book, trial).trays[0]
    # ten days of 14 h and eleven of 7: (10 + 5.5) / 21 of the plan
    assert tray.dose_mol == pytest.approx(float(tray.place.level) * 15.5 / 21, rel=0.01)


def test_light_that_was_read_in_a_tray_counts_before_the_map() -> None:
    trial, book = planned().trial, Notebook()
    grown(book, trial)
    book.write(Read, "3-10", tray="T1", quantity="ppfd_umol", value=100)
    tray = result(book, trial).trays[0]
    assert (tray.place.tray, tray.dose_basis) == ("T1", "read in the tray")
    assert tray.dose_mol == pytest.approx(100 * 14 * 0.0036)


def test_one_tray_a_level_counts_plants_and_says_so() -> None:
    trial, book = planned(trays=1).trial, Notebook()
    grown(book, trial)
    found = result(book, trial)
    assert found.unit == "plant"
    assert found.groups[0].of["height_mm"].number == 6
    assert any("its plants only" in one for one in found.remarks)


def test_a_group_that_died_says_nothing_of_height_and_the_rest_does() -> None:
    trial, book = planned(trays=1).trial, Notebook()
    grown(book, trial)
    alive = [one for one in book.entries if not isinstance(one, Measured) or one.sowing != "kale/2"]
    book.entries = alive
    book.write(Lost, "3-27", sowing="kale/2", plants=7, why="dead when measured")
    found = result(book, trial)
    (dead,) = (one for one in found.groups if one.dead)
    assert (dead.plants, dead.of) == (0, {})
    assert any("All plants of T2 were dead" in one for one in found.remarks)
    assert "none measured" in "\n".join(as_text(line) for line in result_lines(found, 80))


def test_one_level_alone_says_nothing() -> None:
    trial, book = planned().trial, Notebook()
    low = structs.replace(trial, places=tuple(one for one in trial.places if one.level == 3.6))
    grown(book, low)
    found = result(book, trial)
    assert "Only one level was measured" in " ".join(found.remarks)
    assert sentences(found)[0].startswith("The data do not show where stretching stops")


def test_trays_of_different_ages_are_not_compared_without_a_word() -> None:
    trial, book = planned().trial, Notebook()
    grown(book, trial)
    last = next(one for one in reversed(book.entries) if isinstance(one, Measured))
    book.entries.remove(last)
    book.write(Measured, "3-31", sowing=last.sowing, plants=last.plants)
    assert any("an older tray is a taller one" in one for one in result(book, trial).remarks)


def test_nothing_measured_yet_is_no_result() -> None:
    trial, book = planned().trial, Notebook()
    found = result(book, trial)
    assert found.remarks == ("No plant of it has been measured yet.",)
    assert found.responses == {"": {}}


def test_varieties_are_compared_and_no_difference_is_not_called_the_same() -> None:
    trial, book = planned(lots=("kale", "dill")).trial, Notebook()
    grown(book, trial)
    found = result(book, trial)
    assert found.apart is not None
    assert found.apart.p > 0.05
    assert any("No difference is shown in where the varieties level off" in one
               for one in sentences(found))  # fmt: skip
    assert {one.lot for one in found.groups} == {"kale", "dill"}


def test_levels_in_words_have_means_and_no_curve() -> None:
    words = {"brushed": 3.0, "left alone": 5.0}
    trial, book = planned(kind="brushing", levels=tuple(words)).trial, Notebook()
    grown(book, trial, **words)
    found = result(book, trial)
    assert found.responses == {}
    assert sentences(found) == [
        "Levels in words have no response curve: compare the means and intervals."
    ]
    assert found.groups[0].dose_mol is None


@pytest.mark.parametrize(("form", "begins"), [("png", b"\x89PNG"), ("svg", b"<?xml")])
def test_the_picture_is_drawn_and_the_same_again(form: Any, begins: bytes) -> None:
    trial, book = planned().trial, Notebook()
    grown(book, trial)
    found = result(book, trial)
    picture = trial_picture(found, form)
    assert picture.startswith(begins)
    assert trial_picture(found, form) == picture
