"""Ten crops on ten days of heat, cold, fridge, frame and frost, and what is said of each.

`python tests/judged_days.py` writes docs/judged_days.md; a test compares. The season is invented.
The verdicts are a grower's, beside the source that each is held against; of what none prints they
say "common practice, no source".
"""

import sys
import tempfile
import tomllib
from collections.abc import Iterator
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any, Final, NamedTuple

import pytest

sys.path.insert(0, str(Path(__file__).parent))  # where it is run by hand

from notebook import moment
from seasons import HEAD, lot
from seedstart.daily.check import What
from seedstart.drawing.round_lines import alert_text
from seedstart.season.journal.entries import (
    Adjusted,
    Counted,
    Entry,
    Finished,
    Forecast,
    Hardened,
    Moved,
    PottedOn,
    PrickedOut,
    Read,
    SetOut,
    Sown,
)
from walk import Walk

PAGE_TEXT: Final = Path(__file__).with_suffix(".toml")
PAGE: Final = Path(__file__).parents[1] / "docs" / "judged_days.md"
# What stands in the round of every day, and is judged elsewhere.
_NOT_SHOWN: Final[frozenset[What]] = frozenset(
    {"look", "count", "close", "water", "uncover", "sow", "treat"}
)
_HEAD: Final = (
    HEAD.replace("last = 2027-05-12", "last = 2027-05-12\ntrust_percent = 10").replace(
        '"12C"', '"16C"'
    )
    + """
[[station]]
name = "fridge"
kind = "fridge"

[[station]]
name = "frame"
kind = "frame"
expected = "13C day, 5C night"

[[station]]
name = "yard"
kind = "outdoors"
expected = "9C"
"""
)
_LOTS: Final = (
    lot("lettuce", "lettuce", station='"mat"', then='"shelf"')
    + lot("pansy", "pansy", station='"mat"', then='"shelf"')
    + lot("pepper", "pepper", station='"sill"', then='"shelf"')
    + lot("begonia", "wax begonia", station='"sill"', then='"shelf"')
    + lot("eggplant", "eggplant", station='"mat"', then='"shelf"', want="20")
    + lot("lavender", "lavender", station='"shelf"', stratify='"28 days"')
    + lot("cabbage", "cabbage", station='"shelf"')
    + lot("broccoli", "broccoli", station='"shelf"')
    + lot("tomato", "tomato", station='"shelf"')
    + lot("sweet-pea", "sweet pea", station='"shelf"')
)
CROPS: Final = (
    "lettuce", "pansy", "pepper", "begonia", "eggplant", "lavender", "cabbage", "broccoli",
    "tomato", "sweet-pea",
)  # fmt: skip


class Day(NamedTuple):
    """A day that is looked at.

    Attributes:
        at: When.
        happens: What the weather and the benches did, as a grower would tell it.
        verdicts: Of each line in order, what it is held against and whether it is right.
        silence: Why nothing is said of the other crops.
    """

    at: str
    happens: str
    verdicts: tuple[str, ...]
    silence: str


_TOLD: Final = tomllib.loads(PAGE_TEXT.read_text("utf-8"))


def _one_line(text: str) -> str:
    return " ".join(text.split())


DAYS: Final = tuple(
    Day(
        day["at"],
        _one_line(day["happens"]),
        tuple(map(_one_line, day["verdicts"])),
        _one_line(day["silence"]),
    )
    for day in _TOLD["day"]
)


class Season:
    """The season, written down as far as it has come."""

    def __init__(self, folder: Path, patch: pytest.MonkeyPatch) -> None:
        """Begin it."""
        self.walk = Walk(folder, patch, _LOTS, _HEAD)
        self.walk.log("mat", "soil_c", _logged())
        self._to_come = sorted(_story(), key=lambda told: told[0])

    def until(self, at: str) -> Walk:
        """Everything up to a moment."""
        now = moment(at)
        while self._to_come and self._to_come[0][0] <= now:
            told_at, kind, fields = self._to_come.pop(0)
            self.walk.write(kind, told_at, **fields)
        return self.walk


_Told = tuple[datetime, type[Entry], dict[str, Any]]


def _logged() -> Iterator[tuple[datetime, float]]:
    """The mat, by its logger, which stops on the 11th."""
    at = moment("3-01 09:00")
    for hours, c in ((39, 24.0), (48, 31.0), (24 * 6, 24.0)):
        for _ in range(hours):
            yield at, c
            at += timedelta(hours=1)


def _story() -> Iterator[_Told]:
    yield from _sown()
    yield from _read()
    yield from _raised()


def _sown() -> Iterator[_Told]:
    sow: dict[str, tuple[str, int, str]] = {
        "lettuce": ("3-02", 40, "mat"),
        "pansy": ("3-02", 40, "mat"),
        "pepper": ("3-03", 40, "sill"),
        "begonia": ("3-03", 40, "sill"),
        "eggplant": ("3-08", 80, "mat"),
        "lavender": ("3-01", 40, "fridge"),
        "cabbage": ("2-20", 30, "shelf"),
        "broccoli": ("2-26", 30, "shelf"),
        "tomato": ("3-20", 30, "shelf"),
        "sweet-pea": ("2-22", 20, "shelf"),
    }
    for name, (at, seeds, station) in sow.items():
        fields = {"sowing": name, "lot": name, "seeds": seeds, "station": station}
        yield moment(at), Sown, fields
    yield moment("3-04 09:00"), Moved, {"sowing": "lettuce", "station": "shelf"}
    yield moment("3-04 09:00"), Moved, {"sowing": "pansy", "station": "shelf"}


