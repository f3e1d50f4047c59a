"""Tables that a spreadsheet opens."""

import csv
from collections.abc import Iterable, Sequence
from typing import Protocol

from seedstart.text import for_spreadsheet


class _Takes(Protocol):
    def write(self, text: str, /) -> object: ...


def write_table(to: _Takes, header: Sequence[str], rows: Iterable[Sequence[object]]) -> None:
    """Write a table as CSV: no cell is taken for a formula, None is an empty one."""
    writer = csv.writer(to, lineterminator="\n")
    writer.writerow(header)
    for row in rows:
        writer.writerow(["" if cell is None else for_spreadsheet(str(cell)) for cell in row])
