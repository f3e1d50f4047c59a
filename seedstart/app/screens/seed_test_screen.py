"""One germination test: counted replicate by replicate, closed, and what it says of the seed."""

from collections.abc import Callable, Hashable, Mapping
from datetime import date, datetime
from typing import ClassVar, Final, Protocol, cast

from msgspec import Struct
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.events import Key as KeyPressed

from seedstart.acts.counting import COUNT
from seedstart.acts.known import Known
from seedstart.acts.read import read
from seedstart.acts.sentences import confirmed, would_write
from seedstart.app.frame import HeadLine, Key, TextPane
from seedstart.app.line_list import LineList
from seedstart.app.screens.season_screen import SeasonScreen, ToRecord
from seedstart.app.text_slip import Part, TextSlip, Understood
from seedstart.daily.answers import answer
from seedstart.daily.check import Check
from seedstart.drawing.lines import Line, plain, wrapped
from seedstart.drawing.seed_test_sheet import conditions, marks_lines, says_lines
from seedstart.drawing.seed_test_table import (
    FIELD_FROM,
    Replicate,
    TestTable,
    head_lines,
    how_far,
    replicate_line,
    table_of,
    together_line,
)
from seedstart.open_season import OpenSeason
from seedstart.planning.lots.seed_tests import SeedTest, aged_in_words, seed_tests
from seedstart.planning.prospects.own_record import of_lot
from seedstart.problems import Problem
from seedstart.season.journal.entries import BLANK, Counted, Entry, Struck
from seedstart.season.journal.entry import Subject
from seedstart.units import Units

NOT_PLANNED: Final = "It was not planned: there is nothing to change."
_MOST_COLUMNS: Final = 78
_ENDED: Final = ("abnormal", "hard", "fresh", "dead")
_WORDS: Final = (
    "Normal: root and shoot whole. Fresh: swollen and firm. Hard: did not swell.",
    "At the last count the four must add up to what is left there.",
)
Item = Line | Replicate


class WritesDown(Protocol):
    """The part of the app that a test knows."""

    def action_write_act(self, name: str, field: str = "", text: str = "") -> None:
        """Open the form of an act, with a text in one of its fields."""


class SeedTestState(Struct, frozen=True):
    """The test, as it is now.

    Attributes:
        test: It; None when it is no longer there.
        table: Its replicates and their counts; None before it was begun.
        known: What a count may name.
        begin: What begins it, where that is to be done now.
        aged: How its lot ages; empty where nobody knows.
        units: For the words.
        today: The day.
    """

    test: SeedTest | None
    table: TestTable | None
    known: Known
    begin: Check | None
    aged: str
    units: Units
    today: date


