"""How sowings are doing: what alerts, round, lots, curve, calendar and JSON ask, and none reckons.

Share and speed are unknown; every count moves both (`growing.coming_up`). What to do about it
follows in `prospect_advice`.
"""

from collections.abc import Iterable, Iterator, Mapping
from datetime import datetime, timedelta
from math import log
from typing import Final, NamedTuple

from msgspec import structs

from seedstart.crop_table.crop import Crop
from seedstart.days import Window
from seedstart.growing.coming_up import Span, coming_up
from seedstart.growing.emergence import TRAYS_OVER_TABLE, TRAYS_SD
from seedstart.growing.tried_speeds import DugUp, Look, Speed
from seedstart.planning.crop_times import at_station
from seedstart.planning.emerging import crop_of, emerging_of, progress_of
from seedstart.planning.lot_germination import Expectation, expected_germination
from seedstart.planning.own_record import of_lot
from seedstart.planning.prospect import LEVEL, SOW_AGAIN_UNDER, Advice, Known, Prospect
from seedstart.planning.prospect_advice import advice_of, has_enough
from seedstart.planning.season_today import ExpectedUp
from seedstart.season.lot import Lot
from seedstart.tracking.own_factor import ONE_SOWING_SD, OwnFactor
from seedstart.tracking.records import Records
from seedstart.tracking.standing import Standing
from seedstart.tracking.warmth import Progress, Way
from seedstart.units import steady

__all__ = ["Advice", "Known", "Prospect", "Prospects", "prospect_of"]

_DAY: Final = timedelta(days=1)
# A printed range in trays holds the half of eight sowings in ten: 2.563 sd. Common practice.
_RANGE_SD: Final = 2.563
# Where the seeds were not counted so many are taken to lie there, for the days alone. Common
# practice, no source.
_SOME_SEEDS: Final = 20
_PLACES: Final = 81  # of a curve, where it is drawn


class _Subject(NamedTuple):
    """One sowing with what belongs to it."""

    standing: Standing
    lot: Lot
    crop: Crop
    zero: datetime
    way: Way
    progress: Progress
    known: Known


def prospect_of(standing: Standing, known: Known, *, drawn: bool = False) -> Prospect:
    """The prospect of one sowing from seed.

    Args:
        standing: It.
        known: The season, and what is known by now.
        drawn: Give the course by days too, for a curve.
    """
    found = _as_seen(standing, known)
    season, records, warmth, now, own = known
    progress = progress_of(standing, season, records, warmth, now, own)
    one = _subject(standing, known, progress)
    if one is None or progress is None:
        return structs.replace(found, unknown=_why_none(standing, known))
    found = structs.replace(found, progress=progress, assumed=progress.assumed)
    if progress.expected is None:
        found = structs.replace(found, unknown=_nothing_comes(found))
    else:
        found = _reckoned(found, one)
    if drawn:
        found = structs.replace(found, course=tuple(_course(found, one)))
    return structs.replace(found, advice=advice_of(found, standing, one.lot, one.crop, known))


def _nothing_comes(found: Prospect) -> str:
    """What is said where at that warmth nothing is dated."""
    what = "No more of it" if found.up else "Nothing of it"
    return f"{what} is expected up at that warmth."


def is_open(standing: Standing, records: Records) -> bool:
    """Whether more is waited for in a sowing: not closed, not finished, not replaced by another."""
    if not standing.from_seed or not standing.alive or standing.closed is not None:
        return False
    return replaced_by(standing, records) is None


def replaced_by(standing: Standing, records: Records) -> Standing | None:
    """The sowing that was sown in place of this one; None where there is none."""
    others = records.of_lot(standing.lot) if standing.lot else ()
    return next(
        (
            one
            for one in others
            if one.instead_of and records.by_name_in_line(one.instead_of) == standing
        ),
        None,
    )


def lost_of(standing: Standing, records: Records) -> int:
    """Of what came up in a sowing, how many died, wherever they stood, or are of another lot.

    Of plants that were mixed up with those of others nobody knows whose died.
    """
    found, more = standing.lost, list(records.daughters(standing.id))
    while more:
        one = more.pop()
        if len(one.mothers) > 1:
            continue
        if records.lot_of(one.id) != records.lot_of(standing.id):
            found += one.plants
            continue
        found += one.lost
        more += records.daughters(one.id)
    return min(found, standing.emerged)


def _as_seen(standing: Standing, known: Known) -> Prospect:
    """What was done and seen, before anything is reckoned."""
    zero = known.records.day_zero(standing.id)
    lot = known.season.lots_by_name.get(standing.lot or "")
    looks = list(standing.counted)
    return Prospect(
        sowing=standing.id,
        name=standing.name,
        lot=standing.lot,
        zero=zero,
        chilled=zero is not None and zero > standing.at,
        days_now=(known.now - zero) / _DAY if zero else 0.0,
        seeds=standing.seeds,
        up=standing.emerged,
        lost=lost_of(standing, known.records),
        wanted=lot.want if lot and standing.purpose != "test" else None,
        counts=tuple(_counts(standing, zero)),
        looked_at=looks[-1].at if looks else None,
        days_looked=len({look.at.date() for look in looks}),
        is_open=is_open(standing, known.records),
    )


