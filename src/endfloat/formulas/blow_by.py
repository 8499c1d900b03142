"""Blow-by: gas past a ring gap, and what a meter shows of it."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import refuse, require
from endfloat.formulas.leak_tests import orifice_flow

Number = float | NDArray[np.float64]


def volume_flow(*, mass_flow: Number, pressure: Number, temperature: Number, gas_constant: Number) -> Number:
    """Volume flow that a meter shows, on the breather or in the air line of a tester, from the mass flow.

    .. math:: \\dot V = \\frac{\\dot m R T}{p}

    Parameters
    ----------
    mass_flow : Number
        gas that passes, :math:`\\dot m` [kg/s]
    pressure : Number
        absolute pressure in the meter, :math:`p` [Pa]
    temperature : Number
        absolute temperature there, :math:`T` [K]
    gas_constant : Number
        gas constant, :math:`R` [J/(kg K)]

    Returns
    -------
    result : Number
        volume flow, :math:`\\dot V` [m3/s]

    Raises
    ------
    OutOfRange
        If ``mass_flow < 0``, ``pressure <= 0``, ``temperature <= 0`` or ``gas_constant <= 0``.

    Notes
    -----
    Assumes: an ideal gas.
    No published value: an identity.

    References
    ----------
    .. [1] definition, ideal gas.

    Examples
    --------
    >>> round(volume_flow(mass_flow=1e-3, pressure=101325.0, temperature=288.15, gas_constant=287.05) * 60e3, 1)
    49.0
    """
    require("mass_flow", mass_flow, "kg/s", at_least=0)
    require("pressure", pressure, "Pa", above=0)
    require("temperature", temperature, "K", above=0)
    require("gas_constant", gas_constant, "J/(kg K)", above=0)
    return mass_flow * gas_constant * temperature / pressure


def past_ring_gap(
    *,
    gap: Number,
    bore: Number,
    land: Number,
    discharge: Number,
    above: Number,
    below: Number,
    temperature: Number,
    heat_ratio: Number,
    gas_constant: Number,
) -> Number:
    """Gas that passes the gap of one ring: a hole as wide as the gap and as high as the clearance of the land.

    Compare two gaps or two bores with it; the blow-by of an engine is a trend, and no general limit exists.

    .. math:: \\dot m = \\dot m_{hole}(A, p_1, p_2),\\quad A = s \\frac{D - d}{2}

    Parameters
    ----------
    gap : Number
        gap between the ends of the ring in its bore, :math:`s` [m]
    bore : Number
        diameter of the bore, :math:`D` [m]
    land : Number
        diameter of the piston land beside the ring, :math:`d` [m]
    discharge : Number
        discharge coefficient, 0.8 to 0.9 measured, :math:`C` [1]
    above : Number
        absolute pressure above the ring, :math:`p_1` [Pa]
    below : Number
        absolute pressure below it, :math:`p_2` [Pa]
    temperature : Number
        absolute temperature of the gas, :math:`T` [K]
    heat_ratio : Number
        ratio of the heat capacities, :math:`k` [1]
    gas_constant : Number
        gas constant, :math:`R` [J/(kg K)]

    Returns
    -------
    result : Number
        mass flow, :math:`\\dot m` [kg/s]

    Raises
    ------
    OutOfRange
        If ``gap < 0``, ``bore <= 0``, ``land <= 0``, ``discharge <= 0``, ``discharge > 1``, ``above <= 0``,
        ``below <= 0``, ``temperature <= 0``, ``heat_ratio <= 1`` or ``gas_constant <= 0``, or if the land is larger
        than the bore or the pressure below is the higher.

    Notes
    -----
    Assumes: square ends without chamfers, the piston in the middle, one ring alone.
    No published value: only the coefficient is published.

    References
    ----------
    .. [1] furuhama-1961, the gap as an orifice.

    Examples
    --------
    >>> ring = dict(gap=0.0003, bore=0.086, land=0.0855, discharge=0.86)
    >>> gas = dict(above=1.6e6, below=101325.0, temperature=500.0, heat_ratio=1.4, gas_constant=287.05)
    >>> round(float(past_ring_gap(**ring, **gas)) * 1e3, 3)
    0.187
    """
    require("gap", gap, "m", at_least=0, source="furuhama-1961")
    require("bore", bore, "m", above=0, source="furuhama-1961")
    require("land", land, "m", above=0, source="furuhama-1961")
    require("discharge", discharge, "1", above=0, at_most=1, source="furuhama-1961")
    require("above", above, "Pa", above=0, source="furuhama-1961")
    require("below", below, "Pa", above=0, source="furuhama-1961")
    require("temperature", temperature, "K", above=0, source="furuhama-1961")
    require("heat_ratio", heat_ratio, "1", above=1, source="furuhama-1961")
    require("gas_constant", gas_constant, "J/(kg K)", above=0, source="furuhama-1961")
    large = np.asarray(np.greater(land, bore))
    if np.any(large):
        most = float(np.ravel(np.broadcast_to(bore, large.shape)[large])[0])
        refuse("land", land, large, "m", f"at most {most:g}", source="furuhama-1961")
    return orifice_flow(
        area=gap * (bore - land) / 2,
        discharge=discharge,
        upstream=above,
        downstream=below,
        temperature=temperature,
        heat_ratio=heat_ratio,
        gas_constant=gas_constant,
    )