def _read() -> Iterator[_Told]:
    """What was measured by hand, and what was set."""
    soil, air = {"quantity": "soil_c"}, {"quantity": "air_c"}
    for day in range(4, 30):
        yield moment(f"3-{day:02} 07:30"), Read, {**soil, "station": "sill", "value": 8.0}
    for day, c in ((13, 16.0), (14, 16.5), (16, 24.0), (20, 24.0), (21, 24.0)):
        yield moment(f"3-{day:02} 07:20"), Read, {**air, "station": "shelf", "value": 15.5}
        yield moment(f"3-{day:02} 07:35"), Read, {**soil, "station": "mat", "value": c}
    set_anew = {"station": "mat", "mat": "on", "thermostat_c": 24.0}
    yield moment("3-15 09:00"), Adjusted, set_anew
    for at, of_day, tmin in (
        ("4-27 07:00", date(2027, 4, 28), -1.5),
        ("5-20 07:00", date(2027, 5, 21), -1.0),
    ):
        yield moment(at), Forecast, {"day": of_day, "tmin_c": tmin}


def _raised() -> Iterator[_Told]:
    """What came up, was pricked out, carried, put out and set out."""
    for name, at, standing in (
        ("lettuce", "3-07", 36), ("pansy", "3-14", 34), ("eggplant", "3-21 07:40", 3),
        ("eggplant", "3-27", 62), ("cabbage", "3-01", 28), ("broccoli", "3-07", 28),
        ("tomato", "3-28", 28), ("sweet-pea", "3-10", 18), ("lavender", "4-18", 22),
    ):  # fmt: skip
        fields = {"sowing": name, "standing": standing, "final": standing > 3}
        yield moment(at), Counted, fields
    for name, at in (
        ("cabbage", "3-14"), ("broccoli", "3-20"), ("lettuce", "3-20"), ("pansy", "4-02"),
        ("tomato", "4-08"), ("eggplant", "4-12"),
    ):  # fmt: skip
        fields = {"sowing": name, "plants": 28, "into": f"{name}.1", "station": "shelf"}
        yield moment(at), PrickedOut, fields
        yield moment(at) + timedelta(minutes=1), Finished, {"sowing": name}
    for name, at, station in (
        ("eggplant", "3-27 09:00", "shelf"), ("cabbage.1", "3-20 10:00", "frame"),
        ("sweet-pea", "4-01 09:00", "yard"), ("lavender", "3-29 09:00", "shelf"),
    ):  # fmt: skip
        yield moment(at), Moved, {"sowing": name, "station": station}
    yield moment("4-24"), PottedOn, {"sowing": "tomato.1"}
    yield from _out("broccoli.1", date(2027, 4, 13), 14)
    yield from _out("tomato.1", date(2027, 5, 1), 19)
    for name, at in (("cabbage.1", "4-12"), ("broccoli.1", "4-29"), ("sweet-pea", "4-23")):
        yield moment(at), SetOut, {"sowing": name, "left": 0}
    for name in ("pepper", "begonia"):
        yield moment("3-30"), Finished, {"sowing": name, "why": "soft"}
    for name in ("lettuce.1", "pansy.1"):
        yield moment("4-20"), SetOut, {"sowing": name, "left": 0}


def _out(name: str, begun: date, days: int) -> Iterator[_Told]:
    """Carried out day by day, each for as long as its step."""
    for number in range(days):
        day = begun + timedelta(days=number)
        night = number >= 7 and (name != "tomato.1" or day >= date(2027, 5, 12))
        fields = {"sowing": name, "hours": min(2.0 + number, 11.0), "night": night}
        yield moment(f"{day:%m-%d} 18:00"), Hardened, fields


def lines(found: Walk, day: Day) -> Iterator[tuple[str, str]]:
    """Crop and line of what is said on a day: alerts, then the round, some of it left out."""
    seen = found.round(day.at)
    for alert in seen.alerts:
        for crop in CROPS:
            if any(name.partition(".")[0] == crop for name in alert.sowings):
                remedies = "; ".join(alert.remedies)
                yield crop, f"{alert_text(alert).removesuffix('.')}. What to do: {remedies}"
                break
    for check in seen.checks:
        for part in check.parts or (check,):
            lit = part.key.startswith("lamp on")  # a shelf that has lamps
            if part.what not in _NOT_SHOWN and not part.done and not lit:
                names = [one.name.partition(".")[0] for one in part.sowings]
                yield names[0] if names else part.subject[1], part.says


def page(season: Season) -> str:
    """The page: a heading for each day, a line and its verdict, and why the others are silent."""
    parts = [_TOLD["introduction"].strip()]
    for day in DAYS:
        said = list(lines(season.until(day.at), day))
        if len(said) != len(day.verdicts):
            told = "\n".join(f"{crop}: {line}" for crop, line in said)
            raise ValueError(f"{day.at}: {len(day.verdicts)} verdicts on these lines:\n{told}")
        at = moment(day.at)
        parts.append(
            f"## {at:%-d %B}\n\n{day.happens}\n\n| crop | said | judged |\n| --- | --- | --- |"
        )
        parts[-1] += "".join(
            f"\n| {crop} | {line} | {verdict} |"
            for (crop, line), verdict in zip(said, day.verdicts, strict=True)
        )
        silent = [crop for crop in CROPS if crop not in {crop for crop, _ in said}]
        parts.append(f"Nothing of {', '.join(silent)}: {day.silence}")
    return "\n\n".join(parts) + "\n"


def main() -> None:
    """Write the page."""
    with tempfile.TemporaryDirectory() as folder, pytest.MonkeyPatch.context() as patch:
        PAGE.write_text(page(Season(Path(folder), patch)), "utf-8")


if __name__ == "__main__":
    main()
