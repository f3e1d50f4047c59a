"""One form as it was filled in: its fields read, everything wrong gathered by field."""

from collections.abc import Callable, Mapping
from datetime import datetime
from typing import Final, TypeVar

from seedstart.app.forms.known import Known
from seedstart.days import long_day
from seedstart.problems import Problem
from seedstart.season.moments import parse_moment
from seedstart.season.typed import words
from seedstart.season.typed_values import PlantsLeaving, parse_leaving
from seedstart.text import folded
from seedstart.tracking.standing import Standing
from seedstart.tracking.typed_names import TypedNames

T = TypeVar("T")
Texts = Mapping[str, str]
_YES: Final = frozenset({"yes", "y", "true"})
_NO: Final = frozenset({"no", "n", "false"})


class Slip(TypedNames):
    """The fields of a form, by their keys; a problem bears the key of its field as its file.

    Attributes:
        known: What may be named.
        at: When it happened; None for now, or where that cannot be read.
    """

    def __init__(self, known: Known, texts: Texts) -> None:
        super().__init__(lambda: known.plan, lambda: known.records)
        self.known = known
        self._texts = {key: said for key, text in texts.items() if (said := words(text))}
        self.at: datetime | None = self.get("at", lambda text: parse_moment(text, known.now))

    @property
    def moment(self) -> datetime:
        """When it happened."""
        return self.at or self.known.now

    def text(self, key: str) -> str | None:
        """What stands in a field, cleaned; None for nothing."""
        return self._texts.get(key)

    def need(self, key: str, what: str) -> str:
        """The same for a field that may not stay empty; `what` says what belongs there."""
        said = self.text(key)
        if said is None:
            self.refuse(Problem(file=key, hint=f"It is missing: {what}."))
        return said or ""

    def get(self, key: str, parse: Callable[[str], T]) -> T | None:
        """The value of a field, or None where it is empty or wrong."""
        return self.read(key, self.text(key), parse)

    def say(self, key: str, hint: str, allowed: tuple[str, ...] = ()) -> None:
        """Refuse what stands in a field."""
        self.refuse(Problem(file=key, found=self.text(key), hint=hint, allowed=allowed))

    def yes(self, key: str) -> bool:
        """Whether a field says yes; empty is no."""
        said = folded(self.text(key) or "no")
        if said not in _YES | _NO:
            self.say(key, "", ("yes", "no"))
        return said in _YES

    def one_of(self, key: str, allowed: tuple[str, ...]) -> str | None:
        """One of a few words, or its beginning where that fits one alone; None for nothing."""
        said = self.text(key)
        if said is None:
            return None
        fits = [word for word in allowed if word.startswith(folded(said))]
        if folded(said) in allowed:
            return folded(said)
        if len(fits) != 1:
            self.say(key, "", allowed)
        return fits[0] if fits else None

    # Names

    def the_lot(self, key: str = "lot") -> str:
        """A lot that must be named."""
        said = self.need(key, "the name of the lot")
        return self.lot(said, key) if said else ""

    def the_sowing(self, key: str = "sowing") -> tuple[str, Standing | None]:
        """A sowing that must be named and was not over at that moment; as a line calls it."""
        said = self.need(key, "the name of the sowing")
        name = self.sowing(said, key) if said else ""
        standing = self.known.records.by_name_in_line(name) if name else None
        self._refuse_over(key, standing)
        return name, standing

    def _refuse_over(self, key: str, standing: Standing | None) -> None:
        """What was over by then cannot be acted on; another may have ended it meanwhile."""
        if standing is not None and standing.over is not None and standing.over <= self.moment:
            day = long_day(standing.over.date())
            self.say(key, f"It is over since {day}; what happened before needs its time.")

    def the_what(self, key: str, *kinds: str) -> dict[str, str]:
        """Something of one of these kinds (sowing, tray, station) that must be named."""
        wanted = f"a {' or a '.join(kinds)}"
        said = self.need(key, f"the name of {wanted}")
        if not said:
            return {"sowing": ""}
        found = self.what(said, key)
        kind, name = next(iter(found.items()))
        if name and kind not in kinds:
            self.say(key, f"That is a {kind}; name {wanted}.")
        elif kind == "sowing" and name:
            self._refuse_over(key, self.known.records.by_name_in_line(name))
        return found

    def a_station(self, key: str = "station") -> str | None:
        """A station, or nothing."""
        return self.station(self.text(key), key)

    def a_tray(self, key: str = "tray") -> str | None:
        """A tray, known or new, or nothing; a station's name is no tray's."""
        said = self.text(key)
        if said and self.known.records.called.stations.get(folded(said)):
            self.say(key, "That is a station.")
        return self.tray(said)

    def a_container(self, key: str = "container") -> str | None:
        """A container of the season, or nothing."""
        said = self.text(key)
        names = self.known.containers()
        if said is None:
            return None
        found = next((name for name in names if folded(name) == folded(said)), None)
        if found is None:
            refused = Problem(file=key, found=said, allowed=tuple(names), listed_by="season.toml")
            self.refuse(refused)
        return found

    # Plants

    def leaving(self, key: str, standing: Standing | None) -> PlantsLeaving:
        """How many plants go, or how many are left; never more than stand."""
        said = self.need(key, "how many plants, as 3; or how many stand after it, as 12 left")
        found = self.read(key, said or None, parse_leaving) or PlantsLeaving()
        if standing is None or self.at is not None:  # what stood then is not known here
            return found
        stand = standing.standing
        if found.plants is not None and found.plants > stand:
            self.say(key, f"Only {stand} stand; count them first if there are more.")
        elif found.left is not None and found.left >= stand:
            self.say(key, f"{stand} stand now, so none would go.")
        return found
