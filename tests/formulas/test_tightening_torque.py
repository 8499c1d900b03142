"""Torque and preload: there and back, forces on the incline, yield by a root, intervals by draws."""

import math
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq

import endfloat.examples
from endfloat.engine.model import Engine
from endfloat.engine.proofread import read_engine
from endfloat.errors import OutOfRange
from endfloat.formulas import (
    bearing_faces,
    bolts,
    friction,
    nut_factors,
    scatter,
    threads,
    tightening,
    wrenches,
)

M10 = {"pitch": 0.0015, "pitch_diameter": 0.009026, "half_flank": math.pi / 6}
FACE = {"bearing_diameter": 0.012815}
STATE = {"thread_friction": 0.12, "face_friction": 0.12, "prevailing": 0.0}
FRICTION = st.floats(0.03, 0.5)
YIELD = {"stress_diameter": 0.008593, "prevailing": 0.0, "yield_strength": 940e6, "use": 1.0}


@given(st.floats(0, 2e5), FRICTION, FRICTION, st.floats(0, 20))
def test_torque_of_a_preload_gives_the_preload_back(load: float, thread: float, face: float, drag: float) -> None:
    state = {"thread_friction": thread, "face_friction": face, "prevailing": drag}
    turned = tightening.torque(preload=load, **M10, **FACE, **state)
    assert tightening.preload(torque=turned, **M10, **FACE, **state) == pytest.approx(load, abs=1e-6)


def test_the_thread_torque_balances_the_forces_on_its_incline() -> None:
    """A block on the slope: normal force N stands square to a flank, friction runs down the slope."""
    load, mu = 30e3, 0.14
    slope = math.atan(M10["pitch"] / (math.pi * M10["pitch_diameter"]))

    def left_over(push: float) -> float:
        normal = (load * math.cos(slope) + push * math.sin(slope)) / math.cos(M10["half_flank"])
        return push * math.cos(slope) - load * math.sin(slope) - mu * normal

    push = brentq(left_over, 0, load)
    alone = tightening.torque(preload=load, **M10, **FACE, thread_friction=mu, face_friction=0.0, prevailing=0.0)
    assert alone == pytest.approx(push * M10["pitch_diameter"] / 2, rel=1e-9)


@given(st.floats(0.03, 0.16))
def test_the_straight_line_form_lies_within_half_a_per_cent(mu: float) -> None:
    line = 0.159155 * M10["pitch"] + 0.577350 * mu * M10["pitch_diameter"] + 0.5 * FACE["bearing_diameter"] * mu
    exact = tightening.torque(preload=1.0, **M10, **FACE, thread_friction=mu, face_friction=mu, prevailing=0.0)
    assert 1 < exact / line < 1.008


@given(FRICTION, st.floats(1e-3, 0.1))
def test_more_friction_clamps_less_at_one_torque(mu: float, more: float) -> None:
    loads = [
        tightening.preload(torque=49.0, **M10, **FACE, thread_friction=each, face_friction=each, prevailing=0.0)
        for each in (mu, mu + more)
    ]
    assert loads[1] < loads[0]


def test_oil_instead_of_a_dry_bolt_gives_a_third_more_clamp() -> None:
    dry, oiled = (
        tightening.preload(torque=49.0, **M10, **FACE, thread_friction=each, face_friction=each, prevailing=0.0)
        for each in (0.14, 0.10)
    )
    assert oiled / dry == pytest.approx(1.33, abs=0.02)


def test_a_screw_without_friction_gives_all_its_work_to_the_stretch() -> None:
    bare = {"thread_friction": 0.0, "face_friction": 0.0}
    assert tightening.torque_shares(**M10, **FACE, **bare).stretch == pytest.approx(1)
    turned = tightening.torque(preload=1e3, **M10, **FACE, **bare, prevailing=0.0)
    assert turned * 2 * math.pi == pytest.approx(1e3 * M10["pitch"])


@given(FRICTION, FRICTION)
def test_the_shares_add_up_and_the_way_back_is_easier(thread: float, face: float) -> None:
    rub = {"thread_friction": thread, "face_friction": face}
    assert sum(tightening.torque_shares(**M10, **FACE, **rub)) == pytest.approx(1)
    on = tightening.torque(preload=30e3, **M10, **FACE, **rub, prevailing=2.0)
    off = tightening.loosening_torque(preload=30e3, **M10, **FACE, **rub, prevailing=2.0)
    assert off < on
    lead = math.atan(M10["pitch"] / (math.pi * M10["pitch_diameter"]))
    angle = math.atan(thread / math.cos(math.pi / 6))
    by_hand = 30e3 * (M10["pitch_diameter"] / 2 * math.tan(angle - lead) + FACE["bearing_diameter"] / 2 * face) + 2.0
    assert off == pytest.approx(by_hand)


