"""What a record of minima answers, what a risk would move, and published stations, as lines."""

from collections.abc import Sequence
from datetime import date
from typing import Final

from seedstart.days import long_day, short_day
from seedstart.drawing.lines import Line, heading, plain, wrapped
from seedstart.drawing.season_sheet import moved_in_words
from seedstart.growing.frost import FrostYear, days_after_average
from seedstart.growing.frost_record import NORMAL_YEARS, FrostRecord
from seedstart.growing.minima_screen import AsideBecause
from seedstart.planning.calendar.frost_dates import FrostDates, years_in_words
from seedstart.planning.frost_answer import RiskDate, RiskMoves
from seedstart.season.weather.published_stations import PublishedStation
from seedstart.text import joined, plural
from seedstart.units import Units, c_from_f, show_temperature

_ASIDE: Final[dict[AsideBecause, str]] = {
    "out of range": "no night on earth",
    "above the maximum": "above that day's maximum",
    "stuck": "part of a run of twenty or more equal values",
    "far from its season": "far from what these days have in all the years",
}
_SHOWN: Final = 5


def record_lines(
    record: FrostRecord,
    dates: Sequence[RiskDate],
    remarks: Sequence[str],
    units: Units,
    width: int,
) -> list[Line]:
    """A record's answer: the sentence first, the dates, what they rest on, what was set aside.

    Args:
        record: Screened and answered; some season of it counts.
        dates: Dates at a risk, the greatest risk first.
        remarks: What was left out of its files, as sentences.
        units: For temperatures.
        width: Columns.
    """
    risk = record.risk
    if risk is None:
        raise ValueError("a record without a season that counts has been refused")
    threshold = show_temperature(record.threshold_tenths / 10, units)
    lines = [
        heading(
            f"Last frost, {threshold} or below: {plural(risk.seasons, 'spring')}, "
            f"{risk.first_year} to {risk.last_year}, {risk.with_frost} with a frost"
        )
    ]
    for one in _told(dates):
        lines += wrapped(one, width)
    lines.append(plain(""))
    lines.append(plain(f"{'a later frost in':<22}{'after':<10}{'between':<19}as the years have it"))
    lines += [plain(_row(one)) for one in dates]
    lines += wrapped(
        "“After”: the normal curve through the years, “between” its interval (nine in ten, about). "
        "The last column is the day that so many of the years themselves passed.",
        width,
        role="quiet",
    )
    lines += [line for text in _beside(record) for line in wrapped(text, width)]
    lines += [line for text in _left_out(record, remarks, units) for line in wrapped(text, width)]
    return lines


def _told(dates: Sequence[RiskDate]) -> list[str]:
    """The average, and the rarest risk of which there is a date."""
    half = next((one for one in dates if one.risk_percent == 50 and one.day), None)
    rare = [one for one in dates if one.risk_percent < 50 and one.day]
    wanted = next((one for one in rare if one.risk_percent == 10), rare[-1] if rare else None)
    texts = []
    if half is not None and half.day is not None:
        texts.append(f"On average the last frost comes on {short_day(half.day)}.")
    if wanted is not None and wanted.day is not None:
        texts.append(
            f"In {years_in_words(wanted.risk_percent)} there is still a frost after "
            f"{short_day(wanted.day)}."
        )
    return texts


def _row(one: RiskDate) -> str:
    share = years_in_words(one.risk_percent)
    if one.day is None or one.low is None or one.high is None:
        return f"{share:<22}never: so many years have no frost later than any day"
    between = f"{short_day(one.low)} to {short_day(one.high)}"
    years = short_day(one.by_years) if one.by_years else "–"
    return f"{share:<22}{short_day(one.day):<10}{between:<19}{years}"


