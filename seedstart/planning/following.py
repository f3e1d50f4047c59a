"""The calendar as it follows what happens: one more entry derives anew what it touches, no more.

What is derived depends on nothing but the moment it is derived of, so a season that was open all
morning shows what one opened afresh does.
"""

from collections.abc import Iterable, Iterator, Mapping
from datetime import date, datetime

from msgspec import Struct, field

from seedstart.planning.calendar.row import Row, by_sowing
from seedstart.planning.calendar.season_rows import frost_of, places_to_come_up
from seedstart.planning.calendar.season_today import as_set, lot_rows_today, row_for
from seedstart.planning.calendar.sowing_request import Where
from seedstart.planning.hardening.hardening_status import Hardening, hardening_of, row_as_hardened
from seedstart.planning.hardening.set_out_gate import ground_now
from seedstart.planning.known_weather import Weather
from seedstart.planning.prospects.own_record import NOTHING_OWN, OwnRecord
from seedstart.planning.prospects.prospect import Known
from seedstart.planning.prospects.prospects import Prospects, expected_up
from seedstart.planning.prospects.remedies import places_now
from seedstart.planning.prospects.to_come import own_factor_of, progress_of, warmth_of
from seedstart.season.journal.entry import Subject
from seedstart.season.journal.journal import collector_at_rest
from seedstart.season.journal.place_entries import Quantity
from seedstart.season.loggers.series import Readings
from seedstart.season.plan.lot import Lot
from seedstart.season.plan.season_file import Season
from seedstart.tracking.own_factor import OwnFactor
from seedstart.tracking.records import Records
from seedstart.tracking.standing import Standing
from seedstart.tracking.warmth import Progress, Warmth


class Underway(Mapping[str, Progress]):
    """Progress by sowing, of those in which more may come up; kept till it is forgotten."""

    def __init__(
        self,
        season: Season,
        records: Records,
        warmth: Warmth,
        now: datetime,
        own: OwnFactor | None = None,
    ) -> None:
        """Know what it is reckoned from; `emerging.progress_of` says what these are."""
        self._season, self._records, self._warmth = season, records, warmth
        self._now, self._own = now, own
        self._known: dict[str, Progress | None] = {}

    def renew(self, records: Records, touched: Iterable[str]) -> None:
        """Go on with other records, in which something new is said of some sowings."""
        self._records = records
        for sowing in touched:
            self._known.pop(sowing, None)

    def _reckoned(self, sowing: str) -> Progress | None:
        one = self._records.standings.get(sowing)
        if one is None or not one.alive or one.closed is not None:
            return None
        return progress_of(one, self._season, self._records, self._warmth, self._now, self._own)

    def __getitem__(self, sowing: str) -> Progress:
        if sowing not in self._known:
            self._known[sowing] = self._reckoned(sowing)
        found = self._known[sowing]
        if found is None:
            raise KeyError(sowing)
        return found

    def __iter__(self) -> Iterator[str]:
        return (sowing for sowing in self._records.standings if sowing in self)

    def __len__(self) -> int:
        return sum(1 for _ in self)


class Moment(Struct, frozen=True):
    """All that a calendar, and the round after it, is derived from.

    Attributes:
        season: The plan.
        records: What happened.
        readings: What loggers measured.
        forecasts: The weather as it is known, by day: measured, forecast or written down.
        today: The day.
        now: The hour; so that within it nothing has to be derived again.
    """

    season: Season
    records: Records
    readings: Readings
    forecasts: Weather
    today: date
    now: datetime


class Changed(Struct):
    """What was derived anew since somebody last looked.

    Attributes:
        everything: All of it.
        sowings: Sowings, by id: those of every lot that was touched.
        places: Trays and stations of which something new is known.
        lots: Lots.
    """

    everything: bool = False
    sowings: set[str] = field(default_factory=set)
    places: set[Subject] = field(default_factory=set)
    lots: set[str] = field(default_factory=set)


