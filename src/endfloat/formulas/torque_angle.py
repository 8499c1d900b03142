"""A new bolt pulled to a torque and turned by an angle, and the length that it keeps."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import refuse, require
from endfloat.formulas.tightening import yield_limited_preload
from endfloat.formulas.yielding import angle_to_yield, tightened_by_angle, tightened_by_torque

Number = float | NDArray[np.float64]


class TightenedBolt(NamedTuple):
    """A new bolt after its torque pass and its angle."""

    clamp: Number
    stretch: Number
    snug_clamp: Number
    yield_angle: Number


def torque_then_angle(
    *,
    torque: Number,
    angle: Number,
    yield_strength: Number,
    stress_diameter: Number,
    pitch: Number,
    pitch_diameter: Number,
    thread_friction: Number,
    bearing_friction: Number,
    bearing_diameter: Number,
    stiffness: Number,
    hardening: Number,
) -> TightenedBolt:
    """A new bolt pulled to a snug torque and turned on by an angle: its clamp load, stretch and where it yields.

    Friction acts through the snug load and the yield load only; arrays of draws give the spread.

    .. math:: \\theta_y = \\frac{2\\pi}{P} \\frac{F_y - F_0}{k}

    Parameters
    ----------
    torque : Number
        snug torque less any prevailing torque [N m]
    angle : Number
        angle of all angle passes together, :math:`\\theta` [rad]
    yield_strength : Number
        strength at 0.2 % of this bolt, not the least of its class, :math:`R_p` [Pa]
    stress_diameter : Number
        mean of pitch and root diameter, or the waist where that is thinner, :math:`d_0` [m]
    pitch : Number
        pitch of the thread, single start, :math:`P` [m]
    pitch_diameter : Number
        pitch diameter, :math:`d_2` [m]
    thread_friction : Number
        friction coefficient in the thread, :math:`\\mu_G` [1]
    bearing_friction : Number
        friction coefficient under the part that turns, :math:`\\mu_K` [1]
    bearing_diameter : Number
        mean diameter of the face that turns, :math:`d_K` [m]
    stiffness : Number
        stiffness of bolt and joint in series, :math:`k` [N/m]
    hardening : Number
        rise of the yield load with plastic stretch, nought for none, :math:`h` [N/m]

    Returns
    -------
    clamp : Number
        clamp load at the end [N]
    stretch : Number
        plastic stretch, nought for a bolt that stays elastic [m]
    snug_clamp : Number
        clamp load after the torque, :math:`F_0` [N]
    yield_angle : Number
        angle after the torque at which yield begins, also when it is not reached, :math:`\\theta_y` [rad]

    Raises
    ------
    OutOfRange
        If ``torque < 0``, ``angle < 0``, ``yield_strength <= 0``, ``stress_diameter <= 0``, ``pitch <= 0``,
        ``pitch_diameter <= 0``, ``thread_friction < 0``, ``thread_friction > 1``, ``bearing_friction < 0``,
        ``bearing_friction > 1``, ``bearing_diameter <= 0``, ``stiffness <= 0`` or ``hardening < 0``; or if the snug
        torque alone is beyond yield and nothing hardens.

    Notes
    -----
    Valid for: a snug joint; a gasket that sets or a face that beds in turns through the first degrees for nothing.
    Assumes: the whole core yields at once, see `tightening.yield_limited_preload`; its surface begins some
        degrees earlier.
    No published value: no worked figure past yield was found; checked against integration step by step.

    References
    ----------
    .. [1] vdi-2230, yield load and torque.
    .. [2] derived, elastic and plastic stretch share the advance of the thread.

    Examples
    --------
    >>> thread = dict(stress_diameter=0.0098272, pitch=0.00125, pitch_diameter=0.0101881, yield_strength=940e6)
    >>> head = dict(thread_friction=0.12, bearing_friction=0.12, bearing_diameter=0.01475)
    >>> bolt = torque_then_angle(torque=25.0, angle=np.pi, stiffness=136e6, hardening=0.0, **thread, **head)
    >>> round(float(bolt.clamp), -2), round(float(bolt.stretch), 5), round(float(np.degrees(bolt.yield_angle)))
    (64300.0, 0.00025, 107)
    """
    thread = {"pitch": pitch, "pitch_diameter": pitch_diameter, "thread_friction": thread_friction}
    limit = yield_limited_preload(
        **thread,
        stress_diameter=stress_diameter,
        half_flank=np.pi / 6,
        prevailing=0.0,
        yield_strength=yield_strength,
        use=1.0,
    )
    snug = tightened_by_torque(
        **thread,
        clamp=0.0,
        stretch=0.0,
        torque=torque,
        prevailing=0.0,
        bearing_friction=bearing_friction,
        bearing_diameter=bearing_diameter,
        limit=limit,
        hardening=hardening,
    )
    line = {"pitch": pitch, "stiffness": stiffness, "limit": limit, "hardening": hardening}
    end = tightened_by_angle(clamp=snug.clamp, stretch=snug.stretch, angle=angle, **line)
    onset = angle_to_yield(clamp=snug.clamp, stretch=snug.stretch, **line)
    return TightenedBolt(end.clamp, end.stretch, snug.clamp, onset)


def permanent_length(*, length: Number, stretch: Number) -> Number:
    """Free length of a bolt that has been past yield: compare it with the book's limit for use again.

    .. math:: L' = L + s

    Parameters
    ----------
    length : Number
        free length of the new bolt, :math:`L` [m]
    stretch : Number
        plastic stretch of all its passes, :math:`s` [m]

    Returns
    -------
    result : Number
        free length now, :math:`L'` [m]

    Raises
    ------
    OutOfRange
        If ``length <= 0`` or ``stretch < 0``.

    Notes
    -----
    Valid for: no use by itself; whether a bolt may be used again, and up to which length, only its book can say.
    No published value: an identity.

    References
    ----------
    .. [1] definition.

    Examples
    --------
    >>> round(permanent_length(length=0.112, stretch=0.00025), 5)
    0.11225
    """
    require("length", length, "m", above=0)
    require("stretch", stretch, "m", at_least=0)
    return length + stretch


def stretch_from_lengths(*, length_new: Number, length_now: Number) -> Number:
    """Plastic stretch of a used bolt from its free length now and when new.

    .. math:: s = L' - L

    Parameters
    ----------
    length_new : Number
        free length of the new bolt, :math:`L` [m]
    length_now : Number
        free length of the same bolt now, :math:`L'` [m]

    Returns
    -------
    result : Number
        plastic stretch, :math:`s` [m]

    Raises
    ------
    OutOfRange
        If ``length_new <= 0`` or ``length_now <= 0``, or if the bolt is shorter than when new: then it is another
        bolt, or one reading is wrong.

    Notes
    -----
    Accuracy: new bolts of one set differ in length; without its own length when new the stretch is a guess.
    No published value: an identity, the inverse of `permanent_length`.

    References
    ----------
    .. [1] definition.

    Examples
    --------
    >>> round(stretch_from_lengths(length_new=0.112, length_now=0.11225), 5)
    0.00025
    """
    require("length_new", length_new, "m", above=0)
    require("length_now", length_now, "m", above=0)
    shorter = np.asarray(np.less(length_now, length_new))
    if np.any(shorter):
        least = float(np.ravel(np.broadcast_to(length_new, shorter.shape)[shorter])[0])
        refuse("length_now", length_now, shorter, "m", f"at least {least:g}", source="definition")
    return length_now - length_new


def shank_twist(*, torque: Number, length: Number, diameter: Number, shear_modulus: Number) -> Number:
    """Twist of a shank under the torque in its thread: the dial reads it, the thread does not advance by it.

    Take it from the read angle before the angle is used; most of it springs back when the wrench comes off.

    .. math:: \\theta = \\frac{32 M L}{\\pi d^4 G}

    Parameters
    ----------
    torque : Number
        torque that the shank carries, that is the torque less the friction under the head, :math:`M` [N m]
    length : Number
        free length between head and first engaged thread, :math:`L` [m]
    diameter : Number
        diameter of the shank, or the core where it is threaded, :math:`d` [m]
    shear_modulus : Number
        shear modulus, for steel about 80 GPa, :math:`G` [Pa]

    Returns
    -------
    result : Number
        twist, :math:`\\theta` [rad]

    Raises
    ------
    OutOfRange
        If ``torque < 0``, ``length <= 0``, ``diameter <= 0`` or ``shear_modulus <= 0``.

    Notes
    -----
    Valid for: an elastic shank; past yield it twists further.
    No published value: checked by integration of the shear over rings.

    References
    ----------
    .. [1] definition, torsion of a round bar.

    Examples
    --------
    >>> round(float(np.degrees(shank_twist(torque=60.0, length=0.095, diameter=0.0098, shear_modulus=80e9))), 1)
    4.5
    """
    require("torque", torque, "N m", at_least=0)
    require("length", length, "m", above=0)
    require("diameter", diameter, "m", above=0)
    require("shear_modulus", shear_modulus, "Pa", above=0)
    return 32 * torque * length / (np.pi * diameter**4 * shear_modulus)
