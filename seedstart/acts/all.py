"""Every act, in the order of a round at the bench: for a journal that says nothing yet."""

from typing import Final

from seedstart.acts.act import Act
from seedstart.acts.care import ADJUST, FEED, HARDEN, HOLD, READ, WATER, WEIGH
from seedstart.acts.counting import COUNT, DIG, MEASURE
from seedstart.acts.moving import COVER, MOVE, POT_ON, PRICK_OUT, SPLIT, UNCOVER
from seedstart.acts.seed import SCARIFY, SOAK, SOW, STRATIFY, TAKE_OUT
from seedstart.acts.seedlings import (
    FINISH,
    GIVE,
    LOSE,
    MIX_UP,
    RELABEL,
    SET_OUT,
    THIN,
)
from seedstart.acts.words import CHECK, FORECAST, NOTE, PLAN, PUT_OFF
from seedstart.season.entries import Entry

ACTS: Final[tuple[Act, ...]] = (
    COUNT, WATER, SOW, MOVE, PRICK_OUT, READ, NOTE, UNCOVER, COVER, LOSE, THIN, POT_ON, HARDEN,
    HOLD, SET_OUT, FEED, WEIGH, MEASURE, GIVE, DIG, SOAK, STRATIFY, SCARIFY, TAKE_OUT, ADJUST,
    SPLIT, FINISH, RELABEL, MIX_UP, PLAN, FORECAST, CHECK, PUT_OFF,
)  # fmt: skip
OF_KIND: Final[dict[type[Entry], Act]] = {act.kind: act for act in ACTS}
NAMED: Final[dict[str, Act]] = {act.name: act for act in ACTS}
