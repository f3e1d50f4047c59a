"""What counts say of a sowing. Known cases: tests/reference/resow_decision_cases.csv."""

from math import exp, log
from random import Random

import pytest
from scipy import integrate, stats

from seedstart.growing import tried_speeds
from seedstart.growing.coming_up import ComingUp, coming_up, hardly_any_late
from seedstart.growing.germination_belief import Belief
from seedstart.growing.tried_speeds import DugUp, Look, Speed
from tables import emergence_tables, rows

CASES = list(rows("resow_decision_cases.csv"))
TOMATO = Speed(1.6, 0.39, 10.8)
# The handbook's days of tomato at 25 °C.
TABLE_DAYS = float(dict(zip(*emergence_tables()["Tomato"], strict=True))[25.0])
PACKET = Belief(43.5, 8.5)  # 85 %, taken as a test of fifty


def known_speed(sown: int, looks: tuple[Look, ...], belief: Belief, speed: Speed) -> ComingUp:
    return coming_up(sown, belief, speed, looks, may_be_wrong=0, may_be_dead=0)


@pytest.mark.parametrize("case", CASES, ids=[case["case"] for case in CASES])
def test_where_the_speed_is_known_the_published_and_computed_cases_come_out(
    case: dict[str, str],
) -> None:
    if case["germinable_d"]:  # known for sure: a belief as strong as a billion seeds
        share = min(float(case["germinable_d"]), 1 - 1e-9)
        belief = Belief(share * 1e9, (1 - share) * 1e9)
    else:
        belief = Belief(float(case["prior_a"]), float(case["prior_b"]))
    speed = Speed(float(case["loglogistic_e"]), 0.0, float(case["loglogistic_b"]))
    sown, up = int(case["sown"]), int(case["emerged_so_far"])
    elapsed, horizon = float(case["elapsed"]), float(case["horizon"])
    found = known_speed(sown, (Look(elapsed, up),), belief, speed)
    assert found.expected_more == pytest.approx(
        float(case["expected_still_to_come"]), rel=2e-5, abs=2e-6
    )
    any_more = float(case["prob_any_still_to_come"])
    assert found.chance_of(1) == pytest.approx(any_more, rel=2e-5, abs=2e-6)
    by_then = float(case["expected_by_horizon"])
    assert found.more_by(horizon) == pytest.approx(by_then, rel=2e-5, abs=2e-6)


# Computed by hand from the same formulas: b = 10, e = 9.5 days, Beta(18, 4), 24 sown, none up.
@pytest.mark.parametrize(
    ("share", "expected", "chance"),
    [(0.1521, 18.265, 1.0), (0.6255, 8.140, 0.9991), (0.9118, 1.517, 0.7684)],
)
def test_a_silent_tray_loses_hope_as_its_days_pass(
    share: float, expected: float, chance: float
) -> None:
    way = (share / (1 - share)) ** (1 / 10)
    found = known_speed(24, (Look(way, 0),), Belief(18, 4), Speed(1.0, 0.0, 10.0))
    assert found.expected_more == pytest.approx(expected, abs=0.01)
    assert found.chance_of(1) == pytest.approx(chance, abs=0.0005)


def test_share_and_speed_are_moved_together_as_quadrature_moves_them() -> None:
    """One look in the middle, against the double integral over share and speed by scipy."""
    sown, up, way = 12, 4, 1.5
    speed = Speed(1.6, 0.39, 6.0)

    def share(half: float) -> float:
        return float(1 / (1 + (half / way) ** speed.slope))

    def weight(p: float, z: float, more: int) -> float:
        g = share(speed.half * exp(speed.sd * z))
        missing = sown - up
        late = stats.binom.pmf(more, missing, p * (1 - g) / (1 - p * g))
        seen = stats.binom.pmf(up, sown, p * g)
        return float(seen * late * stats.beta.pdf(p, 8, 3) * stats.norm.pdf(z))

    weights = [
        integrate.dblquad(lambda p, z, more=more: weight(p, z, more), -4, 4, 0, 1, epsabs=1e-7)[0]
        for more in range(3)
    ]
    found = known_speed(sown, (Look(way, up),), Belief(8, 3), speed)
    assert found.chances[1] / found.chances[0] == pytest.approx(weights[1] / weights[0], rel=0.01)
    assert found.chances[2] / found.chances[0] == pytest.approx(weights[2] / weights[0], rel=0.01)


def test_before_a_look_the_belief_comes_back() -> None:
    found = coming_up(24, Belief(18, 4), TOMATO, may_be_wrong=0, may_be_dead=0)
    by_scipy = stats.betabinom(24, 18, 4)
    assert list(found.chances) == pytest.approx([by_scipy.pmf(n) for n in range(25)], abs=1e-9)
    assert found.way_of(0.5, 0.95).best == pytest.approx(1.6, rel=0.005)


def test_twenty_four_tomatoes_silent_on_day_ten_are_not_told_dead() -> None:
    # At 24 °C the curve through emergence_days.csv has 6.1 days; germination_temperature.csv
    # prints 7 to 14 in trays (Idaho CIS 1209).
    looks = tuple(Look(day / 6.1, 0) for day in range(1, 11))
    assert coming_up(24, PACKET, TOMATO, looks).chance_of_none < 0.25
    later = tuple(Look(day / 6.1, 0) for day in range(1, 25))
    assert coming_up(24, PACKET, TOMATO, later).chance_of_none > 0.9


