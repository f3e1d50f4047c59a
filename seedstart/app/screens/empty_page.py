"""A page with nothing to list: one sentence, and the lines to begin with."""

from collections.abc import Sequence
from typing import Any, Final

from msgspec import Struct
from textual.app import ComposeResult
from textual.containers import Vertical
from textual.widgets import Static

from seedstart.app.line_list import LineList
from seedstart.app.slip import Key
from seedstart.drawing.lines import Line, Span

_NAME = 20
LOT = "new lot"
STATION = "new station"


class Begin(Struct, frozen=True):
    """Something to begin with.

    Attributes:
        name: What it is, in a grower's words.
        about: What is asked first.
        act: Whose form Enter opens.
    """

    name: str
    about: str
    act: str


BEGINS: Final = (Key("Enter", "begin"),)
FIRST_LOT = Begin("the first packet", "its crop, and how many plants you want: a lot", LOT)
FIRST_STATION = Begin("where trays stand", "a shelf, a mat, a sill: a station", STATION)
SAYS_NO_LOTS: Final = "No packets yet. What is the first?"
MANY_LOTS: Final = "Many packets in a sheet? seedstart new lot --from FILE.csv takes them all."


class _Beginnings(LineList[Begin]):
    """Enter on a line, or a second click, opens its form."""

    def __init__(self, begins: Sequence[Begin]) -> None:
        super().__init__(_line, key=lambda one: one.act, id="begins")
        self._begins = tuple(begins)

    def on_mount(self) -> None:
        """All of them."""
        self.show(self._begins)

    async def on_line_list_chosen(self, event: LineList.Chosen[Begin]) -> None:
        """Its form."""
        event.stop()
        await self.app.run_action(f"write_act('{event.item.act}')")

    def on_line_list_highlighted(self, event: LineList.Highlighted[Begin]) -> None:
        """The screen's other list is about something else."""
        event.stop()


class EmptyPage(Vertical):
    """What stands in place of a page's lists.

    Args:
        says: One sentence.
        begins: What to begin with.
        then: What follows, or another way.
    """

    DEFAULT_CSS = """
    EmptyPage { height: 1fr; padding: 1 0; display: none; }
    EmptyPage > Static { height: auto; padding: 0 3; }
    EmptyPage > LineList { height: auto; margin: 1 0; }
    """

    def __init__(self, says: str, begins: Sequence[Begin], then: str = "") -> None:
        super().__init__(id="empty")
        self._says, self._begins, self._then = says, begins, then

    def compose(self) -> ComposeResult:
        """The sentence, the lines, the rest."""
        yield Static(self._says, markup=False)
        yield _Beginnings(self._begins)
        yield Static(self._then, markup=False)

    def stand(self, *, instead_of: LineList[Any], on: bool) -> None:
        """Stand in place of a list, which takes the keys again when there is something in it."""
        if on != self.display:
            self.display = on
            (self.query_one(_Beginnings) if on else instead_of).focus()


def _line(begin: Begin, _: int) -> Line:
    return (Span("▸ ", "today"), Span(f"{begin.name:<{_NAME}}", "name"), Span(begin.about, "quiet"))
