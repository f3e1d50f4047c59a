"""Forms of a new lot and a new season: what is typed, the files that come of it."""

from pathlib import Path

import pytest

from form_host import SIZE, Host, desk, opened_form, put, season_in, typed
from seedstart.app.forms.form_services import why_not
from seedstart.app.forms.new_season_form import NewSeason, SeasonForm
from seedstart.disk.season_folder import make_season
from seedstart.open_season import OpenSeason
from seedstart.problems import in_words
from seedstart.season.plan.toml_blocks import Added


@pytest.fixture
def season(tmp_path: Path) -> OpenSeason:
    return season_in(tmp_path)


async def test_a_lot_is_added_at_the_end_and_comments_stay(season: OpenSeason) -> None:
    lots = season.folder / "lots.toml"
    before = "# mine\n" + lots.read_text("utf-8")
    lots.write_text(before, "utf-8")
    async with Host().run_test(size=SIZE) as pilot:
        host = pilot.app
        assert isinstance(host, Host)
        await opened_form(pilot, season, "new lot")
        await typed(pilot, "basil-broad", "<tab>", "basi", "<tab>", "<tab>", "24", "<tab>", "sh")
        await typed(pilot, "<ctrl+s>")
        added = lots.read_text("utf-8").removeprefix(before)
        assert added == (
            '\n[[lot]]\nname = "basil-broad"\ncrop = "basil"\nwant = 24\nstation = "shelf"\n'
        )
        assert host.left_with == [Added("lots.toml", "lot", ("basil-broad",), added.encode())]
        assert season.plan.lots[-1].name == "basil-broad"


async def test_every_fault_of_a_lot_stands_at_its_field(season: OpenSeason) -> None:
    async with Host().run_test(size=SIZE) as pilot:
        form = await opened_form(pilot, season, "new lot")
        wrong = {
            "name": "leek", "crop": "tomatoe", "want": "0", "then": "shelv", "have": "some",
            "germination": "150%", "harvested": "long ago", "every": "14 days", "sow": "3 March",
        }  # fmt: skip
        await put(pilot, form, **wrong)
        said = {key: in_words(problem) for key, problem in form.check().problems.items()}
        assert set(said) == set(wrong)
        assert "Nearest: tomato" in said["crop"]
        assert "Nearest: shelf." in said["then"]
        assert "leek" in said["name"]  # one lot bears it


async def test_a_lots_toml_that_was_broken_meanwhile_refuses_and_the_form_stays(
    season: OpenSeason,
) -> None:
    async with Host().run_test(size=SIZE) as pilot:
        host = pilot.app
        assert isinstance(host, Host)
        form = await opened_form(pilot, season, "new lot")
        await typed(pilot, "basil-broad", "<tab>", "basil")
        (season.folder / "lots.toml").write_text("[[lot]\nname =", "utf-8")
        await typed(pilot, "<ctrl+s>")
        assert host.screen is form
        assert form.texts["name"] == "basil-broad"
        assert "✗" in host.said()
        assert not host.left_with


async def test_a_station_is_added_as_its_fields_say(season: OpenSeason) -> None:
    before = (season.folder / "season.toml").read_text("utf-8")
    async with Host().run_test(size=SIZE) as pilot:
        host = pilot.app
        assert isinstance(host, Host)
        form = await opened_form(pilot, season, "new station")
        tent = {
            "name": "tent", "kind": "shelf", "expected": "21C day, 14C night", "count": "2",
            "watts": "17.5", "length": "1.2 m", "hours": "16",
        }  # fmt: skip
        await put(pilot, form, **tent)
        told = host.said()
        assert "adds to season.toml: tent, shelf, 21C day, 14C night; last on the walk" in told
        await typed(pilot, "<ctrl+s>")
        added = (season.folder / "season.toml").read_text("utf-8").removeprefix(before)
        assert added == (
            '\n[[station]]\nname = "tent"\nkind = "shelf"\nexpected = "21C day, 14C night"\n'
            'lamps = [{ count = 2, watts = 17.5, length = "1.2 m", hours = 16 }]\n'
        )
        assert host.left_with == [Added("season.toml", "station", ("tent",), added.encode())]
        assert season.plan.stations[-1].name == "tent"


