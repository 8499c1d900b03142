"""Every kind of bad strip gets a message with place, found, expected and remedy; the caret stands on the word."""

import pytest

from endfloat.decision.prices import read_prices
from endfloat.engine.model import Engine
from endfloat.engine.proofread import read_engine, still_to_look_up
from endfloat.problems import Problem

GOOD = """\
name: Test twin
layout: twin
places: {cylinder: {names: [1, 2], bank: {left: [1], right: [2]}}}
characteristics:
  float: {of: crank, at: cylinder, method: dial gauge}
  stroke: {of: crank, at: cylinder, method: drawing, given: 80 mm}
decisions:
  gasket: {owner: head, title: The gasket, options: {new: {title: a new one, class: replace, catalogue: [gasket]}}}
operations: {head_on: {title: Head on, minutes: 5}}
joints:
  head:
    title: Head to block
    closes: the gasket
    page: 12
    drawing: {view: seen from above, front: left, outline: [[0 mm, 0 mm], [90 mm, 0 mm], [90 mm, 40 mm]]}
    bolts: {long: {thread: M8x1.25, length: 60 mm, class: 8.8, single_use: false}}
    fasteners: [{number: 1, bolt: long, x: 10 mm, y: 10 mm}, {number: 2, bolt: long, x: 40 mm, y: 10 mm}]
    sequence: [2, 1]
    passes: [{amount: 20 N·m, page: 12}]
strip:
  cover:
    title: Cover off
    parts: [cover]
    fasteners: [{sort: M6x20, count: 4}, {sort: M6x20, where: rear, count: 2}]
  head:
    title: Head off
    bank: left
    parts: [{part: head, label: HEAD}, {part: gasket, label: GASKET}]
    after: [cover]
    slackens: {joint: head, order: [1, 2], how: in one go}
    as_found: [{of: float, at: [1]}, {asks: How loud was it}]
    orientation:
      {asks: The tab points, view: above, choices: [{words: ahead, points: front}, {words: astern, points: rear}]}
    void: [{part: gasket, decided_by: gasket}, {part: ring, quantity: 2, buy: ring}]
    gates: {clean: {how: wash, holds: [head_on]}}
    back: [head_on]
"""


def problems(text: str) -> list[Problem]:
    read = read_engine(text.encode(), name="engine.yaml")
    assert isinstance(read, list), "the file was accepted"
    return read


def test_a_right_strip_is_read() -> None:
    engine = read_engine(GOOD.encode(), name="engine.yaml")
    assert isinstance(engine, Engine), engine
    assert list(engine.strip) == ["cover", "head"]
    assert engine.strip["cover"].parts[0].label == "cover"
    assert [each.name for each in engine.strip["cover"].fasteners] == ["M6x20", "M6x20, rear"]


