"""One function a check, in one tuple: what is carried, and the scene → checks."""

from collections.abc import Callable, Iterator
from typing import Final

from seedstart.daily.care_checks import feed, feel, measure
from seedstart.daily.carriers import Carrier
from seedstart.daily.check import Check
from seedstart.daily.closing import close
from seedstart.daily.done import carrier_done, seed_done
from seedstart.daily.emergence_checks import look_or_count, to_the_light, uncover
from seedstart.daily.lot_checks import begin_tests, sow, take_out, treat
from seedstart.daily.plant_checks import harden, pot_on, prick_out, set_out, thin
from seedstart.daily.scene import Scene
from seedstart.daily.settling import settle

# In the order in which they are done at one tray.
OF_CARRIER: Final[tuple[Callable[[Carrier, Scene], Iterator[Check]], ...]] = (
    look_or_count,
    settle,
    close,
    uncover,
    to_the_light,
    feel,
    thin,
    prick_out,
    pot_on,
    feed,
    measure,
    harden,
    set_out,
)
# On no tray: seed, before it is sown; they see the whole scene, and are asked anew each time.
OF_NO_TRAY: Final[tuple[Callable[[Scene], Iterator[Check]], ...]] = (
    take_out,
    treat,
    sow,
    begin_tests,
)


def checks_of(carrier: Carrier, scene: Scene) -> tuple[Check, ...]:
    """What is to be done at one tray today, and what was."""
    found = [check for one in OF_CARRIER for check in one(carrier, scene)]
    return (*found, *carrier_done(carrier, scene))


def trayless_checks(scene: Scene) -> tuple[Check, ...]:
    """What is to be done today on no tray, and what was."""
    return (*(check for one in OF_NO_TRAY for check in one(scene)), *seed_done(scene))
