"""Germination in the app: a test planned, begun, counted, closed; lots beside each other."""

from pathlib import Path

import pytest

from app_screens import Screen, on_screen, text_of
from form_host import SIZE, Host, opened_form, put, season_in
from seedstart.app.app import SeedstartApp
from seedstart.app.forms.form_services import desk_of
from seedstart.app.recorder import Acts
from seedstart.app.screens.compare_screen import CompareScreen
from seedstart.app.screens.lot_figures_screen import LotFiguresScreen
from seedstart.disk.plan_files import Edited
from seedstart.open_season import OpenSeason
from seedstart.planning.lots.seed_tests import seed_tests
from seedstart.problems import in_words


@pytest.fixture
def season(tmp_path: Path) -> OpenSeason:
    return season_in(tmp_path)


async def test_a_test_is_planned_in_a_form_and_its_file_written_once(season: OpenSeason) -> None:
    async with Host().run_test(size=SIZE) as pilot:
        host = pilot.app
        assert isinstance(host, Host)
        form = await opened_form(pilot, season, "new test")
        days = {"first_count": "6", "last_count": "12", "grow_out_below": "60%"}
        await put(pilot, form, name="leek 2027", lots="leek", replicates="2", **days)
        await pilot.press("ctrl+s")
        await pilot.pause()
        (made,) = host.left_with
        assert isinstance(made, Edited)
        assert made.file == "trials/leek 2027.toml"
    text = (season.folder / "trials" / "leek 2027.toml").read_text("utf-8")
    assert text.startswith('kind = "germination test"\nlots = ["leek"]\nreplicates = 2\n')
    season.catch_up()
    (test,) = seed_tests(season.plan, season.records(), season.today)
    assert (test.name, test.state, test.mark) == ("leek 2027", "planned", 60)


async def test_every_fault_of_a_test_stands_at_its_field(season: OpenSeason) -> None:
    async with Host().run_test(size=SIZE) as pilot:
        form = await opened_form(pilot, season, "new test")
        await put(pilot, form, name="a/b", lots="leke", first_count="9", last_count="5", seeds="0")
        said = {key: in_words(problem) for key, problem in form.check().problems.items()}
        assert {"name", "lots", "last_count", "seeds"} <= set(said)
        assert "Nearest: leek" in said["lots"]


FIRST = (
    '# invented\nkind = "germination test"\nlots = ["leek"]\nfirst_count = 6\nlast_count = 14\n'
    'temperature = "20C"  # by the thermometer\n'
)


@pytest.fixture
def planned(season: OpenSeason) -> OpenSeason:
    """With a planned test."""
    (season.folder / "trials").mkdir()
    (season.folder / "trials" / "first.toml").write_text(FIRST)
    season.catch_up()
    return season


async def test_a_planned_test_stands_with_its_old_values_and_changes_in_its_file(
    planned: OpenSeason,
) -> None:
    file = planned.folder / "trials" / "first.toml"
    async with Host().run_test(size=SIZE) as pilot:
        form = await opened_form(pilot, planned, "change test", ("lot", "leek"))
        assert (form.texts["test"], form.texts["lots"], form.texts["temperature"]) == (
            "first", "leek", "20C",
        )  # fmt: skip
        await put(pilot, form, last_count="5", seeds="0")
        said = {key: in_words(problem) for key, problem in form.check().problems.items()}
        assert set(said) == {"last_count", "seeds"}
        await put(pilot, form, last_count="12", seeds="")
        await pilot.press("ctrl+s")
        await pilot.pause()
        assert file.read_text("utf-8") == FIRST.replace("14", "12")
        assert planned.plan.tests[0].last_count == 12


async def test_a_planned_test_goes_out_of_the_plan_and_u_brings_it_back(
    planned: OpenSeason,
) -> None:
    file = planned.folder / "trials" / "first.toml"
    acts = Acts(planned)
    desk_ = desk_of(
        planned, acts.record, planned.catch_up, changed=lambda _, one: acts.changed(one)
    )
    async with Host().run_test(size=SIZE) as pilot:
        form = await opened_form(pilot, planned, "change test", ("lot", "leek"), desk_)
        await put(pilot, form, out="yes")
        await pilot.press("ctrl+s")
        await pilot.pause()
    assert not file.exists()
    assert planned.plan.tests == ()
    assert "u restores it" in acts.take_back()
    assert file.read_text("utf-8") == FIRST
    acts.take_back()
    assert not file.exists()


async def test_two_lots_are_put_beside_each_other_and_a_third_beside_these() -> None:
    keys = ("l", "home", "b", *"thyme", "enter")
    async with on_screen(Screen("lots", keys), (80, 24)) as app:
        assert isinstance(app, SeedstartApp)
        assert isinstance(app.screen, CompareScreen)
        text = text_of(app)
        rows = text.split("\n")
        assert rows[0].startswith(" Two lots beside each other")
        assert rows[1].startswith(" No difference shown in how many came up. leek-giant came up")
        assert max(map(len, rows)) <= 80
        assert "Next time sow " in text
    keys = (*keys, "b", *"onion-red", "enter")
    async with on_screen(Screen("lots", keys), (80, 24)) as app:
        assert isinstance(app.screen, CompareScreen)
        assert app.screen.names == ("leek-giant", "thyme", "onion-red")
        assert text_of(app).startswith(" Three lots beside each other")
        assert "leek-giant and onion-red" in text_of(app)


async def test_a_lot_beside_itself_puts_its_sowings_beside_each_other() -> None:
    keys = ("l", "home", "down", "b", *"onion", "enter")
    async with on_screen(Screen("lots", keys), (80, 24)) as app:
        assert isinstance(app.screen, CompareScreen)
        assert app.screen.names == ("onion-red",)
        assert "still open" in text_of(app)


async def test_a_lots_figures_open_from_its_screen() -> None:
    async with on_screen(Screen("lot", ("l", "home", "enter", "g")), (80, 24)) as app:
        assert isinstance(app.screen, LotFiguresScreen)
        text = text_of(app)
        assert "54 of 64 emerged: 84 in 100." in text
