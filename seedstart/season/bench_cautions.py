"""What can hurt at a bench, by what stands there: in the words of bench_safety.csv, once a station.

Local codes and the maker's own sheet go before all of it.
"""

from typing import Final

from seedstart.season.stations import HEATED, StationKind

_LAMPS: Final = (
    "Lamps: plug, timer and strip hang above the bench and out of the splash, behind a "
    "residual-current device (RCD, GFCI); no strip on another strip or lead (Technical Safety BC). "
    "Do not look into a bright LED or any lamp with UV (from memory)."
)
_CLOSE: Final = (
    "Lamps close above covers warm what lies under them: look at the medium's temperature. Leaves "
    "that touch a lamp scorch (from memory)."
)
_MAT: Final = (
    "Heat mat: one made for plants, flat on hard dry ground, never folded, on carpet or under a "
    "cloth; its thermostat's probe belongs in the medium (from memory)."
)
_BY_KIND: Final[dict[StationKind, str]] = {
    "cabinet": (
        "Tent or cabinet: lamps hang on chain, no ballast or strip on the floor, nothing near them "
        "that burns, the fan running, a smoke alarm in the room (from memory)."
    ),
    "frame": (
        "Cold frame: open the sash on a sunny morning, or plants cook though it is cold outside; "
        "prop it so that it cannot fall (Leavenworth Times 2013)."
    ),
    "greenhouse": (
        "A paraffin or gas heater gives off carbon monoxide: a vent open, an alarm, never filled "
        "while hot; an electric one plugs straight into the wall (US Consumer Product Safety "
        "Commission)."
    ),
}
_FIRST: Final = "Your local code and the maker's sheet go before this."
LAMP_CAUTIONS: Final = (_LAMPS, _CLOSE, _FIRST)


def station_cautions(kind: str, *, lamps: bool) -> tuple[str, ...]:
    """What to mind at a station of a kind, each as a sentence or two; none where nothing hurts.

    Args:
        kind: Its kind.
        lamps: Whether lamps hang over it.
    """
    found = [_MAT] if kind in HEATED else []
    found += [text for one, text in _BY_KIND.items() if one == kind]
    found += [_LAMPS, _CLOSE] if lamps else []
    return (*found, _FIRST) if found else ()
