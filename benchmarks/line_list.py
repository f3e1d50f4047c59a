"""A key to its frame: a tick in the line list against a widget that redraws one fixed row."""

import asyncio
from collections.abc import Callable
from dataclasses import dataclass, replace
from statistics import median, quantiles
from time import perf_counter
from typing import ClassVar

from rich.segment import Segment
from textual import events
from textual.app import App, ComposeResult
from textual.binding import Binding, BindingType
from textual.geometry import Region
from textual.scroll_view import ScrollView
from textual.strip import Strip

from seedstart.app.line_list import LineList
from seedstart.drawing.curve import Axis, Curves, Limit, curve_lines
from seedstart.drawing.lines import Line, Span


@dataclass(frozen=True)
class Check:
    """A line of a round, made up."""

    number: int
    done: bool = False


def draw(check: Check, _: int) -> Line:
    sign = "done" if check.done else "    "
    return (Span(f"{sign}  "), Span(f"tray {check.number}", "name"), Span("  look", "quiet"))


class KeyApp(App[None]):
    """Space does something; the frame after it is timed."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("space", "tick", "Tick")]

    def __init__(self) -> None:
        super().__init__()
        self.ticks = 0
        self.seen = 0
        self.frame: asyncio.Event | None = None
        self.drawn_at = 0.0

    def post_display_hook(self) -> None:
        """Textual calls this after each frame."""
        if self.frame and self.ticks > self.seen:
            self.drawn_at = perf_counter()
            self.frame.set()


class FixedRow(ScrollView, can_focus=True):
    """The least a row can cost: one segment, made beforehand."""

    STRIP = Strip([Segment("x" * 120)], 120)

    def render_line(self, y: int) -> Strip:  # noqa: ARG002 - Textual asks so
        return self.STRIP


class BaseApp(KeyApp):
    """One fixed row is drawn again."""

    def compose(self) -> ComposeResult:
        yield FixedRow()

    def action_tick(self) -> None:
        self.query_one(FixedRow).refresh(Region(0, 2, 120, 1))
        self.ticks += 1


class TickApp(KeyApp):
    """The check under the cursor is ticked."""

    def __init__(self, rows: int) -> None:
        super().__init__()
        self.checks = tuple(Check(number) for number in range(rows))

    def compose(self) -> ComposeResult:
        yield LineList[Check](draw, key=lambda check: check.number)

    def on_mount(self) -> None:
        self.query_one(LineList).show(self.checks)

    def action_tick(self) -> None:
        lines = self.query_one(LineList)
        here = lines.cursor
        ticked = replace(self.checks[here], done=not self.checks[here].done)
        self.checks = (*self.checks[:here], ticked, *self.checks[here + 1 :])
        lines.show(self.checks)
        self.ticks += 1


async def press(app: KeyApp, key: str, character: str) -> float:
    """Seconds from a key to its frame; `Pilot.press` sleeps and so is no clock."""
    app.frame, app.seen = asyncio.Event(), app.ticks
    event = events.Key(key, character)
    event.set_sender(app)
    driver = app._driver  # noqa: SLF001 - Textual has no public door for a key
    if driver is None:
        raise RuntimeError("the app does not run")
    start = perf_counter()
    driver.send_message(event)
    await asyncio.wait_for(app.frame.wait(), 5)
    return app.drawn_at - start


async def ticks_ms(app: KeyApp, times: int = 40) -> list[float]:
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.press("down", "down")
        found = []
        for _ in range(times):
            await asyncio.sleep(0.05)  # else the 60 frames a second are timed
            found.append(1000 * await press(app, "space", " "))
    return found


def say(name: str, found: list[float]) -> None:
    worst = quantiles(found, n=20)[-1]
    print(f"{name}: median {median(found):.2f} ms, 95 % {worst:.2f} ms")


def compare(rows: int, rounds: int = 3) -> None:
    """Both apps in turn, so that a busy machine slows both; the list costs the difference."""
    base, ticks = [], []
    for _ in range(rounds):
        base += asyncio.run(ticks_ms(BaseApp()))
        ticks += asyncio.run(ticks_ms(TickApp(rows)))
    say("one fixed row", base)
    say(f"tick of {rows} rows", ticks)
    print(f"  the list adds {median(ticks) - median(base):.2f} ms, limit 1.3 ms")


def timed_ms(job: Callable[[], object], times: int = 50) -> list[float]:
    found = []
    for _ in range(times):
        start = perf_counter()
        job()
        found.append(1000 * (perf_counter() - start))
    return found


def emergence() -> Curves:
    """A curve of 97 points in its band, six counts and a limit."""
    days = [day / 4 for day in range(97)]
    curve = [(day, 36 / (1 + (day / 8) ** -6) if day else 0.0) for day in days]
    return Curves(
        Axis("days since sowing", 0, 24, whole=True),
        Axis("seedlings up", 0, 40, whole=True),
        curve,
        [(day, 0.8 * up, 1.1 * up) for day, up in curve],
        [(6, 4), (7, 11), (8, 19), (9, 26), (12, 33), (20, 36)],
        [Limit(40, "40 seeds sown")],
    )


if __name__ == "__main__":
    for count in (24, 500, 5_000):
        compare(count)
    drawing = emergence()
    say("curve, 80 by 20 (limit 3 ms)", timed_ms(lambda: curve_lines(drawing, 80, 20)))
