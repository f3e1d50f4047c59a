"""What a logger's columns are, from their headers and first rows: words and units."""

import re
from collections.abc import Callable
from itertools import pairwise
from typing import Final, Literal

from seedstart.season.loggers.stamps import DATE, FULL, LONE_CLOCK
from seedstart.season.loggers.table import Table, is_epoch, number, unit_of
from seedstart.text import folded

Role = Literal["time", "date", "clock", "sensor", "kind", "value", "left out"]

# Words of headers as loggers of several countries print them (from memory). A word of four
# letters or more may go on: temp, temperature, temperatura.
_SENSOR: Final = (
    *("sensor", "station", "probe", "location", "device", "channel", "logger", "place", "name"),
    *("label", "tray", "shelf"),
)
_KIND: Final = ("quantity", "parameter", "measurement", "variable", "type", "kind")
_TIME: Final = ("time", "date", "unix", "epoch", "timestamp", "stamp", "ts", "zeit", "datum", "utc")
_LEFT_OUT: Final = (
    *("battery", "batt", "batterie", "volt", "voltage", "rssi", "signal", "record", "index", "no"),
    *("nr", "id", "counter", "count", "dew", "taupunkt", "pressure", "druck", "co2", "moisture"),
    *("event", "host", "started", "stopped", "logged", "end", "mark", "serial", "status"),
)
_SOIL: Final = ("soil", "medium", "substrate", "substrat", "boden", "erde", "bodem", "suelo", "sol")
_AIR: Final = ("air", "room", "ambient", "luft", "raum", "lucht", "aire", "aria", "indoor")
_HUMID: Final = ("humidity", "humid", "rh", "feuchte", "luftfeuchte", "luftfeuchtigkeit", "humedad")
_LIGHT: Final = ("lux", "illuminance", "illumination", "lx", "klx", "klux")
_PPFD: Final = ("ppfd", "par")
_SALT: Final = ("ec", "conductivity")
_WARM: Final = ("temp", "temperature", "temperatur", "tmp")

# Factor and summand from the unit into the one that the quantity's name says.
# A foot-candle is a lumen a square foot: 1 / 0.3048² lx.
UNITS: Final[dict[str, tuple[float, float]]] = {
    "C": (1.0, 0.0),
    "F": (5 / 9, -160 / 9),
    "lx": (1.0, 0.0),
    "klx": (1000.0, 0.0),
    "fc": (1 / 0.3048**2, 0.0),
    "mS/cm": (1.0, 0.0),
    "µS/cm": (0.001, 0.0),
    "": (1.0, 0.0),
}
# Which units a quantity may come in; where there are several the file or the grower says which.
UNITS_OF: Final = {
    "soil_c": ("C", "F"),
    "air_c": ("C", "F"),
    "lux": ("lx", "klx", "fc"),
    "ec_ms_cm": ("mS/cm", "µS/cm"),
}
_UNIT_SIGNS: Final = (
    (
        "F",
        r"[°º˚]\s*F\b|\b(?i:deg(?:rees?)?)\.?[ _]?F\b|[(\[]F[)\]]|\b(?i:fahrenheit)\b|[ _]f$|\bF$",
    ),
    ("C", r"[°º˚]\s*C\b|\b(?i:deg(?:rees?)?)\.?[ _]?C\b|[(\[]C[)\]]|\b(?i:celsius)\b|[ _]c$|\bC$"),
    ("klx", r"\bk(?:lx|lux)\b"),
    ("lx", r"\b(?:lx|lux)\b"),
    ("fc", r"\bfc\b|\bfoot.?candles?\b"),
    ("µS/cm", r"[µμu]s[/ _]cm"),
    ("mS/cm", r"ms[/ _]cm|ds/m"),
)


def roles_of(table: Table) -> dict[int, Role]:
    """What each column of a table is for.

    Time columns are known by their fields, sensors and kinds of reading by their headers. All
    other numbers are values, but for those that seedstart does not keep and for row counters.
    """
    columns = range(len(table.names))
    roles: dict[int, Role] = dict.fromkeys(columns, "left out")
    roles |= _time_roles(table)
    for place in columns:
        if roles[place] != "left out":
            continue
        header = table.headers[place]
        words = words_of(header)
        fields = _fields(table, place)
        if _has(words, _KIND) and not _numeric(fields):
            roles[place] = "kind"
        elif _names_sensors(header, fields):
            roles[place] = "sensor"
        elif _numeric(fields) and not _has(words, _LEFT_OUT) and not _counts_up(header, fields):
            roles[place] = "value"
    _keep_first(roles, "sensor")
    _keep_first(roles, "kind")
    if "value" not in roles.values():
        # A column headed "probe" with nothing beside it holds what the probe read.
        for place in [place for place, role in roles.items() if role == "sensor"]:
            roles[place] = "value" if _numeric(_fields(table, place)) else "sensor"
    return roles


