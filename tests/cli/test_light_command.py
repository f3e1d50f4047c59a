"""`seedstart light`: stations of a season, and lamps from their packet alone."""

import json
from pathlib import Path

import pytest

from runner import run
from seedstart import disk

SAMPLE = ["--season", str(disk.shipped("sample_season")), "--on", "2026-04-10"]
PACKET = [
    "light", "--area", "1.2 x 0.5 m", "--lamps", "4", "--ppf", "30", "--length", "1.2 m",
    "--height", "30 cm", "--hours", "16", "--watts", "18",
]  # fmt: skip


def test_a_station_gets_its_map_its_sentence_and_what_to_set() -> None:
    said = run("light", "upper shelf", *SAMPLE).stdout
    assert "Too dark for" in said
    assert "42   53   56   56   57   57" in said  # cells summed elsewhere
    assert "What to set" in said
    assert "These lamps cannot give it to the whole shelf" in said


def test_why_names_its_sources_and_the_cautions() -> None:
    said = run("light", "upper shelf", *SAMPLE, "--why").stdout
    assert "Extension" in said
    assert "residual-current device" in said
    assert "Your local code and the maker's sheet go before this." in said


def test_lamps_are_read_from_their_packet_alone() -> None:
    (one,) = json.loads(run(*PACKET, "--crop", "tomato", "--json").stdout)
    assert one["crops"] == ["tomato"]
    assert one["needs"]["longest_hours"] == 18
    assert one["kwh_per_day"] == pytest.approx(4 * 18 * 16 / 1000)


def test_another_setting_may_be_tried_and_nothing_is_written() -> None:
    (now,) = json.loads(run("light", "upper shelf", *SAMPLE, "--json").stdout)
    tried = run("light", "upper shelf", *SAMPLE, "--hours", "8", "--json").stdout
    (half,) = json.loads(tried)
    assert half["dli_mol"]["mean"] == pytest.approx(now["dli_mol"]["mean"] * 8 / now["hours"])


@pytest.mark.parametrize(
    ("args", "said"),
    [
        ((*PACKET[:-4], "--hours", "30"), "hours a day from 0 to 24"),
        ((*PACKET, "--light", "red-blue", "--lumens", "900"), ""),
        (("light", "--area", "1 x 1 m", "--lamps", "2", "--lumens", "900", "--light", "red-blue"),
         "say nothing of red-blue lamps"),
        (("light", "--area", "1 x 1 m", "--lamps", "2"), "Say also: lamps: length"),
        (("light", "uper shelf", *SAMPLE), "Nearest: upper shelf"),
        (("light", "upper shelf", *SAMPLE, "--height", "9 m"), "A height from 1 cm to 5 m."),
        (("light", *SAMPLE, "--ppf", "30"), "A packet is read with --area and --lamps"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused(args: tuple[str, ...], said: str) -> None:
    result = run(*args)
    assert said in result.stderr
    assert result.exit_code == (2 if said else 0)


def test_a_season_without_lamps_is_told_where_they_go(tmp_path: Path) -> None:
    (tmp_path / "season.toml").write_text('timezone = "Europe/Vienna"\n', encoding="utf-8")
    said = run("light", "--season", str(tmp_path)).stdout
    assert said == "No station has lamps: give them in season.toml, under lamps.\n"


def test_money_stands_beside_kilowatt_hours(tmp_path: Path) -> None:
    (tmp_path / "season.toml").write_text(
        'timezone = "Europe/Vienna"\nprice_per_kwh = 0.25\ncurrency = "EUR"\n[[station]]\n'
        'name = "tent"\nkind = "cabinet"\narea = "1.2 x 0.5 m"\n'
        'lamps = [{ count = 4, watts = 25, ppf_umol_s = 70, length = "1.2 m", height = "20 cm", '
        "hours = 16 }]\n",
        encoding="utf-8",
    )
    said = run("light", "--season", str(tmp_path)).stdout
    assert "kWh    EUR" in said
    assert "1.60  12.00" in said  # 4 × 25 W × 16 h; thirty days of it at 0.25
