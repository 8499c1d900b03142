"""Gears against involute teeth drawn point by point and turned until they touch."""

from functools import cache

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq
from shapely import MultiPolygon, Polygon, affinity

from endfloat.errors import OutOfRange
from endfloat.formulas.gear_phase import driven_mark, gear_retard_by_shift
from endfloat.formulas.timing_gears import (
    gear_backlash,
    gear_pitch_diameter,
    lost_motion,
    normal_backlash,
    transverse_pressure_angle,
    working_pressure_angle,
)

MODULE, TEETH, DRIVEN = 0.0025, 24, 48
ANGLE = np.radians(20)
CLOSE = MODULE * (TEETH + DRIVEN) / 2
TURN = 2 * np.pi


@cache
def drawn(teeth: int, towards: float, space: bool) -> MultiPolygon:
    """Five teeth of a gear about the origin; a tooth, or a space, lies on the direction `towards`."""
    reference = MODULE * teeth / 2
    base = reference * np.cos(ANGLE)
    radii = np.linspace(max(base, reference - 1.2 * MODULE), reference + 0.9 * MODULE, 300)
    pressure = np.arccos(base / radii)
    half = np.pi / 2 / teeth + (np.tan(ANGLE) - ANGLE) - (np.tan(pressure) - pressure)
    flank = radii * np.exp(1j * half)
    outline = np.concatenate([[0], flank, flank[::-1].conj()])
    polygons = []
    for k in range(-2, 3):
        turned = outline * np.exp(1j * (towards + TURN * (k + (0.5 if space else 0)) / teeth))
        polygons.append(Polygon(np.column_stack([turned.real, turned.imag])))
    return MultiPolygon(polygons)


@cache
def freedom(apart: float, sideways: float) -> tuple[float, float]:
    """How far the driven gear turns either way until it touches, its centre right of the driver and moved."""
    driver, driven = drawn(TEETH, 0.0, False), drawn(DRIVEN, np.pi, True)

    def overlap(turn: float) -> float:
        moved = affinity.rotate(driven, turn, origin=(0, 0), use_radians=True)
        moved = affinity.translate(moved, CLOSE + apart, sideways)
        touching = moved.intersection(driver).area
        return float(touching if touching > 0 else -moved.distance(driver))

    # Moving sideways turns the free middle along: a driven gear stays with the teeth of its driver.
    middle = sideways / (MODULE * DRIVEN / 2)
    assert overlap(middle) < 0
    ends = [brentq(overlap, middle, middle + way * 0.02, xtol=1e-10) for way in (-1, 1)]
    return ends[0], ends[1]


@pytest.mark.parametrize("apart", [0.0002, 0.0005])
def test_the_backlash_is_how_far_drawn_teeth_hang_back_and_forth(apart: float) -> None:
    low, high = freedom(apart, 0.0)
    pair = {"centre_distance": CLOSE + apart, "close_centre_distance": CLOSE, "pressure_angle": ANGLE}
    working = (CLOSE + apart) * DRIVEN / (TEETH + DRIVEN)
    backlash = float(gear_backlash(**pair))
    assert (high - low) * working == pytest.approx(backlash, rel=2e-3)
    motion = lost_motion(backlash=backlash, pitch_diameter=2 * working, crank_turns=2.0)
    assert 2 * (high - low) == pytest.approx(float(motion), rel=2e-3)


@pytest.mark.parametrize(("nearer", "sideways"), [(0.0002, 0.0), (0.0, 0.0003), (0.0002, -0.0003)])
def test_a_moved_gear_comes_late_as_drawn_teeth_do(nearer: float, sideways: float) -> None:
    """The driver turns anticlockwise and pushes up: the driven gear hangs back as far anticlockwise as it can."""
    late = freedom(0.0004 - nearer, sideways)[1] - freedom(0.0004, 0.0)[1]
    between = CLOSE + 0.0004 - nearer / 2
    angle = working_pressure_angle(centre_distance=between, close_centre_distance=CLOSE, pressure_angle=ANGLE)
    working = 2 * between * DRIVEN / (TEETH + DRIVEN)
    gear = {"pressure_angle": angle, "pitch_diameter": working, "crank_turns": 1.0}
    told = float(gear_retard_by_shift(apart=-nearer, sideways=sideways, **gear))
    assert late == pytest.approx(told, rel=2e-3)
    assert float(gear_retard_by_shift(apart=0.0, sideways=0.0, **gear)) == 0


