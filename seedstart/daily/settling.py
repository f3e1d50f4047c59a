"""Two writers counted one sowing on one day, and not the same: which count stands?"""

from collections.abc import Iterator

from seedstart.daily.carriers import Carrier
from seedstart.daily.check import Check, Choice, Why
from seedstart.daily.scene import Scene
from seedstart.tracking.doubts import both_counts
from seedstart.tracking.standing import Standing


def settle(carrier: Carrier, scene: Scene) -> Iterator[Check]:
    """Asked until one of the two is taken back; until then the later one is gone by."""
    for one in carrier.sowings:
        yield from _of_one(one, carrier, scene)


def _of_one(one: Standing, carrier: Carrier, scene: Scene) -> Iterator[Check]:
    for found in one.unsettled:
        asked = scene.asked(one)
        pair = (found.earlier, found.later), (found.later, found.earlier)
        yield Check(
            key=f"settle {asked.name} {found.later.at:%Y-%m-%d %H:%M}",
            what="settle",
            says=f"{asked.name}: {both_counts(found)}; which stands?",
            why=(Why("until one is taken back, the later one is gone by"),),
            subject=("sowing", one.id),
            station=carrier.station,
            tray=carrier.tray,
            sowings=(asked,),
            due=found.later.at.date(),
            choices=tuple(
                Choice(str(stands.entry.standing), stands.by, other.entry.id)
                for stands, other in pair
            ),
        )
