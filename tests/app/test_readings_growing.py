"""What grows or changes while the app is open is shown, and keys are answered meanwhile."""

import asyncio
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from threading import Event, current_thread, main_thread
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from app_bench import DAY, LARGE, SMALL, key_event, page, running, sample, text
from seedstart import clock
from seedstart.app.app import READ_AT_ONCE, SeedstartApp
from seedstart.daily.derived import Derived
from seedstart.open_season import OpenSeason
from seedstart.planning.following import Following, Moment
from seedstart.planning.prospects.to_come import Begun, begun_of
from seedstart.season.journal.entries import BLANK, Noted
from seedstart.season.loggers.tidy_file import HEADER


def rows(count: int, c: float) -> str:
    """The last rows of a logger, a minute apart, up to eight in the morning of the day."""
    last = datetime(DAY.year, DAY.month, DAY.day, 5, tzinfo=UTC)
    return "".join(
        f"{(last - timedelta(minutes=count - 1 - minute)).isoformat()},heat mat,soil_c,{c},\n"
        for minute in range(count)
    )


async def test_a_row_more_shows_on_the_stations(tmp_path: Path) -> None:
    folder = sample(tmp_path)
    path = folder / "readings" / "more.csv"
    path.write_text(f"{HEADER}\n", "utf-8")
    async with running(folder) as (app, pilot):
        await pilot.press("s")
        assert "31.5" not in text(app)
        with path.open("a", encoding="utf-8") as file:
            file.write(rows(1, 31.5))
        app.catch_up()
        await pilot.pause()
        assert "31.5" in text(app)


@pytest.fixture
def may_derive(monkeypatch: pytest.MonkeyPatch) -> Iterator[Event]:
    """Nothing is derived in a thread before this is set."""
    may_end, follow = Event(), Derived.follow

    def slow(self: Derived, moment: Moment) -> Following:
        if current_thread() is not main_thread():
            assert may_end.wait(20)
        return follow(self, moment)

    monkeypatch.setattr(Derived, "follow", slow)
    yield may_end
    may_end.set()


def add_text(path: Path, text: str) -> None:
    with path.open("a", encoding="utf-8") as file:
        file.write(text)


def opened_in(app: SeedstartApp) -> OpenSeason:
    assert app.opened is not None
    return app.opened


async def until(holds: Callable[[], bool]) -> None:
    for _ in range(400):
        await asyncio.sleep(0.02)
        if holds():
            return
    raise AssertionError("it never held")


async def test_keys_are_answered_while_a_great_many_rows_are_read_and_derived(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, may_derive: Event
) -> None:
    folder = sample(tmp_path)
    path = folder / "readings" / "more.csv"
    path.write_text(f"{HEADER}\n", "utf-8")
    derived_here: list[object] = []
    derived_there: list[object] = []

    def seen(*given: Any, over: bool) -> Begun:
        (derived_here if current_thread() is main_thread() else derived_there).append(given)
        return begun_of(*given, over=over)

    async with running(folder) as (app, pilot):
        many = rows(9000, 31.5)
        assert len(many) > READ_AT_ONCE
        path.write_text(f"{HEADER}\n{many}", "utf-8")
        app.catch_up()
        app.catch_up()  # it is read once, however often one looks
        await pilot.press("l", "s")
        assert page(app) == "stations"
        assert "31.5" not in text(app)
        await pilot.press("r")
        monkeypatch.setattr("seedstart.planning.prospects.prospects.begun_of", seen)
        may_derive.set()
        await until(lambda: not opened_in(app).readings_folder.is_behind)
        await pilot.pause()
        assert derived_there
        assert derived_here == []
        await pilot.press("s")
        assert "31.5" in text(app)


async def test_readings_that_cannot_be_read_are_told_and_the_round_goes_on(tmp_path: Path) -> None:
    folder = sample(tmp_path)
    (folder / "readings" / "gone.csv").symlink_to("nowhere")
    async with running(folder) as (app, pilot):
        assert page(app) == "round"
        assert "gone.csv" in text(app)
        await pilot.press("s")
        assert "gone.csv" in text(app)
        (folder / "readings" / "gone.csv").unlink()
        app.catch_up()
        await pilot.pause()
        assert "gone.csv" not in text(app)


async def test_a_line_of_the_journal_that_cannot_be_read_is_told_below_the_head(
    tmp_path: Path,
) -> None:
    folder = sample(tmp_path)
    async with running(folder) as (app, pilot):
        assert "far.jsonl" not in text(app)
        (folder / "journal" / "far.jsonl").write_text('{"kind":"dreamt"}\n', "utf-8")
        app.catch_up()
        await pilot.pause()
        assert "far.jsonl, line 1" in text(app)


