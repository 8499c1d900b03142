"""Loads and torques at which a bolt yields while it is being turned."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import require
from endfloat.formulas.screws import rise, torque_arms
from endfloat.formulas.tightening import yield_limited_preload

Number = float | NDArray[np.float64]

_HALF_FLANK = np.pi / 6
# Shear over tension in the core is this times d2/d0 tan(lead + friction); torsion moduli pi d0^3/16 and pi d0^3/12.
_SURFACE = 2.0


def first_yield_clamp(
    *, yield_strength: Number, stress_diameter: Number, pitch: Number, pitch_diameter: Number, thread_friction: Number
) -> Number:
    """Clamp load at which the surface of the core begins to yield while the bolt is being turned.

    Below it nothing is left behind; from here to `tightening.yield_limited_preload` the slope falls, above that
    it is the plateau.

    .. math:: F = \\frac{R_p \\frac{\\pi}{4} d_0^2}
              {\\sqrt{1 + 3 \\left(\\frac{2 d_2}{d_0} \\tan(\\varphi + \\rho')\\right)^2}}

    Parameters
    ----------
    yield_strength : Number
        strength at 0.2 % of this bolt, :math:`R_p` [Pa]
    stress_diameter : Number
        mean of pitch and root diameter, or the waist where that is thinner, :math:`d_0` [m]
    pitch : Number
        pitch of the thread, single start, :math:`P` [m]
    pitch_diameter : Number
        pitch diameter, :math:`d_2` [m]
    thread_friction : Number
        friction coefficient in the thread, :math:`\\mu_G` [1]

    Returns
    -------
    result : Number
        clamp load, :math:`F` [N]

    Raises
    ------
    OutOfRange
        If ``yield_strength <= 0``, ``stress_diameter <= 0``, ``pitch <= 0``, ``pitch_diameter <= 0``,
        ``thread_friction < 0`` or ``thread_friction > 1``.

    Notes
    -----
    Assumes: elastic torsion, modulus pi d0^3 / 16.
    No published value: checked against a shaft of many rings that yield one after the other.

    References
    ----------
    .. [1] tribology-abc, bolt torque calculator: equivalent stress from tension and torsion.

    Examples
    --------
    >>> thread = dict(stress_diameter=0.0088272, pitch=0.00125, pitch_diameter=0.0091881)
    >>> round(float(first_yield_clamp(yield_strength=940e6, thread_friction=0.12, **thread)), -1)
    48020.0
    """
    return _clamp_at(
        _SURFACE,
        yield_strength=yield_strength,
        stress_diameter=stress_diameter,
        pitch=pitch,
        pitch_diameter=pitch_diameter,
        thread_friction=thread_friction,
        use=1.0,
        source="tribology-abc",
    )


def torque_at_yield(
    *,
    yield_strength: Number,
    stress_diameter: Number,
    pitch: Number,
    pitch_diameter: Number,
    thread_friction: Number,
    bearing_friction: Number,
    bearing_diameter: Number,
    use: Number,
) -> Number:
    """Torque that brings a bolt to its yield load, or to the stated share of it.

    Take the least friction you can believe: a bolt with more friction needs more.

    .. math:: M = F \\left(\\frac{d_2}{2} \\tan(\\varphi + \\rho') + \\frac{d_K}{2} \\mu_K\\right)

    Parameters
    ----------
    yield_strength : Number
        strength at 0.2 %, :math:`R_p` [Pa]
    stress_diameter : Number
        mean of pitch and root diameter, or the waist where that is thinner, :math:`d_0` [m]
    pitch : Number
        pitch of the thread, single start, :math:`P` [m]
    pitch_diameter : Number
        pitch diameter, :math:`d_2` [m]
    thread_friction : Number
        friction coefficient in the thread, :math:`\\mu_G` [1]
    bearing_friction : Number
        friction coefficient under the part that turns, :math:`\\mu_K` [1]
    bearing_diameter : Number
        mean diameter of the face that turns, :math:`d_K` [m]
    use : Number
        share of the yield strength, :math:`\\nu` [1]

    Returns
    -------
    result : Number
        torque, without a prevailing torque, :math:`M` [N m]

    Raises
    ------
    OutOfRange
        If ``yield_strength <= 0``, ``stress_diameter <= 0``, ``pitch <= 0``, ``pitch_diameter <= 0``,
        ``thread_friction < 0``, ``thread_friction > 1``, ``bearing_friction < 0``, ``bearing_friction > 1``,
        ``bearing_diameter <= 0``, ``use <= 0`` or ``use > 1``.

    Notes
    -----
    No published value: the torque of a preload, and both have theirs.

    References
    ----------
    .. [1] vdi-2230, tightening torque from the assembly preload.

    Examples
    --------
    >>> thread = dict(stress_diameter=0.0088272, pitch=0.00125, pitch_diameter=0.0091881)
    >>> head = dict(thread_friction=0.12, bearing_friction=0.12, bearing_diameter=0.012815)
    >>> round(float(torque_at_yield(yield_strength=940e6, use=0.9, **thread, **head)), 1)
    74.7
    """
    load = yield_limited_preload(
        stress_diameter=stress_diameter,
        pitch=pitch,
        pitch_diameter=pitch_diameter,
        half_flank=_HALF_FLANK,
        thread_friction=thread_friction,
        prevailing=0.0,
        yield_strength=yield_strength,
        use=use,
    )
    require("bearing_friction", bearing_friction, "1", at_least=0, at_most=1, source="vdi-2230")
    require("bearing_diameter", bearing_diameter, "m", above=0, source="vdi-2230")
    return load * _lever(pitch, pitch_diameter, thread_friction, bearing_friction, bearing_diameter)


def hardening_of_bolt(*, bolt_stiffness: Number, tangent_share: Number) -> Number:
    """Rise of the yield load with plastic stretch, from the slope of the bolt past yield.

    A share of 0.02 to 0.05 is usual; nought is the safe, perfectly plastic bound.

    .. math:: h = k_b \\frac{s}{1 - s}

    Parameters
    ----------
    bolt_stiffness : Number
        elastic stiffness of the bolt alone, :math:`k_b` [N/m]
    tangent_share : Number
        slope of the bolt alone past yield over its elastic slope, :math:`s` [1]

    Returns
    -------
    result : Number
        rise of the yield load with plastic stretch, :math:`h` [N/m]

    Raises
    ------
    OutOfRange
        If ``bolt_stiffness <= 0``, ``tangent_share < 0`` or ``tangent_share >= 1``.

    Notes
    -----
    No published value: an identity, springs in series.

    References
    ----------
    .. [1] derived, elastic and plastic stretch in series.
    .. [2] memory, the usual share.

    Examples
    --------
    >>> round(hardening_of_bolt(bolt_stiffness=160e6, tangent_share=0.03) / 1e6, 2)
    4.95
    """
    require("bolt_stiffness", bolt_stiffness, "N/m", above=0, source="derived")
    require("tangent_share", tangent_share, "1", at_least=0, below=1, source="derived")
    return bolt_stiffness * tangent_share / (1 - tangent_share)


def load_reserve(*, clamp: Number, yield_strength: Number, stress_diameter: Number) -> Number:
    """What a tightened bolt can still take in pure tension before it yields.

    The torque has gone when the wrench comes off, so that even a bolt tightened to its plateau has some left.

    .. math:: F_R = R_p \\frac{\\pi}{4} d_0^2 - F

    Parameters
    ----------
    clamp : Number
        clamp load, :math:`F` [N]
    yield_strength : Number
        strength at 0.2 % of this bolt, :math:`R_p` [Pa]
    stress_diameter : Number
        mean of pitch and root diameter, or the waist where that is thinner, :math:`d_0` [m]

    Returns
    -------
    result : Number
        further load in the bolt until it yields; negative where it has none, :math:`F_R` [N]

    Raises
    ------
    OutOfRange
        If ``clamp < 0``, ``yield_strength <= 0`` or ``stress_diameter <= 0``.

    Notes
    -----
    Assumes: all torsion has relaxed; about half of it does at once.
    No published value: an identity.

    References
    ----------
    .. [1] tribology-abc, bolt torque calculator: load reserve.
    .. [2] memory, how much torsion relaxes.

    Examples
    --------
    >>> round(load_reserve(clamp=51556.0, yield_strength=940e6, stress_diameter=0.0088272), -1)
    5970.0
    """
    require("clamp", clamp, "N", at_least=0, source="tribology-abc")
    require("yield_strength", yield_strength, "Pa", above=0, source="tribology-abc")
    require("stress_diameter", stress_diameter, "m", above=0, source="tribology-abc")
    return yield_strength * np.pi / 4 * stress_diameter**2 - clamp


def _clamp_at(
    shear: float,
    *,
    yield_strength: Number,
    stress_diameter: Number,
    pitch: Number,
    pitch_diameter: Number,
    thread_friction: Number,
    use: Number,
    source: str = "vdi-2230",
) -> Number:
    require("yield_strength", yield_strength, "Pa", above=0, source=source)
    require("stress_diameter", stress_diameter, "m", above=0, source=source)
    require("use", use, "1", above=0, at_most=1, source=source)
    _require_thread(pitch, pitch_diameter, thread_friction, source)
    ratio = shear * pitch_diameter / stress_diameter * rise(pitch, pitch_diameter, _HALF_FLANK, thread_friction)
    load: Number = use * yield_strength * np.pi / 4 * stress_diameter**2 / np.sqrt(1 + 3 * ratio**2)
    return load


def _lever(pitch: Number, pitch_diameter: Number, thread: Number, bearing: Number, bearing_diameter: Number) -> Number:
    in_thread, at_face = torque_arms(pitch, pitch_diameter, _HALF_FLANK, thread, bearing_diameter, bearing)
    return in_thread + at_face


def _require_thread(pitch: Number, pitch_diameter: Number, friction: Number, source: str = "vdi-2230") -> None:
    require("pitch", pitch, "m", above=0, source=source)
    require("pitch_diameter", pitch_diameter, "m", above=0, source=source)
    require("thread_friction", friction, "1", at_least=0, at_most=1, source=source)
