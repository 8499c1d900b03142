"""How the crank stands and how the cams lie from step to step, and why a step may not begin or end in a state."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from endfloat.engine.model import Engine
from endfloat.engine.precedences import quoted
from endfloat.engine.safe_states import CrankWork

CRANK_WORDS = {
    "unknown": "at an unknown angle",
    "near": "near {}",
    "exact": "exactly at {}",
    "blocked": "blocked at {}",
}
SOME_ANGLE = "some angle"


@dataclass(frozen=True, slots=True)
class Pose:
    """The state of the crank, its position ("" for none), and the state of each bank's cams."""

    crank: str
    at: str
    cams: tuple[tuple[str, str], ...]


def first_pose(engine: Engine) -> Pose | None:
    """The state before the first step; None where the description lists no pairs."""
    if engine.safe_states is None:
        return None
    start = engine.safe_states.start
    return Pose(start.crank, start.at, tuple(sorted(start.cams.items())))


def concerns(engine: Engine, operation: str) -> bool:
    """Whether a step needs or changes anything of crank or cams."""
    step = engine.operations[operation]
    return engine.safe_states is not None and (step.crank is not None or bool(step.cams))


def pose_after(engine: Engine, pose: Pose, operation: str) -> Pose:
    """The state that a step leaves, allowed or not."""
    step = engine.operations[operation]
    become = {bank: work.becomes for bank, work in step.cams.items() if work.becomes}
    cams = tuple((bank, become.get(bank) or state) for bank, state in pose.cams)
    return replace(_crank_after(pose, step.crank), cams=cams) if step.crank else replace(pose, cams=cams)


def _crank_after(pose: Pose, work: CrankWork) -> Pose:
    becomes = work.becomes or ("unknown" if work.turns else pose.crank)
    if becomes == "unknown":
        return replace(pose, crank=becomes, at="")
    return replace(pose, crank=becomes, at=work.at or ("" if work.turns else pose.at))


def is_safe(engine: Engine, pose: Pose) -> bool:
    """Whether some listed pair allows the state."""
    return engine.safe_states is None or engine.safe_states.lists(pose.crank, pose.at, dict(pose.cams))


def refused(engine: Engine, pose: Pose, operation: str) -> bool:
    """Whether a step may not be done in a state."""
    return _objection(engine, pose, operation) is not None


def demand(engine: Engine, operation: str) -> str:
    """What a step needs of crank and cams, in words."""
    step = engine.operations[operation]
    words = [_wanted(engine, step.crank)] if step.crank and (step.crank.needs or step.crank.needs_at) else []
    words += [f"the {bank} cams {' or '.join(cams.needs)}" for bank, cams in step.cams.items() if cams.needs]
    return " and ".join(words) or "a state from which it leads to a safe pair"


def objection(engine: Engine, pose: Pose, operation: str, left: Iterable[str]) -> tuple[str, list[str]] | None:
    """Why a step may not be done in a state, and which of the steps `left` would free it."""
    said = _objection(engine, pose, operation)
    if said is None:
        return None
    freeing = ways_on(engine, pose, operation, left)
    told = ", then ".join(quoted(engine, step) for step in freeing)
    return (f"{said} What frees it: {told}." if told else f"{said} No step that is left frees it."), freeing


def _objection(engine: Engine, pose: Pose, operation: str) -> str | None:
    safe, step = engine.safe_states, engine.operations[operation]
    if safe is None:
        return None
    here, work = quoted(engine, operation), step.crank
    if work and work.turns and pose.crank == "blocked":
        return f"{here} turns the crank, which is {_crank_words(engine, pose)}: {safe.why}."
    if work and (_unlike(work.needs, pose.crank) or _unlike(work.needs_at, pose.at)):
        return f"{here} needs {_wanted(engine, work)}; it is {_crank_words(engine, pose)}: {safe.why}."
    lying = dict(pose.cams)
    for bank, cams in step.cams.items():
        if _unlike(cams.needs, lying[bank]):
            wanted = " or ".join(cams.needs)
            return f"{here} needs the {bank} cams {wanted}; they are {lying[bank]}: {safe.why}."
    if work and work.turns == "all round" and not safe.lists("unknown", "", lying):
        return f"{here} turns the crank all round with {_cam_words(pose)}, which is no safe pair: {safe.why}."
    after = pose_after(engine, pose, operation)
    if after != pose and is_safe(engine, pose) and not is_safe(engine, after):
        left_as = f"the crank {_crank_words(engine, after)} with {_cam_words(after)}"
        return f"{here} would leave {left_as}, which is no safe pair: {safe.why}."
    return None


def _unlike(wanted: Sequence[str], found: str) -> bool:
    return bool(wanted) and found not in wanted


def ways_on(engine: Engine, pose: Pose, operation: str, left: Iterable[str]) -> list[str]:
    """The fewest of the steps left that bring about a state in which a step may be done, each allowed in its turn."""
    movers = sorted(step for step in left if step != operation and concerns(engine, step))
    came: dict[Pose, tuple[Pose, str] | None] = {pose: None}
    waiting = deque([pose])
    while waiting:
        here = waiting.popleft()
        if here != pose and not refused(engine, here, operation):
            return _trail(came, here)
        for step in movers:
            after = pose_after(engine, here, step)
            if after not in came and not refused(engine, here, step):
                came[after] = (here, step)
                waiting.append(after)
    return []


def _trail(came: dict[Pose, tuple[Pose, str] | None], pose: Pose) -> list[str]:
    steps: list[str] = []
    link = came[pose]
    while link:
        steps.append(link[1])
        link = came[link[0]]
    return steps[::-1]


def poses(engine: Engine, steps: Iterable[str] | None = None) -> list[Pose]:
    """Every state that allowed steps can lead to, each as often as one likes; the first is where the work begins."""
    start = first_pose(engine)
    movers = sorted(step for step in (engine.operations if steps is None else steps) if concerns(engine, step))
    found = [] if start is None else [start]
    seen = set(found)
    for pose in found:
        for step in movers:
            after = pose_after(engine, pose, step)
            if after not in seen and not refused(engine, pose, step):
                seen.add(after)
                found.append(after)
    return found


def _place(engine: Engine, at: str) -> str:
    return engine.safe_states.positions.get(at, at) if engine.safe_states and at else SOME_ANGLE


def _crank_words(engine: Engine, pose: Pose) -> str:
    return CRANK_WORDS[pose.crank].format(_place(engine, pose.at))


def _cam_words(pose: Pose) -> str:
    return " and ".join(f"the {bank} cams {state}" for bank, state in pose.cams)


def _wanted(engine: Engine, work: CrankWork) -> str:
    places = " or ".join(_place(engine, at) for at in work.needs_at) or "a known position"
    states = work.needs or ["near", "exact", "blocked"]
    return "the crank " + " or ".join(CRANK_WORDS[state].format(places) for state in states)
