"""Unbalance of turning masses: vectors, two planes, trial runs and permissible residues."""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import refuse, require

Number = float | NDArray[np.float64]

_LEAST_SHARE = 0.3
_NO_EFFECT = 1e-9


class Unbalance(NamedTuple):
    """A mass times its radius, and where it is."""

    amount: Number
    angle: Number


class TwoPlanes(NamedTuple):
    """Corrections to add in two planes."""

    near: Number
    near_angle: Number
    far: Number
    far_angle: Number


class PlaneLimits(NamedTuple):
    """Permissible residual unbalance of two planes."""

    near: Number
    far: Number


def unbalance_of_masses(*, masses: Number, radii: Number, angles: Number) -> Unbalance:
    """Unbalance of masses in one plane: a single vector.

    What it needs is as much on the other side; divide by the radius of a hole for the mass to drill from the heavy
    side.

    .. math:: U e^{i\\alpha} = \\sum_i m_i r_i e^{i\\alpha_i}

    Parameters
    ----------
    masses : Number
        masses out of the middle, along the last axis, :math:`m_i` [kg]
    radii : Number
        their distances from the axis, :math:`r_i` [m]
    angles : Number
        their angles about the axis, :math:`\\alpha_i` [rad]

    Returns
    -------
    amount : Number
        unbalance, :math:`U` [kg m]
    angle : Number
        angle of the heavy side, :math:`\\alpha` [rad]

    Raises
    ------
    OutOfRange
        If ``masses < 0`` or ``radii < 0``.

    References
    ----------
    .. [1] bevan, balancing of masses in one plane.

    Examples
    --------
    >>> four = dict(masses=np.array([12.0, 10.0, 18.0, 15.0]), radii=np.array([0.04, 0.05, 0.06, 0.03]))
    >>> found = unbalance_of_masses(angles=np.radians([0, 60, 130, 270]), **four)
    >>> round(float(found.amount), 3), round(float(np.degrees(found.angle)), 1)
    (0.811, 87.5)
    """
    require("masses", masses, "kg", at_least=0, source="bevan")
    require("radii", radii, "m", at_least=0, source="bevan")
    require("angles", angles, "rad", source="bevan")
    total = np.sum(np.asarray(masses) * radii * np.exp(1j * np.asarray(angles)), axis=-1)
    return Unbalance(*_polar(total))


def two_plane_correction(
    *, masses: Number, radii: Number, angles: Number, positions: Number, near_plane: Number, far_plane: Number
) -> TwoPlanes:
    """Correction in two planes that leaves neither force nor couple of any set of turning masses.

    To drill instead of adding, go to the opposite angle. Bob weights on their pins are masses like any other.

    .. math:: U_2 e^{i\\alpha} = -\\sum_i m_i r_i e^{i\\alpha_i} \\frac{z_i - z_1}{z_2 - z_1},
              \\quad U_1 e^{i\\alpha} = -\\sum_i m_i r_i e^{i\\alpha_i} \\frac{z_2 - z_i}{z_2 - z_1}

    Parameters
    ----------
    masses : Number
        masses out of the middle, along the last axis, :math:`m_i` [kg]
    radii : Number
        their distances from the axis, :math:`r_i` [m]
    angles : Number
        their angles about the axis, :math:`\\alpha_i` [rad]
    positions : Number
        their distances along the axis from any zero, :math:`z_i` [m]
    near_plane : Number
        position of one correction plane, :math:`z_1` [m]
    far_plane : Number
        position of the other, :math:`z_2` [m]

    Returns
    -------
    near : Number
        unbalance to add in the one plane, :math:`U_1` [kg m]
    near_angle : Number
        angle at which to add it [rad]
    far : Number
        unbalance to add in the other plane, :math:`U_2` [kg m]
    far_angle : Number
        angle at which to add it [rad]

    Raises
    ------
    OutOfRange
        If ``masses < 0`` or ``radii < 0``, or if the planes are one.

    Notes
    -----
    Assumes: a rotor that does not bend.

    References
    ----------
    .. [1] bevan, balancing of masses in several planes.

    Examples
    --------
    >>> one = dict(masses=np.array([200.0]), radii=np.array([9.0]), angles=np.array([0.0]), positions=np.array([60.0]))
    >>> found = two_plane_correction(near_plane=0.0, far_plane=50.0, **one)
    >>> round(float(found.far) / 15, 1), round(float(found.near) / 15, 1)
    (144.0, 24.0)
    """
    require("masses", masses, "kg", at_least=0, source="bevan")
    require("radii", radii, "m", at_least=0, source="bevan")
    require("angles", angles, "rad", source="bevan")
    require("positions", positions, "m", source="bevan")
    require("near_plane", near_plane, "m", source="bevan")
    require("far_plane", far_plane, "m", source="bevan")
    same = np.asarray(np.equal(near_plane, far_plane))
    if np.any(same):
        most = float(np.ravel(np.broadcast_to(near_plane, same.shape)[same])[0])
        refuse("far_plane", far_plane, same, "m", f"other than {most:g}", source="bevan")
    vectors = np.asarray(masses) * radii * np.exp(1j * np.asarray(angles))
    first, second = np.asarray(near_plane)[..., None], np.asarray(far_plane)[..., None]
    share = (positions - first) / (second - first)
    near, far = (_polar(-np.sum(vectors * part, axis=-1)) for part in (1 - share, share))
    return TwoPlanes(*near, *far)


