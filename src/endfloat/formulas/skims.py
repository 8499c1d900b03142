"""What a skim changes outside the cylinder."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Number = float | NDArray[np.float64]


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

    Notes
    -----
    No published value: an identity.

    References
    ----------
    .. [1] definition.

    Examples
    --------
    >>> round(thickness_left(thickness=0.128, skim=0.00025), 9)
    0.12775
    """
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

    Notes
    -----
    No published value: the face square to its deck is checked by its known factors.

    References
    ----------
    .. [1] derived, from the geometry.

    Examples
    --------
    >>> square = dict(half_angle=np.pi / 4, face_elevation=np.pi / 4)
    >>> round(float(intake_face_cut(skim=0.00025, other_skim=0.00025, **square)), 9)
    0.00025
    """
    sideways = -(skim - other_skim) * np.cos(face_elevation - half_angle) / (2 * np.sin(face_elevation))
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

    Notes
    -----
    No published value: both banks must give the same.

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
