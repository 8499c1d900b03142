"""Lobes from a measured table: lift between the readings, events at a checking height, lobe centre, lift at the top."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import Number, refuse, require
from endfloat.formulas.lift_curve import LiftCurve, lift_curve

Array = NDArray[np.float64]


class Lift(NamedTuple):
    """Lift and its first two derivatives by the angle of the table."""

    lift: Number
    slope: Number
    second: Number


class LobeEvents(NamedTuple):
    """Where a lobe passes a checking height, on the angles of its table."""

    opens: Number
    closes: Number
    duration: Number
    centre: Number
    peak: float
    peak_lift: float
    opening_slope: Number


def lift_from_table(*, angle: Number, table_angle: Array, table_lift: Array, period: float) -> Lift:
    """Lift between the readings of a table, by a cubic spline through them.

    A reading every two degrees of the cam is ample. Outside the table the lift is nought, so begin and end it on
    the base circle. A table over the full turn whose last reading equals the first closes smoothly.

    Parameters
    ----------
    angle : Number
        angle on the scale of the table [rad]
    table_angle : Array
        angles of the table, rising, any nought [rad]
    table_lift : Array
        lift at each of them [m]
    period : float
        one turn of the cam on that scale: one full angle of the cam, or two of the crank [rad]

    Returns
    -------
    lift : Number
        lift [m]
    slope : Number
        lift gained in one radian [m]
    second : Number
        second derivative of the lift by the angle; see `smoothed_lift` for readings with noise [m]

    Raises
    ------
    OutOfRange
        If ``period <= 0``; if there are fewer than six readings, angles do not rise, or they span more than the
        period.

    Notes
    -----
    Accuracy: on a lobe 130 degrees of the cam wide, readings every 2 degrees miss the lift between by 20 nm, every 5
        by 1 um.
    Valid for: lift and slope of readings as they are; their second derivative only where they have no noise.
    No published value: a table of a known law gives the law back, in the tests.

    References
    ----------
    .. [1] definition, cubic spline, twice differentiable.

    Examples
    --------
    >>> angles = np.radians(np.arange(-70.0, 71.0, 2.0))
    >>> table = dict(table_angle=angles, table_lift=0.01 * np.cos(np.pi * angles / angles[-1] / 2) ** 2)
    >>> found = lift_from_table(angle=np.radians(35.0), period=2 * np.pi, **table)
    >>> round(float(found.lift), 6)
    0.005
    """
    require("angle", angle, "rad")
    return Lift(*lift_curve(table_angle, table_lift, period).motion(angle))


def smoothed_lift(*, angle: Number, table_angle: Array, table_lift: Array, period: float, reading: float) -> Lift:
    """Lift, velocity and acceleration from readings with noise, by a smoothing spline.

    Three micrometres of noise on readings two degrees apart make the acceleration of a plain spline worthless.
    This one misses the readings by as much, in the mean of squares, as the gauge does.

    Parameters
    ----------
    angle : Number
        angle on the scale of the table [rad]
    table_angle : Array
        angles of the table, rising [rad]
    table_lift : Array
        lift at each of them [m]
    period : float
        one turn of the cam on that scale [rad]
    reading : float
        standard uncertainty of one reading, without errors common to all [m]

    Returns
    -------
    lift : Number
        lift [m]
    slope : Number
        lift gained in one radian [m]
    second : Number
        second derivative of the lift by the angle [m]

    Raises
    ------
    OutOfRange
        If ``period <= 0`` or ``reading <= 0``; otherwise as `lift_from_table`.

    Notes
    -----
    Assumes: noise that is alike and independent at every reading.
    No published value: noise added to a known law is removed again, in the tests.

    References
    ----------
    .. [1] memory, smoothing spline with the sum of weighted squares equal to the number of readings (Reinsch).

    Examples
    --------
    >>> angles = np.radians(np.arange(-70.0, 71.0, 2.0))
    >>> table = dict(table_angle=angles, table_lift=0.01 * np.cos(np.pi * angles / angles[-1] / 2) ** 2)
    >>> found = smoothed_lift(angle=0.0, period=2 * np.pi, reading=3e-6, **table)
    >>> round(float(found.lift), 5), abs(round(float(found.slope), 4))
    (0.01, 0.0)
    """
    require("angle", angle, "rad", source="memory")
    require("period", period, "rad", above=0, source="memory")
    require("reading", reading, "m", above=0, source="memory")
    return Lift(*lift_curve(table_angle, table_lift, period, float(reading)).motion(angle))


def lobe_events(*, checking_height: Number, table_angle: Array, table_lift: Array, period: float) -> LobeEvents:
    """Where a lobe opens and closes at a checking height, its duration there and its centre.

    An event without its checking height says nothing: between 0.1 mm and 1.27 mm the duration of an ordinary lobe
    differs by some fifty degrees of the crank. The centre lies midway between the events; on a lobe with unequal
    flanks it is not where the lift is greatest, so both are told.

    Parameters
    ----------
    checking_height : Number
        lift at which the events are taken [m]
    table_angle : Array
        angles of the table, rising [rad]
    table_lift : Array
        lift at each of them [m]
    period : float
        one turn of the cam on that scale [rad]

    Returns
    -------
    opens : Number
        angle at which the lift rises through the height [rad]
    closes : Number
        angle at which it falls through it [rad]
    duration : Number
        from the one to the other [rad]
    centre : Number
        midway between them [rad]
    peak : Number
        angle of the greatest lift [rad]
    peak_lift : Number
        greatest lift [m]
    opening_slope : Number
        lift gained in one radian where it opens: an error of the lift moves the event by the error over this [m]

    Raises
    ------
    OutOfRange
        If ``checking_height <= 0``, or it is not below the greatest lift, or the table does not come down to it
        on both sides; otherwise as `lift_from_table`.

    Notes
    -----
    Assumes: one peak, and flanks that pass the height once; of several passages the two next to the peak count.
    No published value: at the events the lift is the height, in the tests.

    References
    ----------
    .. [1] definition.

    Examples
    --------
    >>> angles = np.radians(np.arange(-70.0, 71.0, 2.0))
    >>> table = dict(table_angle=angles, table_lift=0.01 * np.cos(np.pi * angles / angles[-1] / 2) ** 2)
    >>> found = lobe_events(checking_height=0.005, period=2 * np.pi, **table)
    >>> round(float(np.degrees(found.duration)), 3)
    70.0
    """
    require("checking_height", checking_height, "m", above=0)
    curve = lift_curve(table_angle, table_lift, period)
    peak, peak_lift = curve.peak
    ends = max(float(curve.spline(curve.first)), float(curve.spline(curve.last)))
    outside = np.asarray((checking_height >= peak_lift) | (checking_height <= ends))
    if np.any(outside):
        expected = f"a height above {ends:g} and below {peak_lift:g}, within the table"
        refuse("checking_height", checking_height, outside, "m", expected, source="definition")
    heights = np.asarray(checking_height, dtype=np.float64)
    opens, closes = _passages(curve, heights, peak)
    duration, centre = closes - opens, (opens + closes) / 2
    return LobeEvents(opens[()], closes[()], duration[()], centre[()], peak, peak_lift, curve.derivative(opens, 1)[()])


def _passages(curve: LiftCurve, heights: Array, peak: float) -> tuple[Array, Array]:
    """The last rise before the peak and the first fall after it, for each height."""
    pairs = []
    for height in heights.ravel():
        roots = curve.spline.solve(height, extrapolate=False)
        pairs.append((roots[roots < peak].max(), roots[roots > peak].min()))
    opens, closes = np.array(pairs).T
    return opens.reshape(heights.shape), closes.reshape(heights.shape)


def lift_at_top(
    *,
    centre: Number,
    checking_height: float,
    lash: Number,
    rocker_ratio: Number,
    table_angle: Array,
    table_lift: Array,
    period: float,
) -> Number:
    """Lift of a valve when its piston stands at the top between exhaust and intake.

    The quickest proof of the timing on an engine that has no marks: a dial on the retainer and the piston at true
    dead centre. The lobe centre is that of equal lifts at the checking height, as a degree wheel finds it.

    Parameters
    ----------
    centre : Number
        crank angle of the lobe centre after the top; negative for an exhaust lobe before it [rad]
    checking_height : float
        lift of the lobe at which its centre was found [m]
    lash : Number
        valve clearance, nought with hydraulic tappets [m]
    rocker_ratio : Number
        valve lift for lobe lift, one for a bucket [1]
    table_angle : Array
        angles of the lobe's table, rising [rad]
    table_lift : Array
        lift of the lobe at each of them [m]
    period : float
        one turn of the cam on that scale: one full angle of the cam, or two of the crank [rad]

    Returns
    -------
    result : Number
        lift of the valve at the top [m]

    Raises
    ------
    OutOfRange
        If ``checking_height <= 0``, ``lash < 0`` or ``rocker_ratio <= 0``; otherwise as `lobe_events`.

    Notes
    -----
    Assumes: a rocker whose ratio does not change with the lift.
    No published value: an identity on the table.

    References
    ----------
    .. [1] definition, lift of the table at minus the centre, less the lash.

    Examples
    --------
    >>> angles = np.radians(np.arange(-140.0, 141.0, 4.0))
    >>> table = dict(table_angle=angles, table_lift=0.01 * np.cos(np.pi * angles / angles[-1] / 2) ** 2)
    >>> setting = dict(checking_height=0.001, lash=0.00025, rocker_ratio=1.0, period=4 * np.pi)
    >>> round(float(lift_at_top(centre=np.radians(108.0), **setting, **table)), 6)
    0.000985
    """
    require("centre", centre, "rad")
    require("lash", lash, "m", at_least=0)
    require("rocker_ratio", rocker_ratio, "1", above=0)
    found = lobe_events(checking_height=checking_height, table_angle=table_angle, table_lift=table_lift, period=period)
    on_table = np.asarray(centre) * (period / (4 * np.pi))
    raised = lift_curve(table_angle, table_lift, period).derivative(found.centre - on_table, 0)
    return np.maximum(rocker_ratio * raised - lash, 0.0)[()]
