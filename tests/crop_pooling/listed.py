"""What is said of a crop by hand, since no reference table says it: names, raising, usual class.

`usual` is the hardiness class, `raising` how the seedlings are raised and `depth_mm` how deep the
seed is sown in trays, all by common practice; sources overrule the first and the last.
"""

from typing import Final, NamedTuple

from seedstart.crop_table.crop import Group, Hardiness, Raising


class Listed(NamedTuple):
    """One crop of the table.

    Attributes:
        depth_mm: Depth in trays by common practice; 0 is pressed in.
        relative: The crop whose temperatures stand in where no source prints this one's.
        borrows_table: Whether it takes the relative's emergence table as well.
    """

    name: str
    botanical: str
    group: Group
    usual: Hardiness
    raising: Raising
    depth_mm: float
    also: tuple[str, ...] = ()
    relative: str = ""
    borrows_table: bool = False


def vegetable(
    name: str,
    botanical: str,
    usual: Hardiness,
    raising: Raising,
    depth_mm: float,
    *also: str,
    like: str = "",
    table_of: str = "",
) -> Listed:
    return Listed(
        name, botanical, "vegetable", usual, raising, depth_mm, also, table_of or like,
        bool(table_of),
    )  # fmt: skip


def herb(
    name: str, botanical: str, usual: Hardiness, raising: Raising, depth_mm: float, *also: str,
    like: str = "",
) -> Listed:  # fmt: skip
    return Listed(name, botanical, "herb", usual, raising, depth_mm, also, like)


def flower(
    name: str, botanical: str, usual: Hardiness, raising: Raising, depth_mm: float, *also: str,
    like: str = "",
) -> Listed:  # fmt: skip
    return Listed(name, botanical, "flower", usual, raising, depth_mm, also, like)


PRICKED: Final = "pricked out"
POT: Final = "own pot"
CLUMP: Final = "clump"
PLACE: Final = "sown in place"
HALF: Final = "half_hardy"
VERY: Final = "very_tender"
