"""How roles look, in one place, and the inks of the app on a dark and on a light ground.

A role is told by its signs and its words first, then by weight; colour only adds to that, so that
16 colours, none at all (`NO_COLOR`) and a ground that nobody knows lose nothing.
"""

from typing import Final, Literal, NamedTuple, get_args

from rich.color import Color
from rich.segment import Segment, Segments
from rich.style import Style
from textual.scrollbar import ScrollBarRender
from textual.theme import Theme

from seedstart.drawing.lines import Role

ROLES: Final[tuple[Role, ...]] = get_args(Role)
Ground = Literal["dark", "light"]
GROUNDS: Final[tuple[Ground, ...]] = get_args(Ground)
Ink = Literal["ink", "quiet", "leaf", "straw", "rust", "frost"]
INKS: Final[tuple[Ink, ...]] = get_args(Ink)


class Palette(NamedTuple):
    """The inks, and what they stand on.

    Attributes:
        ink: Text.
        quiet: What is done, known, from before.
        leaf: What happened, bars of counts.
        straw: Expected; today; the cursor, a slip, the caret.
        rust: To act on now, past its last day, a refusal.
        frost: Last frost, cold nights, tender dates.
        ground: What all of it stands on.
        tint: Head, foot, the row of the cursor, a slip.
    """

    ink: str
    quiet: str
    leaf: str
    straw: str
    rust: str
    frost: str
    ground: str
    tint: str


# Damp earth and leaf green; paper and ink.
PALETTES: Final[dict[Ground, Palette]] = {
    "dark": Palette(
        ink="#e4e2d6",
        quiet="#a5a798",
        leaf="#8fd07c",
        straw="#e6c15c",
        rust="#ee8a4a",
        frost="#86b8dc",
        ground="#161a14",
        tint="#2a3226",
    ),
    "light": Palette(
        ink="#20251d",
        quiet="#565a4f",
        leaf="#1b6129",
        straw="#6e4a00",
        rust="#943500",
        frost="#1d5a8a",
        ground="#f6f3e9",
        tint="#dfdac8",
    ),
}
_OWN: Final = "ansi_default"
# Where the terminal has 16 colours or does not say what its ground is: its own ground and ink. On
# one that nobody knows only green and red can be read either way.
_TERMINALS_OWN: Final[dict[Ground | None, Palette]] = {
    "dark": Palette(_OWN, _OWN, "ansi_green", "ansi_yellow", "ansi_red", "ansi_cyan", _OWN, _OWN),
    "light": Palette(_OWN, _OWN, "ansi_green", _OWN, "ansi_red", "ansi_blue", _OWN, _OWN),
    None: Palette(_OWN, _OWN, "ansi_green", _OWN, "ansi_red", _OWN, _OWN, _OWN),
}
# An ink as a variable of the theme; Textual's own names, so that a style sheet works under any.
_VARIABLES: Final[dict[Ink, str]] = {
    "ink": "$foreground",
    "quiet": "$text-muted",
    "leaf": "$text-success",
    "straw": "$text-accent",
    "rust": "$text-warning",
    "frost": "$text-primary",
}
# What stands for an ink among 16 colours, and where there is none.
_FEW: Final[dict[Ink, str]] = {"quiet": "dim", "rust": "bold"}
_NONE: Final[dict[Ink, str]] = {
    "quiet": "dim",
    "leaf": "bold",
    "straw": "underline",
    "rust": "bold",
}
_LOOKS: Final[dict[Role, Ink]] = {
    "plain": "ink",
    "heading": "ink",
    "name": "ink",
    "quiet": "quiet",
    "warn": "rust",
    "good": "leaf",
    "chosen": "ink",
    "planned": "ink",
    "expected": "straw",
    "happened": "leaf",
    "today": "straw",
    "frost": "frost",
    "curve": "leaf",
    "band": "quiet",
    "point": "straw",
    "limit": "rust",
}
_BOLD: Final[frozenset[Role]] = frozenset({"heading"})
_REVERSED: Final[frozenset[Role]] = frozenset({"chosen"})


