"""What is open is what is read afresh, all through a spring; and what a round promises."""

from collections.abc import Callable, Hashable, Iterator
from contextlib import contextmanager
from datetime import date, datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, TypeVar, TypeVarTuple
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from any_season import DRAFTS
from notebook import moment, take_back
from seasons import HEAD, lot
from seedstart import clock
from seedstart.daily import derived
from seedstart.daily.answers import answer, seen
from seedstart.daily.check_status import single_checks
from seedstart.daily.memo import Memo
from seedstart.disk import plan_files
from seedstart.open_season import OpenSeason
from seedstart.planning.prospects.prospect import quiet_since
from seedstart.problems import Problem
from seedstart.season.journal.entries import (
    BLANK,
    Adjusted,
    Counted,
    Covered,
    Entry,
    Forecast,
    Hardened,
    Held,
    Moved,
    PottedOn,
    PrickedOut,
    Read,
    Scarified,
    SetOut,
    Soaked,
    Sown,
    Stratified,
    Struck,
    TakenOut,
    Unknown,
    Watered,
)
from shipped import crop_table

OUT = """
[[station]]
name = "bed"
kind = "outdoors"

[[station]]
name = "fridge"
kind = "fridge"
expected = "4C"
"""
LOTS = (
    lot("leek", "leek", want="48", station='"mat"', then='"shelf"', was='["poree"]')
    + lot("onion", "onion", sowings="3", every='"10 days"')
    + lot("pepper", "pepper", want="6", station='"mat"')
    + lot("beet", "chard", station='"shelf"')
)
_V = TypeVar("_V")
_In = TypeVarTuple("_In")
Act = tuple[int, tuple[str, Any], datetime]
# Two programs of one writer, and another writer.
WRITERS = ("bench", "bench", "phone")
WHO = st.integers(0, len(WRITERS) - 1)
SPRING = moment("2-20 08:00")
TIMES = st.integers(0, 95 * 4).map(lambda quarters: SPRING + timedelta(hours=6 * quarters))
DAYS = st.integers(10, 95).map(lambda days: (SPRING + timedelta(days=days)).date())
_NAMES = st.sampled_from(["leek", "leek", "pepper", "beet", "leek.1", "leek.2", "lost"])
_STATIONS = st.sampled_from(["mat", "shelf", "bed", "fridge", "cellar"])
_TRAYS = st.sampled_from(["blue", "leek", "tray 9"])
_LOTS = st.sampled_from(["leek", "onion", "pepper", "beet", "gone"])