def permissible_unbalance(*, grade: Number, mass: Number, speed: Number) -> Number:
    """Residual unbalance that a balance quality grade allows.

    Which grade is a choice: 16 is usual for crank drives that are balanced in themselves, 6.3 for careful work.

    .. math:: U = \\frac{(e\\omega)\\, m}{\\omega}

    Parameters
    ----------
    grade : Number
        grade as a speed: G 6.3 is 6.3 mm/s, :math:`e\\omega` [m/s]
    mass : Number
        mass of the rotor, :math:`m` [kg]
    speed : Number
        highest speed in service, :math:`\\omega` [rad/s]

    Returns
    -------
    result : Number
        permissible residual unbalance, :math:`U` [kg m]

    Raises
    ------
    OutOfRange
        If ``grade <= 0``, ``mass <= 0`` or ``speed <= 0``.

    Notes
    -----
    Valid for: rotors that do not bend at their speed.
    Assumes: the whole rotor; share it out over the planes with `permissible_in_planes`.

    References
    ----------
    .. [1] iso-21940-11, balance quality grades, as quoted by makers of balancing machines.
    .. [2] memory, the usual grades.

    Examples
    --------
    >>> round(permissible_unbalance(grade=0.016, mass=20.0, speed=628.32) * 1e6)
    509
    """
    require("grade", grade, "m/s", above=0, source="iso-21940-11")
    require("mass", mass, "kg", above=0, source="iso-21940-11")
    require("speed", speed, "rad/s", above=0, source="iso-21940-11")
    return grade * mass / speed


def grade_of_unbalance(*, unbalance: Number, mass: Number, speed: Number) -> Number:
    """Balance quality grade that a measured unbalance amounts to.

    .. math:: e\\omega = \\frac{U \\omega}{m}

    Parameters
    ----------
    unbalance : Number
        residual unbalance as measured, :math:`U` [kg m]
    mass : Number
        mass of the rotor, :math:`m` [kg]
    speed : Number
        highest speed in service, :math:`\\omega` [rad/s]

    Returns
    -------
    result : Number
        grade as a speed: 0.0063 m/s is G 6.3, :math:`e\\omega` [m/s]

    Raises
    ------
    OutOfRange
        If ``unbalance < 0``, ``mass <= 0`` or ``speed < 0``.

    Notes
    -----
    No published value: the inverse of `permissible_unbalance`.

    References
    ----------
    .. [1] iso-21940-11, balance quality grades, as quoted by makers of balancing machines.

    Examples
    --------
    >>> round(grade_of_unbalance(unbalance=509e-6, mass=20.0, speed=628.32) * 1e3, 1)
    16.0
    """
    require("unbalance", unbalance, "kg m", at_least=0, source="iso-21940-11")
    require("mass", mass, "kg", above=0, source="iso-21940-11")
    require("speed", speed, "rad/s", at_least=0, source="iso-21940-11")
    return unbalance * speed / mass


