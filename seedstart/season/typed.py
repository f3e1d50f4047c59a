"""Numbers and words that were typed, beside the names: what is wrong is gathered."""

from typing import Final

from seedstart.problems import Problem, Typed
from seedstart.season.values import parse_bare_number
from seedstart.text import clean, folded

_MOST_DIGITS: Final = 9


class TypedValues(Typed):
    """What was typed, read as numbers and words."""

    def number(self, option: str, text: str | None, least: int = 0) -> int | None:
        """A whole number."""

        def parse(word: str) -> int:
            digits = word.strip()
            known = digits.isdecimal() and len(digits) <= _MOST_DIGITS
            if not known or int(digits) < least:
                raise ValueError(f"a whole number from {least}")
            return int(digits)

        return self.read(option, text, parse)

    def amount(self, option: str, text: str | None) -> float | None:
        """A number, with a full stop or a comma."""
        return self.read(option, text, parse_amount)

    def word(self, option: str, text: str | None, allowed: tuple[str, ...]) -> str:
        """One of a few words; the first of them where nothing was typed."""
        if text is None:
            return allowed[0]
        found = folded(clean(text))
        if found not in allowed:
            self.refuse(Problem(file=option, found=clean(text).strip(), allowed=allowed))
        return found


def words(text: str | None) -> str | None:
    """Free text as it is written down: cleaned, without blanks at its ends; None for nothing."""
    return clean(text).strip() or None if text else None


def parse_amount(text: str) -> float:
    """A number, with a full stop or a comma.

    Raises:
        ValueError: Not a number.
    """
    value = parse_bare_number(text)
    if value is None:
        raise ValueError("a number, as 2.5")
    return value
