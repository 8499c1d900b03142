"""Shapes of lobes: the cam of three arcs, the contour of a table, the lift that wear has left."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from endfloat.formulas.bounds import Number, refuse, require


class ThreeArcs(NamedTuple):
    """Centres, radii and blend of a cam of circular flanks and a circular nose."""

    flank_centre: Number
    flank_radius: Number
    nose_centre: Number
    blend_angle: Number


class ThreeArcLift(NamedTuple):
    """Lift of a flat follower and its first two derivatives by the cam angle."""

    lift: Number
    slope: Number
    second: Number


class Contour(NamedTuple):
    """A point of the outline of a lobe, seen from the cam's centre."""

    across: Number
    along: Number


def three_arcs(*, base_radius: Number, lift: Number, nose_radius: Number, half_angle: Number) -> ThreeArcs:
    """Centres and radii of a cam whose flanks and nose are arcs of circles.

    Old engines and many pumps have such cams; from four sizes that can be measured the whole lobe follows.

    .. math:: OQ = R_b + L - r_n,\\quad OP = \\frac{OQ^2 - (R_b - r_n)^2}{2(R_b - r_n - OQ\\cos\\alpha)}

    Parameters
    ----------
    base_radius : Number
        radius of the base circle, :math:`R_b` [m]
    lift : Number
        full lift, :math:`L` [m]
    nose_radius : Number
        radius of the nose, :math:`r_n` [m]
    half_angle : Number
        cam angle from the start of the lift to the nose, :math:`\\alpha` [rad]

    Returns
    -------
    flank_centre : Number
        from the cam's centre to that of the flank arc, :math:`OP` [m]
    flank_radius : Number
        radius of the flank arc [m]
    nose_centre : Number
        from the cam's centre to that of the nose arc, :math:`OQ` [m]
    blend_angle : Number
        cam angle from the start of the lift at which flank meets nose, :math:`\\phi` [rad]

    Raises
    ------
    OutOfRange
        If ``base_radius <= 0``, ``lift <= 0``, ``nose_radius <= 0`` or ``half_angle <= 0``; if the nose is not
        smaller than the base circle, or so near that no convex flank joins them.

    Notes
    -----
    Assumes: flanks that touch base circle and nose without a corner, both alike.

    References
    ----------
    .. [1] bevan, chapter 9, example 5, p. 300.
    .. [2] derived, the arcs touch where their centres and the contact lie on one line.

    Examples
    --------
    >>> arcs = three_arcs(base_radius=1.125, lift=0.5, nose_radius=0.125, half_angle=np.radians(55))
    >>> round(float(arcs.flank_centre), 3), round(float(np.degrees(arcs.blend_angle)), 3)
    (4.476, 12.967)
    """
    for name, value in (("base_radius", base_radius), ("lift", lift), ("nose_radius", nose_radius)):
        require(name, value, "m", above=0, source="bevan")
    require("half_angle", half_angle, "rad", above=0, source="bevan")
    step = base_radius - nose_radius
    nose_centre = base_radius + lift - nose_radius
    room = step - nose_centre * np.cos(half_angle)
    thin = np.asarray((step <= 0) | (room <= 0))
    if np.any(thin):
        expected = "a nose that a convex flank of radius above 0 joins to the base circle"
        refuse("nose_radius", nose_radius, thin, "m", expected, source="bevan")
    flank_centre = (nose_centre**2 - step**2) / (2 * room)
    blend = np.arcsin(nose_centre * np.sin(half_angle) / (flank_centre + step))
    return ThreeArcs(flank_centre, flank_centre + base_radius, nose_centre, blend)


