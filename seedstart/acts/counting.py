"""Acts that look: count, dig up, measure."""

import re
from collections.abc import Sequence
from itertools import takewhile
from typing import Final

from seedstart.acts.act import Act, Field, Texts, Values, Way, stands_in_words
from seedstart.acts.fields import (
    counted_by_another_today,
    last_count,
    number_field,
    sowing_field,
    sowing_meant,
    yes_field,
)
from seedstart.acts.known import Known
from seedstart.acts.parsers import parse_standing
from seedstart.acts.sheet import Sheet
from seedstart.season.journal.entries import (
    BLANK,
    Counted,
    Dug,
    Entry,
    Struck,
    Thinned,
)
from seedstart.text import folded, joined, plural
from seedstart.tracking.sowings import how_it_ended
from seedstart.tracking.standing import Standing
from seedstart.units import Units

ON_SOWINGS: Final = ("sowing", "tray", "lot")
# An act says why in the grower's words; these are offered.
WHYS: Final = ("damping off", "slugs", "mice", "dried out", "rotted", "broken")
EARLIER_WRONG: Final = "earlier wrong"
PULLED_OUT: Final = "pulled out"
_WRONG: Final = frozenset(
    {EARLIER_WRONG, "wrong", "earlier was wrong", "the earlier count was wrong", "miscounted"}
)
_PULLED: Final = frozenset({PULLED_OUT, "pulled", "thinned"})
_GONE_HOW: Final = f"died, eaten, {PULLED_OUT}, or {EARLIER_WRONG}"
# In the round a count has only these behind it: a slip must not become a cause of death.
_DIED: Final = frozenset({"died", "dead", "lost", "damped off", "damping off", "wilted"})
_EATEN: Final = frozenset({"eaten", "slugs", "mice"})
_GONE: Final = frozenset({"", *_DIED, *_EATEN, *_PULLED, *_WRONG})
_LAST: Final = frozenset({"final", "last"})
SAY_COUNT: Final = (
    "how many stand now, e.g. 18; = for the same as last time; 18 final for the last count"
)

# Count


def _standing(text: str, sheet: Sheet) -> Values:
    found, one = parse_standing(text), sheet.standing()
    if found.new is not None:
        return {"new": found.new}
    if found.standing is not None:
        return {"standing": found.standing}
    return {} if one is None else {"standing": one.standing}


def _too_high(one: Standing, standing: int) -> list[str]:
    """The latest counts as far as they are above what stands now, since plants last left it."""
    high = takewhile(lambda entry: (entry.standing or 0) > standing, one.counted_since_left)
    return [entry.id for entry in high]


def _says_how_many(sheet: Sheet) -> None:
    """A last count without a number finds as many as before."""
    values, one = sheet.values, sheet.standing()
    if sheet.text("standing") is not None or "standing" in values:
        return
    if values.get("final") and one is not None:
        values["standing"] = one.standing
    else:
        need = "how many stand now, e.g. 18; 0 is a count too"
        sheet.say("standing", f"It is missing: {need}.")


def _what_happened(sheet: Sheet) -> None:
    """Where fewer stand than before: died, eaten, or was an earlier count wrong?"""
    one, values = sheet.standing(), sheet.values
    stand, gone, lost = values.get("standing"), sheet.text("gone"), values.get("lost")
    if one is None or (stand is None and "new" not in values):
        return
    if gone is not None and folded(gone) in _WRONG:
        _earlier_was_wrong(sheet, one)
        return
    sample = stand is None or "looked_at" in values
    missing = 0 if sample else max(one.standing - (stand or 0), 0)
    another = counted_by_another_today(one, sheet.known.by, sheet.moment)
    if gone is None and lost is None:
        if missing and another is None:
            _ask_what_happened(sheet, one, missing)
        return
    if gone is not None and folded(gone) in _PULLED and missing and lost is None:
        values["pulled"] = missing
        return
    if gone is not None and not missing and not lost:
        sheet.say("gone", "None is missing.")
    elif lost is not None and lost < missing and another is None:
        sheet.ask("lost", f"{one.standing} stood, {_are_missing(missing)}, not {lost}.")
    values["lost"] = missing if lost is None else lost
    if gone is not None:
        values["why"] = gone


def _earlier_was_wrong(sheet: Sheet, one: Standing) -> None:
    sheet.values["too_high"] = high = _too_high(one, sheet.values.get("standing", 0))
    if "standing" not in sheet.values or not high:
        sheet.say("gone", "There is no earlier count to take back.")
    if sheet.values.get("lost"):
        sheet.say("lost", "If an earlier count was wrong, none died.")


