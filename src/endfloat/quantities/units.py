"""The kinds of quantity and the spellings a person may type, with exact decimal factors to SI.

Factors: BIPM SI Brochure (9th ed.) for SI units; the inch is 25.4 mm, the pound 0.45359237 kg and
standard gravity 9.80665 m/s2 exactly; T/K = (t/°F + 459.67)/1.8 (NIST SP 811, appendix B).
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
    SPEED = "speed"
    VELOCITY = "velocity"
    ACCELERATION = "acceleration"
    STIFFNESS = "stiffness"
    TORSION = "torsional stiffness"
    DENSITY = "density"
    VISCOSITY = "viscosity"
    KINEMATIC_VISCOSITY = "kinematic viscosity"
    EXPANSION = "expansion"
    HEAT_CAPACITY = "heat capacity"
    FLOW = "flow"
    MASS_FLOW = "mass flow"
    POWER = "power"
    UNBALANCE = "unbalance"
    INERTIA = "moment of inertia"
    NUMBER = "number"


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit as shown, its kind, and value_si = (typed * multiplied + added) / divided, exact where the answer ends."""

    shown: str
    kind: Kind
    multiplied: Decimal
    added: Decimal = Decimal(0)
    divided: Decimal = Decimal(1)

    @property
    def factor(self) -> Decimal:
        """How much SI one of it is."""
        return self.multiplied / self.divided

    @property
    def offset(self) -> Decimal:
        """Where its nought stands in SI."""
        return self.added / self.divided


_POUND_FORCE = Decimal("0.45359237") * Decimal("9.80665")
_INCH = Decimal("0.0254")
_DEGREE = Decimal("0.017453292519943295769")
_TURN_PER_MINUTE = _DEGREE * 6

UNITS: dict[str, Unit] = {
    spelling: unit
    for unit, spellings in (
        (Unit("mm", Kind.LENGTH, Decimal("0.001")), ("mm",)),
        (Unit("m", Kind.LENGTH, Decimal(1)), ("m",)),
        (Unit("km", Kind.LENGTH, Decimal(1000)), ("km",)),
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
        (Unit("l", Kind.VOLUME, Decimal("0.001")), ("l", "L")),
        (Unit("cm²", Kind.AREA, Decimal("1e-4")), ("cm²", "cm2")),
        (Unit("g", Kind.MASS, Decimal("0.001")), ("g",)),
        (Unit("kg", Kind.MASS, Decimal(1)), ("kg",)),
        (Unit("°C", Kind.TEMPERATURE, Decimal(1), Decimal("273.15")), ("°C", "degC", "C")),
        (Unit("°F", Kind.TEMPERATURE, Decimal(5), Decimal("459.67") * 5, Decimal(9)), ("°F", "degF", "F")),
        (Unit("s", Kind.TIME, Decimal(1)), ("s",)),
        (Unit("min", Kind.TIME, Decimal(60)), ("min",)),
        (Unit("h", Kind.TIME, Decimal(3600)), ("h",)),
        (Unit("ms", Kind.TIME, Decimal("0.001")), ("ms",)),
        (Unit("Pa", Kind.PRESSURE, Decimal(1)), ("Pa",)),
        (Unit("kPa", Kind.PRESSURE, Decimal(1000)), ("kPa",)),
        (Unit("GPa", Kind.PRESSURE, Decimal(10) ** 9), ("GPa",)),
        (Unit("lbf", Kind.FORCE, _POUND_FORCE), ("lbf",)),
        (Unit("m³", Kind.VOLUME, Decimal(1)), ("m³", "m3")),
        (Unit("mm³", Kind.VOLUME, Decimal("1e-9")), ("mm³", "mm3")),
        (Unit("in³", Kind.VOLUME, _INCH**3), ("in³", "in3", "cu in")),
        (Unit("m²", Kind.AREA, Decimal(1)), ("m²", "m2")),
        (Unit("mm²", Kind.AREA, Decimal("1e-6")), ("mm²", "mm2")),
        (Unit("K", Kind.TEMPERATURE, Decimal(1)), ("K",)),
        (Unit("rad", Kind.ANGLE, Decimal(1)), ("rad",)),
        (Unit("rpm", Kind.SPEED, _TURN_PER_MINUTE), ("rpm", "rev/min")),
        (Unit("rad/s", Kind.SPEED, Decimal(1)), ("rad/s",)),
        (Unit("m/s", Kind.VELOCITY, Decimal(1)), ("m/s",)),
        (Unit("m/s²", Kind.ACCELERATION, Decimal(1)), ("m/s²", "m/s2")),
        (Unit("N/mm", Kind.STIFFNESS, Decimal(1000)), ("N/mm",)),
        (Unit("kN/mm", Kind.STIFFNESS, Decimal(1000000)), ("kN/mm",)),
        (Unit("N/m", Kind.STIFFNESS, Decimal(1)), ("N/m",)),
        (Unit("N·m/rad", Kind.TORSION, Decimal(1)), ("N·m/rad", "Nm/rad")),
        (Unit("kg/m³", Kind.DENSITY, Decimal(1)), ("kg/m³", "kg/m3")),
        (Unit("mPa·s", Kind.VISCOSITY, Decimal("0.001")), ("mPa·s", "mPas", "cP")),
        (Unit("Pa·s", Kind.VISCOSITY, Decimal(1)), ("Pa·s", "Pas")),
        (Unit("mm²/s", Kind.KINEMATIC_VISCOSITY, Decimal("1e-6")), ("mm²/s", "mm2/s", "cSt")),
        (Unit("µm/(m·K)", Kind.EXPANSION, Decimal("1e-6")), ("µm/(m·K)", "um/mK", "ppm/K")),
        (Unit("J/(kg·K)", Kind.HEAT_CAPACITY, Decimal(1)), ("J/(kg·K)", "J/kgK")),
        (Unit("l/min", Kind.FLOW, Decimal("0.001") / 60), ("l/min", "L/min")),
        (Unit("m³/s", Kind.FLOW, Decimal(1)), ("m³/s", "m3/s")),
        (Unit("g/s", Kind.MASS_FLOW, Decimal("0.001")), ("g/s",)),
        (Unit("kg/s", Kind.MASS_FLOW, Decimal(1)), ("kg/s",)),
        (Unit("W", Kind.POWER, Decimal(1)), ("W",)),
        (Unit("kW", Kind.POWER, Decimal(1000)), ("kW",)),
        (Unit("g·mm", Kind.UNBALANCE, Decimal("1e-6")), ("g·mm", "gmm")),
        (Unit("kg·m²", Kind.INERTIA, Decimal(1)), ("kg·m²", "kgm2")),
        (Unit("", Kind.NUMBER, Decimal(1)), ("",)),
    )
    for spelling in spellings
}
