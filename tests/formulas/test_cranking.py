"""Volumes and cranking pressure: the ways there and back, and against integration and other libraries."""

import math

import numpy as np
import pytest
from fluids.atmosphere import ATMOSPHERE_1976
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.integrate import quad
from shapely import Polygon

from endfloat.errors import OutOfRange
from endfloat.formulas import compression, crank, cranking, dead_centres, volumes
from formulas.test_crank import Slider, sliders

V8 = {"bore": 0.086, "throw": 0.041, "rod": 0.141, "offset": 0.0, "clearance": 54.16e-6}
LENGTHS = st.floats(0.01, 0.3)
VOLUMES = st.floats(1e-6, 1e-3)


@given(sliders(), st.floats(0.01, 0.9), st.floats(0.01, 0.05))
def test_closed_at_the_bottom_the_whole_stroke_is_trapped(slider: Slider, square: float, share: float) -> None:
    bore = square * slider["throw"]
    swept = compression.swept_volume(bore=bore, stroke=dead_centres.stroke(**slider))
    clearance = share * float(swept)
    trapped = cranking.trapped_volume(bore=bore, clearance=clearance, closing=0.0, **slider)
    effective = cranking.effective_ratio(trapped=trapped, clearance=clearance, tester=0.0)
    assert effective == pytest.approx(compression.ratio_of_volumes(swept=swept, clearance=clearance))


@given(st.floats(0, 1.5), st.floats(0.001, 0.5))
def test_later_closing_traps_less_by_what_the_piston_sweeps(closing: float, later: float) -> None:
    """The piston's speed integrated over the crank angle, instead of its place."""
    bottom = math.pi
    bore, clearance = V8["bore"], V8["clearance"]
    slider = {name: V8[name] for name in ("throw", "rod", "offset")}
    risen, _ = quad(
        lambda a: -float(crank.piston_speed(**slider, angle=a, speed=1.0)), bottom + closing, bottom + closing + later
    )
    first, second = (cranking.trapped_volume(**V8, closing=angle) for angle in (closing, closing + later))
    assert first - second == pytest.approx(math.pi / 4 * bore**2 * risen, rel=1e-6, abs=1e-15)
    assert second > clearance


@given(VOLUMES, st.floats(1.01, 20), st.floats(0, 1e-5), st.floats(1e-8, 1e-5))
def test_a_tester_s_dead_space_takes_ratio_away(clearance: float, ratio: float, space: float, more: float) -> None:
    trapped = clearance * ratio
    found = [
        cranking.effective_ratio(trapped=trapped, clearance=clearance, tester=each) for each in (space, space + more)
    ]
    assert 1 < found[1] < found[0] <= ratio * (1 + 1e-12)


@given(st.floats(2, 15), st.floats(0.8, 1), st.floats(1.1, 1.35), st.floats(0.6e5, 1.05e5), st.floats(1.01, 1.5))
def test_the_reading_goes_with_the_air_outside_and_up_with_everything(
    ratio: float, filling: float, exponent: float, ambient: float, more: float
) -> None:
    given_ = {"ratio": ratio, "filling": filling, "exponent": exponent}
    here = cranking.cranking_pressure(ambient=ambient, **given_)
    elsewhere = cranking.cranking_pressure(ambient=101325.0, **given_)
    assume(here > 0)
    assert cranking.reading_elsewhere(reading=here, ambient=ambient, there=101325.0) == pytest.approx(elsewhere)
    for name, value in given_.items():
        assert cranking.cranking_pressure(ambient=ambient, **given_ | {name: value * more}) > here


@given(st.floats(-500, 8000))
def test_the_air_is_that_of_an_independent_library(altitude: float) -> None:
    # That library takes the height over the round earth; ours the plain one.
    assert cranking.ambient_pressure(altitude=altitude) == pytest.approx(ATMOSPHERE_1976(altitude).P, rel=2e-3)
    flat = altitude / (1 - altitude / 6356766)
    assert cranking.ambient_pressure(altitude=altitude) == pytest.approx(ATMOSPHERE_1976(flat).P, rel=2e-6)


@given(st.floats(3, 25), st.floats(0, 0.45), st.floats(0.55, 0.99), st.floats(1.1, 1.4))
def test_the_ratio_comes_back_from_two_points_of_its_own_curve(
    ratio: float, early: float, late: float, exponent: float
) -> None:
    early_pressure, late_pressure = (
        1e5 * (ratio / (1 + (ratio - 1) * (1 - travel))) ** exponent for travel in (early, late)
    )
    found = cranking.ratio_from_curve(
        early=early_pressure, late=late_pressure, early_travel=early, late_travel=late, exponent=exponent
    )
    assert found == pytest.approx(ratio, rel=1e-6)


@pytest.mark.parametrize("late", [1.0e5, 0.9e5, 50e5])
def test_pressures_that_no_ratio_gives_are_refused(late: float) -> None:
    pressures = np.array([3.6e5, late])
    with pytest.raises(OutOfRange) as caught:
        cranking.ratio_from_curve(early=1.0e5, late=pressures, early_travel=0.25, late_travel=0.75, exponent=1.3)
    assert (caught.value.name, list(caught.value.bad)) == ("late", [False, True])


@given(st.lists(st.floats(1e4, 2e6), min_size=1, max_size=16))
def test_the_lowest_share_is_that_of_the_sorted_readings(readings: list[float]) -> None:
    ordered = sorted(readings)
    found = cranking.lowest_to_highest(readings=np.array(readings))
    assert found == pytest.approx(ordered[0] / ordered[-1])
    assert 0 < found <= 1
    rows = np.array([readings, readings[::-1]])
    np.testing.assert_allclose(cranking.lowest_to_highest(readings=rows), found)


