"""How much of a description the order covers, as counts: every fastener tightened, 142 of 142. Never "complete"."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from endfloat.assembly.hunt import Question
from endfloat.engine.model import Engine
from endfloat.engine.precedences import precedences


@dataclass(frozen=True, slots=True)
class Counter:
    """So many of so many, and what is missing by name."""

    what: str
    found: int
    of: int
    missing: tuple[str, ...] = ()

    def text(self) -> str:
        """The count in words."""
        rest = f"; missing: {', '.join(self.missing)}" if self.missing else ""
        return f"{self.what}: {self.found} of {self.of}{rest}"

    def as_json(self) -> dict[str, object]:
        return {"what": self.what, "found": self.found, "of": self.of, "missing": list(self.missing)}


def counters(engine: Engine) -> list[Counter]:
    """Every count that has something to count."""
    counts = (_fasteners(engine), _easily_missed(engine), _single_use(engine), _measured(engine), _looked_into(engine),
              _parts_that_close(engine))  # fmt: skip
    return [each for each in counts if each.of]


def count_questions(engine: Engine) -> list[Question]:
    """One question for each thing that a count misses."""
    return [Question("count", (), f"{each.what}, but not: {name}. Is that right?")
            for each in counters(engine) for name in each.missing]  # fmt: skip


def _count(what: str, each: Iterable[tuple[str, int, bool]]) -> Counter:
    """Count by name, number and whether it is covered."""
    listed = list(each)
    missing = tuple(sorted(name for name, number, covered in listed if number and not covered))
    return Counter(
        what, sum(number for _, number, covered in listed if covered), sum(number for _, number, _ in listed), missing
    )


def _pulling(engine: Engine, joint: str) -> list[str]:
    return [name for name, step in engine.operations.items() if step.pulls and step.pulls.joint == joint]


def _fasteners(engine: Engine) -> Counter:
    """Those of a joint whose every pass is pulled and which a step closes; those of a part that a step pulls."""

    def pulled(name: str) -> bool:
        pulls = [pulls for step in _pulling(engine, name) if (pulls := engine.operations[step].pulls)]
        passes = {number for each in pulls for number in each.passes}
        every = set(range(1, len(engine.joints[name].passes) + 1))
        return every <= passes and any(each.closed for each in pulls)

    joints = [(joint.title, len(joint.fasteners), pulled(name)) for name, joint in engine.joints.items()]
    parts = [(part.title, part.fasteners, bool(part.tightened_by)) for part in engine.blocking.values()]
    return _count("Every fastener tightened", [*joints, *parts])


def _easily_missed(engine: Engine) -> Counter:
    counting = {each.counted_by for each in engine.relations.easily_missed}
    return _count(
        "Every easily missed fastener counted",
        (
            (joint.title, sum(bool(each.easily_missed) for each in joint.fasteners),
             any(step in counting for step in _pulling(engine, name)))
            for name, joint in engine.joints.items()
        ),
    )  # fmt: skip


def _single_use(engine: Engine) -> Counter:
    spent = {each.used_by for each in engine.relations.single_use}
    return _count(
        "Every joint with single-use bolts gets new ones",
        (
            (joint.title, int(any(bolt.single_use for bolt in joint.bolts.values())),
             any(step in spent for step in _pulling(engine, name)))
            for name, joint in engine.joints.items()
        ),
    )  # fmt: skip


def _measured(engine: Engine) -> Counter:
    followed = {link.first for link in precedences(engine)}
    reading = [(step.title, 1, name in followed) for name, step in engine.operations.items() if step.measures]
    return _count("Every reading is waited for by a later step", reading)


def _looked_into(engine: Engine) -> Counter:
    zones = sorted({zone for step in engine.operations.values() for zone in step.closes})
    asked = {each.zone for each in engine.relations.last_chance}
    return _count("Every space that is closed has a last look", ((zone, 1, zone in asked) for zone in zones))


def _parts_that_close(engine: Engine) -> Counter:
    """How far the parts' own account reaches: steps that close a space and fit a part which is described there."""
    fitted = {part.fitted_by for part in engine.blocking.values()}
    closing = [(step.title, 1, name in fitted) for name, step in engine.operations.items() if step.closes]
    return _count("Every step that closes a space is known to the parts", closing if engine.blocking else [])
