"""Bolts that may yield: passes, slackening, use again, and who is right about where yield begins."""

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray
from scipy.integrate import quad, solve_ivp
from scipy.optimize import brentq

from endfloat.errors import OutOfRange
from endfloat.formulas import tightening, torque_angle, yield_loads, yielding

FRICTION = (0.08, 0.10, 0.12, 0.14, 0.18)


def thread(nominal: float, pitch: float) -> dict[str, float]:
    """Basic ISO thread: pitch diameter, core diameter (mean of pitch and root), pitch."""
    pitch_diameter, root = nominal - 0.649519 * pitch, nominal - 1.226869 * pitch
    return {"pitch": pitch, "pitch_diameter": pitch_diameter, "stress_diameter": (pitch_diameter + root) / 2}


def one_lump(area: Any, free_length: float) -> Any:
    """Stiffness of a bolt with a joint five times as stiff, Young's modulus 205 GPa."""
    return 205e9 * area / free_length * 5 / 6


def core_area(bolt: dict[str, float]) -> float:
    return math.pi / 4 * bolt["stress_diameter"] ** 2


# Invented: head bolts of the V8, M11x1.25 10.9, free length 95 mm, 25 N m and twice 90 degrees, head face 17.5 over
# a 12 mm hole; through-bolts of the flat four, M10x1.25 10.9, free length 160 mm, 30 N m and 60 degrees, face 15.8
# over 11 mm.
V8 = thread(0.011, 0.00125)
V8_LINE = {"stiffness": one_lump(core_area(V8), 0.095), "hardening": 0.0}
V8_HEAD = {"bearing_diameter": (0.0175 + 0.012) / 2}
FLAT_FOUR = thread(0.010, 0.00125)
FLAT_FOUR_HEAD = {"bearing_diameter": (0.0158 + 0.011) / 2}
STRENGTH = {"yield_strength": 940e6}


def v8_bolt(friction: Any, **changed: Any) -> torque_angle.TightenedBolt:
    given = {"torque": 25.0, "angle": math.pi} | STRENGTH | V8 | V8_LINE | V8_HEAD
    return torque_angle.torque_then_angle(**given | changed, thread_friction=friction, bearing_friction=friction)


def limit_of(bolt: dict[str, float], friction: Any, *, surface: bool = False) -> Any:
    given = STRENGTH | bolt | {"thread_friction": friction}
    if surface:
        return yield_loads.first_yield_clamp(**given)
    return whole_section(use=1.0, **given)


def whole_section(*, stress_diameter: float, use: Any, **given: Any) -> Any:
    return tightening.yield_limited_preload(
        stress_diameter=stress_diameter, half_flank=math.pi / 6, prevailing=0.0, use=use, **given
    )


@pytest.mark.parametrize(("friction", "kilonewtons"), list(zip(FRICTION, (31.7, 26.1, 22.3, 19.4, 15.4), strict=True)))
def test_forty_newton_metres_on_an_eleven_millimetre_bolt(friction: float, kilonewtons: float) -> None:
    assert v8_bolt(friction, torque=40.0).snug_clamp == pytest.approx(kilonewtons * 1e3, rel=0.004)


def test_the_head_bolts_of_the_v8_begin_to_yield_after_92_to_98_of_180_degrees() -> None:
    friction = np.array(FRICTION)
    begins = yielding.angle_to_yield(
        clamp=v8_bolt(friction).snug_clamp,
        stretch=0.0,
        pitch=V8["pitch"],
        limit=limit_of(V8, friction, surface=True),
        **V8_LINE,
    )
    assert np.round(np.degrees(begins)).tolist() == [94, 97, 97, 96, 92]


def test_the_whole_section_of_the_v8_bolts_yields_after_100_to_107_of_180_degrees() -> None:
    bolt = v8_bolt(np.array(FRICTION))
    assert np.round(np.degrees(bolt.yield_angle)).tolist() == [100, 104, 106, 107, 105]
    assert np.all(bolt.stretch > 0.24e-3)
    straight = bolt.snug_clamp + V8_LINE["stiffness"] * V8["pitch"] / 2
    assert np.all(straight > 1.4 * bolt.clamp)


