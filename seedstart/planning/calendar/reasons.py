"""Why a date is what it is, and what speaks against it: sentences as a grower would say them."""

from collections.abc import Iterator, Sequence
from datetime import date, timedelta

from seedstart.crop_table.crop import BASIS_IN_WORDS, Crop, Figure
from seedstart.days import Window, short_day
from seedstart.growing.emergence import TRAYS_QUARTILES, Expected
from seedstart.planning.calendar.crop_times import (
    AtStation,
    Growing,
    basis_in_words,
    is_tender,
    rate_curve,
)
from seedstart.planning.calendar.row import Reason, Step
from seedstart.planning.calendar.seed_treatments import Treatment
from seedstart.planning.calendar.sowing_request import Ask, Where
from seedstart.text import plural
from seedstart.units import show_temperature, show_temperatures

# Below this a risk of frost is not worth a sentence.
_NO_RISK_PERCENT = 2.0


_DUST = (
    "Damp the mix before you pour it, open its bag away from your face and wash your hands: the "
    "dust can carry Legionella (WorkSafe Queensland)."
)


def reasons(
    ask: Ask,
    found: AtStation,
    grows: Growing | None,
    to_treat: tuple[Treatment, ...],
    steps: Sequence[Step],
    counted: date,
) -> tuple[Reason, ...]:
    """The whole reckoning, from the day it counts from back to the seed.

    Args:
        ask: What was asked.
        found: Emergence at the station.
        grows: The printed weeks in days.
        to_treat: Treatments that got a date.
        steps: The dated steps.
        counted: The day to sow as it was counted, before work days.
    """
    why = [*_set_out(ask, grows, steps)]
    if ask.later_days:
        text = (
            f"Sowing {ask.number} of the lot comes {plural(ask.later_days, 'day')} after the "
            "first, and each of its later steps by the same."
        )
        why.append(Reason("sow", text))
    if grows is not None and ask.sow_on is None:
        why += _sow(ask, grows)
    why += _fridge(ask, steps)
    why += _emerge(ask, found)
    why += _sum(ask, found, grows, steps, counted)
    why += [_treated(treatment) for treatment in to_treat]
    why += _told_of_treatments(ask, to_treat)
    return (*why, *_practice(steps))


def how_long_in_the_cold(ask: Ask) -> str:
    """Why what is sown into a fridge has no date: nobody says how long it stays there."""
    return (
        f"The {ask.fridge} is for cold treatment, and nobody prints how long {ask.crop.name} wants "
        "of it: say so under stratify, and under then where it comes up."
    )


def how_warm_out_there(ask: Ask) -> str:
    """Why what is sown out of doors has no date: no bench stands in for the weather."""
    return (
        f"Nobody says how warm the {ask.unknown_weather} is: say what to expect of it, or read it; "
        "what comes up out of doors goes by the weather."
    )


def _fridge(ask: Ask, steps: Sequence[Step]) -> Iterator[Reason]:
    """When it comes out of the fridge, and where to."""
    sow = next((step.window for step in steps if step.name == "sow"), None)
    if not ask.fridge or ask.fridge_days is None or sow is None:
        return
    out = short_day(sow.best + timedelta(days=ask.fridge_days))
    to = f"to the {ask.where.name}" if ask.where.name else "to where it is to come up"
    yield Reason(
        "emerge", f"It lies in the {ask.fridge} for {ask.fridge_days} days, till {out}; then {to}."
    )


