"""What a logger's file does not decide, and what the grower says to it."""

from msgspec import Struct, field

from seedstart.problems import Problem


class Answers(Struct, frozen=True, kw_only=True):
    """What a grower says about a logger's file; empty where the file is to speak.

    Attributes:
        order: Of day, month and year in its dates: dmy, mdy, ymd.
        zone: Where its clock hung: an IANA name, or an offset as `+01:00` for a clock that is
            never put forward.
        unit: Of temperatures that state none: C or F.
        station: Where the readings belong that are not in `stations`.
        quantity: What the readings are that are not in `quantities` and do not say it.
        stations: By sensor, or by column where the file names no sensors.
        quantities: By column, or by kind where a column names kinds; `none` leaves one out.
        units: By column or kind.
    """

    order: str | None = None
    zone: str | None = None
    unit: str | None = None
    station: str | None = None
    quantity: str | None = None
    stations: dict[str, str] = field(default_factory=dict)
    quantities: dict[str, str] = field(default_factory=dict)
    units: dict[str, str] = field(default_factory=dict)


class Question(Struct, frozen=True, kw_only=True):
    """Something that the file does not decide.

    Attributes:
        key: The field of `Answers` that answers it: order, zone, unit, station, quantity.
        about: The column, sensor or kind it is about; empty for the whole file.
        text: The question, as a sentence.
        allowed: What may be answered; empty where any name may.
    """

    key: str
    about: str = ""
    text: str
    allowed: tuple[str, ...] = ()

    def as_problem(self, file: str) -> Problem:
        """The question as what is missing from a command that cannot ask."""
        return Problem(file=file, key=self.key, allowed=self.allowed, hint=self.text)
