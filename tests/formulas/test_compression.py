"""Ratios and skims: what always holds, and the corrections of a V engine against points moved in the plane."""

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.integrate import quad

from endfloat.errors import OutOfRange
from endfloat.formulas import compression, skim_effects, skims, volumes

# The invented V8: 86 x 82, chamber 43.3, open area 48 cm2, gasket 87.5 x 1.20, deck 0.30, pockets 1.9.
V8 = {
    "stroke": 0.082,
    "chamber": 43.3e-6,
    "chamber_area": 48e-4,
    "gasket_bore": 0.0875,
    "gasket": 0.0012,
    "deck": 0.0003,
    "pockets": 1.9e-6,
}
SKIMS = st.floats(0, 5e-4)
MORE = st.floats(1e-5, 5e-4)
ANGLES = st.floats(0.1, 1.4)


@given(SKIMS, MORE)
def test_more_skim_means_more_compression_and_the_same_squish(skim: float, more: float) -> None:
    less = compression.ratio(bore=0.086, skim=skim, **V8)
    assert compression.ratio(bore=0.086, skim=skim + more, **V8) > less
    gaps = [
        skim_effects.squish_after_skims(gasket=0.0012, deck=0.0003, recess=0.0, head_skim=each, deck_skim=0.0)
        for each in (skim, skim + more)
    ]
    assert gaps == [compression.squish(gasket=0.0012, deck=0.0003)] * 2


@given(SKIMS)
def test_the_ratio_from_its_parts_is_that_of_the_parts_added_up(skim: float) -> None:
    bore = volumes.disc_area(diameter=0.086)
    clearance = volumes.clearance_volume(
        chamber=skims.chamber_left(chamber=V8["chamber"], chamber_area=V8["chamber_area"], skim=skim),
        gasket=volumes.layer_volume(area=volumes.disc_area(diameter=V8["gasket_bore"]), height=V8["gasket"]),
        deck=volumes.layer_volume(area=bore, height=V8["deck"]),
        crown=V8["pockets"],
        crevice=0.0,
        other=0.0,
    )
    swept = compression.swept_volume(bore=0.086, stroke=V8["stroke"])
    apart = compression.ratio_of_volumes(swept=swept, clearance=clearance)
    assert compression.ratio(bore=0.086, skim=skim, **V8) == pytest.approx(apart)


@given(st.floats(1e-5, 1e-2), st.floats(1e-6, 1e-3), st.floats(1e-4, 1e-2), st.floats(1.5, 30))
def test_the_cut_for_a_ratio_gives_that_ratio(swept: float, clearance: float, area: float, ratio: float) -> None:
    cut = compression.cut_for_ratio(swept=swept, clearance=clearance, area=area, ratio=ratio)
    left = clearance - area * cut
    assert compression.ratio_of_volumes(swept=swept, clearance=left) == pytest.approx(ratio, rel=1e-6)
    assert compression.clearance_for_ratio(swept=swept, ratio=ratio) == pytest.approx(left, rel=1e-6)
    change = compression.ratio_change(swept=swept, clearance=clearance, more=-area * cut)
    assert compression.ratio_of_volumes(swept=swept, clearance=clearance) + change == pytest.approx(ratio, rel=1e-6)


@given(st.floats(1e-4, 1e-2), st.floats(1e-5, 1e-3))
def test_a_little_more_clearance_costs_by_the_slope_of_the_ratio(swept: float, clearance: float) -> None:
    more = clearance * 1e-6
    change = compression.ratio_change(swept=swept, clearance=clearance, more=more)
    assert change / more == pytest.approx(-swept / clearance**2, rel=1e-5)


@given(st.floats(0.03, 0.2), st.floats(0.03, 0.2), st.integers(1, 16))
def test_all_cylinders_sweep_together_what_each_sweeps(bore: float, stroke: float, cylinders: int) -> None:
    each = compression.swept_volume(bore=bore, stroke=stroke)
    together = compression.displacement(bore=bore, stroke=stroke, cylinders=float(cylinders))
    assert together == pytest.approx(math.fsum([each] * cylinders))


