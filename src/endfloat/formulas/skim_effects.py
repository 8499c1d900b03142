"""Gaps and meshes that a skim of head or deck closes, and by how much."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import require

Number = float | NDArray[np.float64]


def squish_after_skims(*, gasket: Number, deck: Number, recess: Number, head_skim: Number, deck_skim: Number) -> Number:
    """Squish gap after skims of head and deck: the head's skim counts only while a pad lies below the fire face.

    A pad flush with the face (recess nought) is cut with it, so the gap stays. A deck skim always closes it in full.

    .. math:: s = t + c - d + \\max(r - h, 0)

    Parameters
    ----------
    gasket : Number
        thickness of the compressed gasket, :math:`t` [m]
    deck : Number
        piston below the deck at top dead centre before the skim, positive below, :math:`c` [m]
    recess : Number
        depth of the pad from the fire face before the skim, :math:`r` [m]
    head_skim : Number
        metal removed from the fire face, :math:`h` [m]
    deck_skim : Number
        metal removed from the deck, :math:`d` [m]

    Returns
    -------
    result : Number
        squish gap, negative when the piston would strike [m]

    Raises
    ------
    OutOfRange
        If ``gasket < 0``, ``recess < 0``, ``head_skim < 0`` or ``deck_skim < 0``.

    Notes
    -----
    Assumes: cold and at rest; rod stretch and piston rock take their share when it runs.

    References
    ----------
    .. [1] definition, sum of the gaps.

    Examples
    --------
    >>> engine = dict(gasket=0.0012, deck=0.0003, deck_skim=0.0)
    >>> round(float(squish_after_skims(**engine, recess=0.0, head_skim=0.00025)), 6)
    0.0015
    """
    for name, value in (("gasket", gasket), ("recess", recess), ("head_skim", head_skim), ("deck_skim", deck_skim)):
        require(name, value, "m", at_least=0)
    require("deck", deck, "m")
    return gasket + deck - deck_skim + np.maximum(recess - head_skim, 0.0)


def backlash_change(*, distance: Number, change: Number, pressure_angle: Number) -> Number:
    """What a change of the centre distance does to the backlash of two gears, at their pitch circles.

    For timing gears when a head or deck is skimmed, or a main line is honed and the crank rises. For a skim the change
    is the skim times the cosine of the angle between it and the line of centres, below nought.

    .. math:: j = 2 a' (\\operatorname{inv} \\alpha' - \\operatorname{inv} \\alpha), \\quad
        a' \\cos \\alpha' = a \\cos \\alpha; \\quad j \\approx 2 \\, \\Delta a \\tan \\alpha

    Parameters
    ----------
    distance : Number
        centre distance before, :math:`a` [m]
    change : Number
        change of it, negative when the gears come together, :math:`\\Delta a` [m]
    pressure_angle : Number
        working pressure angle before, in the plane square to the shafts, :math:`\\alpha` [rad]

    Returns
    -------
    result : Number
        change of the backlash along the pitch circle, negative when it closes [m]

    Raises
    ------
    OutOfRange
        If ``distance <= 0``, ``pressure_angle <= 0`` or ``pressure_angle >= 1.5707963267948966``, or if the gears
        come so close that their base circles overlap.

    Notes
    -----
    Valid for: external gears with involute teeth on parallel shafts.
    Assumes: tooth thickness as it was: wear stays.
    No published value: checked by adding up how far each flank opens along the line of action.

    References
    ----------
    .. [1] derived, from the involute on both gears.

    Examples
    --------
    >>> round(float(backlash_change(distance=0.120, change=-0.0001, pressure_angle=np.radians(20))), 7)
    -7.25e-05
    """
    require("distance", distance, "m", above=0, source="derived")
    require("pressure_angle", pressure_angle, "rad", above=0, below=np.pi / 2, source="derived")
    base = distance * np.cos(pressure_angle)
    require("change", change, "m", at_least=base - distance, source="derived")
    after = distance + change
    turned = np.arccos(base / after)
    grown = (np.tan(turned) - np.tan(pressure_angle)) - (turned - pressure_angle)
    return 2 * after * grown


def angle_cut(*, width: Number, angle: Number) -> Number:
    """Depth of a tilted cut at the far side of a face, to tilt a head by an angle.

    It tilts valves, bolt seats, dowels and intake face as well.

    .. math:: t = b \\tan \\alpha

    Parameters
    ----------
    width : Number
        width of the face across the tilt, :math:`b` [m]
    angle : Number
        tilt, :math:`\\alpha` [rad]

    Returns
    -------
    result : Number
        metal removed at the far side [m]

    Raises
    ------
    OutOfRange
        If ``width <= 0``, ``angle <= -1.5707963267948966`` or ``angle >= 1.5707963267948966``.

    References
    ----------
    .. [1] definition, tangent.

    Examples
    --------
    >>> round(float(angle_cut(width=0.150, angle=np.radians(1.0))), 6)
    0.002618
    """
    require("width", width, "m", above=0)
    require("angle", angle, "rad", above=-np.pi / 2, below=np.pi / 2)
    return width * np.tan(angle)


def pushrod_shortening(*, skim: Number, lean: Number) -> Number:
    """How much shorter a pushrod must be after a skim, or how much deeper it sits in a hydraulic tappet without.

    The rockers come down with the head while the tappets stay in the block. With cam and valves in the head nothing
    of the kind happens.

    .. math:: \\Delta = t \\cos \\beta

    Parameters
    ----------
    skim : Number
        metal removed from head and deck together, less a thicker gasket, :math:`t` [m]
    lean : Number
        angle between the pushrod and the line in which the head comes down, :math:`\\beta` [rad]

    Returns
    -------
    result : Number
        shortening of the pushrod [m]

    Raises
    ------
    OutOfRange
        If ``lean <= -1.5707963267948966`` or ``lean >= 1.5707963267948966``.

    Notes
    -----
    Accuracy: to first order; what is left out is the skim squared over twice the pushrod's length.
    No published value: checked against the two ends of the pushrod placed in the plane.

    References
    ----------
    .. [1] derived, projection on the pushrod.

    Examples
    --------
    >>> round(float(pushrod_shortening(skim=0.0005, lean=np.radians(10))), 6)
    0.000492
    """
    require("skim", skim, "m", source="derived")
    require("lean", lean, "rad", above=-np.pi / 2, below=np.pi / 2, source="derived")
    return skim * np.cos(lean)
