"""The lamps over a station, as their packet describes them → their photon flux."""

from math import hypot
from typing import Final, get_args

from msgspec import Struct

from seedstart.growing.light.dose import LightSource, LuxFactor, Measured, lux_factor
from seedstart.growing.light.electricity import too_good
from seedstart.growing.light.over_shelf import LampKind
from seedstart.season.plan.checked import Table
from seedstart.season.plan.typed_values import between, number, one_of, quantity, text, whole
from seedstart.units import Units, parse_length, parse_percent

# How far a lamp may be off its packet, as a share: common practice, no source.
PACKET_ERROR: Final = 0.10


class Lamp(Struct, frozen=True):
    """One lamp over a station; several of a kind stand in the plan one by one.

    Attributes:
        name: What the grower calls it.
        watts: Electric power, W.
        ppf_umol_s: Photon flux, µmol s⁻¹.
        length_m: Length of its lit strip, metres.
        height_mm: Height over the leaves, millimetres.
        hours: Hours of light a day.
        kind: A strip or bar that shines downwards, a bare round tube, or a panel.
        light: Colour or kind of its light, which says what its lumens are worth.
        lumens: What the packet gives in lumens.
        lumens_per_watt: Or in lumens a watt.
        umol_per_joule: Or in µmol a joule.
        lx_per_umol: Lux of one µmol m⁻² s⁻¹ of its light, where its maker says.
        width_m: Of a panel, metres.
        spacing_m: From line to line of lamps; spread over the width of the station without it.
        lines: In how many parallel lines they hang; as few as the length allows without it.
        dimming_percent: What it is dimmed to; None where it cannot be dimmed.
    """

    name: str = ""
    watts: float | None = None
    ppf_umol_s: float | None = None
    length_m: float | None = None
    height_mm: float | None = None
    hours: float | None = None
    kind: LampKind = "strip"
    light: LightSource = "white"
    lumens: float | None = None
    lumens_per_watt: float | None = None
    umol_per_joule: float | None = None
    lx_per_umol: float | None = None
    width_m: float | None = None
    spacing_m: float | None = None
    lines: int | None = None
    dimming_percent: float | None = None

    @property
    def lux_factor(self) -> LuxFactor | None:
        """What lux of its light are worth; None of red-blue lamps, of which they say nothing."""
        try:
            return lux_factor(self.light, self.lx_per_umol)
        except ValueError:
            return None

    @property
    def full_flux(self) -> Measured | None:
        """Its photon flux undimmed, µmol s⁻¹; None where the packet does not say enough."""
        if self.ppf_umol_s is not None:
            return Measured(self.ppf_umol_s, PACKET_ERROR)
        if self.umol_per_joule is not None and self.watts is not None:
            return Measured(self.umol_per_joule * self.watts, PACKET_ERROR)
        lumens, factor = self.lumens, self.lux_factor
        if lumens is None and self.lumens_per_watt is not None and self.watts is not None:
            lumens = self.lumens_per_watt * self.watts
        if lumens is None or factor is None:
            return None
        return Measured(lumens / factor.lx_per_umol, hypot(PACKET_ERROR, factor.error))

    def missing(self) -> tuple[str, ...]:
        """What of the packet is needed to reckon its light and is not said."""
        need = {
            "length (of its lit part)": self.length_m,
            "width": self.width_m if self.kind == "panel" else 0.0,
            "height (over the leaves)": self.height_mm,
            "hours (of light a day)": self.hours,
            "ppf_umol_s, lumens, or watts with umol_per_joule or lumens_per_watt": self.full_flux,
        }
        return tuple(key for key, value in need.items() if value is None)


def read_lamps(table: Table, units: Units) -> tuple[Lamp, ...]:
    """The lamps of a station; `count = 4` stands for four alike."""
    lamps: list[Lamp] = []
    for one in table.tables("lamps", "lamps = [{ … }]"):
        count = one.take("count", whole(1, 100), 1)
        lamp = _lamp(one, units)
        _check_flux(one, lamp)
        lamps += [lamp] * count
        one.close(listed_by="docs/formats.md")
    return tuple(lamps)


def _lamp(table: Table, units: Units) -> Lamp:
    metres = quantity(parse_length, units)
    name = table.take("name", text, "")
    watts = table.take("watts", number(0.1, 5000), None)
    photons = table.take("ppf_umol_s", number(0.1, 20_000), None)
    length_m = table.take("length", between(metres, 0.05, 5, "a length from 5 cm to 5 m"), None)
    height_m = table.take("height", between(metres, 0.01, 5, "a height from 1 cm to 5 m"), None)
    return Lamp(
        name=name,
        watts=watts,
        ppf_umol_s=photons,
        length_m=length_m,
        height_mm=None if height_m is None else round(height_m * 1000, 3),
        hours=table.take("hours", number(0, 24, "hours a day"), None),
        kind=table.take("kind", one_of(get_args(LampKind)), "strip"),
        light=table.take("light", one_of(get_args(LightSource)), "white"),
        lumens=table.take("lumens", number(1, 1_000_000), None),
        lumens_per_watt=table.take("lumens_per_watt", number(1, 300), None),
        umol_per_joule=table.take("umol_per_joule", number(0.01, 10), None),
        lx_per_umol=table.take("lx_per_umol", number(1, 200), None),
        width_m=table.take("width", between(metres, 0.01, 5, "a width from 1 cm to 5 m"), None),
        spacing_m=table.take("spacing", between(metres, 0.01, 5, "1 cm to 5 m"), None),
        lines=table.take("lines", whole(1, 100), None),
        dimming_percent=table.take("dimming", _dimming, None),
    )


def _dimming(value: object) -> float:
    """`"70%"`, or a bare number of percent."""
    found = parse_percent(value) if isinstance(value, str) else number(1, 100)(value)
    if not 1 <= found <= 100:
        raise ValueError('a percentage from 1 to 100, e.g. "70%"')
    return found


def _check_flux(table: Table, lamp: Lamp) -> None:
    """Lumens that say nothing, and lamps that are better than any."""
    by_lumens = next((key for key in ("lumens", "lumens_per_watt") if getattr(lamp, key)), "")
    if by_lumens and lamp.full_flux is None and lamp.lux_factor is None:
        try:
            lux_factor(lamp.light)
        except ValueError as error:
            reason = str(error)
            table.refuse(by_lumens, hint=f"{reason[:1].upper()}{reason[1:]}.")
        return
    key = "umol_per_joule" if lamp.umol_per_joule else by_lumens or "ppf_umol_s"
    efficacy = lamp.umol_per_joule
    if lamp.ppf_umol_s is not None:
        key, efficacy = "ppf_umol_s", lamp.ppf_umol_s / lamp.watts if lamp.watts else None
    elif efficacy is None and lamp.full_flux is not None and lamp.watts:
        efficacy = lamp.full_flux.value / lamp.watts
    white = lamp.light.endswith("white")
    if efficacy is not None and (why := too_good(efficacy, white=white)):
        table.refuse(key, found=f"{getattr(lamp, key):g}", hint=why[:1].upper() + why[1:])
