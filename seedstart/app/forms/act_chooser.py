"""What can be written down: the acts, found by their words, the most used first."""

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from typing import Any, Final

from textual.app import App

from seedstart.acts.act import Act
from seedstart.acts.known import Known
from seedstart.acts.read import ACTS as ENTRY_ACTS
from seedstart.app.forms.change_forms import (
    CHANGE_CONTAINER,
    CHANGE_LOT,
    CHANGE_SEASON,
    CHANGE_STATION,
    ChangeForm,
)
from seedstart.app.forms.finder import Finder
from seedstart.app.forms.form_input import PlanAct, form_fields
from seedstart.app.forms.form_screen import EntryForm, Form
from seedstart.app.forms.form_services import Desk
from seedstart.app.forms.new_season_form import SeasonForm
from seedstart.app.forms.new_test import CHANGE_TEST, TEST, TestForm
from seedstart.app.forms.new_trial import CHANGE_TRIAL, TRIAL, TrialForm
from seedstart.app.forms.plan_forms import (
    CONTAINER,
    LOT,
    STATION,
    ContainerForm,
    LotForm,
    StationForm,
)
from seedstart.drawing.lines import Line, Span, fitted, plain, wrapped
from seedstart.season.journal.entries import Entry
from seedstart.season.journal.entry import Subject
from seedstart.text import clean, folded

AnyAct = Act | PlanAct[Any]
Done = Callable[[Any], None]
NEW_SEASON: Final = PlanAct[Any](
    name="new season",
    about="a folder for one spring or autumn",
    fields=(),
    make=lambda _: None,
    also="next year",
)
ACTS: Final[tuple[AnyAct, ...]] = (
    *(act for act in ENTRY_ACTS if act.listed),
    LOT,
    STATION,
    CONTAINER,
    TEST,
    TRIAL,
    CHANGE_LOT,
    CHANGE_STATION,
    CHANGE_CONTAINER,
    CHANGE_TEST,
    CHANGE_TRIAL,
    CHANGE_SEASON,
    NEW_SEASON,
)
_CHANGES: Final = (
    CHANGE_LOT, CHANGE_STATION, CHANGE_CONTAINER, CHANGE_TEST, CHANGE_TRIAL, CHANGE_SEASON,
)  # fmt: skip
_LABEL: Final = 15


def act_named(name: str) -> AnyAct:
    """An act by its name, as `sow`.

    Raises:
        KeyError: There is none.
    """
    return {act.name: act for act in ACTS}[name]


def in_order(used: Counter[type[Entry]], subject: Subject | None = None) -> list[AnyAct]:
    """The acts that fit what was looked at first, the most used before the others.

    Args:
        used: How often the journal has each kind.
        subject: What was looked at.
    """
    return sorted(
        ACTS,
        key=lambda act: (
            subject is not None and subject[0] not in act.on,
            -used[act.kind] if isinstance(act, Act) else 0,
        ),
    )


def words_of(act: AnyAct) -> str:
    """What an act is found by, its name first."""
    return f"{act.name}\n{act.about} {act.also}"


def _act_line(act: AnyAct, _: int) -> Line:
    return (Span(f"  {act.name}", "name"),)


class Chooser(Finder[AnyAct]):
    """The list of acts; dismissed with the one that was chosen, or None.

    Args:
        desk: What the app gives to every form.
        subject: What the grower was looking at.
    """

    PLACEHOLDER = "what was done or seen, in your own words"
    PREVIEWS = True

    def __init__(self, desk: Desk, subject: Subject | None = None) -> None:
        about = called(desk.look().about(subject))
        super().__init__(f"Write down: {about}" if about else "Write down", _act_line, words_of)
        self._all = in_order(desk.used(), subject)
        self._known = desk.look().about(subject)

    def all(self) -> Sequence[AnyAct]:
        """The acts that fit what was looked at first."""
        return self._all

    def preview(self, item: AnyAct, width: int) -> list[Line]:
        """The form, as it would open: its fields with what is known of them already."""
        name = f"{item.name[:1].upper()}{item.name[1:]}"
        lines = [*wrapped(f"{name}: {item.about}", width, role="heading", hang=""), plain("")]
        texts: dict[str, str] = {}
        for field in form_fields(item) if isinstance(item, Act) else item.fields:
            texts[field.key] = known = clean(field.default(self._known, texts))
            if not field.rare:
                said = Span(known) if known else Span(field.says, "quiet")
                room = max(width - _LABEL, 8)
                lines.append((
                    Span(f"{field.label:<{_LABEL}}", "quiet"),
                    Span(fitted(said.text, room).rstrip(), said.role),
                ))  # fmt: skip
        return lines


def called(known: Known) -> str:
    """What the grower was looking at, as `tray 5`, `sowing leek/2`; empty where nothing was."""
    if known.subject is None:
        return ""
    kind, name = known.subject
    shown = clean(known.subject_name(kind) or name)
    return shown if folded(shown).startswith(kind) else f"{kind} {shown}"


def form_of(
    act: AnyAct,
    desk: Desk,
    subject: Subject | None = None,
    given: Mapping[str, str] | None = None,
) -> Form[Any, Any]:
    """The form of an act.

    Args:
        act: Which; `act_named` knows them by name.
        desk: What the app gives to every form.
        subject: What the grower was looking at: the default of what the act is on. A sowing by
            its id or as a line calls it, a tray, station or lot by its name.
        given: What is known of its fields already, by their keys; counts as typed.
    """
    if isinstance(act, Act):
        return EntryForm(act, desk, subject, given)
    if act is LOT:
        return LotForm(desk, given)
    if act is STATION:
        return StationForm(desk, given)
    if act is CONTAINER:
        return ContainerForm(desk, given)
    if act in _CHANGES:
        return ChangeForm(act, desk, subject, given)
    if act is TRIAL:
        return TrialForm(desk, given)
    if act is TEST:
        return TestForm(desk, given)
    zone = desk.look().plan.zone
    return SeasonForm(desk.make_season, zone, desk.last() if desk.last else None, given)


def write_down(
    app: App[Any], desk: Desk, subject: Subject | None = None, done: Done | None = None
) -> None:
    """Let the grower choose an act and fill in its form.

    Args:
        app: Where the screens are shown.
        desk: What the app gives to every form.
        subject: What the grower was looking at.
        done: Called with what was written (`Written`, `Added` to the plan, a `NewSeason`); with
            None where nothing was.
    """

    def chosen(act: AnyAct | None) -> None:
        if act is not None:
            app.push_screen(form_of(act, desk, subject), done)
        elif done is not None:
            done(None)

    app.push_screen(Chooser(desk, subject), chosen)