def test_drag_is_no_clamp_and_less_torque_than_drag_is_refused() -> None:
    free = tightening.preload(torque=49.0, **M10, **FACE, **STATE)
    dragged = tightening.preload(torque=54.0, **M10, **FACE, **{**STATE, "prevailing": 5.0})
    assert dragged == pytest.approx(free)
    with pytest.raises(OutOfRange) as caught:
        tightening.preload(torque=np.array([49.0, 4.0]), **M10, **FACE, **{**STATE, "prevailing": 5.0})
    assert list(caught.value.bad) == [False, True]


def test_the_face_rubs_between_its_edges_as_the_integral_says() -> None:
    face, hole = 0.020, 0.011
    weight = quad(lambda r: r, hole / 2, face / 2)[0]
    arm = quad(lambda r: r**2, hole / 2, face / 2)[0] / weight
    even = bearing_faces.even_pressure_diameter(face=face, hole=hole)
    assert even == pytest.approx(2 * arm)
    assert hole < bearing_faces.mean_diameter(face=face, hole=hole) < even < face
    assert bearing_faces.pressure(load=30e3, face=face, hole=hole) == pytest.approx(30e3 / (2 * math.pi * weight))
    for formula in (bearing_faces.mean_diameter, bearing_faces.even_pressure_diameter):
        with pytest.raises(OutOfRange) as caught:
            formula(face=np.array([0.02, 0.01]), hole=0.011)
        assert list(caught.value.bad) == [False, True]


@pytest.mark.parametrize("drag", [0.0, 8.0])
def test_at_the_yield_limit_tension_and_plastic_torsion_make_up_the_yield_stress(drag: float) -> None:
    d0, mu = YIELD["stress_diameter"], 0.12
    # In the plastic state the shear stress is the same over the whole section.
    section = quad(lambda r: r * 2 * math.pi * r, 0, d0 / 2)[0]

    def over(load: float) -> float:
        twist = tightening.torque(preload=load, **M10, **FACE, thread_friction=mu, face_friction=0, prevailing=drag)
        tension, shear = load / (math.pi / 4 * d0**2), twist / section
        return math.sqrt(tension**2 + 3 * shear**2) - 940e6

    found = tightening.yield_limited_preload(**M10, **{**YIELD, "prevailing": drag}, thread_friction=mu)
    assert found == pytest.approx(brentq(over, 0, 1e5), rel=1e-9)


@given(FRICTION, st.floats(1e-3, 0.1), st.floats(0.5, 0.99))
def test_the_yield_limit_falls_with_friction_and_drag_and_stays_under_plain_tension(
    mu: float, more: float, use: float
) -> None:
    limit = tightening.yield_limited_preload(**M10, **{**YIELD, "use": use}, thread_friction=mu)
    assert tightening.yield_limited_preload(**M10, **{**YIELD, "use": use}, thread_friction=mu + more) < limit
    dragged = tightening.yield_limited_preload(**M10, **{**YIELD, "use": use, "prevailing": 3.0}, thread_friction=mu)
    assert dragged < limit < use * 940e6 * math.pi / 4 * YIELD["stress_diameter"] ** 2


def test_a_waist_lowers_the_limit_and_drag_alone_may_take_it_all() -> None:
    full, waist = (
        tightening.yield_limited_preload(**M10, **{**YIELD, "stress_diameter": each}, thread_friction=0.1)
        for each in (0.008593, 0.0075)
    )
    assert waist < full * (0.0075 / 0.008593) ** 2
    with pytest.raises(OutOfRange, match="prevailing"):
        tightening.yield_limited_preload(**M10, **{**YIELD, "prevailing": 500.0}, thread_friction=0.1)


@given(st.floats(0, 2e5), st.floats(0.05, 0.5))
def test_the_short_form_goes_there_and_back(load: float, factor: float) -> None:
    turned = nut_factors.torque(preload=load, diameter=0.010, nut_factor=factor)
    assert nut_factors.preload(torque=turned, diameter=0.010, nut_factor=factor) == pytest.approx(load)


