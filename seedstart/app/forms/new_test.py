"""The forms of a germination test: a new one comes into trials/NAME.toml, and is changed there."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any, Final, NamedTuple, get_args

from msgspec import structs

from seedstart.acts.act import Field, Texts
from seedstart.acts.known import Known
from seedstart.app.forms.change_forms import OUT
from seedstart.app.forms.form_input import NEEDED, Filled, PlanAct, Slip, fill
from seedstart.app.forms.form_screen import Form
from seedstart.app.forms.form_services import Desk, Meant
from seedstart.app.forms.planned_file import as_before, as_it_is, planned, which
from seedstart.disk.plan_files import Edited
from seedstart.planning.lots.seed_tests import check_begun
from seedstart.season.trials.planned_test import LiesOn
from seedstart.season.trials.planned_tests import check_planned_test, path_of_test, test_value

_ON: Final[tuple[str, ...]] = get_args(LiesOn)


class NewTest(NamedTuple):
    """A test that is to be planned: its name, and the keys of its file."""

    name: str
    keys: dict[str, Any]


def _test(slip: Slip) -> NewTest:
    keys: dict[str, Any] = {}
    for field in TEST.fields:
        if (text := slip.text(field.key)) and field.key != "name":
            keys[field.key] = test_value(field.key, text)
    name = slip.text("name") or ""
    check_planned_test(name, keys, slip.known.plan, (), file="new test")
    return NewTest(name, keys)


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


def _of_lot(known: Known, _: Texts) -> str:
    """The test of the lot that was looked at; the only one there is."""
    lot = known.subject_name("lot")
    of = [test.name for test in known.plan.tests if not lot or lot in test.lots]
    return of[0] if len(of) == 1 else ""


def _change(slip: Slip) -> Meant:
    known, name = slip.known, which(slip, "test")
    old = as_it_is(known, name)
    typed_now = {one.key: slip.text(one.key) for one in TEST.fields if one.key != "name"}
    said = {key: text for key, text in typed_now.items() if (text or "") != old.get(key, "")}
    if slip.yes(OUT):
        return Meant("test", name, out=True)
    slip.done()
    keys = {key: test_value(key, text) if text else None for key, text in said.items()}
    stands = {key: one for key, one in known.keys_of("test", name).items()
              if key not in {"name", "kind"}}  # fmt: skip
    check_begun(name, said, known.records, file="change test")
    check_planned_test(name, {**stands, **keys}, known.plan, (), file="change test")
    return Meant("test", name, said)


CHANGE_TEST: Final = PlanAct[Meant](
    name="change test",
    about="what is planned of a germination test; take it out",
    fields=(
        Field(
            key="test", label="Test", says="which", need=NEEDED, only=True,
            names=lambda known: planned(known, "test"), default=_of_lot,
        ),
        *(structs.replace(one, need="", default=as_before("test", one.key))
          for one in TEST.fields if one.key != "name"),
        Field(key=OUT, label="Out of plan", says="yes takes it out; what was counted stays"),
    ),
    make=_change,
    asks="first_count",
    also="edit alter drop remove delete germination paper replicate viability",
)  # fmt: skip


class TestForm(Form[NewTest, Edited]):
    """A new test; dismissed with what became of its file."""

    __test__ = False  # no test of pytest's

    def __init__(self, desk: Desk, given: Mapping[str, str] | None = None) -> None:
        super().__init__(TEST, TEST.fields, desk.look, given, desk)
        self._catch_up, self._plan = desk.catch_up, desk.plan_test
        self._edited: Edited | None = None

    def fill(self, known: Known, texts: Texts) -> Filled[NewTest]:
        """Read what stands in the fields."""
        return fill(TEST, known, texts)

    def catch_up(self) -> None:
        """The season's files may have changed."""
        self._catch_up()

    def hand_over(self, made: NewTest, at: datetime | None) -> str | None:  # noqa: ARG002
        """Have it written."""
        found = self._plan(made.name, made.keys)
        if isinstance(found, str):
            return found
        self._edited = found
        return None

    def result(self, made: NewTest, at: datetime | None) -> Edited:  # noqa: ARG002
        """What became of the file."""
        if self._edited is None:
            raise RuntimeError("a form is left with a result once that is written")
        return self._edited

    def would_say(self, made: NewTest, at: datetime | None, known: Known) -> list[str]:  # noqa: ARG002
        """What is written."""
        return [f"writes {path_of_test(made.name)}; the round asks to begin it"]
