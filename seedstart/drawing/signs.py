"""Every sign that the faces draw, what it is in words, and the ASCII that stands for it.

A terminal without UTF-8, the Linux console and `--plain` show the ASCII: one cell for one cell, so
that columns stay where they are.
"""

from typing import Final
from unicodedata import combining, east_asian_width, normalize

_SIGNS: Final = {
    "▌": ">",  # the cursor
    "▐": "|",  # a slip
    "▏": "_",  # the caret
    "·": ".",  # to do; planned
    "✓": "x",  # done
    "▸": "+",  # opens
    "▾": "v",  # open; a list to choose from; points down
    "—": "~",  # taken back
    "━": "=",  # was
    "─": "-",  # to come
    "═": "~",  # any of these days
    "│": "|",  # today
    "┊": ":",  # last frost
    "┄": ".",  # a limit
    "░": ":",  # likely band
    "┃": "|",  # an interval; the scroll bar
    "╲": "\\",  # a fitted line
    "╱": "/",  # one that rises
    "‹": "<",  # begun before what is in sight
    "›": ">",  # goes on after it
    "●": "o",  # a count in a curve
    "└": "+",
    "▁": "1",
    "▂": "2",
    "▃": "3",
    "▄": "4",
    "▅": "5",
    "▆": "6",
    "▇": "7",
    "█": "8",
}
# Of writing, not of drawing.
_MARKS: Final = {
    "…": ".", "–": "-", "−": "-", "×": "x", "²": "2", "³": "3", "°": " ", "µ": "u", "½": "h",
    "“": '"', "”": '"', "‘": "'", "’": "'", "≥": ">", "≤": "<", "⁻": "-", "¹": "1", "√": "V",
    "→": ">", "←": "<", "↑": "^", "↓": "v", "⌫": "<", "✗": "!",
}  # fmt: skip
ASCII: Final = _SIGNS | _MARKS
_BRAILLE: Final = range(0x2800, 0x2900)  # the week's temperature as a line of dots
IN_WORDS: Final = {
    "·": "to do",
    "✓": "done",
    "!": "look",
    "▸": "opens",
    "▾": "open",
    "—": "taken back",
}


def in_ascii(text: str) -> str:
    """A text in as many cells, of ASCII alone; a letter that has none is `?`, a wide one two."""
    return text if text.isascii() else "".join(map(_in_ascii, text))


def _in_ascii(letter: str) -> str:
    if letter.isascii():
        return letter
    if ord(letter) in _BRAILLE:
        return " " if ord(letter) == _BRAILLE.start else "*"
    if letter in ASCII:
        return ASCII[letter]
    bare = normalize("NFKD", letter)[0]
    if bare.isascii():
        return bare
    return "" if combining(letter) else "??" if east_asian_width(letter) in "WF" else "?"
