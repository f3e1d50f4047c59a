"""Every reader of what comes from outside, and good inputs with accidents in them.

Each reader takes bytes and either gives what it read or refuses in words; anything else that it
raises is a fault. `test_mutated.py` tries a few, `benchmarks/mutate_readers.py` a million.
"""

import json
from collections.abc import Callable, Iterable, Iterator, Sequence
from datetime import UTC, date, datetime
from functools import cache, partial
from math import isfinite
from pathlib import Path
from random import Random
from typing import Any, Final, NamedTuple

from msgspec import json as msgspec_json

from notebook import Notebook, moment
from season.entries_for_tests import line
from seasons import HEAD, lot, season
from seedstart.acts.act import Texts
from seedstart.acts.known import Known
from seedstart.acts.parsers import (
    parse_destinations,
    parse_leaving,
    parse_moment,
    parse_plants,
    parse_reading,
    parse_seeds,
    parse_treated_for,
)
from seedstart.acts.values import number
from seedstart.crop_table.load import load_crops
from seedstart.daily.answers import answer
from seedstart.daily.check import Asked, Check, Doing
from seedstart.days import parse_day
from seedstart.growing.frost_record import frost_record
from seedstart.planning.known_weather import known_weather
from seedstart.problems import BadInputError, Problem
from seedstart.season.journal.entries import Counted, Moved, Sown
from seedstart.season.journal.journal import Journal, Lines
from seedstart.season.journal.journal_lines import encode
from seedstart.season.loggers.logger_file import to_tidy, understand
from seedstart.season.loggers.series import marked
from seedstart.season.loggers.tidy_file import HEADER, read_tidy, write_tidy
from seedstart.season.plan.lots_csv import read_lots_csv
from seedstart.season.plan.season_file import read_season
from seedstart.season.weather.weather_columns import read_columns
from seedstart.season.weather.weather_folder import read_weather_file
from seedstart.settings import parse_settings, with_theme, writer_name
from seedstart.text import clean, folded, natural
from seedstart.units import (
    parse_area,
    parse_days,
    parse_grams,
    parse_hours,
    parse_length,
    parse_percent,
    parse_risk,
    parse_temperature,
    parse_temperatures,
)
from shipped import crop_table

ROOT: Final = Path(__file__).resolve().parent.parent
_SHORT: Final = (
    b"\0", b"\x1b]52;c;QUFB\x07", b"\x1d", b"\x85", b"\r", b"\n", b"\r\n", b'"', b"'", b"\\", b",",
    b";", b"\t", b"=", b"[", b"]]", b"{", b"}", b"#", b"-", b"\xff", b"\xc3", b"\xed\xa0\x80",
    b"\xef\xbb\xbf", b"\\u0000", b"\\ud800", b"\\u200e", b"\\n", b"e\xcc\x81", "\u200b".encode(),
    "\u202e".encode(), "\u2028".encode(), "\u00ad".encode(), "\U000e0041".encode(), "٣".encode(),
    "ß".encode(), "İ".encode(), "½".encode(), "°".encode(), b"''' ", b'"""', b"/2", b".1", b"%",
)  # fmt: skip
_WORDS: Final = (
    b"1e308", b"-1e308", b"1e999", b"nan", b"inf", b"-0", b"0", b"-1", b"1_000", b"0x7f", b"true",
    b"null", b"{}", b"[]", b"[1]", b'""', b'"x"', b"1900-01-01", b"2027-02-30", b"0001-01-01",
    b"9999-12-31T23:59:59+14:00", b"2027-03-28T02:30:00", b"24:00", b"999999999999", b"4 weeks",
    b"99999999999999999999", b"1,5", b"85,0", b"69F", b"struck", b"sown", b"leek", b"NaN", b"nul",
)  # fmt: skip
_LONG: Final = (b"9" * 5000, b"[" * 3000, b'{"a":' * 1500, b"0x" + b"f" * 9000, b"a" * 70_000)


def mutated(good: Sequence[bytes], chance: Random) -> bytes:
    """One of some good inputs with one to six accidents in it."""
    data = bytearray(chance.choice(good))
    for _ in range(chance.choice((1, 1, 1, 2, 3, 6))):
        _ACCIDENTS[chance.randrange(len(_ACCIDENTS))](data, good, chance)
    return bytes(data)


def _somewhere(data: bytearray, chance: Random) -> tuple[int, int]:
    start = chance.randrange(len(data) + 1)
    return start, min(len(data), start + chance.choice((1, 1, 2, 5, 20, 200)))


def _word(data: bytearray, chance: Random) -> tuple[int, int]:
    """Where a word or number stands: most rules are about one of them."""
    start, _ = _somewhere(data, chance)
    while start > 0 and data[start - 1 : start].isalnum():
        start -= 1
    end = start
    while end < len(data) and (data[end : end + 1].isalnum() or data[end : end + 1] in b".+-"):
        end += 1
    return start, end


