"""Passes, checks and sorts of bolt in a description: what is blank is counted, what contradicts itself is refused."""

import pytest

from endfloat.engine.model import Engine
from endfloat.engine.proofread import read_engine, still_to_look_up
from endfloat.problems import Problem

GOOD = """\
name: Test twin
layout: twin
places: {cylinder: {names: [1, 2]}}
characteristics: {}
joints:
  cover:
    title: Cover to case
    closes: the case
    page: 12
    drawing: {view: seen from above, front: left, outline: [[0 mm, 0 mm], [90 mm, 0 mm], [90 mm, 40 mm]]}
    bolts:
      long:
        thread: M8x1.25
        length: 60 mm
        class: 8.8
        single_use: false
        lubrication: {thread: oil, head: oil, page: 11, lowest: 0.08, highest: 0.18}
        face: {across: 13 mm, hole: 9 mm, page: 11}
        grip: {length: 50 mm, modulus: 205 GPa, parts: 5, page: 11}
        page: 11
      short: {thread: M6x1, length: 20 mm, class: 8.8, single_use: false, page: 11}
    fasteners:
      - {number: 1, bolt: long, x: 10 mm, y: 10 mm}
      - {number: 2, bolt: short, x: 40 mm, y: 10 mm}
      - {number: 3, bolt: long, x: 70 mm, y: 10 mm}
    sequence: [2, 1, 3]
    passes:
      - {amount: 5 N·m, bolts: [long], page: 12}
      - {amounts: {long: 20 N·m, short: 9 N·m}, sequence: [3, 2, 1], page: 13}
      - {amount: 60 °, bolts: [long], page: 13}
    checks:
      flush: {asks: How proud?, after_pass: 1, at: [front], reads: length, high: 0.1 mm, page: 14,
              failed: {slacken: all, renew: none, start_again_at: 1, page: 14}}
    undone: {slacken: all, renew: none, start_again_at: 1, page: 15}
"""


def problems(text: str) -> list[Problem]:
    read = read_engine(text.encode(), name="engine.yaml")
    assert isinstance(read, list), "the file was accepted"
    return read


def engine(text: str) -> Engine:
    read = read_engine(text.encode(), name="engine.yaml")
    assert isinstance(read, Engine), [each.text() for each in read]
    return read


def test_the_good_joint_is_accepted_and_each_pass_knows_its_bolts_and_amounts() -> None:
    joint = engine(GOOD).joints["cover"]
    assert [joint.order(number) for number in (1, 2, 3)] == [("1", "3"), ("3", "2", "1"), ("1", "3")]
    assert [amount.text for sort in ("long", "short") if (amount := joint.amount_for(2, sort))] == ["20 N·m", "9 N·m"]


@pytest.mark.parametrize(
    ("old", "new", "code", "caret", "words"),
    [
        ("amount: 5 N·m, bolts: [long]", "amount: 5 N·m, bolts: [lang]", "unknown_bolt", "lang", "Did you mean `long`"),
        ("{long: 20 N·m, short: 9", "{lang: 20 N·m, short: 9", "unknown_bolt", "lang", "Did you mean `long`"),
        ("short: 9 N·m}", "short: 9 mm}", "wrong_unit", "short: 9 mm", "torque"),
        ("sequence: [3, 2, 1]", "bolts: [long], sequence: [3, 2, 1]", "covered_twice", "sequence", "Remove `bolts`"),
        ("sequence: [3, 2, 1]", "sequence: [3, 2, 3]", "sequence_repeats", "3]", "each bolt once"),
        ("amounts: {long: 20 N·m, short: 9 N·m}, sequence: [3, 2, 1]", "amount: 9 N·m, bolts: [long]", "in_no_pass",
         "passes", "no pass for bolt 2"),
        (", sequence: [3, 2, 1], page: 13}", "}", "missing", "{amounts", "page"),
        ("after_pass: 1, at", "after_pass: 4, at", "unknown_pass", "after_pass", "a pass from 1 to 3"),
        ("reads: length, ", "", "limit_of_a_look", "high", "reads: length"),
        ("high: 0.1 mm, page", "low: 0.3 mm, high: 0.1 mm, page", "limits_reversed", "low", "low below high"),
        ("high: 0.1 mm, page", "high: 3 N·m, page", "wrong_unit", "high", "length"),
        ("failed: {slacken: all", "failed: {slacken: this one", "no_one_bolt", "failed", "`all`"),
        ("undone: {slacken: all", "undone: {slacken: this one", "no_one_bolt", "undone", "`all`"),
        ("lowest: 0.08", "lowest: 0.18", "no_interval", "highest", "a highest above the lowest"),
        ("across: 13 mm", "across: 9 mm", "face_in_its_hole", "across", "wider"),
        ("modulus: 205 GPa", "modulus: 205 mm", "wrong_unit", "modulus", "pressure"),
        ("parts: 5", "parts: 0", "not_above_nought", "parts", "more than nought"),
    ],
)  # fmt: skip
def test_each_contradiction_says_where_and_what_to_do(old: str, new: str, code: str, caret: str, words: str) -> None:
    assert old in GOOD
    found = [problem for problem in problems(GOOD.replace(old, new)) if problem.code == code]
    assert found, [problem.text() for problem in problems(GOOD.replace(old, new))]
    assert words in found[0].text()
    assert found[0].line_text[found[0].column - 1 :].startswith(caret)


def test_blank_amounts_orders_and_limits_are_counted_each_with_its_page_where_one_is_named() -> None:
    blank = (
        GOOD.replace("sequence: [2, 1, 3]\n", "sequence:\n")
        .replace("short: 9 N·m}, sequence: [3, 2, 1]", "short: }, sequence: ")
        .replace("amount: 60 °, bolts: [long], page: 13", "amount: , bolts: [long]")
        .replace("high: 0.1 mm, page: 14", "page: 14")
    )
    assert still_to_look_up(engine(blank)) == [
        "Cover to case, lubrication of short, page 11",
        "Cover to case, sequence, page 12",
        "Cover to case, pass 2, short, page 13",
        "Cover to case, sequence of pass 2, page 13",
        "Cover to case, limit of the check after pass 1, page 14",
        "Cover to case, pass 3",
    ]
