"""What a grower types for a crop → the crop, or the names that come near it."""

from collections.abc import Iterator, Mapping
from typing import Final

from seedstart.crop_table.crop import Crop
from seedstart.crop_table.load import CropTable
from seedstart.problems import Problem
from seedstart.text import clean, folded

LISTED_BY = "crops"
# Said of names of several words: what misses a single one is mostly a slip.
_OF_YOUR_OWN: Final = (
    "One that is not there goes into a file of your own, in crops/ of your season."
)
# Names of a whole genus, or of two plants: asked which, where a grower types one again. Seasons of
# version 0.1.0 may hold them, and mean what that version took them for.
_SEVERAL: Final[dict[str, str]] = {
    "amaranth": "gomphrena",
    "aster": "china aster",
    "begonia": "wax begonia",
    "black-eyed susan": "rudbeckia",
    "phlox": "annual phlox",
    "salvia": "scarlet sage",
}
_BY_NAME_OF_SEVERAL: Final[dict[str, tuple[str, ...]]] = {
    "amaranth": ("edible amaranth", "gomphrena", "love-lies-bleeding"),
    "black-eyed susan": ("rudbeckia", "thunbergia"),
    "salvia": ("mealycup sage", "rosemary", "sage", "scarlet sage"),
}


def find_crop(
    table: CropTable,
    typed: str,
    *,
    file: str,
    key: str = "",
    line: int | None = None,
    as_before: bool = False,
) -> Crop | Problem:
    """The crop that a name means; see `find_crop_name`."""
    found = find_crop_name(table, typed, file=file, key=key, line=line, as_before=as_before)
    return found if isinstance(found, Problem) else table.crops[found]


def find_crop_name(
    table: CropTable,
    typed: str,
    *,
    file: str,
    key: str = "",
    line: int | None = None,
    as_before: bool = False,
) -> str | Problem:
    """The crop that a name means: its own name, another one, a plural, or the only one it fits.

    Args:
        table: Where to look.
        typed: What the grower wrote.
        file: Where it stands, for the problem.
        key: Likewise.
        line: Likewise.
        as_before: What was written long ago means what it meant then; else a genus is asked about.

    Returns:
        The crop's own name; or a problem that names those it fits, or the nearest words.
    """
    wanted, names = folded(clean(typed)), table.names
    if wanted in _SEVERAL and wanted not in names:
        meant = names.get(_SEVERAL[wanted])
        if meant is not None and as_before:
            return meant
        return _which(table, typed, wanted, file=file, key=key, line=line)
    for spelling in _spellings(wanted):
        if spelling in names:
            return names[spelling]
    fits = _that_hold(wanted, names)
    if len(fits) == 1:
        return next(iter(fits))
    if fits:
        return Problem(
            file=file,
            key=key,
            line=line,
            found=typed,
            allowed=tuple(sorted(fits)),
            hint="The name fits more than one crop.",
        )
    return Problem(
        file=file,
        key=key,
        line=line,
        found=typed,
        allowed=tuple(names),
        hint=_OF_YOUR_OWN if " " in wanted else "",
        listed_by=LISTED_BY,
    )


def _which(
    table: CropTable, typed: str, wanted: str, *, file: str, key: str, line: int | None
) -> Problem:
    """The problem of a name that is a genus: which of it."""
    fits = _that_hold(wanted, table.names) | set(_BY_NAME_OF_SEVERAL.get(wanted, ()))
    return Problem(
        file=file,
        key=key,
        line=line,
        found=typed,
        allowed=tuple(sorted(fits & table.crops.keys())),
        hint="The name is that of a whole genus, or of two plants: say which.",
    )


def _spellings(name: str) -> Iterator[str]:
    """The name as it stands, then without a plural's ending, then turned: `bean, snap`."""
    yield name
    for ending, singular in (("ies", "y"), ("oes", "o"), ("s", "")):
        if name.endswith(ending):
            yield name.removesuffix(ending) + singular
    if "," in name:
        head, _, tail = name.partition(",")
        yield f"{tail.strip()} {head.strip()}"


def _that_hold(wanted: str, names: Mapping[str, str]) -> set[str]:
    """Crops one of whose names holds every word of what was typed."""
    for spelling in _spellings(wanted):
        words = set(spelling.split())
        fits = {crop for name, crop in names.items() if words and words <= set(name.split())}
        if fits:
            return fits
    return set()
