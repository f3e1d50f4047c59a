"""The round: home. One key ticks, what is typed lies on a slip, one key takes back."""

from collections.abc import Callable
from datetime import date
from typing import ClassVar, Final

from msgspec import structs
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.events import Key as KeyPressed

from seedstart.app.frame import HeadLine, Pane
from seedstart.app.line_list import LineList
from seedstart.app.screens.empty_page import BEGINS, FIRST_LOT, FIRST_STATION, EmptyPage
from seedstart.app.screens.round_answers import AnsweredRound
from seedstart.app.screens.round_half import beside
from seedstart.app.screens.round_items import (
    CountRow,
    DaysAway,
    Item,
    Listed,
    RoundState,
    Row,
    Told,
    WarmthBeside,
    is_group_of_counts,
    is_open,
    key_of,
    line_of,
    may_choose,
    next_open,
    subject_of,
)
from seedstart.app.screens.round_keys import done_in_words, keys_of, pane_of
from seedstart.app.screens.round_slips import (
    alert_slip,
    move_slip,
    put_off_slip,
    slip_of,
    takes_a_number,
    takes_words,
)
from seedstart.app.screens.season_screen import LinesFor
from seedstart.app.slip_lines import NOWHERE
from seedstart.daily.answers import seen
from seedstart.daily.check import FELT, Alert, Check
from seedstart.daily.check_status import single_checks
from seedstart.drawing.lines import Line, wrapped
from seedstart.drawing.round_rows import More, Seen
from seedstart.open_season import OpenSeason
from seedstart.season.journal.entry import Subject

# A key held down comes again within this time: it ticks once.
_HELD_S: Final = 0.06
_NO_TRUE_LEAF: Final = "put off: no true leaf yet"


_FIRST: Final = "Nothing to walk past yet. Two things to say first:"
_THEN: Final = (
    "Then the round shows each morning what to feel, count, sow and move, and this page is empty "
    "only when there is nothing to do."
)


