"""The torque wrench: its setting with an adapter, its error, and the wind-up of what stands between."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import refuse, require

Number = float | NDArray[np.float64]


def setting(*, torque: Number, length: Number, offset: Number, angle: Number) -> Number:
    r"""Setting of a torque wrench that has an offset adapter (a crow-foot), at any angle.

    Measure the length from the square drive to the middle of your hand, and keep the hand there. In line the setting
    is lower than the torque, square across it is the torque, turned back it is higher. A plain extension that runs
    along the bolt needs none of this.

    .. math:: S = \frac{T L}{L + E\cos a}

    Parameters
    ----------
    torque : Number
        torque wanted at the bolt, :math:`T` [N m]
    length : Number
        from the drive of the wrench to the middle of the hand, :math:`L` [m]
    offset : Number
        from the drive of the wrench to the middle of the bolt, :math:`E` [m]
    angle : Number
        angle of the adapter to the line of the wrench; nought straight on, :math:`a` [rad]

    Returns
    -------
    result : Number
        setting of the wrench, :math:`S` [N m]

    Raises
    ------
    OutOfRange
        If ``torque < 0``, ``length <= 0``, ``offset < 0``, ``angle < -3.2`` or ``angle > 3.2``, or if the adapter
        reaches back to the hand.

    Notes
    -----
    Valid for: wrenches that read the moment at their own drive, pulled square with one hand at the grip.
    Assumes: the force stays square to the wrench; with the adapter at an angle the hand also pushes sideways.

    References
    ----------
    .. [1] tm-1-1500-204-23-9, torque wrench with adapter.
    .. [2] derived, moment of the hand about the bolt and about the drive.

    Examples
    --------
    >>> round(setting(torque=40.0, length=0.30, offset=0.10, angle=0.0), 3)
    30.0
    """
    require("torque", torque, "N m", at_least=0, source="derived")
    return torque * length / _reach(length, offset, angle)


def torque_at_bolt(*, setting: Number, length: Number, offset: Number, angle: Number) -> Number:
    r"""Torque that a bolt got from a wrench with an offset adapter.

    To judge a bolt that was pulled with the plain setting by mistake.

    .. math:: T = S\,\frac{L + E\cos a}{L}

    Parameters
    ----------
    setting : Number
        reading or setting of the wrench, :math:`S` [N m]
    length : Number
        from the drive of the wrench to the middle of the hand, :math:`L` [m]
    offset : Number
        from the drive of the wrench to the middle of the bolt, :math:`E` [m]
    angle : Number
        angle of the adapter to the line of the wrench; nought straight on, :math:`a` [rad]

    Returns
    -------
    result : Number
        torque at the bolt, :math:`T` [N m]

    Raises
    ------
    OutOfRange
        If ``setting < 0``, ``length <= 0``, ``offset < 0``, ``angle < -3.2`` or ``angle > 3.2``, or if the adapter
        reaches back to the hand.

    Notes
    -----
    Valid for: wrenches that read the moment at their own drive, pulled square with one hand at the grip.
    No published value: the inverse of `setting`, which has some; the tests go there and back.

    References
    ----------
    .. [1] derived, moment of the hand about the bolt and about the drive.

    Examples
    --------
    >>> round(torque_at_bolt(setting=30.0, length=0.30, offset=0.10, angle=0.0), 3)
    40.0
    """
    require("setting", setting, "N m", at_least=0, source="derived")
    return setting * _reach(length, offset, angle) / np.asarray(length)


def permitted_error(*, torque: Number) -> Number:
    """Error that the standard lets a clicking wrench of class A have, as a share of the torque.

    Take it as the half width of an even spread unless a certificate says better, and stay above a fifth of the range.

    Parameters
    ----------
    torque : Number
        torque pulled [N m]

    Returns
    -------
    result : Number
        permitted error either way: 0.06 up to 10 N m, 0.04 above [1]

    Raises
    ------
    OutOfRange
        If ``torque <= 0``.

    Notes
    -----
    Valid for: setting wrenches (type II) of class A.
    No published value: a look-up with one step.

    References
    ----------
    .. [1] iso-6789, permissible deviation of type II class A.

    Examples
    --------
    >>> permitted_error(torque=np.array([8.0, 90.0]))
    array([0.06, 0.04])
    """
    require("torque", torque, "N m", above=0, source="iso-6789")
    return np.where(np.asarray(torque) > 10, 0.04, 0.06)[()]


def wind_up(*, torque: Number, length: Number, diameter: Number, bore: Number, shear_modulus: Number) -> Number:
    r"""Angle by which an extension or a bolt shank twists under a torque.

    A protractor on the wrench reads this on top of the turn of the bolt. A long half-inch extension winds up by
    several degrees at 100 N m: read the angle at the socket, or take this away.

    .. math:: \theta = \frac{32 M l}{\pi (d^4 - d_i^4) G}

    Parameters
    ----------
    torque : Number
        torque that it carries, :math:`M` [N m]
    length : Number
        length, :math:`l` [m]
    diameter : Number
        outer diameter, :math:`d` [m]
    bore : Number
        inner diameter; nought when solid, :math:`d_i` [m]
    shear_modulus : Number
        shear modulus; 79 GPa for steel, :math:`G` [Pa]

    Returns
    -------
    result : Number
        angle of twist, :math:`\theta` [rad]

    Raises
    ------
    OutOfRange
        If ``torque < 0``, ``length <= 0``, ``diameter <= 0``, ``bore < 0`` or ``shear_modulus <= 0``, or if the bore
        is not less than the diameter.

    Notes
    -----
    Valid for: round bars within their elastic range; play in the squares comes on top.
    No published value: checked by integration of the shear over the section.

    References
    ----------
    .. [1] derived, torsion of a round bar.

    Examples
    --------
    >>> round(float(np.rad2deg(wind_up(torque=100.0, length=0.25, diameter=0.0127, bore=0.0, shear_modulus=79e9))), 1)
    7.1
    """
    require("torque", torque, "N m", at_least=0, source="derived")
    require("length", length, "m", above=0, source="derived")
    require("diameter", diameter, "m", above=0, source="derived")
    require("bore", bore, "m", at_least=0, source="derived")
    require("shear_modulus", shear_modulus, "Pa", above=0, source="derived")
    wide = np.asarray(np.asarray(bore) >= diameter)
    if wide.any():
        refuse("bore", bore, wide, "m", "less than 1 outer diameter", source="derived")
    result: Number = (
        32 / np.pi * torque * length / ((np.asarray(diameter) ** 4 - np.asarray(bore) ** 4) * shear_modulus)
    )
    return result


def _reach(length: Number, offset: Number, angle: Number) -> Number:
    """Arm of the hand about the bolt, along the wrench."""
    require("length", length, "m", above=0, source="derived")
    require("offset", offset, "m", at_least=0, source="derived")
    require("angle", angle, "rad", at_least=-3.2, at_most=3.2, source="derived")
    reach = length + offset * np.cos(angle)
    back = np.asarray(reach <= 0)
    if back.any():
        refuse("offset", offset, back, "m", "an adapter that ends at least 1 step before the hand", source="derived")
    return reach