def _sum(
    ask: Ask, found: AtStation, grows: Growing | None, steps: Sequence[Step], counted: date
) -> Iterator[Reason]:
    """The reckoning in one line, and what moved the day after that."""
    if ask.sow_on is not None:
        yield Reason("sow", "You chose the sowing day; the rest is counted from it.")
        return
    out = next((step.window for step in steps if step.name == "set_out"), None)
    sow = next((step.window for step in steps if step.name == "sow"), None)
    if out is None or sow is None or grows is None or found.expected is None:
        return
    cold = ask.fridge_days or 0
    goal = counted + timedelta(days=grows.growing_on + round(found.expected.best) + cold)
    in_the_cold = f", less {cold} in the {ask.fridge}" if cold else ""
    text = (
        f"{short_day(goal)} less {grows.growing_on} days of growing on, less "
        f"{round(found.expected.best)} to come up{in_the_cold}: sow on {short_day(counted)}."
    )
    if sow.best != counted:
        text += f" You work on {short_day(sow.best)}, the nearest day that suits."
    yield Reason("sow", text)


def _set_out(ask: Ask, grows: Growing | None, steps: Sequence[Step]) -> Iterator[Reason]:
    window = next((step.window for step in steps if step.name == "set_out"), None)
    if window is None:
        return
    if ask.ready is not None:
        text = f"Counted back from {short_day(ask.ready)}, the day you want it ready."
        yield Reason("set_out", text)
        return
    weeks, frost = ask.crop.set_out_weeks, ask.frost
    if weeks is None or frost is None:
        return
    voices = basis_in_words(weeks, ask.sources)
    who = "Common practice sets" if weeks.basis == "practice" else "Printed sheets set"
    text = (
        f"{who} {ask.crop.name} out {_weeks_after(weeks)} the average last frost, "
        f"{short_day(frost.average)} ({_around_frost(weeks)}; {voices})."
    )
    yield Reason("set_out", text, weeks.sources)
    if grows is not None and grows.wait >= 1:
        text = (
            f"Sown by the printed weeks it would be too young by then: it goes out "
            f"{plural(round(grows.wait), 'day')} later (common practice, no source)."
        )
        yield Reason("set_out", text)
    if not is_tender(ask.crop):
        return
    if frost.trusted is not None:
        text = (
            f"A frost kills it, so it waits for {short_day(frost.trusted)}, the date you trust "
            f"(a later frost in {frost.tender_risk_percent:g} % of years)."
        )
        yield Reason("set_out", text)
    left = frost.risk_left_percent(window.best)
    if left < _NO_RISK_PERCENT:
        return
    text = (
        f"A frost comes after {short_day(window.best)} in about {left:.0f} % of years "
        f"({frost.basis}): keep covers at hand."
    )
    yield Reason("set_out", text)


def _sow(ask: Ask, grows: Growing) -> Iterator[Reason]:
    weeks = ask.crop.weeks_before_last_frost
    if weeks is None:
        return
    tray = show_temperature(ask.crop.tray_c.best, ask.units)
    voices = basis_in_words(weeks, ask.sources)
    moved = weeks.note.rpartition("the sources' own weeks are ")[2] if weeks.note else ""
    moved = moved if moved != weeks.note else ""
    who = "It is sown" if moved else "Growers sow it"
    text = (
        f"{who} {weeks_in_words(weeks.best)} weeks before the average last frost "
        f"({_range(weeks, 'weeks')}; {voices}), in a mixed tray at {tray}: "
        f"{round(grows.age)} days from sowing to setting out, of which it grows on for "
        f"{grows.growing_on} after it is up (not adjusted for a cooler or dimmer place)."
    )
    yield Reason("sow", text, weeks.sources)
    if moved:
        yield Reason("sow", f"The sources' own weeks are {moved}.")
    indoors = ask.crop.weeks_indoors
    if indoors is not None and indoors.basis in {"source", "weak", "relative"}:
        voices = basis_in_words(indoors, ask.sources)
        text = f"{_range(indoors, 'weeks')} indoors are printed for it ({voices})."
        yield Reason("sow", f"{text[:1].upper()}{text[1:]}", indoors.sources)


