"""The form that writes entries of the journal."""

from collections.abc import Mapping, Sequence
from datetime import datetime

from msgspec import structs

from seedstart.acts.act import Act, Texts
from seedstart.acts.known import Known
from seedstart.acts.sentences import entry_in_words
from seedstart.app.forms.base import Form
from seedstart.app.forms.desk import Desk, Written
from seedstart.app.forms.filling import Filled, fill_entry, form_fields
from seedstart.season.entries import Entry
from seedstart.season.entry import Subject


class EntryForm(Form[tuple[Entry, ...], Written]):
    """A form that writes entries of the journal.

    Args:
        act: What is written down.
        desk: What the app gives to every form.
        subject: What the grower was looking at.
        given: What is known of its fields already, by their keys; counts as typed.
    """

    def __init__(
        self,
        act: Act,
        desk: Desk,
        subject: Subject | None = None,
        given: Mapping[str, str] | None = None,
    ) -> None:
        fields = form_fields(act)
        super().__init__(act, fields, lambda: desk.look().about(subject), given, desk)
        self.desk, self._entry_act = desk, act

    def fill(self, known: Known, texts: Texts) -> Filled[tuple[Entry, ...]]:
        """Read what stands in the fields."""
        return fill_entry(self._entry_act, known, texts)

    def would_say(self, made: Sequence[Entry], at: datetime | None, known: Known) -> list[str]:
        """The entries, as a history would show them."""
        said = [
            entry_in_words(structs.replace(one, at=at or known.now), known.plan.units)
            for one in made
            if not hasattr(one, "entry")  # an id says nothing to a grower
        ]
        # The time stands at the end, in brackets; of now it would be the last key's.
        return [one if at else f"{one.rpartition(' (')[0]}, now" for one in said]

    def catch_up(self) -> None:
        """What others wrote counts: a sowing may have been finished elsewhere."""
        self.desk.catch_up()

    def hand_over(self, made: Sequence[Entry], at: datetime | None) -> str | None:
        """Have the entries recorded as one act."""
        return self.desk.write(tuple(made), at)

    def result(self, made: Sequence[Entry], at: datetime | None) -> Written:
        """What was written, and when it happened."""
        return Written(tuple(made), at)
