"""How a lot came up, for other programs: JSON as docs/formats_json.md gives it."""

from seedstart.growing.germination.time_curve import NoFit, Time, TimeCurve
from seedstart.planning.lots.lot_course import IN_WORDS, LotCourse, OfCase
from seedstart.tracking.figures import LEVEL


def germination_as_json(course: LotCourse) -> dict[str, object]:
    """The lot, its cases with every index, its curves, and what was left out."""
    figure, curves = course.figure, course.curves
    return {
        "lot": course.lot,
        "of": figure.of,
        "up": figure.pooled_up,
        "seeds": figure.pooled_seeds,
        "percent": figure.percent,
        "apart": figure.apart,
        "method": IN_WORDS[course.method],
        "level": LEVEL,
        "time_in": course.unit,
        "cases": [_case(one) for one in course.cases],
        "left_out": [{"sowing": one.sowing, "why": one.why} for one in figure.left_out],
        "curves": [] if isinstance(curves, NoFit) else [_curve(one) for one in curves],
        "no_curve": curves.why if isinstance(curves, NoFit) else None,
        "steps": [
            {"after": one.after, "by": one.by, "percent_up": 100 * one.up} for one in course.steps
        ],
    }


def _case(one: OfCase) -> dict[str, object]:
    case, (low, high) = one.case, one.interval
    ended = case.ended
    return {
        "sowing": case.sowing,
        "sown_on": case.zero.date(),
        "station": case.station or None,
        "treated": case.treated or None,
        "test": case.is_test,
        "open": case.is_open,
        "up": case.up,
        "seeds": case.seeds,
        "percent": 100 * case.up / case.seeds,
        "percent_low": 100 * low,
        "percent_high": 100 * high,
        "normal": ended.normal if ended else None,
        "abnormal": ended.abnormal if ended else None,
        "hard": ended.hard if ended else None,
        "fresh": ended.fresh if ended else None,
        "dead": ended.dead if ended else None,
        "no_days": case.why_no_course or None,
        "looks": [{"time": look.day, "new": look.up} for look in case.found],
        "indices": [
            {
                "index": index.key,
                "value": index.value,
                "unit": index.unit,
                "formula": index.formula,
                "source": index.source,
            }
            for index in one.indices
        ],
    }


def _curve(curve: TimeCurve) -> dict[str, object]:
    ends = curve.share_ends or (None, None)
    return {
        "shape": curve.family.name,
        "aic": curve.aic,
        "log_likelihood": curve.log_likelihood,
        "share_percent": 100 * curve.share,
        "share_low": None if ends[0] is None else 100 * ends[0],
        "share_high": None if ends[1] is None else 100 * ends[1],
        "share_at_bound": curve.at_bound,
        "slope": curve.slope,
        "slope_se": curve.slope_se,
        "t10": _time(curve.time_to(0.1)),
        "t50": _time(curve.time_to(0.5)),
        "t90": _time(curve.time_to(0.9)),
        "t50_of_sown": _time(curve.time_to_of_sown(0.5)),
    }


def _time(time: Time | None) -> dict[str, float] | None:
    return None if time is None else {"best": time.best, "low": time.low, "high": time.high}
