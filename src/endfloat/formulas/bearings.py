"""The journal bearing in its oil film under a steady load."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import refuse, require
from endfloat.formulas.film_grid import (
    ECCENTRICITY,
    SOURCE,
    check_kind,
    check_slenderness,
    eccentricity_at,
    surface,
)

Number = float | NDArray[np.float64]


class OilFilm(NamedTuple):
    """What a bearing does on its film."""

    eccentricity: Number
    thickness: Number
    attitude: Number
    friction: Number
    torque: Number
    power: Number
    film_flow: Number
    side_flow: Number
    peak_pressure: Number


def sommerfeld_number(
    *, diameter: Number, width: Number, clearance: Number, load: Number, speed: Number, viscosity: Number
) -> Number:
    """The one number that decides how a bearing rides: small is heavily loaded.

    .. math:: S = \\left(\\frac{d}{C}\\right)^2 \\frac{\\mu N}{P}, \\qquad P = \\frac{W}{b\\,d}

    with N in turns a second. The number So of ISO 7902 is 1/(2 pi S): the two run opposite ways.

    Parameters
    ----------
    diameter : Number
        diameter of the journal, :math:`d` [m]
    width : Number
        width of the bearing surface, :math:`b` [m]
    clearance : Number
        oil clearance on diameter, :math:`C` [m]
    load : Number
        load, :math:`W` [N]
    speed : Number
        speed of the journal [rad/s]
    viscosity : Number
        dynamic viscosity in the film, :math:`\\mu` [Pa s]

    Returns
    -------
    result : Number
        Sommerfeld number, :math:`S` [1]

    Raises
    ------
    OutOfRange
        If ``diameter <= 0``, ``width <= 0``, ``clearance <= 0``, ``load <= 0``, ``speed <= 0`` or
        ``viscosity <= 0``.

    References
    ----------
    .. [1] shigley, equation 12-7.

    Examples
    --------
    >>> bearing = dict(diameter=0.06, width=0.06, clearance=0.00012, load=3000.0)
    >>> round(sommerfeld_number(**bearing, speed=150.8, viscosity=0.03), 3)
    0.216
    """
    for name, value, unit in (
        ("diameter", diameter, "m"),
        ("width", width, "m"),
        ("clearance", clearance, "m"),
        ("load", load, "N"),
        ("speed", speed, "rad/s"),
        ("viscosity", viscosity, "Pa s"),
    ):
        require(name, value, unit, above=0, source="shigley")
    return (diameter / clearance) ** 2 * viscosity * speed / (2 * np.pi) * width * diameter / load


def film(
    *,
    kind: str,
    diameter: Number,
    width: Number,
    clearance: Number,
    load: Number,
    speed: Number,
    viscosity: Number,
) -> OilFilm:
    """Film thickness, friction, flow and pressure of a plain bearing at one viscosity.

    Use it to compare one clearance of a bearing with another: the thickness hardly changes, friction heat and flow do.
    Never judge a bearing by the thickness: real loads turn and pulse, shells give way and are not round.

    .. math:: h_0 = \\frac{C}{2}(1 - \\varepsilon), \\quad T = f W \\frac{d}{2}, \\quad H = T \\omega

    with the eccentricity from a solved grid of the Reynolds equation.

    Parameters
    ----------
    kind : str
        bush: full bearing; split: two shells, an axial groove at each parting line, load in the middle of one [word]
    diameter : Number
        diameter of the journal, :math:`d` [m]
    width : Number
        width of the bearing surface [m]
    clearance : Number
        oil clearance on diameter, :math:`C` [m]
    load : Number
        load, :math:`W` [N]
    speed : Number
        speed of the journal, :math:`\\omega` [rad/s]
    viscosity : Number
        dynamic viscosity in the film [Pa s]

    Returns
    -------
    eccentricity : Number
        share of the clearance that the journal is off centre, :math:`\\varepsilon` [1]
    thickness : Number
        thinnest film, :math:`h_0` [m]
    attitude : Number
        angle from the load to the thinnest film [rad]
    friction : Number
        coefficient of friction, :math:`f` [1]
    torque : Number
        friction torque on the journal, :math:`T` [N m]
    power : Number
        friction heat, :math:`H` [W]
    film_flow : Number
        oil drawn into the film that carries [m3/s]
    side_flow : Number
        oil that leaves at the sides by the turning alone [m3/s]
    peak_pressure : Number
        highest pressure in the film [Pa]

    Raises
    ------
    OutOfRange
        If ``diameter <= 0``, ``width <= 0``, ``clearance <= 0``, ``load <= 0``, ``speed <= 0`` or
        ``viscosity <= 0``; if width over diameter is not 0.2 to 1.5; beyond an eccentricity of 0.98.

    Notes
    -----
    Valid for: steady load, laminar, rigid, round and aligned parts, one viscosity.
    Assumes: the whole gap filled with oil for friction; a torn film takes 4 to 20 % less.
    Differs from source: solved anew; the row of 1958 for width = diameter and an eccentricity of 0.4 has S 0.264,
        here 0.2605.
    Accuracy: the grid within 0.3 % of a finer mesh, between its nodes within 0.2 %.

    References
    ----------
    .. [1] raimondi-boyd, part III, tables for the full bearing.
    .. [2] someya, tables of the two-axial-groove bearing.
    .. [3] shigley, equation 12-7.

    Examples
    --------
    >>> bearing = dict(kind="bush", diameter=0.06, width=0.06, clearance=0.00012, load=3000.0)
    >>> found = film(**bearing, speed=150.8, viscosity=0.03)
    >>> round(float(found.thickness) * 1e6, 1), round(float(found.power))
    (33.0, 135)
    """
    check_kind(kind)
    number = sommerfeld_number(
        diameter=diameter, width=width, clearance=clearance, load=load, speed=speed, viscosity=viscosity
    )
    slender = width / diameter
    check_slenderness(slender)
    away = eccentricity_at(kind, slender, number)
    torque = surface(kind, "torque", slender, away) * viscosity * speed * diameter**3 * width / (4 * clearance)
    flow = diameter * clearance / 4 * speed / (2 * np.pi) * width
    return OilFilm(
        eccentricity=away,
        thickness=clearance / 2 * (1 - away),
        attitude=surface(kind, "attitude", slender, away),
        friction=2 * torque / (load * diameter),
        torque=torque,
        power=torque * speed,
        film_flow=surface(kind, "film_flow", slender, away) * flow,
        side_flow=surface(kind, "side_flow", slender, away) * flow,
        peak_pressure=load / (width * diameter) / surface(kind, "pressure_ratio", slender, away),
    )


def viscosity_for_film(
    *,
    kind: str,
    diameter: Number,
    width: Number,
    clearance: Number,
    load: Number,
    speed: Number,
    thickness: Number,
) -> Number:
    """Viscosity that keeps a film of given thickness under a steady load.

    Use it to compare oils: what a bearing with more clearance would need to ride as high as before.

    .. math:: \\mu = S(\\varepsilon) \\left(\\frac{C}{d}\\right)^2 \\frac{P}{N}, \\; \\varepsilon = 1 - 2 h_0 / C

    Parameters
    ----------
    kind : str
        bush or split, as in `film` [word]
    diameter : Number
        diameter of the journal, :math:`d` [m]
    width : Number
        width of the bearing surface [m]
    clearance : Number
        oil clearance on diameter, :math:`C` [m]
    load : Number
        load [N]
    speed : Number
        speed of the journal [rad/s]
    thickness : Number
        wanted thinnest film, :math:`h_0` [m]

    Returns
    -------
    result : Number
        dynamic viscosity in the film, :math:`\\mu` [Pa s]

    Raises
    ------
    OutOfRange
        If ``diameter <= 0``, ``width <= 0``, ``clearance <= 0``, ``load <= 0`` or ``speed <= 0``; if width over
        diameter is not 0.2 to 1.5; if the film is not 0.02 to 0.99 of the radial clearance.

    Notes
    -----
    Valid for: as `film`.

    References
    ----------
    .. [1] raimondi-boyd, part III, tables for the full bearing.
    .. [2] shigley, equation 12-7.

    Examples
    --------
    >>> bearing = dict(kind="bush", diameter=0.06, width=0.06, clearance=0.00008, load=6000.0, speed=131.95)
    >>> round(float(viscosity_for_film(**bearing, thickness=0.000008)) * 1e3, 2)
    6.29
    """
    check_kind(kind)
    unit = sommerfeld_number(diameter=diameter, width=width, clearance=clearance, load=load, speed=speed, viscosity=1.0)
    check_slenderness(width / diameter)
    away = _eccentricity(clearance, thickness)
    return surface(kind, "sommerfeld", width / diameter, away) / unit


def load_on_film(
    *,
    kind: str,
    diameter: Number,
    width: Number,
    clearance: Number,
    speed: Number,
    viscosity: Number,
    thickness: Number,
) -> Number:
    """Steady load that a bearing carries at a given film thickness.

    .. math:: W = \\frac{\\mu N b\\, d}{S(\\varepsilon)} \\left(\\frac{d}{C}\\right)^2

    Parameters
    ----------
    kind : str
        bush or split, as in `film` [word]
    diameter : Number
        diameter of the journal, :math:`d` [m]
    width : Number
        width of the bearing surface, :math:`b` [m]
    clearance : Number
        oil clearance on diameter, :math:`C` [m]
    speed : Number
        speed of the journal [rad/s]
    viscosity : Number
        dynamic viscosity in the film, :math:`\\mu` [Pa s]
    thickness : Number
        thinnest film, :math:`h_0` [m]

    Returns
    -------
    result : Number
        load, :math:`W` [N]

    Raises
    ------
    OutOfRange
        If ``diameter <= 0``, ``width <= 0``, ``clearance <= 0``, ``speed <= 0`` or ``viscosity <= 0``; if width over
        diameter is not 0.2 to 1.5; if the film is not 0.02 to 0.99 of the radial clearance.

    Notes
    -----
    Valid for: as `film`.
    No published value: the inverse of `film`, which has them; the two are tested against each other.

    References
    ----------
    .. [1] raimondi-boyd, part III, tables for the full bearing.
    .. [2] shigley, equation 12-7.

    Examples
    --------
    >>> bearing = dict(kind="split", diameter=0.05, width=0.018, clearance=0.00005, speed=314.16, viscosity=0.008)
    >>> round(float(load_on_film(**bearing, thickness=0.000004)))
    3650
    """
    check_kind(kind)
    unit = sommerfeld_number(
        diameter=diameter, width=width, clearance=clearance, load=1.0, speed=speed, viscosity=viscosity
    )
    check_slenderness(width / diameter)
    return unit / surface(kind, "sommerfeld", width / diameter, _eccentricity(clearance, thickness))


def _eccentricity(clearance: Number, thickness: Number) -> Number:
    """Share off centre that leaves a film of this thickness."""
    away: Number = 1 - 2 * np.asarray(thickness) / clearance
    bad = np.asarray(~((away >= ECCENTRICITY[0] - 1e-9) & (away <= ECCENTRICITY[1] + 1e-9)))
    if np.any(bad):
        expected = "0.02 to 0.99 of half the clearance"
        refuse("thickness", thickness, bad, "m", expected, source=SOURCE)
    return np.clip(away, *ECCENTRICITY)
