"""The search for the least gap over the cycle, for many draws at once: a coarse look, then Newton's steps."""

from __future__ import annotations

import math
from dataclasses import dataclass, fields, replace
from functools import cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import Number
from endfloat.formulas.lift_curve import LiftCurve

Array = NDArray[np.float64]
STEP = np.pi / 45
"""Crank angle between the places of the coarse look."""
ROUNDS = 6
SETTLED = 1e-7
"""A step of the crank angle that no longer moves the gap: the gap is flat there, and the error its square."""
AT_ONCE = 16_384
"""Draws worked at once: more no longer stay in the cache of a processor."""
PLACES = 4096
"""Places of the sampled lift by which the coarse look chooses where to begin."""


class Least(NamedTuple):
    """At the least gap: gap without the closed gap, angle, depth, lift, and what their sensitivities need."""

    gap: Array
    angle: Array
    depth: Array
    lift: Array
    slope: Array
    opened: Array
    by_throw: Array
    by_rod: Array


@dataclass(frozen=True)
class CrankSlider:
    """Crank and rod with the pin's line off the crank's centre; angles count from true dead centre."""

    throw: Number
    rod: Number
    offset: Number
    top: Number
    dead_centre: Number

    def depth(self, angle: Number) -> Array:
        """Depth below the top."""
        _, along, leg = self._triangle(angle)
        return np.asarray(self.top - along - leg)

    def slope_and_bend(self, angle: Number) -> tuple[Array, Array]:
        """First and second derivative of the depth by the crank angle."""
        across, along, leg = self._triangle(angle)
        sine, tilt = across + self.offset, across / leg
        return np.asarray(sine + tilt * along), np.asarray(along + (along**2 * (1 + tilt**2) - sine * across) / leg)

    def _triangle(self, angle: Number) -> tuple[Array, Array, Array]:
        turned = self.dead_centre + np.asarray(angle)
        across = self.throw * np.sin(turned) - self.offset
        return across, np.asarray(self.throw * np.cos(turned)), np.sqrt(self.rod**2 - across**2)

    def by_size(self, angle: Array) -> tuple[Array, Array]:
        """Change of the depth with the throw and with the rod at a fixed angle from dead centre."""
        across, along, leg = self._triangle(angle)
        straight = (self.throw + self.rod) / self.top
        # The true dead centre turns back a little as throw or rod grow.
        turned = -np.tan(self.dead_centre) / (self.throw + self.rod) * self.slope_and_bend(angle)[0]
        by_throw = straight - (along - across * (across + self.offset) / leg) / self.throw + turned
        return np.asarray(by_throw), np.asarray(straight - self.rod / leg + turned)


def crank_slider(throw: Number, rod: Number, offset: Number) -> CrankSlider:
    """The crank slider of these sizes, with its true dead centre."""
    long = throw + rod
    return CrankSlider(throw, rod, offset, np.sqrt(long**2 - np.square(offset)), np.arcsin(offset / long))


@dataclass(frozen=True)
class Cycle:
    """A crank, a lobe and how the one stands to the other."""

    crank: CrankSlider
    curve: LiftCurve
    centre: Number
    lash: Number
    ratio: Number
    reach: float

    @property
    def scale(self) -> float:
        """Angle of the table for one of the crank."""
        return self.curve.period / (4 * np.pi)

    def lift(self, angle: Array) -> Array:
        """Lift of the valve before its lash is taken off."""
        return np.asarray(self.ratio * self.curve.derivative(self._on_table(angle), 0))

    def motion(self, angle: Array) -> tuple[Array, Array, Array]:
        """That lift and its first two derivatives by the crank angle, nought while the lash is not yet taken up."""
        lift, slope, second = self.curve.motion(self._on_table(angle))
        lift = np.asarray(self.ratio * lift)
        open_ = self.ratio * (lift > self.lash)
        return lift, np.asarray(open_ * slope * self.scale), np.asarray(open_ * second * self.scale**2)

    def _on_table(self, angle: Array) -> Array:
        return np.asarray((angle - np.asarray(self.centre)) * self.scale)


