"""Photons over a shelf from the lamps above it, in closed form.

x runs along the shelf from its left end, y across it from the front, metres; h is the height over
the leaves. Nothing is thrown back by walls or leaves: reflecting walls give more.
"""

from collections.abc import Callable, Iterable, Sequence
from math import atan, cos, hypot, log, pi, sqrt
from typing import Final, Literal, NamedTuple

LampKind = Literal["strip", "bar", "tube", "panel"]
_FINE: Final = 12  # steps along the shorter side, from spot to spot that is looked at
_STEPS: Final = 32  # of Simpson's rule, across a shelf under tubes


class Emitter(NamedTuple):
    """One lamp where it hangs.

    Attributes:
        kind: `strip` and `bar` shine downwards only, as a matt surface does (a beam of 120°);
            `tube` bare and round, half of its light upwards; `panel` a matt area.
        ppf_umol_s: Its photon flux, µmol s⁻¹.
        length_m: Along the shelf, metres.
        x_m: Its middle, along.
        y_m: Its middle, across.
        h_m: Height over the leaves, metres.
        width_m: Of a panel, across the shelf.
    """

    kind: LampKind
    ppf_umol_s: float
    length_m: float
    x_m: float
    y_m: float
    h_m: float
    width_m: float = 0.0


def ppfd_umol(lamps: Iterable[Emitter], x_m: float, y_m: float) -> float:
    """PPFD at a point of the shelf, µmol m⁻² s⁻¹; lamps add.

    Raises:
        ValueError: A lamp without height or length over the leaves.

    Source:
        Strips and tubes: the integral of a line of Lambertian (or round) sources, written out;
        panels: the view factor of a rectangle from a parallel surface element at its corner
        (handbooks of radiative heat transfer; from memory). Checked against quadrature.
    """
    return sum(_of_one(lamp, x_m - lamp.x_m, y_m - lamp.y_m) for lamp in lamps)


def _of_one(lamp: Emitter, x: float, y: float) -> float:
    kind, q, length, _, _, h, _ = lamp
    if not h > 0 or not length > 0:
        raise ValueError(f"a lamp of some length, some way over the leaves; got {lamp}")
    if kind == "panel":
        return _of_panel(lamp, x, y)
    d = hypot(h, y)
    east, west = (length / 2 - x) / d, (-length / 2 - x) / d
    ends = atan(east) + east / (1 + east * east) - atan(west) - west / (1 + west * west)
    if kind == "tube":
        return q * h / (2 * pi**2 * length * d * d) * ends
    return q * h * h / (2 * pi * length * d**3) * ends


def _of_panel(lamp: Emitter, x: float, y: float) -> float:
    a, b, h = lamp.length_m, lamp.width_m, lamp.h_m
    if not b > 0:
        raise ValueError(f"a panel has a width; got {lamp}")

    def corner(along: float, across: float) -> float:
        u, v = along / h, across / h
        p, q = sqrt(1 + u * u), sqrt(1 + v * v)
        return (u / p * atan(v / p) + v / q * atan(u / q)) / (2 * pi)

    east, west, north, south = a / 2 - x, -a / 2 - x, b / 2 - y, -b / 2 - y
    seen = corner(east, north) - corner(west, north) - corner(east, south) + corner(west, south)
    return lamp.ppf_umol_s / (a * b) * seen


class Field(NamedTuple):
    """Light over a shelf or a part of it.

    Attributes:
        mean: µmol m⁻² s⁻¹.
        least: At the darkest spot.
        most: At the brightest spot.
        landing_umol_s: Photons a second that land on it.
        of_umol_s: Photons a second that the lamps give.
    """

    mean: float
    least: float
    most: float
    landing_umol_s: float
    of_umol_s: float

    @property
    def evenness(self) -> float:
        """Least over mean; 1 is even."""
        return self.least / self.mean if self.mean else 0.0

    @property
    def landing(self) -> float:
        """Share of the lamps' light that lands there."""
        return self.landing_umol_s / self.of_umol_s if self.of_umol_s else 0.0

    def times(self, factor: float) -> "Field":
        """The light of lamps that give this many times as much."""
        return Field(*(factor * one for one in self))


class Patch(NamedTuple):
    """A part of a shelf, metres from its left front corner."""

    x_m: float
    y_m: float
    length_m: float
    width_m: float


def mean_over(lamps: Iterable[Emitter], patch: Patch) -> float:
    """The mean PPFD of a patch, µmol m⁻² s⁻¹: in closed form, under tubes within 1 in 10 000.

    Raises:
        ValueError: A patch or a lamp without length or width.

    Source:
        The closed forms of `ppfd_umol` integrated over a rectangle, written out; for panels that is
        the view factor of parallel rectangles (handbooks of radiative heat transfer; from memory).
        Checked against quadrature.
    """
    area = patch.length_m * patch.width_m
    if not min(patch.length_m, patch.width_m) > 0:
        raise ValueError(f"a patch of some length and width; got {patch}")
    return sum(_landing(lamp, patch) for lamp in lamps) / area


def _landing(lamp: Emitter, patch: Patch) -> float:
    """Photons a second of one lamp that land on a patch."""
    kind, q, length, x_m, y_m, h, width = lamp
    if not h > 0 or not length > 0:
        raise ValueError(f"a lamp of some length, some way over the leaves; got {lamp}")
    left, front = (patch.x_m - x_m) / h, (patch.y_m - y_m) / h
    right, back = left + patch.length_m / h, front + patch.width_m / h
    along = _ends(left, right, length / 2 / h)
    if kind == "tube":
        return q * h / (2 * pi**2 * length) * _across_tube(along, front, back)
    if kind == "panel":
        across = _ends(front, back, width / 2 / h)
        both = sum(a * b * _of_areas(u, v) for a, u in along for b, v in across)
        return q * h * h / (2 * pi * length * width) * both
    both = sum(a * (_of_line(u, back) - _of_line(u, front)) for a, u in along)
    return q * h / (2 * pi * length) * both


