"""How many seeds to sow when somebody asks: of a lot, or of a figure that is typed.

The calendar's `seeds` column is the same reckoning (`seeds_to_sow`), less what the packet
does not hold.
"""

from datetime import date
from math import ceil

from msgspec import Struct, structs

from seedstart.growing.germination.intervals import Interval, likely_share
from seedstart.growing.germination.tray_spread import tray_spread
from seedstart.growing.germination_belief import Belief
from seedstart.growing.sowing_rate import (
    CellRate,
    SowingRate,
    TooManySeedsError,
    clustered,
    seeds_for_plants,
    seeds_per_cell,
)
from seedstart.planning.calendar.crop_times import at_station
from seedstart.planning.calendar.seeds_to_sow import USUAL_CHANCE
from seedstart.planning.prospects.lot_germination import expected_germination
from seedstart.planning.prospects.own_record import OwnRecord, figure_of
from seedstart.season.plan.lot import Lot
from seedstart.season.plan.season_file import Season
from seedstart.season.plan.stations import Container
from seedstart.tracking.records import Records


class Germination(Struct, frozen=True, kw_only=True):
    """What a rate rests on.

    Attributes:
        belief: Share of seeds that come up; None where one is typed as known for sure.
        share: The same as one figure, 0 to 1.
        likely: Where it lies, 95 %; None where it is known for sure.
        rests_on: The end of a sentence.
        taken_off: What was taken off it and why, sentences.
        lost: Share of those that come up that is lost before setting out, 0 to 1.
        lost_rests_on: What that rests on.
        alike: Correlation of the seeds of one tray, by the lot's own trays; None where fewer than
            two say so.
    """

    belief: Belief | None
    share: float
    likely: Interval | None
    rests_on: str
    taken_off: tuple[str, ...] = ()
    lost: float = 0.0
    lost_rests_on: str = ""
    alike: float | None = None

    @property
    def of_plants(self) -> Belief | float:
        """Share of seeds that give a plant to set out."""
        kept = 1 - self.lost
        return self.belief.times(kept) if self.belief else self.share * kept


class Rate(Struct, frozen=True, kw_only=True):
    """An answer.

    Attributes:
        germination: What it rests on.
        plants: Wanted.
        wanted_chance: The chance that was wanted.
        for_plants: The fewest seeds, the chance reached, and that with one fewer.
        divided: Plants over germination: what the sum on a packet gives, and how often it does.
        per_cell: Seeds in a cell so that it stays empty at most so often; None where not asked.
        to_sow: Seeds in all: with cells asked for, so many in each of as many cells as plants.
        trays: Trays that these fill; None without a container.
        packets: Packets to open; None where nobody says what one holds.
    """

    germination: Germination
    plants: int
    wanted_chance: float
    for_plants: SowingRate
    divided: int
    per_cell: CellRate | None
    to_sow: int
    trays: int | None = None
    packets: int | None = None


def germination_of_lot(
    lot: Lot, season: Season, records: Records, today: date
) -> Germination | None:
    """What is known of a lot: packet, tests, age, own history, losses.

    Returns:
        None where nothing comes up at the station that it is planned for.
    """
    crop = season.crops.crops[lot.crop]
    own = OwnRecord(season, records).of(lot, season)
    station = season.stations_by_name.get(lot.station or "")
    share = None
    if station is not None and station.expected is not None:
        found = at_station(crop, station.expected)
        if found.expected is None:
            return None
        share = found.outlook.normal_share
    tested = structs.replace(lot, tests=own.of.tests_of(lot))
    expects = expected_germination(tested, crop, share, today, own.other_lots, own.of.trays)
    losses = own.losses
    lost_by = (
        f"{losses.lost} of {losses.came_up} in your {losses.sowings} sowings that are over"
        if losses.speak
        else "common practice, no source"
    )
    trays = [(tray.up, tray.seeds) for tray in own.of.trays]
    return Germination(
        belief=expects.belief,
        share=expects.belief.mean,
        likely=likely_share(expects.belief),
        rests_on=expects.rests_on,
        taken_off=tuple(reason.text for reason in expects.reasons),
        lost=losses.share,
        lost_rests_on=lost_by,
        alike=tray_spread([trays]).rho if len(trays) > 1 else None,
    )


class NextTime(Struct, frozen=True):
    """What a lot's own sowings say of how many seeds to sow.

    Attributes:
        lot: Its name.
        plants: Wanted.
        seeds: The fewest that give them, with the chance that the calendar asks for.
        sown: How many were sown the last time; None where they were not counted.
        percent: What came up of its closed sowings.
    """

    lot: str
    plants: int
    seeds: int
    sown: int | None
    percent: float


def next_time(lot: Lot, season: Season, records: Records, today: date) -> NextTime | None:
    """How many seeds of a lot to sow another time, by what came up of it.

    Returns:
        None where no number of plants is wanted, none of its sowings counts, or nothing comes up
        at its station.
    """
    figure = figure_of(lot, season, records)
    if not lot.want or figure.percent is None:
        return None
    known = germination_of_lot(lot, season, records, today)
    if known is None:
        return None
    try:
        found = seeds_for_plants(lot.want, USUAL_CHANCE, known.of_plants)
    except TooManySeedsError:
        return None
    return NextTime(lot.name, lot.want, found.seeds, figure.sowings[-1].seeds, figure.percent)


def rate(
    germination: Germination,
    plants: int,
    *,
    chance: float,
    most_empty: float | None = None,
    alike: float | None = None,
    container: Container | None = None,
    packet: int | None = None,
) -> Rate:
    """The fewest seeds for so many plants, and how they lie in cells, trays and packets.

    Args:
        germination: What it rests on.
        plants: To set out, one at least.
        chance: How often all of them are to be there, above 0 and below 1.
        most_empty: How often a cell may stay empty; None where cells are not asked for.
        alike: Correlation of seeds in one cell, above 0; None for coins.
        container: What is sown in.
        packet: Seeds in a packet.

    Raises:
        ValueError: Something outside these bounds.
        TooManySeedsError: More than a million would be needed.
    """
    found = seeds_for_plants(plants, chance, germination.of_plants)
    per_cell = _in_cells(germination, most_empty, alike) if most_empty is not None else None
    seeds, trays = found.seeds, None
    if per_cell is not None:
        seeds = max(seeds, plants * per_cell.seeds)
    if container is not None and container.cells:
        each = per_cell.seeds if per_cell else 1
        trays = ceil(ceil(seeds / each) / container.cells)
    share = germination.share * (1 - germination.lost)
    return Rate(
        germination=germination,
        plants=plants,
        wanted_chance=chance,
        for_plants=found,
        divided=ceil(plants / share - 1e-9),
        per_cell=per_cell,
        to_sow=seeds,
        trays=trays,
        packets=None if packet is None else ceil(seeds / packet),
    )


def _in_cells(germination: Germination, most_empty: float, alike: float | None) -> CellRate:
    """Seeds in a cell; where its seeds fare alike, as a beta-binomial of one cell."""
    known: Belief | float = germination.belief or germination.share
    if not alike:
        return seeds_per_cell(most_empty, known)
    share = min(max(germination.share, 1e-6), 1 - 1e-6)
    return seeds_per_cell(most_empty, clustered(share, alike))