def _counts(standing: Standing, zero: datetime | None) -> Iterator[tuple[float, int]]:
    if zero is not None:
        for entry, emerged in zip(standing.counted, standing.emerged_by, strict=True):
            if entry.at > zero:
                yield (entry.at - zero) / _DAY, emerged


def _subject(standing: Standing, known: Known, progress: Progress | None) -> _Subject | None:
    zero, crop = known.records.day_zero(standing.id), crop_of(standing, known.season)
    lot = known.season.lots_by_name.get(standing.lot or "")
    if zero is None or crop is None or lot is None or progress is None:
        return None
    way = known.warmth.way(standing.id, known.records, emerging_of(crop), known.now)
    return None if way is None else _Subject(standing, lot, crop, zero, way, progress, known)


def _why_none(standing: Standing, known: Known) -> str:
    if known.records.day_zero(standing.id) is None:
        return "Its seed is in the cold: its days have not begun."
    if crop_of(standing, known.season) is None:
        return "Its lot is not in lots.toml."
    return "Its days are not reckoned."


def _reckoned(found: Prospect, one: _Subject) -> Prospect:
    """The prospect with what its counts say."""
    seeds, unknown = _seeds(one.standing, one.crop)
    looks, dug = tuple(_looks(one)), tuple(_dug(one))
    gone = sum(part.sound + part.soft for part in dug)
    lie_there = max(seeds or _SOME_SEEDS, one.standing.emerged + gone)
    speed, expects = speed_of(one.crop, one.known.own), _expects(one)
    coming = coming_up(lie_there, expects.belief, speed, looks, dug)
    at_sowing = coming_up(lie_there, expects.belief, speed)
    usual = one.progress.expected
    found = structs.replace(
        found,
        coming=coming,
        way=one.way.at(one.known.now),
        usual=usual,
        late_days=_late_days(one),
        first=_window(coming.way_of(0.1, LEVEL), one.way),
        half=_window(coming.way_of(0.5, LEVEL), one.way),
        nine_in_ten=_window(coming.way_of(0.9, LEVEL), one.way),
        chance_of_more=coming.chance_of(1),
        dead=coming.chance_of_none,
        unknown=unknown,
    )
    found = structs.replace(found, expected=_expected(found))
    if unknown:
        return found
    found = structs.replace(
        found,
        total=_at_least(coming.total(LEVEL), found.up),
        more=coming.expected_more,
        rests_on=expects.rests_on,
    )
    if found.wanted is None:
        return found
    needed = found.wanted + found.lost
    found = structs.replace(
        found,
        chance=coming.chance_of(needed - coming.up),
        chance_at_sowing=at_sowing.chance_of(found.wanted),
    )
    if found.chance is None or found.chance >= SOW_AGAIN_UNDER:
        return found
    before = coming_up(lie_there, expects.belief, speed, tuple(_looks(one, before_last=True)))
    return structs.replace(found, chance_before=before.chance_of(needed - before.up))


def _at_least(total: Span, up: int) -> Span:
    """Never fewer than are up: a sample, which tells nothing of the whole, shows some that are."""
    return Span(max(total.low, up), max(total.best, up), max(total.high, up))


def _seeds(standing: Standing, crop: Crop) -> tuple[int | None, str]:
    """How many seeds lie there, and why no number is expected of them."""
    if standing.topped_up or standing.mixed_up or standing.onto is not None:
        return standing.seeds, "Others were sown or mixed in, so no number is expected."
    if crop.seedlings_per_seed is not None:
        return standing.seeds, "One seed gives several seedlings, so no number is expected."
    if standing.seeds is None:
        return standing.about, "Its seeds were not counted, so no number is expected."
    if standing.emerged > standing.seeds:
        return standing.seeds, "More came up than were sown, so no number is expected."
    return standing.seeds, ""


def speed_of(crop: Crop, own: OwnFactor | None) -> Speed:
    """How far along its curve half of a crop is up, before anything was counted.

    A table's days pass quicker than trays do: by the grower's own factor, or the usual one. Days
    that are printed for trays are on their clock already; how wide their range is says how sure.
    """
    slope = 2 * log(9) / log(crop.first_to_last.best)
    emerging = emerging_of(crop)
    if emerging.clock == "table":
        half, sd = (own.counted, own.next_sd) if own else (TRAYS_OVER_TABLE, TRAYS_SD)
        return Speed(half, sd, slope)
    printed = crop.days_in_trays
    width = log(printed.high / printed.low) / _RANGE_SD if printed else 0.0
    return Speed(1.0, max(width, ONE_SOWING_SD), slope)


