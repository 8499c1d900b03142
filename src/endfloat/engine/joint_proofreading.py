"""Do the joints of a description hold together: every bolt once, every amount of its kind, every way back possible?"""

from __future__ import annotations

from collections.abc import Iterable

from endfloat.engine.joints import Joint, WayBack, listed
from endfloat.engine.model import Engine
from endfloat.engine.positions import Located, Path
from endfloat.engine.references import unknown, wrong_kind
from endfloat.problems import Problem
from endfloat.quantities.typed_text import Typed
from endfloat.quantities.units import Kind


def joint_problems(located: Located, engine: Engine) -> Iterable[Problem]:
    """Every problem of the joints, in the order of the file."""
    banks = {bank for family in engine.places.values() for bank in family.bank}
    for name, joint in engine.joints.items():
        here: Path = ("joints", name)
        if joint.bank and joint.bank not in banks:
            yield unknown(located, (*here, "bank"), joint.bank, banks, "bank")
        yield from _drawing(located, here, joint)
        yield from _bolts(located, here, joint)
        yield from _fasteners(located, here, joint)
        yield from _sequence(located, here, joint)
        for index, each in enumerate(joint.passes):
            yield from _pull(located, (*here, "passes", index, "amount"), each.amount)
        yield from _ways_back(located, here, joint)


def joint_blanks(engine: Engine) -> list[tuple[int | None, str]]:
    """Numbers of the joints that are still to look up, each with its page."""
    blanks: list[tuple[int | None, str]] = []
    for joint in engine.joints.values():
        for number, each in enumerate(joint.passes, start=1):
            if each.amount is None:
                blanks.append((each.page, f"{joint.title}, pass {number}"))
        for fastener in joint.apart:
            if fastener.apart is not None and fastener.apart.amount is None:
                blanks.append((fastener.apart.page, f"{joint.title}, bolt {fastener.number}"))
        for bolt, described in joint.bolts.items():
            if described.lubrication is None:
                blanks.append((described.page, f"{joint.title}, lubrication of {bolt.replace('_', ' ')}"))
    return blanks


def _pull(located: Located, path: Path, amount: Typed | None) -> Iterable[Problem]:
    if amount is not None and amount.unit.kind is not Kind.ANGLE:
        yield from wrong_kind(located, path, amount, Kind.TORQUE)
    if amount is not None and amount.unit.kind in (Kind.ANGLE, Kind.TORQUE) and amount.decimal <= 0:
        yield located.problem(
            "not_above_nought", path, found=amount.text, expected="more than nought", remedy="Correct the slip."
        )


def _drawing(located: Located, here: Path, joint: Joint) -> Iterable[Problem]:
    for index, point in enumerate(joint.drawing.outline):
        for amount in point:
            yield from wrong_kind(located, (*here, "drawing", "outline", index), amount, Kind.LENGTH)
    for index, mark in enumerate(joint.drawing.landmarks):
        for word, amount in (("x", mark.x), ("y", mark.y), ("diameter", mark.diameter)):
            yield from wrong_kind(located, (*here, "drawing", "landmarks", index, word), amount, Kind.LENGTH)


def _bolts(located: Located, here: Path, joint: Joint) -> Iterable[Problem]:
    used = {each.bolt for each in joint.fasteners}
    for name, bolt in joint.bolts.items():
        yield from wrong_kind(located, (*here, "bolts", name, "length"), bolt.length, Kind.LENGTH)
        for feel, way in bolt.felt_wrong.items():
            yield from _way_back(located, (*here, "bolts", name, "felt_wrong", feel), joint, way)
        if name not in used:
            yield located.problem(
                "bolt_without_place",
                (*here, "bolts", name),
                found=f"`{name}`, which no fastener is",
                expected="bolts that stand in this joint",
                remedy="Remove it, or name it at its fasteners.",
            )


