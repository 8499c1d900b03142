"""Does the timing of a description hold together: every name known, every angle an angle, every pattern possible?"""

from __future__ import annotations

import math
from collections.abc import Iterable

from endfloat.engine.model import Engine
from endfloat.engine.positions import Located, Path
from endfloat.engine.references import kind_of, unknown, wrong_kind
from endfloat.engine.timing import Cam, Condition, Pattern, Timing
from endfloat.formulas.cam_timing import lobe_timing
from endfloat.problems import Problem
from endfloat.quantities.shown_text import shown_number
from endfloat.quantities.typed_text import Typed
from endfloat.quantities.units import UNITS, Kind


def timing_problems(located: Located, engine: Engine) -> Iterable[Problem]:
    """Every problem of the timing, in the order of the file."""
    timing = engine.timing
    if timing is None:
        return
    if timing.cylinders not in engine.places:
        yield unknown(located, ("timing", "cylinders"), timing.cylinders, engine.places, "place")
        return
    yield from _dead_centre(located, engine, timing)
    for name, cam in timing.cams.items():
        yield from _cam(located, engine, timing, name, cam)
    for name, condition in timing.gate.items():
        yield from _condition(located, engine, name, condition)
    yield from _steps(located, engine, timing)
    yield from _kinds(
        located,
        ("timing",),
        {"longest_pause": (timing.longest_pause, Kind.TIME), "alike": (timing.alike, Kind.ANGLE)},
        above_nought=("longest_pause", "alike"),
    )
    for index, pattern in enumerate(timing.diagnosis):
        yield from _pattern(located, ("timing", "diagnosis", index), timing, pattern)


def timing_blanks(engine: Engine) -> list[tuple[int | None, str]]:
    """Numbers of the timing that are still to look up, each with its page."""
    if engine.timing is None:
        return []
    blanks: list[tuple[int | None, str]] = []
    for cam in engine.timing.cams.values():
        if cam.centre is None:
            blanks.append((cam.page, f"{cam.title}, lobe centre"))
        if cam.low is None and cam.high is None:
            blanks.append((cam.page, f"{cam.title}, limits of the lobe centre"))
        if cam.reads != "centre" and cam.lift is None:
            blanks.append((cam.page, f"{cam.title}, check lift"))
    return blanks


def _kinds(
    located: Located, here: Path, wanted: dict[str, tuple[Typed | None, Kind]], above_nought: tuple[str, ...] = ()
) -> Iterable[Problem]:
    for word, (amount, kind) in wanted.items():
        if amount is None:
            continue
        yield from wrong_kind(located, (*here, word), amount, kind)
        if word in above_nought and amount.unit.kind is kind and amount.decimal <= 0:
            yield located.problem(
                "not_above_nought",
                (*here, word),
                found=amount.text,
                expected="more than nought",
                remedy="Correct the slip.",
            )


def _dead_centre(located: Located, engine: Engine, timing: Timing) -> Iterable[Problem]:
    here: Path = ("timing", "dead_centre")
    described = timing.dead_centre
    names = engine.places[timing.cylinders].names
    if described.cylinder not in names:
        yield unknown(located, (*here, "cylinder"), described.cylinder, names, "place")
    words = {"throw": described.throw, "rod": described.rod, "offset": described.offset, "drop": described.drop}
    wrong = list(
        _kinds(
            located,
            here,
            {word: (amount, Kind.LENGTH) for word, amount in words.items()},
            above_nought=("throw", "rod"),
        )
    )
    yield from wrong
    aside = abs(described.offset.si) if described.offset else 0.0
    if not wrong and described.rod.si <= described.throw.si + aside:
        yield located.problem(
            "rod_too_short",
            (*here, "rod"),
            found=f"a rod of {described.rod.text}",
            expected=f"longer than the throw of {described.throw.text} and the offset together",
            remedy="The throw is half the stroke. Correct the slip.",
        )
    elif not wrong and not 0 <= described.drop.si <= 2 * described.throw.si:
        yield located.problem(
            "drop_too_large",
            (*here, "drop"),
            found=described.drop.text,
            expected="from nought to the stroke",
            remedy="It is how far below its top the piston touches the stop.",
        )


