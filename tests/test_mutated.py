"""No reader falls over what an accident can do to its input: a few of very many, always the same.

`benchmarks/mutate_readers.py` goes on from here.
"""

import pytest

from mutated import a_trial, readers

_TRIED = {"logger.csv": 60, "answers": 60, "crops": 80, "weather": 60}


@pytest.mark.parametrize("name", readers())
def test_no_accident_in_its_input_ends_a_reader(name: str) -> None:
    for seed in range(_TRIED.get(name, 150)):
        data, trial = a_trial(name, seed)
        try:
            trial()
        except Exception as error:
            raise AssertionError(f"{name}, seed {seed}: {data[:400]!r}") from error
