"""The gauge that is offered first is the one that a person would reach for."""

import pytest

from cast import example
from endfloat.engine.model import Engine
from endfloat.engine.proofread import read_engine
from endfloat.inspection.gauges import read_gauges
from endfloat.inspection.offered import offered
from endfloat.workshop.new_engine import QUESTIONS, new_engine

ASKED = {"name": "Pump", "cylinders": "2", "bore": "60", "mains": "2", "main": "30", "pins": "2", "pin": "28"}


@pytest.mark.parametrize(
    ("characteristic", "first"), [("bore_size", "B1"), ("main_journal", "M1"), ("pin_journal", "M1")]
)
def test_an_engine_of_ones_own_is_offered_the_bore_gauge_for_a_bore_and_the_micrometer_for_a_journal(
    characteristic: str, first: str
) -> None:
    texts = new_engine({asked.key: asked.default for asked in QUESTIONS} | ASKED)
    assert isinstance(texts, tuple)
    engine, gauges = read_engine(texts[0].encode(), name=""), read_gauges(texts[1].encode(), name="")
    assert isinstance(engine, Engine)
    assert isinstance(gauges, dict)
    answer = offered(engine, gauges, characteristic)
    assert answer[0] == first
    assert sorted(answer) == ["B1", "M1"]


@pytest.mark.parametrize(
    ("characteristic", "sort"),
    [
        ("bore_size", "bore gauge"),
        ("main_housing", "bore gauge"),
        ("rod_housing", "bore gauge"),
        ("piston_size", "micrometer"),
        ("pin_journal", "micrometer"),
        ("ring_gap", "feeler"),
        ("tunnel_bow", "feeler"),
        ("end_float", "dial gauge"),
        ("chamber", "burette"),
    ],
)
def test_the_v8_is_offered_a_gauge_of_the_right_sort_and_the_others_after_it(characteristic: str, sort: str) -> None:
    engine, evidence, _ = example()
    answer = offered(engine, evidence.gauges, characteristic)
    assert evidence.gauges[answer[0]].sort == sort
    kind = engine.characteristics[characteristic].kind
    assert sorted(answer) == sorted(name for name, gauge in evidence.gauges.items() if gauge.kind is kind)
