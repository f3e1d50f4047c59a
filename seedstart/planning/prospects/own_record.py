"""What a season's own records say of how lots come up, and of how many seedlings are lost."""

from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import Final, NamedTuple

from msgspec import Struct, structs

from seedstart.crop_table.crop import Crop
from seedstart.growing.germination_belief import FEWEST_LOTS
from seedstart.planning.calendar.crop_times import at_station
from seedstart.season.plan.lot import Lot, LotTest
from seedstart.season.plan.season_file import Season
from seedstart.text import folded
from seedstart.tracking.figures import LotFigure, counts_in, lot_figure, seeds_of, up_of
from seedstart.tracking.meanings import meaning
from seedstart.tracking.records import Records
from seedstart.tracking.standing import Standing


def figure_of(lot: Lot, season: Season, records: Records) -> LotFigure:
    """What came up of a lot; a sowing where nothing can come up had no fair chance."""
    crop = season.crops.crops[lot.crop]
    reasons = (
        (one.id, no_fair_chance(one, crop, season, records)) for one in records.of_lot(lot.name)
    )
    unfair = {sowing: why for sowing, why in reasons if why}
    several = crop.seedlings_per_seed is not None
    return lot_figure(lot.name, records, unfair, clusters=several)


def no_fair_chance(sowing: Standing, crop: Crop, season: Season, records: Records) -> str:
    """Why a sowing had no fair chance; empty where it had one.

    Nothing can come up where it was sown; or it was closed for being poor, with fewer than half up
    before the days were over in which the last usually come (half is common practice, no source).
    """
    name = records.station_of(sowing.id, sowing.at)
    station = season.stations_by_name.get(name or "")
    if station is None or station.expected is None:
        return ""
    expected = at_station(crop, station.expected).expected
    if expected is None:
        return f"the {station.name} is too cold or too hot for {crop.name}"
    return _closed_early(sowing, expected.latest, records)


def _closed_early(sowing: Standing, last_day: float, records: Records) -> str:
    zero, closed = records.day_zero(sowing.id), sowing.closed
    if zero is None or closed is None or closed.why not in {"final", "finished"}:
        return ""
    day = (closed.at - zero).total_seconds() / 86_400
    poor = sowing.seeds is not None and 2 * sowing.emerged < sowing.seeds
    if sowing.purpose == "test" or not poor or day >= last_day:
        return ""
    return (
        f"closed on day {day:.0f} with fewer than half up; the last usually come by day "
        f"{last_day:.0f}"
    )


OwnLots = tuple[tuple[int, int], ...]

# Of those that come up so many are lost before they are set out: damped off, eaten, broken at
# pricking out. Common practice, no source: of all that was read no page gives a figure.
USUAL_LOSS: Final = 0.1
# From so many sowings of one's own on, one's own losses stand in its place.
_FEWEST_SOWINGS: Final = FEWEST_LOTS


class Losses(NamedTuple):
    """Seedlings of sowings that are over with all their daughters.

    Attributes:
        sowings: How many.
        came_up: Seedlings that came up in them.
        lost: Of these, died, eaten or missing; not what was thinned, given or thrown away.
    """

    sowings: int = 0
    came_up: int = 0
    lost: int = 0

    def plus(self, other: "Losses") -> "Losses":
        """Both together."""
        return Losses(*(mine + its for mine, its in zip(self, other, strict=True)))

    @property
    def share(self) -> float:
        """The share, 0 to 1, that is lost on the way; in whole percent, so that sums come out."""
        if not self.speak:
            return USUAL_LOSS
        return round((self.lost + 1) / (self.came_up + 2), 2)

    @property
    def speak(self) -> bool:
        """Whether there are enough of one's own."""
        return self.sowings >= _FEWEST_SOWINGS


class OfLot(Struct, frozen=True):
    """What the records say of one lot.

    Attributes:
        tests: Its closed germination tests; never pooled with its trays.
        trays: Its closed trays that had a fair chance, in the same form.
        is_old: It was past its seed life by then: it says nothing of other lots.
        sown: Seeds taken from the packet so far.
        losses: Of its sowings that are over.
    """

    tests: tuple[LotTest, ...] = ()
    trays: tuple[LotTest, ...] = ()
    is_old: bool = False
    sown: int = 0
    losses: Losses = Losses()

    @property
    def figure(self) -> tuple[int, int] | None:
        """What it says of other lots, its tests before its trays; nothing where it is old seed."""
        told = () if self.is_old else self.tests or self.trays
        return (sum(one.up for one in told), sum(one.seeds for one in told)) if told else None

    def tests_of(self, lot: Lot) -> tuple[LotTest, ...]:
        """The lot's tests, as they stand in lots.toml and as recorded; one in both is one."""
        listed = {(test.on, test.seeds, test.up) for test in lot.tests}
        recorded = (test for test in self.tests if (test.on, test.seeds, test.up) not in listed)
        return (*lot.tests, *recorded)


class Own(Struct, frozen=True):
    """What the records say where seeds of one lot are to be sown.

    Attributes:
        of: Of the lot itself.
        other_lots: Of each other lot that had a fair chance, how many came up of how many.
        losses: Of all lots.
    """

    of: OfLot = OfLot()
    other_lots: OwnLots = ()
    losses: Losses = Losses()


NOTHING_OWN: Final = Own()


