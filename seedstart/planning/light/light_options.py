"""What to set so that the leaves get what the crops want, the cheapest first; or what could."""

from collections.abc import Iterator, Sequence
from typing import Final, Literal

from msgspec import Struct, structs

from seedstart.growing.light.dose import MOL_PER_UMOL_HOUR
from seedstart.growing.light.needs import USUAL_HOURS
from seedstart.growing.light.over_shelf import Emitter, Patch, largest_lit, mean_over
from seedstart.planning.light.station_light import (
    StationLight,
    Verdict,
    edge_of,
    scaled,
    verdict_of,
)
from seedstart.season.plan.lamps import Lamp
from seedstart.tracking.lamp_settings import emitters

How = Literal[
    "now", "tried", "set", "as high", "narrower", "together", "more lamps", "lowest", "longest"
]
# Heights that are offered, mm; nearer to the leaves plants grow into the lamp within days. Common
# practice, no source.
_HEIGHTS_MM: Final = tuple(range(100, 620, 20))
# Tomatoes were raised on 12 to 14 h (Horticulturae 2024, 10(7): 730); sheets advise 14 to 16.
_FEWEST_HOURS: Final = 12.0
_DIMMED: Final = tuple(range(30, 101, 5))
_ALIKE: Final = 1.03
_MOST_LAMPS: Final = 4
_FEW: Final = 16  # of more lamps fewer settings are tried, or it would take a second


class LightOption(Struct, frozen=True, kw_only=True):
    """One way to set the lamps, and what it gives.

    Attributes:
        how: As they are now; as somebody tries them; set anew; as high as they hang; on a narrower
            part of the shelf; all lamps together over a part; more lamps; as low, or as long, as
            goes.
        number: Of lamps.
        height_mm: Over the leaves.
        hours: A day.
        dimming_percent: What they are dimmed to; None where they cannot be.
        patch: The part of the shelf that is used; None for all of it.
        mean_mol, edge_mol: DLI at the leaf, and of a tray in the darkest corner.
        kwh_a_day: Electricity; None where watts are not said.
        verdict: How it suits the crops.
    """

    how: How
    number: int
    height_mm: float
    hours: float
    dimming_percent: float | None
    patch: Patch | None = None
    mean_mol: float
    edge_mol: float
    kwh_a_day: float | None
    verdict: Verdict

    @property
    def fits(self) -> bool:
        """Whether all trays get what they want."""
        return self.verdict == "enough"


class _Rate(Struct, frozen=True):
    """DLI of an hour of undimmed light at a height: over a patch and in its darkest corner."""

    mean: float
    edge: float


def light_options(light: StationLight) -> tuple[LightOption, ...]:
    """What may be set, those that fit first and the cheapest of them foremost; then the rest.

    Args:
        light: Of which nothing is missing.
    """
    if light.missing:
        return ()
    found = [as_they_are(light), *_settings(light)]
    if not any(one.fits for one in found):
        found += [*_elsewhere(light), *_limits(light)]
    unlike = {_figures(one): one for one in reversed(found)}
    return tuple(sorted(unlike.values(), key=_order))


def _order(one: LightOption) -> tuple[object, ...]:
    rank = {"narrower": 1, "together": 0, "more lamps": 2}.get(one.how, 0)
    return not one.fits, one.how == "now", rank, one.kwh_a_day or one.hours, -one.mean_mol


def _figures(one: LightOption) -> tuple[object, ...]:
    return one.number, one.height_mm, one.hours, one.dimming_percent, one.patch


def as_they_are(light: StationLight, how: How = "now") -> LightOption:
    """What the lamps give as they are set, in a row of the options."""
    from_window = light.window.likely if light.window else 0.0
    return LightOption(
        how=how,
        number=len(light.lamps),
        height_mm=light.height_mm or 0.0,
        hours=light.hours,
        dimming_percent=light.lamps[0].dimming_percent,
        mean_mol=light.mean_mol,
        edge_mol=light.edge_mol + from_window,
        kwh_a_day=light.kwh_a_day,
        verdict=light.verdict,
    )


