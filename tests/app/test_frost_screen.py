"""The season's page: the frost date as a sentence, other risks, and the way to change them."""

from datetime import date
from pathlib import Path

import pytest

from app_bench import DAY, LARGE, SMALL, page, rows, running, sample, shown, text
from runner import run
from seedstart.app.forms.change_forms import ChangeForm
from seedstart.days import short_day
from seedstart.disk.plan_files import read_plan
from seedstart.planning.calendar.frost_dates import frost_dates


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return sample(tmp_path)


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_the_frost_date_is_said_with_its_meaning_and_each_risk_with_its_day(
    folder: Path, size: tuple[int, int]
) -> None:
    async with running(folder, size) as (app, pilot):
        await pilot.press("y")
        assert page(app) == "season"
        told = text(app)
        assert "last frost" in told
        assert "on average: in 1 year of 2 a frost comes later" in told
        lines = {line.split(" in 100")[0].strip("▌ ▸"): line for line in rows(app)}
        for percent in (50, 30, 20, 10, 5):  # the sample's frost is 18 May, the average
            day = frost_dates(date(2026, 5, 18), 50, percent).trusted
            assert day is not None
            assert short_day(day) in lines[str(percent)]
        assert "▸" in lines["10"]
        assert "as it is" in lines["10"]
        assert "later" in lines["5"] or "nothing moves" in lines["5"]
        assert all(len(line) <= size[0] for line in rows(app))
        shown_rows = rows(app)  # `seedstart frost` says the same of each risk
        said = run("frost", "--season", str(folder), "--on", DAY.isoformat()).stdout.splitlines()
        for line in (one for one in said if " in 100" in one):
            moved = line[32:]
            assert any(moved in one and line[2:11].strip() in one for one in shown_rows), line


async def test_another_risk_is_taken_in_the_form_and_taken_back(folder: Path) -> None:
    before = (folder / "season.toml").read_bytes()
    async with running(folder) as (app, pilot):
        await pilot.press("y", "down", "enter")
        form = shown(app, ChangeForm)
        other = form.texts["tender_risk_percent"]
        assert other != "10"
        await pilot.press("ctrl+s")
        frost = read_plan(folder).frost
        assert frost is not None
        assert f"{frost.tender_risk_percent:g}" == other
        assert next(line for line in rows(app) if "as it is" in line).strip("▌ ▸").startswith(other)
        await pilot.press("u")
    assert (folder / "season.toml").read_bytes() == before


async def test_a_season_without_a_frost_date_says_so_and_e_gives_it_one(folder: Path) -> None:
    path = folder / "season.toml"
    kept = path.read_text("utf-8").replace("[frost]", "[frost]\n#")
    path.write_text("\n".join(line for line in kept.split("\n") if not line.startswith(
        ("[frost]", "record =", "year =", "tender_risk_percent", "#"))), "utf-8")  # fmt: skip
    async with running(folder) as (app, pilot):
        await pilot.press("y")
        assert "No last frost date" in text(app)
        await pilot.press("e", *"2026-05-18", "ctrl+s")
        assert "on average" in text(app)