@given(st.floats(0.05, 0.3), st.floats(np.radians(14), np.radians(30)))
def test_near_the_close_mesh_backlash_is_twice_the_way_times_the_tangent(close: float, angle: float) -> None:
    pair = {"close_centre_distance": close, "pressure_angle": angle}
    assert float(gear_backlash(**pair, centre_distance=close)) == pytest.approx(0, abs=1e-15)
    for way in (1e-6 * close, -1e-6 * close):
        told = float(gear_backlash(**pair, centre_distance=close + way))
        assert told == pytest.approx(2 * way * np.tan(angle), rel=1e-4)


@given(st.floats(0.05, 0.3), st.floats(0, 0.002), st.floats(1e-6, 0.001))
def test_gears_further_apart_have_more_backlash_and_press_at_a_steeper_angle(a: float, way: float, more: float) -> None:
    pair = {"close_centre_distance": a, "pressure_angle": ANGLE}
    one, other = ({**pair, "centre_distance": a + each} for each in (way, way + more))
    assert gear_backlash(**other) > gear_backlash(**one)
    assert working_pressure_angle(**other) > working_pressure_angle(**one) >= ANGLE - 1e-9


def test_base_circles_that_overlap_and_flat_angles_are_refused() -> None:
    with pytest.raises(OutOfRange) as caught:
        working_pressure_angle(centre_distance=np.array([0.12, 0.11]), close_centre_distance=0.12, pressure_angle=ANGLE)
    assert caught.value.bad.tolist() == [False, True]
    for call in (
        lambda: normal_backlash(backlash=1e-4, pressure_angle=np.pi / 2, helix_angle=0.0),
        lambda: normal_backlash(backlash=1e-4, pressure_angle=ANGLE, helix_angle=-np.pi / 2),
        lambda: gear_retard_by_shift(apart=0.0, sideways=0.0, pressure_angle=2.0, pitch_diameter=0.1, crank_turns=2.0),
        lambda: gear_pitch_diameter(module=0.002, teeth=20.0, helix_angle=np.nan),
    ):
        with pytest.raises(OutOfRange):
            call()


@given(st.floats(np.radians(14), np.radians(30)), st.floats(np.radians(-40), np.radians(40)))
def test_a_feeler_between_helical_flanks_reads_the_step_along_the_normal(normal: float, helix: float) -> None:
    """The unit normal of a rack's flank, from two directions that lie in it: along the tooth and up the flank."""
    across = float(transverse_pressure_angle(pressure_angle=normal, helix_angle=helix))
    along_tooth = np.array([np.sin(helix), np.cos(helix), 0.0])
    up_the_flank = np.array([np.sin(across), 0.0, np.cos(across)])
    square = np.cross(along_tooth, up_the_flank)
    square /= np.linalg.norm(square)
    told = float(normal_backlash(backlash=1.0, pressure_angle=normal, helix_angle=helix))
    assert told == pytest.approx(abs(float(square[0])), rel=1e-9)
    assert float(transverse_pressure_angle(pressure_angle=normal, helix_angle=0.0)) == pytest.approx(normal)


@given(st.floats(-10, 10), st.floats(-3, 3), st.integers(10, 60), st.integers(10, 60))
def test_the_teeth_that_pass_the_line_of_centres_are_as_many_on_both_gears(
    turn: float, line: float, teeth: int, driven: int
) -> None:
    gears = {"line": line, "teeth": float(teeth), "driven_teeth": float(driven)}
    met = float(driven_mark(mark=line, **gears))
    assert met == pytest.approx(line + np.pi)
    passed = (float(driven_mark(mark=line + turn, **gears)) - met) * driven
    assert passed == pytest.approx(-turn * teeth, abs=1e-9)
    back = {"line": line + np.pi, "teeth": float(driven), "driven_teeth": float(teeth)}
    again = float(driven_mark(mark=float(driven_mark(mark=line + turn, **gears)), **back))
    assert np.exp(1j * again) == pytest.approx(np.exp(1j * (line + turn)), abs=1e-9)


@given(st.floats(0.001, 0.01), st.integers(10, 100), st.floats(-0.7, 0.7))
def test_a_helical_gear_is_as_large_as_its_transverse_pitches_round_it(module: float, teeth: int, helix: float) -> None:
    size = float(gear_pitch_diameter(module=module, teeth=float(teeth), helix_angle=helix))
    assert size * np.pi * np.cos(helix) == pytest.approx(teeth * np.pi * module)
