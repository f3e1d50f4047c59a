"""A small crop table: names, other names and two crops that one word fits."""

import msgspec

from seedstart.crop_table.crop import Crop
from seedstart.crop_table.load import CropTable

_FIGURE = {"best": 7, "low": 6, "high": 8, "basis": "source"}


def crop(name: str, *also: str) -> Crop:
    said = {"basis": "source"}
    return msgspec.convert(
        {
            "name": name,
            "also": list(also),
            "group": "vegetable",
            "hardiness": "tender",
            "hardiness_from": said,
            "clock": "table",
            "raising": "pricked out",
            "raising_from": said,
            "lowest_c": _FIGURE,
            "fastest_c": _FIGURE,
            "highest_c": _FIGURE,
            "tray_c": _FIGURE,
            "first_to_last": _FIGURE,
        },
        Crop,
    )


CROPS = CropTable(
    {
        one.name: one
        for one in (
            crop("pepper", "capsicum"),
            crop("leek"),
            crop("lettuce"),
            crop("tomato"),
            crop("snap bean", "french bean"),
            crop("runner bean"),
        )
    },
    {},
)
