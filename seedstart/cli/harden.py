"""`seedstart harden`: who is at which step of hardening off, and what today lets them do."""

import click

from seedstart.cli.recording import as_of_option, open_for
from seedstart.cli.season_files import season_option
from seedstart.cli.show import show, show_json, width
from seedstart.drawing.harden_table import harden_lines, harden_sheet
from seedstart.drawing.lines import plain, wrapped
from seedstart.planning.hardening import Hardening, coming
from seedstart.problems import BadInputError, Problem
from seedstart.text import folded


@click.command()
@click.argument("names", nargs=-1, metavar="[SOWING]...")
@season_option
@as_of_option
@click.option("--json", "json_", is_flag=True, help="For scripts.")
def harden(names: tuple[str, ...], folder: str | None, on: str | None, json_: bool) -> None:
    """Steps, hours, what is held and why, and what is still against setting out.

    Named sowings are told in full, with the sources.

    Example: seedstart harden --season sample_season --on 2026-04-10
    """
    opened = open_for(folder, on)
    rows = opened.calendar()
    found = _named(opened.hardening(), names)
    if json_:
        show_json([_as_json(one) for one in found])
    elif names:
        for one in found:
            show(harden_sheet(one, opened.plan.crops.sources, opened.today, width()))
            show([plain("")] if one is not found[-1] else [])
    else:
        show(harden_lines(found, opened.today, coming(rows, opened.today), width()))
        if any(one.today == "not judged" for one in found):
            hint = (
                f"`seedstart log forecast {opened.today.isoformat()} --tmin 3C --tmax 14C --wind 3`"
                " lets the day be judged."
            )
            show([plain(""), *wrapped(hint, width(), role="quiet", hang="")])


def _named(found: tuple[Hardening, ...], names: tuple[str, ...]) -> tuple[Hardening, ...]:
    """Those that were asked for, in the order of the table.

    Raises:
        BadInputError: A name that is none of theirs.
    """
    if not names:
        return found
    known = {folded(one.name) for one in found}
    wrong = [
        Problem(
            file="SOWING",
            found=name,
            allowed=tuple(one.name for one in found),
            listed_by="hardening",
            hint="" if found else "Nothing is being hardened off, and nothing is due to be.",
        )
        for name in names
        if folded(name) not in known
    ]
    if wrong:
        raise BadInputError(wrong)
    asked = {folded(name) for name in names}
    return tuple(one for one in found if folded(one.name) in asked)


def _as_json(one: Hardening) -> dict[str, object]:
    window = one.set_out
    return {
        "sowing": one.name,
        "step": one.step,
        "of": one.of,
        "hours": one.hours,
        "today": one.today,
        "why": " ".join(said.text for said in one.why),
        "set_out": None if window is None else window._asdict(),
    }
