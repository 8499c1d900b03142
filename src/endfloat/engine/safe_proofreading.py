"""Do the listed pairs of crank and cams, and what steps say of them, agree with each other?"""

from __future__ import annotations

from collections.abc import Iterable

from endfloat.engine.model import Engine
from endfloat.engine.positions import Located, Path
from endfloat.engine.references import unknown
from endfloat.engine.safe_states import CrankWork, SafeStates
from endfloat.problems import Problem


def safe_state_problems(located: Located, engine: Engine) -> Iterable[Problem]:
    """Every name that nothing bears, every position that nothing shows, and a start that no pair allows."""
    safe = engine.safe_states
    if safe is None:
        yield from _without_list(located, engine)
        return
    wrong = [*_banks(located, engine, safe), *_places(located, engine, safe)]
    yield from wrong
    for name, step in engine.operations.items():
        if step.crank:
            yield from _work(located, engine, ("operations", name, "crank"), step.crank)
    start = safe.start
    if not wrong and not safe.lists(start.crank, start.at, start.cams):
        yield located.problem(
            "start_not_listed",
            ("safe_states", "start"),
            found="a state that no pair allows",
            expected="a state of the list, for the work begins in it",
            remedy="Correct the start, or list the pair with its page.",
        )


def _without_list(located: Located, engine: Engine) -> Iterable[Problem]:
    for name, step in engine.operations.items():
        if step.crank or step.cams:
            yield located.problem(
                "no_safe_states",
                ("operations", name, "crank" if step.crank else "cams"),
                found="a step that moves crank or cams",
                expected="a section `safe_states` that lists which pairs are safe",
                remedy="List the safe pairs from your service book.",
            )
            return


def _banks(located: Located, engine: Engine, safe: SafeStates) -> Iterable[Problem]:
    banks = {bank for family in engine.places.values() for bank in family.bank} or set(safe.start.cams)
    for bank in safe.start.cams:
        if bank not in banks:
            yield unknown(located, ("safe_states", "start", "cams", bank), bank, banks, "bank")
    for index, pair in enumerate(safe.pairs):
        for bank in pair.cams:
            if bank not in safe.start.cams:
                yield unknown(located, ("safe_states", "pairs", index, "cams", bank), bank, safe.start.cams, "bank")
    for name, step in engine.operations.items():
        for bank in step.cams:
            if bank not in safe.start.cams:
                yield unknown(located, ("operations", name, "cams", bank), bank, safe.start.cams, "bank")


def _places(located: Located, engine: Engine, safe: SafeStates) -> Iterable[Problem]:
    named: list[tuple[Path, str]] = [(("safe_states", "start", "at"), safe.start.at)]
    named += [(("safe_states", "pairs", i, "at", j), at) for i, each in enumerate(safe.pairs)
              for j, at in enumerate(each.at)]  # fmt: skip
    for name, step in engine.operations.items():
        if step.crank:
            here: Path = ("operations", name, "crank")
            named.append(((*here, "at"), step.crank.at))
            named += [((*here, "needs_at", index), at) for index, at in enumerate(step.crank.needs_at)]
    for path, at in named:
        if at and at not in safe.positions:
            yield unknown(located, path, at, safe.positions, "position")


def _work(located: Located, engine: Engine, here: Path, work: CrankWork) -> Iterable[Problem]:
    if work.shown_by and work.shown_by not in engine.operations:
        yield unknown(located, (*here, "shown_by"), work.shown_by, engine.operations, "operation")
    if work.becomes in ("near", "exact") and not work.at:
        yield located.problem(
            "position_without_name",
            here,
            found=f"`becomes: {work.becomes}` and no position",
            expected="`at` with one of the positions of safe_states",
            remedy="Say where the crank then stands.",
        )
    if work.becomes == "exact" and not work.shown_by:
        yield located.problem(
            "position_not_shown",
            here,
            found="an exact position that nothing shows",
            expected="`shown_by` with the step that fits the part or tool which shows it",
            remedy="Name that step, or write `becomes: near`.",
        )
