"""Published values of cams, valve gaps, springs, seats and shims that take more than one call."""

import math
from typing import Any

import numpy as np

from endfloat.formulas import cams, gap_changes, lobe_shapes, shims, spring_wire, valve_gaps, valve_seats, valve_sink
from endfloat.quantities.typed_text import Typed, read_typed

Inputs = dict[str, Any]
FOOT = 0.3048
CUTTERS = ("top", "seat", "throat")


def si(text: str) -> float:
    typed = read_typed(text, kind=None, place="")
    assert isinstance(typed, Typed), typed
    return typed.si


def cam_peak(given: Inputs, field: str) -> float:
    return float(getattr(cams.peak_factors(law=given["law"]), field))


def nose_speed(given: Inputs) -> float:
    """Greatest slope a nose arc of this cam could reach, in feet a second: its centre times the speed."""
    names = ("base_radius", "lift", "nose_radius", "half_angle")
    arcs = lobe_shapes.three_arcs(**{name: si(given[name]) for name in names})
    return float(arcs.nose_centre) * si(given["speed"]) / FOOT


def surge_in_hertz(given: Inputs) -> float:
    sizes = {name: si(text) for name, text in given.items() if name != "rate"}
    if "rate" in given:
        # The book carries its coils on unrounded.
        sizes["active_coils"] = (
            sizes["shear_modulus"] * sizes["wire"] ** 4 / (8 * sizes["coil_diameter"] ** 3 * si(given["rate"]))
        )
    return float(spring_wire.surge(**sizes)) / (2 * math.pi)


def working_coil_gaps(given: Inputs) -> float:
    """Least sum of gaps in mm with the factor of a spring that works."""
    return given["factor"] * float(spring_wire.least_coil_gaps(**{k: si(v) for k, v in given["spring"].items()})) * 1e3


def seat_moves(given: Inputs, wanted: str) -> float:
    """What one millimetre of one cutter moves, in mm; from a seat wide enough to stay one."""
    angles = {f"{name}_angle": math.radians(angle) for name, angle in zip(CUTTERS, given["angles"], strict=True)}
    feeds = {f"{name}_feed": 1e-3 * (name == given["cutter"]) for name in CUTTERS}
    before = {"outer_diameter": 0.06, "inner_diameter": 0.03}
    width = (before["outer_diameter"] - before["inner_diameter"]) / 2 / math.cos(angles["seat_angle"])
    found = valve_seats.seat_after_cuts(**angles, **feeds, **before)
    moved = getattr(found, wanted) - {**before, "width": width}[wanted]
    return float(moved) * 1e3


def rise_per_stock(given: Inputs) -> float:
    return float(valve_sink.tip_rise(seat_stock=1.0, face_stock=0.0, seat_angle=math.radians(given["angle"])))


def least_gap(given: Inputs, field: str) -> float:
    """The least gap in mm, its angle in degrees, or a sensitivity in mm a degree or mm a mm."""
    angles = np.radians(np.arange(-given["half"], given["half"] + 1, given["step"]))
    lifts = 1e-3 * given["lobe"] * np.cos(np.pi * angles / angles[-1] / 2) ** 2
    found = valve_gaps.least_pocket_gap(
        closed_gap=1e-3 * given["closed_gap"],
        valve_angle=math.radians(given["valve_angle"]),
        throw=1e-3 * given["throw"],
        rod=1e-3 * given["rod"],
        offset=0.0,
        centre=math.radians(given["centre"]),
        lash=1e-3 * given["lash"],
        rocker_ratio=1.0,
        reach=math.radians(40),
        table_angle=angles,
        table_lift=lifts,
        period=4 * math.pi,
    )
    value = float(getattr(found, field))
    scale = {"gap": 1e3, "angle": math.degrees(1), "by_centre": 1e3 * math.radians(1)}
    return value * scale.get(field, 1.0)


def phase_of_drive(given: Inputs) -> dict[str, float]:
    """Phase of a cam in crank radians, positive early: found on the long chain, and after the skim on a new one."""
    return {
        "read": -2 * given["elongation"] * given["tight_run"] / given["wheel_radius"],
        "after": -2 * given["skim"] * math.cos(math.radians(given["tilt"])) / given["wheel_radius"],
        "book": 0.0,
    }


def drive_phase(given: Inputs, when: str) -> float:
    return math.degrees(phase_of_drive(given)[when])


def gap_after_work(given: Inputs, valve: str, read_at: str) -> float:
    """The gap in mm after the work, of a valve whose gap was read at the phase named."""
    phases, seen = phase_of_drive(given), given[valve]
    after = gap_changes.gap_after_work(
        gap=seen["gap"],
        taken_off=given["skim"],
        sunk=0.0,
        valve_angle=math.radians(given["valve_angle"]),
        phase_read=phases[read_at],
        phase_after=phases["after"],
        by_centre=seen["later_by_one_degree"] * math.degrees(1),
    )
    return float(after)


def rate_at_least(given: Inputs) -> float:
    """Change of the least gap in mm for a cam later by one degree, at the angle where the gap is said to be least."""
    lengths = {name: 1e-3 * given[name] for name in ("throw", "rod")}
    angles = {name: math.radians(given[name]) for name in ("crank_angle", "valve_angle")}
    return float(gap_changes.gap_rate_at_least(offset=0.0, **lengths, **angles)) * 1e3 * math.radians(1)


def swap(given: Inputs, field: str, place: str = "0") -> float:
    """A field of the swap plan, lengths in mm; places as the table numbers them."""
    rows = {name: 1e-3 * np.array(given[name]) for name in ("fitted", "lash", "loose", "sizes")}
    wanted, allowed = 1e-3 * np.array(given["wanted"]), 1e-3 * given["within"]
    plan = shims.swap_plan(low=wanted - allowed, high=wanted + allowed, **rows)
    value = float(np.atleast_1d(getattr(plan, field))[int(place)])
    return value * 1e3 if field in ("shim", "lash") else value


VALVE_TRAIN = {
    "cam_peak": cam_peak,
    "nose_speed": nose_speed,
    "surge_in_hertz": surge_in_hertz,
    "working_coil_gaps": working_coil_gaps,
    "seat_moves": seat_moves,
    "rise_per_stock": rise_per_stock,
    "least_valve_gap": least_gap,
    "drive_phase": drive_phase,
    "gap_after_work": gap_after_work,
    "rate_at_least": rate_at_least,
    "swap": swap,
}
