"""Keys changed and tables taken out in place: what was meant changes, every other line stays."""

from typing import Any

import pytest
import tomli
from hypothesis import given
from hypothesis import strategies as st

from seedstart.problems import BadInputError
from seedstart.season.plan.toml_edits import set_keys, without_table

LOTS = """\
# my packets
[[lot]]   # the first
name = "leek"                # on the label
crop = "leek"
  want = 12 # plants
sow = [
  2027-03-02,  # a Tuesday
  2027-03-16,
]
tests = [{ on = 2027-01-10, seeds = 20, up = 17 }] # on paper

# the fair
[[lot]]
name = "a # b"
crop = 'pepper'
ready = 2027-05-03 # the fair
# that was all
"""
ENDS = {"unix": "\n", "windows": "\r\n"}
KEYS = ("want", "crop", "sow", "ready", "variety", "station")
VALUES = st.none() | st.integers(1, 99) | st.sampled_from(["x", 'say "a" # b', "ä\\"])


def bytes_of(text: str, end: str = "\n", mark: str = "") -> bytes:
    return (mark + text.replace("\n", end)).encode()


@given(
    number=st.integers(0, 1),
    keys=st.dictionaries(st.sampled_from(KEYS), VALUES | st.lists(st.integers(), max_size=2)),
    end=st.sampled_from(list(ENDS.values())),
    mark=st.sampled_from(["", "\ufeff"]),
    cut=st.booleans(),
)
def test_what_was_meant_changes_and_every_other_line_and_comment_stays(
    number: int, keys: dict[str, Any], end: str, mark: str, cut: bool
) -> None:
    old = bytes_of(LOTS.rstrip("\n") if cut else LOTS, end, mark)
    new = set_keys(old, "lots.toml", ("lot", number), keys)
    before, after = (tomli.loads(one.decode("utf-8-sig"))["lot"] for one in (old, new))
    wanted = {key: one for key, one in (before[number] | keys).items() if one is not None}
    assert after[number] == wanted
    assert after[1 - number] == before[1 - number]
    assert new.startswith(mark.encode())
    assert new.count(b"\n") == new.count(b"\r\n") or end == "\n"
    for comment in ("my packets", "the first", "on the label", "plants", "a Tuesday", "on paper",
                    "the fair", "that was all"):  # fmt: skip
        assert new.count(comment.encode()) == old.count(comment.encode())
    touched = {key for key in keys if before[number].get(key) != keys[key]}
    lines = iter(new.splitlines())
    for line in old.splitlines():
        key = line.split(b"=")[0].strip().decode("utf-8-sig")
        multiline = "sow" in touched and number == 0 and (line[:3] == b"  2" or line == b"]")
        if key not in touched and not multiline:
            assert line in lines  # in the same order, byte for byte


@pytest.mark.parametrize("end", ENDS.values(), ids=ENDS.keys())
def test_a_new_key_comes_behind_the_last_of_its_table(end: str) -> None:
    new = set_keys(bytes_of(LOTS, end), "lots.toml", ("lot", 0), {"have": "50 seeds"})
    lines = new.decode().split(end)
    assert lines[lines.index('have = "50 seeds"') - 1].startswith("tests = ")


@pytest.mark.parametrize(
    ("text", "at", "keys", "after"),
    [
        ("a = 1\n\n[frost]\nlast = 1\n", (), {"b": 2}, "a = 1\nb = 2\n\n[frost]\nlast = 1\n"),
        ("# x\n[[lot]]\n", (), {"b": 2}, "b = 2\n# x\n[[lot]]\n"),
        ("a = 1", ("frost",), {"last": "x"}, 'a = 1\n\n[frost]\nlast = "x"\n'),
        ("frost.last = 1\n", ("frost",), {"risk": 2}, "frost.last = 1\nfrost.risk = 2\n"),
        ("frost = { last = 1 }\n", ("frost",), {"risk": 2}, "frost = { last = 1, risk = 2 }\n"),
        ("frost = { last = 1, risk = 2 }\n", ("frost",), {"last": None}, "frost = { risk = 2 }\n"),
        ("frost = { last = 1, risk = 2 }\n", ("frost",), {"risk": None}, "frost = { last = 1 }\n"),
        ("frost = {}\n", ("frost",), {"risk": 2}, "frost = { risk = 2 }\n"),
        (
            'lot = [{ name = "a" }, { name = "b" }]\n', ("lot", 1), {"want": 3},
            'lot = [{ name = "a" }, { name = "b", want = 3 }]\n',
        ),
        (
            "[[s]]\nname = 1\n[[s.lamps]]\nwatts = 2\n", ("s", 0, "lamps", 0), {"watts": 3},
            "[[s]]\nname = 1\n[[s.lamps]]\nwatts = 3\n",
        ),
        (
            "[[s]]\nname = 1\n[[s.lamps]]\nwatts = 2\n", ("s", 0), {"kind": 3},
            "[[s]]\nname = 1\nkind = 3\n[[s.lamps]]\nwatts = 2\n",
        ),
        ('n = """\na # no\n"""\n', (), {"n": "b"}, 'n = "b"\n'),
    ],
)  # fmt: skip
def test_tables_are_changed_in_whatever_way_they_are_written(
    text: str, at: tuple[str | int, ...], keys: dict[str, Any], after: str
) -> None:
    assert set_keys(text.encode(), "season.toml", at, keys).decode() == after


def test_what_is_a_table_of_its_own_is_left_to_the_grower() -> None:
    text = b"[[s]]\nname = 1\n[[s.lamps]]\nwatts = 2\n"
    with pytest.raises(BadInputError, match="change it in the file by hand"):
        set_keys(text, "season.toml", ("s", 0), {"lamps": [{"watts": 3}]})


@pytest.mark.parametrize("number", [0, 1])
@pytest.mark.parametrize("end", ENDS.values(), ids=ENDS.keys())
def test_a_table_goes_with_its_keys_and_the_others_stay(number: int, end: str) -> None:
    new = without_table(bytes_of(LOTS, end), "lots.toml", "lot", number).decode()
    assert [one["name"] for one in tomli.loads(new)["lot"]] == [("leek", "a # b")[1 - number]]
    for comment in ("# my packets", "# the fair", "# that was all"):
        assert comment in new.split(end)
    assert f"{end}{end}{end}" not in new


def test_a_table_goes_with_its_tables_and_one_gap() -> None:
    a = '[[s]]\nname = "a"\n[[s.lamps]]\nwatts = 2\n'
    b = '[[s]]\nname = "b"\n'
    c = '[[s]]\nname = "c"\n'
    text = f"{a}\n{b}\n{c}".encode()
    assert without_table(text, "season.toml", "s", 0).decode() == f"{b}\n{c}"
    assert without_table(text, "season.toml", "s", 1).decode() == f"{a}\n{c}"
    assert without_table(text, "season.toml", "s", 2).decode() == f"{a}\n{b}"


def test_a_table_on_one_line_with_others_is_left_to_the_grower() -> None:
    with pytest.raises(BadInputError, match=r"each lot must stand under a \[\[lot\]\]"):
        without_table(b'lot = [{ name = "a" }]\n', "lots.toml", "lot", 0)
