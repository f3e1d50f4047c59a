"""The frame of the app: pages, what changes under it, what is recorded, faults, looks."""

import json
import re
import subprocess
import sys
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from textual.app import ComposeResult
from textual.binding import Binding
from textual.widgets import Static

from app_bench import (
    DAY,
    LARGE,
    SMALL,
    WRITER,
    journal_lines,
    page,
    rows,
    running,
    sample,
    shown,
    text,
)
from seedstart import clock, disk
from seedstart.app.app import SeedstartApp
from seedstart.app.forms.form_screen import EntryForm
from seedstart.app.forms.palette import Palette
from seedstart.app.frame import APP_KEYS, app_keys_that_fit, keys_line
from seedstart.app.pages import PAGES
from seedstart.app.screens.fault_screens import FaultScreen
from seedstart.app.screens.season_screen import SeasonScreen, ToRecord
from seedstart.app.screens.text_screens import HelpScreen
from seedstart.app.styles import Ground
from seedstart.drawing.lines import as_text
from seedstart.open_season import OpenSeason
from seedstart.problems import Problem
from seedstart.season.journal.entries import BLANK, Entry, Noted

# The window that Textual's picture draws round the cells, and the ink of a terminal's own.
WINDOW = {"#ff5f57", "#febc2e", "#28c840", "#c5c8c6"}
LEEK = Noted(**BLANK, text="aphids on the leeks")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return sample(tmp_path)


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_the_head_says_the_day_and_how_far_the_frost_is(
    folder: Path, size: tuple[int, int]
) -> None:
    async with running(folder, size) as (app, _):
        head = rows(app)[0]
        assert "Fri 10 Apr 2026" in head
        assert "last frost 18 May, in 38 days" in head  # 20 days of April and 18 of May


@pytest.mark.parametrize("size", [SMALL, LARGE, (60, 16)])
async def test_every_page_opens_by_its_key_and_shows_the_keys(
    folder: Path, size: tuple[int, int]
) -> None:
    async with running(folder, size) as (app, pilot):
        for one in PAGES:
            await pilot.press(one.key)
            assert page(app) == one.name
            foot = rows(app)[-1]
            assert "? keys" in foot
            assert len(foot) <= size[0]


