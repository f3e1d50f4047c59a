"""Counts of a day before their sowing: nothing can be up of seed that is not sown yet."""

from collections.abc import Iterable, Iterator
from datetime import datetime

from seedstart.days import long_day
from seedstart.problems import Problem
from seedstart.season.entries import Counted, Entry
from seedstart.tracking.records import Records
from seedstart.tracking.standing import Standing


def counted_too_soon(records: Records, drafts: Iterable[Entry], at: datetime) -> Iterator[Problem]:
    """Why counts may not be written for a moment.

    Args:
        records: What happened.
        drafts: What is to be written.
        at: When it is said to have happened.
    """
    for draft in drafts:
        one = records.by_name_in_line(draft.sowing) if isinstance(draft, Counted) else None
        if one is not None and at.date() < one.at.date():
            day = long_day(one.at.date())
            hint = f"{one.name} was sown on {day}: it cannot have been counted before."
            yield Problem(file="--at", found=at.date().isoformat(), hint=hint)


def first_too_soon(sowing: Standing) -> Counted | None:
    """The first count of a day before it was sown; None where there is none."""
    sown = sowing.at.date()
    return next((entry for entry in sowing.counted if entry.at.date() < sown), None)
