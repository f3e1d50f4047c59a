"""Fields that many forms have: a sowing, a place, a container; and what is told of them."""

from collections.abc import Callable, Sequence

from seedstart.app.forms.act import Field
from seedstart.app.forms.known import Known
from seedstart.app.forms.new_lot import NEW_LOT
from seedstart.app.forms.new_station import NEW_STATION
from seedstart.app.forms.slip import Texts
from seedstart.days import long_day
from seedstart.problems import Problem
from seedstart.text import plural
from seedstart.tracking.naming import find_sowing
from seedstart.tracking.standing import Standing
from seedstart.tracking.typed_names import tray_named


def sowing_field() -> Field:
    """The sowing that an act is on."""
    return Field(
        key="sowing",
        label="Sowing",
        says="its name, or its lot's",
        need=True,
        names=Known.sowings,
        only=True,
        default=lambda known, _: known.subject_name("sowing"),
        told=told_of_sowing,
    )


def sowing_meant(known: Known, texts: Texts, key: str = "sowing") -> Standing | None:
    """The sowing that stands in a field, if it can be found."""
    typed = texts.get(key, "")
    found = find_sowing(known.records, typed, file=key) if typed.strip() else ""
    if not found or isinstance(found, Problem):
        return None
    return known.records.by_name_in_line(found)


def told_of_sowing(known: Known, texts: Texts, key: str = "sowing") -> str:
    """What is known of a sowing: seeds, how many stand, where."""
    one = sowing_meant(known, texts, key)
    if one is None:
        return ""
    parts = [one.lot] if one.lot and one.lot != one.name else []
    if one.from_seed and one.seeds is not None:
        parts.append(f"{plural(one.seeds, 'seed')}")
    parts.append(f"{one.standing} stand")
    where = known.where(one)
    return ", ".join([*parts, *([where] if where else [])])


def last_count(known: Known, texts: Texts) -> str:
    """The latest count of a form's sowing."""
    one = sowing_meant(known, texts)
    if one is None:
        return ""
    if not one.counts:
        return f"not counted yet; {one.standing} stand" if one.standing else "not counted yet"
    count = one.counts[-1]
    seen = one.standing if count.entry.standing is None else count.entry.standing
    return f"last time: {seen} on {long_day(count.at.date())}; {one.standing} stand"


def what_field(*kinds: str, label: str = "What") -> Field:
    """A sowing, a tray or a station: one field for all, the nearest to what was looked at first."""

    def names(known: Known) -> Sequence[str]:
        of: dict[str, Callable[[], list[str]]] = {
            "station": known.stations,
            "tray": known.trays,
            "sowing": known.sowings,
            "lot": known.lots,
        }
        return list(dict.fromkeys(name for kind in kinds for name in of[kind]()))

    return Field(
        key="what",
        label=label,
        says=f"a {' or a '.join(kinds)}",
        need=True,
        names=names,
        only=True,
        default=lambda known, _: known.subject_name(*kinds),
        told=told_of_what,
    )


def told_of_what(known: Known, texts: Texts) -> str:
    """What stands in a tray or at a station; what is known of a sowing."""
    typed = texts.get("what", "").strip()
    if not typed:
        return ""
    records = known.records
    station = records.called.station(typed)
    if station in known.stations():
        return f"station: {_held(known, 'station', station)}"
    tray = tray_named(records, typed)
    if tray is not None:
        at = records.place(("tray", tray)).station_at()
        return f"tray{f' at {at}' if at else ''}: {_held(known, 'tray', tray)}"
    return told_of_sowing(known, texts, "what")


def _held(known: Known, kind: str, name: str) -> str:
    inside = known.records.sowings_in(("tray" if kind == "tray" else "station", name))
    if not inside:
        return "nothing grows there"
    names = [known.records.standings[one].name for one in inside]
    return f"{plural(len(names), 'sowing')}: {', '.join(names[:6])}{' …' if len(names) > 6 else ''}"


def lot_field(names: Callable[[Known], Sequence[str]] = Known.lots) -> Field:
    """A lot."""
    return Field(
        key="lot",
        label="Lot",
        says="what stands on the label",
        need=True,
        names=names,
        only=True,
        default=lambda known, _: known.subject_name("lot"),
        makes=NEW_LOT,
    )


def station_field(
    label: str = "Station",
    says: str = "where it stands",
    default: Callable[[Known, Texts], str] = lambda _known, _texts: "",
    *,
    need: bool = False,
) -> Field:
    """A station."""
    return Field(
        key="station", label=label, says=says, need=need, names=Known.stations, only=True,
        default=default, makes=NEW_STATION,
    )  # fmt: skip


def tray_field(says: str = "the tray, if it is in one") -> Field:
    """A tray, known or new."""
    return Field(key="tray", label="Tray", says=says, names=Known.trays)


def container_field() -> Field:
    """A container of the season."""
    return Field(
        key="container", label="Container", says="as 9 cm pot, tray of 72",
        names=Known.containers, only=True,
    )  # fmt: skip


def yes_field(key: str, label: str, says: str) -> Field:
    """Yes or no; empty is no."""
    return Field(key=key, label=label, says=says, names=lambda _: ("yes", "no"), only=True)
