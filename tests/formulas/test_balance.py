"""Weighing, unbalance and shaking orders: layouts with known answers, and brute force round the crank."""

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from numpy.typing import NDArray
from scipy.integrate import quad

from endfloat.errors import OutOfRange
from endfloat.formulas import balance, shaking, unbalance

MASSES = st.floats(0.05, 2)
ANGLES = st.floats(-7, 7)
UNIT = {"crank_radius": 1.0, "rod_length": 1 / 0.3, "offset": 0.0, "speed": 1.0}


@given(MASSES, MASSES, st.floats(0.1, 0.3))
def test_the_ends_of_a_rod_have_its_mass_and_its_centre(big: float, small: float, length: float) -> None:
    ends = balance.rod_ends(big_reading=big, small_reading=small, length=length)
    assert ends.big_end + ends.small_end == pytest.approx(ends.mass)
    assert ends.mass * ends.centre == pytest.approx(ends.big_end * length)
    # A scale under the big end carries what the moment about the other support asks for.
    assert ends.mass * ends.centre / length == pytest.approx(big)


@given(st.lists(MASSES, min_size=1, max_size=8))
def test_a_set_that_is_matched_weighs_what_the_lightest_weighs(masses: list[float]) -> None:
    both = np.array([masses, masses[::-1]])
    off = balance.to_remove(masses=both)
    assert np.all(off >= 0)
    assert both - off == pytest.approx(np.full_like(both, min(masses)))


def test_a_bob_weight_without_a_share_of_the_pistons_is_what_turns() -> None:
    parts = {"big_end": 0.6215, "bearing": 0.045, "reciprocating": 0.9, "oil": 0.0}
    assert balance.bob_weight(rods=2, factor=0.0, **parts) == pytest.approx(1.333)
    half, whole = (balance.bob_weight(rods=2, factor=f, **parts) for f in (0.5, 1.0))
    assert whole - half == pytest.approx(0.9)


@given(st.floats(0, 1), ANGLES)
def test_a_single_is_left_with_two_vectors_that_turn_both_ways(share: float, angle: float) -> None:
    force = balance.partly_balanced_force(mass=1.0, radius=1.0, speed=1.0, share=share, angle=angle)
    both = (0.5 - share) * np.exp(1j * angle) + 0.5 * np.exp(-1j * angle)
    assert force == pytest.approx(abs(both), abs=1e-12)


def test_half_a_pistons_mass_in_the_counterweight_makes_the_force_the_same_all_round() -> None:
    force = balance.partly_balanced_force(
        mass=1.0, radius=1.0, speed=1.0, share=0.5, angle=np.linspace(0, 2 * math.pi, 20)
    )
    assert force == pytest.approx(np.full(20, 0.5))


def layout(pins: Any, banks: Any, positions: Any) -> dict[str, NDArray[np.float64]]:
    """Angles in degrees; the positions begin anywhere and are brought to their middle."""
    pins, banks, positions = np.broadcast_arrays(*(np.asarray(each, dtype=float) for each in (pins, banks, positions)))
    return {
        "pin_angles": np.radians(pins),
        "bank_angles": np.radians(banks),
        "positions": positions - (positions.max() + positions.min()) / 2,
        "masses": np.ones(len(pins)),
    }


def vee(throws: list[float], angle: float, split: float = 0.0) -> dict[str, NDArray[np.float64]]:
    """Two cylinders on each throw, at one position; split pins lie half the split to either side."""
    pins = [[throw - split / 2, throw + split / 2] for throw in throws]
    places = [[n, n] for n in range(len(throws))]
    return layout(np.ravel(pins), [-angle / 2, angle / 2] * len(throws), np.ravel(places))


def line(throws: list[float]) -> dict[str, NDArray[np.float64]]:
    return layout(throws, 0, range(len(throws)))


