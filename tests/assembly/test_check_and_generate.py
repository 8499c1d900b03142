"""The checker and the search against a second checker and against trying every order."""

from itertools import permutations

from descriptions import descriptions, engine_of
from hypothesis import given, settings
from hypothesis import strategies as st
from slow_checker import broken, cost

from endfloat.assembly.check import check
from endfloat.assembly.contradictions import contradiction
from endfloat.assembly.cost import cost_of
from endfloat.assembly.generate import BuildOrder, NoOrder, build_order
from endfloat.engine.circles import circle


@settings(max_examples=150)
@given(description=descriptions(), data=st.data())
def test_an_order_breaks_a_relation_exactly_when_the_second_checker_says_so(
    description: dict, data: st.DataObject
) -> None:
    order = tuple(data.draw(st.permutations(list(description["operations"]))))
    found = {violation.relation for violation in check(engine_of(description), order)}
    expected = broken(description, order)
    assert bool(found) == bool(expected)
    assert found <= expected


@settings(max_examples=150)
@given(description=descriptions(), data=st.data())
def test_calls_turns_and_changes_are_counted_as_the_second_counter_does(description: dict, data: st.DataObject) -> None:
    order = tuple(data.draw(st.permutations(list(description["operations"]))))
    assert cost_of(engine_of(description), order) == cost(description, order)


@settings(max_examples=60)
@given(description=descriptions())
def test_the_order_found_is_the_cheapest_of_all_and_no_order_is_found_only_where_there_is_none(
    description: dict,
) -> None:
    legal = [order for order in permutations(description["operations"]) if not broken(description, order)]
    engine = engine_of(description)
    found = NoOrder(proved=True) if circle(engine) else build_order(engine)
    if not legal:
        assert found == NoOrder(proved=True)
        return
    assert isinstance(found, BuildOrder)
    assert found.operations in legal
    assert found.proved
    assert found.cost == found.bound == min(cost(description, order) for order in legal)


@settings(max_examples=100)
@given(description=descriptions(most=7))
def test_what_is_proved_contradictory_has_no_order(description: dict) -> None:
    if contradiction(engine_of(description)):
        assert all(broken(description, order) for order in permutations(description["operations"]))