def _beside(record: FrostRecord) -> list[str]:
    """Autumn, the days between, the trend, how short the record is."""
    texts = []
    risk, autumn = record.risk, record.autumn_risk
    year = 2001  # day and month alone are shown
    if autumn is not None and autumn.with_frost >= 2:
        from seedstart.growing.frost import day_of

        half, early = autumn.early_day(50), autumn.early_day(10)
        if half is not None:
            text = f"First frost of autumn: {short_day(day_of(half, year, south=record.south))}"
            text += " on average"
            if early is not None and autumn.carries(10):
                day = short_day(day_of(early, year, south=record.south))
                text += f"; in 1 year of 10 before {day}"
            texts.append(f"{text}.")
    if days := record.season_days:
        middle = days[len(days) // 2]
        texts.append(
            f"Between the two lie {middle} days in the middle year, {days[0]} to {days[-1]} in all."
        )
    trend = record.trend
    if trend is not None and trend.is_shown:
        way = "earlier" if trend.days_a_decade < 0 else "later"
        ends = sorted((abs(trend.low), abs(trend.high)))
        texts.append(
            f"Last frosts come {abs(trend.days_a_decade):.1f} days a decade {way} over these years "
            f"(95 in 100: {ends[0]:.1f} to {ends[1]:.1f}): the latest may be asked alone."
        )
    if risk is not None and risk.seasons < NORMAL_YEARS:
        texts.append(
            f"Climate normals rest on {NORMAL_YEARS} years; these are {risk.seasons}. A risk below "
            f"{risk.least_risk_percent:.2g} % is more than they can say."
        )
    return texts


def _left_out(record: FrostRecord, remarks: Sequence[str], units: Units) -> list[str]:
    texts = []
    if record.left_out:
        years = joined([_season(one) for one in record.left_out[:_SHOWN]])
        more = len(record.left_out) - _SHOWN
        texts.append(
            f"Left out, since ten days or more are missing when a frost could still come: {years}"
            + (f" and {more} more." if more > 0 else ".")
        )
    if record.aside:
        texts.append(f"Not believed: {aside_in_words(record, _SHOWN, units)}.")
    return [*texts, *(f"{one[:1].upper()}{one[1:]}." for one in remarks)]


def aside_in_words(record: FrostRecord, most: int = 1, units: Units = "metric") -> str:
    """The first of what is not believed, each with its reason, and how many more there are."""
    shown = [
        f"{date.fromordinal(one.day).isoformat()} {show_temperature(one.tenths / 10, units)} "
        f"({_ASIDE[one.because]})"
        for one in record.aside[:most]
    ]
    more = len(record.aside) - most
    return joined(shown) + (f" and {more} more" if more > 0 else "")


def _season(one: FrostYear) -> str:
    return f"{one.year} ({plural(one.missing, 'day')})"


def season_frost_lines(
    frost: FrostDates, moves: Sequence[RiskMoves], today: date, width: int
) -> list[Line]:
    """A season's frost date, and what another risk with tender plants would move."""
    lines = wrapped(frost.sentence(), width)
    if not moves:
        return lines
    lines += [plain(""), plain(f"{'risk you take':<16}{'wait for':<16}what would move")]
    for one in moves:
        sign = "▸ " if one.is_taken else "  "
        risk = f"{one.risk_percent:g} in 100"
        lines.append(
            plain(f"{sign}{risk:<14}{long_day(one.wait_for)[:-5]:<16}{moved_in_words(one)}")
        )
    if frost.recorded is None:
        lines += wrapped(f"Dates are {frost.basis}; a record of your own would do better.", width)
    tail = f"Seen on {short_day(today)}: what was sown keeps its days."
    return [*lines, *wrapped(tail, width, role="quiet")]


def station_lines(found: Sequence[PublishedStation], units: Units, width: int) -> list[Line]:
    """What is printed of a station, with its period and source."""
    lines: list[Line] = []
    for one in found:
        threshold = show_temperature(round(c_from_f(one.threshold_f), 1), units)
        lines.append(heading(f"{one.name}: {threshold} or below, {one.period}"))
        for printed in one.dates:
            share = years_in_words(printed.risk_percent)
            if printed.day == "too rare":
                text = "A frost comes in fewer than 1 year of 10: no date is printed."
            elif printed.day == "all year":
                text = "A frost may come on any day of the year: no date is printed."
            else:
                text = f"In {share} there is still a frost after {short_day(printed.day)}."
            if plain(text) not in lines[-1:]:
                lines.append(plain(text))
        lines += wrapped(_estimate(one), width) if _estimate(one) else []
        lines += wrapped(f"Source: {one.source}", width, role="quiet")
    return lines


def _estimate(one: PublishedStation) -> str:
    """The safe date, by the normal curve through two that are printed, where it is not."""
    days = {each.risk_percent: each.day for each in one.dates if isinstance(each.day, date)}
    if 10.0 in days or not {50.0, 90.0} <= days.keys():
        return ""
    spread = (days[50.0] - days[90.0]).days / -days_after_average(90, 1)
    safe = days[50.0].toordinal() + round(days_after_average(10, spread))
    return (
        f"Estimated from the two by the normal curve: in 1 year of 10 after "
        f"{short_day(date.fromordinal(safe))}."
    )
