"""The app: opens a season, hands its screens what they show, and alone records."""

import asyncio
from collections.abc import Callable, Iterable, Iterator, Sequence
from datetime import date, datetime
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any, ClassVar, Final

from textual.binding import Binding, BindingType

from seedstart import disk
from seedstart.acts.sentences import confirmed
from seedstart.app.frame import TextPane
from seedstart.app.pages import HOME, PAGES
from seedstart.app.recorder import Acts
from seedstart.app.screens.season_screen import (
    SeasonScreen,
    StrikeAct,
    ToRecord,
    WriteOut,
    frame_of,
)
from seedstart.app.screens.text_screens import OpeningScreen, read_whole
from seedstart.app.shell import Shell, in_short
from seedstart.app.styles import Ground
from seedstart.open_season import OpenSeason
from seedstart.problems import BadInputError
from seedstart.season.journal.entries import Entry
from seedstart.season.journal.entry import Subject
from seedstart.season.plan.toml_blocks import Added
from seedstart.text import joined
from seedstart.tracking.entry_warnings import odd_in

if TYPE_CHECKING:
    from seedstart.app.forms.form_services import Desk, Meant
    from seedstart.app.forms.palette import Place
    from seedstart.app.screens.fault_screens import ReadAgain
    from seedstart.app.screens.frost_screen import TakeRisk
    from seedstart.disk.plan_files import Edited

# How often the files are looked at: what another writer did is seen within this time.
LOOK_EVERY_S: Final = 2.0
# Of readings, bytes; parsed in a few milliseconds. More is read in a thread.
READ_AT_ONCE: Final = 1 << 18
# Of a season, bytes; read and derived within some tenths of a second.
OPENED_AT_ONCE: Final = 1 << 20