class Following:
    """Progress, rows and hardening off of a season, kept up.

    Attributes:
        rows: By lot, its sowings, planned or made.
        hardening: Who is at which step of hardening off, by the sowing's id.
        own: The grower's own factor; None where no sowing of theirs speaks.
    """

    def __init__(self) -> None:
        """Know nothing yet."""
        self.rows: dict[str, tuple[Row, ...]] = {}
        self.hardening: dict[str, Hardening] = {}
        self._at: Moment | None = None
        self.own: OwnFactor | None = None
        self._warmth: Warmth | None = None
        self._underway: Underway | None = None
        self._record: OwnRecord | None = None
        self._prospects: Prospects | None = None
        self._others: dict[str, Where] = {}
        self._changed = Changed(everything=True)

    @property
    def progress(self) -> Mapping[str, Progress]:
        """How far each sowing has come that may still come up, by its id."""
        return self._underway if self._underway is not None else {}

    @property
    def prospects(self) -> Prospects:
        """How every sowing from seed is doing, by its id; there once something was followed."""
        if self._prospects is None:
            raise ValueError("nothing is followed yet")
        return self._prospects

    @property
    def calendar(self) -> tuple[Row, ...]:
        """Every row by the day to sow; those without a date come last."""
        rows = (row for rows in self.rows.values() for row in rows)
        return tuple(sorted(rows, key=by_sowing))

    def hardening_in_order(self) -> tuple[Hardening, ...]:
        """Who is hardened off: what is carried out first, the farthest first."""
        found = self.hardening.values()
        return tuple(sorted(
            found, key=lambda one: (one.begun is None, one.place != "bench", one.due, one.name)
        ))  # fmt: skip

    def take_changed(self) -> Changed:
        """What was derived anew since this was last asked."""
        changed, self._changed = self._changed, Changed()
        return changed

    def follow(self, moment: Moment) -> None:
        """Derive what is new at a moment."""
        before, self._at = self._at, moment
        if self._warmth is None or before is None or before.season is not moment.season:
            self._warmth = warmth_of(moment.season, moment.readings)
        else:
            self._warmth.take_in(moment.readings)
        if before is None or self._underway is None or _differs(before, moment):
            self._all(moment)
            return
        measured = _measured_anew(before.readings, moment.readings)
        if before.records is moment.records and not measured:
            return
        places = _touched_places(before.records, moment.records)
        places |= {("station", station) for station, _ in measured}
        sowings = _touched_sowings(before.records, moment.records, places)
        if any(kind == "station" for kind, _ in places):
            sowings |= self.prospects.sent_elsewhere()
        if (
            self._own_factor_moved(moment, sowings)
            or _set_anew(before, moment)
            or places & _outdoors(moment.season)
        ):
            self._all(moment)
            return
        self._underway.renew(moment.records, sowings)
        self.prospects.renew(moment.records, sowings)
        # How old daughters are hangs on these.
        sowings = before.records.links.descent(sowings) | moment.records.links.descent(sowings)
        for one in sowings:  # what has lost its row, or its mother, is hardened off no more
            self.hardening.pop(one, None)
        lots = _lots_of(sowings, before.records, moment.records)
        listed = moment.season.lots_by_name
        if self._record is not None and self._record.renew(moment.season, moment.records, lots):
            lots |= self._to_sow()
        others, self._others = self._others, places_now(self._known_at(moment))
        if others != self._others:
            lots |= self._warned()
        self._derive(moment, [listed[name] for name in lots if name in listed])
        self._changed.places |= places
        if _air_anew(measured, places, moment.records):  # of the room, so of all in it
            self._changed.places |= {("station", one.name) for one in moment.season.stations}
        self._changed.sowings |= sowings

    def _all(self, moment: Moment) -> None:
        if self._warmth is None:
            raise ValueError("nothing is followed without warmth")
        self.own = own_factor_of(moment.season, moment.records, self._warmth, moment.now)
        self._underway = Underway(moment.season, moment.records, self._warmth, moment.now, self.own)
        self._record = OwnRecord(moment.season, moment.records)
        self._prospects = Prospects(self._known_at(moment))
        self._others = places_now(self._known_at(moment))
        self.rows, self.hardening = {}, {}
        with collector_at_rest():
            self._derive(moment, moment.season.lots)
        self._changed = Changed(everything=True)

    def _known_at(self, moment: Moment) -> Known:
        if self._warmth is None:
            raise ValueError("nothing is known without warmth")
        return Known(moment.season, moment.records, self._warmth, moment.now, self.own)

    def _warned(self) -> set[str]:
        """Lots that are warned of their place: which other one is named hangs on its warmth now."""
        every = self.rows.items()
        return {lot for lot, rows in every if any(row.problem or row.warnings for row in rows)}

    def _to_sow(self) -> set[str]:
        """Lots of which something is still to be sown: how many seeds rests on the other lots."""
        every = self.rows.items()
        return {lot for lot, rows in every if any(row.sowing_id is None for row in rows)}

    def _own_factor_moved(self, moment: Moment, sowings: set[str]) -> bool:
        """A sowing that was closed, or opened again, may move the grower's own factor."""
        standings = moment.records.standings
        closed = any(one in standings and standings[one].closed for one in sowings)
        if self._warmth is None or not (closed or self.own):
            return False
        before = self.own
        self.own = own_factor_of(moment.season, moment.records, self._warmth, moment.now)
        return self.own != before

    def _derive(self, moment: Moment, lots: Iterable[Lot]) -> None:
        """Rows and hardening off of some lots."""
        season, records, today = moment.season, moment.records, moment.today
        ground_c = ground_now(season, records, moment.readings, moment.now)
        season = as_set(season, records, today)
        frost, places = frost_of(season), places_to_come_up(season)
        for lot in lots:
            sowings = records.of_lot(lot.name)
            waiting = (one.id for one in sowings if one.from_seed and one.up_since is None)
            expected = expected_up(self.prospects.to_come(one) for one in waiting)
            self.rows[lot.name] = tuple(
                lot_rows_today(
                    lot,
                    season,
                    records,
                    expected,
                    today,
                    frost,
                    places,
                    self.own,
                    self._record.of(lot, season) if self._record else NOTHING_OWN,
                    self._others,
                )
            )
            self._changed.lots.add(lot.name)
            self._changed.sowings |= {one.id for one in sowings}
            self._derive_hardening(sowings, moment, ground_c)
            if any(one.id in self.hardening for one in sowings):
                self.rows[lot.name] = tuple(
                    row_as_hardened(row, self._hardened_of(row, sowings, records))
                    for row in self.rows[lot.name]
                )

    def _hardened_of(
        self, row: Row, sowings: Iterable[Standing], records: Records
    ) -> Iterator[Hardening]:
        """What of a row is being hardened off."""
        for one in sowings:
            if one.id in self.hardening and row_for(one.id, self.rows, records) is row:
                yield self.hardening[one.id]

    def _derive_hardening(
        self, sowings: Iterable[Standing], moment: Moment, ground_c: float | None
    ) -> None:
        records, season = moment.records, moment.season
        for one in sowings:
            self.hardening.pop(one.id, None)
            row = row_for(one.id, self.rows, records)
            if row is None or not one.alive:
                continue
            found = hardening_of(
                one, row, season, records, moment.forecasts, moment.today, ground_c
            )
            if found is not None:
                self.hardening[one.id] = found


