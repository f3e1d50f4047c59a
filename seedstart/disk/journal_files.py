"""The journals of a season: every writer's file, read on from where it ended."""

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Final, NamedTuple

from seedstart.disk.reading import Grown, Mark, in_season, names_in, read_new, refuse_unless_there
from seedstart.problems import BadInputError, Problem
from seedstart.season.journal import Lines

JOURNAL_FOLDER: Final = "journal"
JOURNAL_SUFFIX: Final = ".jsonl"


class NewLines(NamedTuple):
    """What is new in the journals.

    Attributes:
        lines: File by file.
        all_over: A file got shorter or went, so what was read before is no longer said.
    """

    lines: tuple[Lines, ...]
    all_over: bool = False


class JournalFiles:
    """How far each of them was read.

    Args:
        folder: The season's.

    Attributes:
        unread: Files that cannot be read now; what was read of them before still counts.
    """

    def __init__(self, folder: Path) -> None:
        self.unread: tuple[Problem, ...] = ()
        self._folder = folder / JOURNAL_FOLDER
        self._marks: dict[str, Mark] = {}

    def of(self, writer: str) -> Path:
        """A writer's own file."""
        return self._folder / f"{writer}{JOURNAL_SUFFIX}"

    def read_on(self) -> NewLines:
        """What others wrote since; nothing of a file that cannot be read."""
        try:
            names = names_in(self._folder, JOURNAL_SUFFIX)
            if self._marks and not names:
                refuse_unless_there(self._folder)
        except BadInputError as error:
            self.unread = tuple(in_season(error, JOURNAL_FOLDER))
            return NewLines(())
        grown = self._grown(names, self._marks)
        all_over = any(one.all_over for one in grown.values()) or self._marks.keys() - set(names)
        if not all_over:
            return NewLines(self._taken(grown))
        if not self.unread:
            grown = self._grown(names, {})
        if self.unread:  # what is read anew is read whole, or later
            return NewLines(())
        self._marks = {}
        return NewLines(self._taken(grown), all_over=True)

    def read_own(self, path: Path) -> NewLines:
        """What was just written, as any other line: another may have written in between.

        Raises:
            BadInputError: It cannot be read.
        """
        return NewLines(self._taken({path.name: read_new(path, self._marks.get(path.name))}))

    def _grown(self, names: Sequence[str], marks: Mapping[str, Mark]) -> dict[str, Grown]:
        found, unread = dict[str, Grown](), list[Problem]()
        for name in names:
            try:
                found[name] = read_new(self._folder / name, marks.get(name))
            except BadInputError as error:
                unread += in_season(error, f"{JOURNAL_FOLDER}/{name}")
        self.unread = tuple(unread)
        return found

    def _taken(self, grown: Mapping[str, Grown]) -> tuple[Lines, ...]:
        lines = []
        for name, one in grown.items():
            # A last line without its end counts when a season is opened: an editor may have
            # stripped it. It comes again with the next line, and repeats change nothing.
            data = one.data if name in self._marks else one.data + one.tail
            self._marks[name] = one.mark
            if data:
                lines.append(Lines(f"{JOURNAL_FOLDER}/{name}", data, one.first_line))
        return tuple(lines)