def _cam(located: Located, engine: Engine, timing: Timing, name: str, cam: Cam) -> Iterable[Problem]:
    here: Path = ("timing", "cams", name)
    banks = {bank for family in engine.places.values() for bank in family.bank}
    if cam.bank and cam.bank not in banks:
        yield unknown(located, (*here, "bank"), cam.bank, banks, "bank")
    names = engine.places[timing.cylinders].names
    if cam.cylinder not in names:
        yield unknown(located, (*here, "cylinder"), cam.cylinder, names, "place")
    angles = {word: getattr(cam, word) for word in ("top_at", "centre", "low", "high", "opens", "closes")}
    wrong = [
        *_kinds(located, here, {word: (amount, Kind.ANGLE) for word, amount in angles.items()}),
        *_kinds(located, here, {"lift": (cam.lift, Kind.LENGTH)}, above_nought=("lift",)),
    ]
    yield from wrong
    if not wrong:
        yield from _limits(located, here, cam)
        yield from _events(located, here, cam)
    yield from _prediction(located, engine, here, cam)


def _limits(located: Located, here: Path, cam: Cam) -> Iterable[Problem]:
    low, centre, high = cam.low, cam.centre, cam.high
    if low and high and low.exact_si >= high.exact_si:
        yield located.problem(
            "no_interval",
            (*here, "high"),
            found=f"{low.text} to {high.text}",
            expected="a high above the low",
            remedy="Exchange them, or correct the slip.",
        )
    elif centre and ((low and centre.exact_si < low.exact_si) or (high and centre.exact_si > high.exact_si)):
        yield located.problem(
            "centre_outside",
            (*here, "centre"),
            found=f"a centre of {centre.text}, outside its own limits",
            expected="a centre within low and high",
            remedy="Read both again on the page; an exhaust centre is told before the top, without a minus.",
        )


def _events(located: Located, here: Path, cam: Cam) -> Iterable[Problem]:
    """The middle of the two events is the centre: a slip in one of three numbers shows."""
    if cam.opens is None or cam.closes is None or cam.centre is None:
        return
    by_top, by_bottom = (cam.opens, cam.closes) if cam.valve == "intake" else (cam.closes, cam.opens)
    middle = float(lobe_timing(beside_top=by_top.si, beside_bottom=by_bottom.si).centre)
    # Half a degree: books round events to whole degrees.
    if abs(middle - cam.centre.si) > math.radians(0.5) + 1e-9:
        yield located.problem(
            "centre_not_between",
            (*here, "centre"),
            found=f"{cam.centre.text}, where the events have their middle at {shown_number(middle, UNITS['°'], 1)} °",
            expected="the middle of opens and closes",
            remedy="An intake opens before the top and closes after the bottom; an exhaust opens before the bottom.",
        )


def _prediction(located: Located, engine: Engine, here: Path, cam: Cam) -> Iterable[Problem]:
    expected = cam.expected
    if expected is None:
        return
    known = [*engine.characteristics, *engine.quantities]
    if expected.of not in known:
        yield unknown(located, (*here, "expected", "of"), expected.of, known, "quantity")
        return
    if kind_of(engine, expected.of) is not Kind.ANGLE:
        yield located.problem(
            "wrong_unit",
            (*here, "expected", "of"),
            found=f"`{expected.of}`, which is no angle",
            expected="an angle of the crank, positive early",
            remedy="Name the quantity that gives the phase of this cam.",
        )
    elif expected.at not in engine.places_of(expected.of):
        yield unknown(located, (*here, "expected", "at"), expected.at, engine.places_of(expected.of), "place")