def test_a_nut_factor_stands_well_above_its_friction_and_near_the_exact_form() -> None:
    for mu in (0.08, 0.12, 0.16):
        rub = {"thread_friction": mu, "face_friction": mu}
        factor = nut_factors.of_friction(diameter=0.010, pitch=0.0015, half_flank=math.pi / 6, **rub)
        exact = tightening.torque(preload=1.0, **M10, **FACE, **rub, prevailing=0.0) / 0.010
        assert factor > 1.25 * mu
        assert factor == pytest.approx(exact, rel=0.04)
    with pytest.raises(OutOfRange):
        nut_factors.of_friction(diameter=0.010, pitch=0.006, half_flank=0.5, thread_friction=0.1, face_friction=0.1)
    with pytest.raises(OutOfRange, match="anti-seize"):
        nut_factors.of_condition(condition="oily")


CLAMP = {"torque": 49.0, "torque_error": 0.04, "prevailing": 0.0, **M10, **FACE}


@given(st.floats(0.03, 0.4), st.floats(0.01, 0.1))
def test_the_interval_holds_every_draw_within_it(low: float, wide: float) -> None:
    found = friction.clamp_load(**CLAMP, lowest_friction=low, highest_friction=low + wide, lubrication="oiled")
    assert found.lowest < found.nominal < found.highest
    generator = np.random.default_rng(1)
    mu = generator.uniform(low, low + wide, (2, 500))
    drawn = tightening.preload(
        torque=49.0 * generator.uniform(0.96, 1.04, 500),
        **M10,
        **FACE,
        thread_friction=mu[0],
        face_friction=mu[1],
        prevailing=0.0,
    )
    assert np.all((drawn >= found.lowest) & (drawn <= found.highest))


@pytest.mark.parametrize("blank", ["", "  "])
def test_a_clamp_load_without_its_lubrication_is_refused(blank: str) -> None:
    with pytest.raises(OutOfRange) as caught:
        friction.clamp_load(**CLAMP, lowest_friction=0.10, highest_friction=0.16, lubrication=blank)
    assert caught.value.name == "lubrication"


def test_a_clamp_load_without_an_interval_is_refused() -> None:
    with pytest.raises(OutOfRange) as caught:
        friction.clamp_load(
            **CLAMP, lowest_friction=0.12, highest_friction=np.array([0.16, 0.12, 0.10]), lubrication="oiled"
        )
    assert caught.value.name == "highest_friction"
    assert list(caught.value.bad) == [False, True, True]


def test_a_class_of_friction_is_an_interval_and_the_classes_overlap() -> None:
    classes = [friction.interval(friction_class=each) for each in "ABCDE"]
    for first, second in pairwise(classes):
        assert first.lowest < second.lowest < first.highest < second.highest
    with pytest.raises(OutOfRange):
        friction.interval(friction_class="F")


def test_turning_by_angle_scatters_least_and_by_feel_most() -> None:
    def worst(method: str) -> float:
        return scatter.method_scatter(method=method).highest

    ranked = ["elongation measured", "torque and angle", "torque wrench, friction estimated", "power screwdriver"]
    assert [worst(method) for method in ranked] == sorted(worst(method) for method in ranked)
    assert worst("feel") > worst("torque wrench, oiled")
    with pytest.raises(OutOfRange, match="torque and angle"):
        scatter.method_scatter(method="guess")


@given(st.floats(0, 0.9), st.floats(1e3, 1e5))
def test_the_tightening_factor_is_the_ratio_of_the_ends_of_the_interval(share: float, middle: float) -> None:
    ends = scatter.interval(nominal=middle, scatter=share)
    factor = scatter.tightening_factor(scatter=share)
    assert factor >= 1
    assert scatter.least_preload(highest=ends.highest, factor=factor) == pytest.approx(ends.lowest)


def test_tests_of_your_own_know_their_scatter() -> None:
    drawn = np.random.default_rng(3).normal(30e3, 3e3, (4, 5000))
    found = scatter.of_tests(preloads=drawn)
    assert found.mean == pytest.approx(np.full(4, 30e3), rel=0.01)
    assert found.scatter == pytest.approx(np.full(4, 0.2), rel=0.05)
    with pytest.raises(OutOfRange, match="at least 2"):
        scatter.of_tests(preloads=np.array([30e3]))


@given(st.floats(0, 400), st.floats(0.1, 1), st.floats(0, 0.09), st.floats(-3.1, 3.1))
def test_a_setting_gives_its_torque_at_the_bolt(torque: float, length: float, offset: float, angle: float) -> None:
    tool = {"length": length, "offset": offset, "angle": angle}
    read = wrenches.setting(torque=torque, **tool)
    assert wrenches.torque_at_bolt(setting=read, **tool) == pytest.approx(torque)


