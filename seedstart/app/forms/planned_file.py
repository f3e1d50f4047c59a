"""What the forms that change a file of trials/ share, of a germination test or of a trial."""

from collections.abc import Callable
from typing import Literal

from seedstart.acts.act import Texts
from seedstart.acts.known import Known
from seedstart.app.forms.form_input import Slip
from seedstart.problems import Problem
from seedstart.text import folded

What = Literal["test", "trial"]


def planned(known: Known, what: What) -> list[str]:
    """The names of the tests, or of the trials, that are planned."""
    plan = known.plan
    return [one.name for one in (plan.tests if what == "test" else plan.trials)]


def which(slip: Slip, what: What) -> str:
    """The one that is named; what is wrong with the name ends the form.

    Raises:
        BadInputError: None is named, or none that is planned.
    """
    name = _called(slip.known, what, slip.need(what, f"which {what}"))
    if not name and (typed := slip.text(what)):
        slip.refuse(Problem(file=what, found=typed, allowed=tuple(planned(slip.known, what))))
    slip.done()
    return name


def as_it_is(known: Known, name: str) -> dict[str, str]:
    """What stands in its file, as texts; both kinds of file are read under `test`."""
    table = known.keys_of("test", name) if name else {}
    return {
        key: ", ".join(map(str, value)) if isinstance(value, list) else str(value)
        for key, value in table.items()
    }


def as_before(what: What, key: str) -> Callable[[Known, Texts], str]:
    """What a field of the form holds at first: the key as it stands in the file."""

    def text(known: Known, texts: Texts) -> str:
        return as_it_is(known, _called(known, what, texts.get(what, ""))).get(key, "")

    return text


def _called(known: Known, what: What, typed: str) -> str:
    return next((one for one in planned(known, what) if folded(one) == folded(typed)), "")
