"""The same estimates and quantities by the `uncertainties` package: one shared variable for each shared error."""

from collections import defaultdict
from math import cos, pi, sin

import numpy as np
from uncertainties import ufloat

from endfloat.engine.model import Engine
from endfloat.formulas import flatness
from endfloat.inspection.evaluate import inputs_at
from endfloat.inspection.gauges import gauge_sources
from endfloat.inspection.measured import Evidence
from endfloat.quantities.typed_text import read_typed


def _ratio(*, bore, stroke, chamber, chamber_area, skim, gasket_bore, gasket, deck, pockets):
    clearance = chamber - chamber_area * skim + pi / 4 * (gasket_bore**2 * gasket + bore**2 * deck) + pockets
    return 1 + pi / 4 * bore**2 * stroke / clearance


def _face_left(*, skim, other_skim, half_angle, face_elevation, cut):
    sideways = (other_skim - skim) * cos(face_elevation - half_angle) / (2 * sin(face_elevation))
    return (skim * sin(half_angle) + sideways) / cos(face_elevation) - cut


def _drop(*, skim, other_skim, half_angle, face_elevation):
    face = _face_left(skim=skim, other_skim=other_skim, half_angle=half_angle, face_elevation=face_elevation, cut=0)
    return skim * cos(half_angle) + face * sin(face_elevation)


def _phase(*, shift, run_angle, elongation, tight_run, pitch_diameter, crank_turns):
    return -crank_turns * (shift * cos(run_angle) + elongation * tight_run) / (pitch_diameter / 2)


def _gap(*, gap, taken_off, sunk, valve_angle, phase_read, phase_after, by_centre):
    return gap - taken_off * cos(valve_angle) + sunk - by_centre * (phase_after - phase_read)


# Written out anew: the package's numbers do not pass the bounds that our formulas look at.
FORMULAS = {
    "compression.ratio": _ratio,
    "compression.squish": lambda *, gasket, deck: gasket + deck,
    "drive_wheels.chain_elongation": lambda *, length, pitches, pitch: length / (pitches * pitch) - 1,
    "fits.diametral_clearance": lambda *, hole, shaft: hole - shaft,
    "fits.shell_clearance": lambda *, housing, wall, journal: housing - 2 * wall - journal,
    "fits.wear_of_hole": lambda *, size, size_when_new: size - size_when_new,
    "fits.wear_of_shaft": lambda *, size, size_when_new: size_when_new - size,
    "gap_changes.gap_after_work": _gap,
    "skims.intake_face_left": _face_left,
    "skims.manifold_drop": _drop,
    "timing_drive.drive_phase": _phase,
    "skims.thickness_left": lambda *, thickness, skim: thickness - skim,
}


def judged_values(engine: Engine, evidence: Evidence) -> dict[tuple[str, str], tuple[float, float]]:
    """Value and standard uncertainty of every limited thing, by name and place."""
    shared = {}
    values = _characteristics(engine, evidence, shared)
    for name in engine.quantities:
        for place in engine.places_of(name):
            _quantity(engine, values, name, place)
    limited = {limit.on for limit in engine.limits}
    return {key: _pair(value) for key, value in values.items() if key[0] in limited}


def _pair(value) -> tuple[float, float]:
    return (value.nominal_value, value.std_dev) if hasattr(value, "nominal_value") else (float(value), 0.0)


def _characteristics(engine: Engine, evidence: Evidence, shared: dict) -> dict:
    at_spot = defaultdict(list)
    for reading in evidence.readings:
        at_spot[reading.spot].append(reading)
    values = {}
    for name, described in engine.characteristics.items():
        for place in engine.places[described.at].names:
            if described.given is not None:
                values[name, place] = described.given.si
                continue
            spots = {
                (station, axis): _spot(at_spot[name, place, station, axis], evidence, shared)
                for station in described.stations
                for axis in described.axes
            }
            values[name, place] = _reduce(described.reduce, spots)
    return values


def _spot(repeats, evidence: Evidence, shared: dict):
    gauge = evidence.gauges[repeats[0].gauge]
    value = sum(reading.typed.si for reading in repeats) / len(repeats)
    for source, error in gauge_sources(evidence.gauges, repeats[0].gauge).items():
        value = value + shared.setdefault(source, ufloat(0, error.standard))
    step = float(max(reading.typed.resolution for reading in repeats)) * float(repeats[0].typed.unit.factor)
    value = value + ufloat(0, gauge.repeat.si / len(repeats) ** 0.5)
    return value + ufloat(0, max(step, gauge.resolution.si) / 12**0.5)


def _reduce(how: str, spots: dict):
    values = list(spots.values())
    if how == "largest":
        return max(values, key=lambda value: value.nominal_value)
    if how == "smallest":
        return min(values, key=lambda value: value.nominal_value)
    if how == "minimum zone":
        points = {
            "heights": np.array([value.nominal_value for value in values]),
            "along": np.array([read_typed(s, kind=None, place="").si for s, _ in spots]),
            "across": np.array([read_typed(a, kind=None, place="").si for _, a in spots]),
        }
        weights = flatness.zone_weights(**points)
        moved = sum(weight * (value - value.nominal_value) for weight, value in zip(weights, values, strict=True))
        return float(flatness.minimum_zone(**points)) + moved
    return sum(values) / len(values)


def _quantity(engine: Engine, values: dict, name: str, place: str) -> None:
    columns = inputs_at(engine, name, place)
    if engine.quantities[name].over is not None:
        every = [values[spot] for spot in columns["values"]]
        values[name, place] = max(every, key=lambda v: v.nominal_value) - min(every, key=lambda v: v.nominal_value)
        return
    arguments = {argument: values[spots[0]] for argument, spots in columns.items()}
    values[name, place] = FORMULAS[engine.quantities[name].formula](**arguments)
