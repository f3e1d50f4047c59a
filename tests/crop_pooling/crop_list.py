"""The crops of the table."""

from typing import Final

from crop_pooling.flowers import FLOWERS
from crop_pooling.listed import Listed
from crop_pooling.vegetables import HERBS, VEGETABLES

CROPS: Final[tuple[Listed, ...]] = (*VEGETABLES, *HERBS, *FLOWERS)
BY_NAME: Final = {crop.name: crop for crop in CROPS}
