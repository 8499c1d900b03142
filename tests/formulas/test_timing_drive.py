"""Retard, teeth and wheels of a timing drive: rules of the bench against the whole loop, and two demos by hand."""

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from endfloat.errors import OutOfRange
from endfloat.formulas.chain_loop import mark_angles
from endfloat.formulas.drive_wheels import (
    belt_pitch_diameter,
    chain_elongation,
    chain_pitch,
    chain_pitch_diameter,
    chordal_speed_variation,
    guide_teeth,
    idler_radius,
    idler_teeth,
    worn_pitch,
)
from endfloat.formulas.timing_drive import (
    angle_of_teeth,
    drive_phase,
    retard_by_elongation,
    retard_by_shift,
    shift_of_retard,
    teeth_of_angle,
)
from endfloat.formulas.two_wheels import chain_centre_distance, chain_links, exact_links

TURN = 2 * np.pi
TEETH = np.array([21.0, 42.0])


def cam_phase(
    pitch: float = 0.008, skim: float = 0.0, lean: float = 12.0, run: float = 0.380, sense: float = -1.0
) -> float:
    """Phase of a cam in crank degrees, minus when late, from the marks of the loop: 21 and 42 teeth.

    The tight run of `run` m leans by `lean` degrees; the crank turns anticlockwise where the loop is listed clockwise.
    """

    def mark(pitch: float, skim: float) -> float:
        new = np.asarray(chain_pitch_diameter(pitch=0.008, teeth=TEETH)) / 2
        way = np.exp(1j * (np.pi / 2 - sense * np.radians(lean)))
        # The run starts and ends square to both radii, so that the second centre follows from the run.
        cam = run * way + sense * 1j * way * (new[1] - new[0]) - 1j * skim
        angles = mark_angles(
            x=np.array([0.0, cam.real]),
            y=np.array([0.0, cam.imag]),
            radius=np.asarray(chain_pitch_diameter(pitch=pitch, teeth=TEETH)) / 2,
            turning=np.full(2, sense),
            teeth=TEETH,
            pitch=pitch,
            mark=-np.pi / 2,
            links=np.array([0.0, 60.0]),
        )
        return float(angles[1])

    behind = (mark(pitch, skim) - mark(0.008, 0.0) + np.pi) % TURN - np.pi
    return float(np.degrees(2 * behind * -sense))


# Demo B: an invented V8; 21 and 42 teeth of 8 mm, tight run 380 mm, 12 degrees off the bank axis.
DEMO: dict[str, Any] = {
    "run_angle": np.radians(12),
    "tight_run": 0.380,
    "pitch_diameter": 0.10705,
    "crank_turns": 2.0,
}


def test_the_demo_is_late_by_its_long_chain_and_later_by_its_skim() -> None:
    assert float(chain_pitch_diameter(pitch=0.008, teeth=42.0)) == pytest.approx(0.10705, abs=5e-6)
    found = np.degrees(drive_phase(shift=0.0, elongation=0.003, **DEMO))
    fitted = np.degrees(drive_phase(shift=0.00025, elongation=0.0, **DEMO))
    assert [round(float(each), 2) for each in (found, fitted, fitted - found)] == [-2.44, -0.52, 1.92]


@pytest.mark.parametrize("sense", [-1.0, 1.0])
def test_the_whole_loop_says_the_same_of_the_demo_within_a_hundredth_of_a_degree(sense: float) -> None:
    worn = float(worn_pitch(pitch=0.008, elongation=0.003))
    found, fitted = cam_phase(pitch=worn, sense=sense), cam_phase(skim=0.00025, sense=sense)
    assert [found, fitted, fitted - found] == pytest.approx([-2.44, -0.52, 1.92], abs=0.01)


