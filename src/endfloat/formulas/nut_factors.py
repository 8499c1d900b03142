"""Torque to preload by the short form with a nut factor, kept apart from the exact form of tightening."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from endfloat.errors import OutOfRange
from endfloat.formulas.bounds import refuse, require

Number = float | NDArray[np.float64]

_FACTORS = {
    "black": 0.30,
    "zinc": 0.20,
    "lubricated": 0.18,
    "cadmium": 0.16,
    "anti-seize": 0.12,
    "special grip nut": 0.09,
}


def torque(*, preload: Number, diameter: Number, nut_factor: Number) -> Number:
    r"""Torque for a preload by the short form.

    For a rough figure when only a nut factor is known. The nut factor goes with the nominal diameter and is not a
    coefficient of friction.

    .. math:: T = K F d

    Parameters
    ----------
    preload : Number
        preload, :math:`F` [N]
    diameter : Number
        major diameter of the thread, :math:`d` [m]
    nut_factor : Number
        nut factor, :math:`K` [1]

    Returns
    -------
    result : Number
        torque, :math:`T` [N m]

    Raises
    ------
    OutOfRange
        If ``preload < 0``, ``diameter <= 0``, ``nut_factor <= 0.03`` or ``nut_factor > 0.6``.

    Notes
    -----
    Accuracy: 25 to 35 per cent either way for the preload of one bolt.

    References
    ----------
    .. [1] shigley-9, equation 8-27, p. 438.

    Examples
    --------
    >>> round(torque(preload=30e3, diameter=0.010, nut_factor=0.20), 6)
    60.0
    """
    require("preload", preload, "N", at_least=0, source="shigley-9")
    _check(diameter, nut_factor)
    return nut_factor * preload * diameter


def preload(*, torque: Number, diameter: Number, nut_factor: Number) -> Number:
    r"""Preload that a torque gives by the short form, one figure without its interval.

    Inside a calculation only; a clamp load for a person is given by friction.clamp_load with its lubrication.

    .. math:: F = \frac{T}{K d}

    Parameters
    ----------
    torque : Number
        torque at the end of the pull, :math:`T` [N m]
    diameter : Number
        major diameter of the thread, :math:`d` [m]
    nut_factor : Number
        nut factor, :math:`K` [1]

    Returns
    -------
    result : Number
        preload, :math:`F` [N]

    Raises
    ------
    OutOfRange
        If ``torque < 0``, ``diameter <= 0``, ``nut_factor <= 0.03`` or ``nut_factor > 0.6``.

    Notes
    -----
    Accuracy: 25 to 35 per cent either way for one bolt.
    No published value: the inverse of `torque`, which has some; the tests go there and back.

    References
    ----------
    .. [1] shigley-9, equation 8-27, p. 438.

    Examples
    --------
    >>> round(preload(torque=60.0, diameter=0.010, nut_factor=0.20))
    30000
    """
    require("torque", torque, "N m", at_least=0, source="shigley-9")
    _check(diameter, nut_factor)
    return torque / (np.asarray(nut_factor) * diameter)


def of_friction(
    *, diameter: Number, pitch: Number, half_flank: Number, thread_friction: Number, face_friction: Number
) -> Number:
    r"""Nut factor that goes with two coefficients of friction, for an ordinary hexagon head.

    To turn a friction into a nut factor and see that the two are not alike: 0.15 and 0.15 give about 0.20.

    .. math:: K = \frac{d_m}{2 d}\,\frac{\tan\lambda + f\sec\alpha}{1 - f\tan\lambda\sec\alpha} + 0.625 f_c

    Parameters
    ----------
    diameter : Number
        major diameter of the thread, :math:`d` [m]
    pitch : Number
        pitch of the thread, :math:`P` [m]
    half_flank : Number
        angle of a flank to the square section, :math:`\alpha` [rad]
    thread_friction : Number
        coefficient of friction in the thread, :math:`f` [1]
    face_friction : Number
        coefficient of friction under the face that turns, :math:`f_c` [1]

    Returns
    -------
    result : Number
        nut factor, :math:`K` [1]

    Raises
    ------
    OutOfRange
        If ``diameter <= 0``, ``pitch <= 0``, ``half_flank < 0``, ``half_flank > 0.8``, ``thread_friction < 0``,
        ``thread_friction > 1``, ``face_friction < 0`` or ``face_friction > 1``, or if the pitch is more than half
        the diameter.

    Notes
    -----
    Assumes: a bearing face of 1.25 diameters on the mean, as washer face and hole of a hexagon head have.
    Differs from source: none; its mean diameter is that of crest and root, a little more than the pitch diameter.

    References
    ----------
    .. [1] shigley-9, equation 8-26, p. 438.

    Examples
    --------
    >>> friction = dict(thread_friction=0.15, face_friction=0.15)
    >>> round(of_friction(diameter=0.010, pitch=0.0015, half_flank=np.pi / 6, **friction), 3)
    0.197
    """
    source = "shigley-9"
    require("diameter", diameter, "m", above=0, source=source)
    require("pitch", pitch, "m", above=0, source=source)
    require("half_flank", half_flank, "rad", at_least=0, at_most=0.8, source=source)
    require("thread_friction", thread_friction, "1", at_least=0, at_most=1, source=source)
    require("face_friction", face_friction, "1", at_least=0, at_most=1, source=source)
    coarse = np.asarray(pitch > np.asarray(diameter) / 2)
    if coarse.any():
        refuse("pitch", pitch, coarse, "m", "at most half (1/2) the diameter", source=source)
    mean = diameter - 17 / 24 * np.sqrt(3) / 2 * pitch
    lead, rub = pitch / (np.pi * mean), thread_friction / np.cos(half_flank)
    result: Number = mean / (2 * diameter) * (lead + rub) / (1 - lead * rub) + 5 / 8 * face_friction
    return result


def of_condition(*, condition: str) -> float:
    """Nut factor that a textbook gives for a state of the bolt.

    A middle figure with no interval: fit for an estimate, not for a clamp load.

    Parameters
    ----------
    condition : str
        black, zinc, lubricated, cadmium, anti-seize or special grip nut [word]

    Returns
    -------
    result : float
        nut factor [1]

    Raises
    ------
    OutOfRange
        If the condition is not in the table.

    Notes
    -----
    Accuracy: 25 to 35 per cent either way for one bolt.

    References
    ----------
    .. [1] shigley-9, table 8-15, p. 439.

    Examples
    --------
    >>> of_condition(condition="zinc")
    0.2
    """
    if condition not in _FACTORS:
        known = ", ".join(_FACTORS)
        raise OutOfRange(name="condition", value=condition, expected=known, unit="word", source="shigley-9")
    return _FACTORS[condition]


def _check(diameter: Number, nut_factor: Number) -> None:
    require("diameter", diameter, "m", above=0, source="shigley-9")
    require("nut_factor", nut_factor, "1", above=0.03, at_most=0.6, source="shigley-9")
