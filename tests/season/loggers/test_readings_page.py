"""Every example of docs/formats_readings.md loads, and its lists are those of the program."""

import re
from pathlib import Path

from seedstart.growing.sensor_faults import AIR_CHANGE_C, MARKS, POSSIBLE, SOIL_CHANGE_C
from seedstart.season.loggers.logger_file import to_tidy, understand
from seedstart.season.loggers.series import QUANTITIES
from seedstart.season.loggers.tidy_file import read_tidy

PAGE = (Path(__file__).parents[3] / "docs" / "formats_readings.md").read_text(encoding="utf-8")
TIDY, WIDE, LONG = re.findall(r"```csv\n(.*?)```", PAGE, re.DOTALL)
STATIONS = ("heat mat", "shelf 2")


def values_of(text: str) -> dict[tuple[str, str], list[float]]:
    understood = understand(text.encode(), "logger.csv", "Europe/Vienna", None, STATIONS)
    assert understood.questions == ()
    assert understood.problems == ()
    return {key: list(one.value) for key, one in to_tidy(understood).items()}


def test_the_tidy_file_loads() -> None:
    readings, problems = read_tidy(TIDY.encode(), "readings/1.csv")
    assert problems == []
    assert {key: one.marks for key, one in readings.items()} == {
        ("heat mat", "soil_c"): ["", "power_on", ""],
        ("shelf 2, left", "rh_percent"): [""],
    }


def test_the_logger_files_need_no_answer() -> None:
    assert values_of(WIDE) == {
        ("heat mat", "soil_c"): [21.5, 21.6],
        ("shelf 2", "air_c"): [19.0, 19.1],
        ("shelf 2", "rh_percent"): [55.0, 56.0],
    }
    assert values_of(LONG) == {("heat mat", "soil_c"): [21.5], ("shelf 2", "rh_percent"): [55.0]}


def test_the_lists_on_the_page_are_whole() -> None:
    words = set(re.findall(r"`([^`]+)`", re.sub(r"```.*?```", "", PAGE, flags=re.DOTALL)))
    assert words >= {*QUANTITIES, *MARKS[1:]}
    assert set(POSSIBLE) == set(QUANTITIES)


def test_the_limits_on_the_page_are_those_of_the_program() -> None:
    text = " ".join(PAGE.split())
    first, *rest = AIR_CHANGE_C
    air = f"air {first[1]:g} °C within {first[0]:g} hour, "
    air += ", ".join(f"{change:g} within {hours:g}" for hours, change in rest)
    assert air in text
    assert f"soil {SOIL_CHANGE_C[0][1]:g} °C within an hour" in text
    lows, highs = zip(*POSSIBLE.values(), strict=True)
    line = next(line for line in PAGE.splitlines() if line.startswith("| `range`"))
    for bound in {*highs, *lows}:
        assert f"{bound:,g}".replace(",", " ").replace("-", "−") in line.replace("3000", "3 000")
