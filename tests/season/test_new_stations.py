"""A station added at the end of season.toml: what is refused, what stays, what is written."""

from typing import Any

import pytest
import tomli
from hypothesis import given, settings
from hypothesis import strategies as st

from seasons import HEAD, season
from seedstart.problems import BadInputError
from seedstart.season.plan.additions import STATION_KEYS, add_station, check_station, station_keys
from seedstart.season.plan.lamps import Lamp

TENT: dict[str, Any] = {
    "name": "tent", "kind": "shelf", "expected": "21C day, 14C night", "area": "1.2 x 0.6 m",
    "lamps": [{"count": 2, "watts": 20, "ppf_umol_s": 54, "length": "1.2 m", "height": "30 cm"}],
}  # fmt: skip
CONTAINER = '\n[[container]]\nname = "egg box"\ncells = 12\nfootprint = "30 x 10 cm"\n'
OLD_FILES = {
    "a container last": HEAD + CONTAINER,
    "no last line end": HEAD.rstrip("\n") + "  # the end",
    "windows": HEAD.replace("\n", "\r\n"),
    "byte order mark": f"\ufeff{HEAD}",
    "no station": 'timezone = "Europe/Vienna"\n# mine\n',
}


def told(keys: dict[str, Any], trays: tuple[str, ...] = ()) -> list[str]:
    with pytest.raises(BadInputError, match="new station") as caught:
        check_station(keys, season(), trays)
    return [str(problem) for problem in caught.value.problems]


@pytest.mark.parametrize("old", OLD_FILES.values(), ids=OLD_FILES.keys())
def test_it_comes_last_on_the_walk_and_every_old_byte_stays(old: str) -> None:
    before = season(head=old)
    new = add_station(old.encode(), TENT)
    assert new.startswith(old.encode())
    assert new.count(b"\n") == new.count(b"\r\n") or "\r\n" not in old
    after = season(head=new.decode())
    assert after.stations[:-1] == before.stations
    assert after.containers == before.containers
    tent = after.stations[-1]
    assert (tent.name, tent.kind, tent.area_m) == ("tent", "shelf", (1.2, 0.6))
    assert tent.expected is not None
    assert (tent.expected.day_c, tent.expected.night_c) == (21, 14)
    assert tent.lamps == (Lamp(watts=20, ppf_umol_s=54, length_m=1.2, height_mm=300),) * 2


@pytest.mark.parametrize(
    ("old", "text"),
    [
        (
            'timezone = "UTC"\nstation = [{ name = "a", kind = "mat" }]\n',
            r"each station must be under a \[\[station\]\] of its own",
        ),
        ('timezone = "UTC\n', r"season\.toml, line 1"),
    ],
)
def test_a_file_that_would_not_hold_it_is_left_alone(old: str, text: str) -> None:
    with pytest.raises(BadInputError, match=text):
        add_station(old.encode(), TENT)


def test_all_that_is_wrong_with_it_is_said_at_once() -> None:
    wrong = {
        "name": "Mat", "kind": "shelv", "expected": "200C", "area": "1.2",
        "lamps": [{"count": 2, "hours": "25"}], "colour": "red",
    }  # fmt: skip
    said = told(wrong)
    assert len(said) == 6
    assert "new station, name: found 'Mat'. mat in season.toml has or had this name" in said[-1]
    assert said[0].startswith("new station, kind: found 'shelv', allowed: shelf, bench, mat")
    assert "Nearest: shelf." in said[0]
    assert any(one.startswith("new station, lamps[1].hours: found '25'") for one in said)
    assert any(one.startswith("new station, colour: found 'colour', allowed: name") for one in said)


def test_what_it_is_called_and_what_it_is_must_be_said() -> None:
    assert told({}) == [
        "new station, name. It is missing: what you call this place.",
        (
            "new station, kind. It is missing: what kind of place it is (shelf, bench, mat, sill, "
            "propagator, cabinet, fridge, greenhouse, tunnel, frame, outdoors)."
        ),
    ]


def test_stations_and_trays_share_their_names() -> None:
    keys = {"name": "Tray 5", "kind": "sill"}
    assert check_station(keys, season(), ("tray 4",)).name == "Tray 5"
    (said,) = told(keys, ("tray 5",))
    assert "A tray has or had this name too" in said


def test_numbers_are_written_as_numbers_and_lamps_in_one_table() -> None:
    typed = {
        "name": "tent", "kind": "shelf", "expected": None, "area": "", "count": "2",
        "watts": "17,5", "length": "120 cm", "hours": "many",
    }  # fmt: skip
    assert station_keys(typed) == {
        "name": "tent", "kind": "shelf",
        "lamps": [{"count": 2, "watts": 17.5, "length": "120 cm", "hours": "many"}],
    }  # fmt: skip


TEXTS = st.text(max_size=20)


@settings(deadline=None, derandomize=True)
@given(st.dictionaries(st.sampled_from(STATION_KEYS), TEXTS), st.sampled_from(sorted(OLD_FILES)))
def test_whatever_text_is_added_the_old_bytes_stay(keys: dict[str, str], old: str) -> None:
    data = OLD_FILES[old].encode()
    new = add_station(data, keys)
    assert new.startswith(data)
    before = tomli.loads(OLD_FILES[old].removeprefix("\ufeff")).get("station", [])
    assert len(tomli.loads(new.decode("utf-8-sig"))["station"]) == len(before) + 1
