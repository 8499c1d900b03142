"""Shaking forces and couples of any order, for any layout of cylinders."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import refuse, require
from endfloat.formulas.unbalance import _polar

Number = float | NDArray[np.float64]

_SAMPLES = 256


class ShakingOrder(NamedTuple):
    """Force and couple of one order, each in a part that turns with the crank and one that turns against it."""

    force_with: Number
    force_with_angle: Number
    force_against: Number
    force_against_angle: Number
    couple_with: Number
    couple_with_angle: Number
    couple_against: Number
    couple_against_angle: Number


def order_factor(*, crank_radius: Number, rod_length: Number, offset: Number, order: Number) -> Number:
    """Strength of one order in the piston's acceleration, over throw times speed squared.

    The second is a little more than throw over rod length; odd orders above the first appear only with an offset.

    .. math:: f_n = \\frac{n^2}{\\pi r} \\left| \\int_0^{2\\pi} y(\\theta)\\, e^{-i n \\theta}\\, d\\theta \\right|,
              \\quad y = r \\cos\\theta + \\sqrt{l^2 - (r \\sin\\theta - e)^2}

    Parameters
    ----------
    crank_radius : Number
        throw of the crank, :math:`r` [m]
    rod_length : Number
        distance of the bores of the rod, :math:`l` [m]
    offset : Number
        offset of bore and gudgeon pin to the side where the crank pin goes down, :math:`e` [m]
    order : Number
        order: how often in a turn of the crank, :math:`n` [1]

    Returns
    -------
    result : Number
        amplitude, :math:`f_n` [1]

    Raises
    ------
    OutOfRange
        If ``crank_radius <= 0``, ``rod_length <= 0``, ``order < 1`` or ``order > 16``, or if the order is no whole
        number or the rod is not longer than throw and offset together.

    Notes
    -----
    Accuracy: 1e-6 for rods at least twice the throw and orders up to eight.
    No published value: books print the first term of its series; checked against integration.

    References
    ----------
    .. [1] derived, Fourier series of the exact motion.

    Examples
    --------
    >>> round(float(order_factor(crank_radius=0.041, rod_length=0.141, offset=0.0, order=2)), 4)
    0.2972
    """
    require("crank_radius", crank_radius, "m", above=0, source="derived")
    require("rod_length", rod_length, "m", above=0, source="derived")
    require("offset", offset, "m", source="derived")
    require("order", order, "1", at_least=1, at_most=16, source="derived")
    _require_crank(crank_radius, rod_length, offset, order)
    amplitude: Number = np.abs(_coefficient(crank_radius, rod_length, offset, order))
    return amplitude


def shaking_order(
    *,
    pin_angles: Number,
    bank_angles: Number,
    positions: Number,
    masses: Number,
    crank_radius: Number,
    rod_length: Number,
    offset: Number,
    speed: Number,
    order: Number,
) -> ShakingOrder:
    """Forces and couples of one order by which the pistons of any layout shake the engine.

    What turns with the crank in the first order a counterweight can take; what turns against it needs a shaft. The
    largest force is the sum of both, the smallest their difference.

    .. math:: F_+ = \\frac{\\omega^2 r f_n}{2} \\left|\\sum_i m_i e^{i n (t_i - \\psi_i)} e^{i \\psi_i}\\right|,\\quad
              F_- = \\frac{\\omega^2 r f_n}{2} \\left|\\sum_i m_i e^{-i n (t_i - \\psi_i)} e^{i \\psi_i}\\right|

    Parameters
    ----------
    pin_angles : Number
        angle of each cylinder's crank pin about the crank, along the last axis, :math:`t_i` [rad]
    bank_angles : Number
        angle of each bore from upright, in the running direction, :math:`\\psi_i` [rad]
    positions : Number
        distance of each bore along the crank from the point of reference, :math:`z_i` [m]
    masses : Number
        reciprocating mass of each cylinder, :math:`m_i` [kg]
    crank_radius : Number
        throw of the crank, :math:`r` [m]
    rod_length : Number
        distance of the bores of the rod, :math:`l` [m]
    offset : Number
        offset of bore and gudgeon pin to the side where the crank pin goes down, :math:`e` [m]
    speed : Number
        speed of the crank, :math:`\\omega` [rad/s]
    order : Number
        order: how often in a turn of the crank, :math:`n` [1]

    Returns
    -------
    force_with : Number
        force that turns with the crank [N]
    force_with_angle : Number
        its angle from upright when the crank is at its zero [rad]
    force_against : Number
        force that turns against the crank [N]
    force_against_angle : Number
        its angle from upright when the crank is at its zero [rad]
    couple_with : Number
        couple that turns with the crank [N m]
    couple_with_angle : Number
        angle of the force at a positive position that makes it [rad]
    couple_against : Number
        couple that turns against the crank [N m]
    couple_against_angle : Number
        angle of the force at a positive position that makes it [rad]

    Raises
    ------
    OutOfRange
        If ``masses < 0``, ``crank_radius <= 0``, ``rod_length <= 0``, ``speed < 0``, ``order < 1`` or ``order > 16``,
        or if the order is no whole number or the rod is not longer than throw and offset together.

    Notes
    -----
    Assumes: one throw, rod and offset for all; rotating masses are balanced apart, see `two_plane_correction`; the
        angle of something that is nought means nothing.
    Differs from source: textbooks take throw over rod length for the second order, here it is exact, 2 % more at 0.3.

    References
    ----------
    .. [1] derived, Fourier series of the exact motion in a plane that turns.
    .. [2] bevan, direct and reverse cranks.

    Examples
    --------
    >>> twin = dict(pin_angles=np.zeros(2), bank_angles=np.radians([-45, 45]), positions=np.zeros(2), masses=np.ones(2))
    >>> found = shaking_order(crank_radius=0.04, rod_length=0.14, offset=0.0, speed=100.0, order=1, **twin)
    >>> round(float(found.force_with), 1), round(float(found.force_against), 1)
    (400.0, 0.0)
    """
    require("pin_angles", pin_angles, "rad", source="derived")
    require("bank_angles", bank_angles, "rad", source="derived")
    require("positions", positions, "m", source="derived")
    require("masses", masses, "kg", at_least=0, source="derived")
    require("crank_radius", crank_radius, "m", above=0, source="derived")
    require("rod_length", rod_length, "m", above=0, source="derived")
    require("offset", offset, "m", source="derived")
    require("speed", speed, "rad/s", at_least=0, source="derived")
    require("order", order, "1", at_least=1, at_most=16, source="derived")
    _require_crank(crank_radius, rod_length, offset, order)
    pins, banks = np.asarray(pin_angles, dtype=float), np.asarray(bank_angles, dtype=float)
    turn = np.asarray(order, dtype=float)[..., None] * (pins - banks)
    half = np.asarray(speed) ** 2 * crank_radius * _coefficient(crank_radius, rod_length, offset, order) / 2
    found: list[Number] = []
    for arms in (1.0, np.asarray(positions, dtype=float)):
        for sense, strength in ((1j, half), (-1j, np.conj(half))):
            vectors = np.asarray(masses) * np.exp(sense * turn + 1j * banks) * arms
            found += _polar(strength * np.sum(vectors, axis=-1))
    return ShakingOrder(*found)


def _coefficient(crank_radius: Number, rod_length: Number, offset: Number, order: Number) -> NDArray[np.complex128]:
    theta = np.arange(_SAMPLES) * (2 * np.pi / _SAMPLES)
    throw, rod, aside, times = (
        np.asarray(each, dtype=float)[..., None] for each in (crank_radius, rod_length, offset, order)
    )
    height = throw * np.cos(theta) + np.sqrt(rod**2 - (throw * np.sin(theta) - aside) ** 2)
    mean = np.mean(height * np.exp(-1j * times * theta), axis=-1)
    coefficient: NDArray[np.complex128] = 2 * np.asarray(order, dtype=float) ** 2 * mean / crank_radius
    return coefficient


def _require_crank(crank_radius: Number, rod_length: Number, offset: Number, order: Number) -> None:
    broken = np.asarray(np.not_equal(order, np.round(order)))
    if np.any(broken):
        refuse("order", order, broken, "1", "a whole number from 1", source="derived")
    reach = np.asarray(crank_radius) + np.abs(offset)
    short = np.asarray(np.less_equal(rod_length, reach))
    if np.any(short):
        least = float(np.ravel(np.broadcast_to(reach, short.shape)[short])[0])
        refuse("rod_length", rod_length, short, "m", f"above {least:g}", source="derived")
