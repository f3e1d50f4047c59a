"""Pictures of curves as SVG and PNG files: `--picture FILE`. Needs matplotlib."""

from io import BytesIO
from pathlib import Path
from textwrap import fill
from typing import Final

from seedstart.cli.printing import tell
from seedstart.disk.writing import write_new
from seedstart.drawing.picture import Picture
from seedstart.problems import BadInputError, Problem

OPTION: Final = "--picture"
_KINDS: Final = ("svg", "png")
# Told apart by their dashes and marks, not by colour alone.
_LOOKS: Final = (("-", "o"), ("--", "s"), (":", "^"), ("-.", "D"))


def check_picture(file: str) -> Path:
    """The file of a picture.

    Raises:
        BadInputError: It ends in neither .svg nor .png, or matplotlib is missing.
    """
    path = Path(file)
    if path.suffix.lower().removeprefix(".") not in _KINDS:
        allowed = tuple(f"a file that ends in .{kind}" for kind in _KINDS)
        raise BadInputError([Problem(file=OPTION, found=file, allowed=allowed)])
    try:
        import matplotlib as _  # noqa: F401
    except ImportError:
        hint = "Pictures need matplotlib: pip install 'seedstart[pictures]'."
        raise BadInputError([Problem(file=OPTION, found=file, hint=hint)]) from None
    return path


def save_picture(picture: Picture | None, path: Path) -> None:
    """Draw a picture into a new file.

    Raises:
        BadInputError: There is nothing to draw, or a file of that name.
        NotRecorded: The disk refused; nothing was written.
    """
    if picture is None:
        raise BadInputError([Problem(file=OPTION, hint="Nothing was counted yet to be drawn.")])
    write_new(path, drawn(picture, path.suffix.lower().removeprefix(".")))
    tell(f"Written: the picture {path}.")


def drawn(picture: Picture, kind: str) -> bytes:
    """A picture as bytes of SVG or PNG, the same each time."""
    import matplotlib as mpl
    from matplotlib.figure import Figure

    with mpl.rc_context({"svg.hashsalt": "seedstart", "font.family": "DejaVu Sans"}):
        figure = Figure(figsize=(7.5, 5.2), dpi=120)
        axes = figure.add_axes((0.1, 0.27, 0.86, 0.64))
        for number, one in enumerate(picture.series):
            dashes, mark = _LOOKS[number % len(_LOOKS)]
            colour = f"C{number}"
            if one.line:
                across, up = zip(*one.line, strict=True)
                axes.plot(across, up, dashes, color=colour, label=one.name)
            if one.points:
                across, up = zip(*one.points, strict=True)
                name = "_" if one.line else one.name
                axes.plot(across, up, mark, color=colour, label=name, markersize=5)
        axes.set_title(picture.title, parse_math=False)
        axes.set_xlabel(picture.across)
        axes.set_ylabel("up, % of the seeds sown")
        axes.set_ylim(0, 102)
        axes.set_xlim(left=0)
        axes.grid(visible=True, alpha=0.3)
        if len(picture.series) > 1:
            for text in axes.legend(loc="lower right").get_texts():
                text.set_parse_math(False)
        caption = figure.text(0.1, 0.02, fill(picture.caption, 100), fontsize=7.5, va="bottom")
        caption.set_parse_math(False)
        file = BytesIO()
        metadata = {"Date": None} if kind == "svg" else {"Software": None}
        figure.savefig(file, format=kind, metadata=metadata)
    return file.getvalue()
