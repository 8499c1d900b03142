"""Seats as three cones cut by shapely, and the joint answer of seat, stem, spring and tappet."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog
from shapely import Polygon, box
from shapely.affinity import translate

from endfloat.errors import OutOfRange
from endfloat.formulas import followers, shims, valve_heights, valve_seats, valve_sink

ANGLES = {"top_angle": np.radians(30.0), "seat_angle": np.radians(45.0), "throat_angle": np.radians(60.0)}
SEAT = {"outer_diameter": 0.0330, "inner_diameter": 0.0308}
feeds = st.floats(0, 2.5e-4)
sets = st.sampled_from([(30, 45, 60), (15, 45, 75), (30, 45, 75), (15, 45, 60), (15, 30, 60)])


def cutter(angle: float, radius: float, height: float) -> Polygon:
    """Half-plane above a line of this slope through a point: what a cutter has taken away, seen beside the axis."""
    far, slope = 1.0, np.tan(angle)
    return Polygon(
        [
            (radius - far, height - slope * far),
            (radius + far, height + slope * far),
            (radius + far, 9),
            (radius - far, 9),
        ]
    )


def cut_seat(angles: tuple[float, float, float], fed: tuple[float, float, float]) -> tuple[float, float]:
    """Edges of the seat by taking three half-planes off a block of metal."""
    top, seat, throat = (np.radians(a) for a in angles)
    outer, inner = SEAT["outer_diameter"] / 2, SEAT["inner_diameter"] / 2
    middle = (outer + inner) / 2
    rise = np.tan(seat)
    metal = box(0.005, -0.05, 0.03, 0.02)
    metal -= translate(cutter(top, outer, rise * (outer - middle)), 0, -fed[0])
    metal -= translate(cutter(seat, middle, 0.0), 0, -fed[1])
    metal -= translate(cutter(throat, inner, rise * (inner - middle)), 0, -fed[2])
    corners = np.array(metal.exterior.coords)
    face = [corner for corner in corners if abs(corner[1] + fed[1] - rise * (corner[0] - middle)) < 1e-9]
    radii = [corner[0] for corner in face]
    return 2 * max(radii), 2 * min(radii)


@settings(max_examples=60)
@given(sets, feeds, feeds, feeds)
def test_cutting_is_taking_half_planes_away(
    angles: tuple[float, float, float], top: float, seat: float, throat: float
) -> None:
    named = dict(zip(ANGLES, np.radians(angles), strict=True))
    found = valve_seats.seat_after_cuts(top_feed=top, seat_feed=seat, throat_feed=throat, **named, **SEAT)
    outer, inner = cut_seat(angles, (top, seat, throat))
    assert (found.outer_diameter, found.inner_diameter) == pytest.approx((outer, inner), abs=1e-9)
    assert found.width == pytest.approx((outer - inner) / 2 / np.cos(named["seat_angle"]), abs=1e-9)
    assert found.width == pytest.approx(
        valve_seats.contact_width(outer_diameter=outer, inner_diameter=inner, seat_angle=named["seat_angle"]),
        abs=1e-9,
    )


@given(st.floats(-2e-4, 2e-4))
def test_cones_in_any_common_plane_have_the_same_edges(height: float) -> None:
    middle, slopes = 0.016, [np.tan(a) for a in ANGLES.values()]
    through = [(0.0165, 0.0005), (middle, 0.0), (0.0155, -0.0005)]
    names = ("top_diameter", "seat_diameter", "throat_diameter")
    cones = {n: 2 * (r + (height - z) / m) for n, (r, z), m in zip(names, through, slopes, strict=True)}
    found = valve_seats.edges_from_cones(**ANGLES, **cones)
    assert (found.outer_diameter, found.inner_diameter) == pytest.approx((0.033, 0.031))


@given(sets, st.floats(-4e-4, 4e-4), st.floats(-4e-4, 4e-4), feeds)
def test_the_cuts_for_a_seat_lead_to_it_and_none_smaller_does(
    angles: tuple[float, float, float], out: float, into: float, least: float
) -> None:
    named = dict(zip(ANGLES, np.radians(angles), strict=True))
    wanted = {"wanted_outer": SEAT["outer_diameter"] + out, "wanted_inner": SEAT["inner_diameter"] + into}
    cuts = valve_seats.cuts_for_seat(least_seat_feed=least, **wanted, **SEAT, **named)
    found = valve_seats.seat_after_cuts(
        top_feed=cuts.top, seat_feed=cuts.seat, throat_feed=cuts.throat, **named, **SEAT
    )
    assert (found.outer_diameter, found.inner_diameter) == pytest.approx(tuple(wanted.values()))
    low, middle, steep = (np.tan(angle) for angle in named.values())
    equal = [[1, -1, 0], [-1, 0, 1]]
    right = [out / 2 * (middle - low), into / 2 * (steep - middle)]
    # In micrometres: the solver's tolerance is absolute.
    bounds = [(1e6 * least, None), (0, None), (0, None)]
    least_cut = linprog([1, 0, 0], A_eq=equal, b_eq=1e6 * np.array(right), bounds=bounds)
    assert 1e6 * cuts.seat == pytest.approx(least_cut.x[0], abs=1e-4)


def test_the_seat_cutter_widens_and_the_others_narrow() -> None:
    none = {"top_feed": 0.0, "seat_feed": 0.0, "throat_feed": 0.0}
    before = valve_seats.seat_after_cuts(**none, **ANGLES, **SEAT).width
    after = {name: valve_seats.seat_after_cuts(**{**none, name: 1e-4}, **ANGLES, **SEAT).width for name in none}
    assert after["seat_feed"] > before > max(after["top_feed"], after["throat_feed"])


def test_a_seat_cut_away_is_refused_with_its_place() -> None:
    with pytest.raises(OutOfRange) as caught:
        valve_seats.seat_after_cuts(
            top_feed=np.array([0.0, 4e-4, 8e-4]), seat_feed=0.0, throat_feed=0.0, **ANGLES, **SEAT
        )
    assert list(caught.value.bad) == [False, False, True]


def test_cutters_out_of_order_are_refused() -> None:
    with pytest.raises(OutOfRange):
        valve_seats.cuts_for_seat(
            **{**ANGLES, "throat_angle": np.radians(40.0)},
            **SEAT,
            wanted_outer=0.033,
            wanted_inner=0.031,
            least_seat_feed=0.0,
        )


@pytest.mark.parametrize(("face", "diameter"), [(44.0, 0.0330), (46.0, 0.0308), (45.0, 0.0319)])
def test_a_valve_sinks_until_its_cone_meets_the_seat(face: float, diameter: float) -> None:
    """The cone of the valve lowered on the seat: the height at which it stands is that of the first contact."""
    radii = np.linspace(SEAT["inner_diameter"] / 2, SEAT["outer_diameter"] / 2, 20_001)
    stands = radii * np.tan(np.radians(45.0)) - radii * np.tan(np.radians(face))
    found = valve_seats.first_contact(face_angle=np.radians(face), seat_angle=np.radians(45.0), **SEAT)
    assert found == pytest.approx(diameter)
    if face != 45:
        assert found == pytest.approx(2 * radii[np.argmax(stands)])


@given(st.floats(0, 3e-4), st.floats(0, 3e-4), st.floats(0.5, 0.9))
def test_the_tip_comes_up_by_the_shift_of_a_cone_along_its_axis(seat: float, face: float, angle: float) -> None:
    rise = valve_sink.tip_rise(seat_stock=seat, face_stock=face, seat_angle=angle)
    # A line shifted square to itself by the stock crosses the axis lower by the rise.
    normal = (seat + face) * np.array([np.sin(angle), -np.cos(angle)])
    assert normal[0] * np.tan(angle) - normal[1] == pytest.approx(rise)
    thinner = valve_sink.margin_left(margin=0.0015, face_stock=face, face_angle=angle)
    assert thinner == pytest.approx(0.0015 - valve_sink.tip_rise(seat_stock=0.0, face_stock=face, seat_angle=angle))


@given(st.floats(0.02, 0.05), st.floats(0, 5e-4))
def test_a_chamber_grows_by_the_disc_the_valve_leaves(diameter: float, rise: float) -> None:
    grown = valve_sink.chamber_growth(valve_diameter=diameter, tip_rise=rise)
    assert grown == pytest.approx(np.pi * (diameter / 2) ** 2 * rise)


BOOK = {"stem_height": 0.0372, "stem_limit": 0.0375}
SPRING = {"spring_height": 0.0360, "wanted_spring_height": 0.0360, "spring_rate": 30_000.0}


@given(st.floats(0, 8e-4), st.floats(0, 6e-4), st.floats(0.6, 1.6))
def test_the_least_grind_is_the_least_that_a_linear_programme_finds(rise: float, room: float, ratio: float) -> None:
    found = valve_heights.least_tip_grind(tip_rise=rise, tappet_room=room, travel_ratio=ratio, **BOOK)
    over = [BOOK["stem_height"] + rise - BOOK["stem_limit"], ratio * rise - room]
    least = linprog([1], A_ub=[[-1], [-ratio]], b_ub=[-1e6 * each for each in over], bounds=[(0, None)])
    assert 1e6 * found == pytest.approx(least.x[0], abs=1e-4)


@given(st.floats(0, 6e-4), st.floats(0.6, 1.6), st.floats(0, 3e-4))
def test_all_the_rise_that_is_left_takes_all_of_the_tip(room: float, ratio: float, stock: float) -> None:
    left = valve_heights.rise_left(tappet_room=room, travel_ratio=ratio, tip_stock=stock, **BOOK)
    needed = valve_heights.least_tip_grind(tip_rise=left.rise, tappet_room=room, travel_ratio=ratio, **BOOK)
    assert needed == pytest.approx(stock, abs=1e-12)
    assert left.rise == pytest.approx(min(left.by_stem, left.by_tappet) + left.by_tip)


def test_seat_stem_spring_and_shim_come_right_together() -> None:
    """Exhaust seat recut by 0.18: edges, least cut, tip, spring and shim in one chain; then everything holds."""
    cuts = valve_seats.cuts_for_seat(
        least_seat_feed=0.00018, wanted_outer=0.0330, wanted_inner=0.0310, **ANGLES, **SEAT
    )
    assert cuts.seat == pytest.approx(0.00018)
    rise = float(cuts.seat)
    fitted, lash, wanted, thinnest = 0.00265, 0.00007 + 0.00018, 0.00025, 0.00230
    room = shims.shim_needed(fitted=fitted, lash=lash, wanted_lash=wanted) - thinnest
    grind = float(valve_heights.least_tip_grind(tip_rise=rise, tappet_room=room, travel_ratio=1.0, **BOOK))
    assert grind == 0
    after = valve_heights.bucket_after_cut(
        tip_rise=rise,
        tip_grind=grind,
        stem_height=BOOK["stem_height"],
        tappet_shim=fitted,
        lash=lash,
        wanted_lash=wanted,
        **SPRING,
    )
    # The clearance then read with the old shim asks for the same shim.
    read = shims.lash_with(fitted=fitted, lash=lash, shim=fitted) - rise
    assert read == pytest.approx(0.00007)
    assert after.tappet_shim == pytest.approx(shims.shim_needed(fitted=fitted, lash=read, wanted_lash=wanted))
    assert after.tappet_shim == pytest.approx(0.00247)
    assert after.stem_height <= BOOK["stem_limit"]
    assert after.spring_height - after.spring_shim == pytest.approx(SPRING["wanted_spring_height"])
    assert after.seat_load_change == pytest.approx(-5.4)


@given(st.floats(0, 6e-4), st.floats(0, 3e-4))
def test_grinding_the_tip_undoes_the_rise_for_stem_and_tappet_but_not_for_the_spring(rise: float, grind: float) -> None:
    before = {"stem_height": 0.0372, "tappet_shim": 0.0026, "lash": 0.0002, "wanted_lash": 0.0002, **SPRING}
    both = valve_heights.bucket_after_cut(tip_rise=rise, tip_grind=grind, **before)
    net = valve_heights.bucket_after_cut(tip_rise=max(rise - grind, 0), tip_grind=max(grind - rise, 0), **before)
    assert both.tappet_shim == pytest.approx(net.tappet_shim, abs=1e-12)
    assert both.stem_height == pytest.approx(net.stem_height)
    assert both.spring_height == pytest.approx(SPRING["spring_height"] + rise)


@given(st.floats(0, 6e-4), st.floats(0.01, 0.03), st.floats(0.01, 0.03))
def test_a_finger_takes_the_rise_by_its_lever(rise: float, near: float, far: float) -> None:
    ratio = followers.finger_travel_ratio(pivot_to_cam=near, cam_to_valve=far)
    found = valve_heights.hydraulic_after_cut(
        tip_rise=rise, tip_grind=0.0, stem_height=0.0372, plunger=0.001, travel_ratio=ratio, **SPRING
    )
    assert (found.plunger - 0.001) * far == pytest.approx(rise * near)


def test_arrays_of_valves_equal_valves_one_by_one() -> None:
    rise = np.array([[0.0001, 0.0002], [0.0003, 0.0]])
    before = {"stem_height": 0.0372, "tappet_shim": 0.0026, "lash": 0.0002, "wanted_lash": 0.0002, **SPRING}
    found = valve_heights.bucket_after_cut(tip_rise=rise, tip_grind=0.0, **before)
    for place in np.ndindex(rise.shape):
        one = valve_heights.bucket_after_cut(tip_rise=float(rise[place]), tip_grind=0.0, **before)
        assert found.tappet_shim[place] == pytest.approx(one.tappet_shim)
