"""Passes by torque and by angle on a bolt that may yield, slackening between them, and what the bolt keeps."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import refuse, require
from endfloat.formulas.yield_loads import _lever, _require_thread

Number = float | NDArray[np.float64]

_TURN = 2 * np.pi


class BoltState(NamedTuple):
    """What a bolt keeps between passes: its clamp load and its plastic stretch."""

    clamp: Number
    stretch: Number


def tightened_by_torque(
    *,
    clamp: Number,
    stretch: Number,
    torque: Number,
    prevailing: Number,
    pitch: Number,
    pitch_diameter: Number,
    thread_friction: Number,
    bearing_friction: Number,
    bearing_diameter: Number,
    limit: Number,
    hardening: Number,
) -> BoltState:
    """One pass by torque: the bolt turns until the wrench gives way, or does not move at all.

    Hand the state of the pass before in `clamp` and `stretch`; a new bolt begins with nought and nought.

    .. math:: F' = \\max\\left(F,\\; \\frac{M - M_p}{\\frac{d_2}{2} \\tan(\\varphi + \\rho') + \\frac{d_K}{2}
              \\mu_K}\\right)

    Parameters
    ----------
    clamp : Number
        clamp load before the pass, :math:`F` [N]
    stretch : Number
        plastic stretch before the pass [m]
    torque : Number
        torque at which the wrench gives way, :math:`M` [N m]
    prevailing : Number
        torque of a locking thread, which turns and does not clamp, :math:`M_p` [N m]
    pitch : Number
        pitch of the thread, single start [m]
    pitch_diameter : Number
        pitch diameter, :math:`d_2` [m]
    thread_friction : Number
        friction coefficient in the thread [1]
    bearing_friction : Number
        friction coefficient under the part that turns, :math:`\\mu_K` [1]
    bearing_diameter : Number
        mean diameter of the face that turns, :math:`d_K` [m]
    limit : Number
        clamp load at which the unused bolt yields at this friction [N]
    hardening : Number
        rise of that load with plastic stretch, nought for none [N/m]

    Returns
    -------
    clamp : Number
        clamp load after the pass [N]
    stretch : Number
        plastic stretch after the pass [m]

    Raises
    ------
    OutOfRange
        If ``clamp < 0``, ``stretch < 0``, ``torque < 0``, ``prevailing < 0``, ``pitch <= 0``,
        ``pitch_diameter <= 0``, ``thread_friction < 0``, ``thread_friction > 1``, ``bearing_friction < 0``,
        ``bearing_friction > 1``, ``bearing_diameter <= 0``, ``limit <= 0`` or ``hardening < 0``; or if the torque
        asks for more than the yield load of a bolt without hardening: such a bolt turns until it breaks.

    Notes
    -----
    Assumes: a pass never loses clamp; the bolt moves as soon as the torque is reached, without a higher torque to
        start it from rest.
    No published value: the torque is that of `torque_at_yield`, the rest is its inverse.

    References
    ----------
    .. [1] vdi-2230, tightening torque.
    .. [2] derived, elastic and plastic parts added.

    Examples
    --------
    >>> head = dict(pitch=0.00125, pitch_diameter=0.0101881, bearing_diameter=0.01475, limit=64000.0, hardening=0.0)
    >>> after = tightened_by_torque(
    ...     clamp=0.0, stretch=0.0, torque=25.0, prevailing=0.0, thread_friction=0.12, bearing_friction=0.12, **head)
    >>> round(float(after.clamp), -2), float(after.stretch)
    (13900.0, 0.0)
    """
    _require_state(clamp, stretch, limit, hardening)
    require("torque", torque, "N m", at_least=0, source="vdi-2230")
    require("prevailing", prevailing, "N m", at_least=0, source="vdi-2230")
    _require_thread(pitch, pitch_diameter, thread_friction)
    require("bearing_friction", bearing_friction, "1", at_least=0, at_most=1, source="vdi-2230")
    require("bearing_diameter", bearing_diameter, "m", above=0, source="vdi-2230")
    lever = _lever(pitch, pitch_diameter, thread_friction, bearing_friction, bearing_diameter)
    wanted = (torque - prevailing) / lever
    yields_at = np.maximum(limit + hardening * stretch, clamp)
    over = wanted - yields_at
    runs_on = np.asarray((over > 0) & (np.asarray(hardening) == 0))
    if np.any(runs_on):
        most = float(np.ravel(np.broadcast_to(yields_at * lever + prevailing, runs_on.shape)[runs_on])[0])
        refuse("torque", torque, runs_on, "N m", f"at most {most:g}", source="derived")
    rise = np.where(over > 0, hardening, 1.0)
    return BoltState(np.maximum(clamp, wanted), stretch + np.maximum(over, 0) / rise)


def tightened_by_angle(
    *,
    clamp: Number,
    stretch: Number,
    angle: Number,
    pitch: Number,
    stiffness: Number,
    limit: Number,
    hardening: Number,
) -> BoltState:
    """One pass by angle: elastic up to yield, then along the plateau or the hardening line.

    Hand the state of the pass before in `clamp` and `stretch`; two passes of 90 degrees equal one of 180.

    .. math:: F' = \\min\\left(F + k \\frac{P\\theta}{2\\pi},\\;
              \\frac{k F_y + h \\left(F + k \\frac{P\\theta}{2\\pi}\\right)}{k + h}\\right)

    Parameters
    ----------
    clamp : Number
        clamp load before the pass, :math:`F` [N]
    stretch : Number
        plastic stretch before the pass [m]
    angle : Number
        angle that the nut or head turns in the thread, without twist of shank and tool, :math:`\\theta` [rad]
    pitch : Number
        pitch of the thread, single start, :math:`P` [m]
    stiffness : Number
        stiffness of bolt and joint in series, :math:`k` [N/m]
    limit : Number
        clamp load at which the unused bolt yields at this friction; with the stretch so far it is :math:`F_y` [N]
    hardening : Number
        rise of that load with plastic stretch, nought for none, :math:`h` [N/m]

    Returns
    -------
    clamp : Number
        clamp load after the pass, :math:`F'` [N]
    stretch : Number
        plastic stretch after the pass [m]

    Raises
    ------
    OutOfRange
        If ``clamp < 0``, ``stretch < 0``, ``angle < 0``, ``pitch <= 0``, ``stiffness <= 0``, ``limit <= 0`` or
        ``hardening < 0``.

    Notes
    -----
    Valid for: a joint that is snug, on the straight part of its line.
    Assumes: yield at once over the whole core; without hardening the clamp load is the least that is left.
    No published value: no worked figure past yield was found; checked against integration step by step.

    References
    ----------
    .. [1] derived, elastic and plastic stretch share the advance of the thread.

    Examples
    --------
    >>> pass_of_90 = dict(angle=np.pi / 2, pitch=0.00125, stiffness=136e6, limit=64000.0, hardening=0.0)
    >>> once = tightened_by_angle(clamp=13900.0, stretch=0.0, **pass_of_90)
    >>> twice = tightened_by_angle(clamp=once.clamp, stretch=once.stretch, **pass_of_90)
    >>> round(float(once.clamp), -2), round(float(twice.clamp), -2), round(float(twice.stretch), 6)
    (56400.0, 64000.0, 0.000257)
    """
    _require_state(clamp, stretch, limit, hardening)
    require("angle", angle, "rad", at_least=0, source="derived")
    require("pitch", pitch, "m", above=0, source="derived")
    require("stiffness", stiffness, "N/m", above=0, source="derived")
    return _turned(clamp, stretch, angle, pitch, stiffness, limit, hardening)


def slackened_by_angle(*, clamp: Number, stretch: Number, angle: Number, pitch: Number, stiffness: Number) -> BoltState:
    """Slackening by an angle: elastic and parallel to the first line, so that the plastic stretch stays.

    Any large angle frees the bolt; hand the state on to the next pass if it is used again.

    .. math:: F' = \\max\\left(0, F - k \\frac{P\\theta}{2\\pi}\\right)

    Parameters
    ----------
    clamp : Number
        clamp load before, :math:`F` [N]
    stretch : Number
        plastic stretch before [m]
    angle : Number
        angle turned back, counted positive, :math:`\\theta` [rad]
    pitch : Number
        pitch of the thread, single start, :math:`P` [m]
    stiffness : Number
        stiffness of bolt and joint in series, :math:`k` [N/m]

    Returns
    -------
    clamp : Number
        clamp load after, :math:`F'` [N]
    stretch : Number
        plastic stretch, unchanged [m]

    Raises
    ------
    OutOfRange
        If ``clamp < 0``, ``stretch < 0``, ``angle < 0``, ``pitch <= 0`` or ``stiffness <= 0``.

    Notes
    -----
    Assumes: no yielding in torsion while it is undone, and a joint that springs back on its own line.
    No published value: an identity of the elastic line.

    References
    ----------
    .. [1] derived, unloading on a line parallel to the first.

    Examples
    --------
    >>> back = slackened_by_angle(clamp=64000.0, stretch=0.00025, angle=np.pi / 2, pitch=0.00125, stiffness=136e6)
    >>> round(float(back.clamp), -2), back.stretch
    (21500.0, 0.00025)
    """
    require("clamp", clamp, "N", at_least=0, source="derived")
    require("stretch", stretch, "m", at_least=0, source="derived")
    require("angle", angle, "rad", at_least=0, source="derived")
    require("pitch", pitch, "m", above=0, source="derived")
    require("stiffness", stiffness, "N/m", above=0, source="derived")
    return BoltState(np.maximum(clamp - stiffness * (pitch * angle / _TURN), 0), stretch)


def angle_to_yield(
    *, clamp: Number, stretch: Number, pitch: Number, stiffness: Number, limit: Number, hardening: Number
) -> Number:
    """Angle that is left until a bolt yields; nought for one that is yielding.

    Compare it with the angle of the book: what lies beyond goes into plastic stretch.

    .. math:: \\theta = \\frac{2\\pi}{P} \\frac{F_y - F}{k}

    Parameters
    ----------
    clamp : Number
        clamp load now, :math:`F` [N]
    stretch : Number
        plastic stretch so far [m]
    pitch : Number
        pitch of the thread, single start, :math:`P` [m]
    stiffness : Number
        stiffness of bolt and joint in series, :math:`k` [N/m]
    limit : Number
        clamp load at which the unused bolt yields at this friction; with the stretch so far it is :math:`F_y` [N]
    hardening : Number
        rise of that load with plastic stretch, nought for none [N/m]

    Returns
    -------
    result : Number
        angle until yield, :math:`\\theta` [rad]

    Raises
    ------
    OutOfRange
        If ``clamp < 0``, ``stretch < 0``, ``pitch <= 0``, ``stiffness <= 0``, ``limit <= 0`` or ``hardening < 0``.

    Notes
    -----
    No published value: an identity of the elastic line.

    References
    ----------
    .. [1] derived, the elastic line of a joint.

    Examples
    --------
    >>> line = dict(pitch=0.00125, stiffness=136e6, limit=64000.0, hardening=0.0)
    >>> round(float(np.degrees(angle_to_yield(clamp=13900.0, stretch=0.0, **line))), 1)
    106.1
    """
    _require_state(clamp, stretch, limit, hardening)
    require("pitch", pitch, "m", above=0, source="derived")
    require("stiffness", stiffness, "N/m", above=0, source="derived")
    angle: Number = np.maximum(limit + hardening * stretch - clamp, 0) / stiffness * _TURN / pitch
    return angle


def angle_turned(
    *,
    clamp_before: Number,
    stretch_before: Number,
    clamp_after: Number,
    stretch_after: Number,
    pitch: Number,
    stiffness: Number,
) -> Number:
    """Angle between two states of a bolt, for instance what a torque pass should read on a dial.

    A dial that reads far less tells of a dry or bottomed bolt, far more of a soft joint or a yielding bolt.

    .. math:: \\theta = \\frac{2\\pi}{P} \\left(\\frac{F' - F}{k} + s' - s\\right)

    Parameters
    ----------
    clamp_before : Number
        clamp load before, :math:`F` [N]
    stretch_before : Number
        plastic stretch before, :math:`s` [m]
    clamp_after : Number
        clamp load after, :math:`F'` [N]
    stretch_after : Number
        plastic stretch after, :math:`s'` [m]
    pitch : Number
        pitch of the thread, single start, :math:`P` [m]
    stiffness : Number
        stiffness of bolt and joint in series, :math:`k` [N/m]

    Returns
    -------
    result : Number
        angle turned, negative for slackening, :math:`\\theta` [rad]

    Raises
    ------
    OutOfRange
        If ``clamp_before < 0``, ``stretch_before < 0``, ``clamp_after < 0``, ``stretch_after < 0``, ``pitch <= 0`` or
        ``stiffness <= 0``.

    Notes
    -----
    Valid for: states between which the bolt did not come loose.
    No published value: the inverse of `tightened_by_angle`.

    References
    ----------
    .. [1] derived, elastic and plastic stretch share the advance of the thread.

    Examples
    --------
    >>> ends = dict(clamp_before=13900.0, stretch_before=0.0, clamp_after=64000.0, stretch_after=0.000257)
    >>> round(np.degrees(angle_turned(pitch=0.00125, stiffness=136e6, **ends)))
    180
    """
    for name, load in (("clamp_before", clamp_before), ("clamp_after", clamp_after)):
        require(name, load, "N", at_least=0, source="derived")
    for name, length in (("stretch_before", stretch_before), ("stretch_after", stretch_after)):
        require(name, length, "m", at_least=0, source="derived")
    require("pitch", pitch, "m", above=0, source="derived")
    require("stiffness", stiffness, "N/m", above=0, source="derived")
    return ((clamp_after - clamp_before) / stiffness + stretch_after - stretch_before) * _TURN / pitch


def _turned(
    clamp: Number, stretch: Number, angle: Number, pitch: Number, stiffness: Number, limit: Number, hardening: Number
) -> BoltState:
    straight = clamp + stiffness * (pitch * angle / _TURN)
    yields_at = np.maximum(limit + hardening * stretch, clamp)
    more = np.maximum(straight - yields_at, 0) / (stiffness + hardening)
    return BoltState(np.minimum(straight, yields_at + hardening * more), stretch + more)


def _require_state(clamp: Number, stretch: Number, limit: Number, hardening: Number) -> None:
    require("clamp", clamp, "N", at_least=0, source="derived")
    require("stretch", stretch, "m", at_least=0, source="derived")
    require("limit", limit, "N", above=0, source="derived")
    require("hardening", hardening, "N/m", at_least=0, source="derived")
