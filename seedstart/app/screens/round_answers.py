"""How the round is answered: what was typed, ticked or chosen is written, and one goes on."""

from collections.abc import Callable
from datetime import datetime
from typing import cast

from seedstart.acts.known import Known
from seedstart.acts.sentences import confirmed
from seedstart.app.line_list import LineList
from seedstart.app.screens.round_done import done_in_full
from seedstart.app.screens.round_items import (
    CountRow,
    Item,
    RoundState,
    Row,
    check_now,
    next_open,
)  # fmt: skip
from seedstart.app.screens.round_slips import ToWrite, done_about
from seedstart.app.screens.season_screen import HandsOut, SeasonScreen, ToRecord
from seedstart.app.slip import ChoiceSlip, MarkSlip
from seedstart.app.text_slip import TextSlip
from seedstart.daily.answers import answer, moved, seen, seen_in_words
from seedstart.daily.check import Alert, Check
from seedstart.problems import Problem
from seedstart.season.journal.entries import Checked, Entry


class AnsweredRound(SeasonScreen[RoundState]):
    """A round whose lines are answered; records nothing itself."""

    def __init__(self) -> None:
        super().__init__()
        self._next: tuple[Item, ...] = ()  # the lines below the one that is answered

    @property
    def lines(self) -> "LineList[Item]":
        """The list."""
        return self.query_one("#lines", LineList)

    @property
    def check(self) -> Check | None:
        """The check under the cursor."""
        item = self.lines.item
        return item.check if isinstance(item, Row | CountRow) else None

    def _reading(self, check: Check) -> Callable[[], tuple[Check, Known] | None]:
        """The check as it is when a slip is read: another may have done it meanwhile."""
        return lambda: check_now(self.state, self.lines.item, check.key)

    def on_line_list_written(self, event: LineList.Written[Item]) -> None:
        """Enter in a slip: read once more with all that others wrote, then write it."""
        event.stop()
        slip, app = event.slip, cast("HandsOut", self.app)
        item = self.lines.item
        if isinstance(slip, ChoiceSlip) and isinstance(item, Alert) and self.state is not None:
            done = done_about(item, slip.chosen, self.state.round, self.state.known)
            self._ask_for(done if slip.pressed == "enter" else (seen(item),), item)
            return
        app.catch_up()
        app.hand_out(self)
        if self.lines.slip is not slip:
            self.say("That line is gone meanwhile: nothing was written.", warn=True)
            return
        if isinstance(slip, MarkSlip):
            self._move(slip)
        elif isinstance(slip, TextSlip) and slip.read_again():
            write: ToWrite = slip.understood.value
            self._ask_for(write.drafts, self.check, write.at)
        self.lines.lay_again()

    def _move(self, slip: MarkSlip) -> None:
        """Those of a tray that are marked go; the tray with them, where all do."""
        check, state = self.check, self.state
        if check is None or state is None or check.done or len(check.sowings) != len(slip.marked):
            self.say("Somebody wrote to this tray meanwhile. Esc, and open it again.", warn=True)
            return
        going = [one.name for one, goes in zip(check.sowings, slip.marked, strict=True) if goes]
        drafts = moved(check, going, state.known)
        if isinstance(drafts, Problem):
            self.say(drafts.hint or str(drafts), warn=True)
        else:
            self._ask_for(drafts, check)

    def _answer(self, typed: str) -> None:
        check, state = self.check, self.state
        if check is None or state is None:
            return
        drafts = answer(check, typed, state.known)
        if isinstance(drafts, Problem):
            self.say(drafts.hint or str(drafts), warn=True)
        else:
            self._ask_for(drafts, check)

    def _ask_for(
        self, drafts: tuple[Entry, ...], of: Alert | Check | None, at: datetime | None = None
    ) -> None:
        self._next = self.lines.items[self.lines.cursor + 1 :]
        self.post_message(ToRecord(self, drafts, at, of))

    def recorded(self, entries: tuple[Entry, ...], asked: object) -> None:
        """It is on the disk: the cursor goes on to the next that is to be done.

        From an alert to the next alert, which came up to its row, or to the line that they leave:
        one Space too many ticks nothing.
        """
        self.lines.take_off()
        if isinstance(asked, Alert):
            self.saw(asked)
        else:
            self._go_on()
        if self.state is None:
            return
        said = seen_in_words(asked) if isinstance(asked, Alert) and len(entries) == 1 else ""
        done = tuple(one for one in entries if not isinstance(one, Checked)) or entries
        said = said or confirmed(done, self.state.known)
        self.say(" ".join((said, *done_in_full(self.state.round))))

    def saw(self, alert: Alert) -> None:
        """An alert is gone from the list because it was seen."""
        raise NotImplementedError

    def refused(self, problems: tuple[Problem, ...], asked: object) -> None:
        """It is not: what was typed stays, and the line stays undone."""
        slip = self.lines.slip
        if isinstance(slip, TextSlip):
            slip.refuse(" ".join(problem.hint or str(problem) for problem in problems))
            self.lines.lay_again()
        else:
            super().refused(problems, asked)

    def _go_on(self) -> None:
        """To the next check that was to be done when this one was answered, wherever it is now."""
        self._go_to(next_open(self.lines.items, self.lines.cursor, self._next))

    def _go_to(self, row: int | None) -> None:
        if row is not None:
            self.lines.cursor = row
