"""Mornings on the round: keys in, lines of the journal and text of the screen out."""

import errno
import json
import re
from datetime import date, datetime
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot

from app_bench import (
    DAY,
    LARGE,
    SMALL,
    journal_lines,
    key_event,
    page,
    rows,
    running,
    sample,
    shown,
    text,
)
from seedstart import disk
from seedstart.app.app import SeedstartApp
from seedstart.app.screens.round_items import Row, Told
from seedstart.app.screens.round_screen import RoundScreen
from seedstart.app.screens.text_screens import WhyScreen
from seedstart.daily.check import Alert
from seedstart.disk import NotRecorded
from seedstart.open_season import OpenSeason
from seedstart.season.journal.entries import BLANK, Counted, Sown, Uncovered, Watered

SIZES = [SMALL, LARGE]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return sample(tmp_path)


def mine(folder: Path) -> list[dict[str, Any]]:
    """What was written by this bench today, after what stood there."""
    lines = [json.loads(line) for line in journal_lines(folder)]
    return [line for line in lines if line["at"].startswith("2026-04-10T12:00")]


def under_cursor(app: SeedstartApp) -> str:
    lines = shown(app, RoundScreen).lines
    return lines.render_line(lines.cursor - lines.scroll_offset.y).text.strip("▌ ")


def slip_rows(app: SeedstartApp) -> list[str]:
    """What the slip says, without its bar."""
    left = (row[:78] if row[78:79] == "│" else row for row in rows(app))  # without the right half
    return [row.split("▐", 1)[1].rstrip("┃ ").strip() for row in left if "▐" in row]


async def go_to(app: SeedstartApp, pilot: Pilot[None], words: str) -> None:
    """The cursor to the first line below it that has these words."""
    for _ in range(60):
        if words in under_cursor(app):
            return
        await pilot.press("down")
    raise AssertionError(words)


async def typed(pilot: Pilot[None], words: str) -> None:
    names = {" ": "space", ",": "comma", ":": "colon", ".": "full_stop", "=": "equals_sign"}
    await pilot.press(*(names.get(sign, sign) for sign in words), "enter")


@pytest.mark.parametrize("size", SIZES)
async def test_the_round_is_home_and_the_cursor_at_the_first_check_to_be_done(
    folder: Path, size: tuple[int, int]
) -> None:
    async with running(folder, size) as (app, _):
        assert under_cursor(app).startswith("·            lift the cover")
        screen = text(app)
        assert re.search(
            r"! north sill 36 d below pepper's 15.6 °C, now 11.4 °C +act now", screen, re.MULTILINE
        )
        assert "last frost 18 May, in 38 days" in rows(app)[0]
        assert rows(app)[0].endswith("3 of 26 done")
        assert "Space lifted" in rows(app)[-2]
        assert max(map(len, rows(app))) <= size[0]


