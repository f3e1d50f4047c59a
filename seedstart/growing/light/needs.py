"""How much light seedlings need a day, and how long a day may be."""

from collections.abc import Iterable
from typing import Final, NamedTuple

# No lamp nearer to the leaves than this. Common practice, no source: sheets hang LEDs 20 to 30 cm
# high (Iowa State University Extension), tubes 5 to 15.
CLOSEST_MM: Final = 80.0
# Hours of light that sheets advise: Iowa State, Cornell, NDSU Extension: 14 to 16.
USUAL_HOURS: Final = (14.0, 16.0)
# A tray that gets less than this share of what it needs stretches beside the others. Common
# practice, no source.
LEAST_SHARE: Final = 0.7


class LightNeed(NamedTuple):
    """What seedlings want of light.

    Attributes:
        low_mol, high_mol: DLI, mol m⁻² d⁻¹: from where they grow on well, and from where more
            costs more than it brings.
        range_source: Who says so.
        longest_hours: No day of light is to be longer.
        hours_source: Who says so.
        most_umol: PPFD that is not to be passed, µmol m⁻² s⁻¹; None where none is known.
        of: The crop that asks for so much; empty for seedlings of any kind.
    """

    low_mol: float
    high_mol: float
    range_source: str
    longest_hours: float
    hours_source: str
    most_umol: float | None = None
    of: str = ""


_SEEDLINGS: Final = "Ebba, University of New Hampshire Extension: seedlings, full-sun plants too"
_PLUGS: Final = (
    "Craver, Boldt & Lopez 2019, HortScience 54(1): 52; "
    "Randall & Lopez 2015, HortScience 50(5): 705"
)
_TOMATO: Final = "longer than 18 h yellows tomato leaves (Lanoue et al. 2019)"
# What no source gives is treated as the most sensitive crop that was tried.
_OTHERS: Final = "no source for this crop: the 18 h of tomato, the most sensitive that was tried"
_PEPPER: Final = "sweet pepper is best at 20 h, 24 lower its yield (Demers & Gosselin 2002)"
_GENERAL: Final = LightNeed(8, 14, _SEEDLINGS, 18, _OTHERS)
# The kinds that those trials and their review name.
_PLUG_CROPS: Final = frozenset(
    {"petunia", "impatiens", "marigold", "annual vinca", "geranium", "pansy", "celosia", "zinnia"}
)
_CHOY_SUM: Final = frozenset({"tatsoi", "pak choi", "chinese cabbage"})


def light_need(crop: str) -> LightNeed:
    """What the seedlings of a crop want; of a crop that no trial names, what any do.

    Args:
        crop: By its name in the crop table.
    """
    if crop in _PLUG_CROPS:
        return LightNeed(10, 12, _PLUGS, 18, _OTHERS, of=crop)
    if crop == "tomato":
        return _GENERAL._replace(hours_source=_TOMATO)
    if crop == "pepper":
        return _GENERAL._replace(longest_hours=20, hours_source=_PEPPER)
    if crop in _CHOY_SUM:  # Brassica rapa: growth rose to 400 and fell (Frontiers 2021, 623682)
        return _GENERAL._replace(most_umol=400)
    return _GENERAL


def need_of_all(crops: Iterable[str]) -> LightNeed:
    """What suits all that stand together: the narrowest range, the shortest day.

    Where ranges part (none do so far) the upper end gives way; without crops, any seedling's.
    """
    needs = [light_need(crop) for crop in crops] or [_GENERAL]
    least = max(needs, key=lambda need: need.low_mol)
    shortest = min(needs, key=lambda need: need.longest_hours)
    high = max(min(need.high_mol for need in needs), least.low_mol)
    mosts = [need.most_umol for need in needs if need.most_umol is not None]
    return LightNeed(
        least.low_mol, high, least.range_source, shortest.longest_hours, shortest.hours_source,
        min(mosts, default=None), least.of,
    )  # fmt: skip
