"""Stiffness of clamped parts: cones of pressure under the head, layers, or a fit to computed joints."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from endfloat.errors import OutOfRange
from endfloat.formulas.bounds import refuse, require

Number = float | NDArray[np.float64]
Array = NDArray[np.float64]

_FITS = {
    "steel": (0.78715, 0.62873),
    "aluminium": (0.79670, 0.63816),
    "copper": (0.79568, 0.63553),
    "grey iron": (0.77871, 0.61616),
    "general": (0.78952, 0.62914),
}
_JOINTS = ("through", "tapped")


def frustum(*, hole: Number, face: Number, thickness: Number, modulus: Number, half_angle: Number) -> Number:
    r"""Stiffness of one cone of pressure: a layer under a head, a washer, or the wide end of the layer above.

    Thirty degrees is the textbook half angle. The cone must be whole: a boss, a water passage or the next bolt that
    cuts it makes the true joint softer, and engine heads usually do. Then measure, or take `layers` with the outer
    diameter of the boss.

    .. math:: k = \frac{\pi E d \tan\alpha}{\ln\dfrac{(2 t\tan\alpha + D - d)(D + d)}{(2 t\tan\alpha + D + d)(D - d)}}

    Parameters
    ----------
    hole : Number
        diameter of the hole (the textbook takes the bolt), :math:`d` [m]
    face : Number
        diameter of the narrow end of the cone, :math:`D` [m]
    thickness : Number
        thickness of the layer, :math:`t` [m]
    modulus : Number
        Young's modulus of the layer, :math:`E` [Pa]
    half_angle : Number
        half angle of the cone, :math:`\alpha` [rad]

    Returns
    -------
    result : Number
        stiffness, :math:`k` [N/m]

    Raises
    ------
    OutOfRange
        If ``hole <= 0``, ``face <= 0``, ``thickness <= 0``, ``modulus <= 0``, ``half_angle <= 0`` or
        ``half_angle > 0.8``, or if the face is not wider than the hole.

    Notes
    -----
    Valid for: a cone not cut by an edge, a bore or the next bolt.
    Accuracy: some ten per cent against a finite-element joint.

    References
    ----------
    .. [1] shigley-9, equation 8-20, p. 428.

    Examples
    --------
    >>> cone = dict(hole=0.012, face=0.018, thickness=0.020, half_angle=np.pi / 6)
    >>> round(frustum(modulus=207e9, **cone) / 1e6)
    4470
    """
    _check_cone(hole, face, half_angle, "shigley-9")
    require("thickness", thickness, "m", above=0, source="shigley-9")
    require("modulus", modulus, "Pa", above=0, source="shigley-9")
    slope = np.tan(half_angle)
    wide = face + 2 * thickness * slope
    return np.pi * modulus * hole * slope / np.log((wide - hole) * (face + hole) / ((wide + hole) * (face - hole)))


def equal_parts(*, diameter: Number, grip: Number, modulus: Number) -> Number:
    r"""Stiffness of clamped parts of one material between a hexagon head and a nut.

    Two cones of 30 degrees that meet in the middle, under faces one and a half diameters wide.

    .. math:: k_m = \frac{\pi E d \tan 30°}{2\ln\left(5\,\dfrac{l\tan 30° + 0.5 d}{l\tan 30° + 2.5 d}\right)}

    Parameters
    ----------
    diameter : Number
        major diameter of the thread, :math:`d` [m]
    grip : Number
        thickness of all clamped parts, :math:`l` [m]
    modulus : Number
        Young's modulus of the parts, :math:`E` [Pa]

    Returns
    -------
    result : Number
        stiffness, :math:`k_m` [N/m]

    Raises
    ------
    OutOfRange
        If ``diameter <= 0``, ``grip <= 0`` or ``modulus <= 0``.

    Notes
    -----
    Valid for: a cone not cut by an edge, a bore or the next bolt.
    No published value: `layers` with a published one gives the same in the tests.

    References
    ----------
    .. [1] shigley-9, equation 8-22, p. 428.

    Examples
    --------
    >>> round(equal_parts(diameter=0.012, grip=0.040, modulus=207e9) / 1e6)
    2235
    """
    require("diameter", diameter, "m", above=0, source="shigley-9")
    require("grip", grip, "m", above=0, source="shigley-9")
    require("modulus", modulus, "Pa", above=0, source="shigley-9")
    rise = np.tan(np.pi / 6) * grip
    ratio = 5 * (rise + diameter / 2) / (rise + 5 / 2 * diameter)
    result: Number = np.pi * modulus * diameter * np.tan(np.pi / 6) / (2 * np.log(ratio))
    return result


def fitted(*, diameter: Number, grip: Number, share: Number, modulus: Number, material: str) -> Number:
    r"""Stiffness of clamped parts by a fit to finite-element joints; of one half, when two materials meet there.

    Quicker than cones and as good where the joint is a plain stack. For a head on a block, ask for each half
    (`share` one half) and put the two in series with stiffness.in_series.

    .. math:: k_m = \frac{E d A}{s} \exp\frac{B d}{l}

    Parameters
    ----------
    diameter : Number
        major diameter of the thread, :math:`d` [m]
    grip : Number
        thickness of all clamped parts, :math:`l` [m]
    share : Number
        share of the grip that is of this material, from one end: a half or the whole, :math:`s` [1]
    modulus : Number
        Young's modulus of the material, :math:`E` [Pa]
    material : str
        steel, aluminium, copper, grey iron or general [word]

    Returns
    -------
    result : Number
        stiffness, :math:`k_m` [N/m]

    Raises
    ------
    OutOfRange
        If ``diameter <= 0``, ``grip <= 0``, ``share <= 0``, ``share > 1``, ``modulus <= 0``, or the material is not
        known.

    Notes
    -----
    Valid for: two parts of one material, or halves of equal thickness; a share other than a half or the whole is a
    guess.
    Differs from source: the source writes the whole joint; half of a joint alike in both halves is twice as stiff.

    References
    ----------
    .. [1] shigley-9, equation 8-23 and table 8-8, p. 430.

    Examples
    --------
    >>> round(fitted(diameter=0.012, grip=0.040, share=0.5, modulus=207e9, material="steel") / 1e6)
    4722
    """
    require("diameter", diameter, "m", above=0, source="shigley-9")
    require("grip", grip, "m", above=0, source="shigley-9")
    require("share", share, "1", above=0, at_most=1, source="shigley-9")
    require("modulus", modulus, "Pa", above=0, source="shigley-9")
    if material not in _FITS:
        known = ", ".join(_FITS)
        raise OutOfRange(name="material", value=material, expected=known, unit="word", source="shigley-9")
    factor, power = _FITS[material]
    return modulus * diameter * factor / share * np.exp(power * diameter / np.asarray(grip))


def cone_angle(*, joint: str, grip: Number, face: Number, outer: Number) -> Number:
    r"""Half angle of the cone of pressure by the German guideline, from the slenderness of the joint.

    .. math:: \tan\varphi = 0.362 + 0.032\ln\tfrac{\beta_L}{2} + 0.153\ln y\ \text{(through)},\quad
        0.348 + 0.013\ln\beta_L + 0.193\ln y\ \text{(tapped)},\quad \beta_L = l_K/d_W,\ y = D_A/d_W

    Parameters
    ----------
    joint : str
        through (bolt and nut) or tapped [word]
    grip : Number
        thickness of the clamped parts, :math:`l_K` [m]
    face : Number
        outer diameter of the bearing face of head or washer, :math:`d_W` [m]
    outer : Number
        outer diameter of the parts around the bolt, :math:`D_A` [m]

    Returns
    -------
    result : Number
        half angle, :math:`\varphi` [rad]

    Raises
    ------
    OutOfRange
        If ``grip <= 0``, ``face <= 0`` or ``outer <= 0``, if the outer diameter is less than the face, if the slope
        comes out at nought, or the joint is not known.

    Notes
    -----
    Valid for: one material, a concentric joint, outer diameter up to some four faces.
    No published value: no printed example was at hand; the coefficients are from memory.

    References
    ----------
    .. [1] vdi-2230, deformation cone.
    .. [2] memory, the coefficients.

    Examples
    --------
    >>> round(float(np.tan(cone_angle(joint="through", grip=0.040, face=0.0166, outer=0.040))), 3)
    0.503
    """
    _check_joint(joint)
    require("grip", grip, "m", above=0, source="vdi-2230")
    require("face", face, "m", above=0, source="vdi-2230")
    require("outer", outer, "m", above=0, source="vdi-2230")
    narrow = np.asarray(np.asarray(outer) < face)
    if narrow.any():
        refuse("outer", outer, narrow, "m", "at least 1 diameter of the face", source="vdi-2230")
    slender, wide = np.log(grip / np.asarray(face)), np.log(outer / np.asarray(face))
    through = 0.362 + 0.032 * (slender - np.log(2)) + 0.153 * wide
    slope = through if joint == "through" else 0.348 + 0.013 * slender + 0.193 * wide
    if np.any(flat := np.asarray(slope <= 0)):
        refuse("grip", grip, flat, "m", "a grip thick enough for a cone of a slope above 0", source="vdi-2230")
    return np.arctan(slope)


def layers(
    *, joint: str, hole: Number, face: Number, outer: Number, half_angle: Number, thicknesses: Array, moduli: Array
) -> Number:
    r"""Stiffness of a stack of layers of any materials, by cones of pressure that end at an outer diameter.

    The usual case at the bench: an aluminium head on an iron block, a washer on top. Give the layers from the head
    of the bolt down. With a nut two cones meet in the middle of the grip and a layer there is split; in a tapped hole
    one cone opens all the way. Thirty degrees and the bolt's own diameter as hole give the textbook's figures.

    .. math:: \frac{1}{k_m} = \int_0^{l} \frac{dx}{E(x)\,\tfrac{\pi}{4}\left(D(x)^2 - d_h^2\right)},\quad
        D(x) = \min(d_W + 2 x\tan\varphi,\ D_A)

    Parameters
    ----------
    joint : str
        through (two cones) or tapped (one cone) [word]
    hole : Number
        diameter of the hole, :math:`d_h` [m]
    face : Number
        outer diameter of the bearing face of head or washer, :math:`d_W` [m]
    outer : Number
        outer diameter of the parts around the bolt; large when nothing cuts the cone, :math:`D_A` [m]
    half_angle : Number
        half angle of the cone, :math:`\varphi` [rad]
    thicknesses : Array
        thickness of each layer from the head down, along the last axis [m]
    moduli : Array
        Young's modulus of each layer, along the last axis [Pa]

    Returns
    -------
    result : Number
        stiffness, :math:`k_m` [N/m]

    Raises
    ------
    OutOfRange
        If ``hole <= 0``, ``face <= 0``, ``outer <= 0``, ``half_angle <= 0``, ``half_angle > 0.8``,
        ``thicknesses <= 0`` or ``moduli <= 0``, if face or outer diameter is not wider than the hole, or the joint is
        not known.

    Notes
    -----
    Assumes: both faces of a through joint are equal, and the angle does not change from layer to layer.
    Differs from source: the textbook takes a screw in a tapped hole as two cones over the effective grip; for that
    figure ask for a through joint with the effective grip of bolts.tapped_grip.
    Accuracy: some ten per cent where the cone is whole, thirty where ribs and passages cut it.

    References
    ----------
    .. [1] shigley-9, section 8-5, p. 427.
    .. [2] vdi-2230, deformation cone and sleeve.

    Examples
    --------
    >>> stack = dict(thicknesses=np.array([0.020, 0.025]), moduli=np.array([207e9, 100e9]))
    >>> cone = dict(hole=0.012, face=0.018, outer=1.0, half_angle=np.pi / 6)
    >>> round(layers(joint="through", **cone, **stack) / 1e6)
    1379
    """
    _check_joint(joint)
    _check_cone(hole, face, half_angle, "vdi-2230")
    require("outer", outer, "m", above=0, source="vdi-2230")
    require("thicknesses", thicknesses, "m", above=0, source="vdi-2230")
    require("moduli", moduli, "Pa", above=0, source="vdi-2230")
    narrow = np.asarray(np.asarray(outer) <= hole)
    if narrow.any():
        refuse("outer", outer, narrow, "m", "more than 1 diameter of the hole", source="vdi-2230")
    below = np.cumsum(thicknesses, axis=-1)
    above, grip = below - thicknesses, below[..., -1:]
    shape = [np.asarray(each)[..., None] for each in (hole, face, outer, half_angle)]
    middle = grip if joint == "tapped" else grip / 2
    upper = _give(np.minimum(above, middle), np.minimum(below, middle), *shape)
    lower = _give(grip - np.maximum(below, middle), grip - np.maximum(above, middle), *shape)
    result: Number = 1 / np.sum((upper + lower) / moduli, axis=-1)
    return result


def _give(begin: Array, end: Array, hole: Array, face: Array, outer: Array, half_angle: Array) -> Array:
    """Length over area, between two depths under a face: the part within the cone and the part in the sleeve."""
    slope = np.tan(half_angle)
    whole = np.maximum((outer - face) / (2 * slope), 0.0)
    start = np.minimum(face, outer)
    near, far = (start + 2 * slope * np.minimum(depth, whole) for depth in (begin, end))
    cone = np.log((far - hole) * (near + hole) / ((far + hole) * (near - hole))) / (np.pi * hole * slope)
    sleeve = np.maximum(end - np.maximum(begin, whole), 0.0)
    return np.asarray(cone + sleeve / (np.pi / 4 * (outer**2 - hole**2)))


def _check_joint(joint: str) -> None:
    if joint not in _JOINTS:
        raise OutOfRange(name="joint", value=joint, expected=" or ".join(_JOINTS), unit="word", source="vdi-2230")


def _check_cone(hole: Number, face: Number, half_angle: Number, source: str) -> None:
    require("hole", hole, "m", above=0, source=source)
    require("face", face, "m", above=0, source=source)
    require("half_angle", half_angle, "rad", above=0, at_most=0.8, source=source)
    narrow = np.asarray(np.asarray(face) <= hole)
    if narrow.any():
        refuse("face", face, narrow, "m", "more than 1 diameter of the hole", source=source)
