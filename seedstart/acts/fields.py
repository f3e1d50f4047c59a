"""Fields that many acts have: a sowing, a place, a container; and what is told of them."""

from collections.abc import Callable, Sequence
from datetime import datetime
from typing import Final

from seedstart.acts.act import Field, Texts
from seedstart.acts.known import Known
from seedstart.acts.sheet import Sheet
from seedstart.days import long_day, short_day
from seedstart.problems import Problem
from seedstart.season.journal.entries import Counted
from seedstart.text import plural
from seedstart.tracking.standing import Standing
from seedstart.tracking.typed_names import find_sowing, tray_named


def _nothing(_known: Known, _texts: Texts) -> str:
    return ""


def _into(
    key: str, find: Callable[[Sheet, str], str | None]
) -> Callable[[str, Sheet], dict[str, str]]:
    """A reader of one name into one key."""

    def read(text: str, sheet: Sheet) -> dict[str, str]:
        found = find(sheet, text)
        return {} if found is None else {key: found}

    return read


def sowing_field(
    key: str = "sowing",
    label: str = "Sowing",
    says: str = "its name, or its lot's",
    *,
    need: str = "the name of the sowing",
    over_too: bool = False,
    rare: bool = False,
) -> Field:
    """The sowing that an act is on; where it may stay empty, another that it names."""
    return Field(
        key=key,
        label=label,
        says=says,
        read=_into(key, lambda sheet, text: sheet.sowing(text, over_too=over_too)),
        need=need,
        arg=bool(need),
        metavar="" if need else "SOWING",
        names=Known.sowings,
        only=True,
        default=(lambda known, _: known.subject_name("sowing")) if need else _nothing,
        told=lambda known, texts: told_of_sowing(known, texts, key),
        rare=rare,
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
    """The latest count of the sowing that is named."""
    one = sowing_meant(known, texts)
    if one is None:
        return ""
    if not one.counts:
        return f"not counted yet; {one.standing} stand" if one.standing else "not counted yet"
    count = one.counts[-1]
    seen = one.standing if count.entry.standing is None else count.entry.standing
    return f"last time: {seen} on {long_day(count.at.date())}; {one.standing} stand"


def what_field(
    *kinds: str, label: str = "What", says: str = "", need: str = "", key: str = "what"
) -> Field:
    """One field for a sowing, a tray, a station or a lot; the nearest to what was looked at."""

    def names(known: Known) -> Sequence[str]:
        of: dict[str, Callable[[], list[str]]] = {
            "station": known.stations,
            "tray": known.trays,
            "sowing": known.sowings,
            "lot": known.lots,
        }
        return list(dict.fromkeys(name for kind in kinds for name in of[kind]()))

    return Field(
        key=key,
        label=label,
        says=says or f"a {', '.join(kinds[:-1])} or {kinds[-1]}",
        read=lambda text, sheet: sheet.what(text, *kinds),
        need=need or f"the name of a {' or a '.join(kinds)}",
        arg=True,
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


def lot_field(
    names: Callable[[Known], Sequence[str]] = Known.lots,
    told: Callable[[Known, Texts], str] = _nothing,
    *,
    need: str = "the name of the lot",
) -> Field:
    """A lot."""
    return Field(
        key="lot",
        label="Lot",
        says="as on the label",
        read=_into("lot", Sheet.lot),
        need=need,
        arg=bool(need),
        metavar="" if need else "LOT",
        names=names,
        only=True,
        default=(lambda known, _: known.subject_name("lot")) if need else _nothing,
        told=told,
        makes="lot",
    )


def station_field(
    label: str = "Station",
    says: str = "where it stands",
    default: Callable[[Known, Texts], str] = _nothing,
    *,
    need: str = "",
    tacit: bool = False,
) -> Field:
    """A station; an argument where it has to be named."""
    return Field(
        key="station", label=label, says=says, read=_into("station", Sheet.station), need=need,
        arg=bool(need), metavar="" if need else "NAME", names=Known.stations, only=True,
        default=default, tacit=tacit, makes="station",
    )  # fmt: skip


def tray_field(
    says: str = "the tray, if it is in one",
    default: Callable[[Known, Texts], str] = _nothing,
    *,
    tacit: bool = False,
) -> Field:
    """A tray, known or new."""
    return Field(
        key="tray", label="Tray", says=says, read=_into("tray", Sheet.tray), metavar="NAME",
        names=Known.trays, default=default, tacit=tacit,
    )  # fmt: skip


def container_field() -> Field:
    """A container of the season."""
    return Field(
        key="container", label="Container", says="e.g. 9 cm pot, tray of 72",
        read=_into("container", Sheet.container), metavar="NAME", names=Known.containers, only=True,
    )  # fmt: skip


def text_field(key: str, label: str, says: str, *, into: str = "", rare: bool = False,
               names: tuple[str, ...] = ()) -> Field:  # fmt: skip
    """Words of the grower's own; some may be offered."""
    return Field(
        key=key, label=label, says=says, into=into or key, metavar="TEXT", rare=rare,
        names=lambda _: names,
    )  # fmt: skip


def number_field(key: str, label: str, says: str, *, rare: bool = False) -> Field:
    """A whole number."""
    return Field(key=key, label=label, says=says, into=key, metavar="N", rare=rare)


def word_field(key: str, label: str, says: str, words: tuple[str, ...], *, into: str = "",
               rare: bool = False) -> Field:  # fmt: skip
    """One of a few words."""
    return Field(
        key=key, label=label, says=says, into=into or key, metavar="|".join(words), rare=rare,
        names=lambda _: words, only=True,
    )  # fmt: skip


def yes_field(key: str, label: str, says: str, *, rare: bool = False) -> Field:
    """Yes or no; empty is no."""
    return Field(
        key=key, label=label, says=says, into=key, flag=True, rare=rare,
        names=lambda _: ("yes", "no"), only=True,
    )  # fmt: skip


# A count is taken for what stands for so long; after that more may have come up that nobody
# counted. Common practice, no source.
COUNT_HOLDS_DAYS: Final = 3


def plants_leave(sheet: Sheet, key: str, plants: int) -> None:
    """Ask where more plants go than stood at a fresh count, or than were sown.

    What was never counted, or long ago, is taken as come up uncounted.

    Args:
        sheet: The act; its sowing is read.
        key: The field of the number.
        plants: How many go, all told.
    """
    one = sheet.standing()
    if one is None or plants <= one.standing:
        return
    fresh = _counted_lately(one, sheet.moment)
    if not one.from_seed:
        sheet.ask(key, f"{one.standing} stand there, not {plants}.")
    elif fresh is not None:
        day = long_day(fresh.date())
        sheet.ask(key, f"{one.standing} stood on {day}, not {plants}; count them first if more do.")
    elif one.seeds is not None and not _clusters(sheet, one):
        gone = sum(one.left.values())
        if gone + plants > one.seeds:
            before = f", and {gone} went before" if gone else ""
            sheet.ask(key, f"{plural(one.seeds, 'seed')} were sown{before}; {plants} plants now?")


def plants_left(sheet: Sheet, key: str, left: int) -> None:
    """Ask where as many or more are said to be left than stood at a fresh count: none would go."""
    one = sheet.standing()
    if one is None or left < one.standing:
        return
    if left == one.standing or not one.from_seed or _counted_lately(one, sheet.moment):
        sheet.ask(key, f"{one.standing} stand, so none would go.")


def _counted_lately(one: Standing, moment: datetime) -> datetime | None:
    """When it was last said how many stand, if that was lately."""
    counts = [entry.at for entry in one.counted if entry.standing is not None]
    said = [act.at for act in one.acts if getattr(act, "left", None) is not None]
    last = max([*counts, *said], default=None)
    if last is None or (moment.date() - last.date()).days > COUNT_HOLDS_DAYS:
        return None
    return last


def _clusters(sheet: Sheet, one: Standing) -> bool:
    """Whether one seed of its crop gives several seedlings."""
    lot = sheet.known.plan.lots_by_name.get(one.lot or "")
    crop = sheet.known.plan.crops.crops.get(lot.crop) if lot else None
    return crop is not None and crop.seedlings_per_seed is not None


def counted_by_another_today(one: Standing, by: str, moment: datetime) -> Counted | None:
    """Another writer's count of the same day, the latest: a lower one disagrees with it."""
    last = one.counted[-1] if one.counted else None
    same_day = last is not None and last.at.date() == moment.date()
    return last if last is not None and same_day and by and last.by != by else None


def out_before_the_frost(sheet: Sheet) -> None:
    """Ask where what a frost kills is set out before its date, and was never hardened off."""
    # What is planned costs thirty milliseconds to load, and no other act asks for it.
    from seedstart.planning.calendar.crop_times import is_tender
    from seedstart.planning.calendar.season_rows import frost_of
    from seedstart.planning.hardening.hardening_status import was_out

    one, season, records = sheet.standing(), sheet.known.plan, sheet.known.records
    crop = season.crop_of(records.lot_of(one.id)) if one is not None else None
    if one is None or crop is None or not is_tender(crop):
        return
    frost = frost_of(season)
    if frost is None:
        return
    day = sheet.moment.date()
    if day >= (frost.trusted or frost.average) or was_out(one, season, records):
        return
    risk = frost.risk_left_percent(day)
    text = (
        f"{one.name} was not hardened off, a frost kills it, and one comes after {short_day(day)}"
    )
    sheet.ask("plants", f"{text} in {risk:.0f} % of years.")
