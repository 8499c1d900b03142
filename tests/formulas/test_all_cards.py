"""Every formula on arrays: many cases at once are the cases one by one, and no NaN comes out."""

from collections.abc import Callable, Sequence
from typing import Any

import numpy as np
import pytest

from card_examples import example_arguments
from endfloat.cards import CARDS, WORD, Card
from endfloat.errors import OutOfRange

Cases = dict[str, Any]
STEPS = np.array([1.0, 1.0 + 1e-3, 1.0 - 1e-3])

ALONE = {
    "firing.partners_on_overlap": "one firing order",
    "shims.swap_plan": "one engine: shims of all its places change hands together",
    "flatness.zone_weights": "the weights of one face: each is a linear programme of its own",
}
"""Formulas that take one case at a time, with the reason."""
HELD = {
    "firing.firing_intervals": ("order",),
    "firing.firing_table": ("order",),
    "flatness.minimum_zone": ("along", "across"),
    "lobes.lift_at_top": ("table_angle", "table_lift", "period"),
    "lobes.lift_from_table": ("table_angle", "table_lift", "period"),
    "lobes.lobe_events": ("table_angle", "table_lift", "period"),
    "lobes.smoothed_lift": ("table_angle", "table_lift", "period", "reading"),
    "patterns.after_pass": ("order", "interaction"),
    "patterns.targets_for_even_load": ("order", "interaction"),
    "shims.nearest_in_stock": ("sizes",),
    "valve_gaps.least_crown_gap": ("table_angle", "table_lift", "reach", "period"),
    "valve_gaps.least_pocket_gap": ("table_angle", "table_lift", "reach", "period"),
    "valve_springs.load_from_table": ("table_height", "table_load"),
}
"""Arguments that all cases share: many faces are read at the same points."""


def fields(result: Any) -> dict[str, np.ndarray]:
    """The results by name; a plain one has no name."""
    named = result._asdict() if hasattr(result, "_asdict") else {"": result}
    return {name: np.asarray(value) for name, value in named.items()}


def may_vary(card: Card, given: Cases) -> set[str]:
    """Arguments that may be a little larger or smaller, alone and all together: counts and words may not."""
    words = {symbol.name for symbol in card.arguments if symbol.unit == WORD}
    kept = words | set(HELD.get(card.key, ()))
    numbers = [name for name, value in given.items() if name not in kept and not isinstance(value, str)]

    def holds(names: list[str]) -> bool:
        try:
            for step in STEPS:
                card.function(**{**given, **{name: np.multiply(given[name], step) for name in names}})
        except OutOfRange:
            return False
        return True

    free = [name for name in numbers if holds([name])]
    return set(free) if holds(free) else set()


def spread(value: Any, axis: int, axes: int, *, vary: bool, inner: int) -> np.ndarray:
    """The value three times, a little different each time where it may be, along one of the leading axes."""
    held = np.asarray(value, dtype=np.float64)
    steps = STEPS if vary else np.ones(3)
    shape = [1] * axes
    shape[axis] = 3
    return steps.reshape(*shape, *[1] * inner) * held.reshape(*[1] * (axes + inner - held.ndim), *held.shape)


def arrays(given: Cases, held: Sequence[str], free: set[str], axes: int, inner: int) -> Cases:
    """Each number spread along one of the leading axes in turn; an array keeps its own axes, last."""
    found: Cases = {}
    for place, (name, value) in enumerate(given.items()):
        if isinstance(value, str) or name in held:
            found[name] = value
            continue
        own = max(inner, np.ndim(value))
        found[name] = spread(value, place % axes, axes, vary=name in free, inner=own)
    return found


def one_by_one(card: Card, given: Cases, free: set[str], axes: int) -> dict[tuple[int, ...], dict[str, np.ndarray]]:
    numbers = [name for name, value in given.items() if not isinstance(value, str)]
    order = {name: list(given).index(name) % axes for name in numbers}
    found = {}
    for index in np.ndindex(*[3] * axes):
        case = {
            name: np.multiply(given[name], STEPS[index[order[name]]]) if name in free else given[name]
            for name in numbers
        }
        # A scalar stays a plain float, as a caller gives it.
        plain = {name: value if np.ndim(value) else float(value) for name, value in case.items()}
        found[index] = fields(card.function(**{**given, **plain}))
    return found


def differences(card: Card, given: Cases, axes: int, inner: int) -> list[str]:
    """What is not the same, told in words; nothing when many at once are the same as one by one."""
    free = may_vary(card, given)
    try:
        together = fields(card.function(**arrays(given, HELD.get(card.key, ()), free, axes, inner)))
    except (ValueError, IndexError, TypeError, OutOfRange) as problem:
        return [f"{type(problem).__name__}: {problem}"]
    told = []
    for index, alone in one_by_one(card, given, free, axes).items():
        for name, value in alone.items():
            shape = (*[3] * axes, *(1,) * (inner - value.ndim), *value.shape)
            try:
                many = np.broadcast_to(together[name], shape)[index]
            except ValueError:
                return [f"{name}: shape {together[name].shape} in place of {shape}"]
            if not same(many.reshape(value.shape), value):
                told.append(f"{name}{index}: {many} in place of {value}")
    return told


def same(many: np.ndarray, alone: np.ndarray) -> bool:
    if many.dtype.kind in "fiub" and alone.dtype.kind in "fiub":
        return bool(np.allclose(many.astype(float), alone.astype(float), rtol=1e-9, atol=1e-15))
    return bool(np.all(many == alone))


CHECKED = [card for key, card in CARDS.items() if key not in ALONE]


@pytest.mark.parametrize("axes", [1, 2], ids=["one leading axis", "two leading axes that broadcast"])
@pytest.mark.parametrize("card", CHECKED, ids=[card.key for card in CHECKED])
def test_many_cases_at_once_are_the_cases_one_by_one(card: Card, axes: int) -> None:
    given = example_arguments(card)
    # An array of the example is either one case (the wheels of a drive) or many cases of a plain formula.
    deepest = max((np.ndim(value) for value in given.values() if not isinstance(value, str)), default=0)
    readings: list[Callable[[], list[str]]] = [lambda: differences(card, given, axes, 0)]
    if deepest:
        readings.append(lambda: differences(card, given, axes, deepest))
    told = [reading() for reading in readings]
    assert [] in told, told


@pytest.mark.parametrize("card", CARDS.values(), ids=list(CARDS))
def test_no_nan_comes_out_of_an_example_or_near_it(card: Card) -> None:
    given = example_arguments(card)
    free = may_vary(card, given)
    for step in STEPS:
        varied = {name: np.multiply(value, step) if name in free else value for name, value in given.items()}
        for name, value in fields(card.function(**varied)).items():
            assert value.dtype.kind not in "fc" or not np.isnan(value).any(), name


def test_a_formula_that_is_passed_over_is_a_formula() -> None:
    assert set(ALONE) | set(HELD) <= set(CARDS)
    assert all(set(held) <= {symbol.name for symbol in CARDS[key].arguments} for key, held in HELD.items())
