"""What came up of each lot: its closed sowings that had a fair chance, pooled, with an interval.

Emergence percentage is emerged over sown, in trays; germination percentage is normal seedlings over
seeds, in a test; the two are never pooled. Where one seed gives several seedlings (beet, chard)
cells or clusters are counted in place of both. Until a sowing is closed it is "8 of 24 so far".
"""

from collections.abc import Iterable, Mapping, Sequence
from typing import Final

from msgspec import Struct

from seedstart.growing.germination.indices import Newly, half_time, mean_time
from seedstart.growing.germination.intervals import Interval, wilson
from seedstart.tracking.records import Records
from seedstart.tracking.standing import SowingState, Standing

LEVEL = 0.95
# Sowings of a lot that chance parts as far less often than this give no figure in common. The usual
# level of a test.
APART_P: Final = 0.05
# Between the look before half were up and that half-time. Common practice, no source.
LONGEST_BETWEEN_LOOKS_DAYS = 3.0


class LeftOut(Struct, frozen=True):
    """A sowing that does not count in its lot's figure, and why."""

    sowing: str
    why: str


class Differing(Struct, frozen=True):
    """A sowing of a lot whose sowings differ more than chance would have it.

    Attributes:
        sowing: Which.
        up: What came up of it.
        of: Of how many.
        is_open: Whether it is still counted: then more may come.
    """

    sowing: str
    up: int
    of: int
    is_open: bool


class LotFigure(Struct, frozen=True, kw_only=True):
    """What is known of how a lot came up.

    Attributes:
        lot: Its name.
        of: Whether tests (`germinated`: normal seedlings) or trays (`emerged`) speak.
        seeds_sown: Seeds of all its sowings that were counted, tests and trays.
        emerged: Seedlings up so far, of all of them.
        pooled_up: Up in the sowings that count: seedlings; of clusters, cells with at least one.
        pooled_seeds: Sown in them: seeds, less sound ones dug up; of clusters, cells, or clusters
            where no cells were said.
        interval: 95 % Wilson interval of the percentage; None before any sowing counts, and where
            they lie apart.
        mean_days: Mean time, booked at the counts; None where nothing came up.
        t50_days: Until half of those that came were up, by interpolation between counts; None where
            nobody looked shortly before.
        left_out: What does not count, and why.
        sowings: All its sowings from seed.
        clusters: Whether one seed gives several seedlings.
        counting: The sowings that count.
        differing: Where these, or one still open that is ahead of them already, differ more than
            chance would have it: all of them. Then they have no figure in common.
    """

    lot: str
    of: str
    seeds_sown: int
    emerged: int
    pooled_up: int
    pooled_seeds: int
    interval: Interval | None
    mean_days: float | None
    t50_days: float | None
    left_out: tuple[LeftOut, ...]
    sowings: tuple[Standing, ...]
    clusters: bool = False
    counting: tuple[Standing, ...] = ()
    differing: tuple[Differing, ...] = ()

    @property
    def apart(self) -> bool:
        """Whether its sowings differ more than chance would have it."""
        return bool(self.differing)

    @property
    def percent(self) -> float | None:
        """Percentage of the sowings that count; None before any does, and where they lie apart."""
        if self.apart or not self.pooled_seeds:
            return None
        return 100 * self.pooled_up / self.pooled_seeds

    @property
    def grown(self) -> tuple[Standing, ...]:
        """Its trays; its tests where it has no tray."""
        return _trays(self.sowings) or self.sowings

    @property
    def final(self) -> bool:
        """Whether every tray of it is closed; every test where it has no tray."""
        return bool(self.sowings) and all(sowing.closed is not None for sowing in self.grown)

    @property
    def state(self) -> SowingState:
        """How far its sowings are together: waiting as long as one of them is."""
        states = {sowing.state for sowing in self.sowings}
        if not states:
            return "to sow"
        if "waiting" in states or states == {"over"}:
            return "waiting" if "waiting" in states else "over"
        return "growing" if self.final else "coming up"

    @property
    def came_up(self) -> str:
        """`8 of 24 so far`, or `20 of 24`; empty before anything is sown."""
        if not self.sowings:
            return ""
        tests_speak = self.of == "germinated" and self.grown != self.sowings
        if self.pooled_seeds and self.final and not tests_speak:
            return f"{self.pooled_up} of {self.pooled_seeds}"
        known = [sowing for sowing in self.grown if sowing.seeds is not None]
        if self.clusters:
            known = [
                sowing for sowing in known if sowing.cells_up is not None or not sowing.emerged
            ]
        if not known:
            up = sum(sowing.emerged for sowing in self.grown)
            return f"{up} up, {'cells' if self.clusters else 'seeds'} not counted"
        up = sum((sowing.cells_up or 0) if self.clusters else sowing.emerged for sowing in known)
        sown = sum(seeds_of(sowing, clusters=self.clusters) for sowing in known)
        return f"{up} of {sown}{'' if self.final else ' so far'}"


