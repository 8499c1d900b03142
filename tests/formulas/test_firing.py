"""Firing orders against cranks: known engines, mirrors of split pins, and what always holds."""

import itertools
import math
from collections.abc import Sequence
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from endfloat.errors import OutOfRange
from endfloat.formulas import crank, firing

FOUR_STROKE, TWO_STROKE = 4 * math.pi, 2 * math.pi
Layout = tuple[Sequence[float], Sequence[float], Sequence[int]]

# Directions of the bores, directions of the pins with number 1 at its top, and the order.
EVEN: dict[str, Layout] = {
    "single": ([0], [0], [1]),
    "parallel twin, pins together": ([0, 0], [0, 0], [1, 2]),
    "flat twin": ([90, -90], [90, -90], [1, 2]),
    "straight three": ([0] * 3, [0, 240, 120], [1, 3, 2]),
    "straight four": ([0] * 4, [0, 180, 180, 0], [1, 3, 4, 2]),
    "straight four, the other way": ([0] * 4, [0, 180, 180, 0], [1, 2, 4, 3]),
    "flat four": ([90, -90, 90, -90], [90, -90, -90, 90], [1, 3, 2, 4]),
    "straight five": ([0] * 5, [0, 216, 144, 72, 288], [1, 2, 4, 5, 3]),
    "straight six": ([0] * 6, [0, 240, 120, 120, 240, 0], [1, 5, 3, 6, 2, 4]),
    "vee eight, cross plane": (
        [45, -45] * 4,
        [45, 45, 135, 135, 315, 315, 225, 225],
        [1, 8, 4, 3, 6, 5, 7, 2],
    ),
    "vee eight, flat plane": (
        [-45] * 4 + [45] * 4,
        [-45, 135, 135, -45, -45, 135, 135, -45],
        [1, 8, 3, 6, 4, 5, 2, 7],
    ),
    "vee twelve": (
        [-30] * 6 + [30] * 6,
        [-30, 210, 90, 90, 210, -30, -30, 210, 90, 90, 210, -30],
        [1, 7, 5, 11, 3, 9, 6, 12, 2, 8, 4, 10],
    ),
}


def table_of(layout: Layout, cycle: float = FOUR_STROKE) -> tuple[firing.FiringTable, Any]:
    banks, pins, order = layout
    numbers = np.array(order, dtype=float)
    tops = firing.dead_centre_table(
        bank_angles=np.radians(banks), pin_angles=np.radians(pins), leads=np.zeros(len(banks))
    )
    table = firing.firing_table(dead_centres=tops, order=numbers, cycle=cycle)
    return table, firing.firing_intervals(fires=table.fires, order=numbers, cycle=cycle)


@pytest.mark.parametrize("layout", EVEN.values(), ids=list(EVEN))
def test_known_engines_fire_evenly(layout: Layout) -> None:
    table, intervals = table_of(layout)
    np.testing.assert_allclose(table.uneven, 0, atol=1e-9)
    np.testing.assert_allclose(intervals, FOUR_STROKE / len(layout[2]))


@pytest.mark.parametrize(
    ("banks", "pins", "order", "intervals"),
    [
        ([-22.5, 22.5], [-22.5, -22.5], [1, 2], [405, 315]),
        ([0, 0], [0, 180], [1, 2], [540, 180]),
        ([-45, 45], [-45, -45], [1, 2], [450, 270]),
        ([-45, -45, -45, 45, 45, 45], [-45, 195, 75, -45, 195, 75], [1, 4, 3, 6, 2, 5], [90, 150] * 3),
    ],
    ids=["narrow vee twin", "parallel twin, pins opposed", "square vee twin", "vee six, common pins"],
)
def test_uneven_engines_show_their_intervals(
    banks: list[float], pins: list[float], order: list[int], intervals: list[float]
) -> None:
    np.testing.assert_allclose(np.degrees(table_of((banks, pins, order))[1]), intervals, atol=1e-9)


@pytest.mark.parametrize(("bank", "split"), [(90, 30), (60, 60)])
def test_of_the_two_mirrors_of_a_split_pin_vee_six_the_dead_centres_tell_the_even_one(
    bank: float, split: float
) -> None:
    banks = np.radians([-bank / 2] * 3 + [bank / 2] * 3)

    def tops(sign: int) -> list[float]:
        base = np.array([0.0, 240.0, 120.0])
        pins = np.radians(np.concatenate([base - sign * split / 2, base + sign * split / 2]) - bank / 2)
        table = firing.dead_centre_table(bank_angles=banks, pin_angles=pins, leads=np.zeros(6))
        turned = np.degrees(table - table[0])
        return sorted(round(float(angle) % 360, 6) % 360 for angle in turned)

    pairs = [0.0, 0.0, 120.0, 120.0, 240.0, 240.0]
    even = [sign for sign in (-1, 1) if tops(sign) == pairs]
    # With 60 degrees between the banks both mirrors fire evenly; with 90 degrees only one does.
    assert even == ([-1, 1] if bank == 60 else [-1])
    if bank == 90:
        assert tops(1) == [0.0, 60.0, 120.0, 180.0, 240.0, 300.0]


def test_a_two_stroke_three_fires_every_third_of_a_turn() -> None:
    table, intervals = table_of(([0] * 3, [0, 240, 120], [1, 2, 3]), TWO_STROKE)
    np.testing.assert_allclose(table.uneven, 0, atol=1e-9)
    np.testing.assert_allclose(np.degrees(intervals), 120)


