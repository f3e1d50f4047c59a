from datetime import datetime
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from seedstart.acts.parsers import parse_moment

VIENNA = ZoneInfo("Europe/Vienna")
NOW = datetime(2027, 3, 24, 9, 30, tzinfo=VIENNA)  # a Wednesday


@pytest.mark.parametrize(
    ("text", "moment"),
    [
        ("sat 18:00", "2027-03-20T18:00:00+01:00"),
        ("Saturday 18.00", "2027-03-20T18:00:00+01:00"),
        ("wed 8:00", "2027-03-24T08:00:00+01:00"),
        ("wed 18:00", "2027-03-17T18:00:00+01:00"),
        ("8:05", "2027-03-24T08:05:00+01:00"),
        ("yesterday", "2027-03-23T12:00:00+01:00"),
        ("today", "2027-03-24T09:30:00+01:00"),
        ("2027-03-20 18:00", "2027-03-20T18:00:00+01:00"),
        ("2027-03-20T18:00", "2027-03-20T18:00:00+01:00"),
        ("20 March 2027", "2027-03-20T12:00:00+01:00"),
        ("15 feb 9:00", "2027-02-15T09:00:00+01:00"),
        ("20 May", "2026-05-20T12:00:00+02:00"),  # the last one
        ("24 Mar", "2027-03-24T09:30:00+01:00"),
        ("Sat 20 Mar 2027 18:00", "2027-03-20T18:00:00+01:00"),
        ("Sat 20 Mar 07:14", "2027-03-20T07:14:00+01:00"),
        ("29 feb", "2024-02-29T12:00:00+01:00"),
    ],
)
def test_a_past_moment_is_read_as_it_is_said(text: str, moment: str) -> None:
    assert parse_moment(text, NOW).isoformat() == moment


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("18:00", "lies ahead of now"),
        ("2027-03-25", "lies ahead"),
        ("25:00", "a time, e.g. 18:00"),
        ("soon", "a time, e.g. 18:00"),
        ("3.4. 18:00", "needs its year"),
        ("Sun 20 Mar 18:00", "20 Mar 2027 is a Saturday, not a Sunday"),
        ("31 Apr", "April has 30 days"),
    ],
)
def test_what_is_no_past_moment_is_refused(text: str, says: str) -> None:
    with pytest.raises(ValueError, match=says):
        parse_moment(text, NOW)


def test_offsets_follow_daylight_saving() -> None:
    # European Union: clocks go forward on 28 March 2027 at 01:00 UTC (directive 2000/84/EC).
    now = datetime(2027, 3, 29, 9, 0, tzinfo=VIENNA)
    assert parse_moment("sat 18:00", now).isoformat() == "2027-03-27T18:00:00+01:00"
    assert parse_moment("sun 18:00", now).isoformat() == "2027-03-28T18:00:00+02:00"


@given(st.text(max_size=24))
def test_any_text_is_a_past_moment_or_a_value_error(text: str) -> None:
    try:
        moment = parse_moment(text, NOW)
    except ValueError as error:
        assert str(error)
    else:
        assert moment <= NOW
