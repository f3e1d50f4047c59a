"""Seed: treated before sowing, taken out, sown."""

from datetime import date, timedelta

import pytest

from notebook import moment
from seasons import HEAD, lot, season
from seedstart.planning.calendar.season_rows import season_rows
from seedstart.season.journal.entries import Counted, Scarified, Soaked, Sown, Stratified, TakenOut
from shipped import crop
from walk import MakeWalk

# A crop whose seed has to lie in the cold is told so by the lot itself.
COLD = lot("sea-holly", "leek", stratify='"42 days"', station='"mat"')
SOAKED = lot("sweet-pea", "sweet pea", station='"sill"', sow='["2027-03-20"]', soak='"12 h"')
LEEK = lot("leek", "leek", station='"shelf"', want="48", sow='["2027-03-10"]')


def test_seed_is_to_be_taken_out_once_its_hours_are_over(walk: MakeWalk) -> None:
    found = walk(SOAKED)
    found.write(Soaked, "3-19 20:00", lot="sweet-pea", hours=12.0)
    assert found.checks("3-19 21:00", "take out") == []
    check = found.check("3-20 07:00", "take out")
    assert check.says == "take sweet-pea out of the water, at 08:00"
    (entry,) = found.tick(check, "3-20 08:05")
    assert isinstance(entry, TakenOut)
    assert found.checks("3-20 09:00", "take out") == []
    assert [one.says for one in found.done("3-20 09:00", "take out")] == ["sweet-pea taken out"]


def test_a_soak_without_hours_is_a_night_and_says_that_nobody_printed_it(walk: MakeWalk) -> None:
    found = walk(SOAKED)
    found.write(Soaked, "3-19 20:00", lot="sweet-pea")
    check = found.check("3-20 09:00", "take out")
    assert "12 h" in check.why[0].text
    assert check.why[0].basis == "common practice, no source"


def test_seed_in_the_cold_is_taken_out_after_its_days_and_not_before(walk: MakeWalk) -> None:
    found = walk(COLD)
    found.write(Stratified, "1-10", lot="sea-holly", days=42.0)
    end = moment("1-10") + timedelta(days=42)
    assert found.checks(end - timedelta(days=1), "take out") == []
    check = found.check(end + timedelta(days=3), "take out")
    assert check.due == end.date()
    assert check.why[0].text.endswith("for 42 days")


def test_the_cold_without_an_end_is_not_guessed_at(walk: MakeWalk) -> None:
    found = walk(COLD.replace('stratify = "42 days"\n', ""))
    found.write(Stratified, "1-10", lot="sea-holly")
    assert found.checks("6-01", "take out") == []


def test_seed_that_was_sown_needs_no_taking_out(walk: MakeWalk) -> None:
    found = walk(SOAKED)
    soaked = found.write(Soaked, "3-19 20:00", lot="sweet-pea", hours=12.0)
    found.write(
        Sown, "3-20 09:00", sowing="sweet-pea", lot="sweet-pea", seeds=9, station="sill",
        after=(soaked.id,),
    )  # fmt: skip
    assert found.checks("3-20 10:00", "take out") == []


def test_two_batches_of_one_lot_are_two_lines(walk: MakeWalk) -> None:
    found = walk(SOAKED)
    for hour in (7, 19):
        found.write(Soaked, f"3-18 {hour:02}:00", lot="sweet-pea", hours=12.0)
    keys = [one.key for one in found.checks("3-19 20:00", "take out")]
    assert len(set(keys)) == 2
    found.tick(found.checks("3-19 20:00", "take out")[0], "3-19 20:05")
    assert [one.key for one in found.checks("3-19 21:00", "take out")] == keys[1:]


def test_nicked_and_soaked_on_one_day_are_two_lines(walk: MakeWalk) -> None:
    found = walk(SOAKED)
    found.write(Scarified, "3-19 19:00", lot="sweet-pea")
    found.write(Soaked, "3-19 20:00", lot="sweet-pea")
    done = found.done("3-19 21:00", "treat")
    assert [one.says for one in done] == ["sweet-pea: scarified", "sweet-pea: soaked"]
    assert len({one.key for one in done}) == 2


def test_the_soak_is_asked_for_before_the_day_to_sow(walk: MakeWalk) -> None:
    found = walk(SOAKED)
    assert found.checks("3-18", "treat") == []
    check = found.check("3-19", "treat")
    assert (check.key, check.due) == ("soak sweet-pea", date(2027, 3, 19))
    # crops/sweet-pea.toml: 12 h, Illinois Peoria pretreatment.
    hours = next(one.hours for one in crop("sweet pea").treat if one.what == "soak")
    (entry,) = found.tick(check, "3-19 20:00")
    assert isinstance(entry, Soaked)
    assert hours is not None
    assert entry.hours == hours.best == 12
    assert found.checks("3-19 21:00", "treat") == []


