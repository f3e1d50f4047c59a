"""Text from outside, cleaned once where it enters: packets, files, notes, what was typed."""

import re
import unicodedata

# Escape sequences go whole, so that their letters do not stay behind as litter:
# CSI, then OSC/DCS/APC/PM/SOS up to their end, then two-character escapes.
_ESCAPES = re.compile(
    r"(?:\x1b\[|\x9b)[0-?]*[ -/]*[@-~]"
    r"|(?:\x1b[\]PX^_]|[\x90\x98\x9d-\x9f])[^\x07\x1b\x9c]*(?:\x07|\x1b\\|\x9c)?"
    r"|\x1b[ -/]*[0-~]?"
)
# Direction controls could show a name backwards; the joiners are left: scripts need them.
_DIRECTION = re.compile("[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069\ufeff]")
# Control characters, surrogates, private and unassigned code points: nothing to see in them.
_NOTHING_TO_SEE = frozenset({"Cc", "Cs", "Co", "Cn"})
_FORMULA_STARTS = ("=", "+", "-", "@")


def clean(text: str) -> str:
    """Plain one-line text in NFC: no escapes, no control or direction characters.

    Line ends and tabs become one blank; runs of blanks are kept as they are otherwise.
    """
    if text.isascii() and text.isprintable():
        return text
    text = _ESCAPES.sub("", text)
    text = re.sub("[\r\n\t\v\f\x85\u2028\u2029]+", " ", text)
    text = _DIRECTION.sub("", text)
    text = "".join(c for c in text if unicodedata.category(c) not in _NOTHING_TO_SEE)
    return unicodedata.normalize("NFC", text)


def folded(name: str) -> str:
    """A name as it is compared: NFC, case aside, blanks at the ends and doubled blanks aside."""
    if not name.isascii():
        name = unicodedata.normalize("NFC", name)
    return " ".join(name.casefold().split())


def for_spreadsheet(text: str) -> str:
    """A cell that a spreadsheet takes for text: a formula's first sign gets an apostrophe."""
    return f"'{text}" if text.startswith(_FORMULA_STARTS) else text


def joined(words: list[str], last: str = "and") -> str:
    """Words in a row as a person writes them: a, b and c."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {last} {words[-1]}"


def plural(count: float, one: str, many: str = "") -> str:
    """A count with its noun: 1 day, 2 days."""
    return f"{count:g} {one if count == 1 else many or one + 's'}"
