"""What a skim changes outside the cylinder, and what it leaves alone.

Left alone by a head skim: squish of a pad flush with the fire face, tappet clearance when cam and valves are all in
the head, seats, spring heights, valve sink. A thicker gasket is a skim below nought throughout.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import require

Number = float | NDArray[np.float64]
QUARTER = np.pi / 2
"""A right angle: an intake face that lies flat or stands upright cannot be put right by cutting it."""


def thickness_left(*, thickness: Number, skim: Number) -> Number:
    """Thickness of a head after its skim.

    Parameters
    ----------
    thickness : Number
        thickness as measured [m]
    skim : Number
        metal removed [m]

    Returns
    -------
    result : Number
        thickness left [m]

    Raises
    ------
    OutOfRange
        If ``thickness <= 0``.

    References
    ----------
    .. [1] definition.

    Examples
    --------
    >>> round(thickness_left(thickness=0.128, skim=0.00025), 9)
    0.12775
    """
    require("thickness", thickness, "m", above=0)
    require("skim", skim, "m")
    return thickness - skim


def intake_face_cut(*, skim: Number, other_skim: Number, half_angle: Number, face_elevation: Number) -> Number:
    """Metal to take from an intake face of a V engine so that the manifold meets again.

    With a the half angle and e the elevation, the manifold moves sideways by
    h = -(t1 - t2) cos(e - a) / (2 sin e), and the face loses c1 = (t1 sin a + h) / cos e.

    Parameters
    ----------
    skim : Number
        metal removed from this head or deck [m]
    other_skim : Number
        metal removed from the head or deck of the other bank [m]
    half_angle : Number
        half the angle between the banks [rad]
    face_elevation : Number
        inward normal of the intake face above the horizontal [rad]

    Returns
    -------
    result : Number
        cut square to this intake face [m]

    Raises
    ------
    OutOfRange
        If ``half_angle < 0``, ``half_angle > 1.5707963267948966``, ``face_elevation <= 0`` or
        ``face_elevation >= 1.5707963267948966``.

    References
    ----------
    .. [1] derived, from the geometry.

    Examples
    --------
    >>> square = dict(half_angle=np.pi / 4, face_elevation=np.pi / 4)
    >>> round(float(intake_face_cut(skim=0.00025, other_skim=0.00025, **square)), 9)
    0.00025
    """
    sideways = manifold_shift(skim=skim, other_skim=other_skim, half_angle=half_angle, face_elevation=face_elevation)
    cut: Number = (skim * np.sin(half_angle) + sideways) / np.cos(face_elevation)
    return cut


def intake_face_left(
    *, skim: Number, other_skim: Number, half_angle: Number, face_elevation: Number, cut: Number
) -> Number:
    """What is still to be taken from an intake face after a cut; negative when too much was taken.

    Parameters
    ----------
    skim : Number
        metal removed from this head or deck [m]
    other_skim : Number
        metal removed from the head or deck of the other bank [m]
    half_angle : Number
        half the angle between the banks [rad]
    face_elevation : Number
        inward normal of the intake face above the horizontal [rad]
    cut : Number
        metal taken from this intake face [m]

    Returns
    -------
    result : Number
        metal still to take [m]

    Raises
    ------
    OutOfRange
        If ``half_angle < 0``, ``half_angle > 1.5707963267948966``, ``face_elevation <= 0`` or
        ``face_elevation >= 1.5707963267948966``.

    Notes
    -----
    No published value: checked by its neighbour.

    References
    ----------
    .. [1] derived, from the geometry.

    Examples
    --------
    >>> square = dict(half_angle=np.pi / 4, face_elevation=np.pi / 4)
    >>> round(float(intake_face_left(skim=0.00025, other_skim=0.00025, cut=0.0002, **square)), 9)
    5e-05
    """
    needed = intake_face_cut(skim=skim, other_skim=other_skim, half_angle=half_angle, face_elevation=face_elevation)
    require("cut", cut, "m", source="derived")
    return needed - cut


def manifold_drop(*, skim: Number, other_skim: Number, half_angle: Number, face_elevation: Number) -> Number:
    """How far the manifold of a V engine comes down; the end rails of the valley lose as much.

    v = t1 cos a + c1 sin e, the same from either bank.

    Parameters
    ----------
    skim : Number
        metal removed from one head or deck [m]
    other_skim : Number
        metal removed from the head or deck of the other bank [m]
    half_angle : Number
        half the angle between the banks [rad]
    face_elevation : Number
        inward normal of the intake face above the horizontal [rad]

    Returns
    -------
    result : Number
        drop of the manifold [m]

    Raises
    ------
    OutOfRange
        If ``half_angle < 0``, ``half_angle > 1.5707963267948966``, ``face_elevation <= 0`` or
        ``face_elevation >= 1.5707963267948966``.

    References
    ----------
    .. [1] derived, from the geometry.

    Examples
    --------
    >>> square = dict(half_angle=np.pi / 4, face_elevation=np.pi / 4)
    >>> round(float(manifold_drop(skim=0.00025, other_skim=0.00025, **square)), 9)
    0.000353553
    """
    cut = intake_face_cut(skim=skim, other_skim=other_skim, half_angle=half_angle, face_elevation=face_elevation)
    return skim * np.cos(half_angle) + cut * np.sin(face_elevation)


def manifold_shift(*, skim: Number, other_skim: Number, half_angle: Number, face_elevation: Number) -> Number:
    """How far the manifold of a V engine moves sideways when its banks lose unequal amounts.

    h = -(t1 - t2) cos(e - a) / (2 sin e), nought when both lose the same.

    Parameters
    ----------
    skim : Number
        metal removed from this head or deck [m]
    other_skim : Number
        metal removed from the head or deck of the other bank [m]
    half_angle : Number
        half the angle between the banks [rad]
    face_elevation : Number
        inward normal of the intake face above the horizontal [rad]

    Returns
    -------
    result : Number
        shift of the manifold towards this bank [m]

    Raises
    ------
    OutOfRange
        If ``half_angle < 0``, ``half_angle > 1.5707963267948966``, ``face_elevation <= 0`` or
        ``face_elevation >= 1.5707963267948966``.

    References
    ----------
    .. [1] derived, from the geometry.

    Examples
    --------
    >>> faces = dict(half_angle=np.radians(45), face_elevation=np.radians(55))
    >>> round(float(manifold_shift(skim=0.0003, other_skim=0.0001, **faces)), 6)
    -0.00012
    """
    require("skim", skim, "m", source="derived")
    require("other_skim", other_skim, "m", source="derived")
    require("half_angle", half_angle, "rad", at_least=0, at_most=QUARTER, source="derived")
    require("face_elevation", face_elevation, "rad", above=0, below=QUARTER, source="derived")
    shift: Number = -(skim - other_skim) * np.cos(face_elevation - half_angle) / (2 * np.sin(face_elevation))
    return shift


def chamber_left(*, chamber: Number, chamber_area: Number, skim: Number) -> Number:
    """Volume of a chamber after a skim, by its open area at the fire face.

    Parameters
    ----------
    chamber : Number
        volume of the chamber before the skim [m3]
    chamber_area : Number
        open area of the chamber at the fire face, the mean over the depth of the skim [m2]
    skim : Number
        metal removed [m]

    Returns
    -------
    result : Number
        volume left [m3]

    Raises
    ------
    OutOfRange
        If ``chamber < 0`` or ``chamber_area < 0``, or if the skim takes more than the chamber.

    Notes
    -----
    Assumes: walls upright over the skim, or an area that is the mean over its depth.

    References
    ----------
    .. [1] definition.

    Examples
    --------
    >>> round(chamber_left(chamber=43.3e-6, chamber_area=48e-4, skim=0.00025) * 1e6, 2)
    42.1
    """
    require("chamber_area", chamber_area, "m2", at_least=0)
    require("skim", skim, "m")
    taken = chamber_area * skim
    require("chamber", chamber, "m3", at_least=np.maximum(taken, 0.0))
    return chamber - taken


def skim_for_chamber(*, chamber: Number, chamber_area: Number, wanted: Number) -> Number:
    """Skim that brings a chamber down to a wanted volume, to make all chambers of an engine equal.

    Parameters
    ----------
    chamber : Number
        volume of the chamber as measured [m3]
    chamber_area : Number
        open area of the chamber at the fire face, the mean over the depth of the skim [m2]
    wanted : Number
        volume wanted [m3]

    Returns
    -------
    result : Number
        metal to remove, negative when the chamber is already smaller [m]

    Raises
    ------
    OutOfRange
        If ``chamber <= 0``, ``chamber_area <= 0`` or ``wanted < 0``.

    Notes
    -----
    No published value: the way back from the volume left.

    References
    ----------
    .. [1] definition.

    Examples
    --------
    >>> round(skim_for_chamber(chamber=43.3e-6, chamber_area=48e-4, wanted=42.1e-6), 6)
    0.00025
    """
    require("chamber", chamber, "m3", above=0)
    require("chamber_area", chamber_area, "m2", above=0)
    require("wanted", wanted, "m3", at_least=0)
    return (chamber - wanted) / chamber_area
