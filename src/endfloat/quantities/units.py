"""The kinds of quantity and the spellings a person may type, with exact decimal factors to SI.

Factors: BIPM SI Brochure (9th ed.) for SI units; the inch is 25.4 mm, the pound 0.45359237 kg and
standard gravity 9.80665 m/s2 exactly (NIST SP 811, appendix B).
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import Enum


class Kind(Enum):
    """What a number measures; torque and energy never meet because energy is no kind here."""

    LENGTH = "length"
    ANGLE = "angle"
    TORQUE = "torque"
    FORCE = "force"
    PRESSURE = "pressure"
    VOLUME = "volume"
    AREA = "area"
    MASS = "mass"
    TEMPERATURE = "temperature"
    TIME = "time"
    MONEY = "money"
    NUMBER = "number"


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit as shown, its kind, and value_si = typed * factor + offset."""

    shown: str
    kind: Kind
    factor: Decimal
    offset: Decimal = Decimal(0)


_POUND_FORCE = Decimal("0.45359237") * Decimal("9.80665")
_INCH = Decimal("0.0254")
_DEGREE = Decimal("0.017453292519943295769")

UNITS: dict[str, Unit] = {
    spelling: unit
    for unit, spellings in (
        (Unit("mm", Kind.LENGTH, Decimal("0.001")), ("mm",)),
        (Unit("m", Kind.LENGTH, Decimal(1)), ("m",)),
        (Unit("µm", Kind.LENGTH, Decimal("1e-6")), ("µm", "μm", "um")),
        (Unit("in", Kind.LENGTH, _INCH), ("in", "inch", '"')),
        (Unit("thou", Kind.LENGTH, _INCH / 1000), ("thou",)),
        (Unit("°", Kind.ANGLE, _DEGREE), ("°", "deg", "degrees")),
        (Unit("N·m", Kind.TORQUE, Decimal(1)), ("N·m", "Nm", "N m", "N.m")),
        (Unit("lbf·ft", Kind.TORQUE, _POUND_FORCE * _INCH * 12), ("lbf·ft", "lbf ft", "ft lbf", "lb ft")),
        (Unit("lbf·in", Kind.TORQUE, _POUND_FORCE * _INCH), ("lbf·in", "lbf in", "in lbf")),
        (Unit("kgf·m", Kind.TORQUE, Decimal("9.80665")), ("kgf·m", "kgf m")),
        (Unit("N", Kind.FORCE, Decimal(1)), ("N",)),
        (Unit("kN", Kind.FORCE, Decimal(1000)), ("kN",)),
        (Unit("bar", Kind.PRESSURE, Decimal(100000)), ("bar",)),
        (Unit("MPa", Kind.PRESSURE, Decimal(1000000)), ("MPa",)),
        (Unit("psi", Kind.PRESSURE, _POUND_FORCE / (_INCH * _INCH)), ("psi",)),
        (Unit("cm³", Kind.VOLUME, Decimal("1e-6")), ("cm³", "cm3", "cc", "ml")),
        (Unit("cm²", Kind.AREA, Decimal("1e-4")), ("cm²", "cm2")),
        (Unit("g", Kind.MASS, Decimal("0.001")), ("g",)),
        (Unit("kg", Kind.MASS, Decimal(1)), ("kg",)),
        (Unit("°C", Kind.TEMPERATURE, Decimal(1), Decimal("273.15")), ("°C", "degC", "C")),
        (Unit("s", Kind.TIME, Decimal(1)), ("s",)),
        (Unit("min", Kind.TIME, Decimal(60)), ("min",)),
        (Unit("h", Kind.TIME, Decimal(3600)), ("h",)),
        (Unit("", Kind.NUMBER, Decimal(1)), ("",)),
    )
    for spelling in spellings
}
