"""`seedstart learn`: what a season has taught, for the next one."""

import click

from seedstart.cli.printing import show, show_json, width
from seedstart.cli.recording import as_of_option, open_for
from seedstart.cli.season_files import season_option
from seedstart.drawing.lines import Line, heading, plain, wrapped
from seedstart.planning.lots import learning
from seedstart.planning.lots.learning import Learned, OfCrop
from seedstart.text import plural


@click.command()
@season_option
@as_of_option
@click.option("--json", "json_", is_flag=True, help="For scripts.")
def learn(folder: str | None, on: str | None, json_: bool) -> None:
    """What your own sowings say of days, spread and germination; nothing is written.

    `seedstart new season FOLDER --from THIS` takes it into the next season, as crops/*.toml there.

    Example: seedstart learn --season sample_season --on 2026-05-10
    """
    opened = open_for(folder, on)
    learned = learning.learn(opened.plan, opened.records(), opened.readings(), opened.now())
    if json_:
        show_json(_as_json(learned))
    else:
        show(_lines(learned, width()))


def _lines(learned: Learned, width: int) -> list[Line]:
    lines: list[Line] = []
    for one in learned.crops:
        lines += [heading(one.crop.name), *_of_crop(one, width)]
    if not lines:
        lines = wrapped("Nothing yet: no sowing is closed that had a fair chance.", width)
    for station in learned.stations:
        much = (
            "as planned" if abs(station.ratio - 1) < 0.1 else f"{station.ratio:.1f} times the days"
        )
        text = (
            f"{station.station}: {plural(station.sowings, 'sowing')} on warmth that nobody "
            f"measured came up at {much}. That may be its temperature, and teaches nothing of the "
            "crops: put a thermometer into the medium."
        )
        lines += wrapped(text, width, role="quiet")
    tests = sum(map(len, learned.tests.values()))
    text = (
        "`seedstart new season FOLDER --from` this season takes these figures over, "
        f"{plural(tests, 'test')} and the lots with seed left."
    )
    return [*lines, plain(""), *wrapped(text, width, role="quiet")]


def _of_crop(one: OfCrop, width: int) -> list[Line]:
    lines: list[Line] = []
    if one.days is not None:
        text = (
            f"Days to come up at {one.crop.tray_c.best:g} °C: {one.days.best:g} "
            f"({one.days.low:g} to {one.days.high:g}), {one.days.note}."
        )
        lines += wrapped(text, width, indent="  ")
    if one.spread is not None:
        text = f"Last over first: {one.spread.best:g} times the days, {one.spread.note}."
        lines += wrapped(text, width, indent="  ")
    for lot in one.lots:
        text = f"{lot.lot}: {lot.up} of {lot.seeds} came up, closed {lot.on.isoformat()}."
        lines += wrapped(text, width, indent="  ")
    return lines


def _as_json(learned: Learned) -> dict[str, object]:
    return {
        "crops": [
            {
                "crop": one.crop.name,
                "sowings": one.sowings,
                "days": one.days.best if one.days else None,
                "days_low": one.days.low if one.days else None,
                "days_high": one.days.high if one.days else None,
                "spread": one.spread.best if one.spread else None,
                "spread_sowings": one.spreads,
                "lots": [
                    {"lot": lot.lot, "on": lot.on, "seeds": lot.seeds, "up": lot.up}
                    for lot in one.lots
                ],
            }
            for one in learned.crops
        ],
        "stations": [
            {"station": one.station, "sowings": one.sowings, "times_expected": one.ratio}
            for one in learned.stations
        ],
    }
