"""Gears that drive the cams: size, backlash, lost motion, phase, and when their marks meet again."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import refuse, require

Number = float | NDArray[np.float64]


def gear_pitch_diameter(*, module: Number, teeth: Number, helix_angle: Number) -> Number:
    """Reference diameter of a gear.

    Use it for the way that a backlash makes in angle. A helix angle of nought is a spur gear.

    .. math:: d = m z / \\cos\\beta

    Parameters
    ----------
    module : Number
        normal module, :math:`m` [m]
    teeth : Number
        teeth of the gear, :math:`z` [1]
    helix_angle : Number
        helix angle, :math:`\\beta` [rad]

    Returns
    -------
    result : Number
        reference diameter, :math:`d` [m]

    Raises
    ------
    OutOfRange
        If ``module <= 0`` or ``teeth < 3``, or if the helix angle is not under a quarter turn.

    Notes
    -----
    No published value: the definition of the module.

    References
    ----------
    .. [1] definition, module.

    Examples
    --------
    >>> round(float(gear_pitch_diameter(module=0.0025, teeth=48, helix_angle=0.0)), 6)
    0.12
    """
    require("module", module, "m", above=0)
    require("teeth", teeth, "1", at_least=3)
    _slant("helix_angle", helix_angle, "definition")
    result: Number = module * teeth / np.cos(helix_angle)
    return result


def transverse_pressure_angle(*, pressure_angle: Number, helix_angle: Number) -> Number:
    """Pressure angle across the axis of a helical gear, from the one of its cutter.

    Use it for helical timing gears before a backlash is worked out; for spur gears both are the same.

    .. math:: \\tan\\alpha_t = \\tan\\alpha_n / \\cos\\beta

    Parameters
    ----------
    pressure_angle : Number
        normal pressure angle, :math:`\\alpha_n` [rad]
    helix_angle : Number
        helix angle, :math:`\\beta` [rad]

    Returns
    -------
    result : Number
        transverse pressure angle, :math:`\\alpha_t` [rad]

    Raises
    ------
    OutOfRange
        If ``pressure_angle <= 0``, or if an angle is not under a quarter turn.

    Notes
    -----
    No published value: a plane cut through a rack at an angle gives the same.

    References
    ----------
    .. [1] derived, rack cut across and square to its teeth.

    Examples
    --------
    >>> across = transverse_pressure_angle(pressure_angle=np.radians(20), helix_angle=np.radians(25))
    >>> round(float(np.degrees(across)), 3)
    21.88
    """
    _pressure(pressure_angle)
    _slant("helix_angle", helix_angle, "derived")
    result: Number = np.arctan(np.tan(pressure_angle) / np.cos(helix_angle))
    return result


def working_pressure_angle(*, centre_distance: Number, close_centre_distance: Number, pressure_angle: Number) -> Number:
    """Pressure angle of a pair of gears that has moved apart or together.

    Use it where a bushed bore or a skimmed head has changed the distance of two timing gears.

    .. math:: \\cos\\alpha' = a \\cos\\alpha / a'

    Parameters
    ----------
    centre_distance : Number
        distance between the axes now, :math:`a'` [m]
    close_centre_distance : Number
        distance at which the pair meshes without backlash, :math:`a` [m]
    pressure_angle : Number
        transverse pressure angle at that distance, :math:`\\alpha` [rad]

    Returns
    -------
    result : Number
        working pressure angle, :math:`\\alpha'` [rad]

    Raises
    ------
    OutOfRange
        If ``centre_distance <= 0`` or ``close_centre_distance <= 0`` or ``pressure_angle <= 0``, if that is not under
        a quarter turn, or if the base circles would overlap.

    Notes
    -----
    No published value: the base circles stay as they are.

    References
    ----------
    .. [1] derived, common tangent of the base circles of two involutes.

    Examples
    --------
    >>> pair = dict(centre_distance=0.1203, close_centre_distance=0.12, pressure_angle=np.radians(20))
    >>> round(float(np.degrees(working_pressure_angle(**pair))), 3)
    20.389
    """
    _pressure(pressure_angle)
    require("close_centre_distance", close_centre_distance, "m", above=0, source="derived")
    require("centre_distance", centre_distance, "m", above=0, source="derived")
    cosine = np.asarray(close_centre_distance * np.cos(pressure_angle) / centre_distance)
    if np.any(cosine > 1):
        expected = "at least the sum of the base radii"
        refuse("centre_distance", centre_distance, cosine > 1, "m", expected, source="derived")
    result: Number = np.arccos(cosine)
    return result


def gear_backlash(*, centre_distance: Number, close_centre_distance: Number, pressure_angle: Number) -> Number:
    """Backlash of a pair of gears along the working pitch circle, from how far it stands apart; minus where it binds.

    Use it for what a skim takes from the backlash of a gear-driven head, or line boring from that of a crank gear.
    Near the close mesh it is twice the way apart times the tangent of the pressure angle.

    .. math:: j = 2 a' (\\mathrm{inv}\\,\\alpha' - \\mathrm{inv}\\,\\alpha), \\quad
        \\mathrm{inv}\\,\\alpha = \\tan\\alpha - \\alpha, \\quad \\cos\\alpha' = a \\cos\\alpha / a'

    Parameters
    ----------
    centre_distance : Number
        distance between the axes now, :math:`a'` [m]
    close_centre_distance : Number
        distance at which the pair meshes without backlash, :math:`a` [m]
    pressure_angle : Number
        transverse pressure angle at that distance, :math:`\\alpha` [rad]

    Returns
    -------
    result : Number
        backlash along the working pitch circle, :math:`j` [m]

    Raises
    ------
    OutOfRange
        If ``centre_distance <= 0`` or ``close_centre_distance <= 0`` or ``pressure_angle <= 0``, if that is not under
        a quarter turn, or if the base circles would overlap.

    Notes
    -----
    No published value: checked against two involute flanks drawn point by point.
    Assumes: involute teeth that have not worn.

    References
    ----------
    .. [1] derived, widths of two involute teeth on the working pitch circles.

    Examples
    --------
    >>> pair = dict(centre_distance=0.1203, close_centre_distance=0.12, pressure_angle=np.radians(20))
    >>> round(float(gear_backlash(**pair)), 7)
    0.000221
    """
    working = working_pressure_angle(
        centre_distance=centre_distance, close_centre_distance=close_centre_distance, pressure_angle=pressure_angle
    )
    result: Number = 2 * centre_distance * (_involute(working) - _involute(pressure_angle))
    return result


def normal_backlash(*, backlash: Number, pressure_angle: Number, helix_angle: Number) -> Number:
    """Backlash as a feeler gauge reads it, square to the flanks, from the one along the pitch circle.

    Use it to compare a feeler reading with a book that gives the backlash at a dial, or the other way round.

    .. math:: j_n = j \\cos\\alpha_n \\cos\\beta

    Parameters
    ----------
    backlash : Number
        backlash along the pitch circle, :math:`j` [m]
    pressure_angle : Number
        normal pressure angle, :math:`\\alpha_n` [rad]
    helix_angle : Number
        helix angle, :math:`\\beta` [rad]

    Returns
    -------
    result : Number
        backlash square to the flanks, :math:`j_n` [m]

    Raises
    ------
    OutOfRange
        If ``pressure_angle <= 0``, or if an angle is not under a quarter turn.

    Notes
    -----
    No published value: a step resolved square to a plane.

    References
    ----------
    .. [1] derived, step along the pitch circle resolved square to the flank.

    Examples
    --------
    >>> round(float(normal_backlash(backlash=0.0001, pressure_angle=np.radians(20), helix_angle=0.0)), 8)
    9.397e-05
    """
    _pressure(pressure_angle)
    _slant("helix_angle", helix_angle, "derived")
    require("backlash", backlash, "m", source="derived")
    result: Number = backlash * np.cos(pressure_angle) * np.cos(helix_angle)
    return result


def lost_motion(*, backlash: Number, pitch_diameter: Number, crank_turns: Number) -> Number:
    """Crank angle through which a shaft may hang back and forth by a backlash.

    Use it on a dial reading at the pitch circle. Through plain idlers give the sum of the backlashes of all meshes:
    an idler passes on what moves at its teeth.

    .. math:: \\varphi = 2 c\\, j / d

    Parameters
    ----------
    backlash : Number
        backlash along the pitch circle, summed over the meshes, :math:`j` [m]
    pitch_diameter : Number
        pitch diameter of the gear on the shaft, :math:`d` [m]
    crank_turns : Number
        turns of the crank for one of the shaft: 2 for a cam, :math:`c` [1]

    Returns
    -------
    result : Number
        lost motion, :math:`\\varphi` [rad]

    Raises
    ------
    OutOfRange
        If ``backlash < 0`` or ``pitch_diameter <= 0`` or ``crank_turns <= 0``.

    Notes
    -----
    No published value: an arc over its radius.

    References
    ----------
    .. [1] definition, angle of an arc.

    Examples
    --------
    >>> round(float(np.degrees(lost_motion(backlash=0.0001, pitch_diameter=0.12, crank_turns=2))), 3)
    0.191
    """
    require("backlash", backlash, "m", at_least=0)
    require("pitch_diameter", pitch_diameter, "m", above=0)
    require("crank_turns", crank_turns, "1", above=0)
    return 2 * crank_turns * backlash / pitch_diameter


def _involute(angle: Number) -> Number:
    result: Number = np.tan(angle) - angle
    return result


def _pressure(angle: Number) -> None:
    require("pressure_angle", angle, "rad", above=0, source="derived")
    _slant("pressure_angle", angle, "derived")


def _slant(name: str, angle: Number, source: str) -> None:
    require(name, angle, "rad", source=source)
    steep = np.abs(angle) >= np.pi / 2
    if np.any(steep):
        refuse(name, angle, np.asarray(steep), "rad", "less than a quarter turn", source=source)