async def test_keys_are_answered_while_another_plan_of_a_large_season_is_derived(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, may_derive: Event
) -> None:
    monkeypatch.setattr("seedstart.open_season._LOTS_AT_ONCE", 1)
    folder = sample(tmp_path)
    async with running(folder) as (app, pilot):
        add_text(folder / "lots.toml", '\n[[lot]]\nname = "dill-new"\ncrop = "dill"\n')
        app.catch_up()
        await pilot.press("s", "l", "end")
        assert page(app) == "lots"
        assert "dill-new" not in text(app)  # what stood before stands
        assert app.record([Noted(**BLANK, text="damp", lot="leek-giant")])
        may_derive.set()
        await until(lambda: "dill-new" in opened_in(app).plan.lots_by_name)
        await pilot.press("end")
        await until(lambda: "dill-new" in text(app))
        fresh = OpenSeason(folder, "fresh", DAY)
        assert opened_in(app).round() == fresh.round()
        assert opened_in(app).calendar() == fresh.calendar()


async def test_what_a_form_adds_to_a_large_season_is_there_at_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, may_derive: Event
) -> None:
    monkeypatch.setattr("seedstart.open_season._LOTS_AT_ONCE", 1)
    folder = sample(tmp_path)
    lots = folder / "lots.toml"
    async with running(folder) as (app, pilot):
        add_text(lots, "\n")
        app.catch_up()  # a thread begins upon this
        add_text(lots, '\n[[lot]]\nname = "dill-new"\ncrop = "dill"\n')
        app.catch_up(at_once=True)
        assert "dill-new" in opened_in(app).plan.lots_by_name
        may_derive.set()
        await until(lambda: not opened_in(app).is_looking_ahead)
        await pilot.pause()
        assert "dill-new" in opened_in(app).plan.lots_by_name  # older, the thread's is not taken
        assert opened_in(app).calendar() == OpenSeason(folder, "fresh", DAY).calendar()


async def test_keys_are_answered_while_another_hour_of_a_large_season_is_derived(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, may_derive: Event
) -> None:
    monkeypatch.setattr("seedstart.open_season._LOTS_AT_ONCE", 1)
    moment = [datetime(2026, 4, 10, 8, 59, tzinfo=UTC)]
    monkeypatch.setattr(clock, "now", lambda zone: moment[0].astimezone(ZoneInfo(zone)))
    folder, hours = sample(tmp_path), list[datetime]()

    def followed(self: Following, moment: Moment) -> None:
        if current_thread() is main_thread():
            hours.append(moment.now)
        follow(self, moment)

    follow = Following.follow
    async with running(folder, on=None) as (app, pilot):
        app.catch_up()
        monkeypatch.setattr(Following, "follow", followed)
        moment[0] += timedelta(hours=1)
        await pilot.press("c")
        app.catch_up()
        await pilot.press("s", "r")
        assert page(app) == "round"
        assert {hour.astimezone(UTC).hour for hour in hours} == {8}
        may_derive.set()
        await until(lambda: not opened_in(app).is_looking_ahead)
        await pilot.pause()
        assert hours[-1].astimezone(UTC).hour == 9
        assert opened_in(app).round() == OpenSeason(folder, "fresh").round()


async def test_a_large_season_is_opened_in_a_thread_and_keys_typed_meanwhile_wait_for_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, may_derive: Event
) -> None:
    monkeypatch.setattr("seedstart.app.app.OPENED_AT_ONCE", 0)
    app = SeedstartApp(sample(tmp_path), "bench", DAY)
    async with app.run_test(size=SMALL) as pilot:
        await until(lambda: "Reading season" in text(app))
        for key in ("l", "down"):
            app.post_message(key_event(key))
        await pilot.resize_terminal(*LARGE)
        assert page(app) == ""
        may_derive.set()
        # Its rows stand there: left while it is laid out, a page finds parts of itself gone.
        await until(lambda: page(app) == "lots" and "leek-giant" in text(app))
    assert app.faults == []


async def test_a_large_season_that_is_being_opened_can_be_left(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, may_derive: Event
) -> None:
    monkeypatch.setattr("seedstart.app.app.OPENED_AT_ONCE", 0)
    app = SeedstartApp(sample(tmp_path), "bench", DAY)
    async with app.run_test(size=SMALL):
        await until(lambda: "Reading season" in text(app))
        app.post_message(key_event("q"))
        await until(lambda: app._exit)
        may_derive.set()
    assert app.faults == []


async def test_what_is_wrong_in_a_large_season_is_told_once_it_was_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("seedstart.app.app.OPENED_AT_ONCE", 0)
    folder = sample(tmp_path)
    (folder / "season.toml").write_text("timezone = ", "utf-8")
    app = SeedstartApp(folder, "bench", DAY)
    async with app.run_test(size=SMALL):
        await until(lambda: "season.toml" in text(app))
    assert app.faults == []
