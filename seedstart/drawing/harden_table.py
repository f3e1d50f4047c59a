"""Hardening off: who is at which step, what today lets them do, what is against setting out."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date
from typing import Final

from seedstart.crop_table.crop import Source
from seedstart.days import long_day, short_day
from seedstart.drawing.harden_days import LEGEND, days_across, heads_across, line_across
from seedstart.drawing.lines import Line, Role, Span, cells_wide, fitted, heading, plain, wrapped
from seedstart.growing.hardening_rules import STEPS_BASIS, STEPS_SOURCES
from seedstart.growing.hardening_rules import Step as DayStep
from seedstart.planning.hardening.hardening_days import DayOut
from seedstart.planning.hardening.hardening_status import Hardening
from seedstart.planning.hardening.hardening_weather import Said, Today
from seedstart.planning.known_weather import Weather
from seedstart.text import joined, plural
from seedstart.units import Units

_NAME, _STEPS, _WHAT, _TODAY, _OUT = 20, 10, 24, 11, 12
NOTHING: Final = "Nothing is being hardened off, and nothing is due to be."
_SOON: Final = "Begin soon: "
_STAIR, _TO_DO = "▁▂▃▄▅▆▇█", "·"
_ROLES: Final[dict[Today, Role]] = {
    "out": "good",
    "half": "expected",
    "held": "warn",
    "not judged": "plain",
}

_TODAY_WORDS: Final[dict[Today, str]] = {"held": "in", "not judged": "no forecast"}


def harden_head(width: int = 80) -> Line:
    """What stands in the columns."""
    names = f"  {'sowing':<{_name(width)}} {'steps':<{_STEPS}} "
    return (Span(f"{names}{'today':<{_WHAT}} {'':<{_TODAY}} set out", "quiet"),)


def _name(width: int) -> int:
    """Columns for the name: what the others leave, so that a narrow list keeps its dates."""
    return max(min(_NAME, width - _STEPS - _WHAT - _TODAY - _OUT - 6), 10)


def harden_line(one: Hardening, width: int = 80) -> Line:
    """One sowing in a line."""
    mark = "✓ " if one.written else "! " if one.today == "held" else "  "
    moved = f" +{one.moved_days} d" if one.moved_days else ""
    out = short_day(one.set_out.best) if one.set_out else "no date"
    return (
        Span(mark, _ROLES[one.today]),
        Span(f"{fitted(one.name, _name(width))} ", "name"),
        Span(f"{fitted(_stair(one), _STEPS)} ", "plain"),
        Span(f"{fitted(_today(one), _WHAT)} ", "plain"),
        Span(f"{_TODAY_WORDS.get(one.today, one.today):<{_TODAY}} ", _ROLES[one.today]),
        Span(f"{out}{moved}", "warn" if one.moved_days else "plain"),
    )


def _stair(one: Hardening) -> str:
    """A stair of the hours of each step done, then a dot a step still to do."""
    plan = one.course.plan
    done = min(int(one.done_days), len(plan))
    most = max((step.hours for step in plan), default=0.0) or 1.0
    heights = (round(step.hours / most * (len(_STAIR) - 1)) for step in plan[:done])
    return "".join(_STAIR[height] for height in heights) + _TO_DO * (one.of - done)


def _today(one: Hardening) -> str:
    where = "sash" if one.place == "frame" else ""
    return f"{one.step}: {step_in_words(one.course.step, night=one.night, where=where)}"


def step_in_words(step: DayStep, *, night: bool, where: str = "") -> str:
    """Hours, light (in a frame the sash) and night of a step: `9 h, sun, night out`."""
    out = ", night out" if night else ", night in" if step.night else ""
    return f"{step.hours:g} h, {where or step.light}{out}"


def harden_lines(
    found: Sequence[Hardening],
    today: date,
    ahead: Sequence[tuple[str, date]] = (),
    width: int = 80,
    weather: Weather | None = None,
    units: Units = "metric",
) -> list[Line]:
    """All that are being hardened off, then what holds for several of them said once.

    Args:
        found: Those.
        today: The day it is.
        ahead: What begins soon, and when.
        width: Columns.
        weather: As it is known, by day: the days ahead stand under it.
        units: Of temperatures and speeds.
    """
    lines = [heading(f"Hardening off, {long_day(today)}")]
    if not found:
        return [*lines, plain(NOTHING), *([ahead_line(ahead, width)] if ahead else [])]
    lines += [harden_head(width), *(harden_line(one, width) for one in found)]
    if weather:
        lines += [plain(""), heading("The days ahead")]
        lines += heads_across(weather, today, units, width)
        lines += [line_across(one, today, width) for one in found]
        lines += [(Span(LEGEND, "quiet"),)]
    lines += [plain(""), heading("Today")]
    lines += _grouped(((one.name, _sentences(one.why)) for one in found), width)
    if any(one.held or one.halved or one.missed or one.ahead for one in found):
        lines += [plain(""), heading("Kept in and missed")]
        lost = ((one.name, _lost_days(one)) for one in found)
        lines += _grouped(((name, text) for name, text in lost if text), width)
    lines += [plain(""), heading("Against setting out today")]
    lines += _grouped(
        ((one.name, _sentences(gate.said for gate in one.against) or "nothing") for one in found),
        width,
    )
    if ahead:
        lines += [plain(""), ahead_line(ahead, width)]
    return lines


def ahead_line(ahead: Sequence[tuple[str, date]], width: int = 80) -> Line:
    """What begins soon, as much of it as one line holds."""
    said = ""
    for number, (name, day) in enumerate(ahead):
        more = f", {len(ahead) - number} more"
        longer = f"{said}, {name} {short_day(day)}" if said else f"{name} {short_day(day)}"
        last = number == len(ahead) - 1
        if cells_wide(longer) + (0 if last else len(more)) > width - len(_SOON) - 1:
            return (Span(f"{_SOON}{said}{more}." if said else f"{_SOON}{len(ahead)} sowings."),)
        said = longer
    return (Span(f"{_SOON}{said}."),)


def _grouped(said: Iterable[tuple[str, str]], width: int) -> Iterator[Line]:
    """What is said of several, once, with their names."""
    names: dict[str, list[str]] = {}
    for name, text in said:
        names.setdefault(text, []).append(name)
    for text, those in names.items():
        yield from wrapped(f"{joined(those)}: {text}", width, indent="  ")


def _sentences(said: Iterable[Said]) -> str:
    return " ".join(
        f"{one.text.removesuffix('.')} ({one.basis})." if one.basis else one.text for one in said
    )


def _lost_days(one: Hardening) -> str:
    parts = [f"{short_day(day.day)} kept in ({day.why})" for day in one.held]
    parts += [f"{short_day(day.day)} counted half" for day in one.halved]
    parts += [f"{short_day(day.day)} missed" for day in one.missed]
    parts += [f"{short_day(day.day)} {_by_forecast(day)}" for day in one.ahead]
    moved = "did not move"
    if one.moved_days and one.set_out:
        moved = f"moved by {plural(one.moved_days, 'day')}, to {short_day(one.set_out.best)}"
    return f"{', '.join(parts)}; setting out {moved}." if parts else ""


def _by_forecast(day: DayOut) -> str:
    return f"{'counts half' if day.counts == 'half' else 'to be kept in'} by the forecast"


def harden_sheet(
    one: Hardening,
    sources: Mapping[str, Source],
    today: date,
    width: int = 80,
    weather: Weather | None = None,
    units: Units = "metric",
) -> list[Line]:
    """All about one sowing, with what each figure rests on.

    Args:
        one: The sowing.
        sources: The crop table's, by key.
        today: The day.
        width: Columns.
        weather: As it is known, by day: the days ahead stand under it.
        units: Of temperatures and speeds.
    """
    where = ", ".join(part for part in (one.station, one.tray) if part)
    begun = (
        f"Out since {short_day(one.begun)}; {one.done_days:g} of {one.of} days count."
        if one.begun
        else f"Due since {short_day(one.due)}; it has not been out yet."
        if one.due < today
        else "Due today; it has not been out yet."
    )
    text = f"{plural(one.plants, 'plant')}{f', {where}' if where else ''}. {begun}"
    lines = [heading(f"{one.name}: step {one.step} of {one.of}")]
    lines += wrapped(text, width, hang="")
    if one.course.days:
        lines += wrapped(f"So far: {_so_far(one.course.days)}.", width)
    lines += [_today_line(one)]
    for said in one.why:
        lines += wrapped(_sentences([said]), width, indent="  ")
    if one.set_out is not None:
        moved = f"; moved by {plural(one.moved_days, 'day')}" if one.moved_days else ""
        text = (
            f"Setting out: {short_day(one.set_out.best)} at best, {short_day(one.set_out.earliest)}"
            f" to {short_day(one.set_out.latest)}{moved}."
        )
        lines += wrapped(text, width)
    lines += _gate_lines(one, width)
    across = days_across(one, weather or {}, today, units, width)
    lines += across or wrapped(f"Next: {_next(one)}.", width)
    for day in one.ahead:
        if day.day > today:
            lines += wrapped(f"{short_day(day.day)} {_by_forecast(day)}: {day.why}", width)
    return [*lines, *_source_lines(one, sources, width)]


def _today_line(one: Hardening) -> Line:
    done = " (written down)" if one.written else ""
    return (
        Span("Today: "),
        Span(f"{_TODAY_WORDS.get(one.today, one.today)}{done}", _ROLES[one.today]),
        Span(f"; the step asks for {step_in_words(one.course.step, night=one.course.step.night)}."),
    )


def _so_far(days: Sequence[DayOut]) -> str:
    return ", ".join(f"{short_day(day.day)} {_day_in_words(day)}" for day in days)


def _day_in_words(day: DayOut) -> str:
    if day.counts == "held":
        return f"kept in ({day.why})"
    if day.counts == "missed":
        return "missed"
    half = ", half" if day.counts == "half" else ""
    return f"{day.hours:g} h{' and night' if day.night else ''}{half}"


def _next(one: Hardening) -> str:
    """The three steps after today's."""
    ahead = one.course.plan[one.step : one.step + 3]
    if not ahead:
        return "it stays outdoors until it is set out"
    return "; ".join(step_in_words(step, night=step.night) for step in ahead)


def _gate_lines(one: Hardening, width: int) -> list[Line]:
    verdict = one.verdict
    if verdict.says == "ready":
        return [(Span(verdict.sentence(), "good"),)]
    lines = wrapped(f"Setting out today? {verdict.sentence()}", width)
    for gate in one.against:
        role: Role = "warn" if gate.bars else "plain"
        text = f"{'!' if gate.bars else '·'} {_sentences([gate.said])}"
        lines += wrapped(text, width, indent="  ", role=role)
    return lines


def _source_lines(one: Hardening, sources: Mapping[str, Source], width: int) -> list[Line]:
    """Each source once, as it is cited."""
    keys = [key for said in one.why for key in said.sources]
    keys += [key for gate in one.against for key in gate.said.sources]
    lines = [plain(""), (Span("Sources", "quiet"),)]
    steps = f"The steps: {STEPS_BASIS}."
    lines += wrapped(steps, width, indent="  ", role="quiet")
    for key in dict.fromkeys((*STEPS_SOURCES, *keys)):
        cited = sources[key].text if key in sources else key
        lines += wrapped(f"- {cited}", width, indent="  ", role="quiet")
    return lines
