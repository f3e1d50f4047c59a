"""Light for what came up that leaves what is still to come in the warmth it needs."""

from collections.abc import Iterator

import pytest

from notebook import moment
from seasons import HEAD, lot
from seedstart.daily.check import Check
from seedstart.daily.round_context import Scene
from seedstart.planning.prospects.prospects import Prospects
from seedstart.season.journal.entries import Checked, Counted, Moved, Sown
from seedstart.tracking.standing import Standing
from walk import MakeWalk, Walk

# A shelf so cool that no eggplant comes up (printed minimum 15.6 °C), and peppers much later.
COOL = HEAD.replace('"20C"', '"15C"')
FRAME = f'{COOL}[[station]]\nname = "frame"\nkind = "frame"\nexpected = "8C"\n'
EGGPLANT = lot("eggplant", "eggplant", station='"mat"', then='"shelf"', want="20")
PEA = lot("sweet-pea", "sweet pea", station='"mat"', then='"frame"', want="8")
BEAN = lot("bean", "snap bean", station='"mat"', then='"shelf"', want="8")
LETTUCE = lot("lettuce", "lettuce", station='"mat"', then='"shelf"', want="8")


def sown(walk: MakeWalk, lots: str, *names: str, head: str = COOL, tray: str | None = None) -> Walk:
    found = walk(lots, head)
    for name in names:
        found.write(Sown, "3-01", sowing=name, lot=name, seeds=86, station="mat", tray=tray)
    return found


def of_light(found: Walk, at: str) -> list[Check]:
    return [one for one in found.checks(at) if one.what in {"move to light", "lamp on"}]


def texts(check: Check) -> str:
    return "; ".join(why.text for why in check.why)


def test_a_few_seedlings_take_the_rest_not_off_the_warmth(walk: MakeWalk) -> None:
    found = sown(walk, EGGPLANT, "eggplant", tray="T14")
    found.write(Counted, "3-10", sowing="eggplant", standing=3)
    (check,) = of_light(found, "3-10 09:00")
    assert check.says == ("hang a lamp over T14: 3 of 86 eggplant up; to the shelf once half is up")
    assert "the rest of eggplant would not come up at the shelf" in texts(check)
    assert "prick the few out" in texts(check)
    (entry,) = found.tick(check, "3-10 09:30")
    assert isinstance(entry, Checked)
    assert of_light(found, "3-11 09:00") == []
    found.write(Counted, "3-16", sowing="eggplant", standing=60)
    (check,) = of_light(found, "3-16 09:00")
    assert check.says == "move to the shelf, lamp on"


def test_who_carries_it_all_the_same_only_types_where_to(walk: MakeWalk) -> None:
    found = sown(walk, EGGPLANT, "eggplant", tray="T14")
    found.write(Counted, "3-10", sowing="eggplant", standing=3)
    (entry,) = found.tick(of_light(found, "3-10 09:00")[0], "3-10 09:30", "shelf")
    assert isinstance(entry, Moved)
    assert (entry.tray, entry.station) == ("T14", "shelf")


def test_seed_that_comes_up_as_soon_at_the_next_place_goes_there_at_the_first_seedling(
    walk: MakeWalk,
) -> None:
    # Lettuce: 2 days at 25 °C, 3 at 20 (Harrington & Minges 1954): the mat gains it nothing.
    found = sown(walk, LETTUCE, "lettuce", head=HEAD)
    found.write(Counted, "3-04", sowing="lettuce", standing=2)
    (check,) = of_light(found, "3-04 09:00")
    assert check.says == "move lettuce to the shelf, lamp on"


def test_of_a_shared_tray_those_go_of_which_half_is_up_and_what_needs_warmth_stays(
    walk: MakeWalk,
) -> None:
    found = sown(walk, LETTUCE + EGGPLANT, "lettuce", "eggplant", tray="shared")
    found.write(Counted, "3-05", sowing="lettuce", standing=70)
    (check,) = of_light(found, "3-05 09:00")
    assert check.says == "take lettuce to the shelf, lamp on; eggplant stays"
    (entry,) = found.tick(check, "3-05 09:30")
    assert isinstance(entry, Moved)
    assert (entry.sowing, entry.station) == ("lettuce", "shelf")
    assert of_light(found, "3-05 10:00") == []


