import pytest

from seedstart import disk
from seedstart.crop_table.crop import Crop
from seedstart.crop_table.find import find_crop
from seedstart.crop_table.load import CropTable, load_crops
from seedstart.problems import BadInputError, Problem
from seedstart.text import folded

SOURCES = b'[book]\ntext = "A handbook, 1997"\ninstitution = "publisher"\n'
PEPPER = """
name = "pepper"
also = ["sweet pepper", "capsicum"]
group = "vegetable"
hardiness = "very_tender"
hardiness_from = { basis = "practice" }
clock = "trays"
raising = "pricked out"
raising_from = { basis = "practice" }
weeks_before_last_frost = { low = 6, best = 7, high = 8, basis = "source", sources = ["book"] }
set_out_weeks = { low = 1, best = 2, high = 3, basis = "source", sources = ["book"] }
lowest_c = { low = 15, best = 15, high = 16, basis = "source", sources = ["book"] }
fastest_c = { low = 28, best = 29, high = 30, basis = "source", sources = ["book"] }
highest_c = { low = 35, best = 35, high = 35, basis = "source", sources = ["book"] }
tray_c = { low = 24, best = 26, high = 29, basis = "source", sources = ["book"] }
days_in_trays = { low = 7, best = 10, high = 14, basis = "source", sources = ["book"] }
first_to_last = { low = 2, best = 2, high = 2, basis = "practice" }
"""


def load(*files: str, own: dict[str, str] | None = None) -> CropTable:
    shipped = {f"{number}.toml": text.encode() for number, text in enumerate(files)}
    shipped["sources.toml"] = SOURCES
    table = load_crops(shipped, {name: text.encode() for name, text in (own or {}).items()})
    table.read_all()
    return table


def named(name: str, *also: str) -> str:
    others = ", ".join(f'"{other}"' for other in also)
    text = PEPPER.replace('name = "pepper"', f'name = "{name}"')
    return text.replace('also = ["sweet pepper", "capsicum"]', f"also = [{others}]")


def problems_of(*files: str, own: dict[str, str] | None = None) -> list[str]:
    with pytest.raises(BadInputError) as caught:
        load(*files, own=own)
    return [str(problem) for problem in caught.value.problems]


def test_a_good_file_becomes_a_crop() -> None:
    crop = load(PEPPER).crops["pepper"]
    assert crop.tray_c.best == 26
    assert crop.weeks_before_last_frost is not None
    assert crop.weeks_before_last_frost.sources == ("book",)


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        (
            'hardiness = "very_tender"',
            'hardiness = "tendr"',
            "hardiness: found 'tendr', allowed: hardy, half_hardy, tender, very_tender. Nearest: t",
        ),
        ("low = 24, best = 26", "low = 27, best = 26", "tray_c: found 'low 27, best 26, high 29'"),
        ("best = 26, high = 29", "best = 26, high = 240", "tray_c: found '240', allowed: -40 to"),
        ("lowest_c", "lowest", "lowest: found 'lowest'. Nearest: lowest_c (of "),
        ("lowest_c", "lowest", "lowest_c: allowed: a table { … }. The key is missing."),
        ("high = 14,", 'high = "fourteen",', "days_in_trays.high: found 'fourteen'"),
        ('also = ["sweet pepper", "capsicum"]', "also = [3]", "also[1]: found '3', allowed: text"),
        (
            '["book"] }\nset_out',
            '["bok"] }\nset_out',
            "weeks_before_last_frost.sources: found 'bok'",
        ),
        ('name = "pepper"', 'name = "Pepper"', "name: found 'Pepper'"),
        ("best = 29, high = 30", "best = 39, high = 40", "fastest_c: found '15, 39, 35'"),
        ("days_in_trays = {", "# days_in_trays = {", "needs an [emergence] table or days"),
        ('name = "pepper"', "name = pepper", "line 2. Not TOML"),
        (
            'hardiness = "very_tender"\n',
            "",
            "hardiness: allowed: hardy, half_hardy, tender, very_tender. The key is missing.",
        ),
    ],
)
def test_a_fault_is_named_with_file_key_and_what_is_allowed(old: str, new: str, says: str) -> None:
    assert old in PEPPER
    found = problems_of(PEPPER.replace(old, new, 1))
    assert any(problem.startswith("crops/0.toml") and says in problem for problem in found), found


def test_all_faults_of_all_files_come_at_once() -> None:
    wrong = PEPPER.replace("very_tender", "tendr").replace("high = 14", "high = 'x'")
    found = problems_of(wrong, named("chili") + "colour = 'red'\n", named("leek")[:60])
    assert len(found) >= 4
    assert {problem.split(",")[0] for problem in found} == {
        "crops/0.toml",
        "crops/1.toml",
        "crops/2.toml",
    }


@pytest.mark.parametrize(
    ("added", "says"),
    [
        (
            '[emergence]\nsoil_c = [10, 5]\ndays = [12, "no germination", 3]\nsources = ["x"]\n',
            (
                "one value a temperature each",
                "temperatures that rise",
                "emergence.sources: found 'x'",
            ),
        ),
        (
            '[shares]\nsoil_c = [20, 10]\npercent = [90]\nbasis = "source"\nsources = ["x"]\n',
            ("percent has one value a temperature", "shares.sources: found 'x'"),
        ),
    ],
)
def test_tables_by_temperature_are_checked(added: str, says: tuple[str, ...]) -> None:
    found = " ".join(problems_of(PEPPER + added))
    assert all(one in found for one in says)


