"""What was typed into a check's field, taken apart; what does not fit is refused in a sentence."""

import re
from typing import Final

_NUMBER: Final = re.compile(r"\d{1,9}")


class RefusedError(ValueError):
    """What was typed does not do; the text says what would.

    Attributes:
        about: The sowing that the text is about, where it is about one of several.
        ways: Words of which one has to be added.
    """

    def __init__(self, text: str, about: str = "", ways: tuple[str, ...] = ()) -> None:
        super().__init__(text)
        self.about, self.ways = about, ways


def whole(text: str, say: str) -> int:
    """A whole number from nought up.

    Raises:
        RefusedError: With what to type instead.
    """
    if not _NUMBER.fullmatch(text.strip()):
        raise RefusedError(say)
    return int(text)


def amount(text: str, say: str) -> float:
    """A number above nought, with a full stop or a comma.

    Raises:
        RefusedError: With what to type instead.
    """
    if not re.fullmatch(r"\d{1,7}([.,]\d{1,6})?", text.strip()):
        raise RefusedError(say)
    value = float(text.replace(",", "."))
    if value <= 0:
        raise RefusedError(say)
    return value
