"""What stands on a packet of seed: how many, how old, how good, and what is done before sowing."""

import re
from collections.abc import Callable
from typing import Final

from msgspec import Struct

from seedstart.season.values import RefusedError, show
from seedstart.text import clean, folded
from seedstart.units import parse_days, parse_grams, parse_hours, parse_percent

_NOTHING: Final = frozenset({"none", "no", "0", "false"})
_MOST_SEEDS: Final = 10_000_000


class SeedAmount(Struct, frozen=True):
    """Seeds counted, or grams weighed: one of the two."""

    seeds: int | None = None
    grams: float | None = None

    def __str__(self) -> str:
        return f"{self.seeds} seeds" if self.seeds is not None else f"{self.grams:g} g"


def seed_amount(value: object) -> SeedAmount:
    """`50 seeds`, `2.5 g`, `0.1 oz`."""
    said = clean(show(value)).strip()
    if match := re.fullmatch(r"(\d{1,9})\s*seeds?", said.casefold()):
        if int(match[1]) > _MOST_SEEDS:
            raise ValueError(f"seeds from 0 to {_MOST_SEEDS}")
        return SeedAmount(seeds=int(match[1]))
    try:
        grams = parse_grams(said)
    except ValueError:
        raise ValueError("seeds or a mass, as 50 seeds or 2.5 g") from None
    if grams > 1_000_000:
        raise ValueError("a mass up to 1000 kg")
    return SeedAmount(grams=grams)


def harvested(value: object) -> str:
    """A year, a range of years, or `unknown`."""
    said = folded(clean(show(value))).replace("–", "-")
    if said == "unknown":
        return said
    if match := re.fullmatch(r"(\d{4})(?:\s*-\s*(\d{4}))?", said):
        years = [int(year) for year in match.groups() if year]
        if all(1900 <= year <= 2200 for year in years) and years == sorted(years):
            return "-".join(str(year) for year in years)
    raise ValueError('a year, a range of years or unknown, as "2024", "2019-2022"')


def percent(value: object) -> float:
    """A percentage with its sign."""
    return parse_percent(clean(show(value)))


def soak_hours(value: object) -> float:
    """`12 h`, `1 day`, or `none`."""
    return _nothing_or(value, parse_hours, 240, "none, or a time up to 10 days, as 12 h")


def cold_days(value: object) -> float:
    """`28 days`, `4 weeks`, or `none`."""
    return _nothing_or(value, parse_days, 400, "none, or a time up to 400 days, as 4 weeks")


def scarified(value: object) -> bool:
    """Whether the coat is nicked: `yes` or `none`."""
    said = folded(clean(show(value)))
    if said in {"yes", "true"}:
        return True
    if said in _NOTHING:
        return False
    raise RefusedError(allowed=("yes", "none"))


def _nothing_or(value: object, parse: Callable[[str], float], most: float, allowed: str) -> float:
    said = clean(show(value))
    if folded(said) in _NOTHING:
        return 0.0
    try:
        found = parse(said)
    except ValueError:
        raise ValueError(allowed) from None
    if found > most:
        raise ValueError(allowed)
    return float(found)
