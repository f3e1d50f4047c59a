"""One act as it was filled in: names looked up, the moment, and everything wrong by field."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

from seedstart.acts.act import Act, Texts, Values
from seedstart.acts.known import Known
from seedstart.acts.parsers import parse_moment
from seedstart.days import long_day
from seedstart.problems import Problem
from seedstart.season.journal.entries import Counted
from seedstart.season.plan.names import Names, find_name, wrong_name
from seedstart.text import clean, folded, joined
from seedstart.tracking.history import standing_at
from seedstart.tracking.standing import Standing
from seedstart.tracking.typed_names import find_sowing, tray_named

AT, SURE = "at", "sure"


class Sheet:
    """What was typed into the fields of an act, while it is read.

    Attributes:
        act: Which.
        known: What may be named.
        given: Values that were computed, by the field that they stand for.
        field: The field that is being read.
        at: When it happened; None for now, or where that cannot be read.
        values: What was read so far, by the keys of the entry.
        problems: What is wrong, by field; the first of each.
        questions: Those of them that whoever is sure may write all the same.
    """

    def __init__(
        self, act: Act, known: Known, texts: Texts, given: Mapping[str, Values] | None = None
    ) -> None:
        unknown = texts.keys() - {one.key for one in act.fields} - {AT, SURE}
        if unknown:
            raise KeyError(f"{act.name} has no {', '.join(sorted(unknown))}")
        self.act, self.known, self.given = act, known, given or {}
        self.values: dict[str, Any] = {}
        self.problems: dict[str, Problem] = {}
        self.questions: set[str] = set()
        self._texts = {key: clean(text).strip() for key, text in texts.items()}
        for one in act.fields:
            if one.tacit and one.key not in texts and one.key not in self.given:
                self._texts[one.key] = one.default(known, self._texts)
        self.field = AT
        self.at: datetime | None = None
        when = self.text(AT)
        if when is not None:
            try:
                self.at = parse_moment(when, known.now)
            except ValueError as error:
                self.refuse(sentence(error))

    def text(self, key: str) -> str | None:
        """What stands in a field; None for nothing."""
        return self._texts.get(key) or None

    @property
    def moment(self) -> datetime:
        """When it happened."""
        return self.at or self.known.now

    # What is wrong

    def say(self, key: str, hint: str, allowed: Sequence[str] = (), *, listed_by: str = "") -> None:
        """Something is wrong with a field."""
        if key not in self.problems or key in self.questions:
            self.questions.discard(key)
            self.problems[key] = Problem(
                file=key, found=self.text(key), hint=hint, allowed=tuple(allowed),
                listed_by=listed_by,
            )  # fmt: skip

    def ask(self, key: str, hint: str, allowed: Sequence[str] = ()) -> None:
        """Something looks like a slip: whoever is sure writes it all the same."""
        if self.text(SURE) is None and key not in self.problems:
            self.say(key, hint, allowed)
            self.questions.add(key)

    def refuse(self, hint: str, allowed: Sequence[str] = (), *, listed_by: str = "") -> None:
        """Something is wrong with the field that is being read."""
        self.say(self.field, hint, allowed, listed_by=listed_by)

    # Names, as a line is to call what was meant

    def lot(self, typed: str) -> str | None:
        """A lot; as it was typed where lots.toml cannot be read."""
        if self.known.lots_wrong:
            return typed
        found = find_name(typed, Names(self.known.plan.lots), file="", lists="lots")
        return self._taken(found)

    def sowing(self, typed: str, *, over_too: bool = False) -> str | None:
        """A sowing that was there at that moment, or one that is over too."""
        found = find_sowing(self.known.records, typed, file="", at=self.at)
        if self.known.lots_wrong and isinstance(found, Problem) and found.listed_by:
            return typed  # one that only lots.toml would know
        name = self._taken(found)
        if name is not None and not over_too:
            self._ask_if_not_there(name)
        return name

    def station(self, typed: str) -> str | None:
        """A station."""
        stations = Names(self.known.plan.stations)
        return self._taken(find_name(typed, stations, file="", lists="season.toml"))

    def tray(self, typed: str) -> str | None:
        """A tray, known or new; a station's name is no tray's."""
        if Names(self.known.plan.stations).find(typed) is not None:
            self.refuse("That is a station.")
            return None
        known = tray_named(self.known.records, typed)
        if known is None and (why := wrong_name(typed)):
            self.refuse(why)
        return known or typed

    def container(self, typed: str) -> str | None:
        """A container of the season."""
        names = self.known.containers()
        found = next((name for name in names if folded(name) == folded(typed)), None)
        if found is None:
            self.refuse("", names, listed_by="season.toml")
        return found

    def what(self, typed: str, *kinds: str) -> dict[str, str]:
        """Something of one of these kinds, by the one name that fits: its kind and name."""
        kind, colon, name = typed.partition(":")
        if colon and folded(kind) in kinds and name.strip():
            return self._of_kind(folded(kind), name.strip())
        fits = self._fitting(typed)
        wanted = {kind: fits[kind] for kind in kinds if kind in fits}
        if len(wanted) > 1 and "lot" in wanted:  # only where nothing that grows bears the name
            del wanted["lot"]
        if len(wanted) == 1:
            ((kind, name),) = wanted.items()
            if kind == "sowing" and "lot" not in kinds:  # words may be about what is over
                self._ask_if_not_there(name)
            return wanted
        a_kind = joined([f"a {one}" for one in kinds], "or")
        if wanted:
            choices = [f"{kind}:{typed}" for kind in wanted]
            self.refuse("Several things have that name: say which.", choices)
        elif fits:
            self.refuse(f"That is a {next(iter(fits))}; give {a_kind}.")
        else:
            self._refuse_unknown(typed, kinds)
        return {}

    def _of_kind(self, kind: str, name: str) -> dict[str, str]:
        found = {
            "sowing": self.sowing, "tray": self.tray, "station": self.station, "lot": self.lot,
        }[kind](name)  # fmt: skip
        return {} if found is None else {kind: found}

    def _fitting(self, typed: str) -> dict[str, str]:
        """By its kind, what bears a name."""
        known = self.known
        sowing = find_sowing(known.records, typed, file="", at=self.at)
        found = {
            "sowing": None if isinstance(sowing, Problem) else sowing,
            "tray": tray_named(known.records, typed),
            "station": Names(known.plan.stations).find(typed),
            "lot": Names(known.plan.lots).find(typed),
        }
        return {kind: name for kind, name in found.items() if name is not None}

    def _refuse_unknown(self, typed: str, kinds: Sequence[str]) -> None:
        """Nothing bears the name, or several sowings do: the nearest of what would do."""
        sowing = find_sowing(self.known.records, typed, file="", at=self.at)
        if isinstance(sowing, Problem) and "More than one" in sowing.hint and "sowing" in kinds:
            self._taken(sowing)
            return
        names = {
            "sowing": sowing.allowed if isinstance(sowing, Problem) else (),
            "tray": self.known.trays(), "station": self.known.stations(), "lot": self.known.lots(),
        }  # fmt: skip
        new = " A tray is known once something is in it." if "tray" in kinds else ""
        hint = f"Name {joined([f'a {one}' for one in kinds], 'or')}.{new}"
        near = tuple(name for kind in kinds for name in names[kind])
        self.refuse(hint, near, listed_by="lots")

    def _taken(self, found: str | Problem) -> str | None:
        if isinstance(found, Problem):
            self.refuse(found.hint, found.allowed, listed_by=found.listed_by)
            return None
        return found

    # What stood at that moment

    def standing(self, name: str | None = None) -> Standing | None:
        """A sowing as it was at the moment; the one that was named."""
        called = name or self.values.get("sowing")
        one = self.known.records.by_name_in_line(called) if called else None
        return standing_at(self.known.records, one.id, self.at) if one else None

    def _say_too_early(self, one: Standing) -> None:
        day = long_day(one.at.date())
        if self.act.kind is Counted:
            self.say(AT, f"{one.name} was sown on {day}: it cannot have been counted before.")
        else:
            self.ask(self.field, f"It was not there before {day}.")

    def _ask_if_not_there(self, name: str) -> None:
        """What was not made yet, or over by then: another may have ended it meanwhile."""
        one = self.known.records.by_name_in_line(name)
        if one is None:
            return
        then = standing_at(self.known.records, one.id, self.at)
        if then is None:
            if self.moment.date() < one.at.date():  # of one day hardly anybody writes the hour
                self._say_too_early(one)
        elif then.over is not None and then.over <= self.moment:
            day = long_day(then.over.date())
            self.ask(
                self.field, f"It has been over since {day}; give the time of what happened before."
            )


def sentence(error: ValueError) -> str:
    """What an error says, as a sentence."""
    said = str(error)
    return f"{said[:1].upper()}{said[1:]}." if said else ""
