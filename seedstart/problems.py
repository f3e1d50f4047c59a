"""What is wrong in what a grower typed: where, what was found, what is allowed."""

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import lru_cache
from typing import Final, TypeVar

from msgspec import Struct, structs

from seedstart.text import clean

T = TypeVar("T")

_SHOWN_IN_FULL: Final = 12
_OF_A_KIND: Final = 5
_MOST_KINDS: Final = 100
_LONGEST_SHOWN: Final = 200  # characters of what was found, of a key, of a word
_LONGEST_HINT: Final = 1000
# Looking for what is like it compares with each word there is: longer ones, and more, are no slip.
_LONGEST_LIKE: Final = 60
_MOST_COMPARED: Final = 5_000
# What differs between two problems of a kind: numbers, ids, names in brackets or quotes.
_OF_ONE_ALONE: Final = re.compile(
    r"\([^()]*\)|'[^']*'|\"[^\"]*\"|`[^`]*`|\b[0-9a-f]{8}-[0-9a-f-]{27}\b|\d+"
)


class Problem(Struct, frozen=True, kw_only=True):
    """One thing wrong in one place.

    Attributes:
        file: The file, or the option or argument, as the grower knows it.
        key: The key inside the file, as `station[2].kind`; empty for the file as a whole.
        line: The line as the parser named it; None rather than a guess.
        found: What stands there; None where nothing stands.
        allowed: What may stand there: words, or one sentence that describes it.
        hint: What to do about it, where the allowed values do not say it.
        listed_by: What has all the allowed words, where there are many: a file, or the word by
            which a face knows how to show them (`lots`, `crops`, `checks`).
        more: So many more of this kind were found, and are not told one by one.
    """

    file: str
    key: str = ""
    line: int | None = None
    found: str | None = None
    allowed: tuple[str, ...] = ()
    hint: str = ""
    listed_by: str = ""
    more: int = 0

    @property
    def kind(self) -> tuple[object, ...]:
        """What problems of a kind have in common: the file, and all but what differs in each."""
        key = self.key.removesuffix(self.found) if self.found else self.key
        return self.file, len(self.allowed), self.allowed[:1], _alike(key), _alike(self.hint)

    @property
    def place(self) -> str:
        """Where it is: the file, the line, the key."""
        line = f"line {self.line}" if self.line is not None else ""
        return clean(", ".join(part for part in (self.file, line, _cut(self.key)) if part))

    @property
    def nearest(self) -> str | None:
        """The allowed word most like the found one, if any is like it."""
        return nearest_word(self.found or "", self.allowed)

    def as_json(self) -> dict[str, object]:
        """The shape that `--json` prints on standard error."""
        nearest = "" if self.hint else self.nearest
        hint = self.hint or (f"Nearest: {nearest}" if nearest else "")
        return {
            "file": clean(self.file),
            "line": self.line,
            "key": clean(self.key),
            "found": None if self.found is None else _cut(clean(self.found)),
            "allowed": [clean(word) for word in self.allowed],
            "hint": clean(hint),
            "more": self.more,
        }

    def __str__(self) -> str:
        return self.said()

    def said(self, commands: Mapping[str, str] | None = None) -> str:
        """As a sentence or two.

        Args:
            commands: What shows all the allowed words, by `listed_by`; only the command line knows.
        """
        text = self.place
        near = nearest_words(self.found or "", self.allowed, 3) if self.found else []
        if self.found is not None:
            text += f": found {_cut(self.found)!r}"  # !r: escapes are shown, not obeyed
        many = len(self.allowed) > _SHOWN_IN_FULL
        if self.allowed and not many:
            words = ", ".join(map(_cut, self.allowed))
            text += f"{',' if self.found is not None else ':'} allowed: {words}"
        text += "."
        if many:
            text += f" {self._of_many(near, commands or {})}"
        elif near and self.found != near[0]:
            text += f" Nearest: {near[0]}."
        if self.hint:
            text += f" {_cut(self.hint, _LONGEST_HINT)}"
        if self.more:
            text += f" And {self.more} more of this kind."
        return clean(text)

    def _of_many(self, near: Sequence[str], commands: Mapping[str, str]) -> str:
        """The nearest of many allowed words, and how many there are."""
        shows = commands.get(self.listed_by, self.listed_by if "." in self.listed_by else "")
        where = f"; `{shows}` has them" if shows else ""
        every = len(self.allowed)
        if near:
            return f"Nearest: {', '.join(map(_cut, near))} (of {every}{where})."
        return f"None of the {every} there are is like it{where}."


