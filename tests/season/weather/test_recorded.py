"""A season whose frost dates come from its record of minima."""

from datetime import date

import pytest

from seedstart.growing.frost import day_of
from seedstart.planning.calendar.season_rows import frost_of
from seedstart.problems import BadInputError
from seedstart.season.plan.season_file import Season, read_season
from seedstart.season.weather.recorded import with_record
from seedstart.season.weather.weather_columns import read_columns, with_answers
from seedstart.season.weather.weather_file import Answers
from shipped import crop_table
from tables import REFERENCE

# Twenty invented springs; the last frost of the nth year is n days after 20 April.
FROSTS = {year: 110 + year - 2000 for year in range(2000, 2020)}


def minima(frosts: dict[int, int] = FROSTS) -> bytes:
    rows = ["date,tmin_c"]
    for year, frost in frosts.items():
        first = date(year, 1, 1).toordinal()
        for day in range(date(year + 1, 1, 1).toordinal() - first):
            number = day + 1 - (day > 58 and year % 4 == 0)
            usual = 9.0 + (day * 37 % 61) / 10 if 100 < number < 280 else 0.5
            low = -1.0 if number == frost else usual + (day * 37 % 61) / 20
            rows.append(f"{date.fromordinal(first + day)},{low:.1f}")
    return "\n".join(rows).encode()


def season(frost: str) -> Season:
    toml = f'timezone = "Europe/Vienna"\n[frost]\nrecord = "weather/m.csv"\n{frost}'
    return read_season(toml.encode(), b"", crop_table())


def recorded(frost: str, data: bytes | None = None, today: date = date(2027, 3, 1)) -> Season:
    return with_record(season(frost), {"weather/m.csv": data or minima()}, {}, today)


def test_average_and_trusted_day_come_both_from_the_record() -> None:
    found = frost_of(recorded("tender_risk_percent = 10"))
    assert found is not None
    # Mean 119.5 and standard deviation 5.916 of 110 to 129: 30 April, and 119.5 + 1.2816 sd.
    assert (found.average, found.trusted) == (day_of(119.5, 2027), day_of(127.08, 2027))
    assert found.sentence() == (
        "Last frost Fri 30 Apr 2027: the average of 20 springs, 2000 to 2019, in weather/m.csv. "
        "Tender plants wait for Fri 7 May 2027, after which a frost still comes in 1 year of 10."
    )
    assert found.risk_left_percent(date(2027, 4, 30)) == pytest.approx(46.6, abs=0.1)


@pytest.mark.parametrize(
    ("today", "said", "year"),
    [
        (date(2027, 3, 1), "", 2027),
        (date(2027, 9, 1), "", 2028),
        (date(2029, 1, 1), "year = 2027", 2027),
    ],
)
def test_the_spring_that_is_meant_is_the_coming_one_unless_it_is_said(
    today: date, said: str, year: int
) -> None:
    frost = recorded(said, today=today).frost
    assert frost is not None
    assert frost.last is not None
    assert frost.last.year == year


def test_a_risk_that_the_record_does_not_carry_is_refused_with_its_key() -> None:
    with pytest.raises(BadInputError, match=r"frost\.tender_risk_percent: found '4'\. A record of"):
        recorded("tender_risk_percent = 4")


def test_where_fewer_than_half_of_the_springs_have_a_frost_there_is_no_average() -> None:
    rare = {year: frost if year < 2003 else 0 for year, frost in FROSTS.items()}  # 0: no day
    with pytest.raises(BadInputError, match="there is no average date to count weeks from"):
        recorded("", minima(rare))


def test_the_old_name_of_the_risk_is_still_read() -> None:
    frost = season("trust_percent = 10").frost
    assert frost is not None
    assert frost.tender_risk_percent == 10
    with pytest.raises(BadInputError, match="the old name of tender_risk_percent: give one"):
        season("trust_percent = 10\ntender_risk_percent = 10")


@pytest.mark.parametrize("path", ["/etc/passwd", "../other.csv", "C:/minima.csv"])
def test_a_record_lies_inside_the_season(path: str) -> None:
    toml = f'timezone = "Europe/Vienna"\n[frost]\nrecord = "{path}"\n'
    with pytest.raises(BadInputError, match="a file or folder inside this season's folder"):
        read_season(toml.encode(), b"", crop_table())


def test_what_was_said_of_a_file_is_known_again_by_its_header() -> None:
    data = (REFERENCE / "weather_format_samples" / "order_form_degF.csv").read_bytes()
    known = read_columns(with_answers(b"# mine\n", data, "order.csv", Answers(unit="F")))
    assert list(known.values()) == [Answers(unit="F")]
    plan = season("")
    with pytest.raises(BadInputError, match="No spring lies wholly in it"):  # it is of one month
        with_record(plan, {"weather/m.csv": data}, known, date(2031, 5, 1))


def test_what_is_wrong_in_the_columns_file_is_named_all_at_once() -> None:
    with pytest.raises(BadInputError) as caught:
        read_columns(b'[[layout]]\nunit = "K"\nordr = "dmy"\n')
    assert [problem.key for problem in caught.value.problems] == [
        "layout[1].header", "layout[1].unit", "layout[1].ordr",
    ]  # fmt: skip


def test_the_shipped_table_of_stations_is_the_reference() -> None:
    from seedstart import disk
    from seedstart.season.weather.published_stations import PUBLISHED_FILE

    shipped = disk.read(disk.shipped("published") / PUBLISHED_FILE)
    assert shipped == (REFERENCE / "freeze_normals.csv").read_bytes()
