"""What a person typed, kept as decimal text with its unit: 54.980 is not 54.98."""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass
from decimal import Decimal

from endfloat.problems import Problem
from endfloat.quantities.units import UNITS, Kind, Unit

_PATTERN = re.compile(r"^\s*([+\-−]?(?:\d+(?:[.,]\d*)?|[.,]\d+))\s*(\D.*?)?\s*$")


@dataclass(frozen=True, slots=True)
class Typed:
    """A decimal as typed and its unit."""

    decimal: Decimal
    unit: Unit

    @property
    def resolution(self) -> Decimal:
        """One unit of the last digit typed."""
        exponent = self.decimal.as_tuple().exponent
        assert isinstance(exponent, int)
        return Decimal(1).scaleb(exponent)

    @property
    def exact_si(self) -> Decimal:
        return (self.decimal * self.unit.multiplied + self.unit.added) / self.unit.divided

    @property
    def si(self) -> float:
        return float(self.exact_si)

    @property
    def text(self) -> str:
        """The number as typed, with a point and its unit."""
        return f"{self.decimal} {self.unit.shown}".strip()


def read_typed(text: str, *, kind: Kind | None, place: str, default_unit: str | None = None) -> Typed | Problem:
    """Read one number with its unit; a decimal comma is accepted.

    `kind` None accepts any kind and then needs a unit, unless the number is a bare one.
    `default_unit` is the unit the page shows beside the box; without it a bare number is refused.
    """
    expected = _expected(kind)

    def refuse(code: str, remedy: str) -> Problem:
        return Problem(code, place, f"`{text}`" if text.strip() else "nothing", expected, remedy)

    if not text.strip():
        return refuse("empty", "Type the number, or say that it was not measured.")
    match = _PATTERN.match(text)
    if match is None:
        return refuse("not_a_number", "Type digits, one decimal mark and the unit.")
    number, spelling = match.group(1), (match.group(2) or "").strip()
    if spelling not in UNITS and re.search(r"\d", spelling):
        return refuse("two_numbers", "It holds two numbers. Type one.")
    if spelling == "mil":
        return refuse("unclear_unit", "thou or milli? Type `thou` or `mm`.")
    if not spelling and kind not in (Kind.NUMBER, None):
        if default_unit is None:
            return refuse("missing_unit", "Type the unit after the number.")
        spelling = default_unit
    unit = UNITS.get(spelling)
    if unit is None:
        near = difflib.get_close_matches(spelling, [key for key in UNITS if key], n=1)
        return refuse("unknown_unit", f"Did you mean {near[0]}?" if near else f"Use {expected}.")
    if kind is not None and unit.kind is not kind:
        return refuse("wrong_unit", f"{unit.shown} measures {unit.kind.value}, not {kind.value}.")
    return Typed(Decimal(number.replace(",", ".").replace("−", "-")), unit)


def _expected(kind: Kind | None) -> str:
    if kind is None:
        return "a number with its unit"
    spellings = ", ".join(sorted({unit.shown for unit in UNITS.values() if unit.kind is kind and unit.shown}))
    return f"one {kind.value} with a unit ({spellings})" if spellings else f"one {kind.value}"