def _fasteners(located: Located, here: Path, joint: Joint) -> Iterable[Problem]:
    seen: set[str] = set()
    places: dict[tuple[object, object], str] = {}
    for index, each in enumerate(joint.fasteners):
        path: Path = (*here, "fasteners", index)
        if each.number in seen:
            yield located.problem(
                "number_twice",
                (*path, "number"),
                found=f"bolt {each.number} a second time",
                expected="each number once",
                remedy="Give it a number of its own.",
            )
        seen.add(each.number)
        if each.bolt not in joint.bolts:
            yield unknown(located, (*path, "bolt"), each.bolt, joint.bolts, "bolt")
        for word, amount in (("x", each.x), ("y", each.y)):
            yield from wrong_kind(located, (*path, word), amount, Kind.LENGTH)
        other = places.setdefault((each.x.exact_si, each.y.exact_si), each.number)
        if other != each.number:
            yield located.problem(
                "same_place",
                path,
                found=f"bolt {each.number} where bolt {other} stands",
                expected="a place of its own",
                remedy="Correct x or y.",
            )
        if each.apart is not None:
            yield from _pull(located, (*path, "apart", "amount"), each.apart.amount)
            yield from _pass_exists(located, (*path, "apart", "after_pass"), joint, each.apart.after_pass)


def _sequence(located: Located, here: Path, joint: Joint) -> Iterable[Problem]:
    wanted = [each.number for each in joint.fasteners if each.apart is None]
    pulled_apart = {each.number for each in joint.apart}
    seen: set[str] = set()
    for index, number in enumerate(joint.sequence):
        path: Path = (*here, "sequence", index)
        if number in pulled_apart:
            yield located.problem(
                "pulled_apart",
                path,
                found=f"bolt {number}, which is pulled apart from the sequence",
                expected="bolts of the sequence",
                remedy="Take it out here, or remove its `apart`.",
            )
        elif number not in wanted:
            yield unknown(located, path, number, wanted, "fastener")
        elif number in seen:
            yield located.problem(
                "sequence_repeats",
                path,
                found=f"bolt {number} a second time",
                expected="each bolt once",
                remedy="Read the sequence in the service book again.",
            )
        seen.add(number)
    missed = [number for number in wanted if number not in seen]
    if missed:
        yield located.problem(
            "sequence_misses",
            (*here, "sequence"),
            found=f"a sequence without {listed(missed)}",
            expected=f"all {len(wanted)} bolts of the joint, each once",
            remedy="Put it in where the service book has it.",
        )


def _ways_back(located: Located, here: Path, joint: Joint) -> Iterable[Problem]:
    for word, stop in (
        ("inside_pass", joint.interrupted.inside_pass),
        ("between_passes", joint.interrupted.between_passes),
    ):
        if stop is None:
            continue
        path: Path = (*here, "interrupted", word)
        yield from wrong_kind(located, (*path, "longest"), stop.longest, Kind.TIME)
        yield from _way_back(located, path, joint, stop)
        if "this one" in (stop.slacken, stop.renew):
            yield located.problem(
                "no_one_bolt",
                path,
                found="`this one`",
                expected="`all`, `set` or `none`",
                remedy="A pause concerns the whole joint, not one bolt.",
            )
    for feel, way in joint.felt_wrong.items():
        yield from _way_back(located, (*here, "felt_wrong", feel), joint, way)


def _way_back(located: Located, path: Path, joint: Joint, way: WayBack) -> Iterable[Problem]:
    yield from _pass_exists(located, (*path, "start_again_at"), joint, way.start_again_at)
    if way.renew != "none" and way.start_again_at != 1:
        yield located.problem(
            "new_bolt_needs_pass_1",
            (*path, "start_again_at"),
            found=f"pass {way.start_again_at} for a new bolt",
            expected="pass 1",
            remedy="A new bolt has had no pass yet.",
        )
    if (way.renew == "set" and way.slacken != "all") or (way.renew == "this one" and way.slacken == "none"):
        yield located.problem(
            "renewed_but_tight",
            path,
            found=f"renew: {way.renew}, slacken: {way.slacken}",
            expected="what is renewed is slackened first",
            remedy="Say `slacken: all`, or `slacken: this one` for one bolt.",
        )


def _pass_exists(located: Located, path: Path, joint: Joint, number: int) -> Iterable[Problem]:
    if number > len(joint.passes):
        yield located.problem(
            "unknown_pass",
            path,
            found=f"pass {number}",
            expected=f"a pass from 1 to {len(joint.passes)}",
            remedy="Correct the number, or describe the pass.",
        )
