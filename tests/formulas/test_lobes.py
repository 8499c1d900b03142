"""Lift tables: a known law comes back from its table, events lie on their height, noise is smoothed away."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from endfloat.errors import OutOfRange
from endfloat.formulas import cam_timing, cams, lobes

HALF = np.radians(65.0)
TURN = 2 * np.pi


def law(angle: np.ndarray | float) -> np.ndarray:
    """A symmetrical lobe of 10 mm over 130 degrees of the cam, by the 4-5-6-7 polynomial."""
    return np.asarray(cams.follower_rise(law="4-5-6-7", angle=HALF - np.abs(angle), rise=0.01, rise_angle=HALF).lift)


def table(step: float = 2.0) -> dict[str, np.ndarray]:
    at = np.radians(np.arange(-66.0, 66.0 + step / 2, step))
    return {"table_angle": at, "table_lift": law(at)}


@pytest.mark.parametrize(("step", "bound"), [(1.0, 3e-9), (2.0, 3e-8), (5.5, 2e-6)])
def test_a_table_gives_its_law_back(step: float, bound: float) -> None:
    at = np.linspace(-1.1, 1.1, 2001)
    found = lobes.lift_from_table(angle=at, period=TURN, **table(step))
    assert np.max(np.abs(found.lift - law(at))) < bound


def test_the_table_repeats_each_turn_and_is_nought_beside() -> None:
    at = np.linspace(-1.0, 1.0, 41)
    once, again = (lobes.lift_from_table(angle=at + k * TURN, period=TURN, **table()).lift for k in (0, 3))
    assert again == pytest.approx(np.asarray(once), abs=1e-12)
    assert lobes.lift_from_table(angle=2.0, period=TURN, **table()).lift == 0


def test_velocity_of_a_table_integrates_to_its_lift() -> None:
    at = np.linspace(-1.2, 1.2, 4001)
    found = lobes.lift_from_table(angle=at, period=TURN, **table())
    summed = np.concatenate([[0], np.cumsum((found.slope[1:] + found.slope[:-1]) / 2 * np.diff(at))])
    assert summed == pytest.approx(found.lift, abs=1e-8)


def test_a_table_over_the_whole_turn_closes_smoothly() -> None:
    at = np.linspace(0, TURN, 91)
    lift = 0.004 * (1 - np.cos(at))
    lift[-1] = lift[0]
    either = lobes.lift_from_table(angle=np.array([-1e-6, 1e-6]), period=TURN, table_angle=at, table_lift=lift)
    assert either.second[0] == pytest.approx(either.second[1], rel=1e-4)


@given(st.floats(2e-5, 9.9e-3))
def test_at_its_events_the_lift_is_the_checking_height(height: float) -> None:
    found = lobes.lobe_events(checking_height=height, period=TURN, **table())
    lift = lobes.lift_from_table(angle=np.array([found.opens, found.closes]), period=TURN, **table()).lift
    assert lift == pytest.approx(np.full(2, height), abs=1e-12)
    opens = brentq(lambda a: float(law(a)) - height, -HALF, 0)
    assert found.opens == pytest.approx(opens, abs=1e-5)
    assert found.centre == pytest.approx(0, abs=1e-7)


def test_a_higher_checking_height_shortens_the_duration() -> None:
    heights = np.array([1e-4, 2.5e-4, 5e-4, 1e-3, 1.27e-3])
    found = lobes.lobe_events(checking_height=heights, period=TURN, **table())
    assert np.all(np.diff(found.duration) < 0)
    one = [lobes.lobe_events(checking_height=h, period=TURN, **table()).duration for h in heights]
    assert found.duration == pytest.approx(one)


def test_a_hundredth_of_a_millimetre_moves_an_event_by_its_slope() -> None:
    at = 2.5e-4
    found = lobes.lobe_events(checking_height=np.array([at, at + 1e-5]), period=TURN, **table())
    assert found.opens[1] - found.opens[0] == pytest.approx(1e-5 / found.opening_slope[0], rel=0.03)


def test_a_lobe_with_unequal_flanks_has_two_centres() -> None:
    at = np.radians(np.arange(-66.0, 67.0, 2.0))
    lift = np.where(at < 0, law(at), law(np.clip(at * 0.8, -HALF, HALF)))
    lift[-1] = 0.0
    found = lobes.lobe_events(checking_height=0.004, period=TURN, table_angle=at, table_lift=lift)
    assert abs(found.peak) < 0.02
    assert found.centre > 0.05


def test_a_height_the_lobe_does_not_reach_is_refused_by_element() -> None:
    with pytest.raises(OutOfRange) as caught:
        lobes.lobe_events(checking_height=np.array([1e-3, 0.011]), period=TURN, **table())
    assert list(caught.value.bad) == [False, True]


@pytest.mark.parametrize(
    "broken",
    [
        {"table_angle": np.array([0.0, 1.0, 0.5, 2.0, 3.0, 4.0]), "table_lift": np.zeros(6)},
        {"table_angle": np.arange(5.0), "table_lift": np.zeros(5)},
        {"table_angle": np.arange(6.0), "table_lift": np.zeros(5)},
        {"table_angle": np.linspace(0, 7, 20), "table_lift": np.zeros(20)},
        {"table_angle": np.arange(6.0), "table_lift": np.array([0, 1, np.nan, 1, 0, 0])},
    ],
)
def test_a_table_out_of_order_is_refused(broken: dict[str, np.ndarray]) -> None:
    with pytest.raises(OutOfRange):
        lobes.lift_from_table(angle=0.0, period=TURN, **broken)


def test_smoothing_saves_the_acceleration_that_noise_has_spoiled() -> None:
    rng = np.random.default_rng(4)
    lobe = table()
    noisy = {**lobe, "table_lift": lobe["table_lift"] + rng.normal(0, 3e-6, len(lobe["table_lift"]))}
    at = np.linspace(-0.9, 0.9, 400)
    true = np.asarray(cams.follower_rise(law="4-5-6-7", angle=HALF - np.abs(at), rise=0.01, rise_angle=HALF).second)
    rough = np.max(np.abs(lobes.lift_from_table(angle=at, period=TURN, **noisy).second - true))
    smooth = lobes.smoothed_lift(angle=at, period=TURN, reading=3e-6, **noisy)
    assert np.max(np.abs(smooth.second - true)) < rough / 4
    assert np.max(np.abs(smooth.lift - law(at))) < 9e-6


@given(st.floats(1.7, 2.1), st.floats(0, 4e-4))
def test_the_lift_at_the_top_falls_as_the_cam_is_set_later(centre: float, lash: float) -> None:
    setting = {"checking_height": 1e-3, "lash": lash, "rocker_ratio": 1.0, "period": TURN, **table()}
    early, late = (lobes.lift_at_top(centre=c, **setting) for c in (centre, centre + 0.05))
    assert late <= early
    direct = max(float(lobes.lift_from_table(angle=-centre / 2, period=TURN, **table()).lift) - lash, 0)
    assert early == pytest.approx(direct, abs=1e-7)


def test_one_lobe_on_cam_or_crank_angles_lifts_the_same_at_the_top() -> None:
    setting = {"checking_height": 1e-3, "lash": 2e-4, "rocker_ratio": 1.2, "centre": 1.9}
    crank = {"table_angle": 2 * table()["table_angle"], "table_lift": table()["table_lift"], "period": 2 * TURN}
    assert lobes.lift_at_top(**setting, **crank) == pytest.approx(
        lobes.lift_at_top(**setting, **table(), period=TURN), abs=1e-9
    )


@given(st.floats(-0.5, 1.0), st.floats(0, 1.5))
def test_a_centre_is_half_way_between_the_two_events(top: float, bottom: float) -> None:
    found = cam_timing.lobe_timing(beside_top=top, beside_bottom=bottom)
    assert found.centre == pytest.approx((-top + np.pi + bottom) / 2)


@given(st.floats(1.7, 2.1), st.floats(1.7, 2.1), st.floats(2.0, 5.0), st.floats(2.0, 5.0))
def test_overlap_is_what_durations_leave_of_the_centres(c_i: float, c_e: float, d_i: float, d_e: float) -> None:
    found = cam_timing.pair_timing(
        intake_centre=c_i, exhaust_centre=c_e, intake_opens=d_i / 2 - c_i, exhaust_closes=d_e / 2 - c_e
    )
    assert found.overlap == pytest.approx((d_i + d_e) / 2 - 2 * found.separation)
    moved = cam_timing.pair_timing(
        intake_centre=c_i - 0.07, exhaust_centre=c_e + 0.07, intake_opens=0.0, exhaust_closes=0.0
    )
    assert moved.separation == pytest.approx(found.separation), "one camshaft turned moves both and keeps them apart"
    assert moved.advance == pytest.approx(found.advance + 0.07)


@given(st.floats(-6, 6), st.floats(-1, 1))
def test_a_phase_error_leads_back_to_the_centre(book: float, phase: float) -> None:
    centre = cam_timing.centre_with_phase(book_centre=book, phase=phase)
    assert cam_timing.phase_error(centre=centre, book_centre=book) == pytest.approx(phase, abs=1e-12)
    turned = cam_timing.phase_error(centre=centre + 4 * np.pi, book_centre=book)
    assert turned == pytest.approx(phase, abs=1e-9), "two turns later the engine stands the same"


@given(st.integers(-4, 4), st.integers(20, 60), st.floats(-0.45, 0.45), st.floats(-0.1, 0.1))
def test_whole_teeth_are_found_and_the_rest_is_told(teeth: int, wheel: int, part: float, known: float) -> None:
    tooth = 4 * np.pi / wheel
    found = cam_timing.tooth_fit(phase=known + (teeth + part) * tooth, known_phase=known, cam_teeth=float(wheel))
    assert found.teeth == teeth
    assert found.left == pytest.approx(part * tooth, abs=1e-9)


def test_four_degrees_are_no_tooth() -> None:
    found = cam_timing.tooth_fit(phase=np.radians(-4.0), known_phase=0.0, cam_teeth=42.0)
    assert found.teeth == 0
    assert np.degrees(found.left) == pytest.approx(-4)


def test_one_cam_a_tooth_out_does_not_hide_what_all_share() -> None:
    phases = np.radians([[-2.4, -2.5, -19.6], [0.1, 0.0, 0.2]])
    assert np.degrees(cam_timing.common_phase(phases=phases)) == pytest.approx([-2.5, 0.1])
