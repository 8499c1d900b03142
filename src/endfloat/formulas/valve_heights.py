"""What a recut seat does above the head: stem, spring, clearance or plunger, and what to do about all together."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from endfloat.formulas.bounds import Number, require


class BucketFit(NamedTuple):
    """A valve under a bucket with a shim, after its seat was cut."""

    stem_height: Number
    spring_height: Number
    spring_shim: Number
    seat_load_change: Number
    tappet_shim: Number


class HydraulicFit(NamedTuple):
    """A valve under a hydraulic element, after its seat was cut."""

    stem_height: Number
    spring_height: Number
    spring_shim: Number
    seat_load_change: Number
    plunger: Number


class RiseLeft(NamedTuple):
    """How much deeper a seat may go, and what stops it."""

    rise: Number
    by_stem: Number
    by_tappet: Number
    by_tip: Number


def least_tip_grind(
    *,
    tip_rise: Number,
    stem_height: Number,
    stem_limit: Number,
    tappet_room: Number,
    travel_ratio: Number,
) -> Number:
    """The least to grind off a stem's tip so that its height and its tappet come right together.

    Stem height, plunger and shim all rest on the same rise: one grind answers to the harder of the two demands.

    Parameters
    ----------
    tip_rise : Number
        rise of the tip by seat and face [m]
    stem_height : Number
        height of the tip before the work [m]
    stem_limit : Number
        greatest height by the book [m]
    tappet_room : Number
        what the tappet can take up before the work: plunger travel left, or the shim to be fitted less the thinnest
        there is [m]
    travel_ratio : Number
        travel of the tappet for tip rise: one for a bucket; see `followers.finger_travel_ratio` [1]

    Returns
    -------
    result : Number
        least grind of the tip; nought when none is needed [m]

    Raises
    ------
    OutOfRange
        If ``stem_height <= 0``, ``stem_limit <= 0`` or ``travel_ratio <= 0``.

    Notes
    -----
    Valid for: grinds within the book's tip limit; a greater one asks for a seat insert or a shorter valve.
    No published value: a linear programme gives the same, in the tests.

    References
    ----------
    .. [1] derived.

    Examples
    --------
    >>> book = dict(stem_height=0.0372, stem_limit=0.0375, tappet_room=0.0003, travel_ratio=1.0)
    >>> round(float(least_tip_grind(tip_rise=0.00045, **book)), 6)
    0.00015
    """
    require("tip_rise", tip_rise, "m", source="derived")
    require("stem_height", stem_height, "m", above=0, source="derived")
    require("stem_limit", stem_limit, "m", above=0, source="derived")
    require("tappet_room", tappet_room, "m", source="derived")
    require("travel_ratio", travel_ratio, "1", above=0, source="derived")
    over = np.maximum(stem_height + tip_rise - stem_limit, tip_rise - tappet_room / travel_ratio)
    return np.maximum(over, 0.0)[()]


def rise_left(
    *, stem_height: Number, stem_limit: Number, tappet_room: Number, travel_ratio: Number, tip_stock: Number
) -> RiseLeft:
    """How much a valve's tip may still come up, and which limit is met first.

    Ask before the seat is cut, not after: what comes off a seat does not go back on.

    Parameters
    ----------
    stem_height : Number
        height of the tip as it is [m]
    stem_limit : Number
        greatest height by the book [m]
    tappet_room : Number
        what the tappet can take up: plunger travel left, or the shim to be fitted less the thinnest there is [m]
    travel_ratio : Number
        travel of the tappet for tip rise, one for a bucket [1]
    tip_stock : Number
        what the book lets be ground off the tip [m]

    Returns
    -------
    rise : Number
        rise that is left, with the tip ground as far as allowed; negative when a limit is passed already [m]
    by_stem : Number
        room under the height limit, the tip not ground [m]
    by_tappet : Number
        room in the tappet as rise of the tip, the tip not ground [m]
    by_tip : Number
        what grinding the tip adds to either [m]

    Raises
    ------
    OutOfRange
        If ``stem_height <= 0``, ``stem_limit <= 0``, ``travel_ratio <= 0`` or ``tip_stock < 0``.

    Notes
    -----
    No published value: the least grind at this rise is the tip stock, in the tests.

    References
    ----------
    .. [1] derived.

    Examples
    --------
    >>> book = dict(stem_height=0.0372, stem_limit=0.0375, tappet_room=0.0002, travel_ratio=1.0)
    >>> round(float(rise_left(tip_stock=0.0001, **book).rise), 6)
    0.0003
    """
    require("stem_height", stem_height, "m", above=0, source="derived")
    require("stem_limit", stem_limit, "m", above=0, source="derived")
    require("tappet_room", tappet_room, "m", source="derived")
    require("travel_ratio", travel_ratio, "1", above=0, source="derived")
    require("tip_stock", tip_stock, "m", at_least=0, source="derived")
    by_stem, by_tappet = stem_limit - stem_height, tappet_room / travel_ratio
    return RiseLeft((np.minimum(by_stem, by_tappet) + tip_stock)[()], by_stem, by_tappet, tip_stock)


def bucket_after_cut(
    *,
    tip_rise: Number,
    tip_grind: Number,
    stem_height: Number,
    spring_height: Number,
    wanted_spring_height: Number,
    spring_rate: Number,
    tappet_shim: Number,
    lash: Number,
    wanted_lash: Number,
) -> BucketFit:
    """Stem, spring and shim of a valve under a bucket after its seat was cut and its tip ground, all at once.

    The rise closes the clearance and lets the spring grow longer; the grind opens the clearance and leaves the
    spring alone.

    Parameters
    ----------
    tip_rise : Number
        rise of the tip by seat and face [m]
    tip_grind : Number
        ground off the tip [m]
    stem_height : Number
        height of the tip before [m]
    spring_height : Number
        installed height of the spring before [m]
    wanted_spring_height : Number
        installed height by the book [m]
    spring_rate : Number
        rate of the spring [N/m]
    tappet_shim : Number
        shim that was fitted when the clearance was read [m]
    lash : Number
        clearance as read before the cut [m]
    wanted_lash : Number
        clearance by the book [m]

    Returns
    -------
    stem_height : Number
        height of the tip after [m]
    spring_height : Number
        installed height after, without a shim [m]
    spring_shim : Number
        shim under the spring that brings it back to the book; negative when it sits too low [m]
    seat_load_change : Number
        change of the load at the seat without that shim [N]
    tappet_shim : Number
        shim needed under the bucket [m]

    Raises
    ------
    OutOfRange
        If ``tip_grind < 0``, ``stem_height <= 0``, ``spring_height <= 0``, ``wanted_spring_height <= 0``,
        ``spring_rate <= 0``, ``tappet_shim < 0`` or ``wanted_lash < 0``.

    Notes
    -----
    Valid for: cam and valve in the same head; a skim of the head changes none of this.
    No published value: sums of lengths; both ways round must agree, in the tests.

    References
    ----------
    .. [1] derived.

    Examples
    --------
    >>> before = dict(stem_height=0.0372, spring_height=0.0360, wanted_spring_height=0.0360, spring_rate=30000.0)
    >>> clearance = dict(tappet_shim=0.00265, lash=0.00025, wanted_lash=0.00025)
    >>> found = bucket_after_cut(tip_rise=0.0002, tip_grind=0.0, **before, **clearance)
    >>> round(found.tappet_shim, 6), round(found.spring_shim, 6), round(found.seat_load_change, 3)
    (0.00245, 0.0002, -6.0)
    """
    _check(tip_rise, tip_grind, stem_height, spring_height, wanted_spring_height, spring_rate)
    require("tappet_shim", tappet_shim, "m", at_least=0, source="derived")
    require("lash", lash, "m", source="derived")
    require("wanted_lash", wanted_lash, "m", at_least=0, source="derived")
    after = spring_height + tip_rise
    shim = tappet_shim + lash - tip_rise + tip_grind - wanted_lash
    stem = stem_height + tip_rise - tip_grind
    return BucketFit(stem, after, after - wanted_spring_height, -spring_rate * tip_rise, shim)


def hydraulic_after_cut(
    *,
    tip_rise: Number,
    tip_grind: Number,
    stem_height: Number,
    spring_height: Number,
    wanted_spring_height: Number,
    spring_rate: Number,
    plunger: Number,
    travel_ratio: Number,
) -> HydraulicFit:
    """Stem, spring and plunger of a valve with a hydraulic element after its seat was cut and its tip ground.

    A plunger pressed to its stop holds the valve open when hot: the fault comes back weeks after the seat work.

    Parameters
    ----------
    tip_rise : Number
        rise of the tip by seat and face [m]
    tip_grind : Number
        ground off the tip [m]
    stem_height : Number
        height of the tip before [m]
    spring_height : Number
        installed height of the spring before [m]
    wanted_spring_height : Number
        installed height by the book [m]
    spring_rate : Number
        rate of the spring [N/m]
    plunger : Number
        travel of the plunger used before, from its outer stop, on the base circle [m]
    travel_ratio : Number
        travel of the plunger for tip rise: one for a bucket, one over the rocker ratio for a pushrod; see
        `followers.finger_travel_ratio` for a finger [1]

    Returns
    -------
    stem_height : Number
        height of the tip after [m]
    spring_height : Number
        installed height after, without a shim [m]
    spring_shim : Number
        shim under the spring that brings it back to the book; negative when it sits too low [m]
    seat_load_change : Number
        change of the load at the seat without that shim [N]
    plunger : Number
        travel of the plunger used after [m]

    Raises
    ------
    OutOfRange
        If ``tip_grind < 0``, ``stem_height <= 0``, ``spring_height <= 0``, ``wanted_spring_height <= 0``,
        ``spring_rate <= 0`` or ``travel_ratio <= 0``.

    Notes
    -----
    No published value: sums of lengths.

    References
    ----------
    .. [1] derived.

    Examples
    --------
    >>> before = dict(stem_height=0.0372, spring_height=0.0360, wanted_spring_height=0.0360, spring_rate=30000.0)
    >>> found = hydraulic_after_cut(tip_rise=0.0004, tip_grind=0.0001, plunger=0.0012, travel_ratio=1.125, **before)
    >>> round(found.plunger, 7), round(found.stem_height, 6)
    (0.0015375, 0.0375)
    """
    _check(tip_rise, tip_grind, stem_height, spring_height, wanted_spring_height, spring_rate)
    require("plunger", plunger, "m", source="derived")
    require("travel_ratio", travel_ratio, "1", above=0, source="derived")
    after, up = spring_height + tip_rise, tip_rise - tip_grind
    change = -spring_rate * tip_rise
    return HydraulicFit(stem_height + up, after, after - wanted_spring_height, change, plunger + travel_ratio * up)


def _check(
    tip_rise: Number,
    tip_grind: Number,
    stem_height: Number,
    spring_height: Number,
    wanted_spring_height: Number,
    spring_rate: Number,
) -> None:
    require("tip_rise", tip_rise, "m", source="derived")
    require("tip_grind", tip_grind, "m", at_least=0, source="derived")
    require("stem_height", stem_height, "m", above=0, source="derived")
    require("spring_height", spring_height, "m", above=0, source="derived")
    require("wanted_spring_height", wanted_spring_height, "m", above=0, source="derived")
    require("spring_rate", spring_rate, "N/m", above=0, source="derived")
