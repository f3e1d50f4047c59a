"""Nights that plants stand, unhardened and hardened, and the cold spells that make some bolt."""

from collections.abc import Iterator
from typing import Final

from crop_pooling.listed import Listed
from crop_pooling.pooling import Printed, better_only, figure
from crop_pooling.sources import key_of
from crop_pooling.tables import number, read, rows_of
from seedstart.crop_table.crop import Figure

_TABLE: Final = "night_temperatures"
_BRASSICAS: Final = frozenset(
    {
        "broccoli",
        "brussels sprouts",
        "cabbage",
        "cauliflower",
        "collards",
        "kale",
        "kohlrabi",
        "ornamental kale",
        "romanesco",
        "sprouting broccoli",
    }
)
_ONIONS: Final = frozenset(
    {"bunching onion", "chives", "garlic chives", "leek", "onion", "shallot"}
)
_COOL_ANNUALS: Final = frozenset(
    {"calendula", "dianthus", "pansy", "snapdragon", "stock", "sweet alyssum", "viola"}
)
# Names of groups in the table, and the crops that each speaks of.
_GROUPS: Final = {
    "brassicas": _BRASSICAS,
    "onions and brassicas": _ONIONS | _BRASSICAS,
    "cool-season annuals": _COOL_ANNUALS,
}
_UNHARDENED: Final = frozenset({"unhardened", "hardening"})
_HARDENED: Final = frozenset({"hardened", "hardening or hardened", "established"})
_SPELL_DAYS: Final = {"bolts after 10 days below": 10.0, "bolts after a week below": 7.0}


def unhardened(crop: Listed) -> Figure | None:
    """Coldest nights before hardening off is done: the warmest of the printed figures counts."""
    if crop.name in BY_HAND_UNHARDENED:
        return BY_HAND_UNHARDENED[crop.name]
    return _cautious(crop, _UNHARDENED)


def hardened(crop: Listed) -> Figure | None:
    """Coldest nights of hardened plants: the warmest of the printed figures counts."""
    if crop.name in BY_HAND_HARDENED:
        return BY_HAND_HARDENED[crop.name]
    return _cautious(crop, _HARDENED)


def bolts_below(crop: Listed) -> Figure | None:
    """Young plants that stood a spell colder than this bolt."""
    spells = [one for _, one in _spells(crop)]
    if not spells:
        return None
    lows = [one.low for one in spells]
    keys = sorted({one.key for one in spells})
    note = "young plants that stand so cold for a spell bolt"
    return figure(max(lows), min(lows), max(lows), "weak", keys, note)


def bolts_after(crop: Listed) -> Figure | None:
    """Days that such a spell lasts."""
    spells = list(_spells(crop))
    if not spells:
        return None
    days = [long for long, _ in spells]
    keys = sorted({one.key for _, one in spells})
    note = "how long such a spell lasts"
    return figure(min(days), min(days), max(days), "weak", keys, note)


def _spells(crop: Listed) -> Iterator[tuple[float, Printed]]:
    for row in rows_of(crop.name, _TABLE, name_column="crop_or_group"):
        cold = number(row.said["temp_c"])
        if row.said["meaning"] in _SPELL_DAYS and cold is not None:
            yield _SPELL_DAYS[row.said["meaning"]], Printed(cold, cold, key_of(row.source))


def _cautious(crop: Listed, states: frozenset[str]) -> Figure | None:
    printed, basis = better_only(_printed(crop, states))
    if not printed:
        return None
    cold = [one.low for one in printed]
    keys = sorted({one.key for one in printed if one.key})
    note = "the most cautious of the printed figures counts" if len(set(cold)) > 1 else ""
    if basis == "memory":
        note = "no source prints it"
    return figure(max(cold), min(cold), max(cold), basis, keys, note)


def _printed(crop: Listed, states: frozenset[str]) -> Iterator[Printed]:
    groups = {group for group, held in _GROUPS.items() if crop.name in held}
    own = [row.said for row in rows_of(crop.name, _TABLE, name_column="crop_or_group")]
    of_groups = [said for said in read(_TABLE) if said["crop_or_group"] in groups]
    for said in (*own, *of_groups):
        cold = number(said["temp_c"])
        if cold is not None and said["state"] in states:
            yield Printed(cold, cold, key_of(said["source"]))


_WARM_NIGHTS: Final = "printed for setting out and for nights out alike"
_POTS: Final = ("minnesota-washington-county",)
BY_HAND_UNHARDENED: Final[dict[str, Figure]] = {
    **{
        name: figure(10, 7.2, 10, "source", ("maryland-hardening-2023", *_POTS), _WARM_NIGHTS)
        for name in ("tomato", "pepper")
    },
    "basil": figure(
        10, 10, 15.6, "memory",
        note="nights above 10 °C, better 12.8; one extension answer prints 15.6, which would keep"
        " it in for all of a northern summer",
    ),
}  # fmt: skip
BY_HAND_HARDENED: Final[dict[str, Figure]] = {
    "tomato": figure(
        10, 0, 10, "source", ("maryland-hardening-2023", *_POTS),
        "hardened it usually survives a light frost, but goes out when nights keep above 10 °C",
    ),
    "pepper": figure(10, 10, 12.8, "source", ("california-ipm-2017", *_POTS),
                     "grows best where nights keep above 12.8 °C"),
    "eggplant": figure(10, 10, 15.6, "relative", ("california-ipm-2017", *_POTS),
                       "a relative's (pepper); its growth stops where nights fall below 15.6 °C"),
    "cucumber": figure(10, 10, 10, "source", ("maryland-hardening-2023",)),
    "melon": figure(10, 10, 10, "source", ("maryland-hardening-2023",)),
    "basil": BY_HAND_UNHARDENED["basil"],
    "celery": figure(10, -2.2, 13, "practice", ("michigan-frost-2014",),
                     "common practice: it stands a light frost, and a cold spell makes it bolt"),
    "celeriac": figure(10, -2.2, 13, "practice", ("michigan-frost-2014",),
                       "common practice: it stands a light frost, and a cold spell makes it bolt"),
}  # fmt: skip