class RoundScreen(AnsweredRound):
    """What a walk past the stations meets today. Draws a `RoundState`; records nothing itself."""

    CSS_PATH = "round_screen.tcss"
    HAS_HALF = True
    HEAD, PAGE = "The round", "round"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("space", "tick", "Tick", id="round.tick", show=False),
        Binding("equals_sign", "same", "As last time", id="round.same", show=False),
        Binding("m", "moist", "Moist", id="round.moist", show=False),
        Binding("k", "keep_in", "Kept in", id="round.keep_in", show=False),
        Binding("p", "put_off", "Put off", id="round.put_off", show=False),
        Binding("P", "put_off_till", "Put off till a day", id="round.put_off_till", show=False),
        Binding("w", "why", "Why", id="round.why", show=False),
        Binding("tab", "next_station", "Next station", id="round.next_station", show=False),
    ]

    def __init__(self) -> None:
        super().__init__()
        self._listed, self._warmth = Listed(), WarmthBeside()
        self._away = DaysAway()
        self._day: date | None = None
        self._told_of: Item | None = None
        self._space_at = 0.0  # when it came last, by the clock of events

    def body(self) -> ComposeResult:
        """The lines, and what is to be said of the one under the cursor."""
        yield LineList[Item](
            self._line, selectable=may_choose, key=key_of, spoken=self._spoken, id="lines"
        )
        yield EmptyPage(_FIRST, (FIRST_STATION, FIRST_LOT), _THEN)
        yield Pane(id="reason", classes="pane")

    def on_mount(self) -> None:
        """The lines take the keys."""
        self.lines.focus()

    def look(self, opened: OpenSeason) -> RoundState:
        """The round as it stands."""
        has_lots, warmth = bool(opened.plan.lots), self._warmth.of(opened)
        away = self._away.of(opened)
        return RoundState(opened.round(), opened.known(), has_lots, warmth, away)

    def half(self, opened: OpenSeason) -> LinesFor | None:
        """The sowing or the tray of the line under the cursor."""
        return beside(self.lines.item, opened)

    def show(self, state: RoundState) -> None:
        """Draw it; the cursor begins at the first check that is to be done."""
        first = not self.lines.items
        if self._day != state.round.day:  # how late each line is says another number
            self._day = state.round.day
            self.lines.draw_again()
        self._list(state)
        single = list(single_checks(state.round.checks))
        far = f"{sum(check.done for check in single)} of {len(single)} done" if single else ""
        self.query_one(HeadLine).say_aside(far)
        if first:
            self._to_first_open()
        if self.lines.item is None:  # else the list says so when another comes under the cursor
            self._tell()
        is_empty = not state.has_lots and not self.lines.items
        for name in ("#lines", "#reason"):
            self.query_one(name).set_class(is_empty, "-none")
        self.query_one(EmptyPage).stand(instead_of=self.lines, on=is_empty)
        if is_empty:
            self.set_keys(BEGINS)

    def _list(self, state: RoundState) -> None:
        self.lines.show(self._listed.items(state))

    def _line(self, item: Item, width: int) -> Line:
        return line_of(item, self._day or date.min, width)

    def _spoken(self, item: Item, width: int) -> Line:
        """With the label of its tray, which a row leaves out where it stands above."""
        if isinstance(item, Row):
            item = structs.replace(item, label=item.check.tray or "")
        return self._line(item, width)

    # What the cursor is on

    def subject(self) -> Subject | None:
        """What the line is about, for a form."""
        item = self.lines.item
        return None if item is None else subject_of(item)

    def on_line_list_highlighted(self, event: LineList.Highlighted[Item]) -> None:
        """Another line: its reasons, and what works there."""
        event.stop()
        self.call_after_refresh(self._tell)  # a tick is drawn first

    def _tell(self) -> None:
        item = self.lines.item
        if item is not None and item is self._told_of:
            return  # both a new list and the cursor in it ask for it
        self._told_of = item
        self.set_keys(keys_of(item))
        self.query_one("#reason", Pane).tell(self._why)

    def _why(self, width: int) -> list[Line]:
        item = self.lines.item
        return pane_of(item, width) if item is not None else self._nothing(width)

    def say(self, text: str, *, warn: bool = False) -> None:
        """In the second row of the pane, till the next key; where that is too short, in both.

        Where the right half stands in its place, at the foot.
        """
        if self.is_mounted and not self.query_one("#reason").display:
            super().say(text, warn=warn)
        elif self.is_mounted:
            self.query_one("#reason", Pane).say(text, warn=warn)

    def unsay(self) -> None:
        """A key was pressed: what was said has been read."""
        super().unsay()
        self.say("")

    def _nothing(self, width: int) -> list[Line]:
        """What is said where no line can be chosen."""
        return wrapped("Nothing to do today.", width)

    def _to_first_open(self) -> None:
        """The cursor to the first check that is to be done; it stays if there is none."""
        self._go_to(next_open(self.lines.items, NOWHERE, ()))

    def action_next_station(self) -> None:
        """To the first line of the next station; from the last to the first."""
        items, at = self.lines.items, self.lines.cursor
        heads = [row for row, item in enumerate(items) if not may_choose(item)]
        if heads:
            self.lines.cursor = next((row for row in heads if row > at), heads[0]) + 1

    # Slips

    def on_key(self, event: KeyPressed) -> None:
        """A digit opens the slip of a line that takes a number; a Space held down ticks once."""
        if event.key == "space":
            held, self._space_at = event.time - self._space_at < _HELD_S, event.time
            if held:
                event.stop()
                event.prevent_default()
            return
        sign = event.character or ""
        if len(sign) != 1 or sign not in "0123456789" or self.lines.item is None:
            return
        event.stop()
        event.prevent_default()
        check = self.check
        if check is None:
            self.say("This line takes no number. Enter shows what to do.")
        elif is_group_of_counts(check) and not isinstance(self.lines.item, CountRow):
            self._open_group(check)
            self._type(sign)
        elif takes_a_number(check):
            self._type(sign)
        elif check.done:
            self.say(f"Done today already. {_U}")
        else:
            done = done_in_words(check)
            ticks = f" Space: {done}." if done else " Enter opens it." if check.parts else ""
            self.say(f"This line takes no number.{ticks}")

    def _type(self, text: str = "") -> None:
        """Open the slip of the line under the cursor; a digit begins it anew."""
        check, item = self.check, self.lines.item
        if check is None:
            return
        slip = slip_of(check, self._reading(check), in_row=isinstance(item, CountRow))
        self.lines.lay(slip, anew=bool(text))
        if text:
            slip.paste(text)
            self.lines.lay_again()

    def on_line_list_chosen(self, event: LineList.Chosen[Item]) -> None:
        """Enter, or a second click, opens."""
        event.stop()
        self.action_open()

    def action_open(self) -> None:
        """What the line holds: more lines, the slip in which it is answered, what to do, or why."""
        item, check = self.lines.item, self.check
        if isinstance(item, More):
            self._listed.all_alerts = not self._listed.all_alerts
            self._again()
        elif isinstance(item, Alert):
            self.lines.lay(alert_slip(item))
        elif check is None:
            return
        elif check.parts:
            self._listed.unfolded ^= {check.key}
            self._again()
        elif is_group_of_counts(check) and not isinstance(item, CountRow):
            self._open_group(check)
        elif check.what == "move to light" and len(check.sowings) > 1 and not check.done:
            self.lines.lay(move_slip(check))
        elif takes_words(check):
            self._type()
        elif check.done:
            self.say(f"Done today already. {_U}")
        else:
            self.action_why()

    def _open_group(self, check: Check) -> None:
        """A row for each sowing, the cursor on the first that is to be counted; or close them."""
        self._listed.open_counts(check)
        self._again()
        if self._listed.is_opened(check):
            rows = range(self.lines.cursor + 1, len(self.lines.items))
            self.lines.cursor = next((at for at in rows if is_open(self.lines.items[at])), rows[0])

    def saw(self, alert: Alert) -> None:
        """The line that says so stands where the last of them stood."""
        self._listed.seen.add(alert.key)
        at = self.lines.cursor
        self._again()
        rows = enumerate(self.lines.items)
        left = [row for row, item in rows if isinstance(item, Alert | Seen)]
        self._go_to(max((row for row in left if row <= at), default=None))

    def _again(self) -> None:
        if self.state is not None:
            self._list(self.state)

    # Answers

    def action_tick(self) -> None:
        """Done as the line says it; an alert was seen; where a number is missing, ask for it."""
        item, check = self.lines.item, self.check
        if isinstance(item, Alert):
            self._ask_for((seen(item),), item)
        elif isinstance(item, Told):
            self._listed.away_told = True
            self._again()
        elif check is None or self.state is None:
            self.say("Space does nothing here. ↓ goes on.")
        elif check.done:
            self.say(f"Done today already. {_U}")
        elif is_group_of_counts(check) and check.tick is None:
            if not self._listed.is_opened(check):
                self._open_group(check)
        elif check.has_to_be_typed:
            self._type()
        else:
            self._answer("")

    def action_same(self) -> None:
        """As many as at the last count."""
        self._with_word("=", lambda check: check.counts, "= is for counts.")

    def action_moist(self) -> None:
        """Felt, and moist: asked again tomorrow, then after two days, then three."""
        self._with_word("moist", lambda one: one.what in FELT, "m is for trays that are felt.")

    def action_keep_in(self) -> None:
        """Kept in today."""
        self._with_word("kept in", lambda one: one.what == "harden", "k is for hardening off.")

    def action_put_off(self) -> None:
        """By the line's own usual time."""
        check = self.check
        leaf = check is not None and check.what == "prick out"
        self._with_word(_NO_TRUE_LEAF if leaf else "put off", lambda _: True, "")

    def action_put_off_till(self) -> None:
        """Till when, and why, in a slip."""
        check = self.check
        if check is None or check.done:
            self.say("Only a line that is to be done is put off.")
        else:
            self.lines.lay(put_off_slip(self._reading(check), check.says))

    def _with_word(self, word: str, fits: Callable[[Check], bool], else_says: str) -> None:
        """One key, one answer, where the line takes it."""
        check = self.check
        if check is None:
            self.say("That is not for this line: Enter shows what to do, Space is seen.")
        elif check.done:
            self.say(f"Done today already. {_U}")
        elif not fits(check.parts[0] if check.parts else check):
            done = done_in_words(check)
            self.say(f"{else_says}{f' Space: {done}.' if done else ''}")
        else:
            self._answer(word)

    def action_why(self) -> None:
        """All the reasons with their numbers and sources, on a page of their own."""
        item = self.lines.item
        if isinstance(item, Alert | Row | CountRow):
            from seedstart.app.screens.text_screens import WhyScreen

            self.app.push_screen(WhyScreen(item if isinstance(item, Alert) else item.check))


_U: Final = "u takes your last act back; n writes down another."
