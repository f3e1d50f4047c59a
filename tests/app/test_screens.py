"""The screens look as they did when somebody last looked at them (`./task pictures`)."""

import pytest

from app_screens import SCREENS, SIZES, Screen, on_screen, text_of, text_path


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("screen", SCREENS, ids=lambda screen: screen.name)
async def test_a_screen_looks_as_it_is_meant_to(screen: Screen, size: tuple[int, int]) -> None:
    async with on_screen(screen, size) as app:
        assert text_of(app) == text_path(screen, size).read_text("utf-8")
