"""How the app looks: inks that can be read, signs that can be said, a terminal that is asked."""

import fcntl
import os
import pty
import re
import select
import signal
import struct
import sys
import termios
from pathlib import Path
from typing import Final

import pytest
from rich.style import Style
from textual.app import App
from textual.events import Key

from app_bench import rows, running, sample, text
from app_screens import SCREENS, SIZES, Screen, on_screen, text_of
from seedstart.app.line_list import LineList
from seedstart.app.styles import GROUNDS, INKS, PALETTES, THEMES, Ground, theme_name
from seedstart.app.terminal import (
    AnswersAside,
    GroundTold,
    ask_for_ground,
    ground_in,
    ground_like,
    has_few_signs,
)
from seedstart.drawing.lines import cells_wide
from seedstart.drawing.signs import ASCII, in_ascii

LEAST_CONTRAST: Final = 5.0
LIGHT_GROUND: Final = b"48;2;246;243;233"  # of the palette


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
    [
        ("rgb:1e1e/1e1e/2e2e", "dark"),
        ("rgba:ffff/ffff/eeee/ffff", "light"),
        ("rgb:f/f/f", "light"),
        ("rgb:12/34", None),
    ],
)
def test_the_ground_that_a_terminal_answers(says: str, ground: str | None) -> None:
    assert ground_like(says) == ground


LIGHT_SAID: Final = "\x1b]11;rgb:fdfd/f6f6/e3e3\x1b\\"


@pytest.mark.parametrize("ends", ["\x1b\\", "\x07"])
@pytest.mark.parametrize("cut", range(2, 25))
def test_an_answer_cut_anywhere_is_no_key_and_what_is_typed_around_it_is_not_lost(
    ends: str, cut: int
) -> None:
    parser, answer = AnswersAside(), f"\x1b]11;rgb:0000/2b2b/3636{ends}"
    got = [*parser.feed(f"jj{answer[:cut]}"), *parser.feed(f"{answer[cut:]}q\x1b[B")]
    assert [one.key if isinstance(one, Key) else one for one in got] == [
        "j", "j", GroundTold("dark"), "q", "down",
    ]  # fmt: skip


def test_an_answer_that_is_no_colour_says_nothing_and_is_no_key() -> None:
    assert list(AnswersAside().feed("\x1b]11;unknown\x07")) == []


def test_what_only_begins_like_an_answer_is_typed_once_it_goes_on_otherwise() -> None:
    parser = AnswersAside()
    assert list(parser.feed("\x1b]")) == []
    got = [*parser.feed("1x"), *parser.feed("\x1b[B")]
    assert [one.key for one in got if isinstance(one, Key)][-3:] == ["1", "x", "down"]


def test_the_linux_console_has_few_signs_and_is_not_asked() -> None:
    assert has_few_signs({"TERM": "linux"})
    assert not has_few_signs({"TERM": "xterm"})
    own, console, other = App[None](), App[None](), App[None]()
    ask_for_ground(console, {"TERM": "linux"})
    ask_for_ground(other, {"TERM": "xterm"})
    assert console.driver_class is own.driver_class is not other.driver_class


async def test_a_terminal_that_answers_late_is_painted_anew_unless_the_grower_chose(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLORTERM", "truecolor")
    async with running(folder, ground=None) as (app, pilot):
        app.post_message(GroundTold("light"))
        await pilot.pause()
        assert (app.ground, app.theme) == ("light", theme_name("light", few_colours=False))
        await pilot.press("ctrl+t")
        app.post_message(GroundTold("light"))
        await pilot.pause()
        assert app.ground == "dark"


def test_in_a_real_terminal_the_question_is_asked_and_nothing_waits_for_the_answer(
    folder: Path,
) -> None:
    """It answers once the round stands; what was typed before the app was there opens its page."""
    pid, terminal = pty.fork()
    if pid == 0:
        os.environ |= {"TERM": "xterm-256color", "COLORTERM": "truecolor"}
        for name in ("NO_COLOR", "COLORFGBG"):
            os.environ.pop(name, None)
        os.environ["XDG_CONFIG_HOME"] = str(folder)
        command = [sys.executable, "-m", "seedstart", "--season", str(folder), "--on", "2026-04-10"]
        os.execv(sys.executable, command)  # noqa: S606 - no shell between
    try:
        fcntl.ioctl(terminal, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
        os.write(terminal, b"c")
        seen = read_until(terminal, b"weeks from Monday")
        assert b"\x1b]11;?\x1b\\" in seen
        assert LIGHT_GROUND not in seen
        os.write(terminal, LIGHT_SAID.encode())
        read_until(terminal, LIGHT_GROUND)
    finally:
        os.kill(pid, signal.SIGKILL)
        os.waitpid(pid, 0)
        os.close(terminal)


def read_until(terminal: int, text: bytes) -> bytes:
    """What a terminal was given until this came."""
    seen = b""
    while text not in seen:
        assert select.select([terminal], [], [], 30)[0], seen[-500:]
        seen += os.read(terminal, 1 << 16)
    return seen


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


def test_there_is_one_theme_for_each_ground_and_kind_of_terminal() -> None:
    assert len({theme.name for theme in THEMES}) == 5