def _emerge(ask: Ask, found: AtStation) -> Iterator[Reason]:
    expected = found.expected
    if expected is None:
        return
    crop = ask.crop
    place = place_in_words(ask.where, ask)
    days = f"{number_in_words(expected.best)} days"
    span = (
        f"{round(expected.earliest)} at best{_usual_in_trays(ask, expected)}; nine in ten of those "
        f"that come by day {round(expected.latest)}"
    )
    if crop.clock == "table" and crop.emergence is not None:
        table = crop.emergence
        text = (
            f"{place} it is up in {days} ({span}): the handbook's "
            f"{number_in_words(expected.earliest)} days at that temperature, times {ask.factor:g} "
            f"for {'your own ' if ask.own_sowings else ''}trays"
        )
        if table.note:
            text += f" ({table.note.rstrip('.')})"
        if found.outside_table:
            text += "; that is outside the table, where the curve is extended"
        yield Reason("emerge", f"{text}.", table.sources)
        if ask.own_sowings:
            text = (
                f"Your own trays: {ask.factor:g} × the table, from "
                f"{plural(ask.own_sowings, 'sowing')} ({BASIS_IN_WORDS['own']})."
            )
            yield Reason("emerge", text)
        if crop.days_in_trays is not None:
            printed, at = crop.days_in_trays, show_temperature(crop.tray_c.best, ask.units)
            text = (
                f"Growers' sheets print {_range(printed, 'days')} in mixed trays at {at}; the "
                "calendar counts with the table, which knows this temperature."
            )
            yield Reason("emerge", text, printed.sources)
    elif crop.days_in_trays is not None:
        printed, at = crop.days_in_trays, show_temperature(crop.tray_c.best, ask.units)
        text = (
            f"{place} it is up in {days} ({span}), from {_range(printed, 'days')} in trays at "
            f"{at} ({basis_in_words(printed, ask.sources)}); accurate to "
            f"about {'15' if rate_curve(crop).basis == 'broken line' else '17'} % near that "
            "temperature, less so further away."
        )
        yield Reason("emerge", text, printed.sources)
    if not ask.where.said:
        missing = (
            f"how warm the {ask.where.name} is" if ask.where.name else "which station it is on"
        )
        text = f"Nobody has said {missing}: counted at the mixed-tray setting, "
        text += f"{show_temperature(crop.tray_c.best, ask.units)}. On a colder bench sow earlier."
        yield Reason("emerge", text, crop.tray_c.sources)


def _usual_in_trays(ask: Ask, expected: Expected) -> str:
    """The days between the quartiles of trays, where the table's days are counted with."""
    if ask.crop.clock != "table" or ask.crop.emergence is None or ask.own_sowings:
        return ""
    low, high = (round(expected.earliest * times) for times in TRAYS_QUARTILES)
    return f", {low} to {high} usual in trays"


def _treated(treatment: Treatment) -> Reason:
    need = {"needed": "it needs that", "helps": "that helps"}.get(
        treatment.need, "you asked for it"
    )
    return Reason("treat", f"Before sowing: {treatment.says}; {need}.", treatment.sources)


def _told_of_treatments(ask: Ask, to_treat: tuple[Treatment, ...]) -> Iterator[Reason]:
    dated = {treatment.says.split()[0] for treatment in to_treat}
    for treat in ask.crop.treat:
        if treat.what in dated or treat.what in ask.untreated:
            continue
        who = "Some growers" if treat.need == "some do" else "It helps to"
        text = f"{who} {treat.what} it first; the dates do not allow for that."
        text += f" {treat.text.rstrip('.')}." if treat.text else ""
        yield Reason("treat", text, treat.sources)


def _practice(steps: Sequence[Step]) -> Iterator[Reason]:
    names = {step.name for step in steps}
    if "prick_out" in names:
        text = "Prick out at the first true leaf (common practice, no source for the days)."
        yield Reason("prick_out", text)
        yield Reason("prick_out", _DUST)
    if "pot_on" in names:
        text = "Pot on when roots fill the cell (common practice, no source for the days)."
        yield Reason("pot_on", text)
    if "harden" in names:
        yield Reason("harden", _hardening(steps))


