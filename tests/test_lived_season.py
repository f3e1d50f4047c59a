"""A few lots lived through by one who does every line of the round and knows nothing else."""

from pathlib import Path

import pytest

from lived_outcome import Lived
from lived_season import Grower


@pytest.fixture(scope="module")
def lived(tmp_path_factory: pytest.TempPathFactory) -> list[Lived]:
    folder: Path = tmp_path_factory.mktemp("lived")
    return [Grower(folder / str(seed), seed, lots=4).live() for seed in (13, 14, 15)]


def test_who_does_every_line_has_most_plants_in_their_window_and_alive(lived: list[Lived]) -> None:
    fair = [one for season in lived for one in season.outcomes if one.enough_sown]
    assert sum(one.in_window for one in fair) >= 0.8 * len(fair)
    assert sum(one.alive for one in fair) >= 0.8 * len(fair)


def test_no_line_of_a_morning_excludes_another_and_none_comes_again_once_done(
    lived: list[Lived],
) -> None:
    assert [one.excluding for one in lived] == [{}] * len(lived)
    assert [one.standing for one in lived] == [()] * len(lived)
    assert [one.refused for one in lived] == [()] * len(lived)


def test_every_count_is_closed_at_the_end(lived: list[Lived]) -> None:
    assert [one.open_at_end for one in lived] == [0] * len(lived)
