"""The curve that supposes no shape: Turnbull's, for looks on whatever days trays had them.

Between its steps nothing is known: a step goes up somewhere between its two days. Where one tray
was looked at, or all on the same days, it is the share that was up at each look.
"""

from collections.abc import Sequence
from itertools import pairwise
from math import inf
from typing import Final, NamedTuple

from seedstart.growing.germination.curve_fit import Between

_MOST_ROUNDS: Final = 100_000
# The likelihood of one seed can grow by no more than this any more (Gentleman & Geyer 1994,
# Biometrika 81: 618-623, citation from memory).
_CLOSE_ENOUGH: Final = 1e-6
_NOTHING: Final = 1e-9


class Step(NamedTuple):
    """A step of the curve.

    Attributes:
        after, by: It goes up somewhere between these days; `by` infinite: what is not up.
        rise: By how much, as a share of the seeds.
        up: Share that is up after it.
    """

    after: float
    by: float
    rise: float
    up: float


def step_curve(seen: Sequence[Between]) -> tuple[Step, ...]:
    """The most likely curve of any shape.

    Args:
        seen: Seeds by the looks between which they came up; of one tray or of several.

    Returns:
        Its steps in order; what was not up at the last look is no step unless it has to be.

    Raises:
        ValueError: No seed at all.

    Source:
        Turnbull 1976, JRSS B 38: 290-295: the self-consistent estimate, by expectation and
        maximisation.
    """
    batches = [batch for batch in seen if batch.seeds]
    if not batches:
        raise ValueError("at least one seed")
    places = _innermost(batches)
    rises = _self_consistent(batches, places)
    steps, up = [], 0.0
    for (after, by), rise in zip(places, rises, strict=True):
        if rise > _NOTHING and by < inf:
            up += rise
            steps.append(Step(after, by, rise, up))
    return tuple(steps)


def up_by(steps: Sequence[Step], day: float) -> float:
    """Share that is up by a day, at least: steps that end later count for nothing yet."""
    return max((step.up for step in steps if step.by <= day), default=0.0)


def _innermost(batches: Sequence[Between]) -> list[tuple[float, float]]:
    """The stretches in which the curve can rise: from some `after` to the next `by`."""
    ends = {(batch.by, 0) for batch in batches} | {(batch.after, 1) for batch in batches}
    ordered = sorted(ends)
    return [
        (start, end)
        for (start, is_after), (end, is_next_after) in pairwise(ordered)
        if is_after and not is_next_after
    ]


def _self_consistent(
    batches: Sequence[Between], places: Sequence[tuple[float, float]]
) -> list[float]:
    import numpy as np

    seeds = np.array([batch.seeds for batch in batches], dtype=float)
    holds = np.array(
        [[batch.after <= after and by <= batch.by for after, by in places] for batch in batches],
        dtype=float,
    )
    rises = np.full(len(places), 1 / len(places))
    for _ in range(_MOST_ROUNDS):
        pull = holds.T @ (seeds / (holds @ rises)) / seeds.sum()
        rises = rises * pull
        if pull.max() < 1 + _CLOSE_ENOUGH:
            break
    return [float(rise) for rise in rises / rises.sum()]
