"""One sowing as it stood at a past moment, by a fold of that sowing alone."""

from datetime import datetime

from seedstart.season.entries import MixedUp
from seedstart.tracking.records import Records
from seedstart.tracking.sowings import fold_sowing
from seedstart.tracking.standing import Standing


def standing_at(records: Records, sowing: str, at: datetime | None) -> Standing | None:
    """What was known of a sowing's plants at a moment.

    Args:
        records: What happened, up to now.
        sowing: Its id.
        at: The moment, itself included; None for now.

    Returns:
        None where it was not made by then. What it has from its mother (lot, first place) is as
        it is now.
    """
    now = records.standings.get(sowing)
    if now is None or at is None:
        return now
    maker = records.identity.made[sowing]
    if at < maker.at:
        return None
    own = (entry for entry in (maker, *now.counted, *now.acts, *now.dug) if entry.at <= at)
    entries = sorted({one.id: one for one in own}.values(), key=lambda one: (one.at, one.id))
    came = {one.id: _came(records, one) for one in entries if isinstance(one, MixedUp)}
    return fold_sowing(sowing, entries, records.identity, records.called, came)


def _came(records: Records, mixed: MixedUp) -> int:
    """How many plants a mixing up brought where they went on."""
    givers = (one for one in records.standings.values() if one.mixed_into == mixed.id)
    return sum(one.left.get("mixed_up", 0) for one in givers)
