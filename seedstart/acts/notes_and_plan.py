"""Acts of words: notes, a lot's plan, the forecast, checks done and put off."""

import re
from collections.abc import Sequence
from datetime import date, timedelta
from typing import Any, Final

import tomli
from msgspec import structs

from seedstart.acts.act import Act, Field, Values, Way
from seedstart.acts.fields import lot_field, text_field, what_field
from seedstart.acts.known import Known
from seedstart.acts.sheet import Sheet
from seedstart.acts.values import NotAmongError
from seedstart.days import day_ahead, long_day, parse_day, short_day
from seedstart.problems import Problem
from seedstart.season.journal.entries import BLANK, Checked, Entry, Forecast, Noted, Planned, PutOff
from seedstart.season.plan.additions import check_lots
from seedstart.season.plan.lot import LOT_KEYS
from seedstart.season.plan.season_file import Season
from seedstart.text import joined
from seedstart.units import Units

ABOUT: Final = ("damping off", "mould", "gnats", "leggy", "wilted", "eaten", "yellow leaves")

NOTE: Final = Act(
    kind=Noted,
    name="note",
    about="a remark about a sowing, a tray, a station, a lot or the season",
    example="'white fluff' --about mould --tray 'tray 5'",
    fields=(
        structs.replace(
            text_field("text", "Words", "what you saw"), need="a word or two", arg=True
        ),
        text_field("about", "About", "mould, gnats, leggy …", names=ABOUT),
        structs.replace(
            what_field("sowing", "tray", "station", "lot", label="On"), need="", arg=False,
            metavar="NAME", ways={
                kind: Way(f"{kind}:{{it}}", f"The {kind} it is about.", "NAME")
                for kind in ("sowing", "tray", "station", "lot")
            },
        ),
    ),
    asks="text",
    on=("sowing", "tray", "station", "lot"),
    also="noted mould gnats leggy wilted remark spray sprayed price paid harvest",
    says=lambda entry, _: f"{entry.text}{f' ({entry.about})' if entry.about else ''}",
)  # fmt: skip


def _keys(text: str, _: Sheet) -> Values:
    """`want=80, station=shelf`: keys of lots.toml and their new values."""
    found: dict[str, Any] = {}
    for pair in re.split(r"\s*,\s*(?=\w+\s*=)", text):
        key, sign, value = (part.strip() for part in pair.partition("="))
        if not sign or key not in LOT_KEYS:
            raise NotAmongError(LOT_KEYS)
        found[key] = _as_in_toml(value)
    return {"to": found}


def _as_in_toml(value: str) -> object:
    """As a file would hold it; what is no TOML is text."""
    try:
        return tomli.loads(f"v = {value}")["v"]
    except (ValueError, RecursionError):  # of TOML, or of a number that nothing can hold
        return value


def _planned(sheet: Sheet) -> Sequence[Entry]:
    """Refused as lots.toml would be, with these keys in it."""
    plan, lot, to = sheet.known.plan, sheet.values["lot"], sheet.values["to"]
    said = sheet.known.keys_of("lot", lot)
    check_lots([{**said, **to}], _without(plan, lot), file="keys")
    return [Planned(**BLANK, lot=lot, to=to, said={key: said.get(key) for key in to})]


def _lots_are_read(sheet: Sheet) -> None:
    """What a lot says now goes into the entry."""
    if sheet.known.lots_wrong:
        sheet.say("lot", "lots.toml cannot be read; correct that first.")


def _without(plan: Season, lot: str) -> Season:
    return structs.replace(plan, lots=tuple(one for one in plan.lots if one.name != lot))


PLAN: Final = Act(
    kind=Planned,
    name="plan",
    about="another plan for a lot; dropped if you edit that line of lots.toml later",
    example="leek-giant want=80",
    fields=(
        lot_field(),
        Field(
            key="keys", label="Keys", says="e.g. want=80, station=shelf", read=_keys, arg=True,
            many=True, need="what is changed, e.g. want=80", metavar="KEY=VALUE",
            names=lambda _: tuple(f"{key}=" for key in LOT_KEYS), listed=True,
        ),
    ),
    checks=(_lots_are_read,),
    make=_planned,
    asks="keys",
    on=("lot",),
    also="planned change want",
    says=lambda entry, _: ", ".join(f"{key} {value}" for key, value in entry.to.items()),
)  # fmt: skip


def _any_weather(sheet: Sheet) -> None:
    if not any(sheet.text(one.key) for one in sheet.act.fields[1:]):
        sheet.say("tmin", "Give at least one of: lowest, highest, wind, gusts, rain, sun.")


def _weather(key: str, into: str, label: str, says: str, metavar: str) -> Field:
    return Field(key=key, label=label, says=says, into=into, metavar=metavar)


