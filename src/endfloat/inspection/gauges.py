"""The gauge register: what a gauge can tell, and what two readings with it share."""

from __future__ import annotations

import math
from collections.abc import Mapping
from datetime import date
from typing import Annotated, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, ValidationError

from endfloat.engine.amounts import Amount
from endfloat.engine.positions import Located, read_yaml
from endfloat.problems import Problem
from endfloat.quantities.estimates import ErrorSource
from endfloat.quantities.typed_text import Typed
from endfloat.quantities.units import Kind

WHEEL = "degree wheel"


def _text(value: object) -> object:
    return str(value) if value is not None else value


class Gauge(BaseModel):
    """One gauge of the register.

    `error` is the half-width of what the maker or the certificate allows (rectangular, so divided by
    the root of 3, JCGM 100:2008 4.3.7); `repeat` the standard deviation of repeated readings;
    `set_with` the gauge it was set with, whose error it then shares. `least` and `most` are the ends of its range,
    `due` the day up to which its certificate or check holds.
    """

    model_config = ConfigDict(extra="forbid", frozen=True, arbitrary_types_allowed=True)

    sort: Annotated[
        Literal[
            "micrometer",
            "bore gauge",
            "dial gauge",
            "depth gauge",
            "feeler",
            "burette",
            "torque wrench",
            "angle gauge",
            "degree wheel",
            "scales",
        ],
        BeforeValidator(_text),
    ]
    resolution: Amount
    error: Amount
    repeat: Amount
    set_with: str | None = None
    least: Amount | None = None
    most: Amount | None = None
    due: date | None = None
    source: str = Field(min_length=1)

    @property
    def kind(self) -> Kind:
        """The kind of quantity it measures."""
        return self.resolution.unit.kind


def gauge_sources(register: Mapping[str, Gauge], name: str) -> dict[str, ErrorSource]:
    """What every reading with this gauge under one zeroing shares: its error and that of its setting."""
    sources: dict[str, ErrorSource] = {}
    current: str | None = name
    while current is not None and f"gauge {current}" not in sources:
        gauge = register[current]
        sources[f"gauge {current}"] = ErrorSource(gauge.error.si / math.sqrt(3), shape="rectangular")
        current = gauge.set_with
    return sources


def read_gauges(raw: bytes, *, name: str) -> dict[str, Gauge] | list[Problem]:
    """Read the register; every problem at once."""
    located = read_yaml(raw, name=name)
    if isinstance(located, list):
        return located
    if not isinstance(located.data, dict):
        return [_wrong(located, (), "no map", "a gauge name, then its entries")]
    register: dict[str, Gauge] = {}
    problems: list[Problem] = []
    for key, entry in located.data.items():
        try:
            register[key] = Gauge.model_validate(entry)
        except ValidationError as error:
            for each in error.errors(include_url=False):
                problems.append(_wrong(located, (key, *each["loc"]), f"`{each['input']}`", each["msg"]))
    for key, gauge in register.items():
        if {gauge.error.unit.kind, gauge.repeat.unit.kind} != {gauge.kind}:
            problems.append(_wrong(located, (key,), "units of two kinds", "resolution, error and repeat of one kind"))
        for word, least, expected in (
            ("resolution", 1, "a step above nought"),
            ("error", 0, "nought or more"),
            ("repeat", 0, "nought or more"),
        ):
            amount: Typed = getattr(gauge, word)
            if amount.exact_si < 0 or (least and amount.exact_si == 0):
                problems.append(_wrong(located, (key, word), f"`{amount.text}`", expected))
        problems += _range(located, key, gauge)
        if gauge.set_with is not None and gauge.set_with not in register:
            problems.append(_wrong(located, (key, "set_with"), f"`{gauge.set_with}`", "a gauge of this register"))
    return problems or register


def _range(located: Located, key: str, gauge: Gauge) -> list[Problem]:
    ends = {"least": gauge.least, "most": gauge.most}
    wrong = [
        _wrong(located, (key, word), f"`{end.text}`", f"a {gauge.kind.value}")
        for word, end in ends.items()
        if end is not None and end.unit.kind is not gauge.kind
    ]
    if not wrong and gauge.least and gauge.most and gauge.least.exact_si >= gauge.most.exact_si:
        wrong.append(_wrong(located, (key, "least"), f"{gauge.least.text} to {gauge.most.text}", "least below most"))
    return wrong


def _wrong(located: Located, path: tuple[str | int, ...], found: str, expected: str) -> Problem:
    return located.problem(
        "wrong_gauge", path, found=found, expected=expected.split("|")[0], remedy="Correct this entry."
    )