# With the crank and against it: first force, second force, first couple, second couple; throw over rod 0.3,
# one mass, one throw, one pitch of cylinders.
LAYOUTS = {
    "single": (line([0]), (0.5, 0.5), (0.154, 0.154), (0, 0), (0, 0)),
    "two in line, 180": (line([0, 180]), (0, 0), (0.307, 0.307), (0.5, 0.5), (0, 0)),
    "two in line, 360": (line([0, 0]), (1, 1), (0.307, 0.307), (0, 0), (0, 0)),
    "three in line": (line([0, 120, 240]), (0, 0), (0, 0), (0.866, 0.866), (0.266, 0.266)),
    "four in line": (line([0, 180, 180, 0]), (0, 0), (0.614, 0.614), (0, 0), (0, 0)),
    "five in line": (line([0, -144, -216, -288, -72]), (0, 0), (0, 0), (0.225, 0.225), (0.765, 0.765)),
    "six in line": (line([0, 120, 240, 240, 120, 0]), (0, 0), (0, 0), (0, 0), (0, 0)),
    "flat two": (layout([0, 180], [0, 180], [0, 0.5]), (0, 0), (0, 0), (0.25, 0.25), (0.077, 0.077)),
    "flat four": (
        layout([0, 180, 180, 0], [0, 180, 0, 180], [0, 0.5, 1, 1.5]),
        (0, 0),
        (0, 0),
        (0, 0),
        (0.154, 0.154),
    ),
    "twin at 90": (vee([0], 90), (1, 0), (0.217, 0.217), (0, 0), (0, 0)),
    "twin at 60": (vee([0], 60), (1, 0.5), (0.266, 0), (0, 0), (0, 0)),
    "eight at 90, crossed": (vee([0, 90, 270, 180], 90), (0, 0), (0, 0), (3.162, 0), (0, 0)),
    "eight at 90, flat": (vee([0, 180, 180, 0], 90), (0, 0), (0.868, 0.868), (0, 0), (0, 0)),
    "six at 90": (vee([0, 120, 240], 90), (0, 0), (0, 0), (1.732, 0), (0.376, 0.376)),
    "six at 90, split 30": (vee([0, 120, 240], 90, -30), (0, 0), (0, 0), (1.673, 0.448), (0.138, 0.514)),
    "six at 60, split 60": (vee([0, 240, 120], 60, -60), (0, 0), (0, 0), (1.5, 0), (0, 0.461)),
    "twelve at 60": (vee([0, 120, 240, 240, 120, 0], 60), (0, 0), (0, 0), (0, 0), (0, 0)),
}


@pytest.mark.parametrize("name", LAYOUTS)
def test_layouts_shake_as_they_are_known_to(name: str) -> None:
    given, *wanted = LAYOUTS[name]
    found = [shaking.shaking_order(**given, **UNIT, order=order) for order in (1, 2)]
    forces = [(float(f.force_with), float(f.force_against)) for f in found]
    couples = [(float(f.couple_with), float(f.couple_against)) for f in found]
    for ours, told in zip(forces + couples, wanted, strict=True):
        assert ours == pytest.approx(told, abs=6e-4), name


def round_the_crank(given: dict[str, Any], geometry: dict[str, Any], angles: Any) -> tuple[Any, Any]:
    """Force and couple upright and sideways, from the motion of each piston by differences."""
    step = 1e-3
    radius, rod, offset = (geometry[name] for name in ("crank_radius", "rod_length", "offset"))

    def height(theta: Any) -> Any:
        return radius * np.cos(theta) + np.sqrt(rod**2 - (radius * np.sin(theta) - offset) ** 2)

    force, couple = np.zeros((len(angles), 2)), np.zeros((len(angles), 2))
    for pin, bank, place, mass in zip(*given.values(), strict=True):
        theta = angles + pin - bank
        outer = (height(theta + 2 * step) + height(theta - 2 * step)) / 12
        inner = 4 / 3 * (height(theta + step) + height(theta - step))
        pull = -mass * geometry["speed"] ** 2 * (inner - outer - 2.5 * height(theta)) / step**2
        push = pull[:, None] * np.array([math.cos(bank), math.sin(bank)])
        force, couple = force + push, couple + place * push
    return force, couple


@pytest.mark.parametrize("offset", [0.0, 0.15])
@pytest.mark.parametrize("name", ["single", "five in line", "six at 90, split 30", "flat four", "twin at 60"])
def test_all_orders_together_are_the_forces_and_couples_round_the_crank(name: str, offset: float) -> None:
    given, geometry = LAYOUTS[name][0], UNIT | {"offset": offset}
    angles = np.linspace(0, 2 * math.pi, 37)
    force, couple = round_the_crank(given, geometry, angles)
    orders = np.arange(1.0, 17.0)
    every: Any = shaking.shaking_order(**given, **geometry, order=orders)
    turning = np.exp(1j * orders * angles[:, None])

    def added(what: str) -> Any:
        with_crank, against = (
            getattr(every, f"{what}_{sense}") * np.exp(1j * getattr(every, f"{what}_{sense}_angle"))
            for sense in ("with", "against")
        )
        return np.sum(with_crank * turning + against / turning, axis=-1)

    for what, wanted in (("force", force), ("couple", couple)):
        total = added(what)
        assert total.real == pytest.approx(wanted[:, 0], abs=2e-6)
        assert total.imag == pytest.approx(wanted[:, 1], abs=2e-6)


