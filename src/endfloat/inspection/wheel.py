"""The degree wheel: what it read, put right by the dead centre, against where a lobe should stand."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from endfloat.engine.timing import Cam, DeadCentreByStop
from endfloat.formulas import sizes
from endfloat.formulas.cam_timing import centre_with_phase, lobe_timing, phase_error
from endfloat.formulas.dead_centres import top_by_stop
from endfloat.inspection.gauges import Gauge
from endfloat.inspection.verdicts import Bounds, Rule, Verdict, judged
from endfloat.quantities.estimates import Array, ErrorSource, Estimate, propagate
from endfloat.quantities.typed_text import Typed

TURN = 2 * math.pi


@dataclass(frozen=True, slots=True)
class Touches:
    """The two touches of the stop as typed, and the wheel; `name` tells one dead centre from another."""

    name: str
    before: Typed
    after: Typed
    gauge: str


@dataclass(frozen=True, slots=True)
class WheelReading:
    """The wheel at one point of a cam, the dead centre it was read by, and whether the valve moved a turn away."""

    name: str
    point: str
    typed: Typed
    gauge: str
    other_turn: bool
    by: Touches


@dataclass(frozen=True, slots=True)
class CamFinding:
    """One cam as read: its lobe centre as books print it, the verdict, its phase, and what no expectation explains.

    `phase` is positive early. `expected` is the centre that the work leads to, with its own uncertainty. `sides` is how
    much later the valve closes than opens, both against the book; none where the book gives no events.
    """

    centre: Estimate | None
    bounds: Bounds
    verdict: Verdict
    probability: float | None = None
    phase: Estimate | None = None
    expected: Estimate | None = None
    unexplained: Estimate | None = None
    sides: Estimate | None = None


def wheel_source(register: Mapping[str, Gauge], gauge: str, typed: Typed, name: str) -> dict[str, ErrorSource]:
    """What makes one reading of a wheel uncertain.

    Its error counts anew at each reading: a wheel set on askew errs differently all round, and an error that is the
    same all round is taken out by the dead centre.
    """
    wheel = register[gauge]
    step = max(float(typed.resolution) * float(typed.unit.factor), wheel.resolution.si)
    return {
        f"{gauge} at {name}": ErrorSource(wheel.error.si / math.sqrt(3), shape="rectangular"),
        f"repeat at {name}": ErrorSource(wheel.repeat.si),
        f"step at {name}": ErrorSource(step / math.sqrt(12), shape="rectangular"),
    }


def touched(register: Mapping[str, Gauge], touches: Touches) -> dict[str, Estimate]:
    """Both touches as estimates."""
    both = {"before": touches.before, "after": touches.after}
    return {
        side: Estimate(typed.si, wheel_source(register, touches.gauge, typed, f"{side} dead centre {touches.name}"))
        for side, typed in both.items()
    }


def wheel_at_top(described: DeadCentreByStop, register: Mapping[str, Gauge], touches: Touches) -> Estimate:
    """What the wheel reads at the true top dead centre: the correction with its sign turned."""
    columns = {side: [estimate] for side, estimate in touched(register, touches).items()}
    [top] = propagate(lambda before, after: _within_half_a_turn(_top(described, before, after)), columns)
    return top


def _top(described: DeadCentreByStop, before: Array, after: Array) -> Array:
    # On the running scale the first touch comes less than a turn before the second, whatever nought the wheel has.
    running = after - (after - before) % TURN
    offset = described.offset.si if described.offset else 0.0
    found = top_by_stop(
        before=running,
        after=after,
        throw=described.throw.si,
        rod=described.rod.si,
        offset=offset,
        drop=described.drop.si,
    )
    return np.asarray(found.top)


def _within_half_a_turn(angle: Array) -> Array:
    return np.asarray(angle - TURN * np.round(angle / TURN))


def book_angle(cam: Cam, point: str) -> float:
    """Where the book has a point of the lobe, after the top at which both valves rock."""
    assert cam.centre is not None, "a cam without a lobe centre is not read"
    sign = 1.0 if cam.valve == "intake" else -1.0
    centre = sign * cam.centre.si
    if point == "opens" and cam.opens is not None:
        return -cam.opens.si if cam.valve == "intake" else -math.pi - cam.opens.si
    if point == "closes" and cam.closes is not None:
        return math.pi + cam.closes.si if cam.valve == "intake" else cam.closes.si
    # Without events of the book the flanks are looked for half a lobe to either side.
    return centre + {"opens": -1, "rising": -1, "closes": 1, "falling": 1}.get(point, 0) * math.pi / 3


def angle_read(cam: Cam, described: DeadCentreByStop, register: Mapping[str, Gauge], reading: WheelReading) -> Estimate:
    """The angle of a reading after the rocking top of the cam's own cylinder, nearest to where the book has it."""
    book = book_angle(cam, reading.point)

    def angle(before: Array, after: Array, wheel: Array) -> Array:
        found = wheel - _top(described, before, after) - cam.top_at.si
        return book + _within_half_a_turn(found - book) + (TURN if reading.other_turn else 0.0)

    own = Estimate(reading.typed.si, wheel_source(register, reading.gauge, reading.typed, reading.name))
    columns = {side: [estimate] for side, estimate in {**touched(register, reading.by), "wheel": own}.items()}
    [found] = propagate(angle, columns)
    return found


