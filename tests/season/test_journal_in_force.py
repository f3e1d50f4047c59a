"""Which entries of a subject are in force."""

from hypothesis import given, settings
from hypothesis import strategies as st

from any_season import entries
from seedstart.season.journal.entries import Entry
from seedstart.season.journal.journal import Journal


@settings(max_examples=150, derandomize=True, deadline=None)
@given(entries(24), st.data())
def test_in_force_is_what_no_strike_in_force_names(
    written: list[Entry], data: st.DataObject
) -> None:
    arrived = data.draw(st.permutations(written + written[-2:]))
    cut = data.draw(st.integers(0, len(arrived)))
    journal = Journal()
    for part in (arrived[:cut], arrived[cut:]):
        journal.take_in(part)
        for subject, about in journal.of.items():
            expected = [entry for entry in about if entry.id not in journal.struck]
            assert list(journal.in_force(subject)) == expected
