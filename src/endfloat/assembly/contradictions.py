"""Proof that no order can keep all relations, in as few sentences as the proof needs; no solver.

Looked for, in this order: a circle; a step forced into a stretch that excludes it; more work forced under a clock or
into a helper's visit than its minutes; too little work to fill a cure; two sides forced into each other; something left
in a hand when the helper goes; a step that needs what nothing before it can bring crank and cams to.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable
from dataclasses import dataclass

from endfloat.assembly.poses import concerns, demand, poses, refused
from endfloat.engine.circles import circle
from endfloat.engine.model import Engine
from endfloat.engine.precedences import Precedence, precedences, quoted
from endfloat.engine.sentences import capital, the


@dataclass(frozen=True, slots=True)
class Contradiction:
    """A chain of sentences that cannot all be kept."""

    operations: tuple[str, ...]
    sentences: tuple[str, ...]

    def text(self) -> str:
        return " ".join(self.sentences)


def contradiction(engine: Engine) -> Contradiction | None:
    """The shortest proof of the first sort that is found, or None where no such proof exists."""
    chain = circle(engine)
    if chain:
        steps = tuple(dict.fromkeys(step for each in chain for step in (each.first, each.then)))
        return Contradiction(steps, tuple(each.sentence for each in chain))
    ways = _Ways(engine)
    for search in (_excluded, _too_long, _too_short, _sides, _in_hand, _never_safe):
        proofs = list(search(engine, ways))
        if proofs:
            return min(proofs, key=lambda each: (len(each.sentences), each.operations))
    return None


class _Ways:
    """The shortest chain of links from each step to each that must come after it."""

    def __init__(self, engine: Engine) -> None:
        links: dict[str, list[Precedence]] = {name: [] for name in sorted(engine.operations)}
        for link in sorted(precedences(engine), key=lambda each: (each.first, each.then, each.relation, each.index)):
            links[link.first].append(link)
        self.came = {name: self._from(name, links) for name in links}

    @staticmethod
    def _from(start: str, links: dict[str, list[Precedence]]) -> dict[str, Precedence]:
        came: dict[str, Precedence] = {}
        waiting = deque([start])
        while waiting:
            for link in links[waiting.popleft()]:
                if link.then not in came:
                    came[link.then] = link
                    waiting.append(link.then)
        return came

    def forced(self, first: str, then: str) -> bool:
        """Whether `first` must come before `then`."""
        return then in self.came[first]

    def sentences(self, first: str, then: str) -> list[str]:
        """The chain that forces it."""
        told: list[str] = []
        while then != first:
            link = self.came[first][then]
            told.append(link.sentence)
            then = link.first
        return told[::-1]

    def between(self, first: str, then: str) -> list[str]:
        """Every step that must come after `first` and before `then`."""
        return sorted(step for step in self.came[first] if self.forced(step, then))


def _stretches(engine: Engine) -> Iterable[tuple[str, str, str, str]]:
    """Stretches between two steps and a step that may not stand in them, with the sentence."""
    relations = engine.relations
    for state in relations.kept_true:
        for lost in state.lost_by:
            for step in state.during:
                said = f"{quoted(engine, lost)} undoes it that {state.state}, which {quoted(engine, step)} needs"
                yield state.set_by, step, lost, f"{said}: {state.why}."
    for held in relations.slack_and_taut:
        for step in held.slack_for:
            said = f"{quoted(engine, step)} needs {the(held.what)} slack, which is held from"
            told = f"{quoted(engine, held.taken_up_by)} to {quoted(engine, held.let_go_by)}"
            yield held.taken_up_by, held.let_go_by, step, f"{said} {told}: {held.why}."
    for aid in relations.aid_in_aid_out:
        for step in aid.nought_before:
            said = f"{quoted(engine, step)} must find no {aid.aid} left in"
            yield aid.in_by, aid.out_by, step, f"{said}: {aid.why}."
    for kept in relations.attitude:
        for step, operation in engine.operations.items():
            if operation.attitude not in ("", kept.attitude):
                said = (
                    f"{quoted(engine, step)} needs the engine {operation.attitude}, but it stays {kept.attitude} from"
                )
                told = f"{quoted(engine, kept.since)} to {quoted(engine, kept.until)}"
                yield kept.since, kept.until, step, f"{said} {told}: {kept.why}."
    for use in relations.special_tool:
        for other in relations.special_tool:
            if other.tool == use.tool and other != use:
                said = f"There is one {use.tool}, and {quoted(engine, use.fitted_by)} needs it while it is fitted by"
                told = quoted(engine, other.fitted_by)
                yield other.fitted_by, other.off_by, use.fitted_by, f"{said} {told}: {use.why}."


def _excluded(engine: Engine, ways: _Ways) -> Iterable[Contradiction]:
    for start, end, step, sentence in _stretches(engine):
        if ways.forced(start, step) and ways.forced(step, end):
            told = [*ways.sentences(start, step), *ways.sentences(step, end), sentence]
            yield Contradiction((start, step, end), tuple(dict.fromkeys(told)))


def _work(engine: Engine, steps: Iterable[str]) -> int:
    return sum(engine.operations[step].minutes for step in steps)


def _too_long(engine: Engine, ways: _Ways) -> Iterable[Contradiction]:
    for clock in engine.relations.clocked:
        if clock.open_minutes is None or clock.close_with is None:
            continue
        inner = ways.between(clock.starts, clock.close_with)
        needed = _work(engine, [*inner, clock.close_with])
        if needed > clock.open_minutes:
            head = f"{capital(the(clock.what))} of {quoted(engine, clock.starts)} stays open for {clock.open_minutes}"
            rest = f"minutes, and the work up to {quoted(engine, clock.close_with)} takes {needed}: {clock.why}."
            said = f"{head} {rest}"
            told: list[str] = []
            for step in inner:
                told += [*ways.sentences(clock.starts, step), *ways.sentences(step, clock.close_with)]
            yield Contradiction((clock.starts, *inner, clock.close_with), (*dict.fromkeys(told), said))
    for visit in engine.relations.second_person:
        steps = set(visit.operations)
        steps.update(step for a in visit.operations for b in visit.operations for step in ways.between(a, b))
        needed = _work(engine, steps)
        if needed > visit.minutes:
            said = f"The helper is there for {visit.minutes} minutes, and what must be done meanwhile takes {needed}"
            yield Contradiction(tuple(sorted(steps)), (f"{said}: {visit.why}.",))


def _too_short(engine: Engine, ways: _Ways) -> Iterable[Contradiction]:
    for clock in engine.relations.clocked:
        for step in clock.not_before if clock.cure_minutes is not None else ():
            start = clock.cures_from
            free = [each for each in engine.operations if each not in (start, step)
                    and not ways.forced(each, start) and not ways.forced(step, each)]  # fmt: skip
            possible = _work(engine, free)
            if possible < (clock.cure_minutes or 0):
                head = (
                    f"{capital(the(clock.what))} of {quoted(engine, start)} needs {clock.cure_minutes} minutes to cure"
                )
                said = f"{head}, and no more than {possible} minutes of work can lie before {quoted(engine, step)}"
                yield Contradiction((start, step), (f"{said}; a step that waits is missing: {clock.why}.",))


def _sides(engine: Engine, ways: _Ways) -> Iterable[Contradiction]:
    for lists in engine.relations.sides_differ:
        names = sorted(lists.sides)
        for one in names:
            for other in names[names.index(one) + 1 :]:
                there = _shortest_link(ways, lists.sides[one], lists.sides[other])
                back = _shortest_link(ways, lists.sides[other], lists.sides[one])
                if there and back:
                    said = f"The {one} and the {other} side are not mixed ({lists.what}): {lists.why}."
                    yield Contradiction((*there[0], *back[0]), (*there[1], *back[1], said))


def _in_hand(engine: Engine, ways: _Ways) -> Iterable[Contradiction]:
    """Something taken up by hand before or with a helper's step, and made fast after it by a step done alone."""
    for held in engine.relations.slack_and_taut:
        until = held.by_hand_until
        if until is None or engine.operations[until].persons > 1 or _may_span(engine, ways, until):
            continue
        for step, operation in engine.operations.items():
            after_taking = step == held.taken_up_by or ways.forced(held.taken_up_by, step)
            if operation.persons > 1 and after_taking and ways.forced(step, until):
                said = f"{capital(the(held.what))} is held by hand, and the helper of {quoted(engine, step)} is gone by"
                told = [*ways.sentences(held.taken_up_by, step), *ways.sentences(step, until)]
                last = f"{said} {quoted(engine, until)}: {held.why}."
                yield Contradiction((held.taken_up_by, step, until), (*dict.fromkeys(told), last))


def _may_span(engine: Engine, ways: _Ways, step: str) -> bool:
    """Whether a helper's visit can be under way while a step is done."""
    return any(
        step in visit.operations
        or (any(not ways.forced(step, each) for each in visit.operations)
            and any(not ways.forced(each, step) for each in visit.operations))
        for visit in engine.relations.second_person
    )  # fmt: skip


def _never_safe(engine: Engine, ways: _Ways) -> Iterable[Contradiction]:
    safe = engine.safe_states
    for step in sorted(engine.operations) if safe else ():
        if safe and concerns(engine, step):
            earlier = [each for each in engine.operations if each != step and not ways.forced(step, each)]
            if all(refused(engine, pose, step) for pose in poses(engine, earlier)):
                said = f"{quoted(engine, step)} needs {demand(engine, step)}, and no step that may come before it"
                yield Contradiction((step,), (f"{said} brings that about within the safe pairs: {safe.why}.",))


def _shortest_link(ways: _Ways, earlier: list[str], later: list[str]) -> tuple[tuple[str, str], list[str]] | None:
    found = [((a, b), ways.sentences(a, b)) for a in earlier for b in later if ways.forced(a, b)]
    return min(found, key=lambda each: (len(each[1]), each[0]), default=None)
