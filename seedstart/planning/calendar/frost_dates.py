"""The frost date that a row counts from: average, trusted, and the risk left on a day."""

from datetime import date, timedelta
from typing import Final

from msgspec import Struct

from seedstart.days import long_day
from seedstart.growing.frost import (
    STATION_SPREAD_DAYS,
    FrostRisk,
    day_of,
    days_after_average,
    risk_percent_after,
)
from seedstart.text import joined, plural

_ESTIMATED: Final = f"estimated from a spread of {STATION_SPREAD_DAYS:g} days at published stations"
# Shares that are said as one year, or a few years, of so many.
_OF: Final = (2, 3, 4, 5, 10, 20)


class FrostDates(Struct, frozen=True):
    """What the calendar counts from.

    Attributes:
        given: The day the grower named, or the average of their record.
        risk_percent: A frost later than that comes in this share of years.
        average: The day that handbook weeks count from (risk 50 %).
        trusted: The day from which tender plants may stand out; None lets their weeks decide.
        tender_risk_percent: The risk that is taken on the trusted day.
        recorded: How the last frost is spread over the years of a record; None without one.
        record: The files of that record, in words.
    """

    given: date
    risk_percent: float
    average: date
    trusted: date | None
    tender_risk_percent: float | None
    recorded: FrostRisk | None = None
    record: str = ""

    def sentence(self) -> str:
        """What the frost date means, as the head of every calendar."""
        day = long_day(self.given)
        if self.recorded is not None:
            text = f"Last frost {day}: the average of {self.basis}."
        elif self.risk_percent == 50:
            text = f"Last frost {day}: the average date, a later frost comes in half of all years."
        else:
            text = (
                f"Last frost {day}: a later frost comes in {self.risk_percent:g} % of years. "
                f"Weeks count from the average, {long_day(self.average)} ({_ESTIMATED})."
            )
        if self.trusted is not None and self.trusted != self.given:
            text += f" Tender plants wait for {long_day(self.trusted)}, "
            text += (
                f"after which a frost still comes in {years_in_words(self.tender_risk_percent)}."
                if self.recorded is not None
                else f"a risk of {self.tender_risk_percent:g} % (estimated likewise)."
            )
        elif self.trusted is not None:
            text += " Tender plants wait for it."
        return text

    @property
    def basis(self) -> str:
        """What the risk on a day rests on."""
        if self.recorded is None:
            return _ESTIMATED
        first, last = self.recorded.first_year, self.recorded.last_year
        return f"{plural(self.recorded.seasons, 'spring')}, {first} to {last}, in {self.record}"

    def risk_left_percent(self, day: date) -> float:
        """Share of years with a frost after that day, by the normal curve.

        A record's own, else that of published stations.
        """
        if self.recorded is not None:
            # Day numbers run through one year: a day of another season is before or after it all.
            away = (day - self.average).days
            if abs(away) > 180:
                return 100 * self.recorded.share_with_frost * (away < 0)
            return self.recorded.percent_after(day)
        return risk_percent_after((day - self.average).days)


def frost_dates(
    last: date, risk_percent: float = 50, tender_risk_percent: float | None = None
) -> FrostDates:
    """Average and trusted day from one known date.

    A date that is safer than the average is itself trusted, unless another risk is named. Where
    one of the two is not known it is estimated from the other with the stations' spread.

    Args:
        last: The frost date as the grower knows it.
        risk_percent: A frost later than that in this share of years.
        tender_risk_percent: The risk taken with tender plants, where one was named.
    """
    average = last - timedelta(days=round(days_after_average(risk_percent)))
    if tender_risk_percent is None and risk_percent < 50:
        return FrostDates(last, risk_percent, average, last, risk_percent)
    if tender_risk_percent is None:
        return FrostDates(last, risk_percent, average, None, None)
    if tender_risk_percent == risk_percent:
        return FrostDates(last, risk_percent, average, last, tender_risk_percent)
    trusted = average + timedelta(days=round(days_after_average(tender_risk_percent)))
    return FrostDates(last, risk_percent, average, trusted, tender_risk_percent)


def recorded_dates(
    recorded: FrostRisk, record: tuple[str, ...], year: int, tender_risk_percent: float | None
) -> FrostDates:
    """Average and trusted day, both from a record.

    Args:
        recorded: How its last frosts are spread; there is an average date.
        record: Its files.
        year: In which the season's window begins.
        tender_risk_percent: The risk taken with tender plants, where one was named.
    """

    def on(percent: float) -> date | None:
        number = recorded.normal_day(percent)
        return None if number is None else day_of(number, year, south=recorded.south)

    average = on(50)
    if average is None:
        raise ValueError("a record without an average date has been refused")
    trusted = None if tender_risk_percent is None else on(tender_risk_percent)
    return FrostDates(
        average, 50, average, trusted, tender_risk_percent, recorded, joined(list(record))
    )


def years_in_words(percent: float | None) -> str:
    """A share of the years as people say it: 1 year of 10, 3 years of 10, 33 years of 100."""
    share = (percent or 0.0) / 100
    for of in _OF:
        count = round(share * of)
        if count and abs(count / of - share) < 1e-9:
            return f"{plural(count, 'year')} of {of}"
    return f"{percent:g} years of 100"
