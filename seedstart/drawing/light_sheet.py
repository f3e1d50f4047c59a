"""Light over a station: a sentence, the map, what to set, where the figures come from."""

from collections.abc import Iterator, Sequence
from typing import Final

from seedstart.days import short_day
from seedstart.drawing.lines import Line, Role, Span, fitted, heading, plain, wrapped
from seedstart.growing.light.dose import MOL_PER_UMOL_HOUR
from seedstart.growing.light.needs import CLOSEST_MM, LEAST_SHARE, USUAL_HOURS
from seedstart.growing.light.over_shelf import Patch
from seedstart.planning.light.lamp_distance import Distance
from seedstart.planning.light.light_options import LightOption
from seedstart.planning.light.station_light import EDGE_TRAY_M, StationLight, Verdict
from seedstart.season.plan.lamps import Lamp
from seedstart.text import joined, plural
from seedstart.units import Units, show_length

_PRACTICE: Final = "common practice, no source"
_MONTH_DAYS: Final = 30
_VERDICTS: Final[dict[Verdict, str]] = {
    "too dark": "Too dark",
    "dark at the edge": "Dark at the edge",
    "enough": "Enough light",
    "more than needed": "More light than needed",
    "day too long": "The day is too long",
}
_ROLES: Final[dict[Verdict, Role]] = {
    "too dark": "warn", "dark at the edge": "warn", "enough": "good",
    "more than needed": "expected", "day too long": "warn",
}  # fmt: skip
_FITS: Final[dict[Verdict, str]] = {
    "enough": "", "too dark": "too dark", "dark at the edge": "dim edge",
    "more than needed": "too much", "day too long": "too long",
}  # fmt: skip


class Money:
    """What electricity costs, where the season says so."""

    def __init__(self, price_per_kwh: float | None = None, currency: str = "") -> None:
        self.price, self.currency = price_per_kwh, currency

    def a_month(self, kwh_a_day: float | None) -> str:
        """What so much a day costs in a month; empty where nobody knows."""
        if kwh_a_day is None or self.price is None:
            return ""
        return f"{kwh_a_day * self.price * _MONTH_DAYS:.2f}"

    @property
    def head(self) -> str:
        """Of its column."""
        return "" if self.price is None else self.currency[: _COST - 1] or "cost"


def light_lines(
    light: StationLight,
    options: Sequence[LightOption],
    distance: Distance | None,
    money: Money,
    units: Units = "metric",
    width: int = 80,
) -> list[Line]:
    """All of it but the sources.

    Args:
        light: Over one station.
        options: What may be set, the best first.
        distance: From lamp to leaf.
        money: What electricity costs.
        units: Of lengths.
        width: Columns.
    """
    if light.missing:
        return [heading(light.station.name), *missing_lines(light, width)]
    return [
        *head_lines(light, units, width),
        plain(""),
        *map_lines(light),
        *wrapped(basis_in_words(light), width, role="quiet", hang=""),
        plain(""),
        *option_lines(light, options, money, units),
        *_after(options, distance, units, width),
    ]


def missing_lines(light: StationLight, width: int) -> Iterator[Line]:
    """What nobody has said of a station, and its light hangs on."""
    if light.missing == ("lamps",):
        yield plain("No lamps are written down for it.")
        return
    said = f"Not said in season.toml, and needed: {'; '.join(light.missing)}."
    yield from wrapped(said, width, hang="")


def head_lines(light: StationLight, units: Units, width: int) -> list[Line]:
    """What hangs over it, and how that suits what stands there."""
    title = f"{light.station.name}, {place_in_words(light, units)}"
    return [*wrapped(title, width, role="heading"), *verdict_lines(light, width)]


def verdict_lines(light: StationLight, width: int) -> list[Line]:
    """How it suits what stands there."""
    return wrapped(verdict_in_words(light), width, role=_ROLES[light.verdict], hang="")


def place_in_words(light: StationLight, units: Units) -> str:
    """`2.4 × 0.7 m: 4 white strips of 36 µmol/s, 20 cm over the leaves, 16 h a day`."""
    size = f"{light.shelf.length_m:g} × {light.shelf.width_m:g} m"
    return f"{size}: {lamps_in_words(light, units)}"


def lamps_in_words(light: StationLight, units: Units) -> str:
    """`4 white strips of 36 µmol/s, 20 cm over the leaves, 16 h a day`."""
    alike: dict[Lamp, int] = {}
    for lamp in light.lamps:
        alike[lamp] = alike.get(lamp, 0) + 1
    parts = []
    for lamp, number in alike.items():
        flux = f"{lamp.full_flux.value:.3g}" if lamp.full_flux else "?"
        dimmed = f", dimmed to {lamp.dimming_percent:g} %" if lamp.dimming_percent else ""
        high = show_length((lamp.height_mm or 0) / 1000, units)
        parts.append(
            f"{plural(number, f'{lamp.light} {lamp.kind}')} of {flux} µmol/s{dimmed}, {high} over "
            f"the leaves, {lamp.hours or 0:g} h a day"
        )
    return "; ".join(parts)


