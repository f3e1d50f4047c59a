from runner import refused, run, run_json
from tables import emergence_tables


def test_the_list_has_a_line_a_crop_within_80_columns() -> None:
    lines = run("crops").stdout.splitlines()
    assert max(map(len, lines)) <= 80
    assert any(line.startswith("  tomato ") for line in lines)


def test_one_crop_shows_its_table_and_where_each_figure_comes_from() -> None:
    text = run("crops", "tomatoes").stdout
    assert "43 days" in text
    assert "Harrington J.F. & Minges P.A." in text
    assert "common practice, no source" in text


def test_a_crop_has_its_british_name_beside_its_own_and_once() -> None:
    text = run("crops", "aubergine").stdout
    assert text.startswith("eggplant (aubergine)\n")
    assert text.count("aubergine") == 1


def test_json_of_one_crop_holds_the_handbook_table_and_its_sources() -> None:
    row = run_json("crops", "tomato")
    temperatures, days = emergence_tables()["Tomato"]
    assert row["emergence"]["soil_c"] == temperatures
    assert row["emergence"]["days"] == days
    assert set(row["emergence"]["sources"]) <= set(row["sources"])


def test_json_of_all_is_a_list() -> None:
    assert len(run_json("crops")) >= 60


def test_fahrenheit_is_shown_where_it_is_asked() -> None:
    assert "85 °F" in run("crops", "tomato", "--units", "us").stdout.replace("84.9", "85")


def test_a_misspelt_crop_is_refused() -> None:
    assert "Nearest: basil" in refused("crops", "bazil")


def test_a_crop_that_is_not_there_can_be_described_in_a_file_of_ones_own() -> None:
    assert "in crops/ of your season" in refused("crops", "moon melon")
    assert "crops/" not in refused("crops", "tomatto")
