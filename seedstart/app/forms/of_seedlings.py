"""Forms of seedlings: count, measure, thin, lose, give away, set out, finish."""

from collections.abc import Callable, Sequence
from itertools import takewhile
from typing import Final

from seedstart.app.forms.act import AT, EntryAct, Field
from seedstart.app.forms.known import Known
from seedstart.app.forms.slip import Slip, Texts
from seedstart.app.forms.usual import last_count, sowing_field, sowing_meant, yes_field
from seedstart.season.entries import (
    BLANK,
    Counted,
    Dug,
    Entry,
    Finished,
    Given,
    Leaving,
    Lost,
    Measured,
    SetOut,
    Struck,
    Thinned,
)
from seedstart.season.typed_values import parse_plants
from seedstart.text import folded
from seedstart.tracking.standing import Standing

# An act says why in the grower's words; these are offered.
WHYS: Final = ("damping off", "slugs", "mice", "dried out", "rotted", "broken")
EARLIER_WRONG: Final = "earlier wrong"
_WRONG: Final = frozenset({EARLIER_WRONG, "wrong", "earlier was wrong", "miscounted"})
_GONE: Final = ("died", "eaten", EARLIER_WRONG)


def _standing_typed(slip: Slip, standing: Standing | None) -> int | None:
    typed = slip.need("standing", "how many stand now, as 18; 0 is a count too")
    if typed == "=" and standing is not None:
        return standing.standing
    return slip.number("standing", typed or None)


def _fewer(slip: Slip, one: Standing | None, standing: int | None) -> int:
    """How many are missing since the last count; none where the count is of before it."""
    if one is None or standing is None:
        return 0
    if one.counts and one.counts[-1].at > slip.moment:
        return 0
    return max(one.standing - standing, 0)


def _too_high(one: Standing, standing: int) -> list[str]:
    """The latest counts as far as they are above what stands now, since plants last left it."""
    high = takewhile(lambda entry: (entry.standing or 0) > standing, one.counted_since_left)
    return [entry.id for entry in high]


def _counted(slip: Slip) -> Sequence[Entry]:
    name, one = slip.the_sowing()
    standing = _standing_typed(slip, one)
    missing = _fewer(slip, one, standing)
    gone = slip.text("gone")
    too_high = _too_high(one, standing) if one is not None and standing is not None else []
    wrong = gone is not None and folded(gone) in _WRONG
    if missing and one is not None and gone is None:
        stood = f"{one.standing} stood, {missing} {'is' if missing == 1 else 'are'} missing."
        slip.say("gone", f"{stood} What happened: died, eaten, or {EARLIER_WRONG}?")
    elif gone is not None and standing is not None and not missing:
        slip.say("gone", "None is missing.")
    elif wrong and not too_high:
        slip.say("gone", "There is no earlier count to take back.")
    final = slip.yes("final")
    slip.done()
    if wrong:
        count = Counted(**BLANK, sowing=name, standing=standing, final=final)
        return [*(Struck(**BLANK, entry=entry) for entry in too_high), count]
    lost = missing or None
    return [Counted(**BLANK, sowing=name, standing=standing, final=final, lost=lost, why=gone)]


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
    return f"{one.standing - int(typed)} fewer than last time: died, eaten, or {EARLIER_WRONG}?"


COUNT = EntryAct(
    name="count",
    about="seedlings that stand now, all of them",
    fields=(
        sowing_field(),
        Field(
            key="standing", label="Standing", says="how many; = for as many as last time",
            need=True, told=_told_of_standing,
        ),
        Field(
            key="gone", label="If fewer", says="died, eaten, or earlier wrong",
            names=lambda _: (*_GONE, *WHYS), told=_told_of_missing,
        ),
        yes_field("final", "Last count", "yes, if no more are to come"),
        AT,
    ),
    make=_counted,
    asks="standing",
    kinds=(Counted,),
    on=("sowing", "tray", "lot"),
    also="counted emerged germination",
)  # fmt: skip


def _measured(slip: Slip) -> Sequence[Entry]:
    name, _ = slip.the_sowing()
    typed = slip.need("plants", "height/stem in mm for each plant, as 82/3.1, 75/2.9")
    found = slip.read("plants", typed or None, parse_plants)
    slip.done()
    return [Measured(**BLANK, sowing=name, plants=found or ())]


