"""Forms that change the plan: a lot, a station, a container, the season's frost date."""

from collections.abc import Callable, Mapping, Sequence
from datetime import datetime
from typing import Any, Final

from msgspec import structs

from seedstart.acts.act import Field, Texts
from seedstart.acts.known import Known
from seedstart.acts.sheet import SURE
from seedstart.app.forms.form_input import NEEDED, Filled, PlanAct, Slip, fill
from seedstart.app.forms.form_screen import Form
from seedstart.app.forms.form_services import Desk, Meant
from seedstart.app.forms.plan_forms import CONTAINER, LOT, STATION
from seedstart.days import parse_day
from seedstart.disk.plan_files import Edited
from seedstart.planning.calendar.frost_dates import frost_dates
from seedstart.planning.lots.seed_tests import begun_in_words
from seedstart.problems import BadInputError, Problem
from seedstart.season.plan.changes import (
    Kind,
    check_changed,
    check_unused,
    dropped_in_words,
    texts_of,
)
from seedstart.season.plan.names import Names
from seedstart.text import folded
from seedstart.tracking.whereabouts import left_alone, whereabouts
from seedstart.units import parse_risk

OUT: Final = "out"
_TO: Final = "to"


def _own(kind: Kind, known: Known) -> list[str]:
    """The names of what may be changed."""
    if kind == "container":
        return [one.name for one in known.plan.containers if not one.source]
    named: Sequence[Any] = known.plan.lots if kind == "lot" else known.plan.stations
    return [one.name for one in named]


def _present(kind: Kind, known: Known, typed: str) -> str:
    """The present name of what was typed; empty where there is none."""
    if kind == "container":
        return next((one for one in _own(kind, known) if folded(one) == folded(typed)), "")
    named: Sequence[Any] = known.plan.lots if kind == "lot" else known.plan.stations
    return Names(named).find(typed) or ""


def _as_it_is(kind: Kind, known: Known, typed: str) -> dict[str, str]:
    name = _present(kind, known, typed)
    return texts_of(kind, known.keys_of(kind, name)) if name else {}


def _old_value(kind: Kind, key: str) -> Callable[[Known, Texts], str]:
    return lambda known, texts: _as_it_is(kind, known, texts.get(kind, "")).get(key, "")


def _looked_at(kind: Kind) -> Callable[[Known, Texts], str]:
    return lambda known, _: "" if kind == "container" else known.subject_name(kind)


def _changing(kind: Kind, of: PlanAct[Any], *, also: str, renames: bool = True) -> PlanAct[Meant]:
    """The form that changes what another form makes: the same fields, with what stands now."""
    fields = [one for one in of.fields if one.key != "name"]

    def make(slip: Slip) -> Meant:
        name = _present(kind, slip.known, slip.need(kind, f"which {kind}"))
        if not name and (typed := slip.text(kind)):
            names = tuple(_own(kind, slip.known))
            slip.refuse(Problem(file=kind, found=typed, allowed=names))
        slip.done()
        table = slip.known.keys_of(kind, name)
        old = texts_of(kind, table)
        typed_now = {one.key: slip.text(one.key) for one in fields}
        said = {key: text for key, text in typed_now.items() if (text or "") != old.get(key, "")}
        to = slip.text(_TO) if renames else None
        out = slip.yes(OUT)
        slip.done()
        plan, trays = slip.known.plan, slip.known.trays()
        if out:
            check_unused(kind, name, plan, file=OUT)
            return Meant(kind, name, out=True)
        try:
            check_changed(kind, table, said, plan, trays, file=f"change {kind}", to=to)
        except BadInputError as error:
            raise BadInputError(_at_its_field(one) for one in error.problems) from None
        return Meant(kind, name, said, to or "")

    which = Field(
        key=kind, label=kind.capitalize(), says="which", need=NEEDED, only=True,
        names=lambda known: _own(kind, known), default=_looked_at(kind),
    )  # fmt: skip
    kept = [structs.replace(one, need="", default=_old_value(kind, one.key)) for one in fields]
    name = Field(key=_TO, label="Rename", says="another name; its journal stays with it")
    last = Field(key=OUT, label="Out of plan", says="yes takes it out; its journal stays")
    return PlanAct[Meant](
        name=f"change {kind}",
        about=f"what the plan says of a {kind}; rename it, take it out",
        fields=(which, *kept, *([name] if renames else []), last),
        make=make,
        asks=kept[0].key,
        on=(kind,),
        also=f"edit alter rename drop remove delete relabel {also}",
    )


def _at_its_field(problem: Problem) -> Problem:
    """What is wrong with its names stands at the field of the new one."""
    is_name = problem.key in {"name", "was"} or problem.key.startswith("was[")
    return structs.replace(problem, key=_TO) if is_name else problem


CHANGE_LOT: Final = _changing("lot", LOT, also="packet seed variety")
CHANGE_STATION: Final = _changing("station", STATION, also="place shelf mat sill lamp")
CHANGE_CONTAINER: Final = _changing("container", CONTAINER, also="tray pot cells", renames=False)

_RISKS: Final = ("risk_percent", "tender_risk_percent")
_FROST: Final = ("last", *_RISKS, "record")


def _of_season(key: str) -> Callable[[Known, Texts], str]:
    def value(known: Known, _: Texts) -> str:
        table = known.keys_of("frost" if key in _FROST else "")
        old = table.get("trust_percent", "") if key == "tender_risk_percent" else ""
        found = table.get(key, old)  # under its old name it is still read
        return ", ".join(found) if isinstance(found, list) else str(found)

    return value


