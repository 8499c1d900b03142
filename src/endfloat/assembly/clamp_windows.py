"""What clamp load to expect of a bolt after a pass: an interval with its lubrication, or what is missing for one."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from endfloat.assembly.clamp_draws import Drawn, Errors, Known, Onset, by_torque, by_torque_and_angle, onset
from endfloat.assembly.tightening import APART, amount_of
from endfloat.engine.bolt_sorts import Bolt
from endfloat.engine.joints import Joint
from endfloat.errors import OutOfRange
from endfloat.formulas.bearing_faces import mean_diameter
from endfloat.formulas.bolts import strength
from endfloat.formulas.threads import metric_sizes
from endfloat.quantities.typed_text import Typed, read_typed
from endfloat.quantities.units import Kind

_THREAD = re.compile(r"M\s*(\d+(?:\.\d+)?)\s*(?:[x×]\s*(\d+(?:\.\d+)?))?")
_NOT_COUNTED = 1.0


@dataclass(frozen=True, slots=True)
class ClampWindow:
    """Clamp load of a bolt after a pass, never without its interval and its lubrication.

    `friction` is lowest and highest as the description has them, on `page`; `turned` the angle after the torque;
    `onset` is known where the bolt is turned by an angle.
    """

    lubrication: str
    friction: tuple[str, ...]
    page: int
    drawn: Drawn
    turned: float
    onset: Onset | None


@dataclass(frozen=True, slots=True)
class NotKnown:
    """Why no clamp load is shown: each thing that is missing, with its page where one is named."""

    missing: tuple[tuple[str, int | None], ...]

    @property
    def sentence(self) -> str:
        told = [words + (f" (page {page})" if page else "") for words, page in self.missing]
        return f"No clamp load is shown. Missing: {'; '.join(told)}."


def clamp_window(
    joint: Joint,
    number: str,
    passes: Sequence[int],
    *,
    lubrication: str,
    errors: Errors,
    generator: np.random.Generator,
) -> ClampWindow | NotKnown:
    """The clamp load of a bolt once it was pulled in these passes, in the state of lubrication that was stated."""
    fastener = joint.fastener(number)
    assert fastener is not None, "a bolt of this joint"
    bolt = joint.bolts[fastener.bolt]
    amounts = [amount_of(joint, each, number) for each in passes]
    pulls = torque_and_angles([each for each in amounts if each is not None])
    missing = _blank_amounts(joint, passes, amounts) or _no_torque(pulls)
    missing += _missing(bolt, lubrication, angle=pulls is not None and bool(pulls[1]))
    if missing or pulls is None:
        return NotKnown(tuple(missing))
    book = bolt.lubrication
    assert book is not None, "asked before"
    pull, angles = pulls
    try:
        known = _known(bolt)
        if angles:
            drawn, begins = by_torque_and_angle(known, pull, angles, errors, generator), onset(known, pull)
        else:
            drawn, begins = by_torque(known, pull, errors, lubrication), None
    except OutOfRange as error:
        return NotKnown(((f"numbers that go together: {error}", bolt.page),))
    return ClampWindow(lubrication, book.friction, book.page, drawn, sum(angles), begins)


def torque_and_angles(amounts: Sequence[Typed]) -> tuple[float, list[float]] | None:
    """The last torque and the angles after it in SI; None where a torque comes after an angle, or none before it."""
    kinds = [each.unit.kind for each in amounts]
    if Kind.TORQUE not in kinds:
        return None
    last = len(kinds) - 1 - kinds[::-1].index(Kind.TORQUE)
    if Kind.ANGLE in kinds[:last]:
        return None
    return amounts[last].si, [each.si for each in amounts[last + 1 :]]


def _blank_amounts(
    joint: Joint, passes: Sequence[int], amounts: Sequence[Typed | None]
) -> list[tuple[str, int | None]]:
    return [
        ("how much it is pulled on its own", None)
        if number == APART
        else (f"how much pass {number} is", joint.passes[number - 1].page)
        for number, amount in zip(passes, amounts, strict=True)
        if amount is None
    ]


def _no_torque(pulls: tuple[float, list[float]] | None) -> list[tuple[str, int | None]]:
    return [] if pulls else [("a torque that all angles come after", None)]


def _missing(bolt: Bolt, lubrication: str, *, angle: bool) -> list[tuple[str, int | None]]:
    book = bolt.lubrication
    page = book.page if book else bolt.page
    found: list[tuple[str, int | None]] = []
    if not lubrication.strip():
        found.append(("what is on thread and head", page))
    if book is None or not book.ends:
        found.append(("the lowest and the highest friction", page))
    if bolt.face is None:
        found.append(("the face under the head and its hole", bolt.page))
    thread = _THREAD.fullmatch(bolt.thread.strip())
    if thread is None:
        found.append((f"a metric thread in place of {bolt.thread}", bolt.page))
    elif thread.group(2) is None:
        found.append((f"the pitch of {bolt.thread}", bolt.page))
    if angle and bolt.stiffness is None and bolt.grip is None:
        found.append(("the stiffness or the grip of the bolt", bolt.page))
    return found


def _known(bolt: Bolt) -> Known:
    book, face, thread = bolt.lubrication, bolt.face, _THREAD.fullmatch(bolt.thread.strip())
    assert book is not None, "asked before"
    assert face is not None, "asked before"
    assert thread is not None, "asked before"
    low, high = book.ends
    diameter, pitch = (_millimetres(thread.group(each)) for each in (1, 2))
    sizes = metric_sizes(diameter=diameter, pitch=pitch)
    core = float(sizes.stress_diameter)
    core = min(core, bolt.waist.si) if bolt.waist else core
    return Known(
        pitch=pitch,
        pitch_diameter=float(sizes.pitch_diameter),
        stress_diameter=core,
        bearing_diameter=float(mean_diameter(face=face.across.si, hole=face.hole.si)),
        frictions=(low, high),
        strength=float(strength(strength_class=bolt.strength, diameter=diameter).yielding),
        stiffness=_stiffness(bolt, core),
    )


def _stiffness(bolt: Bolt, core: float) -> float:
    """Of bolt and joint in series; from the grip the bolt is taken as its core over the free length."""
    if bolt.stiffness is not None:
        return bolt.stiffness.si
    if bolt.grip is None:
        return _NOT_COUNTED
    alone = bolt.grip.modulus.si * np.pi / 4 * core**2 / bolt.grip.length.si
    return float(alone * bolt.grip.parts.si / (bolt.grip.parts.si + 1))


def _millimetres(text: str) -> float:
    read = read_typed(text, kind=Kind.LENGTH, place="", default_unit="mm")
    assert isinstance(read, Typed), "a pattern of digits"
    return read.si