def test_a_straight_four_takes_only_the_two_orders_that_its_crank_allows() -> None:
    def fits(order: tuple[int, ...]) -> bool:
        table, _ = table_of(([0] * 4, [0, 180, 180, 0], [1, *order]))
        return bool(np.all(np.abs(table.uneven) < 1e-9))

    assert [order for order in itertools.permutations((2, 3, 4)) if fits(order)] == [(2, 4, 3), (3, 4, 2)]


@given(st.permutations([1, 2, 3, 4, 5, 6]), st.sampled_from([FOUR_STROKE, TWO_STROKE]), st.data())
def test_the_intervals_add_up_and_the_table_keeps_the_dead_centres(
    order: list[int], cycle: float, data: st.DataObject
) -> None:
    tops = np.array(data.draw(st.lists(st.floats(0, 2 * math.pi), min_size=6, max_size=6)))
    numbers = np.array(order, dtype=float)
    table = firing.firing_table(dead_centres=tops, order=numbers, cycle=cycle)
    intervals = firing.firing_intervals(fires=table.fires, order=numbers, cycle=cycle)
    assert np.sum(intervals) == pytest.approx(cycle)
    first = order[0] - 1
    assert table.fires[first] == 0
    np.testing.assert_allclose(np.exp(1j * table.fires), np.exp(1j * (tops - tops[first])), atol=1e-9)
    assert np.all(np.abs(table.uneven) <= math.pi)


@given(st.permutations([1, 2, 3, 4, 5, 6, 7, 8]))
def test_a_partner_s_partner_is_the_cylinder_itself(order: list[int]) -> None:
    partners = firing.partners_on_overlap(order=np.array(order, dtype=float))
    for number in range(1, 9):
        partner = int(partners[number - 1])
        assert partner != number
        assert partners[partner - 1] == number
        assert abs(order.index(number) - order.index(partner)) == 4


@given(st.lists(st.tuples(st.floats(-7, 7), st.floats(-7, 7)), min_size=1, max_size=8))
def test_the_pins_of_a_table_give_the_table_back(angles: list[tuple[float, float]]) -> None:
    banks, tops = np.transpose(angles)
    pins = firing.pin_angles(bank_angles=banks, dead_centres=tops)
    assert np.all((pins >= 0) & (pins < 2 * math.pi))
    again = firing.dead_centre_table(bank_angles=banks, pin_angles=pins, leads=np.zeros(len(banks)))
    np.testing.assert_allclose(np.exp(1j * again), np.exp(1j * tops), atol=1e-9)


@given(st.floats(-3, 3), st.lists(st.floats(-0.01, 0.01), min_size=2, max_size=8), st.integers(-2, 2))
def test_the_zero_of_the_wheel_and_whole_turns_drop_out_of_the_index(
    zero: float, errors: list[float], turns: int
) -> None:
    nominal = np.arange(len(errors)) * 2 * math.pi / len(errors)
    wheel = nominal + errors + zero
    wheel[-1] += turns * 2 * math.pi
    found = firing.index_errors(measured=wheel, nominal=nominal)
    np.testing.assert_allclose(found, np.array(errors) - errors[0], atol=1e-12)


def test_an_offset_bore_leads_as_its_true_top_does() -> None:
    """A narrow vee on one crank: each bank's bore is off the crank's centre to its own side."""
    offsets = np.array([0.0125, -0.0125])
    leads = np.asarray(crank.dead_centres(throw=0.0452, rod=0.164, offset=offsets).top)
    tops = firing.dead_centre_table(bank_angles=np.radians([7.5, -7.5]), pin_angles=np.zeros(2), leads=leads)
    assert np.degrees(tops) == pytest.approx([7.5 + 3.426, 360 - 7.5 - 3.426], abs=5e-4)


def test_many_draws_of_dead_centres_go_through_in_one_call() -> None:
    draws = np.radians([0, 180, 180, 0]) + np.random.default_rng(1).normal(0, 0.002, (50, 4))
    order = np.array([1.0, 3.0, 4.0, 2.0])
    together = firing.firing_table(dead_centres=draws, order=order, cycle=FOUR_STROKE)
    for row, fires in zip(draws, together.fires, strict=True):
        np.testing.assert_allclose(fires, firing.firing_table(dead_centres=row, order=order, cycle=FOUR_STROKE).fires)
    assert firing.firing_intervals(fires=together.fires, order=order, cycle=FOUR_STROKE).shape == (50, 4)


@pytest.mark.parametrize("order", [[1, 2, 2, 4], [1, 2, 3], [0, 1, 2, 3], [1, 2, 3, 2.5], [], [math.nan, 1, 2, 3]])
def test_an_order_that_does_not_name_each_cylinder_once_is_refused(order: list[float]) -> None:
    with pytest.raises(OutOfRange, match="order") as caught:
        firing.firing_table(dead_centres=np.zeros(4), order=np.array(order, dtype=float), cycle=FOUR_STROKE)
    assert "1 to 4" in caught.value.expected


def test_a_cycle_of_half_a_turn_too_much_is_refused() -> None:
    with pytest.raises(OutOfRange, match="cycle"):
        firing.firing_intervals(fires=np.zeros(1), order=np.array([1.0]), cycle=3 * math.pi)


def test_an_odd_number_of_cylinders_has_no_partners() -> None:
    with pytest.raises(OutOfRange, match="order"):
        firing.partners_on_overlap(order=np.array([1.0, 3.0, 2.0]))
