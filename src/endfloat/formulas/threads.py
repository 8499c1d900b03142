"""Thread geometry, metric and inch."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import refuse, require

Number = float | NDArray[np.float64]

_TRIANGLE = np.sqrt(3) / 2
"""Height of the sharp triangle of a 60 degree thread, in pitches."""


class MetricSizes(NamedTuple):
    """Basic sizes of a metric thread."""

    pitch_diameter: Number
    minor_diameter: Number
    root_diameter: Number
    stress_diameter: Number
    stress_area: Number
    root_area: Number
    thread_depth: Number
    overlap: Number
    root_radius: Number


class InchSizes(NamedTuple):
    """Basic sizes of a unified inch thread; its root is cut flat (UN) or round (UNR)."""

    pitch_diameter: Number
    minor_diameter: Number
    flat_root_diameter: Number
    round_root_diameter: Number
    stress_area: Number


class WhitworthSizes(NamedTuple):
    """Basic sizes of a Whitworth thread."""

    pitch_diameter: Number
    root_diameter: Number
    stress_area: Number


def metric_sizes(*, diameter: Number, pitch: Number) -> MetricSizes:
    r"""Basic diameters and areas of a metric thread.

    Read the pitch off a thread gauge and type it: M10 alone may be 1.5, 1.25 or 1.0, and the area differs by a
    tenth. The stress area carries the load of a bolt, the root is where a bolt necks, and the pitch diameter is
    where the thread rubs.

    .. math:: d_2 = d - \tfrac{3}{4}H,\ D_1 = d - \tfrac{5}{4}H,\ d_3 = D_1 - \tfrac{1}{6}H,\
        A_s = \tfrac{\pi}{4}\left(\frac{d_2 + d_3}{2}\right)^2,\ H = \tfrac{\sqrt{3}}{2}P

    Parameters
    ----------
    diameter : Number
        major diameter of the thread, the number after the M, :math:`d` [m]
    pitch : Number
        distance from one crest to the next, :math:`P` [m]

    Returns
    -------
    pitch_diameter : Number
        pitch diameter, :math:`d_2` [m]
    minor_diameter : Number
        minor diameter of the nut or the tapped hole, :math:`D_1` [m]
    root_diameter : Number
        root diameter of the bolt, :math:`d_3` [m]
    stress_diameter : Number
        mean of pitch and root diameter, :math:`d_s` [m]
    stress_area : Number
        area that carries the load, :math:`A_s` [m2]
    root_area : Number
        area at the root of the bolt, :math:`A_{d3}` [m2]
    thread_depth : Number
        depth of the thread of the bolt, :math:`h_3` [m]
    overlap : Number
        depth over which bolt and nut touch, :math:`H_1` [m]
    root_radius : Number
        radius of the rounded root of the bolt, :math:`R` [m]

    Raises
    ------
    OutOfRange
        If ``diameter <= 0`` or ``pitch <= 0``, or if the pitch is more than half the diameter.

    Notes
    -----
    Valid for: single-start threads of the basic ISO profile; limits of a tolerance class are in
    thread_standards.metric_limits.
    Accuracy: exact for the basic profile; a real bolt has up to some hundredths of a millimetre less.

    References
    ----------
    .. [1] iso-68-1, basic profile.
    .. [2] iso-724, basic dimensions.
    .. [3] iso-898-1, nominal stress area.

    Examples
    --------
    >>> round(metric_sizes(diameter=0.010, pitch=0.0015).stress_area * 1e6, 2)
    57.99
    """
    require("diameter", diameter, "m", above=0, source="iso-68-1")
    _check_pitch(pitch, diameter, "iso-68-1")
    height = _TRIANGLE * pitch
    pitch_diameter = diameter - 3 / 4 * height
    minor = diameter - 5 / 4 * height
    root = minor - height / 6
    stress = (pitch_diameter + root) / 2
    return MetricSizes(
        pitch_diameter=pitch_diameter,
        minor_diameter=minor,
        root_diameter=root,
        stress_diameter=stress,
        stress_area=np.pi / 4 * stress**2,
        root_area=np.pi / 4 * root**2,
        thread_depth=17 / 24 * height,
        overlap=5 / 8 * height,
        root_radius=height / 6,
    )


def inch_sizes(*, diameter: Number, pitch: Number) -> InchSizes:
    r"""Basic diameters and stress area of a unified inch thread (UNC, UNF).

    The pitch is one inch divided by the threads per inch. Tables print two roots for the same thread, cut flat and
    cut round; take the one your bolt has, and never one of each.

    .. math:: d_2 = d - \tfrac{3}{4}H,\ D_1 = d - \tfrac{5}{4}H,\ d_{UN} = d - \tfrac{17}{12}H,\
        d_{UNR} = d - \tfrac{11}{8}H,\ A_t = \tfrac{\pi}{4}\left(d - 0.9743 P\right)^2

    Parameters
    ----------
    diameter : Number
        major diameter of the thread, :math:`d` [m]
    pitch : Number
        distance from one crest to the next, :math:`P` [m]

    Returns
    -------
    pitch_diameter : Number
        pitch diameter, :math:`d_2` [m]
    minor_diameter : Number
        minor diameter of the nut or the tapped hole, :math:`D_1` [m]
    flat_root_diameter : Number
        root diameter of a bolt whose root is cut flat, :math:`d_{UN}` [m]
    round_root_diameter : Number
        root diameter of a bolt whose root is cut round, :math:`d_{UNR}` [m]
    stress_area : Number
        area that carries the load, :math:`A_t` [m2]

    Raises
    ------
    OutOfRange
        If ``diameter <= 0`` or ``pitch <= 0``, or if the pitch is more than half the diameter.

    Notes
    -----
    Valid for: single-start UN and UNR threads of the basic profile.
    Accuracy: the round root is a fit to printed tables of fine threads, good to their last digit.

    References
    ----------
    .. [1] asme-b1-1, basic profile and tensile stress area.
    .. [2] memory, root of the round form as 11/8 of the height of the triangle.

    Examples
    --------
    >>> round(inch_sizes(diameter=0.0127, pitch=0.0127 / 6.5).stress_area * 1e6, 2)
    91.55
    """
    require("diameter", diameter, "m", above=0, source="asme-b1-1")
    _check_pitch(pitch, diameter, "asme-b1-1")
    height = _TRIANGLE * pitch
    return InchSizes(
        pitch_diameter=diameter - 3 / 4 * height,
        minor_diameter=diameter - 5 / 4 * height,
        flat_root_diameter=diameter - 17 / 12 * height,
        round_root_diameter=diameter - 11 / 8 * height,
        stress_area=np.pi / 4 * (diameter - 0.9743 * pitch) ** 2,
    )


def whitworth_sizes(*, diameter: Number, pitch: Number) -> WhitworthSizes:
    r"""Basic diameters and stress area of a Whitworth thread (BSW, BSF), found on old British engines.

    Its flanks stand at 27.5 degrees to the square section, not 30; give that angle to tightening.torque as well.
    The pitch is one inch divided by the threads per inch.

    .. math:: d_2 = d - 0.640327 P,\ d_3 = d - 1.280654 P,\ A_s = \tfrac{\pi}{4}\left(\frac{d_2 + d_3}{2}\right)^2

    Parameters
    ----------
    diameter : Number
        major diameter of the thread, :math:`d` [m]
    pitch : Number
        distance from one crest to the next, :math:`P` [m]

    Returns
    -------
    pitch_diameter : Number
        pitch diameter, :math:`d_2` [m]
    root_diameter : Number
        root diameter of bolt and nut, :math:`d_3` [m]
    stress_area : Number
        area of the mean of pitch and root diameter, :math:`A_s` [m2]

    Raises
    ------
    OutOfRange
        If ``diameter <= 0`` or ``pitch <= 0``, or if the pitch is more than half the diameter.

    Notes
    -----
    Valid for: single-start threads of the basic profile.
    Assumes: the stress area is the metric rule carried over; British tables of the time took the root area.
    No published value: tables of this thread were not at hand; the profile is rebuilt from its geometry in the tests.

    References
    ----------
    .. [1] memory, depth of thread 0.640327 of the pitch (two thirds of the height of a 55 degree triangle).

    Examples
    --------
    >>> round(whitworth_sizes(diameter=0.0127, pitch=0.0127 / 6).root_diameter * 1e3, 3)
    9.989
    """
    require("diameter", diameter, "m", above=0, source="memory")
    _check_pitch(pitch, diameter, "memory")
    depth = 2 / 3 * pitch / (2 * np.tan(np.deg2rad(27.5)))
    pitch_diameter, root = diameter - depth, diameter - 2 * depth
    return WhitworthSizes(
        pitch_diameter=pitch_diameter,
        root_diameter=root,
        stress_area=np.pi / 4 * ((pitch_diameter + root) / 2) ** 2,
    )


def lead_angle(*, lead: Number, diameter: Number) -> Number:
    r"""Angle of rise of a thread on its pitch diameter, over the square section.

    The small angle (2 to 4 degrees on a bolt) that turns a turn into stretch. With several starts the lead is the
    pitch times their number.

    .. math:: \varphi = \arctan\frac{P_h}{\pi d_2}

    Parameters
    ----------
    lead : Number
        way along the axis in one turn; the pitch of a single-start thread, :math:`P_h` [m]
    diameter : Number
        pitch diameter, :math:`d_2` [m]

    Returns
    -------
    result : Number
        lead angle, :math:`\varphi` [rad]

    Raises
    ------
    OutOfRange
        If ``lead <= 0`` or ``diameter <= 0``.

    Notes
    -----
    Differs from source: tables of bolts often call this angle the helix angle; see helix_angle.

    References
    ----------
    .. [1] shigley-9, section 8-1.

    Examples
    --------
    >>> round(float(np.rad2deg(lead_angle(lead=0.00125, diameter=0.0071881))), 3)
    3.168
    """
    require("lead", lead, "m", above=0, source="shigley-9")
    require("diameter", diameter, "m", above=0, source="shigley-9")
    return np.arctan(lead / (np.pi * diameter))


def helix_angle(*, lead: Number, diameter: Number) -> Number:
    r"""Angle of a thread against its own axis: a right angle less the lead angle.

    Needed when a thread is cut, or where a book gives the helix angle in the sense of gears. Close to 90 degrees on
    any bolt; a helix angle of 3 degrees in a bolt table is a lead angle.

    .. math:: \psi = \tfrac{\pi}{2} - \arctan\frac{P_h}{\pi d_2}

    Parameters
    ----------
    lead : Number
        way along the axis in one turn; the pitch of a single-start thread, :math:`P_h` [m]
    diameter : Number
        pitch diameter, :math:`d_2` [m]

    Returns
    -------
    result : Number
        helix angle, :math:`\psi` [rad]

    Raises
    ------
    OutOfRange
        If ``lead <= 0`` or ``diameter <= 0``.

    Notes
    -----
    No published value: the complement of lead_angle, which has one.

    References
    ----------
    .. [1] definition, angle between a helix and a line along its axis.

    Examples
    --------
    >>> round(float(np.rad2deg(helix_angle(lead=0.00125, diameter=0.0071881))), 3)
    86.832
    """
    require("lead", lead, "m", above=0)
    require("diameter", diameter, "m", above=0)
    return np.arctan2(np.pi * diameter, lead)


def _check_pitch(pitch: Number, diameter: Number, source: str) -> None:
    require("pitch", pitch, "m", above=0, source=source)
    bad = np.asarray(pitch > np.asarray(diameter) / 2)
    if bad.any():
        refuse("pitch", pitch, bad, "m", "at most half (1/2) the diameter", source=source)
