"""Keys pressed faster than a screen stands: in order, none lost, none to the screen before."""

import asyncio
from pathlib import Path

import pytest
from textual.events import Key

from app_bench import QuickPilot, key_event, page, running, sample, shown, text
from seedstart.app.app import SeedstartApp
from seedstart.app.forms.act_chooser import Chooser
from seedstart.app.forms.form_screen import Form
from seedstart.app.forms.palette import Palette
from seedstart.app.screens.calendar_screen import RowScreen

ENTER, ESCAPE, TAB = "enter", "escape", "tab"


async def burst(pilot: QuickPilot, *keys: str) -> None:
    """All of them at once, as a paste into a terminal brings them."""
    for key in keys:
        pilot.app.post_message(key_event(key))
    await pilot.settled()


# From a page to a detail page, and from there to a page that was not opened yet.
@pytest.mark.parametrize(
    ("keys", "comes_to"),
    [
        (("l", ENTER, "s"), "stations"),
        (("l", ENTER, "c"), "calendar"),
        (("home", ENTER, "l"), "lots"),
        (("home", "w", "s"), "stations"),
        (("s", ENTER, "l"), "lots"),
        (("h", ENTER, "c"), "calendar"),
        (("l", ENTER, "j", "h"), "hardening"),
        (("question_mark", "j"), "journal"),
    ],
    ids="".join,
)
@pytest.mark.parametrize("at_once", [True, False], ids=["at once", "one by one"])
async def test_any_page_opens_from_any_other(
    tmp_path: Path, keys: tuple[str, ...], comes_to: str, *, at_once: bool
) -> None:
    async with running(sample(tmp_path)) as (app, pilot):
        if at_once:
            await burst(pilot, *keys)
        else:
            await pilot.press(*keys)
        assert page(app) == comes_to


async def test_letters_after_the_key_of_a_form_are_typed_into_it(tmp_path: Path) -> None:
    async with running(sample(tmp_path)) as (app, pilot):
        await burst(pilot, "l", "a", *"lemon")
        assert shown(app, Form).texts["name"] == "lemon"


async def test_letters_fifty_milliseconds_apart_are_typed_into_it_too(tmp_path: Path) -> None:
    async with running(sample(tmp_path)) as (app, pilot):
        await pilot.press("l")
        for key in ("a", *"lemon"):
            app.post_message(key_event(key))
            await asyncio.sleep(0.05)
        await pilot.settled()
        assert shown(app, Form).texts["name"] == "lemon"


async def test_what_is_written_down_can_be_typed_at_once(tmp_path: Path) -> None:
    async with running(sample(tmp_path)) as (app, pilot):
        await burst(pilot, *"nsow")
        assert shown(app, Chooser).query_one("#wanted").value == "sow"  # type: ignore[attr-defined]


async def test_a_whole_form_typed_in_one_burst_is_filled_in(tmp_path: Path) -> None:
    async with running(sample(tmp_path)) as (app, pilot):
        await pilot.press("l")
        await burst(pilot, "n", *"sow", ENTER, *"10", "up", "up", *" yesterday")
        texts = shown(app, Form).texts
        assert (texts["lot"], texts["seeds"]) == ("leek-giant", "10")
        assert [text for text in texts.values() if "yesterday" in text]


async def test_a_burst_into_a_form_and_out_of_it_ends_no_app(tmp_path: Path) -> None:
    # As it once ended: the form gets its keys while the page beneath is given the season.
    keys = ("a", *"sow", ENTER, *"leek-giant", TAB, *"10", *(TAB,) * 5, *"yesterday")
    async with running(sample(tmp_path)) as (app, pilot):
        await burst(pilot, "l", *keys, *("down",) * 5, *"200", ESCAPE, "s")
        assert page(app) == "stations"


async def test_a_second_escape_is_not_given_to_the_screen_that_the_first_one_left(
    tmp_path: Path,
) -> None:
    async with running(sample(tmp_path)) as (app, pilot):
        await burst(pilot, "c", ENTER, "n", *"wat", ESCAPE)
        shown(app, RowScreen)
        await burst(pilot, ESCAPE, "down", "l")
        assert page(app) == "lots"


async def test_keys_pressed_before_the_first_screen_stands_wait_for_it(tmp_path: Path) -> None:
    app = SeedstartApp(sample(tmp_path), "bench")
    async with app.run_test(size=(80, 24)):
        for key in ("l", "a", *"lemon"):
            app.post_message(Key(key, key))
        await QuickPilot(app).settled()
        assert shown(app, Form).texts["name"] == "lemon"
        assert "lemon" in text(app)


async def test_enter_in_the_palette_chooses_of_what_was_found_for_all_that_was_typed(
    tmp_path: Path,
) -> None:
    async with running(sample(tmp_path)) as (app, pilot):
        await pilot.press("ctrl+p")
        await burst(pilot, *"zzz", ENTER)
        shown(app, Palette)
        assert app.is_running
        await burst(pilot, *("backspace",) * 3, *"stations", ENTER)
        assert page(app) == "stations"


@pytest.mark.parametrize("key", ["pagedown", "pageup", "home", "end"])
async def test_a_key_of_a_list_right_after_the_list_was_opened_is_no_fault(
    tmp_path: Path, key: str
) -> None:
    async with running(sample(tmp_path)) as (app, pilot):
        for opened_by in ("ctrl+p", "n", "l", "c", "s", "h", "j", "question_mark"):
            await burst(pilot, opened_by, key)
            assert app.faults == []
            await pilot.press("escape")
