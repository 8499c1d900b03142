"""Every kind of bad joint gets a message with place, found, expected and remedy; the caret stands on the word."""

from pathlib import Path

import pytest

import endfloat.examples
from endfloat.engine.model import Engine
from endfloat.engine.proofread import read_engine, still_to_look_up
from endfloat.problems import Problem

GOOD = """\
name: Test twin
layout: twin
places:
  cylinder: {names: [1, 2], bank: {left: [1], right: [2]}}
characteristics: {}
joints:
  head:
    title: Head to block
    bank: left
    closes: the gasket
    page: 12
    drawing: {view: seen from above, front: left, outline: [[0 mm, 0 mm], [90 mm, 0 mm], [90 mm, 40 mm]]}
    bolts:
      long: {thread: M8x1.25, length: 60 mm, class: 8.8, single_use: true, page: 11}
    fasteners:
      - {number: 1, bolt: long, x: 10 mm, y: 10 mm}
      - {number: 2, bolt: long, x: 40 mm, y: 10 mm}
      - {number: 3, bolt: long, x: 70 mm, y: 10 mm}
      - {number: 4, bolt: long, x: 80 mm, y: 30 mm, apart: {amount: 9 N·m, after_pass: 2, page: 12}}
    sequence: [2, 1, 3]
    passes: [{amount: 20 N·m, page: 12}, {amount: 90 °, page: 12}]
    interrupted:
      inside_pass: {longest: 20 min, slacken: all, renew: set, start_again_at: 1, page: 13}
    felt_wrong:
      slipped: {slacken: this one, renew: none, start_again_at: 2, page: 13}
"""


def problems(text: str) -> list[Problem]:
    read = read_engine(text.encode(), name="engine.yaml")
    assert isinstance(read, list), "the file was accepted"
    return read


def test_a_right_joint_is_read() -> None:
    engine = read_engine(GOOD.encode(), name="engine.yaml")
    assert isinstance(engine, Engine)
    assert engine.joints["head"].sequence == ["2", "1", "3"]
    assert still_to_look_up(engine) == ["Head to block, lubrication of long, page 11"]


@pytest.mark.parametrize(
    ("old", "new", "code", "caret", "words"),
    [
        ("sequence: [2, 1, 3]", "sequence: [2, 1]", "sequence_misses", "sequence", "without bolt 3"),
        ("sequence: [2, 1, 3]", "sequence: [2, 1, 3, 1]", "sequence_repeats", "1]", "bolt 1 a second time"),
        ("sequence: [2, 1, 3]", "sequence: [2, 1, 3, 7]", "unknown_fastener", "7]", "`7`"),
        ("sequence: [2, 1, 3]", "sequence: [2, 1, 3, 4]", "pulled_apart", "4]", "remove its `apart`"),
        ("bank: left\n", "bank: lefft\n", "unknown_bank", "bank: lefft", "`left`"),
        ("20 N·m", "20 mm", "wrong_unit", "amount: 20", "mm measures length, not torque"),
        ("90 °", "-90 °", "not_above_nought", "amount: -90", "more than nought"),
        ("9 N·m", "9 s", "wrong_unit", "amount: 9", "not torque"),
        ("20 min", "20 mm", "wrong_unit", "longest", "time"),
        ("x: 40 mm", "x: 40 N", "wrong_unit", "x: 40 N", "length"),
        ("length: 60 mm", "length: 60", "missing_unit", "length: 60", "length"),
        ("[90 mm, 40 mm]", "[90 mm, 40 s]", "wrong_unit", "[90 mm, 40 s]", "length"),
        ("x: 40 mm", "x: 10 mm", "same_place", "{number: 2", "where bolt 1 stands"),
        ("number: 3", "number: 2", "number_twice", "number: 2, bolt: long, x: 70", "number of its own"),
        ("number: 1, bolt: long", "number: 1, bolt: lonk", "unknown_bolt", "bolt: lonk", "`long`"),
        ("after_pass: 2", "after_pass: 3", "unknown_pass", "after_pass", "from 1 to 2"),
        ("renew: none, start_again_at: 2", "renew: none, start_again_at: 5", "unknown_pass", "start_again", "pass 5"),
        ("slacken: all, renew: set", "slacken: none, renew: set", "renewed_but_tight", "inside_pass", "slackened"),
        ("slacken: all, renew: set", "slacken: this one, renew: none", "no_one_bolt", "inside_pass", "whole joint"),
        ("none, start_again_at: 2", "this one, start_again_at: 2", "new_bolt_needs_pass_1", "start", "no pass"),
        ("felt_wrong:\n      slipped", "felt_wrong:\n      slid", "wrong_value", "slid", "slipped"),
        ("single_use: true", "singel_use: true", "unknown_word", "singel_use", "`single_use`"),
        (", page: 12}, {amount: 90", "}, {amount: 90", "missing", "{amount: 20", "page"),
    ],
)  # fmt: skip
def test_each_bad_joint_says_where_and_what_to_do(old: str, new: str, code: str, caret: str, words: str) -> None:
    assert GOOD.count(old) == 1
    found = [problem for problem in problems(GOOD.replace(old, new)) if problem.code == code]
    assert len(found) == 1
    assert words in found[0].text()
    assert found[0].line_text[found[0].column - 1 :].startswith(caret)


def test_a_bolt_that_stands_nowhere_is_found() -> None:
    spare = "      short: {thread: M6x1, length: 20 mm, class: 8.8, single_use: false}\n"
    text = GOOD.replace("    fasteners:\n", spare + "    fasteners:\n")
    assert [problem.code for problem in problems(text)] == ["bolt_without_place"]


def test_a_blank_amount_is_still_to_look_up_in_page_order() -> None:
    engine = read_engine(GOOD.replace("20 N·m", "").replace("9 N·m", "").encode(), name="engine.yaml")
    assert isinstance(engine, Engine)
    assert still_to_look_up(engine) == [
        "Head to block, lubrication of long, page 11",
        "Head to block, bolt 4, page 12",
        "Head to block, pass 1, page 12",
    ]


def test_the_two_heads_of_the_demonstration_are_written_out_and_differ_in_sequence() -> None:
    path = Path(endfloat.examples.__file__).parent / "wrenhallow-90-8" / "engine.yaml"
    engine = read_engine(path.read_bytes(), name="engine.yaml")
    assert isinstance(engine, Engine)
    left, right = engine.joints["left_head"], engine.joints["right_head"]
    assert left.sequence != right.sequence
    for head in (left, right):
        assert len(head.sequence) == 10
        assert [each.amount.text for each in head.passes if each.amount] == ["25 N·m", "90 °", "90 °"]
        assert len(head.easily_missed) == 3
        assert {head.bolts[each.bolt].thread for each in head.easily_missed} == {"M8x1.25"}
        assert head.single_use
