"""What the form holds by which work is taken up again: each of the last steps, and what must still be true."""

from __future__ import annotations

from collections.abc import Mapping

from endfloat.workshop.build import build_of
from endfloat.workshop.last_look import Question
from endfloat.workshop.standing import is_open, joint_stands, pause_rules
from endfloat.workshop.tightening import joint_views
from endfloat.workshop.view import View


def take_up_context(
    seen: View, question: Question | None, now: str, *, by: str = "", answers: Mapping[str, str] | None = None
) -> dict[str, object]:
    """All that the form needs; empty answers where nothing was said yet."""
    if question is None:
        return {"question": None}
    build = build_of(seen.state)
    steps = [
        (step, build.number(step), build.step(step).title, looked_at_by(seen, step))
        for step in reversed(question.steps)
    ]
    joints = [each for each in joint_views(seen.state).values() if is_open(each)]
    return {
        "question": question,
        "take_up_steps": steps,
        "take_up_kept": list(enumerate(question.kept)),
        "take_up_rules": [(each.name, joint_stands(each), pause_rules(each, now)) for each in joints],
        "take_up_key": f"up {now}",
        "take_up_by": by,
        "answers": answers or {},
    }


def looked_at_by(seen: View, step: str) -> str:
    """How a step is looked at: a pulled bolt by its paint stripe, never with a wrench."""
    pulls = seen.engine.operations[step].pulls
    if pulls is None:
        return ""
    return "Look at the paint stripe of every bolt. Put no wrench on it."
