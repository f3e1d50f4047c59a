"""The frost date with its meaning: average and trusted day, each given or estimated."""

from datetime import date, timedelta

from msgspec import Struct

from seedstart.days import long_day
from seedstart.growing.frost import STATION_SPREAD_DAYS, days_after_average, risk_percent_after


class FrostDates(Struct, frozen=True):
    """What the calendar counts from.

    Attributes:
        given: The day the grower named.
        risk_percent: A frost later than that comes in this share of years.
        average: The day that handbook weeks count from (risk 50 %).
        trusted: The day from which tender plants may stand out; None lets their weeks decide.
        trust_percent: The risk that is taken on the trusted day.
    """

    given: date
    risk_percent: float
    average: date
    trusted: date | None
    trust_percent: float | None

    def sentence(self) -> str:
        """What the frost date means, as the head of every calendar."""
        day = long_day(self.given)
        if self.risk_percent == 50:
            text = f"Last frost {day}: the average date, a later frost comes in half of all years."
        else:
            text = (
                f"Last frost {day}: a later frost comes in {self.risk_percent:g} % of years. "
                f"Weeks count from the average, {long_day(self.average)} "
                f"(estimated from a spread of {STATION_SPREAD_DAYS:g} days at published stations)."
            )
        if self.trusted is not None and self.trusted != self.given:
            text += (
                f" Tender plants wait for {long_day(self.trusted)}, "
                f"a risk of {self.trust_percent:g} % (estimated likewise)."
            )
        elif self.trusted is not None:
            text += " Tender plants wait for it."
        return text

    def risk_left_percent(self, day: date) -> float:
        """Share of years with a frost after that day, estimated by the normal curve."""
        return risk_percent_after((day - self.average).days)


def frost_dates(
    last: date, risk_percent: float = 50, trust_percent: float | None = None
) -> FrostDates:
    """Average and trusted day from one known date.

    A date that is safer than the average is itself trusted, unless another risk is named. Where
    one of the two is not known it is estimated from the other with the stations' spread.

    Args:
        last: The frost date as the grower knows it.
        risk_percent: A frost later than that in this share of years.
        trust_percent: The risk taken with tender plants, where one was named.
    """
    average = last - timedelta(days=round(days_after_average(risk_percent)))
    if trust_percent is None and risk_percent < 50:
        return FrostDates(last, risk_percent, average, last, risk_percent)
    if trust_percent is None:
        return FrostDates(last, risk_percent, average, None, None)
    if trust_percent == risk_percent:
        return FrostDates(last, risk_percent, average, last, trust_percent)
    trusted = average + timedelta(days=round(days_after_average(trust_percent)))
    return FrostDates(last, risk_percent, average, trusted, trust_percent)
