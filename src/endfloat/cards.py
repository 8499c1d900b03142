"""A formula's card: symbols, units, source and example, read from its docstring, so that nothing is written twice."""

from __future__ import annotations

import inspect
import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from endfloat.formulas import compression, fits, flatness, sizes, skims, statistics
from endfloat.quantities.units import Kind

KIND_OF_UNIT = {
    "m": Kind.LENGTH,
    "m2": Kind.AREA,
    "m3": Kind.VOLUME,
    "rad": Kind.ANGLE,
    "N": Kind.FORCE,
    "N m": Kind.TORQUE,
    "Pa": Kind.PRESSURE,
    "kg": Kind.MASS,
    "K": Kind.TEMPERATURE,
    "s": Kind.TIME,
    "1": Kind.NUMBER,
}
SECTIONS = ("Parameters", "Returns", "Source", "Examples")
ROOMS = (compression, fits, flatness, sizes, skims, statistics)
_LINE = re.compile(r"^(?:(?P<name>\w+) : )?(?P<text>.*?) \[(?P<unit>[^\]]+)\]$")
_HEADING = re.compile(r"^(?P<title>[A-Z]\w+)\n-{3,}$", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Symbol:
    """An argument or the result: its name, what it is, and its SI unit."""

    name: str
    text: str
    unit: str

    @property
    def kind(self) -> Kind:
        """The kind of quantity that the unit measures."""
        return KIND_OF_UNIT[self.unit]


@dataclass(frozen=True, slots=True)
class Card:
    """What a formula says of itself. `details` is what stands between the summary and the sections."""

    key: str
    function: Callable[..., Any]
    summary: str
    details: str
    arguments: tuple[Symbol, ...]
    result: Symbol
    source: str
    examples: str


def card(key: str, function: Callable[..., Any]) -> Card:
    """Read a docstring; ValueError names what is missing."""
    text = inspect.getdoc(function) or ""
    parts = _HEADING.split(text)
    sections = {title: body.strip() for title, body in zip(parts[1::2], parts[2::2], strict=True)}
    for wanted in SECTIONS:
        if wanted not in sections:
            raise ValueError(f"{key}: the docstring has no section {wanted}")
    arguments = tuple(_symbol(key, line) for line in sections["Parameters"].splitlines() if line.strip())
    if [symbol.name for symbol in arguments] != list(inspect.signature(function).parameters):
        raise ValueError(f"{key}: the docstring names other arguments than the signature")
    result = _symbol(key, sections["Returns"].splitlines()[0])
    summary, _, details = parts[0].strip().partition("\n")
    source = " ".join(sections["Source"].split())
    return Card(key, function, summary, details.strip(), arguments, result, source, sections["Examples"])


def _symbol(key: str, line: str) -> Symbol:
    match = _LINE.match(line.strip())
    if match is None or match["unit"] not in KIND_OF_UNIT:
        raise ValueError(f"{key}: `{line.strip()}` has no known unit in brackets at its end")
    return Symbol(match["name"] or "", match["text"], match["unit"])


CARDS: dict[str, Card] = {
    f"{room.__name__.rpartition('.')[2]}.{name}": card(f"{room.__name__.rpartition('.')[2]}.{name}", function)
    for room in ROOMS
    for name, function in vars(room).items()
    if inspect.isfunction(function) and function.__module__ == room.__name__ and not name.startswith("_")
}
