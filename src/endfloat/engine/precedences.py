"""What each relation says about which of two operations comes first, and the sentence it says it in.

A relation may say more than that (a clock, nothing in between); the build order's checks look at the rest.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any

from endfloat.engine.model import Engine
from endfloat.engine.relations import (
    AidInAidOut,
    Attitude,
    Before,
    Clocked,
    ConfirmAgainNow,
    EasilyMissed,
    KeptTrue,
    LastChance,
    OwnPlace,
    SingleUse,
    SlackAndTaut,
    SpecialTool,
    Unbroken,
)
from endfloat.engine.sentences import capital, the

Pair = tuple[str, str, str]
SAFE_STATES = "safe_states"
"""What a precedence or violation is named that follows from the listed pairs and not from a relation."""


@dataclass(frozen=True, slots=True)
class Precedence:
    """`first` comes before `then`: by which relation, the how-manieth of its type, and the sentence."""

    first: str
    then: str
    relation: str
    index: int
    sentence: str


def quoted(engine: Engine, operation: str) -> str:
    """The title of an operation in quotation marks."""
    return f"“{engine.operations[operation].title}”"


def precedences(engine: Engine) -> list[Precedence]:
    """Every "this comes before that" of the description, relation by relation."""
    found = [
        Precedence(first, then, name, index, sentence)
        for name, index, record in engine.relations.each()
        if name in PRECEDENCES
        for first, then, sentence in PRECEDENCES[name](engine, record)
    ]
    return found + [Precedence(first, then, SAFE_STATES, 0, sentence) for first, then, sentence in shown_first(engine)]


def shown_first(engine: Engine) -> Iterable[Pair]:
    """What shows an exact position of the crank is fitted before the step that sets it."""
    for name, step in engine.operations.items():
        shown_by = step.crank.shown_by if engine.safe_states and step.crank else ""
        if engine.safe_states and shown_by and shown_by != name:
            said = f"{quoted(engine, name)} sets the crank by what {quoted(engine, shown_by)} fits, which comes first"
            yield shown_by, name, f"{said}: {engine.safe_states.why}."


def _before(engine: Engine, record: Before) -> Iterable[Pair]:
    first, then = quoted(engine, record.first), quoted(engine, record.then)
    yield record.first, record.then, f"{first} comes before {then}: {record.why}."


def _last_chance(engine: Engine, record: LastChance) -> Iterable[Pair]:
    for then, operation in engine.operations.items():
        if record.zone in operation.closes and then != record.do:
            said = f"{quoted(engine, then)} closes off {record.zone}, the last chance for {quoted(engine, record.do)}"
            yield record.do, then, f"{said}: {record.why}."


def _kept_true(engine: Engine, record: KeptTrue) -> Iterable[Pair]:
    made = quoted(engine, record.set_by)
    for step in record.during:
        said = f"{quoted(engine, step)} needs it kept true that {record.state}, which {made} brings about"
        yield record.set_by, step, f"{said}: {record.why}."
    for step in [record.set_by, *record.during] if record.ended_by else []:
        said = f"{quoted(engine, record.ended_by or '')} ends it that {record.state}, and waits for"
        yield step, record.ended_by or "", f"{said} {quoted(engine, step)}: {record.why}."


def _unbroken(engine: Engine, record: Unbroken) -> Iterable[Pair]:
    for first, then in zip(record.sequence, record.sequence[1:], strict=False):
        said = f"{quoted(engine, then)} follows at once on {quoted(engine, first)} in one unbroken sequence"
        yield first, then, f"{said}: {record.why}."


def _special_tool(engine: Engine, record: SpecialTool) -> Iterable[Pair]:
    fitted, off = quoted(engine, record.fitted_by), quoted(engine, record.off_by)
    yield record.fitted_by, record.off_by, f"{off} takes off {the(record.tool)} that {fitted} fits: {record.why}."
    for step in record.needed_for:
        here = quoted(engine, step)
        yield record.fitted_by, step, f"{here} needs {the(record.tool)}, which {fitted} fits: {record.why}."
        yield step, record.off_by, f"{here} needs {the(record.tool)}, which {off} takes away: {record.why}."


def _easily_missed(engine: Engine, record: EasilyMissed) -> Iterable[Pair]:
    counted = quoted(engine, record.counted_by)
    fasteners = f"{capital(record.what)}, {record.count} of them, are easily missed"
    yield (
        record.fitted_by,
        record.counted_by,
        f"{fasteners}: {counted} counts what {quoted(engine, record.fitted_by)} fits: {record.why}.",
    )
    for step in record.hidden_by:
        said = f"{fasteners}: {counted} comes before {quoted(engine, step)} hides them"
        yield record.counted_by, step, f"{said}: {record.why}."


def _own_place(engine: Engine, record: OwnPlace) -> Iterable[Pair]:
    laid = quoted(engine, record.laid_out_by)
    for step in record.fitted_by:
        said = f"{capital(the(record.part))} go back each to its own place by {record.marks}, so {laid} comes before"
        yield record.laid_out_by, step, f"{said} {quoted(engine, step)}: {record.why}."


def _single_use(engine: Engine, record: SingleUse) -> Iterable[Pair]:
    used = quoted(engine, record.used_by)
    said = f"{capital(the(record.part))}, single use: {quoted(engine, record.new_by)} brings new before {used}"
    yield record.new_by, record.used_by, f"{said}: {record.why}."
    for step in record.undone_by:
        said = f"{capital(the(record.part))}, single use and spent by {used}, so {quoted(engine, step)} comes earlier"
        yield step, record.used_by, f"{said}: {record.why}."


def _clocked(engine: Engine, record: Clocked) -> Iterable[Pair]:
    if record.close_with:
        said = f"{quoted(engine, record.close_with)} closes what {quoted(engine, record.starts)} opens ({record.what})"
        yield record.starts, record.close_with, f"{said}: {record.why}."
    for step in record.not_before:
        said = f"{quoted(engine, step)} waits until {the(record.what)} of {quoted(engine, record.cures_from)} has cured"
        yield record.cures_from, step, f"{said}: {record.why}."


def _attitude(engine: Engine, record: Attitude) -> Iterable[Pair]:
    said = f"The engine stays {record.attitude} from {quoted(engine, record.since)} to {quoted(engine, record.until)}"
    yield record.since, record.until, f"{said}: {record.why}."


def _slack_and_taut(engine: Engine, record: SlackAndTaut) -> Iterable[Pair]:
    taken, let_go = quoted(engine, record.taken_up_by), quoted(engine, record.let_go_by)
    held = f"{capital(the(record.what))}, held taut by {record.held_by},"
    yield record.taken_up_by, record.let_go_by, f"{held} is taken up by {taken} and let go by {let_go}: {record.why}."
    if record.secured_by:
        tied = quoted(engine, record.secured_by)
        yield record.taken_up_by, record.secured_by, f"{held} is taken up by {taken} before {tied}: {record.why}."
        yield record.secured_by, record.let_go_by, f"{held} is made fast by {tied} before {let_go}: {record.why}."
    for step in record.taut_for:
        here = quoted(engine, step)
        yield record.taken_up_by, step, f"{held} is taken up by {taken} before {here}: {record.why}."
        yield step, record.let_go_by, f"{held} is let go by {let_go} only after {here}: {record.why}."


def _confirm_again_now(engine: Engine, record: ConfirmAgainNow) -> Iterable[Pair]:
    check, before = quoted(engine, record.check), quoted(engine, record.before)
    yield record.check, record.before, f"{check} is confirmed again immediately before {before}: {record.why}."


def _aid_in_aid_out(engine: Engine, record: AidInAidOut) -> Iterable[Pair]:
    into, out = quoted(engine, record.in_by), quoted(engine, record.out_by)
    yield record.in_by, record.out_by, f"{out} takes out {the(record.aid)} that {into} puts in: {record.why}."
    for step in record.needed_for:
        here = quoted(engine, step)
        yield record.in_by, step, f"{into} puts in {the(record.aid)} before {here}: {record.why}."
        yield step, record.out_by, f"{out} takes out {the(record.aid)} only after {here}: {record.why}."


PRECEDENCES: dict[str, Callable[[Engine, Any], Iterable[Pair]]] = {
    "before": _before,
    "last_chance": _last_chance,
    "kept_true": _kept_true,
    "unbroken": _unbroken,
    "special_tool": _special_tool,
    "easily_missed": _easily_missed,
    "own_place": _own_place,
    "single_use": _single_use,
    "clocked": _clocked,
    "attitude": _attitude,
    "slack_and_taut": _slack_and_taut,
    "confirm_again_now": _confirm_again_now,
    "aid_in_aid_out": _aid_in_aid_out,
}
"""`second_person`, `sides_differ` and `as_one_move` say nothing of who comes first."""
