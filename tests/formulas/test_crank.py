"""Crank and piston: always true, and against differences, a root finder and points placed in the plane."""

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq, minimize_scalar

from endfloat.errors import OutOfRange
from endfloat.formulas import crank, dead_centres

Slider = dict[str, Any]
ANGLES = st.floats(-2 * math.pi, 2 * math.pi)


@st.composite
def sliders(draw: st.DrawFn) -> Slider:
    """Engines from a model to a ship, the offset up to half the throw to either side."""
    throw = draw(st.floats(0.005, 0.5))
    return {
        "throw": throw,
        "rod": throw * draw(st.floats(1.6, 8)),
        "offset": throw * draw(st.floats(-0.5, 0.5)),
    }


def pins(slider: Slider, angle: float) -> tuple[complex, complex]:
    """Crank pin and gudgeon pin in the plane, the bore's direction being the real axis."""
    turned = angle + crank.dead_centres(**slider).top
    pin = slider["throw"] * np.exp(1j * turned)
    height = crank.dead_centres(**slider).top_height - crank.piston_drop(**slider, angle=angle)
    return complex(pin), complex(height, slider["offset"])


@given(sliders(), ANGLES)
def test_the_rod_keeps_its_length_at_every_angle(slider: Slider, angle: float) -> None:
    pin, gudgeon = pins(slider, angle)
    assert abs(pin - gudgeon) == pytest.approx(slider["rod"], rel=1e-12)


@given(sliders(), ANGLES)
def test_the_rod_leans_as_its_two_ends_say(slider: Slider, angle: float) -> None:
    pin, gudgeon = pins(slider, angle)
    lean = crank.rod_lean(**slider, angle=angle)
    assert math.atan2((pin - gudgeon).imag, (gudgeon - pin).real) == pytest.approx(lean, abs=1e-9)


@given(sliders())
def test_the_piston_is_highest_and_lowest_at_the_dead_centres(slider: Slider) -> None:
    ends = crank.dead_centres(**slider)
    swept = ends.top_height - ends.bottom_height
    around = np.linspace(0, 2 * math.pi, 721)
    drops = crank.piston_drop(**slider, angle=around)
    assert np.min(drops) >= -1e-12
    assert np.max(drops) <= swept * (1 + 1e-12)
    assert crank.piston_drop(**slider, angle=0.0) == pytest.approx(0, abs=1e-12)
    assert crank.piston_drop(**slider, angle=ends.bottom - ends.top) == pytest.approx(swept, rel=1e-12)


@given(sliders())
def test_the_true_top_is_where_a_search_finds_it(slider: Slider) -> None:
    def height(turned: float) -> float:
        return float(slider["throw"]) * math.cos(turned) + math.sqrt(
            slider["rod"] ** 2 - (slider["throw"] * math.sin(turned) - slider["offset"]) ** 2
        )

    found = minimize_scalar(lambda turned: -height(turned), bounds=(-1, 1), method="bounded", options={"xatol": 1e-10})
    ends = crank.dead_centres(**slider)
    assert found.x == pytest.approx(ends.top, abs=1e-6)
    assert height(found.x) == pytest.approx(ends.top_height, rel=1e-12)


@given(sliders(), ANGLES, st.floats(1, 700))
def test_speed_and_acceleration_are_the_differences_of_the_drop(slider: Slider, angle: float, speed: float) -> None:
    step = 1e-4
    drops = [float(crank.piston_drop(**slider, angle=angle + k * step)) for k in (-2, -1, 0, 1, 2)]
    first = (drops[0] - 8 * drops[1] + 8 * drops[3] - drops[4]) / (12 * step)
    second = (-drops[0] + 16 * drops[1] - 30 * drops[2] + 16 * drops[3] - drops[4]) / (12 * step**2)
    throw = slider["throw"]
    assert crank.piston_speed(**slider, angle=angle, speed=speed) == pytest.approx(
        speed * first, abs=1e-8 * throw * speed
    )
    assert crank.piston_acceleration(**slider, angle=angle, speed=speed) == pytest.approx(
        speed**2 * second, abs=1e-5 * throw * speed**2
    )


@given(sliders(), ANGLES, st.floats(1, 700))
def test_the_swing_of_the_rod_is_the_difference_of_its_lean(slider: Slider, angle: float, speed: float) -> None:
    step = 1e-5
    lean = [crank.rod_lean(**slider, angle=angle + k * step) for k in (-1, 1)]
    swing = crank.rod_turning_speed(**slider, angle=angle, speed=speed)
    assert swing == pytest.approx(speed * (lean[1] - lean[0]) / (2 * step), abs=1e-6 * speed)


@given(sliders())
def test_the_greatest_speed_is_where_a_root_finder_and_a_search_put_it(slider: Slider) -> None:
    ends = crank.dead_centres(**slider)
    angle = float(crank.angle_of_greatest_speed(**slider))
    found = brentq(
        lambda a: float(crank.piston_acceleration(**slider, angle=a, speed=1.0)),
        0.0,
        float(ends.bottom - ends.top),
        xtol=1e-14,
    )
    assert angle == pytest.approx(found, abs=1e-10)
    around = np.linspace(0, float(ends.bottom - ends.top), 200)
    fastest = crank.piston_speed(**slider, angle=angle, speed=1.0)
    assert np.all(crank.piston_speed(**slider, angle=around, speed=1.0) <= fastest * (1 + 1e-12))


