"""Figures of the shipped table that growers found wrong, each beside the page that prints it now.

Every page is cited in full in tests/reference; docs/decisions/006 lists what was not taken.
"""

import pytest

from seedstart.crop_table.crop import Crop, Figure, caution_in_words, label_words
from seedstart.crop_table.find import find_crop
from seedstart.problems import Problem
from shipped import crop, crop_table
from tables import by_crop, figures, rows


def figure(one: Crop, key: str) -> Figure:
    found = getattr(one, key)
    assert isinstance(found, Figure)
    return found


@pytest.mark.parametrize(
    ("name", "key", "low", "high", "source"),
    [
        # Larkspur: no good germination above 65 F (Cornell); only below 55 F (K-State).
        ("larkspur", "highest_c", 18.3, 18.3, "cornell-larkspur"),
        ("larkspur", "tray_c", 10.0, 14.5, ""),
        # Pansy, celery: above 25 C thermodormancy may set in (University of Florida).
        ("pansy", "highest_c", 25, 25, "florida-thermodormancy"),
        ("celery", "highest_c", 25, 25, "florida-thermodormancy"),
        # Soil at setting out: at least 60 F (National Gardening Association; Oregon State; Idaho).
        ("pepper", "set_out_soil_c", 15.6, 15.6, "nga-eggplant-pepper-okra"),
        ("okra", "set_out_soil_c", 15.6, 15.6, "nga-eggplant-pepper-okra"),
        ("melon", "set_out_soil_c", 15.6, 15.6, "idaho-melons-2025"),
        ("summer squash", "set_out_soil_c", 15.6, 15.6, "oregon-savonen-2008"),
        # Mustard: one county's 65 F only advice; as pak choi.
        ("mustard", "set_out_soil_c", 8, 8, "georgia-mclaurin-2000"),
        # Set out after all frost (sellers' sheets), or frost kills the fern: common practice.
        ("celeriac", "set_out_weeks", 0, 2, ""),
        ("asparagus", "set_out_weeks", 0, 2, ""),
        # Two to three weeks before the last frost (Purdue HO-203).
        ("sweet pea", "set_out_weeks", -3, -2, "purdue-ho-203"),
        ("calendula", "set_out_weeks", -3, -2, "purdue-ho-203"),
        # Nobody's tray is at the 10 C where most of its seedlings are normal: common practice.
        ("spinach", "tray_c", 15, 15, ""),
        # Hardened: about 28 F (Michigan State, Clemson), 20 F (K-State): the cautious one.
        ("cabbage", "night_hardened_c", -2.2, -2.2, "michigan-frost-2014"),
        ("kale", "night_hardened_c", -2.2, -2.2, "michigan-frost-2014"),
        ("cucumber", "night_hardened_c", 10, 10, "maryland-hardening-2023"),
        ("basil", "night_unhardened_c", 10, 10, ""),
        # Ten days below 12 to 13 C make it bolt (sellers' culture sheets).
        ("celery", "bolts_below_c", 12, 13, ""),
        # First to last: 10 to 25 days at one setting (Idaho); 10 to 14 (Idaho).
        ("parsley", "first_to_last", 2.4, 2.6, "idaho-cis-1209"),
        ("pepper", "first_to_last", 1.4, 1.5, "idaho-cis-1209"),
    ],
)
def test_a_corrected_figure_is_what_the_page_prints(
    name: str, key: str, low: float, high: float, source: str
) -> None:
    found = figure(crop(name), key)
    assert low <= found.best <= high
    assert not source or source in found.sources


def test_cabbage_that_is_not_hardened_yet_stands_less_than_when_it_is() -> None:
    # Of the figures of night_temperatures.csv for hardened plants, the warmest; hardening begins
    # at a steady 40 F.
    one, printed = crop("cabbage"), list(rows("night_temperatures.csv"))
    nights = [
        float(row["temp_c"])
        for row in printed
        if (row["crop_or_group"].casefold(), row["state"]) == ("cabbage", "hardened")
    ]
    found = figure(one, "night_hardened_c")
    assert (found.low, found.best) == (min(nights), max(nights)) == (-6.7, -2.2)
    (begins,) = (row["temp_c"] for row in printed if row["remark"].startswith("hardening begins"))
    assert figure(one, "night_unhardened_c").best == float(begins)


def test_pansys_shares_are_floridas() -> None:
    printed = by_crop("heat_limits.csv")["pansy"]
    shares = crop("pansy").shares
    assert shares is not None
    assert list(shares.soil_c) == figures(printed, "temp_c")
    assert list(shares.percent) == figures(printed, "percent_or_word")


# Iowa State University Extension 2023 explains its letter D as covering; verbena and pansy want
# total darkness (Chong et al.; Manitoba Co-operator); lavender is pressed in (Combs); Iowa's L.
@pytest.mark.parametrize(
    ("light", "names"),
    [
        ("cover", "cosmos zinnia sunflower celosia nasturtium geranium marigold gomphrena basil"),
        ("dark", "verbena pansy viola larkspur"),
        ("light", "petunia snapdragon lisianthus nicotiana lavender dill"),
    ],
)
def test_light_is_what_the_sources_mean_by_it(light: str, names: str) -> None:
    assert {name: crop(name).light for name in names.split()} == dict.fromkeys(names.split(), light)


