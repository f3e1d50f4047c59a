"""`--picture FILE`: a curve as SVG and PNG, its axes named, its sources in the caption."""

import sys
from pathlib import Path

import pytest

from runner import run
from seedstart import disk

SEASON = ["--season", str(disk.shipped("sample_season")), "--on", "2026-04-30"]


def lot_picture(path: Path) -> bytes:
    args = ["lots", "leek-giant", "--germination", "--picture", str(path), *SEASON]
    result = run(*args)
    assert result.exit_code == 0, result.stderr
    assert f"Written: the picture {path}." in result.stderr
    return path.read_bytes()


def test_a_lots_curve_is_a_picture_with_axes_and_sources(tmp_path: Path) -> None:
    svg = lot_picture(tmp_path / "leek.svg").decode()
    for text in ("How leek-giant came up", "days since sowing", "up, % of the seeds sown"):
        assert f"<!-- {text} -->" in svg
    assert "Turnbull 1976" in svg
    assert "54 of 64" in svg
    assert lot_picture(tmp_path / "again.svg").decode() == svg
    assert lot_picture(tmp_path / "leek.png").startswith(b"\x89PNG")


def test_lots_beside_each_other_are_told_apart_by_more_than_colour(tmp_path: Path) -> None:
    path = tmp_path / "two.svg"
    result = run("compare", "leek-giant", "marigold-fair", "--picture", str(path), *SEASON)
    assert result.exit_code == 0
    svg = path.read_text()
    assert "stroke-dasharray" in svg
    assert "<!-- leek-giant and marigold-fair beside each other -->" in svg
    assert "Turnbull 1976" in svg


@pytest.mark.parametrize(
    ("args", "says"),
    [
        (["lots", "leek-giant", "--germination", "--picture", "leek.jpg"], "ends in .svg"),
        (["lots", "leek-giant", "--picture", "leek.svg"], "belongs to --germination"),
        (["lots", "tomato-cherry", "--germination", "--picture", "x.svg"], "Nothing was counted"),
    ],
)
def test_what_cannot_be_drawn_is_refused(
    args: list[str], says: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    result = run(*args, "--season", SEASON[1], "--on", "2026-04-10")
    assert result.exit_code == 2
    assert says in result.stderr
    assert list(tmp_path.iterdir()) == []


def test_a_picture_is_never_written_over_a_file(tmp_path: Path) -> None:
    path = tmp_path / "mine.svg"
    path.write_text("mine")
    args = ["lots", "leek-giant", "--germination", "--picture", str(path), *SEASON]
    assert run(*args).exit_code == 2
    assert path.read_text() == "mine"


def test_without_the_library_it_says_which_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "matplotlib", None)
    args = ["lots", "leek-giant", "--germination", "--picture", str(tmp_path / "x.svg"), *SEASON]
    result = run(*args)
    assert result.exit_code == 2
    assert "pip install 'seedstart[pictures]'" in result.stderr
