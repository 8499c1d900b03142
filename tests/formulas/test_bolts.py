"""Strength and stiffness of bolts and clamped parts: springs by integration, closed forms against layers."""

import math
from collections.abc import Callable
from itertools import pairwise

import numpy as np
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from endfloat.errors import OutOfRange
from endfloat.formulas import bolts, clamped_parts, stiffness

STEEL, IRON, ALUMINIUM = 205e9, 110e9, 72e9
CONE = {"hole": 0.0135, "face": 0.0166, "half_angle": math.radians(28)}


@pytest.mark.parametrize("word", ["4.6", "5.6", "5.8", "6.8", "8.8", "9.8", "10.9", "12.9"])
def test_the_name_of_a_class_says_its_strength(word: str) -> None:
    """First number: a hundredth of the nominal tensile strength; second: yield over tensile strength in tenths."""
    first, second = word.split(".")
    found = bolts.strength(strength_class=word, diameter=0.012)
    assert found.ultimate / 1e8 == pytest.approx(int(first), rel=0.041)
    assert found.yielding / found.ultimate == pytest.approx(int(second) / 10, rel=0.02)
    assert found.proof < found.yielding < found.ultimate


def test_inch_grades_are_the_printed_ksi() -> None:
    ksi = pint.UnitRegistry()("ksi").to("Pa").magnitude
    for grade, diameter, printed in (
        ("SAE 2", 0.019, (55, 57, 74)),
        ("SAE 2", 0.020, (33, 36, 60)),
        ("SAE 5", 0.0254, (85, 92, 120)),
        ("SAE 5", 0.026, (74, 81, 105)),
        ("SAE 8", 0.03, (120, 130, 150)),
    ):
        assert bolts.strength(strength_class=grade, diameter=diameter) == pytest.approx(
            [ksi * each for each in printed]
        )


def test_class_8_8_is_stronger_above_m16_and_an_unknown_or_too_large_one_is_refused() -> None:
    sizes = np.array([0.008, 0.016, 0.018])
    assert list(bolts.strength(strength_class="8.8", diameter=sizes).proof) == [580e6, 580e6, 600e6]
    with pytest.raises(OutOfRange, match=r"10\.9"):
        bolts.strength(strength_class="11.9", diameter=0.01)
    with pytest.raises(OutOfRange) as caught:
        bolts.strength(strength_class="9.8", diameter=np.array([0.012, 0.02]))
    assert list(caught.value.bad) == [False, True]


def test_a_thread_is_no_longer_than_its_bolt_and_steps_with_the_length() -> None:
    lengths = np.array([0.02, 0.125, 0.126, 0.200, 0.201])
    assert bolts.thread_length(diameter=0.012, length=lengths) == pytest.approx([0.02, 0.030, 0.036, 0.036, 0.049])
    inch = bolts.inch_thread_length(diameter=0.0127, length=np.array([0.01, 0.1524, 0.16]))
    assert inch == pytest.approx([0.01, 0.03175, 0.0381])
    assert bolts.tapped_grip(thickness=0.02, depth=0.008, diameter=0.012) == pytest.approx(0.024)


def by_integration(area: Callable[[float], float], modulus: Callable[[float], float], steps: list[float]) -> float:
    """Stiffness of a bar of changing section: one over the integral of dx over E A, step by step."""
    give = sum(quad(lambda x: 1 / (area(x) * modulus(x)), a, b)[0] for a, b in pairwise(steps))
    return 1 / give


def test_a_bolt_is_its_sections_one_after_the_other() -> None:
    d, d3 = 0.010, 0.00816
    ends = [0.0, 0.4 * d, 0.4 * d + 0.05, 0.4 * d + 0.08, 0.4 * d + 0.095, 0.9 * d + 0.095]
    bores = [d, 0.010, 0.0078, d3, d3]

    def area(x: float) -> float:
        return math.pi / 4 * bores[min(np.searchsorted(ends, x) - 1, 4)] ** 2

    shank = by_integration(area, lambda _: STEEL, ends)
    nut = STEEL * math.pi / 4 * d**2 / (0.4 * d)
    found = stiffness.bolt(
        diameter=d,
        root_diameter=d3,
        lengths=np.array([0.05, 0.03]),
        diameters=np.array([0.010, 0.0078]),
        free_thread=0.015,
        modulus=STEEL,
        head="socket",
        mate="nut",
        mate_modulus=STEEL,
    )
    assert found == pytest.approx(1 / (1 / shank + 1 / nut), rel=1e-6)


