"""How the seeds of a germination test ended."""

from collections.abc import Sequence

from seedstart.season.entries import Counted
from seedstart.tracking.standing import Ended


def how_it_ended(counts: Sequence[Counted], seeds: int | None) -> tuple[Ended | None, str | None]:
    """Normal, abnormal, hard, fresh and dead seeds of a test, or why they are not known.

    The latest count whose figures add up to the seeds holds: it is of the whole test. Where each
    count was only of what was taken away at it, they are summed; what was taken away at a count
    that says no more was normal.

    Args:
        counts: The test's counts, in order.
        seeds: Seeds sown; None where they were not counted.

    Returns:
        The figures, and a sentence where they do not add up; both None where none were given.
    """
    given = [_ended(count) for count in counts if _is_judged(count)]
    if not given:
        return None, None
    whole = next((one for one in reversed(given) if one.seeds == seeds), None)
    if whole is not None:
        return whole, None
    for sums in (_added(given), _added([*given, *_taken_away(counts)])):
        if sums.seeds == seeds:
            return sums, None
    return None, (
        f"Normal, abnormal, hard, fresh and dead seeds add up to {given[-1].seeds} at the last "
        f"count, {seeds} were sown: they give no percentage."
    )


def _taken_away(counts: Sequence[Counted]) -> list[Ended]:
    """Seedlings taken out as they were counted, where nothing else is said: they were normal."""
    return [
        Ended(count.new, 0, 0, 0, 0)
        for count in counts
        if count.new is not None and (count.normal is None)
    ]


def _added(given: Sequence[Ended]) -> Ended:
    parts = ("normal", "abnormal", "hard", "fresh", "dead")
    return Ended(*(sum(getattr(one, part) for one in given) for part in parts))


def _is_judged(count: Counted) -> bool:
    parts = (count.normal, count.abnormal, count.hard, count.fresh, count.dead)
    return any(part is not None for part in parts)


def _ended(count: Counted) -> Ended:
    return Ended(
        count.normal or 0,
        count.abnormal or 0,
        count.hard or 0,
        count.fresh or 0,
        count.dead or 0,
    )