def least_over_cycle(cycle: Cycle, down: Number, along: Number) -> Least:
    """The least of down * depth - along * lift within reach of the top, on both sides."""
    shape = _shape(cycle, down, along)
    rows = max(1, AT_ONCE // max(1, math.prod(shape[1:])))
    if not shape or shape[0] <= rows:
        return _least(cycle, down, along)
    parts = [slice(first, first + rows) for first in range(0, shape[0], rows)]
    found = []
    for part in parts:
        few_down, few_along = (_rows(each, part, shape) for each in (down, along))
        found.append(_least(_some(cycle, part, shape), few_down, few_along))
    return Least(*(np.concatenate(each) for each in zip(*found, strict=True)))


def _shape(cycle: Cycle, down: Number, along: Number) -> tuple[int, ...]:
    crank = (cycle.crank.throw, cycle.crank.rod, cycle.crank.offset)
    given = (down, along, *crank, cycle.centre, cycle.lash, cycle.ratio)
    return np.broadcast_shapes(*(np.shape(each) for each in given))


def _rows(value: Number, part: slice, shape: tuple[int, ...]) -> Number:
    along_rows = np.ndim(value) == len(shape) and np.shape(value)[0] == shape[0]
    return np.asarray(value)[part] if along_rows else value


def _some(cycle: Cycle, part: slice, shape: tuple[int, ...]) -> Cycle:
    crank = replace(
        cycle.crank, **{f.name: _rows(getattr(cycle.crank, f.name), part, shape) for f in fields(cycle.crank)}
    )
    centre, lash, ratio = (_rows(each, part, shape) for each in (cycle.centre, cycle.lash, cycle.ratio))
    return replace(cycle, crank=crank, centre=centre, lash=lash, ratio=ratio)


def _least(cycle: Cycle, down: Number, along: Number) -> Least:
    begun = _coarse(cycle, down, along)
    angle = _refined(cycle, down, along, begun)
    better = _gap(cycle, down, along, angle) <= _gap(cycle, down, along, begun)
    angle = np.where(better, angle, begun)
    raised, slope, _ = cycle.motion(angle)
    depth, lift = cycle.crank.depth(angle), np.maximum(raised - cycle.lash, 0.0)
    by_throw, by_rod = cycle.crank.by_size(angle)
    opened = np.asarray(raised > cycle.lash, dtype=np.float64)
    return Least(down * depth - along * lift, angle, depth, lift, slope, opened, by_throw, by_rod)


def _refined(cycle: Cycle, down: Number, along: Number, angle: Array) -> Array:
    """Newton's steps to where the slope vanishes, never further than a place of the grid at once."""
    for _ in range(ROUNDS):
        _, lift_slope, lift_bend = cycle.motion(angle)
        depth_slope, depth_bend = cycle.crank.slope_and_bend(angle)
        slope, bend = down * depth_slope - along * lift_slope, down * depth_bend - along * lift_bend
        step = np.divide(-slope, bend, out=np.asarray(-np.sign(slope) * STEP / 4), where=bend > 0)
        moved = np.clip(angle + np.clip(step, -STEP, STEP), -cycle.reach, cycle.reach)
        settled = np.max(np.abs(moved - angle), initial=0.0) < SETTLED
        angle = moved
        if settled:
            break
    return angle


def _gap(cycle: Cycle, down: Number, along: Number, angle: Array) -> Array:
    lift = np.maximum(cycle.lift(angle) - cycle.lash, 0.0)
    return np.asarray(down * cycle.crank.depth(angle) - along * lift)


@cache
def _sampled(curve: LiftCurve) -> Array:
    return curve.derivative(np.linspace(0.0, curve.period, PLACES, endpoint=False), 0)


def _coarse(cycle: Cycle, down: Number, along: Number) -> Array:
    """For each draw the place of a grid where the gap is least, by the sampled lift."""
    half = max(1, int(np.ceil(cycle.reach / STEP)))
    sampled, per_angle = _sampled(cycle.curve), PLACES / cycle.curve.period * cycle.scale
    begin = np.asarray(cycle.centre) * per_angle - PLACES - 0.5
    crank, shape = cycle.crank, _shape(cycle, down, along)
    best, at = np.full(shape, np.inf), np.zeros(shape)
    for angle in np.linspace(-cycle.reach, cycle.reach, 2 * half + 1):
        place = (angle * per_angle - begin).astype(np.int64) % PLACES
        lift = np.maximum(cycle.ratio * sampled[place] - cycle.lash, 0.0)
        gap = down * crank.depth(float(angle)) - along * lift
        lower = gap < best
        np.copyto(best, gap, where=lower)
        np.copyto(at, angle, where=lower)
    return at
