"""The checker and the search against a second checker and against trying every order."""

from itertools import pairwise, permutations

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


@settings(max_examples=25)
@given(description=descriptions(steps=9, most=4))
def test_of_all_orders_of_nine_operations_none_is_cheaper(description: dict) -> None:
    chains = ["abcd", "efgh"]
    description["relations"].setdefault("before", []).extend(
        {"first": first, "then": then} for chain in chains for first, then in pairwise(chain)
    )
    legal = [order for order in interleaved(*chains, "i") if not broken(description, order)]
    engine = engine_of(description)
    found = NoOrder(proved=True) if circle(engine) else build_order(engine)
    if not legal:
        assert found == NoOrder(proved=True)
        return
    assert isinstance(found, BuildOrder)
    assert found.operations in legal
    assert found.proved
    assert found.cost == min(cost(description, order) for order in legal)


def interleaved(*chains: str) -> list[tuple[str, ...]]:
    """Every order of all letters that keeps the order within each chain."""
    if not any(chains):
        return [()]
    return [
        (chain[0], *rest)
        for number, chain in enumerate(chains)
        if chain
        for rest in interleaved(*chains[:number], chain[1:], *chains[number + 1 :])
    ]


@settings(max_examples=40)
@given(description=descriptions(most=6), cap=st.integers(1, 3))
def test_under_a_narrow_cap_the_bound_still_holds_and_proved_is_never_claimed_wrongly(
    description: dict, cap: int
) -> None:
    legal = [order for order in permutations(description["operations"]) if not broken(description, order)]
    engine = engine_of(description)
    if circle(engine):
        return
    found = build_order(engine, cap=cap)
    if isinstance(found, NoOrder):
        assert not (found.proved and legal)
        return
    least = min(cost(description, order) for order in legal)
    assert found.bound <= least <= found.cost
    assert not found.proved or found.cost == least


@settings(max_examples=40)
@given(description=descriptions(most=6), data=st.data())
def test_taking_a_relation_away_never_makes_the_best_order_dearer(description: dict, data: st.DataObject) -> None:
    engine = engine_of(description)
    if circle(engine) or not description["relations"]:
        return
    found = build_order(engine)
    if isinstance(found, NoOrder):
        return
    # A visit is not only a limit: a helper who stays between two steps is called once, not twice.
    kinds = sorted(set(description["relations"]) - {"second_person"})
    if kinds:
        kind = data.draw(st.sampled_from(kinds))
        fewer = {**description["relations"], kind: description["relations"][kind][1:]}
        without = build_order(engine_of({**description, "relations": fewer}))
        assert isinstance(without, BuildOrder)
        assert without.cost <= found.cost


@settings(max_examples=60)
@given(description=descriptions(most=6))
def test_every_beginning_of_an_order_found_keeps_every_relation(description: dict) -> None:
    engine = engine_of(description)
    found = NoOrder(proved=True) if circle(engine) else build_order(engine)
    if isinstance(found, BuildOrder):
        for length in range(len(found.operations) + 1):
            assert check(engine, found.operations[:length]) == []


@settings(max_examples=60)
@given(description=descriptions(most=6), data=st.data())
def test_the_order_of_lines_in_the_file_plays_no_part(description: dict, data: st.DataObject) -> None:
    steps = data.draw(st.permutations(list(description["operations"].items())))
    relations = {kind: list(reversed(records)) for kind, records in reversed(description["relations"].items())}
    shuffled = engine_of({**description, "operations": dict(steps), "relations": relations})
    engine = engine_of(description)
    if circle(engine):
        assert [each.sentence for each in circle(shuffled)] == [each.sentence for each in circle(engine)]
    else:
        assert build_order(shuffled) == build_order(engine)
