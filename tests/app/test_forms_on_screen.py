"""Forms at 80×24: keys in, what is written out; what is wrong is seen at its field."""

from pathlib import Path
from typing import Any

import pytest
from msgspec import structs

from form_host import SIZE, Host, desk, opened_form, plain, put, season_in, typed, write
from seedstart.app.forms.field_row import FieldRow
from seedstart.app.forms.form_services import Written
from seedstart.open_season import OpenSeason
from seedstart.season.journal.entries import BLANK, Counted, Finished, Sown


@pytest.fixture
def season(tmp_path: Path) -> OpenSeason:
    return season_in(tmp_path)


def lines(season: OpenSeason, name: str) -> list[dict[str, Any]]:
    """What the journal has of a sowing, without the stamps."""
    return plain(season.journal.of["sowing", name])


async def test_a_count_is_two_digits_and_one_key(season: OpenSeason) -> None:
    async with Host().run_test(size=SIZE) as pilot:
        await opened_form(pilot, season, "count", ("tray", "tray 5"))
        await typed(pilot, "44", "<ctrl+s>")
        assert lines(season, "leek")[-1] == {"kind": "Counted", "sowing": "leek", "standing": 44}
        assert isinstance(pilot.app, Host)
        (left,) = pilot.app.left_with
        assert isinstance(left, Written)
        assert plain(left.drafts) == lines(season, "leek")[-1:]
        assert left.at is None


async def test_enter_goes_on_and_on_the_last_field_writes(season: OpenSeason) -> None:
    async with Host().run_test(size=SIZE) as pilot:
        await opened_form(pilot, season, "lose", ("sowing", "leek"))
        await typed(pilot, "3", "<enter>", "slugs", "<enter>", "yesterday 18:00")
        assert len(lines(season, "leek")) == 2
        await typed(pilot, "<enter>")
        lost = season.journal.of["sowing", "leek"][-1]
        assert plain([lost]) == [{"kind": "Lost", "sowing": "leek", "plants": 3, "why": "slugs"}]
        assert lost.at.isoformat() == "2027-03-19T18:00:00+01:00"


async def test_a_beginning_is_enough_for_a_name(season: OpenSeason) -> None:
    async with Host().run_test(size=SIZE) as pilot:
        form = await opened_form(pilot, season, "sow")
        await typed(pilot, "pep", "<tab>")
        assert form.texts["lot"] == "pepper-long"
        assert form.texts["station"] == "mat"  # the lot's own
        await typed(pilot, "12", "<tab>", "sh", "<tab>", "tray 7", "<ctrl+s>")
        made = lines(season, "pepper-long/2")[0]
        assert (made["seeds"], made["station"], made["tray"]) == (12, "shelf", "tray 7")


async def test_a_beginning_that_two_names_have_is_never_taken_for_one(season: OpenSeason) -> None:
    for name in ("bean/2", "bean/3"):
        write(season, "03-16 09:00", Sown(**BLANK, sowing=name, lot="sweet-pea", seeds=9))
    async with Host().run_test(size=SIZE) as pilot:
        host = pilot.app
        assert isinstance(host, Host)
        form = await opened_form(pilot, season, "lose")
        await typed(pilot, "bean", "<tab>", "1", "<ctrl+s>")
        assert form.texts["sowing"] == "bean"
        assert "Found 'bean'" in host.said()
        assert not host.left_with


async def test_what_is_wrong_is_said_under_its_field_and_nothing_is_written(
    season: OpenSeason,
) -> None:
    async with Host().run_test(size=SIZE) as pilot:
        host = pilot.app
        assert isinstance(host, Host)
        form = await opened_form(pilot, season, "count")
        await typed(pilot, "leak")
        assert "Found 'leak', allowed: leek, pepper-long. Nearest: leek." in host.said()
        rows = [row.rstrip() for row in host.said().splitlines()]
        under = next(at for at, row in enumerate(rows) if "Found 'leak'" in row)
        assert "Sowing" in rows[under - 1]
        await typed(pilot, "<tab>", "x", "<ctrl+s>")
        assert host.screen is form
        assert form.query_one("#field-sowing", FieldRow).input.has_focus  # the first fault
        assert form.texts["standing"] == "x"
        assert len(lines(season, "leek")) == 2
        assert not host.left_with


async def test_what_is_missing_is_a_fault_only_when_one_tries_to_write(season: OpenSeason) -> None:
    async with Host().run_test(size=SIZE) as pilot:
        host = pilot.app
        assert isinstance(host, Host)
        await opened_form(pilot, season, "note")
        assert "It is missing" not in host.said()
        await typed(pilot, "<ctrl+s>")
        assert "It is missing: a word or two." in host.said()


async def test_a_name_on_its_way_is_no_fault_yet(season: OpenSeason) -> None:
    async with Host().run_test(size=SIZE) as pilot:
        host = pilot.app
        assert isinstance(host, Host)
        await opened_form(pilot, season, "count")
        await typed(pilot, "l")
        assert "Found 'l" not in host.said()
        await typed(pilot, "x")
        assert "Found 'lx'" in host.said()


