from datetime import date, timedelta
from itertools import pairwise
from typing import Any

import pytest
from msgspec import structs

from notebook import Notebook, moment
from seasons import HEAD, lot, season
from seedstart.planning.calendar.row import Row
from seedstart.planning.calendar.season_rows import season_rows
from seedstart.planning.calendar.season_today import as_set, rows_today
from seedstart.planning.space.clashes import clashes
from seedstart.planning.space.room_by_week import SoFar, Stand, loads, stands
from seedstart.season.journal.entries import (
    Counted,
    Entry,
    Finished,
    Moved,
    PottedOn,
    PrickedOut,
    Sown,
)
from seedstart.season.plan.season_file import Season
from seedstart.season.plan.stations import SHIPPED
from seedstart.tracking.whereabouts import area_m2, containers_of, used_m2

TODAY = date(2027, 1, 2)
LOTS = lot("leek", "leek", want="72", station='"shelf"', container='"tray of 72"')


def rows_of(plan: Season) -> list[Row]:
    """The rows of a season, one seed a plant, so that trays can be counted by hand."""
    return [structs.replace(row, seeds=None) for row in season_rows(plan, TODAY)]


TRAY = next(one for one in SHIPPED if one.name == "tray of 72")


def many(count: int, want: int = 72, **keys: str) -> Season:
    said = {"station": '"shelf"', "container": '"tray of 72"', **keys}
    return season("".join(lot(f"leek {n}", "leek", want=str(want), **said) for n in range(count)))


def test_a_lot_stands_from_sowing_to_setting_out_without_gap_or_overlap() -> None:
    one = season(lot("t", "tomato", want="10", station='"mat"', then='"shelf"'))
    (row,) = rows_of(one)
    found = stands([row], one)
    sow, out = row.window("sow"), row.window("set_out")
    assert sow is not None
    assert out is not None
    assert found[0].since == sow.best
    assert found[0].station == "mat"
    for left, right in pairwise(found):
        assert right.since == left.until
    assert {stand.stage for stand in found} <= {"seed", "seedlings", "pots", "hardening"}
    assert found[-1].until <= out.best


def test_one_tray_takes_its_footprint_and_lots_share_trays_by_the_cell() -> None:
    # 54 × 28 cm: the trade's standard tray, outer size from memory (containers.py).
    assert area_m2(TRAY) == pytest.approx(0.54 * 0.28)
    one, shared = many(1), many(3, want=24)
    for plan in (one, shared):
        week = loads(stands(rows_of(plan), plan), plan)[0]
        assert week.used_m2 == pytest.approx(0.54 * 0.28)


def test_a_share_is_of_the_stations_area_and_unknown_without_it() -> None:
    plan = season(LOTS + lot("p", "pea", want="20", station='"sill"', container='"tray of 38"'))
    by_station = {load.station: load for load in loads(stands(rows_of(plan), plan), plan)}
    assert by_station["shelf"].share == pytest.approx(0.54 * 0.28 / (1.2 * 0.6))
    assert by_station["sill"].share is None


def one_too_many(container: str) -> Season:
    """Three full trays and 100 cells of another lot: two trays of 50, or one of 128."""
    full = "".join(
        lot(f"leek {n}", "leek", want="72", station='"shelf"', container='"tray of 72"')
        for n in range(3)
    )
    last = lot("onion", "leek", want="100", station='"shelf"', container=f'"{container}"')
    return season(full + last)


def test_what_does_not_fit_is_told_with_what_to_do() -> None:
    plan = one_too_many("tray of 50")  # five trays of 0.15 m² on 0.72 m²
    rows = rows_of(plan)
    (clash,) = clashes(rows, stands(rows, plan), plan)
    assert clash.station == "shelf"
    assert clash.worst.used_m2 == pytest.approx(5 * 0.54 * 0.28)
    assert clash.first <= clash.worst.monday <= clash.last
    assert "raise onion in a tray of 128 instead of a tray of 50" in clash.remedies


def test_what_fits_and_what_a_remedy_made_fit_is_no_clash() -> None:
    for plan in (many(4), one_too_many("tray of 128")):
        rows = rows_of(plan)
        assert clashes(rows, stands(rows, plan), plan) == []
    plan = many(6)  # no single change helps
    rows = rows_of(plan)
    (clash,) = clashes(rows, stands(rows, plan), plan)
    assert clash.remedies == ()


