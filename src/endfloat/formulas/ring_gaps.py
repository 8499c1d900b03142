"""Ring gaps as holes: their area, how bore and heat change them, and the gas that passes."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import refuse, require

Number = float | NDArray[np.float64]


def ring_gap_area(*, gap: Number, bore: Number, land: Number) -> Number:
    """Area that a ring gap leaves open for gas: gap times the clearance of the land.

    .. math:: A = s \\frac{D - d}{2}

    Parameters
    ----------
    gap : Number
        gap between the ends of the ring in its bore, :math:`s` [m]
    bore : Number
        diameter of the bore, :math:`D` [m]
    land : Number
        diameter of the piston land beside the ring, :math:`d` [m]

    Returns
    -------
    result : Number
        area, :math:`A` [m2]

    Raises
    ------
    OutOfRange
        If ``gap < 0``, ``bore <= 0`` or ``land <= 0``, or if the land is larger than the bore.

    Notes
    -----
    Assumes: square ends without chamfers, the piston in the middle.
    No published value: an identity.

    References
    ----------
    .. [1] furuhama-1961, the gap as an orifice.

    Examples
    --------
    >>> round(ring_gap_area(gap=0.0003, bore=0.086, land=0.0855) * 1e9, 1)
    75.0
    """
    require("gap", gap, "m", at_least=0, source="furuhama-1961")
    require("bore", bore, "m", above=0, source="furuhama-1961")
    require("land", land, "m", above=0, source="furuhama-1961")
    _refuse_above_bore(land, bore)
    return gap * (bore - land) / 2


def ring_gap_change(*, bore_change: Number) -> Number:
    """Change of a ring gap with the diameter of its bore: 0.0314 mm for each 0.01 mm.

    Gauge the gap in the finished bore, at the lowest ring travel, where a worn bore is smallest.

    .. math:: \\Delta s = \\pi\\, \\Delta D

    Parameters
    ----------
    bore_change : Number
        change of the diameter of the bore, :math:`\\Delta D` [m]

    Returns
    -------
    result : Number
        change of the gap, :math:`\\Delta s` [m]

    Notes
    -----
    No published value: an identity.

    References
    ----------
    .. [1] definition, circumference.

    Examples
    --------
    >>> round(ring_gap_change(bore_change=0.00001), 8)
    3.142e-05
    """
    require("bore_change", bore_change, "m")
    return np.pi * bore_change


def hot_ring_gap(
    *, gap: Number, bore: Number, ring_rise: Number, bore_rise: Number, ring_expansion: Number, bore_expansion: Number
) -> Number:
    """Ring gap when hot: the bore opens it, the ring closes it.

    .. math:: s' = s + \\pi D (\\alpha_b \\Delta T_b - \\alpha_r \\Delta T_r)

    Parameters
    ----------
    gap : Number
        gap cold, :math:`s` [m]
    bore : Number
        diameter of the bore cold, :math:`D` [m]
    ring_rise : Number
        rise in temperature of the ring, :math:`\\Delta T_r` [K]
    bore_rise : Number
        rise in temperature of the bore at the ring, :math:`\\Delta T_b` [K]
    ring_expansion : Number
        expansion coefficient of the ring, :math:`\\alpha_r` [1/K]
    bore_expansion : Number
        expansion coefficient of the bore, :math:`\\alpha_b` [1/K]

    Returns
    -------
    result : Number
        gap hot; negative means that the ends butt, :math:`s'` [m]

    Raises
    ------
    OutOfRange
        If ``gap < 0``, ``bore <= 0``, ``ring_expansion < 0`` or ``bore_expansion < 0``.

    Notes
    -----
    Assumes: bore and ring each at one temperature.
    No published value: checked against circumferences cold and hot.

    References
    ----------
    .. [1] derived, circumferences cold and hot.

    Examples
    --------
    >>> iron = dict(ring_expansion=12e-6, bore_expansion=11e-6)
    >>> round(float(hot_ring_gap(gap=0.00030, bore=0.086, ring_rise=120.0, bore_rise=80.0, **iron)) * 1e3, 3)
    0.149
    """
    require("gap", gap, "m", at_least=0, source="derived")
    require("bore", bore, "m", above=0, source="derived")
    require("ring_rise", ring_rise, "K", source="derived")
    require("bore_rise", bore_rise, "K", source="derived")
    require("ring_expansion", ring_expansion, "1/K", at_least=0, source="derived")
    require("bore_expansion", bore_expansion, "1/K", at_least=0, source="derived")
    return gap + np.pi * bore * (bore_expansion * bore_rise - ring_expansion * ring_rise)


def blow_by(*, mass_flow: Number, pressure: Number, temperature: Number, gas_constant: Number) -> Number:
    """Blow-by as a meter on the crankcase breather reads it, from the mass flow.

    The trend of one engine at one load tells of wear; no general limit exists.

    .. math:: \\dot V = \\frac{\\dot m R T}{p}

    Parameters
    ----------
    mass_flow : Number
        gas past the rings, from `orifice_flow`, :math:`\\dot m` [kg/s]
    pressure : Number
        absolute pressure in the crankcase or meter, :math:`p` [Pa]
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
    >>> round(blow_by(mass_flow=1e-3, pressure=101325.0, temperature=288.15, gas_constant=287.05) * 60e3, 1)
    49.0
    """
    require("mass_flow", mass_flow, "kg/s", at_least=0)
    require("pressure", pressure, "Pa", above=0)
    require("temperature", temperature, "K", above=0)
    require("gas_constant", gas_constant, "J/(kg K)", above=0)
    return mass_flow * gas_constant * temperature / pressure


def _refuse_above_bore(land: Number, bore: Number) -> None:
    large = np.asarray(np.greater(land, bore))
    if np.any(large):
        most = float(np.ravel(np.broadcast_to(bore, large.shape)[large])[0])
        refuse("land", land, large, "m", f"at most {most:g}", source="furuhama-1961")