async def test_the_form_says_what_is_known_and_what_it_would_write(season: OpenSeason) -> None:
    async with Host().run_test(size=SIZE) as pilot:
        host = pilot.app
        assert isinstance(host, Host)
        await opened_form(pilot, season, "count", ("sowing", "leek"))
        assert "last time: 40 on Mon 15 Mar 2027; 40 stand" in host.said()
        await typed(pilot, "44")
        assert "counted leek: 44 standing, now" in host.said()
        await typed(pilot, "<ctrl+u>", "61")
        assert "more than the 60 seeds sown" in host.said()
        await typed(pilot, "<up>")
        assert "60 seeds, 40 stand, tray 5, shelf" in host.said()


async def test_escape_leaves_and_writes_nothing(season: OpenSeason) -> None:
    async with Host().run_test(size=SIZE) as pilot:
        host = pilot.app
        assert isinstance(host, Host)
        await opened_form(pilot, season, "count", ("sowing", "leek"))
        await typed(pilot, "44", "<escape>")
        assert host.left_with == [None]
        assert len(lines(season, "leek")) == 2


async def test_a_disk_that_refuses_leaves_the_form_with_all_that_was_typed(
    season: OpenSeason,
) -> None:
    full = structs.replace(
        desk(season), write=lambda _drafts, _at: "Not recorded: the disk is full."
    )
    async with Host().run_test(size=SIZE) as pilot:
        host = pilot.app
        assert isinstance(host, Host)
        form = await opened_form(pilot, season, "count", ("sowing", "leek"), full)
        await typed(pilot, "37", "<tab>", "slugs", "<tab>", "<tab>", "7:15", "<ctrl+s>")
        assert "Not recorded: the disk is full." in host.said()
        assert host.screen is form
        kept = {key: text for key, text in form.texts.items() if text}
        assert kept == {"sowing": "leek", "standing": "37", "gone": "slugs", "at": "7:15"}
        await typed(pilot, "<backspace>")
        assert "Not recorded" not in host.said()  # something is another: it may be tried again
        assert not host.left_with


async def test_a_file_that_cannot_be_written_says_so_in_words(season: OpenSeason) -> None:
    journal = season.folder / "journal" / "bench.jsonl"
    journal.rename(journal.with_suffix(".kept"))
    journal.mkdir()  # nobody can write there, root neither
    said = desk(season).write((Counted(**BLANK, sowing="leek", standing=41),), None)
    assert said is not None
    assert "t is a folder and no file" in said


async def test_a_sowing_finished_elsewhere_while_its_form_is_open(season: OpenSeason) -> None:
    async with Host().run_test(size=SIZE) as pilot:
        host = pilot.app
        assert isinstance(host, Host)
        form = await opened_form(pilot, season, "give away", ("sowing", "leek"))
        await typed(pilot, "6", "<tab>", "Ana")
        phone = OpenSeason(season.folder, "phone", season.on)
        write(phone, "03-20 09:00", Finished(**BLANK, sowing="leek"))
        await typed(pilot, "<ctrl+s>")
        assert "It has been over since Sat 20 Mar 2027" in host.said()
        assert (form.texts["plants"], form.texts["to"]) == ("6", "Ana")
        assert lines(season, "leek")[-1]["kind"] == "Finished"


async def test_the_disk_is_asked_once_however_often_the_key_comes(season: OpenSeason) -> None:
    async with Host().run_test(size=SIZE) as pilot:
        form = await opened_form(pilot, season, "count", ("sowing", "leek"))
        await typed(pilot, "44")
        form.action_write()
        form.action_write()
        await pilot.pause()
        assert [line.get("standing") for line in lines(season, "leek")] == [None, 40, 44]


async def test_a_default_follows_until_something_is_typed_there(season: OpenSeason) -> None:
    async with Host().run_test(size=SIZE) as pilot:
        form = await opened_form(pilot, season, "sow", ("lot", "pepper-long"))
        assert form.texts["station"] == "mat"
        await typed(pilot, "9", "<tab>", "sill", "<up>", "<up>", "sweet-pea")
        assert form.texts["lot"] == "sweet-pea"
        assert form.texts["station"] == "sill"
        await typed(pilot, "<tab>", "<tab>", "<backspace>")
        assert form.texts["station"] == ""  # emptied by hand: it stays empty


async def test_a_new_moment_counts_while_a_form_stays_open(season: OpenSeason) -> None:
    now = season.now().replace(hour=8, minute=0)
    later = now.replace(hour=9)
    moments = iter([now] * 40 + [later] * 400)
    moved = structs.replace(
        desk(season), look=lambda: structs.replace(desk(season).look(), now=next(moments))
    )
    async with Host().run_test(size=SIZE) as pilot:
        form = await opened_form(pilot, season, "water", ("tray", "tray 5"), moved)
        await typed(pilot, "<tab>", "<tab>", "8:30")
        for _ in range(40):
            form.look()
        filled = form.check()
        assert filled.at is not None
        assert (filled.at.hour, filled.at.minute) == (8, 30)