def test_what_a_worn_engine_gives_is_not_refused() -> None:
    """A proud piston, a dome, a thick gasket in place of a skim, no squish left: all can be."""
    worn = V8 | {"deck": -0.0006, "pockets": -8e-6, "gasket": 0.0}
    assert compression.ratio(bore=0.0869, skim=0.0008, **worn) > 10
    assert compression.ratio(bore=0.086, skim=-0.0005, **V8) < 9.7
    assert compression.squish(gasket=0.0012, deck=-0.0014) == pytest.approx(-0.0002)
    assert skims.thickness_left(thickness=0.1, skim=-0.0001) == pytest.approx(0.1001)


def test_a_draw_without_clearance_is_told_by_its_place() -> None:
    with pytest.raises(OutOfRange) as caught:
        compression.ratio(bore=0.086, skim=np.array([0.0, 0.02, 0.0002]), **V8)
    assert (caught.value.name, list(caught.value.bad)) == ("chamber", [False, True, False])
    with pytest.raises(OutOfRange) as caught:
        skims.chamber_left(chamber=43.3e-6, chamber_area=48e-4, skim=np.array([0.0002, 0.01]))
    assert (caught.value.name, list(caught.value.bad)) == ("chamber", [False, True])
    with pytest.raises(OutOfRange, match="more"):
        compression.ratio_change(swept=5e-4, clearance=5e-5, more=-5e-5)


@given(st.floats(1e-5, 1e-4), st.floats(1e-3, 1e-2), SKIMS)
def test_the_skim_for_a_chamber_comes_back(chamber: float, area: float, skim: float) -> None:
    assume(area * skim < chamber)
    wanted = skims.chamber_left(chamber=chamber, chamber_area=area, skim=skim)
    found = skims.skim_for_chamber(chamber=chamber, chamber_area=area, wanted=wanted)
    assert found == pytest.approx(skim, abs=1e-12)


@given(st.floats(-5e-4, 5e-4), st.floats(-5e-4, 5e-4), ANGLES, ANGLES)
def test_after_the_cuts_both_ports_meet_the_manifold(
    skim: float, other_skim: float, half_angle: float, face_elevation: float
) -> None:
    """Each port moved in the plane: the head down its bore, then its face back along its own normal.

    x runs outwards to the bank looked at; the manifold goes `shift` towards it and `drop` down.
    """
    angles = {"half_angle": half_angle, "face_elevation": face_elevation}
    drop = skims.manifold_drop(skim=skim, other_skim=other_skim, **angles)
    assert drop == pytest.approx(skims.manifold_drop(skim=other_skim, other_skim=skim, **angles), abs=1e-12)
    for mine, other in ((skim, other_skim), (other_skim, skim)):
        cut = skims.intake_face_cut(skim=mine, other_skim=other, **angles)
        shift = skims.manifold_shift(skim=mine, other_skim=other, **angles)
        head = -mine * np.array([math.sin(half_angle), math.cos(half_angle)])
        face = head + cut * np.array([math.cos(face_elevation), -math.sin(face_elevation)])
        assert list(face) == pytest.approx([shift, -drop], abs=1e-9)


@given(SKIMS, SKIMS, SKIMS, ANGLES, ANGLES)
def test_what_is_left_to_cut_is_what_was_not_cut(
    skim: float, other_skim: float, cut: float, half_angle: float, face_elevation: float
) -> None:
    given_ = {
        "skim": skim,
        "other_skim": other_skim,
        "half_angle": half_angle,
        "face_elevation": face_elevation,
    }
    needed = skims.intake_face_cut(**given_)
    assert skims.intake_face_left(**given_, cut=needed) == pytest.approx(0, abs=1e-15)
    assert skims.intake_face_left(**given_, cut=cut) == pytest.approx(needed - cut, abs=1e-15)


@given(SKIMS, ANGLES, ANGLES)
def test_equal_skims_do_not_shift_the_manifold_and_a_gasket_as_thick_undoes_them(
    skim: float, half_angle: float, face_elevation: float
) -> None:
    angles = {"half_angle": half_angle, "face_elevation": face_elevation}
    assert skims.manifold_shift(skim=skim, other_skim=skim, **angles) == 0
    back = skims.intake_face_cut(skim=-skim, other_skim=-skim, **angles)
    assert back == pytest.approx(-skims.intake_face_cut(skim=skim, other_skim=skim, **angles))