def test_what_is_sown_takes_the_seed_that_was_made_ready(walk: MakeWalk) -> None:
    found = walk(SOAKED)
    soaked = found.write(Soaked, "3-19 20:00", lot="sweet-pea", hours=12.0)
    found.write(TakenOut, "3-20 08:00", entry=soaked.id)
    (entry,) = found.tick(found.check("3-20 09:00", "sow"), "3-20 09:00", "20")
    assert isinstance(entry, Sown)
    assert entry.after == (soaked.id,)


def test_a_sowing_is_asked_for_from_its_day_on_and_keeps_its_key(walk: MakeWalk) -> None:
    found = walk(LEEK)
    assert found.checks("3-09", "sow") == []
    first, later = found.check("3-10", "sow"), found.check("3-19", "sow")
    assert first.key == later.key == "sow leek"
    assert first.due == later.due == date(2027, 3, 10)
    assert first.tick is not None
    (entry,) = found.tick(later, "3-19 09:00")
    assert isinstance(entry, Sown)
    assert (entry.sowing, entry.seeds, entry.station) == (
        "leek",
        int(first.tick.of[0]["seeds"]),
        "shelf",
    )
    assert found.checks("3-19 10:00", "sow") == []
    assert [one.says for one in found.done("3-19 10:00", "sow")] == [
        f"sowed {entry.seeds} seeds of leek"
    ]


def test_sowing_falls_on_a_day_on_which_the_grower_works(walk: MakeWalk) -> None:
    head = HEAD.replace("[frost]", 'work_days = ["sat"]\n\n[frost]', 1)
    found = walk(lot("leek", "leek", station='"shelf"'), head)
    days = (moment("1-10") + timedelta(days=day) for day in range(120))
    first = next(day for day in days if found.checks(day, "sow"))
    assert first.strftime("%a") == "Sat"
    assert found.checks(first - timedelta(days=1), "sow") == []
    between = found.check(first + timedelta(days=2), "sow")  # overdue, in sight on a Monday too
    assert between.due == first.date()


def test_succession_sowings_are_each_asked_for(walk: MakeWalk) -> None:
    found = walk(lot("lettuce", "lettuce", station='"sill"', sow='["2027-03-10", "2027-03-24"]'))
    found.tick(found.check("3-10", "sow"), "3-10 09:00", "20")
    assert found.checks("3-23", "sow") == []
    check = found.check("3-24", "sow")
    assert check.key == "sow lettuce/2"
    (entry,) = found.tick(check, "3-24 09:00", "20")
    assert isinstance(entry, Sown)
    assert entry.sowing == "lettuce/2"


def test_what_was_sown_under_the_next_ones_name_leaves_two_keys(walk: MakeWalk) -> None:
    found = walk(lot("lettuce", "lettuce", sow='["2027-03-10", "2027-03-11"]'))
    found.write(Sown, "3-11 09:00", sowing="lettuce/2", lot="lettuce", seeds=9, station="sill")
    keys = [one.key for one in found.round("3-11 10:00").checks]
    assert len(keys) == len(set(keys))


@pytest.mark.parametrize("typed", ["24", "24 seeds", "24 in tray 5", "24 on the sill"])
def test_a_number_of_seeds_may_say_where(walk: MakeWalk, typed: str) -> None:
    found = walk(LEEK)
    (entry,) = found.tick(found.check("3-10", "sow"), "3-10 09:00", typed.replace("the ", ""))
    assert isinstance(entry, Sown)
    assert entry.seeds == 24
    assert entry.tray == ("tray 5" if "tray" in typed else None)
    assert entry.station == ("sill" if "sill" in typed else "shelf")


def test_no_more_is_asked_than_the_packet_has_and_the_line_says_the_chance(walk: MakeWalk) -> None:
    packet = lot(
        "leek", "leek", station='"shelf"', want="48", sow='["2027-03-10"]', have='"50 seeds"'
    )
    found = walk(packet)
    check = found.check("3-10", "sow")
    (row,) = [row for row in found.opened.calendar() if row.lot == "leek"]
    assert row.few is not None
    words = f"sow all 50 seeds of leek, shelf: {row.few.in_words}; caution: harms cats and dogs"
    assert check.says == words
    (entry,) = found.tick(check, "3-10 09:00")
    assert isinstance(entry, Sown)
    assert entry.seeds == 50


