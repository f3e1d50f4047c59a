"""What was said of checks and alerts by their keys: done, seen, put off."""

from collections.abc import Iterable
from datetime import date, timedelta
from typing import Final

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
# Keys begin otherwise than they once did; journals keep the old ones.
_FORMERLY: Final = {"water ": "feel "}


def keys_of(key: str) -> tuple[str, ...]:
    """The key by which a check is called now, and those by which journals may call it.

    Args:
        key: A present or a former key.
    """
    for now, before in _FORMERLY.items():
        if key.startswith((now, before)):
            rest = key.removeprefix(now).removeprefix(before)
            return f"{now}{rest}", f"{before}{rest}"
    return (key,)


def said_of(entries: Iterable[Entry]) -> Said:
    """What was said of one key, from its entries in force in order of (at, id)."""
    checked, off = None, []
    for entry in entries:
        if isinstance(entry, Checked):
            checked = entry
        elif isinstance(entry, PutOff):
            off.append(entry)
    return Said(checked, tuple(off)) if checked or off else NOTHING_SAID
