"""Every page and every act, found by name."""

from collections.abc import Callable, Iterable, Sequence
from functools import partial
from typing import Any, Final, NamedTuple

from seedstart.app.forms.act_chooser import ACTS, words_of
from seedstart.app.forms.finder import Finder
from seedstart.app.pages import PAGES
from seedstart.drawing.lines import Line, Span, cells_wide

_KEY_WIDE: Final = 8
_NAME_WIDE: Final = 24


class Place(NamedTuple):
    """One thing to go to or to do.

    Attributes:
        name: What it is called.
        do: What choosing it does.
        key: The key that does it at once; empty where there is none.
        about: What it is.
        also: Other words that it is found by.
    """

    name: str
    do: Callable[[], Any]
    key: str = ""
    about: str = ""
    also: str = ""


def pages(go: Callable[[str], None]) -> list[Place]:
    """The pages; `go` is called with the name of the one that was chosen."""
    return [Place(page.words, partial(go, page.name), page.key) for page in PAGES]


def acts(write: Callable[[str], None]) -> list[Place]:
    """What can be written down; `write` is called with the name of the act."""
    return [
        Place(
            f"{act.name[:1].upper()}{act.name[1:]}",
            partial(write, act.name),
            about=act.about,
            also=words_of(act),
        )
        for act in ACTS
    ]


class Palette(Finder[Place]):
    """Dismissed with what was chosen, or None.

    Args:
        places: What can be found.
    """

    PLACEHOLDER = "a screen, or what was done"

    def __init__(self, places: Iterable[Place]) -> None:
        super().__init__("Go to or write down", _line, lambda one: f"{one.name}\n{one.also}")
        self._all = tuple(places)

    def all(self) -> Sequence[Place]:
        """Pages first."""
        return self._all


def _line(place: Place, width: int) -> Line:
    name = Span(f"{place.name:<{_NAME_WIDE}}", "name")
    room = max(width - cells_wide(name.text) - _KEY_WIDE, 0)
    return (name, Span(f"{place.about[:room]:<{room}}"), Span(f"{place.key:>{_KEY_WIDE}}", "quiet"))
