"""A terminal too small to be read: it says so, nothing is done unseen, and all comes back."""

from pathlib import Path

import pytest
from textual.events import Paste
from textual.widgets import Input

from app_bench import journal_lines, page, rows, running, sample, text
from seedstart.app.forms.act_chooser import Chooser
from seedstart.app.forms.form_screen import EntryForm
from seedstart.app.frame import TooSmall
from seedstart.app.pages import PAGES

SAID = "Too small: 50×12; 60×16 needed."


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return sample(tmp_path)


async def test_it_says_so_and_how_to_leave_and_comes_back(folder: Path) -> None:
    async with running(folder, (50, 12)) as (app, pilot):
        assert [row for row in rows(app) if row] == [f"{SAID} q quits."]
        await pilot.resize_terminal(80, 24)
        assert "Fri 10 Apr 2026" in text(app)
        await pilot.resize_terminal(1, 1)
        assert rows(app) == ["T"]


async def test_no_key_does_anything_but_quit(folder: Path) -> None:
    before = journal_lines(folder)
    async with running(folder) as (app, pilot):
        home = app.screen
        await pilot.resize_terminal(50, 12)
        covered = app.screen
        assert isinstance(covered, TooSmall)
        keys = ["space", "5", "enter", "u", "n", "c", "question_mark", "ctrl+p", "escape", "p", "t"]
        await pilot.press(*keys, "ctrl+s", "ctrl+z")
        assert app.screen is covered
        assert journal_lines(folder) == before
        await pilot.resize_terminal(80, 24)
        assert app.screen is home
        assert journal_lines(folder) == before
        await pilot.press("space")
        assert len(journal_lines(folder)) > len(before)


async def test_an_answer_half_typed_is_there_when_it_is_large_again(folder: Path) -> None:
    before = journal_lines(folder)
    async with running(folder) as (app, pilot):
        await pilot.press("P")  # put off: a text is typed
        await pilot.press(*"sat")
        await pilot.resize_terminal(50, 12)
        assert f"{SAID} ctrl+q quits." in text(app)
        await pilot.press(*"quin", "enter")
        assert app.is_running
        await pilot.resize_terminal(80, 24)
        assert "▐ sat▏" in text(app)
        assert journal_lines(folder) == before
        await pilot.press(*"urday", "enter")
        assert '"put_off"' in journal_lines(folder)[-1]


async def test_a_form_keeps_its_fields_and_its_cursor(folder: Path) -> None:
    before = journal_lines(folder)
    async with running(folder) as (app, pilot):
        await pilot.press("n", *"note", "enter", *"gnats")
        form = app.screen
        assert isinstance(form, EntryForm)
        await pilot.resize_terminal(80, 12)
        assert "Too small: 80×12; 60×16 needed. ctrl+q quits." in text(app)
        await pilot.press("q", "ctrl+s", "escape")
        app.post_message(Paste("pasted"))
        await pilot.pause()
        assert app.is_running
        await pilot.resize_terminal(80, 24)
        assert app.screen is form
        assert isinstance(app.focused, Input)
        assert app.focused.value == "gnats"
        assert journal_lines(folder) == before
        await pilot.press("ctrl+s")
        assert "gnats" in journal_lines(folder)[-1]


async def test_what_was_in_sight_is_in_sight_again(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        await pilot.press("down", "down", "down")
        before = text(app)
        await pilot.resize_terminal(50, 10)
        await pilot.resize_terminal(80, 24)
        assert text(app) == before


async def test_begun_too_small_the_first_line_is_in_sight_all_the_same(folder: Path) -> None:
    async with running(folder) as (app, _):
        whole = text(app)
    async with running(folder, (50, 12)) as (app, pilot):
        await pilot.resize_terminal(80, 24)
        assert text(app) == whole


@pytest.mark.parametrize("key", ["q", "ctrl+q"])
async def test_the_key_that_is_said_quits(folder: Path, key: str) -> None:
    async with running(folder, (50, 12)) as (app, pilot):
        await pilot.press(key)
        assert not app.is_running


@pytest.mark.parametrize("size", [(59, 24), (80, 15)])
async def test_one_column_or_row_less_is_too_small(folder: Path, size: tuple[int, int]) -> None:
    async with running(folder, (60, 16)) as (app, pilot):
        assert page(app) == "round"
        await pilot.resize_terminal(*size)
        assert isinstance(app.screen, TooSmall)


async def test_every_page_outlives_a_single_cell(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        for one in PAGES:
            await pilot.press(one.key)
            await pilot.resize_terminal(1, 1)
            assert isinstance(app.screen, TooSmall)
            await pilot.resize_terminal(80, 24)
            assert page(app) == one.name
        await pilot.press("n")
        await pilot.resize_terminal(1, 1)
        await pilot.resize_terminal(80, 24)
        assert isinstance(app.screen, Chooser)


async def test_a_season_mended_meanwhile_opens_under_it(folder: Path) -> None:
    plan = folder / "season.toml"
    good = plan.read_bytes()
    plan.write_bytes(good.replace(b'kind = "mat"', b'kind = "matt"'))
    async with running(folder) as (app, pilot):
        await pilot.resize_terminal(50, 12)
        plan.write_bytes(good)
        app.open_folder(folder)
        await pilot.pause()
        assert SAID in text(app)
        await pilot.resize_terminal(80, 24)
        assert page(app) == "round"
