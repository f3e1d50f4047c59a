"""The list of acts: found by words, the most used first, and the form that it opens."""

import re
from collections import Counter
from pathlib import Path
from typing import Any

import pytest

from form_host import SIZE, Host, desk, season_in, typed
from seedstart.app.forms.act_chooser import ACTS, Chooser, in_order, words_of, write_down
from seedstart.app.forms.finder import found
from seedstart.app.forms.form_screen import EntryForm
from seedstart.app.forms.new_season_form import SeasonForm
from seedstart.app.forms.plan_forms import LotForm
from seedstart.open_season import OpenSeason
from seedstart.season.journal.entries import Entry, Moved, Watered


@pytest.fixture
def season(tmp_path: Path) -> OpenSeason:
    return season_in(tmp_path)


async def choosing(pilot: Any, season: OpenSeason, subject: Any = None) -> Host:
    host = pilot.app
    assert isinstance(host, Host)
    write_down(host, desk(season), subject, host.left_with.append)
    await pilot.pause()
    return host


def test_no_two_acts_and_no_two_fields_of_one_are_called_alike() -> None:
    assert len({act.name for act in ACTS}) == len(ACTS)
    for act in ACTS:
        assert len({field.key for field in act.fields}) == len(act.fields)
        assert act.asks in {"", *(field.key for field in act.fields)} or not act.fields


def test_the_most_used_acts_come_first() -> None:
    used: Counter[type[Entry]] = Counter({Moved: 3, Watered: 9})
    assert [act.name for act in in_order(used)][:2] == ["water", "move"]


def test_acts_that_fit_what_was_looked_at_come_before_the_others() -> None:
    acts = in_order(Counter({Moved: 3}), ("station", "mat"))
    fits = ["station" in act.on for act in acts]
    assert fits == sorted(fits, reverse=True)


@pytest.mark.parametrize(
    ("wanted", "first"),
    [
        ("pri", "prick out"),
        ("died", "lose"),
        ("temperature", "read"),
        ("lid lift", "uncover"),
        ("packet", "new lot"),
        ("lot", "new lot"),
        ("station", "new station"),
        ("HARD", "harden off"),
        ("watering", "water"),
        ("dry", "water"),
        ("bring in", "harden off"),
        ("feeding", "feed"),
        ("repot", "pot on"),
        ("spilt", "lose"),
        ("tip", "lose"),
        ("fell", "lose"),
        ("knocked over", "lose"),
        ("label", "relabel"),
        ("fridge", "stratify"),
        ("sprayed", "note"),
        ("price", "note"),
        ("thin", "thin"),
        ("germinated", "count"),
        ("gave", "give away"),
        ("take lid off", "uncover"),
        ("sash", "harden off"),
    ],
)
def test_an_act_is_found_by_the_words_of_the_trade(wanted: str, first: str) -> None:
    assert found(ACTS, words_of, wanted)[0].name == first


async def test_a_few_letters_and_enter_open_the_form_on_what_was_looked_at(
    season: OpenSeason,
) -> None:
    async with Host().run_test(size=SIZE) as pilot:
        host = await choosing(pilot, season, ("tray", "tray 5"))
        assert "Write down: tray 5" in host.said()
        await typed(pilot, "wat", "<enter>")
        assert isinstance(host.screen, EntryForm)
        assert host.screen.texts["what"] == "tray 5"
        await typed(pilot, "400", "<ctrl+s>")
        assert season.journal.of["tray", "tray 5"][-1].ml == 400  # type: ignore[attr-defined]
        assert len(host.left_with) == 1


async def test_the_arrows_move_while_one_types(season: OpenSeason) -> None:
    async with Host().run_test(size=SIZE) as pilot:
        host = await choosing(pilot, season)
        chooser = host.screen
        assert isinstance(chooser, Chooser)
        await typed(pilot, "<down>", "<down>", "<up>")
        item = chooser.listed.item
        assert item is not None
        assert item is chooser.listed.items[1]
        await typed(pilot, "<enter>")
        assert isinstance(host.screen, EntryForm)
        assert host.screen.act is item


async def test_nothing_found_is_said_and_nothing_opens(season: OpenSeason) -> None:
    async with Host().run_test(size=SIZE) as pilot:
        host = await choosing(pilot, season)
        await typed(pilot, "zzz", "<enter>")
        assert "No match." in host.said()
        assert isinstance(host.screen, Chooser)
        await typed(pilot, "<escape>")
        assert host.left_with == [None]


async def test_a_new_lot_and_a_new_season_have_forms_of_their_own(season: OpenSeason) -> None:
    async with Host().run_test(size=SIZE) as pilot:
        host = await choosing(pilot, season)
        await typed(pilot, "new l", "<enter>")
        first = host.screen
        await typed(pilot, "<escape>")
        await choosing(pilot, season)
        await typed(pilot, "new se", "<enter>")
        assert (type(first), type(host.screen)) == (LotForm, SeasonForm)


async def test_the_whole_list_fits_a_small_terminal_by_scrolling(season: OpenSeason) -> None:
    async with Host(colours=False).run_test(size=(60, 16)) as pilot:
        host = await choosing(pilot, season)
        await typed(pilot, *["<pagedown>"] * 6)
        chooser = host.screen
        assert isinstance(chooser, Chooser)
        assert chooser.listed.item is chooser.listed.items[-1]
        assert "Enter choose" in host.said()
        assert "new season" in host.said()


async def test_beside_the_list_stands_the_form_with_what_is_known(season: OpenSeason) -> None:
    async with Host().run_test(size=SIZE) as pilot:
        host = await choosing(pilot, season, ("tray", "tray 5"))
        await typed(pilot, "wat")
        assert "Water: a whole station, a tray or a sowing" in host.text()
        assert re.search(r"│ What +tray 5 ", host.text())
        await typed(pilot, "<tab>")  # in, as Enter does
        assert isinstance(host.screen, EntryForm)
