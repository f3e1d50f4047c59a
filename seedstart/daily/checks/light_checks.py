"""Light for what came up, warmth for what is still to come: a tray moved or parted, or a lamp."""

from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from typing import Final, NamedTuple

from msgspec import structs

from seedstart.daily.check import PRACTICE, Check, Doing, Why, first_few, names
from seedstart.daily.checks.care_checks import place_of
from seedstart.daily.round_context import Scene
from seedstart.daily.tray_groups import Carrier
from seedstart.days import short_day
from seedstart.planning.calendar.crop_times import is_tender
from seedstart.planning.calendar.season_rows import frost_of
from seedstart.planning.prospects.prospect_advice import LATE_DAYS
from seedstart.season.plan.stations import UNDER_GLASS, Station
from seedstart.text import plural
from seedstart.tracking.standing import Standing

# Seedlings just up that stand a frost go under glass so long before the average last one: earlier
# they stand still there, and a hard night kills them. Common practice, no source.
_GLASS_BEFORE_FROST: Final = timedelta(weeks=6)
# A lamp over them, or daylight.
_BRIGHT: Final = frozenset({"sill", "greenhouse", "tunnel", "frame", "outdoors"})


class _Costs(NamedTuple):
    """What a move costs seed that is still to come: days, or that none comes there."""

    one: Standing
    days: int | None

    def in_words(self, there: str) -> str:
        name = f"{'the rest of ' if self.one.emerged else ''}{self.one.name}"
        if self.days is None:
            return f"{name} would not come up at the {there}"
        return f"{name} would come {plural(self.days, 'day')} later at the {there}"


def to_the_light(carrier: Carrier, scene: Scene) -> Iterator[Check]:
    """Seedlings go to the light once that leaves no seed behind that needs the warmth.

    The whole tray, where it costs what is still to come less than three days or half of that is
    up. Else those alone of which half is up; and before that a lamp comes over them.
    """
    # Seedlings of a germination test are looked at and thrown away; those of a trial keep the
    # places that were drawn for them.
    raised = [one for one in carrier.alive if one.from_seed and one.purpose == "plants"]
    fresh = [one for one in raised if one.standing and _came_up_here(one, scene)]
    here = scene.station(carrier.station)
    if not fresh:
        return
    then = _then(fresh, carrier, scene)
    costs = [] if then is None else list(_costs(raised, carrier, then, scene))
    held = [cost for cost in costs if not scene.half_is_up(cost.one)]
    bare = _bare(carrier, fresh, scene)
    if then is not None and not held:
        yield _move(bare, carrier, then, costs, scene)
        return
    ready = [one for one in fresh if scene.half_is_up(one)]
    if then is not None and ready:
        yield _take(bare, ready, then, held, scene)
    rest = [one for one in fresh if one not in ready] if then is not None else fresh
    if not rest or here is None:
        return
    if here.lamps:
        yield _lamp_on(bare, carrier, here)
    elif here.kind not in _BRIGHT:
        waiting = [one for one in raised if scene.waits(one)]
        wait = then is not None or not all(map(scene.half_is_up, rest)) or waiting
        yield _lamp_over(bare, carrier, rest, then, held) if wait else bare


def _then(fresh: Sequence[Standing], carrier: Carrier, scene: Scene) -> str | None:
    """Where the plan carries them next: under glass only what no frost there kills, and nothing
    outdoors, where plants go once they are hardened off.
    """  # noqa: D205
    for one in fresh:
        lot, crop = scene.lot(one), scene.crop(one)
        there = scene.station(lot.then if lot else None)
        if there is None or there.name == carrier.station or there.kind == "outdoors":
            continue
        frost = frost_of(scene.season)
        early = timedelta() if crop is not None and is_tender(crop) else _GLASS_BEFORE_FROST
        if there.kind not in UNDER_GLASS or frost is None or scene.today >= frost.average - early:
            return there.name
    return None


def _costs(
    raised: Sequence[Standing], carrier: Carrier, then: str, scene: Scene
) -> Iterator[_Costs]:
    """What the move costs those of which more is to come, where it is three days or more."""
    for one in raised:
        crop = scene.crop(one)
        if crop is None or not (scene.waits(one) or scene.expects_more(one)):
            continue
        there = scene.prospects.days_at(crop, then)
        stays = scene.prospects.days_at(crop, carrier.station or "")
        if there is None:
            if stays is not None:
                yield _Costs(one, None)
        elif stays is not None and there - stays >= LATE_DAYS:
            yield _Costs(one, round(there - stays))


