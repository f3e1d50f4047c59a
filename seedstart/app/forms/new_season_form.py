"""The form of a new season: a folder with a plan in it, taking over what the last one leaves."""

from collections.abc import Callable, Mapping, Sequence
from datetime import datetime
from functools import cache
from pathlib import Path
from typing import Final
from zoneinfo import available_timezones

from msgspec import Struct, structs

from seedstart.acts.act import Field, Texts
from seedstart.acts.fields import yes_field
from seedstart.acts.known import Known
from seedstart.app.forms.form_input import NEEDED, Filled, PlanAct, Slip, fill
from seedstart.app.forms.form_screen import Form
from seedstart.app.forms.form_services import LastSeason
from seedstart.crop_table.load import load_crops
from seedstart.days import long_day, parse_day
from seedstart.problems import Problem
from seedstart.season.journal.entry import BLANK_AT
from seedstart.season.plan.new_season import (
    NewFiles,
    Wishes,
    first_season,
    frost_wished,
    parse_units,
)
from seedstart.season.plan.season_file import Frost, Season, read_season, zone_name
from seedstart.season.plan.typed_values import RefusedError
from seedstart.tracking.records import Records
from seedstart.units import RISKS, Units

_NO_CROPS: Final = load_crops({})


class NewSeason(Struct, frozen=True):
    """A season to be made.

    Attributes:
        folder: Where.
        files: The bytes of its files.
    """

    folder: Path
    files: NewFiles


@cache
def _zones() -> Sequence[str]:
    return sorted(available_timezones())


def _has_frost(texts: Texts) -> bool:
    return texts.get("last-frost", "").strip().casefold() not in {"", "none"}


def _told_of_frost(_: Known, texts: Texts) -> str:
    try:
        return long_day(parse_day(texts.get("last-frost", "")))
    except ValueError:
        return "the date you count from, with its year; none for a seed library"


def _told_of_risk(_: Known, texts: Texts) -> str:
    if not _has_frost(texts):
        return "what that date means; leave empty without a date"
    return (
        "average: a later frost in half of all years; safe: in one year of ten; or the percentage"
    )


def _fields(last: Season | None, zone: str) -> tuple[Field, ...]:
    units = last.units if last else "metric"
    trust = last.frost.tender_risk_percent if last and last.frost else None
    common = (
        Field(key="folder", label="Folder", says="a new one, e.g. spring-2027", need=NEEDED),
        Field(key="title", label="Title", says="heads the calendar; if empty, the folder's name"),
        Field(
            key="last-frost", label="Last frost", need=NEEDED, told=_told_of_frost,
            says="e.g. 2027-05-12; or none",
        ),
        Field(
            key="risk", label="This date is", names=lambda _: tuple(RISKS), told=_told_of_risk,
            default=lambda _, texts: "average" if _has_frost(texts) else "",
        ),
        Field(
            key="tender-risk", label="Risk you take", says="with tender plants: 10%; none",
            default=lambda _, texts: f"{trust:g}%" if trust and _has_frost(texts) else "",
            told=lambda _known, _texts: (
                "accepted chance of a later frost; none: their own weeks decide"
            ),
        ),
        Field(
            key="units", label="Units", says="metric (°C, cm) or us (°F, inches)", only=True,
            names=lambda _: ("metric", "us"), default=lambda _known, _texts: units,
        ),
        Field(
            key="timezone", label="Time zone", says="e.g. Europe/Vienna", need=NEEDED,
            names=lambda _: _zones(), only=True, default=lambda _known, _texts: zone,
        ),
    )  # fmt: skip
    if last is None:
        return common
    over = structs.replace(
        yes_field("over", "Copy", "yes: copy lots, tests and stations from this season"),
        default=lambda _known, _texts: "yes",
    )
    return (*common, over)


def _zone(slip: Slip) -> str:
    typed = slip.need("timezone", "an IANA time zone, e.g. Europe/Vienna")
    if not typed:
        return ""
    try:
        return zone_name(typed)
    except RefusedError as refused:
        problem = Problem(file="timezone", found=typed, allowed=refused.allowed, hint=refused.hint)
        slip.refuse(problem)
        return ""


def _season(last: LastSeason | None) -> Callable[[Slip], NewSeason]:
    def make(slip: Slip) -> NewSeason:
        folder = slip.need("folder", "the folder to make, e.g. spring-2027")
        slip.need("last-frost", "the date of the last frost, or none")
        wishes = Wishes(
            last_frost=slip.text("last-frost"),
            risk=slip.text("risk"),
            tender_risk=slip.text("tender-risk"),
        )
        frost = frost_wished(wishes, slip, prefix="")
        units: Units = slip.get("units", parse_units) or "metric"
        zone, over = _zone(slip), last is not None and slip.yes("over")
        slip.done()
        path = Path(folder).expanduser()
        title = slip.text("title") or path.name
        return NewSeason(path, _files(title, zone, units, frost, last if over else None))

    return make


def _files(
    title: str, zone: str, units: Units, frost: Frost | None, last: LastSeason | None
) -> NewFiles:
    if last is None:
        return first_season(title, zone, units, frost, _NO_CROPS)
    return last.take_over(title, frost)


class SeasonForm(Form[NewSeason, NewSeason]):
    """A new season; dismissed with it once its folder is there.

    Args:
        make_season: Makes the folder; answers with None, or with why not.
        zone: The time zone to begin with, by its IANA name.
        last: The season whose lots and stations may be taken over.
    """

    def __init__(
        self,
        make_season: Callable[[Path, NewFiles], str | None],
        zone: str,
        last: LastSeason | None = None,
        given: Mapping[str, str] | None = None,
    ) -> None:
        before = read_season(last.season_toml, last.lots_toml, last.crops) if last else None
        act = PlanAct[NewSeason](
            name="new season",
            about="a folder for one spring or autumn",
            fields=_fields(before, zone),
            make=_season(last),
            asks="folder",
        )
        known = Known(before or _no_season(zone), Records(), BLANK_AT)
        super().__init__(act, act.fields, lambda: known, given)
        self._plan_act = act
        self.make_season = make_season

    def fill(self, known: Known, texts: Texts) -> Filled[NewSeason]:
        """Read what stands in the fields."""
        return fill(self._plan_act, known, texts)

    def would_say(self, made: NewSeason, at: datetime | None, known: Known) -> list[str]:  # noqa: ARG002
        """Which folder is made."""
        return [f"makes the folder {made.folder}"]

    def hand_over(self, made: NewSeason, at: datetime | None) -> str | None:  # noqa: ARG002
        """Have it made."""
        return self.make_season(made.folder, made.files)

    def result(self, made: NewSeason, at: datetime | None) -> NewSeason:  # noqa: ARG002
        """What was made."""
        return made


def _no_season(zone: str) -> Season:
    """A plan with nothing in it: where there is no season yet, nothing can be named."""
    return Season(
        title="", zone=zone, units="metric", work_days=(), away=(), said_frost=None, stations=(),
        containers=(), lots=(), crops=_NO_CROPS,
    )  # fmt: skip
