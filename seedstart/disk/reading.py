"""Files read: whole, by folder, or what is new in a growing one."""

import os
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Final, NamedTuple
from zlib import crc32

from msgspec import structs

from seedstart.disk.durable import OPENED, refuse_unless_file
from seedstart.problems import BadInputError, Problem

_PACKAGE: Final = Path(__file__).resolve().parent.parent
_AT_ONCE_BYTES: Final = 1 << 18
NOT_HERE: Final = Problem(
    file="season", hint="The folder that you are in is no longer there: cd to another one."
)


def shipped(name: str) -> Path:
    """Where `crops` or `sample_season` lies: inside an installed package, else above it.

    A wheel carries them inside the package; a checkout keeps them at its top level.
    """
    inside = _PACKAGE / name
    return inside if inside.is_dir() else _PACKAGE.parent / name


def here() -> Path:
    """The folder that the program was started in.

    Raises:
        BadInputError: It is gone.
    """
    try:
        return Path.cwd()
    except FileNotFoundError:
        raise BadInputError([NOT_HERE]) from None


def read(path: Path) -> bytes:
    """The whole of a file.

    Raises:
        BadInputError: It is not there, is no file, or cannot be read.
    """
    try:
        with _opened(path) as file:
            return _all(file)
    except OSError as error:
        raise BadInputError([Problem(file=str(path), hint=_why(error))]) from None


def size_of(path: Path) -> int:
    """How many bytes a file has; 0 where it is not known: reading it says why."""
    try:
        return path.stat().st_size
    except OSError:
        return 0


def read_folder(folder: Path, suffix: str) -> dict[str, bytes]:
    """The files of a folder that end in `suffix`, by name, in order of name."""
    return {name: read(folder / name) for name in names_in(folder, suffix)}


def names_in(folder: Path, suffix: str) -> tuple[str, ...]:
    """The names of a folder's files that end in `suffix`, in order; none where there is no folder.

    What begins with a dot is an editor's or the system's own, and passed over.

    Raises:
        BadInputError: It is there and cannot be looked into.
    """
    try:
        names = [path.name for path in folder.iterdir()]
    except FileNotFoundError:
        return ()
    except OSError as error:
        raise BadInputError([Problem(file=str(folder), hint=_why(error))]) from None
    return tuple(sorted(name for name in names if name.endswith(suffix) and name[0] != "."))


def refuse_unless_there(folder: Path) -> None:
    """A folder that went is not one whose files were all taken out: its drive may be gone.

    Raises:
        BadInputError: It is not there.
    """
    if not folder.is_dir():
        raise BadInputError([Problem(file=str(folder), hint="The folder is no longer there.")])


def bytes_below(folder: Path) -> int:
    """How much a folder holds; what cannot be looked at counts for nothing."""
    total = 0
    for top, _, names in os.walk(folder):
        for name in names:
            with suppress(OSError):
                total += os.lstat(os.path.join(top, name)).st_size  # noqa: PTH118 - of many, quick
    return total


def read_tree(folder: Path) -> dict[str, bytes]:
    """Every file below a folder, by its path inside it with `/` between."""
    files = (path for path in sorted(folder.rglob("*")) if path.is_file())
    return {path.relative_to(folder).as_posix(): read(path) for path in files}


class Mark(NamedTuple):
    """How far a growing file was read, and what shows that it is still the same.

    Attributes:
        device: With `inode`, which file it is.
        size: How far its whole lines go, in bytes.
        line: The number of the line behind them.
        crc: Of all their bytes: an edit anywhere in them shows, whatever was appended since.
        seen: Its size, with what stands behind the last line end, and when it was written last.
    """

    device: int
    inode: int
    size: int
    line: int
    crc: int
    seen: tuple[int, int]


_NOTHING: Final = Mark(0, 0, 0, 1, 0, (0, 0))


class Grown(NamedTuple):
    """What is new in a growing file.

    Attributes:
        data: Whole lines.
        first_line: The number of the first of them, from 1.
        tail: What stands behind the last line end: torn, or being written just now. It comes
            again, in `data`, once a line end stands behind it.
        all_over: The file is shorter, another one or was edited, so `data` is all of it.
        mark: For the next time.
    """

    data: bytes
    first_line: int
    tail: bytes
    all_over: bool
    mark: Mark