def test_a_skim_of_a_quarter_millimetre_on_a_wheel_of_38_teeth_and_on_a_belt_wheel_of_44() -> None:
    """Both by hand: 0.50 and 0.51 crank degrees on a straight run."""
    chain = chain_pitch_diameter(pitch=0.009525, teeth=38.0)
    belt = belt_pitch_diameter(pitch=0.008, teeth=44.0)
    late = [
        retard_by_shift(shift=0.00025, run_angle=0.0, pitch_diameter=each, crank_turns=2.0) for each in (chain, belt)
    ]
    assert [round(float(np.degrees(each)), 2) for each in late] == [0.50, 0.51]


@given(st.floats(-0.0005, 0.0005), st.floats(0, 0.005), st.floats(-30, 30), st.floats(0.25, 0.6))
def test_the_rule_for_small_changes_is_the_whole_loop(skim: float, wear: float, lean: float, run: float) -> None:
    pitch = float(worn_pitch(pitch=0.008, elongation=wear))
    rule = np.degrees(
        drive_phase(shift=skim, elongation=wear, **{**DEMO, "run_angle": np.radians(lean), "tight_run": run})
    )
    # What is left out is of the second order: wear times wear, skim times wear, and skim times the turn of the run.
    second = wear * abs(rule) + 3 * np.degrees(skim**2 / run) / 0.05
    assert cam_phase(pitch=pitch, skim=skim, lean=lean, run=run) == pytest.approx(float(rule), abs=second + 2e-4)


@given(st.floats(-0.001, 0.001), st.floats(-1.2, 1.2), st.floats(0.05, 0.2), st.floats(0.5, 4))
def test_the_skim_of_a_retard_is_the_retard_of_the_skim(shift: float, lean: float, size: float, turns: float) -> None:
    wheel = {"run_angle": lean, "pitch_diameter": size, "crank_turns": turns}
    late = retard_by_shift(shift=shift, **wheel)
    assert float(shift_of_retard(retard=late, **wheel)) == pytest.approx(shift, rel=1e-9, abs=1e-15)


def test_a_run_square_to_the_cylinder_feels_no_skim_and_has_no_skim_for_a_retard() -> None:
    wheel: dict[str, Any] = {"run_angle": np.array([0.0, np.pi / 2]), "pitch_diameter": 0.1, "crank_turns": 2.0}
    assert np.asarray(retard_by_shift(shift=0.001, **wheel))[1] == pytest.approx(0, abs=1e-15)
    with pytest.raises(OutOfRange) as caught:
        shift_of_retard(retard=0.01, **wheel)
    assert caught.value.bad.tolist() == [False, True]


@given(st.floats(0, 0.02), st.floats(0, 0.02))
def test_wear_adds_up_and_a_new_chain_is_on_time(one: float, other: float) -> None:
    rest = {name: value for name, value in DEMO.items() if name != "run_angle"}
    late = [float(retard_by_elongation(elongation=each, **rest)) for each in (one, other, one + other)]
    assert late[2] == pytest.approx(late[0] + late[1])
    assert float(drive_phase(shift=0.0, elongation=0.0, **DEMO)) == 0


@pytest.mark.parametrize(("teeth", "degrees"), [(38.0, 18.9), (42.0, 17.1), (44.0, 16.4)])
def test_one_tooth_of_a_cam_wheel_in_crank_degrees(teeth: float, degrees: float) -> None:
    step = float(np.degrees(angle_of_teeth(shift=1.0, teeth=teeth, crank_turns=2.0)))
    assert round(step, 1) == degrees
    assert teeth_of_angle(angle=np.radians(4.0), teeth=teeth, crank_turns=2.0).teeth == 0


@given(st.integers(-5, 5), st.floats(-0.45, 0.45), st.integers(10, 60), st.floats(0.5, 4))
def test_teeth_and_rest_put_together_are_the_angle(whole: int, part: float, teeth: int, turns: float) -> None:
    angle = angle_of_teeth(shift=whole + part, teeth=float(teeth), crank_turns=turns)
    found = teeth_of_angle(angle=angle, teeth=float(teeth), crank_turns=turns)
    assert float(found.teeth) == whole
    again = angle_of_teeth(shift=found.teeth, teeth=float(teeth), crank_turns=turns) + found.rest
    assert float(again) == pytest.approx(float(angle), abs=1e-12)