def test_the_through_bolts_of_the_flat_four_stay_elastic_at_32_to_36_of_48_kilonewtons() -> None:
    shanks = np.array([core_area(FLAT_FOUR), math.pi / 4 * 0.010**2])
    bolt = torque_angle.torque_then_angle(
        torque=30.0,
        angle=math.pi / 3,
        stiffness=one_lump(shanks, 0.160),
        hardening=0.0,
        thread_friction=0.12,
        bearing_friction=0.12,
        **STRENGTH,
        **FLAT_FOUR,
        **FLAT_FOUR_HEAD,
    )
    assert np.round(bolt.clamp / 1e3).tolist() == [32, 36]
    assert np.all(bolt.stretch == 0)
    assert round(limit_of(FLAT_FOUR, 0.12, surface=True) / 1e3) == 48
    assert round(limit_of(FLAT_FOUR, 0.12) / 1e3, 1) == 51.6


def rings(twist_per_stretch: float) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """Stretch, load and torque of a bar of many elastic, perfectly plastic rings (unit radius, moduli and strength).

    Radial return ring by ring in small steps of stretch and twist together.
    """
    edges = np.linspace(0, 1, 201)
    radius, area = (edges[1:] + edges[:-1]) / 2, np.pi * (edges[1:] ** 2 - edges[:-1] ** 2)
    # With a third of Young's modulus (no change of volume) scaling a ring back to yield is the exact plastic step.
    shear_modulus = 1 / 3
    tension, shear = np.zeros_like(radius), np.zeros_like(radius)
    out = []
    for step in range(2000):
        tension = tension + 0.002
        shear = shear + shear_modulus * radius * twist_per_stretch * 0.002
        equivalent = np.sqrt(tension**2 + 3 * shear**2)
        over = np.maximum(equivalent, 1)
        tension, shear = tension / over, shear / over
        out.append((0.002 * (step + 1), area @ tension, area @ (shear * radius)))
    stretch, load, torque = np.array(out).T
    return stretch, load, torque


def test_a_bar_of_rings_leaves_its_line_at_first_yield_and_ends_at_the_plateau() -> None:
    """Both figures are right: one is the surface, the other the whole section."""
    stretch, load, torque = rings(1.2)
    lever = torque[-1] / load[-1]
    # A unit bar: d2/2 tan(lead + friction) is the lever, the core has diameter 2.
    plateau = math.pi / math.sqrt(1 + 3 * (1.5 * lever) ** 2)
    # One shear over the section is a field of stress in balance at yield, so the bar holds that much or a little more.
    assert plateau < load[-1] < 1.015 * plateau
    straight = load[0] / stretch[0] * stretch
    leaves = int(np.argmax(load < straight * (1 - 1e-6)))
    begins = torque[leaves] / load[leaves]
    assert load[leaves] == pytest.approx(math.pi / math.sqrt(1 + 3 * (2 * begins) ** 2), rel=0.005)
    assert load[leaves] < plateau


def test_the_plateau_is_the_integral_of_one_shear_over_the_section() -> None:
    whole, _ = quad(lambda r: 2 * math.pi * r**2, 0, 0.5)
    assert whole == pytest.approx(math.pi / 12)


FORCES = st.floats(0, 60e3)
ANGLES = st.floats(0, 4)
STIFF = {"pitch": 0.00125, "stiffness": 136e6}
SOFTLY = st.sampled_from([0.0, 2e6, 8e6])
NEW = {"clamp": 0.0, "stretch": 0.0}


