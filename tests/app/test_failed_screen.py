"""A fault of seedstart itself: the page says so, with a file to send, and the round goes on."""

from pathlib import Path

import pytest

from app_bench import journal_lines, page, running, sample, shown, text
from seedstart.app.screens.fault_screens import FailedScreen
from seedstart.app.screens.lots_screen import LotsScreen
from seedstart.app.screens.round_screen import RoundScreen
from seedstart.app.screens.stations_screen import StationsScreen
from seedstart.drawing.lines import Line
from seedstart.open_season import OpenSeason


@pytest.fixture
def reports(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("SEEDSTART_SETTINGS", str(tmp_path / "settings"))
    return tmp_path / "settings" / "reports"


def _fails(*_: object, **__: object) -> Line:
    raise ZeroDivisionError("of a test")


@pytest.mark.parametrize("part", ["look", "show", "_line", "subject", "on_mount", "body"])
async def test_a_page_that_cannot_be_drawn_says_so_and_the_round_goes_on(
    tmp_path: Path, reports: Path, monkeypatch: pytest.MonkeyPatch, part: str
) -> None:
    monkeypatch.setattr(LotsScreen, part, _fails)
    faults: list[Exception] = []
    async with running(sample(tmp_path), by="phone", faults=faults) as (app, pilot):
        await pilot.press("l", *("n" if part == "subject" else ""))
        faults += app.faults
        assert isinstance(faults[0], ZeroDivisionError)
        (report,) = reports.iterdir()
        if part == "subject":
            assert "failed in seedstart itself" in text(app)
            assert page(app) == "lots"
        else:
            shown(app, FailedScreen)
            assert "This page could not be drawn" in text(app)
            assert report.name in text(app).replace("\n", "")
        assert "ZeroDivisionError: of a test" in report.read_text("utf-8")
        await pilot.press("r", "space")
        assert page(app) == "round"
        assert journal_lines(tmp_path / "season", "phone")


async def test_a_page_that_failed_once_is_made_anew_when_it_is_asked_for(
    tmp_path: Path, reports: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    faults: list[Exception] = []
    async with running(sample(tmp_path), by="phone", faults=faults) as (app, pilot):
        with monkeypatch.context() as once:
            once.setattr(StationsScreen, "show", _fails)
            await pilot.press("s")
        shown(app, FailedScreen)
        faults += app.faults
        await pilot.press("s")
        assert page(app) == "stations"
        assert "heat mat" in text(app)
    assert len(list(reports.iterdir())) == 1


async def test_a_round_that_cannot_be_derived_leaves_the_other_pages_and_comes_back(
    tmp_path: Path, reports: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    faults: list[Exception] = []
    async with running(sample(tmp_path), by="phone", faults=faults) as (app, pilot):
        with monkeypatch.context() as once:
            once.setattr(OpenSeason, "round", _fails)
            await pilot.press("space")  # it is written; what is drawn after it fails
            shown(app, FailedScreen)
            assert len(journal_lines(tmp_path / "season", "phone")) == 1
            await pilot.press("j")
            assert page(app) == "journal"
        faults += app.faults
        await pilot.press("r")
        shown(app, RoundScreen)
    assert list(reports.iterdir())


async def test_a_fault_whose_report_cannot_be_written_is_told_all_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "file").write_text("no folder")
    monkeypatch.setenv("SEEDSTART_SETTINGS", str(tmp_path / "file"))
    monkeypatch.setattr(LotsScreen, "show", _fails)
    faults: list[Exception] = []
    async with running(sample(tmp_path), by="phone", faults=faults) as (app, pilot):
        await pilot.press("l")
        faults += app.faults
        assert "ZeroDivisionError: of a test" in text(app)


async def test_a_form_that_fails_gives_way_too(
    tmp_path: Path, reports: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from seedstart.app.forms.form_screen import Form

    monkeypatch.setattr(Form, "action_next", _fails)
    faults: list[Exception] = []
    async with running(sample(tmp_path), by="phone", faults=faults) as (app, pilot):
        await pilot.press("l", "a", "x", "enter")
        faults += app.faults
        assert "This page could not be drawn" in text(app)
        await pilot.press("escape")
        assert page(app) == "round"
    assert list(reports.iterdir())


async def test_what_was_typed_into_a_form_that_fails_is_shown_and_nothing_of_it_is_lost(
    tmp_path: Path, reports: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from seedstart.app.forms.form_screen import Form

    monkeypatch.setattr(Form, "action_next", _fails)
    faults: list[Exception] = []
    async with running(sample(tmp_path), by="phone", faults=faults) as (app, pilot):
        await pilot.press("n")
        await pilot.paste("noted")
        await pilot.press("enter")
        await pilot.paste("white fluff on [b]everything")
        await pilot.press("enter")
        faults += app.faults
        shown(app, FailedScreen)
        assert "You had typed" in text(app)
        assert "Words: white fluff on [b]everything" in text(app)
        assert not journal_lines(tmp_path / "season", "phone")
    assert list(reports.iterdir())