def test_weeks_are_whole_iso_weeks() -> None:
    plan = many(1)
    found = loads(stands(rows_of(plan), plan), plan)
    assert all(load.monday.weekday() == 0 for load in found)
    shelf = [load.monday for load in found if load.station == "shelf"]
    assert shelf == [shelf[0] + timedelta(days=7 * n) for n in range(len(shelf))]
    assert used_m2([]) == 0
    assert loads([], season("", HEAD)) == []


def sown_so_far(book: Notebook, plan: Season, lots: str, today: date) -> list[Stand]:
    """Where all of it stands, as expected on a day."""
    records = book.records(lots, HEAD)
    rows = rows_today(plan, records, {}, today)
    return stands(rows, as_set(plan, records, today), SoFar(records, today))


def on(found: list[Stand], day: date) -> list[tuple[str, str, int]]:
    """What stands on a day: where, at which stage, how many cells."""
    here = [stand for stand in found if stand.since <= day < stand.until]
    return [(stand.station, stand.stage, stand.cells) for stand in here]


TOMATO = lot("t", "tomato", want="10", station='"mat"', then='"shelf"')


def test_what_was_sown_stands_where_it_was_carried_with_the_seeds_that_it_has() -> None:
    book, plan = Notebook(), season(TOMATO)
    book.write(Sown, "3-20", sowing="t", lot="t", seeds=24, station="sill")
    book.write(Moved, "3-24", sowing="t", station="mat")
    found = sown_so_far(book, plan, TOMATO, date(2027, 3, 26))
    assert on(found, date(2027, 3, 25)) == []
    assert on(found, date(2027, 3, 26)) == [("mat", "seed", 24)]
    ahead = [stand for stand in found if stand.since > date(2027, 3, 26)]
    assert ahead[0].station == "shelf", "what has not begun stands where the plan has it"


@pytest.mark.parametrize(
    ("lots", "acts", "today", "found"),
    [
        (  # pricked out: where they went, as many as there are
            TOMATO,
            [
                (Counted, "3-28", {"standing": 16, "final": True}),
                (PrickedOut, "4-10", {"plants": 16, "into": "t.1", "station": "sill"}),
            ],
            date(2027, 4, 12),
            [("sill", "seedlings", 16)],
        ),
        (TOMATO, [(Finished, "3-25", {})], date(2027, 4, 2), []),  # over
        # No plan for its station: where it was sown.
        (lot("t", "tomato", want="10"), [], date(2027, 3, 21), [("mat", "seed", 24)]),
    ],
    ids=["pricked out", "over", "no station"],
)
def test_what_was_sown_stands_as_it_was_written_down(
    lots: str,
    acts: list[tuple[type[Entry], str, dict[str, Any]]],
    today: date,
    found: list[tuple[str, str, int]],
) -> None:
    book, plan = Notebook(), season(lots)
    book.write(Sown, "3-20", sowing="t", lot="t", seeds=24, station="mat")
    for kind, at, fields in acts:
        book.write(kind, at, sowing="t", **fields)
    assert on(sown_so_far(book, plan, lots, today), today) == found


def test_seed_that_has_no_day_to_come_up_takes_its_room_today() -> None:
    # emergence_days.csv: pepper comes up at 15 °C and above; the sill has 12.
    cold = lot("p", "pepper", want="4", station='"sill"')
    book, plan = Notebook(), season(cold)
    book.write(Sown, "3-20", sowing="p", lot="p", seeds=8, station="sill")
    found = sown_so_far(book, plan, cold, date(2027, 4, 2))
    assert on(found, date(2027, 4, 2)) == [("sill", "seed", 8)]


def in_week_of(found: list[Stand], plan: Season, day: date) -> dict[str, dict[str, int]]:
    """What stands at each station in the week of a day: how many of each container."""
    here = [load for load in loads(found, plan) if 0 <= (day - load.monday).days < 7]
    return {
        load.station: {kind.name: n for kind, n in containers_of(load.stands).items()}
        for load in here
    }


LEEK = lot("leek", "leek", want="60", station='"mat"', then='"shelf"', container='"seed tray"')


def pricked_out_everywhere(container: str | None = "tray of 24") -> Notebook:
    """Sixty leeks into four trays at three stations."""
    book = Notebook()
    book.write(Sown, "2-01", sowing="leek", lot="leek", seeds=70, station="mat", tray="tray 1")
    book.write(Counted, "2-20", sowing="leek", standing=60, final=True)
    places = {"tray 2": "mat", "tray 3": "shelf", "tray 4": "shelf", "tray 5": "sill"}
    for number, (tray, station) in enumerate(places.items(), 1):
        book.write(
            PrickedOut, "3-06", sowing="leek", plants=15, into=f"leek.{number}", tray=tray,
            station=station, container=container,
        )  # fmt: skip
    return book