@given(FORCES, ANGLES, ANGLES, SOFTLY)
def test_two_passes_equal_one_of_both_angles(clamp: float, first: float, second: float, hardening: float) -> None:
    line = STIFF | {"limit": 50e3, "hardening": hardening}
    once = yielding.tightened_by_angle(clamp=clamp, stretch=0.0, angle=first + second, **line)
    half = yielding.tightened_by_angle(clamp=clamp, stretch=0.0, angle=first, **line)
    twice = yielding.tightened_by_angle(**half._asdict(), angle=second, **line)
    assert twice.clamp == pytest.approx(once.clamp, rel=1e-9)
    assert twice.stretch == pytest.approx(once.stretch, rel=1e-9, abs=1e-12)


@given(st.floats(0, 50e3), st.lists(ANGLES, max_size=5))
def test_clamp_never_passes_yield_without_hardening(clamp: float, angles: list[float]) -> None:
    state = yielding.BoltState(clamp, 0.0)
    for angle in angles:
        state = yielding.tightened_by_angle(**state._asdict(), angle=angle, limit=50e3, hardening=0.0, **STIFF)
        assert state.clamp <= 50e3


@given(FORCES, ANGLES, SOFTLY)
def test_a_pass_agrees_with_small_steps_and_with_an_integrated_slope(
    clamp: float, angle: float, hardening: float
) -> None:
    limit = 62e3
    pitch, stiffness = STIFF["pitch"], STIFF["stiffness"]

    def slope(_: float, y: list[float]) -> list[float]:
        soft = stiffness * hardening / (stiffness + hardening)
        return [pitch / 2 / math.pi * (soft if y[0] >= limit else stiffness)]

    ours = yielding.tightened_by_angle(
        clamp=clamp, stretch=0.0, angle=angle, pitch=pitch, stiffness=stiffness, limit=limit, hardening=hardening
    )
    steps = 2000
    load, stretch = clamp, 0.0
    for _ in range(steps):
        rise = slope(0, [load])[0] * angle / steps
        stretch += pitch / 2 / math.pi * angle / steps - rise / stiffness
        load += rise
    one_step = pitch / 2 / math.pi * angle / steps
    assert ours.clamp == pytest.approx(load, abs=2 * stiffness * one_step + 1e-6)
    assert ours.stretch == pytest.approx(stretch, abs=2 * one_step + 1e-12)


def test_a_pass_agrees_with_an_adaptive_integration() -> None:
    limit, hardening = 50e3, 4e6
    pitch, stiffness = STIFF["pitch"], STIFF["stiffness"]

    def reaches(_: float, y: NDArray[np.float64]) -> float:
        return float(y[0] - limit)

    setattr(reaches, "terminal", True)  # noqa: B010
    elastic = solve_ivp(lambda *_: [stiffness * pitch / 2 / math.pi], (0, math.pi), [14e3], events=reaches)
    soft = stiffness * hardening / (stiffness + hardening)
    plastic = solve_ivp(lambda *_: [soft * pitch / 2 / math.pi], (elastic.t[-1], math.pi), [limit])
    ours = yielding.tightened_by_angle(
        clamp=14e3, stretch=0.0, angle=math.pi, limit=limit, hardening=hardening, **STIFF
    )
    assert ours.clamp == pytest.approx(plastic.y[0, -1], rel=1e-6)


@given(FORCES, ANGLES)
def test_slackening_undoes_an_elastic_pass_and_keeps_plastic_stretch(clamp: float, angle: float) -> None:
    on = yielding.tightened_by_angle(clamp=clamp, stretch=0.0, angle=angle, limit=65e3, hardening=0.0, **STIFF)
    back = yielding.slackened_by_angle(**on._asdict(), angle=angle, **STIFF)
    assert back.stretch == on.stretch
    if on.stretch == 0:
        assert back.clamp == pytest.approx(clamp, abs=1e-6)
    else:
        assert back.clamp <= clamp + 1e-6
    assert yielding.slackened_by_angle(**on._asdict(), angle=1e3, **STIFF).clamp == 0


