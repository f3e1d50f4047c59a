"""`seedstart` alone: the app on the nearest season, or help where nobody looks."""

from datetime import date
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from runner import modules_after, run
from seedstart import disk
from seedstart.cli.main import cli

SAMPLE = str(disk.shipped("sample_season"))


class Opened:
    """Stands in for the app; notes what it was opened on."""

    def __init__(self) -> None:
        self.calls: list[tuple[Path | None, str, date | None]] = []

    def __call__(self, folder: Path | None, by: str, on: date | None) -> None:
        self.calls.append((folder, by, on))


@pytest.fixture
def on_a_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("seedstart.cli.main.is_on_a_terminal", lambda: True)
    monkeypatch.setenv("SEEDSTART_WRITER", "bench")


def alone(*args: str) -> tuple[Opened, Any]:
    opened = Opened()
    return opened, CliRunner().invoke(cli, list(args), obj=opened)


def test_in_a_pipe_it_prints_its_help() -> None:
    opened, result = alone()
    assert opened.calls == []
    assert result.exit_code == 0
    assert "Usage:" in result.stdout
    assert "calendar" in result.stdout


@pytest.mark.usefixtures("on_a_terminal")
def test_it_opens_the_season_above(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "season.toml").write_text('timezone = "UTC"\n', "utf-8")
    (tmp_path / "journal").mkdir()
    monkeypatch.chdir(tmp_path / "journal")
    opened, _ = alone("--on", "2027-03-20")
    [(folder, by, on)] = opened.calls
    assert folder is not None
    assert folder.resolve() == tmp_path.resolve()
    assert (by, on) == ("bench", date(2027, 3, 20))


@pytest.mark.usefixtures("on_a_terminal")
def test_where_there_is_no_season_the_app_is_told_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    opened, _ = alone()
    assert [call[0] for call in opened.calls] == [None]


@pytest.mark.usefixtures("on_a_terminal")
@pytest.mark.parametrize(
    ("args", "says"),
    [
        (("--on", "20.3."), "A day needs its year"),
        (("--season", "nowhere"), "There is no season.toml in it"),
        (("--season", "nowhere", "calendar"), "--season goes after the command"),
        (("--on", "2027-03-20", "lots"), "--on goes after the command"),
    ],
)
def test_wrong_options_are_told(args: tuple[str, ...], says: str) -> None:
    opened, result = alone(*args)
    assert result.exit_code == 2
    assert says in result.stderr
    assert opened.calls == []


def test_textual_is_loaded_for_nobody_else() -> None:
    assert not {name for name in modules_after("crops") if name.startswith("textual")}


def test_curves_are_drawn_on_the_command_line_too() -> None:
    shown = run("lots", "pepper-long", "--curve", "--season", SAMPLE, "--on", "2026-04-10")
    assert shown.exit_code == 0
    assert "pepper-long comes up" in shown.stdout
    assert "█ counted" in shown.stdout
    assert " 21 ┄" in shown.stdout


@pytest.mark.parametrize("args", [("lots", "--curve"), ("lots", "leek-giant", "--curve", "--json")])
def test_a_curve_is_of_one_lot(args: tuple[str, ...]) -> None:
    result = run(*args, "--season", SAMPLE)
    assert result.exit_code == 2
    assert "--curve" in result.stderr
