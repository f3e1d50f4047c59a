"""The screens look as they did when somebody last looked at them (`./task pictures`)."""

import pytest

from app_screens import SIZES, screens, text_of, text_path


@pytest.mark.parametrize("size", SIZES)
async def test_every_screen_looks_as_it_is_meant_to(size: tuple[int, int]) -> None:
    async for screen, app in screens(size):
        assert text_of(app) == text_path(screen, size).read_text("utf-8"), screen.name
