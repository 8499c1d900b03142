"""Neighbours in a bolt pattern: how pulling one bolt slackens another, and what to aim at so that all end alike."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from endfloat.errors import OutOfRange
from endfloat.formulas.bounds import refuse, require

Number = float | NDArray[np.float64]
Array = NDArray[np.float64]

_STANDINGS = ("measured", "illustrative")


class PatternLoads(NamedTuple):
    """Loads of the bolts of a pattern, and whether its interaction was measured."""

    loads: Array
    standing: str


class PatternTargets(NamedTuple):
    """What to pull each bolt to on its turn, and whether the interaction was measured."""

    targets: Array
    standing: str


def after_pass(*, interaction: Array, order: Array, present: Array, targets: Array, standing: str) -> PatternLoads:
    r"""Loads of all bolts after one pass in which each, on its turn, is pulled to its target.

    What a bolt has when the wrench clicks is not what it keeps: a neighbour pulled later takes some away. Without
    measured coefficients the figures only show how it goes; they are no clamp loads to work by, and say so.

    .. math:: F_i \leftarrow \max(0,\ F_i + A_{ij}\,(T_j - F_j))\quad\text{for each } j
        \text{ in order and each } i \text{ with } F_i > 0

    Parameters
    ----------
    interaction : Array
        change of load of bolt i for each unit added on bolt j, rows i, columns j, ones on the diagonal, :math:`A` [1]
    order : Array
        numbers of the bolts in their order of pulling, from 1 [1]
    present : Array
        load of each bolt before the pass, by number; noughts for the first [N]
    targets : Array
        load to which each bolt is pulled on its turn, by number, :math:`T` [N]
    standing : str
        measured or illustrative: where the coefficients come from [word]

    Returns
    -------
    loads : Array
        load of each bolt after the pass, by number, :math:`F` [N]
    standing : str
        measured or illustrative, as given [word]

    Raises
    ------
    OutOfRange
        If ``present < 0`` or ``targets < 0``; if the matrix is not square with ones on its diagonal, the order does
        not name each bolt once, or the standing is not known.

    Notes
    -----
    Assumes: straight springs; gaskets and bolts past yield do not add up like this. A slack bolt stays slack until
    its turn, and no bolt pushes.
    No published value: published tests give no numbers in reach; the tests pull the bolts one by one.

    References
    ----------
    .. [1] derived, superposition of elastic joints.

    Examples
    --------
    >>> pair = np.array([[1.0, -0.2], [-0.2, 1.0]])
    >>> state = dict(order=np.array([1.0, 2.0]), present=np.zeros(2), standing="illustrative")
    >>> after_pass(interaction=pair, targets=np.array([30e3, 30e3]), **state).loads
    array([24000., 30000.])
    """
    turns = _check(interaction, order, standing)
    require("present", present, "N", at_least=0, source="derived")
    require("targets", targets, "N", at_least=0, source="derived")
    shape = np.broadcast_shapes(np.shape(present), np.shape(targets), np.shape(interaction)[:-1])
    loads, aims = np.array(np.broadcast_to(present, shape), dtype=float), np.broadcast_to(targets, shape)
    for turn in turns:
        added = aims[..., turn] - loads[..., turn]
        changed = np.maximum(loads + interaction[..., :, turn] * added[..., None], 0.0)
        loads = np.where(loads > 0, changed, 0.0)
        loads[..., turn] = aims[..., turn]
    return PatternLoads(loads=loads, standing=standing)


def targets_for_even_load(*, interaction: Array, order: Array, load: Number, standing: str) -> PatternTargets:
    r"""What to pull each bolt to, in one pass from slack, so that all end with one load.

    Early bolts are pulled higher, to lose it again. With a pattern of your own measured, this saves passes; without,
    it shows why the order alone does not even out a head, and extra passes at full value do.

    .. math:: T_i + \sum_{j \text{ after } i} A_{ij} T_j = F

    Parameters
    ----------
    interaction : Array
        change of load of bolt i for each unit added on bolt j, rows i, columns j, ones on the diagonal, :math:`A` [1]
    order : Array
        numbers of the bolts in their order of pulling, from 1 [1]
    load : Number
        load that all shall end with, :math:`F` [N]
    standing : str
        measured or illustrative: where the coefficients come from [word]

    Returns
    -------
    targets : Array
        load to which each bolt is pulled on its turn, by number, :math:`T` [N]
    standing : str
        measured or illustrative, as given [word]

    Raises
    ------
    OutOfRange
        If ``load <= 0``; if the matrix is not square with ones on its diagonal, a load would fall to nought on the
        way, the order does not name each bolt once, or the standing is not known.

    Notes
    -----
    Assumes: straight springs; the highest target must stay under the yield, see tightening.yield_limited_preload.
    No published value: published tests give no numbers in reach; `after_pass` must end even in the tests.

    References
    ----------
    .. [1] derived, superposition of elastic joints.

    Examples
    --------
    >>> pair, order = np.array([[1.0, -0.2], [-0.2, 1.0]]), np.array([1.0, 2.0])
    >>> targets_for_even_load(interaction=pair, order=order, load=30e3, standing="illustrative").targets
    array([36000., 30000.])
    """
    turns = _check(interaction, order, standing)
    require("load", load, "N", above=0, source="derived")
    place = np.argsort(turns)
    later = np.where(place[None, :] >= place[:, None], interaction, 0.0)
    ones = np.ones((*np.shape(interaction)[:-1], 1))
    targets = np.asarray(load)[..., None] * np.linalg.solve(later, ones)[..., 0]
    reached = after_pass(
        interaction=interaction,
        order=order,
        present=np.zeros(len(turns)),
        targets=np.maximum(targets, 0.0),
        standing=standing,
    ).loads
    uneven = np.asarray(np.any(np.abs(reached / np.asarray(load)[..., None] - 1) > 1e-6, axis=-1))
    if uneven.any():
        expected = "coefficients so small that every load stays above 0 all through the pass"
        refuse("interaction", np.max(np.abs(interaction)), uneven, "1", expected, source="derived")
    return PatternTargets(targets=targets, standing=standing)


def evenness(*, loads: Array) -> Number:
    """Least over greatest load of a pattern: 1 when all are alike.

    Parameters
    ----------
    loads : Array
        load of each bolt, along the last axis [N]

    Returns
    -------
    result : Number
        least load over greatest load [1]

    Raises
    ------
    OutOfRange
        If ``loads < 0``, or if all are nought.

    Notes
    -----
    No published value: a ratio.

    References
    ----------
    .. [1] definition.

    Examples
    --------
    >>> evenness(loads=np.array([24e3, 30e3]))
    0.8
    """
    require("loads", loads, "N", at_least=0)
    greatest = np.max(loads, axis=-1)
    if np.any(none := np.asarray(greatest <= 0)):
        refuse("loads", greatest, none, "N", "a greatest load above 0", source="definition")
    result: Number = np.min(loads, axis=-1) / greatest
    return result


def _check(interaction: Array, order: Array, standing: str) -> list[int]:
    """The bolts in their order, counted from nought."""
    if standing not in _STANDINGS:
        known = " or ".join(_STANDINGS)
        raise OutOfRange(name="standing", value=standing, expected=known, unit="word", source="derived")
    require("interaction", interaction, "1", source="derived")
    require("order", order, "1", source="derived")
    rows, columns = np.shape(interaction)[-2:]
    ones = np.abs(np.diagonal(interaction, axis1=-2, axis2=-1) - 1) > 1e-9 if rows == columns else np.asarray(True)
    if ones.any():
        refuse("interaction", 0.0, np.asarray(True), "1", "a square table with 1 on its diagonal", source="derived")
    turns = [round(float(each)) - 1 for each in order]
    if sorted(turns) != list(range(rows)) or np.any(np.asarray(order) != np.round(order)):
        expected = f"the numbers 1 to {rows}, each once"
        raise OutOfRange(name="order", value=list(order), expected=expected, unit="1", source="derived")
    return turns
