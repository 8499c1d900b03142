"""Every kind of bad operation or relation gets a message with place, found, expected and remedy."""

import pytest

from endfloat.engine.model import Engine
from endfloat.engine.proofread import read_engine

GOOD = """\
name: Test twin
layout: twin
places:
  cylinder: {names: [1, 2], bank: {left: [1], right: [2]}}
characteristics:
  bore_size: {of: block, at: cylinder, method: two-point size}
  bore_new: {of: block, at: cylinder, method: two-point size, given: 86 mm}
quantities:
  wear: {at: cylinder, formula: fits.wear_of_hole, with: {size: bore_size, size_when_new: bore_new}}
operations:
  wash: {title: Wash, minutes: 10, measures: [bore_size]}
  fit: {title: Fit, minutes: 10, bank: left, closes: [the case]}
  lift: {title: Lift, minutes: 10, persons: 2}
  wait: {title: Wait, minutes: 60}
relations:
  before:
    - {first: wash, then: fit, why: dirt stays, page: 3}
  last_chance:
    - {do: lift, zone: the case, why: it is shut}
  second_person:
    - {operations: [lift], minutes: 20, why: he has to go}
  sides_differ:
    - {what: pins, sides: {left: [fit], right: []}, why: they look alike}
  clocked:
    - {what: bead, starts: fit, cure_minutes: 50, not_before: [wait], why: it leaks}
"""


def test_a_right_description_is_read() -> None:
    engine = read_engine(GOOD.replace("cure_minutes: 50", "cure_minutes: 1").encode(), name="engine.yaml")
    assert isinstance(engine, Engine)
    assert engine.operations["lift"].persons == 2


@pytest.mark.parametrize(
    ("old", "new", "code", "line", "words"),
    [
        ("then: fit", "then: fitt", "unknown_operation", 17, "Did you mean `fit`?"),
        ("not_before: [wait]", "not_before: [wiat]", "unknown_operation", 25, "Did you mean `wait`?"),
        ("left: [fit]", "left: [fiit]", "unknown_operation", 23, "`fit`"),
        ("then: fit", "then: wash", "named_twice", 17, "does not wait for itself"),
        ("zone: the case", "zone: the cse", "unknown_zone", 19, "Did you mean `the case`?"),
        ("operations: [lift]", "operations: [wash]", "helper_idle", 21, "persons: 2"),
        ("right: []", "right: [lift]", "wrong_side", 23, "a step of bank `right`"),
        ("cure_minutes: 50, ", "", "clock_without_end", 25, "nothing stops"),
        ("bank: left, closes", "bank: lft, closes", "unknown_bank", 12, "Did you mean `left`?"),
        ("measures: [bore_size]", "measures: [bore_sise]", "unknown_characteristic", 11, "`bore_size`"),
        ("measures: [bore_size]}", "measures: [{of: wear, again: true}]}", "again_derived", 11, "take `again` off"),
        ("minutes: 60", "minutes: soon", "wrong_value", 14, "integer"),
        ("title: Wait, ", "", "missing", 14, "title"),
        ("  before:", "  befor:", "unknown_word", 16, "Did you mean `before`?"),
        ("first: wash", "frist: wash", "unknown_word", 17, "Did you mean `first`?"),
        ("  wait: {", "  wash: {", "duplicate_key", 14, "second time"),
        (", why: dirt stays", "", "missing", 17, "why"),
        ("page: 3", "page: 3}\n    - {first: fit, then: wash, why: it drips", "circular_order", 17,
         "“Fit” comes before “Wash”"),
    ],
)  # fmt: skip
def test_each_error_of_meaning_says_where_and_what_to_do(old: str, new: str, code: str, line: int, words: str) -> None:
    assert GOOD.count(old) == 1
    read = read_engine(GOOD.replace(old, new).encode(), name="engine.yaml")
    assert isinstance(read, list), "the file was accepted"
    found = next((problem for problem in read if problem.code == code), None)
    assert found is not None, [problem.code for problem in read]
    assert found.place.startswith(f"engine.yaml:{line}:")
    assert words in found.text()


def test_a_circle_is_told_in_its_shortest_chain_of_sentences() -> None:
    more = "page: 3}\n    - {first: fit, then: lift, why: x}\n    - {first: lift, then: wait, why: x}\n"
    more += "    - {first: wait, then: wash, why: x}\n    - {first: fit, then: wash, why: it drips"
    read = read_engine(GOOD.replace("page: 3", more).replace("do: lift", "do: wait").encode(), name="engine.yaml")
    assert isinstance(read, list)
    assert [problem.code for problem in read] == ["circular_order"]
    assert "Take one of these 2 sentences back." in read[0].text()
