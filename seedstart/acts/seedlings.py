"""Acts by which plants leave, and on their names: lose, thin, set out, finish, relabel."""

from collections.abc import Callable, Sequence
from typing import Any, Final

from msgspec import structs

from seedstart.acts.act import Act, Field, Texts, Values, Way, aside, left_in_words, plants_of, then
from seedstart.acts.counting import ON_SOWINGS, WHYS
from seedstart.acts.fields import (
    last_count,
    lot_field,
    out_before_the_frost,
    plants_leave,
    plants_left,
    sowing_field,
    text_field,
)
from seedstart.acts.known import Known
from seedstart.acts.measuring import plants_in_short
from seedstart.acts.parsers import parse_leaving
from seedstart.acts.sheet import Sheet
from seedstart.season.journal.entries import (
    Finished,
    Given,
    Leaving,
    Lost,
    MixedUp,
    Relabelled,
    SetOut,
    Thinned,
)
from seedstart.text import folded, joined, plural
from seedstart.units import Units

# Plants that leave


def _leaving(text: str, sheet: Sheet) -> Values:
    found = parse_leaving(text)
    if found.plants is not None:
        plants_leave(sheet, "plants", found.plants)
        return {"plants": found.plants}
    plants_left(sheet, "plants", found.left or 0)
    return {"left": found.left}


def _how_many(says: str = "e.g. 3; or 12 left; or all", default: str = "") -> Field:
    return Field(
        key="plants", label="How many", says=says, read=_leaving, arg=True, told=last_count,
        need="how many plants, e.g. 3; or how many are left, e.g. 12 left",
        default=lambda _known, _texts: default,
        ways={"left": Way("{it} left", "How many are left afterwards.")},
    )  # fmt: skip


_WHY: Final = text_field("why", "Why", "damping off, slugs …", names=WHYS)
_RARELY_WHY: Final = text_field("why", "Why", "in your words", rare=True)


def _left_in_words(entry: Any, _: Units) -> str:  # noqa: ANN401 - Leaving or SetOut
    plants = f"{entry.left} left" if entry.plants is None else plural(entry.plants, "plant")
    return ", ".join([plants, *_to_and_why(entry)])


def _to_and_why(entry: Any) -> list[str]:  # noqa: ANN401 - Leaving or SetOut
    said = (getattr(entry, key, None) for key in ("to", "why"))
    return [text for text in said if text]


def _confirm_leaving(verb: str) -> Callable[[Sequence[Any], Known], str]:
    """`lost 2 leek (slugs); 16 left in tray 3`."""

    def confirm(entries: Sequence[Any], known: Known) -> str:
        said = []
        for one in entries:
            what = f"{plants_of(one.plants, one.sowing)}{aside(*_to_and_why(one))}"
            said.append(then(f"{verb} {what}", left_in_words(one.sowing, known)))
        return "; ".join(said)

    return confirm


def _leave(
    kind: type[Leaving | SetOut], name: str, about: str, *fields: Field, **more: Any,  # noqa: ANN401
) -> Act:  # fmt: skip
    return Act(
        kind=kind, name=name, about=about, fields=(sowing_field(), *fields), asks="plants",
        on=ON_SOWINGS, says=_left_in_words, **more,
    )  # fmt: skip


def _left_in_short(typed: str, _: Known) -> Texts:
    """What stands after thinning."""
    return {"plants": f"{typed} left" if typed.strip().isdecimal() else typed}


