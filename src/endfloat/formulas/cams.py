"""Laws of motion that lobes are made by."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from endfloat.errors import OutOfRange
from endfloat.formulas.bounds import Number, require

Array = NDArray[np.float64]


class FollowerRise(NamedTuple):
    """Lift and its first three derivatives by the cam angle."""

    lift: Number
    slope: Number
    second: Number
    third: Number


class PeakFactors(NamedTuple):
    """Largest slope, second and third derivative of a rise of one over an angle of one."""

    velocity: float
    acceleration: float
    jerk: float


_SINE = 1 / (4 + np.pi)


def _polynomial(coefficients: tuple[float, ...], x: Array) -> list[Array]:
    shape = np.polynomial.Polynomial(coefficients)
    return [np.asarray(shape.deriv(order)(x) if order else shape(x)) for order in range(4)]


def _harmonic(x: Array) -> list[Array]:
    turn = np.pi * x
    return [
        (1 - np.cos(turn)) / 2,
        np.pi / 2 * np.sin(turn),
        np.pi**2 / 2 * np.cos(turn),
        -(np.pi**3) / 2 * np.sin(turn),
    ]


def _parabolic(x: Array) -> list[Array]:
    early, left = x < 0.5, 1 - x
    second = np.where(early, 4.0, -4.0)
    return [np.where(early, 2 * x**2, 1 - 2 * left**2), np.where(early, 4 * x, 4 * left), second, np.zeros_like(x)]


def _cycloidal(x: Array) -> list[Array]:
    turn = 2 * np.pi * x
    sine, cosine = np.sin(turn), np.cos(turn)
    return [x - sine / (2 * np.pi), 1 - cosine, 2 * np.pi * sine, 4 * np.pi**2 * cosine]


def _modified_sine(x: Array) -> list[Array]:
    middle = (x >= 1 / 8) & (x <= 7 / 8)
    constant = np.where(middle, 2.0, np.where(x < 1 / 8, 0.0, 4.0))
    turn = np.where(middle, (4 * np.pi * x + np.pi) / 3, 4 * np.pi * x)
    slow = np.where(middle, 3.0, 1.0)
    sine, cosine = np.sin(turn), np.cos(turn)
    return [
        _SINE * (constant + np.pi * x - slow**2 / 4 * sine),
        _SINE * np.pi * (1 - slow * cosine),
        _SINE * 4 * np.pi**2 * sine,
        _SINE * 16 * np.pi**3 * cosine / slow,
    ]


_LAWS = {
    "harmonic": (_harmonic, PeakFactors(np.pi / 2, np.pi**2 / 2, np.inf)),
    "parabolic": (_parabolic, PeakFactors(2.0, 4.0, np.inf)),
    "cycloidal": (_cycloidal, PeakFactors(2.0, 2 * np.pi, 4 * np.pi**2)),
    "modified sine": (_modified_sine, PeakFactors(4 * np.pi * _SINE, 4 * np.pi**2 * _SINE, 16 * np.pi**3 * _SINE)),
    "3-4-5": (lambda x: _polynomial((0, 0, 0, 10, -15, 6), x), PeakFactors(15 / 8, 10 / np.sqrt(3.0), 60.0)),
    "4-5-6-7": (
        lambda x: _polynomial((0, 0, 0, 0, 35, -84, 70, -20), x),
        PeakFactors(35 / 16, 84 * np.sqrt(5.0) / 25, 52.5),
    ),
}


def _known(law: str) -> str:
    if law not in _LAWS:
        raise OutOfRange(name="law", value=law, expected=", ".join(_LAWS), unit="word", source="cam-laws")
    return law


def follower_rise(*, law: str, angle: Number, rise: Number, rise_angle: Number) -> FollowerRise:
    """Lift of a follower that rises from one dwell to the next by a named law.

    To draw a lobe when there is no table of it, or to prove a routine. Before the rise the lift is nought, after
    it the full rise. A fall is the same curve read backwards.

    .. math:: s = h\\,f(\\theta/\\beta)

    Parameters
    ----------
    law : str
        harmonic, parabolic, cycloidal, modified sine, 3-4-5 or 4-5-6-7 [word]
    angle : Number
        cam angle since the rise began, :math:`\\theta` [rad]
    rise : Number
        full rise, :math:`h` [m]
    rise_angle : Number
        cam angle over which it rises, :math:`\\beta` [rad]

    Returns
    -------
    lift : Number
        lift, :math:`s` [m]
    slope : Number
        lift gained in one radian of the cam [m]
    second : Number
        second derivative of the lift by the cam angle [m]
    third : Number
        third derivative of the lift by the cam angle [m]

    Raises
    ------
    OutOfRange
        If ``rise < 0`` or ``rise_angle <= 0``, or the law is not known.

    Notes
    -----
    Assumes: a cam that turns evenly and a follower that stays on it.
    No published value: its peaks are published, and each derivative is integrated back by scipy in the tests.

    References
    ----------
    .. [1] cam-laws, equations of the standard rises.

    Examples
    --------
    >>> half = follower_rise(law="cycloidal", angle=0.5, rise=0.01, rise_angle=1.0)
    >>> round(float(half.lift), 6), round(float(half.slope), 6)
    (0.005, 0.02)
    """
    require("rise", rise, "m", at_least=0, source="cam-laws")
    require("rise_angle", rise_angle, "rad", above=0, source="cam-laws")
    require("angle", angle, "rad", source="cam-laws")
    shape, _ = _LAWS[_known(law)]
    x = np.asarray(angle / rise_angle, dtype=np.float64)
    on = (x >= 0) & (x <= 1)
    lift, *steeper = shape(np.clip(x, 0.0, 1.0))
    moved = [np.where(on, each, 0.0) * rise / rise_angle**order for order, each in enumerate(steeper, start=1)]
    return FollowerRise((lift * rise)[()], *(each[()] for each in moved))


def peak_factors(*, law: str) -> PeakFactors:
    """How gentle a law is: its largest velocity, acceleration and jerk for a rise of one over an angle of one.

    Parameters
    ----------
    law : str
        harmonic, parabolic, cycloidal, modified sine, 3-4-5 or 4-5-6-7 [word]

    Returns
    -------
    velocity : Number
        largest slope, :math:`C_v` [1]
    acceleration : Number
        largest second derivative, :math:`C_a` [1]
    jerk : Number
        largest third derivative, :math:`C_j`; infinite where the acceleration jumps [1]

    Raises
    ------
    OutOfRange
        If the law is not known.

    References
    ----------
    .. [1] cam-laws, extremes of the standard rises.

    Examples
    --------
    >>> [round(float(each), 3) for each in peak_factors(law="modified sine")]
    [1.76, 5.528, 69.466]
    """
    return _LAWS[_known(law)][1]


def peak_velocity(*, law: str, rise: Number, rise_angle: Number, speed: Number) -> Number:
    """Largest speed of a follower during a rise.

    .. math:: v = C_v\\,h\\,\\omega/\\beta

    Parameters
    ----------
    law : str
        harmonic, parabolic, cycloidal, modified sine, 3-4-5 or 4-5-6-7 [word]
    rise : Number
        full rise, :math:`h` [m]
    rise_angle : Number
        cam angle over which it rises, :math:`\\beta` [rad]
    speed : Number
        speed of the cam, half that of the crank of a four-stroke engine, :math:`\\omega` [rad/s]

    Returns
    -------
    result : Number
        largest speed, :math:`v` [m/s]

    Raises
    ------
    OutOfRange
        If ``rise < 0``, ``rise_angle <= 0`` or ``speed < 0``, or the law is not known.

    Notes
    -----
    No published value: the source prints accelerations; the factor is that of `peak_factors`.

    References
    ----------
    .. [1] cam-laws, extremes of the standard rises.

    Examples
    --------
    >>> round(peak_velocity(law="parabolic", rise=0.01, rise_angle=1.0, speed=100.0), 6)
    2.0
    """
    return _peak(law, rise, rise_angle, speed, order=1)


def peak_acceleration(*, law: str, rise: Number, rise_angle: Number, speed: Number) -> Number:
    """Largest acceleration of a follower during a rise.

    .. math:: a = C_a\\,h\\,(\\omega/\\beta)^2

    Parameters
    ----------
    law : str
        harmonic, parabolic, cycloidal, modified sine, 3-4-5 or 4-5-6-7 [word]
    rise : Number
        full rise, :math:`h` [m]
    rise_angle : Number
        cam angle over which it rises, :math:`\\beta` [rad]
    speed : Number
        speed of the cam, half that of the crank of a four-stroke engine, :math:`\\omega` [rad/s]

    Returns
    -------
    result : Number
        largest acceleration, :math:`a` [m/s2]

    Raises
    ------
    OutOfRange
        If ``rise < 0``, ``rise_angle <= 0`` or ``speed < 0``, or the law is not known.

    References
    ----------
    .. [1] cam-laws, extremes of the standard rises.

    Examples
    --------
    >>> round(peak_acceleration(law="parabolic", rise=0.01, rise_angle=1.0, speed=100.0), 6)
    400.0
    """
    return _peak(law, rise, rise_angle, speed, order=2)


def _peak(law: str, rise: Number, rise_angle: Number, speed: Number, order: int) -> Number:
    require("rise", rise, "m", at_least=0, source="cam-laws")
    require("rise_angle", rise_angle, "rad", above=0, source="cam-laws")
    require("speed", speed, "rad/s", at_least=0, source="cam-laws")
    return _LAWS[_known(law)][1][order - 1] * rise * (speed / rise_angle) ** order
