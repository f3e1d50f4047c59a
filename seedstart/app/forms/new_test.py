"""The form of a germination test: what is planned comes into trials/NAME.toml, once."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any, Final, NamedTuple, get_args

from seedstart.acts.act import Field, Texts
from seedstart.acts.known import Known
from seedstart.app.forms.form_input import NEEDED, Filled, PlanAct, Slip, fill
from seedstart.app.forms.form_screen import Form
from seedstart.app.forms.form_services import Desk
from seedstart.season.plan.typed_values import parse_bare_number
from seedstart.season.trials.planned_test import LiesOn
from seedstart.season.trials.planned_tests import check_planned_test

_ON: Final[tuple[str, ...]] = get_args(LiesOn)
_COUNTS: Final = frozenset({"replicates", "seeds", "first_count", "last_count"})


class NewTest(NamedTuple):
    """A test that is to be planned: its name, and the keys of its file."""

    name: str
    keys: dict[str, Any]


def _test(slip: Slip) -> NewTest:
    keys: dict[str, Any] = {}
    for field in TEST.fields:
        if (text := slip.text(field.key)) and field.key != "name":
            keys[field.key] = _value(field.key, text)
    name = slip.text("name") or ""
    check_planned_test(name, keys, slip.known.plan, (), file="new test")
    return NewTest(name, keys)


def _value(key: str, text: str) -> object:
    """Several lots are parted by commas; counts are numbers; the rest is as it was typed."""
    if key == "lots":
        return [part.strip() for part in text.split(",") if part.strip()]
    found = parse_bare_number(text) if key in _COUNTS else None
    return text if found is None or not found.is_integer() else int(found)


def _lots(known: Known) -> list[str]:
    return [lot.name for lot in known.plan.lots]


def _looked_at(known: Known, _: Texts) -> str:
    return known.subject_name("lot") or ""


TEST: Final = PlanAct[NewTest](
    name="new test",
    about="a germination test: so many seeds on paper, counted and judged",
    fields=(
        Field(key="name", label="Name", says="as onion 2027", need=NEEDED),
        Field(
            key="lots", label="Lots", says="one, or several with commas", need=NEEDED,
            names=_lots, default=_looked_at,
        ),
        Field(key="replicates", label="Replicates", says="of each lot; 4 if you leave it out"),
        Field(key="seeds", label="Seeds", says="in each; 50 if you leave it out"),
        Field(
            key="lies_on", label="Lies on", says="paper if you leave it out", names=lambda _: _ON,
            only=True,
        ),
        Field(key="first_count", label="First count", says="day, e.g. 6", need=NEEDED),
        Field(key="last_count", label="Last count", says="day, e.g. 12", need=NEEDED),
        Field(key="temperature", label="Temperature", says="e.g. 20C; 30C day, 20C night"),
        Field(key="prechill", label="Cold before", says="e.g. 7 days; days count from its end"),
        Field(
            key="station", label="Stands at", says="a station", names=Known.stations, only=True
        ),
        Field(key="light", label="Light", says="in your words, as dark"),
        Field(key="begin", label="Begins", says="a day; at once if you leave it out"),
        Field(
            key="grow_out_below", label="Your mark", says="e.g. 60%: below, grow out for fresh seed"
        ),
    ),
    make=_test,
    asks="name",
    also="germination paper replicate viability",
)  # fmt: skip


class TestForm(Form[NewTest, str]):
    """A new test; dismissed with what is to be said once its file stands."""

    __test__ = False  # no test of pytest's

    def __init__(self, desk: Desk, given: Mapping[str, str] | None = None) -> None:
        super().__init__(TEST, TEST.fields, desk.look, given, desk)
        self._catch_up, self._plan = desk.catch_up, desk.plan_test

    def fill(self, known: Known, texts: Texts) -> Filled[NewTest]:
        """Read what stands in the fields."""
        return fill(TEST, known, texts)

    def catch_up(self) -> None:
        """The season's files may have changed."""
        self._catch_up()

    def hand_over(self, made: NewTest, at: datetime | None) -> str | None:  # noqa: ARG002
        """Have it written."""
        return self._plan(made.name, made.keys)

    def result(self, made: NewTest, at: datetime | None) -> str:  # noqa: ARG002
        """What is said of it."""
        return f"Written: the test {made.name}. The round asks to begin it."

    def would_say(self, made: NewTest, at: datetime | None, known: Known) -> list[str]:  # noqa: ARG002
        """What is written, and that it is written once."""
        return [f"writes trials/{made.name}.toml, once"]
