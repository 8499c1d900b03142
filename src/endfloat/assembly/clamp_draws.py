"""One sort of bolt in numbers: clamp load by torque alone, by torque and angle, and where it begins to yield."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.friction import clamp_load
from endfloat.formulas.tightening import torque, yield_limited_preload
from endfloat.formulas.torque_angle import torque_then_angle
from endfloat.formulas.yield_loads import first_yield_clamp
from endfloat.formulas.yielding import angle_to_yield

Array = NDArray[np.float64]
DRAWS = 4000
# Real bolts are commonly up to 15 per cent stronger than their class asks; common practice, no source.
STRONGER = 1.15
# Stiffness is rarely known better than a tenth; common practice, no source.
STIFFER = 0.1
FLANK = np.pi / 6
FRICTIONS = 21


@dataclass(frozen=True, slots=True)
class Errors:
    """What wrench and angle gauge may be off, as half-widths in SI."""

    torque: float
    angle: float


@dataclass(frozen=True, slots=True)
class Known:
    """A bolt in SI, ready for the formulas; the strength is the least of its class."""

    pitch: float
    pitch_diameter: float
    stress_diameter: float
    bearing_diameter: float
    frictions: tuple[float, float]
    strength: float
    stiffness: float


@dataclass(frozen=True, slots=True)
class Drawn:
    """Lowest, middle and highest clamp load, the share past yield, and the torque to be seen at the end of an angle."""

    loads: tuple[float, float, float]
    past_yield: float
    torque_seen: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class Onset:
    """Angle after the torque at which yield begins, least and greatest over the friction, at the class's strength."""

    surface: tuple[float, float]
    section: tuple[float, float]


def by_torque(known: Known, pull: float, errors: Errors, lubrication: str) -> Drawn:
    """The corners of friction and wrench; past yield where the greatest load passes what the least friction allows."""
    low, high = known.frictions
    told = clamp_load(
        torque=pull,
        torque_error=min(errors.torque / pull, 0.99),
        prevailing=0.0,
        pitch=known.pitch,
        pitch_diameter=known.pitch_diameter,
        half_flank=FLANK,
        bearing_diameter=known.bearing_diameter,
        lowest_friction=low,
        highest_friction=high,
        lubrication=lubrication,
    )
    limit = yield_limited_preload(
        stress_diameter=known.stress_diameter,
        pitch=known.pitch,
        pitch_diameter=known.pitch_diameter,
        half_flank=FLANK,
        thread_friction=low,
        prevailing=0.0,
        yield_strength=known.strength,
        use=1.0,
    )
    loads = (float(told.lowest), float(told.nominal), float(told.highest))
    return Drawn(loads, past_yield=float(loads[2] > limit))


def by_torque_and_angle(
    known: Known, pull: float, angles: Sequence[float], errors: Errors, generator: np.random.Generator
) -> Drawn:
    """Draws of friction, wrench, angle, strength and stiffness; the interval holds 95 of 100."""

    def spread(low: float, high: float) -> Array:
        return generator.uniform(low, high, DRAWS)

    thread, head = spread(*known.frictions), spread(*known.frictions)
    steps = [np.maximum(spread(each - errors.angle, each + errors.angle), 0.0) for each in angles]
    bolt = torque_then_angle(
        torque=np.maximum(spread(pull - errors.torque, pull + errors.torque), 0.0),
        angle=np.sum(steps, axis=0),
        yield_strength=spread(known.strength, known.strength * STRONGER),
        stress_diameter=known.stress_diameter,
        pitch=known.pitch,
        pitch_diameter=known.pitch_diameter,
        thread_friction=thread,
        bearing_friction=head,
        bearing_diameter=known.bearing_diameter,
        stiffness=known.stiffness * spread(1 - STIFFER, 1 + STIFFER),
        hardening=0.0,
    )
    ends = torque(
        preload=bolt.clamp,
        pitch=known.pitch,
        pitch_diameter=known.pitch_diameter,
        half_flank=FLANK,
        thread_friction=thread,
        bearing_diameter=known.bearing_diameter,
        face_friction=head,
        prevailing=0.0,
    )
    low, middle, high = (float(each) for each in np.percentile(bolt.clamp, [2.5, 50, 97.5]))
    first, last = (float(each) for each in np.percentile(ends, [2.5, 97.5]))
    return Drawn((low, middle, high), float(np.mean(np.asarray(bolt.stretch) > 0)), (first, last))


def onset(known: Known, pull: float) -> Onset:
    """Where the surface of the bolt begins to yield, and where its whole section does, from least to most friction."""
    friction = np.linspace(*known.frictions, FRICTIONS)
    bolt = torque_then_angle(
        torque=pull,
        angle=0.0,
        yield_strength=known.strength,
        stress_diameter=known.stress_diameter,
        pitch=known.pitch,
        pitch_diameter=known.pitch_diameter,
        thread_friction=friction,
        bearing_friction=friction,
        bearing_diameter=known.bearing_diameter,
        stiffness=known.stiffness,
        hardening=0.0,
    )
    surface = angle_to_yield(
        clamp=bolt.snug_clamp,
        stretch=0.0,
        pitch=known.pitch,
        stiffness=known.stiffness,
        limit=first_yield_clamp(
            yield_strength=known.strength,
            stress_diameter=known.stress_diameter,
            pitch=known.pitch,
            pitch_diameter=known.pitch_diameter,
            thread_friction=friction,
        ),
        hardening=0.0,
    )
    return Onset(_ends(np.asarray(surface)), _ends(np.asarray(bolt.yield_angle)))


def _ends(values: Array) -> tuple[float, float]:
    return float(values.min()), float(values.max())
