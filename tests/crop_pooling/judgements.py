"""What was decided by hand, and why: where sources are silent, thin or wrong for trays indoors.

Basis `practice` is common practice of the trade, `memory` is a figure that was remembered and
found on no page. Everything here carries one of the two in the crop table.
"""

from typing import Final

from crop_pooling.pooling import figure
from seedstart.crop_table.crop import Figure, Hardiness

_NO_SOURCE: Final = "common practice, no source"

# Rows that give a whole season of sowings: only the first is a spring sowing for setting out.
FIRST_SOWING_ONLY: Final = "repeated plantings"
# A late crop, set out after the last frost for autumn.
NOT_A_SPRING_SOWING: Final = frozenset({("brussels sprouts", "cornell-reiners-2021")})

# Lowest and highest soil temperature for emergence, °C, where neither the crop nor a relative
# has printed ones.
LIMITS_BY_HARDINESS: Final[dict[Hardiness, tuple[float, float]]] = {
    "hardy": (5, 32),
    "half_hardy": (7, 32),
    "tender": (10, 35),
    "very_tender": (13, 35),
}
SET_OUT_SOIL_C: Final[dict[Hardiness, float]] = {
    "hardy": 5,
    "half_hardy": 8,
    "tender": 13,
    "very_tender": 18,
}

# Hardiness decided by hand, with the reason.
HARDINESS: Final[dict[str, tuple[Hardiness, str]]] = {
    "tomato": ("tender", "most sources call it frost-tender; one puts it with the most tender"),
    "cucumber": (
        "very_tender",
        "the source that calls it tender means seed: its transplants wait for the very tender",
    ),
    "summer squash": (
        "very_tender",
        "the source that calls it tender means seed: its transplants wait for the very tender",
    ),
}

