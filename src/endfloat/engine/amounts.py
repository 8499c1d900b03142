"""A number of the service book, kept as typed with its unit."""

from __future__ import annotations

from typing import Annotated

from pydantic import BeforeValidator, WithJsonSchema

from endfloat.problems import Problem
from endfloat.quantities.typed_text import Typed, read_typed


def _amount(text: object) -> object:
    """A number with its unit; a blank stays a blank, to be counted in "still to look up"."""
    if text is None or isinstance(text, Typed):
        return text
    read = read_typed(str(text), kind=None, place="")
    if isinstance(read, Problem):
        raise ValueError(f"{read.code}|{read.found}|{read.expected}|{read.remedy}")
    return read


Amount = Annotated[
    Typed,
    BeforeValidator(_amount),
    WithJsonSchema({"type": ["string", "number"], "description": "an amount as typed, such as 54.980 mm"}),
]
