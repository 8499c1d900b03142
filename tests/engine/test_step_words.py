"""Views, shown places and marks of a description: what is wrong is told with its line."""

import pytest

from cast import V8
from endfloat.engine.proofread import read_engine

TEXT = (V8 / "engine.yaml").read_text()


@pytest.mark.parametrize(
    ("before", "after", "code", "word"),
    [
        (
            "along: cylinder, rows: [right, left]}",
            "along: cylindre, rows: [right, left]}",
            "unknown_family",
            "cylinder",
        ),
        ("along: cylinder, rows: [left, right]}", "along: cylinder, rows: [left, wright]}", "unknown_bank", "right"),
        ("along: cylinder, rows: [left, right]}", "along: cylinder, rows: [left]}", "rows_of_banks", "each bank once"),
        ("shows: {cylinder: [6]}, mark", "shows: {cylinder: [9]}, mark", "unknown_place", "9"),
        ("shows: {cylinder: [6]}, mark", "shows: {cylnder: [6]}, mark", "unknown_family", "cylinder"),
    ],
)
def test_a_wrong_name_is_told_with_its_line_and_the_nearest_right_one(
    before: str, after: str, code: str, word: str
) -> None:
    assert before in TEXT
    text = TEXT.replace(before, after, 1)
    found = read_engine(text.encode(), name="engine.yaml")
    assert isinstance(found, list)
    problem = next(each for each in found if each.code == code)
    line = 1 + next(n for n, each in enumerate(text.splitlines()) if after in each)
    assert f":{line}" in problem.text() or f"line {line}" in problem.text()
    assert word in problem.text()