# Wheels.


@given(st.integers(3, 200), st.floats(0.004, 0.06))
def test_joints_on_the_pitch_circle_are_a_pitch_apart(teeth: int, pitch: float) -> None:
    size = float(chain_pitch_diameter(pitch=pitch, teeth=float(teeth)))
    joints = size / 2 * np.exp(TURN * 1j * np.arange(teeth) / teeth)
    assert np.abs(joints - np.roll(joints, 1)) == pytest.approx(pitch, rel=1e-9)
    assert float(chain_pitch(pitch_diameter=size, teeth=float(teeth))) == pytest.approx(pitch, rel=1e-12)
    assert float(guide_teeth(pitch=pitch, radius=size / 2)) == pytest.approx(teeth, rel=1e-9)
    belt = float(belt_pitch_diameter(pitch=pitch, teeth=float(teeth)))
    assert float(idler_teeth(pitch=pitch, radius=belt / 2)) == pytest.approx(teeth, rel=1e-12)
    assert belt < size < belt * np.pi / 2


@given(st.integers(5, 60))
def test_the_speed_of_a_chain_wavers_as_its_height_over_the_axis_does(teeth: int) -> None:
    """A joint rides at the pitch radius; the chain runs off at its height while the wheel turns by half a tooth."""
    heights = np.cos(np.linspace(-np.pi / teeth, np.pi / teeth, 2001))
    assert float(chordal_speed_variation(teeth=float(teeth))) == pytest.approx(1 - heights.min() / heights.max())
    assert chordal_speed_variation(teeth=teeth + 1.0) < chordal_speed_variation(teeth=float(teeth))


def test_a_link_longer_than_the_guide_is_wide_is_refused() -> None:
    with pytest.raises(OutOfRange) as caught:
        guide_teeth(pitch=0.02, radius=np.array([0.1, 0.009]))
    assert caught.value.bad.tolist() == [False, True]


@given(st.floats(-0.01, 0.05), st.integers(1, 200))
def test_a_chain_measured_over_any_links_gives_its_elongation(wear: float, pitches: int) -> None:
    length = pitches * worn_pitch(pitch=0.008, elongation=wear)
    assert float(chain_elongation(length=length, pitches=pitches, pitch=0.008)) == pytest.approx(wear, abs=1e-12)


def test_a_roller_on_the_back_of_a_belt_is_larger_by_twice_its_thickness() -> None:
    assert float(idler_radius(diameter=0.06, thickness=0.0024)) == pytest.approx((0.06 + 2 * 0.0024) / 2)


@given(st.integers(15, 60), st.integers(15, 60), st.floats(40, 400))
def test_series_and_closed_form_of_the_links_agree_where_the_axes_are_apart(one: int, other: int, apart: float) -> None:
    wheels = {"pitch": 0.008, "teeth": float(one), "other_teeth": float(other)}
    a = 0.008 * (apart + 2 * max(one, other) / np.pi)
    series = float(chain_links(**wheels, centre_distance=a))
    assert float(exact_links(**wheels, centre_distance=a)) == pytest.approx(series, abs=0.01)
    assert float(chain_centre_distance(**wheels, links=series)) == pytest.approx(a, rel=1e-9)


def test_too_few_links_and_wheels_in_each_other_are_refused() -> None:
    wheels = {"pitch": 0.008, "teeth": 20.0, "other_teeth": 60.0}
    with pytest.raises(OutOfRange) as few:
        chain_centre_distance(**wheels, links=np.array([100.0, 41.0, 20.0]))
    assert few.value.bad.tolist() == [False, True, True]
    with pytest.raises(OutOfRange) as near:
        exact_links(**wheels, centre_distance=np.array([0.3, 0.04]))
    assert near.value.bad.tolist() == [False, True]
