"""One row of the calendar, whole."""

from datetime import date

from seasons import lot, season
from seedstart.drawing.lines import as_text
from seedstart.drawing.row_sheet import row_sheet_lines
from seedstart.planning.calendar.season_rows import season_rows

PLAN = season(
    lot("pepper", "pepper", want="12", station='"mat"') + lot("cold", "pepper", station='"sill"')
)


def sheet(name: str, width: int = 78) -> str:
    row = next(row for row in season_rows(PLAN, date(2027, 1, 10)) if row.lot == name)
    return "\n".join(as_text(line) for line in row_sheet_lines(row, PLAN.crops.sources, width))


def test_every_step_has_its_day_its_window_and_its_reasons() -> None:
    row = next(row for row in season_rows(PLAN, date(2027, 1, 10)) if row.lot == "pepper")
    text = sheet("pepper")
    flat = " ".join(text.split())
    for step in row.steps:
        assert step.window is not None
        assert f"{step.window.best.day} " in text
        assert step.is_ in text
    for reason in row.reasons:
        assert " ".join(reason.text.split()) in flat


def test_sources_are_numbered_once_and_given_in_full() -> None:
    row = next(row for row in season_rows(PLAN, date(2027, 1, 10)) if row.lot == "pepper")
    text = sheet("pepper")
    cited = {key for reason in row.reasons for key in reason.sources}
    assert cited
    flat = " ".join(text.split())
    for key in cited:
        assert flat.count(" ".join(PLAN.crops.sources[key].text.split())) == 1
    assert f"[{len(cited)}]" in text
    assert f"[{len(cited) + 1}]" not in text


def test_a_row_without_dates_says_why() -> None:
    assert "! The sill at 12 °C is below 15 °C, the coldest" in sheet("cold")


def test_lines_are_no_longer_than_asked() -> None:
    assert max(len(line) for line in sheet("pepper", 60).splitlines()) <= 100  # addresses are whole