def _ends(begin: float, end: float, half: float) -> tuple[tuple[int, float], ...]:
    """Ends of a patch from both ends of a lamp, in its heights: with the sign that they count."""
    return (1, end + half), (-1, end - half), (-1, begin + half), (1, begin - half)


def _of_line(u: float, v: float) -> float:
    p, q = sqrt(1 + u * u), sqrt(1 + v * v)
    return p * atan(v / p) + u * v / q * atan(u / q)


def _of_areas(u: float, v: float) -> float:
    p, q = sqrt(1 + u * u), sqrt(1 + v * v)
    return v * p * atan(v / p) + u * q * atan(u / q) - log(1 + u * u + v * v) / 2


def _across_tube(along: Sequence[tuple[int, float]], front: float, back: float) -> float:
    """Simpson's rule over the angle at which the tube sees the leaves across the shelf."""
    begin, step = atan(front), (atan(back) - atan(front)) / _STEPS
    total = 0.0
    for one in range(_STEPS + 1):
        weight = 1 if one in {0, _STEPS} else 4 if one % 2 else 2
        seen = cos(begin + one * step)
        total += weight * sum(sign * u * atan(u * seen) for sign, u in along)
    return total * step / 3


def field_over(lamps: Sequence[Emitter], patch: Patch) -> Field:
    """Mean, darkest and brightest spot of a patch, and what lands on it.

    Darkest and brightest are sought under the middles of the lamps and on a grid of twelve steps
    over the shorter side, rim and middle among them: over shelves up to 1.2 m wide, with lamps 10
    cm high or higher, within 2 % of a grid six times finer.
    """
    mean = mean_over(lamps, patch)
    spots = [ppfd_umol(lamps, x, y) for x, y in _spots(lamps, patch)]
    area = patch.length_m * patch.width_m
    total = sum(lamp.ppf_umol_s for lamp in lamps)
    return Field(mean, min(spots), max(spots), mean * area, total)


def _spots(lamps: Sequence[Emitter], patch: Patch) -> set[tuple[float, float]]:
    x, y, length, width = patch
    step = min(length, width) / _FINE
    n, m = (min(2 * round(one / step / 2), 4 * _FINE) for one in (length, width))
    xs = [x + length * i / n for i in range(n + 1)]  # an even number of steps: the middle is there
    ys = [y + width * j / m for j in range(m + 1)]
    under = ((lamp.x_m, lamp.y_m) for lamp in lamps)
    return {(a, b) for a in xs for b in ys} | {
        (a, b) for a, b in under if x <= a <= x + length and y <= b <= y + width
    }


def grid_over(
    lamps: Sequence[Emitter], patch: Patch, columns: int, lines: int
) -> tuple[tuple[float, ...], ...]:
    """PPFD in the middles of the cells of a grid, the line at the back first."""
    dx, dy = patch.length_m / columns, patch.width_m / lines
    return tuple(
        tuple(
            ppfd_umol(lamps, patch.x_m + dx * (i + 0.5), patch.y_m + dy * (j + 0.5))
            for i in range(columns)
        )
        for j in reversed(range(lines))
    )


def hung(
    like: Emitter, number: int, shelf: Patch, *, lines: int | None = None, spacing_m: float = 0.0
) -> list[Emitter]:
    """Lamps alike over a shelf, in parallel lines, as many end to end as its length holds.

    Args:
        like: One of them; where it hangs is not looked at.
        number: How many.
        shelf: Over what; they hang around its middle.
        lines: How many lines; as few as will do where it is not said.
        spacing_m: From line to line; spread evenly over the width where it is 0.
    """
    in_line = max(int(shelf.length_m / like.length_m + 0.02), 1)
    lines = min(lines or -(-number // in_line), number)
    apart = spacing_m or shelf.width_m / lines
    found: list[Emitter] = []
    for line in range(lines):
        here = number // lines + (line < number % lines)
        y = shelf.y_m + shelf.width_m / 2 + (line - (lines - 1) / 2) * apart
        step = like.length_m if here * like.length_m > shelf.length_m else shelf.length_m / here
        for place in range(here):
            x = shelf.x_m + shelf.length_m / 2 + (place - (here - 1) / 2) * step
            found.append(like._replace(x_m=x, y_m=y))
    return found


def largest_lit(
    lamps: Sequence[Emitter], shelf: Patch, enough: Callable[[Patch], bool], step_m: float = 0.02
) -> Patch | None:
    """The largest patch around the lamps' middle line that is lit well enough; None for none.

    It keeps the shelf's length where that helps, else it is cut to the length of the lamps.

    Args:
        lamps: Over the shelf.
        shelf: The whole.
        enough: Whether a patch is lit well enough.
        step_m: Widths that are tried.
    """
    left = min(lamp.x_m - lamp.length_m / 2 for lamp in lamps)
    right = max(lamp.x_m + lamp.length_m / 2 for lamp in lamps)
    lit = (max(left, shelf.x_m), min(right, shelf.x_m + shelf.length_m))
    middle = shelf.y_m + shelf.width_m / 2
    for x, length in ((shelf.x_m, shelf.length_m), (lit[0], lit[1] - lit[0])):
        for number in range(int(shelf.width_m / step_m + 1e-9), 4, -1):
            width = number * step_m
            patch = Patch(x, middle - width / 2, length, width)
            if enough(patch):
                return patch
    return None