@given(ANGLES, ANGLES, SOFTLY)
def test_the_angle_turned_is_read_back_from_the_two_states(first: float, second: float, hardening: float) -> None:
    line = STIFF | {"limit": 50e3, "hardening": hardening}
    before = yielding.tightened_by_angle(**NEW, angle=first, **line)
    after = yielding.tightened_by_angle(**before._asdict(), angle=second, **line)
    turned = yielding.angle_turned(
        clamp_before=before.clamp,
        stretch_before=before.stretch,
        clamp_after=after.clamp,
        stretch_after=after.stretch,
        **STIFF,
    )
    assert turned == pytest.approx(second, abs=1e-9)


@given(st.floats(0, 60e3), SOFTLY)
def test_the_angle_to_yield_ends_exactly_where_stretch_begins(clamp: float, hardening: float) -> None:
    line = STIFF | {"limit": 62e3, "hardening": hardening}
    left = float(yielding.angle_to_yield(clamp=clamp, stretch=0.0, **line))
    to_it = yielding.tightened_by_angle(clamp=clamp, stretch=0.0, angle=left, **line)
    past = yielding.tightened_by_angle(clamp=clamp, stretch=0.0, angle=left + 0.01, **line)
    assert to_it.stretch == pytest.approx(0, abs=1e-15)
    assert to_it.clamp == pytest.approx(62e3)
    assert past.stretch > 1e-7


def test_a_bolt_used_again_yields_later_and_ends_longer() -> None:
    line = STIFF | {"limit": 50e3, "hardening": 6e6}
    first = yielding.tightened_by_angle(**NEW, angle=math.pi, **line)
    free = yielding.slackened_by_angle(**first._asdict(), angle=10.0, **STIFF)
    assert (free.clamp, free.stretch) == (0, first.stretch)
    new, used = (
        yielding.angle_to_yield(**state, **line) for state in (NEW, {"clamp": 0.0, "stretch": float(free.stretch)})
    )
    assert used > new
    second = yielding.tightened_by_angle(**free._asdict(), angle=math.pi, **line)
    assert second.stretch > first.stretch
    assert second.clamp > first.clamp
    length = torque_angle.permanent_length(length=0.112, stretch=second.stretch)
    assert torque_angle.stretch_from_lengths(length_new=0.112, length_now=length) == pytest.approx(second.stretch)


def test_a_used_bolt_without_hardening_adds_the_same_stretch_each_time() -> None:
    line = STIFF | {"limit": 50e3, "hardening": 0.0}
    stretch = [0.0]
    for _ in range(3):
        after = yielding.tightened_by_angle(clamp=0.0, stretch=stretch[-1], angle=math.pi, **line)
        stretch.append(float(after.stretch))
    assert np.diff(stretch) == pytest.approx(stretch[1])


def by_torque(torque: Any, friction: Any, **changed: Any) -> yielding.BoltState:
    head = {"pitch": V8["pitch"], "pitch_diameter": V8["pitch_diameter"], **V8_HEAD}
    given = {"clamp": 0.0, "stretch": 0.0, "prevailing": 0.0, "limit": 60e3, "hardening": 0.0} | changed
    return yielding.tightened_by_torque(
        torque=torque, thread_friction=friction, bearing_friction=friction, **head, **given
    )


@given(st.floats(0.06, 0.4), st.floats(1.01, 2))
def test_more_friction_means_less_clamp_after_a_torque_pass(friction: float, more: float) -> None:
    assert by_torque(40.0, friction * more).clamp < by_torque(40.0, friction).clamp


@given(st.floats(0, 60), st.floats(0, 60))
def test_a_lesser_torque_moves_nothing(torque: float, again: float) -> None:
    first = by_torque(torque, 0.15)
    second = by_torque(again, 0.15, **first._asdict())
    assert second.clamp == pytest.approx(by_torque(max(torque, again), 0.15).clamp)
    assert second.stretch == 0


def test_a_prevailing_torque_does_not_clamp() -> None:
    assert by_torque(30.0, 0.12, prevailing=5.0).clamp == pytest.approx(by_torque(25.0, 0.12).clamp)
    assert by_torque(3.0, 0.12, prevailing=5.0).clamp == 0


