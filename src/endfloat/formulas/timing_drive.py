"""Chains and belts that drive the cams: runs and wraps, teeth to degrees, and what skims and wear do to the phase."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import refuse, require

Number = float | NDArray[np.float64]


class ToothError(NamedTuple):
    """A phase error told in whole teeth and what is left of it."""

    teeth: Number
    rest: Number


def angle_of_teeth(*, shift: Number, teeth: Number, crank_turns: Number) -> Number:
    """Crank angle by which a shaft is out when its wheel sits so many teeth, links or gear teeth out.

    Use it to tell a tooth from wear: 42 teeth on a cam make 17 degrees of the crank, which no chain has stretched.

    .. math:: \\varphi = 2 \\pi c\\, n / z

    Parameters
    ----------
    shift : Number
        teeth that the wheel is out, :math:`n` [1]
    teeth : Number
        teeth of the wheel, :math:`z` [1]
    crank_turns : Number
        turns of the crank for one of the wheel: 2 for a cam, :math:`c` [1]

    Returns
    -------
    result : Number
        crank angle, :math:`\\varphi` [rad]

    Raises
    ------
    OutOfRange
        If ``teeth < 3`` or ``crank_turns <= 0``.

    Notes
    -----
    No published value: an identity.

    References
    ----------
    .. [1] definition, a turn has as many steps as the wheel has teeth.

    Examples
    --------
    >>> round(float(np.degrees(angle_of_teeth(shift=1, teeth=42, crank_turns=2))), 2)
    17.14
    """
    require("teeth", teeth, "1", at_least=3)
    require("crank_turns", crank_turns, "1", above=0)
    return 2 * np.pi * crank_turns * shift / teeth


def teeth_of_angle(*, angle: Number, teeth: Number, crank_turns: Number) -> ToothError:
    """A measured phase error told as whole teeth, and what is left of it for wear, skims and marks to explain.

    Use it on a cam timing as found: teeth other than nought mean a drive put together wrongly or one that jumped.

    .. math:: n = \\mathrm{round}\\frac{\\varphi z}{2 \\pi c}, \\quad \\rho = \\varphi - \\frac{2 \\pi c\\, n}{z}

    Parameters
    ----------
    angle : Number
        phase error in crank angle, :math:`\\varphi` [rad]
    teeth : Number
        teeth of the wheel on the shaft that is out, :math:`z` [1]
    crank_turns : Number
        turns of the crank for one of the wheel: 2 for a cam, :math:`c` [1]

    Returns
    -------
    teeth : Number
        nearest whole number of teeth, :math:`n` [1]
    rest : Number
        what is left, in crank angle, :math:`\\rho` [rad]

    Raises
    ------
    OutOfRange
        If ``teeth < 3`` or ``crank_turns <= 0``.

    Notes
    -----
    No published value: the inverse of an identity.

    References
    ----------
    .. [1] definition, a turn has as many steps as the wheel has teeth.

    Examples
    --------
    >>> error = teeth_of_angle(angle=np.radians(-19.6), teeth=42, crank_turns=2)
    >>> float(error.teeth), round(float(np.degrees(error.rest)), 2)
    (-1.0, -2.46)
    """
    require("teeth", teeth, "1", at_least=3)
    require("crank_turns", crank_turns, "1", above=0)
    step = 2 * np.pi * np.asarray(crank_turns) / teeth
    whole = np.round(angle / step)
    return ToothError(whole, angle - whole * step)


def retard_by_shift(*, shift: Number, run_angle: Number, pitch_diameter: Number, crank_turns: Number) -> Number:
    """How late a shaft comes, in crank angle, when its centre has moved towards the wheel that pulls it.

    Use it for a skimmed head or deck (the shift is the metal taken off both), and with a minus for a thicker gasket.
    The two banks of a V differ because their tight runs lean differently.

    .. math:: \\varphi = 2 c\\, t \\cos\\psi / d

    Parameters
    ----------
    shift : Number
        way of the centre towards the crank along the cylinder axis, :math:`t` [m]
    run_angle : Number
        angle between the tight run and the cylinder axis, :math:`\\psi` [rad]
    pitch_diameter : Number
        pitch diameter of the wheel on the shaft, :math:`d` [m]
    crank_turns : Number
        turns of the crank for one of the shaft: 2 for a cam, :math:`c` [1]

    Returns
    -------
    result : Number
        retard, minus when early, :math:`\\varphi` [rad]

    Raises
    ------
    OutOfRange
        If ``pitch_diameter <= 0`` or ``crank_turns <= 0``.

    Notes
    -----
    Valid for: the tensioner on the slack side, so that the tight run lies straight or on a fixed guide.
    Assumes: a shift that is small beside the run; the turn of the run itself cancels between its two wheels.
    Accuracy: within half a percent of the loop for 1 mm on a run of 400 mm.

    References
    ----------
    .. [1] derived, change of the tight run unrolled from the pitch circle.

    Examples
    --------
    >>> late = retard_by_shift(shift=0.00025, run_angle=np.radians(12), pitch_diameter=0.10705, crank_turns=2)
    >>> round(float(np.degrees(late)), 2)
    0.52
    """
    _shaft(pitch_diameter, crank_turns)
    result: Number = 2 * crank_turns * shift * np.cos(run_angle) / pitch_diameter
    return result


def shift_of_retard(*, retard: Number, run_angle: Number, pitch_diameter: Number, crank_turns: Number) -> Number:
    """How far a centre may move towards the crank until its shaft is so late: the skim that a phase limit leaves.

    Use it to tell the machine shop how much head and deck may lose together before offset keys are wanted.

    .. math:: t = \\varphi d / (2 c \\cos\\psi)

    Parameters
    ----------
    retard : Number
        retard allowed in crank angle, :math:`\\varphi` [rad]
    run_angle : Number
        angle between the tight run and the cylinder axis, :math:`\\psi` [rad]
    pitch_diameter : Number
        pitch diameter of the wheel on the shaft, :math:`d` [m]
    crank_turns : Number
        turns of the crank for one of the shaft: 2 for a cam, :math:`c` [1]

    Returns
    -------
    result : Number
        shift along the cylinder axis, :math:`t` [m]

    Raises
    ------
    OutOfRange
        If ``pitch_diameter <= 0`` or ``crank_turns <= 0``, or if the run is square to the cylinder axis.

    Notes
    -----
    No published value: the inverse of `retard_by_shift`.

    References
    ----------
    .. [1] derived, change of the tight run unrolled from the pitch circle.

    Examples
    --------
    >>> run = dict(run_angle=np.radians(12), pitch_diameter=0.10705, crank_turns=2)
    >>> round(float(shift_of_retard(retard=np.radians(1), **run)), 6)
    0.000478
    """
    _shaft(pitch_diameter, crank_turns)
    along = np.asarray(np.cos(run_angle))
    square = np.abs(along) < 1e-9
    if np.any(square):
        refuse("run_angle", run_angle, square, "rad", "a run that is not square to the cylinder axis", source="derived")
    result: Number = retard * pitch_diameter / (2 * crank_turns * along)
    return result


def retard_by_elongation(
    *, elongation: Number, tight_run: Number, pitch_diameter: Number, crank_turns: Number
) -> Number:
    """How late a shaft comes, in crank angle, on a chain that has grown longer.

    Use it on a chain measured with a weight. Only the tight run counts: on the wheels the links ride up the teeth
    and stay where they are in angle. In a drive of two stages, work out each in crank angle and add them.

    .. math:: \\varphi = 2 c\\, \\varepsilon s / d

    Parameters
    ----------
    elongation : Number
        elongation of the chain, :math:`\\varepsilon` [1]
    tight_run : Number
        free length of the tight run, over its fixed guide if it has one, :math:`s` [m]
    pitch_diameter : Number
        pitch diameter of the wheel on the shaft, :math:`d` [m]
    crank_turns : Number
        turns of the crank for one of the shaft: 2 for a cam, :math:`c` [1]

    Returns
    -------
    result : Number
        retard, :math:`\\varphi` [rad]

    Raises
    ------
    OutOfRange
        If ``elongation <= -1`` or ``tight_run <= 0`` or ``pitch_diameter <= 0`` or ``crank_turns <= 0``.

    Notes
    -----
    No published value: checked against the marks of the whole loop.
    Accuracy: too large by less than one elongation of itself: under 0.3 % of it at 0.3 %.

    References
    ----------
    .. [1] derived, growth of the tight run unrolled from the pitch circle.

    Examples
    --------
    >>> late = retard_by_elongation(elongation=0.003, tight_run=0.380, pitch_diameter=0.10705, crank_turns=2)
    >>> round(float(np.degrees(late)), 2)
    2.44
    """
    _shaft(pitch_diameter, crank_turns)
    require("elongation", elongation, "1", above=-1, source="derived")
    require("tight_run", tight_run, "m", above=0, source="derived")
    return 2 * crank_turns * elongation * tight_run / pitch_diameter


def drive_phase(
    *,
    shift: Number,
    run_angle: Number,
    elongation: Number,
    tight_run: Number,
    pitch_diameter: Number,
    crank_turns: Number,
) -> Number:
    """Phase of a shaft against the book in crank angle, minus when late, from what was taken off and the wear.

    Use it twice: with the drive as found, to see whether a timing as found is explained, and with the drive as it
    will be. Their difference is what the work does to the timing as found.

    .. math:: \\varphi = -2 c\\,(t \\cos\\psi + \\varepsilon s) / d

    Parameters
    ----------
    shift : Number
        metal off head and deck since new, thicker gasket taken away, :math:`t` [m]
    run_angle : Number
        angle between the tight run and the cylinder axis, :math:`\\psi` [rad]
    elongation : Number
        elongation of the chain, nought when new, :math:`\\varepsilon` [1]
    tight_run : Number
        free length of the tight run, over its fixed guide if it has one, :math:`s` [m]
    pitch_diameter : Number
        pitch diameter of the wheel on the shaft, :math:`d` [m]
    crank_turns : Number
        turns of the crank for one of the shaft: 2 for a cam, :math:`c` [1]

    Returns
    -------
    result : Number
        phase against the book, :math:`\\varphi` [rad]

    Raises
    ------
    OutOfRange
        If ``elongation <= -1`` or ``tight_run <= 0`` or ``pitch_diameter <= 0`` or ``crank_turns <= 0``.

    Notes
    -----
    No published value: the sum of two retards that are checked alone.
    Valid for: the tensioner on the slack side, and marks that were in time by the book.

    References
    ----------
    .. [1] derived, tight run unrolled from the pitch circle.

    Examples
    --------
    >>> drive = dict(run_angle=np.radians(12), tight_run=0.380, pitch_diameter=0.10705, crank_turns=2)
    >>> found = drive_phase(shift=0.0, elongation=0.003, **drive)
    >>> fitted = drive_phase(shift=0.00025, elongation=0.0, **drive)
    >>> [round(float(np.degrees(each)), 2) for each in (found, fitted, fitted - found)]
    [-2.44, -0.52, 1.92]
    """
    shaft = {"pitch_diameter": pitch_diameter, "crank_turns": crank_turns}
    lowered = retard_by_shift(shift=shift, run_angle=run_angle, **shaft)
    return -lowered - retard_by_elongation(elongation=elongation, tight_run=tight_run, **shaft)


def _shaft(pitch_diameter: Number, crank_turns: Number) -> None:
    require("pitch_diameter", pitch_diameter, "m", above=0, source="derived")
    require("crank_turns", crank_turns, "1", above=0, source="derived")
