"""Forms of what comes into the plan: a lot, a station, a container."""

from collections.abc import Callable, Mapping
from datetime import datetime
from itertools import chain
from typing import Any, Final, get_args

from seedstart.acts.act import Field, Texts
from seedstart.acts.known import Known
from seedstart.app.forms.form_input import NEEDED, Filled, PlanAct, Slip, fill
from seedstart.app.forms.form_screen import Form
from seedstart.app.forms.form_services import Desk
from seedstart.crop_table.crop import caution_in_words
from seedstart.crop_table.find import find_crop
from seedstart.growing.light.dose import LightSource
from seedstart.problems import Problem
from seedstart.season.plan.additions import (
    check_container,
    check_lots,
    check_station,
    container_keys,
    lot_value,
    station_keys,
)
from seedstart.season.plan.season_file import StationKind
from seedstart.season.plan.stations import station_cautions
from seedstart.season.plan.toml_blocks import Added

Keys = dict[str, Any]


class PlanForm(Form[Keys, Added]):
    """Keys of a block; dismissed with what was added once it stands in its file.

    Args:
        act: What is added.
        desk: What the app gives to every form.
        add: Adds it; answers with what was added, or with why nothing was.
        given: What is known of its fields already, by their keys; counts as typed.
    """

    def __init__(
        self,
        act: PlanAct[Keys],
        desk: Desk,
        add: Callable[[Keys], Added | str],
        given: Mapping[str, str] | None = None,
    ) -> None:
        super().__init__(act, act.fields, desk.look, given, desk)
        self._plan_act = act
        self._catch_up, self._add = desk.catch_up, add
        self._added: Added | None = None

    def fill(self, known: Known, texts: Texts) -> Filled[Keys]:
        """Read what stands in the fields."""
        return fill(self._plan_act, known, texts)

    def catch_up(self) -> None:
        """The season's files may have changed."""
        self._catch_up()

    def hand_over(self, made: Keys, at: datetime | None) -> str | None:  # noqa: ARG002
        """Have it added."""
        found = self._add(made)
        if isinstance(found, str):
            return found
        self._added = found
        return None

    def result(self, made: Keys, at: datetime | None) -> Added:  # noqa: ARG002
        """What was added."""
        if self._added is None:
            raise RuntimeError("a form is left with a result once that is written")
        return self._added


_FORMS: Final = ("natural", "pelleted", "primed", "coated", "treated")


def _crops(known: Known) -> list[str]:
    """All names of all crops, their own first."""
    crops = known.plan.crops.crops.values()
    return [*(crop.name for crop in crops), *chain.from_iterable(crop.also for crop in crops)]


def _lot(slip: Slip) -> Keys:
    said = {field.key: slip.text(field.key) for field in LOT.fields}
    keys: Keys = {key: lot_value(key, text) for key, text in said.items() if text}
    if "sow" in keys:
        keys["sow"] = [day.strip() for day in str(keys["sow"]).split(",")]
    check_lots([keys], slip.known.plan)
    return keys


LOT: Final = PlanAct[Keys](
    name="new lot",
    about="a packet of seed, or a batch you saved",
    fields=(
        Field(key="name", label="Name", says="what stands on its label", need=NEEDED),
        Field(
            key="crop", label="Crop", says="pepper, leek …", need=NEEDED, names=_crops, only=True
        ),
        Field(key="variety", label="Variety", says="the cultivar on the packet"),
        Field(key="want", label="Plants wanted", says="at setting out, from each sowing"),
        Field(
            key="station", label="Comes up at", says="a station", names=Known.stations, only=True,
            makes="station",
        ),
        Field(
            key="then", label="Then goes to", says="where they go once up",
            names=Known.stations, only=True, makes="station",
        ),
        Field(
            key="container", label="Sown in", says="e.g. tray of 72", names=Known.containers,
            only=True,
        ),
        Field(key="have", label="In the packet", says="e.g. 50 seeds, 2.5 g"),
        Field(key="germination", label="Germination", says="as printed on the packet: 85%"),
        Field(key="harvested", label="Harvested", says="2026; 2022-2024; unknown"),
        Field(key="from", label="Donor", says="who gave or sold it"),
        Field(
            key="form", label="Seed is", says=", ".join(_FORMS), names=lambda _: _FORMS, only=True
        ),
        Field(key="sowings", label="Sowings", says="how many in all, if more than one"),
        Field(key="every", label="Every", says="time between them, e.g. 14 days"),
        Field(
            key="sow", label="Own days",
            says="e.g. 2027-03-02, 2027-03-16; instead of the calendar's",
        ),
    ),
    make=_lot,
    asks="name",
    also="packet seed add variety buy bought",
)  # fmt: skip


