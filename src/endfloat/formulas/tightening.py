"""Torque to preload and back in the exact form, and the preload at which a turned bolt yields."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import refuse, require
from endfloat.formulas.screws import rise, torque_arms

Number = float | NDArray[np.float64]


class TorqueShares(NamedTuple):
    """Where a tightening torque goes."""

    stretch: Number
    thread: Number
    face: Number


def torque(
    *,
    preload: Number,
    pitch: Number,
    pitch_diameter: Number,
    half_flank: Number,
    thread_friction: Number,
    bearing_diameter: Number,
    face_friction: Number,
    prevailing: Number,
) -> Number:
    r"""Torque that gives a preload, from the thread, its friction, and that of the face that turns.

    The exact form. The coefficients of friction are not the nut factor of the short form in nut_factors: 0.12 as a
    friction is a nut factor of 0.16. The prevailing torque is what the bolt or nut asks for while it runs free.

    .. math:: M = F\left[\frac{d_2}{2}\tan(\varphi + \rho') + \frac{D_{Km}}{2}\mu_K\right] + M_p,\quad
        \tan\varphi = \frac{P}{\pi d_2},\ \tan\rho' = \frac{\mu_G}{\cos\alpha}

    Parameters
    ----------
    preload : Number
        preload, :math:`F` [N]
    pitch : Number
        lead of the thread; its pitch when it has one start, :math:`P` [m]
    pitch_diameter : Number
        pitch diameter, :math:`d_2` [m]
    half_flank : Number
        angle of a flank to the square section: 30 degrees metric and unified, 27.5 Whitworth, :math:`\alpha` [rad]
    thread_friction : Number
        coefficient of friction in the thread, :math:`\mu_G` [1]
    bearing_diameter : Number
        mean diameter of the face that turns, :math:`D_{Km}` [m]
    face_friction : Number
        coefficient of friction under the face that turns, :math:`\mu_K` [1]
    prevailing : Number
        torque of the running bolt before it clamps; nought for a plain thread, :math:`M_p` [N m]

    Returns
    -------
    result : Number
        torque, :math:`M` [N m]

    Raises
    ------
    OutOfRange
        If ``preload < 0``, ``pitch <= 0``, ``pitch_diameter <= 0``, ``half_flank < 0``, ``half_flank > 0.8``,
        ``thread_friction < 0``, ``thread_friction > 1``, ``bearing_diameter <= 0``, ``face_friction < 0``,
        ``face_friction > 1`` or ``prevailing < 0``.

    Notes
    -----
    Valid for: the bolt while it is turned, up to its yield; nothing binds, no oil is shut in under it.
    Accuracy: the sum is exact, the friction is not: oil instead of dry steel gives a third more clamp.

    References
    ----------
    .. [1] vdi-2230, tightening torque.
    .. [2] shigley-9, equations 8-1 and 8-6, p. 411.

    Examples
    --------
    >>> thread = dict(pitch=0.0015, pitch_diameter=0.009026, half_flank=np.pi / 6, bearing_diameter=0.012815)
    >>> grip = dict(thread_friction=0.12, face_friction=0.12, prevailing=0.0)
    >>> round(torque(preload=30e3, **thread, **grip), 1)
    49.2
    """
    require("preload", preload, "N", at_least=0, source="vdi-2230")
    require("prevailing", prevailing, "N m", at_least=0, source="vdi-2230")
    thread, face = torque_arms(pitch, pitch_diameter, half_flank, thread_friction, bearing_diameter, face_friction)
    return preload * (thread + face) + prevailing


def preload(
    *,
    torque: Number,
    pitch: Number,
    pitch_diameter: Number,
    half_flank: Number,
    thread_friction: Number,
    bearing_diameter: Number,
    face_friction: Number,
    prevailing: Number,
) -> Number:
    r"""Preload that a torque gives at one state of friction; for a figure to work by take friction.clamp_load.

    One friction gives one preload, and nobody knows one friction. Use this inside a calculation; a clamp load for a
    person needs the least and greatest friction and the lubrication, which friction.clamp_load asks for.

    .. math:: F = \frac{M - M_p}{\dfrac{d_2}{2}\tan(\varphi + \rho') + \dfrac{D_{Km}}{2}\mu_K}

    Parameters
    ----------
    torque : Number
        torque at the end of the pull, :math:`M` [N m]
    pitch : Number
        lead of the thread; its pitch when it has one start, :math:`P` [m]
    pitch_diameter : Number
        pitch diameter, :math:`d_2` [m]
    half_flank : Number
        angle of a flank to the square section: 30 degrees metric and unified, 27.5 Whitworth, :math:`\alpha` [rad]
    thread_friction : Number
        coefficient of friction in the thread, :math:`\mu_G` [1]
    bearing_diameter : Number
        mean diameter of the face that turns, :math:`D_{Km}` [m]
    face_friction : Number
        coefficient of friction under the face that turns, :math:`\mu_K` [1]
    prevailing : Number
        torque of the running bolt before it clamps; nought for a plain thread, :math:`M_p` [N m]

    Returns
    -------
    result : Number
        preload, :math:`F` [N]

    Raises
    ------
    OutOfRange
        If ``torque < 0``, ``pitch <= 0``, ``pitch_diameter <= 0``, ``half_flank < 0``, ``half_flank > 0.8``,
        ``thread_friction < 0``, ``thread_friction > 1``, ``bearing_diameter <= 0``, ``face_friction < 0``,
        ``face_friction > 1`` or ``prevailing < 0``, or if the torque is less than the prevailing torque.

    Notes
    -----
    Valid for: a moving bolt below its yield; the torque that starts a bolt again is up to a third higher.
    No published value: the inverse of `torque`, which has many; the tests go there and back.

    References
    ----------
    .. [1] vdi-2230, tightening torque.

    Examples
    --------
    >>> thread = dict(pitch=0.0015, pitch_diameter=0.009026, half_flank=np.pi / 6, bearing_diameter=0.012815)
    >>> grip = dict(thread_friction=0.12, face_friction=0.12, prevailing=0.0)
    >>> round(preload(torque=49.0, **thread, **grip) / 1e3, 1)
    29.9
    """
    require("torque", torque, "N m", at_least=0, source="vdi-2230")
    require("prevailing", prevailing, "N m", at_least=0, source="vdi-2230")
    short = np.asarray(torque < np.asarray(prevailing))
    if short.any():
        refuse("torque", torque, short, "N m", "at least 1 prevailing torque", source="vdi-2230")
    thread, face = torque_arms(pitch, pitch_diameter, half_flank, thread_friction, bearing_diameter, face_friction)
    return (torque - np.asarray(prevailing)) / (thread + face)


def torque_shares(
    *,
    pitch: Number,
    pitch_diameter: Number,
    half_flank: Number,
    thread_friction: Number,
    bearing_diameter: Number,
    face_friction: Number,
) -> TorqueShares:
    r"""Shares of a torque that stretch the bolt, rub in the thread, and rub under the head.

    To see why oil under the head matters most: of an ordinary bolt about 15 per cent stretch it, 38 rub in the
    thread and 47 under the head. The "10, 40, 50" of the books is a rounding.

    .. math:: \frac{F P}{2\pi M},\quad \frac{F d_2}{2 M}\left[\tan(\varphi + \rho') - \tan\varphi\right],\quad
        \frac{F D_{Km}\mu_K}{2 M}

    Parameters
    ----------
    pitch : Number
        lead of the thread; its pitch when it has one start, :math:`P` [m]
    pitch_diameter : Number
        pitch diameter, :math:`d_2` [m]
    half_flank : Number
        angle of a flank to the square section, :math:`\alpha` [rad]
    thread_friction : Number
        coefficient of friction in the thread, :math:`\mu_G` [1]
    bearing_diameter : Number
        mean diameter of the face that turns, :math:`D_{Km}` [m]
    face_friction : Number
        coefficient of friction under the face that turns, :math:`\mu_K` [1]

    Returns
    -------
    stretch : Number
        share that stretches the bolt; also the efficiency of the screw [1]
    thread : Number
        share that rubs in the thread [1]
    face : Number
        share that rubs under the face [1]

    Raises
    ------
    OutOfRange
        If ``pitch <= 0``, ``pitch_diameter <= 0``, ``half_flank < 0``, ``half_flank > 0.8``,
        ``thread_friction < 0``, ``thread_friction > 1``, ``bearing_diameter <= 0``, ``face_friction < 0`` or
        ``face_friction > 1``.

    Notes
    -----
    Valid for: a plain thread without prevailing torque.

    References
    ----------
    .. [1] vdi-2230, tightening torque.
    .. [2] shigley-9, equation 8-4, p. 411, the efficiency.

    Examples
    --------
    >>> thread = dict(pitch=0.0015, pitch_diameter=0.009026, half_flank=np.pi / 6, bearing_diameter=0.012815)
    >>> [round(each, 3) for each in torque_shares(thread_friction=0.12, face_friction=0.12, **thread)]
    [0.146, 0.385, 0.469]
    """
    thread, face = torque_arms(pitch, pitch_diameter, half_flank, thread_friction, bearing_diameter, face_friction)
    stretch = pitch / (2 * np.pi)
    whole = thread + face
    return TorqueShares(stretch=stretch / whole, thread=(thread - stretch) / whole, face=face / whole)


def loosening_torque(
    *,
    preload: Number,
    pitch: Number,
    pitch_diameter: Number,
    half_flank: Number,
    thread_friction: Number,
    bearing_diameter: Number,
    face_friction: Number,
    prevailing: Number,
) -> Number:
    r"""Torque that turns a clamped bolt back.

    A check for plausibility only: it lies at 60 to 80 per cent of the tightening torque at frictions of 0.08
    to 0.20. Much more says rust, less says lost clamp. It does not measure the clamp load.

    .. math:: M = F\left[\frac{d_2}{2}\tan(\rho' - \varphi) + \frac{D_{Km}}{2}\mu_K\right] + M_p

    Parameters
    ----------
    preload : Number
        preload, :math:`F` [N]
    pitch : Number
        lead of the thread; its pitch when it has one start, :math:`P` [m]
    pitch_diameter : Number
        pitch diameter, :math:`d_2` [m]
    half_flank : Number
        angle of a flank to the square section, :math:`\alpha` [rad]
    thread_friction : Number
        coefficient of friction in the thread, :math:`\mu_G` [1]
    bearing_diameter : Number
        mean diameter of the face that turns, :math:`D_{Km}` [m]
    face_friction : Number
        coefficient of friction under the face that turns, :math:`\mu_K` [1]
    prevailing : Number
        torque of the running bolt when it clamps nothing, :math:`M_p` [N m]

    Returns
    -------
    result : Number
        torque; below nought the bolt would turn back by itself, :math:`M` [N m]

    Raises
    ------
    OutOfRange
        If ``preload < 0``, ``pitch <= 0``, ``pitch_diameter <= 0``, ``half_flank < 0``, ``half_flank > 0.8``,
        ``thread_friction < 0``, ``thread_friction > 1``, ``bearing_diameter <= 0``, ``face_friction < 0``,
        ``face_friction > 1`` or ``prevailing < 0``.

    Notes
    -----
    Valid for: the friction of the moving bolt; the first jerk is higher.

    References
    ----------
    .. [1] shigley-9, equation 8-2, p. 411.
    .. [2] vdi-2230, tightening torque.

    Examples
    --------
    >>> thread = dict(pitch=0.0015, pitch_diameter=0.009026, half_flank=np.pi / 6, bearing_diameter=0.012815)
    >>> grip = dict(thread_friction=0.12, face_friction=0.12, prevailing=0.0)
    >>> round(loosening_torque(preload=30e3, **thread, **grip), 1)
    34.6
    """
    require("preload", preload, "N", at_least=0, source="vdi-2230")
    require("prevailing", prevailing, "N m", at_least=0, source="vdi-2230")
    _, face = torque_arms(pitch, pitch_diameter, half_flank, thread_friction, bearing_diameter, face_friction)
    held = rise(-np.asarray(pitch), pitch_diameter, half_flank, thread_friction)
    return preload * (pitch_diameter / 2 * held + face) + prevailing


def yield_limited_preload(
    *,
    stress_diameter: Number,
    pitch: Number,
    pitch_diameter: Number,
    half_flank: Number,
    thread_friction: Number,
    prevailing: Number,
    yield_strength: Number,
    use: Number,
) -> Number:
    r"""Preload at which a bolt, while it is turned, has used a share of its yield: tension and torsion together.

    The ceiling of a torque. Ask with the lowest friction that may be in the joint when you set a torque, since that
    gives the highest clamp; but dry threads twist the bolt more and lower its yield. A thinner waist rules: give its
    diameter as the stress diameter.

    .. math:: \sigma^2 + 3\left(\frac{3 d_2}{2 d_0}\tan(\varphi + \rho')\,\sigma
        + \frac{12 M_p}{\pi d_0^3}\right)^2 = (\nu R_{p0.2})^2,\quad F = \tfrac{\pi}{4} d_0^2 \sigma

    Parameters
    ----------
    stress_diameter : Number
        stress diameter of the thread, or of a thinner waist, :math:`d_0` [m]
    pitch : Number
        lead of the thread; its pitch when it has one start, :math:`P` [m]
    pitch_diameter : Number
        pitch diameter, :math:`d_2` [m]
    half_flank : Number
        angle of a flank to the square section, :math:`\alpha` [rad]
    thread_friction : Number
        coefficient of friction in the thread, :math:`\mu_G` [1]
    prevailing : Number
        torque of the running bolt; nought for a plain thread, :math:`M_p` [N m]
    yield_strength : Number
        yield stress of the bolt: the least of its class, or its own, :math:`R_{p0.2}` [Pa]
    use : Number
        share of the yield stress: 0.9 in the printed tables, 1 where it begins to yield, :math:`\nu` [1]

    Returns
    -------
    result : Number
        preload, :math:`F_M` [N]

    Raises
    ------
    OutOfRange
        If ``stress_diameter <= 0``, ``pitch <= 0``, ``pitch_diameter <= 0``, ``half_flank < 0``,
        ``half_flank > 0.8``, ``thread_friction < 0``, ``thread_friction > 1``, ``prevailing < 0``,
        ``yield_strength <= 0``, ``use <= 0`` or ``use > 1``, or if the prevailing torque alone makes it yield.

    Notes
    -----
    Assumes: the section is plastic all through in torsion; taken elastic the preload comes out 6 to 16 per cent low
    and misses the printed tables.
    Differs from source: the source has no prevailing torque; with none the two are the same.

    References
    ----------
    .. [1] vdi-2230, assembly preload.

    Examples
    --------
    >>> bolt = dict(stress_diameter=0.008593, pitch=0.0015, pitch_diameter=0.009026, half_flank=np.pi / 6)
    >>> state = dict(thread_friction=0.12, prevailing=0.0, yield_strength=640e6, use=0.9)
    >>> round(yield_limited_preload(**bolt, **state) / 1e3, 1)
    29.6
    """
    source = "vdi-2230"
    require("stress_diameter", stress_diameter, "m", above=0, source=source)
    require("prevailing", prevailing, "N m", at_least=0, source=source)
    require("yield_strength", yield_strength, "Pa", above=0, source=source)
    require("use", use, "1", above=0, at_most=1, source=source)
    require("pitch", pitch, "m", above=0, source=source)
    slope = rise(pitch, pitch_diameter, half_flank, thread_friction)
    per_tension = 3 / 2 * pitch_diameter / np.asarray(stress_diameter) * slope
    twist = 12 * prevailing / (np.pi * np.asarray(stress_diameter) ** 3)
    limit = np.asarray(yield_strength) * use
    spent = np.asarray(np.sqrt(3) * twist >= limit)
    if spent.any():
        refuse("prevailing", prevailing, spent, "N m", "less than 1 torque that makes the bolt yield", source=source)
    both = 1 + 3 * per_tension**2
    stress = (np.sqrt(limit**2 * both - 3 * twist**2) - 3 * per_tension * twist) / both
    return np.pi / 4 * stress_diameter**2 * stress
