"""What happened in the invented season: who did what when. Nothing of it is real.

Days are written `m-d`; every line is (day, hour, writer, act). Counts are those that stand.
"""

from datetime import date
from random import Random
from typing import Any, NamedTuple

from seedstart.season.journal.entries import (
    Adjusted,
    Checked,
    Counted,
    Covered,
    Entry,
    Fed,
    Finished,
    Given,
    Hardened,
    Lost,
    Measured,
    Moved,
    Noted,
    PottedOn,
    PrickedOut,
    Read,
    Soaked,
    Sown,
    Stratified,
    Struck,
    TakenOut,
    Thinned,
    Uncovered,
    Watered,
)
from seedstart.season.journal.sowing_entries import Plant

YEAR = 2026


class Act(NamedTuple):
    """Lines that one person wrote in one go."""

    day: date
    hour: float
    by: str
    lines: tuple[tuple[type[Entry], dict[str, Any]], ...]


def on(day: str, hour: float, by: str, *lines: tuple[type[Entry], dict[str, Any]]) -> Act:
    """One act, on `m-d`."""
    month, number = (int(part) for part in day.split("-"))
    return Act(date(YEAR, month, number), hour, by, lines)


def line(kind: type[Entry], **fields: Any) -> tuple[type[Entry], dict[str, Any]]:
    """One line of an act."""
    return kind, fields


def counts(sowing: str, by: str, hour: float, **days: int) -> list[Act]:
    """Counts of one sowing, as m3d20=4: four on 20 March."""
    found = []
    for key, standing in days.items():
        month, number = key.removeprefix("m").split("d")
        found.append(
            on(f"{month}-{number}", hour, by, line(Counted, sowing=sowing, standing=standing))
        )
    return found


def sown(day: str, lot: str, seeds: int, **where: Any) -> Act:
    """A sowing on a work day in the evening, at the bench."""
    sowing = where.pop("sowing", lot)
    return on(day, 17.5, "bench", line(Sown, sowing=sowing, lot=lot, seeds=seeds, **where))


def story() -> list[Act]:
    """Everything, in no particular order."""
    parts = _sowings, _counts, _mixed_tray, _water, _care, _moves, _later, _words, _trial
    return [act for part in parts for act in part()]


def _sowings() -> list[Act]:
    return [
        on("2-14", 18, "bench", line(Stratified, lot="lavender", days=28.0, c=4.0)),
        on("3-14", 9, "bench", line(TakenOut, entry="lavender")),
        sown("2-25", "onion-red", 160, station="upper shelf", tray="tray 1"),
        sown("3-1", "thyme", 40, station="upper shelf", tray="tray 2"),
        on("3-3", 20, "bench", line(Soaked, lot="sweet-pea", hours=12.0)),
        on("3-4", 8, "bench", line(TakenOut, entry="sweet-pea")),
        sown("3-4", "sweet-pea", 38, station="north sill", tray="tray 3", after=("sweet-pea",)),
        sown("3-4", "pepper-lantern", 12, station="north sill", tray="tray 4"),
        sown("3-7", "petunia-white", 54, station="upper shelf", tray="tray 5"),
        sown("3-8", "leek-giant", 64, station="upper shelf", tray="tray 6"),
        sown("3-11", "snapdragon", 90, station="upper shelf", tray="tray 7"),
        sown("3-15", "broccoli", 30, station="lower shelf", tray="tray 8"),
        sown("3-15", "cabbage-early", 36, station="lower shelf", tray="tray 9"),
        sown("3-15", "lavender", 40, station="upper shelf", tray="tray 10", after=("lavender",)),
        # The onion seed was old: the same lot again, thicker.
        sown(
            "3-15", "onion-red", 200, sowing="onion-red/2", station="upper shelf", tray="tray 11",
            instead_of="onion-red",
        ),
        sown("3-18", "pea-shoot", 38, station="north sill", tray="tray 12"),
        sown("3-21", "lettuce-oak", 32, station="lower shelf", tray="tray 13"),
        sown("3-25", "marigold-fair", 144, station="upper shelf", tray="tray 14"),
        sown(
            "4-4", "lettuce-oak", 32, sowing="lettuce-oak/2", station="lower shelf", tray="tray 15",
        ),
    ]  # fmt: skip


