"""Scatter of preloads: by the way of tightening, and by tests of your own."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from endfloat.errors import OutOfRange
from endfloat.formulas.bounds import refuse, require

Number = float | NDArray[np.float64]
Array = NDArray[np.float64]

_METHODS = {
    # method: source, lowest and highest scatter either way
    "yield controlled": ("tr-fastenings", 0.05, 0.12),
    "torque and angle": ("tr-fastenings", 0.05, 0.12),
    "hydraulic": ("tr-fastenings", 0.09, 0.23),
    "torque wrench, torque found by tests": ("tr-fastenings", 0.17, 0.23),
    "torque wrench, friction estimated": ("tr-fastenings", 0.23, 0.28),
    "power screwdriver": ("tr-fastenings", 0.26, 0.43),
    "feel": ("machinerys-handbook", 0.35, 0.35),
    "load-indicating washer": ("machinerys-handbook", 0.10, 0.10),
    "elongation measured": ("machinerys-handbook", 0.03, 0.05),
    "torque wrench, oiled": ("nasa-std-5020b", 0.25, 0.25),
    "torque wrench, dry": ("nasa-std-5020b", 0.35, 0.35),
}


class MethodScatter(NamedTuple):
    """Scatter of the preload of a method, either way, in good and in poor hands."""

    lowest: float
    highest: float


class LoadInterval(NamedTuple):
    """Lowest and highest preload."""

    lowest: Number
    highest: Number


class TestedScatter(NamedTuple):
    """What preloads of equal tightenings say of the scatter."""

    mean: Number
    deviation: Number
    scatter: Number


def method_scatter(*, method: str) -> MethodScatter:
    """Scatter of the preload by the way a bolt is tightened, either way of the middle.

    Why a head bolt is pulled by angle past its yield: its scatter is less than half of that of a torque wrench.

    Parameters
    ----------
    method : str
        such as `torque wrench, friction estimated` or `torque and angle` [word]

    Returns
    -------
    lowest : float
        scatter either way in good hands, as a share [1]
    highest : float
        scatter either way in poor hands, as a share [1]

    Raises
    ------
    OutOfRange
        If the method is not in the table.

    Notes
    -----
    Differs from source: the handbooks do not agree; 25 per cent for a wrench on oiled bolts stands beside 23 to 28.

    References
    ----------
    .. [1] tr-fastenings, table of tightening methods.
    .. [2] machinerys-handbook, accuracy of preload methods.
    .. [3] nasa-std-5020b, table 3.

    Examples
    --------
    >>> method_scatter(method="torque wrench, friction estimated").highest
    0.28
    """
    if method not in _METHODS:
        known = "; ".join(_METHODS)
        raise OutOfRange(name="method", value=method, expected=known, unit="word", source="tr-fastenings")
    return MethodScatter(*_METHODS[method][1:])


def tightening_factor(*, scatter: Number) -> Number:
    r"""Highest over lowest preload of a scatter either way, as the German guideline counts it.

    .. math:: \alpha_A = \frac{F_{max}}{F_{min}} = \frac{1 + x}{1 - x}

    Parameters
    ----------
    scatter : Number
        scatter either way as a share, :math:`x` [1]

    Returns
    -------
    result : Number
        tightening factor, :math:`\alpha_A` [1]

    Raises
    ------
    OutOfRange
        If ``scatter < 0`` or ``scatter >= 1``.

    Notes
    -----
    Assumes: the middle lies half way between the ends.

    References
    ----------
    .. [1] vdi-2230, tightening factor.

    Examples
    --------
    >>> round(tightening_factor(scatter=0.23), 1)
    1.6
    """
    require("scatter", scatter, "1", at_least=0, below=1, source="vdi-2230")
    return (1 + scatter) / (1 - np.asarray(scatter))


def least_preload(*, highest: Number, factor: Number) -> Number:
    r"""Lowest preload to reckon with when the highest is held under the yield.

    Bolts are chosen by their highest preload; what the joint can count on is this.

    .. math:: F_{min} = \frac{F_{max}}{\alpha_A}

    Parameters
    ----------
    highest : Number
        highest preload, :math:`F_{max}` [N]
    factor : Number
        tightening factor, :math:`\alpha_A` [1]

    Returns
    -------
    result : Number
        lowest preload, :math:`F_{min}` [N]

    Raises
    ------
    OutOfRange
        If ``highest < 0`` or ``factor < 1``.

    Notes
    -----
    Valid for: a preload just after tightening; losses come on top, see clamp.embedding_loss.

    References
    ----------
    .. [1] vdi-2230, tightening factor.

    Examples
    --------
    >>> round(least_preload(highest=41.9e3, factor=1.8) / 1e3, 1)
    23.3
    """
    require("highest", highest, "N", at_least=0, source="vdi-2230")
    require("factor", factor, "1", at_least=1, source="vdi-2230")
    return highest / np.asarray(factor)


def interval(*, nominal: Number, scatter: Number) -> LoadInterval:
    """Lowest and highest preload from a middle one and a scatter either way.

    Parameters
    ----------
    nominal : Number
        middle preload [N]
    scatter : Number
        scatter either way as a share [1]

    Returns
    -------
    lowest : Number
        lowest preload [N]
    highest : Number
        highest preload [N]

    Raises
    ------
    OutOfRange
        If ``nominal < 0``, ``scatter < 0`` or ``scatter >= 1``.

    Notes
    -----
    No published value: an identity; a published report gives its inputs only.

    References
    ----------
    .. [1] definition, share of the middle either way.

    Examples
    --------
    >>> [round(float(each)) for each in interval(nominal=30e3, scatter=0.25)]
    [22500, 37500]
    """
    require("nominal", nominal, "N", at_least=0)
    require("scatter", scatter, "1", at_least=0, below=1)
    return LoadInterval(lowest=nominal * (1 - np.asarray(scatter)), highest=nominal * (1 + np.asarray(scatter)))


def of_tests(*, preloads: Array) -> TestedScatter:
    """Mean, standard deviation and scatter of preloads that were measured on equal tightenings.

    Ten of your own bolts on a load washer tell more than any table.

    Parameters
    ----------
    preloads : Array
        measured preloads, along the last axis [N]

    Returns
    -------
    mean : Number
        mean [N]
    deviation : Number
        standard deviation (n - 1) [N]
    scatter : Number
        two standard deviations as a share of the mean [1]

    Raises
    ------
    OutOfRange
        If ``preloads <= 0``, or if there is but one.

    Notes
    -----
    Assumes: normal spread; two deviations hold 95 in 100 bolts of a large number, fewer of a handful.

    References
    ----------
    .. [1] shigley-9, table 8-13, p. 438.

    Examples
    --------
    >>> round(of_tests(preloads=np.array([23.6e3, 30.3e3, 35.6e3, 42.7e3])).deviation)
    8093
    """
    require("preloads", preloads, "N", above=0, source="shigley-9")
    if np.shape(preloads)[-1] < 2:
        refuse("preloads", preloads, np.ones_like(preloads, dtype=bool), "N", "at least 2 of them", source="shigley-9")
    mean, deviation = np.mean(preloads, axis=-1), np.std(preloads, axis=-1, ddof=1)
    return TestedScatter(mean=mean, deviation=deviation, scatter=2 * deviation / mean)
