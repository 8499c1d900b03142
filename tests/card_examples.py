"""What the example of a card calls its formula with."""

import doctest

import numpy as np

from endfloat.cards import Card


def example_arguments(card: Card) -> dict[str, object]:
    """What the example calls the formula with: its own name stands for a recorder while the example runs."""
    given: list[dict[str, object]] = []

    def recorder(**arguments: object) -> object:
        given.append(arguments)
        return card.function(**arguments)

    [test] = [test for test in doctest.DocTestFinder(recurse=False).find(card.function) if test.examples]
    test.globs.update({"np": np, card.function.__name__: recorder})
    doctest.DocTestRunner(verbose=False).run(test, out=lambda _: None)
    return given[0]
