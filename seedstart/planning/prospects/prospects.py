"""How sowings are doing: what alerts, round, lots, curve, calendar and JSON ask, and none reckons.

What is to come of a sowing is found first (`to_come`), and is all that most checks ask; the chance
of the plants wanted and what to do about it (`prospect_advice`) follow for those asked about it.
"""

from collections.abc import Iterable, Iterator, Mapping
from datetime import date, datetime, timedelta
from typing import Any, Final

from msgspec import structs

from seedstart.crop_table.crop import Crop
from seedstart.growing.coming_up import coming_up
from seedstart.growing.emergence import TRAYS_OVER_TABLE
from seedstart.planning.calendar.crop_times import at_station
from seedstart.planning.calendar.season_today import ExpectedUp
from seedstart.planning.calendar.sowing_request import Where
from seedstart.planning.prospects.own_record import lost_of
from seedstart.planning.prospects.prospect import (
    LEVEL,
    SOW_AGAIN_UNDER,
    Advice,
    Known,
    Prospect,
    ToCome,
    looks_quiet,
    quiet_since,
    quiet_when_all_up,
    short_of,
)
from seedstart.planning.prospects.prospect_advice import (
    advice_of,
    enough_of,
    has_enough,
    lost_since_closed,
)
from seedstart.planning.prospects.remedies import better_places, days_at, last_day_to_sow
from seedstart.planning.prospects.to_come import (
    Begun,
    Reckoned,
    Subject,
    all_up,
    begun_of,
    crop_of,
    is_open,
    looks_of,
    window_of,
)
from seedstart.season.plan.season_file import Season
from seedstart.tracking.records import Records
from seedstart.tracking.standing import Standing
from seedstart.units import steady

_DAY: Final = timedelta(days=1)
_PLACES: Final = 81  # of a curve, where it is drawn


def prospect_of(standing: Standing, known: Known, *, drawn: bool = False) -> Prospect:
    """The prospect of one sowing from seed.

    Args:
        standing: It.
        known: The season, and what is known by now.
        drawn: Give the course by days too, for a curve.
    """
    begun = begun_of(standing, known, over=all_up(standing, known))
    return _prospect(standing, known, begun, drawn=drawn)


def _prospect(standing: Standing, known: Known, begun: Begun, *, drawn: bool = False) -> Prospect:
    """The prospect of a sowing of which it is known what is to come."""
    to_come, one, reckoned = begun
    found = Prospect(**_fields(to_come), **_as_seen(standing, to_come.zero, known))
    if one is None:
        return found
    if reckoned is not None:
        found = _judged(found, one, reckoned)
    if drawn:
        found = structs.replace(found, course=tuple(_course(found, one)))
    return structs.replace(found, advice=advice_of(found, standing, one.lot, one.crop, known))


def wanted_of(standing: Standing, season: Season) -> int | None:
    """Plants wanted of a sowing; None where nobody said, and of tests."""
    lot = season.lots_by_name.get(standing.lot or "")
    return lot.want if lot and standing.purpose != "test" else None


def _fields(to_come: ToCome) -> dict[str, Any]:
    return {name: getattr(to_come, name) for name in ToCome.__struct_fields__}


def _as_seen(standing: Standing, zero: datetime | None, known: Known) -> dict[str, Any]:
    """What was done and seen, before anything is reckoned."""
    looks = standing.counted
    return {
        "name": standing.name,
        "chilled": zero is not None and zero > standing.at,
        "days_now": (known.now - zero) / _DAY if zero else 0.0,
        "seeds": standing.seeds,
        "lost": lost_of(standing, known.records),
        "wanted": wanted_of(standing, known.season),
        "counts": tuple(_counts(standing, zero)),
        "looked_at": looks[-1].at if looks else None,
        "days_looked": len({look.at.date() for look in looks}),
    }


def _counts(standing: Standing, zero: datetime | None) -> Iterator[tuple[float, int]]:
    if zero is not None:
        for entry, emerged in zip(standing.counted, standing.emerged_by, strict=True):
            if entry.at > zero:
                yield (entry.at - zero) / _DAY, emerged