class SeedTestScreen(SeasonScreen[SeedTestState]):
    """One test of one lot.

    Args:
        name: The test.
        lot: The lot.
    """

    CSS_PATH = "seed_test_screen.tcss"
    PAGE = "trials"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "app.pop_screen", "Back", show=False),
        Binding("space", "begin", "Begun", id="test.begin", show=False),
        Binding("e", "change", "Change it", id="test.change", show=False),
    ]

    def __init__(self, name: str, lot: str) -> None:
        super().__init__()
        self.test_name, self.lot = name, lot

    @property
    def head(self) -> str:
        """The test's name."""
        return f"Test {self.test_name}: {self.lot}"

    def body(self) -> ComposeResult:
        """Conditions, replicates and what they say, in one list; what the words mean."""
        yield LineList[Item](
            self._line, selectable=lambda one: isinstance(one, Replicate), key=_key, id="test"
        )
        yield TextPane(id="pane")

    def on_mount(self) -> None:
        """The replicates take the keys."""
        self.query_one("#pane").can_focus = False
        self.query_one("#pane", TextPane).show_text(lambda _: [plain(one) for one in _WORDS])
        self.lines.focus()

    @property
    def lines(self) -> LineList[Item]:
        """The list."""
        return self.query_one("#test", LineList)

    def subject(self) -> Subject | None:
        """The lot that is tested."""
        return ("lot", self.lot)

    def look(self, opened: OpenSeason) -> SeedTestState:
        """The test as it is now."""
        plan, records, today = opened.plan, opened.records(), opened.today
        every = seed_tests(plan, records, today)
        test = next(
            (one for one in every if (one.name, one.lot) == (self.test_name, self.lot)), None
        )
        lot = plan.lots_by_name.get(self.lot)
        aged = ""
        if lot is not None and test is not None and test.state == "closed":
            tests = of_lot(lot, plan, records).tests_of(lot)
            aged = aged_in_words(tests, plan.crops.crops[lot.crop], today)
        key = f"test {self.test_name} {self.lot}"
        begin = next((one for one in opened.round().checks if one.key == key), None)
        table = table_of(test, today) if test is not None and test.replicates else None
        known = opened.known()
        return SeedTestState(test, table, known, begin, aged, plan.units, today)

    def show(self, state: SeedTestState) -> None:
        """Draw it."""
        first = not self.lines.items
        if state.test is not None:
            self.query_one(HeadLine).say_aside(how_far(state.test, state.today))
        self.lines.show(tuple(self._items(state)))
        if first:
            self._to_next(state.table)
        change = (Key("e", "change", "screen.change"),) if self._is_planned else ()
        esc = Key("Esc", "back", "app.pop_screen")
        counts: tuple[Key, ...] = ()
        if state.table is not None and state.table.today is not None:
            counts = (Key("Enter", "count"), Key("0–9", "normal, taken out"))
        begin = (Key("Space", "begun", "screen.begin"),) if state.begin is not None else ()
        self.set_keys((*begin, *counts, *change, esc))

    @property
    def _is_planned(self) -> bool:
        test = self.state.test if self.state is not None else None
        return test is not None and test.planned is not None

    def _items(self, state: SeedTestState) -> list[Item]:
        test, table, width = state.test, state.table, _MOST_COLUMNS
        if test is None:
            return [plain("This test is no longer in the season.")]
        items: list[Item] = [*wrapped(conditions(test, state.units), width, hang=""), plain("")]
        if table is not None:
            items += [*head_lines(table), *table.rows]
            items += [together_line(table)] if table.rows[1:] else []
            items.append(plain(""))
        items += [*says_lines(test, width), plain(""), *marks_lines(test, width)]
        return [*items, *(wrapped(state.aged, width, role="quiet") if state.aged else [])]

    def _line(self, one: Item, _: int) -> Line:
        if not isinstance(one, Replicate):
            return one
        table = self.state.table if self.state is not None else None
        return replicate_line(one, table) if table is not None else ()

    # Counting

    @property
    def replicate(self) -> Replicate | None:
        """The replicate under the cursor."""
        item = self.lines.item
        return item if isinstance(item, Replicate) else None

    def on_key(self, event: KeyPressed) -> None:
        """A digit begins the count of the replicate under the cursor."""
        sign = event.character or ""
        if len(sign) == 1 and sign in "0123456789":
            event.stop()
            event.prevent_default()
            self._type(sign)

    def on_line_list_chosen(self, event: LineList.Chosen[Item]) -> None:
        """Enter opens the count."""
        event.stop()
        self._type()

    def _type(self, text: str = "") -> None:
        table, one = self.state.table if self.state is not None else None, self.replicate
        if table is None or one is None or table.today is None:
            self.say("There is nothing to count here now.")
            return
        if one.standing.closed is not None:
            self.say(f"{one.label} is closed. j, in the lot's page, takes its last count back.")
            return
        parts = [Part("new", says="normal ones, taken out; 0 none")]
        if table.is_last:
            parts += [Part(key, key, says=f"how many {key}") for key in _ENDED]
        says = f"You are typing a count of {one.label}: normal ones, taken out."
        slip = TextSlip(parts, self._reader(one.standing.id), column=FIELD_FROM, says=says)
        self.lines.lay(slip, anew=bool(text))
        if text:
            slip.paste(text)
            self.lines.lay_again()

    def _reader(self, sowing: str) -> Callable[[Mapping[str, str]], Understood]:
        def understand(texts: Mapping[str, str]) -> Understood:
            state = self.state
            rows = state.table.rows if state is not None and state.table is not None else ()
            one = next((row for row in rows if row.standing.id == sowing), None)
            if state is None or state.table is None or one is None:
                return Understood(refusal="This test is gone meanwhile: nothing was written.")
            return understood(one, texts, state.known, state.today, is_last=state.table.is_last)

        return understand

    def on_line_list_written(self, event: LineList.Written[Item]) -> None:
        """Enter in a slip: it is written, and the next replicate is asked for."""
        event.stop()
        slip = event.slip
        if isinstance(slip, TextSlip) and slip.understood.value is not None:
            drafts, at = slip.understood.value
            self.post_message(ToRecord(self, drafts, at, "count"))

    def recorded(self, entries: tuple[Entry, ...], asked: object) -> None:
        """On to the next replicate that is not counted today."""
        state = self.state
        if state is None:
            return
        if asked == "count":
            self.lines.take_off()
            self._to_next(state.table)
        self.say(f"{confirmed(entries, state.known)} u takes it back.")

    def refused(self, problems: tuple[Problem, ...], asked: object) -> None:
        """Nothing was written; what was typed stays."""
        slip = self.lines.slip
        if isinstance(slip, TextSlip):
            slip.refuse(" ".join(one.hint or str(one) for one in problems))
            self.lines.lay_again()
        else:
            super().refused(problems, asked)

    def _to_next(self, table: TestTable | None) -> None:
        """The cursor to the next replicate that is not counted today, from where it is."""
        if table is None or table.today is None:
            return
        items = self.lines.items
        rows = [at for at, one in enumerate(items) if isinstance(one, Replicate)]
        at = self.lines.cursor
        for row in (*(row for row in rows if row >= at), *rows):
            one = items[row]
            if isinstance(one, Replicate) and one.counts[-1] is None and not one.standing.closed:
                self.lines.cursor = row
                return

    # Beginning and changing

    def action_begin(self) -> None:
        """All its replicates were laid down now, as planned."""
        state = self.state
        if state is None or state.begin is None:
            self.say("Space does nothing here. A digit begins a count.")
            return
        drafts = answer(state.begin, "", state.known)
        if isinstance(drafts, Problem):
            self.say(drafts.hint or str(drafts), warn=True)
        else:
            self.post_message(ToRecord(self, drafts, None, "begin"))

    def action_change(self) -> None:
        """What is planned of it."""
        if self._is_planned:
            app = cast("WritesDown", self.app)
            app.action_write_act("change test", "test", self.test_name)
        else:
            self.say(NOT_PLANNED)


