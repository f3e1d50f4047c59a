"""A check or an alert by its key, or by as much of it as fits no other."""

from collections.abc import Iterable, Iterator, Sequence

from seedstart.daily.check import Alert, Check, Round
from seedstart.problems import Problem
from seedstart.text import clean, folded


def find(found: Round, typed: str, *, option: str) -> Check | Alert | Problem:
    """What a key means: whole, or its beginning where that fits one alone.

    Args:
        found: The round.
        typed: The key as it was typed.
        option: Where, for the problem.
    """
    wanted = folded(clean(typed).strip())
    every: list[Check | Alert] = [*lines_and_parts(found.checks), *found.alerts]
    exact = [one for one in every if folded(one.key) == wanted]
    begun = [one for one in every if wanted and folded(one.key).startswith(wanted)]
    fits = exact or begun
    if len(fits) == 1:
        return fits[0]
    keys = tuple(one.key for one in fits or every)
    hint = "More than one fits: type more of it." if fits else _where(every)
    return Problem(
        file=option,
        found=typed,
        allowed=keys,
        hint=hint,
        listed_by="seedstart round --keys",
    )


def _where(every: Sequence[Check | Alert]) -> str:
    return "" if every else "Nothing is to be done today."


def lines_and_parts(checks: Iterable[Check]) -> Iterator[Check]:
    """Every line, and after a line that gathers several those too."""
    for check in checks:
        yield check
        yield from check.parts


def single_checks(checks: Iterable[Check]) -> Iterator[Check]:
    """Every check by itself, in the order of the walk."""
    for check in checks:
        yield from check.parts or (check,)
