"""What a station's medium is expected to have after it was adjusted."""

from typing import Any

import pytest

from notebook import Notebook, moment
from seedstart.season.journal.entries import Adjusted
from seedstart.tracking.medium import Expectation, expectations
from seedstart.units import Temperatures, steady

TRAY, PLANNED = steady(21), steady(24)


def after(
    *settings: dict[str, Any],
    planned: Temperatures = PLANNED,
    thermostat_holds_it: bool = True,
) -> list[Expectation]:
    """What is expected after settings, each a day later than the one before."""
    book = Notebook()
    written = [
        book.write(Adjusted, f"3-{day:02}", station="mat", **fields)
        for day, fields in enumerate(settings, 2)
    ]
    return list(expectations(planned, written, thermostat_holds_it=thermostat_holds_it))


def counted_c(found: list[Expectation]) -> list[float]:
    return [one.counted_with(TRAY).mean_c for one in found]


def test_what_is_said_and_what_the_thermostat_is_set_to_hold_from_then_on() -> None:
    found = after({"expected": "20C"}, {"thermostat_c": 26.0}, {"expected": "21C day, 15C night"})
    assert counted_c(found) == [24, 20, 26, 18]
    assert [one.since for one in found[1:]] == [moment(f"3-0{day}") for day in (2, 3, 4)]


def test_a_mat_that_is_off_leaves_it_unknown_and_no_warmer_than_it_was() -> None:
    warm, cool = after({"mat": "off"}), after({"mat": "off"}, planned=steady(18))
    assert warm[-1].medium is cool[-1].medium is None
    assert (counted_c(warm)[-1], counted_c(cool)[-1]) == (21, 18)
    assert warm[-1].in_words(TRAY, "metric") == (
        "21 °C is assumed (the mixed-tray setting), since its heat was switched off on 2 Mar and "
        "how warm it has been since is not known"
    )


def test_a_mat_that_is_on_again_is_what_it_was_with_its_heat_on() -> None:
    found = after({"thermostat_c": 26.0}, {"mat": "off"}, {"expected": "17C"}, {"mat": "on"})
    assert counted_c(found) == [24, 26, 21, 17, 26]
    assert found[-1].why == "thermostat"


def test_setting_the_thermostat_switches_it_on_unless_the_line_says_off() -> None:
    assert counted_c(after({"mat": "off"}, {"thermostat_c": 25.0})) == [24, 21, 25]
    found = after({"mat": "off", "thermostat_c": 25.0}, {"mat": "on"})
    assert counted_c(found) == [24, 21, 25]


@pytest.mark.parametrize(
    "setting",
    [{"thermostat_c": 24.0}, {"mat": "on"}, {"lamp_hours": 14.0}, {"expected": "as warm as toast"}],
)
def test_what_changes_nothing_begins_nothing_new(setting: dict[str, Any]) -> None:
    assert len(after(setting)) == 1


def test_the_thermostat_of_a_greenhouse_says_nothing_of_a_medium() -> None:
    assert len(after({"thermostat_c": 5.0}, thermostat_holds_it=False)) == 1