async def test_the_longest_form_keeps_its_keys_in_sight_with_faults_in_it(
    season: OpenSeason,
) -> None:
    async with Host().run_test(size=SIZE) as pilot:
        host = pilot.app
        assert isinstance(host, Host)
        form = await opened_form(pilot, season, "new lot")
        wrong = {"name": "a/2", "crop": "kql", "want": "many", "station": "x", "then": "y"}
        more = {"container": "z", "have": "3", "germination": "9", "harvested": "9"}
        await put(pilot, form, **wrong, **more)
        await typed(pilot, "<ctrl+s>")
        shown = host.text()
        assert "ctrl+s write" in shown
        assert "Found 'a/2'" in shown  # the first fault was gone to


async def test_it_can_be_read_without_colour_and_in_a_small_terminal(season: OpenSeason) -> None:
    async with Host(colours=False).run_test(size=(60, 16)) as pilot:
        host = pilot.app
        assert isinstance(host, Host)
        await opened_form(pilot, season, "count", ("sowing", "leek"))
        await typed(pilot, "x")
        assert "✗ Found 'x'. How many stand now" in host.said()
        assert "ctrl+s write" in host.said()
        reversed_text = "".join(
            segment.text
            for strip in host.screen._compositor.render_strips()
            for segment in strip
            if segment.style and segment.style.reverse
        )
        assert "Standing" in reversed_text  # where one is


HOSTILE = "\x1b[31m[red]x\u202e\x07 \x9b2J"


async def test_pasted_text_and_foreign_names_come_through_as_plain_text(
    season: OpenSeason,
) -> None:
    write(season, "03-05 09:00", Sown(**BLANK, sowing="[bold]x[/", lot="leek", seeds=5))
    async with Host().run_test(size=SIZE) as pilot:
        host = pilot.app
        assert isinstance(host, Host)
        form = await opened_form(pilot, season, "note", ("sowing", "[bold]x[/"))
        row = form.query_one("#field-text", FieldRow)
        row.input.replace(HOSTILE, 0, 0)
        await pilot.pause()
        assert form.texts["text"] == "[red]x "
        assert "[bold]x[/" in host.said()
        assert "noted [bold]x[/: [red]x, now" in host.said()
        await typed(pilot, "<ctrl+s>")
        noted = season.journal.of["sowing", "[bold]x[/"][-1]
        assert plain([noted])[0]["text"] == "[red]x"


async def test_a_question_is_asked_once_and_the_same_key_again_writes_it(
    season: OpenSeason,
) -> None:
    write(season, "03-19 08:00", Counted(**BLANK, sowing="leek", standing=40))
    async with Host().run_test(size=SIZE) as pilot:
        host = pilot.app
        assert isinstance(host, Host)
        form = await opened_form(pilot, season, "lose", ("sowing", "leek"))
        await typed(pilot, "50", "<ctrl+s>")
        assert "40 stood on Fri 19 Mar 2027, not 50" in host.said()
        assert "The same key again, if it is so." in host.said()
        await typed(pilot, "<backspace>", "1", "<ctrl+s>")  # other texts: it is asked again
        assert host.screen is form
        assert "Lost" not in {line["kind"] for line in lines(season, "leek")}
        await typed(pilot, "<ctrl+s>")
        assert lines(season, "leek")[-1] == {"kind": "Lost", "sowing": "leek", "plants": 51}


async def test_a_fault_is_no_question_however_often_the_key_comes(season: OpenSeason) -> None:
    async with Host().run_test(size=SIZE) as pilot:
        form = await opened_form(pilot, season, "lose", ("sowing", "leek"))
        await typed(pilot, "x", "<ctrl+s>", "<ctrl+s>", "<ctrl+s>")
        assert pilot.app.screen is form
        assert "Lost" not in {line["kind"] for line in lines(season, "leek")}


async def test_what_is_seldom_said_comes_below_the_time(season: OpenSeason) -> None:
    async with Host().run_test(size=SIZE) as pilot:
        host = pilot.app
        assert isinstance(host, Host)
        form = await opened_form(pilot, season, "count", ("sowing", "leek"))
        assert "Abnormal" not in host.said()
        await typed(pilot, "44", "<down>", "<down>", "<down>", "<down>")
        assert "Abnormal" in host.said()
        assert form.query_one("#field-lost", FieldRow).input.has_focus
        await typed(pilot, "<down>", "38", "<ctrl+s>")
        made = {"kind": "Counted", "sowing": "leek", "standing": 44, "cells": 38}
        assert lines(season, "leek")[-1] == made


async def test_a_fault_in_a_field_that_is_not_shown_brings_it_out(season: OpenSeason) -> None:
    async with Host().run_test(size=SIZE) as pilot:
        host = pilot.app
        assert isinstance(host, Host)
        form = await opened_form(pilot, season, "count", ("sowing", "leek"))
        await put(pilot, form, standing="44", cells="many")
        await typed(pilot, "<ctrl+s>")
        assert form.query_one("#field-cells", FieldRow).input.has_focus
        assert "Found 'many'" in host.said()