def test_a_torque_past_yield_hardens_the_bolt_or_is_refused() -> None:
    hard = by_torque(150.0, 0.12, hardening=20e6)
    assert hard.clamp > 60e3
    assert hard.clamp == pytest.approx(60e3 + 20e6 * hard.stretch)
    with pytest.raises(OutOfRange) as caught:
        by_torque(np.array([25.0, 150.0, 25.0]), 0.12)
    assert caught.value.bad.tolist() == [False, True, False]
    assert (caught.value.name, caught.value.value) == ("torque", 150.0)
    most = float(caught.value.expected.removeprefix("at most "))
    assert by_torque(most * 0.9999, 0.12).clamp == pytest.approx(60e3, rel=1e-3)


@given(st.floats(0.01, 0.5))
def test_the_torque_at_yield_is_the_torque_that_brings_the_bolt_there(friction: float) -> None:
    limit = limit_of(V8, friction)
    torque = yield_loads.torque_at_yield(
        **STRENGTH, **V8, **V8_HEAD, thread_friction=friction, bearing_friction=friction, use=1.0
    )
    assert by_torque(torque, friction, limit=limit, hardening=1e6).clamp == pytest.approx(limit)


@given(st.floats(0, 0.5), st.floats(0.3, 1))
def test_the_surface_yields_before_the_section_and_torsion_costs_clamp(friction: float, use: float) -> None:
    pure = 940e6 * core_area(V8)
    surface, whole = limit_of(V8, friction, surface=True), limit_of(V8, friction)
    assert surface < whole < pure
    share = whole_section(**STRENGTH, **V8, thread_friction=friction, use=use)
    assert share == pytest.approx(use * whole)
    reserve = yield_loads.load_reserve(clamp=whole, stress_diameter=V8["stress_diameter"], **STRENGTH)
    assert reserve == pytest.approx(pure - whole)


def test_without_lead_and_friction_the_yield_load_is_strength_times_area() -> None:
    flat = V8 | {"pitch": 1e-12}
    for surface in (True, False):
        assert limit_of(flat, 0.0, surface=surface) == pytest.approx(940e6 * core_area(V8))


def test_hardening_gives_the_tangent_that_was_asked_for() -> None:
    bolt, joint, share = 160e6, 800e6, 0.04
    hardening = float(yield_loads.hardening_of_bolt(bolt_stiffness=bolt, tangent_share=share))
    together = 1 / (1 / bolt + 1 / joint)
    line = {"pitch": 0.00125, "stiffness": together, "limit": 50e3, "hardening": hardening}
    after = yielding.tightened_by_angle(clamp=50e3, stretch=0.0, angle=1.0, **line)
    wanted = 0.00125 / 2 / math.pi / (1 / (share * bolt) + 1 / joint)
    assert after.clamp - 50e3 == pytest.approx(wanted)


@given(st.floats(1e-3, 0.05), st.floats(1, 200))
def test_the_twist_of_a_shank_is_that_of_its_rings(diameter: float, torque: float) -> None:
    polar, _ = quad(lambda r: 2 * math.pi * r**3, 0, 1)
    twist = torque_angle.shank_twist(torque=torque, length=0.1, diameter=diameter, shear_modulus=80e9)
    assert twist == pytest.approx(torque * 0.1 / (80e9 * polar * (diameter / 2) ** 4), rel=1e-9)


def test_the_snug_clamp_and_the_yield_angle_agree_with_a_root_finder() -> None:
    bolt = v8_bolt(0.13)
    lead, rough = math.atan(V8["pitch"] / math.pi / V8["pitch_diameter"]), math.atan(0.13 / math.cos(math.pi / 6))
    lever = V8["pitch_diameter"] / 2 * math.tan(lead + rough) + V8_HEAD["bearing_diameter"] / 2 * 0.13
    snug = brentq(lambda load: load * lever - 25.0, 0, 1e5)
    assert bolt.snug_clamp == pytest.approx(snug)

    def beyond(angle: float) -> float:
        load = snug + V8_LINE["stiffness"] * V8["pitch"] * angle / 2 / math.pi
        tension, shear = load / core_area(V8), load * V8["pitch_diameter"] / 2 * math.tan(lead + rough)
        shear /= math.pi * V8["stress_diameter"] ** 3 / 12
        return math.sqrt(tension**2 + 3 * shear**2) - 940e6

    assert bolt.yield_angle == pytest.approx(brentq(beyond, 0, 10))