BOLT = {
    "diameter": 0.010,
    "root_diameter": 0.00816,
    "lengths": np.array([0.06]),
    "diameters": np.array([0.010]),
    "modulus": STEEL,
    "mate_modulus": STEEL,
}


def test_head_and_engaged_thread_make_a_bolt_softer_than_the_textbook_says() -> None:
    plain = stiffness.two_sections(
        shank_area=math.pi / 4 * 0.010**2, stress_area=math.pi / 4 * 0.00816**2, shank=0.06, thread=0.02, modulus=STEEL
    )
    whole = stiffness.bolt(**BOLT, free_thread=0.02, head="hexagon", mate="nut")
    assert 0.8 < whole / plain < 0.9
    soft = stiffness.bolt(**{**BOLT, "mate_modulus": ALUMINIUM}, free_thread=0.02, head="hexagon", mate="nut")
    assert soft < whole


@given(st.floats(0, 0.1), st.floats(1e-3, 0.1))
def test_more_free_thread_is_softer(thread: float, more: float) -> None:
    shorter, longer = (
        stiffness.bolt(**BOLT, free_thread=each, head="hexagon", mate="tapped hole") for each in (thread, thread + more)
    )
    assert longer < shorter


def test_words_and_roots_that_no_bolt_has_are_refused() -> None:
    for change in ({"head": "round"}, {"mate": "glue"}, {"root_diameter": 0.011}):
        with pytest.raises(OutOfRange):
            stiffness.bolt(**{**BOLT, "free_thread": 0.02, "head": "hexagon", "mate": "nut", **change})
    with pytest.raises(OutOfRange):
        stiffness.two_sections(shank_area=1e-4, stress_area=8e-5, shank=0.0, thread=0.0, modulus=STEEL)


@given(st.lists(st.floats(1e6, 1e10), min_size=2, max_size=5))
def test_a_series_is_softer_than_its_softest(springs: list[float]) -> None:
    assert stiffness.in_series(stiffnesses=np.array(springs)) < min(springs)


def test_a_soft_gasket_gives_the_bolt_more_of_the_load() -> None:
    stiff, soft = 1500e6, stiffness.in_series(stiffnesses=np.array([1500e6, 200e6]))
    shares = [stiffness.load_share(bolt_stiffness=130e6, parts_stiffness=each) for each in (stiff, soft)]
    assert 0 < shares[0] < shares[1] < 1


def test_the_textbook_closed_form_is_two_cones_in_layers() -> None:
    closed = clamped_parts.equal_parts(diameter=0.012, grip=0.045, modulus=STEEL)
    stacked = clamped_parts.layers(
        joint="through",
        hole=0.012,
        face=0.018,
        outer=1.0,
        half_angle=math.pi / 6,
        thicknesses=np.array([0.01, 0.02, 0.015]),
        moduli=np.full(3, STEEL),
    )
    assert stacked == pytest.approx(closed)


def test_the_exponential_fit_and_the_cones_agree_within_some_per_cent() -> None:
    for grip in (0.02, 0.03, 0.04):
        fit = clamped_parts.fitted(diameter=0.012, grip=grip, share=1.0, modulus=STEEL, material="steel")
        assert fit == pytest.approx(clamped_parts.equal_parts(diameter=0.012, grip=grip, modulus=STEEL), rel=0.08)
    halves = clamped_parts.fitted(diameter=0.012, grip=0.04, share=0.5, modulus=STEEL, material="general")
    whole = clamped_parts.fitted(diameter=0.012, grip=0.04, share=1.0, modulus=STEEL, material="general")
    assert stiffness.in_series(stiffnesses=np.array([halves, halves])) == pytest.approx(whole)
    with pytest.raises(OutOfRange, match="aluminium"):
        clamped_parts.fitted(diameter=0.012, grip=0.04, share=1.0, modulus=STEEL, material="cheese")


