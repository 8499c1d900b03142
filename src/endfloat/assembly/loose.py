"""What stands half done after some steps: what is loose, what is left as it is, what comes first. Relations say it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any, Literal

from endfloat.engine.model import Engine
from endfloat.engine.precedences import quoted
from endfloat.engine.relations import (
    AidInAidOut,
    AsOneMove,
    Attitude,
    ConfirmAgainNow,
    EasilyMissed,
    KeptTrue,
    OwnPlace,
    SecondPerson,
    SidesDiffer,
    SlackAndTaut,
    SpecialTool,
    Unbroken,
)
from endfloat.engine.sentences import the

Done = frozenset[str]
Said = tuple[Literal["loose", "leave", "first"], str]


@dataclass(frozen=True, slots=True)
class Loose:
    """What a person who goes away leaves behind, in sentences."""

    loose: tuple[str, ...]
    leave: tuple[str, ...]
    first: tuple[str, ...]


def loose_now(engine: Engine, done: Iterable[str]) -> Loose:
    """What the relations say of a build that is broken off after these steps."""
    steps = frozenset(done)
    said = [
        each
        for name, _, record in engine.relations.each()
        if name in SAYS
        for each in SAYS[name](engine, steps, record)
    ]
    return Loose(
        *(tuple(dict.fromkeys(words for sort, words in said if sort == of)) for of in ("loose", "leave", "first"))
    )


def _kept_true(engine: Engine, done: Done, record: KeptTrue) -> Iterable[Said]:
    if record.set_by in done and record.ended_by not in done and not done.issuperset(record.during):
        yield "leave", f"Keep it so that {record.state}: {record.why}."


def _together(engine: Engine, done: Done, record: Unbroken | AsOneMove) -> Iterable[Said]:
    steps = record.sequence if isinstance(record, Unbroken) else record.operations
    left = [step for step in steps if step not in done]
    if left and len(left) < len(steps):
        how = "without a break" if isinstance(record, Unbroken) else "as one move"
        told = ", ".join(quoted(engine, step) for step in left)
        yield "loose", f"These go {how} and are not finished: {told}: {record.why}."
        yield "first", f"Finish {told}."


def _helper(engine: Engine, done: Done, record: SecondPerson) -> Iterable[Said]:
    left = [step for step in record.operations if step not in done]
    if left and len(left) < len(record.operations):
        yield "first", f"Call the helper back: {quoted(engine, left[0])} needs two persons."


def _tool(engine: Engine, done: Done, record: SpecialTool) -> Iterable[Said]:
    if record.fitted_by in done and record.off_by not in done:
        yield "leave", f"Leave {record.tool} on until {quoted(engine, record.off_by)}: {record.why}."


def _missed(engine: Engine, done: Done, record: EasilyMissed) -> Iterable[Said]:
    if record.fitted_by in done and record.counted_by not in done:
        yield "loose", f"Not yet counted: {record.what}, {record.count}."


def _sides(engine: Engine, done: Done, record: SidesDiffer) -> Iterable[Said]:
    for side, steps in record.sides.items():
        left = [step for step in steps if step not in done]
        if left and len(left) < len(steps):
            told = f"{len(steps) - len(left)} of {len(steps)} steps"
            what = f"{record.what[0].upper()}{record.what[1:]}"
            yield "loose", f"{what}: the {side} side is begun, {told}. Go on with this side."


def _place(engine: Engine, done: Done, record: OwnPlace) -> Iterable[Said]:
    if record.laid_out_by in done and not done.issuperset(record.fitted_by):
        yield "leave", f"Do not mix {record.part}: each goes to its own place ({record.marks})."


def _attitude(engine: Engine, done: Done, record: Attitude) -> Iterable[Said]:
    if record.since in done and record.until not in done:
        yield "leave", f"The engine stays {record.attitude} until {quoted(engine, record.until)}: {record.why}."


def _held(engine: Engine, done: Done, record: SlackAndTaut) -> Iterable[Said]:
    if record.taken_up_by not in done or record.let_go_by in done:
        return
    if record.held_by == "hand" and record.secured_by not in done:
        yield "loose", f"Held by hand: {record.what}. Tie it before anybody lets go: {record.why}."
        yield "first", f"Look whether {record.what} is still held."
        return
    until = quoted(engine, record.let_go_by)
    if record.held_by == "hand":
        yield "leave", f"Leave {record.what} as it is tied until {until}."
    else:
        yield "leave", f"Leave {the(record.held_by)} on {the(record.what)} until {until}."


def _again(engine: Engine, done: Done, record: ConfirmAgainNow) -> Iterable[Said]:
    if record.check in done and record.before not in done:
        yield "first", f"Do {quoted(engine, record.check)} again straight before {quoted(engine, record.before)}."


def _aid(engine: Engine, done: Done, record: AidInAidOut) -> Iterable[Said]:
    if record.in_by in done and record.out_by not in done:
        yield "loose", f"In the engine: {record.aid}, {record.count}. Out at {quoted(engine, record.out_by)}."


SAYS: dict[str, Callable[[Engine, Done, Any], Iterable[Said]]] = {
    "kept_true": _kept_true,
    "unbroken": _together,
    "second_person": _helper,
    "special_tool": _tool,
    "easily_missed": _missed,
    "sides_differ": _sides,
    "own_place": _place,
    "attitude": _attitude,
    "as_one_move": _together,
    "slack_and_taut": _held,
    "confirm_again_now": _again,
    "aid_in_aid_out": _aid,
}