def _put(data: bytearray, place: tuple[int, int], new: bytes) -> None:
    data[place[0] : place[1]] = new


def _insert(data: bytearray, _: Sequence[bytes], chance: Random) -> None:
    start, _end = _somewhere(data, chance)
    _put(data, (start, start), chance.choice(_LONG if chance.random() < 0.01 else _SHORT))


def _change_a_word(data: bytearray, _: Sequence[bytes], chance: Random) -> None:
    _put(data, _word(data, chance), chance.choice(_LONG if chance.random() < 0.01 else _WORDS))


def _change_a_byte(data: bytearray, _: Sequence[bytes], chance: Random) -> None:
    if data:
        data[chance.randrange(len(data))] = chance.randrange(256)


def _lose(data: bytearray, _: Sequence[bytes], chance: Random) -> None:
    _put(data, _somewhere(data, chance), b"")


def _double(data: bytearray, _: Sequence[bytes], chance: Random) -> None:
    start, end = _somewhere(data, chance)
    _put(data, (start, start), bytes(data[start:end]) * chance.choice((1, 1, 3)))


def _move(data: bytearray, _: Sequence[bytes], chance: Random) -> None:
    start, end = _somewhere(data, chance)
    part = bytes(data[start:end])
    _put(data, (start, end), b"")
    _put(data, (chance.randrange(len(data) + 1),) * 2, part)


def _tear(data: bytearray, _: Sequence[bytes], chance: Random) -> None:
    _put(data, (chance.randrange(len(data) + 1), len(data)), b"")


def _cross(data: bytearray, good: Sequence[bytes], chance: Random) -> None:
    other = bytearray(chance.choice(good))
    start, end = _somewhere(other, chance)
    _put(data, _somewhere(data, chance), bytes(other[start:end]))


_ACCIDENTS: Final = (
    _insert, _insert, _change_a_word, _change_a_word, _change_a_word, _change_a_byte, _lose,
    _double, _move, _tear, _cross,
)  # fmt: skip


_STATIONS: Final = ("heat mat", "shelf 1", "sill")


class Reader(NamedTuple):
    """A reader: what it is tried with, and the trial, which raises on a fault alone."""

    good: tuple[bytes, ...]
    trial: Callable[[bytes], object]


def _refusals(problems: Iterable[Problem]) -> None:
    """What is refused is said in a bounded number of clean lines, and as JSON."""
    told = list(problems)
    assert len(told) <= 600, len(told)
    for problem in told:
        assert clean(str(problem)) == str(problem)
        assert len(str(problem)) < 5000
        json.dumps(problem.as_json()).encode()


def _whole(read: Callable[[bytes], object]) -> Callable[[bytes], None]:
    def trial(data: bytes) -> None:
        try:
            read(data)
        except BadInputError as error:
            _refusals(error.problems)

    return trial


# A journal: whatever stands on a line, the lines around it count.

_BEFORE, _AFTER = line("noted", 0xA1, text="before"), line("noted", 0xA2, text="after")


def _journal(data: bytes) -> None:
    journal = Journal()
    journal.read(Lines("journal/bench.jsonl", _BEFORE + data + b"\n" + _AFTER))
    notes = {str(getattr(entry, "text", "")) for entry in journal.by_id.values()}
    assert {"before", "after"} <= notes, "a line cost another"
    _refusals([*journal.set_aside, *journal.disputed])
    known = [entry for entry in journal.by_id.values() if type(entry).__name__ != "Unknown"]
    again = Journal()
    again.read(Lines("journal/bench.jsonl", encode(known)))
    assert len(again.by_id) == len(known), "what was read is not read again"


def _tidy(data: bytes) -> None:
    row = b"2027-03-20T06:00:00+01:00,of its own,soil_c,21,\n"
    readings, problems = read_tidy(HEADER.encode() + b"\n" + row + data + b"\n" + row, "a.csv")
    assert ("of its own", "soil_c") in readings, "a line cost another"
    _refusals(problems)
    assert all(isfinite(value) for series in readings.values() for value in series.value)
    write_tidy(readings, "Europe/Vienna")


def _logger(data: bytes) -> None:
    found = understand(data, "probe.csv", "Europe/Vienna", None, _STATIONS)
    _refusals(
        [*found.problems, *(question.as_problem("probe.csv") for question in found.questions)]
    )
    if not found.questions:
        readings = marked(to_tidy(found))
        assert all(isfinite(value) for series in readings.values() for value in series.value)
        _, problems = read_tidy(write_tidy(readings, "Europe/Vienna"), "a.csv")
        assert not problems