def _hardening(steps: Sequence[Step]) -> str:
    windows = {step.name: step.window for step in steps}
    harden, out = windows["harden"], windows["set_out"]
    days = (out.best - harden.best).days if harden and out else 0
    return (
        "Hardening off takes one to two weeks (University of Maryland Extension 2023), at "
        f"most half of the growing-on time: it begins {days} days before setting out."
    )


def sown_in_place(crop: Crop) -> str:
    """Why a crop has no indoor weeks."""
    return f"{crop.name} is usually sown in place: no handbook gives weeks indoors for it."


def sown_outdoors(ask: Ask) -> Iterator[Reason]:
    """Why what is sown in place is sown when it is."""
    weeks, frost = ask.crop.sow_outdoors_weeks, ask.frost
    if weeks is None or frost is None:
        return
    text = sown_in_place(ask.crop)
    yield Reason("sow", f"{text[:1].upper()}{text[1:]}", ask.crop.raising_from.sources)
    voices = basis_in_words(weeks, ask.sources)
    text = (
        f"It is sown outdoors {_weeks_after(weeks)} the average last frost, "
        f"{short_day(frost.average)} ({_around_frost(weeks)}; {voices})."
    )
    yield Reason("sow", text, weeks.sources)


def nothing_to_count_from(ask: Ask) -> str:
    """Why a lot without any date has no row."""
    if not ask.has_frost:
        return "this season has no frost date: give the lot a `ready` or a `sow` date."
    return (
        "no frost date to count from: name `last` or a `record` under [frost], or `ready` or "
        "`sow` for the lot."
    )


def emerges_alone(up: date) -> str:
    """Whatever work day is taken, the seedlings come while the grower is away."""
    return f"It comes up about {short_day(up)}, while you are away: ask someone to look after it."


def no_work_day(window: Window) -> str:
    """No day to work inside the window."""
    first, last = short_day(window.earliest), short_day(window.latest)
    return f"None of your work days falls between {first} and {last}; the best day is kept."


def place_in_words(where: Where, ask: Ask) -> str:
    """A place as a sentence begins with it: `At the sill (12 °C)`; `At 12 °C` without a name."""
    degrees = show_temperatures(where.medium, ask.units)
    return f"At the {where.name} ({degrees})" if where.name else f"At {degrees}"


def _around_frost(weeks: Figure) -> str:
    """A range of weeks about the frost in words: `0 to 5.4 weeks before`."""
    if weeks.high <= 0:
        return f"{weeks_in_words(-weeks.high)} to {weeks_in_words(-weeks.low)} weeks before"
    if weeks.low >= 0:
        return f"{weeks_in_words(weeks.low)} to {weeks_in_words(weeks.high)} weeks after"
    return f"{weeks_in_words(-weeks.low)} weeks before to {weeks_in_words(weeks.high)} after"


def _weeks_after(weeks: Figure) -> str:
    count = plural(abs(round(weeks.best, 1)), "week")
    if weeks.best == 0:
        return "on the day of"
    return f"{count} {'after' if weeks.best > 0 else 'before'}"


def _range(figure: Figure, unit: str) -> str:
    words = weeks_in_words if unit == "weeks" else number_in_words
    if figure.low == figure.high:
        return f"{words(figure.low)} {unit}"
    return f"{words(figure.low)} to {words(figure.high)} {unit}"


def weeks_in_words(weeks: float) -> str:
    """One decimal: half a week of twelve is four days, and a date that is a sum must add up."""
    return f"{round(weeks, 1) + 0.0:g}"


def number_in_words(value: float) -> str:
    """One decimal at most: more would pretend to know."""
    value = round(value, 1) + 0.0  # never "-0"
    return f"{value:.1f}".removesuffix(".0") if abs(value) < 10 else f"{value:.0f}"
