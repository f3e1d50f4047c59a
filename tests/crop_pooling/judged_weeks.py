"""Weeks that were decided by hand, and why: where sources are silent, thin or wrong for trays."""

from typing import Final

from crop_pooling.pooling import figure
from crop_pooling.sources import weak_key
from seedstart.crop_table.crop import Figure

_NO_SOURCE: Final = "common practice, no source"

# Rows that give a whole season of sowings: only the first is a spring sowing for setting out.
FIRST_SOWING_ONLY: Final = "repeated plantings"
# A late crop, set out after the last frost for autumn.
NOT_A_SPRING_SOWING: Final = frozenset({("brussels sprouts", "cornell-reiners-2021")})

# Young plants that go out like half-hardy ones, whatever they stand once grown, and why.

_SLOW: Final = "young plants of a slow perennial go out like half-hardy ones: common practice"
_SMALL: Final = (
    "sown so near the frost it is too small to go out as early as other hardy plants, and goes"
    " out like half-hardy ones: common practice"
)
SET_OUT_AS_HALF_HARDY: Final[dict[str, str]] = {
    **dict.fromkeys(
        (
            "chives",
            "feverfew",
            "foxglove",
            "hollyhock",
            "lavender",
            "lemon balm",
            "purple coneflower",
            "sage",
            "sweet william",
            "thyme",
        ),
        _SLOW,
    ),
    **dict.fromkeys(
        ("california poppy", "candytuft", "clarkia", "sweet alyssum", "watercress"), _SMALL
    ),
    **dict.fromkeys(
        (
            "alpine strawberry",
            "aubrieta",
            "basket of gold",
            "bee balm",
            "campanula",
            "catnip",
            "columbine",
            "delphinium",
            "forget-me-not",
            "gaillardia",
            "garlic chives",
            "hyssop",
            "lovage",
            "lupine",
            "mint",
            "perennial coreopsis",
            "primula",
            "roman chamomile",
            "sedum",
            "shasta daisy",
            "sorrel",
            "tarragon",
            "wallflower",
            "yarrow",
        ),
        _SLOW,
    ),
}
# Crops without printed weeks that are raised as a relative is.
RAISED_AS: Final = {"romanesco": "cauliflower", "viola": "pansy"}

