"""A small crop table: names, other names and two crops that one word fits."""

from collections.abc import Iterable

from seedstart.crop_table.load import load_crops


def _figure(best: int) -> str:
    return f'{{ best = {best}, low = {best}, high = {best}, basis = "source" }}'


_REST = f"""
group = "vegetable"
hardiness = "tender"
hardiness_from = {{ basis = "source" }}
clock = "table"
raising = "pricked out"
raising_from = {{ basis = "source" }}
lowest_c = {_figure(5)}
fastest_c = {_figure(20)}
highest_c = {_figure(30)}
tray_c = {_figure(15)}
first_to_last = {_figure(2)}
days_in_trays = {_figure(7)}
"""


def crop(name: str, also: Iterable[str]) -> bytes:
    """A file whose names may be asked for."""
    return f'name = "{name}"\nalso = {[*also]}{_REST}'.encode()


CROPS = load_crops(
    {
        f"{name}.toml": crop(name, also)
        for name, also in (
            ("pepper", ["capsicum"]),
            ("leek", []),
            ("lettuce", []),
            ("tomato", []),
            ("snap bean", ["french bean"]),
            ("runner bean", []),
        )
    }
)
