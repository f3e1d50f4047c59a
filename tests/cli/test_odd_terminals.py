"""What a command prints, on terminals that know few letters and of files with odd names."""

import io
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from runner import run
from seasons import HEAD, lot
from seedstart.cli.printing import rows_told

ESCAPES = "ev\x1b]52;c;QUFB\x07il\u202e"
NARROW = (
    {"PYTHONIOENCODING": "cp1252"},
    {"PYTHONIOENCODING": "ascii"},
    {"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"},
)


@pytest.fixture(autouse=True)
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    (tmp_path / "season.toml").write_text(HEAD, "utf-8")
    (tmp_path / "lots.toml").write_text(lot("Київ °", "leek", want="48"), "utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def cold(*args: str, **environment: str) -> subprocess.CompletedProcess[bytes]:
    """A command in a process of its own: encodings are settled when one starts."""
    return subprocess.run(
        [sys.executable, "-m", "seedstart", *args],
        env={**os.environ, **environment},
        capture_output=True,
        check=False,
    )


@pytest.mark.parametrize("environment", NARROW)
def test_data_is_utf_8_whatever_the_locale(environment: dict[str, str]) -> None:
    found = cold("calendar", "--json", **environment)
    assert (found.returncode, found.stderr) == (0, b"")
    assert json.loads(found.stdout.decode("utf-8"))[0]["lot"] == "Київ °"
    table = cold("calendar", "--csv", **environment)
    assert (table.returncode, table.stderr) == (0, b"")
    assert "Київ °" in table.stdout.decode("utf-8")


@pytest.mark.parametrize("environment", NARROW)
@pytest.mark.parametrize(
    ("args", "code"), [(("round", "--on", "2027-03-20"), 0), (("--help",), 0), (("lots", "é—"), 2)]
)
def test_text_comes_with_fewer_letters_where_there_are_fewer(
    args: tuple[str, ...], code: int, environment: dict[str, str]
) -> None:
    found = cold(*args, **environment)
    assert found.returncode == code, found.stderr
    assert b"itself failed" not in found.stderr
    assert found.stdout or found.stderr


def test_signs_that_a_terminal_has_no_letter_for_are_plainer_ones() -> None:
    sow = ("log", "sown", "Київ °", "24", "--tray", "tray 5", "--on", "2026-03-01")
    assert cold(*sow, SEEDSTART_WRITER="bench").returncode == 0
    shown = cold("round", "--on", "2026-03-02", **NARROW[1]).stdout.decode("ascii")
    assert "  . tray 5: feel the tray: water if it is dry" in shown
    assert "·" in cold("round", "--on", "2026-03-02", PYTHONIOENCODING="utf-8").stdout.decode()


def test_what_was_typed_is_kept_whole_on_a_locale_of_few_letters(bench: Path) -> None:
    done = cold("log", "noted", "Keim grün", SEEDSTART_WRITER="bench", **NARROW[2])
    assert done.returncode == 0, done.stderr
    assert "Keim grün" in (bench / "journal" / "bench.jsonl").read_text("utf-8")


def test_errors_for_scripts_are_utf_8_too() -> None:
    found = cold("lots", "Кий", "--json", PYTHONIOENCODING="cp1252")
    assert json.loads(found.stderr.decode("utf-8"))["errors"][0]["found"] == "Кий"


def outputs(*args: str) -> str:
    result = run(*args)
    assert result.exit_code in {0, 1, 2}, result.stderr
    return result.stdout + result.stderr


def test_no_name_of_a_file_and_no_key_reaches_the_terminal_uncleaned(bench: Path) -> None:
    for folder in ("journal", "readings", "crops"):
        (bench / folder).mkdir(exist_ok=True)
    (bench / "journal" / f"{ESCAPES}.jsonl").write_text("rubbish\n", "utf-8")
    (bench / "readings" / f"{ESCAPES}.csv").write_text("rubbish\n", "utf-8")
    logger = bench / f"{ESCAPES}.csv"
    logger.write_text("Time,Soil temperature (°C)\n2027-03-14 08:00,21\n2027-03-14 09:00,22\n")
    said = outputs("verify")
    said += outputs("readings", "add", str(logger), "--station", "mat", "--preview")
    said += outputs("readings", "add", f"no {ESCAPES}")
    said += outputs("readings", "add", str(logger), f"--od{ESCAPES}d")
    said += outputs(f"od{ESCAPES}d")
    said += outputs("calendar", "--season", f"no {ESCAPES}")
    (bench / "crops" / f"{ESCAPES}.toml").write_text('"a\\u001b[31mb\\u202e" = 1\n', "utf-8")
    said += outputs("calendar")
    assert not {"\x1b", "\x07", "\u202e"} & set(said)


def test_an_unknown_key_of_the_settings_is_shown_cleaned(
    bench: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SEEDSTART_SETTINGS", str(bench))
    (bench / "settings.toml").write_text('"a\\u001b[31mb" = 1\n', "utf-8")
    assert "\x1b" not in outputs("verify")


def test_a_sowing_of_long_ago_fills_no_page(bench: Path) -> None:
    entry = {
        "kind": "sown", "id": "01950001-1c00-7000-8000-000000000001",
        "at": "1900-03-01T08:00:00+01:00", "by": "bench", "sowing": "old", "lot": "Київ °",
        "seeds": 24, "station": "mat",
    }  # fmt: skip
    (bench / "journal").mkdir()
    (bench / "journal" / "bench.jsonl").write_text(json.dumps(entry) + "\n", "utf-8")
    lines = outputs("space", "--on", "2027-04-01").splitlines()
    assert len(lines) < 130
    assert "2027-W13" in "\n".join(lines)


def test_lots_come_in_the_order_in_which_people_count(bench: Path) -> None:
    names = [f"D{number}" for number in (1, 10, 11, 12, 2)]
    text = "".join(lot(name, "leek", want="4", sow='["2027-03-20"]') for name in names)
    (bench / "lots.toml").write_text(text, "utf-8")
    rows = json.loads(outputs("calendar", "--json", "--on", "2027-03-20"))
    assert [row["lot"] for row in rows] == ["D1", "D2", "D10", "D11", "D12"]
    checks = json.loads(outputs("round", "--json", "--on", "2027-03-20"))
    sown = [one["check"].split()[1] for one in checks if one["what"] == "sow"]
    assert sown == ["D1", "D2", "D10", "D11", "D12"]


class _Screen(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_how_far_a_long_file_is_read_stands_in_one_line_that_goes_again(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    data = b"2027-04-10,3.0\n" * 200_000
    monkeypatch.setattr(sys, "stderr", screen := _Screen())
    with rows_told(data) as told:
        told(41_000)
    assert screen.getvalue() == f"\rreading 41 000 of 200 000 rows\r{'':30}\r"


def test_into_a_pipe_and_of_a_short_file_nothing_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    for stream, data in ((io.StringIO(), b"x\n" * 2_000_000), (_Screen(), b"x\n" * 1000)):
        monkeypatch.setattr(sys, "stderr", stream)
        with rows_told(data) as told:
            told(1)
        assert stream.getvalue() == ""
