"""What seedlings want against tests/reference/light_requirements.csv, whose rows have sources."""

from seedstart.growing.light.needs import light_need, need_of_all
from tables import rows


def printed(group: str, column: str, basis: str) -> set[float]:
    return {
        float(row[column])
        for row in rows("light_requirements.csv")
        if row["crop_or_group"].startswith(group) and row["basis"] == basis and row[column]
    }


def test_seedlings_want_the_8_to_14_mol_of_new_hampshire() -> None:
    general = "vegetable and flower seedlings"
    need = light_need("cabbage")
    assert {need.low_mol} == printed(general, "dli_low", "recommended")
    assert {need.high_mol} == printed(general, "dli_high", "recommended")


def test_plugs_want_the_10_to_12_mol_of_their_trials() -> None:
    need = light_need("petunia")
    assert {need.low_mol} == printed("bedding plants (plugs and liners)", "dli_low", "recommended")
    assert {need.high_mol} == printed(
        "bedding plants (plugs and liners)", "dli_high", "recommended"
    )


def test_no_day_is_longer_than_leaves_stand() -> None:
    tomato = printed("tomato", "photoperiod_hours_high", "upper_limit")
    assert {light_need("tomato").longest_hours} == tomato
    pepper = printed("sweet pepper", "photoperiod_hours_high", "recommended")
    assert {light_need("pepper").longest_hours} == pepper


def test_what_stands_together_gets_what_suits_all() -> None:
    need = need_of_all(["pepper", "tomato", "petunia"])
    assert (need.low_mol, need.high_mol, need.longest_hours, need.of) == (10, 12, 18, "petunia")
    assert need_of_all([]) == light_need("nothing that is known")
    assert need_of_all(["pak choi"]).most_umol == 400  # Frontiers in Plant Science 2021, 623682
