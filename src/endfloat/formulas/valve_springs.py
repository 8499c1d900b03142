"""Rate, loads, coil bind and surge of valve springs."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from endfloat.errors import OutOfRange
from endfloat.formulas.bounds import Number, refuse, require

Array = NDArray[np.float64]


def rate(*, wire: Number, coil_diameter: Number, active_coils: Number, shear_modulus: Number) -> Number:
    """Rate of a cylindrical spring of round wire, from its sizes.

    .. math:: R = \\frac{G d^4}{8 D^3 n}

    Parameters
    ----------
    wire : Number
        diameter of the wire, :math:`d` [m]
    coil_diameter : Number
        mean diameter of the coils, outside less one wire, :math:`D` [m]
    active_coils : Number
        coils that move, the closed ends not counted, :math:`n` [1]
    shear_modulus : Number
        shear modulus of the wire, :math:`G` [Pa]

    Returns
    -------
    result : Number
        rate, :math:`R` [N/m]

    Raises
    ------
    OutOfRange
        If ``wire <= 0``, ``coil_diameter <= 0``, ``active_coils <= 0`` or ``shear_modulus <= 0``.

    Notes
    -----
    Valid for: coils that do not touch, one pitch, one diameter.

    References
    ----------
    .. [1] en-13906-1, rate of a spring.

    Examples
    --------
    >>> spring = dict(wire=0.004, coil_diameter=0.026, active_coils=5.0, shear_modulus=80e9)
    >>> round(rate(**spring) / 1e3, 2)
    29.13
    """
    _check(wire=wire, coil_diameter=coil_diameter, active_coils=active_coils, shear_modulus=shear_modulus)
    return shear_modulus * wire**4 / (8 * coil_diameter**3 * active_coils)


def active_coils(*, wire: Number, coil_diameter: Number, rate: Number, shear_modulus: Number) -> Number:
    """Coils that move, from the rate a tester shows: fewer than counted means that coils lie on each other.

    Parameters
    ----------
    wire : Number
        diameter of the wire [m]
    coil_diameter : Number
        mean diameter of the coils [m]
    rate : Number
        rate [N/m]
    shear_modulus : Number
        shear modulus of the wire [Pa]

    Returns
    -------
    result : Number
        active coils [1]

    Raises
    ------
    OutOfRange
        If ``wire <= 0``, ``coil_diameter <= 0``, ``rate <= 0`` or ``shear_modulus <= 0``.

    References
    ----------
    .. [1] en-13906-1, rate of a spring.

    Examples
    --------
    >>> spring = dict(wire=0.004, coil_diameter=0.026, shear_modulus=80e9)
    >>> round(active_coils(rate=29130.0, **spring), 3)
    5.0
    """
    _check(wire=wire, coil_diameter=coil_diameter, rate=rate, shear_modulus=shear_modulus)
    return shear_modulus * wire**4 / (8 * coil_diameter**3 * rate)


def rate_from_loads(*, load: Number, height: Number, other_load: Number, other_height: Number) -> Number:
    """Rate of a spring from two loads on the tester.

    Parameters
    ----------
    load : Number
        load at the first height [N]
    height : Number
        first height [m]
    other_load : Number
        load at the second height [N]
    other_height : Number
        second height [m]

    Returns
    -------
    result : Number
        mean rate between the heights [N/m]

    Raises
    ------
    OutOfRange
        If ``height <= 0`` or ``other_height <= 0``, or both heights are the same.

    Notes
    -----
    Accuracy: with readings far apart; two heights 1 mm apart turn 1 % of load into some 10 % of rate.

    References
    ----------
    .. [1] definition, load gained for height lost.

    Examples
    --------
    >>> round(rate_from_loads(load=250.0, height=0.036, other_load=550.0, other_height=0.026), 6)
    30000.0
    """
    require("load", load, "N")
    require("other_load", other_load, "N")
    require("height", height, "m", above=0)
    require("other_height", other_height, "m", above=0)
    if np.any(same := np.asarray(height == other_height)):
        refuse("other_height", other_height, same, "m", "2 different heights", source="definition")
    return (other_load - load) / (height - other_height)


def load_at(*, rate: Number, free_length: Number, height: Number) -> Number:
    """Load of a spring at a height: at the seat with the installed height, fully open with that less the lift.

    .. math:: F = R\\,(L_0 - H)

    Parameters
    ----------
    rate : Number
        rate, :math:`R` [N/m]
    free_length : Number
        free length, :math:`L_0` [m]
    height : Number
        height, :math:`H` [m]

    Returns
    -------
    result : Number
        load, :math:`F` [N]

    Raises
    ------
    OutOfRange
        If ``rate <= 0``, ``free_length <= 0`` or ``height <= 0``, or the height is above the free length.

    Notes
    -----
    Valid for: one rate over the whole travel; see `load_from_table`.
    No published value: an identity; its way back is published, see `deflection`.

    References
    ----------
    .. [1] definition.

    Examples
    --------
    >>> round(load_at(rate=30000.0, free_length=0.046, height=0.036), 6)
    300.0
    """
    require("rate", rate, "N/m", above=0)
    require("free_length", free_length, "m", above=0)
    require("height", height, "m", above=0)
    if np.any(long := np.asarray(height > free_length)):
        refuse("height", height, long, "m", "a height of at most 1 free length", source="definition")
    return rate * (free_length - height)


def deflection(*, rate: Number, load: Number) -> Number:
    """How far a load presses a spring.

    Parameters
    ----------
    rate : Number
        rate [N/m]
    load : Number
        load [N]

    Returns
    -------
    result : Number
        deflection from the free length [m]

    Raises
    ------
    OutOfRange
        If ``rate <= 0`` or ``load < 0``.

    References
    ----------
    .. [1] definition.

    Examples
    --------
    >>> round(deflection(rate=30000.0, load=300.0), 6)
    0.01
    """
    require("rate", rate, "N/m", above=0)
    require("load", load, "N", at_least=0)
    return load / rate


def load_from_table(*, height: Number, table_height: Array, table_load: Array) -> Number:
    """Load at a height from a tester's table, for springs of two rates, of conical shape or nested.

    A single rate is wrong for them; straight lines between readings are not. For nested springs the table is of
    the set, or the loads of each are added, the inner at its height over its own step.

    Parameters
    ----------
    height : Number
        height asked for [m]
    table_height : Array
        heights of the table, rising [m]
    table_load : Array
        load at each of them, falling [N]

    Returns
    -------
    result : Number
        load [N]

    Raises
    ------
    OutOfRange
        If ``height <= 0``, or it lies outside the table, or the table is not in order.

    Notes
    -----
    Accuracy: of a spring that stiffens, straight lines lie above the true load between readings.
    No published value: an identity at the readings.

    References
    ----------
    .. [1] definition, straight between readings.

    Examples
    --------
    >>> table = dict(table_height=np.array([0.026, 0.036, 0.046]), table_load=np.array([700.0, 300.0, 0.0]))
    >>> round(float(load_from_table(height=0.031, **table)), 6)
    500.0
    """
    require("height", height, "m", above=0)
    require("table_height", table_height, "m")
    require("table_load", table_load, "N")
    heights, loads = np.asarray(table_height), np.asarray(table_load)
    if heights.ndim != 1 or heights.shape != loads.shape or len(heights) < 2:
        expected = "a row of at least 2 heights with as many loads"
        raise OutOfRange(name="table_height", value=heights.size, expected=expected, unit="m")
    if np.any(np.diff(heights) <= 0) or np.any(np.diff(loads) >= 0):
        expected = "heights that rise by more than 0 while their loads fall"
        raise OutOfRange(name="table_height", value=float(heights[0]), expected=expected, unit="m")
    outside = np.asarray((height < heights[0]) | (height > heights[-1]))
    if np.any(outside):
        expected = f"a height of the table, {heights[0]:g} to {heights[-1]:g}"
        refuse("height", height, outside, "m", expected, source="definition")
    return np.asarray(np.interp(height, heights, loads))[()]


def bind_margin(*, installed_height: Number, lift: Number, bind_length: Number) -> Number:
    """What is left before the coils of a spring touch, with the valve fully open.

    Parameters
    ----------
    installed_height : Number
        height with the valve closed [m]
    lift : Number
        full lift of the valve [m]
    bind_length : Number
        height at which the coils touch, as measured in a vice; see `solid_length` for a first guess [m]

    Returns
    -------
    result : Number
        margin, negative when the spring binds [m]

    Raises
    ------
    OutOfRange
        If ``installed_height <= 0``, ``lift < 0`` or ``bind_length <= 0``.

    Notes
    -----
    No published value: an identity.

    References
    ----------
    .. [1] definition.

    Examples
    --------
    >>> round(bind_margin(installed_height=0.036, lift=0.010, bind_length=0.0245), 6)
    0.0015
    """
    require("installed_height", installed_height, "m", above=0)
    require("lift", lift, "m", at_least=0)
    require("bind_length", bind_length, "m", above=0)
    return installed_height - lift - bind_length


def shim_for_height(*, height: Number, wanted_height: Number) -> Number:
    """Shim under a spring that brings it from the height it has to the height it needs.

    Parameters
    ----------
    height : Number
        height without the shim [m]
    wanted_height : Number
        height by the book [m]

    Returns
    -------
    result : Number
        thickness, negative when the spring already sits too low [m]

    Raises
    ------
    OutOfRange
        If ``height <= 0`` or ``wanted_height <= 0``.

    Notes
    -----
    No published value: an identity.

    References
    ----------
    .. [1] definition.

    Examples
    --------
    >>> round(shim_for_height(height=0.0364, wanted_height=0.0360), 6)
    0.0004
    """
    require("height", height, "m", above=0)
    require("wanted_height", wanted_height, "m", above=0)
    return height - wanted_height


def _check(**given: Number) -> None:
    units = {"wire": "m", "coil_diameter": "m", "shear_modulus": "Pa", "rate": "N/m"}
    for name, value in given.items():
        require(name, value, units.get(name, "1"), above=0, source="en-13906-1")