def _ask_what_happened(sheet: Sheet, one: Standing, missing: int) -> None:
    ways = (
        "died",
        "eaten",
        PULLED_OUT,
        *([EARLIER_WRONG] if _too_high(one, one.standing - missing) else ()),
    )
    sheet.ask("gone", f"{one.standing} stood, {_are_missing(missing)}. What happened?", ways)


def _adds_up(sheet: Sheet) -> None:
    """How the seeds of a test ended adds up to its seeds, at its last count."""
    one, values = sheet.standing(), sheet.values
    given = [key for key in _HOW_ENDED if key in values]
    if one is None or one.purpose != "test" or one.seeds is None or not given or sheet.problems:
        return
    if not values.get("final"):
        return
    count = Counted(
        **BLANK,
        **{key: value for key, value in values.items() if key not in {"too_high", "pulled"}},
    )
    ended, _ = how_it_ended((*one.counted, count), one.seeds)
    if ended is not None:
        return
    total = sum(values[key] for key in given)
    taken = one.left.get("counted", 0) + (values.get("new") or 0)
    out = f", {taken} taken out as they were counted" if taken else ""
    sheet.say(
        given[-1],
        f"{joined(list(given))} add up to {total}; {one.seeds} were sown{out}: "
        f"{one.seeds - taken} are left to be said.",
    )


def _are_missing(missing: int) -> str:
    return f"{missing} {'is' if missing == 1 else 'are'} missing"


def _counted(sheet: Sheet) -> Sequence[Entry]:
    values = dict(sheet.values)
    high, pulled = values.pop("too_high", ()), values.pop("pulled", 0)
    thinned = [Thinned(**BLANK, sowing=values["sowing"], plants=pulled)] if pulled else []
    return [*(Struck(**BLANK, entry=one) for one in high), *thinned, Counted(**BLANK, **values)]


def _told_of_standing(known: Known, texts: Texts) -> str:
    """The last count; and more than were sown is kept, but said."""
    one, typed = sowing_meant(known, texts), texts.get("standing", "").strip()
    sown = one.seeds if one and one.from_seed else None
    if sown is not None and typed.isdecimal() and int(typed) > sown:
        return f"{last_count(known, texts)}; more than the {sown} seeds sown"
    return last_count(known, texts)


def _told_of_missing(known: Known, texts: Texts) -> str:
    one, typed = sowing_meant(known, texts), texts.get("standing", "").strip()
    if one is None or not typed.isdecimal() or int(typed) >= one.standing:
        return "only where fewer stand than last time"
    return f"{one.standing - int(typed)} fewer than last time: {_GONE_HOW}?"


def _count_in_short(typed: str, _: Known) -> Texts:
    """`18`, `=`, `18 final`, `final`; `15 died`, `15 eaten`, `15 earlier wrong`; or of a test."""
    if (judged := _judged_in_short(typed)) is not None:
        return judged
    match = re.fullmatch(r"(=|\d{1,9})?\s*(.*)", typed)
    words = match[2].casefold().split() if match else []
    gone = " ".join(word for word in words if word not in _LAST)
    final = any(word in _LAST for word in words)
    if match is None or not (match[1] or final) or gone not in _GONE:
        raise ValueError(SAY_COUNT)
    texts = {"standing": match[1] or "=", "gone": gone}
    return texts | ({"final": "yes"} if final else {})


def _judged_in_short(typed: str) -> Texts | None:
    """`14 new`; at the last count `5 new 2 abnormal 3 hard 4 fresh 22 dead`; None for any other."""
    text = typed.casefold()
    pairs = re.findall(r"(\d{1,9})\s*(new|normal|abnormal|hard|fresh|dead)\b", text)
    rest = re.sub(r"\d{1,9}\s*(?:new|normal|abnormal|hard|fresh|dead)\b|[,;+]|\band\b", " ", text)
    words, kinds = rest.split(), [kind for _, kind in pairs]
    # `15 dead` alone is 15 that stand, and the others died.
    if not pairs or kinds == ["dead"] or len(set(kinds)) < len(kinds) or not set(words) <= _LAST:
        return None
    ended = {kind: number for number, kind in pairs if kind != "new"}
    new = next((number for number, kind in pairs if kind == "new"), "0")
    final = {"final": "yes"} if ended or words else {}
    return {"standing": f"{new} new", **ended, **final}


def _counted_in_words(entry: Counted, _: Units) -> str:
    seen = f"{entry.standing} standing" if entry.new is None else f"{entry.new} new"
    if entry.looked_at:
        seen += f" of {entry.looked_at} looked at"
    return ", ".join([seen, *_and_so(entry), *(["final"] if entry.final else [])])


