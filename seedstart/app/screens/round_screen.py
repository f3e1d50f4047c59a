"""The round: home. One key ticks, digits count where the cursor stands, one key takes back."""

from datetime import date
from typing import ClassVar, Final

from msgspec import Struct
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.events import Key as KeyPressed

from seedstart.acts.known import Known
from seedstart.acts.sentences import confirmed
from seedstart.app.frame import Key, TextPane
from seedstart.app.line_list import LineList
from seedstart.app.screens.round_items import (
    Item,
    Listed,
    Part,
    check_of,
    is_open,
    key_of,
    line_of,
    may_choose,
    said_of,
)
from seedstart.app.screens.season_screen import SeasonScreen, ToRecord
from seedstart.daily.answers import answer, seen, seen_in_words
from seedstart.daily.check import Alert, Check, Round
from seedstart.drawing.lines import Line, plain, wrapped
from seedstart.drawing.round_lines import More
from seedstart.open_season import OpenSeason
from seedstart.problems import Problem
from seedstart.season.journal.entries import Checked, Entry
from seedstart.season.journal.entry import Subject

_SAME: Final = "="
_OF_ALERTS: Final = "An alert is not put off or counted: Space says that you have seen it."
_DONE_ALREADY: Final = "Done today already. u takes your last act back; n writes down another."
# What a lower count means; the grower says it with the first letter.
_LETTERS: Final = {"d": "died", "e": "eaten", "w": "earlier wrong"}


class RoundState(Struct, frozen=True):
    """A round, what an answer to it may name, and whether there are any lots."""

    round: Round
    known: Known
    has_lots: bool = True


