"""The guided build: lay out the order, confirm a step, do one against advice, undo one; and how it stands."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from endfloat.assembly.generate import NoOrder, build_order
from endfloat.assembly.tightening import Progress
from endfloat.assembly.violations import Violation
from endfloat.engine.model import Engine
from endfloat.engine.operations import Operation
from endfloat.job.build import NEVER_SIGNED, advice, freed_by, laid_out, may_be_overruled, steps_done
from endfloat.job.description import engine_of
from endfloat.job.events import (
    BuildEvent,
    BuildOrderLaidOut,
    Event,
    StepConfirmed,
    StepDoneAgainstAdvice,
    StepReopened,
)
from endfloat.job.joint_events import JointUndone
from endfloat.job.state import State
from endfloat.job.undone import joints_undone
from endfloat.problems import Problem
from endfloat.workshop.holds import holds
from endfloat.workshop.last_look import look_first
from endfloat.workshop.ports import Clock, Store
from endfloat.workshop.record import write
from endfloat.workshop.timing_deeds import drive_opened_by
from endfloat.workshop.view import view


@dataclass(frozen=True, slots=True)
class Build:
    """How the build stands: the order laid out (empty when none), what is done, and the step to do next."""

    engine: Engine
    order: tuple[str, ...]
    done: tuple[str, ...]
    events: tuple[BuildEvent, ...]

    @property
    def next(self) -> str | None:
        """The first step of the order that is still to do."""
        return next((step for step in self.order if step not in self.done), None)

    def step(self, operation: str) -> Operation:
        """A step of the description."""
        return self.engine.operations[operation]

    def number(self, operation: str) -> int:
        """Where a step stands in the order, from 1; 0 when no order is laid out."""
        return self.order.index(operation) + 1 if operation in self.order else 0


def build_of(state: State) -> Build:
    """How the build of a job stands."""
    engine = engine_of(state.opened.engine if state.opened else "")
    done = tuple(steps_done(engine, state.building))
    return Build(engine, laid_out(engine, state.building), done, state.building)


def refused(build: Build, operation: str, held: Sequence[Violation] = ()) -> tuple[list[Violation], list[str], bool]:
    """Why a step may not be next, what would free it, and whether it may be done against advice.

    `held` is what holds it besides the order.
    """
    early = advice(build.engine, list(build.done), operation)
    free = freed_by(build.engine, list(build.done), operation) if early else []
    violations = [*early, *held]
    return violations, free, bool(violations) and may_be_overruled(build.engine, operation, violations)


def helper_words(build: Build, operation: str) -> str:
    """When a step needs a helper: for which steps, and after which the helper may go."""
    for visit in build.engine.relations.second_person:
        if operation in visit.operations and build.order:
            steps = sorted(visit.operations, key=build.number)
            last = steps[-1]
            if operation == last:
                return "The helper may go when this step is done."
            return f"A helper is needed until step {build.number(last)}: {build.step(last).title}."
    return ""


def lay_out_order(store: Store, clock: Clock, *, by: str) -> Problem | None:
    """Work out the cheapest order and take it; laying out the same again is harmless."""

    def decide(state: State) -> list[Event] | Problem:
        build = build_of(state)
        if not build.engine.operations:
            remedy = "Add them to the description, then read it again."
            return Problem("no_steps", "the build order", "no operations", "`operations:` and `relations:`", remedy)
        if build.order:
            return []
        found = build_order(build.engine)
        if isinstance(found, NoOrder):
            return Problem("no_order", "the build order", "no order", "relations that can be kept", "See build-order.")
        cost = found.cost
        return [
            BuildOrderLaidOut(
                found.operations, cost.helper_calls, cost.turns, cost.tool_changes, found.proved, by.strip()
            )
        ]

    return write(store, clock, decide)


def confirm_step(
    store: Store,
    clock: Clock,
    *,
    operation: str,
    by: str,
    looked: Sequence[str] = (),
    second: str = "",
    mark: str = "",
    counted: Mapping[str, str] | None = None,
    hidden: Mapping[str, str] | None = None,
) -> Problem | None:
    """Record that a step is done, with all that it asks for; sending it twice is harmless."""

    def decide(state: State) -> list[Event] | Problem:
        if operation in build_of(state).done:
            return []
        first = look_first(state, store.entries(), clock(), by, operation)
        if first:
            return first
        held = holds(view(state), operation)
        if held:
            title = build_of(state).step(operation).title
            return Problem("held", title, held[0].sentence, "what holds it, done", "Do it, then confirm the step.")
        said = {what: text.strip() for what, text in (counted or {}).items()}
        answers = (tuple(looked), second.strip(), mark.strip(), said, dict(hidden or {}))
        return [StepConfirmed(operation, by.strip(), clock(), *answers)]

    return write(store, clock, decide)


def do_against_advice(store: Store, clock: Clock, *, operation: str, reason: str, by: str) -> Problem | None:
    """Record a refused step as done, signed with a reason; refused where a person can be hurt."""

    def decide(state: State) -> list[Event] | Problem:
        build = build_of(state)
        if operation in build.done:
            return []
        first = look_first(state, store.entries(), clock(), by, operation)
        if first:
            return first
        never = [each for each in holds(view(state), operation) if each.relation in NEVER_SIGNED]
        if never:
            title, remedy = build.step(operation).title, "Do what frees it; this cannot be signed away."
            return Problem("not_overruled", title, never[0].sentence, "what holds it, done", remedy)
        return [StepDoneAgainstAdvice(operation, reason.strip(), by.strip(), clock())]

    return write(store, clock, decide)


def reopen_step(store: Store, clock: Clock, *, operation: str, reason: str, by: str) -> Problem | None:
    """Record that a step is undone, what waited for it, and the joints it tightened; sending it twice is harmless."""

    def decide(state: State) -> list[Event] | Problem:
        if operation not in build_of(state).done:
            return []
        return reopening(state, operation, reason.strip(), by.strip(), clock())

    return write(store, clock, decide)


def reopening(state: State, operation: str, reason: str, by: str, at: str) -> list[Event]:
    """The entries by which a step is undone: the joints it tightened, the drive it opened, then the step."""
    back: list[Event] = [
        JointUndone(f"{name}/undone/{len(state.tightening)}", name, progress.fitted, operation, first, by, at)
        for name, (first, progress) in joints_back(state, operation).items()
    ]
    opened = drive_opened_by(state, operation, by=by, at=at)
    return [*back, *opened, StepReopened(operation, reason, by, at)]


def joints_back(state: State, operation: str) -> dict[str, tuple[int, Progress]]:
    """The joints that undoing a step takes back, with the first pass that no longer counts (0: only not closed)."""
    build = build_of(state)
    return joints_undone(build.engine, build.done, state.tightening, operation)


def titles(build: Build, operations: Sequence[str]) -> list[tuple[str, int, str]]:
    """Steps with their number and title, for a page."""
    return [(step, build.number(step), build.step(step).title) for step in operations]