def _counts() -> list[Act]:
    return [
        *counts("onion-red", "bench", 7.5, m3d4=0, m3d7=3, m3d9=8, m3d12=14, m3d14=16, m3d15=17),
        *counts("thyme", "bench", 7.6, m3d8=0, m3d12=2, m3d14=9, m3d17=19, m3d20=25, m3d24=27),
        *counts("sweet-pea", "bench", 7.7, m3d14=0, m3d18=5, m3d20=14, m3d23=24, m3d26=29, m4d2=30),
        *counts("pepper-lantern", "bench", 7.7, m3d14=0, m3d20=0, m3d26=0, m4d4=0, m4d8=0),
        *counts("petunia-white", "bench", 7.8, m3d13=0, m3d16=7, m3d18=24, m3d20=39, m3d23=45),
        *counts("leek-giant", "bench", 7.9, m3d16=0, m3d19=12, m3d21=35, m3d23=49, m3d26=54),
        *counts("snapdragon", "bench", 8.0, m3d18=0, m3d20=11, m3d23=48, m3d25=63, m4d1=66),
        *counts("broccoli", "bench", 8.1, m3d20=0, m3d22=9, m3d24=22, m3d26=26),
        *counts("cabbage-early", "bench", 8.1, m3d20=0, m3d22=14, m3d24=28, m3d26=31),
        *counts("lavender", "bench", 8.2, m3d25=0, m4d1=3, m4d4=9, m4d8=16, m4d10=19),
        *counts("onion-red/2", "bench", 7.5, m3d24=6, m3d26=27, m4d1=70, m4d4=84, m4d8=88),
        *counts("pea-shoot", "bench", 7.7, m3d26=2, m4d1=19, m4d3=29, m4d6=33, m4d9=34),
        *counts("lettuce-oak", "bench", 8.1, m3d25=11, m3d26=20, m4d1=27),
        *counts("marigold-fair", "bench", 7.9, m4d1=61, m4d2=92, m4d4=118, m4d7=124),
        *counts("lettuce-oak/2", "bench", 8.1, m4d8=3, m4d9=14, m4d10=22),
        *(
            on(day, 8.3, "bench", line(Counted, sowing=sowing, standing=standing, final=True))
            for day, sowing, standing in (
                ("4-1", "thyme", 27),
                ("4-3", "leek-giant", 54),
                ("4-8", "sweet-pea", 28),
                ("4-9", "marigold-fair", 124),
            )
        ),
        # Two people counted on one morning, and did not agree.
        on("3-24", 8.4, "tablet", line(Counted, sowing="cabbage-early", standing=27)),
        on("3-26", 8.9, "tablet", line(Counted, sowing="thyme", standing=27)),
        on("3-15", 17.2, "bench", line(Finished, sowing="onion-red", why="too few of old seed")),
    ]


def _mixed_tray() -> list[Act]:
    """Six lots in one tray on the mat: four are up, two are slow."""
    return [
        sown("3-18", "celeriac", 45, station="heat mat", tray="tray M", place="row 1"),
        sown("3-18", "parsley-flat", 50, station="heat mat", tray="tray M", place="row 2"),
        sown("4-1", "pepper-long", 21, station="heat mat", tray="tray M", place="row 3"),
        sown("4-1", "aubergine", 16, station="heat mat", tray="tray M", place="row 4"),
        sown("4-1", "basil-broad", 40, station="heat mat", tray="tray M", place="row 5"),
        sown("4-1", "tomato-plum", 22, station="heat mat", tray="tray M", place="row 6"),
        on("3-18", 17.9, "bench", line(Covered, tray="tray M")),
        *counts("celeriac", "bench", 7.4, m3d26=0, m4d1=6, m4d4=21, m4d7=30, m4d10=33),
        *counts("parsley-flat", "bench", 7.4, m3d26=0, m4d1=2, m4d4=17, m4d8=31, m4d10=34),
        *counts("basil-broad", "bench", 7.4, m4d6=4, m4d7=17, m4d8=27, m4d10=31),
        *counts("tomato-plum", "bench", 7.4, m4d7=0, m4d8=3, m4d9=10, m4d10=15),
        *counts("pepper-long", "bench", 7.4, m4d8=0, m4d10=0),
        *counts("aubergine", "bench", 7.4, m4d8=0, m4d10=0),
    ]