def _settings(light: StationLight) -> Iterator[LightOption]:
    """The cheapest setting of these lamps where they hang; and the cheapest as high as they are."""
    heights = _HEIGHTS_MM[:: 1 if len(light.lamps) <= _FEW else 5]
    best = _cheapest(light, _rates(light, light.lamps, light.shelf, heights))
    yield from best
    if light.height_mm is not None and light.height_mm not in {one.height_mm for one in best}:
        rates = _rates(light, light.lamps, light.shelf, (light.height_mm,))
        for one in _cheapest(light, rates):
            yield structs.replace(one, how="as high")


def _rates(
    light: StationLight, lamps: Sequence[Lamp], over: Patch, heights_mm: Sequence[float]
) -> dict[float, _Rate]:
    """What an hour gives, height by height."""
    found = {}
    undimmed = [structs.replace(one, dimming_percent=None) for one in lamps]
    for height in heights_mm:
        hanging = _hanging(light, undimmed, over, height)
        mean = mean_over(hanging, over)
        found[height] = _Rate(mean, edge_of(hanging, over))
    return found


def _hanging(
    light: StationLight, lamps: Sequence[Lamp], over: Patch, height_mm: float
) -> list[Emitter]:
    factor = light.scale.factor * MOL_PER_UMOL_HOUR
    return scaled(emitters(lamps, over, height_mm=height_mm), factor)


def _cheapest(
    light: StationLight, rates: dict[float, _Rate], *, number: int | None = None
) -> list[LightOption]:
    """The one setting of least electricity at which all trays get what they want; or none."""
    can_dim = all(one.dimming_percent is not None for one in light.lamps)
    shares = _DIMMED if can_dim else (100,)
    tried = [
        _option(light, "set", rate, height, hours, share if can_dim else None, number)
        for height, rate in rates.items()
        for hours in _hours(light)
        for share in shares
    ]
    most = light.need.most_umol
    fits = [one for one in tried if one.fits and (most is None or _ppfd(one) <= most)]
    cheapest = min(map(_cost, fits), default=0.0)
    alike = [one for one in fits if _cost(one) <= _ALIKE * cheapest]
    # Of those that cost about the same: usual hours, the better lit edge, the higher lamp.
    return sorted(alike, key=lambda one: (_unusual(one), -one.edge_mol, -one.height_mm))[:1]


def _unusual(one: LightOption) -> bool:
    return not USUAL_HOURS[0] <= one.hours <= USUAL_HOURS[1]


def _cost(one: LightOption) -> float:
    """What it costs, as far as it differs: to hours and dimming."""
    return one.hours * (one.dimming_percent or 100)


def _ppfd(one: LightOption) -> float:
    return one.mean_mol / (one.hours * MOL_PER_UMOL_HOUR)


def _hours(light: StationLight) -> list[float]:
    longest = light.need.longest_hours
    steps = int((longest - _FEWEST_HOURS) * 2)
    return [_FEWEST_HOURS + one / 2 for one in range(steps + 1)]


def _option(
    light: StationLight,
    how: How,
    rate: _Rate,
    height_mm: float,
    hours: float,
    dimming: float | None,
    number: int | None = None,
    patch: Patch | None = None,
) -> LightOption:
    share = (dimming or 100) / 100
    from_window = light.window.likely if light.window else 0.0
    mean = rate.mean * hours * share + from_window
    edge = rate.edge * hours * share + from_window
    many = number or len(light.lamps)
    watts = [lamp.watts for lamp in light.lamps if lamp.watts is not None]
    known = len(watts) == len(light.lamps)
    kwh = sum(watts) / len(watts) * many * share * hours / 1000 if known else None
    return LightOption(
        how=how,
        number=many,
        height_mm=height_mm,
        hours=hours,
        dimming_percent=dimming,
        patch=patch,
        mean_mol=mean,
        edge_mol=edge,
        kwh_a_day=kwh,
        verdict=verdict_of(mean, edge, hours, light.need),
    )


