"""A check or an alert by its key, or by as much of it as fits no other."""

from collections.abc import Iterable, Iterator, Sequence

from seedstart.daily.check import Alert, Check, Round
from seedstart.problems import Problem
from seedstart.text import clean, folded


def find(found: Round, typed: str, *, option: str) -> Check | Alert | Problem:
    """What a key means: whole, or its beginning where that fits one alone.

    Args:
        found: The round; what was put off is found too, and may be answered all the same.
        typed: The key as it was typed.
        option: Where, for the problem.
    """
    wanted = folded(clean(typed).strip())
    every: list[Check | Alert] = [
        *lines_and_parts(found.checks), *found.alerts, *found.later,
    ]  # fmt: skip
    exact = [one for one in every if folded(one.key) == wanted]
    begun = [one for one in every if wanted and folded(one.key).startswith(wanted)]
    # Whole words go first: `count T` is tray T before it is any `count tray …`.
    whole = [one for one in begun if folded(one.key).startswith(f"{wanted} ")]
    fits = exact or _to_be_done(whole) or _to_be_done(begun)
    if len(fits) == 1:
        return fits[0]
    keys = tuple(one.key for one in fits or every)
    hint = "More than one fits: type more of it." if fits else _where(every)
    return Problem(
        file=option,
        found=typed,
        allowed=keys,
        hint=hint,
        listed_by="checks",
    )


def _to_be_done(found: list[Check | Alert]) -> list[Check | Alert]:
    """Those still to be done, where any is; what was done already is seldom meant."""
    return [one for one in found if isinstance(one, Alert) or not one.done] or found


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