def three_arc_lift(
    *, angle: Number, base_radius: Number, lift: Number, nose_radius: Number, half_angle: Number
) -> ThreeArcLift:
    """Lift of a flat follower on a cam of three arcs.

    On the flank s = OP (1 - cos), over the nose s = OQ cos(alpha - angle) - (Rb - rn), the same on both sides.

    Parameters
    ----------
    angle : Number
        cam angle from the nose, positive after it [rad]
    base_radius : Number
        radius of the base circle, :math:`R_b` [m]
    lift : Number
        full lift, :math:`L` [m]
    nose_radius : Number
        radius of the nose, :math:`r_n` [m]
    half_angle : Number
        cam angle from the start of the lift to the nose, :math:`\\alpha` [rad]

    Returns
    -------
    lift : Number
        lift [m]
    slope : Number
        lift gained in one radian of the cam [m]
    second : Number
        second derivative of the lift by the cam angle [m]

    Raises
    ------
    OutOfRange
        As `three_arcs`: ``base_radius <= 0``, ``lift <= 0``, ``nose_radius <= 0`` or ``half_angle <= 0``.

    References
    ----------
    .. [1] bevan, chapter 9, example 5, p. 300.

    Examples
    --------
    >>> cam = dict(base_radius=0.015, lift=0.008, nose_radius=0.003, half_angle=np.radians(60))
    >>> [round(float(each), 9) for each in three_arc_lift(angle=np.radians(60), **cam)[:2]]
    [0.0, 0.0]
    """
    require("angle", angle, "rad", source="bevan")
    arcs = three_arcs(base_radius=base_radius, lift=lift, nose_radius=nose_radius, half_angle=half_angle)
    since = half_angle - np.abs(angle)
    nose = since > arcs.blend_angle
    on = since > 0
    centre, turn = np.where(nose, arcs.nose_centre, arcs.flank_centre), np.where(nose, angle, since)
    sine, cosine = centre * np.sin(turn), centre * np.cos(turn)
    raised = np.where(nose, cosine - (base_radius - nose_radius), centre - cosine)
    slope = np.where(nose, -sine, -np.sign(angle) * sine)
    second = np.where(nose, -cosine, cosine)
    return ThreeArcLift(*(np.where(on, each, 0.0)[()] for each in (raised, slope, second)))


def cam_contour(*, angle: Number, base_radius: Number, lift: Number, slope: Number) -> Contour:
    """Where a flat follower touches the lobe, in axes that turn with the cam.

    To draw the lobe a table belongs to, or to compare it with a worn one. The second axis points to where the
    table's angle is nought.

    .. math:: x = (R_b + s)\\sin\\theta + s'\\cos\\theta,\\quad y = (R_b + s)\\cos\\theta - s'\\sin\\theta

    Parameters
    ----------
    angle : Number
        cam angle of the table, :math:`\\theta` [rad]
    base_radius : Number
        radius of the base circle, :math:`R_b` [m]
    lift : Number
        lift of the flat follower, :math:`s` [m]
    slope : Number
        lift gained in one radian of the cam, :math:`s'` [m]

    Returns
    -------
    across : Number
        across the axis on which the angle is nought, :math:`x` [m]
    along : Number
        along it, :math:`y` [m]

    Raises
    ------
    OutOfRange
        If ``base_radius <= 0``.

    Notes
    -----
    Valid for: a flat follower square to its travel.
    No published value: the outline of the three-arc cam must fall on its circles, by shapely in the tests.

    References
    ----------
    .. [1] derived, envelope of the follower's face.

    Examples
    --------
    >>> [round(float(each), 6) for each in cam_contour(angle=0.0, base_radius=0.015, lift=0.01, slope=0.0)]
    [0.0, 0.025]
    """
    require("angle", angle, "rad", source="derived")
    require("base_radius", base_radius, "m", above=0, source="derived")
    require("lift", lift, "m", source="derived")
    require("slope", slope, "m", source="derived")
    sine, cosine, out = np.sin(angle), np.cos(angle), base_radius + lift
    return Contour(out * sine + slope * cosine, out * cosine - slope * sine)


def lobe_lift(*, lobe_height: Number, base_diameter: Number) -> Number:
    """Lift of a lobe by micrometer: its height over the nose less the base circle.

    Parameters
    ----------
    lobe_height : Number
        over nose and base circle [m]
    base_diameter : Number
        across the base circle, square to the height [m]

    Returns
    -------
    result : Number
        lift at the lobe [m]

    Raises
    ------
    OutOfRange
        If ``lobe_height <= 0`` or ``base_diameter <= 0``, or the height is less than the diameter.

    Notes
    -----
    Valid for: lobes whose ramps have ended where the base circle is measured.
    No published value: an identity.

    References
    ----------
    .. [1] definition.

    Examples
    --------
    >>> round(lobe_lift(lobe_height=0.0402, base_diameter=0.0310), 6)
    0.0092
    """
    require("lobe_height", lobe_height, "m", above=0)
    require("base_diameter", base_diameter, "m", above=0)
    lift = lobe_height - base_diameter
    if np.any(bad := np.asarray(lift < 0)):
        refuse("lobe_height", lobe_height, bad, "m", "a height of at least 1 base diameter", source="definition")
    return lift
