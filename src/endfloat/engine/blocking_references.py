"""Does every part of `blocking` point at parts and operations that exist?"""

from __future__ import annotations

from collections.abc import Iterable

from endfloat.engine.model import Engine
from endfloat.engine.positions import Located, Path
from endfloat.engine.references import unknown
from endfloat.problems import Problem


def blocking_problems(located: Located, engine: Engine) -> Iterable[Problem]:
    """Every name that nothing bears, and fasteners that no step pulls."""
    for name, part in engine.blocking.items():
        here: Path = ("blocking", name)
        for field in ("fitted_by", "tightened_by", "looked_at_by"):
            step = getattr(part, field)
            if step and step not in engine.operations:
                yield unknown(located, (*here, field), step, engine.operations, "operation")
        for path, other in part.parts_named():
            if other not in engine.blocking:
                yield unknown(located, (*here, *path), other, engine.blocking, "part")
        for field, step in (("wrench_meets", "tightened_by"), ("hidden_by", "looked_at_by")):
            if getattr(part, field) and not getattr(part, step):
                yield _without_step(located, here, field, step)


def _without_step(located: Located, here: Path, field: str, step: str) -> Problem:
    return located.problem(
        "blocked_without_step",
        (*here, field),
        found=f"`{field}` and no `{step}`",
        expected=f"`{step}` with the operation that must come first",
        remedy=f"Name it, or take `{field}` away.",
    )