FORECAST: Final = Act(
    kind=Forecast,
    name="forecast",
    about="the weather forecast for a day",
    example="2027-05-02 --tmin 3C --wind 4",
    fields=(
        Field(
            key="day", label="Day", says="e.g. saturday, tomorrow, 2027-05-02", arg=True,
            read=lambda text, sheet: {"day": _day(text, sheet)},
            need="the day, e.g. 2027-05-02",
        ),
        _weather("tmin", "tmin_c", "Lowest", "e.g. 3C", "T"),
        _weather("tmax", "tmax_c", "Highest", "e.g. 14C", "T"),
        _weather("wind", "wind_ms", "Wind", "mean wind, m/s, from 0, e.g. 4", "MS"),
        _weather("gust", "gust_ms", "Gusts", "m/s, from 0, e.g. 12", "MS"),
        _weather("rain", "rain_mm", "Rain", "mm, from 0, e.g. 5", "MM"),
        _weather("sun", "sun_h", "Sun", "hours of sun, from 0 to 24", "H"),
    ),
    checks=(_any_weather,),
    asks="tmin",
    also="weather frost",
)  # fmt: skip


def _day(text: str, sheet: Sheet) -> date:
    today = sheet.known.now.date()
    if text.casefold() == "today":
        return today
    try:
        return parse_day(text)
    except ValueError:
        day = day_ahead(text, today)
        if day is None:
            raise
        return day


def _check(text: str, sheet: Sheet) -> Values:
    """The key of a check or an alert of the day; another is written all the same by who is sure."""
    found = sheet.known.check_named(text)
    if not isinstance(found, Problem):
        return {"check": found}
    sheet.ask("check", f"No check today has that key. {found.hint}".rstrip(), found.allowed)
    return {"check": text}


_CHECK: Final = Field(
    key="check", label="Check", says="its key, or how it begins", read=_check, arg=True,
    need="the key of the check, or how it begins", metavar="KEY",
)  # fmt: skip


def _until(text: str, sheet: Sheet) -> Values:
    day = day_ahead(text, sheet.known.now.date())
    if day is None:
        raise ValueError("a day ahead, e.g. saturday, 3 days, 2 weeks or 2027-03-27")
    return {"until": day}


# Which time a check comes, at the end of its key; the number of a tray is none.
_OCCURRENCE: Final = re.compile(r"(?: \d{4}-\d{2}-\d{2}(?: \d{2}:\d{2})?(?: \d+)?|(?<! tray) \d+)$")
_FORTNIGHT_DAYS: Final = 14
_WATER: Final = "water "
# What is said of a tray that was felt and needs no water.
MOIST: Final = re.compile(r"(?:still )?(?:moist|damp|wet)\b.*", re.IGNORECASE)


CHECK: Final = Act(
    kind=Checked,
    name="check",
    about="a check that leaves no other record, or an alert you have seen",
    example="'lamp on tray 5 shelf'",
    fields=(_CHECK,),
    also="seen done tick",
    confirms=lambda entries, _: f"ticked: {'; '.join(need_of(one.check) for one in entries)}",
    listed=False,
)


def need_of(check: str) -> str:
    """What a key stands for, without which time it is."""
    return _OCCURRENCE.sub("", check)


def _confirm_putting_off(entries: Sequence[PutOff], known: Known) -> str:
    """`put off till Wed 15 Apr, no true leaf yet: prick out celeriac`."""
    if all(one.check.startswith(_WATER) and MOIST.fullmatch(one.why or "") for one in entries):
        return _confirm_moist(entries, known)
    said: dict[str, list[str]] = {}
    for one in entries:
        text = f"put off till {_till(one, known)}{f', {one.why}' if one.why else ''}"
        said.setdefault(text, []).append(need_of(one.check))
    return "; ".join(f"{text}: {', '.join(needs)}" for text, needs in said.items())


def _confirm_moist(entries: Sequence[PutOff], known: Known) -> str:
    """`moist. Asked again tomorrow`; of several also which."""
    again: dict[str, list[str]] = {}
    for one in entries:
        is_next = _asked_on(one, known) == known.now.date() + timedelta(days=1)
        when = "tomorrow" if is_next else f"on {_till(one, known)}"
        again.setdefault(when, []).append(need_of(one.check).removeprefix(_WATER))
    if len(entries) == 1:
        return f"moist. Asked again {next(iter(again))}"
    return "; ".join(f"moist: {joined(those)}, asked again {when}" for when, those in again.items())


def _asked_on(entry: PutOff, known: Known) -> date:
    return entry.until or known.now.date() + timedelta(days=1)


def _till(entry: PutOff, known: Known) -> str:
    """`Wed 15 Apr` within a fortnight, with the year beyond."""
    day = _asked_on(entry, known)
    near = (day - known.now.date()).days < _FORTNIGHT_DAYS
    return f"{day:%a} {short_day(day)}" if near else long_day(day)


def _put_off_in_words(entry: PutOff, _: Units) -> str:
    till = f"till {long_day(entry.until)}" if entry.until else ""
    return ", ".join(filter(None, (till, entry.why)))


PUT_OFF: Final = Act(
    kind=PutOff,
    name="put off",
    about="a check left for later",
    example="'prick out celeriac' --till saturday --why 'no true leaf'",
    fields=(
        _CHECK,
        Field(key="till", label="Till", says="saturday, 3 days, 2027-03-27; else tomorrow",
              read=_until, metavar="DAY"),
        text_field("why", "Why", "no true leaf yet …"),
    ),
    also="later postpone",
    says=_put_off_in_words,
    confirms=_confirm_putting_off,
    listed=False,
)  # fmt: skip
