"""A season's journals and readings: growing files, each read on from where it ended."""

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Final, NamedTuple

from seedstart.disk.reading import Grown, Mark, NewInFolder, read_new, read_new_in
from seedstart.problems import BadInputError, Problem
from seedstart.season.journal.journal import Lines
from seedstart.season.journal.place_entries import Quantity
from seedstart.season.loggers.series import Readings, Series, joined
from seedstart.season.loggers.tidy_file import NOTHING_READ, Tidy, read_more

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
        found = self._look(self._marks)
        if not found.was_seen:
            return NewLines(())
        news = [file for file in found.files.values() if file is not None]
        if not any(new.all_over for new in news) and self._marks.keys() <= found.files.keys():
            return NewLines(self._taken(found.files))
        if not self.unread:
            found = self._look({})
        if self.unread:  # what is read again is read whole, or later
            return NewLines(())
        self._marks = {}
        return NewLines(self._taken(found.files), all_over=True)

    def _look(self, marks: Mapping[str, Mark]) -> NewInFolder:
        found = read_new_in(self._folder, JOURNAL_SUFFIX, marks)
        self.unread = found.unread
        return found

    def read_own(self, path: Path) -> NewLines:
        """What was just written, as any other line: another may have written in between.

        Raises:
            BadInputError: It cannot be read.
        """
        return NewLines(self._taken({path.name: read_new(path, self._marks.get(path.name))}))

    def _taken(self, grown: Mapping[str, Grown | None]) -> tuple[Lines, ...]:
        lines = []
        for name, grown_file in grown.items():
            if grown_file is None:
                continue
            # A last line without its end counts when a season is opened: an editor may have
            # stripped it. It comes again with the next line, and repeats change nothing.
            data = grown_file.data if name in self._marks else grown_file.data + grown_file.tail
            self._marks[name] = grown_file.mark
            if data:
                lines.append(Lines(f"{JOURNAL_FOLDER}/{name}", data, grown_file.first_line))
        return tuple(lines)


_SUFFIX: Final = ".csv"
_Key = tuple[str, Quantity]


class _File(NamedTuple):
    """A file as it was read last.

    Attributes:
        mark: How far it was read.
        whole: Its whole lines.
        shown: The same, and what stands behind the last line end.
    """

    mark: Mark
    whole: Tidy
    shown: Tidy


class Joined(NamedTuple):
    """The readings of all files as one.

    Attributes:
        readings: By station and quantity, in order of time.
        parts: What each was joined of.
    """

    readings: Readings
    parts: dict[_Key, tuple[Series, ...]]


class Look(NamedTuple):
    """What was found in the folder at a look.

    Attributes:
        files: By name, each as far as it was read.
        unread: Those that could not be read.
        is_behind: Whether more is new than was to be read at once.
    """

    files: dict[str, _File]
    unread: tuple[Problem, ...]
    is_behind: bool


class ReadingsFolder:
    """What loggers measured, file by file, and all of it joined.

    `look` touches the disk and may take seconds where much is new; it and `joined_of` change
    nothing, so a thread may call them. The others but `read_on` touch no file.

    Args:
        folder: Of a season; it may be missing.

    Attributes:
        was_read: Whether anybody has looked yet.
        is_behind: Whether more is new than was to be read at once.
        unread: Files that could not be read; what they held when they could still counts.
    """

    def __init__(self, folder: Path) -> None:
        self.was_read = self.is_behind = False
        self.unread: tuple[Problem, ...] = ()
        self._folder = folder
        self._files: dict[str, _File] = {}
        self._joined = Joined({}, {})

    def read_on(self, at_most: int | None = None) -> bool:
        """Read what is new; a file that cannot be read stays as it was.

        Args:
            at_most: Bytes; a file of which more is new is left for the next time, and `is_behind`
                says so. None for all of it.

        Returns:
            Whether anything is new.
        """
        return self.take(self.look(at_most=at_most))

    def read_once(self) -> None:
        """Read all of it, unless anybody has looked before.

        Raises:
            BadInputError: A file cannot be read.
        """
        if not self.was_read:
            self.read_on()
            if self.unread:
                raise BadInputError(self.unread)

    def look(self, at_most: int | None = None) -> Look:
        """What is new, as `read_on` reads it; it counts once it is taken."""
        marks = {name: file.mark for name, file in self._files.items()}
        new = read_new_in(self._folder, _SUFFIX, marks, at_most)
        files = dict[str, _File]() if new.was_seen else dict(self._files)
        for name, grown in new.files.items():
            known = self._files.get(name)
            if grown is not None and (known is None or grown.mark != known.mark):
                known = self._read(name, known, grown)
            if known is not None:
                files[name] = known
        return Look(files, new.unread, new.is_behind)

    def take(self, look: Look, joined: Joined | None = None) -> bool:
        """Let what was found count; whether anything of it is new.

        Args:
            look: What was found.
            joined: What `joined_of` gave for it, if that was asked already.
        """
        files, before = look.files, self._files
        self.was_read, self.is_behind = True, look.is_behind
        if joined is not None:
            self._joined = joined
        same = files.keys() == before.keys() and all(files[name] is before[name] for name in files)
        if same and look.unread == self.unread:
            return False
        self.unread = look.unread
        if not same:
            self._files = files
        return True

    def _read(self, name: str, known: _File | None, new: Grown) -> _File:
        before = known.whole if known and not new.all_over else NOTHING_READ
        where = f"{self._folder.name}/{name}"
        whole = read_more(before, new.data, where) if new.data else before
        shown = read_more(whole, new.tail, where) if new.tail else whole
        return _File(new.mark, whole, shown)

    @property
    def problems(self) -> list[Problem]:
        """What could not be read, and what in the files is no reading."""
        found = (problem for file in self._files.values() for problem in file.shown.problems)
        return [*self.unread, *found]

    @property
    def count(self) -> int:
        """How many readings the files hold, as far as they were read."""
        return sum(
            len(series) for file in self._files.values() for series in file.shown.readings.values()
        )

    def joined(self, present: Callable[[str], str | None]) -> Readings:
        """The readings of all files as one, by station and quantity, in order of time.

        Where two files have a reading of one series at one time, the earlier file holds. Of which
        nothing is new, that series is the same object as before.

        Args:
            present: The present name of a station, from one that it has or had; None keeps it.
        """
        self._joined = self._of_all(self._files, present)
        return self._joined.readings

    def joined_of(self, look: Look, present: Callable[[str], str | None]) -> Joined:
        """What `joined` will be once a look is taken."""
        return self._of_all(look.files, present)

    def _of_all(self, files: Mapping[str, _File], present: Callable[[str], str | None]) -> Joined:
        parts: dict[_Key, list[Series]] = {}
        for file in files.values():
            for (station, quantity), series in file.shown.readings.items():
                parts.setdefault((present(station) or station, quantity), []).append(series)
        found = {key: tuple(series) for key, series in parts.items()}
        before = self._joined
        news = {key for key, of in found.items() if _differ(of, before.parts.get(key, ()))}
        if found.keys() == before.parts.keys() and not news:
            return before
        readings = {
            key: joined(key[0], of) if key in news else before.readings[key]
            for key, of in found.items()
        }
        return Joined(readings, found)


def _differ(some: Sequence[Series], others: Sequence[Series]) -> bool:
    """Whether they are not the same objects."""
    pairs = zip(some, others, strict=False)
    return len(some) != len(others) or any(one is not other for one, other in pairs)
