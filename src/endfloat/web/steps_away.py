"""What a step's page carries for a device whose workshop computer does not answer."""

from __future__ import annotations

from dataclasses import dataclass

from endfloat.job.build import advice
from endfloat.web.clock_lines import held_now
from endfloat.workshop.build import Build
from endfloat.workshop.view import View

PAGES_AHEAD = 5


@dataclass(frozen=True, slots=True)
class StepAway:
    """Steps to go on to, the next first; `after` are those that open this one once they wait on the device too."""

    ahead: tuple[str, ...]
    after: tuple[str, ...]


def step_away(job: View, build: Build, operation: str, now: str) -> StepAway:
    """The next steps of the laid-out order, and what is before a step that nothing but the order shuts."""
    left = [each for each in build.order if each not in build.done]
    ahead = tuple(each for each in left if each != operation)[:PAGES_AHEAD]
    before = left[: left.index(operation)] if operation in left else []
    if not before or held_now(job, operation, now) or advice(build.engine, [*build.done, *before], operation):
        return StepAway(ahead, ())
    return StepAway(ahead, tuple(before))
