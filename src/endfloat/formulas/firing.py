"""Firing order against the crank: dead-centre tables, intervals, partners and index errors of any layout.

Angles run in the direction in which the crank turns. Cylinder numbers are the maker's: they say nothing of the bank.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import refuse, require

Number = float | NDArray[np.float64]
Array = NDArray[np.float64]
TURN = 2 * np.pi


class FiringTable(NamedTuple):
    """Where each cylinder fires in the cycle, and how far that is from even."""

    fires: Array
    uneven: Array


def dead_centre_table(*, bank_angles: Array, pin_angles: Array, leads: Array) -> Array:
    """Crank angle at which each cylinder first comes to its top dead centre, within one turn.

    .. math:: T_i = (\\psi_i - t_i + a_i) \\bmod 360^\\circ

    Parameters
    ----------
    bank_angles : Array
        direction of each cylinder's bore, cylinders along the last axis, :math:`\\psi` [rad]
    pin_angles : Array
        direction of each cylinder's crank pin when the crank stands at nought, :math:`t` [rad]
    leads : Array
        crank angle of each true top past the pin in line with its bore, nought without offset, :math:`a` [rad]

    Returns
    -------
    result : Array
        crank angle of each top dead centre, from nought up to a turn [rad]

    Raises
    ------
    OutOfRange
        If any angle is not a finite number.

    References
    ----------
    .. [1] derived, the pin points along the bore.

    Examples
    --------
    >>> flat = dict(bank_angles=np.radians([90, 270, 90, 270]), pin_angles=np.radians([0, 180, 180, 0]))
    >>> np.degrees(dead_centre_table(**flat, leads=np.zeros(4)))
    array([ 90.,  90., 270., 270.])
    """
    for name, angles in (("bank_angles", bank_angles), ("pin_angles", pin_angles), ("leads", leads)):
        require(name, angles, "rad", source="derived")
    return _within_a_turn(np.asarray(bank_angles) - np.asarray(pin_angles) + np.asarray(leads))


def pin_angles(*, bank_angles: Array, dead_centres: Array) -> Array:
    """Crank-pin directions that a wanted table of dead centres needs; cylinders on one pin must agree.

    Parameters
    ----------
    bank_angles : Array
        direction of each cylinder's bore, cylinders along the last axis [rad]
    dead_centres : Array
        crank angle of each top dead centre [rad]

    Returns
    -------
    result : Array
        direction of each crank pin when the crank stands at nought, within one turn [rad]

    Raises
    ------
    OutOfRange
        If any angle is not a finite number.

    Notes
    -----
    Assumes: no offset of the bores.

    References
    ----------
    .. [1] derived, the pin points along the bore.

    Examples
    --------
    >>> even = np.radians([0, 180, 540, 360])
    >>> np.degrees(pin_angles(bank_angles=np.zeros(4), dead_centres=even))
    array([  0., 180., 180.,   0.])
    """
    require("bank_angles", bank_angles, "rad", source="derived")
    require("dead_centres", dead_centres, "rad", source="derived")
    return _within_a_turn(np.asarray(bank_angles) - np.asarray(dead_centres))


def firing_table(*, dead_centres: Array, order: Array, cycle: Number) -> FiringTable:
    """Where in the cycle each cylinder fires, and how far the crank puts that from an even place.

    A firing order fits an even-firing crank when all of `uneven` is nought. What is left over on an engine that
    should fire evenly is a wrong order, a wrong mirror of split pins, or an index error.

    Parameters
    ----------
    dead_centres : Array
        crank angle of each top dead centre, cylinder 1 first, along the last axis [rad]
    order : Array
        numbers of the cylinders in the order in which they fire [1]
    cycle : Number
        crank angle of a cycle: two turns for four strokes, one for two [rad]

    Returns
    -------
    fires : Array
        crank angle after the first of the order at which each cylinder fires, cylinder 1 first [rad]
    uneven : Array
        that angle less its place in an even cycle, positive when late [rad]

    Raises
    ------
    OutOfRange
        If ``cycle <= 0`` or no whole number of turns, or if the order does not name each cylinder once.

    Notes
    -----
    Valid for: engines on which no cylinder fires half a turn or more from its even place.

    References
    ----------
    .. [1] derived, the dead centre nearest to the even place.

    Examples
    --------
    >>> vee = firing_table(dead_centres=np.radians([0, 45]), order=np.array([1.0, 2.0]), cycle=4 * np.pi)
    >>> np.degrees(vee.fires), np.degrees(vee.uneven)
    (array([  0., 405.]), array([ 0., 45.]))
    """
    require("dead_centres", dead_centres, "rad", source="derived")
    places = _places(order, np.shape(dead_centres)[-1])
    _require_cycle(cycle)
    count = len(places)
    even = np.arange(count) * cycle / count
    tops = np.asarray(dead_centres)[..., places]
    uneven = _nearest(tops - tops[..., :1] - even)
    by_number = np.argsort(places)
    return FiringTable(fires=(even + uneven)[..., by_number], uneven=uneven[..., by_number])


def firing_intervals(*, fires: Array, order: Array, cycle: Number) -> Array:
    """Crank angle from each firing to the next, in the order of firing; they add up to the cycle.

    Parameters
    ----------
    fires : Array
        crank angle in the cycle at which each cylinder fires, cylinder 1 first, along the last axis [rad]
    order : Array
        numbers of the cylinders in the order in which they fire [1]
    cycle : Number
        crank angle of a cycle: two turns for four strokes, one for two [rad]

    Returns
    -------
    result : Array
        interval after each cylinder of the order; one below nought tells that the order is wrong [rad]

    Raises
    ------
    OutOfRange
        If ``cycle <= 0`` or no whole number of turns, or if the order does not name each cylinder once.

    References
    ----------
    .. [1] definition.
    .. [2] derived, bounds of the cycle and the order.

    Examples
    --------
    >>> vee = dict(fires=np.radians([0, 405]), order=np.array([1.0, 2.0]), cycle=4 * np.pi)
    >>> np.round(np.degrees(firing_intervals(**vee)), 9)
    array([405., 315.])
    """
    require("fires", fires, "rad", source="derived")
    places = _places(order, np.shape(fires)[-1])
    _require_cycle(cycle)
    ordered = np.asarray(fires)[..., places]
    after = np.concatenate([ordered[..., 1:], ordered[..., :1] + cycle], axis=-1)
    return np.asarray(after - ordered)


def partners_on_overlap(*, order: Array) -> Array:
    """Cylinder whose valves rock while each cylinder is at the top of compression.

    Turn until the partner's valves rock, and both valves of the cylinder are shut: the way to set valves without marks.

    Parameters
    ----------
    order : Array
        numbers of the cylinders in the order in which they fire [1]

    Returns
    -------
    result : Array
        number of the partner of each cylinder, cylinder 1 first [1]

    Raises
    ------
    OutOfRange
        If the order does not name each cylinder once, or names an odd number of them.

    Notes
    -----
    Valid for: four-stroke engines with an even number of cylinders that fires evenly.

    References
    ----------
    .. [1] derived, half a cycle is half the order.

    Examples
    --------
    >>> partners_on_overlap(order=np.array([1.0, 3.0, 4.0, 2.0]))
    array([4., 3., 2., 1.])
    """
    count = len(order)
    places = _places(order, count)
    if count % 2:
        refuse("order", float(count), np.asarray(True), "1", "an even number of cylinders: 2, 4, 6", source="derived")
    return np.asarray(np.roll(np.asarray(order, dtype=np.float64), count // 2)[np.argsort(places)])


def index_errors(*, measured: Array, nominal: Array) -> Array:
    """How far each crank pin stands from its place, against the pin of the first cylinder.

    Parameters
    ----------
    measured : Array
        wheel readings at the true top dead centres, cylinder 1 first, along the last axis [rad]
    nominal : Array
        crank angles at which they should be [rad]

    Returns
    -------
    result : Array
        index error, positive when the top comes late; nought for cylinder 1 [rad]

    Raises
    ------
    OutOfRange
        If any reading is not a finite number.

    Notes
    -----
    No published value: a difference; the zero of the wheel and whole turns drop out.

    References
    ----------
    .. [1] definition, of the index error against the first pin.

    Examples
    --------
    >>> read = np.radians([1.0, 181.2, 180.9, 0.9])
    >>> np.round(np.degrees(index_errors(measured=read, nominal=np.radians([0, 180, 180, 0]))), 9)
    array([ 0. ,  0.2, -0.1, -0.1])
    """
    require("measured", measured, "rad")
    require("nominal", nominal, "rad")
    away = np.asarray(measured) - np.asarray(nominal)
    return _nearest(away - away[..., :1])


def _places(order: Array, count: int) -> NDArray[np.intp]:
    """The order as places from nought, or OutOfRange unless each of `count` cylinders stands in it once."""
    numbers = np.asarray(order, dtype=np.float64)
    named, expected = np.arange(1, count + 1), f"each cylinder from 1 to {count} once"
    if numbers.shape != (count,):
        refuse("order", float(numbers.size), np.asarray(True), "1", f"{count} places, {expected}", source="derived")
    bad = ~np.isin(numbers, named) | (np.sum(numbers == numbers[:, None], axis=1) > 1)
    if np.any(bad):
        refuse("order", numbers, bad, "1", expected, source="derived")
    return numbers.astype(np.intp) - 1


def _require_cycle(cycle: Number) -> None:
    require("cycle", cycle, "rad", above=0, source="derived")
    turns = np.asarray(cycle) / TURN
    broken = np.asarray(np.abs(turns - np.round(turns)) > 1e-9)
    if np.any(broken):
        refuse("cycle", cycle, broken, "rad", "whole turns of 2 pi", source="derived")


def _within_a_turn(angles: Array) -> Array:
    within = np.mod(angles, TURN)
    # A float a hair below nought would else come out as a hair below a whole turn.
    return np.asarray(np.where(TURN - within < 1e-12, 0.0, within))


def _nearest(angles: Array) -> Array:
    """The same direction, from more than minus half a turn up to half a turn."""
    return np.asarray(np.pi - np.mod(np.pi - angles, TURN))