@pytest.mark.parametrize("joint", ["through", "tapped"])
@pytest.mark.parametrize("outer", [0.0150, 0.0200, 0.0300, 0.5])
def test_layers_are_the_integral_over_the_cone_and_its_sleeve(joint: str, outer: float) -> None:
    thick, moduli, grip = np.array([0.003, 0.030, 0.012]), np.array([STEEL, ALUMINIUM, IRON]), 0.045

    def area(x: float) -> float:
        depth = x if joint == "tapped" else min(x, grip - x)
        across = min(CONE["face"] + 2 * depth * math.tan(CONE["half_angle"]), outer)
        return math.pi / 4 * (across**2 - CONE["hole"] ** 2)

    def modulus(x: float) -> float:
        return float(moduli[np.searchsorted(np.cumsum(thick), x)])

    reach = max((outer - CONE["face"]) / 2 / math.tan(CONE["half_angle"]), 0.0)
    corners = [0.0, 0.003, 0.0225, 0.033, grip, reach, grip - reach]
    steps = sorted({corner for corner in corners if 0 <= corner <= grip})
    found = clamped_parts.layers(joint=joint, outer=outer, thicknesses=thick, moduli=moduli, **CONE)
    assert found == pytest.approx(by_integration(area, modulus, steps), rel=1e-6)


def test_one_layer_of_a_tapped_joint_is_one_cone() -> None:
    stack = {"thicknesses": np.array([0.02]), "moduli": np.array([IRON])}
    alone = clamped_parts.frustum(thickness=0.02, modulus=IRON, **CONE)
    assert clamped_parts.layers(joint="tapped", outer=0.5, **stack, **CONE) == pytest.approx(alone)


@given(st.floats(0.018, 0.05), st.floats(0.001, 0.02))
def test_a_wider_boss_is_never_softer(outer: float, more: float) -> None:
    stack = {"thicknesses": np.array([0.03, 0.02]), "moduli": np.array([ALUMINIUM, IRON])}
    narrow, wide = (
        clamped_parts.layers(joint="through", outer=each, **stack, **CONE) for each in (outer, outer + more)
    )
    assert wide >= narrow * (1 - 1e-12)


def test_the_cone_of_the_guideline_opens_with_the_slenderness_and_the_room_around() -> None:
    for joint in ("through", "tapped"):
        slender = clamped_parts.cone_angle(joint=joint, grip=np.array([0.02, 0.04, 0.08]), face=0.0166, outer=0.04)
        roomy = clamped_parts.cone_angle(joint=joint, grip=0.04, face=0.0166, outer=np.array([0.02, 0.04, 0.06]))
        assert np.all(np.diff(slender) > 0)
        assert np.all(np.diff(roomy) > 0)
    with pytest.raises(OutOfRange) as caught:
        clamped_parts.cone_angle(joint="through", grip=0.04, face=0.0166, outer=np.array([0.04, 0.01]))
    assert list(caught.value.bad) == [False, True]
    with pytest.raises(OutOfRange):
        clamped_parts.cone_angle(joint="welded", grip=0.04, face=0.0166, outer=0.04)
    with pytest.raises(OutOfRange):
        clamped_parts.cone_angle(joint="through", grip=1e-8, face=0.0166, outer=0.0166)


def test_a_face_or_a_boss_inside_the_hole_is_refused() -> None:
    with pytest.raises(OutOfRange, match="face"):
        clamped_parts.frustum(hole=0.02, face=0.018, thickness=0.01, modulus=STEEL, half_angle=0.5)
    stack = {"thicknesses": np.array([0.02]), "moduli": np.array([IRON])}
    with pytest.raises(OutOfRange, match="outer"):
        clamped_parts.layers(joint="through", outer=0.013, **stack, **CONE)
