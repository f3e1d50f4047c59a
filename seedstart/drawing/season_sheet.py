"""The season's page: its frost date with what that means, and what another risk would move."""

from datetime import date

from seedstart.days import long_day, short_day
from seedstart.drawing.lines import Line, Role, Span, heading, plain, wrapped
from seedstart.growing.frost import STATION_SPREAD_DAYS
from seedstart.planning.calendar.frost_dates import FrostDates
from seedstart.planning.calendar.moves import in_short
from seedstart.planning.frost_answer import RiskMoves
from seedstart.season.plan.season_file import Season

NO_FROST = (
    "No last frost date: only lots with a day of their own have dates. e says which day it is."
)


def frost_lines(frost: FrostDates | None, width: int) -> list[Line]:
    """The last frost date and the day for tender plants, each with what it means."""
    if frost is None:
        return wrapped(NO_FROST, width)
    lines = [_fact("last frost", _day(frost.given), _means(frost.risk_percent))]
    if frost.trusted is None or frost.tender_risk_percent is None:
        lines.append(_fact("tender plants", "as they are", "each crop's own weeks decide"))
    else:
        waits = f"they wait for {_day(frost.trusted)}"
        lines.append(_fact("tender plants", f"{frost.tender_risk_percent:g} in 100", waits))
    return lines


def _fact(what: str, value: str, means: str) -> Line:
    return (Span(f"  {what:<17}", "quiet"), Span(f"{value:<13}"), Span(means))


def _day(day: date) -> str:
    """A day of the season, without its year."""
    return long_day(day).rpartition(" ")[0]


def _means(risk_percent: float) -> str:
    if risk_percent == 50:
        return "on average: in 1 year of 2 a frost comes later"
    return f"in {risk_percent:g} years of 100 a frost comes later"


RISKS_HEAD: Line = (Span(f"    {'risk you take':<16}{'wait for':<12}what would move", "quiet"),)


def moved_in_words(risk: RiskMoves) -> str:
    """What a risk would move, in short; of the one that is taken, that it is."""
    return "as it is" if risk.is_taken else in_short(risk.moves or ())


def risk_line(risk: RiskMoves, width: int, instead: str) -> Line:
    """One of them; `instead` stands where nobody worked out what it would move."""
    sign = "▸" if risk.is_taken else " "
    unknown = risk.moves is None and not risk.is_taken
    moves = (instead if unknown else moved_in_words(risk))[: max(width - 32, 8)]
    role: Role = "name" if risk.is_taken else "plain"
    share = f"{risk.risk_percent:>3g} in 100"
    return (
        Span(f"  {sign}", role),
        Span(f"{share:<16}", role),
        Span(f"{short_day(risk.wait_for):<12}", "frost"),
        Span(moves, "quiet" if risk.is_taken else "plain"),
    )


def rest_lines(season: Season, frost: FrostDates | None, width: int) -> list[Line]:
    """How the days of the risks are reckoned, and what else the season's files say."""
    basis = (
        f"Worked out with a spread of {STATION_SPREAD_DAYS:g} days about the average (published "
        "stations)."
        if frost is None or frost.recorded is None
        else f"Worked out from {frost.basis}."
    )
    spread = (
        f"{basis} Hardy plants count from the average; tender ones wait for the later day. What "
        "is sown keeps the day it was sown on."
    )
    away = "; ".join(f"{short_day(first)} to {short_day(last)}" for first, last in season.away)
    days = " ".join(day.capitalize() for day in season.work_days) or "every day"
    stations = ", ".join(station.name for station in season.stations)
    return [
        *wrapped(spread, width, "    ", "quiet", hang=""),
        plain(""),
        heading(season.title or "The season"),
        _fact("stations", f"{len(season.stations)}", stations),
        _fact("lots", f"{len(season.lots)}", ""),
        _fact("work days", days, f"away {away}" if away else ""),
        _fact("units, zone", season.units, season.zone),
    ]