def _key(one: Item) -> Hashable:
    return one.standing.id if isinstance(one, Replicate) else id(one)


def understood(
    one: Replicate, texts: Mapping[str, str], known: Known, today: date, *, is_last: bool
) -> Understood:
    """What was typed at a replicate: a count of today, or that one put right.

    Args:
        one: The replicate.
        texts: `new`, and at the last count the four that are left: numbers, each in its part; or
            all five in the first, parted by blanks.
        known: What a count may name.
        today: The day.
        is_last: Whether it may be closed by this count.
    """
    typed = {key: text.strip() for key, text in texts.items()}
    numbers = typed.get("new", "").split()
    if is_last and len(numbers) == 1 + len(_ENDED):
        typed = dict(zip(("new", *_ENDED), numbers, strict=True))
    given = {key: text for key, text in typed.items() if text}
    if not given:
        return Understood(refusal="How many are normal now, and taken out? 0 is a count too.")
    wrong = next((text for text in given.values() if not text.isdecimal()), None)
    if wrong is not None:
        return Understood(refusal=f"“{wrong}” is no number.")
    ended = {key: given[key] for key in _ENDED if key in given}
    earlier = _of_today(one, today)
    taken_before = one.taken - sum(entry.new or 0 for entry in earlier)
    left = (one.standing.seeds or 0) - taken_before
    new = int(given.get("new", "0"))
    if one.standing.seeds is not None and new > left:
        return Understood(refusal=f"{left} lie there, not {new}.")
    if ended and (missing := left - new - sum(map(int, ended.values()))):
        entered = left - missing
        amiss = f"{missing} missing" if missing > 0 else f"{-missing} too many"
        return Understood(refusal=f"{left} left, {entered} entered: {amiss}.")
    fields = {"sowing": one.standing.name, "standing": f"{new} new"}
    if ended:
        fields |= {key: ended.get(key, "0") for key in _ENDED} | {"final": "yes"}
    return _read(fields, earlier, known, is_last=is_last and not ended)


def _read(
    fields: dict[str, str], earlier: tuple[Counted, ...], known: Known, *, is_last: bool
) -> Understood:
    at: datetime | None = None
    if earlier:  # it takes the place of what was counted today: as things stood before that
        at = earlier[0].at
        before = at.astimezone(known.now.tzinfo).replace(second=0, microsecond=0)
        fields = {**fields, "at": f"{before:%Y-%m-%d %H:%M}"}
    found = read(COUNT, known, fields)
    if not found.entries:
        refusal = " ".join(one.hint or str(one) for one in found.problems.values())
        return Understood(refusal=refusal)
    strikes = tuple(Struck(**BLANK, entry=one.id) for one in earlier)
    says = would_write(found.entries, known)
    if is_last:
        says += "; ↓ for how the rest ended: abnormal, hard, fresh, dead"
    return Understood(says=says, value=((*strikes, *found.entries), at))


def _of_today(one: Replicate, today: date) -> tuple[Counted, ...]:
    return tuple(entry for entry in one.standing.counted if entry.at.date() == today)