@given(st.floats(0, 0.003), SKIMS, SKIMS, MORE)
def test_squish_closes_with_the_deck_and_with_a_recess_alone(
    recess: float, head_skim: float, deck_skim: float, more: float
) -> None:
    given_ = {"gasket": 0.0012, "deck": 0.0003, "recess": recess}
    gap = skim_effects.squish_after_skims(**given_, head_skim=head_skim, deck_skim=deck_skim)
    lower = skim_effects.squish_after_skims(**given_, head_skim=head_skim, deck_skim=deck_skim + more)
    assert gap - lower == pytest.approx(more, abs=1e-12)
    after = skim_effects.squish_after_skims(**given_, head_skim=head_skim + more, deck_skim=deck_skim)
    assert gap - after == pytest.approx(min(more, max(recess - head_skim, 0)), abs=1e-12)


@given(st.floats(0.03, 0.3), st.floats(-0.01, 0.02), st.floats(0.2, 0.5))
def test_backlash_is_the_opening_of_both_flanks_along_the_line_of_action(
    distance: float, share: float, pressure_angle: float
) -> None:
    """A little more distance opens each flank by its sine, square to the flank: summed, put on the pitch circle."""
    base, after = distance * math.cos(pressure_angle), distance * (1 + share)
    assume(after > base * 1.0001)
    # Over an interval no longer than the rounding of its ends the integral of the peer means nothing.
    assume(abs(share) > 1e-9)
    opened, _ = quad(lambda apart: 2 * math.sqrt(1 - (base / apart) ** 2), distance, after)
    found = skim_effects.backlash_change(distance=distance, change=after - distance, pressure_angle=pressure_angle)
    assert found == pytest.approx(opened / (base / after), rel=1e-7, abs=1e-12)


@given(st.floats(0.05, 0.3), st.floats(-1e-5, 1e-5), st.floats(0.25, 0.45))
def test_for_a_small_change_backlash_is_twice_the_tangent(
    distance: float, change: float, pressure_angle: float
) -> None:
    found = skim_effects.backlash_change(distance=distance, change=change, pressure_angle=pressure_angle)
    assert found == pytest.approx(2 * change * math.tan(pressure_angle), rel=2e-3, abs=1e-14)


def test_gears_pushed_through_each_other_are_refused() -> None:
    with pytest.raises(OutOfRange) as caught:
        skim_effects.backlash_change(distance=0.1, change=np.array([-0.001, -0.02]), pressure_angle=0.35)
    assert (caught.value.name, list(caught.value.bad)) == ("change", [False, True])


@given(st.floats(0.15, 0.3), SKIMS, st.floats(-0.3, 0.3))
def test_a_pushrod_shortens_by_the_distance_of_its_ends(length: float, skim: float, lean: float) -> None:
    ends = length * np.array([math.sin(lean), math.cos(lean)])
    apart = float(np.hypot(*(ends - [0, skim])))
    found = skim_effects.pushrod_shortening(skim=skim, lean=lean)
    assert found == pytest.approx(length - apart, abs=skim**2 / (2 * length) + 1e-15)


@given(st.floats(0.05, 0.3), st.floats(-0.1, 0.1))
def test_an_angle_cut_has_the_slope_of_its_angle(width: float, angle: float) -> None:
    assert math.atan2(float(skim_effects.angle_cut(width=width, angle=angle)), width) == pytest.approx(angle, abs=1e-12)


def test_arrays_of_draws_and_places_give_what_loops_give() -> None:
    bores, cuts = np.array([0.086, 0.08625, 0.0865]), np.array([0.0, 0.00025])
    together = np.asarray(compression.ratio(bore=bores, skim=cuts[:, None], **V8))
    for row, cut in zip(together, cuts, strict=True):
        for value, bore in zip(row, bores, strict=True):
            assert value == pytest.approx(compression.ratio(bore=float(bore), skim=float(cut), **V8))
