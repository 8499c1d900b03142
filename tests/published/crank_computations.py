"""Published values of crank, volumes and compression that chain several formulas."""

import math
from typing import Any

import numpy as np

from endfloat.formulas import compression, crank, cranking, firing, skims, volumes
from endfloat.quantities.typed_text import Typed, read_typed
from endfloat.quantities.units import UNITS

Inputs = dict[str, Any]


def _si(given: Inputs, *names: str) -> dict[str, Any]:
    """The inputs named, or all of them, in SI; a list becomes an array."""

    def one(text: str) -> float:
        typed = read_typed(text, kind=None, place="")
        assert isinstance(typed, Typed), typed
        return typed.si

    return {
        name: np.array([one(text) for text in given[name]]) if isinstance(given[name], list) else one(given[name])
        for name in names or given
    }


def time_to_greatest_speed(given: Inputs) -> float:
    values = _si(given)
    speed = values.pop("speed")
    return float(crank.angle_of_greatest_speed(**values) / speed)


def bottom_past_half_turn(given: Inputs) -> float:
    return math.degrees(float(crank.dead_centres(**_si(given)).bottom) - math.pi)


def inertia_force(given: Inputs) -> float:
    values = _si(given)
    mass = values.pop("mass")
    return float(mass * crank.piston_acceleration(**values, angle=0.0)) / 1000


def absolute_pressure(given: Inputs) -> float:
    values = _si(given, "ratio", "ambient", "filling", "exponent")
    return float(cranking.cranking_pressure(**values) + values["ambient"]) / float(UNITS[given["unit"]].factor)


def _reading_at(given: Inputs) -> tuple[float, float]:
    values = _si(given)
    sea, there = (cranking.ambient_pressure(altitude=height) for height in (0.0, values["altitude"]))
    return float(cranking.reading_elsewhere(reading=values["reading"], ambient=sea, there=there)), values["reading"]


def reading_at_altitude(given: Inputs) -> float:
    return _reading_at(given)[0] / float(UNITS["psi"].factor)


def loss_at_altitude(given: Inputs) -> float:
    there, here = _reading_at(given)
    return 100 * (1 - there / here)


def share_at_altitude(given: Inputs) -> float:
    there, here = _reading_at(given)
    return there / here


def effective_ratio(given: Inputs) -> float:
    values = _si(given, "bore", "throw", "rod", "offset", "closing", "clearance")
    trapped = cranking.trapped_volume(**values)
    return float(cranking.effective_ratio(trapped=trapped, clearance=values["clearance"], tester=0.0))


def expected_pressure(given: Inputs) -> float:
    values = _si(given, "ambient", "filling", "exponent")
    return float(cranking.cranking_pressure(ratio=effective_ratio(given), **values)) / float(UNITS["bar"].factor)


def round_layer(given: Inputs) -> float:
    values = _si(given)
    area = volumes.disc_area(diameter=values["diameter"])
    return float(volumes.layer_volume(area=area, height=values["height"])) * 1e6


def ratio_of_engine(given: Inputs) -> float:
    values = _si(given)
    clearance = values.pop("clearance")
    return float(compression.ratio_of_volumes(swept=compression.displacement(**values), clearance=clearance))


def ratio_after_skim(given: Inputs) -> float:
    values = _si(given)
    clearance = compression.clearance_for_ratio(swept=values["swept"], ratio=values["ratio"])
    left = skims.chamber_left(chamber=clearance, chamber_area=values["area"], skim=values["skim"])
    return float(compression.ratio_of_volumes(swept=values["swept"], clearance=left))


def _rebored(given: Inputs) -> tuple[float, float]:
    values = _si(given)
    before, after = (
        float(compression.displacement(bore=bore, stroke=values["stroke"], cylinders=1.0))
        for bore in (values["bore"], values["bore"] + values["more"])
    )
    return before, after


def capacity_gain(given: Inputs) -> float:
    before, after = _rebored(given)
    return 100 * (after / before - 1)


def ratio_after_rebore(given: Inputs) -> float:
    before, after = _rebored(given)
    clearance = compression.clearance_for_ratio(swept=before, ratio=_si(given, "ratio")["ratio"])
    return float(compression.ratio_of_volumes(swept=after, clearance=clearance))


def greatest_interval(given: Inputs) -> float:
    """The greatest interval; even firing makes it the cycle over the number of cylinders."""
    values = _si(given)
    fires = firing.firing_table(**values).fires
    intervals = firing.firing_intervals(fires=fires, order=values["order"], cycle=values["cycle"])
    return math.degrees(float(np.max(intervals)))


CRANK = {
    function.__name__: function
    for function in (
        time_to_greatest_speed,
        bottom_past_half_turn,
        inertia_force,
        absolute_pressure,
        reading_at_altitude,
        loss_at_altitude,
        share_at_altitude,
        effective_ratio,
        expected_pressure,
        round_layer,
        ratio_of_engine,
        ratio_after_skim,
        capacity_gain,
        ratio_after_rebore,
        greatest_interval,
    )
}