def points_read(
    cam: Cam, described: DeadCentreByStop, register: Mapping[str, Gauge], readings: Sequence[WheelReading]
) -> dict[str, Estimate]:
    """Each point of a cam that was read, repeats as their mean."""
    found: dict[str, Estimate] = {}
    for point in cam.points:
        repeats = [angle_read(cam, described, register, each) for each in readings if each.point == point]
        if repeats:
            columns = {f"reading {number}": [each] for number, each in enumerate(repeats)}
            [found[point]] = propagate(_mean, columns)
    return found


def _mean(**repeats: Array) -> Array:
    return np.asarray(sizes.mean(readings=np.stack(list(repeats.values()), axis=-1)))


def lobe_centre(cam: Cam, points: Mapping[str, Estimate]) -> Estimate | None:
    """The lobe centre as the book prints it, from the points read; None while one is missing."""
    if any(point not in points for point in cam.points):
        return None
    first, last = points[cam.points[0]], points[cam.points[-1]]
    sign = 1.0 if cam.valve == "intake" else -1.0
    if first is last:
        [centre] = propagate(lambda angle: sign * angle, {"angle": [first]})
        return centre
    [centre] = propagate(lambda first, last: _lobe(cam, first, last)[1], {"first": [first], "last": [last]})
    return centre


def _lobe(cam: Cam, first: Array, last: Array) -> tuple[Array, Array]:
    """Duration and centre of a lobe from the angles of its two sides."""
    if cam.valve == "intake":
        found = lobe_timing(beside_top=-first, beside_bottom=last - np.pi)
    else:
        found = lobe_timing(beside_top=last, beside_bottom=-first - np.pi)
    return np.asarray(found.duration), np.asarray(found.centre)


def sides_of(cam: Cam, points: Mapping[str, Estimate]) -> Estimate | None:
    """How much longer the valve is open than the book has it: nought when both sides err alike."""
    if cam.opens is None or cam.closes is None or any(point not in points for point in ("opens", "closes")):
        return None
    book = book_angle(cam, "closes") - book_angle(cam, "opens")
    columns = {"first": [points["opens"]], "last": [points["closes"]]}
    [found] = propagate(lambda first, last: _lobe(cam, first, last)[0] - book, columns)
    return found


def judge_cam(
    cam: Cam,
    described: DeadCentreByStop,
    register: Mapping[str, Gauge],
    readings: Sequence[WheelReading],
    predicted: Estimate | None,
) -> CamFinding:
    """One cam against the limits of its lobe centre; `predicted` is the phase that the work leads to."""
    bounds = Bounds(cam.low.si if cam.low else None, cam.high.si if cam.high else None)
    expected = centre_expected(cam, predicted)
    points = points_read(cam, described, register, readings) if cam.centre is not None else {}
    centre = lobe_centre(cam, points)
    if centre is None:
        missing = Verdict.READINGS_MISSING if points else Verdict.NOT_MEASURED
        return CamFinding(None, bounds, missing, expected=expected)
    phase = phase_read(cam, centre)
    left = unexplained(phase, predicted)
    sides = sides_of(cam, points)
    if bounds.low is None and bounds.high is None:
        return CamFinding(centre, bounds, Verdict.NO_LIMIT, None, phase, expected, left, sides)
    verdict, probability = judged(centre, bounds, Rule())
    return CamFinding(centre, bounds, verdict, probability, phase, expected, left, sides)


def phase_read(cam: Cam, centre: Estimate) -> Estimate:
    """How early (positive) or late a cam stands against the book."""
    assert cam.centre is not None, "a centre is read only where the book gives one"
    sign, book = (1.0 if cam.valve == "intake" else -1.0), cam.centre.si
    [phase] = propagate(
        lambda centre: np.asarray(phase_error(centre=sign * centre, book_centre=sign * book)), {"centre": [centre]}
    )
    return phase


def centre_expected(cam: Cam, predicted: Estimate | None) -> Estimate | None:
    """Where the lobe centre should stand after the work, as the book prints it."""
    if cam.centre is None or predicted is None:
        return None
    sign, book = (1.0 if cam.valve == "intake" else -1.0), cam.centre.si
    [centre] = propagate(
        lambda phase: sign * np.asarray(centre_with_phase(book_centre=sign * book, phase=phase)), {"phase": [predicted]}
    )
    return centre


def unexplained(phase: Estimate, predicted: Estimate | None) -> Estimate:
    """What of a phase no expectation explains."""
    if predicted is None:
        return phase
    [left] = propagate(lambda read, known: read - known, {"read": [phase], "known": [predicted]})
    return left
