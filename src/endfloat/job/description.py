"""The description that a job keeps, read once a text."""

from __future__ import annotations

from functools import lru_cache

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
