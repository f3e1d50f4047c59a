"""What is open is what is read afresh, whatever was done, by whom, and in whatever order."""

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date, datetime
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from any_season import DRAFTS, TIMES
from notebook import afresh, moment, take_back
from seasons import HEAD, lot
from seedstart import clock
from seedstart.disk import plan_files
from seedstart.open_season import OpenSeason
from seedstart.season.journal.entries import BLANK, Entry, Planned, Sown, Struck, TakenOut, Unknown
from shipped import crop_table

PLANS = [
    lot("leek", "leek", want="48", station='"mat"') + lot("onion", "onion"),
    lot("leek", "leek", want="30", station='"shelf"', was='["poree"]') + lot("onion", "onion"),
]
HEADS = [HEAD, HEAD.replace('name = "mat"', 'name = "mat"\nwas = ["old mat"]')]
# Two programs of one writer, and another writer.
WRITERS = ("bench", "bench", "phone")
WHO = st.integers(0, len(WRITERS) - 1)
Act = tuple[str, Any]
_WANT = st.fixed_dictionaries({"want": st.sampled_from([30, 48])})
_PLANNED = st.tuples(
    st.just(Planned),
    st.fixed_dictionaries({"lot": st.just("leek"), "to": _WANT, "said": _WANT}),
)
_OTHERS: set[type[Entry]] = {Unknown, Struck, TakenOut}  # never written, or by the id of another


def _can_be_drafted(draft: Any) -> bool:
    return draft[0] not in _OTHERS


_WRITTEN = DRAFTS.filter(_can_be_drafted) | _PLANNED
_MORE: dict[str, st.SearchStrategy[Any]] = {
    "record": st.lists(_WRITTEN, min_size=1, max_size=3),
    "strike": st.integers(0, 20),
    "edit": st.tuples(st.sampled_from(HEADS), st.sampled_from(PLANS)),
}
_WHAT = st.sampled_from(
    ["record"] * 8 + ["look", "look", "strike", "strike", "take back", "catch up", "edit"]
)
_ACT = _WHAT.flatmap(lambda what: st.tuples(st.just(what), _MORE.get(what, st.none())))
ACTS = st.lists(st.tuples(WHO, _ACT, st.sampled_from(TIMES)), min_size=4, max_size=16)
# So that the others are about something.
_SOWN = [
    (Sown, {"sowing": "leek", "lot": "poree", "seeds": 12, "station": "old mat", "tray": "blue"}),
    (Sown, {"sowing": "onion", "lot": "onion", "seeds": 12, "station": "shelf"}),
]


@contextmanager
def season_folder() -> Iterator[Path]:
    """A season of its own for each example, at a moment after all that is written in it."""
    with TemporaryDirectory() as name, pytest.MonkeyPatch.context() as patch:
        patch.setattr(clock, "now", lambda zone: moment("11-20 12:00").astimezone(ZoneInfo(zone)))
        patch.setattr(plan_files, "load_crops", lambda *_: crop_table())  # read once a test run
        folder = Path(name)
        edit(folder, HEADS[0], PLANS[0])
        yield folder


def edit(folder: Path, head: str, lots: str) -> None:
    (folder / "season.toml").write_text(head, "utf-8")
    (folder / "lots.toml").write_text(lots, "utf-8")


def do(season: OpenSeason, act: Act, at: datetime) -> None:
    what, more = act
    if what == "record":
        drafts = [kind(**BLANK, **fields) for kind, fields in more if is_one(fields)]
        if drafts:
            season.record(*drafts, at=at)
    elif what == "strike":
        known: list[Entry] = sorted(season.journal.by_id.values(), key=lambda entry: entry.id)
        if known:
            season.record(Struck(**BLANK, entry=known[more % len(known)].id), at=at)
    elif what == "take back":
        take_back(season)
    elif what == "catch up":
        season.catch_up()
    elif what == "look":
        season.round()
    else:
        edit(season.folder, *more)


def is_one(fields: dict[str, Any]) -> bool:
    """Whether an entry may say so: no sowing becomes itself."""
    return bool(fields.get("into", "") != fields.get("sowing"))


@settings(max_examples=60, derandomize=True, deadline=None)
@given(ACTS)
def test_what_is_open_is_what_is_read_afresh(acts: list[tuple[int, Act, datetime]]) -> None:
    with season_folder() as folder:
        open_ones = [OpenSeason(folder, by) for by in WRITERS]
        do(open_ones[0], ("record", _SOWN), TIMES[0])
        for who, act, at in acts:
            do(open_ones[who], act, at)
        fresh = OpenSeason(folder, "reader")
        for season in open_ones:
            season.catch_up()
            assert (season.plan.lots, season.plan.stations) == (
                fresh.plan.lots,
                fresh.plan.stations,
            )
            assert season.planned_problems == fresh.planned_problems
            assert season.records() == fresh.records()
            assert list(season.records().standings) == list(fresh.records().standings)
            assert season.calendar() == fresh.calendar()
            assert season.round() == fresh.round()


@settings(max_examples=30, derandomize=True, deadline=None)
@given(ACTS, st.sampled_from(sorted({at.date() for at in TIMES})))
def test_on_a_day_a_season_is_what_had_happened_by_then(
    acts: list[tuple[int, Act, datetime]], day: date
) -> None:
    with season_folder() as folder:
        open_ones = [OpenSeason(folder, by, day) for by in WRITERS]
        do(open_ones[0], ("record", _SOWN), TIMES[0])
        for who, act, at in acts:
            do(open_ones[who], act, at)
        everything = OpenSeason(folder, "reader").journal.by_id.values()
        by_then = [e for e in everything if e.at.date() <= day or isinstance(e, Struck)]
        for season in (*open_ones, OpenSeason(folder, "reader", day)):
            season.catch_up()
            assert season.records() == afresh(by_then, season.plan, day)


@settings(max_examples=30, derandomize=True, deadline=None)
@given(ACTS, ACTS)
def test_two_folders_put_together_are_the_union_of_their_lines(
    at_home: list[tuple[int, Act, datetime]], at_work: list[tuple[int, Act, datetime]]
) -> None:
    """Made apart, under one writer's name and with sowings of one name."""
    with season_folder() as home, season_folder() as work:
        for folder, acts in ((home, at_home), (work, at_work)):
            open_ones = [OpenSeason(folder, by) for by in WRITERS]
            do(open_ones[0], ("record", _SOWN), TIMES[0])
            for who, act, at in acts:
                do(open_ones[who], act, at)
        edit(home, HEADS[1], PLANS[1])
        apart = [dict(OpenSeason(folder, "reader").journal.by_id) for folder in (home, work)]
        for path in (work / "journal").iterdir():
            (home / "journal" / f"{path.stem} from work.jsonl").write_bytes(path.read_bytes())
        together = OpenSeason(home, "reader")
        assert dict(together.journal.by_id) == apart[0] | apart[1]
        assert together.records() == afresh(together.journal.by_id.values(), together.plan)