def verdict_in_words(light: StationLight) -> str:
    """`Too dark for tomato: 3.7 mol a day at the leaf, 2.8 in …; 8 to 14 do.`."""
    need, whom = light.need, joined(list(light.crops)) or "seedlings"
    least, window = light.edge_mol, ""
    if light.window is not None:
        window = (
            f", {light.window.likely:.1f} of it by the window on a usual day "
            f"({light.window.low:.1f} overcast, {light.window.high:.1f} clear)"
        )
        least += light.window.likely
    said = (
        f"{_VERDICTS[light.verdict]} for {whom}: {light.mean_mol:.1f} mol a day at the leaf{window}"
        f", {least:.1f} in the darkest corner; {need.low_mol:g} to {need.high_mol:g} do"
        f"{f' for {need.of}' if need.of and len(light.crops) > 1 else ''}."
    )
    if light.verdict == "day too long":
        said += f" No more than {need.longest_hours:g} h of light a day."
    if light.mean_mol < need.low_mol:
        said += " Expect them to stretch."
    if light.height_mm is not None and light.height_mm < CLOSEST_MM:
        said += f" The lamps are nearer than {CLOSEST_MM / 10:g} cm to the leaves: lift them."
    return said


def map_lines(light: StationLight) -> list[Line]:
    """PPFD over the shelf as figures, seen from the front."""
    across = len(light.grid[0])
    head = f"{'µmol m⁻² s⁻¹':<14} left{'right':>{5 * across - 4}}"
    lines: list[Line] = [(Span(head, "quiet"),)]
    for number, row in enumerate(light.grid):
        name = {0: "back", len(light.grid) - 1: "front"}.get(number, "")
        cells = (Span(f"{one:5.0f}", _cell_role(one, light)) for one in row)
        lines.append((Span(f"  {name:<12}", "quiet"), *cells))
    field = light.ppfd
    lines.append(
        plain(
            f"  mean {field.mean:.0f}  least {field.least:.0f}  most {field.most:.0f}  "
            f"evenness {field.evenness:.2f}  {field.landing_umol_s:.0f} of "
            f"{field.of_umol_s:.0f} µmol/s land there"
        )
    )
    return lines


def _cell_role(ppfd: float, light: StationLight) -> Role:
    """Below the range, within it, above it: as bright as its lamps, all burning their hours."""
    mol = ppfd * light.hours * MOL_PER_UMOL_HOUR
    if mol < light.need.low_mol:
        return "quiet"
    return "good" if mol <= light.need.high_mol else "warn"


def basis_in_words(light: StationLight) -> str:
    """What the figures rest on, and how sure they are."""
    scale, error = light.scale, f"{100 * light.error:.0f} %"
    if not scale.number:
        more = f" {scale.useless[:1].upper()}{scale.useless[1:]}." if scale.useless else ""
        return f"From the packets, give or take {error}; five readings would put it right.{more}"
    last = f" of {short_day(scale.last.date())}" if scale.last else ""
    by_hand = scale.number - scale.loggers
    by = [plural(by_hand, "reading")] * bool(by_hand)
    by += [plural(scale.loggers, "logger")] * bool(scale.loggers)
    differs = f"{scale.factor:.2f} of what the packets say"
    if abs(scale.factor - 1) <= light.error:
        differs = f"what the packets say ({scale.factor:.2f})"
    said = f"By {joined(by)}{last}: {differs}, give or take {error}."
    if scale.alike:
        said += (
            " The readings are all alike, and light over a shelf is not: were they taken at one "
            "spot?"
        )
    elif scale.number > 2 and scale.apart > 0.2:
        said += (
            f" They lie {100 * scale.apart:.0f} % off the pattern of the map: look at height, "
            "length and lines of the lamps."
        )
    return said


_WHAT, _NUMBER, _COST = 38, 5, 7


def option_lines(
    light: StationLight, options: Sequence[LightOption], money: Money, units: Units
) -> list[Line]:
    """What may be set, a line each: DLI, hours, kWh a day, what that costs in a month."""
    best = next((one for one in options if one.fits), None)
    return [
        option_head(money),
        *(
            option_line(one, light, money, units, mark="▸" if one is best else "")
            for one in options
        ),
    ]


def option_head(money: Money, what: str = "What to set") -> Line:
    """Over their columns."""
    head = f"{what:<{_WHAT}}{'mean':>{_NUMBER}}{'edge':>{_NUMBER}}{'hours':>6}{'kWh':>6}"
    return (Span(f"{head}{money.head:>{_COST}}".rstrip(), "heading"),)


def option_line(
    one: LightOption, light: StationLight, money: Money, units: Units, mark: str = ""
) -> Line:
    """One of them."""
    what = fitted(f"{mark:<2}{option_in_words(one, light, units)}", _WHAT)
    kwh = "" if one.kwh_a_day is None else f"{one.kwh_a_day:.2f}"
    figures = f"{one.mean_mol:>{_NUMBER}.1f}{one.edge_mol:>{_NUMBER}.1f}{one.hours:>6g}{kwh:>6}"
    cost = f"{money.a_month(one.kwh_a_day):>{_COST}}" if money.head else ""
    text = f"{what}{figures}{cost} {_FITS[one.verdict]}".rstrip()
    return (Span(text, "good" if one.fits else "plain"),)


