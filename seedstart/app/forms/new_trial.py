"""The forms of a trial: places are drawn by lot into trials/NAME.toml, and it is changed there."""

from collections.abc import Mapping
from datetime import datetime
from typing import Final

from msgspec import structs

from seedstart.acts.act import Field, Texts
from seedstart.acts.known import Known
from seedstart.app.forms.change_forms import OUT
from seedstart.app.forms.form_input import NEEDED, Filled, PlanAct, Slip, fill
from seedstart.app.forms.form_screen import Form
from seedstart.app.forms.form_services import Desk, Meant
from seedstart.app.forms.planned_file import as_before, as_it_is, planned, which
from seedstart.disk.plan_files import Edited
from seedstart.drawing.trial_sheet import planned_in_words
from seedstart.season.trials.trial_request import (
    CHANGES,
    USUAL,
    TrialRequest,
    read_changes,
    read_request,
)

_PARTED: Final = ("lots", "stations")


def _request(slip: Slip) -> TrialRequest:
    texts = {one.key: slip.text(one.key) or "" for one in TRIAL.fields}
    lots, stations = (
        [part.strip() for part in texts[key].split(",") if part.strip()] for key in _PARTED
    )
    plan = slip.known.plan
    taken = [*(one.name for one in plan.trials), *(one.name for one in plan.tests)]
    return read_request(slip, slip.text("name") or "", texts, lots, stations, plan, taken)


def _lots(known: Known) -> list[str]:
    return [lot.name for lot in known.plan.lots]


def _lot_looked_at(known: Known, _: Texts) -> str:
    return known.subject_name("lot") or ""


def _lit(known: Known) -> list[str]:
    """Stations with lamps before the others."""
    every = sorted(known.plan.stations, key=lambda one: not one.lamps)
    return [one.name for one in every]


TRIAL: Final = PlanAct[TrialRequest](
    name="new trial",
    about="varieties × levels of light, or of any one treatment",
    fields=(
        Field(key="name", label="Name", says="as kale-light", need=NEEDED),
        Field(
            key="lots", label="Lots", says="one, or several with commas", need=NEEDED,
            names=_lots, default=_lot_looked_at,
        ),
        Field(
            key="levels", label="Levels", says="mol a day, e.g. 3, 4.5, 6, 8, 10", need=NEEDED
        ),
        Field(
            key="stations", label="Stands at", says="one, or several with commas", need=NEEDED,
            names=_lit,
        ),
        Field(
            key="trays", label="Trays",
            says=f"of each level; {USUAL['trays']} if you leave it out; one is one replicate",
        ),
        Field(
            key="plants", label="Plants",
            says=f"measured in a tray; {USUAL['plants']} if you leave it out",
        ),
        Field(
            key="measure_on", label="Measure on",
            says=f"days after half emergence; {USUAL['measure_on']} if you leave it out",
        ),
        Field(key="begin", label="Begins", says="the day of sowing; at once if you leave it out"),
        Field(
            key="difference", label="Difference", says="in height it is to show, in percent: 15"
        ),
        Field(
            key="kind", label="Kind", says="light if you leave it out; else the treatment in a word"
        ),
        Field(key="title", label="Title", says="what it is to find out, in your words"),
        Field(key="seed", label="Seed", says="of the draw of places: the same draws the same"),
    ),
    make=_request,
    asks="name",
    also="experiment dose light lamps height stretching treatment compare levels",
)  # fmt: skip


def _only(known: Known, _: Texts) -> str:
    """The only trial there is."""
    names = planned(known, "trial")
    return names[0] if len(names) == 1 else ""


def _change(slip: Slip) -> Meant:
    known, name = slip.known, which(slip, "trial")
    old = as_it_is(known, name)
    said = {key: text for key in CHANGES if ((text := slip.text(key)) or "") != old.get(key, "")}
    if slip.yes(OUT):
        return Meant("trial", name, out=True)
    read_changes(slip, said)
    return Meant("trial", name, said)


CHANGE_TRIAL: Final = PlanAct[Meant](
    name="change trial",
    about="what is planned of a trial; take it out",
    fields=(
        Field(
            key="trial", label="Trial", says="which", need=NEEDED, only=True,
            names=lambda known: planned(known, "trial"), default=_only,
        ),
        *(structs.replace(one, need="", default=as_before("trial", one.key))
          for one in TRIAL.fields if one.key in CHANGES),
        Field(key=OUT, label="Out of plan", says="yes takes it out; what was measured stays"),
    ),
    make=_change,
    asks="measure_on",
    also="edit alter drop remove delete experiment dose light treatment",
)  # fmt: skip


class TrialForm(Form[TrialRequest, Edited]):
    """A new trial; dismissed with what became of its file."""

    def __init__(self, desk: Desk, given: Mapping[str, str] | None = None) -> None:
        super().__init__(TRIAL, TRIAL.fields, desk.look, given, desk)
        self._catch_up, self._draw, self._plan = desk.catch_up, desk.draw_trial, desk.plan_trial
        self._edited: Edited | None = None

    def fill(self, known: Known, texts: Texts) -> Filled[TrialRequest]:
        """Read what stands in the fields."""
        return fill(TRIAL, known, texts)

    def catch_up(self) -> None:
        """The season's files may have changed."""
        self._catch_up()

    def hand_over(self, made: TrialRequest, at: datetime | None) -> str | None:  # noqa: ARG002
        """Have it written."""
        found = self._plan(made)
        if isinstance(found, str):
            return found
        self._edited = found
        return None

    def result(self, made: TrialRequest, at: datetime | None) -> Edited:  # noqa: ARG002
        """What became of the file."""
        if self._edited is None:
            raise RuntimeError("a form is left with a result once that is written")
        return self._edited

    def would_say(self, made: TrialRequest, at: datetime | None, known: Known) -> list[str]:  # noqa: ARG002
        """How many trays, what it can show, and what it cannot give."""
        return planned_in_words(self._draw(made))