@pytest.mark.parametrize(
    ("old", "new", "code", "words"),
    [
        ("bank: left\n    parts", "bank: lift\n    parts", "unknown_bank", "Did you mean `left`?"),
        ("after: [cover]", "after: [cower]", "unknown_removal", "Did you mean `cover`?"),
        ("after: [cover]", "after: [head]", "not_yet_off", "`head` itself"),
        ("after: [cover]", "after: [cover, cover]", "named_twice", "`cover` 2 times"),
        ("parts: [cover]\n", "parts: [cover]\n    after: [head]\n", "not_yet_off", "stands below `cover`"),
        ("back: [head_on]", "back: [head_off]", "unknown_operation", "Did you mean `head_on`?"),
        ("holds: [head_on]", "holds: [head_in]", "unknown_operation", "Did you mean `head_on`?"),
        ("{of: float, at: [1]}", "{of: flout, at: [1]}", "unknown_characteristic", "Did you mean `float`?"),
        ("{of: float, at: [1]}", "{of: float, at: [3]}", "unknown_place", "`3`"),
        ("{of: float, at: [1]}", "{of: stroke}", "given_measured", "which the description gives"),
        ("{of: float, at: [1]}", "{of: float, asks: And how}", "of_or_asks", "both `of` and `asks`"),
        ("{of: float, at: [1]}", "{why: no}", "of_or_asks", "neither `of` nor `asks`"),
        ("{asks: How loud was it}", "{asks: How loud was it, at: [1]}", "at_without_of", "in the question itself"),
        ("{of: float, at: [1]}", "{asks: How loud was it}", "named_twice", "Ask each question once."),
        ("decided_by: gasket", "decided_by: gaskets", "unknown_decision", "Did you mean `gasket`?"),
        ("label: GASKET", "label: HEAD", "named_twice", "what tells it from the other"),
        ("where: rear, ", "", "named_twice", "`M6x20` 2 times"),
        ("words: astern", "words: ahead", "choices_alike", "two pictures"),
        ("points: rear", "points: front", "choices_alike", "two pictures"),
        ("points: rear", "points: left", "wrong_value", "front"),
        ("{joint: head, order", "{joint: herd, order", "unknown_joint", "Did you mean `head`?"),
        ("order: [1, 2]", "order: [1, 3]", "unknown_fastener", "`3`"),
        ("order: [1, 2]", "order: [1, 1]", "named_twice", "bolt 1 2 times"),
        ("count: 4", "count: 0", "wrong_value", "greater than or equal to 1"),
        ("quantity: 2", "quantity: 0", "wrong_value", "greater than or equal to 1"),
        ("gates: {clean:", "gates: {polish:", "wrong_value", "clean"),
        ("parts: [cover]", "parts: []", "wrong_value", "at least 1"),
        ("title: Cover off", "titel: Cover off", "unknown_word", "Did you mean `title`?"),
        (", {words: astern, points: rear}", "", "wrong_value", "at least 2"),
    ],
)
def test_a_wrong_strip_says_where_what_and_what_to_do(old: str, new: str, code: str, words: str) -> None:
    assert GOOD.count(old) == 1, old
    found = problems(GOOD.replace(old, new))
    assert code in [each.code for each in found], [each.text() for each in found]
    problem = next(each for each in found if each.code == code)
    assert words in problem.text()
    assert problem.place.startswith("engine.yaml:")
    line = int(problem.place.split(":")[1])
    assert line > GOOD[: GOOD.index("strip:")].count("\n")
    assert problem.line_text


def test_a_blank_order_of_slackening_is_still_to_look_up() -> None:
    text = GOOD.replace("order: [1, 2], how: in one go", "order: , how: in one go, page: 13")
    engine = read_engine(text.encode(), name="engine.yaml")
    assert isinstance(engine, Engine)
    assert "Head off, order of slackening, page 13" in still_to_look_up(engine)


PRICES = """\
currency: crowns
items:
  gasket: {title: gasket, price: 1, days: 1}
  ring: {title: ten rings, price: 1, days: 1, pieces: 10}
"""


@pytest.mark.parametrize(
    ("old", "new", "code", "words"),
    [
        ("  ring: {title: ten rings, price: 1, days: 1, pieces: 10}\n", "", "no_price", "no `ring`, which strip.head"),
        ("pieces: 10", "pieces: 0", "no_pieces", "how many parts one purchase holds"),
        ("pieces: 10", "pieces: ten", "no_pieces", "`ten`"),
    ],
)
def test_the_price_list_names_what_the_strip_buys(old: str, new: str, code: str, words: str) -> None:
    engine = read_engine(GOOD.encode(), name="engine.yaml")
    assert isinstance(engine, Engine)
    good = read_prices(PRICES.encode(), name="prices.yaml", engine=engine)
    assert not isinstance(good, list)
    assert good.items["ring"].pieces == 10
    found = read_prices(PRICES.replace(old, new).encode(), name="prices.yaml", engine=engine)
    assert isinstance(found, list)
    assert [each.code for each in found] == [code]
    assert words in found[0].text()
