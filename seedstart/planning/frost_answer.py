"""What a record answers: dates at a risk, and what taking another risk would move."""

from collections.abc import Callable, Iterable
from datetime import date
from typing import Final

from msgspec import Struct, structs

from seedstart.growing.frost import FrostRisk, day_of
from seedstart.planning.calendar.moves import Move, moves
from seedstart.planning.calendar.row import Row
from seedstart.planning.calendar.season_rows import frost_of
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


class RiskMoves(Struct, frozen=True):
    """A risk that may be taken with tender plants, and what it would move.

    Attributes:
        risk_percent: Share of years with a frost after the day.
        wait_for: The day that they would wait for.
        is_taken: Whether it is the one that the season takes.
        moves: The sowings that it would move; None where they are not worked out.
    """

    risk_percent: float
    wait_for: date
    is_taken: bool
    moves: tuple[Move, ...] | None


def risk_moves(
    season: Season,
    today: date,
    calendar: Iterable[Row],
    calendar_with: Callable[[Season], Iterable[Row]] | None,
) -> tuple[RiskMoves, ...]:
    """What each risk would move, the greatest first; those that a record does not carry left out.

    Args:
        season: The plan; without a frost date there is nothing to move.
        today: The day.
        calendar: As it is.
        calendar_with: As it would be under another plan; None: moves are not worked out.
    """
    said, dates = season.frost, frost_of(season)
    if said is None or dates is None:
        return ()
    taken, now = dates.tender_risk_percent, tuple(calendar)

    def of(percent: float) -> RiskMoves:
        other = season.with_frost(structs.replace(said, tender_risk_percent=percent))
        then = frost_of(other) or dates
        found: tuple[Move, ...] | None = ()
        if percent != taken:
            found = moves(now, calendar_with(other), today) if calendar_with else None
        return RiskMoves(percent, then.trusted or then.average, percent == taken, found)

    percents = sorted({*TENDER_RISKS, *([taken] if taken else [])}, reverse=True)
    recorded = said.recorded
    return tuple(of(one) for one in percents if recorded is None or recorded.carries(one))