async def test_one_key_ticks_and_the_cursor_goes_on(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        await pilot.press("space")
        assert [line["kind"] for line in mine(folder)] == ["uncovered"]
        assert "✓            cover lifted" in text(app)
        assert "feel the tray" in under_cursor(app)
        await pilot.press("space")
        assert [line["kind"] for line in mine(folder)] == ["uncovered", "watered"]


async def test_the_last_act_is_taken_back_and_restored(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        await pilot.press("space", "u")
        assert "·            lift the cover" in text(app)
        assert "uncovered tray M" in text(app)  # it says what it took back
        await pilot.press("u")
        assert "✓            cover lifted" in text(app)
        assert [line["kind"] for line in mine(folder)] == ["uncovered", "struck", "struck"]


async def test_digits_enter_a_count_where_the_cursor_stands(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        await go_to(app, pilot, "count pea-shoot")
        assert "last 34" in under_cursor(app)
        await pilot.press("3", "5")
        assert slip_rows(app)[0] == "35▏"
        assert "= counted 35 pea-shoot in tray 12, in the cold frame" in slip_rows(app)
        await pilot.press("enter")
        (line,) = mine(folder)
        assert (line["sowing"], line["standing"]) == ("pea-shoot", 35)


async def test_one_key_says_as_many_as_last_time(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        await go_to(app, pilot, "count pea-shoot")
        await pilot.press("equals_sign")
        assert [line["standing"] for line in mine(folder)] == [34]


async def test_a_lower_count_asks_and_a_letter_answers(folder: Path) -> None:
    async with running(folder, LARGE) as (app, pilot):
        await go_to(app, pilot, "count onion-red/2")
        await typed(pilot, "80")
        assert mine(folder) == []
        assert "88 stood, 8 are missing" in text(app)
        assert slip_rows(app)[0] == "80▏"
        assert "d died   e eaten" in slip_rows(app)[2]
        assert rows(app)[-2].startswith(" d e p w what happened")
        await pilot.press("e")
        (line,) = mine(folder)
        assert (line["standing"], line["lost"], line["why"]) == (80, 8, "eaten")


async def test_while_an_answer_is_typed_letters_are_letters(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        await go_to(app, pilot, "prick out those of parsley-flat")
        await pilot.press("space")  # it cannot be ticked: it asks
        await typed(pilot, "30 into tray 40:14, lower shelf")
        lines = mine(folder)
        assert [(line["into"], line["plants"]) for line in lines] == [
            ("parsley-flat.1", 14),
            ("parsley-flat.2", 16),
        ]
        assert page(app) == "round"


async def test_escape_leaves_an_answer(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        await go_to(app, pilot, "count pea-shoot")
        await pilot.press("9", "q", "backspace", "escape")
        assert slip_rows(app) == []
        assert mine(folder) == []
        await pilot.press("enter")  # what was typed comes again
        assert slip_rows(app)[0] == "9▏"
        await pilot.press("escape", "1")  # a digit begins anew
        assert slip_rows(app)[0] == "1▏"


async def test_what_does_not_do_is_said_and_stays(folder: Path) -> None:
    async with running(folder, LARGE) as (app, pilot):
        await go_to(app, pilot, "count pea-shoot")
        await typed(pilot, "1x")
        assert "how many stand now" in slip_rows(app)[1]
        assert slip_rows(app)[0] == "1x▏"
        assert mine(folder) == []


async def test_a_check_is_put_off_till_a_day(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        await go_to(app, pilot, "prick out those of parsley-flat")
        await pilot.press("P")
        await typed(pilot, "saturday")
        (line,) = mine(folder)
        assert (line["kind"], line["until"]) == ("put_off", "2026-04-11")
        assert "·            prick out those of parsley-flat" not in text(app)
        assert "Put off till Sat 11 Apr: prick out parsley-flat." in text(app)


async def test_a_full_disk_leaves_the_line_undone_and_the_text_there(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with running(folder, LARGE) as (app, pilot):
        await go_to(app, pilot, "count pea-shoot")

        def full(*_: object) -> bool:
            raise NotRecorded(folder, OSError(errno.ENOSPC, "No space left on device"))

        with monkeypatch.context() as patch:
            patch.setattr(disk, "append", full)
            await typed(pilot, "35")
            assert "disk is full" in text(app)
            assert under_cursor(app).startswith("· tray 12    count pea-shoot")
            assert slip_rows(app)[0] == "35▏"
            assert mine(folder) == []
        await pilot.press("enter")
        assert [line["standing"] for line in mine(folder)] == [35]


async def test_what_another_did_shows_without_a_restart(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        OpenSeason(folder, "tablet", DAY).record(Uncovered(**BLANK, tray="tray M"))
        app.catch_up()
        await pilot.pause()
        assert "✓            cover lifted" in text(app)
        assert "tablet" in text(app)
        assert [line["kind"] for line in mine(folder)] == []


async def test_the_reasons_stand_beside_and_whole_on_a_page(folder: Path) -> None:
    async with running(folder, LARGE) as (app, pilot):
        assert "4 of 6 are up" in text(app)
        await pilot.press("w")
        assert "common practice, no source" in text(app)
        assert "Its key on the command line: uncover tray M" in text(app)
        await pilot.press("escape", "home", "w")
        assert "Rests on: measured until 07:10" in text(app)


@pytest.mark.parametrize("key", ["p", "5"])
async def test_an_alert_says_that_it_is_not_put_off_or_counted(folder: Path, key: str) -> None:
    async with running(folder) as (app, pilot):
        await pilot.press("home", key)
        assert "not for this line" in text(app) or "takes no number" in text(app)
        assert mine(folder) == []


async def test_an_alert_is_seen(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        await pilot.press("home", "space")
        assert [line["kind"] for line in mine(folder)] == ["checked"]
        assert "plug, thermostat, probe" not in text(app)


async def test_space_on_alerts_goes_from_one_to_the_next_and_stays_after_the_last(
    folder: Path,
) -> None:
    async with running(folder) as (app, pilot):
        await pilot.press("home")
        alerts = []
        while isinstance(alert := shown(app, RoundScreen).lines.item, Alert):
            alerts.append(alert.key)
            await pilot.press("space")
        assert len(alerts) >= 3
        assert [one["check"] for one in mine(folder)] == alerts
        assert re.match(rf"✓ alerts +{len(alerts)} seen", under_cursor(app))
        await pilot.press("space", "space")
        assert len(mine(folder)) == len(alerts), "nothing of the round is ticked by one Space more"
        await pilot.press("down")
        assert isinstance(shown(app, RoundScreen).lines.item, Row)
        await pilot.press("u")
        assert re.search(rf"✓ alerts +{len(alerts) - 1} seen", text(app))


async def test_a_line_of_many_opens_and_one_key_ticks_them_all(folder: Path) -> None:
    opened = OpenSeason(folder, "tablet", DAY)
    opened.record(
        *(
            Sown(**BLANK, sowing=f"cosmos/{number}", lot="cosmos", seeds=9, tray=f"box {number}",
                 station="upper shelf")
            for number in range(2, 30)
        )
    )  # fmt: skip
    async with running(folder, on=None) as (app, pilot):
        # Years later on the clock of this machine: everything is due, and lines are gathered.
        await go_to(app, pilot, "feel them; water what is dry")
        assert re.search(r": [^:]*\bbox ", under_cursor(app)), "no other word than tray is left out"
        before = len(shown(app, RoundScreen).lines.items)
        await pilot.press("enter")
        parts = len(shown(app, RoundScreen).lines.items) - before
        assert parts >= 3
        await pilot.press("enter")
        assert len(shown(app, RoundScreen).lines.items) == before
        await pilot.press("space")
        watered = [json.loads(line) for line in journal_lines(folder)][-parts:]
        assert {line["kind"] for line in watered} == {"watered"}


async def test_the_parts_of_a_line_are_ticked_one_by_one_to_the_last(folder: Path) -> None:
    opened = OpenSeason(folder, "tablet", DAY)
    opened.record(
        *(
            Sown(**BLANK, sowing=f"cosmos/{number}", lot="cosmos", seeds=9, tray=f"box {number}",
                 station="upper shelf")
            for number in range(2, 30)
        )
    )  # fmt: skip
    async with running(folder, on=None) as (app, pilot):
        await go_to(app, pilot, "feel them; water what is dry")
        line = shown(app, RoundScreen).check
        assert line is not None
        await pilot.press("enter", "down", "space", "space")
        done, more = text(app).count("✓              "), f"2 of {len(line.parts)} done"
        assert (done, more in text(app)) == (2, True), "they keep their place in the line"
        await pilot.press(*["space"] * (len(line.parts) - 2))
        watered = [json.loads(one) for one in journal_lines(folder)][-len(line.parts) :]
        assert [one.get("tray") for one in watered] == [part.tray for part in line.parts]


async def test_while_an_answer_is_typed_the_foot_and_the_cursor_are_the_slips(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        await go_to(app, pilot, "count pea-shoot")
        await pilot.press("enter")
        assert rows(app)[-2].startswith(" Enter write it")
        assert "You are typing a count of pea-shoot" in rows(app)[-1]
        await pilot.press("down", "pagedown", "home", "c", "r")
        assert under_cursor(app).startswith("· tray 12    count pea-shoot")
        await pilot.press("escape")
        assert "r ROUND" in rows(app)[-1]
        assert mine(folder) == []


async def test_a_whole_morning_in_about_as_many_keys_as_checks(folder: Path) -> None:
    """Every check of the sample season, its digits typed; nothing is left but what was put off."""
    async with running(folder) as (app, pilot):
        keys = 0
        for _ in range(60):
            check = shown(app, RoundScreen).check
            if check is None or check.done:
                break
            if check.counts:
                await pilot.press("equals_sign")
                keys += 1
            elif check.typed is not None and check.typed.act == "prick out":
                await pilot.press("p")
                keys += 1
            elif check.choices:
                await pilot.press(*check.choices[0].text, "enter")
                keys += 3
            else:
                await pilot.press("space")
                keys += 1
        state = shown(app, RoundScreen).state
        assert state is not None
        left = [check.says for check in state.round.checks if not check.done]
        assert left == []
        # 22 checks to do; three that were put off take two keys, of two counts one is typed.
        assert keys <= 22 + 8
        assert len(mine(folder)) >= 21


async def test_a_morning_away_from_the_list_writes_nothing(folder: Path) -> None:
    before = journal_lines(folder)
    async with running(folder) as (app, pilot):
        await pilot.press("down", "down", "end", "home", "pagedown", "w", "escape", "c", "r", "l")
        await pilot.press("question_mark", "escape", "r")
        assert page(app) == "round"
    assert journal_lines(folder) == before


async def test_a_sowing_counted_elsewhere_while_its_count_is_typed_is_told(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        await go_to(app, pilot, "count pea-shoot")
        await pilot.press("3", "5")
        OpenSeason(folder, "tablet", DAY).record(Counted(**BLANK, sowing="pea-shoot", standing=36))
        app.catch_up()
        await pilot.pause()
        assert "counted: pea-shoot 36" not in text(app)  # it waits
        assert slip_rows(app)[0] == "35▏"
        await pilot.press("enter")
        assert mine(folder) == []  # done already, by another: nothing is written
        assert "tablet did this" in slip_rows(app)[1]
        await pilot.press("escape")
        assert "counted: pea-shoot 36" in text(app)


async def test_watering_a_tray_twice_is_no_second_check(folder: Path) -> None:
    OpenSeason(folder, "tablet", DAY).record(Watered(**BLANK, tray="tray M"))
    async with running(folder) as (app, _):
        assert "✓            watered" in text(app)
        assert "feel the tray" not in text(app)


async def test_enter_opens_the_field_so_that_words_can_be_typed(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        await go_to(app, pilot, "feel the tray")
        await pilot.press("enter")
        await typed(pilot, "moist")
        (line,) = mine(folder)
        assert (line["kind"], line["why"]) == ("put_off", "moist")
        await go_to(app, pilot, "open the sash over pea-shoot")
        await pilot.press("enter")
        await typed(pilot, "held: windy")
        assert mine(folder)[-1]["why"] == "windy"
        assert page(app) == "round"


async def test_the_key_for_as_many_as_last_time_ticks_nothing_else(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        await pilot.press("equals_sign")
        assert mine(folder) == []
        assert "= is for counts" in text(app)


async def test_where_plants_go_is_asked_and_a_tray_that_holds_others_is_told(folder: Path) -> None:
    async with running(folder, LARGE) as (app, pilot):
        await go_to(app, pilot, "prick out those of parsley-flat")
        await pilot.press("space")
        await typed(pilot, "20")
        assert mine(folder) == []
        assert "how many and where to" in " ".join(slip_rows(app))
        await pilot.press(*["backspace"] * 2)
        await typed(pilot, "20 into tray 6")
        assert "tray 6 holds leek-giant too" in text(app)


async def test_more_seedlings_than_seeds_are_kept_and_told(folder: Path) -> None:
    async with running(folder, LARGE) as (app, pilot):
        await go_to(app, pilot, "count pea-shoot")
        await typed(pilot, "40")
        assert [line["standing"] for line in mine(folder)] == [40]
        assert "40 came up of 38 seeds" in text(app)


async def test_a_season_without_lots_says_how_to_get_some(tmp_path: Path) -> None:
    (tmp_path / "season.toml").write_text('timezone = "Europe/Vienna"\n', "utf-8")
    async with running(tmp_path) as (app, pilot):
        assert "Nothing to walk past yet. Two things to say first:" in text(app)
        assert "▌▸ where trays stand" in text(app)
        assert "Enter begin" in text(app)
        await pilot.press("enter")
        assert "New station" in text(app)
        await pilot.press("escape", "down", "enter")
        assert "New lot" in text(app)


async def test_no_click_and_no_enter_ticks_a_line_that_holds_nothing(folder: Path) -> None:
    """It opens the reasons, as `w` does: what a key writes stands in the foot."""
    async with running(folder) as (app, pilot):
        lines = shown(app, RoundScreen).lines
        await go_to(app, pilot, "lift the cover")
        await pilot.press("enter")
        assert isinstance(app.screen, WhyScreen)
        await pilot.press("escape")
        at = (20, lines.cursor - lines.scroll_offset.y)
        for _ in range(2):
            await pilot.click("#lines", offset=at)
            await pilot.pause()
        assert isinstance(app.screen, WhyScreen)
        assert mine(folder) == []


async def test_a_sowing_goes_to_the_station_that_its_line_names_with_two_enters(
    folder: Path,
) -> None:
    opened = OpenSeason(folder, "tablet", DAY)
    opened.record(
        Sown(**BLANK, sowing="cosmos/2", lot="cosmos", seeds=9, tray="box 2", station="heat mat"),
        at=datetime(2026, 3, 20, 8, tzinfo=opened.zone),
    )
    opened.record(
        Counted(**BLANK, sowing="cosmos/2", standing=8),
        at=datetime(2026, 4, 8, 8, tzinfo=opened.zone),
    )
    async with running(folder) as (app, pilot):
        await pilot.press("end")
        screen = shown(app, RoundScreen)
        at = next(
            row
            for row, item in enumerate(screen.lines.items)
            if isinstance(item, Row) and item.check.what == "move to light"
            and item.check.tray == "box 2"
        )  # fmt: skip
        screen.lines.cursor = at
        await pilot.press("enter")
        assert slip_rows(app)[0] == "upper shelf▏"
        await pilot.press("enter")
        (moved,) = mine(folder)
        assert (moved["kind"], moved["tray"], moved["station"]) == (
            "moved", "box 2", "upper shelf",
        )  # fmt: skip


async def test_pricking_out_has_its_likeliest_answer_filled_in(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        await go_to(app, pilot, "prick out those of parsley-flat")
        await pilot.press("enter")
        assert slip_rows(app)[0] == "22 into 26▏"  # 20 are wanted, two to spare; 25 trays so far
        assert "= 22 of 34 parsley-flat: tray 26 (22), new, on the lower shelf" in slip_rows(app)[1]
        assert "next part: station, container, when" in rows(app)[-2]
        await pilot.press("down", *"upp", "tab", "enter")
        (line,) = mine(folder)
        assert (line["plants"], line["tray"], line["station"]) == (22, "tray 26", "upper shelf")
        assert "Pricked out 22 parsley-flat into tray 26, on the upper shelf" in text(app)


async def test_plants_go_to_several_trays_by_their_bare_numbers(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        await go_to(app, pilot, "prick out those of parsley-flat")
        await typed(pilot, "20 into 40, 14 into 41 at upper shelf")
        lines = [(one["plants"], one["tray"], one["station"]) for one in mine(folder)]
        assert lines == [(20, "tray 40", "upper shelf"), (14, "tray 41", "upper shelf")]


async def test_before_plants_go_into_a_tray_that_holds_others_it_is_said(folder: Path) -> None:
    async with running(folder, LARGE) as (app, pilot):
        await go_to(app, pilot, "prick out those of parsley-flat")
        await pilot.press("enter", *"20", "space", *"into", "space", "6")
        assert "tray 6 already holds leek-giant, tray" in " ".join(slip_rows(app))
        assert mine(folder) == []


async def test_a_count_of_today_is_typed_again_as_one_act(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        await go_to(app, pilot, "counted: lavender 19")
        assert "0-9 count it again" in rows(app)[-2]
        await typed(pilot, "21")
        struck, count = mine(folder) or [json.loads(one) for one in journal_lines(folder)[-2:]]
        assert (struck["kind"], count["kind"], count["standing"]) == ("struck", "counted", 21)
        assert struck["act"] == count["act"]
        assert app.opened is not None
        assert app.opened.records().by_name_in_line("lavender").standing == 21  # type: ignore[union-attr]
        await pilot.press("u")
        assert app.opened.records().by_name_in_line("lavender").standing == 19  # type: ignore[union-attr]


async def test_a_tray_of_six_is_counted_sowing_by_sowing(folder: Path) -> None:
    async with running(folder, on=date(2026, 4, 11)) as (app, pilot):
        await go_to(app, pilot, "its 6 sowings")
        await pilot.press("enter")
        assert under_cursor(app).startswith("·              aubergine")
        await pilot.press("0", "enter")  # a look
        assert under_cursor(app).startswith("·              basil-broad")
        await pilot.press("equals_sign")
        assert under_cursor(app).startswith("·              celeriac")
        await pilot.press("3", "1")
        assert re.search(r"celeriac +45 sown +last 33 +▐ 31▏", text(app))
        assert "What happened?" in slip_rows(app)[1]
        assert rows(app)[-2].startswith(" d e p w what happened")
        await pilot.press("p")
        lines = [json.loads(one) for one in journal_lines(folder)[-4:]]
        assert [one["kind"] for one in lines] == ["counted", "counted", "thinned", "counted"]
        assert [one.get("plants") for one in lines] == [None, None, 2, None]
        assert lines[2]["act"] == lines[3]["act"]
        assert under_cursor(app).startswith("·              parsley-flat")
        assert re.search(r"✓ +celeriac +45 sown +31", text(app))
        await pilot.press("u")
        assert re.search(r"· +celeriac +45 sown +last 33", text(app))


async def test_what_can_be_done_about_an_alert_opens_under_it(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        await pilot.press("home", "down", "down", "enter")
        assert "▸ Lift it" in slip_rows(app)
        assert rows(app)[-2].startswith(" Enter do it, and write it")
        await pilot.press("enter")
        assert [one["kind"] for one in mine(folder)] == ["uncovered", "checked"]
        assert "cover still on" not in text(app)
        await pilot.press("u")
        await pilot.press("home", "enter", "down", "enter")
        note, seen = mine(folder)[-2:]
        assert (note["kind"], note["station"], seen["kind"]) == ("noted", "heat mat", "checked")
        assert "Unplug a mat" in note["text"].capitalize()


async def test_a_line_of_many_trays_says_the_word_once(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        await go_to(app, pilot, "feel them")
        assert re.search(r"3 trays +feel them; water what is dry: 10, 14, 21 ", under_cursor(app))


async def test_a_space_held_down_ticks_once(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        await pilot.press("down", "up")
        for _ in range(5):
            held = key_event("space")
            held.time = pilot._pressed_at
            pilot._pressed_at += 0.03
            app.post_message(held)
            await pilot.settled()
        assert len(mine(folder)) == 1


async def test_the_morning_of_10_april_takes_at_most_60_keys(folder: Path) -> None:
    """All of it, digits and words too; what is to be pricked out is, with the answers filled in."""
    async with running(folder) as (app, pilot):
        keys, screen = 0, shown(app, RoundScreen)
        for _ in range(60):
            check = screen.check
            if check is None or check.done:
                break
            if check.choices:
                press = ["enter", *check.choices[0].text, "enter"]
            elif check.counts and check.tick is None:
                press = ["equals_sign"]
            elif check.has_to_be_typed:
                press = ["enter", "enter"]
            else:
                press = ["space"]
            keys += len(press)
            await pilot.press(*press)
        assert screen.state is not None
        assert [one.says for one in screen.state.round.checks if not one.done] == []
        pricked = [one for one in mine(folder) if one["kind"] == "pricked_out"]
        assert len(pricked) >= 2
        assert keys <= 60


async def test_a_moved_tray_leaves_two_on_the_mat(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        await go_to(app, pilot, "move to the upper shelf")
        await pilot.press("enter")
        assert slip_rows(app)[:2] == ["▸ · aubergine, not up", "x basil-broad, 31 up"]
        assert "= 4 of 6 go to the upper shelf; aubergine and pepper-long stay" in slip_rows(app)
        await pilot.press("enter")
        moved = mine(folder)
        assert {one["kind"] for one in moved} == {"moved"}
        assert {one["sowing"] for one in moved} == {
            "basil-broad", "celeriac", "parsley-flat", "tomato-plum",
        }  # fmt: skip
        assert app.opened is not None
        records = app.opened.records()
        at = {name: records.station_of(records.by_name_in_line(name).id)  # type: ignore[union-attr]
              for name in ("aubergine", "pepper-long", "celeriac")}  # fmt: skip
        assert at == {"aubergine": "heat mat", "pepper-long": "heat mat", "celeriac": "upper shelf"}


async def test_after_ten_days_away_what_cannot_wait_comes_first(folder: Path) -> None:
    for path in (folder / "journal").glob("*.jsonl"):
        lines = path.read_text("utf-8").splitlines(keepends=True)
        kept = [line for line in lines if str(json.loads(line).get("at", "")) < "2026-04-11"]
        path.write_text("".join(kept), "utf-8")
    async with running(folder, on=date(2026, 4, 21)) as (app, pilot):
        assert "! Nothing was written from Sat 11 Apr to Mon 20 Apr." in text(app)
        assert "first, whatever the station" in text(app)
        assert re.search(r"▸ \d+ trays +feel them; water what is dry", under_cursor(app))
        before = len(journal_lines(folder))
        await pilot.press("space")
        watered = [json.loads(one) for one in journal_lines(folder)[before:]]
        assert {one["kind"] for one in watered} == {"watered"}
        assert len(watered) > 3
        await pilot.press("home", "space")
        assert "Nothing was written" not in text(app)
        assert "first, whatever the station" in text(app)


async def test_when_all_is_done_it_says_when_to_bring_in_and_what_tomorrow_brings(
    folder: Path,
) -> None:
    async with running(folder) as (app, pilot):
        screen = shown(app, RoundScreen)
        assert "Tomorrow, " not in text(app)
        out = False
        for _ in range(40):
            if screen.check is None or screen.check.done:
                break
            hardens = screen.check.what == "harden" and not out
            await pilot.press("space" if hardens else "p")
            out = out or hardens
        said = [one.text for one in screen.lines.items if isinstance(one, Told)]
        assert [one["tray"] for one in mine(folder) if one["kind"] == "hardened"] == ["tray 23"]
        assert said[-3:] == [
            "Bring in tray 23 at 16:00.",
            "Tomorrow, Sat 11 Apr: prick out lavender, marigold-fair.",
            "Tomorrow, Sat 11 Apr: sow pak-choi.",
        ]


async def test_the_round_is_never_just_done_while_something_is_to_act_on_now(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        screen = shown(app, RoundScreen)
        for _ in range(40):
            if screen.check is None or screen.check.done:
                break
            await pilot.press("p")
        assert "That is the round: 3 lines, " in text(app)
        assert "Still to act on now: heat mat and north sill." in text(app)
        assert rows(app)[0].endswith("3 of 3 done")