def _differs(before: Moment, now: Moment) -> bool:
    """Whether more is new than entries about sowings and places, and readings."""
    return not (
        before.season is now.season
        and before.today == now.today
        and before.now == now.now
        and before.forecasts == now.forecasts
    )


def _measured_anew(before: Readings, now: Readings) -> set[tuple[str, Quantity]]:
    """Series of which something is new."""
    if before is now:
        return set()
    every = before.keys() | now.keys()
    return {key for key in every if before.get(key) is not now.get(key)}


def _air_anew(measured: set[tuple[str, Quantity]], places: set[Subject], records: Records) -> bool:
    """Whether something new is known of the air anywhere, by a logger or by hand."""
    by_hand = (entry for place in places for entry in records.place(place).readings[-1:])
    return any(quantity == "air_c" for _, quantity in measured) or any(
        entry.quantity == "air_c" for entry in by_hand
    )


def _set_anew(before: Moment, now: Moment) -> bool:
    """Whether a station got another temperature: it moves what is still to be sown there."""
    was, is_ = (as_set(one.season, one.records, one.today) for one in (before, now))
    return was.stations != is_.stations


def _outdoors(season: Season) -> set[Subject]:
    """Where the ground is measured: it speaks for or against setting out all that wait."""
    return {("station", one.name) for one in season.stations if one.kind == "outdoors"}


def is_new(before: object, now: object) -> bool:
    """Whether something is another than before: what was joined again may be equal."""
    return before is not now and before != now


def _touched_places(before: Records, now: Records) -> set[Subject]:
    return {
        subject
        for subject in before.places.keys() | now.places.keys()
        if is_new(before.places.get(subject), now.places.get(subject))
    }


def _touched_sowings(before: Records, now: Records, places: set[Subject]) -> set[str]:
    """Sowings of which something is new, or of a place where they are or were."""
    found = set()
    if before.standings is not now.standings:
        found = {
            one
            for one in before.standings.keys() | now.standings.keys()
            if is_new(before.standings.get(one), now.standings.get(one))
        }
    trays = before.links.trays_ever_at(places) | now.links.trays_ever_at(places)
    found |= now.links.ever_in(places | trays)
    if before.identity is not now.identity:
        found |= {
            one
            for one in now.standings
            if one not in before.standings or before.name_in_line(one) != now.name_in_line(one)
        }
    treated = {
        now.treatments[one].lot if one in now.treatments else before.treatments[one].lot
        for one in before.treatments.keys() | now.treatments.keys()
        if before.treatments.get(one) != now.treatments.get(one)
    }
    found |= {one.id for lot in treated for one in now.of_lot(lot)}
    return found


def _lots_of(sowings: set[str], before: Records, now: Records) -> set[str]:
    """The lots of these, as they are and as they were."""
    return {
        lot
        for records in (before, now)
        for one in sowings
        if (lot := records.lot_of(one)) is not None
    }
