"""Forms of care: water, feed, weigh, read, adjust, harden off, hold, note."""

from collections.abc import Callable, Sequence
from typing import Any, Final

from msgspec import structs

from seedstart.app.forms.act import AT, EntryAct, Field
from seedstart.app.forms.known import Known
from seedstart.app.forms.slip import Slip, Texts
from seedstart.app.forms.usual import station_field, what_field, yes_field
from seedstart.problems import Problem
from seedstart.season.entries import (
    BLANK,
    Adjusted,
    Entry,
    Fed,
    Hardened,
    Held,
    Noted,
    Poured,
    Quantity,
    Read,
    Watered,
    Weighed,
)
from seedstart.season.names import Names
from seedstart.season.typed import parse_amount
from seedstart.season.typed_values import parse_reading
from seedstart.units import Units, parse_grams, parse_length, parse_temperature, parse_temperatures

ABOUT: Final = ("damping off", "mould", "gnats", "leggy", "wilted", "eaten", "yellow leaves")
# In a grower's words → as a line calls it.
_QUANTITIES: Final[dict[str, Quantity]] = {
    "soil": "soil_c",
    "air": "air_c",
    "ppfd": "ppfd_umol",
    "lux": "lux",
    "dli": "dli_mol",
    "humidity": "rh_percent",
    "ec": "ec_ms_cm",
    "ph": "ph",
}
_STATES: Final = ("now", "full", "dry")
_EVERYTHING: Final = ("station", "tray", "sowing")


def _from_nought(most: float, say: str, *, above: bool = False) -> Callable[[str], float]:
    """A reader of numbers from 0 (or above it) to `most`."""

    def parse(text: str) -> float:
        value = parse_amount(text)
        if not 0 <= value <= most or (above and value == 0):
            raise ValueError(say)
        return value

    return parse


def _poured(kind: type[Poured]) -> Callable[[Slip], Sequence[Entry]]:
    def make(slip: Slip) -> Sequence[Entry]:
        subject = slip.the_what("what", *_EVERYTHING)
        ml = slip.get("ml", _millilitres)
        ppm = slip.get("ppm", _from_nought(1e6, "parts per million, as 50"))
        slip.done()
        return [kind(**BLANK, ml=ml, ppm_n=ppm, what=slip.text("of"), **subject)]

    return make


def _millilitres(text: str) -> float:
    """`400`, `400 ml`, `1.5 l`."""
    said = text.strip().casefold().removesuffix("ml").strip()
    litres = said.endswith("l")
    say = "millilitres, as 400, or 1.5 l"
    try:
        amount = parse_amount(said.removesuffix("l"))
    except ValueError:
        raise ValueError(say) from None
    if not 0 <= amount <= 1e6:
        raise ValueError(say)
    return amount * 1000 if litres else amount


_ML = Field(key="ml", label="How much", says="millilitres, if you measured: 400; 1.5 l")

WATER = EntryAct(
    name="water",
    about="a whole station, a tray or a sowing",
    fields=(
        what_field(*_EVERYTHING),
        _ML,
        Field(key="of", label="Of what", says="tap, rain …"),
        AT,
    ),
    make=_poured(Watered),
    asks="ml",
    kinds=(Watered,),
    on=_EVERYTHING,
    also="watered moist",
)
FEED = EntryAct(
    name="feed",
    about="feed for a whole station, a tray or a sowing",
    fields=(
        what_field(*_EVERYTHING),
        Field(key="ppm", label="Nitrogen", says="ppm N, as 50"),
        _ML,
        Field(key="of", label="Of what", says="the feed, in your words"),
        AT,
    ),
    make=_poured(Fed),
    asks="ppm",
    kinds=(Fed,),
    on=_EVERYTHING,
    also="fed fertilizer nitrogen",
)


def _grams(text: str) -> float:
    """A bare number is grams."""
    say = "a weight above nought, as 1700, 1.7 kg, 60 oz"
    try:
        grams = parse_amount(text)
    except ValueError:
        try:
            grams = parse_grams(text)
        except ValueError:
            raise ValueError(say) from None
    if grams <= 0:
        raise ValueError(say)
    return round(grams, 3)