def test_the_adapter_counts_by_the_moment_of_the_hand_about_the_bolt() -> None:
    length, offset, angle, force = 0.40, 0.06, math.radians(35), 100.0
    hand = np.array([0.0, 0.0])
    drive = hand + np.array([length, 0.0])
    bolt = drive + offset * np.array([math.cos(angle), math.sin(angle)])
    pull = np.array([0.0, force])
    about_bolt = (hand - bolt)[0] * pull[1] - (hand - bolt)[1] * pull[0]
    about_drive = (hand - drive)[0] * pull[1] - (hand - drive)[1] * pull[0]
    found = wrenches.setting(torque=abs(about_bolt), length=length, offset=offset, angle=angle)
    assert found == pytest.approx(abs(about_drive))


def test_an_adapter_square_across_changes_nothing_and_one_past_the_hand_is_refused() -> None:
    tool = {"torque": 50.0, "length": 0.3, "offset": 0.05}
    assert wrenches.setting(angle=math.pi / 2, **tool) == pytest.approx(50)
    assert wrenches.setting(angle=0.0, **tool) < 50 < wrenches.setting(angle=math.pi, **tool)
    with pytest.raises(OutOfRange) as caught:
        wrenches.setting(torque=50.0, length=0.3, offset=np.array([0.05, 0.4]), angle=math.pi)
    assert list(caught.value.bad) == [False, True]


def test_the_permitted_error_steps_at_ten_newton_metres() -> None:
    assert list(wrenches.permitted_error(torque=np.array([1.0, 10.0, 10.1, 300.0]))) == [0.06, 0.06, 0.04, 0.04]


@pytest.mark.parametrize("bore", [0.0, 0.006])
def test_the_wind_up_is_the_integral_of_the_shear_over_the_section(bore: float) -> None:
    polar = quad(lambda r: 2 * math.pi * r**3, bore / 2, 0.0127 / 2)[0]
    found = wrenches.wind_up(torque=100.0, length=0.25, diameter=0.0127, bore=bore, shear_modulus=79e9)
    assert found == pytest.approx(100.0 * 0.25 / (79e9 * polar))
    with pytest.raises(OutOfRange):
        wrenches.wind_up(torque=1.0, length=0.25, diameter=0.01, bore=0.01, shear_modulus=79e9)


V8 = Path(endfloat.examples.__file__).parent / "wrenhallow-90-8" / "engine.yaml"


def test_the_head_bolts_of_the_demo_engine_clamp_within_an_interval() -> None:
    """The first pass of the V8's head: M11x1.25, 10.9, oiled thread and head, 25 N m; faces as on a flange bolt."""
    engine = read_engine(V8.read_bytes(), name="engine.yaml")
    assert isinstance(engine, Engine)
    joint = engine.joints["left_head"]
    bolt = joint.bolts["head_bolt"]
    assert bolt.lubrication is not None
    diameter, pitch = (float(each) * 1e-3 for each in bolt.thread.removeprefix("M").split("x"))
    snug = joint.passes[0].amount
    assert snug is not None
    assert snug.text == "25 N·m"
    sizes = threads.metric_sizes(diameter=diameter, pitch=pitch)
    thread = {"pitch": pitch, "pitch_diameter": sizes.pitch_diameter, "half_flank": math.pi / 6}
    oiled = friction.interval(friction_class="B")
    found = friction.clamp_load(
        torque=snug.si,
        torque_error=wrenches.permitted_error(torque=snug.si),
        prevailing=0.0,
        bearing_diameter=bearing_faces.mean_diameter(face=0.0185, hole=0.012),
        lowest_friction=oiled.lowest,
        highest_friction=oiled.highest,
        lubrication=bolt.lubrication.words,
        **thread,
    )
    assert found.lubrication == "thread oil, under the head oil"
    assert 8e3 < found.lowest < found.nominal < found.highest < 21e3
    assert found.highest / found.lowest == pytest.approx(1.9, abs=0.15)
    # By hand: 75.9 mm2 at 940 MPa is 71.3 kN in plain tension; elastic torsion at 0.12 would leave 60.0 kN.
    yielding = bolts.strength(strength_class=bolt.strength, diameter=diameter).yielding
    assert sizes.stress_area == pytest.approx(75.9e-6, rel=1e-3)
    assert sizes.stress_area * yielding == pytest.approx(71.3e3, rel=1e-3)
    limit = tightening.yield_limited_preload(
        stress_diameter=sizes.stress_diameter,
        thread_friction=0.12,
        prevailing=0.0,
        yield_strength=yielding,
        use=1.0,
        **thread,
    )
    assert 60.0e3 < limit < 71.3e3
    assert found.highest < limit