def _water() -> list[Act]:
    """Whole benches at once, every other day; while they were away a neighbour did it."""
    days = [(3, day) for day in range(2, 32, 2)] + [(4, day) for day in (1, 3, 5, 7)]
    benches = ("upper shelf", "lower shelf", "north sill", "cold frame")
    watered = [
        on(f"{month}-{day}", 7.2, by, *(line(Watered, station=bench) for bench in benches))
        for month, day in days
        for by in ("tablet" if day in {24, 28, 30} else "bench",)
    ]
    return [*watered, on("4-9", 7.2, "bench", *(line(Watered, station=one) for one in benches[1:]))]


def _moves() -> list[Act]:
    """At the first seedlings to where they grow on; a lamp that is switched on is ticked off."""
    moves = (
        ("3-13", "tray 2", "lower shelf"),
        ("3-17", "tray 5", "lower shelf"),
        ("3-20", "tray 6", "lower shelf"),
        ("3-21", "tray 7", "lower shelf"),
        ("3-23", "tray 8", "cold frame"),
        ("3-23", "tray 9", "cold frame"),
        ("3-25", "tray 11", "lower shelf"),
        ("3-26", "tray 12", "cold frame"),
        ("4-1", "tray 13", "cold frame"),
        ("4-9", "tray 15", "cold frame"),
    )
    lamp = line(Checked, check="lamp on tray 14 upper shelf")
    return [
        *(on(day, 8.6, "bench", line(Moved, tray=tray, station=to)) for day, tray, to in moves),
        on("4-1", 8.6, "bench", lamp),
    ]


def _care() -> list[Act]:
    return [
        on("4-3", 7.1, "bench", line(Watered, tray="tray M", ml=150.0)),
        on("4-8", 7.1, "bench", line(Watered, tray="tray M", ml=150.0)),
        on("3-2", 9, "bench", line(Adjusted, station="heat mat", thermostat_c=24.0, mat="on")),
        on("3-20", 9, "bench", line(Adjusted, station="upper shelf", lamp_hours=16.0)),
        on("3-17", 8, "bench", line(Uncovered, tray="tray 5")),
        on("3-7", 17.9, "bench", line(Covered, tray="tray 5")),
        *(
            on("4-4", 8.5, "bench", line(Fed, tray=tray, ml=250.0, ppm_n=50.0))
            for tray in ("tray 2", "tray 6", "tray 8", "tray 9", "tray 13", "tray 20", "tray 22")
        ),
        on("4-5", 8.5, "bench", line(Fed, tray="tray 23", ml=250.0, ppm_n=50.0)),
        on("3-10", 7.9, "bench", line(Read, station="north sill", quantity="soil_c", value=11.5)),
        on("4-2", 8.0, "tablet", line(Read, station="lower shelf", quantity="lux", value=7400.0)),
    ]


def _later() -> list[Act]:
    """Pricking out, potting on, moving, the first hours outdoors."""
    parts = (
        ("tray 20", "lower shelf", 12),
        ("tray 21", "upper shelf", 6),
        ("tray 22", "cold frame", 6),
    )
    return [
        on(
            "4-1", 16, "bench",
            *(
                line(
                    PrickedOut, sowing="broccoli", plants=plants, into=f"broccoli.{number}",
                    tray=tray, station=station, container="tray of 72",
                )
                for number, (tray, station, plants) in enumerate(parts, 1)
            ),
            line(Thinned, sowing="broccoli", plants=2),
        ),
        on(
            "4-1", 16.6, "bench",
            line(
                PrickedOut, sowing="cabbage-early", plants=28, into="cabbage-early.1",
                tray="tray 23", station="lower shelf", container="tray of 72",
            ),
        ),
        on(
            "4-5", 16, "bench",
            line(
                PrickedOut, sowing="petunia-white", plants=45, into="petunia-white.1",
                tray="tray 24", station="lower shelf", container="tray of 72",
            ),
        ),
        on(
            "4-8", 16.5, "bench",
            line(
                PrickedOut, sowing="snapdragon", plants=60, into="snapdragon.1",
                tray="tray 25", station="lower shelf", container="tray of 72",
            ),
            line(Thinned, sowing="snapdragon", plants=6),
        ),
        on("4-2", 9, "tablet", line(Given, sowing="cabbage-early", plants=3, to="school garden")),
        on("4-4", 15, "bench", line(PottedOn, sowing="sweet-pea", container="9 cm pot")),
        on("4-4", 15.2, "bench", line(Moved, tray="tray 3", station="cold frame")),
        on("4-7", 8.2, "tablet", line(Lost, sowing="sweet-pea", plants=2, why="mice")),
        on("4-8", 10, "bench", line(Hardened, sowing="cabbage-early.1", hours=2.0)),
        on("4-9", 10, "bench", line(Hardened, sowing="cabbage-early.1", hours=3.0)),
    ]  # fmt: skip


