"""Oil as a bearing finds it: density, dynamic viscosity, what shear leaves of it, and old single grades."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from endfloat.errors import OutOfRange
from endfloat.formulas.bounds import require

Number = float | NDArray[np.float64]

# Viscosity in Pa s and temperature coefficient in degrees Fahrenheit; 0.0141 microreyn of SAE 30 is 97.2 µPa s.
_MONOGRADES = {
    "10": (108.9e-6, 1157.5),
    "20": (93.8e-6, 1271.6),
    "30": (97.2e-6, 1360.0),
    "40": (83.4e-6, 1474.4),
    "50": (117.2e-6, 1509.6),
    "60": (128.9e-6, 1564.0),
}


def density(*, density_15: Number, temperature: Number) -> Number:
    """Density of engine oil at temperature from that at 15 °C.

    .. math:: \\rho = \\rho_{15} - 0.65\\,(T - T_{15})

    Parameters
    ----------
    density_15 : Number
        density at 15 °C, :math:`\\rho_{15}` [kg/m3]
    temperature : Number
        temperature asked for, :math:`T` [K]

    Returns
    -------
    result : Number
        density, :math:`\\rho` [kg/m3]

    Raises
    ------
    OutOfRange
        If ``density_15 < 700``, ``density_15 > 1000``, ``temperature < 233.15`` or ``temperature > 473.15``.

    Notes
    -----
    Accuracy: one slope for all mineral oils, about 1 % over 100 K.
    No published value: a slope from memory.

    References
    ----------
    .. [1] memory, slope of mineral oils.

    Examples
    --------
    >>> round(density(density_15=870.0, temperature=373.15), 2)
    814.75
    """
    require("density_15", density_15, "kg/m3", at_least=700, at_most=1000, source="memory")
    require("temperature", temperature, "K", at_least=233.15, at_most=473.15, source="memory")
    return density_15 - 0.65 * (temperature - 288.15)


def dynamic_viscosity(*, kinematic_viscosity: Number, density: Number) -> Number:
    """Dynamic viscosity, which films and leaks go by, from the kinematic one of the data sheet.

    .. math:: \\mu = \\nu\\,\\rho

    Parameters
    ----------
    kinematic_viscosity : Number
        kinematic viscosity, :math:`\\nu` [m2/s]
    density : Number
        density at the same temperature, :math:`\\rho` [kg/m3]

    Returns
    -------
    result : Number
        dynamic viscosity, :math:`\\mu` [Pa s]

    Raises
    ------
    OutOfRange
        If ``kinematic_viscosity <= 0`` or ``density <= 0``.

    Notes
    -----
    No published value: an identity.

    References
    ----------
    .. [1] definition.

    Examples
    --------
    >>> round(dynamic_viscosity(kinematic_viscosity=10.8e-6, density=814.75) * 1e3, 2)
    8.8
    """
    require("kinematic_viscosity", kinematic_viscosity, "m2/s", above=0)
    require("density", density, "kg/m3", above=0)
    return kinematic_viscosity * density


def sheared_viscosity(*, viscosity: Number, high_shear: Number, low_shear: Number) -> Number:
    """Viscosity that a multigrade oil has left in a bearing, from its figure under high shear.

    Use it before any film or flow of a bearing: polymer that makes a multigrade thick is stretched thin there.

    .. math:: \\mu = \\mu_{low}\\,\\frac{\\mu_{HS,150}}{\\mu_{low,150}}

    Parameters
    ----------
    viscosity : Number
        dynamic viscosity without shear at film temperature, :math:`\\mu_{low}` [Pa s]
    high_shear : Number
        viscosity at 150 °C under high shear, from the data sheet, :math:`\\mu_{HS,150}` [Pa s]
    low_shear : Number
        viscosity at 150 °C without shear, by the chart equation, :math:`\\mu_{low,150}` [Pa s]

    Returns
    -------
    result : Number
        dynamic viscosity in the film, :math:`\\mu` [Pa s]

    Raises
    ------
    OutOfRange
        If ``viscosity <= 0``, ``high_shear <= 0`` or ``low_shear <= 0``.

    Notes
    -----
    Assumes: the same share is lost at film temperature as at 150 °C; without the figure viscosity is an upper bound.
    No published value: a ratio.

    References
    ----------
    .. [1] practice, scaling of the chart line.

    Examples
    --------
    >>> round(sheared_viscosity(viscosity=8.8e-3, high_shear=2.9e-3, low_shear=3.4e-3) * 1e3, 2)
    7.51
    """
    require("viscosity", viscosity, "Pa s", above=0, source="practice")
    require("high_shear", high_shear, "Pa s", above=0, source="practice")
    require("low_shear", low_shear, "Pa s", above=0, source="practice")
    return viscosity * high_shear / low_shear


def monograde_viscosity(*, grade: str, temperature: Number) -> Number:
    """Dynamic viscosity of a typical single-grade mineral oil.

    Use it for old engines and textbook sums, never for a multigrade oil.

    .. math:: \\mu = \\mu_0 \\exp \\frac{b}{1.8\\,t + 127}

    with the temperature :math:`t` in degrees Celsius.

    Parameters
    ----------
    grade : str
        SAE grade, 10 to 60 [word]
    temperature : Number
        temperature of the oil [K]

    Returns
    -------
    result : Number
        dynamic viscosity, :math:`\\mu` [Pa s]

    Raises
    ------
    OutOfRange
        If ``temperature < 273.15``; for another grade.

    Notes
    -----
    Accuracy: one curve a grade, made for design sums; grades other than 30 from memory of the same table.

    References
    ----------
    .. [1] shigley, table 12-1, after Seireg and Dandage.

    Examples
    --------
    >>> round(monograde_viscosity(grade="30", temperature=352.15) * 1e3, 1)
    15.2
    """
    if grade not in _MONOGRADES:
        expected = f"one of {', '.join(_MONOGRADES)}"
        raise OutOfRange(name="grade", value=grade, expected=expected, unit="word", source="shigley")
    require("temperature", temperature, "K", at_least=273.15, source="shigley")
    viscosity, coefficient = _MONOGRADES[grade]
    return viscosity * np.exp(coefficient / (1.8 * (temperature - 273.15) + 127))