def test_an_engine_without_any_compression_has_no_share() -> None:
    with pytest.raises(OutOfRange, match="readings"):
        cranking.lowest_to_highest(readings=np.zeros(4))
    assert cranking.lowest_to_highest(readings=np.array([0.0, 9e5])) == 0


@pytest.mark.parametrize("closing", [3.2, -3.2])
def test_a_valve_that_closes_past_the_next_top_is_refused(closing: float) -> None:
    with pytest.raises(OutOfRange, match="closing"):
        cranking.trapped_volume(**V8, closing=closing)


@given(sliders(), st.floats(-0.01, 0.01), st.floats(0.01, 0.1))
def test_the_deck_clearance_closes_by_what_any_part_grows(slider: Slider, clearance: float, height: float) -> None:
    top = float(crank.dead_centres(**slider).top_height)
    found = volumes.deck_clearance(deck_height=top + height + clearance, compression_height=height, **slider)
    assert found == pytest.approx(clearance, abs=1e-12)
    straight = slider | {"offset": 0.0}
    longer = straight | {"rod": straight["rod"] + 1e-4}
    before, after = (
        volumes.deck_clearance(deck_height=top + height + 0.01, compression_height=height, **each)
        for each in (straight, longer)
    )
    assert before - after == pytest.approx(1e-4, rel=1e-6)


@given(LENGTHS, LENGTHS, st.floats(0, 0.02))
def test_the_crown_is_what_the_bore_above_it_does_not_hold(bore: float, depth: float, dish: float) -> None:
    layer = volumes.layer_volume(area=volumes.disc_area(diameter=bore), height=depth)
    filled = layer * (1 + dish)
    assert volumes.crown_volume(filled=filled, bore=bore, depth=depth) == pytest.approx(layer * dish, abs=1e-15)


@given(st.floats(0.03, 0.2), st.floats(0.9, 1), st.floats(0, 0.02))
def test_a_crevice_is_the_difference_of_two_cylinders(bore: float, share: float, height: float) -> None:
    land = share * bore
    outer, inner = (volumes.layer_volume(area=volumes.disc_area(diameter=each), height=height) for each in (bore, land))
    found = volumes.crevice_volume(bore=bore, land=land, height=height)
    assert found == pytest.approx(outer - inner, abs=1e-16)
    assert found >= 0


def test_a_land_wider_than_its_bore_is_refused() -> None:
    with pytest.raises(OutOfRange, match="land"):
        volumes.crevice_volume(bore=0.086, land=0.0861, height=0.007)


@given(VOLUMES, VOLUMES, st.floats(-1e-5, 1e-5), st.floats(-1e-5, 1e-5))
def test_the_parts_add_up_or_are_refused(chamber: float, gasket: float, deck: float, crown: float) -> None:
    parts = {"chamber": chamber, "gasket": gasket, "deck": deck, "crown": crown, "crevice": 0.0, "other": 0.0}
    total = math.fsum(parts.values())
    assume(abs(total) > 1e-12)
    if total < 0:
        with pytest.raises(OutOfRange, match="chamber"):
            volumes.clearance_volume(**parts)
    else:
        assert volumes.clearance_volume(**parts) == pytest.approx(total)


@given(st.lists(st.floats(0.02, 0.05), min_size=3, max_size=40), st.floats(-1, 1), st.floats(-1, 1))
def test_an_outline_has_the_area_that_a_library_of_plane_geometry_gives(
    radii: list[float], along: float, across: float
) -> None:
    turns = np.linspace(0, 2 * math.pi, len(radii), endpoint=False)
    x, y = along + np.array(radii) * np.cos(turns), across + np.array(radii) * np.sin(turns)
    theirs = Polygon(np.column_stack([x, y])).area
    assert volumes.outline_area(along=x, across=y) == pytest.approx(theirs, rel=1e-9)
    assert volumes.outline_area(along=x[::-1], across=y[::-1]) == pytest.approx(theirs, rel=1e-9)
    stacked = volumes.outline_area(along=np.array([x, 2 * x]), across=np.array([y, 2 * y]))
    np.testing.assert_allclose(stacked, [theirs, 4 * theirs], rtol=1e-9)


@given(st.lists(st.floats(0.02, 0.05), min_size=4, max_size=40))
def test_the_area_of_a_circle_of_the_same_outline_is_always_too_large(radii: list[float]) -> None:
    turns = np.linspace(0, 2 * math.pi, len(radii), endpoint=False)
    x, y = np.array(radii) * np.cos(turns), np.array(radii) * np.sin(turns)
    length = Polygon(np.column_stack([x, y])).length
    assert volumes.outline_area(along=x, across=y) < volumes.disc_area(diameter=length / math.pi)


def test_corners_cut_a_circle_short_as_told() -> None:
    turns = np.linspace(0, 2 * math.pi, 36, endpoint=False)
    area = volumes.outline_area(along=np.cos(turns), across=np.sin(turns))
    assert 1 - area / math.pi == pytest.approx(6.6 / 36**2, rel=0.01)


def test_two_points_are_no_outline() -> None:
    with pytest.raises(OutOfRange, match="points"):
        volumes.outline_area(along=np.array([0, 0.1]), across=np.array([0, 0.1]))


@given(st.floats(1e-4, 1e-2), st.floats(1e-5, 5e-3))
def test_the_area_by_filling_gives_its_volume_back(area: float, rise: float) -> None:
    added = volumes.layer_volume(area=area, height=rise)
    assert volumes.area_by_filling(added=added, rise=rise) == pytest.approx(area)
