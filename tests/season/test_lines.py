import pytest
import tomli
import tomli_w
from hypothesis import given, settings
from hypothesis import strategies as st

from seedstart.season.plan.toml_text import lines_of

TEXT = '''\
# a comment with [brackets] and "quotes
title = "one"    # [not] = "a key"
"odd key" . sub = 1

long = """
name = "inside a text"
"""
[frost]
last = 2027-05-12
words = [
  "a]b",  # ]
  'c', { x = 1, y = [
    2] },
]

[[lot]]
name = "a"
[[lot]]
tests = [{ on = 1 }, { on = 2,
  up = 3 }]
[lot.inner]
x = 1
[[lot.more]]
y = 1
[[lot.more]]
y = 2
[[lot]]
name = 'c'
'''


@pytest.mark.parametrize(
    ("path", "line"),
    [
        (("title",), 2),
        (("odd key", "sub"), 3),
        (("long",), 5),
        (("frost",), 8),
        (("frost", "last"), 9),
        (("frost", "words", 0), 11),
        (("frost", "words", 1), 12),
        (("frost", "words", 2, "y"), 12),
        (("frost", "words", 2, "y", 0), 13),
        (("lot", 0), 16),
        (("lot", 0, "name"), 17),
        (("lot", 1), 18),
        (("lot", 1, "tests", 1), 19),
        (("lot", 1, "tests", 1, "up"), 20),
        (("lot", 1, "inner", "x"), 22),
        (("lot", 1, "more", 0, "y"), 24),
        (("lot", 1, "more", 1, "y"), 26),
        (("lot", 2, "name"), 28),
    ],
)
def test_a_key_is_found_on_its_line(path: tuple[str | int, ...], line: int) -> None:
    tomli.loads(TEXT)
    assert lines_of(TEXT)[path] == line
    assert lines_of(TEXT.replace("\n", "\r\n"))[path] == line


def test_a_key_inside_a_text_is_no_key() -> None:
    assert ("name",) not in lines_of(TEXT)


def test_what_comes_after_a_place_that_cannot_be_followed_has_no_line() -> None:
    assert lines_of("a = 1\nb 2\nc = 3\n") == {("a",): 1}


KEYS = st.text(max_size=6)
VALUES = st.recursive(
    st.integers() | st.text(max_size=8) | st.dates(),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(KEYS, inner, max_size=3),
    max_leaves=8,
)


def paths(value: object, path: tuple[str | int, ...] = ()) -> list[tuple[str | int, ...]]:
    if isinstance(value, dict):
        parts = [(*path, key) for key in value]
        return parts + [deep for key in value for deep in paths(value[key], (*path, key))]
    if isinstance(value, list):
        parts = [(*path, number) for number in range(len(value))]
        return parts + [
            deep for number, item in enumerate(value) for deep in paths(item, (*path, number))
        ]
    return []


@settings(deadline=None, derandomize=True)
@given(st.dictionaries(KEYS, VALUES, max_size=5))
def test_every_key_of_a_written_file_is_found_where_it_is_written(
    values: dict[str, object],
) -> None:
    text = tomli_w.dumps(values)
    lines = text.split("\n")
    found = lines_of(text)
    # A table that holds only tables may have no header of its own.
    for path in (path for path in paths(values) if isinstance(path[-1], str) and path in found):
        key = tomli_w.dumps({str(path[-1]): 0}).removesuffix(" = 0\n")
        assert key in lines[found[path] - 1]
    leaves = {path for path in paths(values) if not isinstance(_at(values, path), dict | list)}
    assert leaves <= set(found)


def _at(value: object, path: tuple[str | int, ...]) -> object:
    for part in path:
        value = value[part]  # type: ignore[index]
    return value


@settings(deadline=None, derandomize=True)
@given(st.text(max_size=200))
def test_any_text_is_followed_as_far_as_it_goes(text: str) -> None:
    assert all(1 <= line <= text.count("\n") + 1 for line in lines_of(text).values())
