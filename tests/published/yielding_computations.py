"""Bolts of a table from their nominal size: the basic thread and the bearing face of a hexagon head."""

from typing import Any

from endfloat.formulas import yield_loads

Inputs = dict[str, Any]

# Least bearing face and medium clearance hole in mm, by nominal diameter; the faces are from memory.
FACE = {8: (11.63, 9.0), 10: (14.63, 11.0), 12: (16.63, 13.5), 14: (19.64, 15.5), 16: (22.49, 17.5)}


def table_bolt(given: Inputs, wanted: str) -> float:
    """Assembly load in kN or torque in N m at nine tenths of yield, one friction for thread and head."""
    pitch, pitch_diameter = given["pitch"], given["nominal"] - 0.649519 * given["pitch"]
    root = given["nominal"] - 1.226869 * pitch
    thread = {
        "yield_strength": given["strength"] * 1e6,
        "core_diameter": (pitch_diameter + root) / 2000,
        "pitch": pitch / 1000,
        "pitch_diameter": pitch_diameter / 1000,
        "thread_friction": given["friction"],
        "utilisation": 0.9,
    }
    if wanted == "clamp":
        return float(yield_loads.yield_clamp(**thread)) / 1000
    face = sum(FACE[given["nominal"]]) / 2000
    return float(yield_loads.torque_at_yield(**thread, bearing_friction=given["friction"], bearing_diameter=face))
