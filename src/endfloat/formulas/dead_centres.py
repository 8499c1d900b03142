"""Finding dead centres on the bench, and what stroke, throw and index come out of the readings."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import require
from endfloat.formulas.crank import DeadCentres, dead_centres

Number = float | NDArray[np.float64]
Array = NDArray[np.float64]


class Sides(NamedTuple):
    """Crank angles before and after the top dead centre, both positive."""

    before: Number
    after: Number


class Stop(NamedTuple):
    """What two touches of a stop tell."""

    top: Number
    half_span: Number
    correction: Number


def angles_at_drop(*, throw: Number, rod: Number, offset: Number, drop: Number) -> Sides:
    """Crank angles at which the piston is at a drop below its top, going up and going down.

    Without an offset both are equal. In closed form, so no drop is too small.

    .. math:: \\theta = \\arctan (e / y) \\mp \\arccos \\frac{r^2 + d^2 - l^2}{2 r d}, \\quad d^2 = e^2 + y^2, \\quad
        \\alpha = \\mp (\\theta - t)

    Parameters
    ----------
    throw : Number
        centre of the main journal to centre of the crank pin, :math:`r` [m]
    rod : Number
        centre distance of the rod, :math:`l` [m]
    offset : Number
        pin line from the crank's centre, positive where the crank pin descends, :math:`e` [m]
    drop : Number
        drop of the piston below its top dead centre [m]

    Returns
    -------
    before : Number
        crank angle before the true top dead centre [rad]
    after : Number
        crank angle after the true top dead centre [rad]

    Raises
    ------
    OutOfRange
        If ``throw <= 0`` or ``rod <= 0`` or ``drop < 0``, or if the drop is more than the stroke.

    Notes
    -----
    No published value: checked against the piston's drop at the angles found, and by root finding.

    References
    ----------
    .. [1] derived, triangle of crank and rod.

    Examples
    --------
    >>> found = angles_at_drop(throw=0.043, rod=0.145, offset=0.0, drop=0.010)
    >>> round(float(np.degrees(found.before)), 2), round(float(np.degrees(found.after)), 2)
    (35.21, 35.21)
    """
    ends = dead_centres(throw=throw, rod=rod, offset=offset)
    require("drop", drop, "m", at_least=0, at_most=_whole_stroke(ends), source="derived")
    height = ends.top_height - drop
    away = np.hypot(offset, height)
    # 1 - cos from differences of squares keeps all digits near the top, where the cosine is nearly one.
    half = np.sqrt(np.maximum(((rod + throw) ** 2 - away**2) * _short(throw, rod, away), 0)) / 2
    swing = np.arctan2(half, (throw**2 + away**2 - rod**2) / 2)
    lean = np.arctan2(offset, height) - ends.top
    return Sides(before=swing - lean, after=swing + lean)


def dwell_at_top(*, throw: Number, rod: Number, offset: Number, drop: Number) -> Number:
    """Crank angle over which the piston stays within a drop of its top.

    It shows why a dial gauge's highest reading finds the dead centre to a degree at best.

    Parameters
    ----------
    throw : Number
        centre of the main journal to centre of the crank pin [m]
    rod : Number
        centre distance of the rod [m]
    offset : Number
        pin line from the crank's centre, positive where the crank pin descends [m]
    drop : Number
        drop that the gauge does not show [m]

    Returns
    -------
    result : Number
        crank angle from one side to the other [rad]

    Raises
    ------
    OutOfRange
        If ``throw <= 0`` or ``rod <= 0`` or ``drop < 0``, or if the drop is more than the stroke.

    References
    ----------
    .. [1] derived, triangle of crank and rod.

    Examples
    --------
    >>> round(float(np.degrees(dwell_at_top(throw=0.043, rod=0.145, offset=0.0, drop=0.00001))), 2)
    2.17
    """
    sides = angles_at_drop(throw=throw, rod=rod, offset=offset, drop=drop)
    return sides.before + sides.after


def dwell_at_bottom(*, throw: Number, rod: Number, offset: Number, rise: Number) -> Number:
    """Crank angle over which the piston stays within a rise of its bottom; longer than at the top.

    Parameters
    ----------
    throw : Number
        centre of the main journal to centre of the crank pin [m]
    rod : Number
        centre distance of the rod [m]
    offset : Number
        pin line from the crank's centre, positive where the crank pin descends [m]
    rise : Number
        rise that the gauge does not show [m]

    Returns
    -------
    result : Number
        crank angle from one side to the other [rad]

    Raises
    ------
    OutOfRange
        If ``throw <= 0`` or ``rod <= 0`` or ``rise < 0``, or if the rise is more than the stroke.

    References
    ----------
    .. [1] derived, triangle of crank and rod.

    Examples
    --------
    >>> round(float(np.degrees(dwell_at_bottom(throw=0.043, rod=0.145, offset=0.0, rise=0.00001))), 2)
    2.95
    """
    ends = dead_centres(throw=throw, rod=rod, offset=offset)
    require("rise", rise, "m", at_least=0, at_most=_whole_stroke(ends), source="derived")
    away = np.hypot(offset, ends.bottom_height + rise)
    half = np.sqrt(np.maximum(((rod + throw) ** 2 - away**2) * _short(throw, rod, away), 0)) / 2
    return 2 * np.arctan2(half, -(throw**2 + away**2 - rod**2) / 2)


def top_by_stop(*, before: Number, after: Number, throw: Number, rod: Number, offset: Number, drop: Number) -> Stop:
    """True top dead centre from the two wheel readings at which the piston touches one stop.

    Take both readings against the same side of all slack. With an offset the middle lies a little off the true top;
    it is put right here. Turn the wheel until it shows `half_span` on either side, and it is set.

    .. math:: T = (a + b)/2 - [\\arctan (e / (y_T - x)) - \\arctan (e / y_T)]

    Parameters
    ----------
    before : Number
        reading before the top, less than the other; before the wheel's nought it is negative, :math:`a` [rad]
    after : Number
        reading after the top, on the same running scale, :math:`b` [rad]
    throw : Number
        centre of the main journal to centre of the crank pin [m]
    rod : Number
        centre distance of the rod [m]
    offset : Number
        pin line from the crank's centre, positive where the crank pin descends, :math:`e` [m]
    drop : Number
        drop of the piston at the stop; near enough by a rule, :math:`x` [m]

    Returns
    -------
    top : Number
        what the wheel reads at the true top, :math:`T` [rad]
    half_span : Number
        half the angle between the touches [rad]
    correction : Number
        middle of the touches less the true top [rad]

    Raises
    ------
    OutOfRange
        If ``throw <= 0`` or ``rod <= 0`` or ``drop < 0``, if the drop is more than the stroke or the reading
        after the top is not the greater.

    Notes
    -----
    Accuracy: the top is known to the reading error divided by root two. Without an offset the stop may be anywhere.

    References
    ----------
    .. [1] ahrons, the piston stopped on either side of the dead centre and the middle taken.
    .. [2] derived, middle of the two angles at one drop.

    Examples
    --------
    >>> engine = dict(throw=0.043, rod=0.145, offset=0.010)
    >>> found = top_by_stop(before=np.radians(-21), after=np.radians(15), drop=0.020, **engine)
    >>> [round(float(np.degrees(each)), 3) for each in found]
    [-3.363, 18.0, 0.363]
    """
    ends = dead_centres(throw=throw, rod=rod, offset=offset)
    require("drop", drop, "m", at_least=0, at_most=_whole_stroke(ends), source="derived")
    require("before", before, "rad", source="derived")
    require("after", after, "rad", above=before, source="derived")
    correction = np.arctan2(offset, ends.top_height - drop) - ends.top
    return Stop(top=(before + after) / 2 - correction, half_span=(after - before) / 2, correction=correction)


def stroke(*, throw: Number, rod: Number, offset: Number) -> Number:
    """Stroke of the piston; with an offset it is longer than twice the throw.

    .. math:: S = \\sqrt{(l + r)^2 - e^2} - \\sqrt{(l - r)^2 - e^2}

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
    result : Number
        stroke, :math:`S` [m]

    Raises
    ------
    OutOfRange
        If ``throw <= 0`` or ``rod <= 0``, or if the rod is not longer than throw and offset together.

    References
    ----------
    .. [1] derived, triangle of crank and rod.

    Examples
    --------
    >>> round(float(stroke(throw=0.043, rod=0.145, offset=0.010)), 6)
    0.086225
    """
    ends = dead_centres(throw=throw, rod=rod, offset=offset)
    return ends.top_height - ends.bottom_height


def throw_for_stroke(*, stroke: Number, rod: Number, offset: Number) -> Number:
    """Throw of the crank pin that gives a stroke as measured from the deck.

    .. math:: r = \\frac S 2 \\sqrt{1 - \\frac{e^2}{l^2 - S^2/4}}

    Parameters
    ----------
    stroke : Number
        stroke, piston height at the top less that at the bottom, :math:`S` [m]
    rod : Number
        centre distance of the rod, :math:`l` [m]
    offset : Number
        pin line from the crank's centre, positive where the crank pin descends, :math:`e` [m]

    Returns
    -------
    result : Number
        throw, :math:`r` [m]

    Raises
    ------
    OutOfRange
        If ``stroke <= 0`` or ``rod <= 0``, or if no crank with this rod and offset has this stroke.

    Notes
    -----
    No published value: the way back from the stroke.

    References
    ----------
    .. [1] derived, the stroke solved for the throw.

    Examples
    --------
    >>> round(float(throw_for_stroke(stroke=0.086225, rod=0.145, offset=0.010)), 6)
    0.043
    """
    require("rod", rod, "m", above=0, source="derived")
    require("offset", offset, "m", above=np.negative(rod), below=rod, source="derived")
    # The longest stroke is that of a throw one offset short of the rod; beyond it the root belongs to no crank.
    longest = 2 * np.sqrt(rod * (rod - np.abs(offset)))
    require("stroke", stroke, "m", above=0, below=longest, source="derived")
    return stroke / 2 * np.sqrt(1 - np.square(offset) / (rod**2 - np.square(stroke) / 4))


def mean_piston_speed(*, stroke: Number, speed: Number) -> Number:
    """Mean speed of the piston over a turn: twice the stroke a turn.

    Parameters
    ----------
    stroke : Number
        stroke of the piston [m]
    speed : Number
        speed of the crank [rad/s]

    Returns
    -------
    result : Number
        mean piston speed [m/s]

    Raises
    ------
    OutOfRange
        If ``stroke <= 0`` or ``speed < 0``.

    Notes
    -----
    No published value: an identity, checked against the mean of the piston's speed.

    References
    ----------
    .. [1] definition.

    Examples
    --------
    >>> round(mean_piston_speed(stroke=0.086, speed=200 * np.pi), 3)
    17.2
    """
    require("stroke", stroke, "m", above=0)
    require("speed", speed, "rad/s", at_least=0)
    return stroke * speed / np.pi


def _whole_stroke(ends: DeadCentres) -> Number:
    """The stroke, and a hair more: a drop computed from a height may pass it by a rounding."""
    return (ends.top_height - ends.bottom_height) * (1 + 1e-12)


def _short(throw: Number, rod: Number, away: Number) -> Number:
    """Square of the distance less that of the folded crank: nought at the bottom."""
    return away**2 - (rod - throw) ** 2