def test_a_shipped_crop_is_read_and_checked_when_it_is_asked_for() -> None:
    wrong = PEPPER.replace('name = "pepper"', 'name = "chili"').replace("very_tender", "tendr")
    wrong = wrong.replace('"capsicum"', '"hot pepper"').replace('"sweet pepper"', '"chile"')
    table = load_crops(
        {"p.toml": PEPPER.encode(), "c.toml": wrong.encode(), "sources.toml": SOURCES}
    )
    assert table.crops["pepper"] is table.crops["pepper"]
    assert list(table.crops) == ["pepper", "chili"]
    assert table.names["hot pepper"] == "chili"
    with pytest.raises(BadInputError, match=r"crops/c.toml, hardiness: found 'tendr'"):
        table.crops["chili"]
    with pytest.raises(KeyError):
        table.crops["leek"]


@pytest.mark.parametrize(
    "as_written", [PEPPER, PEPPER.replace('"', "'"), PEPPER.replace(" = ", "=")]
)
def test_the_names_of_a_crop_are_known_however_they_are_written(as_written: str) -> None:
    names = dict.fromkeys(("pepper", "sweet pepper", "capsicum"), "pepper")
    table = load_crops({"p.toml": as_written.encode(), "sources.toml": SOURCES})
    assert table.names == names


def test_names_known_before_the_shipped_files_are_read_are_the_names_in_them() -> None:
    table = load_crops(disk.read_folder(disk.shipped("crops"), ".toml"))
    every = table.crops.items()
    read = {folded(one): name for name, crop in every for one in (crop.name, *crop.also)}
    assert table.names == read
    assert all(name == crop.name for name, crop in every)


def test_a_file_that_is_not_utf_8_is_named_with_its_line() -> None:
    with pytest.raises(BadInputError, match=r"crops/a.toml, line 2. Save the file as UTF-8"):
        load_crops({"sources.toml": SOURCES, "a.toml": b"x = 1\ny = '\xe4'"})


def test_two_crops_never_share_a_name() -> None:
    assert "capsicum has" not in " ".join(problems_of(PEPPER, named("chili", "capsicum")))
    assert any(
        "has that name too" in text for text in problems_of(PEPPER, named("chili", "capsicum"))
    )
    assert any("has the same name" in text for text in problems_of(PEPPER, PEPPER))


def test_a_growers_own_file_changes_single_figures_and_adds_crops() -> None:
    own = {
        "pepper.toml": 'name = "pepper"\ndays_in_trays = 9\n',
        "chili.toml": named("chili").replace('["book"]', '["my notebook"]'),
    }
    table = load(PEPPER, own=own)
    pepper, chili = table.crops["pepper"], table.crops["chili"]
    assert pepper.days_in_trays is not None
    assert (pepper.days_in_trays.best, pepper.days_in_trays.basis) == (9, "own")
    assert pepper.tray_c.best == 26
    assert chili.tray_c.sources == ("my notebook",)
    assert table.sources["my notebook"].text == "my notebook"


def test_the_word_for_light_of_an_older_version_is_still_read() -> None:
    own = {"pepper.toml": 'name = "pepper"\nlight = "either"\n'}
    assert load(PEPPER, own=own).crops["pepper"].light == "cover"


TABLE = load(
    PEPPER, named("summer squash"), named("winter squash"), named("snap bean", "green bean")
)


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("pepper", "pepper"),
        ("Peppers", "pepper"),
        ("CAPSICUM", "pepper"),
        ("sweet  pepper", "pepper"),
        ("bean, snap", "snap bean"),
        ("bean", "snap bean"),
        ("summer", "summer squash"),
    ],
)
def test_a_crop_is_found_as_a_grower_types_it(typed: str, name: str) -> None:
    found = find_crop(TABLE, typed, file="--crop")
    assert isinstance(found, Crop)
    assert found.name == name


def test_a_misspelt_crop_gets_the_nearest_name_and_one_that_fits_two_names_both() -> None:
    found = find_crop(TABLE, "peper", file="--crop")
    assert isinstance(found, Problem)
    assert "Nearest: pepper." in str(found)
    found = find_crop(TABLE, "squash", file="--crop")
    assert isinstance(found, Problem)
    assert found.allowed == ("summer squash", "winter squash")
    assert "fits more than one" in str(found)


@pytest.mark.parametrize(
    "odd",
    [
        'name = "pepper"\ntray_c = 240\n',
        "x = " + "[" * 5000,
        "x = " + "9" * 5000,
        "x = 0x" + "f" * 9000,
    ],
)
def test_a_fault_in_a_growers_own_file_names_that_file(odd: str) -> None:
    (problem, *_) = problems_of(PEPPER, own={"odd.toml": odd})
    assert problem.startswith("the season's crops/odd.toml")
    assert "tray_c" not in odd or "tray_c: found '240'" in problem


def test_thousands_of_unknown_keys_are_told_in_a_few() -> None:
    told = problems_of(PEPPER + "".join(f"odd_{number} = 1\n" for number in range(5000)))
    assert len(told) == 5
    assert told[4].endswith("And 4995 more of this kind.")
