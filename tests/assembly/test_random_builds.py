"""Random descriptions: what is released is sound, and what is said to have no order has none."""

from random_builds import outcomes

SEEDS = 5_000


def test_of_random_descriptions_none_gets_a_wrong_order_and_none_is_wrongly_refused() -> None:
    found = outcomes(SEEDS)
    assert [words for words in found if words.startswith("WRONG")] == []
    released = sum(number for words, number in found.items() if words.startswith("released"))
    assert SEEDS // 3 < released < SEEDS
    assert found["no order, with a chain of sentences"] > SEEDS // 10
