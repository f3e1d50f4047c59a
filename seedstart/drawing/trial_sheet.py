"""A trial: its plan, its plants level by level, and what they say."""

from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from seedstart.drawing.lines import Line, Span, fitted, heading, plain, wrapped
from seedstart.drawing.trial_plot import plot_lines
from seedstart.growing.light.needs import light_need
from seedstart.growing.plateau import BETTER_BY, PLATEAUS, Fit, Response
from seedstart.growing.sturdiness import GroupMean
from seedstart.planning.trials.trial_planning import Planned
from seedstart.planning.trials.trial_result import MEASURES, TrialGroup, TrialResult
from seedstart.planning.trials.trial_trays import Measure
from seedstart.season.trials.trial_plan import TrialPlace, TrialPlan
from seedstart.text import joined, plural
from seedstart.units import Units, show_length

LABELS: Final[dict[Measure, str]] = {
    "height_mm": "height, mm", "diameter_mm": "stem, mm", "quotient": "height cm over stem mm",
}  # fmt: skip
_SAID: Final[dict[Measure, str]] = {
    "height_mm": "height", "diameter_mm": "stem", "quotient": "quotient",
}  # fmt: skip
_HEADS: Final[dict[Measure, str]] = {
    "height_mm": "height, mm", "diameter_mm": "stem, mm", "quotient": "quotient",
}  # fmt: skip
_STOPS: Final[dict[Measure, str]] = {
    "height_mm": "stretching stops", "diameter_mm": "stems stop thickening",
    "quotient": "they are as sturdy as they get",
}  # fmt: skip
# By measure what more light does, where it makes less of it and where more.
_MAKES: Final[dict[Measure, tuple[str, str]]] = {
    "height_mm": ("keeps them shorter", "makes them taller"),
    "diameter_mm": ("makes stems thinner", "makes stems thicker"),
    "quotient": ("makes them sturdier", "makes them less sturdy"),
}  # fmt: skip
_MEAN: Final = 13
ELSE: Final = (
    "What else moves height as much as light does: its colour, warmth and spacing. Keep them the "
    "same in all trays, or it is their effect that you see."
)


def unit_of(trial: TrialPlan) -> str:
    """What its levels count: `mol a day`, or the treatment."""
    return "mol a day" if trial.of_light else trial.kind


def level_in_words(level: float | str, trial: TrialPlan) -> str:
    """`6.2 mol`, or a treatment's level as it is called."""
    if isinstance(level, str):
        return level
    return f"{level:g}{' mol' if trial.of_light else ''}"


def title(trial: TrialPlan) -> str:
    """`Trial cabbage-light: 5 levels × 2 trays × 8 plants of cabbage-early`."""
    size = f"{plural(len(trial.levels), 'level')} × {plural(trial.trays, 'tray')}"
    why = f". {trial.title}" if trial.title else ""
    return (
        f"Trial {trial.name}: {size} × {plural(trial.plants, 'plant')} of "
        f"{joined([*trial.lots])}{why}"
    )


def planned_lines(planned: Planned, units: Units, width: int) -> list[Line]:
    """The trays with their levels and places, and what the trial can show."""
    trial = planned.trial
    lines = [heading(title(trial)), *place_lines(trial.places, trial, units), plain("")]
    said = planned_in_words(planned)
    return [*lines, *(line for text in said for line in wrapped(text, width, hang=""))]


def planned_in_words(planned: Planned) -> list[str]:
    """What the trial can show, and what it cannot give."""
    it_shows = (
        f"{plural(len(planned.trial.places), 'tray')} show a difference in height of "
        f"{planned.shown.difference:.0f} % between two levels with a chance of 80 % (plants of a "
        "tray vary by 12 %, trays by 5 %: common practice, no source)."
    )
    said = [it_shows]
    if planned.enough_trays is not None:
        trays = plural(planned.enough_trays, "tray")
        said.append(f"The difference that you want to see needs {trays} a level.")
    return [*said, *planned.remarks]


