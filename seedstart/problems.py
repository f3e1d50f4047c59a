"""What is wrong in what a grower typed: where, what was found, what is allowed."""

from collections.abc import Callable, Iterable, Sequence
from typing import TypeVar

from msgspec import Struct

T = TypeVar("T")

_SHOWN_IN_FULL = 12


class Problem(Struct, frozen=True, kw_only=True):
    """One thing wrong in one place.

    Attributes:
        file: The file, or the option or argument, as the grower knows it.
        key: The key inside the file, as `station[2].kind`; empty for the file as a whole.
        line: The line as the parser named it; None rather than a guess.
        found: What stands there; None where nothing stands.
        allowed: What may stand there: words, or one sentence that describes it.
        hint: What to do about it, where the allowed values do not say it.
        listed_by: The command that lists all allowed words, where there are many.
    """

    file: str
    key: str = ""
    line: int | None = None
    found: str | None = None
    allowed: tuple[str, ...] = ()
    hint: str = ""
    listed_by: str = ""

    @property
    def nearest(self) -> str | None:
        """The allowed word most like the found one, if any is like it."""
        return nearest_word(self.found or "", self.allowed)

    def as_json(self) -> dict[str, object]:
        """The shape that `--json` prints on standard error."""
        hint = self.hint or (f"Nearest: {self.nearest}" if self.nearest else "")
        return {
            "file": self.file,
            "line": self.line,
            "key": self.key,
            "found": self.found,
            "allowed": list(self.allowed),
            "hint": hint,
        }

    def __str__(self) -> str:
        line = f"line {self.line}" if self.line is not None else ""
        text = ", ".join(part for part in (self.file, line, self.key) if part)
        if self.found is not None:
            text += f": found {self.found!r}"  # !r: escapes are shown, not obeyed
        if self.allowed:
            text += f"{',' if self.found is not None else ':'} allowed: {self._allowed_in_words()}"
        text += "."
        if self.nearest and self.found != self.nearest:
            text += f" Nearest: {self.nearest}."
        if self.hint:
            text += f" {self.hint}"
        return text

    def _allowed_in_words(self) -> str:
        if len(self.allowed) <= _SHOWN_IN_FULL:
            return ", ".join(self.allowed)
        near = nearest_words(self.found or "", self.allowed, 3)
        where = f"{len(self.allowed)} words; `{self.listed_by}` lists them"
        return f"{', '.join(near)} … ({where})" if near else where


def in_words(problem: Problem) -> str:
    """A problem as it stands where it is wrong: without the name of its place."""
    bare = Problem(
        file="", found=problem.found, allowed=problem.allowed, hint=problem.hint,
        listed_by=problem.listed_by,
    )  # fmt: skip
    text = str(bare).lstrip(":. ")
    return f"{text[:1].upper()}{text[1:]}"


class BadInputError(Exception):
    """Everything wrong in what was given, all at once; nothing was written."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems: tuple[Problem, ...] = tuple(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))


class Typed:
    """Reads what was typed one by one and keeps what is wrong with each.

    Use: read every option, then call `done`, which raises if any was wrong. An option is called as
    the grower knows it: `--ml` on the command line, a field's name in a form.
    """

    def __init__(self) -> None:
        self.problems: list[Problem] = []

    def read(self, option: str, text: str | None, parse: Callable[[str], T]) -> T | None:
        """The value of an option, or None where it was not given or is wrong."""
        if text is None:
            return None
        try:
            return parse(text)
        except ValueError as error:
            said = str(error)
            hint = f"{said[:1].upper()}{said[1:]}."
            self.refuse(Problem(file=option, found=text, hint=hint))
            return None

    def take(self, found: T | Problem) -> T | None:
        """A value that was looked up, or the problem of not finding it."""
        if isinstance(found, Problem):
            self.refuse(found)
            return None
        return found

    def refuse(self, problem: Problem) -> None:
        """Something else that is wrong."""
        self.problems.append(problem)

    def done(self) -> None:
        """Raise everything that was wrong."""
        if self.problems:
            raise BadInputError(self.problems)


def nearest_words(word: str, among: Sequence[str], most: int) -> list[str]:
    """The words of `among` most like `word`, case aside, best first."""
    from difflib import get_close_matches  # only wrong input pays for it

    by_folded = {other.casefold(): other for other in among}
    near = get_close_matches(word.casefold(), by_folded, n=most, cutoff=0.6)
    return [by_folded[folded] for folded in near]


def nearest_word(word: str, among: Sequence[str]) -> str | None:
    """The word of `among` most like `word`, or None when none is like it."""
    near = nearest_words(word, among, 1)
    return near[0] if near else None
