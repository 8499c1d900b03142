"""SAE grades of engine oil: their limits, and whether a measured oil meets them."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from endfloat.errors import OutOfRange
from endfloat.formulas.bounds import require

Number = float | NDArray[np.float64]

# Kinematic viscosity at 100 °C from and below (m²/s), and least viscosity at 150 °C under high shear (Pa s).
_HOT = {
    "8": (4.0e-6, 6.1e-6, 1.7e-3),
    "12": (5.0e-6, 7.1e-6, 2.0e-3),
    "16": (6.1e-6, 8.2e-6, 2.3e-3),
    "20": (6.9e-6, 9.3e-6, 2.6e-3),
    "30": (9.3e-6, 12.5e-6, 2.9e-3),
    "40": (12.5e-6, 16.3e-6, 3.7e-3),
    "50": (16.3e-6, 21.9e-6, 3.7e-3),
    "60": (21.9e-6, 26.1e-6, 3.7e-3),
}
_LIGHT_40 = 3.5e-3
"""What 0W-40, 5W-40 and 10W-40 need under high shear, in Pa s."""
# Most when cranked (Pa s) at a temperature (K), most when pumped at a temperature, least viscosity at 100 °C (m²/s).
_WINTER = {
    "0W": (6.2, 238.15, 60.0, 233.15, 3.8e-6),
    "5W": (6.6, 243.15, 60.0, 238.15, 3.8e-6),
    "10W": (7.0, 248.15, 60.0, 243.15, 4.1e-6),
    "15W": (7.0, 253.15, 60.0, 248.15, 5.6e-6),
    "20W": (9.5, 258.15, 60.0, 253.15, 5.6e-6),
    "25W": (13.0, 263.15, 60.0, 258.15, 9.3e-6),
}


class HotLimits(NamedTuple):
    """What an oil must have at 100 and 150 °C."""

    least: Number
    below: Number
    high_shear: Number


class WinterLimits(NamedTuple):
    """What an oil must have when cold, and the least at 100 °C."""

    cranking: Number
    cranking_temperature: Number
    pumping: Number
    pumping_temperature: Number
    least: Number


def hot_limits(*, grade: str) -> HotLimits:
    """Limits of the hot side of an SAE grade, edition of January 2015.

    Use it to read a data sheet or a used-oil analysis. Older editions differ: in 1999 SAE 20 began at 5.6 mm²/s and
    a light 40 needed 2.9 mPa s only.

    Parameters
    ----------
    grade : str
        8, 12, 16, 20, 30, 40, 50, 60 or with a winter grade, such as 10W-40 [word]

    Returns
    -------
    least : Number
        least kinematic viscosity at 100 °C [m2/s]
    below : Number
        kinematic viscosity at 100 °C that it stays below [m2/s]
    high_shear : Number
        least viscosity at 150 °C under high shear [Pa s]

    Raises
    ------
    OutOfRange
        If the grade is not in the table.

    Notes
    -----
    Accuracy: the table as two open pages print it; the standard was not at hand, later editions keep these limits.

    References
    ----------
    .. [1] sae-j300, table 1.

    Examples
    --------
    >>> limits = hot_limits(grade="10W-40")
    >>> [round(value, 7) for value in limits]
    [1.25e-05, 1.63e-05, 0.0035]
    """
    winter, _, hot = grade.rpartition("-")
    if hot not in _HOT or winter not in ("", *_WINTER) or ("-" in grade) != bool(winter):
        raise _unknown(grade, (*_HOT, *(f"{each}-40" for each in _WINTER)))
    limits = HotLimits(*_HOT[hot])
    return limits._replace(high_shear=_LIGHT_40) if hot == "40" and winter in ("0W", "5W", "10W") else limits


def winter_limits(*, grade: str) -> WinterLimits:
    """Limits of the cold side of an SAE grade with W, edition of January 2015.

    Use it for a starter that will not turn in the frost: which oil cranks at which temperature.

    Parameters
    ----------
    grade : str
        0W, 5W, 10W, 15W, 20W or 25W [word]

    Returns
    -------
    cranking : Number
        most viscosity when cranked [Pa s]
    cranking_temperature : Number
        temperature of that [K]
    pumping : Number
        most viscosity when pumped, without yield stress [Pa s]
    pumping_temperature : Number
        temperature of that [K]
    least : Number
        least kinematic viscosity at 100 °C [m2/s]

    Raises
    ------
    OutOfRange
        If the grade is not in the table.

    Notes
    -----
    Accuracy: the table as two open pages print it; one maker's page has 10W at -30 °C, which is wrong or old.

    References
    ----------
    .. [1] sae-j300, table 1.

    Examples
    --------
    >>> limits = winter_limits(grade="10W")
    >>> limits.cranking, round(limits.cranking_temperature - 273.15)
    (7.0, -25)
    """
    if grade not in _WINTER:
        raise _unknown(grade, tuple(_WINTER))
    return WinterLimits(*_WINTER[grade])


def meets_hot_grade(*, grade: str, viscosity_100: Number, high_shear: Number) -> Number:
    """Whether an oil has what the hot side of a grade asks for: 1 or 0.

    Use it on a used-oil report: fuel in the oil takes it below its grade. Grades overlap below SAE 20, so one
    viscosity may meet two of them.

    Parameters
    ----------
    grade : str
        8 to 60, or with a winter grade, such as 5W-40 [word]
    viscosity_100 : Number
        kinematic viscosity at 100 °C [m2/s]
    high_shear : Number
        viscosity at 150 °C under high shear [Pa s]

    Returns
    -------
    result : Number
        1 if it meets the grade, otherwise 0 [1]

    Raises
    ------
    OutOfRange
        If ``viscosity_100 <= 0`` or ``high_shear <= 0``; if the grade is not in the table.

    Notes
    -----
    No published value: comparison with `hot_limits`, which has them.

    References
    ----------
    .. [1] sae-j300, table 1.

    Examples
    --------
    >>> meets_hot_grade(grade="30", viscosity_100=10.8e-6, high_shear=3.1e-3)
    1.0
    """
    limits = hot_limits(grade=grade)
    require("viscosity_100", viscosity_100, "m2/s", above=0, source="sae-j300")
    require("high_shear", high_shear, "Pa s", above=0, source="sae-j300")
    within = (np.asarray(viscosity_100) >= limits.least) & (np.asarray(viscosity_100) < limits.below)
    return np.where(within & (np.asarray(high_shear) >= limits.high_shear), 1.0, 0.0) + 0.0


def meets_winter_grade(*, grade: str, viscosity_100: Number, cranking: Number, pumping: Number) -> Number:
    """Whether an oil has what the cold side of a grade asks for: 1 or 0.

    An oil is sold as the lowest winter grade that it meets.

    Parameters
    ----------
    grade : str
        0W, 5W, 10W, 15W, 20W or 25W [word]
    viscosity_100 : Number
        kinematic viscosity at 100 °C [m2/s]
    cranking : Number
        viscosity cranked, at the temperature of the grade [Pa s]
    pumping : Number
        viscosity pumped, at the temperature of the grade [Pa s]

    Returns
    -------
    result : Number
        1 if it meets the grade, otherwise 0 [1]

    Raises
    ------
    OutOfRange
        If ``viscosity_100 <= 0``, ``cranking <= 0`` or ``pumping <= 0``; if the grade is not in the table.

    Notes
    -----
    Assumes: both were measured at the temperatures of that grade; no yield stress was seen.
    No published value: comparison with `winter_limits`, which has them.

    References
    ----------
    .. [1] sae-j300, table 1.

    Examples
    --------
    >>> meets_winter_grade(grade="10W", viscosity_100=10.8e-6, cranking=6.1, pumping=21.0)
    1.0
    """
    limits = winter_limits(grade=grade)
    require("viscosity_100", viscosity_100, "m2/s", above=0, source="sae-j300")
    require("cranking", cranking, "Pa s", above=0, source="sae-j300")
    require("pumping", pumping, "Pa s", above=0, source="sae-j300")
    cold = (np.asarray(cranking) <= limits.cranking) & (np.asarray(pumping) <= limits.pumping)
    return np.where(cold & (np.asarray(viscosity_100) >= limits.least), 1.0, 0.0) + 0.0


def _unknown(grade: str, known: tuple[str, ...]) -> OutOfRange:
    expected = f"one of {', '.join(known)}"
    return OutOfRange(name="grade", value=grade, expected=expected, unit="word", source="sae-j300")