def _bare(carrier: Carrier, fresh: Sequence[Standing], scene: Scene) -> Check:
    of = "" if carrier.tray else f" {carrier.name}"
    up = [scene.asked(one).name for one in fresh]
    came = Why(f"{names(up)} came up, the first on {short_day(_first_up(fresh))}", "counted")
    return Check(
        key=f"move to light {carrier.in_key} {carrier.station}",
        what="move to light",
        says=f"move{of} to the light",
        why=(came, Why("without light seedlings stretch within days", PRACTICE)),
        subject=carrier.subject,
        station=carrier.station,
        tray=carrier.tray,
        sowings=tuple(scene.asked(one) for one in carrier.alive),
        due=_first_up(fresh),
        typed=Doing("move", (place_of(carrier),)),
    )


def _move(
    bare: Check,
    carrier: Carrier,
    then: str,
    costs: Sequence[_Costs],
    scene: Scene,
) -> Check:
    """All that is carried as one goes along."""
    of = "" if carrier.tray else f" {carrier.name}"
    waiting = [scene.asked(one).name for one in carrier.alive if scene.waits(one)]
    here = scene.station(carrier.station)
    lit = here is not None and (here.lamps or here.kind in _BRIGHT)
    plan = (Why(f"at the first seedlings to the {then}", "your plan"),) if lit else bare.why[1:]
    why = (
        bare.why[0],
        *plan,
        *(Why(f"{cost.in_words(then)}; half of it is up") for cost in costs),
        *(
            (Why(f"{first_few(waiting)} not up yet: they come up there", "counted"),)
            * bool(waiting)
        ),
    )
    carry = Doing("move", ({**place_of(carrier), "station": then},))
    return structs.replace(
        bare, says=f"move{of} to the {then}{_lamp_there(then, scene)}", why=why, tick=carry
    )


def _take(
    bare: Check, ready: Sequence[Standing], then: str, held: Sequence[_Costs], scene: Scene
) -> Check:
    """Of a tray those of which half is up; what needs the warmth stays."""
    up, stay = ([scene.asked(one).name for one in part] for part in (ready, [c.one for c in held]))
    of = tuple({"what": f"sowing:{name}", "station": then} for name in up)
    lamp = _lamp_there(then, scene)
    return structs.replace(
        bare,
        key=f"{bare.key} {up[0]}",
        says=f"take {names(up)} to the {then}{lamp}; {names(stay)} stay{'s' * (len(stay) == 1)}",
        why=(*bare.why, *(Why(cost.in_words(then)) for cost in held)),
        sowings=tuple(scene.asked(one) for one in ready),
        tick=Doing("move", of),
    )


def _lamp_on(bare: Check, carrier: Carrier, here: Station) -> Check:
    of = "" if carrier.tray else f" {carrier.name}"
    hours = f", {here.lamps[0].hours:g} h a day" if here.lamps[0].hours else ""
    key = f"lamp on {carrier.in_key} {here.name}"
    says = f"lamp on over{of or ' it'}{hours}"
    seen = Doing("check", ({},), {"check": {"check": key}})
    return structs.replace(bare, key=key, what="lamp on", says=says, tick=seen, typed=None)


def _lamp_over(
    bare: Check,
    carrier: Carrier,
    few: Sequence[Standing],
    then: str | None,
    held: Sequence[_Costs],
) -> Check:
    """Too few are up to take the others off the warmth: a lamp comes to them."""
    up = names([_so_many(one) for one in few])
    of = carrier.tray or carrier.name
    key = f"lamp over {carrier.in_key} {carrier.station}"
    goes = f"to the {then}" if then is not None else "to the light"
    prick = Why("or prick the few out, and leave the rest in the warmth", PRACTICE)
    return structs.replace(
        bare,
        key=key,
        what="lamp on",
        says=f"hang a lamp over {of}: {up} up; {goes} once half is up",
        why=(*bare.why, *(Why(cost.in_words(then or "")) for cost in held), prick),
        tick=Doing("check", ({},), {"check": {"check": key}}),
    )


def _so_many(one: Standing) -> str:
    of = f" of {one.seeds}" if one.seeds is not None else ""
    return f"{one.emerged}{of} {one.name}"


def _lamp_there(then: str, scene: Scene) -> str:
    there = scene.station(then)
    return ", lamp on" if there is not None and there.lamps else ""


def _first_up(fresh: Sequence[Standing]) -> date:
    return min(one.up_since for one in fresh if one.up_since is not None).date()


def _came_up_here(one: Standing, scene: Scene) -> bool:
    """Whether its first seedlings came up where it stands now."""
    if not one.emerged or one.up_since is None:
        return False
    spots = scene.records.spots(one.id)
    # What is recorded for another day is all of one moment: counted, then moved, has moved.
    return bool(spots) and spots[-1].since < one.up_since
