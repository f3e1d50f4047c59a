"""The rows of a sowing calendar: steps with their windows, and the reasons of each."""

from collections.abc import Iterable
from datetime import date
from functools import cached_property
from itertools import chain
from typing import Final, Literal

from msgspec import Struct

from seedstart.days import Window, short_day
from seedstart.planning.calendar.seed_treatments import Treatment
from seedstart.text import natural, plural

StepName = Literal["treat", "sow", "emerge", "prick_out", "pot_on", "harden", "set_out"]
Happening = Literal["planned", "expected", "happened"]
STEP_NAMES: Final[tuple[StepName, ...]] = (
    "treat",
    "sow",
    "emerge",
    "prick_out",
    "pot_on",
    "harden",
    "set_out",
)
# What the step `sow` says of a crop that is sown where it is to grow.
SOW_OUTDOORS: Final = "sow outdoors"
IN_WORDS: Final[dict[StepName, str]] = {
    "treat": "treat the seed",
    "sow": "sow",
    "emerge": "up",
    "prick_out": "prick out",
    "pot_on": "pot on",
    "harden": "harden off",
    "set_out": "set out",
}


class Reason(Struct, frozen=True):
    """Why a date is what it is.

    Attributes:
        step: The step it speaks of.
        text: One sentence, as a grower would explain it.
        sources: Keys of the crop table's sources; empty where the text says what it rests on.
    """

    step: StepName
    text: str
    sources: tuple[str, ...] = ()


class Few(Struct, frozen=True):
    """That the packet holds fewer seeds than it takes.

    Attributes:
        chance: That those there are give all the plants wanted, 0 to 1.
        plants: How many are wanted.
        all_there_are: Whether they are all that is left.
    """

    chance: float
    plants: int
    all_there_are: bool

    @property
    def in_words(self) -> str:
        """`49 % chance of 30 plants to set out`: what is lost after they are up is counted off."""
        shown = f"{100 * self.chance:.0f} %" if self.chance >= 0.01 else "less than 1 %"
        return f"{shown} chance of {plural(self.plants, 'plant')} to set out"


class Telling(Struct, frozen=True, eq=False):
    """Reasons that are put into words once somebody asks: of most rows of a season nobody does.

    Two are equal that tell the same.
    """

    def __eq__(self, other: object) -> bool:
        """Whether the other one tells the same."""
        return isinstance(other, Telling) and tuple(self.tell()) == tuple(other.tell())

    def __hash__(self) -> int:
        """By what it tells."""
        return hash(tuple(self.tell()))

    def tell(self) -> Iterable[Reason]:
        """The reasons, in words."""
        raise NotImplementedError


class Step(Struct, frozen=True):
    """One step of one sowing.

    Attributes:
        name: Which.
        window: When; None where no date can be given.
        is_: Whether it is planned, expected after something that happened, or happened itself.
        says: What is done, where the name does not say it: `soak 12 h`.
        missed: The window whose best day passed undone, where one did; `window` begins anew.
        treatments: Of the step `treat`: what is done to the seed, in order.
    """

    name: StepName
    window: Window | None
    is_: Happening = "planned"
    says: str = ""
    missed: Window | None = None
    treatments: tuple[Treatment, ...] = ()

    @property
    def due(self) -> date | None:
        """The best day that passed undone, where one did."""
        return self.missed.best if self.missed else None

    @property
    def best_day(self) -> date | None:
        """The day that was or is best, whether it has passed or not: what faces call so."""
        return self.due or (self.window.best if self.window else None)


def when_in_words(step: Step) -> str:
    """`12 Mar to 24 Mar, best 15 Mar`; what passed undone stands as it was, and what counts now."""
    if step.window is None:
        return "no date"
    if step.missed is None:
        return window_in_words(step.window)
    now = short_day(step.window.best)
    return f"{window_in_words(step.missed)}; that has passed, so later dates count from {now}"


def window_in_words(window: Window) -> str:
    """`12 Mar to 24 Mar, best 15 Mar`."""
    if window.earliest == window.latest:
        return short_day(window.best)
    return (
        f"{short_day(window.earliest)} to {short_day(window.latest)}, best {short_day(window.best)}"
    )


class Row(Struct, frozen=True, kw_only=True, dict=True):
    """One sowing of the calendar.

    Attributes:
        lot: Name of the lot; None for a bare crop.
        number: Which sowing of the lot, from 1.
        sowing: Name of the sowing, once it was made.
        sowing_id: The entry that made it.
        station: Name of the station; None where none is named. Of what was sown, where most stands.
        others: Stations at which the rest of what was sown stands.
        steps: In order of time, those the crop has.
        told: Its reasons, or what they are told from.
        seeds: How many seeds to sow; None where no number of plants is wanted.
        few: Where the packet holds fewer than it takes: what those there are may give.
        problem: Why dates are missing, and what to do.
        warnings: What speaks against a date that is given.
    """

    lot: str | None
    number: int
    crop: str
    variety: str = ""
    sowing: str | None = None
    sowing_id: str | None = None
    station: str | None = None
    others: tuple[str, ...] = ()
    steps: tuple[Step, ...] = ()
    told: tuple[Reason | Telling, ...] = ()
    seeds: int | None = None
    few: Few | None = None
    problem: str | None = None
    warnings: tuple[str, ...] = ()

    @cached_property
    def reasons(self) -> tuple[Reason, ...]:
        """Why its dates are what they are, step by step."""
        parts = (one.tell() if isinstance(one, Telling) else (one,) for one in self.told)
        return tuple(chain.from_iterable(parts))

    def step(self, name: StepName) -> Step | None:
        """The step of that name, if this sowing has it."""
        return next((step for step in self.steps if step.name == name), None)

    def window(self, name: StepName) -> Window | None:
        """When a step may happen."""
        step = self.step(name)
        return step.window if step else None

    @property
    def stations(self) -> tuple[str, ...]:
        """Every station at which it stands, or the one where it will come up."""
        return (self.station, *self.others) if self.station else ()

    @property
    def sow_day(self) -> date | None:
        """The best day to sow."""
        window = self.window("sow")
        return window.best if window else None


def by_sowing(row: Row) -> tuple[object, ...]:
    """Sort key of a calendar: the day to sow, then the lots as people count; undated ones last."""
    return row.sow_day or date.max, natural(row.lot or "")


def row_key(row: Row) -> str:
    """What a row is called: its sowing or its lot (successions by number), else its crop."""
    name = row.sowing or row.lot or row.crop
    return f"{name}/{row.number}" if row.number > 1 and not row.sowing else name