def test_the_strength_of_an_order_is_an_integral_of_the_piston() -> None:
    for order, offset in ((1, 0.0), (2, 0.0), (4, 0.0), (3, 0.1)):
        parts = [
            quad(
                lambda a, turn=turn, e=offset, n=order: (
                    (math.cos(a) + math.sqrt(9 - (math.sin(a) - e) ** 2)) * turn(n * a)
                ),
                0,
                2 * math.pi,
                epsabs=1e-12,
            )[0]
            for turn in (math.cos, math.sin)
        ]
        ours = shaking.order_factor(crank_radius=1.0, rod_length=3.0, offset=offset, order=order)
        assert ours == pytest.approx(order**2 / math.pi * math.hypot(*parts), rel=1e-9)


@given(st.floats(0.05, 0.45))
def test_the_second_order_is_its_series_and_odd_orders_need_an_offset(ratio: float) -> None:
    crank = {"crank_radius": ratio, "rod_length": 1.0}
    second = shaking.order_factor(**crank, offset=0.0, order=2)
    assert second == pytest.approx(ratio + ratio**3 / 4 + 15 * ratio**5 / 128, rel=0.13 * ratio**6 + 1e-9)
    assert shaking.order_factor(**crank, offset=0.0, order=1) == pytest.approx(1)
    assert shaking.order_factor(**crank, offset=0.0, order=3) < 1e-9
    assert shaking.order_factor(**crank, offset=0.2, order=3) > 1e-4 * ratio**2


@given(ANGLES, st.integers(1, 6))
def test_turning_the_engine_turns_the_forces_and_no_more(turn: float, order: int) -> None:
    given = LAYOUTS["six at 90, split 30"][0]
    turned = given | {"pin_angles": given["pin_angles"] + turn, "bank_angles": given["bank_angles"] + turn}
    first, second = (shaking.shaking_order(**each, **UNIT, order=order) for each in (given, turned))
    for part in ("force_with", "force_against", "couple_with", "couple_against"):
        assert getattr(second, part) == pytest.approx(getattr(first, part), abs=1e-12)


def test_half_the_pistons_on_the_pins_of_a_crossed_eight_take_its_first_couple() -> None:
    """Counterweights in two planes end what turns with the crank; at 90 degrees nothing else is left."""
    given = LAYOUTS["eight at 90, crossed"][0]
    shakes = shaking.shaking_order(**given, **UNIT, order=1)
    weights = unbalance.two_plane_correction(
        masses=given["masses"] / 2,
        radii=np.ones(8),
        angles=given["pin_angles"],
        positions=given["positions"],
        near_plane=-2.0,
        far_plane=2.0,
    )
    assert weights.near == pytest.approx(weights.far)
    assert (weights.far_angle - weights.near_angle) % (2 * math.pi) == pytest.approx(math.pi)
    assert 4 * weights.far == pytest.approx(shakes.couple_with)
    opposite = (weights.far_angle + math.pi) % (2 * math.pi)
    assert opposite == pytest.approx(shakes.couple_with_angle)


def test_arrays_of_cranks_and_draws_equal_single_calls() -> None:
    given = LAYOUTS["six at 90, split 30"][0]
    masses = given["masses"] * np.array([[1.0], [1.01], [0.99]])
    rods = np.array([3.0, 3.3, 4.0])
    every: Any = shaking.shaking_order(
        **given | {"masses": masses}, **UNIT | {"rod_length": rods}, order=np.array([1, 2, 4])
    )
    for at, order in enumerate((1, 2, 4)):
        one = shaking.shaking_order(
            **given | {"masses": masses[at]}, **UNIT | {"rod_length": float(rods[at])}, order=order
        )
        assert [float(column[at]) for column in every[::2]] == pytest.approx([float(x) for x in one[::2]], abs=1e-12)


def test_a_broken_order_or_a_short_rod_is_refused_by_its_mask() -> None:
    with pytest.raises(OutOfRange) as caught:
        shaking.order_factor(crank_radius=1.0, rod_length=3.0, offset=0.0, order=np.array([1.0, 1.5]))
    assert caught.value.bad.tolist() == [False, True]
    with pytest.raises(OutOfRange) as short:
        shaking.order_factor(crank_radius=1.0, rod_length=np.array([1.05, 3.0]), offset=0.1, order=2)
    assert short.value.bad.tolist() == [True, False]


SETS = st.lists(st.tuples(MASSES, st.floats(0.01, 0.1), ANGLES, st.floats(-0.5, 0.5)), min_size=1, max_size=6)


