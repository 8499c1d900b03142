"""A price list, and everything that can be wrong with one."""

import pytest

from cast import V8, example
from endfloat.decision.prices import Prices, read_prices

GOOD = (V8 / "prices.yaml").read_text()


def test_prices_are_exact_hundredths() -> None:
    prices = example()[2]
    assert prices.items["pistons-025"].price == 76_000
    assert prices.shown(267_550) == "2,675.50 crowns"
    assert prices.shown(267_500) == "2,675 crowns"


@pytest.mark.parametrize(
    ("old", "new", "code", "words"),
    [
        ("price: 560.00", "price: cheap", "no_price", "two decimals"),
        ("price: 560.00", "price: 560.005", "no_price", "two decimals"),
        ("price: 560.00", "price: -560", "no_price", "two decimals"),
        ("days: 4", "days: soon", "no_days", "whole working days"),
        ("  rebore:", "  rebor:", "no_price", "Did you mean `rebor`"),
        ("days: 4", "days: 4, colour: red", "unknown_word", "colour"),
        ("currency: crowns", "money: crowns", "not_prices", "currency"),
    ],
)
def test_each_error_says_what_to_do(old: str, new: str, code: str, words: str) -> None:
    assert old in GOOD
    answer = read_prices(GOOD.replace(old, new, 1).encode(), name="prices.yaml", engine=example()[0])
    assert isinstance(answer, list)
    assert [problem.code for problem in answer] == [code]
    assert words in answer[0].text()


def test_the_shipped_list_is_complete() -> None:
    assert isinstance(read_prices(GOOD.encode(), name="prices.yaml", engine=example()[0]), Prices)
