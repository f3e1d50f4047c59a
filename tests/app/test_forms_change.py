"""Forms that change the plan: old values stand in them, what is typed changes its line alone."""

from pathlib import Path

import pytest

from form_host import SIZE, Host, opened_form, put, season_in, typed
from seedstart.app.forms.change_forms import ChangeForm
from seedstart.open_season import OpenSeason
from seedstart.problems import in_words


@pytest.fixture
def season(tmp_path: Path) -> OpenSeason:
    return season_in(tmp_path)


def text_of(season: OpenSeason, file: str = "lots.toml") -> str:
    return (season.folder / file).read_text("utf-8")


async def test_a_lot_stands_with_its_old_values_and_one_of_them_changes(
    season: OpenSeason,
) -> None:
    before = text_of(season)
    async with Host().run_test(size=SIZE) as pilot:
        host = pilot.app
        assert isinstance(host, Host)
        form = await opened_form(pilot, season, "change lot", ("lot", "leek"))
        assert isinstance(form, ChangeForm)
        assert (form.texts["lot"], form.texts["want"], form.texts["station"]) == (
            "leek", "48", "shelf",
        )  # fmt: skip
        assert "changes nothing yet" in host.said()
        await put(pilot, form, want="60")
        assert "in lots.toml: changes plants wanted" in host.said()
        await typed(pilot, "<ctrl+s>")
        assert text_of(season) == before.replace("want = 48", "want = 60")
        assert season.plan.lots[0].want == 60


async def test_an_emptied_field_takes_its_key_out(season: OpenSeason) -> None:
    async with Host().run_test(size=SIZE) as pilot:
        form = await opened_form(pilot, season, "change lot", ("lot", "pepper-long"))
        await put(pilot, form, then="")
        await typed(pilot, "<ctrl+s>")
    assert season.plan.lots[1].then is None
    assert "then" not in text_of(season)


async def test_every_fault_of_a_change_stands_at_its_field(season: OpenSeason) -> None:
    before = text_of(season)
    async with Host().run_test(size=SIZE) as pilot:
        form = await opened_form(pilot, season, "change lot", ("lot", "leek"))
        await put(pilot, form, crop="tomatoe", want="0", to="pepper-long")
        said = {key: in_words(problem) for key, problem in form.check().problems.items()}
        assert set(said) == {"crop", "want", "to"}
        assert "has or had this name" in said["to"]
    assert text_of(season) == before


async def test_a_renamed_lot_keeps_its_sowings(season: OpenSeason) -> None:
    async with Host().run_test(size=SIZE) as pilot:
        form = await opened_form(pilot, season, "change lot", ("lot", "leek"))
        await put(pilot, form, to="leek-giant")
        await typed(pilot, "<ctrl+s>")
    assert season.plan.lots[0].was == ("leek",)
    assert [one.seeds for one in season.records().of_lot("leek-giant")] == [60]


async def test_a_lot_with_plants_goes_out_of_the_plan_when_that_is_said_twice(
    season: OpenSeason,
) -> None:
    async with Host().run_test(size=SIZE) as pilot:
        host = pilot.app
        assert isinstance(host, Host)
        form = await opened_form(pilot, season, "change lot", ("lot", "leek"))
        await put(pilot, form, out="yes")
        await typed(pilot, "<ctrl+s>")
        assert "1 sowing of it (in tray 5) with 40 plants" in host.said()
        assert len(season.plan.lots) == 3
        await typed(pilot, "<ctrl+s>")
    assert [one.name for one in season.plan.lots] == ["pepper-long", "sweet-pea"]
    assert len(season.journal.by_id) == 4


async def test_a_station_that_lots_name_stays_in_the_plan(season: OpenSeason) -> None:
    async with Host().run_test(size=SIZE) as pilot:
        form = await opened_form(pilot, season, "change station", ("station", "mat"))
        assert (form.texts["kind"], form.texts["expected"]) == ("mat", "24C")
        await put(pilot, form, out="yes")
        assert "It is in use: 1 lot (pepper-long)" in in_words(form.check().problems["out"])


async def test_lamps_of_a_station_change_with_it(season: OpenSeason) -> None:
    before = text_of(season, "season.toml")
    async with Host().run_test(size=SIZE) as pilot:
        form = await opened_form(pilot, season, "change station", ("station", "shelf"))
        assert (form.texts["count"], form.texts["hours"]) == ("2", "16")
        await put(pilot, form, hours="14")
        await typed(pilot, "<ctrl+s>")
    assert text_of(season, "season.toml") == before.replace("hours = 16", "hours = 14")


async def test_a_container_is_made_and_changed(season: OpenSeason) -> None:
    async with Host().run_test(size=SIZE) as pilot:
        form = await opened_form(pilot, season, "new container")
        await put(pilot, form, name="egg box", cells="12", footprint="30 x 10 cm")
        await typed(pilot, "<ctrl+s>")
        form = await opened_form(pilot, season, "change container")
        await put(pilot, form, container="egg box", cells="10")
        assert form.texts["footprint"] == "30 x 10 cm"
        await typed(pilot, "<ctrl+s>")
    assert {one.name: one.cells for one in season.plan.containers}["egg box"] == 10


async def test_a_frost_date_says_what_it_means_and_what_it_moves(season: OpenSeason) -> None:
    before = text_of(season, "season.toml")
    async with Host().run_test(size=SIZE) as pilot:
        host = pilot.app
        assert isinstance(host, Host)
        form = await opened_form(pilot, season, "change season")
        assert form.texts["last"] == "2027-05-12"
        await put(pilot, form, last="2027-05-19")
        said = host.said()
        assert "Last frost Wed 19 May 2027: the average date" in said
        assert "would be set out 7 days later" in said
        await typed(pilot, "<ctrl+s>")
    assert text_of(season, "season.toml") == before.replace("2027-05-12", "2027-05-19")


async def test_a_date_typed_in_the_form_takes_the_place_of_a_record_and_says_what_goes(
    season: OpenSeason,
) -> None:
    file, before = season.folder / "season.toml", text_of(season, "season.toml")
    file.write_text(before.replace("last = 2027-05-12", 'record = "m.csv"\nyear = 2027'), "utf-8")
    season.catch_up()
    async with Host().run_test(size=SIZE) as pilot:
        host = pilot.app
        assert isinstance(host, Host)
        form = await opened_form(pilot, season, "change season")
        assert (form.texts["last"], form.texts["record"]) == ("", "m.csv")
        await put(pilot, form, last="2027-05-12", record="other.csv")
        assert set(form.check().problems) == {"record"}
        await put(pilot, form, record="m.csv")
        said = " ".join(host.said().split())
        assert "Dropped from [frost]: record (m.csv) and year (2027)" in said
        await typed(pilot, "<ctrl+s>")
        assert text_of(season, "season.toml") == before
        form = await opened_form(pilot, season, "change season")
        await put(pilot, form, record="m.csv")
        await typed(pilot, "<ctrl+s>")  # there is no such file: nothing is written
        assert "There is no such file" in host.said()
    assert text_of(season, "season.toml") == before


async def test_a_frost_date_that_is_none_stays_at_its_field(season: OpenSeason) -> None:
    async with Host().run_test(size=SIZE) as pilot:
        form = await opened_form(pilot, season, "change season")
        await put(pilot, form, last="2027-13-01", risk_percent="200")
        assert set(form.check().problems) == {"last", "risk_percent"}
        await put(pilot, form, last="2027-05-12", risk_percent="safe")
        await typed(pilot, "<ctrl+s>")
    assert season.plan.frost is not None
    assert season.plan.frost.risk_percent == 10
