"""Too close to call always says the cheapest way out, and the way is true."""

import dataclasses

from cast import example, with_value
from endfloat.inspection.judge import Finding, judge
from endfloat.inspection.measured import Evidence
from endfloat.inspection.verdicts import Verdict
from endfloat.inspection.way_out import with_ways_out

SPOT = ("bore_size", "1", "10 mm", "across")


def told(evidence: Evidence, on: str, place: str) -> Finding:
    engine = example()[0]
    findings = with_ways_out(engine, evidence, judge(engine, evidence, only=frozenset({on})))
    return next(finding for finding in findings if finding.place == place)


def repeated(evidence: Evidence, spot: tuple[str, str, str, str], more: int) -> Evidence:
    again = [reading for reading in evidence.readings if reading.spot == spot]
    return dataclasses.replace(evidence, readings=(*evidence.readings, *(again * more)))


def test_as_many_repeats_as_it_names_settle_it_and_one_fewer_does_not() -> None:
    near = with_value(example()[1], SPOT, "86.0742 mm")
    finding = told(near, "bore_wear", "1")
    assert finding.verdict is Verdict.LOOKS_GOOD
    assert finding.reason.startswith("Measure it ")
    more = {"once": 1, "twice": 2}.get(finding.reason.split()[2]) or int(finding.reason.split()[2])
    assert told(repeated(near, SPOT, more), "bore_wear", "1").verdict is Verdict.GOOD
    assert told(repeated(near, SPOT, more - 1), "bore_wear", "1").verdict is Verdict.LOOKS_GOOD


def test_where_repeats_cannot_settle_it_the_gauge_is_named() -> None:
    finding = told(with_value(example()[1], SPOT, "86.0799 mm"), "bore_wear", "1")
    assert finding.verdict is Verdict.LOOKS_GOOD
    assert "finer gauge than M1" in finding.reason


def test_a_settled_finding_keeps_its_silence() -> None:
    assert told(example()[1], "bore_wear", "3").reason == ""
