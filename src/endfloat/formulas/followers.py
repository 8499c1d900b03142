"""Followers on their lobes: flat, roller and rocker."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from endfloat.formulas.bounds import Number, refuse, require


class FlatContact(NamedTuple):
    """Where a flat follower is touched and how sharp the lobe is there."""

    offset: Number
    lobe_radius: Number


def flat_contact(*, base_radius: Number, lift: Number, slope: Number, second: Number) -> FlatContact:
    """Where a lobe touches a flat tappet or bucket, and the lobe's radius of curvature there.

    A small radius at the nose means high pressure; one that is negative could not be ground and would cut itself.

    .. math:: o = s',\\quad \\rho = R_b + s + s''

    Parameters
    ----------
    base_radius : Number
        radius of the base circle, :math:`R_b` [m]
    lift : Number
        lift of the follower, :math:`s` [m]
    slope : Number
        lift gained in one radian of the cam, :math:`s'` [m]
    second : Number
        second derivative of the lift by the cam angle, :math:`s''` [m]

    Returns
    -------
    offset : Number
        from the follower's axis to the contact, :math:`o` [m]
    lobe_radius : Number
        radius of curvature of the lobe, positive convex, :math:`\\rho` [m]

    Raises
    ------
    OutOfRange
        If ``base_radius <= 0``.

    Notes
    -----
    Valid for: a flat face square to its travel; angles are those of the cam, not of the crank.
    No published value: the arcs of a three-arc cam must come out, in the tests.

    References
    ----------
    .. [1] derived, the face is the tangent of the lobe.

    Examples
    --------
    >>> found = flat_contact(base_radius=0.015, lift=0.008, slope=0.0, second=-0.015)
    >>> round(float(found.lobe_radius), 6)
    0.008
    """
    require("base_radius", base_radius, "m", above=0, source="derived")
    for name, value in (("lift", lift), ("slope", slope), ("second", second)):
        require(name, value, "m", source="derived")
    return FlatContact(slope, base_radius + lift + second)


def face_radius_needed(*, slopes: Number, land: Number) -> Number:
    """Smallest radius of a tappet's face on which the lobe never runs over the edge.

    Parameters
    ----------
    slopes : Number
        lift gained in one radian of the cam, angles along the last axis [m]
    land : Number
        width to be kept outside the contact [m]

    Returns
    -------
    result : Number
        radius of the face [m]

    Raises
    ------
    OutOfRange
        If ``land < 0``.

    Notes
    -----
    Valid for: a narrow lobe over the middle; with half the lobe's width w the contact reaches the root of the sum
    of squares of w and this radius.
    No published value: an identity.

    References
    ----------
    .. [1] derived, the contact wanders by the slope.

    Examples
    --------
    >>> round(float(face_radius_needed(slopes=np.array([0.0, 0.012, -0.013]), land=0.001)), 6)
    0.014
    """
    require("slopes", slopes, "m", source="derived")
    require("land", land, "m", at_least=0, source="derived")
    return np.asarray(np.max(np.abs(np.atleast_1d(slopes)), axis=-1) + land)[()]


def roller_pressure_angle(
    *, base_radius: Number, roller_radius: Number, offset: Number, lift: Number, slope: Number
) -> Number:
    """Angle between the push on a roller follower and its travel.

    .. math:: \\tan\\alpha = \\frac{s' - e}{\\sqrt{(R_b + R_r)^2 - e^2} + s}

    Parameters
    ----------
    base_radius : Number
        radius of the base circle, :math:`R_b` [m]
    roller_radius : Number
        radius of the roller, :math:`R_r` [m]
    offset : Number
        of the line of travel from the cam's centre, toward the side the lobe comes from, :math:`e` [m]
    lift : Number
        lift of the roller, :math:`s` [m]
    slope : Number
        lift gained in one radian of the cam, :math:`s'` [m]

    Returns
    -------
    result : Number
        pressure angle, :math:`\\alpha` [rad]

    Raises
    ------
    OutOfRange
        If ``base_radius <= 0``, ``roller_radius <= 0`` or ``lift < 0``; if the offset reaches the two radii.

    Notes
    -----
    Valid for: a roller that travels on a straight line.
    No published value: the normal of the path of the roller's centre must agree, in the tests.

    References
    ----------
    .. [1] memory, as textbooks of machine kinematics give it.

    Examples
    --------
    >>> place = dict(base_radius=0.018, roller_radius=0.009, offset=0.0, lift=0.003, slope=0.010)
    >>> round(float(np.degrees(roller_pressure_angle(**place))), 3)
    18.435
    """
    require("base_radius", base_radius, "m", above=0, source="memory")
    require("roller_radius", roller_radius, "m", above=0, source="memory")
    require("lift", lift, "m", at_least=0, source="memory")
    require("offset", offset, "m", source="memory")
    require("slope", slope, "m", source="memory")
    reach = base_radius + roller_radius
    far = np.asarray(np.abs(offset) >= reach)
    if np.any(far):
        refuse("offset", offset, far, "m", "an offset of less than 1 base and roller radius together", source="memory")
    return np.arctan((slope - offset) / (np.sqrt(reach**2 - np.asarray(offset) ** 2) + lift))[()]


def valve_lift(*, lobe_lift: Number, rocker_ratio: Number, lash: Number) -> Number:
    """Lift of a valve from that of its lobe: less the clearance, and never below nought.

    Parameters
    ----------
    lobe_lift : Number
        lift of the lobe, :math:`s` [m]
    rocker_ratio : Number
        valve lift for lobe lift, one for a bucket, :math:`R` [1]
    lash : Number
        clearance at the valve, nought with hydraulic tappets [m]

    Returns
    -------
    result : Number
        lift of the valve [m]

    Raises
    ------
    OutOfRange
        If ``rocker_ratio <= 0`` or ``lash < 0``.

    Notes
    -----
    Assumes: a ratio that does not change with the lift; a finger's does, so measure at the valve where you can.
    No published value: an identity.

    References
    ----------
    .. [1] definition, ratio times lobe lift, less lash.

    Examples
    --------
    >>> round(float(valve_lift(lobe_lift=0.006, rocker_ratio=1.5, lash=0.0003)), 6)
    0.0087
    """
    require("lobe_lift", lobe_lift, "m")
    require("rocker_ratio", rocker_ratio, "1", above=0)
    require("lash", lash, "m", at_least=0)
    return np.maximum(rocker_ratio * np.asarray(lobe_lift) - lash, 0.0)[()]


def finger_travel_ratio(*, pivot_to_cam: Number, cam_to_valve: Number) -> Number:
    """How far the pivot of a finger goes down when its valve's tip comes up by one.

    The finger turns about the cam's base circle: pivot on one side, valve on the other. With a hydraulic pivot this
    is plunger travel used for each millimetre of seat cut.

    Parameters
    ----------
    pivot_to_cam : Number
        along the finger from the pivot to the cam's line [m]
    cam_to_valve : Number
        along the finger from the cam's line to the valve's axis [m]

    Returns
    -------
    result : Number
        travel of the pivot for tip rise [1]

    Raises
    ------
    OutOfRange
        If ``pivot_to_cam <= 0`` or ``cam_to_valve <= 0``.

    Notes
    -----
    Valid for: small movements of a finger that rests on the base circle.
    No published value: the straight line through three points, in the tests.

    References
    ----------
    .. [1] derived, lever about the contact with the cam.

    Examples
    --------
    >>> round(finger_travel_ratio(pivot_to_cam=0.018, cam_to_valve=0.016), 6)
    1.125
    """
    require("pivot_to_cam", pivot_to_cam, "m", above=0, source="derived")
    require("cam_to_valve", cam_to_valve, "m", above=0, source="derived")
    return pivot_to_cam / cam_to_valve
