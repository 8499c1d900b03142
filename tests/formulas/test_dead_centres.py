"""Dead centres on the bench: the ways there and back, and against a root finder."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq

from endfloat.errors import OutOfRange
from endfloat.formulas import crank, dead_centres
from formulas.test_crank import Slider, sliders

SHARES = st.floats(1e-9, 0.999)


@given(sliders(), SHARES)
def test_the_piston_is_at_the_drop_at_both_angles_found(slider: Slider, share: float) -> None:
    drop = share * float(dead_centres.stroke(**slider))
    sides = dead_centres.angles_at_drop(**slider, drop=drop)
    assert 0 < sides.before < 2 * math.pi
    assert 0 < sides.after < 2 * math.pi
    for angle in (-sides.before, sides.after):
        assert crank.piston_drop(**slider, angle=angle) == pytest.approx(drop, rel=1e-6, abs=1e-13)


@given(sliders(), st.floats(0.01, 0.99))
def test_a_root_finder_agrees_on_the_angle_after_the_top(slider: Slider, share: float) -> None:
    drop = share * float(dead_centres.stroke(**slider))
    ends = crank.dead_centres(**slider)
    found = brentq(
        lambda a: float(crank.piston_drop(**slider, angle=a)) - drop, 0.0, float(ends.bottom - ends.top), xtol=1e-14
    )
    assert dead_centres.angles_at_drop(**slider, drop=drop).after == pytest.approx(found, abs=1e-9)


@given(sliders())
def test_at_the_ends_of_the_stroke_the_sides_meet(slider: Slider) -> None:
    ends = crank.dead_centres(**slider)
    top = dead_centres.angles_at_drop(**slider, drop=0.0)
    assert top == pytest.approx((0, 0), abs=1e-6)
    bottom = dead_centres.angles_at_drop(**slider, drop=float(dead_centres.stroke(**slider)))
    assert bottom.after == pytest.approx(float(ends.bottom - ends.top), abs=1e-5)
    assert bottom.before + bottom.after == pytest.approx(2 * math.pi, abs=1e-5)


@given(sliders(), st.floats(0.001, 0.999))
def test_what_is_not_dwell_at_the_top_is_dwell_at_the_bottom(slider: Slider, share: float) -> None:
    stroke = float(dead_centres.stroke(**slider))
    above = dead_centres.dwell_at_top(**slider, drop=share * stroke)
    below = dead_centres.dwell_at_bottom(**slider, rise=(1 - share) * stroke)
    assert above + below == pytest.approx(2 * math.pi, abs=1e-6)


@given(sliders(), st.floats(0.0001, 0.2))
def test_the_dwell_is_longer_at_the_bottom(slider: Slider, share: float) -> None:
    near = share * float(dead_centres.stroke(**slider))
    assert dead_centres.dwell_at_bottom(**slider, rise=near) > dead_centres.dwell_at_top(**slider, drop=near)


@given(sliders(), st.floats(0.001, 0.9), st.floats(-3, 3))
def test_two_touches_of_a_stop_find_the_true_top_wherever_the_wheel_stands(
    slider: Slider, share: float, wheel: float
) -> None:
    drop = share * float(dead_centres.stroke(**slider))
    sides = dead_centres.angles_at_drop(**slider, drop=drop)
    found = dead_centres.top_by_stop(
        before=wheel - float(sides.before), after=wheel + float(sides.after), drop=drop, **slider
    )
    assert found.top == pytest.approx(wheel, abs=1e-9)
    assert found.half_span == pytest.approx((sides.before + sides.after) / 2)


@given(sliders(), st.floats(0.001, 0.9))
def test_the_middle_needs_no_correction_without_offset_and_more_the_lower_the_stop(
    slider: Slider, share: float
) -> None:
    touches = {"before": -0.5, "after": 0.5}
    straight = slider | {"offset": 0.0}
    drop = share * float(dead_centres.stroke(**straight))
    assert dead_centres.top_by_stop(**touches, **straight, drop=drop).correction == 0
    offset = slider | {"offset": 0.2 * slider["throw"]}
    corrections = [
        float(dead_centres.top_by_stop(**touches, **offset, drop=part * drop).correction) for part in (0.0, 0.5, 1.0)
    ]
    assert corrections[0] == pytest.approx(0, abs=1e-12)
    assert corrections == sorted(corrections)
    assert corrections[2] > corrections[1]


@given(sliders())
def test_an_offset_makes_the_stroke_longer_and_the_throw_comes_back(slider: Slider) -> None:
    stroke = dead_centres.stroke(**slider)
    assert stroke >= 2 * slider["throw"] * (1 - 1e-12)
    back = dead_centres.throw_for_stroke(stroke=stroke, rod=slider["rod"], offset=slider["offset"])
    assert back == pytest.approx(slider["throw"], rel=1e-9)


@given(sliders(), st.floats(10, 700))
def test_the_mean_piston_speed_is_the_mean_of_the_piston_speed(slider: Slider, speed: float) -> None:
    ends = crank.dead_centres(**slider)
    down = float(ends.bottom - ends.top)
    way, _ = quad(lambda a: float(crank.piston_speed(**slider, angle=a, speed=speed)), 0.0, down)
    stroke = float(dead_centres.stroke(**slider))
    assert way / speed == pytest.approx(stroke, rel=1e-9)
    assert dead_centres.mean_piston_speed(stroke=stroke, speed=speed) == pytest.approx(2 * stroke * speed / math.tau)


def test_arrays_give_what_loops_give() -> None:
    drops = np.array([1e-5, 0.001, 0.02, 0.08])
    together = dead_centres.angles_at_drop(throw=0.043, rod=0.145, offset=0.01, drop=drops)
    for before, after, drop in zip(np.asarray(together.before), np.asarray(together.after), drops, strict=True):
        alone = dead_centres.angles_at_drop(throw=0.043, rod=0.145, offset=0.01, drop=float(drop))
        assert (before, after) == pytest.approx(alone)


@pytest.mark.parametrize(
    ("formula", "given_", "name"),
    [
        ("angles_at_drop", {"drop": np.array([0.02, 0.1])}, "drop"),
        ("dwell_at_bottom", {"rise": np.array([0.02, 0.1])}, "rise"),
        ("top_by_stop", {"before": -0.3, "after": 0.3, "drop": np.array([0.02, 0.1])}, "drop"),
        ("top_by_stop", {"before": 0.3, "after": np.array([0.4, 0.2]), "drop": 0.01}, "after"),
    ],
)
def test_what_no_engine_can_show_is_refused_where_it_stands(formula: str, given_: Slider, name: str) -> None:
    with pytest.raises(OutOfRange) as caught:
        getattr(dead_centres, formula)(throw=0.043, rod=0.145, offset=0.0, **given_)
    assert caught.value.name == name
    assert list(caught.value.bad) == [False, True]


# The longest, 0.26926, is that of a throw of 0.125: twice the root of rod times (rod less offset).
@pytest.mark.parametrize("stroke", [0.3, 0.2799, 0.2693])
def test_a_stroke_that_no_crank_gives_with_this_rod_is_refused(stroke: float) -> None:
    assert dead_centres.stroke(throw=0.125 - 1e-12, rod=0.145, offset=0.02) == pytest.approx(0.26926, abs=5e-6)
    with pytest.raises(OutOfRange, match="stroke"):
        dead_centres.throw_for_stroke(stroke=stroke, rod=0.145, offset=0.02)