THIN: Final = _leave(
    Thinned, "thin", "seedlings pulled or snipped to make room",
    _how_many("e.g. 12 left; or 10 pulled: 10"), _RARELY_WHY,
    example="leek 10", short=_left_in_short, short_says="how many are left afterwards, e.g. 12",
    confirms=_confirm_leaving("thinned out"),
)  # fmt: skip
LOSE: Final = _leave(
    Lost, "lose", "plants that died, were eaten or broken", _how_many(), _WHY,
    example="leek 3 --why slugs",
    also="lost dead died damping off eaten slugs mice spilt spill tip fell knocked over",
    confirms=_confirm_leaving("lost"),
)  # fmt: skip
GIVE: Final = _leave(
    Given, "give away", "plants given to somebody", _how_many(),
    text_field("to", "To whom", "a name"), _RARELY_WHY,
    example="leek 6 --to Ana", also="given gave gift swap", confirms=_confirm_leaving("gave away"),
)  # fmt: skip
SET_OUT: Final = _leave(
    SetOut, "set out", "plants put into their final place",
    _how_many("all; e.g. 30; or 12 left", "all"),
    example="leek 40", short=plants_in_short, also="planted bed plant out",
    short_says="how many, e.g. 12; nothing for all; keep if they stay",
    confirms=_confirm_leaving("set out"), checks=(out_before_the_frost,),
)  # fmt: skip
FINISH: Final = Act(
    kind=Finished,
    name="finish",
    about="the end of a sowing; anything left is thrown away",
    example="leek --why 'bed full'",
    fields=(sowing_field(), text_field("why", "Why", "bed full, too late …")),
    asks="why",
    on=ON_SOWINGS,
    also="end compost thrown away",
)

# Names


def _guess(text: str, _: Sheet) -> Values:
    if folded(text) not in {"yes", "y", "true", "no", "n", "false"}:
        raise ValueError("yes, or nothing")
    return {"sure": folded(text) in {"no", "n", "false"}}


def _name_or_lot(sheet: Sheet) -> None:
    """A lot that is named without a word is sure."""
    values = sheet.values
    if "lot" in values:
        values.setdefault("sure", True)
    if not any(sheet.text(key) for key in ("name", "lot", "guess")):
        sheet.say("name", "Give a new name, the lot it belongs to, or say that it is a guess.")


def _new_name(text: str, _: Sheet) -> Values:
    if "#" in text:
        raise ValueError("a name without #")
    return {"name": text}


def _relabelled_in_words(entry: Relabelled, _: Units) -> str:
    """`leek-late from now on, of lot leek-giant, a guess`."""
    said = [
        f"{entry.name} from now on" if entry.name else "",
        f"of lot {entry.lot}" if entry.lot else "",
    ]
    if entry.sure is not None and not (entry.sure and entry.lot):
        said.append("no guess" if entry.sure else "the lot is a guess")
    return ", ".join(filter(None, said))


RELABEL: Final = Act(
    kind=Relabelled,
    name="relabel",
    about="a new name for a sowing, or the lot it really belongs to",
    example="leek --name leek-late",
    fields=(
        sowing_field(over_too=True),
        Field(key="name", label="New name", says="its name from now on",
              read=_new_name, metavar="NAME"),
        structs.replace(lot_field(need=""), label="Of lot", says="the lot it really belongs to"),
        Field(key="guess", label="A guess", says="yes, if the lot is a guess", flag=True,
              read=_guess, names=lambda _: ("yes", "no"), only=True),
    ),
    checks=(_name_or_lot,),
    asks="name",
    on=("sowing",),
    also="relabelled rename label wrong name lot",
    says=_relabelled_in_words,
)  # fmt: skip


def _sowings(text: str, sheet: Sheet) -> Values:
    """Two or more, with commas between."""
    found = [sheet.sowing(part.strip()) for part in text.split(",") if part.strip()]
    names = tuple(dict.fromkeys(name for name in found if name is not None))
    if len(names) < 2:
        raise ValueError("at least two sowings, separated by commas")
    return {"sowings": names}


def _called_together(text: str, _: Sheet) -> Values:
    return {"into": _new_name(text, _)["name"]}


MIX_UP: Final = Act(
    kind=MixedUp,
    name="mix up",
    about="sowings that can no longer be told apart",
    example="leek leek/2 --into leeks",
    fields=(
        Field(
            key="sowings", label="Sowings", says="two or more, separated by commas",
            read=_sowings, need="the names of the sowings", arg=True, many=True, listed=True,
            names=Known.sowings,
        ),
        Field(key="into", label="Together", says="their name from now on",
              read=_called_together, need="their name together", metavar="NAME"),
    ),
    asks="sowings",
    on=("sowing", "tray"),
    also="mixed up confused",
    says=lambda entry, _: f"{', '.join(entry.sowings)} are {entry.into} from now on",
    confirms=lambda entries, _: "; ".join(
        f"mixed up {joined(list(one.sowings))}: {one.into} from now on" for one in entries
    ),
)  # fmt: skip
