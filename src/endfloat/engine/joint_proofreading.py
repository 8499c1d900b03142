"""Do the joints of a description hold together: every bolt once, every amount of its kind, every way back possible?"""

from __future__ import annotations

from collections.abc import Iterable

from endfloat.engine.bolt_sorts import Bolt
from endfloat.engine.joints import Joint
from endfloat.engine.model import Engine
from endfloat.engine.pass_proofreading import pass_exists, pass_problems, pull_problems, way_back_problems
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
        yield from pass_problems(located, here, joint)
        yield from _ways_back(located, here, joint)


def joint_blanks(engine: Engine) -> list[tuple[int | None, str]]:
    """Numbers of the joints that are still to look up, each with its page."""
    blanks: list[tuple[int | None, str]] = []
    for joint in engine.joints.values():
        if not joint.sequence and any(each.sequence == [] for each in joint.passes):
            blanks.append((joint.page, f"{joint.title}, sequence"))
        for number, each in enumerate(joint.passes, start=1):
            blanks += [(each.page, f"{joint.title}, {words}") for words in _pass_blanks(joint, number)]
        for fastener in joint.apart:
            if fastener.apart is not None and fastener.apart.amount is None:
                blanks.append((fastener.apart.page, f"{joint.title}, bolt {fastener.number}"))
        for check in joint.checks.values():
            if check.blank:
                blanks.append((check.page, f"{joint.title}, limit of the check after pass {check.after_pass}"))
        for bolt, described in joint.bolts.items():
            if described.lubrication is None:
                blanks.append((described.page, f"{joint.title}, lubrication of {bolt.replace('_', ' ')}"))
    return blanks


def _pass_blanks(joint: Joint, number: int) -> Iterable[str]:
    described = joint.passes[number - 1]
    sorts = joint.sorts_in(number)
    blank = [sort for sort in sorts if joint.amount_for(number, sort) is None]
    if blank and len(blank) == len(sorts):
        yield f"pass {number}"
    else:
        yield from (f"pass {number}, {sort.replace('_', ' ')}" for sort in blank)
    if described.sequence is None:
        yield f"sequence of pass {number}"


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
        yield from _sizes(located, (*here, "bolts", name), bolt)
        for feel, way in bolt.felt_wrong.items():
            yield from way_back_problems(located, (*here, "bolts", name, "felt_wrong", feel), joint, way, one=True)
        if name not in used:
            yield located.problem(
                "bolt_without_place",
                (*here, "bolts", name),
                found=f"`{name}`, which no fastener is",
                expected="bolts that stand in this joint",
                remedy="Remove it, or name it at its fasteners.",
            )


def _sizes(located: Located, path: Path, bolt: Bolt) -> Iterable[Problem]:
    yield from wrong_kind(located, (*path, "length"), bolt.length, Kind.LENGTH)
    book, face, grip = bolt.lubrication, bolt.face, bolt.grip
    wanted: list[tuple[tuple[str, ...], Typed | None, Kind]] = [
        (("waist",), bolt.waist, Kind.LENGTH),
        (("stiffness",), bolt.stiffness, Kind.STIFFNESS),
        (("lubrication", "lowest"), book.lowest if book else None, Kind.NUMBER),
        (("lubrication", "highest"), book.highest if book else None, Kind.NUMBER),
        (("face", "across"), face.across if face else None, Kind.LENGTH),
        (("face", "hole"), face.hole if face else None, Kind.LENGTH),
        (("grip", "length"), grip.length if grip else None, Kind.LENGTH),
        (("grip", "modulus"), grip.modulus if grip else None, Kind.PRESSURE),
        (("grip", "parts"), grip.parts if grip else None, Kind.NUMBER),
    ]
    for words, amount, kind in wanted:
        if amount is not None:
            yield from wrong_kind(located, (*path, *words), amount, kind)
            if amount.unit.kind is kind and amount.decimal <= 0:
                yield located.problem(
                    "not_above_nought",
                    (*path, *words),
                    found=amount.text,
                    expected="more than nought",
                    remedy="Correct the slip.",
                )
    yield from _upside_down(located, path, bolt)


def _upside_down(located: Located, path: Path, bolt: Bolt) -> Iterable[Problem]:
    book, face = bolt.lubrication, bolt.face
    if book and book.lowest and book.highest and book.lowest.exact_si >= book.highest.exact_si:
        yield located.problem(
            "no_interval",
            (*path, "lubrication", "highest"),
            found=f"friction {book.lowest.text} to {book.highest.text}",
            expected="a highest above the lowest",
            remedy="Nobody knows one figure of friction: give the lowest and the highest to reckon with.",
        )
    if face and face.across.exact_si <= face.hole.exact_si:
        yield located.problem(
            "face_in_its_hole",
            (*path, "face", "across"),
            found=f"a face {face.across.text} over a hole {face.hole.text}",
            expected="a face wider than its hole",
            remedy="Exchange them, or correct the slip.",
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
            yield from pull_problems(located, (*path, "apart", "amount"), each.apart.amount)
            yield from pass_exists(located, (*path, "apart", "after_pass"), joint, each.apart.after_pass)


def _ways_back(located: Located, here: Path, joint: Joint) -> Iterable[Problem]:
    for word, stop in (
        ("inside_pass", joint.interrupted.inside_pass),
        ("between_passes", joint.interrupted.between_passes),
    ):
        if stop is None:
            continue
        path: Path = (*here, "interrupted", word)
        yield from wrong_kind(located, (*path, "longest"), stop.longest, Kind.TIME)
        yield from way_back_problems(located, path, joint, stop, one=False)
    if joint.undone is not None:
        yield from way_back_problems(located, (*here, "undone"), joint, joint.undone, one=False)
    for feel, way in joint.felt_wrong.items():
        yield from way_back_problems(located, (*here, "felt_wrong", feel), joint, way, one=True)