def permissible_in_planes(*, permissible: Number, near_distance: Number, far_distance: Number) -> PlaneLimits:
    """Limit of each of two planes, with the centre of mass between them: the nearer plane gets more.

    No plane gets less than 30 or more than 70 % of the whole.

    .. math:: U_1 = U \\frac{l_2}{l_1 + l_2},\\quad U_2 = U \\frac{l_1}{l_1 + l_2}

    Parameters
    ----------
    permissible : Number
        permissible residual unbalance of the whole rotor, :math:`U` [kg m]
    near_distance : Number
        distance of the centre of mass from the near plane, :math:`l_1` [m]
    far_distance : Number
        distance of the centre of mass from the far plane, :math:`l_2` [m]

    Returns
    -------
    near : Number
        limit in the near plane, :math:`U_1` [kg m]
    far : Number
        limit in the far plane, :math:`U_2` [kg m]

    Raises
    ------
    OutOfRange
        If ``permissible <= 0``, ``near_distance <= 0`` or ``far_distance <= 0``.

    Notes
    -----
    Valid for: planes at or near the bearings, the centre of mass between them.
    No published value: only the rule is published.

    References
    ----------
    .. [1] colibri-balancing, rules of ISO 1940-1 for two planes.

    Examples
    --------
    >>> limits = permissible_in_planes(permissible=200e-6, near_distance=0.15, far_distance=0.25)
    >>> round(float(limits.near) * 1e6), round(float(limits.far) * 1e6)
    (125, 75)
    """
    require("permissible", permissible, "kg m", above=0, source="colibri-balancing")
    require("near_distance", near_distance, "m", above=0, source="colibri-balancing")
    require("far_distance", far_distance, "m", above=0, source="colibri-balancing")
    share = np.clip(far_distance / (near_distance + far_distance), _LEAST_SHARE, 1 - _LEAST_SHARE)
    return PlaneLimits(permissible * share, permissible * (1 - share))


def correction_by_trial(
    *, before: Number, before_angle: Number, after: Number, after_angle: Number, trial: Number, trial_angle: Number
) -> Unbalance:
    """Correction in one plane from a run as found and a run with a trial mass, as for a fan or flywheel in place.

    Any unit of vibration will do; take the trial mass off before the correction goes on.

    .. math:: U e^{i\\alpha} = -T e^{i\\tau} \\frac{V_0 e^{i\\varphi_0}}{V_1 e^{i\\varphi_1} - V_0 e^{i\\varphi_0}}

    Parameters
    ----------
    before : Number
        vibration as found, :math:`V_0` [m/s]
    before_angle : Number
        its phase, :math:`\\varphi_0` [rad]
    after : Number
        vibration with the trial mass, :math:`V_1` [m/s]
    after_angle : Number
        its phase, :math:`\\varphi_1` [rad]
    trial : Number
        trial mass times its radius, :math:`T` [kg m]
    trial_angle : Number
        angle of the trial mass, counted as the phase is, :math:`\\tau` [rad]

    Returns
    -------
    amount : Number
        unbalance to add in place of the trial mass, :math:`U` [kg m]
    angle : Number
        angle at which to add it, :math:`\\alpha` [rad]

    Raises
    ------
    OutOfRange
        If ``before < 0``, ``after < 0`` or ``trial <= 0``, or if the trial mass changed nothing.

    Notes
    -----
    Assumes: the same speed in both runs and a machine that answers in proportion.
    No published value: checked against a rotor with a known unbalance.

    References
    ----------
    .. [1] derived, influence of a trial mass.

    Examples
    --------
    >>> runs = dict(before=0.004, before_angle=0.7, after=0.005, after_angle=1.9)
    >>> found = correction_by_trial(trial=120e-6, trial_angle=0.0, **runs)
    >>> round(float(found.amount) * 1e6), round(float(np.degrees(found.angle)))
    (93, 65)
    """
    require("before", before, "m/s", at_least=0, source="derived")
    require("before_angle", before_angle, "rad", source="derived")
    require("after", after, "m/s", at_least=0, source="derived")
    require("after_angle", after_angle, "rad", source="derived")
    require("trial", trial, "kg m", above=0, source="derived")
    require("trial_angle", trial_angle, "rad", source="derived")
    found, changed = (a * np.exp(1j * np.asarray(b)) for a, b in ((before, before_angle), (after, after_angle)))
    effect = np.asarray(changed - found)
    idle = np.abs(effect) <= _NO_EFFECT * np.maximum(np.abs(found), np.abs(changed))
    if np.any(idle):
        refuse("after", after, np.asarray(idle), "m/s", "a trial mass that moves it by 1e-9 at least", source="derived")
    return Unbalance(*_polar(-trial * np.exp(1j * np.asarray(trial_angle)) * found / effect))


def _polar(vector: Any) -> tuple[Number, Number]:
    return np.abs(vector)[()], (np.angle(vector) % (2 * np.pi))[()]
