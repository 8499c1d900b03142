"""Clocks in a description that cannot run, each told with its line and what to do."""

import pytest

from endfloat.engine.model import Engine
from endfloat.engine.proofread import read_engine

GOOD = """\
name: Test single
layout: single
places: {cylinder: {names: [1]}}
characteristics: {}
operations:
  bead: {title: Bead, minutes: 1}
  cover: {title: Cover, minutes: 1}
relations:
  clocked:
    - {what: sealant, starts: bead, close_with: cover, open_minutes: 10, why: it leaks}
    - what: tappets
      starts: bead
      cure_minutes: 75
      not_before: [cover]
      why: it bends
      bands:
        - {at_least: 0 °C, below: 10 °C, minutes: 75}
        - {at_least: 10 °C, below: 30 °C, minutes: 20}
"""


def test_a_right_description_is_read() -> None:
    assert isinstance(read_engine(GOOD.encode(), name="engine.yaml"), Engine)


@pytest.mark.parametrize(
    ("old", "new", "code", "line", "words"),
    [
        (", close_with: cover, open_minutes: 10", "", "clock_without_end", 10, "Say which step ends"),
        ("what: tappets", "what: sealant", "clock_named_twice", 11, "Say which one it is"),
        ("starts: bead, close", "starts: baed, close", "unknown_operation", 10, "Did you mean `bead`?"),
        ("not_before: [cover]", "not_before: [covr]", "unknown_operation", 14, "Did you mean `cover`?"),
        ("at_least: 10 °C", "at_least: 30 °C", "wrong_band", 18, "the lower one first"),
        ("below: 30 °C", "below: 30 mm", "wrong_band", 18, "with their unit"),
        ("at_least: 10 °C", "at_least: 9 °C", "bands_overlap", 18, "where the one before ends"),
        ("cure_minutes: 75", "cure_minutes: 70", "minutes_of_no_band", 11, "70 minutes"),
        ("minutes: 20}", "minutes: 0}", "wrong_value", 18, "greater than or equal to 1"),
        ("below: 30 °C", "below: warm", "not_a_number", 18, "warm"),
        ("why: it leaks", "late: maybe, why: it leaks", "wrong_value", 10, "'shut' or 'told'"),
        ("why: it leaks", "late_dо: wipe, why: it leaks", "unknown_word", 10, "Did you mean `late_do`?"),
    ],
)
def test_a_clock_that_cannot_run_is_told(old: str, new: str, code: str, line: int, words: str) -> None:
    problems = read_engine(GOOD.replace(old, new, 1).encode(), name="engine.yaml")
    assert isinstance(problems, list)
    told = [each for each in problems if each.code == code]
    assert told, [each.text() for each in problems]
    assert told[0].place.startswith(f"engine.yaml:{line}:")
    assert words in told[0].text()
