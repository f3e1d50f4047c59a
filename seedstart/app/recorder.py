"""What is done here: recorded, added to the plan, taken back and restored."""

from collections.abc import Callable, Iterable, Sequence
from datetime import datetime

from seedstart.acts.sentences import act_in_words
from seedstart.disk.plan_changes import put_back, swap_back, take_off
from seedstart.disk.plan_files import Edited
from seedstart.open_season import OpenSeason
from seedstart.problems import BadInputError, Problem
from seedstart.season.journal.entries import BLANK, Entry, Struck
from seedstart.season.plan.toml_blocks import Added
from seedstart.tracking.history import is_taken_back, names_it, strikes_in_force

Undone = Callable[[], str]


class Acts:
    """One key takes back what was done last; the same key again restores it.

    Args:
        opened: The season.

    Attributes:
        last: The entries recorded last.
    """

    def __init__(self, opened: OpenSeason) -> None:
        self._opened = opened
        self.last: tuple[Entry, ...] = ()
        self._undo: Undone | None = None  # of what came into the plan, or changed there, last
        self._restore: Undone | None = None  # what was just taken back
        self._told: str | None = None  # an act of another day, of which it was said that it is next

    def record(self, drafts: Sequence[Entry], at: datetime | None) -> tuple[Entry, ...]:
        """Write entries as one act.

        Raises:
            BadInputError: Nothing was written.
        """
        self.last = tuple(self._opened.record(*drafts, at=at))
        self._undo = self._restore = self._told = None
        return self.last

    def added(self, added: Added) -> None:
        """A lot or a station came into the plan: the next time takes that off."""
        self._undo, self._restore = lambda: self._take_off(added), None

    def changed(self, edited: Edited) -> None:
        """The plan was changed where it stands: the next time puts that back."""
        self._undo, self._restore = lambda: self._swap(edited, "Taken back"), None

    def take_back(self) -> str:
        """Take back what was done last, or restore what was just taken back.

        What was done on another day than the one in sight, and not in this run, is named first
        and taken back the next time.

        Returns:
            What happened, in words.

        Raises:
            BadInputError: Nothing was written; it may be tried again.
        """
        if self._restore is not None:
            said, self._restore = self._restore(), None
            return said
        if self._undo is not None:
            return self._undo()
        opened = self._opened
        opened.catch_up()
        act = opened.journal.last_act(opened.by)
        if not act:
            return "There is nothing to take back."
        if not self._is_at_hand(act) and self._told != act[0].id:
            self._told = act[0].id
            return f"u again takes back: {act_in_words(act, opened.plan.units)}."
        return f"{self.strike(act[0].id)} j lists everything done."

    def _is_at_hand(self, act: Sequence[Entry]) -> bool:
        """Whether the grower has it in sight, or has just written it down."""
        day = act[0].at.astimezone(self._opened.zone).date()
        return day == self._opened.today or act[0].id in {one.id for one in self.last}

    def strike(self, entry_id: str) -> str:
        """Take back the act of an entry whole, or restore it where it was taken back.

        Returns:
            What happened, in words.

        Raises:
            BadInputError: Nothing was written; it may be tried again.
        """
        opened = self._opened
        opened.catch_up()
        journal = opened.journal
        act = journal.act_of(entry_id)
        said = act_in_words(act, opened.plan.units)
        if is_taken_back(journal, act):
            self._strike(strikes_in_force(journal, act))
            return f"Restored: {said}."
        # Its own strikes too: what a count has put right is as it was before.
        struck = self._strike(one.id for one in act if one.id not in journal.struck)
        self._restore = lambda: self._strike_again(struck, said)
        return f"Taken back: {said}. u restores it."

    def _strike(self, ids: Iterable[str]) -> tuple[Entry, ...]:
        return self.record([Struck(**BLANK, entry=one) for one in ids], None)

    def _strike_again(self, strikes: Sequence[Entry], said: str) -> str:
        self._strike(strike.id for strike in strikes)
        return f"Restored: {said}."

    def _take_off(self, added: Added) -> str:
        """What was added to the plan goes, if nothing was done with it."""
        opened, called = self._opened, _called(added)
        opened.catch_up()
        for name in added.names:
            entry = names_it(opened.journal, added.header, name)
            if entry is not None:
                said = act_in_words([entry], opened.plan.units)
                hint = f"The {called} stays: it is named in the journal ({said})."
                raise BadInputError([Problem(file=added.file, hint=hint)])
        take_off(opened.folder, added)
        self._restore = lambda: self._put_back(added)
        return f"Taken back: the {called} in {added.file}. u restores it."

    def _swap(self, edited: Edited, done: str) -> str:
        """What was changed in the plan is as it was before; once more, as it was then."""
        back = swap_back(self._opened.folder, edited)
        again = "Restored" if done == "Taken back" else "Taken back"
        self._undo, self._restore = None, lambda: self._swap(back, again)
        more = ". u restores it." if again == "Restored" else "."
        return f"{done}: the change of {edited.file}{more}"

    def _put_back(self, added: Added) -> str:
        put_back(self._opened.folder, added)
        self.added(added)
        return f"Restored: the {_called(added)} in {added.file}."


def _called(added: Added) -> str:
    return f"{added.header} {', '.join(added.names)}"
