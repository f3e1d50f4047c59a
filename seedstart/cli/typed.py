"""What was typed on the command line → values; problems are gathered, then told all at once."""

from collections.abc import Callable
from typing import TypeVar

from seedstart.problems import BadInputError, Problem

T = TypeVar("T")
# What a frost date may mean, in words: the risk in percent of years.
MEANINGS = {"average": 50.0, "safe": 10.0}


class Typed:
    """Reads options one by one and keeps what is wrong with each.

    Use: read every option, then call `done`, which raises if any was wrong.
    """

    def __init__(self) -> None:
        self.problems: list[Problem] = []

    def read(self, option: str, text: str | None, parse: Callable[[str], T]) -> T | None:
        """The value of an option, or None where it was not given or is wrong."""
        if text is None:
            return None
        try:
            return parse(text)
        except ValueError as error:
            said = str(error)
            hint = f"{said[:1].upper()}{said[1:]}."
            self.problems.append(Problem(file=option, found=text, hint=hint))
            return None

    def take(self, found: T | Problem) -> T | None:
        """A value that was looked up, or the problem of not finding it."""
        if isinstance(found, Problem):
            self.problems.append(found)
            return None
        return found

    def refuse(self, problem: Problem) -> None:
        """Something else that is wrong."""
        self.problems.append(problem)

    def done(self) -> None:
        """Raise everything that was wrong."""
        if self.problems:
            raise BadInputError(self.problems)


def parse_risk(text: str) -> float:
    """A risk in percent, with or without its sign; or `average` (50), `safe` (10).

    A date that is never or always late is none.
    """
    meaning = MEANINGS.get(text.strip().lower())
    if meaning is not None:
        return meaning
    try:
        risk = float(text.strip().removesuffix("%").replace(",", "."))
    except ValueError:
        raise ValueError("average, safe, or a percentage above 0 and below 100, as 10") from None
    if not 0 < risk < 100:
        raise ValueError("average, safe, or a percentage above 0 and below 100, as 10")
    return risk