@given(st.floats(1.6, 8))
def test_without_offset_the_greatest_speed_solves_the_known_cubic(ratio: float) -> None:
    """n^4 (1 - s) - n^2 s^2 + s^3 = 0 for s = sin^2, from setting the exact acceleration to nought."""
    square = ratio**2
    roots = np.roots([1, -square, -(square**2), square**2])
    [inside] = [root.real for root in roots if abs(root.imag) < 1e-9 and 0 < root.real < 1]
    angle = float(crank.angle_of_greatest_speed(throw=1.0, rod=ratio, offset=0.0))
    assert math.sin(angle) ** 2 == pytest.approx(inside, rel=1e-9)


@given(sliders(), ANGLES)
def test_an_offset_to_the_other_side_is_the_engine_run_backwards(slider: Slider, angle: float) -> None:
    mirrored = slider | {"offset": -slider["offset"]}
    assert crank.piston_drop(**slider, angle=angle) == pytest.approx(
        crank.piston_drop(**mirrored, angle=-angle), abs=1e-13
    )
    assert crank.piston_acceleration(**slider, angle=angle, speed=1.0) == pytest.approx(
        crank.piston_acceleration(**mirrored, angle=-angle, speed=1.0), abs=1e-12
    )


@given(sliders(), st.floats(0.1, 10))
def test_a_model_to_scale_has_the_same_angles(slider: Slider, scale: float) -> None:
    larger = {name: size * scale for name, size in slider.items()}
    assert crank.dead_centres(**larger)[:2] == pytest.approx(crank.dead_centres(**slider)[:2], abs=1e-12)
    assert crank.angle_of_greatest_speed(**larger) == pytest.approx(crank.angle_of_greatest_speed(**slider), abs=1e-9)
    assert dead_centres.stroke(**larger) == pytest.approx(dead_centres.stroke(**slider) * scale)


def test_arrays_of_draws_and_places_give_what_loops_give() -> None:
    throws = np.linspace(0.040, 0.045, 5)
    angles = np.radians(np.linspace(0, 360, 7))
    for formula in (crank.piston_speed, crank.piston_acceleration, crank.rod_turning_speed):
        together = np.asarray(formula(throw=throws[:, None], rod=0.145, offset=0.01, angle=angles, speed=100.0))
        assert together.shape == (5, 7)
        for row, throw in zip(together, throws, strict=True):
            for value, angle in zip(row, angles, strict=True):
                alone = formula(throw=float(throw), rod=0.145, offset=0.01, angle=float(angle), speed=100.0)
                assert value == pytest.approx(alone, rel=1e-13, abs=1e-9)
    offsets = np.array([0.0, 0.01])
    fastest = np.asarray(crank.angle_of_greatest_speed(throw=throws[:, None], rod=0.145, offset=offsets))
    for row, throw in zip(fastest, throws, strict=True):
        for value, offset in zip(row, offsets, strict=True):
            assert value == crank.angle_of_greatest_speed(throw=float(throw), rod=0.145, offset=float(offset))


def test_what_the_textbook_prints_is_the_series_cut_after_two_terms() -> None:
    """So that the corrected rows of the published sheet are known to differ for that reason and no other."""

    def series(throw: float, rod: float, degrees: float, rpm: float) -> tuple[float, float]:
        turned, speed, n = math.radians(degrees), rpm * math.pi / 30, rod / throw
        return (
            speed * throw * (math.sin(turned) + math.sin(2 * turned) / (2 * n)),
            speed**2 * throw * (math.cos(turned) + math.cos(2 * turned) / n),
        )

    assert series(0.3, 1.0, 75, 200)[0] == pytest.approx(6.54, abs=0.005)
    assert series(0.3, 1.5, 40, 180) == pytest.approx((4.19, 85.36), abs=0.005)
    assert series(0.15, 0.6, 60, 450)[1] == pytest.approx(124.91, abs=0.005)
    n = 5.0
    assert math.degrees(math.acos((math.sqrt(n * n + 8) - n) / 4)) == pytest.approx(79.27, abs=0.005)
    assert 15 * math.pi * math.cos(math.radians(60)) / 4 == pytest.approx(5.9, abs=0.05)


@given(sliders(), st.floats(1.0, 1.5))
def test_a_rod_that_cannot_turn_over_is_refused_where_it_stands(slider: Slider, share: float) -> None:
    shorts = np.array([slider["rod"], (slider["throw"] + abs(slider["offset"])) / share])
    with pytest.raises(OutOfRange) as caught:
        crank.dead_centres(throw=slider["throw"], rod=shorts, offset=slider["offset"])
    assert caught.value.name == "rod"
    assert list(caught.value.bad) == [False, True]


def test_a_drawn_throw_below_nought_is_told_by_its_place() -> None:
    with pytest.raises(OutOfRange) as caught:
        crank.piston_drop(throw=np.array([0.043, -0.043, 0.043]), rod=0.145, offset=0.0, angle=0.1)
    assert (caught.value.name, list(caught.value.bad)) == ("throw", [False, True, False])
