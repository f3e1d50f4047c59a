"""What each kind of entry means: one table, and nobody is left out by oversight."""

from seedstart.season.journal.entries import (
    KINDS,
    Checked,
    Dividing,
    Entry,
    Forecast,
    Planned,
    PutOff,
    Scarified,
    Soaked,
    Stratified,
    Struck,
    TakenOut,
)
from seedstart.tracking.meanings import MEANINGS
from seedstart.tracking.place import Place
from seedstart.tracking.standing import GONE, Standing

# About seed before it is sown, the plan, the weather, checks and other entries: of no sowing,
# tray or station.
ELSEWHERE: set[type[Entry]] = {
    Soaked, Stratified, Scarified, TakenOut, Planned, Forecast, Checked, PutOff, Struck,
}  # fmt: skip


def test_every_kind_of_entry_has_a_meaning_or_is_about_something_else() -> None:
    assert set(KINDS.values()) == MEANINGS.keys() | ELSEWHERE
    assert not MEANINGS.keys() & ELSEWHERE


def test_what_is_kept_has_a_place_where_it_is_kept() -> None:
    kept = {one.care for one in MEANINGS.values() if one.care}
    assert kept <= {*Standing.__struct_fields__, *Place.__struct_fields__}
    of_sowings = {one.care for one in MEANINGS.values() if one.fold == "care"}
    assert of_sowings <= {*Standing.__struct_fields__}


def test_whatever_divides_or_leaves_says_where_the_plants_went() -> None:
    for kind, one in MEANINGS.items():
        assert (one.fold in {"leaving", "dividing"}) == (one.did in GONE)
        assert issubclass(kind, Dividing) == (one.fold == "dividing")
        assert (one.made is not None) == (one.fold in {"sown_onto", "dividing", "mixed"})
