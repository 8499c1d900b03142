"""Counting links: how many a drive needs, where its marks lie, and when they meet again."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import refuse, require

Array = NDArray[np.float64]
Number = float | Array


class MarkedLinks(NamedTuple):
    """Places of the coloured links of a chain, and its links in all."""

    place: Array
    links: Number


def links_needed(*, pitches: Number) -> Number:
    """Links of the shortest chain that goes on: the next even number, as inner and outer links alternate.

    Use it on the pitches of `chain_loop.loop_pitches`; what is too much is left to the tensioner.

    .. math:: X = 2 \\lceil n / 2 \\rceil

    Parameters
    ----------
    pitches : Number
        pitches of the loop with the tensioner drawn back, :math:`n` [1]

    Returns
    -------
    result : Number
        links, an even number, :math:`X` [1]

    Raises
    ------
    OutOfRange
        If ``pitches <= 0``.

    Notes
    -----
    Valid for: roller and bush chains without a cranked link; a silent chain may have any number its maker builds.

    References
    ----------
    .. [1] practice, chains have an even number of links.
    .. [2] machine-elements, examples 14.3 and 14.4.

    Examples
    --------
    >>> float(links_needed(pitches=138.263))
    140.0
    """
    require("pitches", pitches, "1", above=0, source="practice")
    result: Number = 2 * np.ceil(np.asarray(pitches) / 2)
    return result


def odd_link(*, links: Number) -> Number:
    """Whether a count of links is odd: nought when it is even, one when it is odd.

    Use it on a whole chain (an odd one has a cranked link, or was counted wrongly) and on the links from one coloured
    plate to the next (an odd count joins an outer plate to an inner one).

    .. math:: X \\bmod 2

    Parameters
    ----------
    links : Number
        links counted, :math:`X` [1]

    Returns
    -------
    result : Number
        nought or one [1]

    Raises
    ------
    OutOfRange
        If ``links < 1``, or if it is not a whole number.

    Notes
    -----
    No published value: an identity.

    References
    ----------
    .. [1] practice, inner and outer links alternate.

    Examples
    --------
    >>> float(odd_link(links=128.0))
    0.0
    """
    _whole("links", links, "practice")
    result: Number = np.asarray(links, dtype=np.float64) % 2
    return result


def marked_links(*, between: Array) -> MarkedLinks:
    """Where the coloured links lie, and how many links the chain has, from the links counted between them.

    Use it before a chain without colour is painted, and to check a count: the last one closes the round.

    .. math:: n_1 = 1, \\quad n_{k+1} = n_k + b_k + 1, \\quad X = \\sum_k (b_k + 1)

    Parameters
    ----------
    between : Array
        plain links from each coloured link to the next, round the whole chain, along the last axis, :math:`b` [1]

    Returns
    -------
    place : Array
        number of each coloured link, counted from one at the first, :math:`n` [1]
    links : Number
        links of the chain, :math:`X` [1]

    Raises
    ------
    OutOfRange
        If ``between < 0``, or if it is not a whole number.

    References
    ----------
    .. [1] definition, counting.

    Examples
    --------
    >>> marked_links(between=np.array([27.0, 12.0, 30.0]))
    MarkedLinks(place=array([ 1., 29., 42.]), links=72.0)
    """
    require("between", between, "1", at_least=0)
    _whole("between", np.asarray(between) + 1, "definition")
    steps = np.asarray(between, dtype=np.float64) + 1
    return MarkedLinks(np.cumsum(steps, axis=-1) - steps + 1, np.sum(steps, axis=-1))


def turns_until_links_meet(*, links: Number, teeth: Array) -> Number:
    """Turns of the crank until every coloured link is on its mark again.

    Use it before two turns by hand: a chain or belt that is not a whole number of its turns long brings the marks of
    the wheels back after two turns, but not the coloured links.

    .. math:: T = \\mathrm{lcm}(X, z_1, z_2, \\ldots) / z_1

    Parameters
    ----------
    links : Number
        links of the chain, or teeth of the belt, :math:`X` [1]
    teeth : Array
        teeth of the wheels along the last axis, that of the crank first, :math:`z` [1]

    Returns
    -------
    result : Number
        turns of the crank, :math:`T` [1]

    Raises
    ------
    OutOfRange
        If ``links < 1`` or ``teeth < 1``, or if one is not a whole number.

    Notes
    -----
    No published value: an identity of whole numbers; a count by brute force agrees.

    References
    ----------
    .. [1] derived, least common multiple.

    Examples
    --------
    >>> float(turns_until_links_meet(links=128.0, teeth=np.array([21.0, 42.0])))
    128.0
    """
    _whole("links", links, "derived")
    _whole("teeth", teeth, "derived")
    # Whole numbers of Python do not overflow, and a drive of many unlike wheels has a large common multiple.
    wheels = np.atleast_1d(np.asarray(teeth)).astype(np.int64).astype(object)
    strand = np.asarray(links).astype(np.int64).astype(object)
    met = np.lcm(strand, np.lcm.reduce(wheels, axis=-1))
    result: Number = np.asarray(met // wheels[..., 0], dtype=np.float64)
    return result


def _whole(name: str, value: Number, source: str) -> None:
    require(name, value, "1", at_least=1, source=source)
    broken = np.asarray(value) % 1 != 0
    if np.any(broken):
        refuse(name, value, broken, "1", "a whole number", source=source)
