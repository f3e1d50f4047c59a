"""The slip in which the plants of a tray are measured: each in a column, as it is typed."""

from collections.abc import Callable, Mapping, Sequence
from typing import Final

from seedstart.acts.known import Known
from seedstart.acts.measuring import MEASURE, Meant, as_likely_meant, likelier
from seedstart.acts.parsers import parse_plants
from seedstart.acts.read import read
from seedstart.acts.sheet import SURE
from seedstart.app.slip import Key, Wish
from seedstart.app.text_slip import Part, TextSlip, Understood
from seedstart.drawing.lines import Line, Role, Span, wrapped
from seedstart.growing.sturdiness import sturdiness_quotient
from seedstart.season.journal.entries import Plant

_SAYS: Final = "height/stem in mm of each plant, e.g. 31/2.4 28/2.2; x dead, - one you skip"
_WIDE: Final = 6
_ROOM_FOR_NAMES: Final = 22


class PlantsSlip(TextSlip):
    """Height and stem of the plants of one tray.

    What is ten times off is asked: Tab takes what was likely meant, Enter again leaves it as typed.

    Args:
        look: The sowing in the tray and the season as they are now; None where it is gone.
        tray: Its name.
        plants: How many are to be measured.
    """

    def __init__(
        self, look: Callable[[], tuple[str, Known] | None], tray: str, plants: int
    ) -> None:
        self._look, self._of = look, plants
        self._asks = self._sure = False
        super().__init__(
            (Part("plants", says=_SAYS),),
            self._understand,
            says=f"You are typing plants of tray {tray}. Esc leaves it as it was.",
            writes=f"write tray {tray}",
        )

    def _understand(self, texts: Mapping[str, str]) -> Understood:
        found, text = self._look(), texts["plants"]
        self._asks = False
        if found is None:
            return Understood(refusal="This tray is gone meanwhile: nothing was written.")
        if not text.strip():
            return Understood(refusal=f"{_SAYS[:1].upper()}{_SAYS[1:]}.")
        sowing, known = found
        sure = {SURE: "yes"} if self._sure else {}
        filled = read(MEASURE, known, {"sowing": sowing, "plants": text, **sure})
        if filled.entries:
            return Understood(value=filled.entries)
        self._asks = filled.only_asks
        said = " ".join(one.hint or str(one) for one in filled.problems.values())
        instead = as_likely_meant(text) if self._asks else ""
        return Understood(refusal=said, instead=instead if instead != text else "")

    def _put(self, text: str, caret: int | None = None) -> None:
        self._sure = False
        super()._put(text, caret)

    def _enter(self) -> Wish:
        """A question that stands already is answered by Enter: it is as it was typed."""
        if self.refusal and self._asks:
            self._sure = True
            self._again()
        return super()._enter()

    @property
    def keys(self) -> tuple[Key, ...]:  # type: ignore[override]
        """What works now."""
        tab = (Key("Tab", "take what was likely meant"),) if self.understood.instead else ()
        asked = bool(self.refusal) and self._asks
        enter = Key("Enter", "leave it as typed" if asked else self._writes)
        return (*tab, enter, Key("Esc", "leave it, not written"))

    def _told(self, width: int) -> list[Line]:
        """A column a plant, and what is asked or wrong."""
        plants, dead = _so_far(self.text)
        lines = _table(plants, self._of - dead, width)
        if dead:
            lines.append((Span(f"{dead} dead", "quiet"),))
        asked = self.understood.refusal if self._asks else self.refusal
        if not asked:
            return lines
        tail = " Tab takes it; Enter twice leaves it as typed." if self.understood.instead else ""
        return [*lines, *wrapped(f"{asked}{tail}", width, "", "warn", hang="")]


def _so_far(text: str) -> tuple[Sequence[Plant], int]:
    """Plants that are typed whole, whatever is still begun; and how many are dead."""
    for typed in (text, text.rpartition(" ")[0]):
        try:
            found = parse_plants(typed)
        except ValueError:
            continue
        return found.plants, found.dead
    return (), 0


def _table(plants: Sequence[Plant], of: int, width: int) -> list[Line]:
    room = max((width - _ROOM_FOR_NAMES) // _WIDE, 1)
    last, meant = plants[-room:], likelier(plants)[-room:]
    empty = max(min(room, of) - len(last), 0)
    rows = (
        ("height, mm", [f"{one.height_mm:g}" for one in last], [one.height_mm for one in meant]),
        ("stem, mm", [f"{one.diameter_mm:g}" for one in last], [one.diameter_mm for one in meant]),
        (
            "height cm over stem mm",
            [f"{sturdiness_quotient(one.height_mm, one.diameter_mm):.1f}" for one in last],
            [_any(one) for one in meant],
        ),
    )
    return [
        (
            *(Span(f"{text:>{_WIDE}}", _role(better)) for text, better in
              zip(texts, betters, strict=True)),
            Span(f"{'·':>{_WIDE}}" * empty, "quiet"),
            Span(f"  {name}", "quiet"),
        )
        for name, texts, betters in rows
    ]  # fmt: skip


def _any(one: Meant) -> float | None:
    return one.height_mm if one.height_mm is not None else one.diameter_mm


def _role(better: float | None) -> Role:
    return "plain" if better is None else "warn"
