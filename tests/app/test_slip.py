"""A slip under a line of a list: keys in, drawn text out, nothing typed lost."""

from collections.abc import Mapping
from dataclasses import dataclass

import pytest
from textual.app import App, ComposeResult

from seedstart.app.line_list import LineList
from seedstart.app.slip import ChoiceSlip, Key
from seedstart.app.text_slip import Part, TextSlip, Understood
from seedstart.drawing.lines import Line, Span, plain

SIZE = (80, 24)


@dataclass(frozen=True)
class Tray:
    name: str
    up: int = 0


def line(tray: Tray, _: int) -> Line:
    return (Span(f"{tray.name}, {tray.up} up"),)


def read(texts: Mapping[str, str]) -> Understood:
    """A number up to 50; of fewer than 10 it is asked what became of them."""
    text = texts["how many"]
    number = text.split(" ")[0]
    if not number.isdecimal():
        return Understood(refusal="How many?")
    if int(number) > 50:
        return Understood(refusal="50 stand, not more.", instead="50")
    if int(number) < 10 and " " not in text:
        return Understood(says="What became of them?", letters={"d": "died", "e": "eaten"})
    return Understood(says=f"{text} of 50 into {texts.get('where', '?')}", value=(text,))


class SlipApp(App[None]):
    """A list of trays; what was written and left."""

    def __init__(self, count: int = 5) -> None:
        super().__init__()
        self.trays = [Tray(f"tray {number}") for number in range(count)]
        self.written: list[object] = []
        self.left = 0

    def compose(self) -> ComposeResult:
        yield LineList[Tray](line, key=lambda tray: tray.name)

    def on_mount(self) -> None:
        self.lines.show(self.trays)

    @property
    def lines(self) -> LineList[Tray]:
        return self.query_one(LineList)

    def on_line_list_written(self, event: LineList.Written[Tray]) -> None:
        slip = event.slip
        self.written.append(slip.understood.value if isinstance(slip, TextSlip) else slip)

    def on_line_list_left(self, _: LineList.Left[Tray]) -> None:
        self.left += 1

    def rows(self) -> list[str]:
        strips = self.screen._compositor.render_strips()
        return [strip.text[:-1].rstrip() for strip in strips]

    def lay(self, **more: object) -> TextSlip:
        parts = (Part("how many", says="a number"), Part("where", "where", proposed="shelf"))
        slip = TextSlip(parts, read, **more)  # type: ignore[arg-type]
        self.lines.lay(slip)
        return slip


async def test_a_slip_lies_under_its_line_and_says_what_it_would_write() -> None:
    app = SlipApp()
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("down")
        app.lay().paste("20")
        app.lines.lay_again()
        await pilot.pause()
        assert app.rows()[:5] == [
            " tray 0, 0 up", "▌tray 1, 0 up", "   ▐ 20▏", "   ▐ = 20 of 50 into shelf",
            " tray 2, 0 up",
        ]  # fmt: skip
        await pilot.press("enter")
        assert app.written == [("20",)]
        app.lines.take_off()
        await pilot.pause()
        assert app.rows()[:3] == [" tray 0, 0 up", "▌tray 1, 0 up", " tray 2, 0 up"]


async def test_keys_that_move_elsewhere_stay_in_the_slip() -> None:
    app = SlipApp()
    async with app.run_test(size=SIZE) as pilot:
        app.lay()
        await pilot.press("1", "down", "pagedown", "end", "u", "q")
        assert app.lines.cursor == 0
        assert app.rows()[1] == "   ▐ where  shelfuq▏"
        await pilot.press("up", "5")
        assert app.rows()[1] == "   ▐ 15▏"
        await pilot.click(LineList, offset=(3, 4))
        assert app.lines.cursor == 0


async def test_what_is_proposed_goes_with_the_first_key_or_stays_with_tab() -> None:
    app = SlipApp()
    async with app.run_test(size=SIZE) as pilot:
        slip = app.lay()
        await pilot.press("1", "2", "down", "m", "a", "t")
        assert slip.texts == {"how many": "12", "where": "mat"}
        slip = app.lay()
        await pilot.press("1", "2", "down", "tab", "1")
        assert slip.texts["where"] == "shelf1"


async def test_what_does_not_do_is_said_on_enter_and_nothing_is_lost() -> None:
    app = SlipApp()
    async with app.run_test(size=SIZE) as pilot:
        app.lay()
        await pilot.press("9", "9")
        assert "50 stand" not in "".join(app.rows())
        await pilot.press("enter")
        assert app.rows()[1:3] == ["   ▐ 99▏", "   ▐ 50 stand, not more."]
        assert app.written == []
        await pilot.press("tab", "enter")  # the likelier reading
        assert app.written == [("50",)]


