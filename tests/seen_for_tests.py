"""Counts between looks from the reference tables."""

from seedstart.growing.germination.curve_fit import Between
from tables import rows


def seen_in(dataset: str, group: str) -> list[Between]:
    """The batches of one group of germination_tte_cases.csv."""
    return [
        Between(float(row["start"]), float(row["end"]), int(row["count"]))
        for row in rows("germination_tte_cases.csv")
        if (row["dataset"], row["group"]) == (dataset, group)
    ]