def test_whatever_a_table_prints_light_for_has_a_light() -> None:
    printed = by_crop("germination_light.csv")
    asked = {name for name, found in printed.items() if {row["light"] for row in found} - {""}}
    known = asked & crop_table().crops.keys()
    assert len(known) >= 55
    assert {name for name in known if crop(name).light is None} == set()


def test_the_table_holds_at_least_145_crops_those_that_were_missed_among_them() -> None:
    crops = crop_table().crops
    assert len(crops) >= 145
    missed = (
        "broad bean, runner bean, rutabaga, corn salad, chervil, borage, chamomile, mint,"
        " delphinium, columbine, lupine, iceland poppy, nigella, scabiosa, gazania, coreopsis,"
        " yarrow"
    )
    assert set(missed.split(", ")) <= crops.keys()


def test_weeks_that_only_sellers_or_memory_carry_say_so() -> None:
    printed = by_crop(
        "sow_weeks_vegetables_herbs.csv", "sow_weeks_flowers.csv", "transplant_timing.csv"
    )
    compared = 0
    for name, found in printed.items():
        told = [
            row["source"]
            for row in found
            if row.get("sow_weeks_before_last_frost_low") or row["weeks_indoors_low"]
        ]
        weeks = crop(name).weeks_before_last_frost if name in crop_table().crops else None
        if weeks and told and all(text.startswith(("(weak", "from memory")) for text in told):
            compared += 1
            assert weeks.basis in {"weak", "memory", "practice", "relative"}, name
    assert compared >= 7


def test_a_genus_asks_which_and_in_an_old_season_means_what_it_meant() -> None:
    for typed in ("salvia", "amaranth", "aster", "begonia", "Salvia "):
        asked = find_crop(crop_table(), typed, file="--crop")
        assert isinstance(asked, Problem)
        assert "say which" in asked.hint
        assert asked.allowed
        assert all(name in crop_table().crops for name in asked.allowed)
    for typed, meant in (("salvia", "scarlet sage"), ("begonia", "wax begonia")):
        found = find_crop(crop_table(), typed, file="lots.toml", as_before=True)
        assert isinstance(found, Crop)
        assert found.name == meant


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("hot pepper", "pepper"),
        ("cherry tomato", "tomato"),
        ("garlic chives", "garlic chives"),
        ("courgette", "summer squash"),
        ("aubergine", "eggplant"),
        ("beetroot", "beet"),
        ("swede", "rutabaga"),
        ("mangetout", "pea"),
        ("spring onion", "bunching onion"),
        ("lamb's lettuce", "corn salad"),
        ("busy lizzie", "impatiens"),
        ("perpetual spinach", "chard"),
        ("fava beans", "broad bean"),
        ("edamame", "soybean"),
        ("lupin", "lupine"),
        ("scabious", "scabiosa"),
        ("purple sprouting broccoli", "sprouting broccoli"),
    ],
)
def test_a_crop_is_found_by_what_growers_call_it(typed: str, name: str) -> None:
    found = find_crop(crop_table(), typed, file="--crop")
    assert isinstance(found, Crop)
    assert found.name == name


# Two-year plants: botany, common knowledge of the trade.
@pytest.mark.parametrize(
    "name", ["sweet william", "foxglove", "hollyhock", "parsnip", "wallflower"]
)
def test_a_biennial_says_when_it_flowers(name: str) -> None:
    assert any("next year" in note for note in crop(name).notes)


# cautions.csv: poison centres and university lists. What they do not name is from memory, and says
# so.
@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("sweet pea", "poisonous"),
        ("foxglove", "looks like comfrey and borage"),
        ("borage", "foxglove looks like it"),
        ("pea", "sweet pea looks like it"),
        ("castor bean", "DEADLY"),
        ("annual vinca", "poisonous"),
        ("lobelia", "poisonous"),
        ("lima bean", "not raw"),
        ("snap bean", "not raw"),
        ("geranium", "cats and dogs"),
        ("onion", "cats and dogs"),
        ("chives", "cats and dogs"),
        ("celery", "skin in the sun"),
        ("parsnip", "skin in the sun"),
        ("feverfew", "skin"),
    ],
)
def test_what_can_hurt_stands_on_the_label(name: str, words: str) -> None:
    assert words in label_words(crop(name))


def test_what_a_table_warns_of_is_cautioned_against_and_what_is_remembered_says_so() -> None:
    warned = {
        name: [row["source"] for row in found if not row["how_bad"].startswith("none")]
        for name, found in by_crop("cautions.csv").items()
    }
    for one in crop_table().crops.values():
        told = warned.get(one.name, [])
        # What is only remembered or weak may be left out; what is printed may not.
        assert one.cautions or all(text.startswith(("from memory", "(weak")) for text in told), one
        if told and set(told) == {"from memory"}:
            assert {caution.basis for caution in one.cautions} <= {"memory"}, one.name
        for caution in one.cautions:
            assert caution.label
            assert ("from memory" in caution_in_words(caution)) == (caution.basis == "memory")
            assert bool(caution.sources) == (caution.basis != "memory")
    assert "hollyhock" not in warned
    assert crop("hollyhock").cautions == ()
