"""The weather of a season: its files, read again where they changed, and what was said of them."""

from datetime import UTC, datetime, tzinfo
from pathlib import Path
from typing import TYPE_CHECKING, Final, NamedTuple

from seedstart.disk.reading import names_in, read, size_of
from seedstart.problems import BadInputError, Problem
from seedstart.season.weather.weather_days import COLUMNS_FILE, WEATHER_FOLDER

if TYPE_CHECKING:  # its readers are loaded where there is a file
    from seedstart.season.weather.weather_columns import Known
    from seedstart.season.weather.weather_folder import WeatherFile

_SUFFIXES: Final = (".csv", ".txt", ".dly", ".json")
_Stamp = tuple[int, int]


class _Read(NamedTuple):
    """A file as it was read last, and what it looked like then."""

    stamp: _Stamp
    file: "WeatherFile"


def read_columns_of(folder: Path) -> "Known":
    """What was said of the season's weather files, by header; nothing where nobody did.

    Raises:
        BadInputError: Everything wrong in it.
    """
    path = folder / WEATHER_FOLDER / COLUMNS_FILE
    if not path.exists():
        return {}
    from seedstart.season.weather.weather_columns import read_columns

    return read_columns(read(path))


class WeatherFolder:
    """Measured days and forecasts, file by file.

    Args:
        season: The season's folder; `weather/` in it may be missing.

    Attributes:
        was_read: Whether anybody has looked yet.
    """

    def __init__(self, season: Path) -> None:
        self.was_read = False
        self._season = season
        self._files: dict[str, _Read] = {}
        self._zone: tzinfo = UTC
        self._columns: tuple[_Stamp | None, Known] = (None, {})
        self._problems: tuple[Problem, ...] = ()

    @property
    def files(self) -> "tuple[WeatherFile, ...]":
        """The files as they were read last, in order of name."""
        return tuple(read.file for read in self._files.values())

    @property
    def problems(self) -> list[Problem]:
        """What could not be read."""
        return [*self._problems, *(each for file in self.files for each in file.problems)]

    def read_on(self, zone: tzinfo) -> bool:
        """Read what is new or was changed; whether anything was.

        Args:
            zone: The season's: in its days hours are folded, and a forecast is of the moment at
                which its file was written. In another zone all is read again.
        """
        zone_changed, self._zone = zone != self._zone, zone
        before, problems = self._files, list[Problem]()
        self.was_read = True
        columns_changed = self._read_columns(problems)
        files: dict[str, _Read] = {}
        try:
            names = names_in(self._season / WEATHER_FOLDER, "")
        except BadInputError as error:
            names, files = (), dict(before)
            problems += error.problems
        for name in names:
            path = self._season / WEATHER_FOLDER / name
            if not name.casefold().endswith(_SUFFIXES) or path.is_dir():
                continue
            stamp = _stamp_of(path)
            known = before.get(name)
            if known is None or columns_changed or zone_changed or stamp != known.stamp:
                known = _Read(stamp, self._read(path, f"{WEATHER_FOLDER}/{name}", stamp))
            files[name] = known
        same = files.keys() == before.keys() and all(files[name] is before[name] for name in files)
        changed = not same or tuple(problems) != self._problems
        self._files, self._problems = files, tuple(problems)
        return changed

    def _read_columns(self, problems: list[Problem]) -> bool:
        """Read what was said of files again, where it changed; whether it did."""
        path = self._season / WEATHER_FOLDER / COLUMNS_FILE
        stamp = _stamp_of(path) if path.exists() else None
        if stamp == self._columns[0] and not self._problems:
            return False
        try:
            self._columns = stamp, read_columns_of(self._season)
        except BadInputError as error:
            problems += error.problems
            return False
        return True

    def _read(self, path: Path, name: str, stamp: _Stamp) -> "WeatherFile":
        from seedstart.season.weather.refused import refuse_too_large
        from seedstart.season.weather.weather_folder import WeatherFile, read_weather_file

        try:
            refuse_too_large(name, size_of(path))
            data = read(path)
        except BadInputError as error:
            return WeatherFile(name, (), error.problems)
        written = f"{datetime.fromtimestamp(stamp[1] / 1e9, self._zone):%Y-%m-%dT%H:%M}"
        return read_weather_file(data, name, self._columns[1], written, self._zone)


def _stamp_of(path: Path) -> _Stamp:
    """Size and time of a file; zeros where they are not known: reading it says why."""
    try:
        seen = path.stat()
    except OSError:
        return 0, 0
    return seen.st_size, seen.st_mtime_ns
