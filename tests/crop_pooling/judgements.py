"""What was decided by hand, and why: where sources are silent, thin or wrong for trays indoors.

Basis `practice` is common practice of the trade, `memory` is a figure that was remembered and
found on no page. Everything here carries one of the two in the crop table.
"""

from typing import Final

from crop_pooling.pooling import figure
from crop_pooling.sources import weak_key
from seedstart.crop_table.crop import Figure, Hardiness

_NO_SOURCE: Final = "common practice, no source"

# Lowest and highest soil temperature for emergence, °C, where neither the crop nor a relative
# has printed ones: guesses, that warn and never keep anybody from sowing.
LIMITS_BY_HARDINESS: Final[dict[Hardiness, tuple[float, float]]] = {
    "hardy": (5, 27),
    "half_hardy": (7, 28),
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
    "celeriac": (
        "tender",
        "stands a light frost once grown, but a cold spell makes it bolt: it waits, as celery does",
    ),
    "sunflower": ("tender", "it stands a light frost, and its seedlings less"),
    "marigold": ("tender", "one source calls it half-hardy, another one of the most tender"),
    "lobelia": ("half_hardy", "one list calls it warm-loving; books call it half-hardy"),
    "annual phlox": ("half_hardy", "one list calls it warm-loving; common practice does not"),
    "ageratum": ("tender", "one list calls it one of the most tender, others tender"),
}

# Pages of general advice: one county's column (printed twice), a rule for sowing, a target.
SOIL_ADVISES: Final = frozenset(
    {"columbus-telegram", "georgia-mclaurin-2000", "michigan-ask-brassicas"}
)

# What printed settings or tables give is nobody's indoor tray.
TRAY_BY_HAND: Final[dict[str, Figure]] = {
    "spinach": figure(
        15,
        10,
        18,
        "practice",
        note=f"{_NO_SOURCE}; by the table most seedlings are normal at 10 °C and below",
    ),
}
# Highest temperatures that stand in papers and courses, not in the tables of limits.
HIGHEST_BY_HAND: Final[dict[str, Figure]] = {
    "pansy": figure(
        25, 25, 25, "source", ("florida-thermodormancy",), "thermodormancy may set in above it"
    ),
    "viola": figure(25, 25, 25, "relative", ("florida-thermodormancy",), "a relative's (pansy)"),
    "celery": figure(
        25,
        20,
        30,
        "source",
        ("florida-thermodormancy", "thompson-1974"),
        "thermodormancy may set in above it; five varieties have their limits at 20 to 30 °C",
    ),
    "celeriac": figure(
        25, 20, 30, "relative", ("florida-thermodormancy", "thompson-1974"), "a relative's (celery)"
    ),
    "larkspur": figure(
        18.3,
        12.8,
        18.3,
        "source",
        ("cornell-larkspur", "kansas-larkspur-2010"),
        "it does not germinate well above it; in one garden only below 12.8 °C",
    ),
}
MEMORY_TRAY_C: Final[dict[str, tuple[float, float]]] = {
    "campanula": (18, 21),
    "garden cress": (15, 21),
    "hyacinth bean": (21, 27),
    "passion flower": (21, 27),
    "roman chamomile": (18, 21),
    "salsify": (10, 18),
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
    "balsam": (8, 14),
    "browallia": (14, 21),
    "cardoon": (10, 14),
    "clarkia": (7, 14),
    "edible amaranth": (5, 10),
    "garden cress": (2, 5),
    "new zealand spinach": (10, 21),
    "ornamental kale": (5, 10),
    "purslane": (5, 10),
    "salsify": (7, 14),
    "soybean": (6, 10),
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
    "columbine": figure(
        25, 21, 35, "practice", note=f"{_NO_SOURCE}: printed are 21 days, 30, and up to 90"
    ),
    "celeriac": figure(17, 14, 21, "practice", note=f"{_NO_SOURCE}: slower than celery"),
    "chives": figure(14, 10, 21, "practice", note=f"{_NO_SOURCE}: slower than onion"),
    "feverfew": figure(
        12, 10, 14, "practice", note=f"{_NO_SOURCE}: the printed 5 days are a laboratory's"
    ),
    "purple coneflower": figure(
        14, 10, 21, "practice", (weak_key("Anything Grows"),),
        "common practice, and a seller's sheet's 14 days; the printed 3 days are a laboratory's",
    ),
    "rocket": figure(6, 4, 8, "practice", note=_NO_SOURCE),
}  # fmt: skip

