"""Trials in the app: listed, asked for in a form, read; picture and table written out."""

import csv
import io
import json
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from app_bench import LARGE, SMALL, QuickPilot, journal_lines, rows, running, sample, shown, text
from seedstart.app.app import SeedstartApp
from seedstart.app.forms.change_forms import ChangeForm
from seedstart.app.forms.form_screen import Form
from seedstart.app.forms.new_trial import TrialForm
from seedstart.app.screens.seed_test_screen import SeedTestScreen
from seedstart.app.screens.trial_result_screen import TrialResultScreen
from seedstart.app.screens.trial_screen import TrialScreen
from seedstart.app.screens.trials_screen import TrialsScreen

MEASURED = date(2026, 5, 8)  # the day after the sample's trial was measured


async def reckoned(app: SeedstartApp, pilot: QuickPilot) -> None:
    await app.workers.wait_for_complete()
    await pilot.pause()


async def put(pilot: QuickPilot, form: Form[Any, Any], **texts: str) -> None:
    for row in form.rows:
        if row.field.key in texts:
            row.input.value = texts[row.field.key]
    await pilot.pause()


async def fill(pilot: QuickPilot, **texts: str) -> None:
    await put(pilot, shown(pilot.app, TrialForm), **texts)


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_a_trial_is_read_from_its_sentence_on(tmp_path: Path, size: tuple[int, int]) -> None:
    async with running(sample(tmp_path), size, MEASURED) as (app, pilot):
        await pilot.press("t")
        shown(app, TrialsScreen)
        assert "cabbage-light     light: 5 levels × 2 trays       measured" in text(app)
        await pilot.press("enter")
        shown(app, TrialResultScreen)
        await reckoned(app, pilot)
        told = rows(app)
        assert told[1].strip().startswith("Up to about 6.7 mol a day more light keeps them shorter")
        assert any("╲ fitted, ─ level at 36" in row for row in told)
        assert "2 trays a level are 2 replicates, not 16 plants" in text(app)
        await pilot.press("tab")
        assert "more light makes stems thicker" in text(app)
        await pilot.press("tab", "w")
        assert "3.8 mol    3.2     2     16" in text(app)
        await pilot.press("escape", "enter")
        shown(app, TrialScreen)
        assert "T1     10.4 mol          8  36 2.6   quotient 1.4   32 to 41" in text(app)
        await pilot.press("escape", "escape")
        shown(app, TrialsScreen)


async def test_picture_and_table_are_written_once(tmp_path: Path) -> None:
    folder = sample(tmp_path)
    async with running(folder, SMALL, MEASURED) as (app, pilot):
        await pilot.press("t", "enter")
        await reckoned(app, pilot)
        await pilot.press("x")
        await reckoned(app, pilot)
        assert "Written in the season's folder: cabbage-light-2026-05-08.csv" in text(app)
        table = (folder / "cabbage-light-2026-05-08.csv").read_text("utf-8")
        plants = list(csv.DictReader(io.StringIO(table)))
        assert len(plants) == 80
        assert {one["dose_basis"] for one in plants} == {"lamps as they were set"}
        assert (folder / "cabbage-light-2026-05-08.png").read_bytes().startswith(b"\x89PNG")
        await pilot.press("x")
        await reckoned(app, pilot)
        assert "It is there already, and nothing was written" in text(app)


async def test_before_it_is_measured_its_trays_are_shown(tmp_path: Path) -> None:
    async with running(sample(tmp_path)) as (app, pilot):
        await pilot.press("t")
        assert "10 trays to sow" in text(app)
        await pilot.press("enter")
        shown(app, TrialScreen)
        assert "5 levels × 2 trays × 8 plants of cabbage-early" in text(app)
        assert "T1     10.4 mol             to sow: trial shelf, 22 cm under the lamps" in text(app)
        assert "its middle 12 cm from the left and 12.5 cm from the front" in " ".join(
            text(app).split()
        )


async def test_what_may_change_of_a_trial_changes_in_its_file_and_u_takes_it_back(
    tmp_path: Path,
) -> None:
    folder = sample(tmp_path)
    file = folder / "trials" / "cabbage-light.toml"
    before = file.read_text("utf-8")
    async with running(folder, LARGE) as (app, pilot):
        await pilot.press("t", "e")
        form = shown(app, ChangeForm)
        assert {one.field.key: one.input.value for one in form.rows} | {"at": ""} == {
            "trial": "cabbage-light", "title": "", "measure_on": "21", "plants": "8",
            "begin": "2026-04-11", "out": "", "at": "",
        }  # fmt: skip
        await put(pilot, form, measure_on="21, soon")
        await pilot.press("ctrl+s")
        assert file.read_text("utf-8") == before
        await put(pilot, form, measure_on="21, 28")
        await pilot.press("ctrl+s")
        shown(app, TrialsScreen)
        assert file.read_text("utf-8") == before.replace("[21]", "[21, 28]")
        await pilot.press("u")
        assert file.read_text("utf-8") == before


