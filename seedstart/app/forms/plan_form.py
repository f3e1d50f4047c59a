"""Forms of what comes into the season's plan: a block at the end of one of its files."""

from collections.abc import Callable, Mapping
from datetime import datetime
from typing import Any

from seedstart.acts.act import Texts
from seedstart.acts.known import Known
from seedstart.app.forms.base import Form
from seedstart.app.forms.desk import Desk
from seedstart.app.forms.filling import Filled, PlanAct, fill
from seedstart.season.adding import Added

Keys = dict[str, Any]


class PlanForm(Form[Keys, Added]):
    """Keys of a block; dismissed with what was added once it stands in its file.

    Args:
        act: What is added.
        desk: What the app gives to every form.
        add: Adds it; answers with what was added, or with why nothing was.
        given: What is known of its fields already, by their keys; counts as typed.
    """

    def __init__(
        self,
        act: PlanAct[Keys],
        desk: Desk,
        add: Callable[[Keys], Added | str],
        given: Mapping[str, str] | None = None,
    ) -> None:
        super().__init__(act, act.fields, desk.look, given, desk)
        self._plan_act = act
        self._catch_up, self._add = desk.catch_up, add
        self._added: Added | None = None

    def fill(self, known: Known, texts: Texts) -> Filled[Keys]:
        """Read what stands in the fields."""
        return fill(self._plan_act, known, texts)

    def catch_up(self) -> None:
        """The season's files may have changed."""
        self._catch_up()

    def hand_over(self, made: Keys, at: datetime | None) -> str | None:  # noqa: ARG002
        """Have it added."""
        found = self._add(made)
        if isinstance(found, str):
            return found
        self._added = found
        return None

    def result(self, made: Keys, at: datetime | None) -> Added:  # noqa: ARG002
        """What was added."""
        if self._added is None:
            raise RuntimeError("a form is left with a result once that is written")
        return self._added
