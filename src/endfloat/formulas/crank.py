"""Crank and piston: position, speed and acceleration from the true top dead centre, with any offset.

The offset is that of the gudgeon pin's line from the crank's centre, positive towards the side on which the crank pin
descends: the offset of the bore plus that of the pin in the piston, each with its sign.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import require

Number = float | NDArray[np.float64]


class DeadCentres(NamedTuple):
    """Crank angles of the two dead centres and the pin heights there."""

    top: Number
    bottom: Number
    top_height: Number
    bottom_height: Number


def dead_centres(*, throw: Number, rod: Number, offset: Number) -> DeadCentres:
    """True dead centres of a piston: where crank and rod lie in one line.

    With an offset they are neither at 0 and 180 degrees nor half a turn apart. A degree wheel belongs on the true top.

    .. math:: \\sin t = e / (l + r), \\quad \\sin (b - \\pi) = e / (l - r)

    Parameters
    ----------
    throw : Number
        centre of the main journal to centre of the crank pin, :math:`r` [m]
    rod : Number
        centre distance of the rod, :math:`l` [m]
    offset : Number
        pin line from the crank's centre, positive where the crank pin descends, :math:`e` [m]

    Returns
    -------
    top : Number
        crank angle of the true top past the crank pin in line with the bore [rad]
    bottom : Number
        crank angle of the true bottom, from the same zero [rad]
    top_height : Number
        gudgeon pin above the crank's centre at the top [m]
    bottom_height : Number
        gudgeon pin above the crank's centre at the bottom [m]

    Raises
    ------
    OutOfRange
        If ``throw <= 0`` or ``rod <= 0``, or if the rod is not longer than throw and offset together.

    References
    ----------
    .. [1] derived, triangle of crank and rod.

    Examples
    --------
    >>> found = dead_centres(throw=0.043, rod=0.145, offset=0.010)
    >>> round(float(np.degrees(found.top)), 3), round(float(np.degrees(found.bottom)), 3)
    (3.049, 185.626)
    """
    require("throw", throw, "m", above=0, source="derived")
    require("offset", offset, "m", source="derived")
    require("rod", rod, "m", above=throw + np.abs(offset), source="derived")
    out, folded = rod + throw, rod - throw
    return DeadCentres(
        top=np.arcsin(offset / out),
        bottom=np.pi + np.arcsin(offset / folded),
        top_height=np.sqrt(out**2 - offset**2),
        bottom_height=np.sqrt(folded**2 - offset**2),
    )


def piston_drop(*, throw: Number, rod: Number, offset: Number, angle: Number) -> Number:
    """How far the piston is below its top dead centre.

    .. math:: x = y_T - r \\cos \\theta - \\sqrt{l^2 - (r \\sin \\theta - e)^2}, \\quad \\theta = \\alpha + t

    Parameters
    ----------
    throw : Number
        centre of the main journal to centre of the crank pin, :math:`r` [m]
    rod : Number
        centre distance of the rod, :math:`l` [m]
    offset : Number
        pin line from the crank's centre, positive where the crank pin descends, :math:`e` [m]
    angle : Number
        crank angle past the true top dead centre, :math:`\\alpha` [rad]

    Returns
    -------
    result : Number
        drop of the piston [m]

    Raises
    ------
    OutOfRange
        If ``throw <= 0`` or ``rod <= 0``, or if the rod is not longer than throw and offset together.

    References
    ----------
    .. [1] derived, triangle of crank and rod.

    Examples
    --------
    >>> round(float(piston_drop(throw=0.043, rod=0.145, offset=0.0, angle=np.radians(20))), 6)
    0.003341
    """
    top = dead_centres(throw=throw, rod=rod, offset=offset)
    require("angle", angle, "rad", source="derived")
    _, along, leg = _legs(throw, rod, offset, angle)
    return top.top_height - along - leg


def piston_speed(*, throw: Number, rod: Number, offset: Number, angle: Number, speed: Number) -> Number:
    """Speed of the piston, positive towards the crank.

    .. math:: v = \\omega r \\left[ \\sin \\theta + (r \\sin \\theta - e) \\cos \\theta / q \\right]

    Parameters
    ----------
    throw : Number
        centre of the main journal to centre of the crank pin, :math:`r` [m]
    rod : Number
        centre distance of the rod, :math:`l` [m]
    offset : Number
        pin line from the crank's centre, positive where the crank pin descends, :math:`e` [m]
    angle : Number
        crank angle past the true top dead centre [rad]
    speed : Number
        speed of the crank, :math:`\\omega` [rad/s]

    Returns
    -------
    result : Number
        speed of the piston [m/s]

    Raises
    ------
    OutOfRange
        If ``throw <= 0`` or ``rod <= 0``, or if the rod is not longer than throw and offset together.

    References
    ----------
    .. [1] derived, the drop differentiated by time.

    Examples
    --------
    >>> slider = dict(throw=0.15, rod=0.6, offset=0.0)
    >>> round(float(piston_speed(**slider, angle=np.radians(60), speed=15 * np.pi)), 3)
    6.905
    """
    dead_centres(throw=throw, rod=rod, offset=offset)
    require("angle", angle, "rad", source="derived")
    require("speed", speed, "rad/s", source="derived")
    sideways, along, leg = _legs(throw, rod, offset, angle)
    return speed * (sideways + (sideways - offset) * along / leg)


def piston_acceleration(*, throw: Number, rod: Number, offset: Number, angle: Number, speed: Number) -> Number:
    """Acceleration of the piston at a steady crank speed, positive towards the crank.

    Times the reciprocating mass it is the load that rod bolts see at the top of the exhaust stroke.

    .. math:: a = \\omega^2 \\left[ c + (c^2 - s (s - e)) / q + ((s - e) c)^2 / q^3 \\right],
        \\quad s = r \\sin \\theta, \\; c = r \\cos \\theta

    Parameters
    ----------
    throw : Number
        centre of the main journal to centre of the crank pin, :math:`r` [m]
    rod : Number
        centre distance of the rod, :math:`l` [m]
    offset : Number
        pin line from the crank's centre, positive where the crank pin descends, :math:`e` [m]
    angle : Number
        crank angle past the true top dead centre [rad]
    speed : Number
        speed of the crank, :math:`\\omega` [rad/s]

    Returns
    -------
    result : Number
        acceleration of the piston [m/s2]

    Raises
    ------
    OutOfRange
        If ``throw <= 0`` or ``rod <= 0``, or if the rod is not longer than throw and offset together.

    Notes
    -----
    Assumes: a crank that turns steadily and does not twist.
    Differs from source: textbooks cut the series after its second term; this is the whole of it.

    References
    ----------
    .. [1] derived, the drop differentiated twice by time.

    Examples
    --------
    >>> slider = dict(throw=0.15, rod=0.6, offset=0.0)
    >>> round(float(piston_acceleration(**slider, angle=np.radians(60), speed=15 * np.pi)), 2)
    124.95
    """
    dead_centres(throw=throw, rod=rod, offset=offset)
    require("angle", angle, "rad", source="derived")
    require("speed", speed, "rad/s", source="derived")
    return speed**2 * _bend(*_legs(throw, rod, offset, angle), offset)


def angle_of_greatest_speed(*, throw: Number, rod: Number, offset: Number) -> Number:
    """Crank angle past the true top at which the piston runs down fastest.

    There the acceleration is nought: rod and crank are nearly, but not exactly, at right angles.

    Parameters
    ----------
    throw : Number
        centre of the main journal to centre of the crank pin [m]
    rod : Number
        centre distance of the rod [m]
    offset : Number
        pin line from the crank's centre, positive where the crank pin descends [m]

    Returns
    -------
    result : Number
        crank angle past the true top dead centre [rad]

    Raises
    ------
    OutOfRange
        If ``throw <= 0`` or ``rod <= 0``, or if the rod is not longer than throw and offset together.

    Notes
    -----
    Accuracy: halved until nothing is left to halve, 1e-15 rad.

    References
    ----------
    .. [1] derived, root of the acceleration between the dead centres.

    Examples
    --------
    >>> round(float(np.degrees(angle_of_greatest_speed(throw=2.0, rod=6.0, offset=0.0))), 6)
    73.175297
    """
    ends = dead_centres(throw=throw, rod=rod, offset=offset)
    low = np.zeros(np.shape(ends.top + ends.bottom))
    high = low + ends.bottom - ends.top
    for _ in range(55):
        middle = (low + high) / 2
        quickens = _bend(*_legs(throw, rod, offset, middle), offset) > 0
        low, high = np.where(quickens, middle, low), np.where(quickens, high, middle)
    return (low + high) / 2


def rod_lean(*, throw: Number, rod: Number, offset: Number, angle: Number) -> Number:
    """Angle between the rod and the line of the bore; the side thrust on the piston goes with its tangent.

    .. math:: \\sin \\varphi = (r \\sin \\theta - e) / l

    Parameters
    ----------
    throw : Number
        centre of the main journal to centre of the crank pin, :math:`r` [m]
    rod : Number
        centre distance of the rod, :math:`l` [m]
    offset : Number
        pin line from the crank's centre, positive where the crank pin descends, :math:`e` [m]
    angle : Number
        crank angle past the true top dead centre [rad]

    Returns
    -------
    result : Number
        lean of the rod, positive with the big end on the descending side, :math:`\\varphi` [rad]

    Raises
    ------
    OutOfRange
        If ``throw <= 0`` or ``rod <= 0``, or if the rod is not longer than throw and offset together.

    Notes
    -----
    No published value: checked against the two ends of the rod placed in the plane.

    References
    ----------
    .. [1] derived, triangle of crank and rod.

    Examples
    --------
    >>> round(float(np.degrees(rod_lean(throw=0.043, rod=0.145, offset=0.0, angle=np.pi / 2))), 2)
    17.25
    """
    dead_centres(throw=throw, rod=rod, offset=offset)
    require("angle", angle, "rad", source="derived")
    return np.arcsin((_legs(throw, rod, offset, angle)[0] - offset) / rod)


def rod_turning_speed(*, throw: Number, rod: Number, offset: Number, angle: Number, speed: Number) -> Number:
    """Speed at which the rod swings on its gudgeon pin.

    .. math:: \\dot\\varphi = \\omega r \\cos \\theta / (l \\cos \\varphi)

    Parameters
    ----------
    throw : Number
        centre of the main journal to centre of the crank pin, :math:`r` [m]
    rod : Number
        centre distance of the rod, :math:`l` [m]
    offset : Number
        pin line from the crank's centre, positive where the crank pin descends [m]
    angle : Number
        crank angle past the true top dead centre [rad]
    speed : Number
        speed of the crank, :math:`\\omega` [rad/s]

    Returns
    -------
    result : Number
        swing of the rod, positive towards the descending side [rad/s]

    Raises
    ------
    OutOfRange
        If ``throw <= 0`` or ``rod <= 0``, or if the rod is not longer than throw and offset together.

    Notes
    -----
    Differs from source: textbooks leave out the cosine of the rod's lean; it is in.

    References
    ----------
    .. [1] derived, the rod's lean differentiated by time.

    Examples
    --------
    >>> slider = dict(throw=0.15, rod=0.6, offset=0.0)
    >>> round(float(rod_turning_speed(**slider, angle=np.radians(60), speed=15 * np.pi)), 3)
    6.034
    """
    dead_centres(throw=throw, rod=rod, offset=offset)
    require("angle", angle, "rad", source="derived")
    require("speed", speed, "rad/s", source="derived")
    _, along, leg = _legs(throw, rod, offset, angle)
    return speed * along / leg


def _legs(throw: Number, rod: Number, offset: Number, angle: Number) -> tuple[Number, Number, Number]:
    """Crank pin sideways and along the bore, and the rod's length along the bore."""
    turned = angle + np.arcsin(offset / (rod + throw))
    sideways = throw * np.sin(turned)
    return sideways, throw * np.cos(turned), np.sqrt(rod**2 - (sideways - offset) ** 2)


def _bend(sideways: Number, along: Number, leg: Number, offset: Number) -> Number:
    """Second derivative of the drop by the crank angle."""
    lever = sideways - offset
    return along + (along**2 - sideways * lever) / leg + (lever * along) ** 2 / leg**3