def _late_days(one: _Subject) -> int:
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


def _share_here(one: _Subject) -> float | None:
    here = steady(round(one.progress.goes_on_c, 1))
    return at_station(one.crop, here).outlook.normal_share


def _expects(one: _Subject) -> Expectation:
    """What is believed of its lot from before it was sown: tests and other trays among that."""
    own, share = of_lot(one.lot, one.known.season, one.known.records), _share_here(one)
    tested = structs.replace(one.lot, tests=own.tests_of(one.lot))
    sown = one.zero.date()
    return expected_germination(tested, one.crop, share or None, sown, trays=own.trays)


def _looks(one: _Subject, *, before_last: bool = False) -> Iterator[Look]:
    """What was seen, by its way: of counts alike in a row the first and the last tell all.

    A sample tells nothing of the whole; what left uncounted was up when it left, and whoever took
    the last that stood has looked.

    Args:
        one: The sowing.
        before_last: Leave the last one out.
    """
    standing, last = one.standing, Look(0.0, 0)
    whole = [
        (entry.at, emerged)
        for entry, emerged in zip(standing.counted, standing.emerged_by, strict=True)
        if entry.looked_at is None and entry.at > one.zero
    ]
    taken = standing.emerged > (whole[-1][1] if whole else 0) or not standing.standing
    if standing.acts and standing.emerged and taken:
        at = max(standing.acts[-1].at, whole[-1][0] if whole else one.zero)
        whole.append((at, standing.emerged))
    whole = whole[:-1] if before_last else whole
    for place, (at, emerged) in enumerate(whole):
        following = whole[place + 1][1] if place + 1 < len(whole) else -1
        if emerged == last.up == following:
            continue
        last = Look(max(one.way.at(at), last.way), max(emerged, last.up))
        yield last


def _dug(one: _Subject) -> Iterator[DugUp]:
    for entry in one.standing.dug:
        yield DugUp(one.way.at(entry.at), entry.sound, entry.soft + entry.gone)


def _window(ways: Span, way: Way) -> Window | None:
    """The days of three points of the way; None where it never gets there."""
    days = [way.day_of(amount) for amount in ways]
    low, best, high = days
    return Window(low, best, high) if low and best and high else None


def _expected(found: Prospect) -> Window | None:
    """The first, half and nine in ten of it: as before any count until one moves them."""
    if found.usual is None or not found.counts or found.half is None or not found.nine_in_ten:
        return found.usual
    half, last = found.half.best, found.nine_in_ten.best
    return Window(min(found.usual.earliest, half), half, max(half, last))


def _course(found: Prospect, one: _Subject) -> Iterator[tuple[float, float]]:
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


def expected_up(found: Iterable[Prospect]) -> dict[str, ExpectedUp]:
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
        self._found: dict[str, Prospect] = {}

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
        for sowing in [one for one, found in self._found.items() if found.lot in lots]:
            del self._found[sowing]

    def sent_elsewhere(self) -> set[str]:
        """Those found that are to be carried away: where to hangs on how warm it is there."""
        found = ((sowing, one.advice) for sowing, one in self._found.items())
        return {sowing for sowing, one in found if one and one.what in {"warmer", "cooler"}}

    def __getitem__(self, sowing: str) -> Prospect:
        if sowing not in self._found:
            self._found[sowing] = self._derived(sowing)
        return self._found[sowing]

    def may_be_short(self, sowing: str) -> bool:
        """Whether it is worth asking if too few come: not where all that are wanted stand."""
        one = self._known.records.standings[sowing]
        lot = self._known.season.lots_by_name.get(one.lot or "")
        wanted = lot.want if lot else None
        lost = lost_of(one, self._known.records)
        return one.from_seed and not has_enough(one.emerged, lost, wanted)

    def advice_on_lot(self, lot: str) -> Iterator[Advice]:
        """What to do about those sowings of a lot that may give too few."""
        for one in self._known.records.of_lot(lot):
            if one.closed is None and one.alive and self.may_be_short(one.id):
                advice = self[one.id].advice
                if advice is not None:
                    yield advice

    def drawn(self, sowing: str) -> Prospect:
        """One with the course of its days, for a curve."""
        return self._derived(sowing, drawn=True)

    def _derived(self, sowing: str, *, drawn: bool = False) -> Prospect:
        standing = self._known.records.standings[sowing]
        if not standing.from_seed:
            raise KeyError(sowing)
        return prospect_of(standing, self._known, drawn=drawn)

    def __iter__(self) -> Iterator[str]:
        every = self._known.records.standings.items()
        return (sowing for sowing, one in every if one.from_seed)

    def __len__(self) -> int:
        return sum(1 for _ in self)
