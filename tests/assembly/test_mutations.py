"""Orders of 30, 60 and 150 operations, each with twenty mutations that hold exactly one known violation."""

from random import Random

import pytest
from random_orders import engine_from, with_every_relation
from slow_checker import broken, broken_records

from endfloat.assembly.check import check

SIZES = (30, 60, 150)


def mutations(
    description: dict, hidden: list[str], seed: int, wanted: int = 20
) -> list[tuple[tuple[str, ...], str, int]]:
    """Orders with one step moved that break exactly one record, by the second checker; types in turn, rarest first."""
    chance = Random(seed)
    found: dict[str, dict[tuple[str, ...], int]] = {}
    for _ in range(6000):
        order = list(hidden)
        step = order.pop(at := chance.randrange(len(order)))
        order.insert(max(0, min(len(order), at + chance.choice([-9, -4, -3, -2, -1, 1, 2, 3, 4, 9]))), step)
        wrong = broken_records(description, tuple(order))
        if len(wrong) == 1 and list(found.get(wrong[0][0], {}).values()).count(wrong[0][1]) < 2:
            found.setdefault(wrong[0][0], {})[tuple(order)] = wrong[0][1]
    kinds = sorted(found, key=lambda kind: (len(found[kind]), kind))
    turns = [[(order, kind, index) for order, index in found[kind].items()] for kind in kinds]
    return [each[number] for number in range(wanted) for each in turns if number < len(each)][:wanted]


@pytest.mark.parametrize("steps", SIZES)
def test_twenty_mutations_each_hold_one_violation_that_is_found_and_named(steps: int) -> None:
    description, hidden = with_every_relation(1, steps=steps)
    engine = engine_from(description)
    assert check(engine, hidden) == []
    assert broken(description, tuple(hidden)) == set()
    known = mutations(description, hidden, seed=steps)
    assert len({order for order, _, _ in known}) == 20
    assert len({kind for _, kind, _ in known}) >= 8
    for order, kind, index in known:
        found = check(engine, order)
        assert {each.relation for each in found} == {kind}, found
        if kind == "safe_states":
            moving = {step for step in hidden if engine.operations[step].crank or engine.operations[step].cams}
            assert all(set(each.operations) <= moving for each in found)
            continue
        named = {step for _, step in getattr(engine.relations, kind)[index].named()}
        assert all(named & set(each.operations) for each in found)
        assert all(description["relations"][kind][index]["why"] in each.sentence for each in found)


@pytest.mark.parametrize("steps", SIZES)
def test_a_step_moved_out_of_the_safe_pairs_is_the_only_thing_told(steps: int) -> None:
    description, hidden = with_every_relation(1, steps=steps)
    cams = next(step for step in hidden if "cams" in description["operations"][step])
    description = {**description, "relations": {}}
    order = (cams, *(step for step in hidden if step != cams))
    assert broken(description, order) == {"safe_states"}
    assert check(engine_from(description), order)[0].operations == (cams,)
