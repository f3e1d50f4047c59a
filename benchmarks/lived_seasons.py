"""Whole seasons lived by the round alone: how many lots are set out in time, and alive after.

    python benchmarks/lived_seasons.py [SEASONS] [FIRST_SEED]

The truth of every season is invented (tests/lived_truth.py); what is printed says what the round is
worth to one who does every line of it, beside a calendar followed blindly and what biology allowed.
"""

import sys
import tempfile
from collections import Counter
from pathlib import Path
from statistics import median, quantiles

sys.path.insert(0, str(Path(__file__).parent.parent / "tests"))

from lived_outcome import Lived, Outcome
from lived_season import Grower


def main(seasons: int = 100, first: int = 0) -> None:
    """Live them, and print what became of their lots."""
    lived = []
    for seed in range(first, first + seasons):
        with tempfile.TemporaryDirectory(
            dir="/dev/shm" if Path("/dev/shm").is_dir() else None
        ) as at:
            lived.append(Grower(Path(at) / "season", seed).live())
        tell_of_lots(lived[-1:], f"season {seed}")
    tell_of_lots(lived, f"{seasons} seasons")
    tell_of_lines(lived)
    for season in lived:
        for line in season.refused[:3]:
            print("refused:", line)


def tell_of_lots(lived: list[Lived], head: str) -> None:
    """Plants wanted in the window, and alive after, beside naive and biology; why some were not."""
    lots = [one for season in lived for one in season.outcomes]
    fair = [one for one in lots if one.enough_sown]
    lost = Counter(str(one.why) for one in fair if one.why)
    print(
        f"{head}: {len(lots)} lots; allowed {_share(lots, 'allowed')}, "
        f"in window {_share(lots, 'in_window')}, alive {_share(lots, 'alive')}; "
        f"naive {_share(lots, 'naive')}, {_share(lots, 'naive_alive')}; "
        f"of {len(fair)} with enough live seed in window {_share(fair, 'in_window')}, "
        f"alive {_share(fair, 'alive')}; lost: {_most(lost)}",
        flush=True,
    )


def tell_of_lines(lived: list[Lived]) -> None:
    """Lines a morning, those that should not be there, counts not closed, advice."""
    lines = sorted(line for season in lived for line in season.lines)
    answers = sorted(one for season in lived for one in season.answers)
    print(f"lines a morning {_spread(lines)}; what was done of them {_spread(answers)}")
    print("that exclude each other:", _most(sum((one.excluding for one in lived), Counter[str]())))
    standing = [says for season in lived for says in season.standing]
    print(f"done, and there again for a week: {len(standing)}", *standing[:5], sep="\n  ")
    print(
        f"counts never closed {sum(season.open_at_end for season in lived)} of "
        f"{sum(season.sowings for season in lived)}; "
        f"sown again {sum(season.again[0] for season in lived)}, "
        f"needless {sum(season.again[1] for season in lived)}; "
        f"too little live seed {sum(season.short[0] for season in lived)}, "
        f"told {sum(season.short[1] for season in lived)}"
    )
    died = [season.mat[1] > 0 for season in lived if season.mat[0]]
    print(
        f"mats that died under something and were read, told: {sum(died)} of {len(died)}, "
        f"for nothing {sum(season.mat[1] > 0 for season in lived if not season.mat[0])}; "
        f"refused {sum(len(season.refused) for season in lived)}"
    )


def _spread(numbers: list[int]) -> str:
    return f"median {median(numbers)}, nine in ten {quantiles(numbers, n=10)[-1]:.0f}"


def _most(found: Counter[str]) -> str:
    return ", ".join(f"{what} {number}" for what, number in found.most_common()) or "none"


def _share(lots: list[Outcome], of: str) -> str:
    return f"{sum(getattr(one, of) for one in lots) / max(len(lots), 1):.0%}"


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