def test_never_fewer_are_expected_than_are_up_and_counts_narrow_what_is_expected() -> None:
    ups = [0, 0, 2, 9, 20, 28, 31, 32, 32, 32]
    wides = []
    for number in range(1, len(ups) + 1):
        looks = tuple(Look((8 + day) / TABLE_DAYS, up) for day, up in enumerate(ups[:number]))
        total = coming_up(40, PACKET, TOMATO, looks).total(0.95)
        assert ups[number - 1] <= total.low <= total.best <= total.high <= 40
        wides.append(total.high - total.low)
    assert wides[0] > 20
    assert wides[-1] <= 3


def test_one_slow_tray_moves_the_days_and_not_the_share() -> None:
    slow = tuple(Look(day / TABLE_DAYS, max(0, 4 * (day - 15))) for day in range(8, 24))
    found = coming_up(40, PACKET, TOMATO, slow)
    assert found.way_of(0.5, 0.95).best == pytest.approx(19.5 / TABLE_DAYS, rel=0.06)
    assert found.total(0.95).low >= 32


def test_soft_seeds_take_the_hope_and_sound_ones_give_it_back() -> None:
    looks = (Look(1.6, 0), Look(2.2, 0))
    plain = coming_up(24, PACKET, TOMATO, looks)
    soft = coming_up(24, PACKET, TOMATO, looks, (DugUp(2.2, 0, 5),))
    sound = coming_up(24, PACKET, TOMATO, looks, (DugUp(2.2, 4, 1),))
    assert soft.chance_of(12) < 0.1 < plain.chance_of(12) < sound.chance_of(12)
    assert len(soft.chances) == 24 - 5 + 1, "what was dug up comes no more"
    assert sound.chance_of_none < 0.01


def test_what_was_up_before_any_way_was_gone_tells_nothing_of_the_speed() -> None:
    found, before = coming_up(24, PACKET, TOMATO, (Look(0.0, 1),)), coming_up(24, PACKET, TOMATO)
    half, usual = found.way_of(0.5, 0.5), before.way_of(0.5, 0.5)
    assert half.best == pytest.approx(usual.best, rel=0.01)
    assert 15 < found.expected_more < 23


@pytest.mark.parametrize("up", [0, 3, 20])
def test_few_missing_seeds_are_reckoned_as_many_are(
    up: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    looks = (Look(1.2, min(up, 1)), Look(1.7, up), Look(2.1, up))
    few = coming_up(30, PACKET, TOMATO, looks)
    monkeypatch.setattr(tried_speeds, "_FEW", -1)
    coming_up.cache_clear()
    many = coming_up(30, PACKET, TOMATO, looks)
    coming_up.cache_clear()
    assert few.chances == pytest.approx(many.chances, abs=1e-6)
    assert few.weights == pytest.approx(many.weights, abs=1e-6)
    assert few.more == pytest.approx(many.more, abs=1e-4)


def test_more_than_were_sown_is_refused() -> None:
    with pytest.raises(ValueError, match="20 seeds sown; got 21 up"):
        coming_up(20, PACKET, TOMATO, (Look(1.0, 21),))


def test_a_sowing_of_thousands_is_as_sure_and_adds_up() -> None:
    looks = tuple(Look(0.2 * step, min(2400, 300 * max(step - 6, 0))) for step in range(1, 20))
    found = coming_up(3000, PACKET, TOMATO, looks)
    assert sum(found.chances) == pytest.approx(1)
    assert sum(found.weights) == pytest.approx(1)
    assert found.total(0.95).high < 2500


def test_the_forecast_begins_at_what_is_up_and_ends_at_the_total() -> None:
    looks = (Look(1.3, 0), Look(1.5, 6))
    found = coming_up(30, PACKET, TOMATO, looks)
    now, end = found.band([1.5, 50.0], 0.95)
    assert now == pytest.approx((6, 6, 6))
    total = found.total(0.95)
    assert end.low == pytest.approx(total.low, abs=0.1)
    assert end.best == pytest.approx(total.best, abs=0.1)
    assert end.high == pytest.approx(total.high, abs=0.1)
    assert log(found.way_of(0.9, 0.95).best / found.way_of(0.5, 0.95).best) == pytest.approx(
        log(9) / 10.8, rel=0.02
    )


def test_where_the_looks_alone_say_that_no_more_come_hardly_any_is_expected() -> None:
    """Seedlings as the belief has them, and as it does not: evenly over a time, or in two waves."""
    random, plain = Random(4), 0
    for _ in range(1500):
        seeds, slope = random.randint(6, 60), random.uniform(4, 14)
        speed = Speed(random.uniform(0.6, 2.5), random.uniform(0.15, 0.6), slope)
        half, last = speed.half * exp(random.gauss(0, speed.sd)), random.uniform(1, 3)
        odds = [(one / (1 - one)) ** (1 / slope) for one in (random.random() for _ in range(seeds))]
        ways = {
            "as believed": [half * one for one in odds],
            "evenly": [half * random.uniform(0.5, last) for _ in odds],
            "in two waves": [half * one * random.choice([1, last]) for one in odds],
        }[random.choice(["as believed", "evenly", "in two waves"])]
        come = [one for one in ways if random.random() < 0.85]
        at = [half * (0.4 + 0.15 * place) for place in range(random.randint(3, 24))]
        looks = tuple(Look(way, sum(one <= way for one in come)) for way in at)
        missing = seeds - looks[-1].up
        if missing and hardly_any_late(missing, looks, slope):
            plain += 1
            assert coming_up(seeds, PACKET, speed, looks).expected_more < 0.5
    assert plain > 100
