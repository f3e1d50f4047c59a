"""The app: opens a season, hands its screens what they show, and alone records."""

import os
from collections.abc import Callable, Iterable, Sequence
from datetime import date, datetime
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Any, ClassVar, Final, NamedTuple

from textual.app import App, SystemCommand
from textual.binding import Binding, BindingType
from textual.screen import Screen

from seedstart import disk
from seedstart.app.new_season_screen import SAMPLE, NewSeasonScreen
from seedstart.app.season_screen import Frame, TakesSeason, ToRecord
from seedstart.app.styles import GROUNDS, THEMES, Ground, theme_name
from seedstart.app.taking_back import TakesBack
from seedstart.disk import NotRecorded
from seedstart.drawing.wording import entry_in_words
from seedstart.open_season import OpenSeason
from seedstart.problems import BadInputError
from seedstart.season.entries import Entry
from seedstart.season.entry import Subject
from seedstart.season.plan import SEASON_FILE
from seedstart.season.series import Readings
from seedstart.tracking.odd import odd_in

# How often the files are looked at: what another writer did is seen within this time.
LOOK_EVERY_S: Final = 2.0


if TYPE_CHECKING:
    from seedstart.app.fault_screen import ReadAgain


class Page(NamedTuple):
    """A screen that a single key opens from anywhere.

    Attributes:
        name: What the app calls it.
        key: The key.
        words: For the palette.
        module: Where its class is; imported when it is first opened.
        screen: The class.
    """

    name: str
    key: str
    words: str
    module: str
    screen: str


PAGES: Final = (
    Page("round", "r", "The round", "seedstart.app.round", "RoundScreen"),
    Page("calendar", "c", "Sowing calendar", "seedstart.app.calendar_screen", "CalendarScreen"),
    Page("lots", "l", "Lots", "seedstart.app.lots_screen", "LotsScreen"),
    Page("stations", "s", "Stations", "seedstart.app.stations", "StationsScreen"),
    Page("hardening", "h", "Hardening off", "seedstart.app.hardening", "HardeningScreen"),
)
HOME: Final = PAGES[0].name


