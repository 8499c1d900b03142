"""Every kind of bad timing gets a message with place, found, expected and remedy; the caret stands on the word."""

import pytest

from cast import EXAMPLES, example
from endfloat.engine.model import Engine
from endfloat.engine.proofread import read_engine, still_to_look_up
from endfloat.problems import Problem

GOOD = """\
name: Test twin
layout: twin
places:
  cylinder: {names: [1, 2], bank: {left: [1], right: [2]}}
characteristics:
  late: {of: cam, at: cylinder, kind: angle, method: drawing, given: 0 °}
  gap: {of: cam, at: cylinder, method: drawing, given: 1 mm}
operations:
  capped: {title: Caps on, minutes: 5}
  lay: {title: Chain on, minutes: 5}
  turn: {title: Turn it, minutes: 5}
relations:
  clocked:
    - {what: settling, starts: capped, cure_minutes: 75, not_before: [turn], why: it holds its valve open}
    - {what: sealant, starts: capped, close_with: lay, open_minutes: 10, why: it leaks}
    - {what: cooling, starts: capped, cure_minutes: 20, not_before: [lay], why: it creeps}
timing:
  running_way: clockwise as seen from the front
  dead_centre: {cylinder: 1, seen: both valves are shut, throw: 40 mm, rod: 140 mm, offset: 2 mm, drop: 20 mm, page: 5}
  cams:
    left: {title: Left cam, bank: left, valve: intake, cylinder: 1, top_at: 360 °, reads: events,
      lift: 1.00 mm, centre: 108 °, low: 106 °, high: 110 °, opens: 6 °, closes: 42 °, teeth: 42,
      expected: {of: late, at: 1, words: after the skim}, page: 6}
    right: {title: Right cam, bank: right, valve: exhaust, cylinder: 2, top_at: 0 °, reads: centre,
      centre: 112 °, low: 110 °, high: 114 °, teeth: 40, page: 7}
  gate:
    tappets: {says: They have settled, short: tappets, clocks: [settling], page: 8}
    pins: {says: Pins are out, short: pins, page: 8}
  turns: 2
  turn_at: turn
  at: {turn: [left, right]}
  confirm_before: {lay: {says: They stand, cams: [left], page: 8}}
  opened_by: [lay]
  overshoot: {says: Go round., page: 9}
  longest_pause: 30 min
  alike: 1 °
  diagnosis:
    - {out: [left], whole_teeth: true, fits: a tooth}
    - {out: one bank, low: 1 °, high: 4 °, fits: a chain}
"""


def problems(text: str) -> list[Problem]:
    read = read_engine(text.encode(), name="engine.yaml")
    assert isinstance(read, list), "the file was accepted"
    return read


def test_a_right_timing_is_read() -> None:
    engine = read_engine(GOOD.encode(), name="engine.yaml")
    assert isinstance(engine, Engine), engine
    assert engine.timing is not None
    assert engine.timing.cams["left"].points == ("opens", "closes")
    assert [engine.timing.concerns(step) for step in ("capped", "lay", "turn", "")] == [False, True, True, False]


