"""Bolt patterns: what neighbours take, and what order and passes can do about it."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from endfloat.errors import OutOfRange
from endfloat.formulas import patterns

STANDING = {"standing": "illustrative"}


def row_of(bolts: int, near: float, reach: float = 1.0) -> np.ndarray:
    """A row of bolts: a pulled one eases its neighbours, less with the distance."""
    away = np.abs(np.subtract.outer(np.arange(bolts), np.arange(bolts)))
    return np.where(away == 0, 1.0, -near * np.exp(-(away - 1) / reach))


def one_by_one(table: np.ndarray, order: list[int], present: list[float], targets: list[float]) -> list[float]:
    """The same pass told plainly: pull a bolt, change every bolt that clamps, let none push."""
    loads = list(present)
    for number in order:
        pulled = number - 1
        added = targets[pulled] - loads[pulled]
        for other in range(len(loads)):
            if other != pulled and loads[other] > 0:
                loads[other] = max(0.0, loads[other] + table[other][pulled] * added)
        loads[pulled] = targets[pulled]
    return loads


@given(st.permutations([1, 2, 3, 4, 5]), st.floats(0, 0.4), st.lists(st.floats(0, 5e4), min_size=5, max_size=5))
def test_a_pass_is_one_pull_after_the_other(order: list[int], near: float, present: list[float]) -> None:
    table, targets = row_of(5, near), [50e3, 40e3, 60e3, 50e3, 45e3]
    found = patterns.after_pass(
        interaction=table,
        order=np.array(order, dtype=float),
        present=np.array(present),
        targets=np.array(targets),
        **STANDING,
    )
    assert found.loads == pytest.approx(one_by_one(table, order, present, targets))
    assert found.standing == "illustrative"


@given(st.permutations([1, 2, 3, 4, 5, 6]), st.floats(0, 0.3))
def test_the_targets_end_even_after_one_pass(order: list[int], near: float) -> None:
    table, turns = row_of(6, near), np.array(order, dtype=float)
    aims = patterns.targets_for_even_load(interaction=table, order=turns, load=50e3, **STANDING)
    ended = patterns.after_pass(interaction=table, order=turns, present=np.zeros(6), targets=aims.targets, **STANDING)
    assert ended.loads == pytest.approx(np.full(6, 50e3))
    assert np.all(aims.targets >= 50e3 * (1 - 1e-9))
    assert aims.targets[order[-1] - 1] == pytest.approx(50e3)


def test_without_interaction_nothing_changes() -> None:
    turns = np.array([2.0, 1.0, 3.0])
    aims = patterns.targets_for_even_load(interaction=np.eye(3), order=turns, load=30e3, **STANDING)
    assert aims.targets == pytest.approx(np.full(3, 30e3))


def test_extra_passes_at_full_value_even_out_what_one_order_does_not() -> None:
    table, turns = row_of(10, 0.2, reach=0.5), np.array([5.0, 6, 4, 7, 3, 8, 2, 9, 1, 10])
    loads, evenness = np.zeros(10), []
    for _ in range(4):
        loads = patterns.after_pass(
            interaction=table, order=turns, present=loads, targets=np.full(10, 50e3), **STANDING
        ).loads
        evenness.append(float(patterns.evenness(loads=loads)))
    assert evenness[0] < 0.75
    assert evenness[-1] > 0.9
    assert evenness == sorted(evenness)


def test_many_patterns_at_once_are_the_same_as_one_by_one() -> None:
    tables = np.array([row_of(4, near) for near in (0.1, 0.2, 0.3)])
    turns = np.array([2.0, 3.0, 1.0, 4.0])
    together = patterns.targets_for_even_load(interaction=tables, order=turns, load=40e3, **STANDING).targets
    for table, targets in zip(tables, together, strict=True):
        alone = patterns.targets_for_even_load(interaction=table, order=turns, load=40e3, **STANDING).targets
        assert targets == pytest.approx(alone)


def test_what_makes_no_pattern_is_refused() -> None:
    table, turns = row_of(3, 0.2), np.array([1.0, 2.0, 3.0])
    good = {"interaction": table, "order": turns, "load": 30e3, **STANDING}
    for change in (
        {"order": np.array([1.0, 1.0, 3.0])},
        {"order": np.array([1.0, 2.5, 3.0])},
        {"order": np.array([1.0, 2.0])},
        {"interaction": table + 0.1},
        {"interaction": table[:2]},
        {"standing": "felt"},
    ):
        with pytest.raises(OutOfRange):
            patterns.targets_for_even_load(**{**good, **change})
    with pytest.raises(OutOfRange):
        patterns.evenness(loads=np.zeros(3))


def test_neighbours_that_gain_so_much_that_no_target_is_left_are_refused() -> None:
    helped = 2 * np.eye(3) - row_of(3, 1.5)
    with pytest.raises(OutOfRange, match="above 0"):
        patterns.targets_for_even_load(interaction=helped, order=np.array([1.0, 2.0, 3.0]), load=30e3, **STANDING)
