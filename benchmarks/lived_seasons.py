"""Whole seasons lived by the round alone: how many lots are set out in time, and alive after.

    python benchmarks/lived_seasons.py [SEASONS] [FIRST_SEED]

The truth of every season is invented (tests/lived_truth.py); what is printed says what the round is
worth to one who does every line of it, beside a calendar followed blindly and what biology allowed.
"""

import sys
import tempfile
from pathlib import Path
from statistics import median, quantiles

sys.path.insert(0, str(Path(__file__).parent.parent / "tests"))

from lived_season import Grower, Lived, Outcome


def main(seasons: int = 100, first: int = 0) -> None:
    """Live them, and print what became of their lots."""
    lived = []
    for seed in range(first, first + seasons):
        with tempfile.TemporaryDirectory(
            dir="/dev/shm" if Path("/dev/shm").is_dir() else None
        ) as at:
            lived.append(Grower(Path(at) / "season", seed).live())
        tell(lived[-1:], f"season {seed}")
    tell(lived, f"{seasons} seasons")
    for season in lived:
        for line in season.refused[:3]:
            print("refused:", line)


def tell(lived: list[Lived], head: str) -> None:
    """Shares of lots, and lines a morning."""
    lots = [one for season in lived for one in season.outcomes]
    fair = [one for one in lots if one.enough_sown]
    lines = sorted(line for season in lived for line in season.lines)
    died = [season.mat[1] > 0 for season in lived if season.mat[0]]
    print(
        f"{head}: {len(lots)} lots; allowed {_share(lots, 'allowed')}, "
        f"in window {_share(lots, 'in_window')}, alive {_share(lots, 'alive')}; "
        f"naive {_share(lots, 'naive')}, {_share(lots, 'naive_alive')}; "
        f"of {len(fair)} with enough live seed in window {_share(fair, 'in_window')}, "
        f"alive {_share(fair, 'alive')}; "
        f"lines a morning {median(lines)}, nine in ten {quantiles(lines, n=10)[-1]:.0f}; "
        f"excluding {sum(season.excluding for season in lived)}; "
        f"open {sum(season.open_at_end for season in lived)} of "
        f"{sum(season.sowings for season in lived)}; "
        f"sown again {sum(season.again[0] for season in lived)}, "
        f"needless {sum(season.again[1] for season in lived)}; "
        f"mats that died and were read, told: {sum(died)} of {len(died)}, for nothing "
        f"{sum(season.mat[1] > 0 for season in lived if not season.mat[0])}; "
        f"refused {sum(len(season.refused) for season in lived)}",
        flush=True,
    )


def _share(lots: list[Outcome], of: str) -> str:
    return f"{sum(getattr(one, of) for one in lots) / max(len(lots), 1):.0%}"


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