# Years of good storage where no source prints them.
SEED_LIFE_YEARS: Final = 2.0
SEED_LIFE_BY_CROP: Final[dict[str, float]] = {
    "artichoke": 5,
    "bunching onion": 1,
    "chives": 1,
    "sunflower": 3,
}
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
    "own pot": "sown in its own pot or cell, thinned, and never pricked out",
    "clump": "stays thick in the tray, or is pricked out in clumps",
    "sown in place": "sown where it is to grow; kept here for its emergence",
    "pricked out": "",
}
# The words of raised_in.csv that speak for a way of raising.
RAISED_IN: Final = {
    "own pot": ("own pot", "modules", "own pot or in place"),
    "pricked out": ("pricked out or modules",),
}
_NEXT_YEAR: Final = "It lives two years: sown this spring, it flowers next year"
NOTES: Final[dict[str, str]] = {
    "artichoke": (
        "Printed are 4 to 6 weeks to sow before the last frost, 8 to 13, or up to 16 weeks of"
        " growing."
    ),
    "brussels sprouts": (
        "One source's row is a late crop, set out after the last frost: left out of the weeks."
    ),
    "campanula": "Canterbury bells flower next year; most bellflowers are perennial.",
    "chicory": "Some kinds live two years; roots for forcing are lifted in autumn.",
    "dill": "A fitted fastest temperature of 13 °C was left out: the setting of trays stands.",
    "feverfew": "A laboratory saw it germinate in 5 days at 18 to 21 °C; trays take longer.",
    "forget-me-not": f"{_NEXT_YEAR}, early.",
    "foxglove": f"{_NEXT_YEAR}; some kinds flower in the first.",
    "hollyhock": f"{_NEXT_YEAR}; annual kinds flower in the first.",
    "kohlrabi": (
        "Printed are 4 to 6 weeks to sow before the last frost, or 8.7 to 10; 4 to 6, 6 to 7 or 8"
        " to 9 weeks indoors. The shorter ones are the trade's."
    ),
    "leek": (
        "Printed are 6 to 15 weeks to sow before the last frost, and 4 to 8 or 10 weeks indoors."
    ),
    "lettuce": (
        "Above 25 °C it comes up fast and nearly all of it fails: no heat mat. Crisp kinds stand"
        " more warmth than butterheads."
    ),
    "lisianthus": (
        "Seedlings that stand at 28 °C and warmer for weeks may stay rosettes and not flower."
    ),
    "mustard": (
        "Printed are 8.7 to 10 weeks to sow before the last frost; a seller's sheet keeps it 4 to"
        " 6 weeks indoors."
    ),
    "pak choi": (
        "Printed are 8.7 to 10 weeks to sow before the last frost, or 4 to 6 on weak pages."
    ),
    "parsley": "It lives two years, and flowers and is spent in the second.",
    "parsnip": "It lives two years; left in the ground, it flowers next year.",
    "purple coneflower": (
        "A laboratory saw fresh seed germinate in 3 days at 24 °C; trays take longer."
    ),
    "rosemary": (
        "It comes up slowly and thinly, over weeks: the legal minimum is a low one for it too."
    ),
    "spinach": "Above 15 °C ever fewer of its seedlings are normal: no heat mat.",
    "sweet william": f"{_NEXT_YEAR}; some kinds flower in the first.",
    "tarragon": "Seed gives Russian tarragon; the French kind is grown from cuttings.",
    "wallflower": f"{_NEXT_YEAR}, early.",
}