# The planned level of each tray of trials/cabbage-light.toml, mol a day.
_TRIAL = {
    "T1": 10.4, "T2": 3.8, "T3": 6.2, "T4": 8.1, "T5": 4.8,
    "T6": 4.8, "T7": 3.8, "T8": 8.1, "T9": 10.4, "T10": 6.2,
}  # fmt: skip
# From the left and the front in mm, and µmol there: a little under nine tenths of the packet.
_READ_ON_18_APRIL = (
    (600, 250, 69), (150, 80, 44), (1050, 80, 46), (150, 420, 45), (600, 420, 63),
)  # fmt: skip


def _trial() -> list[Act]:
    """Cabbage at five levels of light: sown, counted, the light read, measured at 21 days."""
    random = Random(2026)
    acts = []
    for number, (tray, level) in enumerate(_TRIAL.items(), 2):
        sowing = f"cabbage-early/{number}"
        acts += [
            on(
                "4-11", 18, "tablet",
                line(
                    Sown, sowing=sowing, lot="cabbage-early", seeds=10, station="trial shelf",
                    tray=tray, purpose="trial", trial="cabbage-light",
                ),
            ),
            *counts(sowing, "tablet", 8.2, m4d15=2, m4d16=6, m4d18=8),
            on("5-7", 17, "tablet", line(Measured, sowing=sowing, plants=_plants(level, random))),
            on("5-8", 18, "tablet", line(Finished, sowing=sowing, why="trial over")),
        ]  # fmt: skip
    read = [
        line(
            Read, station="trial shelf", quantity="ppfd_umol", value=float(value), meter="quantum",
            from_left_mm=float(left), from_front_mm=float(front),
        )
        for left, front, value in _READ_ON_18_APRIL
    ]  # fmt: skip
    hours = line(Adjusted, station="trial shelf", lamp_hours=15.0)
    return [*acts, on("4-18", 9, "tablet", *read), on("4-25", 9, "tablet", hours)]


def _plants(level: float, random: Random) -> tuple[Plant, ...]:
    """Eight plants that stretch less with more light, up to some 6 mol a day; invented."""
    tray = random.gauss(0, 1.5)
    got = 0.9 * level
    found = []
    for _ in range(8):
        height = 36 + 15.5 * max(6.0 - got, 0) + tray + random.gauss(0, 3)
        stem = 2.65 - 0.24 * max(6.4 - got, 0) + random.gauss(0, 0.12)
        found.append(Plant(height_mm=float(round(height)), diameter_mm=round(stem, 1)))
    return tuple(found)


def _words() -> list[Act]:
    return [
        on(
            "3-23", 8.5, "bench",
            line(Noted, text="white fluff on the mix, cover lifted", about="mould", tray="tray M"),
        ),
        on(
            "4-6", 9, "tablet",
            line(Noted, text="yellow cards hung", about="gnats", station="upper shelf"),
        ),
        on("3-26", 9.2, "bench", line(Noted, text="away until Monday, neighbour waters")),
        # A slip, and taken back.
        on("4-7", 7.45, "bench", line(Counted, sowing="celeriac", standing=300)),
        on("4-7", 7.46, "bench", line(Struck, entry="celeriac=300")),
        on("3-9", 7, "bench", line(Checked, check="look over the lamps")),
    ]  # fmt: skip