def lot_figure(
    lot: str,
    records: Records,
    unfair: Mapping[str, str] | None = None,
    *,
    clusters: bool = False,
) -> LotFigure:
    """The figure of one lot.

    Args:
        lot: Its present name.
        records: What happened.
        unfair: By sowing, why it had no fair chance where the records alone do not show it: too
            cold, too hot.
        clusters: One seed gives several seedlings.
    """
    judge = _why_not_clusters if clusters else _why_not
    sowings = tuple(sowing for sowing in records.of_lot(lot) if sowing.from_seed)
    tests = [sowing for sowing in sowings if sowing.purpose == "test" and sowing.ended is not None]
    grown = _trays(sowings) or sowings
    counting = [sowing for sowing in (tests or grown) if not judge(sowing, unfair or {})]
    left_out = tuple(
        LeftOut(records.name_in_line(sowing.id), why)
        for sowing in sowings
        if (
            why := judge(sowing, unfair or {})
            or ("a tray; its tests count instead" if tests and sowing not in tests else "")
            or ("a test" if not tests and sowing not in grown else "")
        )
    )
    found = [newly for sowing in counting or grown for newly in newly_up(sowing, records)]
    counted = [_differing(sowing, clusters=clusters) for sowing in counting]
    up, seeds = sum(sowing.up for sowing in counted), sum(sowing.of for sowing in counted)
    open_ = [
        sowing
        for sowing in grown
        if sowing.closed is None and not sowing.topped_up and sowing.lot_sure
    ]
    ahead = [] if tests or not seeds or clusters else _ahead(open_, up, seeds)
    pairs = [(sowing.up, sowing.of) for sowing in counted]
    apart = ahead or (len(pairs) > 1 and _chance_of(pairs) < APART_P)
    return LotFigure(
        lot=lot,
        of="germinated" if tests else "emerged",
        seeds_sown=sum(sowing.seeds or 0 for sowing in sowings),
        emerged=sum(sowing.emerged for sowing in sowings),
        pooled_up=up,
        pooled_seeds=seeds,
        interval=wilson(up, seeds, LEVEL) if seeds and not apart else None,
        mean_days=mean_time(found),
        t50_days=half_that_was_seen(found),
        left_out=left_out,
        sowings=sowings,
        clusters=clusters,
        counting=tuple(counting),
        differing=(*counted, *ahead) if apart else (),
    )


def _chance_of(counted: Sequence[tuple[int, int]]) -> float:
    """How often chance alone would part them as far; a bare calendar does not pay for the tests."""
    from seedstart.growing.germination.lot_tests import more_than_chance

    return more_than_chance(counted)


def _differing(standing: Standing, *, clusters: bool) -> Differing:
    up, of = up_of(standing, clusters=clusters), seeds_of(standing, clusters=clusters)
    return Differing(standing.name, up, of, standing.closed is None)


def _ahead(open_: Iterable[Standing], up: int, seeds: int) -> list[Differing]:
    """Sowings still open of which more is up than chance would have it: they can only gain."""
    found = [_differing(sowing, clusters=False) for sowing in open_ if sowing.estimate is None]
    return [
        sowing
        for sowing in found
        if sowing.of and up * sowing.of < sowing.up * seeds and sowing.up <= sowing.of
        if _chance_of([(up, seeds), (sowing.up, sowing.of)]) < APART_P
    ]