def _limits(light: StationLight) -> Iterator[LightOption]:
    """The most that these lamps give where they hang: as low, and as long, as goes."""
    hours = min(USUAL_HOURS[1], light.need.longest_hours)
    full = 100 if light.lamps[0].dimming_percent is not None else None
    lowest = _rates(light, light.lamps, light.shelf, _HEIGHTS_MM[:1])[_HEIGHTS_MM[0]]
    yield _option(light, "lowest", lowest, _HEIGHTS_MM[0], hours, full)
    high = light.height_mm or _HEIGHTS_MM[0]
    rate = _rates(light, light.lamps, light.shelf, (high,))[high]
    yield _option(light, "longest", rate, high, light.need.longest_hours, full)


def _elsewhere(light: StationLight) -> Iterator[LightOption]:
    """A narrower part, all lamps over a part of the shelf, more lamps: where they are all alike."""
    yield from _narrower(light)
    if len(set(light.lamps)) == 1 and len(light.lamps) > 1:
        yield from _together(light)
    if len(set(light.lamps)) == 1:
        yield from _more_lamps(light)


def _narrower(light: StationLight) -> Iterator[LightOption]:
    """The largest part around the lamps' middle that gets enough, at the usual hours or longer."""
    full = 100 if light.lamps[0].dimming_percent is not None else None
    undimmed = [structs.replace(one, dimming_percent=None) for one in light.lamps]
    hours = min(USUAL_HOURS[1], light.need.longest_hours)
    found: list[LightOption] = []
    for height in (100, 140, 200) if len(light.lamps) <= _FEW else (100,):
        hanging = _hanging(light, undimmed, light.shelf, height)

        def option(patch: Patch, hanging: Sequence[Emitter], height: float) -> LightOption:
            rate = _Rate(mean_over(hanging, patch), edge_of(hanging, patch))
            return _option(light, "narrower", rate, height, hours, full, patch=patch)

        patch = largest_lit(
            hanging,
            light.shelf,
            lambda one, lit=hanging, high=height: (  # type: ignore[misc]
                option(one, lit, high).verdict in {"enough", "more than needed"}
            ),
            max(0.04, light.shelf.width_m / 15),
        )
        found += [option(patch, hanging, height)] if patch is not None else []
    yield from sorted(found, key=lambda one: -_area(one.patch))[:1]


def _area(patch: Patch | None) -> float:
    return patch.length_m * patch.width_m if patch is not None else 0.0


def _together(light: StationLight) -> Iterator[LightOption]:
    """All lamps side by side over one end, where they hang end to end now."""
    (lamp,) = set(light.lamps)
    shelf, length = light.shelf, lamp.length_m or 0.0
    if length > shelf.length_m / 2 + 0.02 or not length:
        return
    part = Patch(shelf.x_m, shelf.y_m, length, shelf.width_m)
    beside = [structs.replace(lamp, lines=len(light.lamps))] * len(light.lamps)
    heights = _HEIGHTS_MM[:6]
    rates = _rates(light, beside, part, heights)
    best = _cheapest(light, rates)
    full = 100 if lamp.dimming_percent is not None else None
    hours = min(USUAL_HOURS[1], light.need.longest_hours)
    short = [_option(light, "together", rates[heights[0]], heights[0], hours, full)]
    yield from (structs.replace(one, how="together", patch=part) for one in best or short)


def _more_lamps(light: StationLight) -> Iterator[LightOption]:
    """So many lamps of this kind as would do, as high as they hang or lower."""
    (lamp,) = set(light.lamps)
    heights = sorted({100.0, 200.0, light.height_mm or 200.0})
    number = len(light.lamps)
    # Of many by larger steps, or it would take a second.
    step = max(number // 4 if number <= _FEW else number // 2, 1)
    for many in range(number + step, _MOST_LAMPS * number + 1, step):
        rates = _rates(light, [lamp] * many, light.shelf, heights)
        found = _cheapest(light, rates, number=many)
        if found:
            yield structs.replace(found[0], how="more lamps")
            return
