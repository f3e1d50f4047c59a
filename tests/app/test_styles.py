"""How the app looks: inks that can be read, signs that can be said, a terminal that is asked."""

import os
import pty
import re
import threading
from pathlib import Path
from typing import Final

import pytest
from rich.style import Style

from app_bench import journal_lines, rows, running, sample, text
from app_screens import SCREENS, SIZES, Screen, on_screen, text_of
from seedstart.app.line_list import LineList
from seedstart.app.styles import GROUNDS, INKS, PALETTES, THEMES, Ground, theme_name
from seedstart.app.terminal import GroundAsked, ground_in, ground_like, has_few_signs
from seedstart.drawing.lines import cells_wide
from seedstart.drawing.signs import ASCII, in_ascii

LEAST_CONTRAST: Final = 5.0


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return sample(tmp_path)


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours, by WCAG 2.2, "contrast ratio" and "relative luminance"."""
    lums = sorted(map(_luminance, (one, other)))
    return (lums[1] + 0.05) / (lums[0] + 0.05)


def _luminance(colour: str) -> float:
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    return sum(w * p for w, p in zip((0.2126, 0.7152, 0.0722), linear, strict=True))


def test_the_formula_gives_the_ratios_that_the_standard_names() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21)  # WCAG 2.2: from 1:1 to 21:1
    assert contrast("#123456", "#123456") == pytest.approx(1)


@pytest.mark.parametrize("ground", GROUNDS)
@pytest.mark.parametrize("ink", INKS)
def test_every_ink_can_be_read_on_the_ground_and_on_the_tint(ground: Ground, ink: str) -> None:
    inks = PALETTES[ground]._asdict()
    assert contrast(inks[ink], inks["ground"]) >= LEAST_CONTRAST
    assert contrast(inks[ink], inks["tint"]) >= LEAST_CONTRAST


def test_every_sign_has_one_cell_of_ascii_and_so_has_any_letter() -> None:
    assert all(len(plain) == 1 and plain.isascii() for plain in ASCII.values())
    for said in ("✓ leek · 17,1 °C", "Žluťoučký kůň", "胡蘿蔔", "Київ", "⠀⢄⡠"):
        assert in_ascii(said).isascii()
        assert cells_wide(in_ascii(said)) == cells_wide(said)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("screen", SCREENS, ids=lambda screen: screen.name)
async def test_no_screen_draws_a_sign_that_has_no_ascii(
    screen: Screen, size: tuple[int, int]
) -> None:
    async with on_screen(screen, size) as app:
        signs = {sign for sign in text_of(app) if not sign.isascii()}
    assert {sign for sign in signs if "?" in in_ascii(sign)} == set()


async def test_plain_says_one_sentence_for_the_line_that_the_cursor_comes_to(folder: Path) -> None:
    async with running(folder, plain=True) as (app, pilot):
        app.screen.query_one("#lines", LineList).action_first()
        await pilot.press("down", "down", "down", "down")
        screen = text(app)
        assert screen.isascii()
        assert not re.search("[-=_]{20}", screen)  # no rules
        said = " ".join(" ".join(rows(app)[-5:-2]).split())
        assert said.startswith(
            "heat mat 17.1 C in the medium, planned 24 C 1 of "
        )  # its heading comes first
        assert "done. done: tray M" in said
        assert re.search(r"; line 5 of \d+\.$", said)
        await pilot.press("down")
        said = " ".join(" ".join(rows(app)[-5:-2]).split())
        assert said.startswith("to do: tray M")  # and once


async def test_without_its_styles_every_line_of_the_round_says_what_state_it_is_in(
    folder: Path,
) -> None:
    async with running(folder, (120, 40)) as (app, _):
        lines = app.screen.query_one("#lines", LineList)
        for item in lines.items:
            if lines._selectable(item):
                said = lines._said(item)
                assert said.startswith(("!", "look: ", "done: ", "to do: ", "opens: ")) or (
                    "more (Enter)" in said
                ), said


@pytest.mark.parametrize(
    ("says", "ground"),
    [("15;0", "dark"), ("0;15", "light"), ("0;default;7", "light"), ("", None), ("x", None)],
)
def test_the_ground_that_the_environment_says(says: str, ground: str | None) -> None:
    assert ground_in(says) == ground


@pytest.mark.parametrize(
    ("says", "ground"),
    [("1e1e/1e1e/2e2e", "dark"), ("ffff/ffff/eeee", "light"), ("f/f/f", "light"), ("12/34", None)],
)
def test_the_ground_that_a_terminal_answers(says: str, ground: str | None) -> None:
    assert ground_like(says) == ground


@pytest.mark.parametrize(
    ("answer", "ground", "typed"),
    [
        (b"\x1b]11;rgb:fdfd/f6f6/e3e3\x1b\\\x1b[?62;22c", "light", ""),
        (b"jj\x1b]11;rgb:0000/2b2b/3636\x07q\x1b[?6c", "dark", "jjq"),
        (b"\x1b[?1;2c", None, ""),
    ],
)
def test_a_terminal_is_asked_and_nothing_typed_meanwhile_is_lost(
    monkeypatch: pytest.MonkeyPatch, answer: bytes, ground: str | None, typed: str
) -> None:
    ours, its = pty.openpty()
    asked: list[bytes] = []

    def terminal() -> None:
        while not b"".join(asked).endswith(b"\x1b[c"):
            asked.append(os.read(ours, 64))
        os.write(ours, answer)

    answering = threading.Thread(target=terminal)
    answering.start()
    with open(its, "r+b", buffering=0) as both:  # noqa: PTH123 - a number, no path
        monkeypatch.setattr("sys.stdin", both)
        monkeypatch.setattr("sys.stdout", both)
        asked_ground = GroundAsked({"TERM": "xterm"})
        assert asked_ground.answer() == (ground, typed)
        assert asked_ground.answer() == (None, "")  # once
    answering.join()
    os.close(ours)


def test_the_linux_console_has_few_signs_and_is_not_asked() -> None:
    assert has_few_signs({"TERM": "linux"})
    assert not has_few_signs({"TERM": "xterm"})
    assert GroundAsked({"TERM": "linux"}).answer() == (None, "")


def test_what_the_environment_says_is_not_asked_again() -> None:
    assert GroundAsked({"TERM": "xterm", "COLORFGBG": "0;15"}).answer() == ("light", "")


async def test_a_ground_that_nobody_knows_stays_the_terminals_own(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLORTERM", "truecolor")
    async with running(folder, ground=None) as (app, pilot):
        assert app.theme == theme_name(None, few_colours=False)
        strips = app.screen._compositor.render_strips()
        styles = {segment.style or Style.null() for strip in strips for segment in strip}
        triplets = {
            colour.triplet for style in styles for colour in (style.color, style.bgcolor) if colour
        }
        assert triplets == {None}
        await pilot.press("ctrl+t")  # the grower says it
        assert app.theme == "seedstart-dark"


async def test_what_was_typed_before_the_app_was_there_is_typed_into_it(folder: Path) -> None:
    before = len(journal_lines(folder))
    async with running(folder, typed="c\x1b[B") as (app, _):
        assert app.screen.query_one("#bars", LineList).cursor == 1
    assert len(journal_lines(folder)) == before


def test_there_is_one_theme_for_each_ground_and_kind_of_terminal() -> None:
    assert len({theme.name for theme in THEMES}) == 5
