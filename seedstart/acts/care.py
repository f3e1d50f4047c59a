"""Acts of care: water, feed, weigh, read, adjust, harden off, hold."""

import re
from typing import Final, get_args

from msgspec import structs

from seedstart.acts.act import IN_WORDS, Act, Field, Texts, Values, show_value
from seedstart.acts.fields import station_field, text_field, what_field, word_field, yes_field
from seedstart.acts.known import Known
from seedstart.acts.parsers import parse_reading, parse_spot
from seedstart.acts.sheet import Sheet
from seedstart.acts.values import one_of
from seedstart.days import long_day
from seedstart.growing.light.dose import Meter
from seedstart.season.journal.entries import (
    VALUE_RANGES,
    Adjusted,
    Fed,
    Hardened,
    Held,
    OfPlants,
    Poured,
    Quantity,
    Read,
    Watered,
    Weighed,
)
from seedstart.text import folded
from seedstart.units import Units, parse_temperatures, show_length, show_temperature

# In a grower's words → as a line calls it.
QUANTITIES: Final[dict[str, Quantity]] = {
    "medium": "soil_c",
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
_CARRIED: Final = ("tray", "sowing")

_ML: Final = Field(
    key="ml", label="How much", says="millilitres, if you measured, e.g. 400 or 1.5 l", into="ml",
    metavar="ML",
)  # fmt: skip
_PPM: Final = Field(
    key="ppm_n", label="Nitrogen", says="parts per million of N, e.g. 50", into="ppm_n",
    metavar="N",
)  # fmt: skip


def _poured_in_words(entry: Poured, _: Units) -> str:
    parts = [f"{entry.ml:g} ml" if entry.ml is not None else "", entry.what or ""]
    parts.append(f"{entry.ppm_n:g} ppm N" if entry.ppm_n is not None else "")
    return ", ".join(part for part in parts if part)


WATER: Final = Act(
    kind=Watered,
    name="water",
    about="a whole station, a tray or a sowing",
    example="'tray 5' --ml 400",
    fields=(
        what_field(*_EVERYTHING),
        _ML,
        text_field("with", "Of what", "tap, rain …", into="what"),
        structs.replace(_PPM, rare=True),
    ),
    asks="ml",
    on=_EVERYTHING,
    also="watered watering moist dry mist",
    says=_poured_in_words,
)
FEED: Final = Act(
    kind=Fed,
    name="feed",
    about="liquid feed for a whole station, a tray or a sowing",
    example="leek --ppm-n 50",
    fields=(
        what_field(*_EVERYTHING),
        _PPM,
        _ML,
        text_field("with", "Of what", "which feed, in your words", into="what"),
    ),
    asks="ppm_n",
    on=_EVERYTHING,
    also="fed feeding fertiliser fertilizer nitrogen",
    says=_poured_in_words,
)


def _grams_in_short(typed: str, _: Known) -> Texts:
    return {"grams": re.sub(r"(?<=\d)\s*grams?$", " g", typed, flags=re.IGNORECASE)}


# A tray loses and takes up water, not most of its weight. Common practice, no source.
_MOST_TIMES: Final = 4.0


def _far_from_before(sheet: Sheet) -> None:
    """A number that is no weight of this tray is another's: how many are up, it may be."""
    grams = sheet.values.get("grams")
    before = _weighed_last(sheet)
    if grams is None or before is None or not before.grams or not grams:
        return
    if not 1 / _MOST_TIMES <= grams / before.grams <= _MOST_TIMES:
        day = long_day(before.at.astimezone(sheet.known.now.tzinfo).date())
        sheet.ask(
            "grams",
            f"{grams:g} g? It weighed {before.grams:g} g on {day}. How many are up has a line of "
            "its own.",
        )


def _weighed_last(sheet: Sheet) -> Weighed | None:
    """The last weight of a tray."""
    tray = sheet.values.get("tray")
    weighed = sheet.known.records.place(("tray", tray)).weighed if tray else ()
    return weighed[-1] if weighed else None


WEIGH: Final = Act(
    kind=Weighed,
    name="weigh",
    about="a tray, as it is now, dry or soaked through",
    example="'tray 5' 1700 now",
    fields=(
        what_field(*_CARRIED),
        Field(
            key="grams", label="Weight", says="a weight above 0: 1700 (grams), 1.7 kg, 60 oz",
            into="grams", need="its weight in grams, e.g. 1700", arg=True,
        ),
        structs.replace(
            word_field("state", "State", "now, full (soaked and drained) or dry", _STATES),
            default=lambda _known, _texts: "now", tacit=True, arg=True, metavar="",
        ),
    ),
    checks=(_far_from_before,),
    asks="grams",
    short=_grams_in_short,
    short_says="moist if it can wait, or its weight in grams, e.g. 1700",
    on=_CARRIED,
    says=lambda entry, _: f"{entry.grams:g} g, {entry.state}",
)  # fmt: skip


def _quantity_by_unit(known: Known, texts: Texts) -> str:
    """What the unit says: a bare temperature is the medium's."""
    try:
        found = parse_reading(texts.get("value", ""), None, known.plan.units)[0]
    except ValueError:
        return "medium"
    return next(word for word, quantity in QUANTITIES.items() if quantity == found)


def _quantity(text: str) -> Quantity:
    """In a grower's words, or as a line calls it."""
    known = {word: word for word in VALUE_RANGES} | QUANTITIES | {"soil": "soil_c"}
    return known[folded(text)] if folded(text) in known else known[one_of(text, (*QUANTITIES,))]


def _is_quantity(text: str, _: Sheet) -> Values:
    """It says what the number is of, and fills nothing alone."""
    _quantity(text)
    return {}


def _value(text: str, sheet: Sheet) -> Values:
    """The number, and what it is of: the field for that says so, else the unit does."""
    said = sheet.text("quantity")
    try:
        of = _quantity(said) if said else None
    except ValueError:
        return {}  # said at that field
    quantity, value = parse_reading(text, of, sheet.known.plan.units)
    return {"quantity": quantity, "value": value}


_LIGHT: Final = frozenset({"ppfd_umol", "lux", "dli_mol"})
_METERS: Final[tuple[str, ...]] = get_args(Meter)
_METERS_IN_WORDS: Final[dict[Meter, str]] = {
    "quantum": "quantum meter",
    "lux": "lux meter",
    "phone": "phone",
}


def _spot(text: str, sheet: Sheet) -> Values:
    """From the left end and from the front, within the station where its size is said."""
    along, across = parse_spot(text, sheet.known.plan.units)
    station = sheet.known.plan.stations_by_name.get(sheet.values.get("station", ""))
    if station is not None and station.area_m is not None:
        long, wide = station.area_m
        if along > long or across > wide:
            raise ValueError(
                f"a spot on the {station.name}, from its left end and its front: it is "
                f"{long:g} x {wide:g} m"
            )
    return {"from_left_mm": round(along * 1000, 1), "from_front_mm": round(across * 1000, 1)}


def _meter_of_light(sheet: Sheet) -> None:
    if sheet.values.get("quantity") in _LIGHT:
        return
    for key in ("spot", "meter"):
        if sheet.text(key):
            sheet.say(key, "Only of light: ppfd, lux, dli.")


def _read_in_words(entry: Read, units: Units) -> str:
    spot = ""
    if entry.from_left_mm is not None and entry.from_front_mm is not None:
        along, across = (
            show_length(mm / 1000, units) for mm in (entry.from_left_mm, entry.from_front_mm)
        )
        spot = f", {along} from the left, {across} from the front"
    meter = f" ({entry.meter} meter)" if entry.meter in {"quantum", "lux"} else ""
    meter = " (phone)" if entry.meter == "phone" else meter
    return (
        f"{IN_WORDS[entry.quantity]} {show_value(entry.quantity, entry.value, units)}{spot}{meter}"
    )


READ: Final = Act(
    kind=Read,
    name="read",
    about="a temperature, light or humidity at a station or in a tray",
    example="'heat mat' 23.5C",
    fields=(
        what_field("station", "tray", label="Where"),
        Field(
            key="value", label="Reading", need="what you read, e.g. 23.5C, 8000lux, 60%",
            says="23.5C of the medium; 8000lux, 150umol, 60%, 1.8mS, 6.1pH", read=_value, arg=True,
        ),
        Field(
            key="quantity", label="Of", says=", ".join(QUANTITIES), only=True, metavar="NAME",
            names=lambda _: tuple(QUANTITIES), default=_quantity_by_unit, read=_is_quantity,
        ),
        Field(
            key="spot", label="Spot", says="of light: from the left and the front, 60 x 35 cm",
            read=_spot, metavar="PLACE", rare=True,
        ),
        word_field("meter", "Meter", "of light: quantum (µmol), lux, phone", _METERS, rare=True),
    ),
    checks=(_meter_of_light,),
    asks="value",
    on=("station", "tray"),
    also="reading temperature thermometer light meter lux humidity",
    says=_read_in_words,
)  # fmt: skip


def _expected(text: str, sheet: Sheet) -> Values:
    parse_temperatures(text, sheet.known.plan.units)
    return {"expected": text}


def _anything_set(sheet: Sheet) -> None:
    if not any(sheet.text(one.key) for one in sheet.act.fields[1:]):
        sheet.say(
            "mat", "Say what was changed: mat, thermostat, lamp, or the temperature to plan with."
        )


def _adjusted_in_words(entry: Adjusted, units: Units) -> str:
    """`lamps 14 h a day, 25 cm over the leaves; mat on`."""
    lamps = [f"{entry.lamp_hours:g} h a day"] if entry.lamp_hours is not None else []
    if entry.lamp_height_mm is not None:
        lamps.append(f"{show_length(entry.lamp_height_mm / 1000, units)} over the leaves")
    if entry.lamp_percent is not None:
        lamps.append(f"dimmed to {entry.lamp_percent:g} %")
    parts = [f"lamps {', '.join(lamps)}"] if lamps else []
    parts += [f"mat {entry.mat}"] if entry.mat else []
    if entry.thermostat_c is not None:
        parts.append(f"thermostat {show_temperature(entry.thermostat_c, units)}")
    parts += [f"plan with {entry.expected}"] if entry.expected else []
    return "; ".join(parts)


def _adjust_in_short(typed: str, _: Known) -> Texts:
    """`25 cm`, `14 h`, `70 %`, `24C`, `off`: the unit says what was set."""
    said = typed.strip().casefold()
    for units, key in _ADJUSTED_BY_UNIT:
        if re.fullmatch(rf"[\d.,]+\s*(?:{units})", said):
            return {key: said}
    return {"mat": said} if said in {"on", "off"} else {"lamp_height": said}


_ADJUSTED_BY_UNIT: Final = (
    ("mm|cm|m|in|ft", "lamp_height"),
    ("h|hours?", "lamp_hours"),
    ("%", "lamp_percent"),
    ("°?[cf]", "thermostat"),
)


ADJUST: Final = Act(
    kind=Adjusted,
    name="adjust",
    about="a lamp, mat or thermostat that was adjusted",
    example="'heat mat' --thermostat 24C",
    fields=(
        station_field(
            says="the station with that lamp or mat",
            need="the station with that lamp, mat or thermostat",
            default=lambda known, _: known.subject_name("station"),
        ),
        word_field("mat", "Mat", "on or off", ("on", "off")),
        Field(key="thermostat", label="Thermostat", says="e.g. 24C", into="thermostat_c",
              metavar="T"),
        Field(key="lamp_hours", label="Lamp hours", says="hours a day, from 0 to 24, e.g. 16",
              into="lamp_hours", metavar="H"),
        Field(key="lamp_height", label="Lamp height", says="above the leaves, e.g. 20 cm",
              into="lamp_height_mm", metavar="L"),
        Field(key="lamp_percent", label="Lamp dimmed", says="percent, from 0 to 100, e.g. 70",
              into="lamp_percent", metavar="P"),
        Field(key="expected", label="Plan with", says="e.g. 22C, or 21C day, 14C night",
              read=_expected, metavar="T"),
    ),
    checks=(_anything_set,),
    asks="mat",
    short=_adjust_in_short,
    short_says="the height over the leaves, e.g. 25 cm; or 14 h, 70 %, 24C, off",
    on=("station",),
    also="thermostat mat lamp heat light raise lower",
    says=_adjusted_in_words,
)  # fmt: skip

_HOURS: Final = re.compile(
    r"(.+?)(?:\s*,?\s*(?:(?:and|\+)\s*)?(?<![a-z])(night))?", re.IGNORECASE
)  # fmt: skip


def _hours_in_short(typed: str, _: Known) -> Texts:
    """`2`, `2.5 h`, `8 night`."""
    match = _HOURS.fullmatch(typed)
    if match is None:
        return {"hours": typed}
    return {"hours": match[1]} | ({"night": "yes"} if match[2] else {})


def _whom(entry: OfPlants) -> str:
    return entry.sowing or entry.tray or ""


def _hardened_in_words(entry: Hardened, _: Units) -> str:
    return f"{entry.hours:g} h{', the night too' if entry.night else ''}"


HARDEN: Final = Act(
    kind=Hardened,
    name="harden off",
    about="hours spent outdoors that day",
    example="leek 3 --night",
    fields=(
        what_field(*_CARRIED),
        Field(
            key="hours", label="Hours out", says="hours outdoors that day, from 0 to 24, e.g. 3",
            into="hours", need="how many hours they were outdoors, e.g. 3", arg=True,
        ),
        yes_field("night", "Night too", "yes, if they stayed out overnight"),
    ),
    asks="hours",
    short=_hours_in_short,
    short_says="hours outdoors, e.g. 2; 8 night if overnight; held: windy",
    on=_CARRIED,
    also="hardened outdoors outside bring brought in air aired sash ventilate",
    says=_hardened_in_words,
    confirms=lambda entries, known: "; ".join(
        f"put {_whom(one)} out for {_hardened_in_words(one, known.plan.units)}" for one in entries
    ),
)  # fmt: skip
HOLD: Final = Act(
    kind=Held,
    name="keep in",
    about="plants kept in on a day of hardening off",
    example="leek --why windy",
    fields=(
        what_field(*_CARRIED),
        structs.replace(
            text_field("why", "Why", "windy, too cold …",
                       names=("windy", "too cold", "heavy rain", "nobody there")),
            need="why they were kept in, e.g. windy",
        ),
    ),
    asks="why",
    on=_CARRIED,
    also="held kept bring brought in",
    says=lambda entry, _: entry.why,
    confirms=lambda entries, _: "; ".join(f"kept {_whom(one)} in: {one.why}" for one in entries),
)  # fmt: skip
