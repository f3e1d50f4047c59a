"""What is done to the seed before it is sown, and how long before."""

from msgspec import Struct

from seedstart.crop_table.crop import Treat
from seedstart.planning.ask import Ask

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
    """

    says: str
    days: int
    need: str
    sources: tuple[str, ...] = ()


def treatments(ask: Ask) -> tuple[Treatment, ...]:
    """The treatments that get a date, in order of doing.

    Those the crop needs; those that help and take a night or two; and the grower's own. What only
    helps never costs weeks unasked: it is told as a reason, and no more.
    """
    own = _own(ask)
    taken = {treatment.says.split()[0] for treatment in own}
    from_table = [
        _treatment(treat)
        for treat in ask.crop.treat
        if treat.what not in ask.untreated and treat.what not in taken and _gets_a_date(treat)
    ]
    order = ("scarify", "stratify", "soak")
    found = [*own, *from_table]
    return tuple(sorted(found, key=lambda treatment: order.index(treatment.says.split()[0])))


def _own(ask: Ask) -> list[Treatment]:
    found = []
    if ask.scarify:
        found.append(Treatment("scarify", 0, "yours"))
    if ask.soak_hours:
        found.append(Treatment(f"soak {ask.soak_hours:g} h", _whole_days(ask.soak_hours), "yours"))
    if ask.stratify_days:
        days = round(ask.stratify_days)
        found.append(Treatment(f"stratify {days} days", days, "yours"))
    return found


def _gets_a_date(treat: Treat) -> bool:
    if treat.what == "stratify" and not _days(treat):
        return False  # nobody prints how long: it is told, and gets no date
    if treat.need == "needed":
        return True
    return treat.need == "helps" and _days(treat) <= _LONGEST_UNASKED_DAYS


def _treatment(treat: Treat) -> Treatment:
    if treat.what == "stratify":
        cold = f" at {treat.c.best:g} °C" if treat.c else ""
        says = f"stratify {_days(treat)} days{cold}"
    elif treat.what == "soak":
        says = f"soak {_hours(treat):g} h"
    else:
        says = "scarify"
    return Treatment(says, _days(treat), treat.need, treat.sources)


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
