"""What the terminal is like: its ground, and whether it has letters for the signs."""

import os
import re
import sys
from collections.abc import Mapping
from contextlib import suppress
from time import monotonic
from typing import TYPE_CHECKING, Any, Final

if TYPE_CHECKING:
    from seedstart.app.styles import Ground  # of Textual, which loads while the terminal answers

# xterm's control sequences: the ground is asked for (OSC 11), then what kind of terminal it is,
# which all answer. Whoever answers the second alone does not say what its ground is.
_ASKED: Final = b"\x1b]11;?\x1b\\\x1b[c"
_GROUND: Final = re.compile(rb"\x1b\]11;rgba?:([0-9a-fA-F/]+)(?:\x07|\x1b\\)")
_KIND: Final = re.compile(rb"\x1b\[\?[0-9;]*c")
_PATIENCE_S: Final = 0.25
_NO_SUCH_ANSWERS: Final = frozenset({"", "dumb", "linux"})
_DARK_BELOW: Final = 0.18  # relative luminance of mid grey


def has_few_signs(environ: Mapping[str, str] = os.environ) -> bool:
    """Whether ASCII alone is safe: the Linux console, or a locale that is not UTF-8."""
    encoding = getattr(sys.stdout, "encoding", None) or "utf-8"
    return environ.get("TERM") == "linux" or "utf" not in encoding.lower()


class GroundAsked:
    """The terminal is asked what its ground is; it answers while the app is loaded.

    `COLORFGBG`, which some terminals set, comes first. What is asked and not answered within some
    tenths of a second is not waited for.
    """

    def __init__(self, environ: Mapping[str, str] = os.environ) -> None:
        self._told = ground_in(environ.get("COLORFGBG", ""))
        self._before: list[Any] | None = None  # how the terminal was set
        if self._told is None and environ.get("TERM", "") not in _NO_SUCH_ANSWERS:
            with suppress(OSError, ValueError, ImportError):  # no terminal, or none of this kind
                self._ask()

    def _ask(self) -> None:
        import termios
        import tty

        tty_in = sys.stdin.fileno()
        self._before = termios.tcgetattr(tty_in)
        tty.setcbreak(tty_in, termios.TCSANOW)
        self._ends = monotonic() + _PATIENCE_S
        os.write(sys.stdout.fileno(), _ASKED)

    def answer(self) -> "tuple[Ground | None, str]":
        """What ground the terminal says it has, and what was typed meanwhile; asked once."""
        if self._before is None:
            return self._told, ""
        answer = b""
        with suppress(OSError, ValueError):
            answer = self._read()
        found = _GROUND.search(answer)
        typed = _KIND.sub(b"", _GROUND.sub(b"", answer))
        ground = ground_like(found[1].decode()) if found else None
        return ground, typed.decode("utf-8", "replace")

    def _read(self) -> bytes:
        """What came back until the terminal has said what kind it is; it is as before again."""
        import select
        import termios

        tty_in, answer = sys.stdin.fileno(), b""
        try:
            while not _KIND.search(answer):
                left = max(self._ends - monotonic(), 0)
                if not select.select([tty_in], [], [], left)[0]:
                    break
                answer += os.read(tty_in, 1024)
        finally:
            termios.tcsetattr(tty_in, termios.TCSANOW, self._before or [])
            self._before = None
        return answer


def ground_in(colours: str) -> "Ground | None":
    """The ground in `COLORFGBG`, as `15;0`: the last of its numbers among the 16 colours."""
    number = colours.rpartition(";")[2]
    if not number.isdecimal():
        return None
    return "light" if int(number) in {7, *range(9, 16)} else "dark"


def ground_like(parts: str) -> "Ground | None":
    """The ground that a colour is nearer to, as `1e1e/2020/ffff`: of each part its first byte."""
    bytes_ = [int(part[:2].ljust(2, part[:1]), 16) for part in parts.split("/")[:3] if part]
    if len(bytes_) != 3:
        return None
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