def _season(slip: Slip) -> Meant:
    typed = {one.key: slip.text(one.key) for one in CHANGE_SEASON.fields}
    old = {key: _of_season(key)(slip.known, {}) for key in typed}
    said = {key: text for key, text in typed.items() if (text or "") != old[key]}
    day = slip.get("last", parse_day)
    for key in _RISKS:
        risk = slip.get(key, parse_risk)
        if said.get(key) and risk is not None:
            said[key] = f"{risk:g}"
    if said.get("last") and day:
        said["last"] = day.isoformat()
    if said.get("last") and said.get("record"):
        hint = "Give the date or a record, not both: each says it."
        slip.refuse(Problem(file="record", hint=hint))
    slip.done()
    return Meant("season", "", said)


def _what_it_means(known: Known, texts: Texts) -> str:  # noqa: ARG001 - a field's own
    try:
        last = parse_day(texts.get("last", ""))
        risk = parse_risk(texts.get("risk_percent", "") or "50")
        trust = texts.get("tender_risk_percent", "")
        return frost_dates(last, risk, parse_risk(trust) if trust else None).sentence()
    except ValueError:
        return ""


CHANGE_SEASON: Final = PlanAct[Meant](
    name="change season",
    about="its last frost date, what that means, title, work days",
    fields=(
        Field(
            key="last", label="Last frost", says="e.g. 2027-05-12", default=_of_season("last"),
            told=_what_it_means,
        ),
        Field(
            key="risk_percent", label="It is", told=_what_it_means,
            says="average; safe; or in how many percent of years a frost comes later",
            default=_of_season("risk_percent"),
        ),
        Field(
            key="tender_risk_percent", label="Tender risk", told=_what_it_means,
            says="percent of years with a later frost that you risk tender plants in",
            default=_of_season("tender_risk_percent"),
        ),
        Field(
            key="record", label="Record", default=_of_season("record"),
            says="a file of daily minima in this season's folder, in place of the date",
        ),
        Field(key="title", label="Title", default=_of_season("title")),
        Field(
            key="work_days", label="Work days", says="wed, sat, sun; nothing: every day",
            default=_of_season("work_days"),
        ),
    ),
    make=_season,
    also="frost date risk edit move spring tender title work days",
)  # fmt: skip


class ChangeForm(Form[Meant, Edited]):
    """What the plan says of one thing; dismissed with what became of its file.

    Args:
        act: What is changed.
        desk: What the app gives to every form.
        subject: What the grower was looking at.
        given: What is known of its fields already, by their keys; counts as typed.
    """

    def __init__(
        self,
        act: PlanAct[Meant],
        desk: Desk,
        subject: Any = None,  # noqa: ANN401 - as the other forms take it
        given: Mapping[str, str] | None = None,
    ) -> None:
        super().__init__(act, act.fields, lambda: desk.look().about(subject), given, desk)
        self._plan_act, self._desk_of_plan = act, desk
        self._edited: Edited | None = None
        self._reckoned: tuple[Meant, list[str]] | None = None

    def fill(self, known: Known, texts: Texts) -> Filled[Meant]:
        """Read what stands in the fields; plants that would be left alone are asked about."""
        found = fill(self._plan_act, known, texts)
        if found.made is None or not found.made.out or SURE in texts:
            return found
        kind, name = found.made.kind, found.made.name
        if kind == "test" or kind == "trial":
            begun = begun_in_words(name, known.records, kind)
            alone = f"{begun}: that stays, and nothing asks for its days." if begun else ""
        else:
            alone = left_alone(whereabouts(known.records, known.plan), kind, name)
        asks = {OUT: Problem(file=OUT, hint=alone)} if alone else {}
        return structs.replace(found, made=None, problems=asks, only_asks=True) if asks else found

    def catch_up(self) -> None:
        """The season's files may have changed."""
        self._desk_of_plan.catch_up()

    def would_say(self, made: Meant, at: datetime | None, known: Known) -> list[str]:  # noqa: ARG002
        """What would change, and what sowings that moves."""
        if not (made.said or made.to or made.out):
            return ["changes nothing yet"]
        if self._reckoned is None or self._reckoned[0] != made:
            self._reckoned = made, self._desk_of_plan.moved(made)
        labels = {one.key: one.label.lower() for one in self._plan_act.fields}
        keys = ", ".join(labels[key] for key in made.said)
        does = "takes it out" if made.out else f"changes {keys}" if keys else f"renames {made.name}"
        dropped = dropped_in_words(known.keys_of("frost"), made.said)
        goes = [dropped] if dropped and made.kind == "season" else []
        return [f"in {made.file}: {does}", *goes, *self._reckoned[1]]

    def hand_over(self, made: Meant, at: datetime | None) -> str | None:  # noqa: ARG002
        """Have it changed."""
        if not (made.said or made.to or made.out):
            return "Nothing is changed yet. Esc leaves it."
        found = self._desk_of_plan.change(made)
        if isinstance(found, str):
            return found
        self._edited = found
        return None

    def result(self, made: Meant, at: datetime | None) -> Edited:  # noqa: ARG002
        """What became of the file."""
        if self._edited is None:
            raise RuntimeError("a form is left with a result once that is written")
        return self._edited
