"""The form of a new lot: a packet of seed comes into lots.toml."""

from collections.abc import Mapping
from datetime import datetime
from itertools import chain
from typing import Final

from seedstart.acts.act import Field
from seedstart.acts.known import Known
from seedstart.app.forms.desk import Desk
from seedstart.app.forms.filling import NEEDED, PlanAct
from seedstart.app.forms.plan_form import Keys, PlanForm
from seedstart.app.forms.slip import Slip
from seedstart.crop_table.crop import caution_in_words
from seedstart.crop_table.find import find_crop
from seedstart.problems import Problem
from seedstart.season.new_lots import check_lots, lot_value

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
    about="a packet of seed, or a batch that you saved",
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
            key="then", label="Then goes to", says="where, at the first seedlings",
            names=Known.stations, only=True, makes="station",
        ),
        Field(
            key="container", label="Sown in", says="as tray of 72", names=Known.containers,
            only=True,
        ),
        Field(key="have", label="Seed left", says="as 50 seeds, 2.5 g"),
        Field(key="germination", label="Germination", says="as printed on the packet: 85%"),
        Field(key="harvested", label="Harvested", says="2026; 2022-2024; unknown"),
        Field(key="from", label="From", says="donor or supplier"),
        Field(
            key="form", label="Seed is", says=", ".join(_FORMS), names=lambda _: _FORMS, only=True
        ),
        Field(key="sowings", label="Sowings", says="how many, all told, if not one"),
        Field(key="every", label="Every", says="time between them, as 14 days"),
        Field(key="sow", label="Own days", says="2027-03-02, 2027-03-16; before the calendar"),
    ),
    make=_lot,
    asks="name",
    also="packet seed add variety",
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
