"""Rings pressed or shrunk together, warm and cold."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import refuse, require

Number = float | NDArray[np.float64]


class RingStress(NamedTuple):
    """Stresses in a thick ring; tension is positive."""

    radial: Number
    hoop: Number


def contact_pressure(
    *,
    interference: Number,
    diameter: Number,
    outer_diameter: Number,
    inner_diameter: Number,
    outer_modulus: Number,
    outer_poisson: Number,
    inner_modulus: Number,
    inner_poisson: Number,
) -> Number:
    """Pressure between two rings pressed together, the inner one hollow or solid.

    Use it for valve seats, guides, dry liners, small-end bushes and ring gears; give the interference at working
    temperature (`interference_at_temperature`) to see whether the part stays put when hot. A negative
    interference gives no pressure: nought.

    .. math:: p = \\frac{\\delta / d}{\\frac{1}{E_o}\\left(\\frac{d_o^2 + d^2}{d_o^2 - d^2} + \\nu_o\\right)
              + \\frac{1}{E_i}\\left(\\frac{d^2 + d_i^2}{d^2 - d_i^2} - \\nu_i\\right)}

    Parameters
    ----------
    interference : Number
        interference on diameter, :math:`\\delta` [m]
    diameter : Number
        diameter where they meet, :math:`d` [m]
    outer_diameter : Number
        outside diameter of the outer part, :math:`d_o` [m]
    inner_diameter : Number
        bore of the inner part, nought if it is solid, :math:`d_i` [m]
    outer_modulus : Number
        modulus of elasticity of the outer part, :math:`E_o` [Pa]
    outer_poisson : Number
        Poisson's ratio of the outer part, :math:`\\nu_o` [1]
    inner_modulus : Number
        modulus of elasticity of the inner part, :math:`E_i` [Pa]
    inner_poisson : Number
        Poisson's ratio of the inner part, :math:`\\nu_i` [1]

    Returns
    -------
    result : Number
        pressure where they meet, :math:`p` [Pa]

    Raises
    ------
    OutOfRange
        If ``diameter <= 0``, ``inner_diameter < 0``, ``outer_modulus <= 0``, ``inner_modulus <= 0``,
        ``outer_poisson < 0``, ``outer_poisson > 0.5``, ``inner_poisson < 0`` or ``inner_poisson > 0.5``; if the
        diameters do not follow one another.

    Notes
    -----
    Valid for: elastic, round, concentric rings of one length, no axial force; a head around a seat is not round.
    Accuracy: the outside diameter that stands for a cast head is a guess; the pressure is a comparison.

    References
    ----------
    .. [1] shigley, interference fits of two members.
    .. [2] boresi, 11.4, composite cylinders.

    Examples
    --------
    >>> steel = dict(outer_modulus=200e9, outer_poisson=0.29, inner_modulus=200e9, inner_poisson=0.29)
    >>> rings = dict(diameter=0.05, outer_diameter=0.1, inner_diameter=0.02)
    >>> round(contact_pressure(interference=0.000144, **rings, **steel) / 1e6, 1)
    189.0
    """
    require("interference", interference, "m", source="shigley")
    give = _give(diameter, outer_diameter, inner_diameter, outer_modulus, outer_poisson, inner_modulus, inner_poisson)
    return np.maximum(interference, 0.0) / give


def interference_for_pressure(
    *,
    pressure: Number,
    diameter: Number,
    outer_diameter: Number,
    inner_diameter: Number,
    outer_modulus: Number,
    outer_poisson: Number,
    inner_modulus: Number,
    inner_poisson: Number,
) -> Number:
    """Interference on diameter that gives a wanted pressure between two rings.

    Use it to order a seat or a liner for a machined hole: the pressure that must be left when hot, taken back.

    .. math:: \\delta = p\\,d \\left[\\frac{1}{E_o}\\left(\\frac{d_o^2 + d^2}{d_o^2 - d^2} + \\nu_o\\right)
              + \\frac{1}{E_i}\\left(\\frac{d^2 + d_i^2}{d^2 - d_i^2} - \\nu_i\\right)\\right]

    Parameters
    ----------
    pressure : Number
        wanted pressure, :math:`p` [Pa]
    diameter : Number
        diameter where they meet, :math:`d` [m]
    outer_diameter : Number
        outside diameter of the outer part, :math:`d_o` [m]
    inner_diameter : Number
        bore of the inner part, nought if it is solid, :math:`d_i` [m]
    outer_modulus : Number
        modulus of elasticity of the outer part, :math:`E_o` [Pa]
    outer_poisson : Number
        Poisson's ratio of the outer part, :math:`\\nu_o` [1]
    inner_modulus : Number
        modulus of elasticity of the inner part, :math:`E_i` [Pa]
    inner_poisson : Number
        Poisson's ratio of the inner part, :math:`\\nu_i` [1]

    Returns
    -------
    result : Number
        interference on diameter, :math:`\\delta` [m]

    Raises
    ------
    OutOfRange
        If ``pressure < 0``, ``diameter <= 0``, ``inner_diameter < 0``, ``outer_modulus <= 0`` or
        ``inner_modulus <= 0``; if the diameters do not follow one another.

    Notes
    -----
    No published value: the inverse of `contact_pressure`, which has them; the two are tested against each other.

    References
    ----------
    .. [1] shigley, interference fits of two members.

    Examples
    --------
    >>> steel = dict(outer_modulus=200e9, outer_poisson=0.29, inner_modulus=200e9, inner_poisson=0.29)
    >>> rings = dict(diameter=0.05, outer_diameter=0.1, inner_diameter=0.02)
    >>> round(interference_for_pressure(pressure=189e6, **rings, **steel), 6)
    0.000144
    """
    require("pressure", pressure, "Pa", at_least=0, source="shigley")
    return pressure * _give(
        diameter, outer_diameter, inner_diameter, outer_modulus, outer_poisson, inner_modulus, inner_poisson
    )


def ring_stress(
    *,
    inside_pressure: Number,
    outside_pressure: Number,
    inner_diameter: Number,
    outer_diameter: Number,
    diameter: Number,
) -> RingStress:
    """Radial and hoop stress anywhere in a thick ring under pressure inside and outside.

    Use it with the pressure of a fit: the outer part has it inside and is most stretched at its bore, the inner
    part has it outside and is most squeezed at its own bore.

    .. math:: \\sigma = A \\mp B / d^2, \\quad A = \\frac{p_i d_i^2 - p_o d_o^2}{d_o^2 - d_i^2}, \\quad
              B = \\frac{(p_i - p_o) d_i^2 d_o^2}{d_o^2 - d_i^2}

    Parameters
    ----------
    inside_pressure : Number
        pressure on the bore, :math:`p_i` [Pa]
    outside_pressure : Number
        pressure on the outside, :math:`p_o` [Pa]
    inner_diameter : Number
        bore of the ring, nought if it is solid, :math:`d_i` [m]
    outer_diameter : Number
        outside diameter of the ring, :math:`d_o` [m]
    diameter : Number
        diameter of the place asked for, :math:`d` [m]

    Returns
    -------
    radial : Number
        radial stress, compression negative [Pa]
    hoop : Number
        hoop stress, compression negative [Pa]

    Raises
    ------
    OutOfRange
        If ``inside_pressure < 0``, ``outside_pressure < 0``, ``inner_diameter < 0``,
        ``outer_diameter <= 0`` or ``diameter <= 0``; if the place lies outside the ring.

    Notes
    -----
    Valid for: elastic, round rings with free ends.

    References
    ----------
    .. [1] boresi, 11.2, stresses in a cylinder with free ends.

    Examples
    --------
    >>> ring = dict(inside_pressure=300e6, outside_pressure=0.0, inner_diameter=0.02, outer_diameter=0.1)
    >>> [round(stress / 1e6, 1) for stress in ring_stress(**ring, diameter=0.02)]
    [-300.0, 325.0]
    """
    require("inside_pressure", inside_pressure, "Pa", at_least=0, source="boresi")
    require("outside_pressure", outside_pressure, "Pa", at_least=0, source="boresi")
    require("inner_diameter", inner_diameter, "m", at_least=0, source="boresi")
    require("outer_diameter", outer_diameter, "m", above=0, source="boresi")
    require("diameter", diameter, "m", above=0, source="boresi")
    outside = np.asarray((diameter < inner_diameter) | (diameter > outer_diameter) | (inner_diameter >= outer_diameter))
    if np.any(outside):
        refuse("diameter", diameter, outside, "m", "a place between bore and outside of the ring", source="boresi")
    spread = outer_diameter**2 - inner_diameter**2
    mean = (inside_pressure * inner_diameter**2 - outside_pressure * outer_diameter**2) / spread
    slope = (inside_pressure - outside_pressure) * (inner_diameter * outer_diameter) ** 2 / spread
    return RingStress(mean - slope / diameter**2, mean + slope / diameter**2)


def bore_closure(*, pressure: Number, diameter: Number, inner_diameter: Number, inner_modulus: Number) -> Number:
    """How much the bore of the inner part closes when it is pressed in.

    Use it to choose the reamer for a guide or the hone for a small-end bush: finish the bore after pressing, or
    leave this much for it.

    .. math:: \\Delta d_i = \\frac{2 p\\, d^2 d_i}{E_i (d^2 - d_i^2)}

    Parameters
    ----------
    pressure : Number
        pressure where they meet, :math:`p` [Pa]
    diameter : Number
        outside diameter of the inner part, :math:`d` [m]
    inner_diameter : Number
        bore of the inner part, :math:`d_i` [m]
    inner_modulus : Number
        modulus of elasticity of the inner part, :math:`E_i` [Pa]

    Returns
    -------
    result : Number
        decrease of the bore on diameter [m]

    Raises
    ------
    OutOfRange
        If ``pressure < 0``, ``inner_diameter <= 0`` or ``inner_modulus <= 0``; if the bore is not smaller than the
        outside.

    Notes
    -----
    Valid for: an inner part as long as the hole; where it stands out of the hole its bore closes less.
    No published value: the hoop strain of `ring_stress` at the bore, which has them; tested against it.

    References
    ----------
    .. [1] boresi, 11.3, displacement of a cylinder with free ends.

    Examples
    --------
    >>> bush = dict(diameter=0.026, inner_diameter=0.022, inner_modulus=110e9)
    >>> round(bore_closure(pressure=10e6, **bush) * 1e6, 1)
    14.1
    """
    require("pressure", pressure, "Pa", at_least=0, source="boresi")
    require("inner_diameter", inner_diameter, "m", above=0, source="boresi")
    require("inner_modulus", inner_modulus, "Pa", above=0, source="boresi")
    _in_order(inner_diameter, diameter, "diameter", "boresi")
    return 2 * pressure * diameter**2 * inner_diameter / (inner_modulus * (diameter**2 - inner_diameter**2))


def outside_growth(*, pressure: Number, diameter: Number, outer_diameter: Number, outer_modulus: Number) -> Number:
    """How much the outside of the outer part grows when something is pressed into it.

    Use it where the outside is a running surface too: a gear hub, a valve guide boss close to a spring seat, a
    wet liner in its register.

    .. math:: \\Delta d_o = \\frac{2 p\\, d^2 d_o}{E_o (d_o^2 - d^2)}

    Parameters
    ----------
    pressure : Number
        pressure where they meet, :math:`p` [Pa]
    diameter : Number
        bore of the outer part, :math:`d` [m]
    outer_diameter : Number
        outside diameter of the outer part, :math:`d_o` [m]
    outer_modulus : Number
        modulus of elasticity of the outer part, :math:`E_o` [Pa]

    Returns
    -------
    result : Number
        increase of the outside on diameter [m]

    Raises
    ------
    OutOfRange
        If ``pressure < 0``, ``diameter <= 0`` or ``outer_modulus <= 0``; if the bore is not smaller than the outside.

    Notes
    -----
    No published value: the hoop strain of `ring_stress` at the outside, which has them; tested against it.

    References
    ----------
    .. [1] boresi, 11.3, displacement of a cylinder with free ends.

    Examples
    --------
    >>> gear = dict(diameter=0.05, outer_diameter=0.08, outer_modulus=205e9)
    >>> round(outside_growth(pressure=30e6, **gear) * 1e6, 1)
    15.0
    """
    require("pressure", pressure, "Pa", at_least=0, source="boresi")
    require("diameter", diameter, "m", above=0, source="boresi")
    require("outer_modulus", outer_modulus, "Pa", above=0, source="boresi")
    _in_order(diameter, outer_diameter, "outer_diameter", "boresi")
    return 2 * pressure * diameter**2 * outer_diameter / (outer_modulus * (outer_diameter**2 - diameter**2))


def _give(
    diameter: Number,
    outer_diameter: Number,
    inner_diameter: Number,
    outer_modulus: Number,
    outer_poisson: Number,
    inner_modulus: Number,
    inner_poisson: Number,
) -> Number:
    """Interference that one pascal takes up."""
    require("diameter", diameter, "m", above=0, source="shigley")
    require("inner_diameter", inner_diameter, "m", at_least=0, source="shigley")
    for name, modulus in (("outer_modulus", outer_modulus), ("inner_modulus", inner_modulus)):
        require(name, modulus, "Pa", above=0, source="shigley")
    for name, ratio in (("outer_poisson", outer_poisson), ("inner_poisson", inner_poisson)):
        require(name, ratio, "1", at_least=0, at_most=0.5, source="shigley")
    _in_order(inner_diameter, diameter, "diameter", "shigley")
    _in_order(diameter, outer_diameter, "outer_diameter", "shigley")
    outer = (outer_diameter**2 + diameter**2) / (outer_diameter**2 - diameter**2) + outer_poisson
    inner = (diameter**2 + inner_diameter**2) / (diameter**2 - inner_diameter**2) - inner_poisson
    return diameter * (outer / outer_modulus + inner / inner_modulus)


def _in_order(smaller: Number, larger: Number, name: str, source: str) -> None:
    """Refuse a ring that is no larger than its bore."""
    require(name, larger, "m", above=0, source=source)
    bad = np.asarray(np.asarray(smaller) >= np.asarray(larger))
    if np.any(bad):
        refuse(name, larger, bad, "m", "an outside larger than its bore", source=source)