# Young plants that go out like half-hardy ones, whatever they stand once grown, and why.
_SLOW: Final = "young plants of a slow perennial go out like half-hardy ones: common practice"
_SMALL: Final = (
    "sown so near the frost it is too small to go out as early as other hardy plants, and goes"
    " out like half-hardy ones: common practice"
)
SET_OUT_AS_HALF_HARDY: Final[dict[str, str]] = {
    **dict.fromkeys(
        (
            "asparagus",
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
    **dict.fromkeys(("calendula", "larkspur", "rocket", "sweet alyssum", "sweet pea"), _SMALL),
}
# Crops without printed weeks that are raised as a relative is.
RAISED_AS: Final = {"viola": "pansy"}

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
    "watermelon": figure(
        3.5, 3, 6, "source", ("bhg-vegetables", "clemson-hgic"),
        "best is the 3 to 4 weeks of one source and of common practice; the other prints 6",
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
        -2, -6.1, 0, "practice", ("colorado-gardennotes-720", "north-carolina-pender-2011"),
        "common practice within the printed range: set out earlier it would be too small",
    ),
    "leek": figure(
        -2, -5.4, 0, "practice",
        ("colorado-gardennotes-720", "daily-herald-2018", "idaho-cis-1209", "oregon-central"),
        "common practice within the printed range: hardy, but slow, and in no hurry",
    ),
}  # fmt: skip
WEEKS_INDOORS_BY_HAND: Final[dict[str, Figure]] = {
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
    "asparagus": (10, 12),
    "beet": (4, 6),
    "chicory": (4, 6),
    "feverfew": (8, 10),
    "lima bean": (2, 3),
    "purple coneflower": (8, 10),
    "summer savory": (6, 8),
}

MEMORY_TRAY_C: Final[dict[str, tuple[float, float]]] = {
    "artichoke": (21, 24),
    "coriander": (16, 21),
    "lavender": (18, 21),
    "lemon balm": (18, 21),
    "purple coneflower": (18, 21),
    "rosemary": (18, 24),
    "sage": (18, 21),
    "summer savory": (18, 21),
    "thyme": (18, 21),
}
MEMORY_DAYS: Final[dict[str, tuple[float, float]]] = {
    "annual phlox": (8, 14),
    "artichoke": (10, 14),
    "coriander": (7, 14),
    "dahlia": (7, 14),
    "dill": (7, 14),
    "florence fennel": (7, 14),
    "lavender": (14, 28),
    "lemon balm": (10, 14),
    "new guinea impatiens": (14, 21),
    "oregano": (7, 14),
    "rosemary": (15, 30),
    "sage": (7, 21),
    "summer savory": (7, 14),
    "sweet marjoram": (7, 14),
    "thyme": (7, 21),
}
# In trays these come up more slowly than a relative's table or a laboratory's days say.
DAYS_BY_HAND: Final[dict[str, Figure]] = {
    "celeriac": figure(17, 14, 21, "practice", note=f"{_NO_SOURCE}: slower than celery"),
    "chives": figure(14, 10, 21, "practice", note=f"{_NO_SOURCE}: slower than onion"),
    "feverfew": figure(
        12, 10, 14, "practice", note=f"{_NO_SOURCE}: the printed 5 days are a laboratory's"
    ),
    "purple coneflower": figure(
        14, 10, 21, "practice", ("sellers-sheet-38",),
        "common practice, and a seller's sheet's 14 days; the printed 3 days are a laboratory's",
    ),
    "rocket": figure(6, 4, 8, "practice", note=_NO_SOURCE),
}  # fmt: skip

# Years of good storage where no source prints them.
SEED_LIFE_YEARS: Final = 2.0
SEED_LIFE_BY_CROP: Final[dict[str, float]] = {"bunching onion": 1, "chives": 1, "sunflower": 3}
# Label thresholds where no law names the kind: New Hampshire's rule for herbs; flowers.
MINIMUM_GERMINATION_PERCENT: Final = {"herb": 50.0, "flower": 55.0}

SEEDLINGS_PER_SEED: Final[dict[str, Figure]] = {
    "beet": figure(
        2.5, 2, 4, "practice", note=f"{_NO_SOURCE}: a cluster; single-germ kinds give 1"
    ),
    "chard": figure(2.5, 2, 4, "practice", note=f"{_NO_SOURCE}: a cluster"),
}

# How seedlings are raised, in a grower's words, where the word alone does not say it.
RAISING_NOTES: Final = {
    "own pot": "common practice: sown in its own pot and never pricked out, its roots hate it",
    "clump": "common practice: stays thick in the tray, or is pricked out in clumps",
    "sown in place": "common practice: sown where it is to grow; kept here for its emergence",
    "pricked out": "common practice",
}
NOTES: Final[dict[str, str]] = {
    "kohlrabi": (
        "The sources contradict each other: 4 to 6 weeks to sow before the last frost, or 8.7 to"
        " 10; 4 to 6, 6 to 7 or 8 to 9 weeks indoors. The shorter ones are the trade's."
    ),
    "leek": (
        "The sources contradict each other: 6 to 15 weeks to sow before the last frost, 4 to 8 or"
        " 10 weeks indoors."
    ),
    "artichoke": (
        "The sources contradict each other: 4 to 6 weeks to sow before the last frost, or 8 to"
        " 13, or up to 16 weeks of growing."
    ),
    "mustard": (
        "The sources contradict each other: 8.7 to 10 weeks to sow before the last frost, while a"
        " seller's sheet keeps it 4 to 6 weeks indoors."
    ),
    "pak choi": (
        "The sources contradict each other: 8.7 to 10 weeks to sow before the last frost, or 4 to"
        " 6 on weak pages."
    ),
    "chinese cabbage": (
        "The sources contradict common practice: 6 to 10 weeks to sow before the last frost on"
        " sellers' sheets, 8 to 9 weeks indoors in one bulletin."
    ),
    "purple coneflower": (
        "A laboratory saw fresh seed germinate in 3 days at 24 °C; trays take longer."
    ),
    "feverfew": "A laboratory saw it germinate in 5 days at 18 to 21 °C; trays take longer.",
    "dill": "A fitted fastest temperature of 13 °C was left out: the setting of trays stands.",
    "lettuce": "Above 25 °C it comes up fast and nearly all of it fails: no heat mat.",
    "spinach": "Above 15 °C ever fewer of its seedlings are normal: no heat mat.",
    "brussels sprouts": (
        "One source's row is a late crop, set out after the last frost: left out of the weeks."
    ),
}
