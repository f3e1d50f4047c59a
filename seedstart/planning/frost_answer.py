"""What a record answers: dates at a risk, and what taking another risk would move."""

from collections.abc import Collection, Iterable, Sequence
from datetime import date, timedelta
from statistics import median
from typing import Final

from msgspec import Struct, structs

from seedstart.growing.frost import FrostRisk, day_of
from seedstart.planning.calendar.crop_times import is_tender
from seedstart.planning.calendar.row import Row
from seedstart.planning.calendar.season_rows import frost_of, season_rows
from seedstart.planning.calendar.sowing_request import FrostDates
from seedstart.season.plan.season_file import Season

# The levels that freeze tables print, as far as a record carries them.
USUAL_RISKS: Final = (90.0, 50.0, 30.0, 20.0, 10.0, 5.0)
TENDER_RISKS: Final = (50.0, 30.0, 20.0, 10.0, 5.0)


class RiskDate(Struct, frozen=True):
    """The day after which a frost still comes in a share of years.

    Attributes:
        risk_percent: That share.
        day: By the normal method; None where a frost comes in no more than that share of years.
        low: The interval of the day, nine in ten, about.
        high: Its end.
        by_years: The day as the years themselves have it; None where they have none.
    """

    risk_percent: float
    day: date | None
    low: date | None
    high: date | None
    by_years: date | None


def risk_dates(risk: FrostRisk, percents: Iterable[float], year: int) -> tuple[RiskDate, ...]:
    """Dates at a risk, of those that the record carries.

    Args:
        risk: How its last frosts are spread.
        percents: The risks.
        year: In which the season's window begins.
    """
    return tuple(_risk_date(risk, one, year) for one in percents if risk.carries(one))


def _risk_date(risk: FrostRisk, percent: float, year: int) -> RiskDate:
    def on(number: float | None) -> date | None:
        return None if number is None else day_of(number, year, south=risk.south)

    number, either = risk.normal_day(percent), risk.interval_days(percent)
    return RiskDate(
        risk_percent=percent,
        day=on(number),
        low=on(None if number is None else number - either),
        high=on(None if number is None else number + either),
        by_years=on(risk.empirical_day(percent)),
    )


class Moves(Struct, frozen=True):
    """What taking a risk with tender plants would move.

    Attributes:
        risk_percent: The risk.
        wait_for: The day they would wait for.
        is_taken: Whether it is the one that the season takes.
        lots: Lots, not sown yet, whose setting out would move.
        days: By how many days, the middle of them; negative: earlier.
        too_late: Lots among them that should have been sown already.
    """

    risk_percent: float
    wait_for: date
    is_taken: bool
    lots: tuple[str, ...]
    days: int
    too_late: tuple[str, ...]


def risk_moves(
    season: Season, sown: Collection[str], today: date, percents: Sequence[float] = TENDER_RISKS
) -> tuple[Moves, ...]:
    """What each risk would move of what is not sown yet; what was sown keeps its days.

    Args:
        season: The plan, with a frost date.
        sown: Lots of which something was sown.
        today: The day.
        percents: The risks; those that a record does not carry are left out.
    """
    taken = season.frost.tender_risk_percent if season.frost else None
    now = _tender_rows(season, sown, today)
    found: list[Moves] = []
    for percent in sorted({*percents, *([taken] if taken else [])}, reverse=True):
        frost = season.frost
        if frost is None or (frost.recorded is not None and not frost.recorded.carries(percent)):
            continue
        other = season.with_frost(structs.replace(frost, tender_risk_percent=percent))
        dates = frost_of(other)
        if dates is None:
            continue
        moved = _moved(now, _tender_rows(other, sown, today))
        found.append(
            Moves(
                risk_percent=percent,
                wait_for=_waits_for(dates),
                is_taken=percent == taken,
                lots=tuple(name for name, _, _ in moved),
                days=round(median(days for _, days, _ in moved)) if moved else 0,
                too_late=tuple(name for name, _, sow in moved if sow is not None and sow < today),
            )
        )
    return tuple(found)


def _waits_for(dates: FrostDates) -> date:
    return dates.trusted or dates.average


def _tender_rows(season: Season, sown: Collection[str], today: date) -> dict[str, Row]:
    rows: dict[str, Row] = {}
    for row in season_rows(season, today):
        if row.lot is not None and row.lot not in sown and is_tender(season.crops.crops[row.crop]):
            rows.setdefault(row.lot, row)
    return rows


def _moved(now: dict[str, Row], then: dict[str, Row]) -> list[tuple[str, int, date | None]]:
    """Lots whose setting out is another day, by how much, and the last day to sow them."""
    found = []
    for name, row in now.items():
        before, after = row.window("set_out"), then[name].window("set_out")
        if before is None or after is None or before.best == after.best:
            continue
        sow = then[name].window("sow")
        days = (after.best - before.best) // timedelta(days=1)
        found.append((name, days, sow.latest if sow else None))
    return found