class NewInFolder(NamedTuple):
    """What is new in the growing files of a folder.

    Attributes:
        files: By name, in order; None of a file that cannot be read, or of which too much is new.
        was_seen: Whether the folder could be looked into; where not, no file is known to be gone.
        unread: What could not be read.
        is_behind: Whether of some file too much is new.
    """

    files: dict[str, Grown | None]
    was_seen: bool
    unread: tuple[Problem, ...]
    is_behind: bool = False


def read_new_in(
    folder: Path, suffix: str, marks: Mapping[str, Mark], at_most: int | None = None
) -> NewInFolder:
    """What came to a season's growing files since they were read last.

    Args:
        folder: Inside the season; it may be missing as long as nothing was read there.
        suffix: Of the files' names.
        marks: By name, how far each was read.
        at_most: Bytes; a file of which more is new is left for the next time. None for all of it.
    """
    files, unread, is_behind = dict[str, Grown | None](), list[Problem](), False
    try:
        names = names_in(folder, suffix)
        if marks and not names:
            refuse_unless_there(folder)
    except BadInputError as error:
        return NewInFolder({}, was_seen=False, unread=tuple(in_season(error, folder.name)))
    for name in names:
        files[name] = None
        try:
            files[name] = read_new(folder / name, marks.get(name), at_most)
        except TooMuchNewError:
            is_behind = True
        except BadInputError as error:
            unread += in_season(error, f"{folder.name}/{name}")
    return NewInFolder(files, was_seen=True, unread=tuple(unread), is_behind=is_behind)


class TooMuchNewError(Exception):
    """More is new in a file than was to be read."""


def read_new(path: Path, mark: Mark | None = None, at_most: int | None = None) -> Grown:
    """What came to a growing file since it was read last; all of it the first time.

    Args:
        path: The file.
        mark: How far it was read.
        at_most: Bytes that are read at once; None for all.

    Raises:
        BadInputError: It is not there, is no file, or cannot be read.
        TooMuchNewError: More than that is new.
    """
    try:
        with _opened(path) as file:
            is_now = os.fstat(file)
            _refuse_more(is_now, mark, at_most)
            same = mark is not None and _is_same(mark, is_now, file)
            before = mark if mark is not None and same else _NOTHING
            os.lseek(file, before.size, os.SEEK_SET)
            new = _all(file)
    except OSError as error:
        raise BadInputError([Problem(file=str(path), hint=_why(error))]) from None
    whole = new.rfind(b"\n") + 1
    data, tail = new[:whole], new[whole:]
    crc = crc32(data, before.crc)
    line = before.line + data.count(b"\n")
    size = before.size + len(new)
    seen = size, is_now.st_mtime_ns
    after = Mark(is_now.st_dev, is_now.st_ino, before.size + whole, line, crc, seen)
    return Grown(data, before.line, tail, mark is not None and not same, after)


def in_season(error: BadInputError, file: str) -> list[Problem]:
    """What is wrong with a file of a season, named by its path inside the season."""
    return [structs.replace(problem, file=file) for problem in error.problems]


@contextmanager
def _opened(path: Path) -> Iterator[int]:
    """A file to read; what is none is refused, and not waited for."""
    file = os.open(path, os.O_RDONLY | OPENED)
    try:
        refuse_unless_file(file)
        yield file
    finally:
        os.close(file)


def _all(file: int) -> bytes:
    with os.fdopen(file, "rb", closefd=False) as rest:
        return rest.read()


def _is_same(mark: Mark, is_now: os.stat_result, file: int) -> bool:
    """Whether what was read still stands; bytes are compared only where the file was written."""
    if (is_now.st_dev, is_now.st_ino) != (mark.device, mark.inode) or is_now.st_size < mark.size:
        return False
    written = (is_now.st_size, is_now.st_mtime_ns) != mark.seen
    return not written or _crc(file, mark.size) == mark.crc


def _refuse_more(is_now: os.stat_result, mark: Mark | None, at_most: int | None) -> None:
    """Refuse more than `at_most` new bytes; all of a file that did not get longer is new."""
    size, known = is_now.st_size, mark.seen if mark else (0, 0)
    if at_most is None or (size, is_now.st_mtime_ns) == known:
        return
    if size - (known[0] if size > known[0] else 0) > at_most:
        raise TooMuchNewError


def _crc(file: int, size: int) -> int:
    """Checksum of its first bytes; a third of a millisecond a MB."""
    crc = 0
    while size and (part := os.read(file, min(size, _AT_ONCE_BYTES))):
        crc, size = crc32(part, crc), size - len(part)
    return crc


def _why(error: OSError) -> str:
    reason = error.strerror or str(error)
    return f"{reason[:1].upper()}{reason[1:]}."
