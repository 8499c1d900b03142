"""Torque, then angle, by general means: roots of the balance of stretch by scipy, and bolt after bolt by math."""

import math

import numpy as np
from scipy.optimize.elementwise import find_root


def by_roots(
    torque,
    angle,
    yield_strength,
    stress_diameter,
    pitch,
    pitch_diameter,
    thread_friction,
    bearing_friction,
    bearing_diameter,
    stiffness,
    hardening,
):
    """Clamp load and plastic stretch of arrays of bolts; all draws are bracketed and refined together.

    The clamp load is where elastic and plastic stretch add up to the advance of the thread. It needs hardening:
    without it the balance has no single root.
    """
    arm = (
        pitch_diameter
        / 2
        * np.tan(np.arctan(pitch / np.pi / pitch_diameter) + np.arctan(thread_friction / np.cos(np.pi / 6)))
    )
    area, section = np.pi / 4 * stress_diameter**2, np.pi / 12 * stress_diameter**3
    yields_at = yield_strength / np.hypot(1 / area, np.sqrt(3) * arm / section)
    snug = torque / (arm + bearing_diameter / 2 * bearing_friction)
    advance = snug / stiffness + pitch * angle / (2 * np.pi)

    def missing(load, stiffness, yields_at, advance):
        return load / stiffness + np.maximum(load - yields_at, 0) / hardening - advance

    found = find_root(missing, (np.zeros_like(advance), stiffness * advance), args=(stiffness, yields_at, advance))
    assert found.success.all()
    return found.x, np.maximum(found.x - yields_at, 0) / hardening


def by_loop(
    torque,
    angle,
    yield_strength,
    stress_diameter,
    pitch,
    pitch_diameter,
    thread_friction,
    bearing_friction,
    bearing_diameter,
    stiffness,
    hardening,
):
    """The closed sums for one bolt of one draw after another, as one would write them for a single bolt."""
    lead = math.atan(pitch / math.pi / pitch_diameter)
    area, section = math.pi / 4 * stress_diameter**2, math.pi / 12 * stress_diameter**3
    clamps, stretches = np.empty(torque.shape), np.empty(torque.shape)
    drawn = (torque, angle, yield_strength, thread_friction, bearing_friction, stiffness)
    rows = zip(*(column.ravel().tolist() for column in drawn), strict=True)
    for at, (pull, turn, strength, thread, bearing, spring) in enumerate(rows):
        arm = pitch_diameter / 2 * math.tan(lead + math.atan(thread / math.cos(math.pi / 6)))
        yields_at = strength / math.hypot(1 / area, math.sqrt(3) * arm / section)
        load = pull / (arm + bearing_diameter / 2 * bearing) + spring * pitch * turn / (2 * math.pi)
        stretch = max(load - yields_at, 0.0) / (spring + hardening)
        clamps.flat[at], stretches.flat[at] = load - spring * stretch, stretch
    return clamps, stretches
