"""Shims: the invented pump's table and swap plan, and every exchange tried by brute force."""

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from endfloat.errors import OutOfRange
from endfloat.formulas import shims

PLACES = ["1 in", "1 ex", "2 in", "2 ex", "3 in", "3 ex", "4 in", "4 ex"]
FITTED = 1e-3 * np.array([2.60, 2.65, 2.55, 2.70, 2.65, 2.60, 2.50, 2.45])
FOUND = 1e-3 * np.array([0.24, 0.07, 0.19, 0.12, 0.21, 0.28, 0.31, 0.20])
WANTED = 1e-3 * np.array([0.20, 0.25] * 4)
WITHIN = 0.03e-3
STEPS = 1e-3 * np.arange(2.30, 2.81, 0.05)
PUMP = {"fitted": FITTED, "lash": FOUND, "low": WANTED - WITHIN, "high": WANTED + WITHIN}
NONE = np.array([])
hundredths = st.integers(200, 300).map(lambda h: h * 1e-5)


def test_the_pump_needs_what_its_table_says() -> None:
    needed = shims.shim_needed(fitted=FITTED, lash=FOUND, wanted_lash=WANTED)
    assert 1e3 * needed == pytest.approx([2.64, 2.47, 2.54, 2.57, 2.66, 2.63, 2.61, 2.40])
    nearest = shims.nearest_in_stock(needed=needed, wanted_lash=WANTED, sizes=STEPS)
    assert 1e3 * nearest.shim == pytest.approx([2.65, 2.45, 2.55, 2.55, 2.65, 2.65, 2.60, 2.40])
    assert 1e3 * nearest.lash == pytest.approx([0.19, 0.27, 0.19, 0.27, 0.21, 0.23, 0.21, 0.25])


def test_the_pump_swaps_three_shims_and_buys_two() -> None:
    plan = shims.swap_plan(loose=NONE, sizes=STEPS, **PUMP)
    moves = {
        PLACES[k]: (round(1e3 * float(shim), 2), PLACES[int(source)] if source >= 0 else "bought")
        for k, (shim, source) in enumerate(zip(plan.shim, plan.taken_from, strict=True))
        if source != k
    }
    assert moves == {
        "1 in": (2.65, "1 ex"),
        "1 ex": (2.45, "4 ex"),
        "4 in": (2.60, "1 in"),
        "2 ex": (2.55, "bought"),
        "4 ex": (2.40, "bought"),
    }
    assert 1e3 * plan.lash == pytest.approx([0.19, 0.27, 0.19, 0.27, 0.21, 0.28, 0.21, 0.25])


def test_when_the_shim_on_its_limit_is_changed_too_a_third_is_bought() -> None:
    narrow = {**PUMP, "high": PUMP["high"] - np.where(np.arange(8) == 5, 1e-6, 0.0)}
    plan = shims.swap_plan(loose=NONE, sizes=STEPS, **narrow)
    assert plan.bought == 3 or plan.shim[5] == pytest.approx(2.65e-3)
    wide = shims.swap_plan(loose=NONE, sizes=STEPS, **PUMP)
    assert plan.bought > wide.bought or plan.moved > wide.moved


def test_loose_shims_are_used_before_any_is_bought() -> None:
    plan = shims.swap_plan(loose=1e-3 * np.array([2.40, 2.55, 2.90]), sizes=STEPS, **PUMP)
    assert plan.bought == 0
    assert plan.taken_from[7] == 8
    assert plan.taken_from[3] == 9


def test_an_engine_within_its_limits_is_left_alone() -> None:
    plan = shims.swap_plan(**{**PUMP, "lash": WANTED}, loose=1e-3 * np.array([2.6, 2.6]), sizes=STEPS)
    assert list(plan.taken_from) == list(range(8))
    assert (plan.bought, plan.moved) == (0, 0)


