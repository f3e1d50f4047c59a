"""The quick list at 80×24: keys in, drawn text out."""

from collections.abc import Sequence
from dataclasses import dataclass

import pytest
from rich.color import Color
from rich.style import Style
from textual.app import App, ComposeResult
from textual.strip import Strip

from seedstart.app.drawn_lines import CURSOR
from seedstart.app.line_list import LineList
from seedstart.app.slip_lines import NOWHERE
from seedstart.drawing.lines import Line, Span

SIZE = (80, 24)


@dataclass(frozen=True)
class Check:
    key: str
    text: str
    heading: bool = False


def draw_check(check: Check, _: int) -> Line:
    return (Span(check.text, "heading" if check.heading else "plain"),)


class ListApp(App[None]):
    """A list that fills the screen, and a note of what it posted and drew."""

    def __init__(self, items: Sequence[Check], *, ansi_color: bool | None = None) -> None:
        super().__init__(ansi_color=ansi_color)
        self.first = items
        self.drawn: list[str] = []
        self.highlighted: list[str] = []
        self.chosen: list[str] = []

    def compose(self) -> ComposeResult:
        yield LineList[Check](
            self.draw_and_note,
            selectable=lambda check: not check.heading,
            key=lambda check: check.key,
        )

    def draw_and_note(self, check: Check, width: int) -> Line:
        self.drawn.append(check.text)
        return draw_check(check, width)

    def on_mount(self) -> None:
        self.lines.show(self.first)

    @property
    def lines(self) -> LineList[Check]:
        return self.query_one(LineList)

    def on_line_list_highlighted(self, event: LineList.Highlighted[Check]) -> None:
        self.highlighted.append(event.item.key)

    def on_line_list_chosen(self, event: LineList.Chosen[Check]) -> None:
        assert event.control is self.lines
        self.chosen.append(event.item.key)

    def strips(self) -> list[Strip]:
        return self.screen._compositor.render_strips()

    def rows(self) -> list[str]:
        """What is on the screen, the columns of the cursor and of the scroll bar aside."""
        return [strip.text[1:-1].rstrip() for strip in self.strips()]

    def reversed_rows(self) -> list[str]:
        """The text of the rows on a ground of their own: where the cursor is seen."""
        ground = self.screen.styles.background.rich_color
        return [
            strip.text[1:-1].rstrip()
            for strip in self.strips()
            if any(
                segment.style and (segment.style.reverse or segment.style.bgcolor != ground)
                for segment in strip.crop(0, 79)
            )
        ]


def checks(count: int) -> list[Check]:
    """A heading, then checks."""
    return [
        Check("shelf", "upper shelf", heading=True),
        *(Check(f"c{n}", f"water tray {n}") for n in range(1, count + 1)),
    ]


async def test_the_cursor_begins_on_the_first_check_not_on_its_heading() -> None:
    app = ListApp(checks(3))
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        assert app.rows()[:4] == ["upper shelf", "water tray 1", "water tray 2", "water tray 3"]
        assert app.reversed_rows() == ["water tray 1"]
        assert app.highlighted == ["c1"]


async def test_arrows_pass_over_headings_and_stop_at_the_ends() -> None:
    items = [*checks(1), Check("mat", "heat mat", heading=True), Check("m1", "count leek")]
    app = ListApp(items)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("up", "down")
        assert app.lines.item == items[3]
        await pilot.press("down", "enter")
        assert app.chosen == ["m1"]
        await pilot.press("up", "enter")
        assert app.chosen == ["m1", "c1"]


@pytest.mark.parametrize(
    ("keys", "lands_on", "first_row"),
    [
        (("end",), "c100", "water tray 77"),
        (("end", "home"), "c1", "upper shelf"),
        (("pagedown",), "c24", "water tray 3"),  # 24 rows, one less a page; two more in sight
        (("pagedown", "down"), "c25", "water tray 4"),
        (("pagedown", *("up",) * 19), "c5", "water tray 3"),
        (("pagedown", *("up",) * 20), "c4", "water tray 2"),
        (("pagedown", "pageup"), "c1", "upper shelf"),
        (("end", "pageup"), "c77", "water tray 75"),
    ],
)
async def test_long_lists_scroll_with_the_cursor(
    keys: tuple[str, ...], lands_on: str, first_row: str
) -> None:
    app = ListApp(checks(100))
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*keys)
        await pilot.pause()
        assert app.lines.item is not None
        assert app.lines.item.key == lands_on
        assert app.rows()[0] == first_row
        assert app.reversed_rows() == [f"water tray {lands_on[1:]}"]


async def test_only_rows_in_sight_are_drawn_at_all() -> None:
    app = ListApp(checks(5_000))
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        assert set(app.drawn) == {"upper shelf", *(f"water tray {n}" for n in range(1, 24))}


async def test_a_tick_draws_one_row_of_five_thousand() -> None:
    items = checks(5_000)
    app = ListApp(items)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("down")
        await pilot.pause()
        app.drawn.clear()
        app.lines.show([*items[:2], Check("c2", "done: water tray 2"), *items[3:]])
        await pilot.pause()
        assert app.drawn == ["done: water tray 2"]
        assert app.rows()[2] == "done: water tray 2"


async def test_equal_but_new_objects_are_drawn_and_the_same_objects_are_not() -> None:
    items = checks(3)
    app = ListApp(items)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        app.drawn.clear()
        app.lines.show(list(items))
        await pilot.pause()
        assert app.drawn == []
        app.lines.show([*items[:3], Check("c3", "water tray 3")])
        await pilot.pause()
        assert app.drawn == ["water tray 3"]