class SeedstartApp(Shell):
    """One season on the screen.

    Args:
        folder: The season's folder; None where there is none yet.
        by: Who writes.
        on: Another day than today: records as of its end, and what is recorded happened on it.
        ground: Dark or light; None for the terminal's own.
        keep_ground: Called with another ground when the grower chose it.
        plain: ASCII signs, and sentences for a screen reader.
    """

    CSS_PATH = "app.tcss"
    TITLE = "seedstart"
    ENABLE_COMMAND_PALETTE = False  # of Textual; there is one of our own
    BINDINGS: ClassVar[list[BindingType]] = [
        *(
            Binding(page.key, f"go('{page.name}')", page.words, id=f"app.{page.name}", show=False)
            for page in PAGES
        ),
        Binding("n", "note", "Write something down", id="app.note", show=False),
        Binding("e", "change", "Change the plan", id="app.change", show=False),
        Binding("u,ctrl+z", "take_back", "Take back", id="app.take_back", show=False),
        Binding("f", "faults", "Faults", id="app.faults", show=False),
        Binding("question_mark,f1", "help", "Help", id="app.help", show=False),
        Binding("ctrl+p", "palette", "Find by name", id="app.palette", show=False),
        Binding("ctrl+t", "other_ground", "Light or dark", id="app.ground", show=False),
        Binding("q", "quit", "Quit", id="app.quit", show=False),
    ]

    def __init__(
        self,
        folder: Path | None,
        by: str,
        on: date | None = None,
        *,
        ground: Ground | None = "dark",
        keep_ground: Callable[[Ground], None] = lambda _: None,
        plain: bool = False,
    ) -> None:
        super().__init__(ground=ground, keep_ground=keep_ground, plain=plain)
        self.folder, self.by, self.on = folder, by, on
        self.opened: OpenSeason | None = None
        self._acts: Acts | None = None
        self._version = 1
        self._remarked = len(disk.written())  # of what was written so far, remarks are said
        self._no_locks_said = False

    def on_mount(self) -> None:
        """Open the season, or say why not."""
        self.set_interval(LOOK_EVERY_S, self.catch_up)
        if self.folder is None:
            from seedstart.app.screens.new_season_screen import NewSeasonScreen

            self.only(NewSeasonScreen(Path.cwd()))
        else:
            self.open_folder(self.folder)

    def open_folder(self, folder: Path, *, without_lots: bool = False) -> None:
        """Open a season and go to its round; what is wrong in it gets a screen of its own."""
        read = partial(read_whole, folder, self.by, self.on, without_lots=without_lots)
        if disk.bytes_below(folder) <= OPENED_AT_ONCE:
            self._show_opened(folder, read())
        else:
            self.only(OpeningScreen(folder))
            self.run_worker(self._open_from_thread(folder, read))

    async def _open_from_thread(
        self, folder: Path, read: Callable[[], OpenSeason | BadInputError]
    ) -> None:
        self._show_opened(folder, await asyncio.to_thread(read))

    def _show_opened(self, folder: Path, opened: OpenSeason | BadInputError) -> None:
        if isinstance(opened, BadInputError):
            from seedstart.app.screens.fault_screens import FaultScreen

            if not any(
                isinstance(one, FaultScreen) and one.problems == opened.problems
                for one in self.screen_stack
            ):
                self.only(FaultScreen(folder, opened.problems))
            return
        self.folder, self.opened, self._acts = folder, opened, Acts(opened)
        opened.reads_at_once = READ_AT_ONCE
        self.only(self.page(HOME))

    def on_ask_new_season(self) -> None:
        """Where there is no season: the form of a new one."""
        from seedstart.app.screens.new_season_screen import first_season_form

        self.push_screen(first_season_form(), self._noted)

    def on_open_sample(self) -> None:
        """A copy of the sample season, and its round."""
        from seedstart.app.screens.new_season_screen import copy_sample

        try:
            self.open_folder(copy_sample(Path.cwd()))
        except BadInputError as error:
            self.say(in_short(error), warn=True)

    def on_read_again(self, event: "ReadAgain") -> None:
        """A season that could not be opened may have been mended."""
        if self.folder is not None and self.opened is None:
            self.open_folder(self.folder, without_lots=event.without_lots)

    # What changes

    def hand_out(self, asked: SeasonScreen[Any] | None = None) -> None:
        """Give what is in sight the season as it is now; where something is typed, it waits.

        Args:
            asked: A screen that has to know now, for what is typed there is to be written.
        """
        if self.opened is None:
            return
        for screen in reversed(self.screen_stack):
            if (
                isinstance(screen, SeasonScreen)
                and screen.is_mounted
                and (screen is asked or not screen.is_held)
            ):
                self._hand_to(screen, self.opened)
            if not screen.is_modal:
                return

    def _hand_to(self, screen: SeasonScreen[Any], opened: OpenSeason) -> None:
        if screen.version == self._version:
            return
        screen.version = self._version
        try:
            screen.take_frame(frame_of(opened))
            screen.take(screen.look(opened))
        except Exception as error:  # noqa: BLE001 - a fault of ours: the page says so
            if screen is self.screen:
                self.page_failed(screen, error)
            else:
                screen.version = 0  # it is tried again once what lies over it is gone

    def show_half(self, screen: SeasonScreen[Any]) -> None:
        """Give a screen what its right half shows."""
        if self.opened is None or screen is not self.screen:
            return
        lines = screen.half(self.opened)
        screen.query_one("#half", TextPane).show_text(lines or (lambda _: ()), top=True)

    def changed(self, asked: SeasonScreen[Any] | None = None) -> None:
        """Something is another: what is in sight is drawn again, the rest when it comes up."""
        self._version += 1
        self.hand_out(asked)

    def catch_up(self, *, at_once: bool = False) -> None:
        """Take in what others wrote, and notice a new day; warmth moves on by the hour.

        Args:
            at_once: What takes long too, as a form does that has just added to the plan.
        """
        if self.opened is None:
            return
        changed = self.opened.catch_up(ahead=not at_once)
        if self.opened.is_behind:
            self.run_worker(self._look_ahead(self.opened, self.opened.look_ahead()))
        if changed:
            self.changed()

    async def _look_ahead(self, opened: OpenSeason, work: Callable[[], Callable[[], None]]) -> None:
        """Take in from a thread what takes long: keys are answered meanwhile."""
        take_in = await asyncio.to_thread(work)
        if opened is self.opened:
            take_in()
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
        screen: SeasonScreen[Any] | None,
        asked: object,
    ) -> bool:
        """`record`, with the answer given to the screen that asked."""
        if self.opened is None:
            return False
        before = self.opened.records()
        try:
            entries = self._recorded(drafts, at, screen)
        except BadInputError as error:  # NotRecorded is one
            if screen is None:
                self.say(in_short(error), warn=True)
            else:
                screen.refused(error.problems, asked)
            return False
        if screen is not None:
            screen.recorded(entries, asked)
        odd = odd_in(self.opened.plan, before, self.opened.records(), entries, at)
        self._say_written("", odd)
        return True

    def _say_written(self, said: str, odd: Iterable[str] = ()) -> None:
        """What was written, and what has to be said of it; of a drive without locks once a run."""
        written, self._remarked = disk.written()[self._remarked :], len(disk.written())
        remarks = dict.fromkeys(text for one in written for text in one.remarks)
        if self._no_locks_said:
            remarks.pop(disk.NO_LOCKS_HERE, None)
        self._no_locks_said |= disk.NO_LOCKS_HERE in remarks
        told = [*remarks, *dict.fromkeys(odd)]
        if said or told:
            self.say(" ".join([said, *told] if said else told), warn=bool(told))

    def _recorded(
        self,
        drafts: Sequence[Entry],
        at: datetime | None,
        asked: SeasonScreen[Any] | None = None,
    ) -> tuple[Entry, ...]:
        """Write one act; raises BadInputError when nothing was written."""
        if self._acts is None:
            return ()
        entries = self._acts.record(drafts, at)
        self.changed(asked)
        return entries

    def action_take_back(self) -> None:
        """Take back what was done last, or restore what was just taken back; say which."""
        if self._acts is not None:
            self._told(self._acts.take_back)

    def on_write_out(self, event: WriteOut) -> None:
        """Files for the grower to take away; one that is there already is left alone."""
        event.stop()
        if self.folder is None or self.opened is None:
            return
        name, written = event.name.format(day=self.opened.today.isoformat()), []
        try:
            for ending, data in event.files.items():
                disk.write_new(self.folder / f"{name}{ending}", data)
                written.append(f"{name}{ending}")
        except BadInputError as error:  # NotRecorded is one
            self.say(in_short(error), warn=True)
            return
        self._say_written(f"Written in the season's folder: {joined(written)}. {event.remark}")

    def on_strike_act(self, event: StrikeAct) -> None:
        """An act is taken back, or restored, where it is listed."""
        event.stop()
        acts = self._acts
        if acts is not None:
            self._told(lambda: acts.strike(event.entry_id))

    def _told(self, act: Callable[[], str]) -> None:
        try:
            said = act()
        except BadInputError as error:
            self.say(in_short(error), warn=True)
            return
        self.catch_up()
        self.changed()
        self._say_written(said)

    # Where the grower goes

    def action_go(self, name: str) -> None:
        """To one of the pages."""
        if self.opened is not None:
            self.only(self.page(name))

    def action_note(self) -> None:
        """Write down anything that was done or seen."""
        if self.opened is None:
            return
        from seedstart.app.forms.act_chooser import write_down

        write_down(self, self._desk(self.opened), self._looked_at(), self._noted)

    def action_write_act(self, name: str, field: str = "", text: str = "") -> None:
        """The form of one act, about what the cursor is on; with a text in one field."""
        if self.opened is not None:
            self._open_form(self.opened, name, **({field: text} if field else {}))

    def _open_form(self, opened: OpenSeason, name: str, **given: str) -> None:
        from seedstart.app.forms.act_chooser import act_named, form_of

        form = form_of(act_named(name), self._desk(opened), self._looked_at(), given)
        self.push_screen(form, self._noted)

    def on_take_risk(self, event: "TakeRisk") -> None:
        """The season's form, with another risk for tender plants in it."""
        event.stop()
        if self.opened is not None:
            percent = f"{event.percent:g}"
            self._open_form(self.opened, "change season", tender_risk_percent=percent)

    def _desk(self, opened: OpenSeason) -> "Desk":
        from seedstart.app.forms.form_services import desk_of

        catch_up = partial(self.catch_up, at_once=True)
        return desk_of(opened, self._recorded, catch_up, self._added, self._plan_changed)

    def _plan_changed(self, meant: "Meant", edited: "Edited") -> None:
        """Something in the season's files is another."""
        if self._acts is not None:
            self._acts.changed(edited)
        self._say_written(f"{meant.in_words()} u takes it back.")

    def action_change(self) -> None:
        """The form of what the cursor is on, with its old values; else of the season."""
        kind, _ = subject = self._looked_at() or ("season", "")
        if self.opened is not None and kind == "sowing":
            lot = self.opened.records().lot_of(subject[1])
            kind = "lot" if lot else "season"
        self.action_write_act(f"change {kind if kind in {'lot', 'station'} else 'season'}")

    def _added(self, added: Added) -> None:
        """A lot or a station stands in the season's files."""
        if self._acts is not None:
            self._acts.added(added)
        self._say_written(f"Added to {added.file}: {', '.join(added.names)}. u takes it back.")

    def _looked_at(self) -> Subject | None:
        """What the cursor is on: the default of what is written down."""
        return self.screen.subject() if isinstance(self.screen, SeasonScreen) else None

    def _noted(self, made: object) -> None:
        """A form was left: say what it wrote; a season that it made is opened."""
        from seedstart.app.forms.form_services import Written
        from seedstart.app.forms.new_season_form import NewSeason

        if isinstance(made, NewSeason):
            self.open_folder(made.folder)
        elif isinstance(made, str):
            self._say_written(made)
        elif isinstance(made, Written) and self.opened is not None and self._acts is not None:
            said = confirmed(self._acts.last, self.opened.known())
            self._say_written(f"{said} u takes it back.")

    def action_faults(self) -> None:
        """All that is wrong in the plan's files."""
        if self.opened is None or self.folder is None:
            return
        faults = frame_of(self.opened).faults
        if not faults:
            self.say("No faults in the season's files.")
            return
        from seedstart.app.screens.fault_screens import FaultsSoFar

        self.push_screen(FaultsSoFar(faults))

    def action_help(self) -> None:
        """All the keys."""
        from seedstart.app.screens.text_screens import HelpScreen

        screen = self.screen
        if isinstance(screen, SeasonScreen):
            self.push_screen(HelpScreen(screen.PAGE, screen.keys_now))
        elif not isinstance(screen, HelpScreen):
            self.push_screen(HelpScreen())

    def action_palette(self) -> None:
        """Find a page, or what can be done, by name."""
        from seedstart.app.forms.palette import Palette

        self.push_screen(Palette(self._places()), lambda one: one.do() if one else None)

    def _places(self) -> "Iterator[Place]":
        """The pages, and what every page can do."""
        from seedstart.app.forms.palette import Place, acts, pages

        if self.opened is not None:
            yield from pages(self.action_go)
            yield Place("Write something down", self.action_note, "n")
            yield Place("Take back the last act", self.action_take_back, "u")
        yield Place("Help", self.action_help, "?")
        yield Place("Light or dark", self.action_other_ground, "ctrl+t")
        yield Place("Quit", self.action_quit, "q")
        if self.opened is not None:
            yield from acts(self.action_write_act)
