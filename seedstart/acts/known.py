"""What an act may name and what it takes for granted: the season as it is at that moment."""

from collections.abc import Callable, Mapping
from datetime import datetime
from functools import cached_property
from typing import TYPE_CHECKING, Any, Final

from msgspec import Struct, structs

from seedstart.problems import Problem
from seedstart.season.journal.entry import Subject
from seedstart.season.plan.season_file import Season
from seedstart.text import natural
from seedstart.tracking.records import Records
from seedstart.tracking.standing import Standing

if TYPE_CHECKING:
    from seedstart.planning.calendar.row import Row

_ORDER: Final = ("sowing", "tray", "station")


def _as_typed(key: str) -> str | Problem:
    return key


def _no_keys(_kind: str, _name: str = "") -> Mapping[str, Any]:
    return {}


class Known(Struct, frozen=True, dict=True):
    """The season in which something is written down.

    Attributes:
        plan: Its lots, stations, containers, crops.
        records: What happened.
        now: The moment, in the season's zone.
        look_up_rows: Makes its calendar; asked by the forms that need it.
        subject: What the grower was looking at: a sowing (by id or name), tray, station or lot.
        by: Who writes.
        keys_of: What the plan's files say of a lot, a station … by its name, key by key.
        lots_wrong: What is wrong in the plan: names that only lots.toml would know are written as
            they are typed.
        taken: Names that sowings of the same act have got: the next one gets a free one.
        check_named: The key of a check or an alert of the day, from it or its beginning.
    """

    plan: Season
    records: Records
    now: datetime
    look_up_rows: Callable[[], tuple["Row", ...]] = tuple
    subject: Subject | None = None
    by: str = ""
    taken: tuple[str, ...] = ()
    keys_of: Callable[..., Mapping[str, Any]] = _no_keys
    lots_wrong: tuple[Problem, ...] = ()
    check_named: Callable[[str], str | Problem] = _as_typed

    def about(self, subject: Subject | None) -> "Known":
        """The same, with what the grower was looking at."""
        return structs.replace(self, subject=subject)

    @cached_property
    def rows(self) -> "tuple[Row, ...]":
        """Its calendar, for what is due."""
        return self.look_up_rows()

    # Names that may be typed

    def sowings(self) -> list[str]:
        """Sowings alive, as a line is to call them: those looked at first, then the latest."""
        records = self.records
        alive = [one.id for one in reversed(records.standings.values()) if one.alive]
        kind, name = self.subject or ("season", "")
        if kind == "lot":
            near = {one.id for one in records.of_lot(name)}
        else:
            near = set(records.sowings_in((kind, name)))
        alive.sort(key=lambda sowing: sowing not in near)
        return [records.name_in_line(sowing) for sowing in alive]

    def trays(self) -> list[str]:
        """Trays in which something grows, then the others."""
        trays = (name for kind, name in self.records.places if kind == "tray")
        names = sorted(trays, key=natural)
        full = [name for name in names if self.records.sowings_in(("tray", name))]
        return full + [name for name in names if name not in full]

    def free_tray(self) -> str:
        """The number after the highest that a tray bears."""
        bears = (tray.removeprefix("tray ") for tray in self.trays() if tray.startswith("tray "))
        numbers = (int(number) for number in bears if number.isdecimal())
        return f"tray {max(numbers, default=0) + 1}"

    def stations(self) -> list[str]:
        """Stations in walking order."""
        return [one.name for one in self.plan.stations]

    def lots(self) -> list[str]:
        """Lots: those never sown first."""
        return sorted(
            (one.name for one in self.plan.lots), key=lambda name: bool(self.records.of_lot(name))
        )

    def containers(self) -> list[str]:
        """Containers, the season's own first."""
        return [one.name for one in self.plan.containers]

    # What was looked at

    def subject_name(self, *kinds: str) -> str:
        """The name of what was looked at, or of the nearest thing of one of these kinds.

        The tray of a sowing, the station of a tray; the other way only where there is but one.
        """
        if self.subject is None:
            return ""
        near = self._near()
        own = self.subject[0]
        order = (own, *(kind for kind in (*_ORDER, "lot") if kind != own))
        return next((near[kind] for kind in order if kind in kinds and near.get(kind)), "")

    def _near(self) -> dict[str, str]:
        kind, name = self.subject or ("season", "")
        records = self.records
        if kind == "lot":
            alive = [one for one in records.of_lot(name) if one.alive]
        elif kind == "sowing":
            found = self.standing(name)
            alive = [found] if found else []
        else:
            alive = [records.standings[one] for one in records.sowings_in((kind, name))]
        near: dict[str, str] = {} if kind == "sowing" else {kind: name}
        if len(alive) == 1:
            near.setdefault("sowing", records.name_in_line(alive[0].id))
            near.setdefault("lot", alive[0].lot or "")
            spot = records.spot(alive[0].id)
            near.setdefault("tray", (spot and spot.tray) or "")
            near.setdefault("station", (spot and spot.station) or "")
        elif kind == "tray":
            near.setdefault("station", records.place(("tray", name)).station_at() or "")
        return near

    def standing(self, sowing: str) -> Standing | None:
        """A sowing by its id, or as a line calls it."""
        return self.records.standings.get(sowing) or self.records.by_name_in_line(sowing)

    def where(self, standing: Standing) -> str:
        """Tray and station of a sowing, in words; empty somewhere nobody wrote down."""
        spot = self.records.spot(standing.id)
        if spot is None:
            return ""
        return ", ".join(name for name in (spot.tray, spot.station) if name)