async def test_a_trial_goes_out_of_the_plan_once_it_is_sure_and_u_restores_it(
    tmp_path: Path,
) -> None:
    folder = sample(tmp_path)
    file = folder / "trials" / "cabbage-light.toml"
    async with running(folder, LARGE, MEASURED) as (app, pilot):
        await pilot.press("t", "e")
        form = shown(app, ChangeForm)
        await put(pilot, form, out="yes")
        assert "10 trays were sown on 11 Apr" in text(app)
        await pilot.press("ctrl+s")
        assert file.exists()
        await pilot.press("ctrl+s")
        assert not file.exists()
        await pilot.press("u")
        assert file.exists()


async def test_a_trial_is_asked_for_previewed_written_and_taken_back(tmp_path: Path) -> None:
    folder = sample(tmp_path)
    async with running(folder, LARGE) as (app, pilot):
        await pilot.press("t", "a")
        asked: dict[str, Any] = {
            "name": "kale-light", "lots": "kale-autumn", "levels": "4, 5, 6.5, 8, 10",
            "stations": "trial shelf",
        }  # fmt: skip
        await fill(pilot, **asked)
        assert "10 trays show a difference in height of" in text(app)
        await pilot.press("ctrl+s")
        shown(app, TrialsScreen)
        assert "Written: what is planned of the trial kale-light." in text(app)
        assert "10 trays to sow" in text(app)
        file = folder / "trials" / "kale-light.toml"
        assert "levels = [4.0, 5.0, 6.5, 8.0, 10.0]" in file.read_text("utf-8")
        await pilot.press("down", "enter")
        assert "to sow: trial shelf, " in text(app)
        await pilot.press("escape", "u")
        assert not file.exists()


@pytest.mark.parametrize(
    ("key", "typed", "said"),
    [
        ("levels", "30", "two different levels at least"),
        ("levels", "3, dark", "levels of light in mol a day"),
        ("lots", "kail-autumn", "kale-autumn"),
        ("stations", "trail shelf", "trial shelf"),
        ("trays", "0", "from 1 to 100"),
        ("name", "cabbage-light", "There is a trial of this name"),
    ],
)
async def test_what_is_wrong_in_the_form_is_said_at_its_field(
    tmp_path: Path, key: str, typed: str, said: str
) -> None:
    folder = sample(tmp_path)
    async with running(folder, LARGE) as (app, pilot):
        await pilot.press("t", "a")
        good = {"name": "k", "lots": "kale-autumn", "levels": "4, 5", "stations": "trial shelf"}
        await fill(pilot, **{**good, key: typed})
        await pilot.press("ctrl+s")
        shown(app, TrialForm)
        told = " ".join(text(app).replace("│", "").split())
        assert said.casefold() in told.casefold()
        assert not (folder / "trials" / "k.toml").exists()


async def test_germination_tests_stand_in_the_same_list(tmp_path: Path) -> None:
    folder = sample(tmp_path)
    (folder / "trials" / "onion-old.toml").write_text(
        'kind = "germination test"\nlots = ["onion-red"]\nreplicates = 4\nseeds = 50\n'
        "first_count = 6\nlast_count = 12\n",
        "utf-8",
    )
    async with running(folder) as (app, pilot):
        await pilot.press("t", "down")
        assert "onion-old         germination: onion-red          planned" in text(app)
        await pilot.press("enter")
        shown(app, SeedTestScreen)
        assert "Test onion-old: onion-red" in text(app)
        await pilot.press("escape")
        shown(app, TrialsScreen)


async def test_a_season_without_any_says_what_they_are_for(tmp_path: Path) -> None:
    folder = sample(tmp_path)
    (folder / "trials" / "cabbage-light.toml").unlink()
    async with running(folder) as (app, pilot):
        await pilot.press("t")
        assert "No trials and no germination tests yet." in text(app)


READY = date(2026, 5, 6)  # the day before the sample's trial was measured


async def measuring(pilot: QuickPilot) -> None:
    await pilot.press("t", "enter")
    shown(pilot.app, TrialScreen)


async def type_in(pilot: QuickPilot, typed: str) -> None:
    await pilot.press(*("space" if sign == " " else sign for sign in typed))


