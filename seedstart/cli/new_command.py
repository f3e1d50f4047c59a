"""`seedstart new`: the folder of a new season; a lot, a station, a container in it."""

from datetime import date
from pathlib import Path

import click
from msgspec import structs

from seedstart import clock, disk
from seedstart.cli.crop_files import crop_table
from seedstart.cli.new_lot_command import new_lot
from seedstart.cli.printing import somebody_types, tell
from seedstart.cli.recording import open_for
from seedstart.cli.season_files import find_season
from seedstart.cli.stations_command import new_container, new_station
from seedstart.cli.usage_errors import no_longer
from seedstart.days import long_day, parse_day
from seedstart.disk.next_season_files import taken_over
from seedstart.disk.plan_files import read_plan
from seedstart.disk.season_folder import check_new_season, make_season
from seedstart.planning.lots.learning import learn
from seedstart.problems import BadInputError, Typed
from seedstart.season.plan.new_season import (
    NewFiles,
    Wishes,
    came_over,
    first_season,
    frost_wished,
    parse_units,
)
from seedstart.season.plan.season_file import SEASON_FILE, zone_name
from seedstart.season.plan.typed_values import RefusedError
from seedstart.text import clean
from seedstart.units import RISKS, parse_risk


class _NewGroup(click.Group):
    """What comes into the plan, or is a plan; a folder alone was a season once."""

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Find the command; name what `new FOLDER` is now."""
        if args[0] not in self.commands and not args[0].startswith("-"):
            raise BadInputError([no_longer("new FOLDER", args[0], tuple(self.commands))])
        return super().resolve_command(ctx, args)


@click.group(cls=_NewGroup)
def new() -> None:
    """Make a season, or add to its plan.

    Example: seedstart new season spring-2027 --last-frost 2027-05-12 --risk average
    """


@new.command()
@click.argument("folder", type=click.Path(path_type=Path))
@click.option("--title", help="Heads the calendar. Default: the folder's name.")
@click.option(
    "--timezone", "zone", help="An IANA name, e.g. Europe/Vienna. Default: this computer's."
)
@click.option(
    "--units", metavar="metric|us", help="Units to show, and of a number typed without a unit."
)
@click.option(
    "--last-frost", metavar="DATE", help="For example 2027-05-12; `none` for a seed library."
)
@click.option(
    "--risk",
    metavar="PERCENT",
    help="What that date means: `average` (50: a later frost in half of all years), `safe` (10: "
    "in one year of ten), or the percentage.",
)
@click.option("--tender-risk", metavar="PERCENT", help="The risk you take with tender plants.")
@click.option("--sample", is_flag=True, help="A copy of the invented sample season, to play with.")
@click.option(
    "--from", "last_season", metavar="PATH", help="Copy lots and stations from last season."
)
def season(
    folder: Path,
    title: str | None,
    zone: str | None,
    units: str | None,
    last_frost: str | None,
    risk: str | None,
    tender_risk: str | None,
    sample: bool,
    last_season: str | None,
) -> None:
    """Make the folder of a new season. On a terminal it asks the few things it needs.

    Example: seedstart new season spring-2027 --last-frost 2027-05-12 --risk average
    """
    check_new_season(folder)
    if sample:
        disk.make_folder(folder, disk.read_tree(disk.shipped("sample_season")))
        tell(f"A copy of the sample season is in {folder}. Nothing in it is real: play with it.")
        tell(f"Next: seedstart calendar --season {folder}")
        return
    wishes = Wishes(title, zone, units, last_frost, risk, tender_risk)
    if somebody_types():
        _ask(wishes, folder)
    files = _files(wishes, folder, last_season)
    make_season(folder, files)
    if last_season is not None:
        tell(f"The season is in {folder}.")
        for sentence in came_over(read_plan(find_season(last_season)), read_plan(folder)):
            tell(sentence)
        if files.crops:
            there = ", ".join(sorted(files.crops))
            tell(f"Crop files, with what your own sowings say, in {folder / 'crops'}: {there}.")
    else:
        toml = folder / SEASON_FILE
        tell(f"The season is in {folder}; its plan is {toml}. Add where trays stand,")
        tell(f"and how warm it is there: seedstart new station NAME --kind mat --season {folder}")
        tell(f"then your packets: seedstart new lot NAME --crop CROP --season {folder}")
    if wishes.last_frost not in {None, "none"}:
        _tell_if_passed(parse_day(wishes.last_frost or ""))
    tell(f"{'Next' if last_season else 'and then'}: seedstart calendar --season {folder}")


def _tell_if_passed(last_frost: date) -> None:
    if last_frost < clock.today():
        tell(f"Its last frost, {long_day(last_frost)}, has passed.")


def _ask(wishes: Wishes, folder: Path) -> None:
    """The few things that are needed, each with a default; what was given is not asked."""
    if wishes.title is None:
        wishes.title = click.prompt("Name of this season", default=folder.resolve().name)
    if wishes.zone is None:
        wishes.zone = click.prompt("Time zone", default=clock.local_zone(), value_proc=_typed_zone)
    if wishes.units is None:
        choice = click.Choice(["metric", "us"])
        wishes.units = click.prompt("Units (metric: °C, cm; us: °F, inches)", "metric", type=choice)
    if wishes.last_frost is None:
        wishes.last_frost = click.prompt(
            "Last frost, e.g. 2027-05-12 (or none)", value_proc=_typed_day
        )
    if wishes.last_frost != "none" and wishes.risk is None:
        day = long_day(parse_day(wishes.last_frost))
        click.echo(f"What does {day} mean?")
        click.echo("  average  a later frost comes in half of all years")
        click.echo("  safe     a later frost comes in one year of ten")
        meanings = click.Choice(list(RISKS))
        wishes.risk = click.prompt("The date is", default="average", type=meanings)
        if wishes.risk == "average" and wishes.tender_risk is None:
            click.echo("How many percent of years with a later frost do you risk tender plants in?")
            wishes.tender_risk = click.prompt(
                "  (none: their own weeks decide)", default="none", value_proc=_typed_risk
            )


def _typed_risk(text: str) -> str:
    if text.strip().lower() != "none":
        try:
            parse_risk(text)
        except ValueError as error:
            raise click.UsageError(f"{error}, or none.") from None
    return text


def _typed_zone(text: str) -> str:
    try:
        return zone_name(text)
    except RefusedError as refused:
        raise click.UsageError(f"No such time zone. {refused.hint}") from None


def _typed_day(text: str) -> str:
    if text.strip().lower() == "none":
        return "none"
    try:
        return parse_day(text).isoformat()
    except ValueError as error:
        raise click.UsageError(f"{error}.") from None


def _files(wishes: Wishes, folder: Path, last_season: str | None) -> NewFiles:
    """The bytes of the new season, checked as they will be read."""
    typed = Typed()
    units = typed.read("--units", wishes.units, parse_units) or "metric"
    frost = frost_wished(wishes, typed)
    typed.done()
    title = clean(wishes.title or folder.resolve().name)
    if last_season is not None:
        last = open_for(str(find_season(last_season)))
        before = last.plan.frost
        if frost is not None and before is not None and wishes.tender_risk is None:
            frost = structs.replace(frost, tender_risk_percent=before.tender_risk_percent)
        learned = learn(last.plan, last.records(), last.readings(), last.now())
        return taken_over(last.folder, learned, last.plan.crops, title, frost)
    return first_season(title, wishes.zone or clock.local_zone(), units, frost, crop_table())


new.add_command(new_lot)
new.add_command(new_station)
new.add_command(new_container)
