"""Sub-assemblies are planned on their own and merged; what holds between them holds in the merged order."""

import pytest
from descriptions import descriptions, engine_of
from hypothesis import given, settings
from random_orders import merged_chains
from slow_checker import broken, cost

from cast import EXAMPLES, example
from endfloat.assembly import generate
from endfloat.assembly.check import check
from endfloat.assembly.generate import BuildOrder, NoOrder, build_order, plan_alone
from endfloat.assembly.sub_assemblies import alone, members, merged
from endfloat.engine.circles import circle
from endfloat.engine.model import Engine
from endfloat.engine.proofread import read_engine


@pytest.mark.parametrize("seed", range(3))
def test_three_merged_chains_of_a_hundred_and_fifty_steps_are_ordered_and_proved(seed: int) -> None:
    description, hidden = merged_chains(seed)
    engine = engine_of(description)
    assert len(engine.operations) == len(hidden) == 150
    assert broken(description, tuple(hidden)) == set()
    found = build_order(engine)
    assert isinstance(found, BuildOrder)
    assert found.proved
    assert broken(description, found.operations) == set()
    assert found.cost <= cost(description, tuple(hidden))


def test_a_sub_assembly_planned_alone_knows_only_its_own_steps_and_keeps_its_own_relations() -> None:
    engine = example(EXAMPLES / "wrenhallow-90-8")[0]
    found = plan_alone(engine, "left head")
    assert isinstance(found, BuildOrder)
    assert found.operations == ("left_seats", "left_stem_seals", "left_springs", "left_leak")
    assert found.proved
    assert sum(len(members(engine, name)) for name in engine.assemblies) == 18


def test_what_must_come_between_by_way_of_other_steps_holds_alone_too() -> None:
    steps = {"a": {"minutes": 1, "assembly": "x"}, "b": {"minutes": 1}, "c": {"minutes": 1, "assembly": "x"}}
    links = {"before": [{"first": "c", "then": "b"}, {"first": "b", "then": "a"}]}
    engine = engine_of({"operations": steps, "relations": links, "assemblies": {"x": {"title": "X"}}})
    assert check(alone(engine, "x"), ("a", "c")) != []
    assert plan_alone(engine, "x") == BuildOrder(("c", "a"), generate.Cost(0, 0, 0), True, generate.Cost(0, 0, 0))


def test_a_cure_inside_may_pass_while_others_work_on_the_whole() -> None:
    steps = {"a": {"minutes": 1, "assembly": "x"}, "b": {"minutes": 9}, "c": {"minutes": 1, "assembly": "x"}}
    clock = {"what": "bead", "starts": "a", "cure_minutes": 5, "not_before": ["c"]}
    relations = {"clocked": [clock]}
    engine = engine_of({"operations": steps, "relations": relations, "assemblies": {"x": {"title": "X"}}})
    plan = plan_alone(engine, "x")
    assert isinstance(plan, BuildOrder)
    assert plan.operations == ("a", "c")
    whole = build_order(merged(engine, {"x": plan.operations}))
    assert isinstance(whole, BuildOrder)
    assert whole.operations == ("a", "b", "c")


@settings(max_examples=40)
@given(description=descriptions(steps=6, most=4))
def test_a_merged_order_keeps_every_relation_of_the_whole_and_each_plan(description: dict) -> None:
    for number, step in enumerate(description["operations"].values()):
        step["assembly"] = ["left", "right", ""][number % 3]
    description["assemblies"] = {"left": {"title": "Left"}, "right": {"title": "Right"}}
    engine = engine_of(description)
    if circle(engine):
        return
    plans = {name: plan_alone(engine, name) for name in engine.assemblies}
    found = {name: plan.operations for name, plan in plans.items() if isinstance(plan, BuildOrder)}
    whole = merged(engine, found)
    assert not circle(whole)
    order = build_order(whole)
    if isinstance(order, BuildOrder):
        assert broken(description, order.operations) == set()
    if any(isinstance(plan, NoOrder) for plan in plans.values()):
        assert build_order(engine) == NoOrder(proved=True)


def test_the_plan_of_a_step_that_no_sub_assembly_describes_is_told_by_proofreading() -> None:
    raw = (
        (EXAMPLES / "wrenhallow-90-8" / "engine.yaml")
        .read_text()
        .replace("assembly: left head", "assembly: left hed", 1)
    )
    read = read_engine(raw.encode(), name="engine.yaml")
    assert not isinstance(read, Engine)
    assert [(each.code, each.found) for each in read] == [("unknown_assembly", "`left hed`")]
    assert "Did you mean `left head`?" in read[0].remedy
