"""Closed sowings and tests as cases: what each says of its lot, look by look."""

from collections.abc import Iterable
from datetime import datetime

from msgspec import Struct

from seedstart.growing.germination.curve_fit import Between
from seedstart.growing.germination.indices import Newly
from seedstart.growing.germination.time_curve import between_looks
from seedstart.tracking.figures import look_by_look, newly_up, seeds_of, up_of
from seedstart.tracking.records import Records
from seedstart.tracking.standing import Ended, Standing


class Case(Struct, frozen=True, kw_only=True):
    """One sowing, as it is counted.

    Attributes:
        id: Of the entry that made it.
        sowing: As a line calls it.
        lot: Its lot.
        zero: When it was sown, or taken out of the cold: days count from here.
        station: Where it came up: the station, or what the seed of a test lay on.
        treated: What was done to its seed before, in words; empty where nothing was.
        up: What came up: normal seedlings of a test; of clusters, cells with at least one.
        seeds: What these are part of.
        found: What each look found new, those that found nothing among them.
        is_test: Whether it is a germination test.
        clusters: One seed gives several seedlings: the looks say nothing of seeds.
        ended: How the seeds of a test ended.
        is_open: Whether its count still goes on.
        no_warmth: Time is counted in warmth, and nobody knows how much of it this one had.
    """

    id: str
    sowing: str
    lot: str
    zero: datetime
    station: str
    treated: str
    up: int
    seeds: int
    found: tuple[Newly, ...]
    is_test: bool
    clusters: bool
    ended: Ended | None = None
    is_open: bool = False
    no_warmth: bool = False

    @property
    def why_no_course(self) -> str:
        """Why its looks give no course; empty where they do."""
        if self.clusters:
            return "one seed gives several seedlings"
        if self.no_warmth:
            return "nobody knows how warm it stood"
        if not self.found:
            return "nobody counted it"
        if sum(look.up for look in self.found) > self.seeds:
            return "more came up than were sown"
        return ""

    @property
    def between(self) -> tuple[Between, ...]:
        """Its seeds by the looks between which they came up; none where that is not known."""
        return () if self.why_no_course else between_looks(self.found, self.seeds)


def case_of(standing: Standing, records: Records, *, clusters: bool) -> Case | None:
    """A sowing as a case; None where its seeds were not counted, or it lies in the cold.

    Args:
        standing: The sowing.
        records: What happened.
        clusters: One seed gives several seedlings.
    """
    zero, seeds = records.day_zero(standing.id), seeds_of(standing, clusters=clusters)
    if zero is None or not seeds or standing.lot is None:
        return None
    where = records.station_of(standing.id, standing.at) if standing.on == "medium" else standing.on
    return Case(
        id=standing.id,
        sowing=records.name_in_line(standing.id),
        lot=standing.lot,
        zero=zero,
        station=where or "",
        treated=_treated(standing, records),
        up=up_of(standing, clusters=clusters),
        seeds=seeds,
        found=tuple(look_by_look(newly_up(standing, records))),
        is_test=standing.purpose == "test",
        clusters=clusters,
        ended=standing.ended,
        is_open=standing.closed is None,
    )


def _treated(standing: Standing, records: Records) -> str:
    """`soaked`, `soaked and stratified`."""
    done = (records.treatments.get(each) for each in standing.after)
    return " and ".join(dict.fromkeys(each.what for each in done if each is not None))


def pooled(cases: Iterable[Case]) -> list[Between]:
    """The seeds of several cases together, by their looks."""
    return [batch for case in cases for batch in case.between]
