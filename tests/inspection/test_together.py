"""Every fit within limits together: drawn, with each error source drawn once."""

import numpy as np
import pytest

from cast import example, typed, without
from endfloat.engine.model import Engine
from endfloat.inspection.judge import judge_found
from endfloat.inspection.measured import Inputs, measured
from endfloat.inspection.together import together
from endfloat.inspection.verdicts import Rule
from endfloat.quantities.estimates import ErrorSource, Estimate


def demo() -> tuple[Engine, Inputs]:
    engine, evidence, _ = example()
    return engine, measured(engine, evidence)


def with_limits(engine: Engine, on: set[str]) -> Engine:
    return engine.model_copy(update={"limits": [limit for limit in engine.limits if limit.on in on]})


def test_for_one_requirement_the_draws_tend_to_the_judges_probability() -> None:
    engine, found = demo()
    one = with_limits(engine, {"end_float"})
    [finding] = judge_found(one, found, {}, Rule())
    assert finding.probability is not None
    share = together(one, found, {}, generator=np.random.default_rng(1), draws=40_000).share
    assert share == pytest.approx(finding.probability, abs=0.01)


def test_a_shared_error_makes_fits_hold_or_fail_together() -> None:
    # Five mains read nearly alike under one micrometer; its error alone decides most of each verdict.
    engine, found = demo()
    mains = with_limits(engine, {"main_wear"})
    tight = mains.model_copy(update={"limits": [mains.limits[0].model_copy(update={"high": typed("0.0155 mm")})]})
    singles = [finding.probability or 0 for finding in judge_found(tight, found, {}, Rule())]
    assert all(0.4 < single < 0.8 for single in singles)
    drawn = together(tight, found, {}, generator=np.random.default_rng(1), draws=20_000)
    assert 2 * float(np.prod(singles)) < drawn.share <= min(singles) + 0.02


def test_an_engine_with_a_bore_out_of_limits_never_holds_and_its_plan_does() -> None:
    engine, found = demo()
    assert together(engine, found, {}, generator=np.random.default_rng(1), draws=2_000).share == 0
    plan = {
        "bore_set": "rebore_025",
        "pistons": "oversize_025",
        "pins": "grind_025",
        "main_shells": "standard",
        "rod_shells": "under_025",
        "left_straighten": "straighten",
        "left_skim": "skim_025",
        "right_skim": "skim_025",
        "intake_faces": "cut_0231",
        "gasket": "standard",
        "head_bolts": "renew",
    }
    assert together(engine, found, plan, generator=np.random.default_rng(1)).share > 0.5


def test_what_is_not_measured_is_left_out_and_counted_and_a_seed_repeats() -> None:
    engine, evidence, _ = example()
    found = measured(engine, without(evidence, "pin_journal", "3"))
    first = together(engine, found, {}, generator=np.random.default_rng(5), draws=500)
    assert first.left_out == 3
    assert first == together(engine, found, {}, generator=np.random.default_rng(5), draws=500)


def test_a_draw_that_a_formula_refuses_is_within_no_limit() -> None:
    engine, found = demo()
    ratio = with_limits(engine, {"compression_ratio"})
    near_nothing = Estimate(0.0, {"bore": ErrorSource(0.086)})
    half = {**found, "bore_size": dict.fromkeys(found["bore_size"], near_nothing)}
    wide = ratio.model_copy(update={"limits": [ratio.limits[0].model_copy(update={"low": typed("-9"), "high": None})]})
    share = together(wide, half, {}, generator=np.random.default_rng(1), draws=4_000).share
    assert share == pytest.approx(0.5, abs=0.03)
