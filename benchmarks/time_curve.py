"""One lot's time curve: this program's fit against lifelines' of the same model on the same data.

By hand, in an environment of its own (lifelines needs pandas before 3):

    python -m venv ../other && ../other/bin/pip install lifelines==0.30.3
    PYTHONPATH=.:tests ../other/bin/python benchmarks/time_curve.py [--write]

`--write` keeps lifelines' answers in tests/reference/germination_lifelines_answers.csv.

Timed is lifelines' own mixture-cure fitter. Of intervals without an end it takes S(inf), the cured
share, off again, so that seed not up at the last look counts as seed that comes later: it always
ends with nobody cured, at a lower likelihood. The answers that are kept come from the same model
written out for lifelines' fitter of any hazard, with S(inf) = 0. A lower bound of 0 is a small
positive one to both.
"""

import csv
import sys
import warnings
from pathlib import Path
from statistics import median
from time import perf_counter
from typing import Any

from seedstart.growing.germination.curve_families import FAMILIES, Family
from seedstart.growing.germination.curve_fit import Between
from seedstart.growing.germination.time_curve import NoFit, time_curve
from seen_for_tests import seen_in

CASES = [
    ("chickweed", "all"), ("onofri_sim100", "all"), ("lobelia", "15C"), ("lobelia", "25C"),
    ("two_flushes", "all"), ("irregular_checks", "constructed"),
]  # fmt: skip
BAR, ROUNDS, NEARLY_0 = 10.0, 5, 1e-6
ANSWERS = Path(__file__).parents[1] / "tests" / "reference" / "germination_lifelines_answers.csv"
COMMAND = "fit_interval_censoring of the model written out; benchmarks/time_curve.py --write"


def mixture_cure(seen: list[Between], family: Family) -> float:
    """The log likelihood that lifelines' mixture-cure fitter reaches."""
    import lifelines

    base = {
        "log-logistic": lifelines.LogLogisticFitter,
        "log-normal": lifelines.LogNormalFitter,
        "Weibull": lifelines.WeibullFitter,
    }[family.name]
    return float(fitted(lifelines.MixtureCureFitter(base_fitter=base()), seen).log_likelihood_)


def fitted(fitter: Any, seen: list[Between], start: list[float] | None = None) -> Any:
    import numpy as np

    some = [one for one in seen if one.seeds]
    fitter.fit_interval_censoring(
        np.array([max(one.after, NEARLY_0) for one in some]),
        np.array([one.by for one in some]),
        weights=np.array([float(one.seeds) for one in some]),
        initial_point=None if start is None else np.array(start),
    )
    return fitter


def written_out(family: Family) -> Any:
    """The model with a share that never comes, as lifelines' fitter of any hazard takes it."""
    import autograd.numpy as anp
    from autograd.scipy.stats import norm
    from lifelines.fitters import ParametricUnivariateFitter

    shapes: dict[str, Any] = {
        "log-logistic": lambda z: 1 / (1 + anp.exp(z)),
        "log-normal": lambda z: norm.cdf(-z),
        "Weibull": lambda z: anp.exp(-anp.exp(z)),
    }
    left = shapes[family.name]

    class LotFitter(ParametricUnivariateFitter):  # type: ignore[misc]
        _fitted_parameter_names = ("share_", "middle_", "scale_")
        _bounds = ((0.0, 1.0), (None, None), (0.0, None))

        def _cumulative_hazard(self, params: Any, times: Any) -> Any:
            share, middle, scale = params
            ever = times > 1e20  # lifelines cuts an infinite end to 1e25
            z = (anp.log(anp.where(ever, 1.0, times)) - middle) / scale
            return anp.where(ever, 500.0, -anp.log(1 - share + share * left(z)))

    return LotFitter()


def lifelines_fit(seen: list[Between], family: Family, start: list[float]) -> dict[str, float]:
    fitter = fitted(written_out(family), seen, start)
    share, middle, scale = map(float, fitter.params_)
    errors = [float(one) for one in fitter.summary["se(coef)"]]
    return {
        "log_likelihood": float(fitter.log_likelihood_), "share": share, "middle_log": middle,
        "scale_log_time": scale, "share_se": errors[0], "middle_se": errors[1],
    }  # fmt: skip


def timed(call: object) -> float:
    assert callable(call)
    start = perf_counter()
    call()
    return perf_counter() - start


def main() -> None:
    import lifelines

    warnings.simplefilter("ignore")
    rows, ratios, worst = [], [], 0.0
    for dataset, group in CASES:
        seen = seen_in(dataset, group)
        for family in FAMILIES:
            curves = time_curve(seen, [family])
            assert not isinstance(curves, NoFit)
            own = curves[0]
            start = [min(own.share, 0.95), own.fitted.middles[0] + 0.1, 0.8 / own.slope]
            other = lifelines_fit(seen, family, start)
            worst = min(worst, own.log_likelihood - other["log_likelihood"])
            both = [
                (
                    timed(lambda seen=seen, family=family: time_curve(seen, [family])),
                    timed(lambda seen=seen, family=family: mixture_cure(seen, family)),
                )
                for _ in range(ROUNDS)
            ]
            own_s, other_s = (median(side) for side in zip(*both, strict=True))
            ratios.append(other_s / own_s)
            print(
                f"{dataset} {group} {family.name}: {1000 * own_s:.1f} ms, lifelines "
                f"{1000 * other_s:.0f} ms; log likelihood {own.log_likelihood:.4f}, "
                f"{other['log_likelihood']:.4f}"
            )
            rows.append(
                [dataset, group, family.name, *(f"{value:.8g}" for value in other.values())]
            )
    print(f"as fast, at least: {min(ratios):.0f} times, bar {BAR:g}")
    print(f"likelihood lower than lifelines' by at most {-worst:.1e}")
    if "--write" in sys.argv:
        with ANSWERS.open("w", encoding="utf-8", newline="") as file:
            table = csv.writer(file, lineterminator="\n")
            table.writerow(
                ["dataset", "group", "family", "log_likelihood", "share", "middle_log",
                 "scale_log_time", "share_se", "middle_se", "source"]
            )  # fmt: skip
            source = f"lifelines {lifelines.__version__}, {COMMAND}"
            table.writerows([*row, source] for row in rows)


if __name__ == "__main__":
    main()
