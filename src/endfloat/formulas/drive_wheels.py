"""Wheels, rollers and guides of a timing drive: pitch, pitch diameter, and the wear of a chain."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import refuse, require

Number = float | NDArray[np.float64]


def chain_pitch_diameter(*, pitch: Number, teeth: Number) -> Number:
    """Pitch diameter of a chain wheel: the circle through the joints of a chain that lies on it.

    Use it for roller, bush and silent chains before a phase or a run is worked out; a caliper over the teeth reads
    another diameter. The links are chords of the circle:

    .. math:: d = p / \\sin(\\pi / z)

    Parameters
    ----------
    pitch : Number
        pitch of the chain, :math:`p` [m]
    teeth : Number
        teeth of the wheel, :math:`z` [1]

    Returns
    -------
    result : Number
        pitch diameter, :math:`d` [m]

    Raises
    ------
    OutOfRange
        If ``pitch <= 0`` or ``teeth < 3``.

    Notes
    -----
    Assumes: joints that lie on the pitch circle, as they do on a wheel that is not worn.

    References
    ----------
    .. [1] derived, regular polygon of z sides of length p.

    Examples
    --------
    >>> round(chain_pitch_diameter(pitch=0.008, teeth=42), 6)
    0.107052
    """
    require("pitch", pitch, "m", above=0, source="derived")
    require("teeth", teeth, "1", at_least=3, source="derived")
    result: Number = pitch / np.sin(np.pi / teeth)
    return result


def chain_pitch(*, pitch_diameter: Number, teeth: Number) -> Number:
    """Pitch of the chain that a wheel was cut for.

    Use it when a wheel of unknown origin lies on the bench and its pitch circle has been measured over pins.

    .. math:: p = d \\sin(\\pi / z)

    Parameters
    ----------
    pitch_diameter : Number
        pitch diameter, :math:`d` [m]
    teeth : Number
        teeth of the wheel, :math:`z` [1]

    Returns
    -------
    result : Number
        pitch of the chain, :math:`p` [m]

    Raises
    ------
    OutOfRange
        If ``pitch_diameter <= 0`` or ``teeth < 3``.

    References
    ----------
    .. [1] derived, regular polygon of z sides in a circle of diameter d.

    Examples
    --------
    >>> round(chain_pitch(pitch_diameter=0.107052, teeth=42), 6)
    0.008
    """
    require("pitch_diameter", pitch_diameter, "m", above=0, source="derived")
    require("teeth", teeth, "1", at_least=3, source="derived")
    result: Number = pitch_diameter * np.sin(np.pi / teeth)
    return result


def belt_pitch_diameter(*, pitch: Number, teeth: Number) -> Number:
    """Pitch diameter of a toothed-belt wheel: where the cords of the belt run, outside the teeth of the wheel.

    Use it in place of the diameter over the teeth, which is smaller by twice the depth of the cords.

    .. math:: d = z p / \\pi

    Parameters
    ----------
    pitch : Number
        pitch of the belt, :math:`p` [m]
    teeth : Number
        teeth of the wheel, :math:`z` [1]

    Returns
    -------
    result : Number
        pitch diameter, :math:`d` [m]

    Raises
    ------
    OutOfRange
        If ``pitch <= 0`` or ``teeth < 3``.

    Notes
    -----
    No published value: the definition of the pitch of a belt.

    References
    ----------
    .. [1] definition, the cords bend round a circle of z pitches.

    Examples
    --------
    >>> round(belt_pitch_diameter(pitch=0.008, teeth=44), 6)
    0.112045
    """
    require("pitch", pitch, "m", above=0)
    require("teeth", teeth, "1", at_least=3)
    return teeth * pitch / np.pi


def idler_radius(*, diameter: Number, thickness: Number) -> Number:
    """Radius of the pitch line over a plain roller or guide, for `chain_loop.loop`.

    Use it for rollers on the back of a belt (thickness from the back to the cords) and for rails under a chain
    (thickness from the plates' edge to the joints).

    .. math:: r = d / 2 + t

    Parameters
    ----------
    diameter : Number
        diameter of the roller, or twice the radius of the guide, :math:`d` [m]
    thickness : Number
        from the face that runs on it to the pitch line, :math:`t` [m]

    Returns
    -------
    result : Number
        radius of the pitch line, :math:`r` [m]

    Raises
    ------
    OutOfRange
        If ``diameter <= 0`` or ``thickness < 0``.

    Notes
    -----
    No published value: an identity.

    References
    ----------
    .. [1] definition, pitch line of a belt or chain.

    Examples
    --------
    >>> round(idler_radius(diameter=0.060, thickness=0.0024), 6)
    0.0324
    """
    require("diameter", diameter, "m", above=0)
    require("thickness", thickness, "m", at_least=0)
    return diameter / 2 + thickness


def guide_teeth(*, pitch: Number, radius: Number) -> Number:
    """Teeth that a chain wheel would have in place of a plain guide: how many pitches a full turn of it holds.

    Use it for the guides and blades of `chain_loop.loop_pitches`: links lie as chords on a guide too.

    .. math:: z = \\pi / \\arcsin(p / 2 r)

    Parameters
    ----------
    pitch : Number
        pitch of the chain, :math:`p` [m]
    radius : Number
        radius on which the joints run over the guide, :math:`r` [m]

    Returns
    -------
    result : Number
        teeth in place of the guide, not a whole number, :math:`z` [1]

    Raises
    ------
    OutOfRange
        If ``pitch <= 0`` or ``radius <= 0``, or if a link is longer than the guide is wide.

    Notes
    -----
    No published value: the inverse of the pitch diameter of a chain wheel.

    References
    ----------
    .. [1] derived, chord p in a circle of radius r.

    Examples
    --------
    >>> round(float(guide_teeth(pitch=0.008, radius=0.300)), 4)
    235.6125
    """
    require("pitch", pitch, "m", above=0, source="derived")
    require("radius", radius, "m", above=0, source="derived")
    sine = pitch / (2 * np.asarray(radius))
    if np.any(sine > 1):
        refuse("radius", radius, sine > 1, "m", "at least half the pitch", source="derived")
    result: Number = np.pi / np.arcsin(sine)
    return result


def idler_teeth(*, pitch: Number, radius: Number) -> Number:
    """Teeth that a belt wheel would have in place of a plain roller: how many pitches a full turn of it holds.

    Use it for the rollers of `chain_loop.loop_pitches` on either side of a belt.

    .. math:: z = 2 \\pi r / p

    Parameters
    ----------
    pitch : Number
        pitch of the belt, :math:`p` [m]
    radius : Number
        radius of the pitch line over the roller, :math:`r` [m]

    Returns
    -------
    result : Number
        teeth in place of the roller, not a whole number, :math:`z` [1]

    Raises
    ------
    OutOfRange
        If ``pitch <= 0`` or ``radius <= 0``.

    Notes
    -----
    No published value: the inverse of the pitch diameter of a belt wheel.

    References
    ----------
    .. [1] definition, pitches of a circle.

    Examples
    --------
    >>> round(idler_teeth(pitch=0.008, radius=0.0324), 4)
    25.4469
    """
    require("pitch", pitch, "m", above=0)
    require("radius", radius, "m", above=0)
    return 2 * np.pi * radius / pitch


def chordal_speed_variation(*, teeth: Number) -> Number:
    """How much the speed of a chain falls and rises as each link comes on to a wheel that turns evenly.

    Use it to tell a coarse crank wheel from a fault: the share falls with the square of the teeth.

    .. math:: 1 - \\cos(\\pi / z)

    Parameters
    ----------
    teeth : Number
        teeth of the wheel, :math:`z` [1]

    Returns
    -------
    result : Number
        greatest less least speed of the chain, as a share of the greatest [1]

    Raises
    ------
    OutOfRange
        If ``teeth < 3``.

    References
    ----------
    .. [1] derived, the chain runs off at a distance from the axis between r cos(pi/z) and r.

    Examples
    --------
    >>> round(float(chordal_speed_variation(teeth=21)), 5)
    0.01117
    """
    require("teeth", teeth, "1", at_least=3, source="derived")
    result: Number = 1 - np.cos(np.pi / teeth)
    return result


def chain_elongation(*, length: Number, pitches: Number, pitch: Number) -> Number:
    """How long a chain has become, as a share of its length when new.

    Use it on a chain hung with a weight or pulled straight, over as many links as there are between two pins of one
    kind. A book that gives the length over the outside of the pins has one pin diameter in it: take that off first.

    .. math:: \\varepsilon = L / (n p) - 1

    Parameters
    ----------
    length : Number
        length between the centres of two pins, :math:`L` [m]
    pitches : Number
        links between the two pins, :math:`n` [1]
    pitch : Number
        pitch of the new chain, :math:`p` [m]

    Returns
    -------
    result : Number
        elongation, :math:`\\varepsilon` [1]

    Raises
    ------
    OutOfRange
        If ``length <= 0`` or ``pitches < 1`` or ``pitch <= 0``.

    Notes
    -----
    No published value: an identity.

    References
    ----------
    .. [1] definition, elongation.

    Examples
    --------
    >>> round(chain_elongation(length=0.128384, pitches=16, pitch=0.008), 6)
    0.003
    """
    require("length", length, "m", above=0)
    require("pitches", pitches, "1", at_least=1)
    require("pitch", pitch, "m", above=0)
    return length / (pitches * pitch) - 1


def worn_pitch(*, pitch: Number, elongation: Number) -> Number:
    """Mean pitch of a chain that has grown longer, for the loop, the marks and the tensioner of a worn drive.

    A worn chain rides up the teeth: give its wheels the pitch diameter of this pitch too.

    .. math:: p' = p (1 + \\varepsilon)

    Parameters
    ----------
    pitch : Number
        pitch of the new chain, :math:`p` [m]
    elongation : Number
        elongation, :math:`\\varepsilon` [1]

    Returns
    -------
    result : Number
        mean pitch of the worn chain, :math:`p'` [m]

    Raises
    ------
    OutOfRange
        If ``pitch <= 0`` or ``elongation <= -1``.

    Notes
    -----
    No published value: an identity.

    References
    ----------
    .. [1] definition, elongation.

    Examples
    --------
    >>> round(worn_pitch(pitch=0.008, elongation=0.003), 9)
    0.008024
    """
    require("pitch", pitch, "m", above=0)
    require("elongation", elongation, "1", above=-1)
    return pitch * (1 + elongation)
