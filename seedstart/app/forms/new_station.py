"""The form of a new station: a place where trays stand comes into season.toml."""

from collections.abc import Callable, Mapping
from datetime import datetime
from typing import Final, get_args

from seedstart.acts.act import Field, Texts
from seedstart.acts.known import Known
from seedstart.app.forms.desk import Desk
from seedstart.app.forms.filling import NEEDED, PlanAct
from seedstart.app.forms.plan_form import Keys, PlanForm
from seedstart.app.forms.slip import Slip
from seedstart.growing.light.dose import LightSource
from seedstart.season.bench_cautions import station_cautions
from seedstart.season.new_stations import check_station, station_keys
from seedstart.season.plan import StationKind

_KINDS: Final[tuple[str, ...]] = get_args(StationKind)
_LIGHTS: Final[tuple[str, ...]] = get_args(LightSource)


def _station(slip: Slip) -> Keys:
    keys = station_keys({field.key: slip.text(field.key) for field in STATION.fields})
    check_station(keys, slip.known.plan, slip.known.trays())
    return keys


def _of_one(what: str) -> Callable[[Known, Texts], str]:
    return lambda _known, _texts: what


STATION: Final = PlanAct[Keys](
    name="new station",
    about="a shelf, a mat or a sill where trays stand",
    fields=(
        Field(key="name", label="Name", says="what you call this place", need=NEEDED),
        Field(
            key="kind", label="Kind", says="shelf, mat, sill …", need=NEEDED,
            names=lambda _: _KINDS, only=True,
        ),
        Field(
            key="expected", label="Temperature", says="as 24C, 75F; 21C day, 14C night",
            told=_of_one("of the medium there, to plan with until there are readings"),
        ),
        Field(
            key="area", label="Size", says="length x width, as 1.2 x 0.5 m; 4 x 2 ft",
            told=_of_one("for the space plan: how many trays fit"),
        ),
        Field(key="count", label="Lamps", says="how many, all alike; nothing without"),
        Field(key="watts", label="Watts", says="of one lamp, for the cost"),
        Field(
            key="ppf_umol_s", label="Photon flux", says="of one lamp, µmol/s; as on its box",
        ),
        Field(key="lumens", label="Lumens", says="of one lamp, where its box gives no flux"),
        Field(key="light", label="Light", says="white, warm white, cool white, red-blue …",
              names=lambda _: _LIGHTS, only=True),
        Field(key="length", label="Lit length", says="of one lamp, as 1.2 m"),
        Field(key="height", label="Lamp height", says="over the leaves, as 30 cm"),
        Field(key="hours", label="Hours lit", says="a day, as 16"),
    ),
    make=_station,
    asks="name",
    also=f"place add {' '.join(_KINDS)}",
)  # fmt: skip


class StationForm(PlanForm):
    """A new station; dismissed with what was added once it stands in season.toml."""

    def __init__(self, desk: Desk, given: Mapping[str, str] | None = None) -> None:
        super().__init__(STATION, desk, desk.add_station, given)

    def would_say(self, made: Keys, at: datetime | None, known: Known) -> list[str]:  # noqa: ARG002
        """What is added, where on the walk it comes, and what to mind there."""
        parts = [made["name"], made["kind"], *([made["expected"]] if "expected" in made else [])]
        adds = f"adds to season.toml: {', '.join(parts)}; the last on the walk"
        return [adds, *station_cautions(str(made["kind"]), lamps="count" in made)]