@given(SETS, st.floats(-0.5, -0.05), st.floats(0.05, 0.5))
def test_corrections_in_two_planes_leave_neither_force_nor_couple(parts: Any, near: float, far: float) -> None:
    masses, radii, angles, positions = np.array(parts).T
    found = unbalance.two_plane_correction(
        masses=masses, radii=radii, angles=angles, positions=positions, near_plane=near, far_plane=far
    )
    vectors = masses * radii * np.exp(1j * angles)
    added = np.array([found.near * np.exp(1j * found.near_angle), found.far * np.exp(1j * found.far_angle)])
    assert abs(np.sum(vectors) + np.sum(added)) < 1e-12
    assert abs(np.sum(vectors * positions) + added @ np.array([near, far])) < 1e-12


@given(SETS)
def test_the_sum_of_masses_is_a_sum_of_vectors(parts: Any) -> None:
    masses, radii, angles, _ = np.array(parts).T
    found = unbalance.unbalance_of_masses(masses=masses, radii=radii, angles=angles)
    along, across = masses * radii @ np.cos(angles), masses * radii @ np.sin(angles)
    assert found.amount == pytest.approx(math.hypot(along, across), abs=1e-12)
    assume(found.amount > 1e-6)
    assert math.cos(found.angle) * found.amount == pytest.approx(along, abs=1e-9)
    assert math.sin(found.angle) * found.amount == pytest.approx(across, abs=1e-9)


def test_masses_all_round_are_in_balance_and_one_plane_is_refused_as_two() -> None:
    round_it = {"masses": np.ones(5), "radii": np.ones(5), "angles": np.arange(5) * 2 * math.pi / 5}
    assert unbalance.unbalance_of_masses(**round_it).amount < 1e-12
    with pytest.raises(OutOfRange) as caught:
        unbalance.two_plane_correction(
            **round_it, positions=np.zeros(5), near_plane=np.array([0.0, 0.1]), far_plane=np.array([0.1, 0.1])
        )
    assert caught.value.bad.tolist() == [False, True]


@given(st.floats(1e-4, 0.1), st.floats(0.1, 100), st.floats(1, 2000))
def test_grade_and_permissible_unbalance_undo_each_other(grade: float, mass: float, speed: float) -> None:
    allowed = unbalance.permissible_unbalance(grade=grade, mass=mass, speed=speed)
    assert unbalance.grade_of_unbalance(unbalance=allowed, mass=mass, speed=speed) == pytest.approx(grade)
    # The grade is the speed at which the centre of mass goes round.
    assert allowed / mass * speed == pytest.approx(grade)


@given(st.floats(0.01, 1), st.floats(0.01, 1))
def test_two_planes_share_the_whole_between_30_and_70_per_cent(near: float, far: float) -> None:
    limits = unbalance.permissible_in_planes(permissible=1.0, near_distance=near, far_distance=far)
    assert limits.near + limits.far == pytest.approx(1)
    assert min(limits) >= 0.3 - 1e-12
    if near != far:
        assert (limits.near >= limits.far) == (near < far)
    if 0.31 < near / (near + far) < 0.69:
        assert limits.near * near == pytest.approx(limits.far * far)


@given(st.floats(1e-5, 1e-2), ANGLES, st.floats(1e-5, 1e-2), ANGLES, st.floats(0.1, 10), ANGLES)
def test_a_trial_run_finds_the_unbalance_of_a_rotor_that_answers_in_proportion(
    amount: float, angle: float, trial: float, trial_angle: float, answer: float, lag: float
) -> None:
    def runs(total: complex) -> tuple[float, float]:
        shake = answer * np.exp(1j * lag) * total
        return float(abs(shake)), float(np.angle(shake))

    own = amount * np.exp(1j * angle)
    before, after = runs(own), runs(own + trial * np.exp(1j * trial_angle))
    found = unbalance.correction_by_trial(
        before=before[0],
        before_angle=before[1],
        after=after[0],
        after_angle=after[1],
        trial=trial,
        trial_angle=trial_angle,
    )
    assert abs(own + found.amount * np.exp(1j * found.angle)) < 1e-9 * (amount + amount**2 / trial)


def test_a_trial_mass_that_changes_nothing_is_refused() -> None:
    runs = {"before": 0.004, "before_angle": 0.7, "trial": 1e-4, "trial_angle": 0.0}
    with pytest.raises(OutOfRange) as caught:
        unbalance.correction_by_trial(**runs, after=np.array([0.004, 0.005]), after_angle=0.7)
    assert caught.value.bad.tolist() == [True, False]