def _judged(found: Prospect, one: Subject, reckoned: Reckoned) -> Prospect:
    """The prospect with what its counts say of the plants wanted."""
    coming = reckoned.coming
    found = structs.replace(
        found,
        way=one.way.at(one.known.now),
        late_days=_late_days(one),
        first=window_of(coming.way_of(0.1, LEVEL), one.way),
        dead=coming.chance_of_none,
    )
    if found.unknown:
        return found
    found = structs.replace(found, rests_on=reckoned.expects.rests_on)
    if found.wanted is None:
        return found
    lie_there, expects, speed, _ = reckoned
    needed = found.wanted + found.lost
    at_sowing = coming_up(lie_there, expects.belief, speed)
    found = structs.replace(
        found,
        chance=coming.chance_of(needed - coming.up),
        chance_at_sowing=at_sowing.chance_of(found.wanted),
    )
    if found.chance is None or found.chance >= SOW_AGAIN_UNDER:
        return found
    before = coming_up(lie_there, expects.belief, speed, tuple(looks_of(one, before_last=True)))
    return structs.replace(found, chance_before=before.chance_of(needed - before.up))


def _late_days(one: Subject) -> int:
    """Days that the measured warmth costs against its station as planned; 0 where none was."""
    season, records, _, _, own = one.known
    expected = one.progress.expected
    name = records.station_of(one.standing.id, one.standing.at)
    name = name or records.station_of(one.standing.id)
    station = season.stations_by_name.get(name or "")
    if expected is None or one.progress.measured_until is None:
        return 0
    medium = station.expected if station and station.expected else steady(one.crop.tray_c.best)
    factor = own.counted if own else TRAYS_OVER_TABLE
    planned = at_station(one.crop, medium, factor).expected
    if planned is None:
        return 0
    return (expected.best - one.zero.date()).days - round(planned.best)


def _course(found: Prospect, one: Subject) -> Iterator[tuple[float, float]]:
    """Days since day zero and the way gone by then, to a little past the day of nine in ten."""
    ends = [found.days_now if found.is_open else 0.0, found.counted_on, 1.0]
    ends += [
        (window.latest - one.zero.date()).days * 1.1
        for window in (found.nine_in_ten, found.usual)
        if window is not None
    ]
    end = min(max(ends), max(4 * ends[-1], ends[0], ends[1]))
    for place in range(_PLACES):
        days = end * place / (_PLACES - 1)
        yield days, one.way.at(one.zero + days * _DAY)


def expected_up(found: Iterable[ToCome]) -> dict[str, ExpectedUp]:
    """What the calendar takes of prospects: by sowing, when it is expected up, and why."""
    return {
        one.sowing: ExpectedUp(one.expected, one.assumed)
        for one in found
        if one.expected is not None
    }


