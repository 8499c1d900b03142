"""The timing as pages and holds read it: each cam as read, the gate, the pattern, and what comes next."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from endfloat.engine.timing import Cam, Timing
from endfloat.inspection.evaluate import evaluate, sources_of
from endfloat.inspection.gauges import WHEEL, Gauge
from endfloat.inspection.resolved import resolve
from endfloat.inspection.timing_patterns import CamErrors, Diagnosis, diagnose
from endfloat.inspection.verdicts import Verdict
from endfloat.inspection.wheel import CamFinding, Touches, WheelReading, judge_cam, points_read, wheel_at_top
from endfloat.job.timing import Standing, TimingProgress, paused_too_long, read_angle, rested, timing_after
from endfloat.job.timing_events import DeadCentreFound
from endfloat.job.timing_gate import Gate, Shut, gate_at
from endfloat.quantities.estimates import Estimate
from endfloat.quantities.typed_text import Typed
from endfloat.workshop.view import View


@dataclass(frozen=True, slots=True)
class CamView:
    """One cam: what was read before and after the turns, and the corrected angle of each point, in SI."""

    name: str
    cam: Cam
    before: CamFinding
    after: CamFinding
    read_before: tuple[Standing, ...]
    read_after: tuple[Standing, ...]
    points_before: dict[str, Estimate]
    points_after: dict[str, Estimate]


@dataclass(frozen=True, slots=True)
class TimingView:
    """The timing of a job at a time: `turned` says that the turns were made, so that the second readings count."""

    timing: Timing
    progress: TimingProgress
    cams: dict[str, CamView]
    gate: Gate
    paused: bool
    wheels: tuple[str, ...]
    diagnosis: tuple[Diagnosis, ...]

    @property
    def shut(self) -> tuple[Shut, ...]:
        """What keeps the gate shut now; empty when it is open."""
        return self.gate.shut

    @property
    def turned(self) -> bool:
        return self.progress.turned is not None

    @property
    def trusted(self) -> bool:
        """Whether the wheel may be trusted now."""
        return self.progress.dead_centre is not None and not self.paused

    def now(self, name: str) -> CamFinding:
        """The finding that counts now: after the turns once they are made."""
        return self.cams[name].after if self.turned else self.cams[name].before

    def readings(self, name: str) -> tuple[Standing, ...]:
        """The readings that count now."""
        return self.cams[name].read_after if self.turned else self.cams[name].read_before

    def points(self, name: str) -> dict[str, Estimate]:
        """The corrected angles that count now."""
        return self.cams[name].points_after if self.turned else self.cams[name].points_before

    def missing(self, name: str) -> tuple[str, ...]:
        """The points of a cam that are still to read."""
        return tuple(point for point in self.cams[name].cam.points if point not in self.points(name))

    @property
    def out(self) -> tuple[str, ...]:
        """The cams that now read out of their limits: they are put right before anything is turned far."""
        return tuple(name for name in self.cams if self.now(name).verdict is Verdict.OUT)

    @property
    def next_cam(self) -> str | None:
        """The first cam with a point still to read."""
        return next((name for name in self.cams if self.missing(name)), None)

    @property
    def all_good(self) -> bool:
        """Whether every cam read good after the turns."""
        return self.turned and all(each.after.verdict is Verdict.GOOD for each in self.cams.values())


def timing_view(seen: View, at: str) -> TimingView | None:
    """The timing as it stands; None on an engine whose description has none."""
    timing = seen.engine.timing
    if timing is None:
        return None
    progress = rested(timing, timing_after(timing, seen.state.timing), at)
    cams = {name: _cam_view(seen, timing, progress, name) for name in timing.cams}
    wheels = tuple(name for name, gauge in seen.gauges.items() if gauge.sort == WHEEL)
    return TimingView(
        timing,
        progress,
        cams,
        gate_at(seen.engine, progress.ticks, seen.state.building, at),
        paused_too_long(timing, progress, at),
        wheels,
        diagnose(timing, _errors(cams, turned=progress.turned is not None)),
    )


def _cam_view(seen: View, timing: Timing, progress: TimingProgress, name: str) -> CamView:
    cam, predicted = timing.cams[name], predicted_phase(seen, timing.cams[name])
    before, after = progress.of(name, turned=False), progress.of(name, turned=True)

    def judged(standing: Sequence[Standing]) -> CamFinding:
        return judge_cam(cam, timing.dead_centre, seen.gauges, as_wheel_readings(standing, seen.gauges), predicted)

    def points(standing: Sequence[Standing]) -> dict[str, Estimate]:
        return points_read(cam, timing.dead_centre, seen.gauges, as_wheel_readings(standing, seen.gauges))

    return CamView(name, cam, judged(before), judged(after), before, after, points(before), points(after))


def predicted_phase(seen: View, cam: Cam) -> Estimate | None:
    """The phase that the agreed work leads to, positive early; None where it is not known."""
    wanted = cam.expected
    if wanted is None:
        return None
    agreed = seen.state.agreed.choice if seen.state.agreed else {}
    options = {name: decision.options for name, decision in seen.engine.decisions.items()}
    choice = {name: key for name, key in agreed.items() if key in options.get(name, {})}
    needed = sources_of(seen.engine, wanted.of)
    inputs = resolve(seen.engine, {name: seen.found[name] for name in needed}, choice)
    answer = evaluate(seen.engine, inputs, [wanted.of])[wanted.of][wanted.at]
    return answer if isinstance(answer, Estimate) else None


def as_touches(found: DeadCentreFound) -> Touches:
    """The two touches of a recorded dead centre; they were read once before they were recorded."""
    return Touches(found.key, _angle(found.before), _angle(found.after), found.gauge)


def as_wheel_readings(standing: Sequence[Standing], register: dict[str, Gauge]) -> list[WheelReading]:
    """Recorded readings whose wheels are still in the register."""
    return [
        WheelReading(
            each.read.key,
            each.read.point,
            _angle(each.read.text),
            each.read.gauge,
            each.read.other_turn,
            as_touches(each.by),
        )
        for each in standing
        if {each.read.gauge, each.by.gauge} <= register.keys()
    ]


def correction_of(seen: View, timing: Timing, found: DeadCentreFound) -> Estimate:
    """What is added to a wheel reading, in SI."""
    top = wheel_at_top(timing.dead_centre, seen.gauges, as_touches(found))
    return Estimate(-top.value, top.sources)


def _angle(text: str) -> Typed:
    read = read_angle(text, "")
    assert isinstance(read, Typed), "the rules refuse what cannot be read"
    return read


def _errors(cams: dict[str, CamView], *, turned: bool) -> dict[str, CamErrors]:
    errors = {}
    for name, each in cams.items():
        now = each.after if turned else each.before
        if now.unexplained is None:
            continue
        both = each.before.phase, each.after.phase
        differ = both[1].value - both[0].value if both[0] and both[1] else None
        errors[name] = CamErrors(now.unexplained.value, differ, now.sides.value if now.sides else None)
    return errors
