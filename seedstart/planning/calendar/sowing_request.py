"""What one row of the calendar is asked for: a crop, a place, a day to count from."""

from datetime import date, timedelta
from typing import Final

from msgspec import Struct

from seedstart.crop_table.crop import Crop, Figure, Source
from seedstart.days import Window, long_day
from seedstart.growing.emergence import TRAYS_OVER_TABLE
from seedstart.growing.frost import (
    STATION_SPREAD_DAYS,
    FrostRisk,
    day_of,
    days_after_average,
    risk_percent_after,
)
from seedstart.planning.calendar.crop_times import growing, is_tender
from seedstart.text import joined, plural
from seedstart.units import Temperatures, Units, steady

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


class Where(Struct, frozen=True):
    """A place to come up in.

    Attributes:
        name: As the grower calls it; empty for a bare temperature.
        medium: Temperature of the medium.
        said: Whether the grower named the temperature; otherwise it is the crop's tray setting.
    """

    name: str
    medium: Temperatures
    said: bool = True


class Ask(Struct, frozen=True, kw_only=True):
    """One sowing to be dated.

    Attributes:
        crop: What is sown.
        where: Where it comes up.
        frost: What to count from; None where the grower has no frost.
        ready: Count back from this day instead.
        sow_on: The grower's own day overrules the calendar's.
        later_days: How long after the lot's first sowing, for successions.
        work_days: Weekdays on which the grower sows, pricks out, sets out; none means all.
        away: First and last days of absences.
        untreated: Treatments that are not to be done: `soak`, `stratify`, `scarify`.
        soak_hours: The grower's own time to soak.
        stratify_days: The grower's own time of cold.
        scarify: The grower nicks the coat, whatever the crop says.
        fridge: The fridge that it is sown into; empty for none.
        fridge_days: How long it lies there before its days begin; None where nobody says.
        unknown_weather: The place out of doors or under glass of which nobody says how warm it is.
        has_frost: Whether the season counts from a frost at all; a seed library does not.
        others: Other places, to go to where nothing comes up.
        factor: Days in this grower's trays over days of the handbook's table.
        own_sowings: From how many of the grower's own sowings that is; none: it is the usual one.
        units: For the reasons.
        sources: The crop table's sources by key, to count institutions.
    """

    crop: Crop
    where: Where
    frost: FrostDates | None = None
    lot: str | None = None
    variety: str = ""
    number: int = 1
    ready: date | None = None
    sow_on: date | None = None
    later_days: int = 0
    work_days: tuple[str, ...] = ()
    away: tuple[tuple[date, date], ...] = ()
    untreated: frozenset[str] = frozenset()
    soak_hours: float | None = None
    stratify_days: float | None = None
    scarify: bool = False
    fridge: str = ""
    fridge_days: int | None = 0
    unknown_weather: str = ""
    has_frost: bool = True
    others: tuple[Where, ...] = ()
    factor: float = TRAYS_OVER_TABLE
    own_sowings: int = 0
    units: Units = "metric"
    seeds: int | None = None
    sources: dict[str, Source] = {}


def tray_setting(crop: Crop) -> Where:
    """The mixed tray that the printed weeks were counted in."""
    return Where("", steady(crop.tray_c.best), said=False)


# However late the trusted day, the window keeps the fortnight that "on or after" means.
_FORTNIGHT = timedelta(days=14)


def set_out_window(ask: Ask) -> Window | None:
    """When to set out: from the ready date, or from the frost date and the crop's weeks.

    Handbook weeks count from the average date. What a frost kills waits for the date that the
    grower trusts, if one was named; nothing is added twice. Hardy crops never wait for it.

    Returns:
        None where there is neither a frost date nor a ready date, or the crop has no weeks.
    """
    if ask.ready is not None:
        return Window.on(ask.ready + timedelta(days=ask.later_days))
    weeks, grows = ask.crop.set_out_weeks, growing(ask.crop, ask.factor)
    if weeks is None or ask.frost is None or grows is None:
        return None
    return _from_the_frost(ask, ask.frost, weeks, grows.wait)


def outdoors_window(ask: Ask) -> Window | None:
    """When to sow in place, of a crop that nobody raises indoors.

    Returns:
        None where there is no frost date, or where the crop is raised indoors.
    """
    weeks = ask.crop.sow_outdoors_weeks
    if weeks is None or ask.frost is None:
        return None
    return _from_the_frost(ask, ask.frost, weeks, 0.0)


def _from_the_frost(ask: Ask, frost: FrostDates, weeks: Figure, wait_days: float) -> Window:
    earliest, best, latest = (
        frost.average + timedelta(days=round(days))
        for days in (7 * weeks.low, 7 * weeks.best + wait_days, 7 * weeks.high)
    )
    latest = max(best, latest)
    if is_tender(ask.crop) and frost.trusted is not None:
        earliest, best = max(earliest, frost.trusted), max(best, frost.trusted)
        latest = max(latest, earliest + _FORTNIGHT)
    return Window(earliest, best, latest).shifted(ask.later_days)


def set_out_after(forward: date, allowed: Window | None) -> Window:
    """When plants that are ready on a day may go out.

    Args:
        forward: The day on which they are big enough.
        allowed: The set-out window of the crop; None where nothing bars it.

    Returns:
        Never before the allowed window; past its end the plants wait for nothing but their size.
    """
    week = timedelta(days=7)
    if allowed is None:
        return Window(forward - week, forward, forward + 2 * week)
    best = max(forward, allowed.earliest)
    if best <= allowed.latest:
        return allowed._replace(best=best)
    return Window(max(allowed.earliest, best - week), best, best + week)