_STROKE: Final = "┃"
_NO_INK: Final = Color.default()


def role_css(widget: str) -> str:
    """The styles of a widget's component classes, `<widget>--<role>`, some rules a role."""
    rules = []
    for role, ink in _LOOKS.items():
        at = f"> .{widget}--{role}"
        bold = " text-style: bold;" if role in _BOLD else ""
        bold = " text-style: reverse;" if role in _REVERSED else bold
        rules.append(f"& {at} {{ color: {_VARIABLES[ink]};{bold} }}")
        if ink in _FEW:
            rules.append(f"&:ansi {at} {{ text-style: {_FEW[ink]}; }}")
        if ink == "straw":
            rules.append(f"&:ansi:light {at} {{ text-style: bold; }}")
        if ink in _NONE:
            rules.append(f"&:nocolor {at} {{ text-style: {_NONE[ink]}; }}")
    return "\n".join(rules)


def _theme(name: str, inks: Palette, *, dark: bool, own: bool = False) -> Theme:
    scroll = {
        f"scrollbar{part}{state}": inks.ground if part else inks.quiet
        for part in ("", "-background")
        for state in ("", "-hover", "-active")
    }
    return Theme(
        name=name,
        primary=inks.frost,
        secondary=inks.quiet,
        accent=inks.straw,
        warning=inks.rust,
        error=inks.rust,
        success=inks.leaf,
        foreground=inks.ink,
        background=inks.ground,
        surface=inks.tint,
        panel=inks.tint,
        dark=dark,
        ansi=own,
        variables={
            "text": inks.ink,
            "text-muted": inks.quiet,
            "text-success": inks.leaf,
            "text-accent": inks.straw,
            "text-warning": inks.rust,
            "text-error": inks.rust,
            "text-primary": inks.frost,
            "scrollbar-corner-color": inks.ground,
            "ansi-background": inks.ground,
            "ansi-foreground": inks.ink,
            **scroll,
        },
    )


def theme_name(ground: Ground | None, *, few_colours: bool) -> str:
    """The theme for a ground; the terminal's own where it is not known or has but few colours."""
    return f"seedstart-{'own-' if few_colours or ground is None else ''}{ground or 'unknown'}"


THEMES: Final[tuple[Theme, ...]] = (
    *(
        _theme(theme_name(ground, few_colours=False), inks, dark=ground == "dark")
        for ground, inks in PALETTES.items()
    ),
    *(
        _theme(theme_name(own, few_colours=True), inks, dark=own == "dark", own=True)
        for own, inks in _TERMINALS_OWN.items()
    ),
)


class QuietBar(ScrollBarRender):
    """A scroll bar that is a thin stroke as high as what is in sight, on the list's own ground."""

    @classmethod
    def render_bar(
        cls,
        size: int = 25,
        virtual_size: float = 50,
        window_size: float = 20,
        position: float = 0,
        thickness: int = 1,
        vertical: bool = True,
        back_color: Color = _NO_INK,
        bar_color: Color = _NO_INK,
    ) -> Segments:
        """The cells of it; the stroke can be dragged, above and below it a click scrolls."""
        back, stroke = Style(bgcolor=back_color), Style(color=bar_color, bgcolor=back_color)
        first, end = 0, 0
        if window_size and size and virtual_size > window_size:
            high = max(1, round(size * window_size / virtual_size))
            first = round((size - high) * position / (virtual_size - window_size))
            end = first + high
        cells = [
            Segment(_STROKE * thickness, stroke + Style(meta={"@mouse.down": "grab"}))
            if first <= row < end
            else Segment(
                " " * thickness,
                back + Style(meta={"@mouse.down": "scroll_up" if row < first else "scroll_down"}),
            )
            for row in range(int(size))
        ]
        return Segments(cells, new_lines=vertical)
