"""Laws of cams and shapes of lobes: each derivative integrates back, and arcs come out as arcs."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import cumulative_simpson, quad
from scipy.optimize import minimize_scalar
from shapely import LineString, Point, Polygon

from endfloat.errors import OutOfRange
from endfloat.formulas import cams, followers, lobe_shapes

LAWS = ["harmonic", "parabolic", "cycloidal", "modified sine", "3-4-5", "4-5-6-7"]
ARCS = {"base_radius": 0.016, "lift": 0.009, "nose_radius": 0.004, "half_angle": np.radians(62.0)}
sizes = st.floats(1e-3, 0.02)
angles = st.floats(0.2, 3.0)


@pytest.mark.parametrize("law", LAWS)
@settings(max_examples=20)
@given(rise=sizes, rise_angle=angles)
def test_velocity_integrates_to_lift_and_acceleration_to_velocity(law: str, rise: float, rise_angle: float) -> None:
    at = np.linspace(0, rise_angle, 801)
    found = cams.follower_rise(law=law, angle=at, rise=rise, rise_angle=rise_angle)
    assert cumulative_simpson(found.slope, x=at, initial=0) == pytest.approx(found.lift, abs=1e-6 * rise)
    begun = np.asarray(found.slope)[0]
    back = begun + cumulative_simpson(found.second, x=at, initial=0)
    # The parabolic acceleration jumps in the middle, where Simpson's rule loses a step.
    bound = (2e-2 if law == "parabolic" else 1e-5) * rise / rise_angle
    assert back == pytest.approx(found.slope, abs=bound)


@pytest.mark.parametrize("law", LAWS)
def test_a_rise_begins_at_nought_ends_at_its_height_and_never_falls(law: str) -> None:
    at = np.linspace(-0.5, 2.5, 1501)
    lift = np.asarray(cams.follower_rise(law=law, angle=at, rise=0.01, rise_angle=2.0).lift)
    assert np.all(lift[at <= 0] == 0)
    assert lift[at >= 2] == pytest.approx(0.01)
    assert np.all(np.diff(lift) >= -1e-17)


@pytest.mark.parametrize("law", LAWS)
def test_the_peak_factors_are_the_peaks(law: str) -> None:
    at = np.linspace(0, 1, 200_001)
    found = cams.follower_rise(law=law, angle=at, rise=1.0, rise_angle=1.0)
    peaks = cams.peak_factors(law=law)
    for part, peak in zip((found.slope, found.second, found.third), peaks, strict=True):
        if np.isfinite(peak):
            assert np.max(np.abs(part)) == pytest.approx(peak, rel=1e-8)
    if not np.isfinite(peaks.jerk):
        assert abs(np.asarray(found.second)[1]) > 1, "an infinite jerk is a step of the acceleration at the start"


@pytest.mark.parametrize("law", LAWS)
@given(rise=sizes, rise_angle=angles, speed=st.floats(1, 700))
def test_peaks_scale_with_speed_and_its_square(law: str, rise: float, rise_angle: float, speed: float) -> None:
    given_ = {"law": law, "rise": rise, "rise_angle": rise_angle}
    one, two = (cams.peak_velocity(speed=s, **given_) for s in (speed, 2 * speed))
    assert two == pytest.approx(2 * one)
    one, two = (cams.peak_acceleration(speed=s, **given_) for s in (speed, 2 * speed))
    assert two == pytest.approx(4 * one)


def test_no_law_has_a_lower_peak_acceleration_than_the_parabolic() -> None:
    peaks = {law: cams.peak_factors(law=law).acceleration for law in LAWS}
    assert min(peaks, key=lambda law: peaks[law]) == "parabolic"


def test_an_unknown_law_is_refused_with_those_that_are_known() -> None:
    with pytest.raises(OutOfRange, match="cycloidal"):
        cams.peak_factors(law="cycloid")


def test_bad_elements_of_an_array_are_told_by_a_mask() -> None:
    with pytest.raises(OutOfRange) as caught:
        cams.peak_velocity(law="harmonic", rise=0.01, rise_angle=np.array([1.0, 0.0, 2.0, -1.0]), speed=1.0)
    assert list(caught.value.bad) == [False, True, False, True]


def test_the_outline_of_a_three_arc_cam_lies_on_its_circles() -> None:
    """The envelope of the flat faces, by shapely: base circle, flanks and nose."""
    at = np.linspace(-np.pi, np.pi, 1441)
    found = lobe_shapes.three_arc_lift(angle=at, **ARCS)
    x, y = lobe_shapes.cam_contour(angle=at, base_radius=ARCS["base_radius"], lift=found.lift, slope=found.slope)
    arcs = lobe_shapes.three_arcs(**ARCS)
    sides = [
        Point(sign * -np.sin(ARCS["half_angle"]) * arcs.flank_centre, -np.cos(ARCS["half_angle"]) * arcs.flank_centre)
        .buffer(arcs.flank_radius, 2048)
        .exterior
        for sign in (-1, 1)
    ]
    sides.append(Point(0, 0).buffer(ARCS["base_radius"], 2048).exterior)
    sides.append(Point(0, arcs.nose_centre).buffer(ARCS["nose_radius"], 2048).exterior)
    away = [min(side.distance(Point(*point)) for side in sides) for point in zip(x[::7], y[::7], strict=True)]
    assert max(away) < 1e-8
    outline = Polygon(np.column_stack([x, y]))
    assert outline.is_valid
    assert outline.convex_hull.area == pytest.approx(outline.area, rel=1e-6), "a cam of convex arcs is convex"


def test_a_flat_face_laid_on_the_outline_stands_at_base_radius_and_lift() -> None:
    at = np.linspace(-np.pi, np.pi, 2881)
    found = lobe_shapes.three_arc_lift(angle=at, **ARCS)
    x, y = lobe_shapes.cam_contour(angle=at, base_radius=ARCS["base_radius"], lift=found.lift, slope=found.slope)
    for angle in (-1.0, -0.4, 0.0, 0.2, 0.9, 2.5):
        height = np.max(x * np.sin(angle) + y * np.cos(angle))
        lift = float(lobe_shapes.three_arc_lift(angle=angle, **ARCS).lift)
        assert height == pytest.approx(ARCS["base_radius"] + lift, abs=1e-7)


def test_lift_and_slope_of_the_arcs_join_without_a_step() -> None:
    arcs = lobe_shapes.three_arcs(**ARCS)
    blend = ARCS["half_angle"] - float(arcs.blend_angle)
    either = [lobe_shapes.three_arc_lift(angle=blend + step, **ARCS) for step in (-1e-9, 1e-9)]
    assert either[0].lift == pytest.approx(float(either[1].lift), abs=1e-10)
    assert either[0].slope == pytest.approx(float(either[1].slope), abs=1e-9)
    area, _ = quad(lambda a: float(lobe_shapes.three_arc_lift(angle=a, **ARCS).slope), -ARCS["half_angle"], 0)
    assert area == pytest.approx(ARCS["lift"], rel=1e-7)


@given(st.floats(-1.0, 1.0))
def test_the_radius_of_curvature_of_an_arc_is_its_radius(angle: float) -> None:
    found = lobe_shapes.three_arc_lift(angle=angle, **ARCS)
    contact = followers.flat_contact(base_radius=ARCS["base_radius"], **found._asdict())
    arcs = lobe_shapes.three_arcs(**ARCS)
    nose = ARCS["half_angle"] - abs(angle) > arcs.blend_angle
    assert contact.lobe_radius == pytest.approx(ARCS["nose_radius"] if nose else float(arcs.flank_radius))


def test_a_nose_too_wide_for_a_convex_flank_is_refused() -> None:
    with pytest.raises(OutOfRange) as caught:
        lobe_shapes.three_arcs(**{**ARCS, "nose_radius": np.array([0.004, 0.0159])})
    assert list(caught.value.bad) == [False, True]


def test_a_roller_is_pushed_along_the_normal_of_the_path_of_its_centre() -> None:
    """In axes that turn with a cam running anticlockwise, the follower runs clockwise round it."""
    base, roller, offset = 0.018, 0.009, 0.002
    level = np.sqrt((base + roller) ** 2 - offset**2)

    def lift(angle: float) -> float:
        return 0.004 * (1 - np.cos(2 * angle))

    def centre(angle: float) -> np.ndarray:
        turned = np.array([[np.cos(angle), np.sin(angle)], [-np.sin(angle), np.cos(angle)]])
        return turned @ np.array([offset, level + lift(angle)])

    for angle in (0.2, 0.7, 1.1, 2.0):
        step = 1e-6
        path = (centre(angle + step) - centre(angle - step)) / (2 * step)
        travel = np.array([np.sin(angle), np.cos(angle)])
        normal = np.array([-path[1], path[0]]) / np.hypot(*path)
        between = np.arccos(min(1.0, abs(normal @ travel)))
        slope = 0.008 * np.sin(2 * angle)
        found = followers.roller_pressure_angle(
            base_radius=base, roller_radius=roller, offset=offset, lift=lift(angle), slope=slope
        )
        assert abs(found) == pytest.approx(between, abs=1e-6)


def test_an_offset_toward_the_lobe_eases_the_rise() -> None:
    place = {"base_radius": 0.018, "roller_radius": 0.009, "lift": 0.003, "slope": 0.010}
    eased, plain = (abs(followers.roller_pressure_angle(offset=o, **place)) for o in (0.003, 0.0))
    assert eased < plain


def test_the_face_needed_is_that_of_the_steepest_place() -> None:
    at = np.linspace(-1.2, 1.2, 4001)
    slopes = np.asarray(lobe_shapes.three_arc_lift(angle=at, **ARCS).slope)
    steepest = minimize_scalar(
        lambda a: -abs(float(lobe_shapes.three_arc_lift(angle=a, **ARCS).slope)), bounds=(0, 1.2), method="bounded"
    )
    assert followers.face_radius_needed(slopes=slopes, land=0.001) == pytest.approx(0.001 - steepest.fun, abs=1e-5)


@given(st.floats(0, 0.012), st.floats(0.8, 1.8), st.floats(0, 5e-4))
def test_a_valve_never_lifts_below_nought_and_lash_costs_what_it_is(lobe: float, ratio: float, lash: float) -> None:
    with_lash = followers.valve_lift(lobe_lift=lobe, rocker_ratio=ratio, lash=lash)
    without = followers.valve_lift(lobe_lift=lobe, rocker_ratio=ratio, lash=0.0)
    assert with_lash == pytest.approx(max(without - lash, 0.0))


@given(st.floats(0.01, 0.03), st.floats(0.01, 0.03), st.floats(1e-5, 5e-4))
def test_a_finger_is_a_straight_line_through_pivot_cam_and_valve(near: float, far: float, rise: float) -> None:
    finger = LineString(
        [(0, -followers.finger_travel_ratio(pivot_to_cam=near, cam_to_valve=far) * rise), (near + far, rise)]
    )
    assert finger.distance(Point(near, 0)) < 1e-9


@given(st.floats(0.03, 0.05), st.floats(0.02, 0.03))
def test_a_lobe_is_as_high_as_its_base_circle_and_its_lift(height: float, base: float) -> None:
    assert base + lobe_shapes.lobe_lift(lobe_height=height, base_diameter=base) == pytest.approx(height)


def test_a_lobe_lower_than_its_base_circle_is_a_slip() -> None:
    with pytest.raises(OutOfRange):
        lobe_shapes.lobe_lift(lobe_height=0.0302, base_diameter=0.0402)
