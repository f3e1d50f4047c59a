"""What is known of one tray or station: where a tray stood, what was done there, what was read."""

from collections.abc import Iterator
from datetime import datetime
from typing import Literal

from msgspec import Struct

from seedstart.season.entry import Subject
from seedstart.tracking.meanings import CaredPlace
from seedstart.tracking.standing import Stay


class Place(CaredPlace, frozen=True, kw_only=True):
    """What is known of one tray or station; the care that it got itself is in order of (at, id).

    Attributes:
        subject: The tray or station by its present name.
        stays: Of a tray: the stations at which it stood, in order. What sowings say of it
            (sown in this tray at that station) counts too.
    """

    subject: Subject
    stays: tuple[Stay, ...] = ()

    def station_at(self, at: datetime | None = None) -> str | None:
        """Of a tray, the station at which it stood, or stands now; None before any was named."""
        if at is None:
            return self.stays[-1].where[1] if self.stays else None
        return next((stay.where[1] for stay in reversed(self.stays) if stay.since <= at), None)


class Spot(Struct, frozen=True, gc=False):
    """Tray and station at which a sowing was for a time.

    Attributes:
        since: From when on.
        until: Till when; None while it is there.
        tray: The tray it was in, if in one.
        station: Where it, or its tray, stood; None where nobody has said.
    """

    since: datetime
    until: datetime | None
    tray: str | None
    station: str | None

    @property
    def subjects(self) -> Iterator[Subject]:
        """The tray, then the station."""
        if self.tray is not None:
            yield "tray", self.tray
        if self.station is not None:
            yield "station", self.station


class Treated(Struct, frozen=True, gc=False):
    """Something that was done to a lot's seed before it was sown.

    Attributes:
        id: Of its entry; `sown` names it under `after`.
        lot: The lot by its present name.
        what: The treatment.
        since: When it began.
        until: When it was taken out; None while it lasts, and where nobody said so.
        hours: How long it is to last, hours.
        seeds: How many seeds.
        c: At what temperature, °C.
        liquid: In what, where that is not water.
        by: Who began it.
        ended_by: Who took it out.
    """

    id: str
    lot: str
    what: Literal["soaked", "stratified", "scarified"]
    since: datetime
    until: datetime | None = None
    hours: float | None = None
    seeds: int | None = None
    c: float | None = None
    liquid: str | None = None
    by: str = ""
    ended_by: str = ""
