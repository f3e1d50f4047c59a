"""Germination tests as lines: one a lot, and one test with its replicates."""

from collections.abc import Sequence

from seedstart.days import short_day
from seedstart.drawing.lines import Line, Role, Span, fitted, heading, plain, wrapped
from seedstart.planning.lots.seed_tests import NO_MARK, SeedTest
from seedstart.text import joined, plural
from seedstart.units import Units, show_temperatures

_NAME, _STATE, _UP, _SHARE, _MARKS = 16, 14, 11, 14, 12


def seed_test_lines(tests: Sequence[SeedTest], width: int = 80) -> list[Line]:
    """A line a lot: how far, how much germinated and how sure, what it is held against."""
    if not tests:
        return [plain("Nothing is tested yet.")]
    head = (
        f"  {'lot':<{_NAME}} {'state':<{_STATE}}{'normal':<{_UP}}{'in 100':<{_SHARE}}"
        f"{'mark, legal':<{_MARKS}}"
    )
    lines: list[Line] = [(Span(f"{head}what to do", "quiet"),)]
    for test in tests:
        share, state = _share(test), fitted(state_in_words(test), _STATE)
        cells = f" {state}{fitted(_up(test), _UP)}{fitted(share, _SHARE)}"
        verdict = test.verdict
        role: Role = "warn" if test.wrong or (verdict and verdict[0] != "good") else "plain"
        lines.append((
            Span(f"  {fitted(test.lot, _NAME)}", "name"),
            Span(f"{cells}{fitted(_marks(test), _MARKS)}"),
            Span("a wrong count" if test.wrong else verdict[0] if verdict else "", role),
        ))  # fmt: skip
    note = (
        "In 100: normal seedlings, with the 95 % interval (Wilson). Mark: below it you grow a lot "
        "out for fresh seed. Legal: the least that may be sold (for onion, 7 CFR 201.31), a "
        "threshold for labels and no expectation."
    )
    return [*lines, plain(""), *wrapped(note, width, role="quiet", hang="")]


def state_in_words(test: SeedTest) -> str:
    """How far it is."""
    if test.state == "closed" and test.closed_on:
        return f"closed {short_day(test.closed_on)}"
    return f"day {test.day}" if test.state == "being counted" else test.state


def _up(test: SeedTest) -> str:
    return f"{test.up} of {test.seeds}" if test.seeds else ""


def _share(test: SeedTest) -> str:
    if test.percent is None or test.interval is None:
        return ""
    if test.state != "closed":
        return f"{test.percent:.0f} so far"
    low, high = 100 * test.interval.low, 100 * test.interval.high
    return f"{test.percent:.0f} ({low:.0f}–{high:.0f})"


def _marks(test: SeedTest) -> str:
    mark = "-" if test.mark is None else f"{test.mark:g}"
    legal = "-" if test.legal_minimum is None else f"{test.legal_minimum:g}"
    return f"{mark}, {legal}"


def seed_test_sheet(test: SeedTest, aged: str, units: Units, width: int = 80) -> list[Line]:
    """One test: its conditions, each replicate, what it says, what to do with the seed."""
    lines: list[Line] = [heading(f"Test {test.name}: {test.lot}")]
    lines += wrapped(conditions(test, units), width, role="quiet", hang="")
    lines.append(plain(""))
    for one in test.replicates:
        number = f"replicate {one.replicate}" if one.replicate else one.name
        normal = one.ended.normal if one.ended else one.emerged
        said = f"{normal} of {one.seeds if one.seeds is not None else '?'} normal"
        if one.ended is not None:
            ended = one.ended
            said += (
                f", {ended.abnormal} abnormal, {ended.hard} hard, {ended.fresh} fresh, "
                f"{ended.dead} dead"
            )
        elif one.seeds is not None and one.left.get("counted"):
            said += f" so far, {one.seeds - one.left['counted']} left"
        lines += wrapped(f"{number}: {said}.", width, indent="  ")
    lines += [*says_lines(test, width), *marks_lines(test, width)]
    return [*lines, *(wrapped(aged, width, role="quiet") if aged else [])]