async def test_every_fault_of_a_station_stands_at_its_field(season: OpenSeason) -> None:
    async with Host().run_test(size=SIZE) as pilot:
        form = await opened_form(pilot, season, "new station")
        wrong = {
            "name": "tray 5", "kind": "shelv", "expected": "hot", "area": "1.2", "count": "0",
            "watts": "0", "ppf_umol_s": "some", "length": "9 m", "height": "0 cm", "hours": "25",
        }  # fmt: skip
        await put(pilot, form, **wrong)
        said = {key: in_words(problem) for key, problem in form.check().problems.items()}
        assert set(said) == set(wrong)
        assert "Nearest: shelf." in said["kind"]
        assert "A tray has or had this name too" in said["name"]


def test_what_the_disk_says_of_a_lot_is_handed_on(season: OpenSeason) -> None:
    said = desk(season).add_lot({"name": "leek", "crop": "leek"})
    assert isinstance(said, str)
    assert "leek" in said


async def test_a_new_season_takes_over_the_lots_of_this_one(
    season: OpenSeason, tmp_path_factory: pytest.TempPathFactory
) -> None:
    folder = tmp_path_factory.mktemp("next") / "spring-2028"
    async with Host().run_test(size=SIZE) as pilot:
        form = await opened_form(pilot, season, "new season")
        await put(pilot, form, folder=str(folder))
        await typed(pilot, "<tab>", "<tab>", "2028-05-12", "<ctrl+s>")
    opened = OpenSeason(folder, "bench")
    assert [lot.name for lot in opened.plan.lots] == ["leek", "pepper-long", "sweet-pea"]
    assert [one.name for one in opened.plan.stations] == ["mat", "shelf", "sill"]
    frost = opened.plan.frost
    assert frost is not None
    assert (frost.last.isoformat(), frost.risk_percent) == ("2028-05-12", 50)  # type: ignore[union-attr]
    assert opened.plan.title == "spring-2028"


async def test_the_first_season_of_all(tmp_path: Path) -> None:
    def make(folder: Path, files: object) -> str | None:
        assert not folder.exists()
        return why_not(lambda: make_season(folder, files))  # type: ignore[arg-type]

    async with Host().run_test(size=SIZE) as pilot:
        host = pilot.app
        assert isinstance(host, Host)
        form = SeasonForm(make, "Europe/Vienna", given={"folder": str(tmp_path / "spring")})
        host.push_screen(form, host.left_with.append)
        await pilot.pause()
        await typed(pilot, "2027-13-01")
        assert "There is no month 13" in host.said()
        await typed(pilot, "<ctrl+u>", "none", "<ctrl+s>")
        assert isinstance(host.left_with[0], NewSeason)
    assert OpenSeason(tmp_path / "spring", "bench").plan.frost is None


async def test_a_folder_in_a_season_is_refused_and_the_form_stays(season: OpenSeason) -> None:
    async with Host().run_test(size=SIZE) as pilot:
        host = pilot.app
        assert isinstance(host, Host)
        form = await opened_form(pilot, season, "new season")
        await put(pilot, form, folder=str(season.folder / "inside"))
        await typed(pilot, "<tab>", "<tab>", "none", "<ctrl+s>")
        assert "a season inside a season would be mistaken for it" in host.said()
        assert host.screen is form
        assert not (season.folder / "inside").exists()


@pytest.mark.parametrize(
    ("field", "text", "said"),
    [
        ("timezone", "Europe/Wien", "Nearest: Europe"),
        ("risk", "sure", "average, safe, or a percentage".capitalize()),
        ("tender-risk", "120%", "a percentage above 0 and below 100"),
        ("units", "furlongs", "Metric or us."),
        ("last-frost", "03/04/2028", "it may be read in two ways".capitalize()),
        ("over", "perhaps", "allowed: yes, no"),
    ],
)
async def test_every_fault_of_a_season_stands_at_its_field(
    season: OpenSeason, field: str, text: str, said: str
) -> None:
    async with Host().run_test(size=SIZE) as pilot:
        form = await opened_form(pilot, season, "new season")
        texts = {"folder": "x", "last_frost": "2028-05-12", field.replace("-", "_"): text}
        await put(pilot, form, **texts)
        problems = form.check().problems
        assert set(problems) == {field}
        assert said in in_words(problems[field])
