import pytest

from seedstart.season.plan.stations import SHIPPED, Container, round_pot_ml, with_shipped

# Ontario Ministry of Agriculture, Growing vegetable transplants in plug trays: cm³ a cell.
PUBLISHED = {24: 171, 38: 106, 50: 66, 72: 43, 128: 23, 200: 11, 288: 7}
BY_NAME = {container.name: container for container in SHIPPED}


@pytest.mark.parametrize(("cells", "ml"), PUBLISHED.items())
def test_a_shipped_tray_has_the_published_volume_of_a_cell(cells: int, ml: float) -> None:
    tray = BY_NAME[f"tray of {cells}"]
    assert (tray.cells, tray.cell_ml) == (cells, ml)
    assert "Ontario Ministry of Agriculture" in tray.source


def test_a_tray_of_72_holds_the_litres_of_its_cells() -> None:
    tray = BY_NAME["tray of 72"]
    assert tray.cell_ml is not None
    assert tray.cells * tray.cell_ml == pytest.approx(3096)  # 72 × 43 cm³


def test_a_round_pot_is_a_frustum() -> None:
    # 9 and 6.5 cm across, 8 cm high: 380.7 cm³ worked out by hand; a cylinder: π/4 d² h.
    assert round_pot_ml(9, 6.5, 8) == pytest.approx(380.7, abs=0.05)
    assert round_pot_ml(10, 10, 10) == pytest.approx(785.398, abs=0.001)
    assert BY_NAME["9 cm pot"].cell_ml == 381


def test_every_shipped_figure_says_where_it_comes_from() -> None:
    assert all(container.source for container in SHIPPED)
    assert "common practice, no source" in BY_NAME["half seed tray"].source
    assert "from memory" in BY_NAME["tray of 72"].source


def test_an_own_container_hides_the_shipped_one_of_its_name() -> None:
    own = Container("Tray of 72", 72, (0.5, 0.3))
    every = with_shipped([own])
    assert every[0] is own
    assert len(every) == len(SHIPPED)
