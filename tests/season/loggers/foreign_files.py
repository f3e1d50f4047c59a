"""A foreign logger's file read, and what was kept of it, for the tests of this room."""

from collections.abc import Sequence
from datetime import UTC, datetime

from seedstart.season.loggers.logger_file import Understood, to_tidy, understand
from seedstart.season.loggers.sources import Answers

STATIONS = ("heat mat", "shelf 1", "sill")
VIENNA = "Europe/Vienna"


def read(
    text: str | bytes,
    *,
    zone: str = VIENNA,
    stations: Sequence[str] = STATIONS,
    answers: Answers | None = None,
) -> Understood:
    """What is made of a file."""
    data = text if isinstance(text, bytes) else text.encode()
    return understand(data, "probe.csv", zone, answers, stations)


def kept(understood: Understood) -> dict[tuple[str, str], list[tuple[str, float]]]:
    """The readings of a file without open questions, their times in UTC."""
    return {
        key: [
            (datetime.fromtimestamp(at, UTC).strftime("%Y-%m-%d %H:%M:%S"), value)
            for at, value in zip(one.at_s, one.value, strict=True)
        ]
        for key, one in to_tidy(understood).items()
    }


def asked(understood: Understood) -> list[tuple[str, str, tuple[str, ...]]]:
    """The open questions."""
    return [(one.key, one.about, one.allowed) for one in understood.questions]


MORNING = [("2027-03-20 05:00:00", 21.5), ("2027-03-20 05:10:00", 21.6)]
MAT = ("heat mat", "soil_c")
