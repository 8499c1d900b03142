"""The description that a job keeps, read once a text."""

from __future__ import annotations

from functools import lru_cache

from endfloat.decision.prices import Prices, read_prices
from endfloat.engine.model import Engine
from endfloat.engine.proofread import read_engine
from endfloat.errors import RecordError


@lru_cache(maxsize=8)
def engine_of(text: str) -> Engine:
    """The engine of a kept description; RecordError when this program can no longer read it."""
    engine = read_engine(text.encode(), name="engine.yaml")
    if isinstance(engine, list):
        raise RecordError("The description kept in this job can no longer be read. Use the program that wrote it.")
    return engine


@lru_cache(maxsize=8)
def prices_of(text: str, engine: str) -> Prices | None:
    """The kept price list, if there is one; RecordError when this program can no longer read it."""
    if not text:
        return None
    prices = read_prices(text.encode(), name="prices.yaml", engine=engine_of(engine))
    if isinstance(prices, list):
        raise RecordError("The prices kept in this job can no longer be read.")
    return prices