async def test_moving_the_cursor_draws_two_rows() -> None:
    app = ListApp(checks(10))
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        app.drawn.clear()
        await pilot.press("down")
        await pilot.pause()
        assert sorted(app.drawn) == ["water tray 1", "water tray 2"]


async def test_the_cursor_stays_with_its_check_when_one_above_is_gone() -> None:
    items = checks(5)
    app = ListApp(items)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("down", "down")
        app.lines.show([items[0], *items[2:]])
        await pilot.pause()
        assert app.reversed_rows() == ["water tray 3"]
        assert app.rows()[:5] == ["upper shelf", *(f"water tray {n}" for n in range(2, 6))]


async def test_the_cursor_stays_on_its_row_when_its_check_is_gone() -> None:
    items = checks(5)
    app = ListApp(items)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("down", "down")
        app.lines.show([*items[:3], *items[4:]])
        await pilot.pause()
        assert app.reversed_rows() == ["water tray 4"]
        app.lines.show(items[:3])
        await pilot.pause()
        assert app.reversed_rows() == ["water tray 2"]
        app.lines.show([])
        await pilot.pause()
        assert app.lines.cursor == NOWHERE
        assert set(app.rows()) == {""}


async def test_a_click_moves_the_cursor_and_a_second_one_chooses() -> None:
    app = ListApp(checks(5))
    async with app.run_test(size=SIZE) as pilot:
        await pilot.click(LineList, offset=(3, 4))
        assert app.reversed_rows() == ["water tray 4"]
        assert app.chosen == []
        await pilot.click(LineList, offset=(3, 0))
        assert app.reversed_rows() == ["water tray 4"]
        await pilot.double_click(LineList, offset=(3, 2))
        assert app.chosen == ["c2"]
        await pilot.click(LineList, offset=(3, 3))
        await pilot.pause(0.6)  # far too long for a double click
        assert app.chosen == ["c2"]
        await pilot.click(LineList, offset=(3, 3))
        assert app.chosen == ["c2", "c3"]


async def test_a_click_in_a_scrolled_list_finds_the_row_under_it() -> None:
    app = ListApp(checks(100))
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("end")
        await pilot.click(LineList, offset=(3, 5))
        assert app.reversed_rows() == ["water tray 82"]


async def test_names_are_text_and_wide_letters_keep_the_width() -> None:
    names = ["[red]no[/red]", "[/]", "胡蘿蔔" * 20, "é" * 200]
    app = ListApp([Check(name, name) for name in names])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        rows = app.rows()
        assert rows[0] == "[red]no[/red]"
        assert rows[1] == "[/]"
        assert rows[2].startswith("胡蘿蔔胡蘿蔔")
        assert rows[2].endswith("…")
        assert rows[3] == "é" * 77 + "…"
        assert {strip.cell_length for strip in app.strips()} == {80}


async def test_cut_blanks_leave_no_sign_of_a_cut() -> None:
    app = ListApp([Check("a", "leek".ljust(99)), Check("b", "x" * 99)])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        assert app.rows()[0] == "leek"
        assert app.rows()[1] == "x" * 77 + "…"


async def test_a_list_without_anything_to_choose_scrolls() -> None:
    app = ListApp([Check(str(n), f"line {n}", heading=True) for n in range(50)])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("down", "down", "enter")
        assert app.rows()[0] == "line 2"
        await pilot.press("pagedown")
        assert app.rows()[0] == "line 25"
        await pilot.press("end", "up")
        assert app.rows()[0] == "line 25"
        assert app.lines.cursor == NOWHERE
        assert app.chosen == []


async def test_a_lower_window_keeps_the_cursor_in_sight() -> None:
    app = ListApp(checks(30))
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*["down"] * 20)
        await pilot.resize_terminal(80, 10)
        await pilot.pause()
        assert app.reversed_rows() == ["water tray 21"]


async def test_another_theme_and_the_focus_are_seen_at_once() -> None:
    app = ListApp(checks(3))
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        dark = {segment.style for segment in app.strips()[2].crop(0, 79)}
        app.theme = "textual-light"
        await pilot.pause()
        light = {segment.style for segment in app.strips()[2].crop(0, 79)}
        assert not dark & light
        app.screen.set_focus(None)
        await pilot.pause()
        assert app.reversed_rows() == []
        marked = [strip.text[1:-1].rstrip() for strip in app.strips() if strip.text[0] == CURSOR]
        assert marked == ["water tray 1"]  # where the cursor comes back to


async def test_the_cursor_is_seen_without_colour(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    app = ListApp(checks(3), ansi_color=True)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("down")
        assert app.reversed_rows() == ["water tray 2"]
        colours = {
            colour
            for strip in app.strips()
            for segment in strip
            for style in [segment.style or Style.null()]
            for colour in (style.color, style.bgcolor)
        }
        assert colours <= {None, Color.default()}


async def test_rows_that_move_up_are_not_drawn_anew_till_they_are_to_say_something_else() -> None:
    app, late = ListApp(checks(9)), ["today"]
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        lines = app.lines
        lines._draw_item = lambda check, _: (Span(f"{check.text} {late[0]}", "plain"),)
        late[0] = "1 day late"
        lines.show((lines.items[0], *lines.items[2:]))  # one is done: the others close up
        await pilot.pause()
        assert app.rows()[3] == "water tray 4"
        lines.draw_again()
        await pilot.pause()
        assert app.rows()[3] == "water tray 4 1 day late"