def _weather(data: bytes) -> None:
    """As a record, as a forecast of the weather folder, and as what is said of its columns."""
    for name in ("weather/minima.csv", "weather/forecast.csv"):
        found = read_weather_file(data, name, {}, "2031-04-01")
        _refusals(found.problems)
        for issue in found.issues:
            values = (one for each in issue.days.others.values() for one in each.values())
            assert all(map(isfinite, values))
            record = frost_record(issue.days.minima)
            half = record.risk.normal_day(50) if record.risk else None
            assert half is None or isfinite(half)
        known_weather({}, [found], date(2031, 4, 15))


def _settings(data: bytes) -> None:
    settings = parse_settings(data, "settings.toml")
    assert writer_name(settings.writer).isascii()
    assert parse_settings(with_theme(data, "light"), "settings.toml").writer == settings.writer


def _crops(data: bytes) -> None:
    shipped = {name: (ROOT / "crops" / name).read_bytes() for name in ("leek.toml", "sources.toml")}
    load_crops(shipped, {"x.toml": data})


def _typed(data: bytes) -> None:
    text = data.decode("utf-8", "surrogateescape")
    for parse in _PARSERS:
        try:
            found = parse(text)
        except ValueError as error:
            assert str(error)
            continue
        _finite(found)
    once = clean(text)
    assert clean(once) == once
    assert folded(once) == folded(text)
    natural(text)


def _finite(found: object) -> None:
    if isinstance(found, float):
        assert isfinite(found), found
    elif isinstance(found, tuple | list):
        for part in found:
            _finite(part)


_NOW: Final = datetime(2027, 3, 28, 12, tzinfo=UTC)
_PARSERS: Final[tuple[Callable[[str], object], ...]] = (
    parse_area, parse_days, parse_grams, parse_hours, parse_length, parse_percent, parse_risk,
    parse_temperature, parse_temperatures, parse_day, number, parse_plants, parse_leaving,
    parse_seeds, parse_treated_for, parse_destinations,
    partial(parse_moment, now=_NOW), partial(parse_reading, quantity=None, units="us"),
    partial(parse_reading, quantity="lux", units="metric"), partial(parse_area),
)  # fmt: skip


_LEEK: Final[Texts] = {"sowing": "leek"}
_BOTH: Final[tuple[Texts, ...]] = (_LEEK, {"sowing": "parsley"})
_ANSWERED: Final[tuple[tuple[str, tuple[Texts, ...]], ...]] = (
    *((act, (_LEEK,)) for act in ("count", "thin", "set out", "prick out", "measure", "pot on")),
    ("count", _BOTH),
    ("weigh", ({"what": "tray:tray 5"},)),
    ("sow", ({"lot": "leek"},)),
    ("harden off", ({"what": "sowing:leek"},)),
    ("move", ({"what": "sowing:leek"},)),
)


@cache
def _asked() -> tuple[list[Check], Known]:
    book = Notebook()
    book.write(Moved, "3-01", tray="tray 5", station="sill")
    book.write(Sown, "3-02", sowing="leek", lot="leek", seeds=24)
    book.write(Sown, "3-02", sowing="parsley", lot="parsley", seeds=24)
    book.write(Counted, "3-16", sowing="leek", standing=12)
    plan = season(lot("leek", "leek", station='"mat"') + lot("parsley", "parsley"))
    known = Known(plan=plan, records=book.records(), now=moment("3-17 08:00"), by="me")
    leek, other = Asked("1", "leek", last=12, standing=12), Asked("2", "parsley")
    checks = [
        Check(
            key="key", what="count", says="do it", why=(), subject=("sowing", "1"),
            due=date(2027, 3, 17), typed=Doing(act, of), sowings=(leek, other)[: len(of)],
        )
        for act, of in _ANSWERED
    ]  # fmt: skip
    return checks, known


def _answers(data: bytes) -> None:
    checks, known = _asked()
    text = data.decode("utf-8", "surrogateescape")
    for check in checks:
        found = answer(check, text, known)
        if isinstance(found, Problem):
            _refusals([found])
        else:
            msgspec_json.encode(found)


def _lines_of(folder: str, suffix: str) -> Iterator[bytes]:
    for season_folder in (ROOT / "sample_season", *(ROOT / "tests" / "seasons").glob("*")):
        for path in sorted((season_folder / folder).glob(f"*{suffix}")):
            yield from path.read_bytes().splitlines(keepends=True)[1:400]


