"""Worked examples of bolts whose printed value needs several formulas in a chain."""

import numpy as np

from endfloat.formulas import (
    bearing_faces,
    bolts,
    clamp,
    clamped_parts,
    scatter,
    stiffness,
    stripping,
    thread_standards,
    threads,
    tightening,
)
from endfloat.quantities.typed_text import Typed, read_typed

METRIC = np.pi / 6


def _si(text: str) -> float:
    typed = read_typed(text, kind=None, place="")
    assert isinstance(typed, Typed), typed
    return typed.si


def assembly(given: dict[str, str], wanted: str) -> float:
    """Preload in kN or torque in N m of the printed tables: a share of yield, one friction in thread and face."""
    diameter, pitch, friction = _si(given["diameter"]), _si(given["pitch"]), _si(given["friction"])
    sizes = threads.metric_sizes(diameter=diameter, pitch=pitch)
    least = bolts.strength(strength_class=given["strength_class"], diameter=diameter).yielding
    thread = {"pitch": pitch, "pitch_diameter": sizes.pitch_diameter, "half_flank": METRIC}
    preload = tightening.yield_limited_preload(
        stress_diameter=sizes.stress_diameter,
        thread_friction=friction,
        prevailing=0.0,
        yield_strength=least,
        use=0.9,
        **thread,
    )
    if wanted == "preload":
        return float(preload) / 1e3
    if wanted == "least":
        factor = _si(given["factor"])
        return float(scatter.least_preload(highest=preload, factor=factor)) / 1e3
    face = bearing_faces.mean_diameter(face=_si(given["face"]), hole=_si(given["hole"]))
    return float(
        tightening.torque(
            preload=preload,
            thread_friction=friction,
            bearing_diameter=face,
            face_friction=friction,
            prevailing=0.0,
            **thread,
        )
    )


def cone(given: dict[str, str], wanted: str) -> float:
    """Stack of the textbook, cones of 30 degrees from both ends: its stiffness in MN/m, or the share of the bolt."""
    parts = clamped_parts.layers(
        joint="through",
        hole=_si(given["diameter"]),
        face=_si(given["face"]),
        outer=10.0,
        half_angle=METRIC,
        thicknesses=np.array([_si(each) for each in given["thicknesses"]]),
        moduli=np.array([_si(each) for each in given["moduli"]]),
    )
    if wanted == "parts":
        return float(parts) / 1e6
    return float(stiffness.load_share(bolt_stiffness=_si(given["bolt"]), parts_stiffness=parts))


def fitted_halves(given: dict[str, str], wanted: str, of_what: str = "half") -> float:
    """Two materials by the exponential fit: halves in series, or one as the whole; in MN/m or millions of lbf/in."""
    share = 1.0 if of_what == "whole" else 0.5
    parts = [
        clamped_parts.fitted(
            diameter=_si(given["diameter"]),
            grip=_si(given["grip"]),
            share=share,
            modulus=_si(modulus),
            material=material,
        )
        for modulus, material in zip(given["moduli"], given["materials"], strict=True)
    ]
    unit = 1e6 if given["unit"] == "MN/m" else 1e6 * _si("1 lbf") / _si("1 in")
    every = [*parts, stiffness.in_series(stiffnesses=np.array(parts))]
    return float(every[{"first": 0, "second": 1, "both": 2}[wanted]]) / unit


def two_sections(given: dict[str, str], wanted: str) -> float:
    """Stiffness of a bolt in millions of lbf/in."""
    areas = {name: _si(given[name]) * _si("1 in") ** 2 for name in ("shank_area", "stress_area")}
    lengths = {name: _si(given[name]) for name in ("shank", "thread")}
    found = stiffness.two_sections(modulus=_si(given["modulus"]), **areas, **lengths)
    return float(found) / (1e6 * _si("1 lbf") / _si("1 in"))


def square_thread(given: dict[str, str], wanted: str) -> float:
    """Power screw with a square thread and a collar: torque to raise and to lower in N m, efficiency."""
    screw = {
        "pitch": _si(given["lead"]),
        "pitch_diameter": _si(given["mean_diameter"]),
        "half_flank": 0.0,
        "thread_friction": _si(given["friction"]),
        "bearing_diameter": _si(given["collar"]),
        "face_friction": _si(given["collar_friction"]),
    }
    if wanted == "efficiency":
        return float(tightening.torque_shares(**screw).stretch)
    turn = tightening.torque if wanted == "raise" else tightening.loosening_torque
    return float(turn(preload=_si(given["load"]), prevailing=0.0, **screw))


def screw_efficiency(given: dict[str, str], wanted: str) -> float:
    """Efficiency of a square thread without a collar, from its lead angle."""
    shares = tightening.torque_shares(
        pitch=np.pi * np.tan(_si(given["lead_angle"])),
        pitch_diameter=1.0,
        half_flank=0.0,
        thread_friction=_si(given["friction"]),
        bearing_diameter=1.0,
        face_friction=0.0,
    )
    return float(shares.stretch)


def bolt_stress(given: dict[str, str]) -> float:
    """Stress of the bolt of example 8-3, its area in square inches, in ksi."""
    share = stiffness.load_share(bolt_stiffness=6.5, parts_stiffness=13.8)
    loaded = clamp.with_external_load(
        preload=_si(given["preload"]), load=_si(given["load"]), share=share, introduction=1.0
    )
    return float(loaded.bolt_load) / (_si(given["area"]) * _si("1 in") ** 2) / (1e3 * _si("1 psi"))


def unified(given: dict[str, str], wanted: str) -> float:
    """Stress area of a unified thread in square inches."""
    thread = thread_standards.inch_thread(size=given["size"], series=given["series"])
    return float(threads.inch_sizes(diameter=thread.diameter, pitch=thread.pitch).stress_area) / _si("1 in") ** 2


def hole_tolerance(given: dict[str, str]) -> float:
    """Tolerance of the pitch diameter of a tapped hole in micrometres."""
    limits = thread_standards.metric_limits(thread=given["thread"])
    return (limits.nut_pitch_greatest - limits.nut_pitch_least) * 1e6


def shear_area(given: dict[str, str], wanted: str) -> float:
    """Area that shears in a hole for each inch of engagement, in square inches."""
    lengths = {name: _si(text) for name, text in given.items()}
    area = stripping.internal_area if wanted == "limits" else stripping.simple_internal_area
    return float(area(engagement=_si("1 in"), **lengths)) / _si("1 in") ** 2


FASTENING = {
    "assembly": assembly,
    "cone": cone,
    "fitted_halves": fitted_halves,
    "two_sections": two_sections,
    "square_thread": square_thread,
    "screw_efficiency": screw_efficiency,
    "bolt_stress": bolt_stress,
    "unified": unified,
    "hole_tolerance": hole_tolerance,
    "shear_area": shear_area,
}