def _of(kind: type[Entry], **fields: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    return st.tuples(st.just(kind), st.fixed_dictionaries(fields))


_DRAFTED: set[type[Entry]] = {Unknown, Struck, TakenOut}
_ANY = DRAFTS.filter(lambda draft: draft[0] not in _DRAFTED)
_SPRING = st.one_of(
    _of(Sown, sowing=_NAMES, lot=_LOTS, seeds=st.integers(1, 30), station=st.none() | _STATIONS,
        tray=st.none() | _TRAYS),
    _of(Counted, sowing=_NAMES, standing=st.integers(0, 12), final=st.booleans()),
    _of(Counted, sowing=_NAMES, standing=st.integers(0, 12)),
    _of(PrickedOut, sowing=_NAMES, plants=st.integers(1, 6), station=_STATIONS,
        into=st.sampled_from(["leek.1", "leek.2", "beet.1"])),
    _of(PottedOn, sowing=_NAMES),
    _of(Moved, sowing=_NAMES, station=_STATIONS),
    _of(Moved, tray=_TRAYS, station=_STATIONS),
    _of(Covered, tray=_TRAYS),
    _of(Watered, station=_STATIONS),
    _of(Read, station=_STATIONS, quantity=st.just("soil_c"), value=st.floats(0, 40)),
    _of(Read, tray=_TRAYS, quantity=st.just("soil_c"), value=st.floats(0, 40)),
    _of(Adjusted, station=_STATIONS, expected=st.sampled_from(["12C", "26C"])),
    _of(Soaked, lot=_LOTS, hours=st.just(12.0)),
    _of(Stratified, lot=_LOTS, days=st.just(14.0)),
    _of(Scarified, lot=_LOTS),
    _of(Hardened, sowing=_NAMES, hours=st.sampled_from([0.0, 2.0, 9.0])),
    _of(Held, tray=_TRAYS, why=st.just("windy")),
    _of(SetOut, sowing=_NAMES, plants=st.integers(1, 6)),
    _of(Forecast, day=DAYS, tmin_c=st.floats(-5, 10), tmax_c=st.floats(2, 25)),
)  # fmt: skip
_WRITTEN = st.one_of(_ANY, _SPRING, _SPRING, _SPRING)
_TYPED = st.sampled_from(
    ["", "", "", "0", "5", "=", "3 died", "put off", "put off: saturday", "moist", "4 into blue",
     "2 into shelf, bed:1", "8 night", "held: rain", "24 in leek", "52/2.1", "1700", "shelf"]
)  # fmt: skip
_MORE: dict[str, st.SearchStrategy[Any]] = {
    "record": st.lists(_WRITTEN, min_size=1, max_size=3),
    "strike": st.integers(0, 20),
    "answer": st.tuples(st.integers(0, 60), _TYPED),
    "see": st.integers(0, 5),
    "take out": st.integers(0, 5),
}
_WHAT = st.sampled_from(
    ["record"] * 8 + ["answer"] * 6
    + ["look", "look", "strike", "strike", "take back", "catch up", "see", "take out"]
)  # fmt: skip
_ACT = _WHAT.flatmap(lambda what: st.tuples(st.just(what), _MORE.get(what, st.none())))
ACTS = st.lists(st.tuples(WHO, _ACT, TIMES), min_size=4, max_size=16)
# So that the others are about something.
_SOWN = [
    (Sown, {"sowing": "leek", "lot": "poree", "seeds": 12, "station": "mat", "tray": "blue"}),
    (Sown, {"sowing": "pepper", "lot": "pepper", "seeds": 12, "station": "shelf"}),
    (Sown, {"sowing": "lost", "lot": "gone", "seeds": 12, "tray": "blue"}),
]


class CheckedMemo(Memo):
    """Makes afresh whatever is asked for, and compares."""

    def of(self, make: Callable[[*_In], _V], subject: Hashable, *inputs: *_In) -> _V:
        found = super().of(make, subject, *inputs)
        assert make(*inputs) == found, (make, subject)
        return found


@contextmanager
def season_folder() -> Iterator[Path]:
    """A season of its own for each example, long after all that is written in it."""
    with TemporaryDirectory() as name, pytest.MonkeyPatch.context() as patch:
        patch.setattr(clock, "now", lambda zone: moment("11-20 12:00").astimezone(ZoneInfo(zone)))
        patch.setattr(plan_files, "load_crops", lambda *_: crop_table())  # read once a test run
        patch.setattr(derived, "Memo", CheckedMemo)
        folder = Path(name)
        (folder / "season.toml").write_text(HEAD + OUT, "utf-8")
        (folder / "lots.toml").write_text(LOTS, "utf-8")
        yield folder


def do(season: OpenSeason, act: tuple[str, Any], at: datetime) -> None:
    what, more = act
    if what == "record":
        drafts = [kind(**BLANK, **fields) for kind, fields in more if _is_one(fields)]
        if drafts:
            season.record(*drafts, at=at)
    elif what == "strike":
        season.catch_up()
        known = sorted(season.journal.by_id)
        season.record(Struck(**BLANK, entry=known[more % len(known)]), at=at)
    elif what == "answer":
        _answer(season, *more)
    elif what == "see":
        alerts = season.round().alerts
        if alerts:
            season.record(seen(alerts[more % len(alerts)]))
    elif what == "take out":
        treated = sorted(season.records().treatments)
        if treated:
            season.record(TakenOut(**BLANK, entry=treated[more % len(treated)]), at=at)
    elif what == "take back":
        take_back(season)
    elif what == "catch up":
        season.catch_up()
    else:
        season.round()


def _is_one(fields: dict[str, Any]) -> bool:
    """Whether an entry may say so: no sowing becomes itself."""
    return bool(fields.get("into", "") != fields.get("sowing"))


def _answer(season: OpenSeason, number: int, typed: str) -> None:
    checks = [one for one in single_checks(season.round().checks) if not one.done]
    if checks:
        drafts = answer(checks[number % len(checks)], typed, season.known())
        if not isinstance(drafts, Problem):
            season.record(*drafts)


def after(folder: Path, acts: list[Act], day: date) -> list[OpenSeason]:
    """Seasons that are open while others write."""
    open_ones = [OpenSeason(folder, by, day) for by in WRITERS]
    do(open_ones[0], ("record", _SOWN), moment("2-25 08:00"))
    for who, act, at in acts:
        do(open_ones[who], act, at)
    return open_ones


@settings(max_examples=60, derandomize=True, deadline=None)
@given(ACTS, DAYS)
def test_a_round_of_what_is_open_is_that_of_what_is_opened_afresh(
    acts: list[Act], day: date
) -> None:
    with season_folder() as folder:
        open_ones = after(folder, acts, day)
        fresh = OpenSeason(folder, "reader", day).round()
        for season in open_ones:
            season.catch_up()
            assert season.round() == fresh


@settings(max_examples=40, derandomize=True, deadline=None)
@given(ACTS, DAYS)
def test_no_two_lines_of_a_round_have_one_key(acts: list[Act], day: date) -> None:
    with season_folder() as folder:
        found = after(folder, acts, day)[0].round()
        keys = [one.key for one in single_checks(found.checks)]
        keys += [one.key for one in found.alerts]
        assert sorted(keys) == sorted(set(keys))


@settings(max_examples=30, derandomize=True, deadline=None)
@given(ACTS, DAYS)
def test_a_tick_is_taken_and_its_line_is_done_or_gone(acts: list[Act], day: date) -> None:
    with season_folder() as folder:
        season = after(folder, acts, day)[0]
        season.catch_up()
        open_ = [one for one in single_checks(season.round().checks) if one.tick and not one.done]
        for check in open_:
            drafts = answer(check, "", season.known())
            assert not isinstance(drafts, Problem), (check, drafts)
            season.record(*drafts)
            assert check.key not in _still_open(season), check
            take_back(season)


def _still_open(season: OpenSeason) -> set[str]:
    return {one.key for one in single_checks(season.round().checks) if not one.done}


@settings(max_examples=30, derandomize=True, deadline=None)
@given(ACTS, DAYS)
def test_what_nothing_touched_is_the_same_object(acts: list[Act], day: date) -> None:
    with season_folder() as folder:
        season = after(folder, acts, day)[0]
        season.catch_up()
        before = season.round()
        season.record(Watered(**BLANK, station="attic"))
        now = season.round()
        for was, is_ in ((before.checks, now.checks), (before.alerts, now.alerts)):
            kept: list[Any] = list(was)
            assert [one for one in is_ if one in kept] == [
                one for one in is_ if any(one is other for other in kept)
            ]


@settings(max_examples=30, derandomize=True, deadline=None)
@given(ACTS, DAYS)
def test_what_is_overdue_keeps_its_key_from_one_day_to_the_next(acts: list[Act], day: date) -> None:
    with season_folder() as folder:
        after(folder, [act for act in acts if act[2].date() <= day], day)
        today, tomorrow = (
            {one.key: one for one in single_checks(OpenSeason(folder, "r", on).round().checks)}
            for on in (day, day + timedelta(days=1))
        )
        lost = [one for one in today.values() if not one.done and one.key not in tomorrow]
        assert [one.key for one in lost] == []


@settings(max_examples=30, derandomize=True, deadline=None)
@given(ACTS, DAYS)
def test_what_is_kept_after_each_act_is_what_is_found_afresh(acts: list[Act], day: date) -> None:
    with season_folder() as folder:
        season = after(folder, [], day)[0]
        season.round()
        for _, act, at in acts:
            do(season, act, at)
            fresh = OpenSeason(folder, "reader", day)
            assert season.round() == fresh.round()
            assert season.calendar() == fresh.calendar()
            assert season.hardening() == fresh.hardening()
            assert dict(season.progress()) == dict(fresh.progress())
            assert dict(season.prospects()) == dict(fresh.prospects())


@settings(max_examples=30, derandomize=True, deadline=None)
@given(ACTS, DAYS)
def test_what_is_to_come_is_what_the_whole_prospect_says(acts: list[Act], day: date) -> None:
    with season_folder() as folder:
        season = after(folder, acts, day)[0]
        prospects, standings = season.prospects(), season.records().standings
        for sowing in prospects:
            more, none = prospects.more_is_expected(sowing), prospects.none_is_expected(sowing)
            quiet, advice = prospects.quiet_since(sowing), prospects.advice(sowing)
            to_come, found = prospects.to_come(sowing), prospects[sowing]
            assert (more, advice) == (found.more_is_expected, found.advice)
            assert none == (found.chance_of_more is not None and not more)
            assert quiet == quiet_since(standings[sowing], found)
            assert prospects.short(sowing) == found.short
            for name in to_come.__struct_fields__:
                assert getattr(to_come, name) == getattr(found, name), name
            assert to_come.more_is_expected == found.more_is_expected
            assert to_come.last_day == found.last_day