def _and_so(entry: Counted) -> list[str]:
    """What was lost, in how many cells some are up, and how the seeds of a test ended."""
    lost = [f"{entry.lost} lost{f' ({entry.why})' if entry.why else ''}"] if entry.lost else []
    ended = ((getattr(entry, key), key) for key in _HOW_ENDED)
    cells = [f"{plural(entry.cells, 'cell')} up"] if entry.cells is not None else []
    return [*lost, *cells, *(f"{number} {key}" for number, key in ended if number is not None)]


def _confirm_count(entries: Sequence[Counted], known: Known) -> str:
    """`counted 18 leek in tray 5, on the heat mat; 1 lost (slugs); no more are counted`."""
    counts = [
        f"{one.standing if one.new is None else f'{one.new} new'} {one.sowing}"
        f"{f' of {one.looked_at} looked at' if one.looked_at else ''}"
        for one in entries
    ]
    places = {stands_in_words(one.sowing, known) for one in entries}
    place = places.pop() if len(places) == 1 else ""
    several = len(entries) > 1
    more = [
        f"{one.sowing}: {', '.join(told)}" if several else ", ".join(told)
        for one in entries
        if (told := _and_so(one))
    ]
    closed = [one.sowing for one in entries if one.final]
    if closed:
        more.append(f"no more are counted{f' of {joined(closed)}' if several else ''}")
    return "; ".join([f"counted {', '.join(counts)} {place}".rstrip(), *more])


_HOW_ENDED: Final = ("normal", "abnormal", "hard", "fresh", "dead")

COUNT: Final = Act(
    kind=Counted,
    name="count",
    about="seedlings that stand now, all of them",
    example="leek 18",
    fields=(
        sowing_field(),
        Field(
            key="standing", label="Standing", says="how many; = for the same as last time",
            read=_standing, arg=True, told=_told_of_standing,
            ways={"new": Way("{it} new", "New since the last count (removed as you count them).")},
        ),
        Field(
            key="gone", label="If fewer", says=_GONE_HOW, metavar="TEXT",
            names=lambda _: ("died", "eaten", PULLED_OUT, EARLIER_WRONG, *WHYS),
            told=_told_of_missing,
            ways={"why": Way("{it}", "Why they died.", "TEXT")},
        ),
        yes_field("final", "Last count", "yes, if no more will come up"),
        number_field("lost", "Found dead", "if not all of those missing", rare=True),
        number_field("cells", "Cells up", "cells with at least one seedling", rare=True),
        number_field("looked_at", "Looked at", "a sample: only so many cells or seeds", rare=True),
        *(
            number_field(key, key.capitalize(), says, rare=True)
            for key, says in zip(
                _HOW_ENDED,
                ("of a test: normal seedlings", "of a test: abnormal seedlings",
                 "of a test: hard seeds", "of a test: fresh ungerminated seeds",
                 "of a test: dead seeds"),
                strict=True,
            )
        ),
    ),
    checks=(_says_how_many, _what_happened, _adds_up),
    make=_counted,
    asks="standing",
    short=_count_in_short,
    short_says=SAY_COUNT,
    on=ON_SOWINGS,
    also="counted emerged germinated germination up closed final",
    says=_counted_in_words,
    confirms=_confirm_count,
)  # fmt: skip

# Dig up


def _any_dug(sheet: Sheet) -> None:
    """Of more seeds than were sown something is a slip."""
    found = {key: sheet.values.get(key) for key in _FOUND}
    if not any(found.values()) and not sheet.problems:
        sheet.say("sound", "How many were sound, soft or gone?")
    one, dug = sheet.standing(), sum(number or 0 for number in found.values())
    before = sum(entry.seeds for entry in one.dug) if one else 0
    if one is not None and one.seeds is not None and before + dug > one.seeds:
        sheet.ask("sound", f"{plural(one.seeds, 'seed')} were sown; {before + dug} dug up?")


def _dug_in_words(entry: Dug, _: Units) -> str:
    return ", ".join(f"{number} {key}" for key in _FOUND if (number := getattr(entry, key)))


_FOUND: Final = ("sound", "soft", "gone")
DIG: Final = Act(
    kind=Dug,
    name="dig up",
    about="a few seeds dug up to look at; they do not go back",
    example="leek --sound 2 --soft 3",
    fields=(
        sowing_field(),
        number_field("sound", "Sound", "firm seeds, which might still have come up"),
        number_field("soft", "Soft", "rotten or empty seeds"),
        number_field("gone", "Gone", "places with no seed left"),
    ),
    checks=(_any_dug,),
    asks="sound",
    on=ON_SOWINGS,
    also="dug rotten soft look",
    says=_dug_in_words,
)
