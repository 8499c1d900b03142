"""Stiffness of bolts, of what lies in series, and the share of a load that the bolt takes."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from endfloat.errors import OutOfRange
from endfloat.formulas.bounds import refuse, require

Number = float | NDArray[np.float64]
Array = NDArray[np.float64]

_HEADS = {"hexagon": 0.5, "socket": 0.4}
"""Length of shank that stands for the give of the head, in diameters."""
_MATES = {"nut": 0.4, "tapped hole": 0.33}
"""Length that stands for the give of the mating thread, in diameters."""


def two_sections(*, shank_area: Number, stress_area: Number, shank: Number, thread: Number, modulus: Number) -> Number:
    r"""Stiffness of a bolt of a plain shank and a free thread, in series; head and nut counted as rigid.

    The textbook figure, ten to twenty per cent too stiff for a bolt of eight diameters. For the angle of a
    tightening and for losses take stiffness.bolt, which counts the head and the engaged thread.

    .. math:: k_b = \frac{A_d A_t E}{A_d l_t + A_t l_d}

    Parameters
    ----------
    shank_area : Number
        area of the plain shank, :math:`A_d` [m2]
    stress_area : Number
        stress area of the thread, :math:`A_t` [m2]
    shank : Number
        length of plain shank within the grip, :math:`l_d` [m]
    thread : Number
        length of thread within the grip, :math:`l_t` [m]
    modulus : Number
        Young's modulus of the bolt, :math:`E` [Pa]

    Returns
    -------
    result : Number
        stiffness, :math:`k_b` [N/m]

    Raises
    ------
    OutOfRange
        If ``shank_area <= 0``, ``stress_area <= 0``, ``shank < 0``, ``thread < 0`` or ``modulus <= 0``, or if both
        lengths are nought.

    Notes
    -----
    Accuracy: the shorter the bolt, the more it is too stiff.

    References
    ----------
    .. [1] shigley-9, equation 8-17 and table 8-7, p. 426.

    Examples
    --------
    >>> parts = dict(shank_area=113e-6, stress_area=84.3e-6, shank=0.030, thread=0.015, modulus=207e9)
    >>> round(two_sections(**parts) / 1e6, 1)
    466.8
    """
    require("shank_area", shank_area, "m2", above=0, source="shigley-9")
    require("stress_area", stress_area, "m2", above=0, source="shigley-9")
    require("shank", shank, "m", at_least=0, source="shigley-9")
    require("thread", thread, "m", at_least=0, source="shigley-9")
    require("modulus", modulus, "Pa", above=0, source="shigley-9")
    none = np.asarray(np.asarray(shank) + thread == 0)
    if none.any():
        refuse("thread", thread, none, "m", "above 0 when there is no shank", source="shigley-9")
    return shank_area * stress_area * modulus / (shank_area * thread + stress_area * shank)


def bolt(
    *,
    diameter: Number,
    root_diameter: Number,
    lengths: Array,
    diameters: Array,
    free_thread: Number,
    modulus: Number,
    head: str,
    mate: str,
    mate_modulus: Number,
) -> Number:
    r"""Stiffness of a bolt section by section, with the give of its head and of the engaged thread.

    A long head bolt with a waist is measured with a rule: every cylinder between head and first thread is a length
    and a diameter. This is the figure behind the angle of a tightening and behind every loss of clamp.

    .. math:: \frac{1}{k_b} = \frac{1}{E}\left(\frac{l_{SK}}{A_N} + \sum\frac{l_i}{A_i} +
        \frac{l_{Gew} + d/2}{A_{d3}}\right) + \frac{l_M}{E_M A_N}

    Parameters
    ----------
    diameter : Number
        major diameter of the thread, :math:`d` [m]
    root_diameter : Number
        root diameter of the thread, :math:`d_3` [m]
    lengths : Array
        lengths of the plain cylinders, along the last axis, :math:`l_i` [m]
    diameters : Array
        diameters of the plain cylinders, along the last axis, :math:`d_i` [m]
    free_thread : Number
        length of thread within the grip that engages nothing, :math:`l_{Gew}` [m]
    modulus : Number
        Young's modulus of the bolt, :math:`E` [Pa]
    head : str
        hexagon or socket [word]
    mate : str
        nut or tapped hole [word]
    mate_modulus : Number
        Young's modulus of the nut or of the tapped part, :math:`E_M` [Pa]

    Returns
    -------
    result : Number
        stiffness, :math:`k_b` [N/m]

    Raises
    ------
    OutOfRange
        If ``diameter <= 0``, ``root_diameter <= 0``, ``lengths < 0``, ``diameters <= 0``, ``free_thread < 0``,
        ``modulus <= 0`` or ``mate_modulus <= 0``, if the root is thicker than the thread, or a word is not known.

    Notes
    -----
    Assumes: the head gives like half a diameter of shank (0.4 with a socket), the engaged thread like half a
    diameter of root, and the mating thread like 0.4 of a diameter (0.33 when tapped).
    No published value: no printed example was at hand; checked against stiffness.two_sections and by integration.

    References
    ----------
    .. [1] vdi-2230, resilience of the bolt.
    .. [2] memory, the substitute lengths.

    Examples
    --------
    >>> parts = dict(lengths=np.array([0.06]), diameters=np.array([0.010]), free_thread=0.02, modulus=205e9)
    >>> ends = dict(head="hexagon", mate="tapped hole", mate_modulus=72e9)
    >>> round(bolt(diameter=0.010, root_diameter=0.00816, **parts, **ends) / 1e6, 1)
    143.8
    """
    require("diameter", diameter, "m", above=0, source="vdi-2230")
    require("root_diameter", root_diameter, "m", above=0, source="vdi-2230")
    require("lengths", lengths, "m", at_least=0, source="vdi-2230")
    require("diameters", diameters, "m", above=0, source="vdi-2230")
    require("free_thread", free_thread, "m", at_least=0, source="vdi-2230")
    require("modulus", modulus, "Pa", above=0, source="vdi-2230")
    require("mate_modulus", mate_modulus, "Pa", above=0, source="vdi-2230")
    thick = np.asarray(np.asarray(root_diameter) > diameter)
    if thick.any():
        refuse("root_diameter", root_diameter, thick, "m", "at most 1 diameter of the thread", source="vdi-2230")
    for name, word, known in (("head", head, _HEADS), ("mate", mate, _MATES)):
        if word not in known:
            raise OutOfRange(name=name, value=word, expected=", ".join(known), unit="word", source="vdi-2230")
    quarter = np.pi / 4
    shank = np.sum(np.asarray(lengths) / (quarter * np.asarray(diameters) ** 2), axis=-1)
    whole, root = quarter * np.asarray(diameter) ** 2, quarter * np.asarray(root_diameter) ** 2
    give = _HEADS[head] * diameter / whole + shank + (free_thread + diameter / 2) / root
    result: Number = 1 / (give / modulus + _MATES[mate] * diameter / (mate_modulus * whole))
    return result


def in_series(*, stiffnesses: Array) -> Number:
    r"""Stiffness of things that lie one on the other: gives add.

    Clamped parts, a washer, a gasket. A gasket is the softest of them and decides; its curve while it is first
    pressed differs from its curve later, so take the slope of the state that you ask about.

    .. math:: \frac{1}{k} = \sum\frac{1}{k_i}

    Parameters
    ----------
    stiffnesses : Array
        stiffness of each, along the last axis, :math:`k_i` [N/m]

    Returns
    -------
    result : Number
        stiffness of all, :math:`k` [N/m]

    Raises
    ------
    OutOfRange
        If ``stiffnesses <= 0``.

    Notes
    -----
    Valid for: parts that carry the same load.

    References
    ----------
    .. [1] shigley-9, equation 8-18, p. 427.

    Examples
    --------
    >>> round(in_series(stiffnesses=np.array([4470e6, 52230e6, 2074e6])) / 1e6)
    1379
    """
    require("stiffnesses", stiffnesses, "N/m", above=0, source="shigley-9")
    result: Number = 1 / np.sum(1 / np.asarray(stiffnesses), axis=-1)
    return result


def load_share(*, bolt_stiffness: Number, parts_stiffness: Number) -> Number:
    r"""Share of a load on the joint that the bolt feels; the rest only eases the clamped parts.

    A stiff joint with a long thin bolt keeps this low (0.1 to 0.3), which is why such bolts do not tire. A soft
    gasket drives it up.

    .. math:: C = \frac{k_b}{k_b + k_m}

    Parameters
    ----------
    bolt_stiffness : Number
        stiffness of the bolt, :math:`k_b` [N/m]
    parts_stiffness : Number
        stiffness of the clamped parts with the gasket, :math:`k_m` [N/m]

    Returns
    -------
    result : Number
        share of the bolt, :math:`C` [1]

    Raises
    ------
    OutOfRange
        If ``bolt_stiffness <= 0`` or ``parts_stiffness <= 0``.

    Notes
    -----
    Valid for: a joint that stays closed, loaded under the head and in line with the bolt; deeper in the parts
    the share is less, see clamp.with_external_load.

    References
    ----------
    .. [1] shigley-9, section 8-6, p. 429.

    Examples
    --------
    >>> round(load_share(bolt_stiffness=6.5, parts_stiffness=13.8), 3)
    0.32
    """
    require("bolt_stiffness", bolt_stiffness, "N/m", above=0, source="shigley-9")
    require("parts_stiffness", parts_stiffness, "N/m", above=0, source="shigley-9")
    return bolt_stiffness / (bolt_stiffness + np.asarray(parts_stiffness))
