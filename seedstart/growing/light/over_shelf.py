"""Photons over a shelf from the lamps above it, in closed form.

x runs along the shelf from its left end, y across it from the front, metres; h is the height over
the leaves. Nothing is thrown back by walls or leaves: reflecting walls give more.
"""

from collections.abc import Callable, Iterable, Sequence
from math import atan, hypot, pi, sqrt
from typing import Final, Literal, NamedTuple

LampKind = Literal["strip", "bar", "tube", "panel"]
_FINE: Final = 24  # cells along the shorter side, for means: within 0.3 % of integrals


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
    if not lamp.h_m > 0 or not lamp.length_m > 0:
        raise ValueError(f"a lamp of some length, some way over the leaves; got {lamp}")
    if lamp.kind == "panel":
        return _of_panel(lamp, x, y)
    q, length, h = lamp.ppf_umol_s, lamp.length_m, lamp.h_m
    d = hypot(h, y)

    def f(u: float) -> float:
        return atan(u / d) + u * d / (d * d + u * u)

    ends = f(length / 2 - x) - f(-length / 2 - x)
    if lamp.kind == "tube":
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


class Patch(NamedTuple):
    """A part of a shelf, metres from its left front corner."""

    x_m: float
    y_m: float
    length_m: float
    width_m: float


def field_over(lamps: Sequence[Emitter], patch: Patch, fine: int = _FINE) -> Field:
    """Mean, darkest and brightest spot, and what lands on a patch.

    Args:
        lamps: Over the shelf.
        patch: The whole of it or a part.
        fine: Cells along the shorter side; fewer take less time.
    """
    n, m = _cells(patch, fine)
    dx, dy = patch.length_m / n, patch.width_m / m
    xs = [patch.x_m + dx * (i + 0.5) for i in range(n)]
    ys = [patch.y_m + dy * (j + 0.5) for j in range(m)]
    cells = [ppfd_umol(lamps, x, y) for y in ys for x in xs]
    mean = sum(cells) / len(cells)
    right, back = patch.x_m + patch.length_m, patch.y_m + patch.width_m
    edges = [(x, y) for x in (patch.x_m, *xs, right) for y in (patch.y_m, back)]
    edges += [(x, y) for x in (patch.x_m, right) for y in ys]
    rim = [ppfd_umol(lamps, x, y) for x, y in edges]
    area = patch.length_m * patch.width_m
    total = sum(lamp.ppf_umol_s for lamp in lamps)
    return Field(mean, min(*cells, *rim), max(*cells, *rim), mean * area, total)


def _cells(patch: Patch, fine: int) -> tuple[int, int]:
    short = min(patch.length_m, patch.width_m)
    if not short > 0:
        raise ValueError(f"a patch of some length and width; got {patch}")
    along, across = patch.length_m / short, patch.width_m / short
    return min(round(fine * along), 4 * fine), min(round(fine * across), 4 * fine)


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
