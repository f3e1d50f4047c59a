"""A check and what was typed → the entries that it writes, or the problem to show on its line."""

import re
from collections.abc import Iterator, Sequence
from datetime import timedelta
from typing import Any, Final

from msgspec import structs, to_builtins

from seedstart.acts.act import Act, Texts
from seedstart.acts.known import Known
from seedstart.acts.read import NAMED, Filled, read
from seedstart.daily.check import Alert, AlertKind, Check, Doing, Round
from seedstart.daily.check_status import put_off, single_checks
from seedstart.problems import Problem
from seedstart.season.journal.entries import BLANK, Checked, Dividing, SetOut, Struck, makes
from seedstart.season.journal.entry import Entry
from seedstart.text import clean, folded

_LONGEST = 1000
_MOST_NAMES: Final = 6
_SURE: Final = "!"
_SAY_SEVERAL: Final = "one count for each in this order, separated by commas: 18, 12, ="
_HELD: Final = re.compile(r"held\b\s*:?\s*(.*)", re.IGNORECASE)
_KEPT: Final = frozenset({"keep", "kept"})
# What the key of an alert holds: how bad it is, nothing but whose it is, or since when.
_WORSE: Final[frozenset[AlertKind]] = frozenset({"late", "hardening missed"})
_FOR_GOOD: Final[frozenset[AlertKind]] = frozenset(
    {"overdue", "too few up", "not looked at", "too early to set out"}
)
_THROWN: Final = frozenset({"0", "thrown", "thrown away"})


class RefusedError(ValueError):
    """What was typed does not do; the text says what would.

    Attributes:
        about: The sowing that the text is about, where it is about one of several.
        ways: Words of which one has to be added.
    """

    def __init__(self, text: str, about: str = "", ways: tuple[str, ...] = ()) -> None:
        super().__init__(text)
        self.about, self.ways = about, ways


def answer(
    check: Check, typed: str, known: Known, more: Texts | None = None
) -> tuple[Entry, ...] | Problem:
    """The entries that an answer writes, as drafts in one act.

    Nothing typed is a tick. Whatever a check asks for, `put off: moist, not needed`,
    `put off: Saturday` leaves it for later. A `!` at the end says that a slip is none. Text is
    cleaned here; what is written is plain.

    Args:
        check: The check, or a line that gathers several.
        typed: What stands in its field.
        known: What an answer may name, and what stands.
        more: Texts of other fields of its act, which what was typed goes before.
    """
    text = clean(typed[:_LONGEST]).strip()
    try:
        off = put_off(check, text, known)
        if off is not None:
            return off
        return (
            _of_parts(check, known)
            if check.parts and not text
            else _answered(check, text, known, more or {})
        )
    except RefusedError as refused:
        about, ways, found = refused.about, refused.ways, text[:80] or None
        return Problem(file=check.says, key=about, found=found, allowed=ways, hint=str(refused))
    except ValueError as error:
        return Problem(file=check.says, found=text[:80] or None, hint=str(error))


def moved(check: Check, going: Sequence[str], known: Known) -> tuple[Entry, ...] | Problem:
    """Some of the sowings of a tray go where its check says; all of them take the tray along.

    Args:
        check: It moves a tray, or sowings of it.
        going: Names of its sowings.
        known: What an answer may name, and what stands.
    """
    tick = check.tick
    if tick is None or set(going) == {one.name for one in check.sowings}:
        return answer(check, "", known)
    station = tick.of[0]["station"]
    of = tuple({"what": f"sowing:{name}", "station": station} for name in going)
    try:
        return tuple(_done(Doing("move", of), ({},) * len(of), known))
    except RefusedError as refused:
        return Problem(file=check.says, hint=str(refused))


def corrected(check: Check, typed: str, known: Known) -> tuple[Entry, ...] | Problem:
    """A count that was made today, made again: the new one takes the place of the old.

    Args:
        check: A check that is done, of one count.
        typed: What stood, as in `answer`; fewer than before the old count are asked about.
        known: What an answer may name, and what stands.
    """
    (old,) = check.counted
    text = clean(typed[:_LONGEST]).strip()
    before = old.at.astimezone(known.now.tzinfo) - timedelta(minutes=1)
    of = {"sowing": old.sowing.name, "at": f"{before:%Y-%m-%d %H:%M}"}
    try:
        texts = _in_short(NAMED["count"], text, known)
        counts = _done(Doing("count", (of,)), (texts,), known)
        return (Struck(**BLANK, entry=old.entry), *counts)
    except ValueError as error:
        ways = error.ways if isinstance(error, RefusedError) else ()
        return Problem(file=check.says, found=text[:80] or None, allowed=ways, hint=str(error))


