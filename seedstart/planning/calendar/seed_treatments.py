"""What is done to the seed before it is sown, and how long before."""

from typing import Literal

from msgspec import Struct

from seedstart.crop_table.crop import Treat
from seedstart.planning.calendar.sowing_request import Ask

# Common practice, no source: overnight; soaked longer seed can drown.
_OVERNIGHT_HOURS = 12.0
_LONGEST_UNASKED_DAYS = 2


class Treatment(Struct, frozen=True):
    """One treatment of this row.

    Attributes:
        says: What to do, as `soak 12 h`.
        days: Days before the next step.
        need: Whether the crop needs it.
        sources: Keys of the crop table's sources.
        what: The act.
        hours: How long it lasts, hours; None for one that is done at once.
        c: At what temperature, °C, where that matters.
    """

    says: str
    days: int
    need: str
    sources: tuple[str, ...] = ()
    what: Literal["soak", "stratify", "scarify"] = "soak"
    hours: float | None = None
    c: float | None = None


def treatments(ask: Ask) -> tuple[Treatment, ...]:
    """The treatments that get a date, in order of doing.

    Those the crop needs; those that help and take a night or two; and the grower's own. What only
    helps never costs weeks unasked: it is told as a reason, and no more.
    """
    own = _own(ask)
    taken = {treatment.what for treatment in own}
    from_table = [
        _treatment(treat)
        for treat in ask.crop.treat
        if treat.what not in ask.untreated and treat.what not in taken and _gets_a_date(treat)
    ]
    order = ("scarify", "stratify", "soak")
    found = [*own, *from_table]
    return tuple(sorted(found, key=lambda treatment: order.index(treatment.what)))


def _own(ask: Ask) -> list[Treatment]:
    found = []
    if ask.scarify:
        found.append(Treatment("scarify", 0, "yours", what="scarify"))
    if ask.soak_hours:
        says, days = f"soak {ask.soak_hours:g} h", _whole_days(ask.soak_hours)
        found.append(Treatment(says, days, "yours", hours=ask.soak_hours))
    if ask.stratify_days:
        days = round(ask.stratify_days)
        says = f"stratify {days} days"
        found.append(Treatment(says, days, "yours", what="stratify", hours=24.0 * days))
    return found


def _gets_a_date(treat: Treat) -> bool:
    if treat.what == "stratify" and not _days(treat):
        return False  # nobody prints how long: it is told, and gets no date
    if treat.need == "needed":
        return True
    return treat.need == "helps" and _days(treat) <= _LONGEST_UNASKED_DAYS


def _treatment(treat: Treat) -> Treatment:
    hours: float | None = None
    if treat.what == "stratify":
        cold = f" at {treat.c.best:g} °C" if treat.c else ""
        says, hours = f"stratify {_days(treat)} days{cold}", 24.0 * _days(treat)
    elif treat.what == "soak":
        says, hours = f"soak {_hours(treat):g} h", _hours(treat)
    else:
        says = "scarify"
    c = treat.c.best if treat.c else None
    return Treatment(says, _days(treat), treat.need, treat.sources, treat.what, hours, c)


def _days(treat: Treat) -> int:
    if treat.days is not None:
        return round(treat.days.best)
    if treat.what == "scarify":
        return 0
    return _whole_days(_hours(treat)) if treat.what == "soak" else 0


def _hours(treat: Treat) -> float:
    return treat.hours.best if treat.hours else _OVERNIGHT_HOURS


def _whole_days(hours: float) -> int:
    """A soak begins the evening before: up to a day counts as one."""
    return max(1, round(hours / 24))
