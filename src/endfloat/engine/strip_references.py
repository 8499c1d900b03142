"""Does every name of the strip point at something, and can it be stripped in the order that it asks for?"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping

from endfloat.engine.model import Engine
from endfloat.engine.positions import Located, Path
from endfloat.engine.references import unknown
from endfloat.engine.strip import AsFound, Removal
from endfloat.problems import Problem


def strip_problems(located: Located, engine: Engine) -> Iterable[Problem]:
    """Every problem of the strip, in the order of the file; a circle is looked for only when all names are right."""
    wrong = [each for name, removal in engine.strip.items() for each in _removal(located, engine, name, removal)]
    yield from wrong
    if not wrong:
        yield from _circle(located, engine.strip)


def strip_blanks(engine: Engine) -> list[tuple[int | None, str]]:
    """Page and words of every order of slackening that is still to look up."""
    return [
        (removal.slackens.page, f"{removal.title}, order of slackening")
        for removal in engine.strip.values()
        if removal.slackens is not None and removal.slackens.order is None
    ]


def _removal(located: Located, engine: Engine, name: str, removal: Removal) -> Iterable[Problem]:
    here: Path = ("strip", name)
    banks = {bank for family in engine.places.values() for bank in family.bank}
    if removal.bank and removal.bank not in banks:
        yield unknown(located, (*here, "bank"), removal.bank, banks, "bank")
    for index, each in enumerate(removal.after):
        if each not in engine.strip:
            yield unknown(located, (*here, "after", index), each, engine.strip, "removal")
    for index, each in enumerate(removal.back):
        if each not in engine.operations:
            yield unknown(located, (*here, "back", index), each, engine.operations, "operation")
    yield from _as_found(located, engine, here, removal.as_found)
    for index, void in enumerate(removal.void):
        if void.decided_by and void.decided_by not in engine.decisions:
            yield unknown(located, (*here, "void", index, "decided_by"), void.decided_by, engine.decisions, "decision")
    for care, gate in removal.gates.items():
        for index, each in enumerate(gate.holds):
            if each not in engine.operations:
                yield unknown(located, (*here, "gates", care, "holds", index), each, engine.operations, "operation")
    yield from _twice(located, here, removal)
    yield from _orientation(located, here, removal)
    yield from _slackens(located, engine, here, removal)


def _as_found(located: Located, engine: Engine, here: Path, asked: list[AsFound]) -> Iterable[Problem]:
    for index, each in enumerate(asked):
        path: Path = (*here, "as_found", index)
        if bool(each.of) == bool(each.asks):
            found = "both `of` and `asks`" if each.of else "neither `of` nor `asks`"
            expected, remedy = "one of them", "Name a characteristic with `of`, or ask in words with `asks`."
            yield located.problem("of_or_asks", path, found=found, expected=expected, remedy=remedy)
            continue
        if not each.of:
            if each.at:
                found, remedy = "places of a question in words", "Say the place in the question itself."
                yield located.problem("at_without_of", path, found=found, expected="`of` with `at`", remedy=remedy)
            continue
        described = engine.characteristics.get(each.of)
        if described is None:
            yield unknown(located, (*path, "of"), each.of, engine.characteristics, "characteristic")
            continue
        if described.given is not None:
            found, expected = f"`{each.of}`, which the description gives", "something that a gauge reads"
            yield located.problem(
                "given_measured", path, found=found, expected=expected, remedy="Ask for something that is measured."
            )
        names = engine.places[described.at].names if described.at in engine.places else []
        for at, place in enumerate(each.at):
            if place not in names:
                yield unknown(located, (*path, "at", at), place, names, "place")


def _twice(located: Located, here: Path, removal: Removal) -> Iterable[Problem]:
    """Names under which answers are recorded must each mean one thing."""
    asked = [each.asks for each in removal.as_found if each.asks]
    lists = (
        (
            "fasteners",
            [each.name for each in removal.fasteners],
            "Say with `where` which is which, or count them once.",
        ),
        ("parts", [each.label for each in removal.parts], "Write on each label what tells it from the other."),
        ("as_found", asked, "Ask each question once."),
        ("after", removal.after, "Keep one of the two."),
        ("back", removal.back, "Keep one of the two."),
    )
    for field, names, remedy in lists:
        for name, count in Counter(names).items():
            if count > 1:
                path, found = (*here, field), f"`{name}` {count} times"
                yield located.problem("named_twice", path, found=found, expected="each once", remedy=remedy)


def _orientation(located: Located, here: Path, removal: Removal) -> Iterable[Problem]:
    if removal.orientation is None:
        return
    one, other = removal.orientation.choices
    path: Path = (*here, "orientation", "choices")
    if one.words == other.words or one.points == other.points:
        found, expected = "two choices that are alike", "two pictures that a person can tell apart"
        remedy = "Give each its own words and let each point another way."
        yield located.problem("choices_alike", path, found=found, expected=expected, remedy=remedy)


def _slackens(located: Located, engine: Engine, here: Path, removal: Removal) -> Iterable[Problem]:
    if removal.slackens is None:
        return
    path: Path = (*here, "slackens")
    joint = engine.joints.get(removal.slackens.joint)
    if joint is None:
        yield unknown(located, (*path, "joint"), removal.slackens.joint, engine.joints, "joint")
        return
    numbers = [each.number for each in joint.fasteners]
    for index, bolt in enumerate(removal.slackens.order or []):
        if bolt not in numbers:
            yield unknown(located, (*path, "order", index), bolt, numbers, "fastener")
    for bolt, count in Counter(removal.slackens.order or []).items():
        if count > 1:
            found, remedy = f"bolt {bolt} {count} times", "Name each bolt once; say in `how` that there are rounds."
            yield located.problem(
                "named_twice", (*path, "order"), found=found, expected="each bolt once", remedy=remedy
            )


def _circle(located: Located, strip: Mapping[str, Removal]) -> Iterable[Problem]:
    """Each removal that waits for itself or for one that stands below it; so no circle is possible either."""
    seen: list[str] = []
    for name, removal in strip.items():
        for index, each in enumerate(removal.after):
            if each in seen:
                continue
            path: Path = ("strip", name, "after", index)
            found = f"`{each}`, which stands below `{name}`" if each != name else f"`{name}` itself"
            remedy = "Move it up above this one, or take it out of `after`."
            expected = "only removals that stand above, since the file's order is that of the strip"
            yield located.problem("not_yet_off", path, found=found, expected=expected, remedy=remedy)
        seen.append(name)