async def test_plants_stand_in_columns_as_they_are_typed_and_enter_goes_to_the_next_tray(
    tmp_path: Path,
) -> None:
    folder = sample(tmp_path)
    async with running(folder, SMALL, READY) as (app, pilot):
        await measuring(pilot)
        before = journal_lines(folder)
        await type_in(pilot, "41/2.5 38/2.4 x 40/")
        told = rows(app)
        assert any(row.split()[:5] == ["▐", "41", "38", "·", "·"] for row in told)
        assert any("1.6   1.6" in row and "height cm over stem mm" in row for row in told)
        assert "1 dead" in text(app)
        assert journal_lines(folder) == before
        await type_in(pilot, "2.6")
        await pilot.press("enter")
        lines = journal_lines(folder)[len(before) :]
        assert [json.loads(line)["kind"] for line in lines] == ["measured", "lost"]
        assert [one["height_mm"] for one in json.loads(lines[0])["plants"]] == [41, 38, 40]
        assert "✓ T1     10.4 mol          3  40 2.5   quotient 1.6   38 to 41, 1 dead" in text(app)
        assert any(row.startswith("▌· T2") for row in rows(app))
        await pilot.press("u")
        assert "✓ T1" not in text(app)


@pytest.mark.parametrize(
    ("typed", "asked", "meant"),
    [
        ("41/2.5 38/2.4 43/2.5 390/2.4", "A height of 390 mm?", "41/2.5 38/2.4 43/2.5 39/2.4"),
        ("4.1/2.5 3.8/2.4", "were heights in cm typed?", "41/2.5 38/2.4"),
        ("41/25 38/24", "were stems without their point typed?", "41/2.5 38/2.4"),
        ("41/0 38/2.4", "Height and stem above 0 mm, not 41/0", ""),
        ("41/.25 38/.24", "height/stem", ""),  # no figure before the point: no number
        ("41/0.25 38/0.24", "were stems in cm typed?", "41/2.5 38/2.4"),
    ],
)
async def test_centimetres_taken_for_millimetres_are_asked_and_tab_puts_them_right(
    tmp_path: Path, typed: str, asked: str, meant: str
) -> None:
    folder = sample(tmp_path)
    async with running(folder, SMALL, READY) as (app, pilot):
        await measuring(pilot)
        before = journal_lines(folder)
        await type_in(pilot, typed)
        await pilot.press("enter")  # not written: asked first
        assert asked in " ".join(text(app).replace("▐", "").split())
        assert journal_lines(folder) == before
        if meant:
            await pilot.press("tab", "enter")
            (line,) = journal_lines(folder)[len(before) :]
            plants = json.loads(line)["plants"]
            found = " ".join(f"{one['height_mm']:g}/{one['diameter_mm']:g}" for one in plants)
            assert found == meant


async def test_who_is_sure_writes_what_was_asked_with_enter_once_more(tmp_path: Path) -> None:
    folder = sample(tmp_path)
    async with running(folder, SMALL, READY) as (_, pilot):
        await measuring(pilot)
        before = journal_lines(folder)
        await type_in(pilot, "41/2.5 38/2.4 43/2.5 390/2.4")
        await pilot.press("enter", "enter")
        (line,) = journal_lines(folder)[len(before) :]
        assert json.loads(line)["plants"][3]["height_mm"] == 390


async def test_a_tray_measured_today_takes_no_more(tmp_path: Path) -> None:
    folder = sample(tmp_path)
    async with running(folder, SMALL, READY) as (app, pilot):
        await measuring(pilot)
        await type_in(pilot, "41/2.5")
        await pilot.press("enter", "up", "4")
        assert "T1 was measured today" in text(app)


async def test_trays_of_a_new_trial_are_sown_one_after_the_other(tmp_path: Path) -> None:
    folder = sample(tmp_path)
    async with running(folder) as (app, pilot):  # before the sample's trial was sown
        await measuring(pilot)
        before = journal_lines(folder)
        await pilot.press("enter")
        assert "12" in text(app)  # eight plants and some to spare
        await pilot.press("enter", "1", "5", "enter")
        first, second = (json.loads(line) for line in journal_lines(folder)[len(before) :])
        assert (first["seeds"], first["tray"], first["station"]) == (12, "T1", "trial shelf")
        assert (first["purpose"], first["trial"]) == ("trial", "cabbage-light")
        assert (second["seeds"], second["tray"]) == (15, "T2")
        assert "sown, not half up, trial shelf" in text(app)
        await pilot.press("up", "3")
        assert "Nothing stands in T" in text(app)
