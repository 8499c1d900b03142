"""Two wheels with a chain or belt: runs, wraps, length, links, and the distance of the axes."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import refuse, require

Number = float | NDArray[np.float64]


class OpenDrive(NamedTuple):
    """A belt or chain round two wheels that turn the same way."""

    run: Number
    wrap: Number
    other_wrap: Number
    length: Number


class CrossedDrive(NamedTuple):
    """A belt round two wheels that crosses itself."""

    run: Number
    wrap: Number
    length: Number


def open_drive(*, centre_distance: Number, pitch_diameter: Number, other_pitch_diameter: Number) -> OpenDrive:
    """Free run, wraps and length of a chain or belt round two wheels.

    Use it for a drive of two wheels, and to find the length of the tight run from the centre distance.

    .. math:: s = \\sqrt{a^2 - \\tfrac14 (d_2 - d_1)^2}, \\quad \\sin\\alpha = \\frac{d_2 - d_1}{2 a}, \\quad
        L = 2 s + \\tfrac12 d_1 (\\pi - 2 \\alpha) + \\tfrac12 d_2 (\\pi + 2 \\alpha)

    Parameters
    ----------
    centre_distance : Number
        distance between the axes, :math:`a` [m]
    pitch_diameter : Number
        pitch diameter of one wheel, :math:`d_1` [m]
    other_pitch_diameter : Number
        pitch diameter of the other wheel, :math:`d_2` [m]

    Returns
    -------
    run : Number
        free length of each run, :math:`s` [m]
    wrap : Number
        angle over which the first wheel is touched, :math:`\\pi - 2 \\alpha` [rad]
    other_wrap : Number
        angle over which the other wheel is touched, :math:`\\pi + 2 \\alpha` [rad]
    length : Number
        length of the pitch line, :math:`L` [m]

    Raises
    ------
    OutOfRange
        If ``centre_distance <= 0`` or ``pitch_diameter <= 0`` or ``other_pitch_diameter <= 0``, or if one wheel lies
        within the other.

    Notes
    -----
    No published value: checked against the hull of two circles.

    References
    ----------
    .. [1] derived, outer common tangents of two circles.

    Examples
    --------
    >>> drive = open_drive(centre_distance=0.380944, pitch_diameter=0.0537, other_pitch_diameter=0.10705)
    >>> round(float(drive.run), 4), round(float(np.degrees(drive.wrap)), 2)
    (0.38, 171.97)
    """
    _two_circles(centre_distance, pitch_diameter, other_pitch_diameter)
    half = (np.asarray(other_pitch_diameter) - pitch_diameter) / 2
    run, lean = _tangent(centre_distance, half, "the difference of the radii")
    wrap, other = np.pi - 2 * lean, np.pi + 2 * lean
    return OpenDrive(run, wrap, other, 2 * run + pitch_diameter / 2 * wrap + other_pitch_diameter / 2 * other)


def crossed_drive(*, centre_distance: Number, pitch_diameter: Number, other_pitch_diameter: Number) -> CrossedDrive:
    """Free run, wrap and length of a belt that crosses itself between two wheels; both are touched alike.

    Use it for lathe belts and as a check: no timing drive is crossed.

    .. math:: s = \\sqrt{a^2 - \\tfrac14 (d_1 + d_2)^2}, \\quad \\theta = \\pi + 2 \\arcsin\\frac{d_1 + d_2}{2 a},
        \\quad L = 2 s + \\tfrac12 (d_1 + d_2) \\theta

    Parameters
    ----------
    centre_distance : Number
        distance between the axes, :math:`a` [m]
    pitch_diameter : Number
        diameter of one wheel, :math:`d_1` [m]
    other_pitch_diameter : Number
        diameter of the other wheel, :math:`d_2` [m]

    Returns
    -------
    run : Number
        free length of each run, :math:`s` [m]
    wrap : Number
        angle over which each wheel is touched, :math:`\\theta` [rad]
    length : Number
        length of the belt, :math:`L` [m]

    Raises
    ------
    OutOfRange
        If ``centre_distance <= 0`` or ``pitch_diameter <= 0`` or ``other_pitch_diameter <= 0``, or if the wheels
        touch.

    References
    ----------
    .. [1] derived, inner common tangents of two circles.
    .. [2] khurmi-gupta, example 11.6.

    Examples
    --------
    >>> belt = crossed_drive(centre_distance=1.95, pitch_diameter=0.45, other_pitch_diameter=0.20)
    >>> round(float(belt.wrap), 4)
    3.4765
    """
    _two_circles(centre_distance, pitch_diameter, other_pitch_diameter)
    half = (np.asarray(other_pitch_diameter) + pitch_diameter) / 2
    run, lean = _tangent(centre_distance, half, "the sum of the radii")
    wrap = np.pi + 2 * lean
    return CrossedDrive(run, wrap, 2 * run + half * wrap)


def chain_links(*, pitch: Number, centre_distance: Number, teeth: Number, other_teeth: Number) -> Number:
    """Links of a chain round two wheels, by the handbook's series.

    Use it to compare with a catalogue; `exact_links` and `chain_loop.loop_pitches` have no series error.

    .. math:: X = \\frac{2 a}{p} + \\frac{z_1 + z_2}{2} + \\left(\\frac{z_2 - z_1}{2 \\pi}\\right)^2 \\frac{p}{a}

    Parameters
    ----------
    pitch : Number
        pitch of the chain, :math:`p` [m]
    centre_distance : Number
        distance between the axes, :math:`a` [m]
    teeth : Number
        teeth of one wheel, :math:`z_1` [1]
    other_teeth : Number
        teeth of the other wheel, :math:`z_2` [1]

    Returns
    -------
    result : Number
        links, not yet a whole number, :math:`X` [1]

    Raises
    ------
    OutOfRange
        If ``pitch <= 0`` or ``centre_distance <= 0`` or ``teeth < 3`` or ``other_teeth < 3``.

    Notes
    -----
    Accuracy: short by less than a hundredth of a link where the axes are two diameters of the larger wheel apart.

    References
    ----------
    .. [1] memory, length of a chain as in ISO 10823.
    .. [2] machine-elements, example 14.3.

    Examples
    --------
    >>> round(chain_links(pitch=0.0127, centre_distance=0.5, teeth=21, other_teeth=63), 6)
    121.875097
    """
    _two_wheels(pitch, teeth, other_teeth)
    require("centre_distance", centre_distance, "m", above=0, source="memory")
    share = ((other_teeth - teeth) / (2 * np.pi)) ** 2
    return 2 * centre_distance / pitch + (teeth + other_teeth) / 2 + share * pitch / centre_distance


def chain_centre_distance(*, pitch: Number, links: Number, teeth: Number, other_teeth: Number) -> Number:
    """Distance between the axes of two wheels at which a chain of so many links is taut, by the handbook's series.

    Use it to see how far two axes must come together for a chain that is one pair of links shorter.

    .. math:: a = \\frac{p}{4} \\left(b + \\sqrt{b^2 - 8 \\left(\\frac{z_2 - z_1}{2 \\pi}\\right)^2}\\right),
        \\quad b = X - \\frac{z_1 + z_2}{2}

    Parameters
    ----------
    pitch : Number
        pitch of the chain, :math:`p` [m]
    links : Number
        links of the chain, :math:`X` [1]
    teeth : Number
        teeth of one wheel, :math:`z_1` [1]
    other_teeth : Number
        teeth of the other wheel, :math:`z_2` [1]

    Returns
    -------
    result : Number
        distance between the axes, :math:`a` [m]

    Raises
    ------
    OutOfRange
        If ``pitch <= 0`` or ``links <= 0`` or ``teeth < 3`` or ``other_teeth < 3``, or if the links are too few to go
        round both wheels.

    References
    ----------
    .. [1] memory, length of a chain as in ISO 10823, solved for the distance.
    .. [2] machine-elements, example 14.3.

    Examples
    --------
    >>> round(float(chain_centre_distance(pitch=0.0127, links=122, teeth=21, other_teeth=63)), 9)
    0.500804717
    """
    _two_wheels(pitch, teeth, other_teeth)
    require("links", links, "1", above=0, source="memory")
    free = np.asarray(links - (np.asarray(teeth) + other_teeth) / 2)
    under = free**2 - 8 * ((np.asarray(other_teeth) - teeth) / (2 * np.pi)) ** 2
    few = (under < 0) | (free <= 0)
    if np.any(few):
        refuse("links", links, few, "1", "enough links to go round both wheels", source="memory")
    result: Number = pitch / 4 * (free + np.sqrt(under))
    return result


def exact_links(*, pitch: Number, centre_distance: Number, teeth: Number, other_teeth: Number) -> Number:
    """Links of a chain round two wheels, without a series: straight runs in pitches, arcs in teeth.

    Use it where the axes are close or the wheels differ much.

    .. math:: X = \\frac{2 a \\cos\\alpha}{p} + \\frac{z_1 (\\pi - 2 \\alpha) + z_2 (\\pi + 2 \\alpha)}{2 \\pi},
        \\quad \\sin\\alpha = \\frac{p}{2 a} \\left(\\frac{1}{\\sin(\\pi/z_2)} - \\frac{1}{\\sin(\\pi/z_1)}\\right)

    Parameters
    ----------
    pitch : Number
        pitch of the chain, :math:`p` [m]
    centre_distance : Number
        distance between the axes, :math:`a` [m]
    teeth : Number
        teeth of one wheel, :math:`z_1` [1]
    other_teeth : Number
        teeth of the other wheel, :math:`z_2` [1]

    Returns
    -------
    result : Number
        links, not yet a whole number, :math:`X` [1]

    Raises
    ------
    OutOfRange
        If ``pitch <= 0`` or ``centre_distance <= 0`` or ``teeth < 3`` or ``other_teeth < 3``, or if one wheel lies
        within the other.

    Notes
    -----
    No published value: books print the series; the two agree as the axes part.

    References
    ----------
    .. [1] derived, common tangents of two circles.

    Examples
    --------
    >>> round(float(exact_links(pitch=0.0127, centre_distance=0.5, teeth=21, other_teeth=63)), 5)
    121.87785
    """
    _two_wheels(pitch, teeth, other_teeth, source="derived")
    require("centre_distance", centre_distance, "m", above=0, source="derived")
    radii = pitch / 2 * (1 / np.sin(np.pi / other_teeth) - 1 / np.sin(np.pi / teeth))
    sine = np.asarray(radii / centre_distance)
    if np.any(np.abs(sine) >= 1):
        expected = "more than the difference of the pitch radii"
        refuse("centre_distance", centre_distance, np.abs(sine) >= 1, "m", expected, source="derived")
    lean = np.arcsin(sine)
    arcs = (teeth * (np.pi - 2 * lean) + other_teeth * (np.pi + 2 * lean)) / (2 * np.pi)
    result: Number = 2 * centre_distance * np.cos(lean) / pitch + arcs
    return result


def _two_wheels(pitch: Number, teeth: Number, other_teeth: Number, source: str = "memory") -> None:
    require("pitch", pitch, "m", above=0, source=source)
    require("teeth", teeth, "1", at_least=3, source=source)
    require("other_teeth", other_teeth, "1", at_least=3, source=source)


def _two_circles(centre_distance: Number, pitch_diameter: Number, other_pitch_diameter: Number) -> None:
    require("centre_distance", centre_distance, "m", above=0, source="derived")
    require("pitch_diameter", pitch_diameter, "m", above=0, source="derived")
    require("other_pitch_diameter", other_pitch_diameter, "m", above=0, source="derived")


def _tangent(
    distance: Number, offset: NDArray[np.float64], least: str
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Length of the common tangent of two circles and its lean to the line of centres."""
    sine = np.asarray(offset / distance)
    if np.any(np.abs(sine) >= 1):
        refuse("centre_distance", distance, np.abs(sine) >= 1, "m", f"more than {least}", source="derived")
    lean = np.arcsin(sine)
    return np.asarray(distance * np.cos(lean)), lean
