"""Every kind of bad readings file gets a message with its line, and nothing is guessed."""

import pytest

from endfloat.engine.model import Engine
from endfloat.engine.proofread import read_engine
from endfloat.inspection.gauges import Gauge, read_gauges
from endfloat.inspection.readings import COLUMNS, Reading, read_readings
from endfloat.problems import Problem

ENGINE = b"""\
name: Test twin
layout: twin
places:
  cylinder: {names: [1, 2]}
characteristics:
  bore_size: {of: block, at: cylinder, method: two-point size, stations: [10 mm], axes: [across, along]}
"""
GAUGES = b"""\
B1: {sort: bore gauge, resolution: 0.001 mm, error: 0.0025 mm, repeat: 0.002 mm, source: invented}
"""
HEAD = ",".join(COLUMNS)
ROW = "bore_size,1,10 mm,across,80.012 mm,B1"


def register() -> dict[str, Gauge]:
    read = read_gauges(GAUGES, name="gauges.yaml")
    assert isinstance(read, dict)
    return read


def read(*rows: str) -> tuple[Reading, ...] | list[Problem]:
    engine = read_engine(ENGINE, name="engine.yaml")
    assert isinstance(engine, Engine)
    return read_readings("\n".join(rows).encode(), name="readings.csv", engine=engine, register=register())


def test_a_right_row_is_read_as_typed() -> None:
    [reading] = read(HEAD, ROW)
    assert isinstance(reading, Reading)
    assert reading.typed.text == "80.012 mm"


@pytest.mark.parametrize(
    ("row", "code", "words"),
    [
        (ROW.replace(",1,", ",3,"), "unknown_place", "1, 2"),
        (ROW.replace("10 mm", "70 mm"), "unknown_station", "10 mm"),
        (ROW.replace("across", "diagonal"), "unknown_axis", "across, along"),
        (ROW.replace("80.012 mm", ""), "empty", "not measured"),
        (ROW.replace("80.012 mm", "80.01 80.02 mm"), "two_numbers", "Type one"),
        (ROW.replace("80.012 mm", "80.012"), "missing_unit", "unit"),
        (ROW.replace("B1", "B9"), "unknown_gauge", "register"),
        (ROW.replace("bore_size", "liner_size"), "unknown_characteristic", "another engine than Test twin"),
        (ROW.replace("80.012", "80,012"), "wrong_cells", "in quotes"),
    ],
)
def test_a_wrong_row_says_which_line_and_what_to_do(row: str, code: str, words: str) -> None:
    answer = read(HEAD, ROW, row)
    assert isinstance(answer, list)
    [problem] = answer
    assert isinstance(problem, Problem)
    assert (problem.code, problem.place) == (code, "readings.csv:3")
    assert words in problem.text()


def test_the_same_row_twice_is_refused_and_a_repeat_with_other_digits_is_not() -> None:
    twice = read(HEAD, ROW, ROW)
    assert isinstance(twice, list)
    assert [problem.code for problem in twice] == ["duplicate_row"]
    assert len(read(HEAD, ROW, ROW.replace("80.012", "80.013"))) == 2


def test_a_table_with_other_columns_is_refused_whole() -> None:
    answer = read("place,value", "1,80")
    assert isinstance(answer, list)
    assert [problem.code for problem in answer] == ["wrong_columns"]


def test_a_gauge_set_with_an_unknown_gauge_is_refused() -> None:
    answer = read_gauges(GAUGES.replace(b"source", b"set_with: M9, source"), name="gauges.yaml")
    assert isinstance(answer, list)
    assert "M9" in answer[0].text()
