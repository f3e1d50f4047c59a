"""Text from outside, cleaned once where it enters: packets, files, notes, what was typed."""

import re
import unicodedata
from functools import lru_cache
from typing import Any

# Escape sequences go whole, so that their letters do not stay behind as litter:
# CSI, then OSC/DCS/APC/PM/SOS up to their end, then two-character escapes.
_ESCAPES = re.compile(
    r"(?:\x1b\[|\x9b)[0-?]*[ -/]*[@-~]"
    r"|(?:\x1b[\]PX^_]|[\x90\x98\x9d-\x9f])[^\x07\x1b\x9c]*(?:\x07|\x1b\\|\x9c)?"
    r"|\x1b[ -/]*[0-~]?"
)
# What shows nothing, or could show a name backwards: soft hyphen, zero width, directions, the
# Mongolian and musical ones, tags. The joiners and selectors are left: scripts need them.
_UNSEEN = re.compile(
    "[\u00ad\u061c\u180e\u200b\u200e\u200f\u202a-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb"
    "\U0001bca0-\U0001bca3\U0001d173-\U0001d17a\U000e0000-\U000e00ff]"
)
# Left in a text, and nothing by which two names could be told apart.
_UNSEEN_IN_NAMES = re.compile(
    "[\u034f\u115f\u1160\u17b4\u17b5\u180b-\u180f\u200c\u200d\u2800\u3164\ufe00-\ufe0f\uffa0"
    "\U000e0100-\U000e01ef]"
)
# Bytes that the machine's locale could not read, as Python hands them over.
_UNREAD_BYTES = re.compile("[\udc80-\udcff]+")
# Control characters, surrogates, private and unassigned code points: nothing to see in them.
_NOTHING_TO_SEE = frozenset({"Cc", "Cs", "Co", "Cn"})
_FORMULA_STARTS = ("=", "+", "-", "@")


def clean(text: str) -> str:
    """Plain one-line text in NFC: no escapes, no control, direction or unseen characters.

    Line ends and tabs become one blank; runs of blanks are kept as they are otherwise. Bytes that
    the locale could not read are read as UTF-8.
    """
    if text.isprintable() and (text.isascii() or unicodedata.is_normalized("NFC", text)):
        return text
    text = _UNREAD_BYTES.sub(_as_utf8, text)
    text = _ESCAPES.sub("", text)
    text = re.sub("[\r\n\t\v\f\x85\u2028\u2029]+", " ", text)
    text = _UNSEEN.sub("", text)
    text = "".join(c for c in text if unicodedata.category(c) not in _NOTHING_TO_SEE)
    return unicodedata.normalize("NFC", text)


def _as_utf8(unread: re.Match[str]) -> str:
    return bytes(ord(letter) - 0xDC00 for letter in unread[0]).decode("utf-8", "ignore")


@lru_cache(maxsize=1 << 14)
def folded(name: str) -> str:
    """A name as it is compared: NFC, aside from case, blanks at the ends, doubled and unseen ones.

    Nothing is left of a name in which there is nothing to see.
    """
    if not (name.isascii() and name.isprintable()):
        name = _UNSEEN_IN_NAMES.sub("", clean(name))
        name = unicodedata.normalize("NFC", name)
    return " ".join(name.casefold().split())


@lru_cache(maxsize=1 << 14)
def natural(name: str) -> tuple[Any, ...]:
    """Sort key for names as people count: `tray 9` before `tray 10`, case aside."""
    parts = re.split(r"([0-9]{1,18})", name.casefold())
    return tuple(int(part) if odd % 2 else part for odd, part in enumerate(parts))


def for_spreadsheet(text: str) -> str:
    """A cell that a spreadsheet takes for text: a formula's first sign gets an apostrophe."""
    return f"'{text}" if text.startswith(_FORMULA_STARTS) else text


def joined(words: list[str], last: str = "and") -> str:
    """Words in a row as a person writes them: a, b and c."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {last} {words[-1]}"


def plural(count: float, one: str, many: str = "") -> str:
    """A count with its noun: 1 day, 2 days; whole numbers in full, others to six digits."""
    shown = str(count) if isinstance(count, int) else f"{count:g}"
    return f"{shown} {one if count == 1 else many or one + 's'}"