class LotForm(PlanForm):
    """A new lot; dismissed with what was added once it stands in lots.toml."""

    def __init__(self, desk: Desk, given: Mapping[str, str] | None = None) -> None:
        super().__init__(LOT, desk, desk.add_lot, given)

    def would_say(self, made: Keys, at: datetime | None, known: Known) -> list[str]:  # noqa: ARG002
        """What is added, and what can hurt of it."""
        variety = f" {made['variety']}" if "variety" in made else ""
        adds = f"adds to lots.toml: {made['name']}, {made['crop']}{variety}"
        crop = find_crop(known.plan.crops, str(made["crop"]), file="new lot")
        cautions = () if isinstance(crop, Problem) else crop.cautions
        return [adds, *(f"! {caution_in_words(one)}" for one in cautions)]


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
            key="expected", label="Temperature", says="e.g. 24C, 75F; 21C day, 14C night",
            told=_of_one("of the medium there; used until there are readings"),
        ),
        Field(
            key="area", label="Size", says="length x width, e.g. 1.2 x 0.5 m; 4 x 2 ft",
            told=_of_one("for the space plan: how many trays fit"),
        ),
        Field(key="count", label="Lamps", says="how many identical lamps; leave empty for none"),
        Field(key="watts", label="Watts", says="of one lamp, for the cost"),
        Field(
            key="ppf_umol_s", label="Photon flux", says="of one lamp, µmol/s, as on its box",
        ),
        Field(key="lumens", label="Lumens", says="of one lamp, where its box gives no flux"),
        Field(key="light", label="Light", says="white, warm white, cool white, red-blue …",
              names=lambda _: _LIGHTS, only=True),
        Field(key="length", label="Lit length", says="of one lamp, e.g. 1.2 m"),
        Field(key="height", label="Lamp height", says="above the leaves, e.g. 30 cm"),
        Field(key="hours", label="Hours lit", says="a day, e.g. 16"),
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
        adds = f"adds to season.toml: {', '.join(parts)}; last on the walk"
        return [adds, *station_cautions(str(made["kind"]), lamps="count" in made)]


def _container(slip: Slip) -> Keys:
    keys = container_keys({field.key: slip.text(field.key) for field in CONTAINER.fields})
    check_container(keys, slip.known.plan)
    return keys


CONTAINER: Final = PlanAct[Keys](
    name="new container",
    about="a tray or a pot of your own",
    fields=(
        Field(key="name", label="Name", says="what you call it", need=NEEDED),
        Field(
            key="cells", label="Cells", says="1 for a pot, 0 for an open tray", need=NEEDED,
        ),
        Field(
            key="footprint", label="Size", says="length x width, e.g. 54 x 28 cm", need=NEEDED,
            told=_of_one("for the space plan: the room that it takes"),
        ),
        Field(key="cell_ml", label="Cell volume", says="millilitres, e.g. 43"),
    ),
    make=_container,
    asks="name",
    also="tray pot add cells egg box",
)  # fmt: skip


class ContainerForm(PlanForm):
    """A new container; dismissed with what was added once it stands in season.toml."""

    def __init__(self, desk: Desk, given: Mapping[str, str] | None = None) -> None:
        super().__init__(CONTAINER, desk, desk.add_container, given)

    def would_say(self, made: Keys, at: datetime | None, known: Known) -> list[str]:  # noqa: ARG002
        """What is added."""
        return [f"adds to season.toml: {made['name']}, {made['footprint']}"]
