"""What was said of checks and alerts by their keys: done, seen, put off."""

from collections.abc import Iterable
from datetime import date, timedelta

from msgspec import Struct

from seedstart.season.entries import Checked, PutOff
from seedstart.season.entry import Entry


class Said(Struct, frozen=True):
    """What was said of one key.

    Attributes:
        checked: The latest `checked`.
        put_off: Every `put_off`, in order.
    """

    checked: Checked | None = None
    put_off: tuple[PutOff, ...] = ()

    def hides_on(self, today: date) -> bool:
        """Whether the check is put off on that day; without a day named it is till tomorrow."""
        if not self.put_off:
            return False
        last = self.put_off[-1]
        return today < (last.until or last.at.date() + timedelta(days=1))


NOTHING_SAID = Said()


def said_of(entries: Iterable[Entry]) -> Said:
    """What was said of one key, from its entries in force in order of (at, id)."""
    checked, off = None, []
    for entry in entries:
        if isinstance(entry, Checked):
            checked = entry
        elif isinstance(entry, PutOff):
            off.append(entry)
    return Said(checked, tuple(off)) if checked or off else NOTHING_SAID
