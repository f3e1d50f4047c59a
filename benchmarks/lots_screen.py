"""The figures of 500 lots, every index among them: a ratio to decoding and folding their journal.

By hand: `python benchmarks/lots_screen.py [lots]`. Invented lots, seeds fixed: two sowings each,
with ten looks a sowing. No curve is fitted for the list; that of one lot is `time_curve.py`.
"""

import sys
from pathlib import Path
from statistics import median
from time import perf_counter

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from datetime import datetime, timedelta
from random import Random

from notebook import ZONE, Notebook
from seasons import lot, season
from seedstart.growing.germination.indices import indices_of
from seedstart.planning.prospects.own_record import figure_of
from seedstart.season.journal.entries import Counted, Entry, Sown
from seedstart.season.journal.journal import Journal, Lines
from seedstart.season.journal.journal_lines import encode
from seedstart.season.plan.season_file import Season
from seedstart.tracking.cases import case_of
from seedstart.tracking.fold_journal import records
from seedstart.tracking.records import Records

LOOKS, SEEDS, ROUNDS = 10, 40, 5
BAR_S = 1.0


def entries(lots: int) -> list[Entry]:
    book, rng = Notebook(), Random(5)
    start = datetime(2027, 3, 1, 8, tzinfo=ZONE)
    for number in range(lots):
        share = rng.betavariate(8, 2)
        for again in ("", "/2"):
            name = f"lot{number}{again}"
            book.write(Sown, start, sowing=name, lot=f"lot{number}", seeds=SEEDS, station="shelf")
            days = sorted(rng.gauss(9, 2) for _ in range(SEEDS) if rng.random() < share)
            for look in range(LOOKS):
                day = 5 + 2 * look
                up = sum(one <= day for one in days)
                at = start + timedelta(days=day)
                last = look == LOOKS - 1
                book.write(Counted, at, sowing=name, standing=up, final=last)
    return book.entries


def figures(plan: Season, folded: Records) -> int:
    done = 0
    for one in plan.lots:
        figure = figure_of(one, plan, folded)
        for sowing in figure.sowings:
            case = case_of(sowing, folded, clusters=figure.clusters)
            if case is not None and not case.why_no_course:
                done += len(indices_of(case.found, case.seeds))
    return done


def main(lots: int = 500) -> None:
    plan = season("".join(lot(f"lot{number}", "leek") for number in range(lots)))
    data = encode(entries(lots))
    fold_s, figures_s, done = [], [], 0
    for _ in range(ROUNDS):
        start = perf_counter()
        journal = Journal()
        journal.read(Lines("journal/bench.jsonl", data))
        folded = records(journal, plan)
        middle = perf_counter()
        done = figures(plan, folded)
        fold_s.append(middle - start)
        figures_s.append(perf_counter() - middle)
    fold, own = median(fold_s), median(figures_s)
    print(
        f"{lots} lots, {done} indices: {1000 * own:.0f} ms, bar {BAR_S:g} s; decoding and folding "
        f"{1000 * fold:.0f} ms, ratio {own / fold:.2f}"
    )


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
