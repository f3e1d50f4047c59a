"""A few lots lived through by one who does every line of the round and knows nothing else."""

from pathlib import Path

from lived_season import Grower


def test_who_does_every_line_has_the_plants_in_their_window(tmp_path: Path) -> None:
    lived = Grower(tmp_path / "season", seed=13, lots=4).live()
    assert lived.refused == ()
    assert all(one.in_window for one in lived.outcomes if one.enough_sown)
    assert lived.open_at_end == 0
