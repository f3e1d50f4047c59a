"""A cold `calendar --last-frost` of 40 rows against the bare import of its libraries."""

import sys

from ratio import BARE_LIBRARIES, ratio

CROPS = """
ageratum basil broccoli cabbage calendula cauliflower celery chard chives coleus cosmos cucumber
dahlia dill eggplant endive impatiens kale kohlrabi lavender leek lettuce lobelia marigold melon
nasturtium okra onion oregano pansy parsley pepper petunia pumpkin sage snapdragon spinach tomato
verbena zinnia
"""

if __name__ == "__main__":
    names = [word for crop in CROPS.split() for word in ("--crop", crop)]
    command = [sys.executable, "-m", "seedstart", "calendar", "--last-frost", "2027-05-12"]
    ratio("calendar, 40 rows", [*command, *names], BARE_LIBRARIES, 2.0)
    ratio("calendar, all crops", command, BARE_LIBRARIES, 2.0)