def draws(count: int) -> dict[str, NDArray[np.float64]]:
    chance = np.random.default_rng(8)
    size = (20, count)
    return {
        "torque": 25 * chance.uniform(0.96, 1.04, size),
        "angle": math.pi + math.radians(4) * chance.standard_normal(size),
        "yield_strength": 940e6 * chance.uniform(1, 1.15, size),
        "thread_friction": chance.uniform(0.08, 0.18, size),
        "bearing_friction": chance.uniform(0.08, 0.18, size),
        "stiffness": V8_LINE["stiffness"] * chance.uniform(0.9, 1.1, size),
    }


def test_arrays_of_draws_equal_single_bolts() -> None:
    drawn = draws(5)
    every: Any = torque_angle.torque_then_angle(**drawn, hardening=3e6, **V8, **V8_HEAD)
    for at in np.ndindex(20, 5):
        one = torque_angle.torque_then_angle(
            **{name: float(column[at]) for name, column in drawn.items()}, hardening=3e6, **V8, **V8_HEAD
        )
        assert [float(column[at]) for column in every] == pytest.approx([float(x) for x in one], rel=1e-12)


def test_past_yield_the_clamp_spreads_less_than_by_torque_alone() -> None:
    """Angle past yield depends on strength and thread friction; torque on all friction."""
    drawn = draws(20_000)
    bolt = torque_angle.torque_then_angle(**drawn, hardening=0.0, **V8, **V8_HEAD)
    assert np.all(np.isfinite(bolt.clamp))
    by_angle, by_snug = (
        float(np.quantile(column, 0.975) / np.quantile(column, 0.025)) for column in (bolt.clamp, bolt.snug_clamp)
    )
    assert by_angle < 1.3 < by_snug


def test_bad_draws_are_told_by_their_mask() -> None:
    drawn = draws(3)
    drawn["angle"][2, 1] = -0.1
    drawn["angle"][4, 0] = math.nan
    with pytest.raises(OutOfRange) as caught:
        torque_angle.torque_then_angle(**drawn, hardening=0.0, **V8, **V8_HEAD)
    assert np.argwhere(caught.value.bad).tolist() == [[2, 1], [4, 0]]
    with pytest.raises(OutOfRange) as shorter:
        torque_angle.stretch_from_lengths(length_new=np.array([0.1, 0.1]), length_now=np.array([0.1, 0.0999]))
    assert shorter.value.bad.tolist() == [False, True]


def test_a_ten_millimetre_bolt_turned_by_180_degrees_yields_after_57_and_holds_half_of_the_straight_line() -> None:
    """An invented M10 10.9 with a joint of 0.42 kN for each degree, 40 N m and 180 degrees."""
    coarse, slope = thread(0.010, 0.0015), 420.0
    bolt = torque_angle.torque_then_angle(
        torque=40.0,
        angle=math.pi,
        stiffness=slope * 360 / coarse["pitch"],
        hardening=0.0,
        thread_friction=0.12,
        bearing_friction=0.12,
        bearing_diameter=(0.01463 + 0.011) / 2,
        **STRENGTH,
        **coarse,
    )
    assert round(math.degrees(bolt.yield_angle)) == pytest.approx(57, abs=3)
    assert bolt.clamp == pytest.approx(48e3, rel=0.01)
    assert bolt.snug_clamp + 180 * slope == pytest.approx(100e3, rel=0.01)
    assert bolt.stretch == pytest.approx(0.5e-3, abs=0.02e-3)
