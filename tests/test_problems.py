from seedstart.problems import BadInputError, Problem


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


def test_many_allowed_words_are_cut_to_the_nearest_and_the_command_that_lists_them() -> None:
    words = ("pea", "pepper", "petunia", *(f"crop {letter}" for letter in "abcdefghij"))
    problem = Problem(file="--crop", found="peper", allowed=words, listed_by="seedstart crops")
    assert str(problem).startswith("--crop: found 'peper', allowed: pepper")
    assert "(13 words; `seedstart crops` lists them)" in str(problem)
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
    }