class Prospects(Mapping[str, Prospect]):
    """Prospects by sowing from seed, derived when somebody asks and kept till something moves."""

    def __init__(self, known: Known) -> None:
        """Know what they are derived from."""
        self._known = known
        self._begun: dict[str, Begun] = {}
        self._found: dict[str, Prospect] = {}
        self._all_up: dict[str, bool] = {}
        self._quiet: dict[str, date | None] = {}

    def renew(self, records: Records, touched: Iterable[str]) -> None:
        """Go on with other records, in which something new is said of some sowings.

        Others of their lots are looked at again too: one may have been replaced, or tested.
        """
        before, self._known = self._known.records, self._known._replace(records=records)
        lots = {
            one.lot
            for sowing in touched
            for one in (before.standings.get(sowing), records.standings.get(sowing))
            if one is not None
        }
        for lot in lots:
            for one in (*before.of_lot(lot or ""), *records.of_lot(lot or "")):
                for kept in (self._begun, self._found, self._all_up, self._quiet):
                    kept.pop(one.id, None)

    def sent_elsewhere(self) -> set[str]:
        """Those found that are to be carried away: where to hangs on how warm it is there."""
        found = ((sowing, one.advice) for sowing, one in self._found.items())
        return {sowing for sowing, one in found if one and one.what in {"warmer", "cooler"}}

    def __getitem__(self, sowing: str) -> Prospect:
        if sowing not in self._found:
            standing = self._known.records.standings[sowing]
            self._found[sowing] = _prospect(standing, self._known, self._begun_of(sowing))
        return self._found[sowing]

    def to_come(self, sowing: str) -> ToCome:
        """What is to come of a sowing from seed: what its prospect says of it, for less work."""
        return self._begun_of(sowing).to_come

    def more_is_expected(self, sowing: str) -> bool:
        """What `to_come` says of that, for far less work where it is plain."""
        return not self._is_all_up(sowing) and self.to_come(sowing).more_is_expected

    def none_is_expected(self, sowing: str) -> bool:
        """Whether it is known that none more is to be counted on."""
        if self._is_all_up(sowing):
            return True
        to_come = self.to_come(sowing)
        return to_come.chance_of_more is not None and not to_come.more_is_expected

    def quiet_since(self, sowing: str) -> date | None:
        """The day of the look since which its count may be closed; None while it goes on."""
        if sowing not in self._quiet:
            self._quiet[sowing] = self._quiet_since(self._known.records.standings[sowing])
        return self._quiet[sowing]

    def _quiet_since(self, one: Standing) -> date | None:
        if not looks_quiet(one):
            return None
        if self._is_all_up(one.id):
            return quiet_when_all_up(one)
        return quiet_since(one, self.to_come(one.id))

    def _is_all_up(self, sowing: str) -> bool:
        if sowing not in self._all_up:
            self._all_up[sowing] = all_up(self._known.records.standings[sowing], self._known)
        return self._all_up[sowing]

    def may_be_short(self, sowing: str) -> bool:
        """Whether it is worth asking if too few come: not where all that are wanted stand."""
        one = self._known.records.standings[sowing]
        return one.from_seed and not has_enough(*self._left_of(one))

    def short(self, sowing: str) -> int:
        """How many of the plants wanted of a sowing are not there, as its prospect has it."""
        up, lost, wanted = self._left_of(self._known.records.standings[sowing])
        return short_of(up, lost, wanted)

    def _left_of(self, one: Standing) -> tuple[int, int, int | None]:
        lost = lost_of(one, self._known.records)
        return one.emerged, lost, wanted_of(one, self._known.season)

    def advice(self, sowing: str) -> Advice | None:
        """What to do about a sowing; that enough are up is told without its prospect."""
        one = self._known.records.standings[sowing]
        up, lost, wanted = self._left_of(one)
        if (
            sowing not in self._found
            and wanted is not None
            and has_enough(up, lost, wanted)
            and self._is_waited_for(one)
            and self.quiet_since(sowing) is None
        ):
            return enough_of(up - lost, wanted)
        return self[sowing].advice

    def _is_waited_for(self, one: Standing) -> bool:
        """Whether its days are reckoned, and more may come."""
        season, records = self._known.season, self._known.records
        known = crop_of(one, season) is not None and records.day_zero(one.id) is not None
        return known and is_open(one, records)

    def better_places(self, crop: Crop, here: str) -> tuple[Where, ...]:
        """Where seed that lies at a station would be better off, the quickest place first."""
        return better_places(crop, here, self._known)

    def days_at(self, crop: Crop, station: str) -> float | None:
        """Days to come up at a station, as warm as it really is; None where it does not."""
        return days_at(crop, station, self._known)

    def last_day_to_sow(self, sowing: str, where: Where | None = None) -> date | None:
        """Until when the lot of a sowing may be sown again, there or at another place."""
        one = self._known.records.standings[sowing]
        lot = self._known.season.lots_by_name.get(one.lot or "")
        return last_day_to_sow(lot, one, self._known, where) if lot is not None else None

    def advice_on_lot(self, lot: str) -> Iterator[Advice]:
        """What to do about those sowings of a lot that may give too few."""
        for one in self._known.records.of_lot(lot):
            lost = lost_since_closed(one, self._known.records)
            waited = one.closed is None and one.alive
            if (waited or lost) and self.may_be_short(one.id):
                advice = self[one.id].advice
                if advice is not None:
                    yield advice

    def drawn(self, sowing: str) -> Prospect:
        """One with the course of its days, for a curve."""
        standing = self._known.records.standings[sowing]
        return _prospect(standing, self._known, self._begun_of(sowing), drawn=True)

    def _begun_of(self, sowing: str) -> Begun:
        if sowing not in self._begun:
            standing = self._known.records.standings[sowing]
            if not standing.from_seed:
                raise KeyError(sowing)
            over = self._is_all_up(sowing)
            self._begun[sowing] = begun_of(standing, self._known, over=over)
        return self._begun[sowing]

    def __iter__(self) -> Iterator[str]:
        every = self._known.records.standings.items()
        return (sowing for sowing, one in every if one.from_seed)

    def __len__(self) -> int:
        return sum(1 for _ in self)
