"""The page of judged days says what round and alerts say."""

from pathlib import Path

import pytest

import judged_days


def test_every_line_of_the_ten_days_stands_on_the_page_with_its_verdict(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    found = judged_days.page(judged_days.Season(tmp_path, monkeypatch))
    assert found == judged_days.PAGE.read_text("utf-8"), "judge it anew, then write the page"