_LOTS: Final = (
    lot("pepper-long", "pepper", variety='"Long red"', want="12", sowings="3", every='"2 weeks"',
        station='"mat"', then='"shelf"', container='"tray of 72"', soak='"1 day"', depth='"12 mm"',
        form='"pelleted"', germination='"85 %"', harvested='"2024"', have='"50 seeds"',
        was='["old name"]', sow='["2027-03-02", 2027-03-16]',
        tests="[{ on = 2027-01-10, seeds = 20, up = 17 }]")
    + lot("leek", "leek", want="48", stratify='"4 weeks"', scarify='"yes"', ready="2027-05-03")
).encode()  # fmt: skip
_CSV: Final = (
    (
        b"name;crop;variety;want;station;have;germination %;harvested\n"
        b'leek;leek;"Giant; blue";48;shelf;2,5 g;85;2024\npea;pea;;12;mat;50 seeds;;2025\n'
    ),
    b"Label,Species,Weight (g),Sow on\nD1,tomato,6.90,2027-03-01\nD2,leek,1.5,31.03.2027\n",
)
_LOGGED: Final = (
    "Time;Soil temperature (°C)\n"
    + "".join(f"14.03.2027 {hour:02d}:00;23,{hour % 10}\n" for hour in range(24))
).encode()
_LOGGED_MANY: Final = (
    "#,Date Time,Sensor,Temp F,RH %,Light lux\n"
    + "".join(
        f"{n},03/{n % 28 + 1:02d}/2027 08:{n % 60:02d}:00 AM,P{n % 2},7{n % 10}.1,55,{n}00\n"
        for n in range(40)
    )
).encode()
_TYPED: Final = (
    b"12 h", b"4 weeks", b"85 %", b"23.5C", b"68 F", b"1.2 x 0.5 m", b"about 100 seeds", b"0.1 oz",
    b"82/3.1, 75/2.9/4", b"12 left", b"30 into tray 5", b"tray 5:15, tray 6:15", b"yesterday 18:00",
    b"2027-03-20 08:00", b"12 May 2027", b"21C 16 h, 14C night", b"150umol", b"1.8mS", b"safe",
    b"18 final", b"= last", b"18 rotted", b"put off: moist", b"put off: Saturday", b"18, 9, died",
    b"all", b"300 ml", b"40 cells", b"12 of 20",
)  # fmt: skip


_SAMPLES: Final = ROOT / "tests" / "reference" / "weather_format_samples"
_WEATHER: Final = (
    *(path.read_bytes() for path in sorted(_SAMPLES.iterdir()) if "expected" not in path.name),
    (ROOT / "sample_season" / "weather" / "forecast.csv").read_bytes()[:2000],
    b"date,tmin_c,tmax_c\n2031-04-01,-3.0,8\n2031-04-02,1,9\n",
    b'{"daily_units": {"low_min": "C"}, "daily": {"time": ["2031-04-11"], "low_min": [5.1]}}',
)
_COLUMNS: Final = (
    b'[[layout]]\nheader = "when,low"\nunit = "F"\ncolumns = { tmin_c = "low|F" }\n',
    b'[[layout]]\nheader = "a;b"\norder = "dmy"\nstation = "1"\n',
)


@cache
def readers() -> dict[str, Reader]:
    """Every reader by its name."""
    crops = crop_table()
    plan = season(_LOTS.decode())
    return {
        "journal": Reader(tuple(_lines_of("journal", ".jsonl")), _journal),
        "readings": Reader(tuple(_lines_of("readings", ".csv")), _tidy),
        "typed values": Reader(_TYPED, _typed),
        "answers": Reader(_TYPED, _answers),
        "settings": Reader(
            (b'writer = "hut"\n', b'# mine\n"theme" = "dark"\r\nwriter="a"\n'), _whole(_settings)
        ),
        "season.toml": Reader(
            (HEAD.encode(), (ROOT / "sample_season" / "season.toml").read_bytes()),
            _whole(lambda data: read_season(data, b"", crops)),
        ),
        "lots.toml": Reader(
            (_LOTS, (ROOT / "sample_season" / "lots.toml").read_bytes()[:3000]),
            _whole(lambda data: read_season(HEAD.encode(), data, crops)),
        ),
        "lots.csv": Reader(_CSV, _whole(lambda data: read_lots_csv(data, plan))),
        "logger.csv": Reader((_LOGGED, _LOGGED_MANY), _whole(_logger)),
        "weather": Reader(_WEATHER, _whole(_weather)),
        "weather/columns.toml": Reader(_COLUMNS, _whole(read_columns)),
        "crops": Reader(
            (b'name = "leek"\ntray_c = 18\n', (ROOT / "crops" / "leek.toml").read_bytes()),
            _whole(_crops),
        ),
    }  # fmt: skip


def a_trial(name: str, seed: int) -> tuple[bytes, Any]:
    """One input of a reader; calling the second part tries it."""
    reader = readers()[name]
    data = mutated(reader.good, Random(f"{name} {seed}"))
    return data, partial(reader.trial, data)
