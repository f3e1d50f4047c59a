"""What became of a lived season: its lots, why some were lost, and what the round asked for."""

from collections import Counter
from datetime import date
from itertools import combinations
from random import Random
from typing import Final, Literal, NamedTuple

import lived_truth as truth
from seedstart.planning.calendar.row import Row

Why = Literal[
    "frost while hardening off",
    "frost in the frame",
    "frost after setting out",
    "pricking out",
    "set out too late",
    "set out too early",
    "never set out",
    "did not come up",
    "thrown away",
]


class Outcome(NamedTuple):
    """What became of one lot: by the round, by a naive calendar, and what biology allowed.

    Attributes:
        lot: Which.
        kind: Good, poor or dead seed.
        enough_sown: Whether as many live seeds were sown as plants are wanted.
        in_window: Whether as many were set out within the window as it was printed at first.
        alive: Whether nine in ten of them were alive two weeks later.
        naive: Whether the printed best days alone had done that.
        naive_alive: Likewise.
        allowed: Whether the whole packet would have given them.
        why: Why it was lost; None where it was not, or too little live seed was sown.
    """

    lot: str
    kind: str
    enough_sown: bool
    in_window: bool
    alive: bool
    naive: bool
    naive_alive: bool
    allowed: bool
    why: Why | None = None


class Lived(NamedTuple):
    """One season, lived.

    Attributes:
        outcomes: A lot each.
        lines: Lines of each morning.
        answers: What was done of each morning: a line that gathers several counts them all.
        refused: Lines that could not be answered, with what was said.
        excluding: Pairs of lines of one morning for one sowing of which each makes the other
            pointless, and how often.
        standing: Lines that were done and came again in the same words for a week.
        open_at_end: Sowings whose count was never closed.
        sowings: All that were made from seed.
        again: Sowings made since the advice was to sow again; and how many of these were needless.
        short: Sowings of too little live seed while more lay in the packet; and how many of these
            were told.
        mat: Whether the mat lay dead under something and was read twice; and how often that was
            told.
    """

    outcomes: tuple[Outcome, ...]
    lines: tuple[int, ...]
    answers: tuple[int, ...]
    refused: tuple[str, ...]
    excluding: Counter[str]
    standing: tuple[str, ...]
    open_at_end: int
    sowings: int
    again: tuple[int, int]
    short: tuple[int, int]
    mat: tuple[bool, int]


class SetOutBatch(NamedTuple):
    """Plants that went out on one day, and how they are since.

    Attributes:
        day: When.
        number: How many.
        plants: As they are now.
        covered: Whether they are under fleece whenever a frost is due.
    """

    day: date
    number: int
    plants: truth.Plants
    covered: bool


def why_lost(
    batches: list[SetOutBatch],
    losses: Counter[Why],
    standing: int,
    to_come: int,
    row: Row,
    want: int,
) -> Why:
    """Why a lot of which enough live seed was sown was not set out in time, or not alive after.

    Args:
        batches: What was set out.
        losses: Plants lost before that, by what took them.
        standing: Plants still on the benches at the end.
        to_come: Live seed that never came up.
        row: The calendar's row, as it was printed at first.
        want: Plants wanted.
    """
    window = row.window("set_out")
    assert window is not None
    within = sum(one.number for one in batches if window.earliest <= one.day <= window.latest)
    late = sum(one.number for one in batches if one.day > window.latest)
    early = sum(one.number for one in batches if one.day < window.earliest)
    if within >= want:
        return "frost after setting out"
    missing: Counter[Why] = Counter(losses)
    missing.update(
        {
            "set out too late": late,
            "set out too early": early,
            "never set out": standing,
            "did not come up": to_come,
        }
    )
    return missing.most_common(1)[0][0]


# Two lines of one morning for the same plants, of which each makes the other pointless.
_EXCLUDE: Final = {
    frozenset(pair)
    for pair in (
        ("harden", "set out"),
        ("feed", "harden"),
        ("feed", "prick out"),
        ("feed", "pot on"),
        ("feed", "set out"),
        ("prick out", "harden"),
        ("prick out", "pot on"),
        ("prick out", "set out"),
        ("pot on", "harden"),
        ("pot on", "set out"),
        ("count", "set out"),
        ("count", "close"),
        ("look", "close"),
        ("move to light", "set out"),
    )
}


def excluding(by_sowing: dict[str, set[str]]) -> Counter[str]:
    """The pairs among one morning's acts of each sowing that exclude each other."""
    pairs = (
        pair
        for acts in by_sowing.values()
        for pair in combinations(sorted(acts), 2)
        if frozenset(pair) in _EXCLUDE
    )
    return Counter(" + ".join(pair) for pair in pairs)


def naive(
    lot: truth.Lot, row: Row, want: int, bench: truth.Bench, kinds: dict[str, str],
    weather: truth.Weather,
) -> tuple[int, int]:  # fmt: skip
    """Sown, pricked out and set out on the printed best days: how many, and alive later."""
    sow, out = row.sow_day, row.step("set_out")
    prick = row.step("prick_out")
    assert sow is not None
    assert out is not None
    assert out.best_day is not None
    draw = Random(row.crop)
    plants = lot.sown(row.seeds or 2 * want, draw)
    moved_on = prick.best_day if prick is not None else None
    day = sow
    while day < out.best_day:
        at = row.station if moved_on is None or day < moved_on else "shelf 2"
        plants.live(bench.c(at, day, kinds.get(at or "", "")), draw)
        day = date.fromordinal(day.toordinal() + 1)
        if day == moved_on:
            plants.to_come = []
            plants.leaf = [
                one
                for one in plants.leaf
                if one <= 0 and draw.random() > truth.LOST_AT_PRICKING_OUT
            ]
    count = len(plants.leaf)
    for later in range(14):
        plants.freeze(weather.night_c(date.fromordinal(day.toordinal() + later)), draw)
    return count, len(plants.leaf)
