"""The screens that a single key opens from anywhere."""

from typing import Final, NamedTuple


class Page(NamedTuple):
    """One of them.

    Attributes:
        name: What the app calls it.
        key: The key.
        words: For the palette.
        module: Where its class is; imported when it is first opened.
        screen: The class.
    """

    name: str
    key: str
    words: str
    module: str
    screen: str


PAGES: Final = (
    Page("round", "r", "The round", "seedstart.app.screens.round_screen", "RoundScreen"),
    Page(
        "calendar",
        "c",
        "Sowing calendar",
        "seedstart.app.screens.calendar_screen",
        "CalendarScreen",
    ),
    Page("lots", "l", "Lots", "seedstart.app.screens.lots_screen", "LotsScreen"),
    Page("stations", "s", "Stations", "seedstart.app.screens.stations_screen", "StationsScreen"),
    Page(
        "hardening",
        "h",
        "Hardening off",
        "seedstart.app.screens.hardening_screen",
        "HardeningScreen",
    ),
    Page(
        "trials",
        "t",
        "Tests and trials",
        "seedstart.app.screens.trials_screen",
        "TrialsScreen",
    ),
    Page("journal", "j", "Journal", "seedstart.app.screens.journal_screen", "JournalScreen"),
    Page(
        "season",
        "y",
        "The season: frost date",
        "seedstart.app.screens.frost_screen",
        "FrostScreen",
    ),
)
HOME: Final = PAGES[0].name
