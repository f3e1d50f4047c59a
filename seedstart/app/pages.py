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
    Page("round", "r", "The round", "seedstart.app.round", "RoundScreen"),
    Page("calendar", "c", "Sowing calendar", "seedstart.app.calendar_screen", "CalendarScreen"),
    Page("lots", "l", "Lots", "seedstart.app.lots_screen", "LotsScreen"),
    Page("stations", "s", "Stations", "seedstart.app.stations", "StationsScreen"),
    Page("hardening", "h", "Hardening off", "seedstart.app.hardening", "HardeningScreen"),
    Page("journal", "j", "Journal", "seedstart.app.journal_screen", "JournalScreen"),
)
HOME: Final = PAGES[0].name