_QUICK_GREENS: Final = (
    "common practice: a quick plant that bolts when it is held back or chilled; the printed 8.7"
    " to 10 weeks are one source's earliest date for all cabbage-like greens"
)
SOW_BY_HAND: Final[dict[str, Figure]] = {
    "chinese cabbage": figure(
        4, 3, 5, "practice",
        note=f"{_NO_SOURCE}: it bolts when it is held back or chilled; sellers' sheets print 6 to"
        " 10 weeks, one source 8 to 9 weeks indoors",
    ),
    "kohlrabi": figure(
        5, 4, 6, "source", ("bhg-vegetables",),
        "common practice agrees; another source prints 8.7 to 10 as its earliest date for all"
        " cabbage-like crops",
    ),
    "leek": figure(
        10, 8, 12, "practice",
        ("horticulture-leeks", "minnesota-weisenhorn-2020", "mshs-vegetables"),
        "common practice, within the printed 6.3 to 15 weeks: a leek takes eight weeks and more"
        " to a plant worth setting out",
    ),
    "artichoke": figure(
        10, 8, 12, "practice",
        note=f"{_NO_SOURCE} better than sellers' sheets, which print 8 to 13 weeks; one source"
        " prints 4 to 6, another up to 16 weeks of growing",
    ),
    "mustard": figure(5, 4, 6, "practice", note=_QUICK_GREENS),
    "pak choi": figure(5, 4, 6, "practice", note=_QUICK_GREENS),
    "celeriac": figure(
        10, 9, 12, "practice", (weak_key("Veseys"),),
        "common practice, and a seller's sheet's 10; 8.1 to 9 in one column that sets it out weeks"
        " before the last frost, where a cold spell makes it bolt",
    ),
    "sweet pea": figure(
        8, 6, 9, "practice", ("massachusetts-college-sweet-pea",),
        "common practice: 6 to 8 weeks old, it goes out weeks before the last frost; the printed 6"
        " weeks do not say when",
    ),
    "columbine": figure(
        8.5,
        7,
        10,
        "practice",
        note=f"{_NO_SOURCE}: slow to come up; weak pages print 4.8 to 8",
    ),
    "rocket": figure(
        7.8, 6, 9.4, "practice",
        note=f"{_NO_SOURCE}: four weeks old, set out as hardy plants are; a local page prints 4",
    ),
    "spinach": figure(
        8.6, 7, 10, "practice", ("bhg-vegetables", "north-carolina-pender-2011"),
        "common practice: as young as the printed weeks indoors allow, set out as hardy plants are",
    ),
    "larkspur": figure(
        10, 8, 11, "practice", ("missouri-botanical-plants", "weigel-2009"),
        "common practice: printed 8 to 10 weeks, of plants 4 to 14 weeks old; two weeks of cold"
        " come before it",
    ),
    "morning glory": figure(
        3, 2, 4, "practice",
        note=f"{_NO_SOURCE}: older plants twine together; weak pages print 6 to 8",
    ),
    "celery": figure(
        9.5, 8.4, 12, "practice", ("idaho-cis-1209",),
        "common practice, within the printed weeks to sow and weeks indoors",
    ),
}  # fmt: skip
SET_OUT_BY_HAND: Final[dict[str, Figure]] = {
    "chinese cabbage": figure(
        0, -2, 0, "practice", ("colorado-gardennotes-720",),
        "common practice takes the end of the half-hardy rule: chilled young plants bolt",
    ),
    "mustard": figure(
        -1, -4.1, 0, "practice", ("colorado-gardennotes-720", "post-register"),
        "common practice within the printed range: chilled young plants bolt",
    ),
    "pak choi": figure(
        -1, -4.1, 0, "practice", ("colorado-gardennotes-720", "post-register"),
        "common practice within the printed range: chilled young plants bolt",
    ),
    "kohlrabi": figure(
        -1, -4.1, 0, "practice", ("colorado-gardennotes-720", "post-register"),
        "common practice within the printed range: chilled young plants bolt",
    ),
    "spinach": figure(
        -3, -6.1, 0, "practice", ("colorado-gardennotes-720", "north-carolina-pender-2011"),
        "common practice within the printed range: set out earlier it would be too small",
    ),
    "celeriac": figure(
        1, 0, 2, "practice", ("purdue-ho-203",),
        "common practice and sellers' sheets: after all frost; printed 2 to 3 weeks before the"
        " last frost as well, where a cold spell makes it bolt",
    ),
    "sprouting broccoli": figure(
        1, 0, 2, "practice",
        note="common practice and a seller's sheet: a crop for next spring, in no hurry",
    ),
    "asparagus": figure(
        1, 0, 2, "practice",
        note=f"{_NO_SOURCE}, and a seller's sheet: frost kills the young fern, though crowns are"
        " hardy",
    ),
    "rosemary": figure(
        1, 0, 2, "practice", ("illinois-herbs",),
        "common practice: a tender perennial, ready for setting out in mid to late May in Illinois",
    ),
    "sweet pea": figure(
        -2.5, -4, -1, "source", ("purdue-ho-203",),
        "printed 2 to 3 weeks before the last frost; weak pages print 2 to 7",
    ),
    "calendula": figure(
        -2.5, -4, 0, "source", ("purdue-ho-203",), "printed 2 to 3 weeks before the last frost"
    ),
    "larkspur": figure(
        -3.5, -6, -1, "practice", ("smith-annuals",),
        "common practice for hardy annuals; a weak page prints 7 weeks before the last frost",
    ),
    "rocket": figure(
        -3.8, -5.4, 0, "practice", ("colorado-gardennotes-720", "idaho-cis-1209"),
        "the rule for hardy plants; a local page prints one week before the last frost",
    ),
    "leek": figure(
        -2, -5.4, 0, "practice",
        ("colorado-gardennotes-720", "daily-herald-2018", "idaho-cis-1209", "oregon-central"),
        "common practice within the printed range: hardy, but slow, and in no hurry",
    ),
}  # fmt: skip
WEEKS_INDOORS_BY_HAND: Final[dict[str, Figure]] = {
    "basil": figure(
        6,
        5,
        7,
        "source",
        ("iowa-germination-2017", "utah-wasatch-2013"),
        "two sources print 5 to 6 and 6 to 8; others print 8 to 13, when it is in flower",
    ),
    "borage": figure(4, 3, 5, "practice", note=f"{_NO_SOURCE}; a seller's sheet prints 2 to 3"),
    "morning glory": figure(4, 3, 5, "practice", note=_NO_SOURCE),
    "rocket": figure(4, 3, 5, "practice", note=_NO_SOURCE),
    "sweet pea": figure(5.5, 4, 8, "practice", note=_NO_SOURCE),
    "chinese cabbage": figure(4, 3, 5, "practice", note=_NO_SOURCE),
    "kohlrabi": figure(
        5, 4, 6, "source", ("bhg-vegetables",), "another source prints 8 to 9, one 6 to 7"
    ),
    "leek": figure(
        10, 8, 12, "practice", ("oregon-central",), "common practice; another source prints 4 to 8"
    ),
    "artichoke": figure(10, 8, 12, "practice", note=_NO_SOURCE),
    "mustard": figure(5, 4, 6, "practice", note=_NO_SOURCE),
    "pak choi": figure(5, 4, 6, "practice", note=_NO_SOURCE),
}
# Weeks from sowing to setting out where no source prints any.
MEMORY_WEEKS_INDOORS: Final[dict[str, tuple[float, float]]] = {
    "basket of gold": (8, 10),
    "broad bean": (4, 6),
    "canna": (8, 10),
    "carnation": (10, 12),
    "chamomile": (6, 8),
    "fountain grass": (8, 10),
    "perennial coreopsis": (8, 10),
    "primula": (10, 12),
    "purslane": (4, 6),
    "roman chamomile": (8, 10),
    "soybean": (3, 4),
    "tarragon": (8, 10),
    "asparagus": (10, 12),
    "beet": (4, 6),
    "chicory": (4, 6),
    "feverfew": (8, 10),
    "lima bean": (2, 3),
    "purple coneflower": (8, 10),
    "summer savory": (6, 8),
}

# Weeks after the last frost to sow in place, where the rule for its class does not serve.
OUTDOORS_BY_HAND: Final[dict[str, Figure]] = {
    "rutabaga": figure(
        -2,
        -4,
        6,
        "practice",
        note=f"{_NO_SOURCE}: as turnip; for winter keeping it is sown into early summer",
    ),
    "salsify": figure(-2, -4, 0, "practice", note=f"{_NO_SOURCE}: as parsnip"),
    "corn poppy": figure(-4, -6, -1, "practice", note=f"{_NO_SOURCE}: as soon as soil is workable"),
}
