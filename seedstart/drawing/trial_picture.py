"""The picture of a trial's result as PNG or SVG, by matplotlib where it is installed."""

from io import BytesIO
from math import isfinite
from typing import Any, Literal

from seedstart.drawing.trial_sheet import LABELS, sentences, title, unit_of
from seedstart.planning.trials.trial_result import MEASURES, TrialResult
from seedstart.planning.trials.trial_trays import Measure

Format = Literal["png", "svg"]
NEEDS = "Pictures need matplotlib: install seedstart[pictures]."
# Told apart by their marks too, not by colour alone.
_MARKS = ("o", "s", "^", "D", "v", "P")


def trial_picture(found: TrialResult, form: Format) -> bytes:
    """Height, stem and quotient over the dose: every plant, means, the fit, where it may join.

    Args:
        found: With two levels measured at least, and doses in numbers.
        form: Of the file.

    Raises:
        ImportError: matplotlib is not installed.
    """
    import matplotlib as mpl
    from matplotlib.figure import Figure

    mpl.rcParams["svg.hashsalt"] = "seedstart"  # the same picture is the same file
    figure = Figure(figsize=(8, 9), layout="constrained")
    axes = figure.subplots(len(MEASURES), 1, sharex=True)
    for axis, of in zip(axes, MEASURES, strict=True):
        _draw(axis, found, of)
    axes[0].set_title(f"{title(found.trial)}\n{(sentences(found) or [''])[0]}", fontsize=10)
    axes[-1].set_xlabel(f"light at the leaf, {unit_of(found.trial)}")
    axes[0].legend(fontsize=8)
    file = BytesIO()
    metadata = {"Date": None} if form == "svg" else {"Software": None}
    figure.savefig(file, format=form, dpi=120, metadata=metadata)
    return file.getvalue()


def _draw(axis: Any, found: TrialResult, of: Measure) -> None:  # noqa: ANN401 - matplotlib's
    lots = found.trial.lots
    for number, lot in enumerate(lots):
        mark, colour = _MARKS[number % len(_MARKS)], f"C{number}"
        trays = [one for one in found.trays if one.plants and one.place.lot == lot]
        x = [one.dose_mol for one in trays for _ in one.plants]
        y = [plant.value(of) for one in trays for plant in one.plants]
        axis.plot(x, y, mark, color=colour, alpha=0.25, markersize=4)
        means = [one for one in found.groups if one.lot == lot and one.of]
        middles = [one.of[of].mean for one in means]
        below = [one.of[of].mean - one.of[of].low for one in means]
        doses = [one.dose_mol for one in means]
        axis.errorbar(
            doses, middles, yerr=[below, below], fmt=mark, color=colour, capsize=3, label=lot
        )
        _draw_fit(axis, found, lot if len(lots) > 1 else "", of, colour)
    axis.set_ylabel(LABELS[of])


def _draw_fit(axis: Any, found: TrialResult, lot: str, of: Measure, colour: str) -> None:  # noqa: ANN401
    fits = found.responses.get(lot, {}).get(of)
    doses = [tray.dose_mol for tray in found.trays if tray.plants and tray.dose_mol is not None]
    if fits is None or not doses:
        return
    fit = fits.plateau or fits.fits[0]
    first, last = min(doses), max(doses)
    xs = [first + (last - first) * step / 200 for step in range(201)]
    axis.plot(xs, [fit.at(x) for x in xs], color=colour, linewidth=1)
    if fits.plateau is not None and isfinite(fit.low) and isfinite(fit.high):
        axis.axvspan(fit.low, fit.high, color=colour, alpha=0.12, hatch="//", linewidth=0)
