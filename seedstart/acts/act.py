"""What an act is made of: its fields, what has to fit together, what it says."""

from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING, Any, Final, Literal

from msgspec import Struct

from seedstart.acts.known import Known
from seedstart.season.journal.entries import BLANK, Entry, kind_in_lines
from seedstart.text import folded
from seedstart.units import Units

if TYPE_CHECKING:
    from seedstart.acts.sheet import Sheet
from seedstart.season.journal.place_entries import Quantity
from seedstart.season.plan.stations import StationKind
from seedstart.text import plural
from seedstart.units import show_temperature

Texts = Mapping[str, str]  # by field; not there: a tacit default holds; "": nothing is meant
Values = Mapping[str, Any]  # by key of the entry
_BEFORE_A_NAME: Final = (",", ", ", " into ", " to ")


def _no_names(_: Known) -> Sequence[str]:
    return ()


def _nothing(_known: Known, _texts: Texts) -> str:
    return ""


class Way(Struct, frozen=True):
    """Another option for a field: `--left 12` is `12 left` typed into `plants`.

    Attributes:
        text: What is typed into the field; {it} is what the option said, {own} what the field had.
        says: Its line of help.
        metavar: As in `N`.
        arg: It is an argument, before the field's own option.
    """

    text: str
    says: str
    metavar: str = "N"
    arg: bool = False


class Field(Struct, frozen=True, kw_only=True):
    """One thing that is asked for.

    Attributes:
        key: Its name for the program, in texts and problems; `--lamp-hours` is `lamp_hours`.
        label: Its name on the screen.
        says: What may be typed: shown while it is empty, and when it was out of bounds.
        into: The key of the entry that it fills, read as the type of the key says; or
        read: What was typed → the values of one key or several; ValueError says what would do.
        need: What is missing where nothing was typed; empty where it may stay empty.
        arg: On the command line it is an argument, in this order; the others are options.
        metavar: What stands for its value in the help of the command line.
        flag: Yes or no.
        many: Several arguments, joined by commas.
        listed: It holds several names, with commas between; the last one is completed.
        rare: In a form it comes below the time.
        names: What it may name; completed while typing.
        only: Nothing but those names will do, so that a beginning is enough.
        default: What stands in it until something is typed, from the other fields too.
        tacit: The default also holds where it was not shown before it is written.
        told: What is known of what was typed, shown beneath.
        makes: What a key makes for this field to name, where it is not there yet.
        ways: Other options of the command line for it, by name.
    """

    key: str
    label: str
    says: str = ""
    into: str = ""
    read: "Callable[[str, Sheet], Values] | None" = None
    need: str = ""
    arg: bool = False
    metavar: str = ""
    flag: bool = False
    many: bool = False
    listed: bool = False
    rare: bool = False
    names: Callable[[Known], Sequence[str]] = _no_names
    only: bool = False
    default: Callable[[Known, Texts], str] = _nothing
    tacit: bool = False
    told: Callable[[Known, Texts], str] = _nothing
    makes: Literal["", "lot", "station"] = ""
    ways: Mapping[str, Way] = {}

    def completed(self, typed: str, known: Known) -> str | None:
        """What was typed, with the first name that begins so; None where none does."""
        head, last = self._last_name(typed)
        begun = last.casefold()
        if not begun.strip():
            return None
        names = (name for name in self.names(known) if name.casefold().startswith(begun))
        name = next((name for name in names if len(name) > len(last)), None)
        return None if name is None else f"{head}{last}{name[len(last) :]}"

    def accepted(self, typed: str, known: Known) -> str:
        """What is meant on leaving the field: a beginning that only one name has stands for it."""
        if not self.only or self.listed:
            return typed
        wanted = folded(typed)
        fits = {name for name in self.names(known) if wanted and folded(name).startswith(wanted)}
        return fits.pop() if len(fits) == 1 else typed

    def begins_a_name(self, typed: str, known: Known) -> bool:
        """Whether what was typed so far is on its way to a name."""
        return self.completed(typed, known) is not None

    def fitting(self, typed: str, known: Known) -> list[str]:
        """The names that hold what was typed, all of them while nothing is."""
        wanted = folded(self._last_name(typed)[1])
        names = self.names(known)
        fits = [name for name in names if wanted in folded(name)]
        return fits if fits != [typed] else []

    def _last_name(self, typed: str) -> tuple[str, str]:
        """What stands before the name that is being typed, and the name so far."""
        if not self.listed:
            return "", typed
        starts = [typed.rfind(sign) + len(sign) for sign in _BEFORE_A_NAME if sign in typed]
        start = max(starts, default=0)
        return typed[:start], typed[start:]


def _one_entry(sheet: "Sheet") -> Sequence[Entry]:
    return [sheet.act.kind(**BLANK, **sheet.values)]


def _as_typed(typed: str, _: Known) -> Texts:
    raise ValueError(f"nothing is typed here, so not {typed!r}")


