"""The last act taken back, and restored when it is asked for again."""

from seedstart.drawing.wording import entry_in_words
from seedstart.open_season import OpenSeason
from seedstart.season.entries import BLANK, Entry, Struck


class TakesBack:
    """One key: what was done last is struck; the same key again strikes the strike."""

    def __init__(self, opened: OpenSeason) -> None:
        self._opened = opened
        self._act: tuple[Entry, ...] = ()
        self._strikes: tuple[str, ...] = ()

    def forget(self) -> None:
        """Something else was done meanwhile: the next time takes that back."""
        self._strikes = ()

    def take_back(self) -> str:
        """Strike or restore.

        Returns:
            What happened, in words.

        Raises:
            NotRecorded: Nothing was written; it may be tried again.
        """
        opened = self._opened
        if self._strikes:
            opened.record(*(Struck(**BLANK, entry=strike) for strike in self._strikes))
            self._strikes = ()
            return f"Restored: {self._in_words()}."
        opened.catch_up()
        act = opened.journal.last_act(opened.by)
        if not act:
            return "There is nothing to take back."
        strikes = opened.record(*(Struck(**BLANK, entry=entry.id) for entry in act))
        self._act, self._strikes = act, tuple(strike.id for strike in strikes)
        return f"Taken back: {self._in_words()}. u restores it."

    def _in_words(self) -> str:
        first = entry_in_words(self._act[0], self._opened.plan.units)
        more = len(self._act) - 1
        return f"{first} and {more} more of that act" if more else first
