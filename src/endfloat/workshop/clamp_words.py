"""The clamp load to expect in words, for page and paper; and a torque seen at the end of an angle, as a question."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from endfloat.assembly.clamp_draws import DRAWS, Errors
from endfloat.assembly.clamp_windows import ClampWindow, NotKnown, clamp_window
from endfloat.assembly.tightening import APART, amount_of
from endfloat.engine.joints import Joint
from endfloat.formulas.wrenches import permitted_error
from endfloat.inspection.gauges import Gauge
from endfloat.job.events import BoltPulled, BoltSetFitted
from endfloat.quantities.shown_text import shown_number
from endfloat.quantities.typed_text import Typed, read_typed
from endfloat.quantities.units import UNITS, Kind
from endfloat.workshop.tightening import JointView

SEED = 20261
# An angle by eye or on a plain dial is good to some five degrees; common practice, no source.
ANGLE_BY_HAND = math.radians(5)
NEARLY_ALL, HARDLY_ANY = 0.95, 0.05


@dataclass(frozen=True, slots=True)
class ClampWords:
    """What to expect after a pass: the first line always holds load, interval and lubrication together.

    `seen` is the torque to expect at the end of an angle, where the pass is one.
    """

    lines: tuple[str, ...]
    known: bool
    seen: str = ""


def expected(
    joint: Joint, number: int, bolt: str, *, lubrication: str, register: dict[str, Gauge], gauges: tuple[str, ...]
) -> ClampWords:
    """The clamp load of a bolt after a pass (0: pulled on its own); `gauges` are those in use."""
    found = window_after(joint, number, bolt, lubrication=lubrication, register=register, gauges=gauges)
    if isinstance(found, NotKnown):
        return ClampWords((found.sentence,), known=False)
    low, middle, high = (_kilonewtons(each) for each in found.drawn.loads)
    first = (
        f"Clamp load after this: {low} to {high} kN, middle {middle} kN; {found.lubrication},"
        f" friction {' to '.join(found.friction)} (page {found.page})."
    )
    seen = found.drawn.torque_seen
    shown = f"{_newton_metres(seen[0])} to {_newton_metres(seen[1])} N·m" if seen else ""
    return ClampWords((first, *_yield_words(found), _how(found)), known=True, seen=shown)


def window_after(
    joint: Joint, number: int, bolt: str, *, lubrication: str, register: dict[str, Gauge], gauges: tuple[str, ...]
) -> ClampWindow | NotKnown:
    """The window itself; the same seed gives the same numbers on page and paper."""
    passes = [APART] if number == APART else [n for n in range(1, number + 1) if bolt in joint.covered(n)]
    errors = _errors(joint, passes, bolt, register, gauges)
    generator = np.random.default_rng(SEED)
    return clamp_window(joint, bolt, passes, lubrication=lubrication, errors=errors, generator=generator)


def seen_question(window: ClampWindow | NotKnown, text: str) -> str:
    """A question where the torque seen lies outside what is expected; nothing where it lies inside or is not known."""
    read = read_typed(text, kind=Kind.TORQUE, place="")
    if isinstance(window, NotKnown) or window.drawn.torque_seen is None or not isinstance(read, Typed):
        return ""
    low, high = window.drawn.torque_seen
    if low <= read.si <= high:
        return ""
    usual = (
        "Less friction than stated, a thread that gives, or a foreign bolt?"
        if read.si < low
        else "More friction than stated, a dry or damaged thread, or a foreign bolt?"
    )
    return f"{read.text} seen, {_newton_metres(low)} to {_newton_metres(high)} N·m expected. {usual} Look, and judge."


def sort_lubrication(joint: Joint, bolt: str, stated: str) -> str:
    """What was stated for the sort of a bolt; of one pulled on its own what the description says, since none asks."""
    fastener = joint.fastener(bolt)
    if fastener is None:
        return ""
    name = f"{fastener.bolt.replace('_', ' ')}: "
    told = next((each.removeprefix(name) for each in stated.split("; ") if each.startswith(name)), "")
    book = joint.bolts[fastener.bolt].lubrication
    return told or (f"{book.words} by the description" if fastener.apart and book else "")


def _errors(joint: Joint, passes: list[int], bolt: str, register: dict[str, Gauge], gauges: tuple[str, ...]) -> Errors:
    off = {register[name].kind: register[name].error.si for name in gauges if name in register}
    torques = [amount.si for n in passes if (amount := amount_of(joint, n, bolt)) and amount.unit.kind is Kind.TORQUE]
    permitted = float(permitted_error(torque=torques[-1])) * torques[-1] if torques else 0.0
    return Errors(off.get(Kind.TORQUE, permitted), off.get(Kind.ANGLE, ANGLE_BY_HAND))


def _yield_words(window: ClampWindow) -> tuple[str, ...]:
    share = window.drawn.past_yield
    if window.onset is None:
        return ("With the lowest friction this torque passes the yield of its class.",) if share else ()
    begins = (
        f"Yield begins at the surface {_degrees(window.onset.surface)} after the torque and in the whole section"
        f" {_degrees(window.onset.section)} after it, at the least strength of the class."
    )
    verb = "pass" if share >= NEARLY_ALL else "stay below" if share <= HARDLY_ANY else "may pass"
    return (f"Turned {round(math.degrees(window.turned))}° after the torque, the bolts {verb} yield. {begins}",)


def _how(window: ClampWindow) -> str:
    if window.onset is None:
        return "From the corners of friction and wrench."
    return f"95 of 100 of {DRAWS} draws of friction, wrench, angle, strength and stiffness, seed {SEED}."


def _kilonewtons(load: float) -> str:
    return shown_number(load, UNITS["kN"], 1)


def _newton_metres(torque: float) -> str:
    return shown_number(torque, UNITS["N·m"], 0)


def _degrees(ends: tuple[float, float]) -> str:
    low, high = (round(math.degrees(each)) for each in ends)
    return f"{low}° to {high}°"


def expected_now(seen: JointView, register: dict[str, Gauge], number: int, bolt: str, gauge: str) -> ClampWords:
    """The clamp load to expect of a bolt after a pass, with the gauges used at this joint and the one in hand."""
    return expected(
        seen.joint,
        number,
        bolt,
        lubrication=sort_lubrication(seen.joint, bolt, stated_now(seen)),
        register=register,
        gauges=(*gauges_used(seen), gauge),
    )


def stated_now(seen: JointView) -> str:
    """What was said of thread and head when the present set went in."""
    fitted = (each for each in reversed(seen.recorded) if isinstance(each, BoltSetFitted))
    return next((each.lubrication for each in fitted), "")


def gauges_used(seen: JointView) -> tuple[str, ...]:
    """The gauges of all pulls at this joint, in their order."""
    return tuple(dict.fromkeys(each.gauge for each in seen.recorded if isinstance(each, BoltPulled)))


def question_about(seen: JointView, register: dict[str, Gauge], pulled: BoltPulled) -> str:
    """A question where the torque seen at the end of an angle lies outside what is expected; else nothing."""
    lubrication = sort_lubrication(seen.joint, pulled.bolt, stated_now(seen))
    window = window_after(
        seen.joint,
        pulled.pass_number,
        pulled.bolt,
        lubrication=lubrication,
        register=register,
        gauges=gauges_used(seen),
    )
    return seen_question(window, pulled.seen)
