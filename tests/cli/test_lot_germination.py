"""`lots NAME --germination`: every figure of how a lot came up, in words and as JSON."""

import json
from typing import Any

import pytest

from runner import run
from seedstart import disk
from seedstart.growing.germination.indices import Newly, mean_time

SEASON = ["--season", str(disk.shipped("sample_season")), "--on", "2026-04-10"]


def told(*args: str) -> Any:
    result = run("lots", *args, "--germination", "--json", *SEASON)
    assert result.stderr == ""
    return json.loads(result.stdout)


def test_a_closed_sowing_has_every_figure_with_its_source() -> None:
    found = told("leek-giant")
    (case,) = found["cases"]
    assert (case["up"], case["seeds"], case["open"]) == (54, 64, False)
    assert len(case["indices"]) == 20
    assert all(one["source"] and one["formula"] for one in case["indices"])
    by_name = {one["index"]: one["value"] for one in case["indices"]}
    looks = [Newly(one["time"], one["new"]) for one in case["looks"]]
    assert by_name["mean_time_days"] == pytest.approx(mean_time(looks))
    best = found["curves"][0]
    assert best["share_low"] < 84 < best["share_high"]
    assert best["t10"]["best"] < best["t50"]["best"] < best["t50_of_sown"]["best"]
    assert [one["aic"] for one in found["curves"]] == sorted(one["aic"] for one in found["curves"])
    assert found["steps"][-1]["percent_up"] == pytest.approx(100 * 54 / 64)


def test_warmth_in_place_of_days_is_counted_in_the_tables() -> None:
    days, warm = told("onion-red"), told("onion-red", "--in-warmth")
    assert days["time_in"] == "days"
    assert warm["time_in"] == "times the table's days"
    assert 1 < warm["curves"][0]["t50"]["best"] < 4 < days["curves"][0]["t50"]["best"]
    assert warm["cases"][0]["up"] == days["cases"][0]["up"]


def test_another_interval_is_named_and_wider() -> None:
    wilson, exact = told("leek-giant"), told("leek-giant", "--interval", "exact")
    assert (wilson["method"], exact["method"]) == ("Wilson", "Clopper-Pearson")
    narrow, wide = wilson["cases"][0], exact["cases"][0]
    assert wide["percent_low"] < narrow["percent_low"]
    assert wide["percent_high"] > narrow["percent_high"]


def test_what_is_still_counted_is_so_far_and_its_curve_is_left_open() -> None:
    page = run("lots", "tomato-plum", "--germination", *SEASON).stdout
    assert "so far" in page
    assert "No sowing counts yet" in page


def test_a_lot_of_which_nothing_came_up_says_why_it_has_no_curve() -> None:
    found = told("pepper-lantern")
    assert found["curves"] == []
    assert found["no_curve"] == "none came up"
    assert (
        "No curve: none came up." in run("lots", "pepper-lantern", "--germination", *SEASON).stdout
    )


@pytest.mark.parametrize(
    ("args", "says"),
    [
        (["--germination"], "give its name"),
        (["leek-giant", "--in-warmth"], "belongs to --germination"),
        (["leek-giant", "--interval", "exact"], "belongs to --germination"),
    ],
)
def test_options_that_say_nothing_alone_are_refused(args: list[str], says: str) -> None:
    result = run("lots", *args, *SEASON)
    assert result.exit_code == 2
    assert says in result.stderr
