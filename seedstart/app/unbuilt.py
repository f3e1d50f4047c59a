"""A page whose screen is not there yet."""

from textual.app import ComposeResult

from seedstart.app.season_screen import SeasonScreen
from seedstart.app.text_pane import TextPane
from seedstart.drawing.lines import plain
from seedstart.open_season import OpenSeason


class UnbuiltScreen(SeasonScreen[str]):
    """Says which page is missing."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.page = page

    def body(self) -> ComposeResult:
        """A line."""
        yield TextPane()

    def look(self, opened: OpenSeason) -> str:
        """The season's title."""
        return opened.plan.title

    def show(self, state: str) -> None:
        """Draw it."""
        self.query_one(TextPane).show_text(
            lambda _: [plain(f"{self.page}: not built yet. {state}")]
        )
