"""Does an order keep every relation? One check and one sentence for each type; no solver.

Position is all that counts, so an order that is only begun is checked the same way: what is missing counts as
later than what is there. Whatever breaks a beginning breaks every order that goes on from it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Any

from endfloat.assembly.cost import helper_there
from endfloat.assembly.poses import concerns, first_pose, objection, pose_after
from endfloat.assembly.violations import NOT_DONE, Laid, Violation, lay_out
from endfloat.engine.model import Engine
from endfloat.engine.precedences import PRECEDENCES, SAFE_STATES, precedences, quoted, shown_first
from endfloat.engine.relations import (
    RELATIONS,
    AidInAidOut,
    AsOneMove,
    Attitude,
    Clocked,
    ConfirmAgainNow,
    KeptTrue,
    Relation,
    SecondPerson,
    SidesDiffer,
    SlackAndTaut,
    SpecialTool,
    Unbroken,
)
from endfloat.engine.sentences import capital, the

Check = Callable[[Laid, Any], Iterable[Violation]]


def check(engine: Engine, order: Sequence[str], *, always: tuple[str, ...] = ()) -> list[Violation]:
    """Everything an order breaks, in the order of the steps.

    A broken "this before that" is left out where it follows from another one that is told: mend that, and it is
    mended too. Types of `always` are told all the same.
    """
    laid = lay_out(engine, order)
    found = [
        violation
        for name, _, record in engine.relations.each()
        if name in CHECKS
        for violation in CHECKS[name](laid, record)
    ]
    found += safe_states(laid)
    roots = _without_consequences(engine, found, always) if any(each.link for each in found) else found
    ranks = {name: rank for rank, name in enumerate((*RELATIONS, SAFE_STATES))}
    return sorted(roots, key=lambda each: (min(map(laid.at.__getitem__, each.operations)), ranks[each.relation],
                                           each.operations, each.sentence))  # fmt: skip


def _without_consequences(engine: Engine, found: list[Violation], always: tuple[str, ...]) -> list[Violation]:
    """Drop each broken link from a to c where other links lead from a to c: one of those is broken too.

    So is a link to a step that begins outside the safe pairs, from the later step that would bring about what it needs.
    """
    after: dict[str, set[str]] = {each: set() for each in engine.operations}
    for link in precedences(engine):
        if link.relation in CHECKS or link.relation == SAFE_STATES:
            after[link.first].add(link.then)
    reached = _reached(after)
    if reached is None:
        return found

    def follows(link: tuple[str, str]) -> bool:
        return any(link[1] in reached[step] for step in after[link[0]] if step != link[1])

    def is_told(violation: Violation) -> bool:
        if violation.link:
            return follows(violation.link)
        return any(step in reached[freeing] for freeing in violation.freed_by for step in violation.operations)

    return [each for each in found if each.relation in always or not is_told(each)]


def _reached(after: dict[str, set[str]]) -> dict[str, set[str]] | None:
    """Everything that comes after each step by way of links; None where the links run in a circle."""
    waits = dict.fromkeys(after, 0)
    for then in after.values():
        for step in then:
            waits[step] += 1
    free = [step for step, count in waits.items() if not count]
    for step in free:
        for then_step in after[step]:
            waits[then_step] -= 1
            if not waits[then_step]:
                free.append(then_step)
    if len(free) < len(after):
        return None
    reached: dict[str, set[str]] = {}
    for step in reversed(free):
        reached[step] = set(after[step]).union(*(reached[each] for each in after[step]))
    return reached


def _links(name: str, laid: Laid, record: Relation) -> Iterable[Violation]:
    """Every "this before that" of one relation which the order turns round."""
    for first, then, sentence in PRECEDENCES[name](laid.engine, record):
        if laid.at[first] > laid.at[then]:
            begun = laid.at[first] == NOT_DONE
            where = f"Here {laid.step(first)}." if begun else f"Here {laid.step(first)} and {laid.step(then)}."
            yield Violation(name, (first, then), f"{sentence} {where}", (first, then))


def _links_only(name: str) -> Check:
    return lambda laid, record: _links(name, laid, record)


def _kept_true(laid: Laid, record: KeptTrue) -> Iterable[Violation]:
    yield from _links("kept_true", laid, record)
    for lost in record.lost_by:
        at = laid.at[lost]
        waiting = [step for step in record.during if laid.at[step] > at]
        if laid.at[record.set_by] < at < NOT_DONE and waiting:
            step = min(waiting, key=lambda each: (laid.at[each], each))
            said = f"{quoted(laid.engine, lost)} undoes it that {record.state}, while {quoted(laid.engine, step)}"
            regain = f" Once lost: {record.regain}." if record.regain else ""
            sentence = f"{said} still needs it: {record.why}.{regain} Here {laid.step(lost)} and {laid.step(step)}."
            yield Violation("kept_true", (record.set_by, lost, step), sentence)


def _parted(laid: Laid, first: str, then: str) -> str | None:
    """The step that stands straight after `first` where `then` should, if that comes later or not at all."""
    after = laid.at[first] + 1
    if laid.at[then] > laid.at[first] and after < len(laid.order) and laid.order[after] != then:
        return laid.order[after]
    return None


def _unbroken(laid: Laid, record: Unbroken) -> Iterable[Violation]:
    yield from _links("unbroken", laid, record)
    for first, then in zip(record.sequence, record.sequence[1:], strict=False):
        between = _parted(laid, first, then)
        if between:
            told = f"{quoted(laid.engine, first)} and {quoted(laid.engine, then)}"
            sentence = f"{quoted(laid.engine, between)} interrupts the unbroken sequence between {told}: {record.why}."
            yield Violation("unbroken", (first, between, then), sentence)


def _second_person(laid: Laid, record: SecondPerson) -> Iterable[Violation]:
    places = [laid.at[step] for step in record.operations]
    start, end = min(places), min(max(places) + 1, len(laid.order))
    if start == NOT_DONE:
        return
    needed = laid.minutes(start, end)
    if needed > record.minutes:
        first, last = laid.order[start], laid.order[end - 1]
        said = f"The helper is there for {record.minutes} minutes and would be kept for {needed}"
        told = f"from {quoted(laid.engine, first)} to {quoted(laid.engine, last)}"
        yield Violation("second_person", tuple(record.operations), f"{said}, {told}: {record.why}.")


def _special_tool(laid: Laid, record: SpecialTool) -> Iterable[Violation]:
    yield from _links("special_tool", laid, record)
    for other in laid.engine.relations.special_tool:
        here = laid.at[record.fitted_by]
        if other.tool == record.tool and laid.at[other.fitted_by] < here < min(laid.at[other.off_by], NOT_DONE):
            said = f"There is one {record.tool}, and {quoted(laid.engine, record.fitted_by)} needs it while it is still"
            sentence = f"{said} fitted by {quoted(laid.engine, other.fitted_by)}: {record.why}."
            yield Violation("special_tool", (other.fitted_by, record.fitted_by, other.off_by), sentence)


def _sides_differ(laid: Laid, record: SidesDiffer) -> Iterable[Violation]:
    spans = {side: (min(places), max(places)) for side, steps in record.sides.items()
             if (places := [laid.at[step] for step in steps])}  # fmt: skip
    # Of two sides that are both open the one begun first is finished first.
    mixed = sorted(
        (laid.at[step], step, side, other)
        for side, steps in record.sides.items()
        for step in steps
        for other, (begun, finished) in spans.items()
        if begun < spans[side][0] and laid.at[step] < finished and laid.at[step] != NOT_DONE
    )
    # A whole order is told where it first mixes; in a build under way each step has its own answer.
    under_way = any(finished == NOT_DONE for _, finished in spans.values())
    for _, step, side, other in mixed if under_way else mixed[:1]:
        said = f"{quoted(laid.engine, step)} begins on the {side} side while the {other} side is not finished"
        yield Violation("sides_differ", (laid.order[spans[other][0]], step), f"{said} ({record.what}): {record.why}.")


def _clocked(laid: Laid, record: Clocked) -> Iterable[Violation]:
    yield from _links("clocked", laid, record)
    if record.open_minutes is not None and record.close_with:
        start, end = laid.at[record.starts], laid.at[record.close_with]
        passed = laid.minutes(start + 1, end + 1) if start < end else 0
        if passed > record.open_minutes:
            said = f"{capital(the(record.what))} stays open for {record.open_minutes} minutes from"
            told = f"{quoted(laid.engine, record.starts)}; {quoted(laid.engine, record.close_with)} ends after {passed}"
            yield Violation("clocked", (record.starts, record.close_with), f"{said} {told}: {record.why}.")
    for step in record.not_before if record.cure_minutes is not None else []:
        start, end = laid.at[record.cures_from], laid.at[step]
        passed = laid.minutes(start + 1, end)
        if start < end < NOT_DONE and passed < (record.cure_minutes or 0):
            said = f"{capital(the(record.what))} of {quoted(laid.engine, record.cures_from)} needs"
            told = f"{record.cure_minutes} minutes to cure; {quoted(laid.engine, step)} begins after {passed}"
            yield Violation("clocked", (record.cures_from, step), f"{said} {told}: {record.why}.")


def _attitude(laid: Laid, record: Attitude) -> Iterable[Violation]:
    yield from _links("attitude", laid, record)
    for step in laid.order[laid.at[record.since] + 1 : laid.at[record.until]]:
        wanted = laid.engine.operations[step].attitude
        if wanted not in ("", record.attitude):
            said = f"{quoted(laid.engine, step)} needs the engine {wanted}, but it stays {record.attitude} from"
            told = f"{quoted(laid.engine, record.since)} to {quoted(laid.engine, record.until)}"
            yield Violation("attitude", (record.since, step, record.until), f"{said} {told}: {record.why}.")


def _as_one_move(laid: Laid, record: AsOneMove) -> Iterable[Violation]:
    start = min(laid.at[step] for step in record.operations)
    for between in laid.order[start : start + len(record.operations)]:
        if between not in record.operations:
            told = " and ".join(quoted(laid.engine, step) for step in record.operations)
            sentence = f"{told} go in as one move; {quoted(laid.engine, between)} comes between: {record.why}."
            yield Violation("as_one_move", (*record.operations, between), sentence)
            return


def _slack_and_taut(laid: Laid, record: SlackAndTaut) -> Iterable[Violation]:
    yield from _links("slack_and_taut", laid, record)
    for step in record.slack_for:
        if laid.at[record.taken_up_by] < laid.at[step] < laid.at[record.let_go_by]:
            said = (
                f"{quoted(laid.engine, step)} needs {the(record.what)} slack, but it is held taut by {record.held_by}"
            )
            told = f"from {quoted(laid.engine, record.taken_up_by)} to {quoted(laid.engine, record.let_go_by)}"
            sentence = f"{said} {told}: {record.why}."
            yield Violation("slack_and_taut", (record.taken_up_by, step, record.let_go_by), sentence)
    if record.by_hand_until:
        yield from _left_in_hand(laid, record, record.by_hand_until)


def _left_in_hand(laid: Laid, record: SlackAndTaut, until: str) -> Iterable[Violation]:
    there = helper_there(laid)
    for place in range(laid.at[record.taken_up_by], min(laid.at[until], len(laid.order) - 1)):
        if there[place] and not there[place + 1]:
            last = laid.order[place]
            said = f"{capital(the(record.what))} is held by hand, and the helper goes after {quoted(laid.engine, last)}"
            sentence = f"{said} while it is still to be made fast by {quoted(laid.engine, until)}: {record.why}."
            yield Violation("slack_and_taut", (record.taken_up_by, last, until), sentence)
            return


def _confirm_again_now(laid: Laid, record: ConfirmAgainNow) -> Iterable[Violation]:
    yield from _links("confirm_again_now", laid, record)
    between = _parted(laid, record.check, record.before)
    if between:
        said = f"{quoted(laid.engine, record.check)} no longer counts once {quoted(laid.engine, between)} has come"
        sentence = f"{said} between it and {quoted(laid.engine, record.before)}: {record.why}."
        yield Violation("confirm_again_now", (record.check, between, record.before), sentence)


def _aid_in_aid_out(laid: Laid, record: AidInAidOut) -> Iterable[Violation]:
    yield from _links("aid_in_aid_out", laid, record)
    for step in record.nought_before:
        if laid.at[record.in_by] < laid.at[step] < laid.at[record.out_by]:
            said = f"{quoted(laid.engine, step)} must find no {record.aid} left in (count {record.count}), and"
            sentence = f"{said} {quoted(laid.engine, record.out_by)} has not taken it out: {record.why}."
            yield Violation("aid_in_aid_out", (record.in_by, step, record.out_by), sentence)


def safe_states(laid: Laid) -> Iterable[Violation]:
    """Every step that begins in a state it does not take, or leaves the listed pairs of crank and cams.

    A state outside the list is told once: at the step that leads there.
    """
    for first, then, sentence in shown_first(laid.engine):
        if laid.at[first] > laid.at[then]:
            where = f"Here {laid.step(first)} and {laid.step(then)}."
            yield Violation(SAFE_STATES, (first, then), f"{sentence} {where}", (first, then))
    pose = first_pose(laid.engine)
    if pose is None:
        return
    for place, step in enumerate(laid.order):
        if concerns(laid.engine, step):
            left = [each for each in laid.engine.operations if laid.at[each] > place]
            found = objection(laid.engine, pose, step, left)
            if found:
                said, freed_by = found
                yield Violation(SAFE_STATES, (step,), f"{said} Here {laid.step(step)}.", freed_by=tuple(freed_by))
            pose = pose_after(laid.engine, pose, step)


CHECKS: dict[str, Check] = {
    "before": _links_only("before"),
    "last_chance": _links_only("last_chance"),
    "kept_true": _kept_true,
    "unbroken": _unbroken,
    "second_person": _second_person,
    "special_tool": _special_tool,
    "easily_missed": _links_only("easily_missed"),
    "sides_differ": _sides_differ,
    "own_place": _links_only("own_place"),
    "single_use": _links_only("single_use"),
    "clocked": _clocked,
    "attitude": _attitude,
    "as_one_move": _as_one_move,
    "slack_and_taut": _slack_and_taut,
    "confirm_again_now": _confirm_again_now,
    "aid_in_aid_out": _aid_in_aid_out,
}
