"""A season on the disk and a small app to show its forms in: what was typed → what was written."""

from collections.abc import AsyncGenerator, Sequence
from contextlib import asynccontextmanager
from datetime import date, datetime
from pathlib import Path
from typing import Any

from msgspec import structs
from textual.app import App, ComposeResult
from textual.events import Paste
from textual.pilot import Pilot
from textual.widgets import Static

from app_bench import QuickPilot
from seasons import HEAD, lot
from seedstart.acts.act import Act
from seedstart.acts.known import Known
from seedstart.app.forms.act_chooser import act_named, form_of
from seedstart.app.forms.form_input import Filled, fill_entry
from seedstart.app.forms.form_screen import Form
from seedstart.app.forms.form_services import Desk, desk_of
from seedstart.open_season import OpenSeason
from seedstart.season.journal.entries import BLANK, Counted, Entry, Moved, Sown
from seedstart.season.journal.entry import Subject

SIZE = (80, 24)
DAY = date(2027, 3, 20)  # a Saturday
LOTS = (
    lot("leek", "leek", want="48", station='"shelf"')
    + lot("pepper-long", "pepper", station='"mat"', then='"shelf"')
    + lot("sweet-pea", "sweet pea", station='"sill"', soak='"12 h"')
)


def season_in(folder: Path, by: str = "bench") -> OpenSeason:
    """A season with leek up in tray 5 (40 stand) and pepper sown on the mat, on 20 March 2027."""
    (folder / "season.toml").write_text(HEAD, "utf-8")
    (folder / "lots.toml").write_text(LOTS, "utf-8")
    opened = OpenSeason(folder, by, DAY)
    write(opened, "03-01 09:00", Sown(**BLANK, sowing="leek", lot="leek", seeds=60, tray="tray 5"))
    write(opened, "03-01 09:05", Moved(**BLANK, tray="tray 5", station="shelf"))
    pepper = Sown(**BLANK, sowing="pepper-long", lot="pepper-long", seeds=12, station="mat")
    write(opened, "03-02 09:00", pepper)
    write(opened, "03-15 08:00", Counted(**BLANK, sowing="leek", standing=40))
    return opened


def write(opened: OpenSeason, at: str, *drafts: Entry) -> list[Entry]:
    """Entries of one act, at `03-15 08:00` of 2027."""
    when = datetime.strptime(f"2027-{at}", "%Y-%m-%d %H:%M").replace(tzinfo=opened.zone)
    return opened.record(*drafts, at=when)


def desk(opened: OpenSeason) -> Desk:
    """The desk of a season whose records nobody draws."""
    return desk_of(opened, lambda drafts, at: opened.record(*drafts, at=at), opened.catch_up)


def known(opened: OpenSeason, subject: Subject | None = None) -> Known:
    """What its forms know."""
    return desk(opened).look().about(subject)


def filled(opened: OpenSeason, act: str, **texts: str) -> Filled[tuple[Entry, ...]]:
    """A form with these texts and nothing else in its fields; `_` stands for a space in names."""
    found = act_named(act.replace("_", " "))
    assert isinstance(found, Act)
    return fill_entry(found, known(opened), texts)


def _unsaid(value: object) -> bool:
    return value is None or value is False or value == ()


def plain(drafts: Sequence[Entry]) -> list[dict[str, Any]]:
    """What stands in drafts, without their stamps and what is not set."""
    return [
        {"kind": type(one).__name__}
        | {
            key: value
            for key, value in structs.asdict(one).items()
            if key not in {"id", "at", "by", "act"} and not _unsaid(value)
        }
        for one in drafts
    ]


class Host(App[None]):
    """Shows one screen and keeps what it was left with."""

    def __init__(self, *, colours: bool = True) -> None:
        super().__init__(ansi_color=None if colours else True)
        self.left_with: list[Any] = []

    @asynccontextmanager
    async def run_test(self, **more: Any) -> AsyncGenerator[Pilot[None], None]:
        """Run it; the pilot goes on as soon as a key is handled."""
        async with super().run_test(**more):
            yield QuickPilot(self)

    def compose(self) -> ComposeResult:
        yield Static("the round", markup=False)

    def text(self) -> str:
        """What is on the screen, line by line."""
        return "\n".join(strip.text for strip in self.screen._compositor.render_strips())

    def said(self) -> str:
        """What is on the screen as running text: lines broken anywhere, without their frame."""
        return " ".join(self.text().replace("│", " ").split())


async def opened_form(
    pilot: Pilot[None],
    season: OpenSeason,
    act: str,
    subject: Subject | None = None,
    desk_: Desk | None = None,
) -> Form[Any, Any]:
    """A form on the screen."""
    host = pilot.app
    assert isinstance(host, Host)
    form = form_of(act_named(act), desk_ or desk(season), subject)
    host.push_screen(form, host.left_with.append)
    await pilot.pause()
    return form


async def put(pilot: Pilot[None], form: Form[Any, Any], **texts: str) -> None:
    """Texts into fields at once, by their keys (`_` for `-`)."""
    for row in form.rows:
        key = row.field.key.replace("-", "_")
        if key in texts:
            row.input.value = texts[key]
    await pilot.pause()


async def typed(pilot: Pilot[None], *texts: str) -> None:
    """Texts and keys in turn; a key's name in angle brackets is that key.

    Up to two letters come as keys, a longer text as a paste.
    """
    for text in texts:
        if text.startswith("<"):
            await pilot.press(text.strip("<>"))
        elif len(text) <= 2:
            await pilot.press(*text)
        else:
            assert pilot.app.focused is not None
            pilot.app.focused.post_message(Paste(text))
            await pilot.pause()
    await pilot.pause()
