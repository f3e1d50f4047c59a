"""No two faces say two things of one sowing: all tell one prospect.

Alerts, round, lots (the list, the page and the curve), calendar and JSON.
"""

from datetime import timedelta
from random import Random

import pytest

from notebook import moment
from seasons import HEAD, lot
from seedstart.cli.lots_json import lots_as_json
from seedstart.daily.check_status import single_checks
from seedstart.days import short_day
from seedstart.drawing.lines import as_text
from seedstart.drawing.lots_list import lot_line_of
from seedstart.drawing.lots_table import lot_lines
from seedstart.drawing.measured_curves import outlook_lines
from seedstart.planning.prospects.own_record import figure_of
from seedstart.planning.prospects.prospect import ADVICE
from seedstart.season.journal.entries import Counted, Dug, Finished, Lost, Read, Sown
from walk import MakeWalk, Walk

LOTS = lot("tomato", "tomato", want="12", station='"mat"', germination='"85%"')
# What is told as an alert of each advice, the alert of a cold bench apart.
TOLD_AS = {
    "sow again": {"overdue", "too few up"},
    "dig": {"overdue", "too few up"},
    "too late": {"overdue", "too few up"},
    "look": {"not looked at"},
    "warmer": {"late"},
    "cooler": {"late"},
}
LISTED_AS = {
    "sow again": "sow again", "dig": "dig", "too late": "too late", "look": "look",
    "warmer": "too cold", "cooler": "too hot",
}  # fmt: skip
OF_A_SOWING = {"overdue", "too few up", "not looked at", "late"}


def as_words(found: Walk) -> tuple[str, str]:
    """What the page of the lot and its curve say of its first sowing, without line ends."""
    opened = found.opened
    (lot_,) = opened.plan.lots
    records = opened.records()
    first = records.of_lot("tomato")[0]
    prospects = {first.id: opened.prospects()[first.id]}
    page = lot_lines(lot_, figure_of(lot_, opened.plan, records), [], prospects, {}, width=400)
    curve = outlook_lines(opened.prospects().drawn(first.id), 400)
    page_text, curve_text = ("\n".join(as_text(line).strip() for line in one)
                             for one in (page, curve))  # fmt: skip
    return page_text, curve_text


@pytest.mark.parametrize("seed", range(40))
def test_all_faces_tell_the_same_of_a_sowing(walk: MakeWalk, seed: int) -> None:
    random = Random(seed)
    most, gap = random.choice([0, 1, 3, 9]), random.randint(1, 3)
    dug = random.choice([None, None, (0, 4), (4, 0)])
    found = walk(LOTS, HEAD)
    found.write(Sown, "3-01", sowing="tomato", lot="tomato", seeds=30, station="mat")
    at, up = moment("3-01") + timedelta(days=random.randint(2, 20)), 0
    for _ in range(random.randint(0, 10)):
        up = min(up + random.randint(0, most), 24)
        found.write(Counted, at, sowing="tomato", standing=up)
        at += timedelta(days=gap)
    if dug is not None:
        found.write(Dug, at, sowing="tomato", sound=dug[0], soft=dug[1])
    if random.random() < 0.1:
        found.write(Finished, at, sowing="tomato")
    elif up and random.random() < 0.3:
        found.write(Counted, at, sowing="tomato", standing=up, final=True)
        at += timedelta(days=2)
        found.write(Lost, at, sowing="tomato", plants=random.randint(1, up), why="slugs")
    at += timedelta(days=random.choice([0, 0, 1, 5, 12, 60]))
    round_ = found.round(at)
    kinds = {alert.kind: alert for alert in round_.alerts if alert.kind in OF_A_SOWING}
    (one,) = found.opened.records().of_lot("tomato")
    prospect = found.opened.prospects()[one.id]
    (told,) = lots_as_json(found.opened, found.opened.plan.lots, {"tomato": figure_of(
        found.opened.plan.lots[0], found.opened.plan, found.opened.records())})  # fmt: skip
    sowings = told["sowings"]
    assert isinstance(sowings, list)
    outlook = sowings[0]["outlook"]
    page, curve = as_words(found)
    (row,) = found.opened.calendar()
    step = row.step("emerge")
    if step is not None and step.is_ == "expected":
        assert (step.missed or step.window) == prospect.expected
    if prospect.advice is None:
        assert outlook is None
        assert not kinds
        assert not any(f"{word}:" in page for word in ADVICE.values())
        return
    advice = prospect.advice
    sentence = f"{ADVICE[advice.what]}: {advice.text}"
    assert sentence in page
    assert sentence in curve
    assert (outlook["advice"], outlook["text"]) == (advice.what, advice.text)
    assert (outlook["until"], outlook["where"]) == (advice.until, advice.where)
    on_lot = list(found.opened.prospects().advice_on_lot("tomato"))
    assert on_lot in ([advice], [])
    listed = lot_line_of(
        found.opened.plan.lots[0],
        figure_of(found.opened.plan.lots[0], found.opened.plan, found.opened.records()),
        (row,),
        at.date(),
        crop=found.opened.plan.crops.crops["tomato"],
        advice=on_lot,
        to_come=prospect,
    )
    if on_lot and advice.what in TOLD_AS:
        assert listed.is_urgent
        assert listed.next.startswith(LISTED_AS[advice.what])
        assert advice.until is None or short_day(advice.until) in listed.next
    whys = [why.text for one in single_checks(round_.checks) for why in one.why]
    words = tuple(f"{word}: " for word in ADVICE.values())
    assert {text for text in whys if text.startswith(words)} <= {sentence}
    if advice.what == "sow again" and advice.until is not None:
        last = short_day(advice.until)
        assert all(last in alert.brief for alert in kinds.values())
    assert kinds.keys() <= TOLD_AS.get(advice.what, set())
    assert advice.what in {"look", "warmer", "cooler"} or bool(kinds) == (advice.what in TOLD_AS)
    assert all(advice.text in alert.text for alert in kinds.values() if alert.kind != "late")
    assert prospect.total is None or one.emerged <= prospect.total.low


@pytest.mark.parametrize("mat_c", [24.0, 17.0])
def test_calendar_and_advice_name_the_same_better_place(walk: MakeWalk, mat_c: float) -> None:
    """A mat that no longer heats is named by neither, whatever the plan says of it."""
    found = walk(lot("pepper", "pepper", want="12", station='"sill"'), HEAD)
    found.write(Sown, "3-01", sowing="pepper", lot="pepper", seeds=24, station="sill")
    found.round("3-04 08:00")
    found.write(Read, "3-04 08:00", station="mat", quantity="soil_c", value=mat_c)
    found.round("3-04 09:00")
    (one,) = found.opened.records().of_lot("pepper")
    advice = found.opened.prospects()[one.id].advice
    (row,) = found.opened.calendar()
    best = "mat" if mat_c > 20 else "shelf"
    assert advice is not None
    assert advice.where == best
    said = " ".join(filter(None, (row.problem, *row.warnings)))
    assert f"on the {best} (" in said
    assert "(17 °C)" not in said
