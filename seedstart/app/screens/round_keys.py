"""What works on a line of the round, and what a key there writes: the foot, and the pane."""

from collections.abc import Iterator
from typing import Final

from seedstart.acts.act import Texts
from seedstart.acts.read import NAMED
from seedstart.app.screens.round_items import CountRow, Item, Row, Told, is_group_of_counts
from seedstart.app.screens.round_slips import takes_a_number
from seedstart.app.slip import Key
from seedstart.daily.answers import seen_in_words
from seedstart.daily.check import FELT, Alert, Check
from seedstart.drawing.lines import Line, wrapped
from seedstart.drawing.round_lines import alert_text
from seedstart.drawing.round_rows import More, Seen
from seedstart.season.journal.entries import kind_in_lines

WHY: Final = Key("w", "why", "screen.why")
_SAME: Final = Key("=", "as last time", "screen.same")
_MOIST: Final = Key("m", "moist, fine", "screen.moist")
_KEPT_IN: Final = Key("k", "kept in", "screen.keep_in")
# What a tick has done, where the act's own participle says something else.
_DONE: Final = {
    "uncover": "lifted",
    "raise lamps": "they are clear",
    "lamp on": "lamp on",
    "look": "none up",
    "count": "none up",
    "close": "closed",
    "settle": "settled",
}
# What is typed at a check, by its act.
_HOW_MANY: Final = {
    "count": "how many",
    "weigh": "g weight",
    "harden off": "other hours",
    "prick out": "how many, and into what",
    "measure": "its plants",
    "thin": "how many are left",
    "set out": "how many",
    "sow": "how many seeds",
    "adjust": "its new height",
    "pot on": "into what",
    "move": "another station",
}


def done_in_words(check: Check) -> str:
    """What Space writes, as a participle: `lifted`, `watered`, `out 4 h`; empty for nothing."""
    tick = check.tick
    if check.parts:
        every = {done_in_words(part) for part in check.parts if not part.done}
        ticks = all(part.done or part.tick is not None for part in check.parts)
        return f"all {every.pop()}" if ticks and len(every) == 1 else "all done" if ticks else ""
    if tick is None:
        return ""
    if tick.act == "harden off":
        return f"out {_hours(tick.of[0], tick.given)}".strip()
    if check.what in _DONE:
        return _DONE[check.what]
    return kind_in_lines(NAMED[tick.act].kind.__name__).replace("_", " ")


def _hours(texts: Texts, given: object) -> str:
    hours = given.get("hours", {}).get("hours") if isinstance(given, dict) else None
    return f"{hours:g} h" if hours is not None else f"{texts.get('hours', '')} h".strip(" h")


def keys_of(item: Item | None) -> tuple[Key, ...]:
    """What works there, the key first that writes what the line says."""
    if item is None:
        return ()
    if isinstance(item, More):
        return (Key("Enter", "fewer" if item.shown else "show them", "screen.open"),)
    if isinstance(item, Seen):
        return (Key("↓", "on to the round"),)
    if isinstance(item, Told):
        return (Key("Space", "put this away", "screen.tick"),)
    if isinstance(item, Alert):
        return (Key("Enter", "what to do", "screen.open"), Key("Space", "seen", "screen.tick"), WHY)
    if isinstance(item, Row | CountRow):
        return tuple(_of_check(item.check, in_a_table=isinstance(item, CountRow)))
    return ()


def _of_check(check: Check, *, in_a_table: bool) -> Iterator[Key]:
    if check.done:
        if len(check.counted) == 1:
            yield Key("0-9", "count it again")
        yield WHY
        return
    if check.parts or (is_group_of_counts(check) and not in_a_table):
        yield Key("Enter", "one by one", "screen.open")
    done = done_in_words(check)
    typed = "" if check.typed is None else _HOW_MANY.get(check.typed.act, "how many")
    if done and not is_group_of_counts(check):
        yield Key("Space", done, "screen.tick")
    elif done:
        yield Key("Space", f"all {done}", "screen.tick")
    if check.what in FELT:
        yield _MOIST
    if check.what == "harden" and not check.parts:
        yield _KEPT_IN
    if check.counts:
        yield _SAME
    if takes_a_number(check) and not is_group_of_counts(check):
        yield Key("0-9" if done or check.counts else "Enter", typed or "which is right")
    elif check.what == "move to light" and len(check.sowings) > 1:
        yield Key("Enter", "choose which go", "screen.open")
    elif check.typed is not None and not is_group_of_counts(check):
        yield Key("Enter", typed, "screen.open")
    yield Key("p", f"put off {usual_delay(check)}", "screen.put_off")
    yield WHY


def usual_delay(check: Check) -> str:
    """How long `p` puts a check off."""
    if check.what == "sow":
        return "to a work day"
    return "3 days" if check.what in {"prick out", "close"} else "a day"


def pane_of(item: Item, width: int) -> list[Line]:
    """Why the line under the cursor is there, and what else."""
    return list(_said(item, width))


def _said(item: Item, width: int) -> Iterator[Line]:
    if isinstance(item, Alert):
        yield from wrapped(alert_text(item).removeprefix("! "), width, "", "plain", "")
        yield from wrapped(seen_in_words(item), width, "", "quiet", "")
    elif isinstance(item, Told):
        yield from wrapped("It comes again tomorrow only if nothing is written till then.", width)
    elif isinstance(item, Seen):
        yield from wrapped("Each comes back if it happens again or gets worse.", width)
    elif isinstance(item, More):
        yield from wrapped("Those that can wait. Enter lists them all.", width)
    elif isinstance(item, Row | CountRow):
        for number, why in enumerate(item.check.why):
            basis = f" ({why.basis})" if why.basis else ""
            text = f"{why.text[:1].upper()}{why.text[1:]}{basis}"
            yield from wrapped(text, width, "", "quiet" if number else "plain", "")