class SeedstartApp(App[None]):
    """One season on the screen.

    Args:
        folder: The season's folder; None where there is none yet.
        by: Who writes.
        on: Another day than today: records as of its end, and what is recorded happened on it.
        ground: Dark or light.
        keep_ground: Called with another ground when the grower chose it.
    """

    CSS_PATH = "app.tcss"
    TITLE = "seedstart"
    ENABLE_COMMAND_PALETTE = True
    BINDINGS: ClassVar[list[BindingType]] = [
        *(
            Binding(page.key, f"go('{page.name}')", page.words, id=f"app.{page.name}", show=False)
            for page in PAGES
        ),
        Binding("n", "note", "Write something down", id="app.note", show=False),
        Binding("u,ctrl+z", "take_back", "Take back", id="app.take_back", show=False),
        Binding("f", "faults", "Faults", id="app.faults", show=False),
        Binding("question_mark,f1", "help", "Help", id="app.help", show=False),
        Binding("ctrl+t", "other_ground", "Light or dark", id="app.ground", show=False),
        Binding("q", "quit", "Quit", id="app.quit", show=False),
    ]

    def __init__(
        self,
        folder: Path | None,
        by: str,
        on: date | None = None,
        *,
        ground: Ground = "dark",
        keep_ground: Callable[[Ground], None] = lambda _: None,
    ) -> None:
        # Before `super`: Textual takes NO_COLOR out of the environment and picks its filter there.
        self._no_colours = "NO_COLOR" in os.environ
        super().__init__(ansi_color=True if self._no_colours else None)
        self.folder, self.by, self.on = folder, by, on
        self.opened: OpenSeason | None = None
        self.ground: Ground = ground
        self._keep_ground = keep_ground
        self._version = 1
        self._hour: datetime | None = None
        self._readings: Readings = {}
        self._takes_back: TakesBack | None = None
        self._last: tuple[Entry, ...] = ()
        for theme in THEMES.values():
            self.register_theme(theme)
        self._use_ground(ground)

    def on_mount(self) -> None:
        """Open the season, or say why not."""
        self.set_interval(LOOK_EVERY_S, self.catch_up)
        if self.folder is None:
            self.push_screen(NewSeasonScreen(Path.cwd()))
        else:
            self.open_folder(self.folder)

    def open_folder(self, folder: Path, *, without_lots: bool = False) -> None:
        """Open a season and go to its round; what is wrong in it gets a screen of its own."""
        try:
            opened = OpenSeason(folder, self.by, self.on, without_lots=without_lots)
        except BadInputError as error:
            from seedstart.app.fault_screen import FaultScreen

            now = self.screen
            if not (isinstance(now, FaultScreen) and now.problems == error.problems):
                self._only(FaultScreen(folder, error.problems))
            return
        self.folder, self.opened = folder, opened
        self._takes_back = TakesBack(opened)
        self._hour, self._readings = _hour(opened), opened.readings()
        self._only(self._page(HOME))

    def on_ask_new_season(self) -> None:
        """Where there is no season: the form of a new one."""
        from seedstart import clock
        from seedstart.app.forms.desk import why_not
        from seedstart.app.forms.new_season import SeasonForm
        from seedstart.disk.season_folder import make_season

        form = SeasonForm(
            lambda folder, files: why_not(lambda: make_season(folder, files)), clock.local_zone()
        )
        self.push_screen(form, self._noted)

    def on_open_sample(self) -> None:
        """A copy of the sample season, and its round."""
        from seedstart.disk.season_folder import check_new_season

        folder = Path.cwd() / SAMPLE
        try:
            if not (folder / SEASON_FILE).is_file():
                check_new_season(folder, file=SAMPLE)
                disk.make_folder(folder, disk.read_tree(disk.shipped("sample_season")))
        except BadInputError as error:
            self.say(_in_short(error), warn=True)
            return
        self.open_folder(folder)

    def on_read_again(self, event: "ReadAgain") -> None:
        """A season that could not be opened may have been mended."""
        if self.folder is not None and self.opened is None:
            self.open_folder(self.folder, without_lots=event.without_lots)

    def _only(self, screen: Screen[Any]) -> None:
        """That screen and nothing under it."""
        while len(self.screen_stack) > 2:
            self.pop_screen()
        if len(self.screen_stack) == 2:
            self.switch_screen(screen)
        else:
            self.push_screen(screen)

    def _page(self, name: str) -> Screen[Any]:
        if not self.is_screen_installed(name):
            page = next(page for page in PAGES if page.name == name)
            made: Screen[Any] = getattr(import_module(page.module), page.screen)()
            self.install_screen(made, name)
        return self.get_screen(name)

    # What changes

    def hand_out(self) -> None:
        """Give what is in sight the season as it is now."""
        if self.opened is None:
            return
        for screen in reversed(self.screen_stack):
            if isinstance(screen, TakesSeason) and screen.version != self._version:
                screen.version = self._version
                screen.take_frame(self._frame(self.opened))
                screen.take(screen.look(self.opened))
            if not screen.is_modal:
                return

    def _frame(self, opened: OpenSeason) -> Frame:
        plan, today = opened.plan, opened.today
        last = plan.frost.last if plan.frost else None
        faults = (*opened.plan_problems, *opened.planned_problems, *opened.reading_problems)
        return Frame(plan.title, today, (last - today).days if last else None, faults)

    def changed(self) -> None:
        """Something is another: what is in sight is drawn again, the rest when it comes up."""
        self._version += 1
        self.hand_out()

    def catch_up(self) -> None:
        """Take in what others wrote, and notice a new day; warmth moves on by the hour."""
        if self.opened is None:
            return
        opened = self.opened
        try:
            changed = opened.catch_up() or opened.readings() is not self._readings
        except BadInputError as error:
            self.say(str(error), warn=True)
            return
        if changed or self._hour != _hour(opened):
            self._hour, self._readings = _hour(opened), opened.readings()
            self.changed()

    def on_app_focus(self) -> None:
        """Back from another window, or from a night with the lid closed."""
        self.catch_up()

    # What is recorded

    def on_to_record(self, event: ToRecord) -> None:
        """A screen asks for entries to be written."""
        event.stop()
        self.write(event.drafts, event.at, event.screen, event.asked)

    def record(self, drafts: Sequence[Entry], at: datetime | None = None) -> bool:
        """Write entries as one act and draw again what changed.

        Args:
            drafts: What was done or seen, made with `BLANK`.
            at: When; None for now.

        Returns:
            Whether they are on the disk. Where they are not, the foot says why.
        """
        return self.write(drafts, at, None, None)

    def write(
        self,
        drafts: Sequence[Entry],
        at: datetime | None,
        screen: TakesSeason[Any] | None,
        asked: object,
    ) -> bool:
        """`record`, with the answer given to the screen that asked."""
        if self.opened is None:
            return False
        before = self.opened.records()
        try:
            entries = self._recorded(drafts, at)
        except BadInputError as error:  # NotRecorded is one
            if screen is None:
                self.say(_in_short(error), warn=True)
            else:
                screen.refused(error.problems, asked)
            return False
        if screen is not None:
            screen.recorded(entries, asked)
        odd = dict.fromkeys(odd_in(self.opened.plan, before, self.opened.records(), entries))
        if odd:
            self.say(" ".join(odd), warn=True)
        return True

    def _recorded(self, drafts: Sequence[Entry], at: datetime | None) -> tuple[Entry, ...]:
        """Write one act; raises BadInputError when nothing was written."""
        if self.opened is None or self._takes_back is None:
            return ()
        self._last = tuple(self.opened.record(*drafts, at=at))
        self._takes_back.forget()
        self.changed()
        return self._last

    def action_take_back(self) -> None:
        """Strike the last act, or restore the one just struck; say which."""
        if self._takes_back is None:
            return
        try:
            said = self._takes_back.take_back()
        except BadInputError as error:
            self.say(_in_short(error), warn=True)
            return
        self.changed()
        self.say(said)

    def say(self, text: str, *, warn: bool = False) -> None:
        """A line at the foot of the screen in sight."""
        for screen in reversed(self.screen_stack):
            if isinstance(screen, TakesSeason | NewSeasonScreen):
                screen.say(text, warn=warn)
                return

    # Where the grower goes

    def action_go(self, name: str) -> None:
        """To one of the pages."""
        if self.opened is not None:
            self._only(self._page(name))

    def action_note(self) -> None:
        """Write down anything that was done or seen."""
        if self.opened is None:
            return
        from seedstart.app.forms.chooser import write_down
        from seedstart.app.forms.desk import desk_of

        desk = desk_of(self.opened, self._recorded, self.catch_up, self.opened.calendar)
        write_down(self, desk, self._looked_at(), self._noted)

    def action_write_act(self, name: str) -> None:
        """The form of one act, about what the cursor is on."""
        if self.opened is None:
            return
        from seedstart.app.forms.chooser import act_named, form_of
        from seedstart.app.forms.desk import desk_of

        desk = desk_of(self.opened, self._recorded, self.catch_up, self.opened.calendar)
        self.push_screen(form_of(act_named(name), desk, self._looked_at()), self._noted)

    def _looked_at(self) -> Subject | None:
        """What the cursor is on: the default of what is written down."""
        return self.screen.subject() if isinstance(self.screen, TakesSeason) else None

    def _noted(self, made: object) -> None:
        """A form was left: say what it wrote; a season that it made is opened."""
        from seedstart.app.forms.desk import Written
        from seedstart.app.forms.new_season import NewSeason

        if isinstance(made, NewSeason):
            self.open_folder(made.folder)
        elif isinstance(made, Written) and self.opened is not None:
            said = entry_in_words(self._last[0], self.opened.plan.units) if self._last else ""
            self.say(f"Recorded: {said}. u takes it back.")

    def action_faults(self) -> None:
        """All that is wrong in the plan's files."""
        if self.opened is None or self.folder is None:
            return
        faults = self._frame(self.opened).faults
        if not faults:
            self.say("Nothing is wrong in the season's files.")
            return
        from seedstart.app.fault_screen import FaultsSoFar

        self.push_screen(FaultsSoFar(faults))

    def action_help(self) -> None:
        """All the keys."""
        from seedstart.app.help_screen import HelpScreen

        if not isinstance(self.screen, HelpScreen):
            self.push_screen(HelpScreen())

    # How it looks

    def action_other_ground(self) -> None:
        """Light on dark or dark on light; kept in the settings."""
        self.ground = GROUNDS[1 - GROUNDS.index(self.ground)]
        self._use_ground(self.ground)
        try:
            self._keep_ground(self.ground)
        except NotRecorded as error:
            self.say(_in_short(error), warn=True)

    def _use_ground(self, ground: Ground) -> None:
        few = self._no_colours or self.console.color_system == "standard"
        self.theme = theme_name(ground, few_colours=few)

    def get_system_commands(self, screen: Screen[Any]) -> Iterable[SystemCommand]:  # noqa: ARG002
        """The palette: the pages, and what every page can do."""
        if self.opened is not None:
            for page in PAGES:
                go = _call(self.action_go, page.name)
                yield SystemCommand(page.words, f"Key {page.key}", go)
            yield SystemCommand("Write something down", "Key n", self.action_note)
            yield SystemCommand("Take back the last act", "Key u", self.action_take_back)
        yield SystemCommand("Help", "Key ?", self.action_help)
        yield SystemCommand("Light or dark", "Key ctrl+t", self.action_other_ground)
        yield SystemCommand("Quit", "Key q", self.action_quit)

    # A fault in the program itself

    @property
    def failed(self) -> Exception | None:
        """What ended the app, if it was no key."""
        return self._exception

    def _fatal_error(self) -> None:
        """End without Textual's traceback: the command line says what a grower can read."""
        self._close_messages_no_wait()


def _call(action: Callable[[str], None], name: str) -> Callable[[], None]:
    return lambda: action(name)


def _hour(opened: OpenSeason) -> datetime:
    return opened.now().replace(minute=0, second=0, microsecond=0)


def _in_short(error: BadInputError) -> str:
    return " ".join(problem.hint or str(problem) for problem in error.problems)
