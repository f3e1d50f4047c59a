"""How roles look, in one place, and the colours of the app on a dark and on a light ground.

A role is told by weight, by its signs and its words first; colour only adds to that, so that 16
colours, none at all (`NO_COLOR`) and a light terminal lose nothing.
"""

from typing import Final, Literal, get_args

from textual.theme import Theme

from seedstart.drawing.lines import Role

ROLES: Final[tuple[Role, ...]] = get_args(Role)
Ground = Literal["dark", "light"]
GROUNDS: Final[tuple[Ground, ...]] = get_args(Ground)

# Role → colour (a variable of the theme; none for the text's own) and weight.
_LOOKS: Final[dict[Role, tuple[str, str]]] = {
    "plain": ("", ""),
    "heading": ("", "bold"),
    "name": ("", ""),
    "quiet": ("$text-muted", ""),
    "warn": ("$text-warning", "bold"),
    "good": ("$text-success", "bold"),
    "chosen": ("", "reverse"),
    "planned": ("", ""),
    "expected": ("$text-accent", ""),
    "happened": ("$text-success", "bold"),
    "today": ("$text-accent", "bold"),
    "frost": ("$text-primary", "bold"),
    "curve": ("$text-success", ""),
    "band": ("$text-muted", ""),
    "point": ("$text-accent", "bold"),
    "limit": ("$text-warning", ""),
}


def role_css(widget: str) -> str:
    """The styles of a widget's component classes, `<widget>--<role>`, a rule a role."""
    rules = []
    for role, (colour, weight) in _LOOKS.items():
        said = f"color: {colour};" if colour else ""
        said += f" text-style: {weight};" if weight else ""
        if said:
            rules.append(f"& > .{widget}--{role} {{ {said} }}")
    return "\n".join(rules)


# Damp earth and leaf green; paper and ink. Light text-colours are dark enough to be read on paper.
DARK: Final = Theme(
    name="seedstart-dark",
    primary="#7fb069",
    secondary="#5b8e7d",
    accent="#e6c15c",
    warning="#ee8a4a",
    error="#e8615a",
    success="#8fd07c",
    foreground="#e4e2d6",
    background="#161a14",
    surface="#1e241b",
    panel="#2a3226",
    dark=True,
)
LIGHT: Final = Theme(
    name="seedstart-light",
    primary="#2f6b36",
    secondary="#2b6777",
    accent="#7a5200",
    warning="#a63c00",
    error="#a3201a",
    success="#1f6b2d",
    foreground="#20251d",
    background="#f6f3e9",
    surface="#ece8da",
    panel="#dfdac8",
    dark=False,
)
THEMES: Final[dict[Ground, Theme]] = {"dark": DARK, "light": LIGHT}
# Where the terminal has 16 colours or none, they are the terminal's own.
_TERMINALS_OWN: Final[dict[Ground, str]] = {"dark": "ansi-dark", "light": "ansi-light"}


def theme_name(ground: Ground, *, few_colours: bool) -> str:
    """The theme for a ground; the terminal's own colours where it has but a few."""
    return _TERMINALS_OWN[ground] if few_colours else THEMES[ground].name
