"""Phase of gears: marks, movement of an axis, and when marks meet again."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import refuse, require

Array = NDArray[np.float64]
Number = float | Array


def driven_mark(*, mark: Number, line: Number, teeth: Number, driven_teeth: Number) -> Number:
    """Where the mark of a driven gear stands when that of its driver stands at an angle.

    Use it to see where two marks that met on the line of centres have gone. The mark is a tooth on one gear and the
    space that takes it on the other.

    .. math:: \\varphi_2 = \\lambda + \\pi - (\\varphi_1 - \\lambda) z_1 / z_2

    Parameters
    ----------
    mark : Number
        direction of the driver's mark, anticlockwise from the right, turns counted, :math:`\\varphi_1` [rad]
    line : Number
        direction from the driver's centre to the driven one, :math:`\\lambda` [rad]
    teeth : Number
        teeth of the driver, :math:`z_1` [1]
    driven_teeth : Number
        teeth of the driven gear, :math:`z_2` [1]

    Returns
    -------
    result : Number
        direction of the driven gear's mark from its own centre, :math:`\\varphi_2` [rad]

    Raises
    ------
    OutOfRange
        If ``teeth < 3`` or ``driven_teeth < 3``.

    Notes
    -----
    No published value: as many teeth pass on one gear as on the other.
    Assumes: outer teeth, and marks that met on the line of centres.

    References
    ----------
    .. [1] definition, meshing gears turn opposite ways, tooth by tooth.

    Examples
    --------
    >>> round(float(np.degrees(driven_mark(mark=np.pi / 2, line=0.0, teeth=24, driven_teeth=48))), 6)
    135.0
    """
    require("mark", mark, "rad")
    require("line", line, "rad")
    require("teeth", teeth, "1", at_least=3)
    require("driven_teeth", driven_teeth, "1", at_least=3)
    return line + np.pi - (mark - line) * teeth / driven_teeth


def gear_retard_by_shift(
    *, apart: Number, sideways: Number, pressure_angle: Number, pitch_diameter: Number, crank_turns: Number
) -> Number:
    """How late a shaft comes, in crank angle, when its gear has moved beside the gear that drives it.

    Use it for a skimmed head or a bored main on a gear drive. Gears push where chains pull: axes that come together
    make the driven shaft early, until the backlash is gone.

    .. math:: \\varphi = 2 c\\,(u \\tan\\alpha + v) / d

    Parameters
    ----------
    apart : Number
        way of the driven gear's centre straight away from the driver, minus when nearer, :math:`u` [m]
    sideways : Number
        way of its centre across the line of centres, as the driver's teeth go at the mesh, :math:`v` [m]
    pressure_angle : Number
        working pressure angle across the axis, from `timing_gears.working_pressure_angle`, :math:`\\alpha` [rad]
    pitch_diameter : Number
        working pitch diameter of the driven gear, :math:`d` [m]
    crank_turns : Number
        turns of the crank for one of the driven shaft: 2 for a cam, :math:`c` [1]

    Returns
    -------
    result : Number
        retard, minus when early, :math:`\\varphi` [rad]

    Raises
    ------
    OutOfRange
        If ``pressure_angle <= 0`` or ``pitch_diameter <= 0`` or ``crank_turns <= 0``, or if the pressure angle is not
        under a quarter turn.

    Notes
    -----
    No published value: checked against two involute flanks drawn point by point.
    Valid for: flanks that stay in touch on the driving side, and ways that are small beside the gears.

    References
    ----------
    .. [1] derived, way along the line of action over the base radius.

    Examples
    --------
    >>> gear = dict(pressure_angle=np.radians(20), pitch_diameter=0.12, crank_turns=2)
    >>> round(float(np.degrees(gear_retard_by_shift(apart=-0.00025, sideways=0.0, **gear))), 3)
    -0.174
    """
    _pressure(pressure_angle)
    require("pitch_diameter", pitch_diameter, "m", above=0, source="derived")
    require("crank_turns", crank_turns, "1", above=0, source="derived")
    result: Number = 2 * crank_turns * (apart * np.tan(pressure_angle) + sideways) / pitch_diameter
    return result


def turns_until_gears_meet(*, teeth: Array) -> Number:
    """Turns of the crank until all gear marks of a train stand on their lines again.

    Use it before two turns by hand: a cam gear of twice the crank's teeth is back after two, an idler may take many.

    .. math:: T = \\mathrm{lcm}(z_1, z_2, \\ldots) / z_1

    Parameters
    ----------
    teeth : Array
        teeth of the gears along the last axis, that of the crank first, :math:`z` [1]

    Returns
    -------
    result : Number
        turns of the crank, :math:`T` [1]

    Raises
    ------
    OutOfRange
        If ``teeth < 3``, or if it is not a whole number.

    Notes
    -----
    No published value: an identity of whole numbers; a count by brute force agrees.
    Assumes: plain idlers, each gear meshing with the next.

    References
    ----------
    .. [1] derived, least common multiple.

    Examples
    --------
    >>> float(turns_until_gears_meet(teeth=np.array([30.0, 47.0, 60.0])))
    94.0
    """
    require("teeth", teeth, "1", at_least=3, source="derived")
    broken = np.asarray(teeth) % 1 != 0
    if np.any(broken):
        refuse("teeth", teeth, broken, "1", "a whole number", source="derived")
    # Whole numbers of Python do not overflow, and a train of many unlike gears has a large common multiple.
    gears = np.atleast_1d(np.asarray(teeth)).astype(np.int64).astype(object)
    result: Number = np.asarray(np.lcm.reduce(gears, axis=-1) // gears[..., 0], dtype=np.float64)
    return result


def _pressure(angle: Number) -> None:
    require("pressure_angle", angle, "rad", above=0, source="derived")
    steep = np.asarray(angle) >= np.pi / 2
    if np.any(steep):
        refuse("pressure_angle", angle, steep, "rad", "less than a quarter turn", source="derived")
