"""How many seeds to sow, as lines: the answer first, then what it rests on."""

from seedstart.drawing.lines import Line, plain, wrapped
from seedstart.growing.sowing_rate import chance_of_plants
from seedstart.planning.calendar.seeds_to_sow import in_words
from seedstart.planning.lots.rates import Rate
from seedstart.text import joined, plural


def rate_lines(found: Rate, name: str, width: int = 80) -> list[Line]:
    """The answer, the chance, cells, trays and packets, and the basis.

    Args:
        found: The answer.
        name: Of the lot; empty where only a figure was typed.
        width: Columns.
    """
    seeds, basis = found.for_plants, found.germination
    of = f" of {name}" if name else ""
    what = plural(found.plants, "plant") + (" to set out" if basis.lost else "")
    lines = wrapped(f"Sow {plural(seeds.seeds, 'seed')}{of} for {what}.", width)
    lines += wrapped(
        f"Asked for {in_words(found.wanted_chance)}: "
        f"they are reached in {100 * seeds.chance:.1f} of 100 sowings, "
        f"with one seed fewer in {100 * seeds.chance_of_one_fewer:.1f}.",
        width,
    )
    lines += [line for text in (*_cells(found), _divided(found)) if text
              for line in wrapped(text, width)]  # fmt: skip
    lines.append(plain(""))
    share = f"{100 * basis.share:.0f} in 100 come up"
    if basis.likely is not None:
        share += f" ({100 * basis.likely.low:.0f} to {100 * basis.likely.high:.0f})"
    lines += wrapped(f"{share}: {basis.rests_on}.", width, role="quiet")
    for text in basis.taken_off:
        lines += wrapped(text, width, role="quiet")
    if basis.lost:
        text = f"{100 * basis.lost:.0f} in 100 of these are lost before setting out"
        lines += wrapped(f"{text} ({basis.lost_rests_on}).", width, role="quiet")
    return lines


def _cells(found: Rate) -> list[str]:
    said = []
    cell = found.per_cell
    if cell is not None:
        said.append(
            f"{plural(cell.seeds, 'seed')} in a cell: {100 * cell.empty:.1f} of 100 cells stay "
            f"empty, with one fewer {100 * cell.empty_of_one_fewer:.1f}."
        )
    room = [plural(found.trays, "tray")] if found.trays is not None else []
    room += [plural(found.packets, "packet")] if found.packets is not None else []
    if room:
        said.append(f"{plural(found.to_sow, 'seed')} in all: {joined(room)}.")
    return said


def _divided(found: Rate) -> str:
    """What dividing the plants by the germination would have given, and how often that is right."""
    if found.divided >= found.for_plants.seeds:
        return ""
    chance = chance_of_plants(found.divided, found.plants, found.germination.of_plants)
    return (
        f"Plants over germination would be {found.divided}: right in {100 * chance:.0f} of 100 "
        "sowings."
    )
