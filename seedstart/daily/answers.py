"""A check and what was typed → the entries that it writes, or the problem to show on its line."""

from collections.abc import Collection, Mapping, Sequence
from datetime import date
from typing import Final

from msgspec import Struct, structs

from seedstart.daily import care_answers, plant_answers
from seedstart.daily.check import Alert, Asks, Check
from seedstart.daily.count_answers import SAY, SAY_SEVERAL, count_answer
from seedstart.daily.later import put_off
from seedstart.daily.typed import RefusedError
from seedstart.problems import Problem
from seedstart.season.entries import BLANK, Checked, Entry, makes
from seedstart.season.entry import Subject
from seedstart.season.names import Names, wrong_name
from seedstart.text import clean, folded
from seedstart.tracking.place import Place

_LONGEST = 1000


class Known(Struct, frozen=True):
    """What an answer may name.

    Attributes:
        today: The day it is given.
        stations: The season's stations.
        containers: Names of the season's containers.
        taken: Names that sowings bear or bore, so that a new one gets a free one.
        places: What is known of trays and stations.
        former_trays: Present names of trays, by folded present and former names.
    """

    today: date
    stations: Names
    containers: Sequence[str] = ()
    taken: Collection[str] = ()
    places: Mapping[Subject, Place] = {}
    former_trays: Mapping[str, str] = {}

    def place(self, typed: str) -> dict[str, str | None]:
        """How an entry names a place: a station by one of its names, else a tray, maybe new.

        With a tray that stands somewhere goes no station: what comes into it does not carry it.
        """
        station = self.stations.find(typed)
        if station is not None:
            return {"station": station}
        wanted = folded(typed.strip())
        trays = (name for kind, name in self.places if kind == "tray" and folded(name) == wanted)
        tray = next(trays, None) or self.former_trays.get(wanted)
        if tray is None:
            tray = typed.strip()
            if why := wrong_name(tray):
                raise RefusedError(why)
        known = self.places.get(("tray", tray))
        return {"tray": tray, "station": None} if known and known.stays else {"tray": tray}


def answer(check: Check, typed: str, known: Known) -> tuple[Entry, ...] | Problem:
    """The entries that an answer writes, as drafts in one act.

    Nothing typed is a tick. Whatever a check asks for, `put off: moist, not needed`,
    `put off: Saturday` leaves it for later. Text is cleaned here; what is written is plain.

    Args:
        check: The check, or a line that gathers several.
        typed: What stands in its field.
        known: What an answer may name.
    """
    text = clean(typed[:_LONGEST]).strip()
    try:
        off = put_off(check, text, known.today)
        if off is not None:
            return off
        return (
            _of_parts(check, known) if check.parts and not text else _answered(check, text, known)
        )
    except RefusedError as refused:
        found = text[:80] or None
        hint, key, ways = str(refused), refused.about, refused.ways
        return Problem(file=check.says, key=key, found=found, allowed=ways, hint=hint)


def _of_parts(check: Check, known: Known) -> tuple[Entry, ...]:
    """A tick of a line that gathers several ticks each of them that is not done."""
    entries: list[Entry] = []
    for part in check.parts:
        if not part.done:
            made = {name for entry in entries if (name := makes(entry))}
            entries += _answered(part, "", structs.replace(known, taken={*known.taken, *made}))
    return tuple(entries)


def _answered(check: Check, typed: str, known: Known) -> tuple[Entry, ...]:
    match check.asks:
        case "count":
            return _counts(check, typed)
        case "grams":
            return care_answers.grams_answer(check, typed)
        case "left":
            return plant_answers.thin_answer(check, typed)
        case "plants":
            return plant_answers.set_out_answer(check, typed)
        case "plants into":
            return plant_answers.prick_out_answer(check, typed, known.place, known.taken)
        case "seeds":
            return plant_answers.sow_answer(check, typed, known.place, known.taken)
        case "container":
            return plant_answers.pot_on_answer(check, typed, known.containers)
        case "heights":
            return care_answers.heights_answer(check, typed)
        case "hours":
            return care_answers.hours_answer(check, typed)
        case "station":
            return care_answers.station_answer(check, typed, known.stations)
        case "tick":
            return _ticked(check, typed)


def _counts(check: Check, typed: str) -> tuple[Entry, ...]:
    as_asked = check.what == "close" and typed == "=" and check.writes
    if typed and not as_asked:
        return count_answer(check, typed)
    if not check.writes:  # nothing but a look with nothing up may be ticked
        raise RefusedError(SAY)
    return check.writes


def _ticked(check: Check, typed: str) -> tuple[Entry, ...]:
    if typed:
        raise RefusedError("nothing is typed here: tick it, or put off and till when")
    return check.writes or (Checked(**BLANK, check=check.key),)


def how_to_answer(check: Check) -> str:
    """What a key does at a check, and what may be typed there, as one sentence."""
    if check.parts:
        together = all(part.done or part.asks == "tick" or part.writes for part in check.parts)
        tick = "Space ticks all of them" if together else "Each wants an answer of its own"
        return f"{tick}; Enter shows them."
    tick = "Space ticks it" if check.asks in {"tick", "seeds", "plants"} or check.writes else ""
    if check.what == "feel":
        tick = "Space says that you watered it"
    if check.what == "close" and check.writes:
        tick = "Space closes it: no more are counted"
    typed = f"Enter, and type {_SAY[check.asks]}" if check.asks in _SAY else ""
    if check.asks == "count" and len(check.sowings) > 1:
        typed = f"Enter, and type {SAY_SEVERAL}"
    text = "; or ".join(part for part in (tick, typed) if part)
    return f"{text[:1].upper()}{text[1:]}."


_SAY: Final[dict[Asks, str]] = {
    "count": SAY,
    "grams": care_answers.SAY_GRAMS,
    "left": plant_answers.SAY_LEFT,
    "plants": plant_answers.SAY_PLANTS,
    "plants into": plant_answers.SAY_INTO,
    "seeds": plant_answers.SAY_SEEDS,
    "container": "the container, as 9 cm pot",
    "heights": care_answers.SAY_HEIGHTS,
    "hours": care_answers.SAY_HOURS,
    "station": care_answers.SAY_STATION,
}


def seen(alert: Alert) -> Checked:
    """The entry that says that an alert was seen."""
    return Checked(**BLANK, check=alert.key)