def best_by_trying(
    fitted: np.ndarray, lash: np.ndarray, low: np.ndarray, high: np.ndarray, loose: np.ndarray, sizes: np.ndarray
) -> tuple[int, int, float] | None:
    """Bought, moved and total miss of the best plan, over every way to put shims or nothing into the places."""
    own = np.concatenate([fitted, loose])
    best = None
    columns = [*range(len(own)), *([-1] * len(fitted))]
    for picked in set(itertools.permutations(columns, len(fitted))):
        miss = 0.0
        for k, source in enumerate(picked):
            choices = sizes if source < 0 else own[[source]]
            gaps = lash[k] + fitted[k] - choices
            away = np.abs(gaps - (low[k] + high[k]) / 2)
            held = away[away <= (high[k] - low[k]) / 2 + 1e-9]
            if not len(held):
                break
            miss += float(held.min()) / (high[k] - low[k])
        else:
            plan = (sum(s < 0 for s in picked), sum(s != k for k, s in enumerate(picked)), miss)
            best = plan if best is None else min(best, plan)
    return best


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 10_000))
def test_no_exchange_does_better(seed: int) -> None:
    rng = np.random.default_rng(seed)
    count = 4
    fitted = 1e-5 * rng.integers(250, 262, count)
    wanted = np.full(count, 20e-5)
    given_ = {"fitted": fitted, "lash": 1e-5 * rng.integers(12, 28, count), "low": wanted - 3e-5, "high": wanted + 3e-5}
    given_ |= {"loose": 1e-5 * rng.integers(250, 262, 1), "sizes": 1e-5 * np.arange(240, 275, 4)}
    plan = shims.swap_plan(**given_)
    best = best_by_trying(**given_)
    assert best is not None
    miss = float(np.sum(np.abs(plan.lash - wanted)) / 6e-5)
    assert (plan.bought, plan.moved) == best[:2]
    assert miss == pytest.approx(best[2], abs=1e-6)
    kept = [source for source in plan.taken_from if source >= 0]
    assert len(kept) == len(set(kept)), "no shim is in two places"
    assert np.all(plan.lash >= given_["low"] - 1e-9)
    assert np.all(plan.lash <= given_["high"] + 1e-9)


def test_a_place_that_no_shim_serves_is_told_by_its_mask() -> None:
    lash = FOUND.copy()
    lash[2] = 0.9e-3
    with pytest.raises(OutOfRange) as caught:
        shims.swap_plan(**{**PUMP, "lash": lash}, loose=NONE, sizes=STEPS)
    assert list(np.flatnonzero(caught.value.bad)) == [2]


def test_with_nothing_to_buy_the_plan_is_a_permutation_or_refused() -> None:
    fitted = 1e-3 * np.array([2.60, 2.40])
    crossed = {
        "fitted": fitted,
        "lash": 1e-3 * np.array([0.0, 0.4]),
        "low": np.full(2, 1.7e-4),
        "high": np.full(2, 2.3e-4),
    }
    plan = shims.swap_plan(loose=NONE, sizes=NONE, **crossed)
    assert list(plan.taken_from) == [1, 0]
    with pytest.raises(OutOfRange):
        shims.swap_plan(loose=NONE, sizes=NONE, **{**crossed, "lash": 1e-3 * np.array([0.0, 0.2])})


@given(hundredths, st.floats(0, 5e-4), st.floats(1e-4, 3e-4))
def test_the_shim_needed_reads_what_is_wanted(fitted: float, lash: float, wanted: float) -> None:
    needed = shims.shim_needed(fitted=fitted, lash=lash, wanted_lash=wanted)
    assert shims.lash_with(fitted=fitted, lash=lash, shim=needed) == pytest.approx(wanted, abs=1e-12)


@given(st.floats(0.0021, 0.0029))
def test_no_size_in_stock_is_nearer_and_of_two_the_thinner_is_taken(needed: float) -> None:
    found = shims.nearest_in_stock(needed=needed, wanted_lash=2e-4, sizes=STEPS)
    assert abs(found.shim - needed) <= np.min(np.abs(STEPS - needed)) + 1e-9
    middle = shims.nearest_in_stock(needed=0.002475, wanted_lash=2e-4, sizes=STEPS[::-1])
    assert middle.shim == pytest.approx(0.00245)


@given(st.floats(0, 1e-3), st.floats(1e-4, 4e-4), st.floats(5e-4, 1.5e-3), st.floats(0.8, 1.8))
def test_a_turned_screw_takes_up_the_clearance(lash: float, wanted: float, pitch: float, ratio: float) -> None:
    turn = shims.screw_turn(lash=lash, wanted_lash=wanted, pitch=pitch, rocker_ratio=ratio)
    assert lash - turn / (2 * np.pi) * pitch * ratio == pytest.approx(wanted, abs=1e-12)


def test_readings_and_shims_must_be_as_many() -> None:
    with pytest.raises(OutOfRange):
        shims.swap_plan(**{**PUMP, "lash": FOUND[:7]}, loose=NONE, sizes=STEPS)
