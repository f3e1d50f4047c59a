"""Which alerts are told, and how: urgent first, nothing twice, one walk in one."""

from collections.abc import Iterable, Iterator, Mapping
from datetime import date

from seedstart.daily.check import LEVELS, Alert
from seedstart.daily.check_status import Said
from seedstart.daily.round_context import Scene
from seedstart.text import natural, plural

# Of a sowing that is told to be too cold or too hot these follow from it.
_FOR_WANT_OF_WARMTH = {"late", "overdue", "too few up"}


def told(alerts: Iterable[Alert], said: Mapping[str, Said], scene: Scene) -> tuple[Alert, ...]:
    """The alerts that were not seen yet, the most urgent first; one cause is told once."""
    every = list(alerts)
    unseen = [alert for alert in every if not _seen(alert, said, scene.today)]
    found = _by_station(list(_once(unseen, every)))
    order = {station.name: number for number, station in enumerate(scene.season.stations)}
    return tuple(
        sorted(
            found,
            key=lambda one: (
                LEVELS.index(one.level),
                order.get(one.station or "", 99),
                natural(one.key),
            ),
        )
    )


def _once(alerts: list[Alert], every: list[Alert]) -> Iterator[Alert]:
    """A sowing that is too cold is late and overdue for that, one on a dead mat late.

    Args:
        alerts: Those not seen yet.
        every: All of them: of a mat that was seen to be dead it is not news that seed is late.
    """
    chilled = {
        name for one in alerts if one.kind in {"too cold", "too hot"} for name in one.sowings
    }
    unheated = {name for one in every if one.kind == "mat no longer heats" for name in one.sowings}
    for one in alerts:
        for_it = chilled | unheated if one.kind == "late" else chilled
        if one.kind not in _FOR_WANT_OF_WARMTH or not for_it.intersection(one.sowings):
            yield one


def _by_station(alerts: list[Alert]) -> list[Alert]:
    """What nobody looked at is one walk, and one alert a station: the round has a line for each."""
    unseen: dict[str, list[Alert]] = {}
    found: list[Alert] = []
    for one in alerts:
        if one.kind == "not looked at" and one.station:
            unseen.setdefault(one.station, []).append(one)
        else:
            found.append(one)
    return [*found, *(_unseen_at(station, of) for station, of in unseen.items())]


def _unseen_at(station: str, alerts: list[Alert]) -> Alert:
    """One alert of them all, on which each sowing is named; a single one is what it was."""
    if len(alerts) == 1:
        return alerts[0]
    them = sorted(alerts, key=lambda one: natural(one.key))
    called = [name for one in them for name in one.sowings]
    return Alert(
        key=_unseen_key(station),
        kind="not looked at",
        level="today",
        subject=("station", station),
        station=station,
        sowings=tuple(called),
        brief=f"{plural(len(called), 'sowing')} overdue, not looked at → look",
        text=f"overdue, and nobody has looked: {', '.join(called)}",
        since=min(one.since for one in them),
        remedies=them[0].remedies,
        basis="; ".join(dict.fromkeys(one.basis for one in them)),
        sources=tuple(dict.fromkeys(key for one in them for key in one.sources)),
    )


def _unseen_key(station: str) -> str:
    return f"not looked at, {station}"


def _seen(alert: Alert, said: Mapping[str, Said], today: date) -> bool:
    known = said.get(alert.key)
    if known is None and alert.kind == "not looked at" and alert.station:
        # Seen with the others of its station: what became overdue since is news.
        together = said.get(_unseen_key(alert.station))
        at = together.checked.at if together and together.checked else None
        return at is not None and at >= alert.since
    if known is None:
        return False
    if known.hides_on(today):
        return True
    return known.checked is not None and today >= known.checked.at.date()
