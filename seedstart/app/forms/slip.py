"""The form of what comes into the plan, as it was filled in: everything wrong by field."""

from collections.abc import Callable
from typing import TypeVar

from seedstart.acts.act import Texts
from seedstart.acts.known import Known
from seedstart.acts.values import NotAmongError, yes
from seedstart.problems import Problem, Typed
from seedstart.text import clean

T = TypeVar("T")


class Slip(Typed):
    """The fields of a form, by their keys; a problem bears the key of its field as its file.

    Attributes:
        known: The season that it comes into.
    """

    def __init__(self, known: Known, texts: Texts) -> None:
        super().__init__()
        self.known = known
        self._texts = {key: said for key, text in texts.items() if (said := clean(text).strip())}

    def text(self, key: str) -> str | None:
        """What stands in a field, cleaned; None for nothing."""
        return self._texts.get(key)

    def need(self, key: str, what: str) -> str:
        """The same for a field that may not stay empty; `what` says what belongs there."""
        said = self.text(key)
        if said is None:
            self.refuse(Problem(file=key, hint=f"It is missing: {what}."))
        return said or ""

    def get(self, key: str, parse: Callable[[str], T]) -> T | None:
        """The value of a field, or None where it is empty or wrong."""
        return self.read(key, self.text(key), parse)

    def yes(self, key: str) -> bool:
        """Whether a field says yes; empty is no."""
        said = self.text(key)
        try:
            return said is not None and yes(said)
        except NotAmongError as error:
            self.refuse(Problem(file=key, found=said, allowed=error.allowed))
            return False
