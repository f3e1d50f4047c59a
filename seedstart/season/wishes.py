"""What a grower says of a new season → its frost and its files, every fault at once."""

from msgspec import Struct

from seedstart.crop_table.load import CropTable
from seedstart.days import parse_day
from seedstart.problems import Problem, Typed
from seedstart.season.new_season import NewFiles, new_lots, new_season
from seedstart.season.plan import Frost, read_season
from seedstart.text import clean
from seedstart.units import Units, parse_risk


class Wishes(Struct):
    """What was typed; None where nothing was.

    Attributes:
        title: For the head of the calendar.
        zone: An IANA time zone.
        units: `metric` or `us`.
        last_frost: A day, or `none` for a seed library.
        risk: What that day means: `average`, `safe`, or a percentage.
        tender_risk: The risk taken with tender plants, or `none`.
    """

    title: str | None = None
    zone: str | None = None
    units: str | None = None
    last_frost: str | None = None
    risk: str | None = None
    tender_risk: str | None = None


def frost_wished(wishes: Wishes, typed: Typed, prefix: str = "--") -> Frost | None:
    """The last frost to count from; None for a season without one.

    Args:
        wishes: What was typed.
        typed: Where what is wrong goes.
        prefix: What the grower sees before the names `last-frost`, `risk`, `tender-risk`.
    """
    if wishes.last_frost is None or wishes.last_frost.strip().lower() == "none":
        if wishes.risk:
            hint = f"It says what {prefix}last-frost means: give both."
            typed.refuse(Problem(file=f"{prefix}risk", hint=hint))
        return None
    last = typed.read(f"{prefix}last-frost", wishes.last_frost, parse_day)
    if wishes.risk is None:
        hint = (
            "Say what the date means: average (a later frost in half of all years), safe (in one "
            "year of ten), or the percentage."
        )
        typed.refuse(Problem(file=f"{prefix}risk", hint=hint))
    risk = typed.read(f"{prefix}risk", wishes.risk, parse_risk)
    said_none = (wishes.tender_risk or "none").strip().lower() == "none"
    trust = (
        None if said_none else typed.read(f"{prefix}tender-risk", wishes.tender_risk, parse_risk)
    )
    return Frost(last=last, risk_percent=risk or 50, tender_risk_percent=trust)


def parse_units(text: str) -> Units:
    """`metric` or `us`.

    Raises:
        ValueError: Something else.
    """
    if text == "metric":
        return "metric"
    if text == "us":
        return "us"
    raise ValueError("metric or us")


def first_season(
    title: str, zone: str, units: Units, frost: Frost | None, crops: CropTable
) -> NewFiles:
    """The files of a season that takes nothing over, checked as they will be read.

    Raises:
        BadInputError: They could not be read again, as with a time zone that is none.
    """
    text = new_season(clean(title), zone, units, frost)
    read_season(text, new_lots(), crops)
    return NewFiles(text, new_lots())
