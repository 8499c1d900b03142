"""What the timing holds: the turn, the cams read at a step, and the cams confirmed right before one."""

from __future__ import annotations

from collections.abc import Iterable

from endfloat.assembly.violations import Violation
from endfloat.inspection.verdicts import Verdict
from endfloat.job.timing import TIMED, confirm_holds, timing_after
from endfloat.workshop.timing_view import timing_view
from endfloat.workshop.view import View


def timing_holds(seen: View, operation: str) -> list[Violation]:
    """Why a step waits for the timing; empty when it does not."""
    timing = seen.engine.timing
    if timing is None or not timing.concerns(operation):
        return []
    again = confirm_holds(timing, seen.state.timing, seen.state.building, operation)
    return [*again, *(Violation(TIMED, (operation,), sentence) for sentence in _sentences(seen, operation))]


def _sentences(seen: View, operation: str) -> Iterable[str]:
    timing = seen.engine.timing
    assert timing is not None, "asked only where the engine has a timing"
    turned = timing_after(timing, seen.state.timing).turned
    if (operation == timing.turn_at or operation in timing.at) and turned is None:
        yield f"The {timing.turns} full turns are not on the record yet, and not the gate before them."
    if operation not in timing.at or turned is None:
        return
    # The gate and the pause do not matter here: only what was read.
    view = timing_view(seen, turned.at)
    assert view is not None, "asked only where the engine has a timing"
    for name in timing.at[operation]:
        found = view.cams[name].after
        if found.verdict is not Verdict.GOOD:
            words = f"{found.verdict.words[0].lower()}{found.verdict.words[1:]}"
            yield f"{timing.cams[name].title} after the {timing.turns} turns: {words}."