def _of_parts(check: Check, known: Known) -> tuple[Entry, ...]:
    """A tick of a line that gathers several ticks each of them that is not done."""
    entries: list[Entry] = []
    for part in check.parts:
        if not part.done:
            made = tuple(name for entry in entries if (name := makes(entry)))
            entries += _answered(part, "", structs.replace(known, taken=made), {})
    return tuple(entries)


def _answered(check: Check, typed: str, known: Known, more: Texts) -> tuple[Entry, ...]:
    if not typed or (typed == "=" and check.what == "close" and check.tick is not None):
        if check.tick is None:
            raise RefusedError(_what_to_type(check, known))
        return _with_last_counts(
            check, check.tick, _done(check.tick, ({},) * len(check.tick.of), known), known
        )
    if check.choices:
        return _settled(check, typed)
    if check.typed is None:
        raise RefusedError("nothing to type here: tick it, or put it off")
    doing = _otherwise(check, typed)
    if doing is not None:
        return tuple(_done(doing, ({},) * len(doing.of), known))
    several = check.counts and len(check.typed.of) > 1
    texts = _apart(check, typed) if check.counts else (typed,) * len(check.typed.of)
    act = NAMED[check.typed.act]
    written = _done(
        check.typed,
        [{**more, **_in_short(act, text, known)} for text in texts],
        known,
        named=several,
    )
    return _with_last_counts(check, check.typed, written, known)


def _settled(check: Check, typed: str) -> tuple[Entry, ...]:
    """Taken back is the count that does not stand; an act, so that it can be taken back itself."""
    wanted = folded(typed)
    for choice in check.choices:
        if wanted in {choice.text, folded(choice.by)}:
            return Struck(**BLANK, entry=choice.strikes), Checked(**BLANK, check=check.key)
    raise RefusedError(_choices_in_words(check))


def _choices_in_words(check: Check) -> str:
    counts = " or ".join(f"{choice.text} ({choice.by})" for choice in check.choices)
    return f"the count that is right: {counts}"


def _with_last_counts(
    check: Check, doing: Doing, written: Iterator[Entry], known: Known
) -> tuple[Entry, ...]:
    """What was written; where the last plant leaves and none is to follow, also the last count."""
    entries = tuple(written)
    if doing.act not in {"prick out", "set out"}:
        return entries
    emptied = {
        asked.name
        for asked in check.sowings
        if asked.closes and _leave(entries, asked.name, asked.standing) == asked.standing
    }
    # The records that are known here do not have those yet that leave: a nought is no slip.
    last = Doing(
        "count",
        tuple({"sowing": name, "sure": "yes"} for name in sorted(emptied)),
        {"standing": {"standing": 0}, "final": {"final": True}},
    )
    return (*entries, *_done(last, ({},) * len(emptied), known))


def _leave(entries: Sequence[Entry], sowing: str, standing: int) -> int:
    """How many plants of a sowing leave it."""
    leaving = (one for one in entries if isinstance(one, Dividing | SetOut))
    return sum(
        standing if isinstance(one, SetOut) and one.left == 0 else one.plants or 0
        for one in leaving
        if one.sowing == sowing
    )


def _what_to_type(check: Check, known: Known) -> str:
    if check.choices:
        return _choices_in_words(check)
    if check.typed is None:
        return "open the line: each of them needs its own answer"
    says = NAMED[check.typed.act].short_says
    if check.typed.act == "move":
        return f"{says}: {', '.join(known.stations()[:_MOST_NAMES])}"
    return says


def _apart(check: Check, typed: str) -> list[str]:
    """One count for each, in the order shown; a sole `0` or `=` holds for all."""
    texts = [text.strip() for text in typed.split(",")]
    if len(texts) == 1 and texts[0] in {"0", "="}:
        texts *= len(check.sowings)
    if len(texts) != len(check.sowings):
        names = ", ".join(asked.name for asked in check.sowings)
        raise RefusedError(f"one count each, separated by commas: {names}")
    return texts


def _in_short(act: Act, typed: str, known: Known) -> Texts:
    text = typed.removesuffix(_SURE).rstrip()
    return {**act.short(text, known), **({"sure": "yes"} if text != typed else {})}


def _otherwise(check: Check, typed: str) -> Doing | None:
    """Another act than the one asked for: kept in, left where they are, thrown away."""
    doing, word = check.typed, typed.casefold().rstrip(" .")
    if doing is None:
        return None
    if word in check.instead:
        return check.instead[word]
    held = _HELD.fullmatch(typed) if doing.act == "harden off" else None
    if held and not held[1]:
        raise RefusedError("why they were kept in, e.g. held: windy")
    if held:
        return Doing("keep in", tuple({**one, "why": held[1]} for one in doing.of))
    if doing.act not in {"prick out", "set out"}:
        return None
    if word in _KEPT:
        return Doing("check", ({},), {"check": {"check": check.key}})
    if word in _THROWN and check.sowings and all(asked.parted for asked in check.sowings):
        return Doing("finish", tuple({**one, "why": "thrown away"} for one in doing.of))
    return None


