"""The foot of the round tells the truth, whatever keys came before."""

import random
from pathlib import Path

import pytest

from app_bench import DAY, SMALL, journal_lines, rows, running, sample, text
from key_walks import WORDS
from seedstart.app.app import SeedstartApp
from seedstart.app.frame import Foot
from seedstart.app.screens.round_screen import RoundScreen
from seedstart.drawing.lines import cells_wide

# As it stands in the foot → as it is pressed.
PRESSED = {
    "Space": "space", "Enter": "enter", "Esc": "escape", "Tab": "tab", "0-9": "5", "↓": "down",
    "↑": "up", "↑↓": "down", "⌫": "backspace", "=": "equals_sign", "d e p w": "d", "d e p": "d",
}  # fmt: skip
WRITES = {"space": "Space", "equals_sign": "=", "m": "m", "k": "k", "p": "p"}
WANDERS = (
    *["down"] * 9, *["up"] * 3, *["enter"] * 5, *["escape"] * 3, "space", "space", "tab", "home",
    "end", "equals_sign", "m", "k", "p", "P", "0", "3", "9", "backspace", "pagedown", "u",
)  # fmt: skip
STEPS = 40


def keys_in_foot(app: SeedstartApp) -> list[str]:
    return [key.key for key in app.screen.query_one(Foot)._keys]


@pytest.mark.parametrize("seed", range(1, 4))
async def test_each_key_in_the_foot_does_something_and_each_that_writes_is_there(
    tmp_path: Path, seed: int
) -> None:
    chance, folder, done = random.Random(seed), sample(tmp_path), [f"seed {seed}"]
    async with running(folder, SMALL, DAY) as (app, pilot):
        for _ in range(STEPS):
            wander = chance.choice(WANDERS)
            await pilot.press(*(chance.choice(WORDS) if chance.random() < 0.05 else [wander]))
            while not isinstance(app.screen, RoundScreen):
                await pilot.press("escape", "escape", "r")
            foot, before, written = keys_in_foot(app), text(app), len(journal_lines(folder))
            typing = app.screen.lines.is_held
            assert len(rows(app)) == SMALL[1]
            assert max(map(cells_wide, rows(app))) <= SMALL[0]
            key = chance.choice([*foot, *WRITES.values()])
            pressed = PRESSED.get(key, key)
            done.append(f"{wander}, then {key}")
            await pilot.press(pressed)
            grew = len(journal_lines(folder)) > written
            if key in foot:
                assert grew or text(app) != before, done[-8:]
            elif grew and not typing:
                raise AssertionError(("written by a key that the foot does not name", done[-8:]))
