"""What a skim changes outside the cylinder."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Number = float | NDArray[np.float64]


def thickness_left(*, thickness: Number, skim: Number) -> Number:
    """Thickness of a head after its skim.

    Parameters
    ----------
    thickness : thickness as measured [m]
    skim : metal removed [m]

    Returns
    -------
    thickness left [m]

    Source
    ------
    Definition.
    """
    return thickness - skim


def intake_face_cut(*, skim: Number, half_angle: Number, face_elevation: Number) -> Number:
    """Metal to take from each intake face of a V engine so that the manifold meets again, equal banks.

    The head moves by skim (sin a, cos a); faces may lose c along their normal and the manifold may drop:
    c / skim = sin(a) / cos(e). Both heads lose the same.

    Parameters
    ----------
    skim : metal removed from each head or deck [m]
    half_angle : half the angle between the banks [rad]
    face_elevation : inward normal of the intake face above the horizontal [rad]

    Returns
    -------
    cut normal to each intake face [m]

    Source
    ------
    Derived from the geometry; at 60 and 90 degrees the factors 0.577 and 1.000 for a square face (no published value).
    """
    return skim * np.sin(half_angle) / np.cos(face_elevation)


def manifold_drop(*, skim: Number, half_angle: Number, face_elevation: Number) -> Number:
    """How far the manifold of a V engine comes down when both heads lose the same.

    v / skim = cos(a - e) / cos(e); the end rails of the valley lose as much.

    Parameters
    ----------
    skim : metal removed from each head or deck [m]
    half_angle : half the angle between the banks [rad]
    face_elevation : inward normal of the intake face above the horizontal [rad]

    Returns
    -------
    drop of the manifold [m]

    Source
    ------
    Derived from the geometry; at 60 and 90 degrees the factors 1.155 and 1.414 for a square face (no published value).
    """
    return skim * np.cos(half_angle - face_elevation) / np.cos(face_elevation)