def _weighed(slip: Slip) -> Sequence[Entry]:
    subject = slip.the_what("what", "tray", "sowing")
    typed = slip.need("grams", "its weight in grams, as 1700")
    grams = slip.read("grams", typed or None, _grams)
    state = slip.one_of("state", _STATES) or "now"
    slip.done()
    draft: dict[str, Any] = {"grams": grams, "state": state, **subject}
    return [Weighed(**BLANK, **draft)]


WEIGH = EntryAct(
    name="weigh",
    about="a tray: as it is now, dry, or wet through",
    fields=(
        what_field("tray", "sowing"),
        Field(key="grams", label="Weight", says="grams, as 1700; or 1.7 kg", need=True),
        Field(
            key="state", label="State", says="now, full (wet through and drained), dry",
            names=lambda _: _STATES, only=True, default=lambda _known, _texts: "now",
        ),
        AT,
    ),
    make=_weighed,
    asks="grams",
    kinds=(Weighed,),
    on=("tray", "sowing"),
)  # fmt: skip


def _quantity_by_unit(known: Known, texts: Texts) -> str:
    """What the unit says: a bare temperature is the medium's."""
    try:
        found = parse_reading(texts.get("value", ""), None, known.plan.units)[0]
    except ValueError:
        return "soil"
    return next(word for word, quantity in _QUANTITIES.items() if quantity == found)


def _read(slip: Slip) -> Sequence[Entry]:
    subject = slip.the_what("what", "station", "tray")
    word = slip.one_of("quantity", tuple(_QUANTITIES))
    quantity, units = _QUANTITIES.get(word or ""), slip.known.plan.units
    typed = slip.need("value", "what you read, as 23.5C, 8000lux, 60%")
    found = slip.read("value", typed or None, lambda text: parse_reading(text, quantity, units))
    slip.done()
    if found is None:
        return []
    return [Read(**BLANK, quantity=found[0], value=found[1], **subject)]


READ = EntryAct(
    name="read",
    about="a temperature, light or humidity at a station or in a tray",
    fields=(
        what_field("station", "tray", label="Where"),
        Field(
            key="value", label="Reading", need=True,
            says="23.5C of the medium; 8000lux, 150umol, 60%, 1.8mS, 6.1pH",
        ),
        Field(
            key="quantity", label="Of", says=", ".join(_QUANTITIES), only=True,
            names=lambda _: tuple(_QUANTITIES), default=_quantity_by_unit,
        ),
        AT,
    ),
    make=_read,
    asks="value",
    kinds=(Read,),
    on=("station", "tray"),
    also="reading temperature thermometer light meter lux humidity",
)  # fmt: skip


def _adjusted(slip: Slip) -> Sequence[Entry]:
    units = slip.known.plan.units
    slip.need("station", "the station whose lamp, mat or thermostat it is")
    station = slip.a_station()
    set_: dict[str, Any] = {
        "mat": slip.one_of("mat", ("on", "off")),
        "thermostat_c": slip.get("thermostat", lambda text: parse_temperature(text, units)),
        "lamp_hours": slip.get("hours", _from_nought(24, "hours a day, from 0 to 24")),
        "lamp_height_mm": slip.get("height", lambda text: _height_mm(text, units)),
        "lamp_percent": slip.get("percent", _percent),
    }
    slip.get("expected", lambda text: parse_temperatures(text, units))
    set_["expected"] = slip.text("expected")
    keys = ("mat", "thermostat", "hours", "height", "percent", "expected")
    if not any(slip.text(key) for key in keys):
        slip.refuse(Problem(file="mat", hint="Say what was set: mat, thermostat, lamp, expected."))
    slip.done()
    return [Adjusted(**BLANK, station=station or "", **set_)]


def _height_mm(text: str, units: Units) -> float:
    height = round(parse_length(text, units) * 1000, 1)
    if height <= 0:
        raise ValueError("a height above the leaves, as 20 cm")
    return height


def _percent(text: str) -> float:
    return _from_nought(100, "percent, from 0 to 100")(text.strip().removesuffix("%"))


