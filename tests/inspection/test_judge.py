"""The one judge on the invented V8."""

import dataclasses
import random

import pytest
from scipy.stats import norm

from cast import example, typed, with_value
from endfloat.engine.model import Engine
from endfloat.inspection.judge import Finding, judge
from endfloat.inspection.measured import Evidence
from endfloat.inspection.readings import Reading
from endfloat.inspection.verdicts import Verdict


def demo() -> tuple[Engine, Evidence]:
    engine, evidence, _ = example()
    return engine, evidence


def verdicts(findings: tuple[Finding, ...], on: str) -> dict[str, Verdict]:
    return {finding.place: finding.verdict for finding in findings if finding.on == on}


def test_two_worn_bores_and_one_worn_pin_are_out_and_all_else_of_their_kind_holds() -> None:
    engine, evidence = demo()
    findings = judge(engine, evidence)
    bores, pins = verdicts(findings, "bore_wear"), verdicts(findings, "pin_wear")
    assert {place for place, verdict in bores.items() if verdict is Verdict.OUT} == {"2", "7"}
    assert {place for place, verdict in bores.items() if verdict is Verdict.GOOD} == {"1", "3", "4", "5", "6", "8"}
    assert {place: verdict for place, verdict in pins.items() if verdict is not Verdict.GOOD} == {"3": Verdict.OUT}
    assert set(verdicts(findings, "main_wear").values()) == {Verdict.GOOD}


def test_bores_read_at_86_07_are_out_no_more() -> None:
    engine, evidence = demo()
    for place in ("2", "7"):
        evidence = with_value(evidence, ("bore_size", place, "10 mm", "across"), "86.070 mm")
        evidence = with_value(evidence, ("bore_size", place, "10 mm", "along"), "86.066 mm")
        evidence = with_value(evidence, ("bore_size", place, "40 mm", "across"), "86.062 mm")
    assert Verdict.OUT not in verdicts(judge(engine, evidence), "bore_wear").values()


def test_a_value_inside_by_less_than_the_gauge_can_tell_is_too_close_to_call() -> None:
    engine, evidence = demo()
    near = with_value(evidence, ("bore_size", "1", "10 mm", "across"), "86.078 mm")
    assert verdicts(judge(engine, near), "bore_wear")["1"] is Verdict.LOOKS_GOOD
    over = with_value(evidence, ("bore_size", "1", "10 mm", "across"), "86.082 mm")
    assert verdicts(judge(engine, over), "bore_wear")["1"] is Verdict.LOOKS_OUT


def test_the_probability_is_that_of_the_normal_distribution() -> None:
    # Independent library: scipy.stats.
    engine, evidence = demo()
    for finding in judge(engine, evidence, only=frozenset({"bore_wear"})):
        assert finding.estimate is not None
        u = finding.estimate.standard_uncertainty
        assert finding.probability == pytest.approx(norm.cdf((0.00008 - finding.estimate.value) / u), abs=1e-9)


def test_a_micrometer_that_sets_the_bore_gauge_cancels_in_the_clearance() -> None:
    engine, evidence = demo()
    shared = next(f for f in judge(engine, evidence) if f.on == "piston_clearance")
    apart = dict(evidence.gauges)
    apart["B2"] = apart["B2"].model_copy(update={"set_with": "M2"})
    unshared = next(f for f in judge(engine, dataclasses.replace(evidence, gauges=apart)) if f.on == "piston_clearance")
    assert shared.estimate is not None
    assert unshared.estimate is not None
    assert "gauge M1" not in shared.estimate.sources
    assert shared.estimate.standard_uncertainty < 0.6 * unshared.estimate.standard_uncertainty
    assert shared.estimate.value == pytest.approx(unshared.estimate.value)


def test_reasons_not_to_judge_come_before_any_probability() -> None:
    engine, evidence = demo()
    none = dataclasses.replace(evidence, readings=())
    assert set(verdicts(judge(engine, none), "bore_wear").values()) == {Verdict.NOT_MEASURED}
    spot = ("bore_size", "3", "70 mm", "along")
    short = dataclasses.replace(evidence, readings=tuple(r for r in evidence.readings if r.spot != spot))
    [finding] = [f for f in judge(engine, short) if (f.on, f.place) == ("bore_wear", "3")]
    assert finding.verdict is Verdict.READINGS_MISSING
    assert "70 mm along" in finding.reason