@pytest.mark.parametrize(
    ("old", "new", "code", "caret", "words"),
    [
        ("dead_centre: {cylinder: 1,", "dead_centre: {cylinder: 3,", "unknown_place", "cylinder: 3", "`3`"),
        ("throw: 40 mm", "throw: 40 °", "wrong_unit", "throw", "measures angle"),
        ("throw: 40 mm", "throw: -4 mm", "not_above_nought", "throw", "more than nought"),
        ("rod: 140 mm", "rod: 41 mm", "rod_too_short", "rod", "half the stroke"),
        ("drop: 20 mm", "drop: 90 mm", "drop_too_large", "drop", "to the stroke"),
        ("title: Left cam, bank: left", "title: Left cam, bank: lefft", "unknown_bank", "bank: lefft", "`left`"),
        ("intake, cylinder: 1", "intake, cylinder: 9", "unknown_place", "cylinder: 9", "`9`"),
        ("top_at: 360 °", "top_at: 360", "missing_unit", "top_at", "Type the unit"),
        ("lift: 1.00 mm", "lift: 0 mm", "not_above_nought", "lift", "more than nought"),
        ("low: 106 °, high: 110 °", "low: 110 °, high: 106 °", "no_interval", "high", "Exchange them"),
        ("centre: 112 °", "centre: 120 °", "centre_outside", "centre: 120", "without a minus"),
        ("closes: 42 °", "closes: 48 °", "centre_not_between", "centre: 108", "middle at 111.0 °"),
        ("{of: late, at: 1", "{of: lat, at: 1", "unknown_quantity", "of: lat,", "`late`"),
        ("{of: late, at: 1", "{of: gap, at: 1", "wrong_unit", "of: gap", "no angle"),
        ("{of: late, at: 1", "{of: late, at: 5", "unknown_place", "at: 5", "`5`"),
        ("teeth: 42", "teeth: 2", "wrong_value", "teeth: 2", "greater than or equal to 3"),
        ("valve: intake", "valve: inlet", "wrong_value", "valve: inlet", "'intake' or 'exhaust'"),
        ("clocks: [settling]", "clocks: [setling]", "unknown_clock", "setling]", "Did you mean `settling`?"),
        ("clocks: [settling]", "clocks: [settling, sealant]", "no_wait", "sealant]", "name another clock"),
        ("clocks: [settling]", "clocks: [cooling]", "wait_of_gate_only", "cooling]", "Add `turn` to its not_before"),
        ("clocks: [settling]", "waits: [settling]", "unknown_word", "waits", "says, short, clocks, page"),
        ("turn_at: turn", "turn_at: turm", "unknown_operation", "turn_at", "`turn`"),
        ("at: {turn: [left, right]}", "at: {tur: [left, right]}", "unknown_operation", "tur:", "`turn`"),
        ("at: {turn: [left, right]}", "at: {turn: [left, rigth]}", "unknown_cam", "rigth]", "`right`"),
        ("at: {turn: [left, right]}", "at: {turn: [left]}", "cam_never_read", "right: {title", "no step reads"),
        ("confirm_before: {lay:", "confirm_before: {lai:", "unknown_operation", "lai:", "`lay`"),
        ("cams: [left], page", "cams: [lift], page", "unknown_cam", "lift]", "`left`"),
        ("opened_by: [lay]", "opened_by: [lag]", "unknown_operation", "lag]", "`lay`"),
        ("longest_pause: 30 min", "longest_pause: 30 °", "wrong_unit", "longest_pause", "not time"),
        ("alike: 1 °", "alike: 0 °", "not_above_nought", "alike", "more than nought"),
        ("{out: [left]", "{out: [lefft]", "unknown_cam", "lefft]", "`left`"),
        ("whole_teeth: true, ", "", "one_size", "{out: [left]", "one of: low and high"),
        ("whole_teeth: true,", "whole_teeth: true, low: 1 °,", "one_size", "{out: [left]", "Keep one"),
        ("low: 1 °, high: 4 °", "low: 4 °, high: 1 °", "no_interval", "high: 1", "Exchange them"),
        ("low: 1 °, high: 4 °", "low: 1 mm, high: 4 °", "wrong_unit", "low: 1 mm", "length, not angle"),
        ("whole_teeth: true,", "whole_teeth: true, compares: opening and closing,", "one_size", "compares", "interval"),
        ("turns: 2", "turns: 0", "wrong_value", "turns: 0", "greater than or equal to 1"),
        ("short: pins, page: 8", "short: pins, pgae: 8", "unknown_word", "pgae", "`page`"),
        ("  cylinder: {names: [1, 2], bank", "  pot: {names: [1, 2], bank", "unknown_place", "timing:", "`cylinder`"),
    ],
)  # fmt: skip
def test_each_bad_timing_says_where_and_what_to_do(old: str, new: str, code: str, caret: str, words: str) -> None:
    assert GOOD.count(old) == 1, GOOD.count(old)
    found = [
        problem
        for problem in problems(GOOD.replace(old, new))
        if problem.code == code and problem.line_text[problem.column - 1 :].startswith(caret)
    ]
    assert len(found) == 1, [problem.text() for problem in problems(GOOD.replace(old, new))]
    assert words in found[0].text()


def test_one_bank_is_no_pattern_of_an_engine_in_one_row() -> None:
    text = GOOD.replace(", bank: left, valve", ", valve").replace(", bank: right, valve", ", valve")
    assert [problem.code for problem in problems(text)] == ["no_second_bank"]


def test_blanks_are_still_to_look_up_in_page_order() -> None:
    blank = GOOD.replace("centre: 108 °, low: 106 °, high: 110 °", "centre: , low: , high: ")
    blank = blank.replace("lift: 1.00 mm", "lift: ")
    engine = read_engine(blank.encode(), name="engine.yaml")
    assert isinstance(engine, Engine), engine
    assert still_to_look_up(engine) == [
        "Left cam, check lift, page 6",
        "Left cam, limits of the lobe centre, page 6",
        "Left cam, lobe centre, page 6",
    ]


@pytest.mark.parametrize(("folder", "cams"), [("wrenhallow-90-8", 4), ("tolvenny-1185", 2), ("ottermole-3-165", 1)])
def test_each_example_times_its_cams_at_steps_of_its_own_build(folder: str, cams: int) -> None:
    timing = example(EXAMPLES / folder)[0].timing
    assert timing is not None
    assert len(timing.cams) == cams
    assert {cam for each in timing.at.values() for cam in each} == set(timing.cams)
