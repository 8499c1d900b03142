"""What the strip knows of the build: what comes off only after another goes in before it."""

from __future__ import annotations

from collections.abc import Iterable

from endfloat.assembly.compiled import all_earlier, compile_order
from endfloat.assembly.hunt import Question
from endfloat.engine.model import Engine
from endfloat.engine.precedences import quoted


def put_back(engine: Engine, off: Iterable[str]) -> tuple[str, ...]:
    """The steps that put back what came off, in the order in which it came off; a step named twice, at its last."""
    steps = [step for name in off if name in engine.strip for step in reversed(engine.strip[name].back)]
    return tuple(reversed(dict.fromkeys(reversed(steps))))


def not_kept(engine: Engine) -> list[Question]:
    """Pairs of which the strip says that one comes off only after the other, where no relation says the like.

    A removal that no step puts back says nothing. Where several steps put a removal back, one pair that is kept is
    enough: not every part of it need be in the other's way.
    """
    compiled = compile_order(engine)
    earlier = dict(zip(compiled.ids, all_earlier(compiled.needs), strict=True))
    bit = {name: 1 << number for number, name in enumerate(compiled.ids)}
    found = []
    for removal in engine.strip.values():
        for other in removal.after:
            pairs = [(first, then) for first in removal.back for then in engine.strip[other].back]
            if not pairs or any(a == b or earlier[b] & bit[a] for a, b in pairs):
                continue
            loose = pairs[0]
            first, then = (quoted(engine, step) for step in loose)
            said = f"At the strip, “{removal.title}” waits for “{engine.strip[other].title}”"
            asked = f"{said}, but nothing keeps {first} before {then}. Is a relation missing?"
            found.append(Question("strip_not_kept", loose, asked))
    return found