async def test_a_letter_answers_what_is_asked_and_writes() -> None:
    app = SlipApp()
    async with app.run_test(size=SIZE) as pilot:
        slip = app.lay()
        await pilot.press("7")
        assert "d died   e eaten" in "".join(app.rows())
        assert [key.key for key in slip.keys] == ["d e", "⌫", "Esc"]
        await pilot.press("enter")
        assert app.written == []
        await pilot.press("e")
        assert app.written == [("7 eaten",)]


async def test_text_that_was_left_comes_again_on_its_line_alone() -> None:
    app = SlipApp()
    async with app.run_test(size=SIZE) as pilot:
        app.lay()
        await pilot.press("3", "3", "escape")
        assert (app.left, app.lines.slip) == (1, None)
        await pilot.press("down")
        app.lay()
        assert app.rows()[2] != "   ▐ 33▏"
        await pilot.press("escape", "up")
        app.lay()
        await pilot.pause()
        assert app.rows()[1] == "   ▐ 33▏"


async def test_a_slip_goes_with_its_line_and_is_taken_off_where_that_is_gone() -> None:
    app = SlipApp()
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("down")
        app.lay()
        await pilot.press("3", "3")
        app.lines.show([app.trays[2], Tray("tray 1", 4), app.trays[0]])
        await pilot.pause()
        assert app.rows()[1:3] == ["▌tray 1, 4 up", "   ▐ 33▏"]
        app.lines.show([app.trays[0]])
        await pilot.pause()
        assert app.lines.slip is None
        app.lines.show([app.trays[0], Tray("tray 1")])
        await pilot.press("down")
        app.lay()
        await pilot.pause()
        assert app.rows()[2] == "   ▐ 33▏"


async def test_a_slip_in_a_row_is_typed_in_its_column() -> None:
    app = SlipApp()
    async with app.run_test(size=SIZE) as pilot:
        app.lay(column=30)
        await pilot.press("4", "1")
        assert app.rows()[0] == f"{'▌tray 0, 0 up':<30}▐ 41▏"
        assert app.rows()[1] == "   ▐ = 41 of 50 into shelf"


async def test_the_rows_below_do_not_jump_while_one_types() -> None:
    app = SlipApp()
    async with app.run_test(size=SIZE) as pilot:
        app.lay()
        await pilot.press("2", "0")
        before = app.rows().index(" tray 1, 0 up")
        await pilot.press("backspace", "backspace")
        assert app.rows().index(" tray 1, 0 up") == before


async def test_a_slip_on_the_last_line_in_sight_is_seen_whole() -> None:
    app = SlipApp(100)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*["down"] * 23)
        app.lines.scroll_to(y=0, animate=False, force=True)
        await pilot.pause()
        assert app.rows()[-1] == "▌tray 23, 0 up"
        app.lay().paste("20")
        app.lines.lay_again()
        await pilot.pause()
        rows = app.rows()
        whole = ["▌tray 23, 0 up", "   ▐ 20▏", "   ▐ = 20 of 50 into shelf"]
        assert rows[rows.index(whole[0]) :][:3] == whole


async def test_opening_a_slip_draws_no_other_line_anew() -> None:
    app = SlipApp()
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        drawn: list[str] = []
        draw = app.lines._draw_item

        def draw_and_note(tray: Tray, width: int) -> Line:
            drawn.append(tray.name)
            return draw(tray, width)

        app.lines._draw_item = draw_and_note
        app.lay()
        await pilot.press("2")
        assert set(drawn) == {"tray 0"}


@pytest.mark.parametrize("text", ["a" * 200, "胡蘿蔔" * 60])
async def test_long_text_keeps_its_caret_in_sight(text: str) -> None:
    app = SlipApp()
    async with app.run_test(size=SIZE) as pilot:
        slip = app.lay()
        slip.paste(text)
        app.lines.lay_again()
        await pilot.pause()
        row = app.rows()[1]
        assert row.endswith("▏")
        strips = app.screen._compositor.render_strips()
        assert {strip.cell_length for strip in strips} == {80}


async def test_choices_are_walked_and_one_is_done() -> None:
    app = SlipApp()
    async with app.run_test(size=SIZE) as pilot:
        slip = ChoiceSlip(
            lambda _: [plain("It is cold.")], ("plug it in", "move it"), (Key("Enter", "do it"),),
            ("space",),
        )  # fmt: skip
        app.lines.lay(slip)
        await pilot.pause()
        assert app.rows()[1:4] == ["   ▐ It is cold.", "   ▐ ▸ plug it in", "   ▐   move it"]
        await pilot.press("down", "down", "enter")
        assert (slip.chosen, slip.pressed, app.written) == (1, "enter", [slip])
        await pilot.press("space")
        assert slip.pressed == "space"
        await pilot.press("escape")
        assert app.lines.slip is None
