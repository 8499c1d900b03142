"""Threads against stripping: the area that shears, the load that strips, the engagement that holds."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import refuse, require

Number = float | NDArray[np.float64]

_SOURCE = "fed-std-h28-2b"


def internal_area(*, engagement: Number, pitch: Number, bolt_major_least: Number, nut_pitch_greatest: Number) -> Number:
    r"""Area that shears when the thread of a nut or a tapped hole strips, for the thinnest bolt in the widest hole.

    In aluminium this is the thread that goes. A worn hole is the same sum with its measured pitch diameter; with a
    thread insert the thread that counts is that of the insert's outside in the parent metal.

    .. math:: A_{Sn} = \frac{\pi L_E}{P}\,d_{s,min}\left[\frac{P}{2} + \frac{d_{s,min} - E_{n,max}}{\sqrt{3}}\right]

    Parameters
    ----------
    engagement : Number
        length of full thread in engagement, :math:`L_E` [m]
    pitch : Number
        pitch of the thread, :math:`P` [m]
    bolt_major_least : Number
        least major diameter of the bolt, :math:`d_{s,min}` [m]
    nut_pitch_greatest : Number
        greatest pitch diameter of the hole, :math:`E_{n,max}` [m]

    Returns
    -------
    result : Number
        area that shears, :math:`A_{Sn}` [m2]

    Raises
    ------
    OutOfRange
        If ``engagement <= 0``, ``pitch <= 0``, ``bolt_major_least <= 0`` or ``nut_pitch_greatest <= 0``, or if the
        threads do not overlap.

    Notes
    -----
    Valid for: 60 degree threads; the limits come from thread_standards.metric_limits or a micrometer.
    Differs from source: the source writes threads per inch.

    References
    ----------
    .. [1] fed-std-h28-2b, table II.B.1, formula 2a.

    Examples
    --------
    >>> limits = dict(bolt_major_least=0.009732, nut_pitch_greatest=0.009206)
    >>> round(internal_area(engagement=0.020, pitch=0.0015, **limits) * 1e6, 1)
    429.5
    """
    require("engagement", engagement, "m", above=0, source=_SOURCE)
    return engagement * _internal_width(pitch, bolt_major_least, nut_pitch_greatest)


def external_area(*, engagement: Number, pitch: Number, bolt_pitch_least: Number, nut_minor_greatest: Number) -> Number:
    r"""Area that shears when the thread of a bolt strips, for the thinnest bolt in the widest hole.

    It goes first only in a hole as hard as the bolt, or in one drilled too wide.

    .. math:: A_{Ss} = \frac{\pi L_E}{P}\,K_{n,max}\left[\frac{P}{2} + \frac{E_{s,min} - K_{n,max}}{\sqrt{3}}\right]

    Parameters
    ----------
    engagement : Number
        length of full thread in engagement, :math:`L_E` [m]
    pitch : Number
        pitch of the thread, :math:`P` [m]
    bolt_pitch_least : Number
        least pitch diameter of the bolt, :math:`E_{s,min}` [m]
    nut_minor_greatest : Number
        greatest minor diameter of the hole, :math:`K_{n,max}` [m]

    Returns
    -------
    result : Number
        area that shears, :math:`A_{Ss}` [m2]

    Raises
    ------
    OutOfRange
        If ``engagement <= 0``, ``pitch <= 0``, ``bolt_pitch_least <= 0`` or ``nut_minor_greatest <= 0``, or if the
        threads do not overlap.

    Notes
    -----
    Valid for: 60 degree threads; the limits come from thread_standards.metric_limits or a micrometer.
    No published value: none was at hand; the sharp triangles are cut and measured in the tests.

    References
    ----------
    .. [1] fed-std-h28-2b, table II.B.1, formula 4a.

    Examples
    --------
    >>> limits = dict(bolt_pitch_least=0.008862, nut_minor_greatest=0.008676)
    >>> round(external_area(engagement=0.020, pitch=0.0015, **limits) * 1e6, 1)
    311.6
    """
    require("engagement", engagement, "m", above=0, source=_SOURCE)
    require("pitch", pitch, "m", above=0, source=_SOURCE)
    require("bolt_pitch_least", bolt_pitch_least, "m", above=0, source=_SOURCE)
    require("nut_minor_greatest", nut_minor_greatest, "m", above=0, source=_SOURCE)
    share = 1 / 2 + (np.asarray(bolt_pitch_least) - nut_minor_greatest) / (np.sqrt(3) * np.asarray(pitch))
    if np.any(none := np.asarray(share <= 0)):
        refuse("nut_minor_greatest", nut_minor_greatest, none, "m", "an overlap above 0", source=_SOURCE)
    result: Number = np.pi * engagement * nut_minor_greatest * share
    return result


def simple_internal_area(*, engagement: Number, pitch_diameter: Number) -> Number:
    r"""Area that shears in a nut or a tapped hole, by the rule of thumb: three quarters of the pitch cylinder.

    .. math:: A_{Sn} = \tfrac{3}{4}\pi d_2 L_E

    Parameters
    ----------
    engagement : Number
        length of full thread in engagement, :math:`L_E` [m]
    pitch_diameter : Number
        basic pitch diameter, :math:`d_2` [m]

    Returns
    -------
    result : Number
        area that shears, :math:`A_{Sn}` [m2]

    Raises
    ------
    OutOfRange
        If ``engagement <= 0`` or ``pitch_diameter <= 0``.

    Notes
    -----
    Accuracy: within six per cent of the area from the limits, either way.

    References
    ----------
    .. [1] fed-std-h28-2b, simplified form.

    Examples
    --------
    >>> round(simple_internal_area(engagement=0.020, pitch_diameter=0.009026) * 1e6, 1)
    425.3
    """
    require("engagement", engagement, "m", above=0, source=_SOURCE)
    require("pitch_diameter", pitch_diameter, "m", above=0, source=_SOURCE)
    return 3 / 4 * np.pi * pitch_diameter * engagement


def simple_external_area(*, engagement: Number, pitch_diameter: Number) -> Number:
    r"""Area that shears on a bolt, by the rule of thumb: five eighths of the pitch cylinder.

    .. math:: A_{Ss} = \tfrac{5}{8}\pi d_2 L_E

    Parameters
    ----------
    engagement : Number
        length of full thread in engagement, :math:`L_E` [m]
    pitch_diameter : Number
        basic pitch diameter, :math:`d_2` [m]

    Returns
    -------
    result : Number
        area that shears, :math:`A_{Ss}` [m2]

    Raises
    ------
    OutOfRange
        If ``engagement <= 0`` or ``pitch_diameter <= 0``.

    Notes
    -----
    Accuracy: a tenth to a fifth above the area from the limits, on the unsafe side.
    No published value: a rule of thumb; held against `external_area` in the tests.

    References
    ----------
    .. [1] fed-std-h28-2b, simplified form.

    Examples
    --------
    >>> round(simple_external_area(engagement=0.020, pitch_diameter=0.009026) * 1e6, 1)
    354.5
    """
    require("engagement", engagement, "m", above=0, source=_SOURCE)
    require("pitch_diameter", pitch_diameter, "m", above=0, source=_SOURCE)
    return 5 / 8 * np.pi * pitch_diameter * engagement


def load(*, area: Number, shear_strength: Number) -> Number:
    r"""Load that strips a thread.

    It must stand above the load that breaks the bolt, and of this very bolt, not of its class: then the bolt fails
    first, which shows. The shear strength of steel and aluminium is 0.58 to 0.65 of the tensile strength.

    .. math:: F = A\,\tau

    Parameters
    ----------
    area : Number
        area that shears, :math:`A` [m2]
    shear_strength : Number
        shear strength of the part that strips, :math:`\tau` [Pa]

    Returns
    -------
    result : Number
        load that strips it, :math:`F` [N]

    Raises
    ------
    OutOfRange
        If ``area <= 0`` or ``shear_strength <= 0``.

    Notes
    -----
    Assumes: a wall around the hole of at least half the thread diameter, which does not spread.
    No published value: area times stress; `engagement` has one.

    References
    ----------
    .. [1] definition, shear stress.

    Examples
    --------
    >>> round(load(area=429e-6, shear_strength=130e6) / 1e3, 1)
    55.8
    """
    require("area", area, "m2", above=0)
    require("shear_strength", shear_strength, "Pa", above=0)
    return area * shear_strength


def engagement(
    *,
    load: Number,
    shear_strength: Number,
    pitch: Number,
    bolt_major_least: Number,
    nut_pitch_greatest: Number,
    lost: Number,
) -> Number:
    r"""Length of thread that a tapped hole needs so that a load does not strip it.

    Take the greatest load that the bolt can bring, and what chamfer and run-out take away. About two diameters in
    aluminium is usual.

    .. math:: L = \frac{F}{\tau}\,\frac{P}{\pi d_{s,min}\left[\frac{P}{2} + \frac{d_{s,min} - E_{n,max}}{\sqrt{3}}
        \right]} + L_0

    Parameters
    ----------
    load : Number
        greatest load of the bolt, :math:`F` [N]
    shear_strength : Number
        shear strength of the tapped part, :math:`\tau` [Pa]
    pitch : Number
        pitch of the thread, :math:`P` [m]
    bolt_major_least : Number
        least major diameter of the bolt, :math:`d_{s,min}` [m]
    nut_pitch_greatest : Number
        greatest pitch diameter of the hole, :math:`E_{n,max}` [m]
    lost : Number
        length lost at chamfer and run-out; about one pitch, two by the guideline, :math:`L_0` [m]

    Returns
    -------
    result : Number
        length of thread in the hole, :math:`L` [m]

    Raises
    ------
    OutOfRange
        If ``load <= 0``, ``shear_strength <= 0``, ``pitch <= 0``, ``bolt_major_least <= 0``,
        ``nut_pitch_greatest <= 0`` or ``lost < 0``, or if the threads do not overlap.

    Notes
    -----
    Differs from source: one handbook example enters the greatest diameter of the bolt where the least belongs and
    comes out a sixth short.

    References
    ----------
    .. [1] fed-std-h28-2b, table II.B.1, formula 2a.

    Examples
    --------
    >>> limits = dict(pitch=0.0015, bolt_major_least=0.009732, nut_pitch_greatest=0.009206)
    >>> round(engagement(load=69.6e3, shear_strength=130e6, lost=0.0, **limits) * 1e3, 1)
    24.9
    """
    require("load", load, "N", above=0, source=_SOURCE)
    require("shear_strength", shear_strength, "Pa", above=0, source=_SOURCE)
    require("lost", lost, "m", at_least=0, source=_SOURCE)
    width = _internal_width(pitch, bolt_major_least, nut_pitch_greatest)
    return load / (np.asarray(shear_strength) * width) + lost


def wall_factor(*, across: Number, diameter: Number) -> Number:
    r"""Share of its strength that a thread keeps when the wall around it is thin and spreads.

    For a nut, or a boss with little metal around the hole: multiply the load of `load` by this.

    .. math:: C_1 = 3.8\frac{s}{d} - \left(\frac{s}{d}\right)^2 - 2.61,\quad C_1 = 1 \text{ from } s/d = 1.9

    Parameters
    ----------
    across : Number
        width across the flats of the nut, or outer diameter of the boss, :math:`s` [m]
    diameter : Number
        major diameter of the thread, :math:`d` [m]

    Returns
    -------
    result : Number
        share of the strength, :math:`C_1` [1]

    Raises
    ------
    OutOfRange
        If ``across <= 0`` or ``diameter <= 0``, or if the width is less than 1.4 diameters.

    Notes
    -----
    Valid for: walls from 1.4 diameters across.
    No published value: recalled; the fit must meet 1 at its end, and does.

    References
    ----------
    .. [1] vdi-2230, strength of the thread, factor of the wall.
    .. [2] memory, the coefficients.

    Examples
    --------
    >>> round(float(wall_factor(across=0.016, diameter=0.010)), 2)
    0.91
    """
    require("across", across, "m", above=0, source="vdi-2230")
    require("diameter", diameter, "m", above=0, source="vdi-2230")
    ratio = np.asarray(across) / np.asarray(diameter)
    thin = np.asarray(ratio < 1.4 * (1 - 1e-9))
    if thin.any():
        refuse("across", across, thin, "m", "at least 1.4 diameters of the thread", source="vdi-2230")
    held = np.minimum(ratio, 1.9)
    result: Number = 19 / 5 * held - held**2 - 2.61
    return result


def _internal_width(pitch: Number, bolt_major_least: Number, nut_pitch_greatest: Number) -> Number:
    """Area that shears in the hole for each length of engagement."""
    require("pitch", pitch, "m", above=0, source=_SOURCE)
    require("bolt_major_least", bolt_major_least, "m", above=0, source=_SOURCE)
    require("nut_pitch_greatest", nut_pitch_greatest, "m", above=0, source=_SOURCE)
    share = 1 / 2 + (np.asarray(bolt_major_least) - nut_pitch_greatest) / (np.sqrt(3) * np.asarray(pitch))
    if np.any(none := np.asarray(share <= 0)):
        refuse("nut_pitch_greatest", nut_pitch_greatest, none, "m", "an overlap above 0", source=_SOURCE)
    result: Number = np.pi * np.asarray(bolt_major_least) * share
    return result
