"""Soaking, chilling and nicking: by hand from the words of the tables."""

from typing import Final

from crop_pooling.pooling import figure
from crop_pooling.sources import weak_key
from seedstart.crop_table.crop import Treat

_OVERNIGHT: Final = "Overnight is enough: longer soaking can drown the seed."
_SOAK_12: Final = figure(12, 12, 12, "source", ("illinois-peoria-pretreatment",))
_MONTHS: Final = figure(
    120, 60, 180, "source", ("oklahoma-tulsa-2022",), "printed as 2 to 6 months"
)


def _not_in_trays(kind: str) -> Treat:
    return Treat(
        what="stratify",
        need="some do",
        basis="source",
        days=_MONTHS,
        text=f"Printed for {kind} in general; in trays it comes up without.",
        sources=("oklahoma-tulsa-2022",),
    )


def _soaked(need: str, text: str = _OVERNIGHT, *more: str) -> Treat:
    return Treat(
        what="soak",
        need="helps" if need == "helps" else "some do",
        basis="source",
        hours=_SOAK_12,
        text=text,
        sources=("illinois-peoria-pretreatment", *more),
    )


_BEAN_SOAK: Final = Treat(
    what="soak",
    need="some do",
    basis="practice",
    hours=figure(8, 4, 12, "practice", note="common practice, no source"),
    text="Overnight at most, with care: soaked beans split and rot easily.",
)

TREATS: Final[dict[str, tuple[Treat, ...]]] = {
    "pea": (_soaked("some do", "Overnight at most: peas drown. In warm water."),),
    "snap bean": (_BEAN_SOAK,),
    "lima bean": (_BEAN_SOAK,),
    "okra": (_soaked("helps", f"In warm water. {_OVERNIGHT}"),),
    "parsley": (_soaked("helps", f"In warm water. {_OVERNIGHT}"),),
    "sweet pea": (
        _soaked("helps", f"Or nick the coat. {_OVERNIGHT}", "my-home-ideas-sweet-peas",
                "los-angeles-times-1992", "michigan-sweet-pea"),
        Treat(what="scarify", need="some do", basis="source",
              text="Nick the seed coat instead of soaking.",
              sources=("my-home-ideas-sweet-peas",)),
    ),
    "nasturtium": (
        Treat(what="scarify", need="helps", basis="source", text="Nick the seed coat.",
              sources=("horticulture-nasturtiums", "kittek-2014")),
        Treat(what="soak", need="some do", basis="source",
              hours=figure(12, 12, 24, "weak", (weak_key("Botanical Interests"),)), text=_OVERNIGHT,
              sources=("southern-living-nasturtium",)),
    ),
    "morning glory": (
        Treat(what="scarify", need="helps", basis="source",
              text="Nick the seed coat, then soak.",
              sources=("illinois-peoria-pretreatment", "kittek-2014")),
        _soaked("helps", f"After nicking, in warm water. {_OVERNIGHT}", "illinois-first-garden"),
    ),
    "four-o'clock": (
        Treat(what="soak", need="helps", basis="source",
              hours=figure(12, 8, 12, "practice", note="printed as overnight"), text=_OVERNIGHT,
              sources=("north-carolina-plants",)),
    ),
    "gomphrena": (
        Treat(what="soak", need="some do", basis="source",
              hours=figure(84, 72, 96, "source", ("consumer-guide-annuals",)),
              text="Printed as 3 to 4 days, on a seller's sheet as 1 to 2; overnight harms least.",
              sources=("consumer-guide-annuals",)),
    ),
    "pansy": (
        Treat(what="stratify", need="helps", basis="source",
              days=figure(14, 14, 14, "source", ("cornell-growing-guides",)),
              text="In the refrigerator, sown and damp.",
              sources=("cornell-growing-guides", "kittek-2014")),
    ),
    "viola": (
        Treat(what="stratify", need="helps", basis="source",
              text="Moist and cold; one source lists it among seeds that need it.",
              sources=("kittek-2014",)),
    ),
    "purple coneflower": (
        Treat(what="stratify", need="helps", basis="source",
              text="Moist and cold for some weeks; fresh seed came up without.",
              sources=("hassell-2004", "kittek-2014")),
    ),
    "verbena": (
        Treat(what="stratify", need="helps", basis="source",
              days=figure(7, 7, 7, "source", ("chong-handbook",)),
              c=figure(5, 5, 5, "source", ("chong-handbook",)),
              text="Sown, on the dry side, and dark until it is up.",
              sources=("chong-handbook",)),
    ),
    "larkspur": (
        Treat(what="stratify", need="needed", basis="source",
              days=figure(14, 7, 21, "source", ("kansas-larkspur-2010", "ramga-larkspur")),
              c=figure(3, 2, 4, "practice", ("ramga-larkspur",),
                       "common practice for the refrigerator; the sources name no temperature"),
              text="Moist and cold; it does not come up in warm soil, and wants the dark.",
              sources=("cornell-larkspur", "kansas-larkspur-2010", "ramga-larkspur")),
    ),
    "lupine": (
        Treat(what="soak", need="helps", basis="weak",
              hours=figure(12, 8, 12, "practice", note="printed as overnight"),
              text="Or rub the seed with sandpaper.", sources=(weak_key("Hawthorn Farm"),)),
    ),
    "cleome": (
        Treat(what="stratify", need="helps", basis="source",
              days=figure(5, 5, 5, "source", ("garden-seed-handbook",)),
              c=figure(4.4, 4.4, 4.4, "source", ("garden-seed-handbook",)),
              text="In the refrigerator.", sources=("garden-seed-handbook", "ramga-cleome")),
    ),
    "snapdragon": (
        Treat(what="stratify", need="some do", basis="source",
              days=figure(2, 2, 2, "source", ("garden-seed-handbook",)),
              text="Dry seed in the freezer.", sources=("garden-seed-handbook",)),
    ),
    "lavender": (_not_in_trays("lavender"),),
    "rudbeckia": (_not_in_trays("rudbeckia"),),
    "annual phlox": (_not_in_trays("phlox"),),
}  # fmt: skip
