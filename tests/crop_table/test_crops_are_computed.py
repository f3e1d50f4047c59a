"""crops/ is what the script computes from the reference tables, to the byte."""

from pathlib import Path

from crop_pooling.report import report
from crop_pooling.writing import shipped_files

ROOT = Path(__file__).parents[2]
CROPS = ROOT / "crops"


def test_what_is_shipped_is_what_the_reference_tables_give_to_the_byte() -> None:
    # sow_weeks_*.csv, emergence_days.csv, flower_germination.csv and the others of crop_pooling.
    computed = shipped_files()
    assert {path.name for path in CROPS.iterdir()} == set(computed)
    stale = [name for name, content in computed.items() if (CROPS / name).read_bytes() != content]
    assert not stale, f"run `python tests/crop_pooling`: {', '.join(stale)}"


def test_the_page_on_the_crop_table_prints_the_report_of_today() -> None:
    page = (ROOT / "docs" / "crop_table.md").read_text("utf-8")
    missing = [line for line in report().splitlines() if line not in page]
    assert not missing, "put the output of `python tests/crop_pooling --report` into the page"