def place_lines(places: Iterable[TrialPlace], trial: TrialPlan, units: Units) -> Iterator[Line]:
    """Where each tray stands: so far from its lamps, there on the station."""
    yield (
        Span(f"  {'tray':<8}{'level':<10}{'lot':<15}{'station':<14}lamp to leaf, place", "quiet"),
    )
    for one in places:
        where = ""
        if one.height_mm is not None:
            where = show_length(one.height_mm / 1000, units)
        if one.from_left_mm is not None:
            where += f", {show_length(one.from_left_mm / 1000, units)} from the left"
        if one.from_front_mm is not None:
            where += f", {show_length(one.from_front_mm / 1000, units)} from the front"
        level = level_in_words(one.level, trial)
        text = f"  {one.tray:<8}{level:<10}{fitted(one.lot, 14)} {fitted(one.station, 13)} {where}"
        yield plain(text.rstrip())


def result_lines(found: TrialResult, width: int, height: int = 14) -> list[Line]:
    """What came out: the sentence first, the picture, the groups, what limits it."""
    lines = [heading(title(found.trial)), *answer_lines(found, "height_mm", width, height)]
    lines += [plain(""), *group_lines(found)]
    for text in [*other_measures(found), *found.remarks, *of_light(found)]:
        lines += wrapped(text, width, role="quiet", hang="")
    return lines


def answer_lines(found: TrialResult, of: Measure, width: int, height: int = 11) -> list[Line]:
    """What a grower can act on by one measure, its picture a variety, how sure that is.

    Args:
        found: What came out.
        of: Which measure.
        width: Columns.
        height: Of a picture.
    """
    lines = [line for text in sentences(found, of) for line in wrapped(text, width, hang="")]
    for lot in _drawn(found):
        fits = found.responses.get(lot, {}).get(of)
        groups = [one for one in found.groups if one.of and lot in {"", one.lot}]
        means = [(one.dose_mol, one.of[of]) for one in groups if one.dose_mol is not None]
        if fits is None or len({dose for dose, _ in means}) < 2:
            continue
        across = unit_of(found.trial) + (" at the leaf" if found.trial.of_light else "")
        digits = 0 if of == "height_mm" else 1
        lines += [plain(""), *([heading(lot)] if lot else [])]
        lines += plot_lines(means, fits, LABELS[of], across, width, height, digits)
        if said := models_in_words(fits):
            lines += [plain(""), *wrapped(said, width, hang="")]
    return lines


def _drawn(found: TrialResult) -> Sequence[str]:
    return found.trial.lots if len(found.trial.lots) > 1 else ("",)


def sentences(found: TrialResult, of: Measure = "height_mm") -> list[str]:
    """What a grower can act on, for each variety; then whether they differ in height."""
    trial, said = found.trial, list[str]()
    for lot in _drawn(found):
        fits = found.responses.get(lot, {}).get(of)
        if fits is not None:
            name = f"{lot}: " if lot else ""
            said += [f"{name}{text}" for text in _response_in_words(fits, found, of)]
    if not trial.by_dose:
        said.append("Levels in words have no response curve: compare the means and intervals.")
    if found.apart is not None:
        apart = found.apart
        differ = "The varieties level off" if apart.p < 0.05 else "No difference is shown in where"
        tail = "at different doses" if apart.p < 0.05 else "the varieties level off"
        said.append(
            f"{differ} {tail} (F = {apart.statistic:.2f} with {apart.df[0]} and {apart.df[1]} "
            f"degrees of freedom, p = {apart.p:.2g})."
        )
    return said


