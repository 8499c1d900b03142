"""Valve lash and the choice of shims: what is needed, what it will read, and which shims go where."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import linear_sum_assignment

from endfloat.errors import OutOfRange
from endfloat.formulas.bounds import Number, refuse, require

Array = NDArray[np.float64]
SAME = 1e-9
"""Metres within which a clearance counts as on its limit: sums of binary floats differ by less."""


class StockShim(NamedTuple):
    """The shim of a stock that comes nearest, and what the clearance will be with it."""

    shim: Number
    lash: Number


class SwapPlan(NamedTuple):
    """For each place a shim, where it comes from, and the clearance it gives; and how many are bought."""

    shim: Array
    taken_from: Array
    lash: Array
    bought: Number
    moved: Number


def shim_needed(*, fitted: Number, lash: Number, wanted_lash: Number) -> Number:
    """Shim that gives the wanted clearance: the one in there, plus what was read, less what is wanted.

    .. math:: N = T + (A - V)

    Parameters
    ----------
    fitted : Number
        shim in place while the clearance was read, measured and not read off its stamp, :math:`T` [m]
    lash : Number
        clearance as read, :math:`A` [m]
    wanted_lash : Number
        clearance wanted, :math:`V` [m]

    Returns
    -------
    result : Number
        shim needed, :math:`N` [m]

    Raises
    ------
    OutOfRange
        If ``fitted < 0``, ``lash < 0`` or ``wanted_lash < 0``.

    Notes
    -----
    Valid for: a shim between cam and valve, with nothing that multiplies; buckets graded by thickness are the same.
    Assumes: the base circle at the tappet when it was read. A clearance that reads nought may be less than
    nought: fit a thinner shim and read again.

    References
    ----------
    .. [1] rm1046e, p. 14-19.

    Examples
    --------
    >>> round(shim_needed(fitted=0.00260, lash=0.00024, wanted_lash=0.00020), 6)
    0.00264
    """
    require("fitted", fitted, "m", at_least=0, source="rm1046e")
    require("lash", lash, "m", at_least=0, source="rm1046e")
    require("wanted_lash", wanted_lash, "m", at_least=0, source="rm1046e")
    return fitted + lash - wanted_lash


def lash_with(*, fitted: Number, lash: Number, shim: Number) -> Number:
    """What the clearance will read with another shim: say it before it is fitted, and a wrong sign shows itself.

    Parameters
    ----------
    fitted : Number
        shim in place while the clearance was read [m]
    lash : Number
        clearance as read [m]
    shim : Number
        shim to be fitted [m]

    Returns
    -------
    result : Number
        clearance with it, negative when the valve would stay open [m]

    Raises
    ------
    OutOfRange
        If ``fitted < 0``, ``lash < 0`` or ``shim < 0``.

    Notes
    -----
    No published value: the way back of `shim_needed`.

    References
    ----------
    .. [1] definition.

    Examples
    --------
    >>> round(lash_with(fitted=0.00260, lash=0.00024, shim=0.00265), 6)
    0.00019
    """
    require("fitted", fitted, "m", at_least=0)
    require("lash", lash, "m", at_least=0)
    require("shim", shim, "m", at_least=0)
    return lash + fitted - shim


def nearest_in_stock(*, needed: Number, wanted_lash: Number, sizes: Array) -> StockShim:
    """The thickness of a stock that comes nearest to the shim needed, and the clearance it will give.

    Of two as near the thinner is taken: more clearance does less harm than less.

    Parameters
    ----------
    needed : Number
        shim needed [m]
    wanted_lash : Number
        clearance for which it is needed [m]
    sizes : Array
        thicknesses to be had [m]

    Returns
    -------
    shim : Number
        thickness taken [m]
    lash : Number
        clearance with it [m]

    Raises
    ------
    OutOfRange
        If ``needed < 0``, ``wanted_lash < 0`` or ``sizes < 0``, or there is no size.

    Notes
    -----
    Valid for: a choice; whether the clearance holds is for its limits to say.
    No published value: the least distance, by brute force in the tests.

    References
    ----------
    .. [1] derived, least distance.

    Examples
    --------
    >>> found = nearest_in_stock(needed=0.00247, wanted_lash=0.00025, sizes=np.array([0.0024, 0.00245, 0.0025]))
    >>> round(float(found.shim), 6), round(float(found.lash), 6)
    (0.00245, 0.00027)
    """
    require("needed", needed, "m", at_least=0, source="derived")
    require("wanted_lash", wanted_lash, "m", at_least=0, source="derived")
    stock = _row("sizes", sizes)
    if not len(stock):
        raise OutOfRange(name="sizes", value=0, expected="at least 1 size", unit="m", source="derived")
    away = np.abs(stock - np.asarray(needed)[..., None])
    # Within a nanometre they are as near: the sizes rise, so the first is the thinner.
    nearest = np.argmax(away <= np.min(away, axis=-1, keepdims=True) + SAME, axis=-1)
    return StockShim(stock[nearest][()], (wanted_lash + needed - stock[nearest])[()])


def swap_plan(*, fitted: Array, lash: Array, low: Array, high: Array, loose: Array, sizes: Array) -> SwapPlan:
    """Which shim goes where, so that every clearance is within its limits and the fewest shims are bought.

    Shims that lie in the head already are used again first. Of the plans that buy fewest, one that moves fewest is
    taken, and of those the one whose clearances lie nearest to the middle of their limits. The proof is that of the
    assignment problem: no other exchange does better.

    Parameters
    ----------
    fitted : Array
        shim in each place [m]
    lash : Array
        clearance as read in each place [m]
    low : Array
        least clearance allowed in each place [m]
    high : Array
        greatest clearance allowed in each place [m]
    loose : Array
        shims that lie loose on the bench, each there once; may be empty [m]
    sizes : Array
        thicknesses that can be bought, as many of each as needed; may be empty [m]

    Returns
    -------
    shim : Array
        shim for each place [m]
    taken_from : Array
        place it lies in now, counted from nought; loose ones are counted on; -1 when it is bought [1]
    lash : Array
        clearance it gives [m]
    bought : Number
        how many are bought [1]
    moved : Number
        how many places get another shim than they have [1]

    Raises
    ------
    OutOfRange
        If ``fitted < 0``, ``lash < 0``, ``low < 0``, ``high < 0``, ``loose < 0`` or ``sizes < 0``; if there are
        not as many clearances as shims, a limit is crossed, or a place can have no shim that holds it.

    Notes
    -----
    Valid for: shims as measured; a clearance on its limit counts as within, so look at those by hand.
    No published value: every exchange tried by brute force, in the tests.

    References
    ----------
    .. [1] derived, assignment problem with costs in the order bought, moved, miss.

    Examples
    --------
    >>> found = dict(fitted=np.array([0.0026, 0.0024]), lash=np.array([0.00035, 0.00005]))
    >>> limits = dict(low=np.full(2, 0.00017), high=np.full(2, 0.00023))
    >>> plan = swap_plan(loose=np.array([0.00225]), sizes=np.array([0.0027, 0.00275]), **found, **limits)
    >>> [int(each) for each in plan.taken_from], int(plan.bought)
    ([-1, 2], 1)
    """
    shims = np.concatenate([_row("fitted", fitted, ordered=False), _row("loose", loose, ordered=False)])
    rows = [_row(name, row, ordered=False) for name, row in (("lash", lash), ("low", low), ("high", high))]
    count, stock = len(np.asarray(fitted)), _row("sizes", sizes)
    for name, row in zip(("lash", "low", "high"), rows, strict=True):
        if len(row) != count:
            raise OutOfRange(name=name, value=len(row), expected=f"{count} values, as many as shims", source="derived")
    read, least, most = rows
    if np.any(crossed := most < least):
        refuse("high", most, crossed, "m", "a limit of at least 1 low", source="derived")
    without = read + np.asarray(fitted)
    own = without[:, None] - shims
    new = without[:, None] - stock
    best = np.argmin(_miss(new, least, most), axis=1) if len(stock) else np.zeros(count, dtype=int)
    bought = new[np.arange(count), best] if len(stock) else np.full(count, np.nan)
    costs = _costs(own, bought, least, most)
    # A place without a shim costs more than all others together, so as few as can be are left without.
    beyond = 2 * float(np.max(costs, initial=1.0, where=np.isfinite(costs))) * (count + 1)
    at = np.arange(count)
    taken = linear_sum_assignment(np.where(np.isfinite(costs), costs, beyond))[1]
    if np.any(without_shim := np.isinf(costs[at, taken])):
        expected = "a clearance that 1 of the shims here or to be bought brings within its limits"
        refuse("lash", read, without_shim, "m", expected, source="derived")
    buys = taken >= len(shims)
    fit = np.where(buys, bought, own[at, np.minimum(taken, len(shims) - 1)])
    source = np.where(buys, -1.0, taken.astype(np.float64))
    return SwapPlan(without - fit, source, fit, float(np.sum(buys)), float(np.sum(source != at)))


def _costs(own: Array, bought: Array, low: Array, high: Array) -> Array:
    """Rows are places; columns are the shims there are, then one bought shim for each place."""
    count = len(low)
    # A miss is at most a half, so all together stay below one move, and all moves below one bought shim.
    move, buy = float(count + 1), float((count + 1) ** 2 * 2)
    kept = np.where(np.arange(own.shape[1]) == np.arange(count)[:, None], 0.0, move)
    new = np.full((count, count), np.inf)
    np.fill_diagonal(new, _miss(bought[:, None], low, high)[:, 0] + move + buy)
    return np.hstack([_miss(own, low, high) + kept, new])


def _miss(lash: Array, low: Array, high: Array) -> Array:
    """Distance from the middle of the limits in widths of them, infinite outside or where there is no shim."""
    middle, width = ((low + high) / 2)[:, None], np.maximum(high - low, SAME)[:, None]
    away = np.abs(lash - middle)
    return np.where(away <= (high - low)[:, None] / 2 + SAME, np.minimum(away / width, 0.5), np.inf)


def screw_turn(*, lash: Number, wanted_lash: Number, pitch: Number, rocker_ratio: Number) -> Number:
    """How far to turn the adjusting screw of a rocker so that the clearance at the valve comes right.

    .. math:: \\phi = 2\\pi\\,\\frac{A - V}{p R}

    Parameters
    ----------
    lash : Number
        clearance at the valve as read, :math:`A` [m]
    wanted_lash : Number
        clearance wanted, :math:`V` [m]
    pitch : Number
        pitch of the screw, :math:`p` [m]
    rocker_ratio : Number
        travel of the valve for travel of the screw; one with the screw over the valve, :math:`R` [1]

    Returns
    -------
    result : Number
        turn of the screw, positive inwards [rad]

    Raises
    ------
    OutOfRange
        If ``lash < 0``, ``wanted_lash < 0``, ``pitch <= 0`` or ``rocker_ratio <= 0``.

    Notes
    -----
    Accuracy: the lock nut turns the screw a little; the feeler has the last word.
    No published value: an identity of the thread.

    References
    ----------
    .. [1] definition.

    Examples
    --------
    >>> turn = screw_turn(lash=0.0004, wanted_lash=0.00025, pitch=0.001, rocker_ratio=1.5)
    >>> round(float(np.degrees(turn)), 3)
    36.0
    """
    require("lash", lash, "m", at_least=0)
    require("wanted_lash", wanted_lash, "m", at_least=0)
    require("pitch", pitch, "m", above=0)
    require("rocker_ratio", rocker_ratio, "1", above=0)
    return 2 * np.pi * (lash - wanted_lash) / (pitch * rocker_ratio)


def _row(name: str, values: Array, *, ordered: bool = True) -> Array:
    """A row of sizes, thinnest first where `ordered`."""
    row = np.atleast_1d(np.asarray(values, dtype=np.float64))
    if row.ndim != 1:
        raise OutOfRange(name=name, value=row.ndim, expected="1 row of values", unit="m")
    require(name, row, "m", at_least=0, source="derived")
    return np.sort(row) if ordered else row
