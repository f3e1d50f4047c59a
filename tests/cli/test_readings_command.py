from pathlib import Path

import pytest

from runner import refused, run, run_json
from seasons import HEAD, lot


@pytest.fixture(autouse=True)
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    (tmp_path / "season.toml").write_text(HEAD, "utf-8")
    (tmp_path / "lots.toml").write_text(lot("leek", "leek"), "utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


# As a logger writes it: decimal comma, day first, a power-on value of 85 °C.
LOGGER = "Time;Soil temperature (°C)\n" + "".join(
    f"14.03.2027 {hour:02d}:00;{'85,0' if hour == 5 else f'23,{hour % 10}'}\n" for hour in range(24)
)


def logger(folder: Path, text: str = LOGGER) -> str:
    path = folder / "logger.csv"
    path.write_text(text, "utf-8")
    return str(path)


def test_a_loggers_file_is_shown_marked_and_kept_in_a_file_of_its_own(bench: Path) -> None:
    done = run("readings", "add", logger(bench), "--station", "mat")
    assert done.exit_code == 0, done.stderr
    assert "24 readings added in" in done.stderr
    assert "1 power on" in done.stdout
    (series,) = run_json("readings")
    assert (series["station"], series["quantity"], series["readings"]) == ("mat", "soil_c", 24)
    assert series["marks"] == {"power_on": 1}
    kept = (bench / "readings" / "logger.csv").read_text("utf-8").splitlines()
    assert kept[0] == "time,station,quantity,value,mark"
    assert kept[1].startswith("2027-03-14T00:00:00+01:00,mat,soil_c,23")


def test_a_second_import_of_the_same_file_adds_nothing(bench: Path) -> None:
    file = logger(bench)
    run("readings", "add", file, "--station", "mat")
    again = run("readings", "add", file, "--station", "mat")
    assert "nothing was added" in again.stderr
    assert [path.name for path in (bench / "readings").iterdir()] == ["logger.csv"]


def test_a_preview_keeps_nothing(bench: Path) -> None:
    shown = run("readings", "add", logger(bench), "--station", "mat", "--preview")
    assert "24 readings would be added" in shown.stderr
    assert not (bench / "readings").exists()


def test_what_the_file_does_not_decide_is_asked_for(bench: Path) -> None:
    ambiguous = "Time;Soil (°C)\n04/05/2027 10:00;21,5\n"
    said = refused("readings", "add", logger(bench, ambiguous))
    assert "order" in said
    assert "station" in said
    done = run("readings", "add", logger(bench, ambiguous), "--station", "mat", "--order", "dmy")
    assert done.exit_code == 0, done.stderr
    assert "2027-05-04" in (bench / "readings" / "logger.csv").read_text("utf-8")


def test_what_is_no_logger_file_is_refused(bench: Path) -> None:
    assert refused("readings", "add", logger(bench, "hello\nworld\n"), "--station", "mat")
    assert "No such file" in refused("readings", "add", "gone.csv")


def test_without_any_readings_the_way_to_some_is_said() -> None:
    said = " ".join(run("readings").stdout.split())
    assert "seedstart readings add FILE" in said
    assert "seedstart log read STATION" in said


def test_what_was_read_by_hand_stands_beside_the_loggers_series(bench: Path) -> None:
    run("readings", "add", logger(bench), "--station", "mat")
    for value, at in (("61F", "2027-03-14 8:00"), ("12C", "2027-03-15 8:00")):
        assert run("log", "read", "sill", value, "--at", at).exit_code == 0
    run("log", "read", "shelf", "210", "--quantity", "ppfd_umol", "--at", "2027-03-15 9:00")
    text = run("readings").stdout
    assert max(map(len, text.splitlines())) <= 80
    assert text.index("By logger") < text.index("By hand")
    (shelf, sill) = text[text.index("By hand") :].splitlines()[2:]
    assert sill.split() == [
        "sill", "medium", "12", "°C", "2027-03-15", "08:00", "2", "12–16.1", "°C",
    ]  # fmt: skip
    assert "PPFD     210 µmol/m²s" in shelf
    assert "in doubt, and not used: 1 power on" in text
    assert [(one["by"], one["station"]) for one in run_json("readings")] == [
        ("logger", "mat"), ("hand", "shelf"), ("hand", "sill"),
    ]  # fmt: skip
    told = run_json("readings", "--on", "2027-03-14")
    assert [(one["by"], one["readings"]) for one in told] == [("logger", 24), ("hand", 1)]
