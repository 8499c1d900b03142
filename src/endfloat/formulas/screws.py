"""What the formulas of tightening share: the slope of a rubbing screw, and its lever arms."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import require

Number = float | NDArray[np.float64]


def rise(pitch: Number, pitch_diameter: Number, half_flank: Number, friction: Number) -> Number:
    """Tangent of the lead angle and the angle of friction together."""
    require("pitch_diameter", pitch_diameter, "m", above=0, source="vdi-2230")
    require("half_flank", half_flank, "rad", at_least=0, at_most=0.8, source="vdi-2230")
    require("thread_friction", friction, "1", at_least=0, at_most=1, source="vdi-2230")
    lead = pitch / (np.pi * np.asarray(pitch_diameter))
    rub = friction / np.cos(half_flank)
    return (lead + rub) / (1 - lead * rub)


def torque_arms(
    pitch: Number,
    pitch_diameter: Number,
    half_flank: Number,
    thread_friction: Number,
    bearing_diameter: Number,
    face_friction: Number,
) -> tuple[Number, Number]:
    """Torque per preload of the thread and of the face."""
    require("pitch", pitch, "m", above=0, source="vdi-2230")
    require("bearing_diameter", bearing_diameter, "m", above=0, source="vdi-2230")
    require("face_friction", face_friction, "1", at_least=0, at_most=1, source="vdi-2230")
    slope = rise(pitch, pitch_diameter, half_flank, thread_friction)
    return pitch_diameter / 2 * slope, bearing_diameter / 2 * face_friction
