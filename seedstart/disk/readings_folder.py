"""The readings of a season: its growing files, each read on from where it ended."""

from collections.abc import Callable, Iterator
from pathlib import Path
from threading import Lock
from typing import Final, NamedTuple

from seedstart.disk.reading import Mark, in_season, names_in, read_new, refuse_unless_there
from seedstart.problems import BadInputError, Problem
from seedstart.season.loggers.series import Readings, Series, joined
from seedstart.season.loggers.tidy_file import NOTHING_READ, Tidy, read_more
from seedstart.season.place_entries import Quantity

_SUFFIX: Final = ".csv"
_Key = tuple[str, Quantity]


class _File(NamedTuple):
    """A file as it was read last.

    Attributes:
        size: In bytes, with what stands behind its last line end.
        changed_ns: When it was written last.
        mark: How far it was read.
        whole: Its whole lines.
        shown: The same, and what stands behind the last line end.
    """

    size: int
    changed_ns: int
    mark: Mark
    whole: Tidy
    shown: Tidy


class ReadingsFolder:
    """What loggers measured, file by file, and all of it joined.

    `read_on` touches the disk and may take seconds where much is new; it may be called in a thread,
    since it changes nothing before it is done. The others touch no file.

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
        self._reading = Lock()
        self._joined: Readings = {}
        self._parts: dict[_Key, tuple[Series, ...]] = {}  # what each was joined of

    def read_on(self, at_most: int | None = None) -> bool:
        """Read what is new; a file that cannot be read stays as it was.

        Args:
            at_most: Bytes; a file of which more is new is left for the next time, and `is_behind`
                says so. None for all of it.

        Returns:
            Whether anything is new. Not while another thread reads: then it comes the next time.
        """
        if not self._reading.acquire(blocking=False):
            return False
        try:
            return self._read_on(at_most)
        finally:
            self._reading.release()

    def _read_on(self, at_most: int | None) -> bool:
        files, unread, behind = dict[str, _File](), list[Problem](), False
        try:
            names = names_in(self._folder, _SUFFIX)
            if self._files and not names:
                refuse_unless_there(self._folder)
        except BadInputError as error:
            files, names = dict(self._files), ()
            unread += in_season(error, self._folder.name)
        for name in names:
            known = self._files.get(name)
            try:
                size, changed_ns = _stamp(self._folder / name)
                if known is None or (size, changed_ns) != (known.size, known.changed_ns):
                    much = size - (known.size if known and size > known.size else 0)
                    if at_most is not None and much > at_most:
                        behind = True
                    else:
                        known = self._read(name, known, size, changed_ns)
            except BadInputError as error:
                unread += in_season(error, f"{self._folder.name}/{name}")
            if known is not None:
                files[name] = known
        return self._take(files, tuple(unread), behind=behind)

    def _take(self, files: dict[str, _File], unread: tuple[Problem, ...], *, behind: bool) -> bool:
        before, self.was_read, self.is_behind = self._files, True, behind
        same = files.keys() == before.keys() and all(files[name] is before[name] for name in files)
        if same and unread == self.unread:
            return False
        self.unread = unread
        if not same:
            self._files = files
        return True

    def _read(self, name: str, known: _File | None, size: int, changed_ns: int) -> _File:
        # Of the same size and written again: edited in place, or the end alone tells nothing.
        mark = known.mark if known and size > known.size else None
        new = read_new(self._folder / name, mark)
        before = known.whole if known and mark and not new.all_over else NOTHING_READ
        where = f"{self._folder.name}/{name}"
        whole = read_more(before, new.data, where) if new.data else before
        shown = read_more(whole, new.tail, where) if new.tail else whole
        return _File(size, changed_ns, new.mark, whole, shown)

    @property
    def problems(self) -> list[Problem]:
        """What could not be read, and what in the files is no reading."""
        found = (problem for one in self._files.values() for problem in one.shown.problems)
        return [*self.unread, *found]

    def joined(self, present: Callable[[str], str | None]) -> Readings:
        """The readings of all files as one, by station and quantity, in order of time.

        Where two files have a reading of one series at one time, the earlier file holds. Of which
        nothing is new, that series is the same object as before.

        Args:
            present: The present name of a station, from one that it bears or bore; None keeps it.
        """
        parts: dict[_Key, list[Series]] = {}
        for file in self._files.values():
            for (station, quantity), series in file.shown.readings.items():
                parts.setdefault((present(station) or station, quantity), []).append(series)
        found = {key: tuple(series) for key, series in parts.items()}
        if found.keys() != self._parts.keys() or any(self._news(found)):
            news = set(self._news(found))
            self._joined = {
                key: joined(key[0], of) if key in news else self._joined[key]
                for key, of in found.items()
            }
            self._parts = found
        return self._joined

    def _news(self, found: dict[_Key, tuple[Series, ...]]) -> Iterator[_Key]:
        for key, of in found.items():
            before = self._parts.get(key, ())
            if len(of) != len(before) or any(a is not b for a, b in zip(of, before, strict=True)):
                yield key


def _stamp(path: Path) -> tuple[int, int]:
    try:
        seen = path.stat()
    except OSError as error:
        hint = f"Cannot be read: {error.strerror or error}."
        raise BadInputError([Problem(file=str(path), hint=hint)]) from None
    return seen.st_size, seen.st_mtime_ns
