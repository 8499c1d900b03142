"""Every kind of bad engine file gets a message with place, found, expected and remedy."""

import pytest

from endfloat.engine.model import Engine
from endfloat.engine.proofread import read_engine, still_to_look_up
from endfloat.problems import Problem

GOOD = """\
name: Test twin
layout: twin
places:
  cylinder: {names: [1, 2]}
characteristics:
  bore_size: {of: block, at: cylinder, method: two-point size, reduce: largest}
  piston_size: {of: piston, at: cylinder, method: two-point size}
quantities:
  clearance: {at: cylinder, formula: fits.diametral_clearance, with: {hole: bore_size, shaft: piston_size}}
limits:
  - {on: bore_size, use: service, low: 80.000 mm, high: 80.080 mm, method: two-point size, page: 12}
"""


def problems(text: str | bytes) -> list[Problem]:
    raw = text if isinstance(text, bytes) else text.encode()
    read = read_engine(raw, name="engine.yaml")
    assert isinstance(read, list), "the file was accepted"
    return read


def test_a_right_file_is_read_with_its_digits() -> None:
    engine = read_engine(GOOD.encode(), name="engine.yaml")
    assert isinstance(engine, Engine)
    assert engine.limits[0].low is not None
    assert engine.limits[0].low.text == "80.000 mm"


@pytest.mark.parametrize(
    ("old", "new", "code", "line", "words"),
    [
        ("use: service", "use: service, tolerence: 1", "unknown_word", 11, "tolerence"),
        ("reduce: largest", "reduc: largest", "unknown_word", 6, "`reduce`"),
        ("80.080 mm", "80.080", "missing_unit", 11, "unit after the number"),
        ("80.080 mm", "80.080 N·m", "wrong_unit", 11, "torque, not length"),
        ("80.000 mm", "80.090 mm", "low_above_high", 11, "Swap the two"),
        (", page: 12", "", "limit_without_page", 11, "page"),
        ("layout: twin", "layout: twin\nlayout: four", "duplicate_key", 3, "second time"),
        ("fits.diametral_clearance", "fits.diametral_clearence", "unknown_formula", 9, "fits.diametral_clearance"),
        ("hole: bore_size", "bore: bore_size", "wrong_arguments", 9, "hole, shaft"),
        ("shaft: piston_size", "shaft: pistn_size", "unknown_characteristic", 9, "`piston_size`"),
        ("on: bore_size", "on: bore_sise", "unknown_characteristic", 11, "`bore_size`"),
        ("of: piston, at: cylinder", "of: piston, at: cylindr", "unknown_place", 7, "`cylinder`"),
        ("layout: twin", "layout: &a twin\ninvented: *a", "alias", 3, "Write the value out"),
        ("layout: twin", "layout:\ttwin\n\tx: 1", "not_yaml", 3, "tab"),
        ("layout: twin\n", "", "missing", 1, "layout"),
    ],
)
def test_each_error_of_meaning_says_where_and_what_to_do(old: str, new: str, code: str, line: int, words: str) -> None:
    assert GOOD.count(old) >= 1
    found = problems(GOOD.replace(old, new, 1))
    assert [problem.code for problem in found] == [code]
    assert found[0].place.startswith(f"engine.yaml:{line}:")
    assert words in found[0].text()


def test_all_errors_come_together() -> None:
    text = GOOD.replace("at: cylinder, method: two-point size}", "at: cylindr, method: two-point size}")
    text = text.replace(", page: 12", "").replace("80.000 mm", "81 mm")
    assert {problem.code for problem in problems(text)} == {"unknown_place", "limit_without_page", "low_above_high"}


@pytest.mark.parametrize(
    ("raw", "code"),
    [
        (b"", "empty"),
        (b"# only a remark\n", "empty"),
        (b"\xff\xfe\x00junk", "not_utf8"),
        (b"x" * 1_000_001, "too_large"),
        (b"- a\n- b\n", "not_a_map"),
        (GOOD.encode() + b"---\nname: other\n", "two_documents"),
        (b"name: [1, 2\n", "not_yaml"),
        (b"a\x00b", "not_yaml"),
        (b"? [a, b]\n: 1\n", "key_not_text"),
        (b"a: 1\n<<: {b: 2}\n", "merge_key"),
    ],
)
def test_a_file_that_is_no_description_is_refused(raw: bytes, code: str) -> None:
    assert [problem.code for problem in problems(raw)] == [code]


def test_an_alias_bomb_is_refused_before_it_grows() -> None:
    lines = ["a0: &a0 [x, x]"] + [f"a{n}: &a{n} [*a{n - 1}, *a{n - 1}]" for n in range(1, 40)]
    assert {problem.code for problem in problems("\n".join(lines))} == {"alias"}


def test_a_blank_limit_is_counted_and_not_an_error() -> None:
    engine = read_engine(GOOD.replace("low: 80.000 mm, high: 80.080 mm", "high: ").encode(), name="engine.yaml")
    assert isinstance(engine, Engine)
    assert still_to_look_up(engine) == ["bore_size, service limit, page 12"]