def test_sixty_into_four_trays_at_three_stations_take_their_room_at_each() -> None:
    plan, day = season(LEEK), date(2027, 3, 8)
    found = sown_so_far(pricked_out_everywhere(), plan, LEEK, day)
    assert in_week_of(found, plan, day) == {
        "mat": {"tray of 24": 1}, "shelf": {"tray of 24": 2}, "sill": {"tray of 24": 1}
    }  # fmt: skip
    used = {load.station: load.used_m2 for load in loads(found, plan) if load.monday == day}
    assert used["shelf"] == pytest.approx(2 * 0.54 * 0.28)


def test_a_tray_with_a_name_is_a_whole_tray_and_what_is_in_none_shares() -> None:
    book, plan, day = Notebook(), season(LEEK), date(2027, 3, 8)
    for number in range(3):
        book.write(
            Sown, "3-01", sowing=f"leek {number}", lot="leek", seeds=10, station="sill",
            tray="tray 9" if number else None,
        )  # fmt: skip
    found = sown_so_far(book, plan, LEEK, day)
    assert in_week_of(found, plan, day)["sill"] == {"seed tray": 2}


def test_potted_on_plants_stay_at_their_stations_and_pots_take_a_place_each() -> None:
    plan, day = season(LEEK), date(2027, 3, 22)
    book = pricked_out_everywhere()
    for number in (1, 2, 3, 4):
        book.write(PottedOn, "3-20", sowing=f"leek.{number}", container="9 cm pot")
    found = sown_so_far(book, plan, LEEK, day)
    assert in_week_of(found, plan, day) == {
        "mat": {"9 cm pot": 15}, "shelf": {"9 cm pot": 30}, "sill": {"9 cm pot": 15}
    }  # fmt: skip


def test_every_later_week_has_them_where_they_stand_until_they_are_hardened_off() -> None:
    plan, day = season(LEEK), date(2027, 3, 8)
    found = sown_so_far(pricked_out_everywhere(), plan, LEEK, day)
    for stand in found:
        assert stand.station in {"mat", "shelf", "sill"}
    assert {stand.station for stand in found if stand.until > day + timedelta(days=14)} == {
        "mat", "shelf", "sill"
    }  # fmt: skip


def test_what_comes_up_goes_to_the_light_and_the_pot_stays_where_its_plants_stand() -> None:
    book, plan = Notebook(), season(TOMATO)
    book.write(Sown, "3-20", sowing="t", lot="t", seeds=24, station="sill")
    found = sown_so_far(book, plan, TOMATO, date(2027, 3, 21))
    ahead = [(stand.stage, stand.station) for stand in found if stand.row == "t"]
    assert ahead[0] == ("seed", "sill")
    assert {station for stage, station in ahead[1:] if stage != "hardening"} == {"shelf"}


def test_a_test_on_a_shelf_takes_its_room_this_week() -> None:
    book, plan, day = Notebook(), season(LEEK), date(2027, 3, 8)
    book.write(Sown, "3-01", sowing="test", lot="leek", seeds=20, station="shelf", purpose="test")
    found = sown_so_far(book, plan, LEEK, day)
    assert in_week_of(found, plan, day)["shelf"] == {"seed tray": 1}


def test_a_sowing_of_long_ago_takes_no_line_a_week_since_then() -> None:
    book, plan, day = Notebook(), season(LEEK), date(2027, 3, 8)
    ago = moment("3-01").replace(year=1900)
    book.write(Sown, ago, sowing="leek", lot="leek", seeds=20, station="shelf")
    found = loads(sown_so_far(book, plan, LEEK, day), plan)
    assert found[0].monday == day


def test_no_smaller_cells_are_proposed_for_what_stands_already() -> None:
    plan, day = season(LEEK), date(2027, 3, 8)
    book = Notebook()
    for number in range(5):
        book.write(
            Sown, "3-01", sowing=f"leek {number}", lot="leek", seeds=60, station="shelf",
            tray=f"tray {number}",
        )  # fmt: skip
        book.write(Counted, "3-02", sowing=f"leek {number}", standing=60)
        book.write(
            PrickedOut, "3-03", sowing=f"leek {number}", plants=60, into=f"leek {number}.1",
            tray=f"tray {number}", container="tray of 72",
        )  # fmt: skip
    records = book.records(LEEK, HEAD)
    rows = rows_today(plan, records, {}, day)
    found = clashes(rows, stands(rows, plan, SoFar(records, day)), plan)
    assert found
    assert not any("tray of 128" in remedy for clash in found for remedy in clash.remedies)