MEASURE = EntryAct(
    name="measure",
    about="height and stem of some plants, in mm",
    fields=(
        sowing_field(),
        Field(
            key="plants", label="Plants", need=True,
            says="height/stem in mm, as 82/3.1, 75/2.9; leaves: 82/3.1/4",
        ),
        AT,
    ),
    make=_measured,
    asks="plants",
    kinds=(Measured,),
    on=("sowing", "tray", "lot"),
    also="height diameter sturdiness leggy",
)  # fmt: skip


def _dug(slip: Slip) -> Sequence[Entry]:
    name, _ = slip.the_sowing()
    found = {key: slip.number(key, slip.text(key)) or 0 for key in ("sound", "soft", "gone")}
    if not slip.problems and not any(found.values()):
        slip.say("sound", "How many were sound, soft or gone?")
    slip.done()
    sound, soft, gone = found.values()
    return [Dug(**BLANK, sowing=name, sound=sound, soft=soft, gone=gone)]


DIG = EntryAct(
    name="dig up",
    about="some seeds dug up and looked at",
    fields=(
        sowing_field(),
        Field(key="sound", label="Sound", says="firm ones, which might still have come up"),
        Field(key="soft", label="Soft", says="rotten or empty ones"),
        Field(key="gone", label="Gone", says="places where none was found"),
        AT,
    ),
    make=_dug,
    asks="sound",
    kinds=(Dug,),
    on=("sowing", "tray", "lot"),
    also="dug rotten soft look",
)


def _leaving(kind: type[Leaving]) -> Callable[[Slip], Sequence[Entry]]:
    def make(slip: Slip) -> Sequence[Entry]:
        name, standing = slip.the_sowing()
        plants, left = slip.leaving("plants", standing)
        slip.done()
        why, to = slip.text("why"), slip.text("to")
        return [kind(**BLANK, sowing=name, plants=plants, left=left, why=why, to=to)]

    return make


def _how_many(says: str = "as 3; or 12 left; or all") -> Field:
    return Field(key="plants", label="How many", says=says, need=True, told=last_count)


_WHY = Field(key="why", label="Why", says="damping off, slugs …", names=lambda _: WHYS)

THIN = EntryAct(
    name="thin",
    about="seedlings pulled or cut to make room",
    fields=(sowing_field(), _how_many("as 12 left; or 10 pulled: 10"), AT),
    make=_leaving(Thinned),
    asks="plants",
    kinds=(Thinned,),
    on=("sowing", "tray", "lot"),
)
LOSE = EntryAct(
    name="lose",
    about="plants that died, were eaten or broken",
    fields=(sowing_field(), _how_many(), _WHY, AT),
    make=_leaving(Lost),
    asks="plants",
    kinds=(Lost,),
    on=("sowing", "tray", "lot"),
    also="lost dead died damping off eaten",
)
GIVE = EntryAct(
    name="give away",
    about="plants that went to somebody",
    fields=(sowing_field(), _how_many(), Field(key="to", label="To whom", says="a name"), AT),
    make=_leaving(Given),
    asks="plants",
    kinds=(Given,),
    on=("sowing", "tray", "lot"),
    also="given swap",
)


def _set_out(slip: Slip) -> Sequence[Entry]:
    name, standing = slip.the_sowing()
    plants, left = slip.leaving("plants", standing)
    slip.done()
    return [SetOut(**BLANK, sowing=name, plants=plants, left=left)]


SET_OUT = EntryAct(
    name="set out",
    about="plants planted in their final place",
    fields=(
        sowing_field(),
        Field(
            key="plants", label="How many", says="all; as 30; or 12 left", need=True,
            default=lambda _known, _texts: "all", told=last_count,
        ),
        AT,
    ),
    make=_set_out,
    asks="plants",
    kinds=(SetOut,),
    on=("sowing", "tray", "lot"),
    also="planted bed",
)  # fmt: skip


def _finished(slip: Slip) -> Sequence[Entry]:
    name, _ = slip.the_sowing()
    slip.done()
    return [Finished(**BLANK, sowing=name, why=slip.text("why"))]


FINISH = EntryAct(
    name="finish",
    about="the end of a sowing; what still stands is thrown away",
    fields=(sowing_field(), Field(key="why", label="Why", says="bed full, too late …"), AT),
    make=_finished,
    asks="why",
    kinds=(Finished,),
    on=("sowing", "tray", "lot"),
    also="end compost thrown away",
)

ACTS = (COUNT, DIG, MEASURE, THIN, LOSE, GIVE, SET_OUT, FINISH)