def says_lines(test: SeedTest, width: int) -> list[Line]:
    """What it says so far, its replicates against each other, and once closed what to do."""
    lines = [line for text in _says(test) for line in wrapped(text, width)]
    for text in test.wrong:
        lines += wrapped(f"! {text}", width, role="warn")
    verdict = test.verdict
    if verdict is not None:
        role: Role = "good" if verdict[0] == "good" else "warn"
        text = f"{verdict[0][:1].upper()}{verdict[0][1:]}: {verdict[1]}."
        lines += wrapped(text, width, role=role)
    elif test.state == "closed" and test.mark is None and test.legal_minimum is None:
        lines += wrapped(f"No advice: {NO_MARK}.", width, role="quiet")
    return lines


def marks_lines(test: SeedTest, width: int) -> list[Line]:
    """Its percentage, the grower's mark and the legal minimum under each other."""
    rows: list[tuple[str, str, str]] = []
    if test.percent is not None:
        so_far = "" if test.state == "closed" else "so far"
        rows.append((test.lot, f"{test.percent:.0f}", so_far))
    if test.mark is not None:
        rows.append(("your mark", f"{test.mark:g}", "below it grow out for fresh seed"))
    if test.legal_minimum is not None:
        rows.append(
            (
                "legal least",
                f"{test.legal_minimum:g}",
                ", ".join(one.partition(",")[0] for one in test.legal_sources),
            )
        )
    return [
        (Span(fitted(f"  {name:<{_NAME}} {number:>4}   {says}", width).rstrip(), "quiet"),)
        for name, number, says in rows
    ]


def conditions(test: SeedTest, units: Units) -> str:
    """`4 × 50 on paper, at 20 °C, begun Tue 31 Mar, counted on day 6 and …`."""
    plan = test.planned
    if plan is None:
        lies_on = joined(sorted({one.on for one in test.replicates}))
        return f"Not planned; {plural(len(test.replicates), 'sowing')} on {lies_on}."
    parts = [f"{plan.replicates} × {plan.seeds} on {plan.lies_on}"]
    if plan.temperature is not None:
        parts.append(f"at {show_temperatures(plan.temperature, units)}")
    parts += [plan.light] if plan.light else []
    parts += [f"{plural(plan.prechill_days, 'day')} of cold first"] if plan.prechill_days else []
    if test.replicates:
        parts.append(f"begun {short_day(min(one.at for one in test.replicates).date())}")
    parts.append(f"counted on day {plan.first_count} and, for the last time, {plan.last_count}")
    return f"{', '.join(parts)}."


def _says(test: SeedTest) -> list[str]:
    if test.percent is None or test.interval is None:
        return [] if test.wrong else ["Nothing is sown of it yet."]
    low, high = 100 * test.interval.low, 100 * test.interval.high
    share = f"{test.up} of {test.seeds} normal: {test.percent:.0f} in 100 ({low:.0f} to {high:.0f})"
    said = [f"{share}." if test.state == "closed" else f"So far {share}. Not closed yet."]
    if test.tolerance is not None:
        one = test.tolerance
        verdict = "within" if one.within else "beyond"
        said.append(
            f"Replicates {one.apart:.0f} points apart, {verdict} the {one.allowed} allowed at "
            f"{one.mean} % ({one.source})."
        )
    elif test.apart_p is not None:
        apart = "more apart than" if test.replicates_apart else "no more apart than"
        percents = " ".join(
            f"{100 * (one.ended.normal if one.ended else one.emerged) / one.seeds:.0f}"
            for one in test.replicates
            if one.seeds
        )
        said.append(
            f"Replicates {percents} in 100: {apart} chance would put them. Printed tolerances are "
            "for 4 × 100; none applies."
        )
    return said