def half_that_was_seen(found: Iterable[Newly]) -> float | None:
    """Days until half of those that came were up, where a look within three days before shows it.

    What the first look found all up may have been so for long: that gives no half-time. Counts of
    one moment are one look.
    """
    every = look_by_look(found)
    half = half_time(every)
    if half is None:
        return None
    before = max((look.day for look in every if look.day < half), default=0.0)  # none at sowing
    return half if half - before <= LONGEST_BETWEEN_LOOKS_DAYS else None


def look_by_look(found: Iterable[Newly]) -> list[Newly]:
    """Counts of one moment as one look, in order."""
    looks: dict[float, int] = {}
    for newly in found:
        looks[newly.day] = looks.get(newly.day, 0) + newly.up
    return [Newly(day, up) for day, up in sorted(looks.items())]


def _trays(sowings: Sequence[Standing]) -> tuple[Standing, ...]:
    return tuple(sowing for sowing in sowings if sowing.purpose != "test")


def counts_in(standing: Standing, unfair: str = "", *, clusters: bool) -> bool:
    """Whether a sowing counts in its lot's figure: closed, counted, and with a fair chance."""
    judge = _why_not_clusters if clusters else _why_not
    return not judge(standing, {standing.id: unfair} if unfair else {})


def up_of(standing: Standing, *, clusters: bool) -> int:
    """What came up: normal seedlings of a test; of clusters, cells with at least one seedling."""
    if standing.ended is not None:
        return standing.ended.normal
    return (standing.cells_up or 0) if clusters else standing.emerged


def seeds_of(standing: Standing, *, clusters: bool) -> int:
    """What those that are up are part of: seeds; of clusters, cells where they were said."""
    in_cells = standing.cells if clusters and standing.ended is None else None
    return in_cells or standing.seeds_with_a_chance or 0


def _why_not(standing: Standing, unfair: Mapping[str, str]) -> str:
    """Why a sowing does not count; empty where it does."""
    if why := _why_not_whatever_came(standing):
        return why
    return _why_impossible(standing, clusters=False) or unfair.get(standing.id, "")


def _why_impossible(standing: Standing, *, clusters: bool) -> str:
    """Why what came up is no share of its seeds: sound ones that were dug up are none of them."""
    of = seeds_of(standing, clusters=clusters)
    if standing.more_than_sown and not clusters:
        return "more came up than were sown"
    if not of:
        return "all its seeds were dug up"
    return "more came up than were left to" if up_of(standing, clusters=clusters) > of else ""


def _why_not_whatever_came(standing: Standing) -> str:
    """Why a sowing does not count, however many came up."""
    if standing.closed is None:
        return "still open"
    if standing.seeds is None:
        return "its seeds were not counted"
    if standing.topped_up:
        return "seed was added to it"
    if standing.mixed_up:
        return "mixed up with others"
    if standing.onto is not None:
        return "added to another sowing"
    if not standing.lot_sure:
        return "its label is in doubt"
    if standing.estimate is not None:
        return "its last count was a sample"
    return ""


def _why_not_clusters(standing: Standing, unfair: Mapping[str, str]) -> str:
    """Why a sowing of clusters does not count: more seedlings than seeds are no wonder there."""
    if why := _why_not_whatever_came(standing):
        return why
    if standing.ended is None:
        if standing.cells_up is None:
            return "one seed gives several seedlings: count cells or clusters instead"
        if standing.cells_up > seeds_of(standing, clusters=True):
            return "more cells were up than were sown"
    return _why_impossible(standing, clusters=True) or unfair.get(standing.id, "")


def newly_up(standing: Standing, records: Records) -> Sequence[Newly]:
    """What each count found new, in days since day zero.

    Those that found nothing new are among them: half the seedlings came after the last of these.
    """
    zero = records.day_zero(standing.id)
    if zero is None:
        return []
    found, before = [], 0
    for count in standing.counts:
        days = (count.at - zero).total_seconds() / 86_400
        if days > 0:
            found.append(Newly(days, count.emerged - before))
        before = max(before, count.emerged)
    return found
