"""The guided build: what is done, in the order it was done, and whether a step may be confirmed or undone now."""

from __future__ import annotations

from collections.abc import Iterable

from endfloat.assembly.now import frees, may_do
from endfloat.assembly.violations import Violation
from endfloat.engine.model import Engine
from endfloat.job.asked import unanswered
from endfloat.job.clock_events import ClockEvent
from endfloat.job.clock_rules import NEVER_EARLY, TOO_LATE, clock_holds, clock_refusal
from endfloat.job.conditions import condition_holds, regain_refusal
from endfloat.job.description import engine_of
from endfloat.job.events import (
    BuildEvent,
    BuildOrderLaidOut,
    JobOpened,
    JointEvent,
    StepConfirmed,
    StepDoneAgainstAdvice,
    StepReopened,
)
from endfloat.job.holds import TIGHTENED, joint_holds
from endfloat.job.order_events import ConditionRegained
from endfloat.job.parts import ARRIVED
from endfloat.job.pause_events import PauseEvent
from endfloat.job.pauses import not_taken_up, pause_refusal
from endfloat.job.proof import NOT_FIRED
from endfloat.job.steps import done_after
from endfloat.job.strip_rules import CRACKED
from endfloat.job.timing import TIMED
from endfloat.job.undone import joints_undone
from endfloat.problems import Problem

NEVER_SIGNED = ("single_use", "safe_states", TIGHTENED, CRACKED, TIMED, NEVER_EARLY, "out", ARRIVED, NOT_FIRED)


def steps_done(engine: Engine, events: Iterable[BuildEvent]) -> list[str]:
    """The steps that stand, in the order done. Undoing one takes with it what waited for it."""
    done: list[str] = []
    for event in events:
        done = done_after(engine, done, event)
    return done


def laid_out(engine: Engine, events: Iterable[BuildEvent]) -> tuple[str, ...]:
    """The build order that was laid out last, when it is one of this description; empty when there is none."""
    orders = [event.operations for event in events if isinstance(event, BuildOrderLaidOut)]
    return tuple(orders[-1]) if orders and set(orders[-1]) == set(engine.operations) else ()


def advice(engine: Engine, done: list[str], operation: str) -> list[Violation]:
    """Why a step may not be next, with the steps that would free it put in words by `freed_by`.

    The minutes that the order reckons with are left out: at the bench the clocks themselves run.
    """
    return [each for each in may_do(engine, done, operation) if each.relation != "clocked" or each.link]


def freed_by(engine: Engine, done: list[str], operation: str) -> list[str]:
    """The steps that can be done now and bring a refused one nearer."""
    return frees(engine, done, operation)


def may_be_overruled(engine: Engine, operation: str, violations: Iterable[Violation]) -> bool:
    """Whether a person may do a step against advice and sign.

    Never where a person can be hurt, on this step or on one it was refused for, never for a single-use part, a joint
    that is not tight, or a value out of its limits.
    """
    steps = {operation, *(each for violation in violations for each in violation.operations)}
    hurts = any(caution.can_hurt for step in steps for caution in engine.operations[step].cautions)
    return not hurts and not any(violation.relation in NEVER_SIGNED for violation in violations)


def build_refusal(
    opened: JobOpened, events: tuple[BuildEvent, ...], joints: tuple[JointEvent, ...], event: BuildEvent
) -> Problem | None:
    """Why this may not be recorded now; None when it may."""
    engine = engine_of(opened.engine)
    if isinstance(event, BuildOrderLaidOut):
        if set(event.operations) == set(engine.operations):
            return None
        return Problem(
            "other_steps", "the build order", "other steps", "those of the description", "Work it out again."
        )
    if isinstance(event, ConditionRegained):
        return regain_refusal(engine, events, event)
    if isinstance(event, ClockEvent):
        return clock_refusal(engine, events, event)
    if isinstance(event, PauseEvent):
        return pause_refusal(engine, events, event)
    return _step_refusal(engine, events, joints, event)


def _step_refusal(
    engine: Engine,
    events: tuple[BuildEvent, ...],
    joints: tuple[JointEvent, ...],
    event: StepConfirmed | StepDoneAgainstAdvice | StepReopened,
) -> Problem | None:
    done = steps_done(engine, events)
    problem = _plain(engine, done, event)
    if problem:
        return problem
    if isinstance(event, StepReopened):
        return _still_tight(engine, done, joints, event.operation)
    title = engine.operations[event.operation].title
    waiting = not_taken_up(events, title)
    if waiting:
        return waiting
    loose = joint_holds(engine, joints, event.operation, done)
    if loose:
        return Problem(
            "joint_open", title, loose[0].sentence, "every bolt of its passes", "Open the joint and pull it."
        )
    lost = condition_holds(engine, events, event.operation)
    if lost:
        remedy = "Do what the rule says, then confirm on the page of the step that it is so again."
        return Problem("condition_lost", title, lost[0].sentence, "what the step needs, true again", remedy)
    violations = advice(engine, done, event.operation)
    clocks = clock_holds(engine, events, event.operation, event.at)
    if isinstance(event, StepConfirmed):
        if violations:
            return _shut(engine, done, event.operation, violations)
        return _against_the_clock(engine, event.operation, clocks) if clocks else unanswered(engine, event)
    if may_be_overruled(engine, event.operation, [*violations, *clocks]):
        return None
    remedy = "Do what frees it. If your service book gives another order, correct the description and read it again."
    reasons = [*violations, *clocks]
    found = reasons[0].sentence if reasons else "a step that can hurt"
    return Problem("not_overruled", title, found, "what frees it", remedy)


def _plain(
    engine: Engine, done: list[str], event: StepConfirmed | StepDoneAgainstAdvice | StepReopened
) -> Problem | None:
    if event.operation not in engine.operations:
        return Problem("unknown_step", "the build", f"`{event.operation}`", "a step of this engine", "Choose it again.")
    title = engine.operations[event.operation].title
    if not event.by.strip():
        return Problem("no_name", title, "no name", "who did it", "Type a name; it goes on the record.")
    if not isinstance(event, StepConfirmed) and not event.reason.strip():
        return Problem("no_reason", title, "no reason", "a reason", "Say in a word or two why.")
    if isinstance(event, StepReopened) != (event.operation in done):
        found, expected = ("not done", "done") if isinstance(event, StepReopened) else ("done already", "still to do")
        return Problem("wrong_state", title, found, expected, "Look at the list again.")
    return None


def _still_tight(engine: Engine, done: list[str], joints: tuple[JointEvent, ...], operation: str) -> Problem | None:
    tight = joints_undone(engine, done, joints, operation)
    if not tight:
        return None
    titles = ", ".join(engine.joints[name].title for name in tight)
    expected = "bolts that no longer count as tight"
    return Problem("joint_still_tight", titles, "bolts pulled by this step", expected, "Take the joint back with it.")


def _shut(engine: Engine, done: list[str], operation: str, violations: list[Violation]) -> Problem:
    free = freed_by(engine, done, operation)
    words = "; ".join(engine.operations[step].title for step in free[:3]) if free else "what it waits for"
    return Problem(
        "shut", engine.operations[operation].title, violations[0].sentence, "what comes first", f"Do first: {words}."
    )


def _against_the_clock(engine: Engine, operation: str, held: list[Violation]) -> Problem:
    title, early = engine.operations[operation].title, held[0].relation != TOO_LATE
    remedy = "Wait; the clocks say how long." if early else "Re-open the step that started the clock, and begin again."
    return Problem("clock", title, held[0].sentence, "a step in its time", remedy)