class RoundScreen(SeasonScreen[RoundState]):
    """What a walk past the stations meets today. Draws a `RoundState`; records nothing itself."""

    CSS_PATH = "round_screen.tcss"
    HEAD, PAGE = "The round", "round"
    KEYS = (
        Key("Space", "tick", "screen.tick"),
        Key("0-9", "count"),
        Key("=", "as last time", "screen.same"),
        Key("p", "put off", "screen.put_off"),
        Key("w", "why", "screen.why"),
        Key("m", "remark", "screen.remark"),
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("space", "tick", "Tick", id="round.tick", show=False),
        Binding("equals_sign", "same", "As last time", id="round.same", show=False),
        Binding("p", "put_off", "Put off", id="round.put_off", show=False),
        Binding("w", "why", "Why", id="round.why", show=False),
        Binding("m", "remark", "Remark", id="round.remark", show=False),
    ]

    def __init__(self) -> None:
        super().__init__()
        self._typing = False
        self._asked_why: Problem | None = None  # a lower count: what happened?
        self._listed = Listed()
        self._day: date | None = None
        self._told_of: Item | None = None
        self._next: tuple[Item, ...] = ()  # the lines below the one that is answered

    def body(self) -> ComposeResult:
        """The lines, and what is to be said of the one under the cursor."""
        yield LineList[Item](self._line, selectable=may_choose, key=key_of, id="lines")
        yield TextPane(id="reason")

    def on_mount(self) -> None:
        """The lines take the keys."""
        self.query_one("#reason", TextPane).can_focus = False
        self.lines.focus()

    @property
    def lines(self) -> "LineList[Item]":
        """The list."""
        return self.query_one("#lines", LineList)

    def look(self, opened: OpenSeason) -> RoundState:
        """The round as it stands."""
        return RoundState(opened.round(), opened.known(), bool(opened.plan.lots))

    def show(self, state: RoundState) -> None:
        """Draw it; the cursor begins at the first check that is to be done."""
        first = not self.lines.items
        if self._day != state.round.day:  # how late each line is says another number
            self._day = state.round.day
            self.lines.draw_again()
        self.lines.show(self._listed.items(state.round))
        if first:
            self._to_first_open()
        if self.lines.item is None:  # else the list says so when another comes under the cursor
            self._tell()

    def _line(self, item: Item, width: int) -> Line:
        return line_of(item, self._day or date.min, width)

    # What the cursor is on

    @property
    def check(self) -> Check | None:
        """The check under the cursor."""
        item = self.lines.item
        return check_of(item) if isinstance(item, Check | Part) else None

    def subject(self) -> Subject | None:
        """What the line is about, for a form."""
        item = self.lines.item
        if isinstance(item, Alert):
            return item.subject
        check = self.check
        return check.subject if check else None

    def on_line_list_highlighted(self, event: LineList.Highlighted[Item]) -> None:
        """Another line: its reasons; a half-typed answer is gone with the line it stood on."""
        event.stop()
        if self._typing and not self.lines.typed:
            self._stop_typing()
        self.call_after_refresh(self._tell)  # a tick is drawn first

    def _tell(self) -> None:
        pane, item = self.query_one("#reason", TextPane), self.lines.item
        if item is not None and item is self._told_of:
            return  # both a new list and the cursor in it ask for it
        self._told_of = item
        if isinstance(item, Alert | Check | Part):
            pane.show_text(lambda width: said_of(item, width), top=True)
        else:
            pane.show_text(self._nothing, top=True)

    def _nothing(self, width: int) -> list[Line]:
        """What is said where no line can be chosen."""
        if self.state is not None and not self.state.has_lots:
            text = "No lots yet: n, then “new lot”; “new station” for where they stand."
            return wrapped(text, width)
        return [plain("Nothing to do today.")]

    def _to_first_open(self) -> None:
        """The cursor to the first check that is to be done; it stays if there is none."""
        for row, item in enumerate(self.lines.items):
            if is_open(item):
                self.lines.cursor = row
                return

    def _go_on(self) -> None:
        """To the next check that was to be done when this one was answered, wherever it is now."""
        items, row = self.lines.items, self.lines.cursor
        for old in self._next:
            row += 1
            if row >= len(items) or key_of(items[row]) != key_of(old):
                break  # lines came or went: it may stand anywhere
            if is_open(items[row]):
                self.lines.cursor = row
                return
        rows = {key_of(item): row for row, item in enumerate(items) if is_open(item)}
        found = next((rows[key] for key in map(key_of, self._next) if key in rows), None)
        if found is None:
            self._to_first_open()
        else:
            self.lines.cursor = found

    # Typing

    def on_key(self, event: KeyPressed) -> None:
        """Digits begin an answer; while one is typed, every letter belongs to it."""
        typed, sign = self.lines.typed, event.character if event.is_printable else None
        if isinstance(self.lines.item, Alert) and sign and sign.isdecimal():
            self.say(_OF_ALERTS)
        if self.check is None or self.check.done:
            return
        if not self._typing and not (sign and sign.isdecimal()):
            return
        if event.key == "escape":
            self._stop_typing()
        elif event.key == "backspace":
            self.lines.typed, self._asked_why = typed[:-1], None
        elif sign and self._asked_why and _LETTERS.get(sign) in self._asked_why.allowed:
            self._answer(self._with_reason(typed, _LETTERS[sign], self._asked_why))
        elif sign:
            self._typing, self._asked_why = True, None
            self.lines.typed = typed + sign
        else:
            return  # arrows, Enter and page keys mean what they mean anywhere
        event.stop()
        event.prevent_default()

    def _with_reason(self, typed: str, reason: str, problem: Problem) -> str:
        """What happened goes behind the count that is lower."""
        check = self.check
        counts = typed.split(",")
        names = [one.name for one in check.sowings] if check else []
        place = names.index(problem.key) if problem.key in names and len(counts) > 1 else 0
        counts[place] = f"{counts[place]} {reason}"
        return ",".join(counts)

    def _start_typing(self, text: str = "") -> None:
        self._typing = True
        self.lines.typed = text
        self.say("Type it. Enter writes it down, Escape leaves it.")

    def _stop_typing(self) -> None:
        self._typing, self._asked_why = False, None
        self.lines.typed = ""
        self.say("")

    def on_line_list_chosen(self, event: LineList.Chosen[Item]) -> None:
        """Enter: writes what was typed; opens what holds more; else it ticks or asks."""
        event.stop()
        item = event.item
        if isinstance(item, More):
            self._listed.all_alerts = not self._listed.all_alerts
            self._again()
        elif isinstance(item, Check) and item.parts and not self.lines.typed:
            self._listed.unfolded ^= {item.key}
            self._again()
        elif self.lines.typed:
            self._answer(self.lines.typed)
        elif isinstance(item, Alert):
            self.action_why()
        elif check_of(item).done:
            self.say(_DONE_ALREADY)
        elif check_of(item).has_to_be_typed or check_of(item).typed is not None:
            self._start_typing()
        else:
            self.action_tick()

    def _again(self) -> None:
        if self.state is not None:
            self.lines.show(self._listed.items(self.state.round))

    # Answers

    def action_tick(self) -> None:
        """Tick the check, or the alert as seen; where something has to be typed, ask for it."""
        item, check = self.lines.item, self.check
        if isinstance(item, Alert):
            self._ask_for((seen(item),), item)
        elif check is None or self.state is None:
            return
        elif check.done:
            self.say(_DONE_ALREADY)
        elif check.has_to_be_typed:
            self._start_typing()
        else:
            self._answer("")

    def action_same(self) -> None:
        """As many as at the last count."""
        check = self.check
        if check is None or check.done:
            return
        if check.counts:
            self._answer(_SAME)
        else:
            self.say("= is only for counts; Space ticks this line.")

    def action_put_off(self) -> None:
        """For later: till when, or why."""
        check = self.check
        if isinstance(self.lines.item, Alert):
            self.say(_OF_ALERTS)
        elif check is not None and not check.done:
            self._start_typing("put off: ")

    def _answer(self, typed: str) -> None:
        check, state = self.check, self.state
        if check is None or state is None:
            return
        drafts = answer(check, typed, state.known)
        if isinstance(drafts, Problem):
            self._typing = True
            self._asked_why = drafts if drafts.allowed else None
            self.lines.typed = typed
            ways = {letter: word for letter, word in _LETTERS.items() if word in drafts.allowed}
            letters = "".join(f"  {letter} {word}" for letter, word in ways.items())
            asked = drafts.hint.partition(" Type ")[0] if letters else drafts.hint
            self.say(f"{asked}{letters}", warn=True)
            return
        self._ask_for(drafts, check)

    def _ask_for(self, drafts: tuple[Entry, ...], of: Alert | Check) -> None:
        self._next = self.lines.items[self.lines.cursor + 1 :]
        self.post_message(ToRecord(self, drafts, asked=of))

    def recorded(self, entries: tuple[Entry, ...], asked: object) -> None:
        """It is on the disk: the cursor goes on to the next that is to be done."""
        spoken = self._typing or isinstance(entries[0], Checked)
        self._typing, self._asked_why = False, None
        self.lines.typed = ""
        self._go_on()
        if all(not is_open(item) for item in self.lines.items):
            self.say("The round is done.")
        elif spoken and self.state is not None:
            seen = seen_in_words(asked) if isinstance(asked, Alert) else ""
            self.say(f"{seen or confirmed(entries, self.state.known)} u takes it back.")
        else:
            self.say("")

    def refused(self, problems: tuple[Problem, ...], asked: object) -> None:
        """It is not: what was typed stays, and the line stays undone."""
        self._typing = bool(self.lines.typed)
        super().refused(problems, asked)

    def action_why(self) -> None:
        """All the reasons with their numbers and sources, on a page of their own."""
        item = self.lines.item
        if isinstance(item, Alert | Check | Part):
            from seedstart.app.screens.text_screens import WhyScreen

            self.app.push_screen(WhyScreen(item if isinstance(item, Alert) else check_of(item)))

    def action_remark(self) -> None:
        """A note about what the cursor is on."""
        self.app.call_later(self.app.run_action, "write_act('note')")
