"""What the terminal is like: its ground, and whether it has letters for the signs."""

import os
import re
import sys
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, Final

from textual._xterm_parser import XTermParser
from textual.app import App
from textual.message import Message

from seedstart.app.styles import Ground

# xterm's control sequence that asks for the ground (OSC 11), and its answer, whole or begun.
_ASKED: Final = "\x1b]11;?\x1b\\"
_GROUND: Final = re.compile(r"\x1b\]11;([^\x07\x1b]{0,64})(?:\x07|\x1b\\)")
_BEGUN: Final = re.compile(r"\x1b\](?:1(?:1(?:;[^\x07\x1b]{0,64}\x1b?)?)?)?\Z")
_COLOUR: Final = re.compile(r"rgba?:([0-9a-fA-F]+)/([0-9a-fA-F]+)/([0-9a-fA-F]+)")
_NO_SUCH_ANSWERS: Final = frozenset({"", "dumb", "linux"})
_DARK_BELOW: Final = 0.18  # relative luminance of mid grey


def has_few_signs(environ: Mapping[str, str] = os.environ) -> bool:
    """Whether ASCII alone is safe: the Linux console, or a locale that is not UTF-8."""
    encoding = getattr(sys.stdout, "encoding", None) or "utf-8"
    return environ.get("TERM") == "linux" or "utf" not in encoding.lower()


@dataclass
class GroundTold(Message):
    """The terminal said what its ground is."""

    ground: Ground


class AnswersAside(XTermParser):
    """What is typed, with the answer taken out of it, whenever that comes and however it is cut."""

    _held = ""  # of an answer that has begun

    def feed(self, data: str) -> Iterable[Message]:
        """What was typed and answered, in its order; nothing at all is the end."""
        if not data:
            yield from super().feed(data)
            return
        text, self._held = self._held + data, ""
        while found := _GROUND.search(text):
            yield from self._typed(text[: found.start()])
            ground = ground_like(found[1])
            if ground is not None:
                yield GroundTold(ground)
            text = text[found.end() :]
        if begun := _BEGUN.search(text):
            text, self._held = text[: begun.start()], text[begun.start() :]
        yield from self._typed(text)

    def _typed(self, text: str) -> Iterable[Message]:
        return super().feed(text) if text else ()


def ask_for_ground(app: App[Any], environ: Mapping[str, str] = os.environ) -> None:
    """Let an app ask its terminal as soon as it may draw there; nobody waits for the answer.

    Those that take the question for text are not asked.
    """
    if sys.platform == "win32" or environ.get("TERM", "") in _NO_SUCH_ANSWERS:
        return
    from textual.drivers import linux_driver

    class AskingDriver(linux_driver.LinuxDriver):
        """Asks, and keeps the answer apart from what is typed."""

        def start_application_mode(self) -> None:
            super().start_application_mode()  # type: ignore[no-untyped-call]
            self.write(_ASKED)
            self.flush()

        def run_input_thread(self) -> None:
            vars(linux_driver)["XTermParser"] = AnswersAside  # it is looked up there
            super().run_input_thread()

    if app.driver_class is linux_driver.LinuxDriver:
        app.driver_class = AskingDriver


def ground_in(colours: str) -> Ground | None:
    """The ground in `COLORFGBG`, as `15;0`: the last of its numbers among the 16 colours."""
    number = colours.rpartition(";")[2]
    if not number.isdecimal():
        return None
    return "light" if int(number) in {7, *range(9, 16)} else "dark"


def ground_like(parts: str) -> Ground | None:
    """The ground that a colour is nearer to, as `rgb:1e1e/2020/ffff`: of a part its first byte."""
    colour = _COLOUR.match(parts)
    if colour is None:
        return None
    bytes_ = [int(part[:2].ljust(2, part[:1]), 16) for part in colour.groups()]
    return "dark" if luminance(*bytes_) < _DARK_BELOW else "light"


def luminance(red: int, green: int, blue: int) -> float:
    """Relative luminance of a colour of sRGB, 0 to 1.

    Source:
        WCAG 2.2, "relative luminance".
    """
    red_y, green_y, blue_y = (
        one / 12.92 if one <= 0.04045 else ((one + 0.055) / 1.055) ** 2.4
        for one in (red / 255, green / 255, blue / 255)
    )
    return 0.2126 * red_y + 0.7152 * green_y + 0.0722 * blue_y