def _condition(located: Located, engine: Engine, name: str, condition: Condition) -> Iterable[Problem]:
    known = {each.what: each for each in engine.relations.clocked}
    turn_at = engine.timing.turn_at if engine.timing else ""
    for index, named in enumerate(condition.clocks):
        here: Path = ("timing", "gate", name, "clocks", index)
        clock = known.get(named)
        if clock is None:
            yield unknown(located, here, named, known, "clock")
        elif clock.cure_minutes is None:
            yield located.problem(
                "no_wait",
                here,
                found=f"`{named}`, which has an open time and no cure",
                expected="a clock with cure_minutes",
                remedy="An open time is nothing to wait for: name another clock, or remove it here.",
            )
        elif turn_at in engine.operations and turn_at not in clock.not_before:
            yield located.problem(
                "wait_of_gate_only",
                here,
                found=f"`{named}`, which shuts the gate and lets `{turn_at}` be done",
                expected=f"a clock that holds the step of the turns (`{turn_at}`) too",
                remedy=f"Add `{turn_at}` to its not_before, or remove it here.",
            )


def _steps(located: Located, engine: Engine, timing: Timing) -> Iterable[Problem]:
    here: Path = ("timing",)
    named: list[tuple[Path, str]] = [((*here, "turn_at"), timing.turn_at)] if timing.turn_at else []
    named += [((*here, "at", step), step) for step in timing.at]
    named += [((*here, "confirm_before", step), step) for step in timing.confirm_before]
    named += [((*here, "opened_by", index), step) for index, step in enumerate(timing.opened_by)]
    for path, step in named:
        if step not in engine.operations:
            yield unknown(located, path, step, engine.operations, "operation")
    lists = [((*here, "at", step), cams) for step, cams in timing.at.items()]
    lists += [((*here, "confirm_before", step, "cams"), each.cams) for step, each in timing.confirm_before.items()]
    for path, cams in lists:
        for index, cam in enumerate(cams):
            if cam not in timing.cams:
                yield unknown(located, (*path, index), cam, timing.cams, "cam")
    read = {cam for cams in timing.at.values() for cam in cams}
    for cam in [each for each in timing.cams if each not in read] if timing.at else []:
        yield located.problem(
            "cam_never_read",
            (*here, "cams", cam),
            found=f"`{cam}`, which no step reads",
            expected="each cam at a step of `at`",
            remedy="Name it at the step at which it is read.",
        )


def _pattern(located: Located, here: Path, timing: Timing, pattern: Pattern) -> Iterable[Problem]:
    if isinstance(pattern.out, list):
        for index, cam in enumerate(pattern.out):
            if cam not in timing.cams:
                yield unknown(located, (*here, "out", index), cam, timing.cams, "cam")
    if pattern.out == "one bank" and len({cam.bank for cam in timing.cams.values()}) < 2:
        yield located.problem(
            "no_second_bank",
            (*here, "out"),
            found="`one bank` on an engine whose cams are of one",
            expected="`all`, `one cam`, or the names of cams",
            remedy="Give the cams their banks, or remove this line.",
        )
    wrong = list(_kinds(located, here, {"low": (pattern.low, Kind.ANGLE), "high": (pattern.high, Kind.ANGLE)}))
    yield from wrong
    by_interval = pattern.low is not None or pattern.high is not None
    if by_interval + pattern.whole_teeth + pattern.whole_turn != 1:
        yield located.problem(
            "one_size",
            here,
            found="no size, or more than one",
            expected="one of: low and high, whole_teeth, whole_turn",
            remedy="Keep one.",
        )
    elif pattern.low and pattern.high and not wrong and pattern.low.exact_si >= pattern.high.exact_si:
        yield located.problem(
            "no_interval",
            (*here, "high"),
            found=f"{pattern.low.text} to {pattern.high.text}",
            expected="a high above the low; the way is said by `way`",
            remedy="Exchange them, or correct the slip.",
        )
    if pattern.compares != "with what is expected" and (pattern.whole_teeth or pattern.whole_turn):
        yield located.problem(
            "one_size",
            (*here, "compares"),
            found="whole teeth or a whole turn between two readings",
            expected="low and high",
            remedy="Give the size as an interval.",
        )
