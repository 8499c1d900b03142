"""Clamp load with its interval: friction as lowest and highest, the lubrication in words."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from endfloat.errors import OutOfRange
from endfloat.formulas import tightening
from endfloat.formulas.bounds import refuse, require

Number = float | NDArray[np.float64]

_FRICTION = {"A": (0.04, 0.10), "B": (0.08, 0.16), "C": (0.14, 0.24), "D": (0.20, 0.35), "E": (0.30, 0.50)}


class FrictionInterval(NamedTuple):
    """Lowest and highest coefficient of friction of a class."""

    lowest: float
    highest: float


class ClampLoad(NamedTuple):
    """A clamp load with its interval and the lubrication that it holds for."""

    lowest: Number
    nominal: Number
    highest: Number
    lubrication: str


def interval(*, friction_class: str) -> FrictionInterval:
    """Lowest and highest coefficient of friction of a class of surface and lubricant.

    A molybdenum, graphite or wax film; B oil, grease or paste; C as delivered, lightly oiled, bright or phosphated;
    D stainless with oil, dry zinc; E dry zinc on iron, dry stainless or aluminium. The classes overlap: a class is an
    interval, and only a test on your own bolts makes it narrower.

    Parameters
    ----------
    friction_class : str
        A, B, C, D or E [word]

    Returns
    -------
    lowest : float
        lowest coefficient [1]
    highest : float
        highest coefficient [1]

    Raises
    ------
    OutOfRange
        If the class is not known.

    Notes
    -----
    Differs from source: class E is open above; 0.50 stands for its end here.

    References
    ----------
    .. [1] vdi-2230, table of friction classes.

    Examples
    --------
    >>> interval(friction_class="B").highest
    0.16
    """
    if friction_class not in _FRICTION:
        known = ", ".join(_FRICTION)
        raise OutOfRange(name="friction_class", value=friction_class, expected=known, unit="word", source="vdi-2230")
    return FrictionInterval(*_FRICTION[friction_class])


def clamp_load(
    *,
    torque: Number,
    torque_error: Number,
    prevailing: Number,
    pitch: Number,
    pitch_diameter: Number,
    half_flank: Number,
    bearing_diameter: Number,
    lowest_friction: Number,
    highest_friction: Number,
    lubrication: str,
) -> ClampLoad:
    r"""Clamp load that a torque gives, from the lowest to the highest that friction and wrench allow.

    The figure to work by. It needs the state of the lubrication in words, since the same torque on an oiled instead of
    a dry bolt clamps a third more, and two frictions that differ, since nobody knows one. The same two stand for
    thread and face.

    .. math:: F_{max} = F(M(1 + u), \mu_{min}),\quad F_{min} = F(M(1 - u), \mu_{max}),\quad
        F_{nom} = F\left(M, \tfrac{1}{2}(\mu_{min} + \mu_{max})\right)

    Parameters
    ----------
    torque : Number
        torque at the end of the pull, :math:`M` [N m]
    torque_error : Number
        error of the wrench either way, as a share, :math:`u` [1]
    prevailing : Number
        torque of the running bolt before it clamps; nought for a plain thread, :math:`M_p` [N m]
    pitch : Number
        lead of the thread; its pitch when it has one start, :math:`P` [m]
    pitch_diameter : Number
        pitch diameter, :math:`d_2` [m]
    half_flank : Number
        angle of a flank to the square section: 30 degrees metric and unified, 27.5 Whitworth, :math:`\alpha` [rad]
    bearing_diameter : Number
        mean diameter of the face that turns, :math:`D_{Km}` [m]
    lowest_friction : Number
        lowest credible coefficient of friction, :math:`\mu_{min}` [1]
    highest_friction : Number
        highest credible coefficient of friction, :math:`\mu_{max}` [1]
    lubrication : str
        what stands on thread and face: dry, oiled, moly paste, locking compound, ... [word]

    Returns
    -------
    lowest : Number
        clamp load at the highest friction and the least torque [N]
    nominal : Number
        clamp load at the middle friction and the torque itself [N]
    highest : Number
        clamp load at the lowest friction and the greatest torque [N]
    lubrication : str
        the lubrication that it holds for [word]

    Raises
    ------
    OutOfRange
        If ``torque <= 0``, ``torque_error < 0``, ``torque_error >= 1``, ``prevailing < 0``, ``pitch <= 0``,
        ``pitch_diameter <= 0``, ``half_flank < 0``, ``half_flank > 0.8``, ``bearing_diameter <= 0``,
        ``lowest_friction < 0.03``, ``lowest_friction > 0.5``, ``highest_friction < 0.03`` or
        ``highest_friction > 0.5``; if the highest friction is not above the lowest; if the lubrication is blank; if
        the least torque is below the prevailing torque.

    Notes
    -----
    Valid for: torque alone, below yield (hold the highest against tightening.yield_limited_preload with the lowest
    friction). A bolt then turned by an angle has another clamp load.
    Assumes: the ends stand for the worst cases together; the truth lies inside, most often near the middle.
    No published value: a corner of `tightening.preload`; a published interval by a tightening factor is checked.

    References
    ----------
    .. [1] vdi-2230, tightening torque.
    .. [2] derived, interval from the corners: the load falls with friction and grows with torque.

    Examples
    --------
    >>> thread = dict(pitch=0.0015, pitch_diameter=0.009026, half_flank=np.pi / 6, bearing_diameter=0.012815)
    >>> state = dict(lowest_friction=0.10, highest_friction=0.16, lubrication="oiled", prevailing=0.0)
    >>> [round(each / 1e3, 1) for each in clamp_load(torque=49.0, torque_error=0.04, **thread, **state)[:3]]
    [22.3, 27.9, 36.3]
    """
    if not lubrication.strip():
        expected = "a word for the lubrication, such as dry or oiled; without 1 a clamp load means nothing"
        raise OutOfRange(name="lubrication", value=lubrication, expected=expected, unit="word", source="derived")
    require("torque", torque, "N m", above=0, source="derived")
    require("torque_error", torque_error, "1", at_least=0, below=1, source="derived")
    require("lowest_friction", lowest_friction, "1", at_least=0.03, at_most=0.5, source="derived")
    require("highest_friction", highest_friction, "1", at_least=0.03, at_most=0.5, source="derived")
    none = np.asarray(np.asarray(highest_friction) <= lowest_friction)
    if none.any():
        expected = "more than the lowest friction: 1 figure is no interval"
        refuse("highest_friction", highest_friction, none, "1", expected, source="derived")

    def load(pull: Number, friction: Number) -> Number:
        return tightening.preload(
            torque=pull,
            pitch=pitch,
            pitch_diameter=pitch_diameter,
            half_flank=half_flank,
            thread_friction=friction,
            bearing_diameter=bearing_diameter,
            face_friction=friction,
            prevailing=prevailing,
        )

    return ClampLoad(
        lowest=load(torque * (1 - np.asarray(torque_error)), highest_friction),
        nominal=load(torque, (np.asarray(lowest_friction) + highest_friction) / 2),
        highest=load(torque * (1 + np.asarray(torque_error)), lowest_friction),
        lubrication=lubrication.strip(),
    )
