"""A bearing that warms its own oil: temperature, flow and film against clearance."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bearings import sommerfeld_number
from endfloat.formulas.bounds import refuse, require
from endfloat.formulas.film_grid import ECCENTRICITY, SOURCE, check_kind, check_slenderness, halve, surface
from endfloat.formulas.oil import chart_line
from endfloat.formulas.oil_pressure import groove_flow

Number = float | NDArray[np.float64]
_SQUARE_MILLIMETRE = 1e-6
_THINNEST = 2e-6


class WarmFilm(NamedTuple):
    """A bearing in balance with the heat it makes."""

    thickness: Number
    eccentricity: Number
    temperature_rise: Number
    viscosity: Number
    flow: Number
    power: Number


class _Setting(NamedTuple):
    """What the balance of one bearing needs."""

    kind: str
    diameter: Number
    width: Number
    clearance: Number
    speed: Number
    unit: Number
    feed_temperature: Number
    feed_pressure: Number
    groove_share: Number
    height: Number
    slope: Number
    density: Number
    heat_capacity: Number
    heat_share: Number


def film_in_balance(
    *,
    kind: str,
    diameter: Number,
    width: Number,
    clearance: Number,
    load: Number,
    speed: Number,
    feed_temperature: Number,
    feed_pressure: Number,
    groove_share: Number,
    first_temperature: Number,
    first_viscosity: Number,
    second_temperature: Number,
    second_viscosity: Number,
    density: Number,
    heat_capacity: Number,
    heat_share: Number,
) -> WarmFilm:
    """Film, temperature rise and oil flow of a plain bearing that warms its own oil.

    Use it to compare clearances: put the measured clearance beside the middle of the limits of the same bearing. Tight
    makes heat, loose lets oil and pressure go; the film thickness hardly tells them apart.

    .. math:: \\Delta T = \\frac{k H}{\\rho\\,c\\,Q}, \\qquad Q = Q_{side} + Q_{groove}, \\qquad
              \\mu = \\mu(T_{feed} + \\Delta T / 2)

    Parameters
    ----------
    kind : str
        bush or split, as in `bearings.film` [word]
    diameter : Number
        diameter of the journal [m]
    width : Number
        width of the bearing surface [m]
    clearance : Number
        oil clearance on diameter [m]
    load : Number
        load, steady [N]
    speed : Number
        speed of the journal [rad/s]
    feed_temperature : Number
        temperature of the oil fed, :math:`T_{feed}` [K]
    feed_pressure : Number
        pressure of the oil fed, above ambient [Pa]
    groove_share : Number
        share of the girth that has an oil groove: 0 none, 0.5 upper shell, 1 all round [1]
    first_temperature : Number
        one temperature of the data sheet, usually 40 °C [K]
    first_viscosity : Number
        kinematic viscosity there [m2/s]
    second_temperature : Number
        another temperature, usually 100 °C [K]
    second_viscosity : Number
        kinematic viscosity there [m2/s]
    density : Number
        density of the warm oil, :math:`\\rho` [kg/m3]
    heat_capacity : Number
        heat capacity of the oil, some 2000, :math:`c` [J/(kg K)]
    heat_share : Number
        share of the friction heat that the oil carries off, :math:`k` [1]

    Returns
    -------
    thickness : Number
        thinnest film [m]
    eccentricity : Number
        share of the clearance that the journal is off centre [1]
    temperature_rise : Number
        how much warmer the oil leaves, :math:`\\Delta T` [K]
    viscosity : Number
        dynamic viscosity in the film, :math:`\\mu` [Pa s]
    flow : Number
        oil that leaves, :math:`Q` [m3/s]
    power : Number
        friction heat, :math:`H` [W]

    Raises
    ------
    OutOfRange
        If ``diameter <= 0``, ``width <= 0``, ``clearance <= 0``, ``load <= 0``, ``speed <= 0``,
        ``feed_temperature <= 0``, ``feed_pressure < 0``, ``groove_share < 0``, ``groove_share > 1``,
        ``density <= 0``, ``heat_capacity <= 0``, ``heat_share <= 0`` or ``heat_share > 1``; if width over diameter
        is not 0.2 to 1.5; where no balance is found on the grid or the oil would be thinner than 2 mm²/s.

    Notes
    -----
    Valid for: as `bearings.film`; a comparison, never a verdict.
    Assumes: the oil has half of its rise on the mean, the groove feeds as a full one by its share of the girth; a
        multigrade oil needs its viscosities scaled by what shear leaves.
    No published value: `bearings.film` and the chart line have them; the balance is tested by putting the answer back
        into those.

    References
    ----------
    .. [1] raimondi-boyd, part III, tables for the full bearing.
    .. [2] shigley, 12-9, steady-state conditions, and 12-22, pressure-fed bearings.
    .. [3] astm-d341, the chart equation for 2 mm²/s and above.

    Examples
    --------
    >>> oil = dict(first_temperature=313.15, first_viscosity=63e-6, second_temperature=373.15, second_viscosity=10.8e-6)
    >>> fed = dict(feed_temperature=373.15, feed_pressure=3e5, groove_share=0.5, density=820.0, heat_capacity=2200.0)
    >>> bearing = dict(kind="split", diameter=0.05, width=0.018, clearance=0.00005, load=4000.0, speed=314.16)
    >>> found = film_in_balance(**bearing, **fed, **oil, heat_share=0.8)
    >>> round(float(found.thickness) * 1e6, 1), round(float(found.temperature_rise))
    (3.7, 12)
    """
    check_kind(kind)
    unit = sommerfeld_number(diameter=diameter, width=width, clearance=clearance, load=load, speed=speed, viscosity=1.0)
    check_slenderness(width / diameter)
    line = chart_line(
        first_temperature=first_temperature,
        first_viscosity=first_viscosity,
        second_temperature=second_temperature,
        second_viscosity=second_viscosity,
    )
    heat = (feed_temperature, feed_pressure, groove_share, *line, density, heat_capacity, heat_share)
    given = _Setting(kind, diameter, width, clearance, speed, unit, *heat)
    _check(given)
    shape = np.broadcast_shapes(*(np.shape(each) for each in given[1:]))
    away = halve(lambda e: _excess(given, e), shape)
    _check_balance(given, away)
    return _balance(given, away)


def _check(given: _Setting) -> None:
    """Refuse what the balance cannot be asked with."""
    for name, value, unit in (
        ("feed_temperature", given.feed_temperature, "K"),
        ("density", given.density, "kg/m3"),
        ("heat_capacity", given.heat_capacity, "J/(kg K)"),
    ):
        require(name, value, unit, above=0, source="shigley")
    require("feed_pressure", given.feed_pressure, "Pa", at_least=0, source="shigley")
    require("groove_share", given.groove_share, "1", at_least=0, at_most=1, source="shigley")
    require("heat_share", given.heat_share, "1", above=0, at_most=1, source="shigley")


def _viscosity(given: _Setting, away: NDArray[np.float64]) -> NDArray[np.float64]:
    """Viscosity that the load needs at this eccentricity."""
    needed: NDArray[np.float64] = surface(given.kind, "sommerfeld", given.width / given.diameter, away) / given.unit
    return needed


def _rise(given: _Setting, viscosity: NDArray[np.float64]) -> NDArray[np.float64]:
    """Twice what the film is warmer than the feed when the oil has this viscosity."""
    # Below 0.31 mm²/s the double logarithm ends; so thin an oil is refused after the search.
    thick = np.maximum(viscosity / given.density / _SQUARE_MILLIMETRE, 0.31) + 0.7
    temperature = 10 ** ((given.height - np.log10(np.log10(thick))) / given.slope)
    rise: NDArray[np.float64] = 2 * (temperature - given.feed_temperature)
    return rise


def _balance(given: _Setting, away: NDArray[np.float64]) -> WarmFilm:
    """What the bearing does at an eccentricity, with the rise that its own heat makes."""
    viscosity, slender = _viscosity(given, away), given.width / given.diameter
    torque = surface(given.kind, "torque", slender, away) * viscosity * given.speed
    power = torque * given.diameter**3 * given.width / (4 * given.clearance) * given.speed
    turns = given.speed / (2 * np.pi)
    side = surface(given.kind, "side_flow", slender, away) * given.diameter * given.clearance / 4 * turns * given.width
    groove = given.groove_share * groove_flow(
        feed_pressure=given.feed_pressure,
        diameter=given.diameter,
        clearance=given.clearance,
        eccentricity=away,
        land=given.width / 2,
        viscosity=viscosity,
    )
    rise = given.heat_share * power / (given.density * given.heat_capacity * (side + groove))
    return WarmFilm(given.clearance / 2 * (1 - away), away, rise, viscosity, side + groove, power)


def _excess(given: _Setting, away: NDArray[np.float64]) -> NDArray[np.float64]:
    """How much warmer the film must be for the load than its own heat makes it; rises with the eccentricity."""
    balance = _balance(given, away)
    excess: NDArray[np.float64] = _rise(given, np.asarray(balance.viscosity)) - balance.temperature_rise
    return excess


def _check_balance(given: _Setting, away: NDArray[np.float64]) -> None:
    """Refuse a balance at the ends of the grid, or with oil thinner than the chart holds for."""
    ends = (away < ECCENTRICITY[0] * (1 + 1e-6)) | (away > ECCENTRICITY[1] * (1 - 1e-6))
    if np.any(ends):
        expected = f"a film with an eccentricity from {ECCENTRICITY[0]} to {ECCENTRICITY[1]}"
        refuse("clearance", given.clearance, np.asarray(ends), "m", expected, source=SOURCE)
    thin = np.asarray(_viscosity(given, away) < _THINNEST * given.density)
    if np.any(thin):
        expected = "a film in which the oil keeps 2 mm²/s"
        refuse("feed_temperature", given.feed_temperature, thin, "K", expected, source="astm-d341")
