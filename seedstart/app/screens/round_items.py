"""What the round lists: alerts, stations, checks, and what opens under a line."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from itertools import groupby
from operator import is_
from typing import Final

from msgspec import Struct, structs

from seedstart.acts.known import Known
from seedstart.app.screens.round_done import all_done
from seedstart.daily.check import Alert, Asked, Check, Round
from seedstart.daily.check_status import lines_and_parts, single_checks
from seedstart.daily.round import days_away, first_of_all
from seedstart.drawing.lines import Line
from seedstart.drawing.measured_curves import warm_in_words
from seedstart.drawing.round_lines import BEFORE_THE_WALK, away_in_words
from seedstart.drawing.round_rows import (
    Group,
    More,
    Seen,
    alert_row,
    check_row,
    count_row,
    group_of_counts_row,
    group_row,
    more_row,
    seen_row,
    told_row,
)
from seedstart.open_season import OpenSeason
from seedstart.planning.space.stations_now import warm_now
from seedstart.season.journal.entry import Subject

_FEW_ALERTS: Final = 3


class RoundState(Struct, frozen=True):
    """A round, and what it is shown with.

    Attributes:
        round: What a walk meets today.
        known: What an answer may name.
        has_lots: Whether there are any lots.
        warmth: How warm each station is, in words.
        away: The first and last of the days on which nothing was written; None for no such days.
    """

    round: Round
    known: Known
    has_lots: bool = True
    warmth: Mapping[str, str] = {}
    away: tuple[date, date] | None = None


class WarmthBeside:
    """How warm each station is, in words; found again only where a reading or the plan is new."""

    def __init__(self) -> None:
        """Nothing known yet."""
        self._seen: tuple[object, ...] = ()
        self._found: dict[str, str] = {}

    def of(self, opened: OpenSeason) -> dict[str, str]:
        """By station."""
        plan, records, readings = opened.plan, opened.records(), opened.readings()
        by_hand = [records.place(("station", one.name)).readings for one in plan.stations]
        seen = (plan, readings, *by_hand)
        now = opened.now()
        if len(seen) != len(self._seen) or not all(map(is_, seen, self._seen)):
            found = warm_now(plan, records, readings, now)
            self._found = {
                name: warm_in_words(warm, expected, now, plan.units)
                for name, (warm, expected) in found.items()
            }
            self._seen = seen
        return self._found


class Told(Struct, frozen=True):
    """A line that only says something.

    Attributes:
        text: What.
        puts_away: Whether Space on it puts all of it away.
    """

    text: str
    puts_away: bool = False


class Row(Struct, frozen=True):
    """One check, with the label of its tray where the row above has another.

    Attributes:
        check: Which.
        label: What stands on the tray; empty where it stands above already.
        part: Whether it stands under the line that gathers it.
        opened: Whether its sowings stand under it, a row each.
    """

    check: Check
    label: str = ""
    part: bool = False
    opened: bool = False


class CountRow(Struct, frozen=True):
    """One sowing of a tray that is counted.

    Attributes:
        check: The count of it alone.
        one: The sowing.
        seeds: How many were sown, where that is known.
        now: What was counted today; None while it is to be counted.
    """

    check: Check
    one: Asked
    seeds: int | None = None
    now: str | None = None


Item = Alert | Row | CountRow | Group | More | Seen | Told


class Listed:
    """A round as a list; what says the same is the same object as before.

    Attributes:
        all_alerts: Whether all alerts are listed, or the most urgent ones.
        away_told: Whether it was read that nothing was written for days.
        seen: Keys of the alerts that were seen here.
        unfolded: Keys of the lines whose parts are listed under them.
    """

    def __init__(self) -> None:
        """Few alerts, and nothing unfolded."""
        self.all_alerts = False
        self.away_told = False
        self.seen: set[str] = set()
        self.unfolded: set[str] = set()
        self._counting: dict[Subject, tuple[Asked, ...]] = {}  # opened, in the order of opening
        self._before: dict[object, Item] = {}
        self._groups: dict[str, tuple[list[Check], Group]] = {}

    def open_counts(self, check: Check) -> None:
        """A row for each sowing of a tray; once more, and they are gone."""
        if self._counting.pop(check.subject, None) is None:
            self._counting[check.subject] = check.sowings

    def is_opened(self, check: Check) -> bool:
        """Whether its sowings stand under it."""
        return check.what in {"count", "look"} and check.subject in self._counting

    def items(self, state: RoundState) -> tuple[Item, ...]:
        """The items of a round, in the order of the walk."""
        before, self._before = self._before, {}
        items = []
        for item in self._items(state):
            key = key_of(item)
            known = before.get(key)
            same = known if known is not None and _same(known, item) else item
            self._before[key] = same
            items.append(same)
        return tuple(items)

    def _items(self, state: RoundState) -> Iterator[Item]:
        found, checks = state.round, state.round.checks
        first: tuple[Check, ...] = ()
        if state.away is not None:
            first, checks = first_of_all(checks)
            if not self.away_told:
                yield from _away_in_words(*state.away)
        yield from found.alerts if self.all_alerts else found.alerts[:_FEW_ALERTS]
        if len(found.alerts) > _FEW_ALERTS:
            yield More(len(found.alerts) - _FEW_ALERTS, shown=self.all_alerts)
        gone = self.seen.difference(alert.key for alert in found.alerts)  # one taken back is there
        if gone:
            yield Seen(len(gone))
        yield from map(Told, all_done(found, state.known))
        if first:
            yield self._group("first, whatever the station", list(first), "")
            yield from self._rows(first, state)
        for station, group in groupby(checks, key=lambda check: check.station):
            here = list(group)
            warm = state.warmth.get(station or "", "")
            yield self._group(station or BEFORE_THE_WALK, here, warm)
            yield from self._rows(here, state)

    def _rows(self, here: Sequence[Check], state: RoundState) -> Iterator[Item]:
        above: str | None = None
        for check in self._without_counted_twice(here):
            label = check.tray or ""
            opened = self.is_opened(check)
            open_now = opened or check.key in self.unfolded
            yield Row(check, "" if label == above else label, opened=open_now)
            above = None if check.parts else label
            if check.key in self.unfolded:
                yield from (Row(part, part=True) for part in check.parts)
            if opened:
                yield from self._counts(check, here, state)

    def _without_counted_twice(self, here: Sequence[Check]) -> Iterator[Check]:
        """Of a tray that is opened what was counted today stands in its rows, not above them."""
        to_count = {check.subject for check in here if self.is_opened(check) and not check.done}
        for check in here:
            if not (check.done and self.is_opened(check) and check.subject in to_count):
                yield check

    def _counts(self, check: Check, here: Sequence[Check], state: RoundState) -> Iterator[CountRow]:
        seeds = state.known.records.standings
        left = {} if check.done else {one.id: one for one in check.sowings}
        counted = {
            one.sowing.id: (one, done)
            for done in here
            if done.done and done.subject == check.subject
            for one in done.counted
        }
        for one in self._counting[check.subject]:
            if one.id in left:
                alone = _of_one(check, left[one.id])
                yield CountRow(alone, left[one.id], seeds[one.id].seeds)
            elif one.id in counted:
                today, done = counted[one.id]
                alone = structs.replace(done, key=f"{done.key} {one.id}", counted=(today,))
                yield CountRow(alone, today.sowing, seeds[one.id].seeds, today.says)

    def _group(self, name: str, checks: list[Check], warmth: str) -> Group:
        """The heading of a station."""
        before, group = self._groups.get(name, ([], None))
        alike = len(before) == len(checks) and all(map(is_, before, checks))
        if group is None or group.warmth != warmth or not alike:
            single = list(single_checks(checks))
            found = Group(name, warmth, sum(check.done for check in single), len(single))
            group = group if group == found else found
            self._groups[name] = checks, group
        return group


def _of_one(check: Check, one: Asked) -> Check:
    """The count of one of several sowings."""
    if len(check.sowings) == 1 or check.typed is None:
        return check
    at = check.sowings.index(one)
    typed = structs.replace(check.typed, of=(check.typed.of[at],))
    tick = check.tick and structs.replace(check.tick, of=(check.tick.of[at],))
    return structs.replace(
        check, key=f"{check.key} {one.id}", sowings=(one,), typed=typed, tick=tick,
        subject=("sowing", one.id),
    )  # fmt: skip


def _same(before: Item, now: Item) -> bool:
    """Whether an item says what it said: a round keeps its checks as long as they do."""
    if isinstance(before, Row) and isinstance(now, Row):
        alike = (before.label, before.part, before.opened) == (now.label, now.part, now.opened)
        return alike and before.check is now.check
    return before is now or before == now


# Fewer days without a word are a weekend. Common practice, no source.
class DaysAway:
    """The days before today on which nothing was written; looked up once a day."""

    def __init__(self) -> None:
        """Not looked yet."""
        self._day: date | None = None
        self._found: tuple[date, date] | None = None

    def of(self, opened: OpenSeason) -> tuple[date, date] | None:
        """The first and the last of them; None where they are fewer than three."""
        if self._day != opened.today:
            self._day = opened.today
            self._found = days_away(opened.journal.by_id.values(), opened.today, opened.zone)
        return self._found


def _away_in_words(first: date, last: date) -> Iterator[Told]:
    nothing, nobody = away_in_words(first, last)
    yield Told(nothing, puts_away=True)
    yield Told(f"{nobody} First what cannot wait, then")
    yield Told("bench by bench. Did somebody look? n, and say which day.")


def line_of(item: Item, today: date, width: int) -> Line:
    """The line of an item, for a width in cells."""
    if isinstance(item, Group):
        return group_row(item, width)
    if isinstance(item, More):
        return more_row(item, width)
    if isinstance(item, Seen):
        return seen_row(item, width)
    if isinstance(item, Told):
        aside = "Space puts this away" if item.puts_away else ""
        return told_row(item.text, aside, width, look=item.puts_away)
    if isinstance(item, Alert):
        return alert_row(item, width)
    if isinstance(item, CountRow):
        return count_row(item.one, item.seeds, width, now=item.now)
    if is_group_of_counts(item.check):
        return group_of_counts_row(item.check, item.label, today, width, shown=item.opened)
    return check_row(item.check, item.label, today, width, part=item.part, shown=item.opened)


def is_group_of_counts(check: Check) -> bool:
    """Whether several sowings of a tray are counted, each by itself."""
    return check.counts and len(check.sowings) > 1


def is_open(item: Item) -> bool:
    """Whether it is a check that is to be done."""
    return isinstance(item, Row | CountRow) and not item.check.done


def may_choose(item: Item) -> bool:
    """Whether the cursor may stand there."""
    return not isinstance(item, Group) and (not isinstance(item, Told) or item.puts_away)


def key_of(item: Item) -> object:
    """What makes two objects the same item."""
    if isinstance(item, Group):
        return "group", item.name
    if isinstance(item, More):
        return "more"
    if isinstance(item, Seen):
        return "seen"
    if isinstance(item, Told):
        return "told", item.text
    if isinstance(item, Alert):
        return "alert", item.key
    if isinstance(item, CountRow):
        return "count", item.one.id
    if is_group_of_counts(item.check):
        return "counts", item.check.subject  # each count makes another check of those left
    return "check", item.check.key  # where few are left, a part becomes a line of its own


def subject_of(item: Item) -> Subject | None:
    """What an item is about."""
    if isinstance(item, Alert):
        return item.subject
    if isinstance(item, CountRow):
        return "sowing", item.one.id
    return item.check.subject if isinstance(item, Row) else None


def next_open(items: Sequence[Item], at: int, below: Sequence[Item]) -> int | None:
    """The row to go on with; None where nothing is to be done.

    Args:
        items: The round as it is now.
        at: The row that was answered.
        below: What stood below it then: one of those comes next, wherever it is now.
    """
    rows = {key_of(item): row for row, item in enumerate(items) if is_open(item)}
    for row, old in enumerate(below, at + 1):
        if row >= len(items) or key_of(items[row]) != key_of(old):
            break  # lines came or went: it may stand anywhere
        if is_open(items[row]):
            return row
    found = (rows[key] for key in map(key_of, below) if key in rows)
    return next(found, min(rows.values(), default=None))


def check_now(state: RoundState | None, item: Item | None, key: str) -> tuple[Check, Known] | None:
    """A check as it is by now, and the season it is read against; None where it is gone.

    Args:
        state: The round as it is by now.
        item: What the cursor is on: one of several counts is a check there alone.
        key: Of the check.
    """
    if state is None:
        return None
    if isinstance(item, Row | CountRow) and item.check.key == key:
        return item.check, state.known
    every = lines_and_parts(state.round.checks)
    found = next((one for one in every if one.key == key), None)
    return None if found is None else (found, state.known)
