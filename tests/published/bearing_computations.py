"""Published values of fits, oil and bearings that take several formulas, or units that nobody types here."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

from endfloat.formulas import bearing_theory, bearings, growth, interference, piston_rings, shrinking

Inputs = dict[str, Any]
INCH, POUND_FORCE, BTU, HORSEPOWER = 0.0254, 4.4482216152605, 1055.05585262, 745.69987158227
REYN, POUND_PER_SQUARE_FOOT = 6894.757293168, 47.88025898


def _dimensionless(found: bearings.OilFilm, bearing: Inputs) -> dict[str, float]:
    """The variables of the tables: friction by radius over clearance, flows by r c N l, load by peak pressure."""
    diameter, width, clearance, speed = (bearing[name] for name in ("diameter", "width", "clearance", "speed"))
    unit = diameter * clearance / 4 * speed / (2 * np.pi) * width
    numbers = {
        "eccentricity": found.eccentricity,
        "thickness_ratio": 1 - np.asarray(found.eccentricity),
        "attitude": np.degrees(found.attitude),
        "friction": found.friction * diameter / clearance,
        "film_flow": found.film_flow / unit,
        "side_flow_ratio": np.asarray(found.side_flow) / found.film_flow,
        "pressure_ratio": bearing["load"] / (width * diameter) / np.asarray(found.peak_pressure),
    }
    return {name: float(value) for name, value in numbers.items()}


def film_row(given: Inputs, wanted: str) -> float:
    """A row of a table: kind, width over diameter, eccentricity; the bearing behind it is any."""
    bearing = {"diameter": 0.05, "width": 0.05 * given["slenderness"], "clearance": 1e-4, "speed": 300.0, "load": 1e3}
    thickness = bearing["clearance"] / 2 * (1 - given["eccentricity"])
    viscosity = bearings.viscosity_for_film(kind=given["kind"], **bearing, thickness=thickness)
    if wanted == "sommerfeld":
        return float(bearings.sommerfeld_number(**bearing, viscosity=viscosity))
    return _dimensionless(bearings.film(kind=given["kind"], **bearing, viscosity=viscosity), bearing)[wanted]


def imperial_film(given: Inputs, wanted: str) -> float:
    """A full bearing in inches, pounds, microreyns and turns a second."""
    bearing: Inputs = {
        "diameter": given["diameter"] * INCH,
        "width": given["width"] * INCH,
        "clearance": 2 * given["radial_clearance"] * INCH,
        "load": given["load"] * POUND_FORCE,
        "speed": 2 * np.pi * given["turns"],
    }
    viscosity = given["microreyn"] * 1e-6 * REYN
    found = bearings.film(kind="bush", **bearing, viscosity=viscosity)
    dimensional = {
        "sommerfeld": bearings.sommerfeld_number(**bearing, viscosity=viscosity),
        "thickness": found.thickness / INCH,
        "coefficient": found.friction,
        "torque": found.torque / (INCH * POUND_FORCE),
        "power": found.power / BTU,
        "flow": found.film_flow / INCH**3,
        "side_flow": found.side_flow / INCH**3,
    }
    return float(dimensional[wanted]) if wanted in dimensional else _dimensionless(found, bearing)[wanted]


def concentric(given: Inputs, wanted: str) -> float:
    speed = 2 * np.pi * given["rpm"] / 60
    torque = bearing_theory.concentric_torque(
        diameter=given["diameter"] * INCH,
        width=given["width"] * INCH,
        clearance=given["clearance"] * INCH,
        speed=speed,
        viscosity=given["pound_second_per_square_foot"] * POUND_PER_SQUARE_FOOT,
    )
    return float(torque / (INCH * POUND_FORCE) if wanted == "torque" else torque * speed / HORSEPOWER)


def short_bearing_modified(given: Inputs) -> float:
    """The modified number of a short bearing: pi S (b/d) squared."""
    number = bearing_theory.short_bearing_sommerfeld(
        slenderness=given["slenderness"], eccentricity=given["eccentricity"]
    )
    return float(np.pi * number * given["slenderness"] ** 2)


def two_rings(given: Inputs) -> float:
    """Pressure in MPa of two like rings from radii and radial interference in mm."""
    inner, middle, outer = (2e-3 * radius for radius in given["radii"])
    pressure = interference.contact_pressure(
        interference=2e-3 * given["radial"],
        diameter=middle,
        outer_diameter=outer,
        inner_diameter=inner,
        outer_modulus=200e9,
        outer_poisson=0.29,
        inner_modulus=200e9,
        inner_poisson=0.29,
    )
    return float(pressure) / 1e6


def heating_in_fahrenheit(given: Inputs) -> float:
    """Inches and coefficients by degree Fahrenheit."""
    rise = shrinking.heating_to_assemble(
        interference=given["interference"] * INCH,
        clearance=given["clearance"] * INCH,
        diameter=given["diameter"] * INCH,
        expansion=given["per_fahrenheit"] * 1.8,
    )
    return float(rise) * 1.8


def grown_by(given: Inputs) -> float:
    """Growth in mm."""
    grown = growth.size_at_temperature(
        size=given["mm"] * 1e-3,
        expansion=given["per_kelvin"],
        temperature=293.15 + given["kelvins"],
        reference=293.15,
    )
    return float(float(grown) * 1e3 - given["mm"])


def gap_by_bore(given: Inputs) -> float:
    """Growth of a ring gap in inches."""
    bore = 3.5 * INCH
    gap = piston_rings.gap_in_bore(gap=0.01 * INCH, bore_gauged=bore, bore=bore + given["inches"] * INCH)
    return float(gap) / INCH - 0.01


FILMS: dict[str, Callable[..., float]] = {
    "film_row": film_row,
    "imperial_film": imperial_film,
    "concentric": concentric,
    "short_bearing_modified": short_bearing_modified,
    "two_rings": two_rings,
    "heating_in_fahrenheit": heating_in_fahrenheit,
    "grown_by": grown_by,
    "gap_by_bore": gap_by_bore,
}
