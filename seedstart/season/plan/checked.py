"""A grower's TOML, checked key by key: every fault is gathered, and none stops the reading."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from itertools import islice
from typing import Final, TypeVar

from msgspec import Struct, structs

from seedstart.problems import Gathered, Problem
from seedstart.season.plan.names import Named, clashes
from seedstart.season.plan.toml_text import Parsed, Path, lines_of
from seedstart.season.plan.typed_values import RefusedError, cut, show
from seedstart.text import clean

T = TypeVar("T")
D = TypeVar("D")

_MOST_UNKNOWN: Final = 100  # faults of one table or list that are looked at one by one


class Fault(Struct, frozen=True, kw_only=True):
    """Something wrong under a path of keys; the line is looked up when all are gathered.

    Attributes:
        path: Keys and numbers (from 0) that lead there.
        whose: The name of the lot or station it belongs to.
        found, allowed, hint, listed_by, more: As in `Problem`.
    """

    path: Path
    whose: str = ""
    found: str | None = None
    allowed: tuple[str, ...] = ()
    hint: str = ""
    listed_by: str = ""
    more: int = 0

    def as_problem(self, file: str, key: str, line: int | None = None) -> Problem:
        """The problem to show, under a key as the grower knows it."""
        return Problem(
            file=file,
            key=key,
            line=line,
            found=self.found,
            allowed=self.allowed,
            hint=self.hint,
            listed_by=self.listed_by,
            more=self.more,
        )


class Table:
    """One table of a file: its keys are taken one by one, and what is left over is unknown.

    Attributes:
        path: Keys and numbers (from 0) that lead to it.
        whose: The name of what it describes, once known: the faults name it.
        faults: Where all tables of a file put theirs.
    """

    def __init__(
        self, values: Mapping[str, object], faults: list[Fault], path: Path = (), whose: str = ""
    ) -> None:
        self.path = path
        self.whose = whose
        self.faults = faults
        self._left = dict(values)
        self._known: list[str] = []

    def __contains__(self, key: str) -> bool:
        return key in self._left

    def take(self, key: str, read: Callable[[object], T], default: D) -> T | D:
        """The value of a key, or the default where it is not there or not allowed."""
        self._known.append(key)
        if key not in self._left:
            return default
        return self._read((key,), self._left.pop(key), read, default)

    def need(self, key: str, read: Callable[[object], T], default: D, *, what: str) -> T | D:
        """Take a key that must be there; `what` says what it holds."""
        if key not in self._left:
            self.refuse(key, hint=f"It is missing: {what}.")
        return self.take(key, read, default)

    def take_list(self, key: str, read: Callable[[object], T]) -> tuple[T, ...]:
        """The values of a list that are allowed, each read by itself."""
        taken = []
        before, more = len(self.faults), 0
        for number, item in enumerate(self._items(key, "a list in [ ]")):
            value = self._read((key, number), item, read, None)
            if value is not None:
                taken.append(value)
            if len(self.faults) - before > _MOST_UNKNOWN:
                more += 1 + self.faults.pop().more
        if more:
            self.faults[-1] = structs.replace(self.faults[-1], more=more)
        return tuple(taken)

    def tables(self, key: str, written: str) -> Iterator["Table"]:
        """The tables of a list, as `[[lot]]`; `written` says how they are written."""
        if isinstance(self._left.get(key), dict):
            self.refuse(key, found="one table", hint=f"Write it as {written}.")
            self._left[key] = [self._left[key]]
        for number, item in enumerate(self._items(key, written)):
            if isinstance(item, dict):
                yield Table(item, self.faults, (*self.path, key, number), self.whose)
            else:
                self._fault((key, number), found=show(item), allowed=(written,))

    def table(self, key: str, written: str) -> "Table | None":
        """The table under a key, if there is one."""
        self._known.append(key)
        value = self._left.pop(key, None)
        if isinstance(value, dict):
            return Table(value, self.faults, (*self.path, key), self.whose)
        if value is not None:
            self.refuse(key, found=show(value), allowed=(written,))
        return None

    def refuse(
        self,
        *keys: str | int,
        found: str | None = None,
        allowed: tuple[str, ...] = (),
        hint: str = "",
    ) -> None:
        """Put down a fault under a key of this table, or under the table itself."""
        self._fault(keys, found=found, allowed=allowed, hint=hint)

    def refused(self, *keys: str | int) -> bool:
        """Whether something is wrong under a key already."""
        path = (*self.path, *keys)
        return any(fault.path[: len(path)] == path for fault in self.faults)

    def close(self, *, listed_by: str = "") -> None:
        """Name every key that nobody asked for."""
        allowed, more = tuple(self._known), max(len(self._left) - _MOST_UNKNOWN, 0)
        for key in islice(self._left, _MOST_UNKNOWN):
            self._fault((key,), found=key, allowed=allowed, listed_by=listed_by, more=more)
            more = 0

    def _items(self, key: str, written: str) -> Sequence[object]:
        self._known.append(key)
        value = self._left.pop(key, [])
        if isinstance(value, list):
            return value
        self.refuse(key, found=show(value), allowed=(written,))
        return []

    def _read(self, keys: Path, value: object, read: Callable[[object], T], default: D) -> T | D:
        try:
            return read(value)
        except RefusedError as refused:
            self._fault(
                keys,
                found=show(value),
                allowed=refused.allowed,
                hint=refused.hint,
                listed_by=refused.listed_by,
            )
        except ValueError as error:
            self._fault(keys, found=show(value), allowed=(str(error),))
        return default

    def _fault(
        self,
        keys: Path,
        *,
        found: str | None = None,
        allowed: tuple[str, ...] = (),
        hint: str = "",
        listed_by: str = "",
        more: int = 0,
    ) -> None:
        self.faults.append(
            Fault(
                path=(*self.path, *keys),
                whose=self.whose,
                found=None if found is None else cut(found),
                allowed=allowed,
                hint=hint,
                listed_by=listed_by,
                more=more,
            )
        )


def key_of(path: Path) -> str:
    """A path as a grower counts, from one: `lot[3].tests[1].on`."""
    parts = (f"[{part + 1}]" if isinstance(part, int) else f".{clean(part)}" for part in path)
    return "".join(parts).removeprefix(".")


def _placed(faults: Iterable[Fault], file: str, parsed: Parsed) -> list[Problem]:
    """The problems of a TOML file in the order of its lines."""
    paths: dict[str, Path] = {}
    problems = Gathered()
    for fault in faults:
        key = key_of(fault.path) + (f" ({fault.whose})" if fault.whose else "")
        paths.setdefault(key, fault.path)
        problems.add(fault.as_problem(file, key))
    gathered = problems.told()
    stands = {
        problem.key: _where(paths[problem.key], parsed.values)
        for problem in gathered
        if problem.key in paths
    }
    lines = lines_of(parsed.text, stands.values()) if stands else {}
    located = [
        structs.replace(problem, line=lines.get(stands.get(problem.key, ())))
        for problem in gathered
    ]
    return sorted(located, key=lambda problem: problem.line or 0)


def _where(path: Path, values: object) -> Path:
    """Where to look for a fault: a missing key where its table begins."""
    for part in path[:-1]:
        if isinstance(values, dict):
            values = values.get(part)
        elif isinstance(values, list) and isinstance(part, int) and part < len(values):
            values = values[part]
    missing = isinstance(values, dict) and path[-1] not in values
    return path[:-1] if missing else path


def refuse_clashes(bearers: Sequence[tuple[str, Table, Named]]) -> None:
    """Put down each name that two share, now or formerly, at the later of the two.

    Args:
        bearers: What each is called in a message (`lot[2]`), its table, and its names.
    """
    for later, key, name, earlier in clashes([thing for _, _, thing in bearers]):
        hint = f"{bearers[earlier][0]} has or had this name too: give each its own."
        bearers[later][1].refuse(key, found=name, hint=hint)


def placed_with(parsed: Parsed, faults: Iterable[Fault], file: str) -> list[Problem]:
    """The problems of a file: its faults, and those of its days that no fault names."""
    problems = _placed(faults, file, parsed)
    known = {(problem.line, problem.found) for problem in problems}
    new = [other for other in parsed.problems if (other.line, other.found) not in known]
    return sorted([*problems, *new], key=lambda problem: problem.line or 0)