TUNNEL = """
[[station]]
name = "tunnel"
kind = "tunnel"
"""
WARM, HOT, ROOM = 'expected = "20C"\n', 'expected = "45C"\n', 'area = "3 x 2 m"\n'


def remedies_with(tunnel: str, head: str = HEAD, station: str = "shelf") -> tuple[str, ...]:
    """What is proposed for five trays of leek of which four have room on the shelf."""
    said = {"station": f'"{station}"', "then": '"shelf"', "container": '"tray of 72"'}
    lots = "".join(lot(f"leek {n}", "leek", want="72", **said) for n in range(5))
    plan = season(lots, head + TUNNEL + tunnel)
    rows = rows_of(plan)
    (clash,) = clashes(rows, stands(rows, plan), plan)
    assert clash.station == "shelf"
    return clash.remedies


def test_seed_is_not_sent_where_it_would_not_come_up() -> None:
    # No crop of Harrington & Minges 1954 (emergence_days.csv) comes up above 40 °C.
    assert "put leek 0 on the tunnel" in remedies_with(WARM + ROOM)
    assert "put leek 0 on the tunnel" not in remedies_with(HOT + ROOM)


def test_seedlings_that_came_up_elsewhere_may_go_where_seed_would_not_come_up() -> None:
    # emergence_days.csv: no crop comes up at 45 °C; a seedling may stand there.
    head = HEAD.replace('area = "1.2 x 0.6 m"\n', ROOM, 1)
    assert head.index(ROOM) < head.index('name = "shelf"')  # the mat has room for all
    assert "put leek 0 on the tunnel" in remedies_with(HOT + ROOM, head, station="mat")


@pytest.mark.parametrize("known", [WARM, ROOM])
def test_no_place_without_an_area_or_a_temperature_is_proposed(known: str) -> None:
    assert not any("tunnel" in one for one in remedies_with(known))


def test_who_sows_later_as_proposed_has_room() -> None:
    said = {"want": "72", "station": '"shelf"', "container": '"tray of 72"'}
    early = "".join(lot(f"early {n}", "leek", sow="[2026-12-20]", **said) for n in range(4))
    plan = season(early + lot("late", "kale", **said))
    rows = rows_of(plan)
    (clash,) = clashes(rows, stands(rows, plan), plan)
    assert clash.remedies == ("sow late on 3 Apr, 3 weeks later",)
    cured = season(early + lot("late", "kale", sow="[2027-04-03]", **said))
    rows = rows_of(cured)
    assert clashes(rows, stands(rows, cured), cured) == []


def test_a_lot_of_which_nobody_said_how_many_takes_a_cell() -> None:
    plan = season(lot("leek", "leek", station='"shelf"', container='"tray of 72"'))
    assert {stand.cells for stand in stands(rows_of(plan), plan)} == {1}


FRIDGE = HEAD + "[[station]]\nname = 'fridge'\nkind = 'fridge'\nexpected = '4C'\n"


def test_a_tray_in_the_fridge_comes_out_when_its_cold_is_over() -> None:
    lots = lot("v", "lavender", want="20", station='"shelf"', stratify='"4 weeks"')
    plan, day = season(lots, FRIDGE), date(2027, 2, 20)
    book = Notebook()
    book.write(Sown, "2-02", sowing="v", lot="v", seeds=30, station="fridge", tray="tray L")
    records = book.records(lots, FRIDGE)
    found = stands(rows_today(plan, records, {}, day), plan, SoFar(records, day))
    there = [(one.station, one.since) for one in found]
    # 2 February and the four weeks that its lot is to lie cold: 2 March.
    assert there[:2] == [("fridge", day), ("shelf", date(2027, 3, 2))]
    assert {station for station, _ in there[1:]} == {"shelf"}


def test_what_is_sown_for_the_fridge_is_planned_there_for_its_cold_alone() -> None:
    lavender = lot(
        "v", "lavender", want="20", station='"fridge"', then='"shelf"', stratify='"4 weeks"'
    )
    plan = season(lavender, FRIDGE)
    (row,) = rows_of(plan)
    sow, (first, second, *_) = row.window("sow"), stands([row], plan)
    assert sow is not None
    assert (first.station, first.until) == ("fridge", sow.best + timedelta(weeks=4))
    assert (second.station, second.stage) == ("shelf", "seed")
