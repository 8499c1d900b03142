"""How far a valve sinks by work on seat and face, and what its head and its chamber gain or lose by it."""

from __future__ import annotations

import numpy as np

from endfloat.formulas.bounds import Number, require


def tip_rise(*, seat_stock: Number, face_stock: Number, seat_angle: Number) -> Number:
    """How far the tip of a valve comes up when metal is taken square to its seat and its face.

    .. math:: \\delta = (t_s + t_f)/\\cos\\alpha

    Parameters
    ----------
    seat_stock : Number
        metal taken from the seat, square to it, :math:`t_s` [m]
    face_stock : Number
        metal taken from the valve's face, square to it, :math:`t_f` [m]
    seat_angle : Number
        angle of seat and face from the plane square to the valve, :math:`\\alpha` [rad]

    Returns
    -------
    result : Number
        rise of the tip, :math:`\\delta` [m]

    Raises
    ------
    OutOfRange
        If ``seat_stock < 0``, ``face_stock < 0``, ``seat_angle < 0`` or ``seat_angle >= 1.57``.

    Notes
    -----
    Valid for: feeds square to the face; the feed of a seat cutter along the valve is the rise itself.
    Assumes: face and seat at one angle; top and throat cuts do not lower a valve.
    No published value: a cone shifted by its normal, by shapely in the tests.

    References
    ----------
    .. [1] derived.

    Examples
    --------
    >>> round(float(tip_rise(seat_stock=0.0001, face_stock=0.00005, seat_angle=np.radians(45.0))), 7)
    0.0002121
    """
    require("seat_stock", seat_stock, "m", at_least=0, source="derived")
    require("face_stock", face_stock, "m", at_least=0, source="derived")
    require("seat_angle", seat_angle, "rad", at_least=0, below=1.57, source="derived")
    return ((seat_stock + face_stock) / np.cos(seat_angle))[()]


def margin_left(*, margin: Number, face_stock: Number, face_angle: Number) -> Number:
    """Margin of a valve's head after its face was ground: a thin edge burns.

    Parameters
    ----------
    margin : Number
        cylindrical edge of the head before [m]
    face_stock : Number
        metal taken from the face, square to it [m]
    face_angle : Number
        angle of the face from the plane square to the valve [rad]

    Returns
    -------
    result : Number
        margin left, negative when none is [m]

    Raises
    ------
    OutOfRange
        If ``margin < 0``, ``face_stock < 0``, ``face_angle < 0`` or ``face_angle >= 1.57``.

    Notes
    -----
    No published value: an identity of the geometry.

    References
    ----------
    .. [1] derived, the face moves along the valve by the stock over the cosine.

    Examples
    --------
    >>> round(float(margin_left(margin=0.0014, face_stock=0.0002, face_angle=np.radians(45.0))), 6)
    0.001117
    """
    require("margin", margin, "m", at_least=0, source="derived")
    require("face_stock", face_stock, "m", at_least=0, source="derived")
    require("face_angle", face_angle, "rad", at_least=0, below=1.57, source="derived")
    return (margin - face_stock / np.cos(face_angle))[()]


def chamber_growth(*, valve_diameter: Number, tip_rise: Number) -> Number:
    """Volume a chamber gains when a valve sinks into it.

    Parameters
    ----------
    valve_diameter : Number
        diameter of the head [m]
    tip_rise : Number
        how much deeper the valve sits [m]

    Returns
    -------
    result : Number
        volume gained [m3]

    Raises
    ------
    OutOfRange
        If ``valve_diameter <= 0``.

    Notes
    -----
    Assumes: a pocket in the chamber as wide as the head; the metal cut around it is not counted.
    No published value: an identity.

    References
    ----------
    .. [1] definition, cylinder.

    Examples
    --------
    >>> round(chamber_growth(valve_diameter=0.034, tip_rise=0.0003) * 1e6, 3)
    0.272
    """
    require("valve_diameter", valve_diameter, "m", above=0)
    require("tip_rise", tip_rise, "m")
    return np.pi / 4 * valve_diameter**2 * tip_rise
