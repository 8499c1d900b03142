"""A measured lift table as a smooth curve over the turn of the cam; what lies outside the table is base circle."""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import CubicSpline, PPoly, splrep

from endfloat.errors import OutOfRange
from endfloat.formulas.bounds import Number, require

Array = NDArray[np.float64]
FEWEST = 6
"""Points a table needs at least: a spline of the fifth degree wants six."""


class LiftMotion(NamedTuple):
    """Lift and its first and second derivative by the angle of the table."""

    lift: Number
    slope: Number
    second: Number


class LiftCurve:
    """A spline through or near the table, repeated every period, nought outside the table."""

    def __init__(self, spline: PPoly, first: float, last: float, period: float) -> None:
        self.spline = spline
        self.first = first
        self.last = last
        self.period = period

    def derivative(self, angle: Number, order: int) -> Array:
        """Lift (order 0) or its derivative by the angle of the table."""
        at = self.first + np.mod(np.asarray(angle, dtype=np.float64) - self.first, self.period)
        return np.where(at <= self.last, self.spline(np.minimum(at, self.last), nu=order), 0.0)

    def motion(self, angle: Number) -> LiftMotion:
        """Lift and two derivatives."""
        at = self.first + np.mod(np.asarray(angle, dtype=np.float64) - self.first, self.period)
        inside, held = at <= self.last, np.minimum(at, self.last)
        return LiftMotion(*(np.where(inside, self.spline(held, nu=order), 0.0)[()] for order in range(3)))

    @property
    def peak(self) -> tuple[float, float]:
        """Angle and height of the highest point."""
        flat = self.spline.derivative().roots(extrapolate=False)
        angles = np.concatenate([flat[np.isfinite(flat)], [self.first, self.last]])
        lifts = self.spline(angles)
        return float(angles[np.argmax(lifts)]), float(lifts.max())


def lift_curve(table_angle: Array, table_lift: Array, period: Number, gauge: float | None = None) -> LiftCurve:
    """The curve of a table; with `gauge`, the standard uncertainty of a reading, it is smoothed by that much."""
    require("period", period, "rad", above=0)
    require("table_angle", table_angle, "rad")
    require("table_lift", table_lift, "m")
    angle, lift = np.asarray(table_angle, dtype=np.float64), np.asarray(table_lift, dtype=np.float64)
    if angle.ndim != 1 or angle.shape != lift.shape or len(angle) < FEWEST:
        expected = f"a row of at least {FEWEST} angles with as many lifts"
        raise OutOfRange(name="table_angle", value=angle.size, expected=expected, unit="rad")
    if np.any(bad := np.diff(angle) <= 0):
        first = float(angle[1:][bad][0])
        raise OutOfRange(name="table_angle", value=first, expected="angles that rise by more than 0", unit="rad")
    turn = float(period)
    if (span := float(angle[-1] - angle[0])) > turn * (1 + 1e-9):
        raise OutOfRange(name="table_angle", value=span, expected=f"a span of at most the period {turn:g}", unit="rad")
    return _built(angle.tobytes(), lift.tobytes(), turn, gauge)


@cache
def _built(angles: bytes, lifts: bytes, period: float, gauge: float | None) -> LiftCurve:
    angle, lift = np.frombuffer(angles), np.frombuffer(lifts)
    if gauge is not None:
        # Weights of 1/u and a sum of squares equal to the number of points: the curve misses each reading by about u.
        spline = PPoly.from_spline(splrep(angle, lift, w=np.full(len(angle), 1 / gauge), k=5, s=len(angle)))
    else:
        closed = np.isclose(angle[-1] - angle[0], period, rtol=1e-9) and lift[-1] == lift[0]
        # On the base circle the lift neither is nor rises; an end in mid-air is left to the spline.
        ends = tuple((1, 0.0) if end == 0 else "not-a-knot" for end in (lift[0], lift[-1]))
        spline = CubicSpline(angle, lift, bc_type="periodic" if closed else ends)
    return LiftCurve(spline, float(angle[0]), float(angle[-1]), period)