def every_morning(since: str, days: int) -> Iterator[str]:
    for day in range(days):
        yield f"{moment(since).replace(day=moment(since).day + day):%m-%d} 09:00"


def test_what_is_done_for_one_makes_no_alert_for_another(walk: MakeWalk) -> None:
    """A few sweet peas are up beside beans that want the mat: the tray stays, no alert comes."""
    found = sown(walk, PEA + BEAN, "sweet-pea", "bean", head=FRAME, tray="shared")
    found.write(Counted, "3-08", sowing="sweet-pea", standing=8)
    for at in every_morning("3-08", 4):
        for check in of_light(found, at):
            assert "frame" not in check.says or "once half is up" in check.says
            if check.tick is not None:
                found.tick(check, at)
        assert [one.kind for one in found.alerts(at) if one.station != "shelf"] == []


def test_where_seed_in_a_shared_tray_wants_warmth_it_is_to_be_carried_alone(
    walk: MakeWalk,
) -> None:
    found = walk(LETTUCE + BEAN, COOL.replace('"15C"', '"8C"'))
    for name in ("lettuce", "bean"):
        found.write(Sown, "3-01", sowing=name, lot=name, seeds=86, station="shelf", tray="shared")
    found.write(Counted, "3-08", sowing="lettuce", standing=80)
    (alert,) = found.alerts("3-08 09:00", "too cold")
    assert "carry bean alone: lettuce in its tray is up and wants the light" in alert.remedies


def test_under_glass_goes_before_the_last_frost_only_what_it_does_not_kill(
    walk: MakeWalk,
) -> None:
    tender = EGGPLANT.replace('then = "shelf"', 'then = "frame"')
    found = sown(walk, tender, "eggplant", head=FRAME)
    found.write(Counted, "3-16", sowing="eggplant", standing=80)
    (check,) = of_light(found, "3-16 09:00")
    assert "frame" not in check.says


def test_no_seedling_is_carried_outdoors_for_the_light(walk: MakeWalk) -> None:
    head = f'{COOL}[[station]]\nname = "yard"\nkind = "outdoors"\nexpected = "9C"\n'
    found = sown(walk, PEA.replace('"frame"', '"yard"'), "sweet-pea", head=head)
    found.write(Counted, "3-10", sowing="sweet-pea", standing=60)
    assert all("yard" not in check.says for check in of_light(found, "3-10 09:00"))


def test_under_glass_nothing_goes_earlier_than_six_weeks_before_the_average_last_frost(
    walk: MakeWalk,
) -> None:
    # Common practice, no source. The average last frost is 12 May.
    for day, goes in (("3-28", False), ("4-01", True)):
        found = walk(PEA, FRAME)
        found.write(Sown, "3-01", sowing="sweet-pea", lot="sweet-pea", seeds=20, station="mat")
        found.write(Counted, day, sowing="sweet-pea", standing=18)
        (check,) = of_light(found, f"{day} 09:00")
        assert ("frame" in check.says) == goes


def test_half_of_its_seeds_up_needs_no_prospect_and_is_half_of_what_is_to_come(
    walk: MakeWalk, monkeypatch: pytest.MonkeyPatch
) -> None:
    found, seen = sown(walk, EGGPLANT, "eggplant", tray="T14"), list[tuple[Scene, Standing]]()
    asked = Scene.half_is_up

    def half_is_up(scene: Scene, one: Standing) -> bool:
        seen.append((scene, one))
        return asked(scene, one)

    monkeypatch.setattr(Scene, "half_is_up", half_is_up)
    for day, up in ((10, 3), (12, 30), (14, 43), (16, 60)):
        found.write(Counted, f"3-{day}", sowing="eggplant", standing=up)
        found.checks(f"3-{day} 09:00")
        scene, one = seen[-1]
        to_come = scene.prospects.to_come(one.id)
        assert to_come.total is not None
        is_half = not scene.expects_more(one) or up >= 0.5 * to_come.total.best
        assert (one.emerged, asked(scene, one)) == (up, is_half)
    monkeypatch.delattr(Prospects, "to_come")
    assert asked(*seen[-1])