def _done(
    doing: Doing, typed: Sequence[Texts], known: Known, *, named: bool = False
) -> Iterator[Entry]:
    """What an act writes of each of those that it is done to; `named` says of which it speaks."""
    act = NAMED[doing.act]
    for of, texts in zip(doing.of, typed, strict=True):
        filled = read(act, known, {**of, **texts}, doing.given)
        if filled.problems:
            raise _refused(act, filled, of.get("sowing", "") if named else "")
        yield from filled.entries


def _refused(act: Act, filled: Filled, about: str) -> RefusedError:
    """The first thing that is wrong, in a sentence; a question says how to say yes."""
    key, problem = next(iter(filled.problems.items()))
    hint = problem.hint
    if problem.found is not None and problem.allowed and not hint:
        hint = f"“{problem.found}” is not one of {', '.join(problem.allowed[:_MOST_NAMES])}"
    elif key == act.asks and key not in filled.questions and act.short_says:
        hint = f"{hint} Type {act.short_says}."
    if key in filled.questions and not problem.allowed:
        hint = f"{hint} Add {_SURE} if it is right."
    ways = problem.allowed if key in filled.questions else ()
    return RefusedError(f"{about}: {hint}" if about else hint, about, ways)


def ticked(check: Check, known: Known) -> tuple[Entry, ...]:
    """What a tick alone writes; nothing where something has to be typed, or it does not hold."""
    found = answer(check, "", known) if check.tick is not None else ()
    return () if isinstance(found, Problem) else found


def what_answers(check: Check) -> str:
    """What may be typed at a check; empty where nothing is."""
    if check.choices:
        return _choices_in_words(check)
    if check.counts and len(check.sowings) > 1:
        return _SAY_SEVERAL
    return NAMED[check.typed.act].short_says if check.typed else ""


def seen_in_words(alert: Alert) -> str:
    """What is said of an alert that was seen: whether its key can come again."""
    if alert.kind == "not looked at" and alert.subject[0] == "station":
        return "Seen. It comes back if another sowing there is overdue."
    if alert.kind in _WORSE:
        return "Seen. It comes back if it gets worse."
    if alert.kind in _FOR_GOOD:
        return "Seen. It does not come back."
    return "Seen. It comes back if it happens again."


def seen(alert: Alert) -> Checked:
    """The entry that says that an alert was seen."""
    return Checked(**BLANK, check=alert.key)


_STAMP = ("id", "at", "by")


def round_as_json(found: Round, known: Known) -> list[dict[str, Any]]:
    """Every check by itself, also where the face gathers several into a line."""
    return [_check(check, found, known) for check in single_checks(found.checks)]


def _check(check: Check, found: Round, known: Known) -> dict[str, Any]:
    names = [one.name for one in check.sowings]
    return {
        "check": check.key,
        "station": check.station,
        "tray": check.tray,
        "sowing": names[0] if len(names) == 1 else None,
        "sowings": names,
        "what": check.what,
        "says": check.says,
        "why": [
            {"text": why.text, "basis": why.basis, "sources": why.sources} for why in check.why
        ],
        "best_day": check.due,
        "days_past": check.days_past(found.day),
        "act": check.typed.act if check.typed else check.tick.act if check.tick else None,
        "choices": [choice.text for choice in check.choices],
        "asks": NAMED[check.typed.act].asks if check.typed else None,
        "entries": [] if check.done else [_draft(entry) for entry in ticked(check, known)],
        "done": check.done,
        "done_by": check.done_by,
    }


def _draft(entry: Entry) -> dict[str, Any]:
    """An entry as it would be written, but for its id, time and writer."""
    fields: dict[str, Any] = to_builtins(entry)
    return {key: value for key, value in fields.items() if key not in _STAMP}


def alerts_as_json(found: Round) -> list[dict[str, Any]]:
    """The alerts, the most urgent first."""
    return [_alert(alert) for alert in found.alerts]


def _alert(alert: Alert) -> dict[str, Any]:
    return {
        "alert": alert.key,
        "kind": alert.kind,
        "urgency": alert.level,
        "station": alert.station,
        "tray": alert.tray,
        "sowing": alert.sowings[0] if len(alert.sowings) == 1 else None,
        "sowings": alert.sowings,
        "text": alert.text,
        "since": alert.since.isoformat(timespec="minutes"),
        "costs_days": alert.costs_days,
        "costs": alert.cost_in_words,
        "remedies": alert.remedies,
        "basis": alert.basis,
        "sources": alert.sources,
    }
