"""What the palette finds by name, beside the keys that work everywhere."""

from collections.abc import Callable, Iterator
from functools import partial
from typing import Final

from textual.app import SystemCommand

from seedstart.app.pages import PAGES

# Acts whose forms it opens at once: what comes into the season's plan.
_NEW: Final = (
    ("new lot", "A packet of seed, or a batch that you saved"),
    ("new station", "A place where trays stand"),
    ("new season", "A folder for one spring or autumn"),
)


def page_commands(go: Callable[[str], None]) -> Iterator[SystemCommand]:
    """The pages; `go` is called with the name of the one that was chosen."""
    for page in PAGES:
        yield SystemCommand(page.words, f"Key {page.key}", partial(go, page.name))


def plan_commands(write_act: Callable[[str], None]) -> Iterator[SystemCommand]:
    """Lots, stations, seasons; `write_act` is called with the name of the act."""
    for name, about in _NEW:
        yield SystemCommand(name.capitalize(), about, partial(write_act, name))
