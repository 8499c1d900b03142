"""What removal makes void is priced once, beside the plan, and what has no price is said to have none."""

from dataclasses import replace

import pytest

from cast import EXAMPLES, FERRY, V8, example
from endfloat.decision.prices import Item
from endfloat.decision.void import Renewal, renewal, renewal_of, void_told, whole_strip
from endfloat.engine.model import Engine

PLAN = {"gasket": "standard", "head_bolts": "renew", "main_shells": "standard"}


def changed(engine: Engine, removal: str, **of_void: object) -> Engine:
    """The engine with the first void part of a removal described otherwise."""
    step = engine.strip[removal]
    first = step.void[0].model_copy(update=of_void)
    return engine.model_copy(
        update={"strip": {**engine.strip, removal: step.model_copy(update={"void": [first, *step.void[1:]]})}}
    )


def cost(engine: Engine, choice: dict[str, str]) -> int:
    return renewal_of(engine, example()[2], choice).cost(example()[2])


def test_a_full_strip_of_the_eight_costs_301_crowns_on_top_of_its_plan() -> None:
    """By hand from the price list: 18 + 24 + 32 + 9 + 46 + 38 + 64 + 70."""
    engine, _, prices = example()
    bought = renewal_of(engine, prices, PLAN)
    assert bought.cost(prices) == 30_100
    assert bought.without_price == ()
    told = void_told(prices, bought, 267_500, 300_000)
    assert (told.price, told.together) == ("301 crowns", "2,976 crowns to 3,301 crowns")
    assert void_told(prices, bought, 267_500, None).together == "2,976 crowns or more"
    assert ("set of thirty-two stem seals", "16 × left stem seal, 16 × right stem seal", "38 crowns") in told.rows


@pytest.mark.parametrize("folder", [EXAMPLES / "tolvenny-1185", FERRY], ids=lambda folder: folder.name)
def test_where_decisions_buy_all_that_is_void_nothing_comes_on_top(folder) -> None:
    engine, _, prices = example(folder)
    choice = {name: list(decision.options)[-1] for name, decision in engine.decisions.items()}
    assert whole_strip(engine)
    assert renewal_of(engine, prices, choice) == Renewal()
    assert void_told(prices, Renewal(), 100, 100).price == ""


def test_a_line_that_the_plan_buys_is_not_counted_twice() -> None:
    engine = changed(example()[0], "damper", buy="head-bolts")
    assert cost(engine, PLAN) == 30_100 - 900, "the plan buys that line: the damper bolt costs nothing more"
    kept = engine.model_copy(update={"decisions": {k: v for k, v in engine.decisions.items() if k != "head_bolts"}})
    assert cost(kept, {"gasket": "standard"}) == 30_100 - 900 + 16_000


def test_what_a_decision_buys_is_left_to_the_plan_and_to_its_own_line_when_the_plan_buys_none() -> None:
    engine = changed(example()[0], "manifold", decided_by="bore_set")
    bores = {**PLAN, "bore_set": "as_is"}
    assert cost(engine, bores) == 30_100, "boring or not, nothing of the plan buys a manifold gasket"
    undecided = renewal(engine, example()[2], None, whole_strip(engine))
    assert "manifold-gaskets" not in {line.item for line in undecided.lines}


def test_what_nothing_is_named_for_is_said_to_have_no_price() -> None:
    engine, _, prices = example()
    bare = changed(engine, "manifold", buy="")
    bought = renewal_of(bare, prices, PLAN)
    assert bought.cost(prices) == 30_100 - 2_400
    assert void_told(prices, bought, 0, 0).without_price == "2 × manifold gasket"


def test_pieces_of_all_removals_share_whole_purchases() -> None:
    engine, _, prices = example()
    fewer = replace(prices, items={**prices.items, "stem-seals": Item("ten stem seals", 1_000, 1, "", 10)})
    [line] = [each for each in renewal_of(engine, fewer, PLAN).lines if each.item == "stem-seals"]
    assert line.times == 4, "32 pieces in boxes of ten"


def test_what_comes_slowly_is_told_in_days() -> None:
    engine, _, prices = example(V8)
    assert renewal_of(engine, prices, PLAN).days(prices) == 3