def option_in_words(one: LightOption, light: StationLight, units: Units) -> str:
    """`as they hang, 20 cm high, at 70 %`."""
    dimmed = f", at {one.dimming_percent:g} %" if one.dimming_percent is not None else ""
    high = f"{show_length(one.height_mm / 1000, units)} high{dimmed}"
    if one.how in {"now", "tried"}:
        return f"{'as now' if one.how == 'now' else 'tried'}, {high}"
    if one.how == "narrower" and one.patch:
        return f"middle {area_in_words(one.patch, units)}, {high}"
    if one.how == "together" and one.patch:
        return f"all {one.number} over {show_length(one.patch.length_m, units)} of it, {high}"
    if one.how == "more lamps":
        return f"{plural(one.number, light.lamps[0].kind)}, {high}"
    return f"as they hang, {high}"


def area_in_words(patch: Patch, units: Units) -> str:
    """`120 × 60 cm`."""
    long, wide = (show_length(m, units) for m in (patch.length_m, patch.width_m))
    return f"{long.split()[0]} × {wide}"


def _after(
    options: Sequence[LightOption],
    distance: Distance | None,
    units: Units,
    width: int,
) -> Iterator[Line]:
    """That they cannot give it; when the leaves come too near; what to mind."""
    said = []
    if not any(one.fits and one.how in {"now", "set", "as high"} for one in options):
        could = any(one.fits for one in options)
        said.append(
            "These lamps cannot give it to the whole shelf"
            + ("; what could is above." if could else ", nor could four times as many.")
        )
    if distance is not None:
        said += list(distance_in_words(distance, units))
    if said:
        yield plain("")
    for text in said:
        yield from wrapped(text, width, hang="")


def distance_in_words(distance: Distance, units: Units) -> Iterator[str]:
    """When the leaves come too near, or what nobody knows of it."""
    closest, growth = show_length(CLOSEST_MM / 1000, units), distance.growth
    if growth is None:
        yield (f"Lift lamps as leaves come within {closest}; measured twice, plants say when.")
    elif distance.too_close_on is not None:
        yield (
            f"{growth.sowing} grew {growth.mm_a_day:.1f} mm a day (measured till "
            f"{short_day(growth.measured_on)}): the leaves are about "
            f"{show_length(round(max(distance.now_mm, 0) / 1000, 2), units)} from the lamps, and "
            f"within {closest} on {short_day(distance.too_close_on)}."
        )


def why_lines(light: StationLight, units: Units, width: int) -> list[Line]:
    """Where each figure comes from, and what is not known."""
    need, factor = light.need, light.lamps[0].lux_factor if light.lamps else None
    along, across = (show_length(one, units) for one in EDGE_TRAY_M)
    closest = show_length(CLOSEST_MM / 1000, units)
    said = [
        f"Enough is {need.low_mol:g} to {need.high_mol:g} mol a day: {need.range_source}.",
        (
            f"No day over {need.longest_hours:g} h: {need.hours_source}. Usual are "
            f"{USUAL_HOURS[0]:g} to {USUAL_HOURS[1]:g} (Iowa State, Cornell, NDSU Extension)."
        ),
        (
            f"The darkest corner is a tray of {along} × {across} there; under "
            f"{100 * LEAST_SHARE:.0f} % of the lower end it counts as too little ({_PRACTICE})."
        ),
        (
            "The map is the closed form for strips, tubes and panels that shine as a matt "
            "surface does; walls throw back some light, which it leaves out."
        ),
        (
            "Packets are taken for exact to 10 %, how lamps hang and shine to another 10 % "
            f"({_PRACTICE})."
        ),
        f"Leaves nearer than {closest} to a lamp are too near ({_PRACTICE}).",
        (
            "kWh are of a day; money is of a month. A dimmed lamp is taken to draw as much less "
            f"as it shines less ({_PRACTICE})."
        ),
    ]
    if factor is not None and any(lamp.lumens or lamp.lumens_per_watt for lamp in light.lamps):
        said.append(
            f"Lumens: {factor.lx_per_umol:g} lx a µmol, give or take {100 * factor.error:.0f} %: "
            f"{factor.source}."
        )
    if light.scale.number:
        said.append(
            "Of a reading a quantum meter is taken for exact to 5 %, a lux meter to 10 %, a phone "
            f"to 30 % ({_PRACTICE}); lux also carry the error of the lamp's factor. A logger "
            "counts as one reading, the middle of its last week while the lamps burned; where on "
            "the shelf it lies is not known, so one by hand with its spot counts far more."
        )
    if light.window is not None:
        said.append(
            f"The day is {light.day_hours or 0:.1f} h long. What the window gives is "
            f"{light.station.daylight_percent:g} % of the light outdoors, by your own guess: no "
            f"published figure of a sill was found, and the sky differs from day to day "
            f"({_PRACTICE})."
        )
    return [line for text in said for line in wrapped(text, width)]
