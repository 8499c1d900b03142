"""Stripping: teeth drawn and cut, and the usual outcome in aluminium."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, Polygon

from endfloat.errors import OutOfRange
from endfloat.formulas import stripping, thread_standards, threads

LIMITS = thread_standards.metric_limits(thread="M10x1.5")
PITCH = 0.0015
NUT = {"bolt_major_least": LIMITS.bolt_major_least, "nut_pitch_greatest": LIMITS.nut_pitch_greatest}
BOLT = {"bolt_pitch_least": LIMITS.bolt_pitch_least, "nut_minor_greatest": LIMITS.nut_minor_greatest}


def tooth_width(pitch_diameter: float, cut_diameter: float, outward: bool) -> float:
    """Width of a sharp 60 degree tooth, half a pitch wide at its pitch diameter, cut along another diameter.

    A tooth of a bolt points outward and is wide inside; that of a nut the other way round.
    """
    sign = 1 if outward else -1
    point = pitch_diameter / 2 + sign * PITCH / 4 * math.sqrt(3)
    base = point - sign * 4 * PITCH
    half = 4 * PITCH * math.tan(math.pi / 6)
    tooth = Polygon([(0.0, point), (-half, base), (half, base)])
    return float(tooth.intersection(LineString([(-1, cut_diameter / 2), (1, cut_diameter / 2)])).length)


def test_the_area_of_the_hole_is_its_teeth_cut_at_the_crest_of_the_thinnest_bolt() -> None:
    width = tooth_width(LIMITS.nut_pitch_greatest, LIMITS.bolt_major_least, outward=False)
    cut = math.pi * LIMITS.bolt_major_least * width * 0.020 / PITCH
    assert stripping.internal_area(engagement=0.020, pitch=PITCH, **NUT) == pytest.approx(cut, rel=1e-9)


def test_the_area_of_the_bolt_is_its_teeth_cut_at_the_crest_of_the_widest_hole() -> None:
    width = tooth_width(LIMITS.bolt_pitch_least, LIMITS.nut_minor_greatest, outward=True)
    cut = math.pi * LIMITS.nut_minor_greatest * width * 0.020 / PITCH
    assert stripping.external_area(engagement=0.020, pitch=PITCH, **BOLT) == pytest.approx(cut, rel=1e-9)


@pytest.mark.parametrize("thread", ["M6x1", "M8x1.25", "M10x1.5", "M12x1.75"])
def test_the_rules_of_thumb_stand_beside_the_limits(thread: str) -> None:
    limits = thread_standards.metric_limits(thread=thread)
    size, pitch = (float(each) * 1e-3 for each in thread[1:].split("x"))
    middle = threads.metric_sizes(diameter=size, pitch=pitch).pitch_diameter
    hole = stripping.internal_area(
        engagement=0.01,
        pitch=pitch,
        bolt_major_least=limits.bolt_major_least,
        nut_pitch_greatest=limits.nut_pitch_greatest,
    )
    bolt = stripping.external_area(
        engagement=0.01,
        pitch=pitch,
        bolt_pitch_least=limits.bolt_pitch_least,
        nut_minor_greatest=limits.nut_minor_greatest,
    )
    assert stripping.simple_internal_area(engagement=0.01, pitch_diameter=middle) == pytest.approx(hole, rel=0.06)
    assert 1.1 < stripping.simple_external_area(engagement=0.01, pitch_diameter=middle) / bolt < 1.22
    assert hole > bolt


@given(st.floats(1e3, 2e5), st.floats(5e7, 6e8))
def test_the_engagement_that_is_needed_holds_just_that_load(load: float, strength: float) -> None:
    length = stripping.engagement(load=load, shear_strength=strength, pitch=PITCH, lost=0.0, **NUT)
    area = stripping.internal_area(engagement=length, pitch=PITCH, **NUT)
    assert stripping.load(area=area, shear_strength=strength) == pytest.approx(load)


def test_lost_threads_come_on_top() -> None:
    need = {"load": 60e3, "shear_strength": 130e6, "pitch": PITCH, **NUT}
    plain = stripping.engagement(lost=0.0, **need)
    assert stripping.engagement(lost=PITCH, **need) == pytest.approx(plain + PITCH)
    assert 1.8 < plain / 0.010 < 2.3


def test_a_worn_hole_strips_earlier_and_threads_apart_are_refused() -> None:
    worn = np.array([0.009206, 0.009400, 0.009600])
    areas = stripping.internal_area(engagement=0.02, pitch=PITCH, bolt_major_least=0.009732, nut_pitch_greatest=worn)
    assert np.all(np.diff(areas) < 0)
    with pytest.raises(OutOfRange) as caught:
        stripping.internal_area(
            engagement=0.02, pitch=PITCH, bolt_major_least=0.009732, nut_pitch_greatest=np.array([0.0092, 0.0112])
        )
    assert list(caught.value.bad) == [False, True]
    with pytest.raises(OutOfRange):
        stripping.external_area(engagement=0.02, pitch=PITCH, bolt_pitch_least=0.0070, nut_minor_greatest=0.008676)


def test_a_thin_wall_weakens_the_thread_until_it_is_thick_enough() -> None:
    factors = stripping.wall_factor(across=np.array([0.014, 0.016, 0.018, 0.019, 0.030]), diameter=0.010)
    assert np.all(np.diff(factors[:4]) > 0)
    assert factors[0] == pytest.approx(0.75)
    assert factors[3:] == pytest.approx([1.0, 1.0])
    with pytest.raises(OutOfRange) as caught:
        stripping.wall_factor(across=np.array([0.016, 0.013]), diameter=0.010)
    assert list(caught.value.bad) == [False, True]
