"""A check or an alert by its key, or by as much of it as fits no other; and as JSON."""

from datetime import date
from typing import Any

import pytest

from notebook import moment
from seasons import season
from seedstart.acts.known import Known
from seedstart.daily.answers import alerts_as_json, round_as_json
from seedstart.daily.check import Alert, Asked, Check, Doing, Round, Why
from seedstart.daily.check_status import find
from seedstart.problems import Problem
from seedstart.tracking.records import Records

TODAY = date(2027, 3, 20)
KNOWN = Known(season(), Records(), moment("3-20"))


def check(key: str, **more: Any) -> Check:
    fields: dict[str, Any] = {
        "key": key, "what": "water", "says": "feel it", "why": (), "subject": ("tray", "tray 1"),
        "due": TODAY,
    }  # fmt: skip
    return Check(**(fields | more))


ALERT = Alert(
    key="too cold mat 2027-03-19", kind="too cold", level="today", subject=("station", "mat"),
    station="mat", sowings=("pepper",), brief="", text="cold", since=moment("3-19 23:00"),
    costs_days=0.2, remedies=("warm it",), basis="measured", sources=("florida-ifas",),
)  # fmt: skip
PARTS = (check("water tray 1 2027-03-18"), check("water tray 12 2027-03-18"))
ROUND = Round(
    day=TODAY,
    alerts=(ALERT,),
    checks=(
        check("count tray 1 2"),
        check("count tray 12 2", due=date(2027, 3, 17)),
        check("water at mat", parts=PARTS),
        check("feed tray 1 done", done_by="me"),
    ),
)


@pytest.mark.parametrize(
    ("typed", "key"),
    [("count tray 12", "count tray 12 2"), ("count tray 1", "count tray 1 2"),
     ("COUNT tray 1 2", "count tray 1 2"),
     (" water tray 12", "water tray 12 2027-03-18"), ("water at", "water at mat"),
     ("too cold", "too cold mat 2027-03-19"), ("feed tray 1", "feed tray 1 done")],
)  # fmt: skip
def test_a_key_may_be_cut_short_where_it_stays_plain(typed: str, key: str) -> None:
    found = find(ROUND, typed, option="--tick")
    assert not isinstance(found, Problem)
    assert found.key == key


def test_of_one_that_is_done_and_one_that_is_not_the_latter_is_meant() -> None:
    checks = (check("feed tray 3 1", done_by="me"), check("feed tray 3 2"))
    found = find(Round(day=TODAY, alerts=(), checks=checks), "feed tray 3", option="--tick")
    assert not isinstance(found, Problem)
    assert found.key == "feed tray 3 2"


@pytest.mark.parametrize("typed", ["count tray", "water", "c"])
def test_what_fits_several_is_refused_with_those(typed: str) -> None:
    found = find(ROUND, typed, option="--tick")
    assert isinstance(found, Problem)
    assert "Several match" in found.hint
    assert all(key.startswith(typed) for key in found.allowed)


@pytest.mark.parametrize("typed", ["", "   ", "prune roses", "\x1b[31m"])
def test_what_fits_none_is_refused(typed: str) -> None:
    found = find(ROUND, typed, option="--tick")
    assert isinstance(found, Problem)
    assert "\x1b" not in str(found)


def test_json_has_each_check_by_itself_and_how_late_it_is() -> None:
    found = round_as_json(ROUND, KNOWN)
    assert [one["check"] for one in found] == [
        "count tray 1 2", "count tray 12 2", "water tray 1 2027-03-18", "water tray 12 2027-03-18",
        "feed tray 1 done",
    ]  # fmt: skip
    assert [one["days_past"] for one in found] == [0, 3, 0, 0, 0]
    assert [one["done"] for one in found] == [False] * 4 + [True]


def test_json_has_what_a_tick_writes_without_id_time_and_writer() -> None:
    leek = Asked("1", "leek")
    why = Why("dry", "practice", ("a",))
    tray = {"what": "tray:tray 1"}
    one = check(
        "water", sowings=(leek,), why=(why,),
        tick=Doing("water", (tray,)), typed=Doing("weigh", (tray,)),
    )  # fmt: skip
    (found,) = round_as_json(Round(day=TODAY, checks=(one,)), KNOWN)
    assert found["entries"] == [{"kind": "watered", "tray": "tray 1"}]
    assert (found["act"], found["asks"]) == ("weigh", "grams")
    assert found["sowing"] == "leek"
    assert found["why"] == [{"text": "dry", "basis": "practice", "sources": ("a",)}]


def test_json_of_an_alert_has_its_moment_with_the_offset() -> None:
    (found,) = alerts_as_json(ROUND)
    assert found["since"] == "2027-03-19T23:00+01:00"
    assert (found["urgency"], found["sowing"], found["costs_days"]) == ("today", "pepper", 0.2)
