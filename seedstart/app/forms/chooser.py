"""What can be written down: the acts, found by their words, the most used first."""

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import partial
from typing import Any, ClassVar, Final

from textual import on
from textual.app import App, ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Input, Static

from seedstart.app.forms import of_care, of_moving, of_seed, of_seedlings
from seedstart.app.forms.act import Act, EntryAct
from seedstart.app.forms.base import Form
from seedstart.app.forms.desk import Desk
from seedstart.app.forms.entry_form import EntryForm
from seedstart.app.forms.field_row import TypedInput
from seedstart.app.forms.known import Known
from seedstart.app.forms.new_lot import LOT, LotForm
from seedstart.app.forms.new_season import SeasonForm
from seedstart.app.forms.new_station import STATION, StationForm
from seedstart.app.line_list import LineList
from seedstart.app.too_small import KeepsItsPlace
from seedstart.drawing.lines import Line, Span
from seedstart.season.entries import Entry
from seedstart.season.entry import Subject
from seedstart.text import clean, folded

AnyAct = Act[Any]
Done = Callable[[Any], None]
NEW_SEASON: Final = Act[Any](
    name="new season",
    about="a folder for one spring or autumn",
    fields=(),
    make=lambda _: None,
    also="next year",
)
# In the order of a round at the bench, for a journal that says nothing yet.
ENTRY_ACTS: Final[tuple[EntryAct, ...]] = (
    of_seedlings.COUNT,
    of_care.WATER,
    of_seed.SOW,
    of_moving.MOVE,
    of_moving.PRICK_OUT,
    of_care.READ,
    of_care.NOTE,
    of_moving.UNCOVER,
    of_moving.COVER,
    of_seedlings.LOSE,
    of_seedlings.THIN,
    of_moving.POT_ON,
    of_care.HARDEN,
    of_care.HOLD,
    of_seedlings.SET_OUT,
    of_care.FEED,
    of_care.WEIGH,
    of_seedlings.MEASURE,
    of_seedlings.GIVE,
    of_seed.SOAK,
    of_seed.STRATIFY,
    of_seed.SCARIFY,
    of_seed.TAKE_OUT,
    of_care.ADJUST,
    of_moving.PART,
    of_seedlings.DIG,
    of_seedlings.FINISH,
)
ACTS: Final[tuple[AnyAct, ...]] = (*ENTRY_ACTS, LOT, STATION, NEW_SEASON)
_NAME_WIDE: Final = 13


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
            -sum(used[kind] for kind in act.kinds),
        ),
    )


def found(acts: Iterable[AnyAct], wanted: str) -> list[AnyAct]:
    """The acts that have all the words, those whose name begins so first."""
    words = folded(wanted).split()
    fits = [act for act in acts if all(_begins_a_word(word, act) for word in words)]
    return sorted(fits, key=lambda act: not act.name.startswith(folded(wanted)))


def _act_line(act: AnyAct, _: int) -> Line:
    return (Span(f"{act.name:<{_NAME_WIDE}}", "name"), Span(act.about))


def _begins_a_word(begun: str, act: AnyAct) -> bool:
    text = f"{act.name} {act.about} {act.also}"
    return any(word.startswith(begun) for word in folded(text).split())


class Chooser(KeepsItsPlace[AnyAct], ModalScreen[AnyAct]):
    """The list of acts; dismissed with the one that was chosen, or None.

    Args:
        desk: What the app gives to every form.
        subject: What the grower was looking at.

    Attributes:
        acts: The list.
    """

    CSS_PATH = "forms.tcss"
    AUTO_FOCUS = "#wanted"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "Leave", id="chooser.leave"),
        Binding("down", "move('down')", "Down", id="chooser.down", show=False),
        Binding("up", "move('up')", "Up", id="chooser.up", show=False),
        Binding("pagedown", "move('page_down')", "Page down", id="chooser.pagedown", show=False),
        Binding("pageup", "move('page_up')", "Page up", id="chooser.pageup", show=False),
    ]

    def __init__(self, desk: Desk, subject: Subject | None = None) -> None:
        super().__init__()
        self._called = called(desk.look().about(subject))
        self._all = in_order(desk.used(), subject)
        self.acts = LineList[AnyAct](_act_line, key=lambda act: act.name, id="acts")
        self.acts.can_focus = False  # what is typed narrows the list down, wherever one looks
        self._none = Static("Nothing is called so.", id="none", markup=False)

    def compose(self) -> ComposeResult:
        """What is wanted, the acts, keys."""
        about = f": {self._called}" if self._called else ""
        with Vertical(id="chooser"):
            yield Static(f"Write down{about}", id="title", markup=False)
            yield TypedInput(id="wanted", placeholder="what was done or seen", compact=True)
            yield self.acts
            yield self._none
            yield Static("Enter choose   ↑↓ move   Esc leave", id="keys", markup=False)

    def on_mount(self) -> None:
        """All the acts."""
        self._show(self._all)

    @on(Input.Changed)
    def _typed(self, event: Input.Changed) -> None:
        event.stop()
        self._show(found(self._all, event.value))

    def _show(self, acts: Sequence[AnyAct]) -> None:
        self.acts.show(acts)
        self.acts.action_first()
        self.acts.display, self._none.display = bool(acts), not acts

    def action_move(self, way: str) -> None:
        """The cursor stays where it is typed; the list moves."""
        moves: dict[str, Callable[[], None]] = {
            "up": self.acts.action_up,
            "down": self.acts.action_down,
            "page_up": partial(self.acts.action_page, -1),
            "page_down": partial(self.acts.action_page, 1),
        }
        moves[way]()

    @on(Input.Submitted)
    def _entered(self, event: Input.Submitted) -> None:
        event.stop()
        if self.acts.item is not None:
            self.dismiss(self.acts.item)

    @on(LineList.Chosen)
    def _clicked_twice(self, event: LineList.Chosen[AnyAct]) -> None:
        event.stop()
        self.dismiss(event.item)

    def action_leave(self) -> None:
        """Away, nothing chosen."""
        self.dismiss(None)


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
    if act is LOT:
        return LotForm(desk, given)
    if act is STATION:
        return StationForm(desk, given)
    if act is NEW_SEASON:
        zone = desk.look().plan.zone
        return SeasonForm(desk.make_season, zone, desk.last() if desk.last else None, given)
    return EntryForm(act, desk, subject, given)


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