@pytest.mark.parametrize(
    ("text", "words"),
    [("8.604 mm", "decimal mark"), ("3.388 mm", "inches"), ("85.540 mm", "thimble"), ("68.04 mm", "Which is it")],
)
def test_a_slip_is_asked_about_and_never_judged(text: str, words: str) -> None:
    engine, evidence = demo()
    slipped = with_value(evidence, ("bore_size", "3", "10 mm", "across"), text)
    [finding] = [f for f in judge(engine, slipped) if (f.on, f.place) == ("bore_wear", "3")]
    assert finding.verdict is Verdict.ODD_READING
    assert words in finding.reason
    kept = frozenset(r for r in slipped.readings if r.typed == typed(text))
    [settled] = [
        f for f in judge(engine, dataclasses.replace(slipped, kept=kept)) if (f.on, f.place) == ("bore_wear", "3")
    ]
    assert settled.verdict is not Verdict.ODD_READING


def test_the_order_of_readings_does_not_matter() -> None:
    engine, evidence = demo()
    shuffled: list[Reading] = list(evidence.readings)
    random.Random(3).shuffle(shuffled)

    def facts(findings: tuple[Finding, ...]) -> list[tuple[object, ...]]:
        return [(f.on, f.place, f.verdict, f.estimate and pytest.approx(f.estimate.value, rel=1e-12)) for f in findings]

    assert facts(judge(engine, evidence)) == facts(
        judge(engine, dataclasses.replace(evidence, readings=tuple(shuffled)))
    )


def test_judging_a_part_equals_that_part_of_the_whole() -> None:
    engine, evidence = demo()
    part = judge(engine, evidence, only=frozenset({"main_clearance"}))
    assert part == tuple(f for f in judge(engine, evidence) if f.on == "main_clearance")


def test_a_limit_for_another_method_is_not_compared() -> None:
    engine, evidence = demo()
    rocked = engine.limits[0].model_copy(update={"method": "rocked reading"})
    other = engine.model_copy(update={"limits": [rocked]})
    assert {f.verdict for f in judge(other, evidence)} == {Verdict.OTHER_METHOD}


def flat_head(level: str) -> Evidence:
    """The left fire face with every height the same but one."""
    _, evidence = demo()
    heights = [r for r in evidence.readings if (r.characteristic, r.place) == ("face_flatness", "left")]
    for reading in heights:
        evidence = with_value(evidence, reading.spot, "0.000 mm")
    return with_value(evidence, heights[3].spot, level)


def flatness_of_left(limit: str, level: str) -> Finding:
    engine, _ = demo()
    limits = [
        each.model_copy(update={"high": typed(limit)}) if each.on == "face_flatness" else each for each in engine.limits
    ]
    findings = judge(engine.model_copy(update={"limits": limits}), flat_head(level))
    return next(f for f in findings if (f.on, f.place) == ("face_flatness", "left"))


def test_a_flatness_that_the_gauge_would_show_on_a_perfect_face_is_too_small_to_show() -> None:
    assert flatness_of_left("0.006 mm", "0.004 mm").verdict is Verdict.TOO_SMALL_TO_SHOW
    # A proved verdict beats it, and a value that the gauge does show is judged as ever.
    assert flatness_of_left("0.050 mm", "0.004 mm").verdict is Verdict.GOOD
    assert flatness_of_left("0.050 mm", "0.050 mm").verdict is not Verdict.TOO_SMALL_TO_SHOW
    # A difference below nought is no range.
    engine, evidence = demo()
    cut = {"right_skim": "skim_010", "left_skim": "skim_025", "intake_faces": "cut_0231"}
    faces = [f for f in judge(engine, evidence, cut) if f.on == "left_face_to_cut"]
    assert [(f.estimate.value < 0, f.verdict.code) for f in faces if f.estimate] == [(True, "looks_good")]


def test_what_a_formula_refuses_is_asked_about_where_it_is_and_the_rest_is_judged() -> None:
    engine, evidence = demo()
    for reading in evidence.readings:
        if reading.characteristic == "bore_size" and reading.place == "3":
            evidence = with_value(evidence, reading.spot, "-86.05 mm")
    kept = dataclasses.replace(evidence, kept=frozenset(evidence.readings))
    ratios = {f.place: f for f in judge(engine, kept) if f.on == "compression_ratio"}
    assert ratios["3"].verdict is Verdict.ODD_READING
    assert "bore is -0.086" in ratios["3"].reason.lower()
    assert {place for place, finding in ratios.items() if finding.verdict is Verdict.GOOD} == set("1245678")