async def test_a_page_keeps_its_place_while_another_is_looked_at(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        await pilot.press("c", "down", "down")
        calendar = app.screen
        await pilot.press("l", "c")
        assert app.screen is calendar
        assert calendar.query_one("#bars").cursor == 2  # type: ignore[attr-defined]


async def test_help_names_every_key_of_the_app(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        await pilot.press("question_mark")
        told = "\n".join(as_text(line) for line in shown(app, HelpScreen)._lines(78))
        for binding in SeedstartApp.BINDINGS:
            assert isinstance(binding, Binding)
            key = binding.key.split(",")[0].replace("question_mark", "?")
            assert key == "?" or f"{key} " in told, key
        await pilot.press("escape")
        assert "Fri 10 Apr 2026" in text(app)


async def test_the_palette_has_the_pages_and_what_can_be_done(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        await pilot.press("ctrl+p")
        names = [place.name for place in shown(app, Palette).listed.items]
        assert [one.words for one in PAGES] == names[: len(PAGES)]
        assert {"Help", "Quit", "Water", "New lot"} <= set(names)
        assert "Go to or write down" in text(app)
        await pilot.press(*"lots", "enter")
        assert page(app) == "lots"
        await pilot.press("ctrl+p", *"died", "enter")
        assert "lose" in text(app).lower()
        shown(app, EntryForm)


async def test_the_palette_opens_over_no_form_so_nothing_half_typed_is_lost(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        await pilot.press("n", *"wat", "enter", *"tray", "ctrl+p")
        shown(app, EntryForm)


def test_help_is_the_last_key_that_a_narrow_foot_leaves_out() -> None:
    assert "".join(key.key for key in app_keys_that_fit(200)) == "rclshtjy?"
    for width in (76, 68, 58):
        kept = app_keys_that_fit(width)
        assert "?" in [key.key for key in kept]
        assert keys_line(kept, width).cell_length <= width
    assert {key.key for key in APP_KEYS} >= {one.key for one in PAGES}


async def test_what_is_recorded_stands_in_the_file_and_is_taken_back_and_restored(
    folder: Path,
) -> None:
    before = len(journal_lines(folder))
    async with running(folder) as (app, pilot):
        assert app.record([LEEK])
        assert json.loads(journal_lines(folder)[-1])["text"] == "aphids on the leeks"
        await pilot.press("u")
        assert "Taken back: noted: aphids on the leeks" in text(app)
        struck = json.loads(journal_lines(folder)[-1])
        assert struck["kind"] == "struck"
        assert struck["entry"] == json.loads(journal_lines(folder)[-2])["id"]
        await pilot.press("u")
        assert "Restored: noted: aphids on the leeks" in text(app)
        again = json.loads(journal_lines(folder)[-1])
        assert again["entry"] == struck["id"]
        assert len(journal_lines(folder)) == before + 3
        await pilot.press("u")
        assert "Taken back: noted: aphids on the leeks" in text(app)


async def test_an_act_of_several_entries_is_taken_back_whole(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        app.record([LEEK, Noted(**BLANK, text="and on the kale")])
        await pilot.press("u")
        assert "and 1 more of that act" in " ".join(text(app).split())
        assert [json.loads(line)["kind"] for line in journal_lines(folder)[-2:]] == ["struck"] * 2


async def test_there_may_be_nothing_to_take_back(tmp_path: Path) -> None:
    folder = sample(tmp_path)
    (folder / "journal" / f"{WRITER}.jsonl").unlink()
    async with running(folder) as (app, pilot):
        await pilot.press("u")
        assert "There is nothing to take back." in text(app)
        assert journal_lines(folder) == []


class AskingScreen(SeasonScreen[int]):
    """Counts the notes, and asks for one more."""

    HEAD = "Notes"

    def __init__(self) -> None:
        super().__init__()
        self.shown: list[int] = []
        self.answers: list[object] = []

    def body(self) -> ComposeResult:
        yield Static("")

    def look(self, opened: OpenSeason) -> int:
        return sum(isinstance(entry, Noted) for entry in opened.journal.by_id.values())

    def show(self, state: int) -> None:
        self.shown.append(state)

    def recorded(self, entries: tuple[Entry, ...], asked: object) -> None:
        self.answers.append((len(entries), asked))

    def refused(self, problems: tuple[Problem, ...], asked: object) -> None:
        super().refused(problems, asked)
        self.answers.append(asked)


async def test_a_screen_gets_the_new_state_before_its_answer(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        screen = AskingScreen()
        await app.push_screen(screen)
        screen.post_message(ToRecord(screen, (LEEK,), asked="aphids"))
        await pilot.pause()
        assert len(screen.shown) == 2
        assert screen.shown[1] == screen.shown[0] + 1
        assert screen.answers == [(1, "aphids")]


async def test_a_full_disk_is_told_and_nothing_is_recorded(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(path: Path, _: bytes) -> bool:
        raise disk.NotRecorded(path, OSError(28, "No space left on device"))

    before = journal_lines(folder)
    async with running(folder) as (app, pilot):
        screen = AskingScreen()
        await app.push_screen(screen)
        monkeypatch.setattr(disk, "append", full)
        screen.post_message(ToRecord(screen, (LEEK,), asked="aphids"))
        await pilot.pause()
        assert screen.answers == ["aphids"]
        assert len(screen.shown) == 1
        assert "disk is full" in " ".join(text(app).split())
        assert not app.record([LEEK])
        await pilot.press("u")
        assert "Not recorded: the disk is full." in text(app)
    assert journal_lines(folder) == before


async def test_what_another_wrote_is_seen_without_a_key(folder: Path) -> None:
    async with running(folder) as (app, _):
        screen = AskingScreen()
        await app.push_screen(screen)
        seen = screen.shown[-1]
        OpenSeason(folder, "tablet", DAY).record(LEEK)
        app.catch_up()
        assert screen.shown[-1] == seen + 1
        app.catch_up()  # nothing new: nothing is drawn again
        assert len(screen.shown) == 2


async def test_a_page_out_of_sight_catches_up_when_it_comes_back(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        screen = AskingScreen()
        await app.push_screen(screen)
        await pilot.press("question_mark")
        OpenSeason(folder, "tablet", DAY).record(LEEK)
        app.catch_up()
        assert len(screen.shown) == 1
        await pilot.press("escape")
        await pilot.pause()
        assert len(screen.shown) == 2


async def test_toml_broken_while_open_is_told_and_the_last_good_plan_stays(folder: Path) -> None:
    lots = folder / "lots.toml"
    good = lots.read_bytes()
    async with running(folder) as (app, pilot):
        await pilot.press("l")
        lots.write_bytes(good.replace(b'crop = "leek"', b'crop = "leeek"'))
        app.catch_up()
        await pilot.pause()
        assert "! lots.toml, line" in rows(app)[1]
        assert "leek-giant" in text(app)
        assert app.record([LEEK])  # ticking goes on
        await pilot.press("f")
        assert "Nearest: leek" in text(app)
        await pilot.press("escape")
        lots.write_bytes(good)
        app.catch_up()
        await pilot.pause()
        assert "! lots.toml" not in text(app)
        await pilot.press("f")
        assert "No faults in the season's files." in text(app)


async def test_a_broken_season_shows_its_faults_and_opens_once_it_is_mended(folder: Path) -> None:
    plan = folder / "season.toml"
    good = plan.read_bytes()
    plan.write_bytes(good.replace(b'kind = "mat"', b'kind = "matt"'))
    async with running(folder) as (app, pilot):
        shown(app, FaultScreen)
        told = text(app)
        assert "season.toml, line" in told
        assert "Found 'matt'" in told
        assert "Nearest: mat" in told
        await pilot.press("c", "u", "n", "w")  # nothing to go on with: nothing happens
        await pilot.press("enter")
        shown(app, FaultScreen)
        plan.write_bytes(good)
        await pilot.press("enter")
        await pilot.pause()
        assert "Fri 10 Apr 2026" in text(app)


async def test_with_broken_lots_the_rest_can_be_opened(folder: Path) -> None:
    lots = folder / "lots.toml"
    lots.write_bytes(lots.read_bytes() + b"\n[[lot]]\nname = ")
    async with running(folder) as (app, pilot):
        assert "w go on without the lots" in text(app)
        await pilot.press("w")
        await pilot.pause()
        assert app.opened is not None
        assert app.opened.plan.lots == ()
        assert app.opened.records().standings  # the journal is there
        assert "! lots.toml" in text(app)


async def test_midnight_is_noticed(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    zone = ZoneInfo("Europe/Tallinn")
    moment = [datetime(2026, 4, 10, 23, 59, 58, tzinfo=zone)]
    monkeypatch.setattr(clock, "now", lambda _: moment[0])
    async with running(folder, on=None) as (app, pilot):
        assert "Fri 10 Apr 2026" in rows(app)[0]
        moment[0] = datetime(2026, 4, 11, 0, 0, 1, tzinfo=zone)
        app.catch_up()
        await pilot.pause()
        assert "Sat 11 Apr 2026    last frost 18 May, in 37 days" in rows(app)[0]


def _is_grey(ink: str) -> bool:
    parts = [int(ink[at : at + 2], 16) for at in (1, 3, 5)]
    return max(parts) - min(parts) <= 3  # the picture's own ink, dimmed, is a little green


async def test_without_colour_no_cell_has_one(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    async with running(folder) as (app, pilot):
        await pilot.press("c")
        await pilot.pause()
        assert app.theme == "seedstart-own-dark"
        picture = app.export_screenshot()
        inks = {ink.lower() for ink in re.findall(r"#[0-9a-fA-F]{6}", picture)}
        assert all(_is_grey(ink) for ink in inks - WINDOW), inks


@pytest.mark.parametrize(
    ("ground", "theme"), [("dark", "seedstart-own-dark"), ("light", "seedstart-own-light")]
)
async def test_a_terminal_of_16_colours_keeps_its_own(
    folder: Path, monkeypatch: pytest.MonkeyPatch, ground: Ground, theme: str
) -> None:
    monkeypatch.delenv("COLORTERM", raising=False)
    monkeypatch.setenv("TERM", "xterm-16color")
    async with running(folder, ground=ground) as (app, _):
        assert app.theme == theme


async def test_light_or_dark_is_a_key_and_is_kept(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLORTERM", "truecolor")
    kept: list[str] = []
    async with running(folder, keep_ground=kept.append) as (app, pilot):
        assert app.theme == "seedstart-dark"
        await pilot.press("ctrl+t")
        assert app.theme == "seedstart-light"
        await pilot.press("ctrl+t")
        assert app.theme == "seedstart-dark"
    assert kept == ["light", "dark"]


async def test_without_a_season_a_copy_of_the_sample_can_be_opened(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    async with running(None) as (app, pilot):
        assert "Make a season" in text(app)
        await pilot.press("s")
        await pilot.pause()
        assert "Fri 10 Apr 2026" in text(app)
    assert (tmp_path / "sample-season" / "season.toml").is_file()


async def test_without_a_season_one_can_be_made(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    async with running(None, on=None) as (app, pilot):
        await pilot.press("enter")
        await pilot.pause()
        await pilot.press("s", "down", "down", *"none", "ctrl+s")
        await pilot.pause()
        assert (tmp_path / "s" / "season.toml").is_file()
        assert app.opened is not None
        assert app.opened.folder.name == "s"


async def test_what_a_form_wrote_is_said_at_the_foot(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        await pilot.press("n", *"note", "enter")
        await pilot.pause()
        await pilot.press(*"gnats", "ctrl+s")
        await pilot.pause()
        assert json.loads(journal_lines(folder)[-1])["text"] == "gnats"
        assert "gnats. u takes it back." in text(app)


def test_no_heavy_library_before_the_first_frame(folder: Path) -> None:
    code = (
        "import asyncio, sys\n"
        "from datetime import date\n"
        "from pathlib import Path\n"
        "from seedstart.app.app import SeedstartApp\n"
        "async def main():\n"
        f"    app = SeedstartApp(Path({str(folder)!r}), 'bench', date(2026, 4, 10))\n"
        "    async with app.run_test() as pilot:\n"
        "        await pilot.pause()\n"
        "asyncio.run(main())\n"
        "print(sorted({'pandas', 'scipy', 'numpy', 'pendulum'} & set(sys.modules)))\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


async def test_a_key_at_the_foot_can_be_clicked(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        foot = rows(app)[-1]
        await pilot.click(offset=(foot.index("calendar") + 2, len(rows(app)) - 1))
        await pilot.pause()
        assert page(app) == "calendar"


async def test_readings_that_come_while_it_is_open_are_taken_in(folder: Path) -> None:
    async with running(folder) as (app, _):
        screen = AskingScreen()
        await app.push_screen(screen)
        (folder / "readings" / "logger-frame.csv").write_text(
            "time,station,quantity,value,mark\n2026-04-09T12:00:00+03:00,cold frame,soil_c,9.5,\n",
            "utf-8",
        )
        before = screen.version
        app.catch_up()
        assert screen.version == before + 1
        app.catch_up()
        assert screen.version == before + 1


async def test_the_keys_page_begins_with_those_of_the_line_one_came_from(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        await pilot.press("question_mark")
        assert rows(app)[0].strip() == "Keys"
        assert rows(app)[1].startswith(" On the line you came from")
        assert rows(app)[2].split()[:2] == ["Space", "lifted"]
        await pilot.press("escape", "c", "question_mark")
        assert "Enter         why" in rows(app)[2]
        assert "On the calendar" in text(app)
        await pilot.press("end")
        assert "┊ last frost" in text(app)
