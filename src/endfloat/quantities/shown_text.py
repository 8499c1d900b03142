"""The only place that rounds: values as a person reads them. A displayed figure never flips a verdict."""

from __future__ import annotations

import math

from endfloat.quantities.estimates import Estimate
from endfloat.quantities.units import UNITS, Kind, Unit

WORKSHOP_UNIT = {
    Kind.LENGTH: UNITS["mm"],
    Kind.ANGLE: UNITS["°"],
    Kind.VOLUME: UNITS["cm³"],
    Kind.AREA: UNITS["cm²"],
    Kind.TORQUE: UNITS["N·m"],
    Kind.FORCE: UNITS["kN"],
    Kind.PRESSURE: UNITS["bar"],
    Kind.MASS: UNITS["g"],
    Kind.TEMPERATURE: UNITS["°C"],
    Kind.TIME: UNITS["min"],
    Kind.SPEED: UNITS["rpm"],
    Kind.VELOCITY: UNITS["m/s"],
    Kind.ACCELERATION: UNITS["m/s²"],
    Kind.STIFFNESS: UNITS["kN/mm"],
    Kind.TORSION: UNITS["N·m/rad"],
    Kind.DENSITY: UNITS["kg/m³"],
    Kind.VISCOSITY: UNITS["mPa·s"],
    Kind.KINEMATIC_VISCOSITY: UNITS["mm²/s"],
    Kind.EXPANSION: UNITS["µm/(m·K)"],
    Kind.HEAT_CAPACITY: UNITS["J/(kg·K)"],
    Kind.FLOW: UNITS["l/min"],
    Kind.MASS_FLOW: UNITS["g/s"],
    Kind.POWER: UNITS["W"],
    Kind.UNBALANCE: UNITS["g·mm"],
    Kind.INERTIA: UNITS["kg·m²"],
    Kind.NUMBER: UNITS[""],
}
PLAIN_DECIMALS = {Kind.LENGTH: 3, Kind.NUMBER: 2, Kind.VOLUME: 1, Kind.AREA: 1}
# A unit far larger or smaller than its kind's usual one: an inch is read to 0.0001, a cubic inch to 0.001.
PLAIN_IN_UNIT = {"in": 4, "thou": 1, "in³": 3}


def in_unit(value: float, unit: Unit) -> float:
    """An SI value in a unit."""
    return (value - float(unit.offset)) / float(unit.factor)


def decimals_for(expanded: float) -> int:
    """Decimals that leave one figure of an uncertainty, or two when it begins with a 1."""
    exponent = math.floor(math.log10(expanded))
    begins_with_1 = expanded / 10.0**exponent < 2 - 1e-9
    return max(0, -exponent + (1 if begins_with_1 else 0))


def plain_decimals(unit: Unit) -> int:
    """The decimals that a workshop reads a unit to."""
    return PLAIN_IN_UNIT.get(unit.shown, PLAIN_DECIMALS.get(unit.kind, 2))


def shown_number(value: float, unit: Unit, decimals: int | None = None) -> str:
    """A value in a unit without the unit's name, with a true minus sign."""
    places = plain_decimals(unit) if decimals is None else decimals
    # The z takes the sign off a nought: −0.00 is 0.00.
    return f"{in_unit(value, unit):z.{places}f}".replace("-", "−")


def shown_in_full(value: float, unit: Unit, otherwise: int = 6) -> str:
    """A number of the book in a unit with every decimal it has; 0.0004 in is not 0.000 in.

    A number that has more than six, as a third has, is told with so many as `otherwise` says.
    """
    number, usual = in_unit(value, unit), plain_decimals(unit)
    kept = (places for places in range(usual, 7) if math.isclose(round(number, places), number, abs_tol=1e-9))
    return shown_number(value, unit, next(kept, otherwise))


def shown_estimate(estimate: Estimate, unit: Unit) -> str:
    """Value ± twice the standard uncertainty with the unit; the uncertainty is rounded up."""
    expanded = 2 * estimate.standard_uncertainty / float(unit.factor)
    if expanded == 0:
        return f"{shown_in_full(estimate.value, unit, plain_decimals(unit))} {unit.shown}".strip()
    places = decimals_for(expanded)
    up = math.ceil(expanded * 10**places - 1e-9) / 10**places
    return f"{shown_number(estimate.value, unit, places)} ± {up:.{places}f} {unit.shown}".strip()


def shown_to_figures(value: float, unit: Unit, figures: int = 4) -> str:
    """A value of any size in a unit, to so many figures; noughts at its end go, down to the usual decimals."""
    number = in_unit(value, unit)
    places = figures - 1 - math.floor(math.log10(abs(number))) if number else 0
    if places > 9:
        return f"{number:.{figures - 1}e}".replace("-", "−")
    usual = PLAIN_DECIMALS.get(unit.kind, 2)
    whole, _, decimals = f"{number:z.{max(places, 0)}f}".partition(".")
    kept = decimals[:usual] + decimals[usual:].rstrip("0")
    return f"{whole}.{kept}".rstrip(".").replace("-", "−")
