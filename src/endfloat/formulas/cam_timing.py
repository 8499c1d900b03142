"""Valve timing in crank angles: duration, lobe centre, separation, overlap; a phase error and what may cause it."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from endfloat.formulas.bounds import Number, require


class LobeTiming(NamedTuple):
    """Duration and centre of one lobe, from its two events."""

    duration: Number
    centre: Number


class PairTiming(NamedTuple):
    """How an intake and an exhaust lobe stand to each other."""

    separation: Number
    overlap: Number
    advance: Number


class ToothFit(NamedTuple):
    """The whole number of teeth nearest to a phase error, and what they leave."""

    teeth: Number
    tooth: Number
    left: Number


def lobe_timing(*, beside_top: Number, beside_bottom: Number) -> LobeTiming:
    """Duration and lobe centre from the two events of a valve, as books print them.

    For an intake: opens before top, closes after bottom, and the centre is after top. For an exhaust: closes after
    top, opens before bottom, and the centre is before top. An event on the other side of its dead centre is
    negative.

    .. math:: d = a + \\pi + b,\\quad c = d/2 - a

    Parameters
    ----------
    beside_top : Number
        crank angle of the event by the top, outside the stroke, :math:`a` [rad]
    beside_bottom : Number
        crank angle of the event by the bottom, outside the stroke, :math:`b` [rad]

    Returns
    -------
    duration : Number
        crank angle for which the valve is open, :math:`d` [rad]
    centre : Number
        crank angle from the top to the lobe centre, into the stroke, :math:`c` [rad]

    Notes
    -----
    Valid for: events at one and the same checking height, which belongs beside the figures.
    Assumes: a lobe with equal flanks; the centre is that midway between the events.

    References
    ----------
    .. [1] definition.

    Examples
    --------
    >>> found = lobe_timing(beside_top=np.radians(6.0), beside_bottom=np.radians(42.0))
    >>> [round(float(each), 6) for each in np.degrees(found)]
    [228.0, 108.0]
    """
    require("beside_top", beside_top, "rad")
    require("beside_bottom", beside_bottom, "rad")
    duration = beside_top + np.pi + beside_bottom
    return LobeTiming(duration, duration / 2 - beside_top)


def pair_timing(
    *, intake_centre: Number, exhaust_centre: Number, intake_opens: Number, exhaust_closes: Number
) -> PairTiming:
    """Lobe separation, overlap and advance of an intake and an exhaust lobe.

    Parameters
    ----------
    intake_centre : Number
        crank angle from the top to the intake lobe centre, after it, :math:`c_i` [rad]
    exhaust_centre : Number
        crank angle from the exhaust lobe centre to the top, before it, :math:`c_e` [rad]
    intake_opens : Number
        crank angle before the top at which the intake opens [rad]
    exhaust_closes : Number
        crank angle after the top at which the exhaust closes [rad]

    Returns
    -------
    separation : Number
        lobe separation in cam angle: the mean of both centres in crank angle is the same number [rad]
    overlap : Number
        crank angle for which both are open; negative when neither is [rad]
    advance : Number
        crank angle by which both cams together stand early: separation less intake centre [rad]

    Notes
    -----
    Valid for: all four events at one and the same checking height.
    No published value: an identity; on one camshaft the separation is ground in, the advance is set.

    References
    ----------
    .. [1] definition.

    Examples
    --------
    >>> angles = [np.radians(each) for each in (108.0, 112.0, 6.0, 2.0)]
    >>> names = ("intake_centre", "exhaust_centre", "intake_opens", "exhaust_closes")
    >>> found = pair_timing(**dict(zip(names, angles)))
    >>> [round(float(each), 6) for each in np.degrees(found)]
    [110.0, 8.0, 2.0]
    """
    named = zip(
        ("intake_centre", "exhaust_centre", "intake_opens", "exhaust_closes"),
        (intake_centre, exhaust_centre, intake_opens, exhaust_closes),
        strict=True,
    )
    for name, value in named:
        require(name, value, "rad")
    separation = (intake_centre + exhaust_centre) / 2
    return PairTiming(separation, intake_opens + exhaust_closes, separation - intake_centre)


def phase_error(*, centre: Number, book_centre: Number) -> Number:
    """How far a cam stands from where the book wants it, in crank angle: positive early, negative late.

    Both centres are crank angles after the same dead centre (negative before it), and the shorter way round the
    two turns of a cycle counts.

    Parameters
    ----------
    centre : Number
        crank angle of the lobe centre as found, after the top [rad]
    book_centre : Number
        crank angle of the lobe centre by the book, after the top [rad]

    Returns
    -------
    result : Number
        phase error, positive early [rad]

    Notes
    -----
    Valid for: centres found at the checking height of the book.
    No published value: an identity.

    References
    ----------
    .. [1] definition, book less found, modulo two turns.

    Examples
    --------
    >>> found = phase_error(centre=np.radians(110.5), book_centre=np.radians(108.0))
    >>> round(float(np.degrees(found)), 6)
    -2.5
    """
    require("centre", centre, "rad")
    require("book_centre", book_centre, "rad")
    cycle = 4 * np.pi
    early = book_centre - np.asarray(centre)
    return (early - cycle * np.round(early / cycle))[()]


def centre_with_phase(*, book_centre: Number, phase: Number) -> Number:
    """Crank angle of a lobe centre whose cam stands early or late by a phase error.

    Parameters
    ----------
    book_centre : Number
        crank angle of the lobe centre by the book, after the top [rad]
    phase : Number
        phase error in crank angle, positive early [rad]

    Returns
    -------
    result : Number
        crank angle of the lobe centre, after the top [rad]

    Notes
    -----
    No published value: the way back from `phase_error`.

    References
    ----------
    .. [1] definition.

    Examples
    --------
    >>> found = centre_with_phase(book_centre=np.radians(108.0), phase=np.radians(-2.5))
    >>> round(float(np.degrees(found)), 6)
    110.5
    """
    require("book_centre", book_centre, "rad")
    require("phase", phase, "rad")
    return book_centre - phase


def tooth_fit(*, phase: Number, known_phase: Number, cam_teeth: Number) -> ToothFit:
    """Whether a phase error is a tooth: the nearest whole number of teeth, and what they do not explain.

    What is known already (a long chain, a skimmed head) is taken off first. A rest small beside a tooth and within
    what the degree wheel can tell says that the drive was fitted a tooth out; no whole tooth and a large rest says
    look elsewhere: a pin, a key, a guide, a slipped wheel, or a dead centre wrongly found, which shifts every lobe
    of that cylinder alike.

    .. math:: \\tau = 4\\pi/z

    Parameters
    ----------
    phase : Number
        phase error as found, in crank angle, positive early [rad]
    known_phase : Number
        phase that wear and work explain, in crank angle, positive early [rad]
    cam_teeth : Number
        teeth of the wheel on the cam, :math:`z` [1]

    Returns
    -------
    teeth : Number
        teeth out, positive early; nought when less than half a tooth is left to explain [1]
    tooth : Number
        crank angle of one tooth, :math:`\\tau` [rad]
    left : Number
        phase that neither the known causes nor the teeth explain [rad]

    Raises
    ------
    OutOfRange
        If ``cam_teeth <= 0``.

    Notes
    -----
    Valid for: a cam that turns at half the speed of the crank.

    References
    ----------
    .. [1] definition, one tooth is a full angle over the teeth on the cam, twice that on the crank.

    Examples
    --------
    >>> found = tooth_fit(phase=np.radians(-20.0), known_phase=np.radians(-2.4), cam_teeth=42.0)
    >>> float(found.teeth), round(float(np.degrees(found.left)), 3)
    (-1.0, -0.457)
    """
    require("phase", phase, "rad")
    require("known_phase", known_phase, "rad")
    require("cam_teeth", cam_teeth, "1", above=0)
    tooth = 4 * np.pi / cam_teeth
    unexplained = phase - known_phase
    teeth = np.round(np.asarray(unexplained / tooth)) + 0.0
    return ToothFit(teeth[()], tooth, (unexplained - teeth * tooth)[()])


def common_phase(*, phases: Number) -> Number:
    """The phase error that all cams of one bank share: their median, so that one cam out does not spoil it.

    What is left of each cam after it belongs to that cam (a wheel, a pin, a lobe); what is shared belongs to the
    drive before them or to the dead centre the wheel was set by.

    Parameters
    ----------
    phases : Number
        phase errors of the cams, cams along the last axis [rad]

    Returns
    -------
    result : Number
        phase error they share [rad]

    Notes
    -----
    No published value: an identity.

    References
    ----------
    .. [1] definition, median.

    Examples
    --------
    >>> round(float(np.degrees(common_phase(phases=np.radians([-2.4, -2.6, -19.5])))), 6)
    -2.6
    """
    require("phases", phases, "rad")
    return np.asarray(np.median(np.atleast_1d(phases), axis=-1))[()]