def _cut(text: str, most: int = _LONGEST_SHOWN) -> str:
    return text if len(text) <= most else f"{text[: most - 1]}…"


@lru_cache(maxsize=1024)
def _alike(text: str) -> str:
    return _OF_ONE_ALONE.sub("", text)


class Gathered:
    """Problems as they are told: of each kind the first five, and how many more there are.

    A million lines of garbage are one kind of problem and take no more room than five.
    """

    def __init__(self, problems: Iterable[Problem] = ()) -> None:
        self._told: list[tuple[tuple[object, ...], Problem]] = []
        self._count: dict[tuple[object, ...], int] = {}
        self._more: dict[tuple[object, ...], int] = {}
        self._others = 0
        self.add(*problems)

    def add(self, *problems: Problem) -> None:
        """Take problems in, those too that stand for more."""
        for problem in problems:
            kind = problem.kind
            count = self._count.get(kind, 0)
            if not count and len(self._count) == _MOST_KINDS:
                self._others += 1 + problem.more
                continue
            if count < _OF_A_KIND:
                self._count[kind] = count + 1
                self._told.append((kind, problem))
            self._more[kind] = self._more.get(kind, 0) + problem.more + (count >= _OF_A_KIND)

    def told(self) -> list[Problem]:
        """In the order in which they were met; the last of a kind says how many more there are."""
        left = dict(self._more)
        found = [
            problem if problem.more == more else structs.replace(problem, more=more)
            for kind, problem in reversed(self._told)
            for more in (left.pop(kind, 0),)
        ][::-1]
        if self._others:
            hint = "More is wrong, of other kinds: put these right first."
            found.append(Problem(file=found[-1].file, hint=hint, more=self._others - 1))
        return found


def gathered(problems: Iterable[Problem]) -> list[Problem]:
    """Problems as they are told, see `Gathered`."""
    return Gathered(problems).told()


def count_of(problems: Iterable[Problem]) -> int:
    """How many problems there are, those counted that are not told one by one."""
    return sum(1 + problem.more for problem in problems)


def in_words(problem: Problem) -> str:
    """A problem as it stands where it is wrong: without the name of its place."""
    bare = Problem(
        file="", found=problem.found, allowed=problem.allowed, hint=problem.hint,
        listed_by=problem.listed_by,
    )  # fmt: skip
    text = str(bare).lstrip(":. ")
    return f"{text[:1].upper()}{text[1:]}"


class BadInputError(Exception):
    """Everything wrong in what was given, all at once; nothing was written.

    Of each kind of problem the first five are told, and how many more there are.
    """

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems: tuple[Problem, ...] = tuple(gathered(problems))
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
    """The words of `among` most like `word`, case aside, best first; none where that takes long."""
    if len(word) > _LONGEST_LIKE or len(among) > _MOST_COMPARED:
        return []
    from difflib import get_close_matches  # only wrong input pays for it

    by_folded = {other.casefold(): other for other in among}
    near = get_close_matches(word.casefold(), by_folded, n=most, cutoff=0.6)
    return [by_folded[folded] for folded in near]


def nearest_word(word: str, among: Sequence[str]) -> str | None:
    """The word of `among` most like `word`, or None when none is like it."""
    near = nearest_words(word, among, 1)
    return near[0] if near else None
