import pytest

from seedstart.problems import BadInputError, Problem, count_of, gathered


def test_a_problem_says_where_what_and_what_is_allowed() -> None:
    problem = Problem(
        file="season.toml",
        line=12,
        key="station[2].kind",
        found="shelv",
        allowed=("frame", "mat", "shelf"),
    )
    assert str(problem) == (
        "season.toml, line 12, station[2].kind: found 'shelv', allowed: frame, mat, shelf. "
        "Nearest: shelf."
    )


def test_of_many_allowed_words_the_nearest_are_said_and_how_many_there_are() -> None:
    words = ("pea", "pepper", "petunia", *(f"crop {letter}" for letter in "abcdefghij"))
    problem = Problem(file="--crop", found="peper", allowed=words, listed_by="crops")
    assert str(problem) == "--crop: found 'peper'. Nearest: pepper (of 13)."
    assert problem.said({"crops": "seedstart crops"}) == (
        "--crop: found 'peper'. Nearest: pepper (of 13; `seedstart crops` has them)."
    )
    unlike = Problem(file="--crop", found="xyz", allowed=words, listed_by="crops")
    assert str(unlike) == "--crop: found 'xyz'. None of the 13 there are is like it."
    listed = Problem(file="station", found="xyz", allowed=words, listed_by="season.toml")
    assert "None of the 13 there are is like it; `season.toml` has them." in str(listed)
    assert problem.nearest == "pepper"


def test_escapes_in_what_was_found_are_shown_and_not_obeyed() -> None:
    assert "\x1b" not in str(Problem(file="x", found="\x1b[31m"))


def test_all_problems_come_at_once_and_as_json() -> None:
    error = BadInputError([Problem(file="a", hint="One."), Problem(file="b", found="x")])
    assert str(error) == "a. One.\nb: found 'x'."
    assert error.problems[0].as_json() == {
        "file": "a",
        "line": None,
        "key": "",
        "found": None,
        "allowed": [],
        "hint": "One.",
        "more": 0,
    }


def many(count: int, start: int = 0) -> list[Problem]:
    return [
        Problem(file="lots.toml", line=n, key=f"lot[{n}].crop (lot {n})", found=f"leak{n}")
        for n in range(start, start + count)
    ]


def test_of_a_kind_the_first_five_are_told_and_the_others_counted() -> None:
    other = Problem(file="lots.toml", key="lot[7].want", found="x", allowed=("a number",))
    told = gathered([*many(1000), other])
    assert [problem.line for problem in told] == [0, 1, 2, 3, 4, None]
    assert str(told[4]).endswith("found 'leak4'. And 995 more of this kind.")
    assert [problem.more for problem in told] == [0, 0, 0, 0, 995, 0]
    assert count_of(told) == 1001


def test_problems_may_be_gathered_again_with_others() -> None:
    told = gathered([*gathered(many(7)), *gathered(many(8, start=7))])
    assert told == gathered(many(15))


def test_problems_that_all_differ_end_somewhere() -> None:
    names = ["".join(chr(97 + int(digit)) for digit in str(number)) for number in range(5000)]
    told = gathered(Problem(file="a", key=f"key {name}") for name in names)
    assert len(told) == 101
    assert count_of(told) == 5000
    assert "of other kinds" in str(told[-1])


@pytest.mark.parametrize("field", ["file", "key", "found", "hint", "listed_by"])
def test_nothing_of_a_problem_reaches_a_terminal_uncleaned(field: str) -> None:
    dirty = "ev\x1b]52;c;QUFB\x07il\u202e"
    given = {"file": "a", "allowed": tuple("abcdefghijklmn"), field: dirty}
    problem = Problem(**given)  # type: ignore[arg-type]
    shown = str(problem)
    assert shown.isprintable()
    said = problem.as_json()
    assert all(str(said[key]).isprintable() for key in ("file", "key", "found", "hint"))


def test_what_was_found_is_cut() -> None:
    assert len(str(Problem(file="a", key="k" * 70_000, found="x" * 70_000))) < 500
