"""The named examples that tests share: the invented engines and ways to change their readings."""

import dataclasses
from functools import cache
from pathlib import Path

import endfloat.examples
from endfloat.decision.prices import Prices, read_prices
from endfloat.engine.model import Engine
from endfloat.engine.proofread import read_engine
from endfloat.inspection.gauges import read_gauges
from endfloat.inspection.measured import Evidence
from endfloat.inspection.readings import read_readings
from endfloat.quantities.typed_text import Typed, read_typed

EXAMPLES = Path(endfloat.examples.__file__).parent
V8 = EXAMPLES / "wrenhallow-90-8"
FLAT_FOUR = EXAMPLES / "tolvenny-1185"
FERRY = EXAMPLES / "ottermole-3-165"


@cache
def example(folder: Path = V8) -> tuple[Engine, Evidence, Prices]:
    """An example read whole."""
    engine = read_engine((folder / "engine.yaml").read_bytes(), name="engine.yaml")
    assert isinstance(engine, Engine), engine
    gauges = read_gauges((folder / "gauges.yaml").read_bytes(), name="gauges.yaml")
    assert isinstance(gauges, dict), gauges
    raw = (folder / "readings.csv").read_bytes()
    readings = read_readings(raw, name="readings.csv", engine=engine, register=gauges)
    assert isinstance(readings, tuple), readings
    prices = read_prices((folder / "prices.yaml").read_bytes(), name="prices.yaml", engine=engine)
    assert isinstance(prices, Prices), prices
    return engine, Evidence(readings, gauges), prices


def typed(text: str) -> Typed:
    read = read_typed(text, kind=None, place="")
    assert isinstance(read, Typed)
    return read


def with_value(evidence: Evidence, spot: tuple[str, str, str, str], text: str) -> Evidence:
    """The evidence with one reading changed."""
    assert any(reading.spot == spot for reading in evidence.readings)
    changed = [dataclasses.replace(r, typed=typed(text)) if r.spot == spot else r for r in evidence.readings]
    return dataclasses.replace(evidence, readings=tuple(changed))


def without(evidence: Evidence, characteristic: str, place: str) -> Evidence:
    """The evidence with one place unmeasured."""
    left = tuple(r for r in evidence.readings if (r.characteristic, r.place) != (characteristic, place))
    assert len(left) < len(evidence.readings)
    return dataclasses.replace(evidence, readings=left)