def _names_sensors(header: str, fields: list[str]) -> bool:
    """Whether a column tells sensors apart: by its header, and not by being their readings."""
    if not fields or not _has(words_of(header), _SENSOR) or quantity_of(header, unit_in(header)):
        return False
    numbered = all(field.strip().isdigit() for field in fields)
    return not _numeric(fields) or (numbered and not re.search(r"\d", header))


def _counts_up(header: str, fields: list[str]) -> bool:
    """Whether a column only numbers its rows. With a name it takes three rows to say so."""
    if len(fields) < (3 if words_of(header) else 2):
        return False
    # Of control characters, strip and int think otherwise than a pattern's blanks.
    digits = [field.strip() for field in fields]
    if not all(re.fullmatch(r"[0-9]{1,9}", field) for field in digits):
        return False
    return all(int(after) == int(before) + 1 for before, after in pairwise(digits))


def _keep_first(roles: dict[int, Role], role: Role) -> None:
    for place in [place for place, other in roles.items() if other == role][1:]:
        roles[place] = "left out"


def _time_roles(table: Table) -> dict[int, Role]:
    """The column with the stamps, or the two with date and clock.

    Of several the one in UTC, which no summer time doubles; else the first.
    """
    columns = range(len(table.names))
    stamps = [place for place in columns if _mostly(FULL.fullmatch, _fields(table, place))]
    if stamps:
        world = [place for place in stamps if header_zone(table.headers[place])]
        return {(world or stamps)[0]: "time"}
    dates = [place for place in columns if _mostly(DATE.fullmatch, _fields(table, place))]
    clocks = [place for place in columns if _mostly(LONE_CLOCK.fullmatch, _fields(table, place))]
    if dates and clocks:
        return {dates[0]: "date", clocks[0]: "clock"}
    counts = [place for place in columns if counts_seconds(table, place)]
    named = [place for place in counts if _has(words_of(table.headers[place]), _TIME)]
    return dict.fromkeys((named or counts)[:1], "time")


def counts_seconds(table: Table, place: int) -> bool:
    """Whether a time column counts seconds or milliseconds since 1970."""
    return _mostly(is_epoch, _fields(table, place))


def _fields(table: Table, place: int) -> list[str]:
    """The fields of a column in the sample that say anything."""
    fields = (row[place] for row in table.sample if place < len(row))
    return [field for field in fields if field.strip()]


def _mostly(is_it: Callable[[str], object], fields: list[str]) -> bool:
    return bool(fields) and sum(bool(is_it(field)) for field in fields) * 2 > len(fields)


def _numeric(fields: list[str]) -> bool:
    return _mostly(number, fields)


def words_of(header: str) -> set[str]:
    """The words of a header, case aside."""
    return set(re.findall(r"[^\W\d_]+2?", header.casefold()))


def _has(words: set[str], known: tuple[str, ...]) -> bool:
    stems = tuple(word for word in known if len(word) >= 4)
    return any(word in known or (len(word) >= 4 and word.startswith(stems)) for word in words)


def header_zone(header: str) -> str | None:
    """The offset that the header of a time column states, as `+01:00`; None without one."""
    if match := re.search(r"\b(?:UTC|GMT)\s*(?:([+-])(\d{1,2}):?(\d{2})?)?", header):
        return f"{match[1]}{int(match[2]):02d}:{match[3] or '00'}" if match[1] else "UTC"
    return None


def quantity_of(label: str, unit: str) -> tuple[str, ...]:
    """The quantities that a header, or the name of a kind of reading, may mean.

    One where it is plain, soil and air for a temperature that does not say of what, none where
    nothing is known, and `("none",)` for what seedstart does not keep.
    """
    words = words_of(label)
    for quantity in ("soil_c", "air_c", "ppfd_umol", "dli_mol", "rh_percent", "ec_ms_cm"):
        if folded(label) == quantity:
            return (quantity,)
    soil, air = _has(words, _SOIL), _has(words, _AIR)
    humid = _has(words, _HUMID) or "%" in label
    if _has(words, _LEFT_OUT) or (humid and soil):
        return ("none",)
    plain = (
        ("rh_percent", humid),
        ("ppfd_umol", _has(words, _PPFD)),
        ("dli_mol", "dli" in words),
        ("lux", _has(words, _LIGHT) or unit in UNITS_OF["lux"]),
        ("ec_ms_cm", _has(words, _SALT) or unit in UNITS_OF["ec_ms_cm"]),
        ("ph", "ph" in words),
    )
    for quantity, fits in plain:
        if fits:
            return (quantity,)
    if soil or air:
        return ("soil_c", "air_c") if soil and air else ("soil_c",) if soil else ("air_c",)
    return ("soil_c", "air_c") if _has(words, _WARM) or unit in ("C", "F") else ()


def unit_in(text: str) -> str:
    """The unit that a header or a field's tail names; empty where it names none."""
    for unit, sign in _UNIT_SIGNS:
        if re.search(sign, text, re.IGNORECASE if len(unit) > 1 else 0):
            return unit
    return ""


def unit_of_column(table: Table, place: int) -> str:
    """The unit of a column of numbers: from its fields, else from its header."""
    return unit_in(" " + unit_of(table, place)) or unit_in(table.headers[place])
