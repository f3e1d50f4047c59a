"""A check's or an alert's reasons, whole: text, what each rests on, sources as they are cited."""

from collections.abc import Iterator, Mapping

from seedstart.crop_table.crop import Source
from seedstart.daily.check import Alert, Check
from seedstart.drawing.lines import Line, heading, plain, wrapped
from seedstart.drawing.round_lines import LEVELS


def why_sheet_lines(of: Check | Alert, sources: Mapping[str, Source], width: int) -> list[Line]:
    """The whole of it.

    Args:
        of: The check or the alert.
        sources: The crop table's, by key.
        width: Columns.
    """
    return list(_alert(of, sources, width) if isinstance(of, Alert) else _check(of, sources, width))


def _check(check: Check, sources: Mapping[str, Source], width: int) -> Iterator[Line]:
    where = ", ".join(part for part in (check.station, check.tray) if part)
    yield from wrapped(f"{where}: {check.says}" if where else check.says, width, "", "heading")
    for part in check.parts or (check,):
        yield plain("")
        if check.parts:
            yield from wrapped(f"{part.tray or ''} {part.says}".strip(), width, "", "name")
        for why in part.why:
            basis = f" ({why.basis})" if why.basis else ""
            yield from wrapped(f"{why.text}{basis}", width, "- ", "plain", "  ")
            yield from _cited(why.sources, sources, width)


def _alert(alert: Alert, sources: Mapping[str, Source], width: int) -> Iterator[Line]:
    where = ", ".join(part for part in (alert.station, alert.tray) if part)
    yield heading(f"{LEVELS[alert.level]}: {alert.kind}{f', {where}' if where else ''}")
    yield plain("")
    yield from wrapped(alert.text, width)
    if alert.costs_days:
        yield from wrapped(f"It costs {alert.costs_days:g} days so far.", width)
    yield from wrapped(f"What to do: {'; '.join(alert.remedies)}", width)
    yield plain("")
    yield from wrapped(f"Since {alert.since:%a %-d %b %H:%M}.", width)
    yield from wrapped(f"Rests on: {alert.basis}.", width)
    yield from _cited(alert.sources, sources, width)
    if alert.sowings:
        yield from wrapped(f"Sowings: {', '.join(alert.sowings)}", width)


def _cited(keys: tuple[str, ...], sources: Mapping[str, Source], width: int) -> Iterator[Line]:
    for key in keys:
        known = sources.get(key)
        yield from wrapped(known.text if known else key, width, "    ", "quiet", "  ")
