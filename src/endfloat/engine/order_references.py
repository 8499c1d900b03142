"""Does every relation point at operations that exist, and do the relations agree with each other?"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from endfloat.engine.circles import circle
from endfloat.engine.clock_proofreading import clock_problems
from endfloat.engine.model import Engine
from endfloat.engine.operations import Operation
from endfloat.engine.positions import Located, Path
from endfloat.engine.precedences import SAFE_STATES
from endfloat.engine.references import unknown
from endfloat.problems import Problem


def order_references(located: Located, engine: Engine) -> Iterable[Problem]:
    """Every problem of operations and relations; a circle is looked for only when all names are right."""
    wrong = [*_operations(located, engine), *_names(located, engine), *_details(located, engine)]
    yield from wrong
    shown = {step.crank.shown_by for step in engine.operations.values() if step.crank} - {""}
    if not wrong and shown <= set(engine.operations):
        yield from _circle(located, engine)


def _operations(located: Located, engine: Engine) -> Iterable[Problem]:
    banks = {bank for family in engine.places.values() for bank in family.bank}
    for name, operation in engine.operations.items():
        here: Path = ("operations", name)
        if operation.bank and operation.bank not in banks:
            yield unknown(located, (*here, "bank"), operation.bank, banks, "bank")
        if operation.assembly and operation.assembly not in engine.assemblies:
            yield unknown(located, (*here, "assembly"), operation.assembly, engine.assemblies, "assembly")
        yield from _measured(located, engine, here, operation)
        for family, shown in operation.shows.items():
            if family not in engine.places:
                yield unknown(located, (*here, "shows", family), family, engine.places, "family")
                continue
            for at, place in enumerate(shown):
                if place not in engine.places[family].names:
                    names = engine.places[family].names
                    yield unknown(located, (*here, "shows", family, at), place, names, "place")
        yield from _pulls(located, engine, name, operation)


def _measured(located: Located, engine: Engine, here: Path, operation: Operation) -> Iterable[Problem]:
    readable = {**engine.characteristics, **engine.quantities}
    for index, measured in enumerate(operation.measures):
        path: Path = (*here, "measures", index)
        if measured.of not in readable:
            yield unknown(located, path, measured.of, readable, "characteristic")
            continue
        described = engine.characteristics.get(measured.of)
        if described is not None and described.given is not None:
            yield located.problem(
                "given_measured",
                path,
                found=f"`{measured.of}`, which the description gives",
                expected="something that a gauge reads",
                remedy="Take it out here, or take `given` off the characteristic.",
            )
        if measured.again and described is None:
            yield located.problem(
                "again_derived",
                path,
                found=f"`{measured.of}`, which follows from others",
                expected="a characteristic, which a gauge reads",
                remedy="Name what is read again, or take `again` off.",
            )
        places = engine.places_of(measured.of)
        for at, place in enumerate(measured.at):
            if place not in places:
                yield unknown(located, (*path, "at", at), place, places, "place")


def view_problems(located: Located, engine: Engine) -> Iterable[Problem]:
    """Does every view show a family of places, and each of its banks once or none?"""
    for attitude, view in engine.views.items():
        here: Path = ("views", attitude)
        if view.along not in engine.places:
            yield unknown(located, (*here, "along"), view.along, engine.places, "family")
            continue
        banks = engine.places[view.along].bank
        for at, bank in enumerate(view.rows):
            if bank not in banks:
                yield unknown(located, (*here, "rows", at), bank, banks, "bank")
        if view.rows and sorted(view.rows) != sorted(banks):
            yield located.problem(
                "rows_of_banks",
                (*here, "rows"),
                found=", ".join(view.rows),
                expected=f"each bank once ({', '.join(banks)}), or no rows where all stand in one line",
                remedy="Name the banks from the top of the drawing to the bottom.",
            )


def _pulls(located: Located, engine: Engine, name: str, operation: Operation) -> Iterable[Problem]:
    if operation.pulls is None:
        return
    here: Path = ("operations", name, "pulls")
    if operation.pulls.joint not in engine.joints:
        yield unknown(located, (*here, "joint"), operation.pulls.joint, engine.joints, "joint")
        return
    count = len(engine.joints[operation.pulls.joint].passes)
    for index, number in enumerate(operation.pulls.passes):
        if not 1 <= number <= count:
            yield located.problem(
                "unknown_pass",
                (*here, "passes", index),
                found=f"pass {number}",
                expected=f"a pass of that joint, 1 to {count}",
                remedy="Correct the number, or describe the pass.",
            )


def _names(located: Located, engine: Engine) -> Iterable[Problem]:
    for relation, index, record in engine.relations.each():
        here: Path = ("relations", relation, index)
        named = record.named()
        for path, operation in named:
            if operation not in engine.operations:
                yield unknown(located, (*here, *path), operation, engine.operations, "operation")
        for operation, count in Counter(operation for _, operation in named).items():
            if count > 1:
                yield located.problem(
                    "named_twice",
                    here,
                    found=f"`{operation}` {count} times",
                    expected="each operation once in a relation",
                    remedy="Keep one; a step does not wait for itself.",
                )


def _details(located: Located, engine: Engine) -> Iterable[Problem]:
    operations, relations = engine.operations, engine.relations
    for index, state in enumerate(relations.kept_true):
        for field in ("lost_by_undoing", "regain_by"):
            for at, step in enumerate(getattr(state, field)):
                if step not in operations:
                    yield unknown(located, ("relations", "kept_true", index, field, at), step, operations, "operation")
    zones = {zone for operation in operations.values() for zone in operation.closes}
    for index, chance in enumerate(relations.last_chance):
        if chance.zone not in zones:
            yield unknown(located, ("relations", "last_chance", index, "zone"), chance.zone, zones, "zone")
    for index, visit in enumerate(relations.second_person):
        for at, step in enumerate(visit.operations):
            if step in operations and operations[step].persons < 2:
                yield located.problem(
                    "helper_idle",
                    ("relations", "second_person", index, "operations", at),
                    found=f"`{step}`, a step for one person",
                    expected="steps for two persons or more",
                    remedy="Write `persons: 2` on the step, or take it out of the visit.",
                )
    for index, lists in enumerate(relations.sides_differ):
        for side, steps in lists.sides.items():
            for at, step in enumerate(steps):
                if step in operations and operations[step].bank != side:
                    yield located.problem(
                        "wrong_side",
                        ("relations", "sides_differ", index, "sides", side, at),
                        found=f"`{step}` of bank `{operations[step].bank}`",
                        expected=f"a step of bank `{side}`",
                        remedy="Put it in the list of its own side.",
                    )
    yield from clock_problems(located, engine)


def _circle(located: Located, engine: Engine) -> Iterable[Problem]:
    chain = circle(engine)
    if chain:
        last = chain[-1]
        yield located.problem(
            "circular_order",
            ("operations", last.then, "crank")
            if last.relation == SAFE_STATES
            else ("relations", last.relation, last.index),
            found="a circle: " + " ".join(each.sentence for each in chain),
            expected="an order in which each step can be done",
            remedy=f"Take one of these {len(chain)} sentences back.",
        )