ADJUST = EntryAct(
    name="adjust",
    about="mat, thermostat or lamp of a station set anew",
    fields=(
        station_field(
            says="whose lamp or mat it is", need=True,
            default=lambda known, _: known.subject_name("station"),
        ),
        Field(key="mat", label="Mat", says="on or off", names=lambda _: ("on", "off"), only=True),
        Field(key="thermostat", label="Thermostat", says="as 24C"),
        Field(key="hours", label="Lamp hours", says="hours of light a day, as 16"),
        Field(key="height", label="Lamp height", says="over the leaves, as 20 cm"),
        Field(key="percent", label="Lamp dimmed", says="to so many percent, as 70"),
        Field(key="expected", label="Plan with", says="as 22C, or 21C day, 14C night"),
        AT,
    ),
    make=_adjusted,
    asks="mat",
    kinds=(Adjusted,),
    on=("station",),
    also="thermostat mat lamp heat light",
)  # fmt: skip


def _hardened(slip: Slip) -> Sequence[Entry]:
    subject = slip.the_what("what", "tray", "sowing")
    typed = slip.need("hours", "how many hours they stood out, as 3")
    hours = slip.read("hours", typed or None, _hours_out)
    night = slip.yes("night")
    slip.done()
    return [Hardened(**BLANK, hours=hours or 0.0, night=night, **subject)]


def _hours_out(text: str) -> float:
    bare = text.strip().casefold().removesuffix("hours").removesuffix("h")
    return _from_nought(24, "hours out that day, from 0 to 24")(bare)


HARDEN = EntryAct(
    name="harden off",
    about="hours outdoors that day",
    fields=(
        what_field("tray", "sowing"),
        Field(key="hours", label="Hours out", says="as 3", need=True),
        yes_field("night", "Night too", "yes, if they stayed out"),
        AT,
    ),
    make=_hardened,
    asks="hours",
    kinds=(Hardened,),
    on=("tray", "sowing"),
    also="hardened outdoors outside",
)


def _held(slip: Slip) -> Sequence[Entry]:
    subject = slip.the_what("what", "tray", "sowing")
    why = slip.need("why", "why they were kept in, as windy")
    slip.done()
    return [Held(**BLANK, why=why, **subject)]


HOLD = EntryAct(
    name="hold",
    about="kept in on a day of hardening off",
    fields=(
        what_field("tray", "sowing"),
        Field(
            key="why", label="Why", says="windy, too cold …", need=True,
            names=lambda _: ("windy", "too cold", "heavy rain", "nobody there"),
        ),
        AT,
    ),
    make=_held,
    asks="why",
    kinds=(Held,),
    on=("tray", "sowing"),
    also="held kept in",
)  # fmt: skip


def _noted(slip: Slip) -> Sequence[Entry]:
    text = slip.need("text", "a word or two")
    on = _noted_on(slip)
    slip.done()
    return [Noted(**BLANK, text=text, about=slip.text("about"), **on)]


def _noted_on(slip: Slip) -> dict[str, str]:
    """What a note is on; a lot too, where nothing that grows bears the name; or the season."""
    typed = slip.text("what")
    if typed is None:
        return {}
    lot, before = Names(slip.known.plan.lots).find(typed), len(slip.problems)
    found = slip.what(typed, "what")
    if len(slip.problems) > before and lot is not None and found == {"sowing": ""}:
        del slip.problems[before:]
        return {"lot": lot}
    return found


NOTE = EntryAct(
    name="note",
    about="words on a sowing, a tray, a station, a lot, or the season",
    fields=(
        Field(key="text", label="Words", says="what you saw", need=True),
        Field(key="about", label="About", says="mould, gnats, leggy …", names=lambda _: ABOUT),
        structs.replace(what_field("sowing", "tray", "station", "lot", label="On"), need=False),
        AT,
    ),
    make=_noted,
    asks="text",
    kinds=(Noted,),
    on=("sowing", "tray", "station", "lot"),
    also="noted mould gnats leggy wilted remark",
)

ACTS = (WATER, FEED, WEIGH, READ, ADJUST, HARDEN, HOLD, NOTE)
