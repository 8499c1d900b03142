"""The benchmarks run: a figure that nobody can take any more is found here and not on the day it is wanted."""

from collections.abc import Callable

import pytest
import speed


@pytest.mark.parametrize("group", [speed.showing, speed.judging], ids=lambda group: group.__name__)
def test_a_group_of_figures_is_taken(group: Callable[[], list[speed.Row]]) -> None:
    rows = group()
    assert rows
    assert all(taken > 0 for _, _, taken, _ in rows)
    assert all(not reach or float(reach) > 0 for _, reach, _, _ in rows)
