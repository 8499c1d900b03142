"""Weighing for balance: rod ends, matching, bob weights, and a single's counterweight."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import require

Number = float | NDArray[np.float64]


class RodEnds(NamedTuple):
    """The two masses that stand for a rod."""

    big_end: Number
    small_end: Number
    mass: Number
    centre: Number


def rod_ends(*, big_reading: Number, small_reading: Number, length: Number) -> RodEnds:
    """Ends of a rod from two weighings, each with the other end on a support at the same height.

    Turn the rod about its own axis and weigh again: two readings that differ mean a support that drags.

    .. math:: m = m_1 + m_2,\\quad x = l \\frac{m_1}{m_1 + m_2}

    Parameters
    ----------
    big_reading : Number
        scale under the big end, small end held level, :math:`m_1` [kg]
    small_reading : Number
        scale under the small end, big end held level, :math:`m_2` [kg]
    length : Number
        distance of the two bores, :math:`l` [m]

    Returns
    -------
    big_end : Number
        mass that turns with the pin, :math:`m_1` [kg]
    small_end : Number
        mass that goes with the piston, :math:`m_2` [kg]
    mass : Number
        mass of the rod; weigh it as a check, :math:`m` [kg]
    centre : Number
        centre of mass from the middle of the small end, :math:`x` [m]

    Raises
    ------
    OutOfRange
        If ``big_reading <= 0``, ``small_reading <= 0`` or ``length <= 0``.

    Notes
    -----
    Assumes: two points with the rod's mass and centre; its moment of inertia comes out a little too large, which
        turns, not shakes, the engine.
    No published value: an identity, moments about either bore.

    References
    ----------
    .. [1] derived, moments about the supports.

    Examples
    --------
    >>> ends = rod_ends(big_reading=0.430, small_reading=0.160, length=0.141)
    >>> round(ends.mass, 3), round(ends.centre * 1e3, 2)
    (0.59, 102.76)
    """
    require("big_reading", big_reading, "kg", above=0, source="derived")
    require("small_reading", small_reading, "kg", above=0, source="derived")
    require("length", length, "m", above=0, source="derived")
    mass = big_reading + small_reading
    return RodEnds(big_reading, small_reading, mass, length * big_reading / mass)


def to_remove(*, masses: Number) -> Number:
    """Metal to take off each of a set so that all weigh what the lightest weighs.

    For rods do it twice, big ends and small ends apart: metal off one end barely moves the other reading.

    .. math:: \\Delta m_i = m_i - \\min_j m_j

    Parameters
    ----------
    masses : Number
        masses of one kind of part, parts along the last axis, :math:`m_i` [kg]

    Returns
    -------
    result : Number
        to remove from each, :math:`\\Delta m_i` [kg]

    Raises
    ------
    OutOfRange
        If ``masses <= 0``.

    Notes
    -----
    No published value: an identity.

    References
    ----------
    .. [1] practice, match down to the lightest.

    Examples
    --------
    >>> np.round(to_remove(masses=np.array([0.4115, 0.4110, 0.4122])) * 1e3, 1).tolist()
    [0.5, 0.0, 1.2]
    """
    require("masses", masses, "kg", above=0, source="practice")
    excess: Number = masses - np.min(masses, axis=-1, keepdims=True)
    return excess


def bob_weight(
    *, big_end: Number, bearing: Number, reciprocating: Number, oil: Number, rods: Number, factor: Number
) -> Number:
    """Bob weight that stands for rods and pistons on a crank pin while the crank is balanced.

    With two rods on one pin of a V at 90 degrees half the reciprocating mass is exact for the first order; for any
    other engine the factor is its maker's choice.

    .. math:: m = n (m_b + m_s + f m_r) + m_o

    Parameters
    ----------
    big_end : Number
        big end of one rod, :math:`m_b` [kg]
    bearing : Number
        shells of one rod, :math:`m_s` [kg]
    reciprocating : Number
        piston, pin, locks, rings and small end of one cylinder, :math:`m_r` [kg]
    oil : Number
        oil that stays in one crank pin, by custom 4 g, :math:`m_o` [kg]
    rods : Number
        rods on one crank pin, :math:`n` [1]
    factor : Number
        share of the reciprocating mass, half for a V at 90 degrees, :math:`f` [1]

    Returns
    -------
    result : Number
        mass to clamp on the crank pin, :math:`m` [kg]

    Raises
    ------
    OutOfRange
        If ``big_end < 0``, ``bearing < 0``, ``reciprocating < 0``, ``oil < 0``, ``rods < 1``, ``factor < 0`` or
        ``factor > 1``.

    Notes
    -----
    Assumes: equal parts on both rods of a pin; weigh the real ones and take their mean.

    References
    ----------
    .. [1] fordmuscle-2008, the rotating part.
    .. [2] practice, the factor and the oil.

    Examples
    --------
    >>> parts = dict(big_end=0.4596 / 2, bearing=0.0474 / 2, reciprocating=0.9942, oil=0.004)
    >>> round(bob_weight(rods=2, factor=0.5, **parts) * 1e3, 1)
    1505.2
    """
    require("big_end", big_end, "kg", at_least=0, source="fordmuscle-2008")
    require("bearing", bearing, "kg", at_least=0, source="fordmuscle-2008")
    require("reciprocating", reciprocating, "kg", at_least=0, source="fordmuscle-2008")
    require("oil", oil, "kg", at_least=0, source="fordmuscle-2008")
    require("rods", rods, "1", at_least=1, source="fordmuscle-2008")
    require("factor", factor, "1", at_least=0, at_most=1, source="fordmuscle-2008")
    return rods * (big_end + bearing + factor * reciprocating) + oil


def partly_balanced_force(*, mass: Number, radius: Number, speed: Number, share: Number, angle: Number) -> Number:
    """First-order force that is left in a single when the counterweight carries a share of the piston's mass.

    Nought along the bore with a share of one, but then as much across it: the share turns the force, it does not end
    it.

    .. math:: F = m r \\omega^2 \\sqrt{(1 - c)^2 \\cos^2\\theta + c^2 \\sin^2\\theta}

    Parameters
    ----------
    mass : Number
        reciprocating mass of one cylinder, :math:`m` [kg]
    radius : Number
        throw of the crank, :math:`r` [m]
    speed : Number
        speed of the crank, :math:`\\omega` [rad/s]
    share : Number
        share of the reciprocating mass in the counterweight, :math:`c` [1]
    angle : Number
        crank angle from top dead centre, :math:`\\theta` [rad]

    Returns
    -------
    result : Number
        force of the first order, :math:`F` [N]

    Raises
    ------
    OutOfRange
        If ``mass <= 0``, ``radius <= 0``, ``speed < 0``, ``share < 0`` or ``share > 1``.

    Notes
    -----
    Assumes: a counterweight that carries all rotating mass besides; higher orders are left out.

    References
    ----------
    .. [1] sarkar, balancing of reciprocating masses.

    Examples
    --------
    >>> single = dict(mass=120.0, radius=0.09, speed=26.18, share=2 / 3)
    >>> round(float(partly_balanced_force(angle=np.pi / 6, **single)), 1)
    3264.1
    """
    require("mass", mass, "kg", above=0, source="sarkar")
    require("radius", radius, "m", above=0, source="sarkar")
    require("speed", speed, "rad/s", at_least=0, source="sarkar")
    require("share", share, "1", at_least=0, at_most=1, source="sarkar")
    require("angle", angle, "rad", source="sarkar")
    along, across = (1 - share) * np.cos(angle), share * np.sin(angle)
    force: Number = mass * radius * speed**2 * np.hypot(along, across)
    return force