def test_of_an_empty_packet_no_number_of_seeds_is_asked(walk: MakeWalk) -> None:
    packet = lot("leek", "leek", station='"shelf"', want="48", have='"40 seeds"', sowings="2",
                 sow='["2027-03-10", "2027-03-20"]')  # fmt: skip
    found = walk(packet)
    found.write(Sown, "3-10", sowing="leek", lot="leek", seeds=40, station="shelf")
    check = found.check("3-20", "sow")
    assert check.says == "sow leek/2, shelf; caution: harms cats and dogs"
    assert any(why.text == "The packet is empty." for why in check.why)
    assert "how many seeds" in found.refused(check, "")


def test_a_recorded_test_changes_how_many_are_asked_for_at_once(walk: MakeWalk) -> None:
    # `checks` compares each round with that of a season that is opened afresh.
    found = walk(LEEK)
    before = found.check("3-10", "sow").says
    test = {"purpose": "test", "on": "paper"}
    found.write(Sown, "2-10", sowing="test", lot="leek", seeds=20, **test)
    assert found.check("3-10", "sow").says == before
    ended = {"normal": 19, "abnormal": 0, "hard": 0, "fresh": 0, "dead": 1}
    found.write(Counted, "2-24", sowing="test", standing=19, final=True, **ended)
    after = found.check("3-10", "sow")
    assert after.says != before
    assert any("19 of 20 came up in your test of 24 Feb" in why.text for why in after.why)


def test_one_more_lot_that_is_closed_is_heard_of_at_once(walk: MakeWalk) -> None:
    names = ("a", "b", "c", "d")
    found = walk(LEEK + "".join(lot(name, "leek") for name in names))

    def why() -> str:
        (check,) = [one for one in found.checks("3-10", "sow") if one.key == "sow leek"]
        return " ".join(why.text for why in check.why)

    for name, up in zip(names, (20, 22, 15, 21), strict=True):
        found.write(Sown, "1-02", sowing=name, lot=name, seeds=24, station="shelf")
        assert "threshold" in why()
        found.write(Counted, "1-30", sowing=name, standing=up, final=True)
    assert "your 4 other lots came up to" in why()


# Canada, Massey University, Children's Hospital of Philadelphia: poisonous, and looks like peas.
def test_the_line_that_asks_to_sow_says_once_what_can_hurt(walk: MakeWalk) -> None:
    found = walk(lot("scented", "sweet pea", station='"shelf"'))
    check = found.check("3-25", "sow")
    assert check.says.endswith("; caution: poisonous, not a pea to eat")
    whole = [why for why in check.why if "label both" in why.text]
    assert [why.sources != () for why in whole] == [True]


def test_a_harmless_crop_is_sown_without_a_word_of_caution(walk: MakeWalk) -> None:
    basil = walk(lot("basil", "basil", station='"shelf"'))
    assert "caution" not in basil.check("5-01", "sow").says


def test_what_is_sown_in_place_is_asked_for_outdoors_from_its_first_day(walk: MakeWalk) -> None:
    # Colorado State University: 2 weeks before the last frost to it; Purdue HO-203: 2 to 3 before.
    found = walk(lot("nantes", "carrot"))
    assert found.checks("4-28", "sow") == []
    check = found.check("4-30", "sow")
    assert check.says.startswith("sow nantes outdoors, from 21 Apr")
    (entry,) = found.tick(check, "4-30 09:00", "200")
    assert isinstance(entry, Sown)


@pytest.mark.parametrize(
    ("name", "instead"),
    [("zinnia", "sow it outdoors instead, or take it out of the plan"),
     ("pepper", "take it out of the plan")],
)  # fmt: skip
def test_past_its_last_useful_day_seed_is_sown_outdoors_or_given_up(
    walk: MakeWalk, name: str, instead: str
) -> None:
    lots = lot(name, name, station='"mat"', want="10")
    found, (row,) = walk(lots), season_rows(season(lots), date(2027, 1, 2))
    window = row.window("sow")
    assert window is not None
    (early,) = found.checks(window.latest.strftime("%m-%d"), "sow")
    assert "its time ended" not in early.says
    day = window.latest + timedelta(days=1)
    check = found.check(day.strftime("%m-%d"), "sow")
    ended = f"{window.latest.day} {window.latest:%b}"
    assert f"; its time ended on {ended}: {instead}" in check.says