class OwnRecord:
    """The records of all lots, kept up lot by lot."""

    def __init__(self, season: Season, records: Records) -> None:
        """Gather what the records say of each lot."""
        self._lots: dict[str, OfLot] = {}
        self._figures: dict[str, tuple[int, int]] = {}
        self._earlier = _earlier_figures(season)
        # What speaks of other lots: in all, and by crop. Each lot asks, so it is put together once.
        self._told: dict[tuple[str, str], tuple[int, int]] = {}
        self._told_of: dict[str, list[tuple[str, tuple[int, int]]]] = {}
        self._losses = Losses()
        self.renew(season, records, season.lots_by_name)

    def renew(self, season: Season, records: Records, lots: Iterable[str]) -> bool:
        """Gather some lots anew; whether others than these may be counted on otherwise now."""
        for name in lots:
            if name in season.lots_by_name:
                self._lots[name] = of_lot(season.lots_by_name[name], season, records)
        before = self._figures, self._losses
        found = ((name, one.figure) for name, one in self._lots.items())
        self._figures = {name: figure for name, figure in found if figure is not None}
        self._told = self._earlier | {
            (season.lots_by_name[name].crop, name): one for name, one in self._figures.items()
        }
        self._told_of = {}
        for (crop, name), one in self._told.items():
            self._told_of.setdefault(crop, []).append((name, one))
        self._losses = _all_losses(self._lots)
        return before != (self._figures, self._losses)

    def of(self, lot: Lot, season: Season) -> Own:
        """What is known where seeds of a lot are to be sown.

        Lots of the same crop speak for it where there are four of them; else all lots do.
        """
        speak = tuple(one for name, one in self._told_of.get(lot.crop, ()) if name != lot.name)
        if len(speak) < FEWEST_LOTS:
            speak = tuple(one for (_, name), one in self._told.items() if name != lot.name)
        of = self._lots.get(lot.name, OfLot())
        if earlier := earlier_trays(lot, season):
            of = structs.replace(of, trays=(*earlier, *of.trays))
        return Own(of, speak, self._losses)


def _earlier_figures(season: Season) -> dict[tuple[str, str], tuple[int, int]]:
    """By crop and lot, what came up in earlier seasons, as their end was taken over."""
    found: dict[tuple[str, str], tuple[int, int]] = {}
    for crop in {lot.crop for lot in season.lots}:
        for one in season.crops.crops[crop].own_lots:
            up, of = found.get((crop, one.lot), (0, 0))
            found[crop, one.lot] = up + one.up, of + one.seeds
    return found


def earlier_trays(lot: Lot, season: Season) -> tuple[LotTest, ...]:
    """The closed trays of a lot in earlier seasons, in the form of tests."""
    names = {folded(name) for name in (lot.name, *lot.was)}
    return tuple(
        LotTest(one.on, one.seeds, one.up, one.where)
        for one in season.crops.crops[lot.crop].own_lots
        if folded(one.lot) in names
    )


def _all_losses(lots: Mapping[str, OfLot]) -> Losses:
    found = Losses()
    for one in lots.values():
        found = found.plus(one.losses) if one.losses.sowings else found
    return found


def of_lot(lot: Lot, season: Season, records: Records) -> OfLot:
    """What the records say of one lot."""
    sowings = [one for one in records.of_lot(lot.name) if one.from_seed]
    if not sowings:
        return OfLot()
    crop = season.crops.crops[lot.crop]
    clusters = crop.seedlings_per_seed is not None
    tests: list[LotTest] = []
    trays: list[LotTest] = []
    for one in sowings:
        if one.closed is None:
            continue
        unfair = no_fair_chance(one, crop, season, records)
        if counts_in(one, unfair, clusters=clusters):
            told = _told(one, records, clusters=clusters)
            (tests if one.purpose == "test" else trays).append(told)
    losses = Losses()
    for one in sowings if not clusters else ():
        losses = losses.plus(_losses(one, records))
    sown = sum(one.seeds or 0 for one in sowings)
    is_old = _is_old(lot, crop, sowings[0].at.year)
    return OfLot(tuple(tests), tuple(trays), is_old, sown, losses)


def tests_of_lots(season: Season, records: Records) -> dict[str, tuple[LotTest, ...]]:
    """The germination tests of each lot that has any, as lots.toml and the journal have them."""
    found = ((lot.name, of_lot(lot, season, records).tests_of(lot)) for lot in season.lots)
    return {name: tests for name, tests in found if tests}


def _is_old(lot: Lot, crop: Crop, year: int) -> bool:
    """Whether seed is past the life of its crop in a year."""
    life, born = crop.seed_life_years, lot.harvest_year
    return life is not None and born is not None and year - born > life.best


def _told(one: Standing, records: Records, *, clusters: bool) -> LotTest:
    """A closed sowing in the form of a test that stands in lots.toml."""
    day = (one.closed.at if one.closed else one.at).date()
    where = records.station_of(one.id, one.at) if one.on == "medium" else one.on
    of, up = seeds_of(one, clusters=clusters), up_of(one, clusters=clusters)
    return LotTest(day, of, up, where or "")


def _losses(one: Standing, records: Records) -> Losses:
    if one.purpose == "test" or one.over is None or not one.emerged or one.mixed_up:
        return Losses()
    whole = [records.standings[each] for each in records.links.descent([one.id])]
    if any(each.alive or each.mixed_up for each in whole):
        return Losses()
    return Losses(1, one.emerged, min(sum(each.lost for each in whole), one.emerged))


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


def last_loss(standing: Standing, records: Records) -> datetime | None:
    """When of what came up in a sowing some were last written down as lost, wherever they stood."""
    whole = (records.standings[each] for each in records.links.descent([standing.id]))
    lost = (act.at for each in whole for act in each.acts if meaning(act).did == "lost")
    return max(lost, default=None)
