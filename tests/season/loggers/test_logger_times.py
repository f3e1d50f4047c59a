"""When a foreign file's rows were taken: order of day and month, clocks put forward and back."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from season.loggers.foreign_files import MAT, VIENNA, asked, kept, read
from seedstart.problems import BadInputError
from seedstart.season.loggers.logger_file import to_tidy
from seedstart.season.loggers.sources import Answers

# Where the file leaves a doubt it is asked, and each answer gives its own reading.
AMBIGUOUS = "Date,heat mat soil °C\n03/04/2027 06:00,21.5\n03/04/2027 06:10,21.6\n"


@pytest.mark.parametrize(("order", "day"), [("dmy", "2027-04-03 04"), ("mdy", "2027-03-04 05")])
def test_the_order_of_day_and_month_is_asked_where_the_file_does_not_decide_it(
    order: str, day: str
) -> None:
    understood = read(AMBIGUOUS)
    assert asked(understood) == [("order", "", ("dmy", "mdy"))]
    assert "2027-04-03 or 2027-03-04" in understood.questions[0].text
    with pytest.raises(BadInputError, match="In which order are day"):
        to_tidy(understood)
    assert kept(read(AMBIGUOUS, answers=Answers(order=order)))[MAT][0][0] == f"{day}:00:00"


@pytest.mark.parametrize(
    ("days", "order"),
    [
        (["03/04/2027", "13/04/2027"], "dmy"),  # there is no thirteenth month
        (["03/04/2027", "03/13/2027"], "mdy"),
        (["03/04/2027", "04/04/2027", "05/04/2027"], "dmy"),  # three days, not three months
        (["03/04/2027", "03/05/2027", "03/06/2027"], "mdy"),
        (["11/12/28", "11/12/29", "11/12/30"], "ymd"),
    ],
)
def test_the_order_is_read_off_numbers_above_twelve_and_days_that_follow(
    days: list[str], order: str
) -> None:
    rows = [f"{day} {hour:02d}:00,21.5" for day in days for hour in (0, 6, 12, 18)]
    understood = read("\n".join(["time,heat mat soil °C", *rows]))
    assert (understood.order, asked(understood)) == (order, [])


def test_one_reading_a_month_does_not_decide_the_order() -> None:
    rows = [f"0{month}/04/2027 06:00,21.5" for month in (1, 2, 3)]
    assert asked(read("\n".join(["time,heat mat soil °C", *rows]))) == [
        ("order", "", ("dmy", "mdy"))
    ]


def test_dates_that_contradict_each_other_are_refused() -> None:
    rows = ["13/04/2027 06:00,21.5", "04/13/2027 06:00,21.5"]
    with pytest.raises(BadInputError, match="dates in one order of day and month"):
        read("\n".join(["time,heat mat soil °C", *rows]))


def test_an_order_that_the_dates_contradict_is_refused() -> None:
    text = "time,heat mat soil °C\n13/04/2027 06:00,21.5\n14/04/2027 06:00,21.5\n"
    with pytest.raises(BadInputError, match="order: found 'mdy', allowed: dmy"):
        read(text, answers=Answers(order="mdy"))


# Every half hour through the change of the clocks, as a logger that follows them writes it.
CHANGES = [
    (VIENNA, datetime(2027, 3, 28, tzinfo=UTC)),
    (VIENNA, datetime(2027, 10, 31, tzinfo=UTC)),
    ("America/New_York", datetime(2027, 3, 14, 6, tzinfo=UTC)),
    ("America/New_York", datetime(2027, 11, 7, 4, tzinfo=UTC)),
    ("Australia/Sydney", datetime(2027, 4, 3, 13, tzinfo=UTC)),
    ("Australia/Sydney", datetime(2027, 10, 2, 14, tzinfo=UTC)),
    ("Australia/Lord_Howe", datetime(2027, 4, 3, 13, tzinfo=UTC)),  # half an hour
    ("Europe/Dublin", datetime(2027, 10, 31, tzinfo=UTC)),  # there summer time is the standard
    (VIENNA, datetime(2052, 10, 27, tzinfo=UTC)),  # beyond the changes that zone files list
]


@pytest.mark.parametrize(
    ("zone", "start", "minutes"),
    [
        (zone, start, minutes)
        for zone, start in CHANGES
        for minutes in ((5, 10, 30) if zone.endswith("Howe") else (5, 10, 30, 60, 180))
    ],
)
@pytest.mark.parametrize("newest_first", [False, True])
def test_wall_times_through_a_change_of_clocks_come_out_as_zoneinfo_made_them(
    zone: str, start: datetime, minutes: int, newest_first: bool
) -> None:
    moments = [start + timedelta(minutes=minutes * step) for step in range(-60, 60)]
    rows = [
        f"{moment.astimezone(ZoneInfo(zone)):%Y-%m-%d %H:%M},{20 + place / 100:.2f}"
        for place, moment in enumerate(moments)
    ]
    rows = rows[::-1] if newest_first else rows
    understood = read("\n".join(["time,heat mat soil °C", *rows]), zone=zone)
    assert asked(understood) == []
    assert understood.problems == ()
    assert understood.newest_first is newest_first
    found = to_tidy(understood)["heat mat", "soil_c"]
    assert list(found.at_s) == [moment.timestamp() for moment in moments]


def test_the_doubled_hour_is_told_apart_for_each_sensor_by_itself() -> None:
    start = datetime(2027, 10, 30, 22, tzinfo=UTC)
    moments = [start + timedelta(minutes=20 * step) for step in range(18)]
    local = [f"{moment.astimezone(ZoneInfo(VIENNA)):%Y-%m-%d %H:%M}" for moment in moments]
    # One sensor after the other, and row by row in turn.
    apart = [f"{time},{name},21.5" for name in ("heat mat", "sill") for time in local]
    in_turn = [f"{time},{name},21.5" for time in local for name in ("heat mat", "sill")]
    for rows in (apart, in_turn):
        found = to_tidy(read("\n".join(["time,sensor,soil °C", *rows])))
        for name in ("heat mat", "sill"):
            assert list(found[name, "soil_c"].at_s) == [m.timestamp() for m in moments]


def clock_that_never_changes(day: str) -> str:
    rows = [f"{day} {h:02d}:{m:02d},21.5" for h in range(6) for m in (0, 20, 40)]
    return "\n".join(["time,heat mat soil °C", *rows])


def test_a_clock_that_was_not_put_forward_is_asked_about() -> None:
    text = clock_that_never_changes("2027-03-28")
    understood = read(text)
    assert asked(understood) == [("zone", "", ("+01:00", VIENNA))]
    assert "Line 8 and 2 more" in understood.questions[0].text
    winter = to_tidy(read(text, answers=Answers(zone="+01:00")))[MAT[0], "soil_c"]
    steps = {b - a for a, b in zip(winter.at_s, winter.at_s[1:], strict=False)}
    assert (len(winter), steps) == (18, {1200.0})
    # Held to the season's zone, the rows that no clock there can show are named and set aside.
    held = read(text, answers=Answers(zone=VIENNA))
    assert [problem.line for problem in held.problems] == [8, 9, 10]
    assert len(to_tidy(held)[MAT[0], "soil_c"]) == 15


def test_a_clock_that_was_not_put_back_is_asked_about() -> None:
    text = clock_that_never_changes("2027-10-31")
    assert asked(read(text)) == [("zone", "", ("+02:00", VIENNA))]
    summer = to_tidy(read(text, answers=Answers(zone="+02:00")))[MAT[0], "soil_c"]
    assert summer.at_s[-1] - summer.at_s[0] == 17 * 1200
    held = to_tidy(read(text, answers=Answers(zone=VIENNA)))[MAT[0], "soil_c"]
    assert held.at_s[-1] - held.at_s[0] == 17 * 1200 + 3600