class Act(Struct, frozen=True, kw_only=True):
    """Something that can be written down.

    Attributes:
        kind: The entry that it writes; its name is the participle for `log` and the journal.
        name: The act in a word or two of the trade; no two are alike.
        about: What it is, for the list of acts.
        fields: In the order in which they are filled in.
        example: Of the command line, behind `seedstart log KIND`.
        checks: What has to fit together; each says what does not.
        make: What was read → the entries.
        asks: The field that is filled in by hand when all is known.
        short: What is typed into it in the round → texts; ValueError says what would do.
        short_says: What may be typed there.
        on: What it is done to: what was looked at decides which acts come first.
        also: Other words by which it is found.
        listed: It stands in the list of acts; else a key of a screen does it.
        says: The sentence behind the subject, of an entry; None for its keys and values.
        confirms: What was done, in plain words and verb first, once it stands in the journal; None
            for the kind, the subject and what `says` says.
    """

    kind: type[Entry]
    name: str
    about: str
    fields: tuple[Field, ...]
    example: str
    checks: "tuple[Callable[[Sheet], None], ...]" = ()
    make: "Callable[[Sheet], Sequence[Entry]]" = _one_entry
    asks: str = ""
    short: Callable[[str, Known], Texts] = _as_typed
    short_says: str = ""
    on: tuple[str, ...] = ()
    also: str = ""
    listed: bool = True
    says: Callable[[Any, Units], str] | None = None
    confirms: Callable[[Sequence[Any], Known], str] | None = None

    @property
    def command(self) -> str:
        """Its name behind `log`."""
        return kind_in_lines(self.kind.__name__).replace("_", "-")


IN_WORDS: Final[dict[Quantity, str]] = {
    "soil_c": "medium", "air_c": "air", "ppfd_umol": "PPFD", "lux": "light", "dli_mol": "DLI",
    "rh_percent": "humidity", "ec_ms_cm": "EC", "ph": "pH",
}  # fmt: skip
_UNITS: Final[dict[str, str]] = {
    "ppfd_umol": "µmol/m²s", "lux": "lx", "dli_mol": "mol/m²d", "rh_percent": "%",
    "ec_ms_cm": "mS/cm",
}  # fmt: skip


def show_value(quantity: str, value: float, units: Units = "metric") -> str:
    """A reading with its unit; a pH has none."""
    if quantity in {"soil_c", "air_c"}:
        return show_temperature(value, units)
    return f"{value:.4g} {_UNITS.get(quantity, '')}".rstrip()


# One stands on these and in the others; outdoors has no edge, and neither has one without a kind.
_ON: Final[frozenset[StationKind]] = frozenset({"shelf", "bench", "mat", "sill"})


def at_station(name: str, known: Known) -> str:
    """`on the heat mat`, `in the cold frame`, `at the yard tables`."""
    station = known.plan.stations_by_name.get(name)
    if station is None or station.kind == "outdoors":
        return f"at the {name}"
    return f"{'on' if station.kind in _ON else 'in'} the {name}"


def place_in_words(tray: str | None, station: str | None, known: Known) -> str:
    """`in tray 5, on the heat mat`; empty where neither is known."""
    if tray is not None and station is None:
        station = known.records.place(("tray", tray)).station_at()
    parts = [f"in {tray}" if tray else "", at_station(station, known) if station else ""]
    return ", ".join(filter(None, parts))


def stands_in_words(sowing: str, known: Known) -> str:
    """Where a sowing stands, as `place_in_words` has it."""
    one = known.standing(sowing)
    spot = known.records.spot(one.id) if one else None
    return place_in_words(spot.tray, spot.station, known) if spot else ""


def left_in_words(sowing: str, known: Known) -> str:
    """`13 left in tray M`; empty where nobody knows the sowing."""
    one = known.standing(sowing)
    if one is None:
        return ""
    spot = known.records.spot(one.id)
    place = f" in {spot.tray}" if spot and spot.tray and one.standing else ""
    return f"{one.standing or 'none'} left{place}"


def plants_of(plants: int | None, name: str) -> str:
    """`20 celeriac`; the name alone where no number was said."""
    return name if plants is None else f"{plants} {name}"


def seeds_of(seeds: int | None, about: int | None, grams: float | None, lot: str) -> str:
    """`24 seeds of leek`, `about 100 seeds of leek`, `2 g of leek`."""
    if grams is not None:
        return f"{grams:g} g of {lot}"
    return f"{plural(seeds, 'seed')} of {lot}" if seeds else f"about {about} seeds of {lot}"


def aside(*parts: str) -> str:
    """` (9 cm pot, 20 cells)`: what else was said; empty where nothing was."""
    said = ", ".join(filter(None, parts))
    return f" ({said})" if said else ""


def then(what: str, *more: str) -> str:
    """What was done, and what follows from it behind a semicolon."""
    return "; ".join(filter(None, (what, *more)))
