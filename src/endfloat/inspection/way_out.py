"""What would settle a verdict that is too close to call, cheapest first: more repeats, then a finer gauge."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable
from dataclasses import replace

from endfloat.engine.model import Engine
from endfloat.inspection.evaluate import spots_of
from endfloat.inspection.judge import Finding
from endfloat.inspection.measured import Evidence
from endfloat.inspection.verdicts import Rule, Verdict, judged
from endfloat.quantities.estimates import ErrorSource, Estimate

OPEN = (Verdict.LOOKS_GOOD, Verdict.LOOKS_OUT, Verdict.GAUGE_TOO_COARSE, Verdict.TOO_SMALL_TO_SHOW)
# More than this many repeats is no longer the cheapest way; common practice, no source.
MOST_REPEATS = 6
REPEAT, TOLERANCE, GAUGE = "repeat, ", "tolerance of ", "gauge "


def with_ways_out(
    engine: Engine, evidence: Evidence, findings: Iterable[Finding], rule: Rule | None = None
) -> tuple[Finding, ...]:
    """The findings, each open one with the cheapest way to settle it as its reason."""
    taken = Counter(
        (reading.characteristic, reading.place, reading.station, reading.axis) for reading in evidence.readings
    )
    fewest: dict[tuple[str, str], int] = {}
    for (characteristic, place, _, _), count in taken.items():
        fewest[characteristic, place] = min(count, fewest.get((characteristic, place), count))

    def told(finding: Finding) -> Finding:
        if finding.verdict not in OPEN or finding.estimate is None:
            return finding
        known = finding.on in engine.quantities or finding.on in engine.characteristics
        spots = spots_of(engine, finding.on, finding.place) if known else []
        repeats = min((fewest[spot] for spot in spots if spot in fewest), default=1)
        return replace(finding, reason=way_out(finding, repeats, rule or Rule()))

    return tuple(told(finding) for finding in findings)


def way_out(finding: Finding, repeats: int, rule: Rule) -> str:
    """The cheapest way to settle a finding that `repeats` readings a spot left open, if the value stays."""
    assert finding.estimate is not None
    for more in range(1, MOST_REPEATS + 1):
        verdict, _ = judged(_after(finding.estimate, repeats, more), finding.bounds, rule)
        if verdict in (Verdict.GOOD, Verdict.OUT):
            times = {1: "once", 2: "twice"}.get(more, f"{more} times")
            return f"Measure it {times} more."
    largest = next(iter(finding.estimate.shares()), "")
    if largest.startswith(TOLERANCE):
        return "Ask for a closer tolerance, or measure it when it comes."
    if largest.startswith(GAUGE):
        name = largest.removeprefix(GAUGE)
        return f"Use a finer gauge than {name}, or the one that measures its mate under one zeroing."
    return "Use a finer gauge: more repeats would not settle it."


def _after(estimate: Estimate, repeats: int, more: int) -> Estimate:
    shrunk = math.sqrt(repeats / (repeats + more))
    sources = {
        name: ErrorSource(source.standard * shrunk, source.freedom, source.shape) if name.startswith(REPEAT) else source
        for name, source in estimate.sources.items()
    }
    return Estimate(estimate.value, sources)
