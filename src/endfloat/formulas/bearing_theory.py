"""The limits between which every plain bearing lies, for checking, and old rules of its design."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import require
from endfloat.formulas.film_grid import short_attitude, short_sommerfeld

Number = float | NDArray[np.float64]


def concentric_torque(
    *, diameter: Number, width: Number, clearance: Number, speed: Number, viscosity: Number
) -> Number:
    """Friction torque of a journal that runs in the middle of its bearing (Petroff).

    Use it for the drag of an unloaded shaft, such as cold cranking without load, and as the floor of any bearing.

    .. math:: T = \\frac{4 \\pi^2 \\mu N r^3 b}{c}

    Parameters
    ----------
    diameter : Number
        diameter of the journal, twice :math:`r` [m]
    width : Number
        width of the bearing surface, :math:`b` [m]
    clearance : Number
        oil clearance on diameter, twice :math:`c` [m]
    speed : Number
        speed of the journal, :math:`2 \\pi N` [rad/s]
    viscosity : Number
        dynamic viscosity, :math:`\\mu` [Pa s]

    Returns
    -------
    result : Number
        friction torque, :math:`T` [N m]

    Raises
    ------
    OutOfRange
        If ``diameter <= 0``, ``width <= 0``, ``clearance <= 0``, ``speed < 0`` or ``viscosity <= 0``.

    Notes
    -----
    Valid for: no load; the film is as thick all round.

    References
    ----------
    .. [1] shigley, equation 12-6.
    .. [2] fox-mcdonald, chapter 8, journal bearing of a crankshaft.

    Examples
    --------
    >>> bearing = dict(diameter=0.0762, width=0.03175, clearance=6.35e-5, speed=376.99)
    >>> round(concentric_torque(**bearing, viscosity=0.009624), 2)
    1.26
    """
    require("diameter", diameter, "m", above=0, source="shigley")
    require("width", width, "m", above=0, source="shigley")
    require("clearance", clearance, "m", above=0, source="shigley")
    require("speed", speed, "rad/s", at_least=0, source="shigley")
    require("viscosity", viscosity, "Pa s", above=0, source="shigley")
    return np.pi * viscosity * speed * diameter**3 * width / (2 * clearance)


def short_bearing_sommerfeld(*, slenderness: Number, eccentricity: Number) -> Number:
    """Sommerfeld number of a very short bearing (Ocvirk): a limit, not a verdict.

    .. math:: S = \\frac{(1 - \\varepsilon^2)^2}{\\pi \\varepsilon\\, (b/d)^2
              \\sqrt{\\pi^2 (1 - \\varepsilon^2) + 16\\,\\varepsilon^2}}

    Parameters
    ----------
    slenderness : Number
        width over diameter, :math:`b/d` [1]
    eccentricity : Number
        share of the clearance that the journal is off centre, :math:`\\varepsilon` [1]

    Returns
    -------
    result : Number
        Sommerfeld number, :math:`S` [1]

    Raises
    ------
    OutOfRange
        If ``slenderness <= 0``, ``eccentricity <= 0`` or ``eccentricity >= 1``.

    Notes
    -----
    Accuracy: at engine widths it is far too low: by 26 % at b/d 0.35 and an eccentricity of 0.8, by 42 % at 0.9.

    References
    ----------
    .. [1] ocvirk, short-bearing approximation.

    Examples
    --------
    >>> round(float(short_bearing_sommerfeld(slenderness=0.25, eccentricity=0.6)), 4)
    1.0005
    """
    require("slenderness", slenderness, "1", above=0, source="ocvirk")
    require("eccentricity", eccentricity, "1", above=0, below=1, source="ocvirk")
    return short_sommerfeld(slenderness, eccentricity)


def short_bearing_attitude(*, eccentricity: Number) -> Number:
    """Angle between load and line of centres of a very short bearing (Ocvirk).

    .. math:: \\tan \\phi = \\frac{\\pi \\sqrt{1 - \\varepsilon^2}}{4 \\varepsilon}

    Parameters
    ----------
    eccentricity : Number
        share of the clearance that the journal is off centre, :math:`\\varepsilon` [1]

    Returns
    -------
    result : Number
        attitude angle, :math:`\\phi` [rad]

    Raises
    ------
    OutOfRange
        If ``eccentricity < 0`` or ``eccentricity > 1``.

    Notes
    -----
    No published value: a limit; the grid comes towards it as the bearing gets narrower, which is tested.

    References
    ----------
    .. [1] ocvirk, short-bearing approximation.

    Examples
    --------
    >>> round(float(np.degrees(short_bearing_attitude(eccentricity=0.8))), 1)
    30.5
    """
    require("eccentricity", eccentricity, "1", at_least=0, at_most=1, source="ocvirk")
    return short_attitude(eccentricity)


def design_film(*, diameter: Number) -> Number:
    """Least film thickness that Trumpler wants of a machine designed for long life.

    Engine bearings run far below it: never hold one to this rule. It is here to read old design sums.

    .. math:: h_0 \\ge 0.0002\\,\\mathrm{in} + 0.00004\\,d

    Parameters
    ----------
    diameter : Number
        diameter of the journal, :math:`d` [m]

    Returns
    -------
    result : Number
        least film thickness, :math:`h_0` [m]

    Raises
    ------
    OutOfRange
        If ``diameter <= 0``.

    Notes
    -----
    Valid for: industrial bearings under a steady load, with ground journals.

    References
    ----------
    .. [1] shigley, 12-7, design criteria of Trumpler.

    Examples
    --------
    >>> round(design_film(diameter=0.0508) * 1e6, 3)
    7.112
    """
    require("diameter", diameter, "m", above=0, source="shigley")
    return 5.08e-6 + 0.00004 * diameter