def _response_in_words(fits: Response, found: TrialResult, of: Measure) -> Iterator[str]:
    plateau, unit = fits.plateau, unit_of(found.trial)
    if plateau is None or plateau.join is None:
        yield f"The data do not show where {_STOPS[of]}: {fits.why_none}."
        return
    more = "more light" if found.trial.of_light else "more"
    does = _MAKES[of][plateau.slope > 0]
    yield f"Up to about {plateau.join:.1f} {unit} {more} {does}; above, no further."
    yield (
        f"The join lies between {plateau.low:.1f} and {plateau.high:.1f} (95 in 100, with the "
        f"{found.unit} as the unit)."
    )


def models_in_words(fits: Response) -> str:
    """How much better the plateau fits than what else was tried; empty without one."""
    plateau = fits.plateau
    if plateau is None:
        return ""
    rivals = {
        one.model: one.aicc - plateau.aicc
        for one in fits.fits
        if one.model in {"straight line", "no effect"}
    }
    line, none = rivals["straight line"], rivals["no effect"]
    return (
        f"{plateau.model.capitalize()}; a straight line fits worse by {line:.0f} in AICc, no "
        f"effect by {none:.0f}.{_other_plateau(fits, plateau)}"
    )


def _other_plateau(fits: Response, plateau: Fit) -> str:
    """Where the other plateau would join, which fits about as well; empty where it does not."""
    other = next(one for one in fits.fits if one.model in PLATEAUS and one is not plateau)
    if other.join is None or other.aicc - plateau.aicc > BETTER_BY:
        return ""
    return f" A {other.model} fits about as well, and joins at {other.join:.1f}."


def of_light(found: TrialResult) -> list[str]:
    """Of a trial of light: where stretching stops is no target, and what else moves height."""
    if not found.trial.of_light:
        return []
    need = light_need("")
    target = (
        f"Enough not to stretch is not yet enough to grow well: {need.low_mol:g} to "
        f"{need.high_mol:g} mol a day are advised ({need.range_source})."
    )
    return [target, ELSE]


def other_measures(found: TrialResult, but: Measure = "height_mm") -> Iterator[str]:
    """Whether the other measures tell the same."""
    of = found.responses.get("", {})
    for measure in MEASURES:
        fits = of.get(measure)
        if fits is None or measure == but:
            continue
        plateau = fits.plateau
        name = _SAID[measure].capitalize()
        if plateau is None:
            yield f"{name}: no plateau shown ({fits.why_none})."
        else:
            level = plateau.plateau or 0
            yield (
                f"{name}: level from {plateau.join or 0:.1f} {unit_of(found.trial)} on "
                f"({plateau.low:.1f} to {plateau.high:.1f}), at {level:.1f}."
            )


def group_lines(found: TrialResult) -> Iterator[Line]:
    """Level by level: dose, how many, means with their intervals."""
    trial = found.trial
    several = len(trial.lots) > 1
    head = f"  {'level':<9}{'got':>5}{'trays':>6}{'plants':>7}{'dead':>5}"
    heads = "".join(f"  {_HEADS[of]:<{_MEAN}}" for of in MEASURES)
    yield (Span(f"{head}{heads}".rstrip(), "quiet"),)
    before = ""
    for one in found.groups:
        if several and one.lot != before:
            yield plain(f"  {one.lot}")
            before = one.lot
        got = "" if one.dose_mol is None else f"{one.dose_mol:.1f}"
        dead = f"{one.dead}" if one.dead else "·"
        level = fitted(level_in_words(one.level, trial), 9)
        yield plain(
            f"  {level}{got:>5}{one.trays:>6}{one.plants:>7}{dead:>5}{_means(one)}".rstrip()
        )


def _means(one: TrialGroup) -> str:
    if not one.of:
        return "  none measured"
    return "".join(f"  {mean_in_words(one.of[of], of):<{_MEAN}}" for of in MEASURES)


def mean_in_words(of: GroupMean, measure: Measure) -> str:
    """`36 (34–38)`."""
    digits = 0 if measure == "height_mm" else 1
    if of.number == 1:
        return f"{of.mean:.{digits}f}"
    return f"{of.mean:.{digits}f} ({of.low:.{digits}f}–{of.high:.{digits}f})"
