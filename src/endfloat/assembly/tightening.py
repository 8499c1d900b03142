"""One joint as it is tightened: what a person does to it, and how far it is.

Everything that differs between engines (sequence, passes, pauses, ways back, single use) is read from the
joint's description. Passes count from 1; fasteners pulled apart from the sequence have pass 0.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from typing import Literal

from endfloat.engine.joints import Joint, listed
from endfloat.engine.passes import Check, Feel, Stop, WayBack
from endfloat.problems import Problem
from endfloat.quantities.typed_text import Typed, read_typed

APART = 0
FEELS: dict[str, str] = {
    "no_rise": "turned with no rise",
    "stopped_short": "stopped short",
    "slipped": "slipped",
    "pulled_twice": "was pulled twice",
    "out_of_turn": "was pulled out of its turn",
}
Outcome = Literal["good", "out", "close"]


@dataclass(frozen=True, slots=True)
class Fit:
    """A set of bolts is put in by hand; `name` is written on its bag."""

    name: str
    at: str


@dataclass(frozen=True, slots=True)
class Pull:
    """One bolt is pulled in one pass; `at` is a time in ISO 8601."""

    pass_number: int
    bolt: str
    at: str


@dataclass(frozen=True, slots=True)
class Condemn:
    """A pull felt wrong and does not count."""

    pass_number: int
    bolt: str
    feel: Feel
    at: str


@dataclass(frozen=True, slots=True)
class LookAt:
    """A check is answered at a place: a reading as typed, or yes or no; `within` is what the gauge can tell."""

    check: str
    place: str
    text: str
    within: str
    at: str


@dataclass(frozen=True, slots=True)
class GoBack:
    """The description's way back was carried out; `new_bolt` names the one that replaced a condemned one."""

    at: str
    new_bolt: str = ""


@dataclass(frozen=True, slots=True)
class Undo:
    """A step of the build that pulled the passes from `first_pass` on is undone; 0 when it only closed the joint."""

    first_pass: int
    step: str
    at: str


@dataclass(frozen=True, slots=True)
class Close:
    """A person looked at every pull line and calls the joint closed."""

    at: str


Deed = Fit | Pull | Condemn | LookAt | GoBack | Undo | Close


@dataclass(frozen=True, slots=True)
class Trouble:
    """What stops the joint, in words, and the way back when the description has one; `bolt` where it is one bolt."""

    what: str
    way_back: WayBack | None
    pass_number: int = 0
    bolt: str = ""


@dataclass(frozen=True, slots=True)
class Progress:
    """How far a joint is. `attempt` grows whenever earlier pulls stop counting or a bolt is condemned.

    `checked` holds the checks that stand, by name and place, each with what came of it last.
    """

    fitted: str = ""
    attempt: int = 0
    pulled: tuple[tuple[int, str], ...] = ()
    last: str = ""
    checked: tuple[tuple[str, str, Outcome], ...] = ()
    trouble: Trouble | None = None
    closed: bool = False

    def passes_of(self, bolt: str) -> list[int]:
        """The passes in which a bolt was pulled."""
        return [number for number, each in self.pulled if each == bolt]

    def outcome(self, check: str, place: str) -> Outcome | None:
        """What came of a check at a place; None when it is still to do."""
        return next((told for name, where, told in self.checked if (name, where) == (check, place)), None)


def next_pull(joint: Joint, progress: Progress) -> tuple[int, str] | None:
    """The pass and the bolt of the sequence that come next; None when all are pulled."""
    for number in range(1, len(joint.passes) + 1):
        left = left_in_pass(joint, progress, number)
        if left:
            return number, left[0]
    return None


def left_in_pass(joint: Joint, progress: Progress, number: int) -> tuple[str, ...]:
    """Bolts not yet pulled in a pass, in its order; as listed where that is still to look up."""
    covered = joint.order(number) or joint.covered(number)
    return tuple(bolt for bolt in covered if (number, bolt) not in progress.pulled)


def next_check(joint: Joint, progress: Progress) -> tuple[str, str] | None:
    """The check that is due, and where: its pass is complete and it has not come out good."""
    for name, check in sorted(joint.checks.items(), key=lambda each: each[1].after_pass):
        if _complete(joint, progress, check.after_pass):
            for place in check.at:
                if progress.outcome(name, place) != "good":
                    return name, place
    return None


def apart_left(joint: Joint, progress: Progress) -> tuple[str, ...]:
    """Bolts outside the sequence that are not yet pulled."""
    return tuple(each.number for each in joint.apart if (APART, each.number) not in progress.pulled)


def easily_missed_done(joint: Joint, progress: Progress) -> tuple[int, int]:
    """How many easily missed fasteners are finished, of how many."""
    every = joint.easily_missed
    done = [each for each in every if (joint.last_pass_of(each.number), each.number) in progress.pulled]
    return len(done), len(every)


def everything_left(joint: Joint, progress: Progress) -> list[str]:
    """What keeps the joint open, in words, pass by pass."""
    left = []
    for number in range(1, len(joint.passes) + 1):
        bolts = left_in_pass(joint, progress, number)
        if bolts:
            left.append(f"{listed(bolts)} in pass {number}")
        left += checks_left(joint, progress, number)
    for bolt in apart_left(joint, progress):
        fastener = joint.fastener(bolt)
        where = f" {fastener.easily_missed}" if fastener and fastener.easily_missed else ""
        left.append(f"{listed([bolt])}{where}")
    return left


def checks_left(joint: Joint, progress: Progress, number: int) -> list[str]:
    """What is still to be looked at after a pass, in words."""
    return [
        f"the check after pass {number} at {place}"
        for name, check in joint.checks.items()
        for place in check.at
        if check.after_pass == number and progress.outcome(name, place) != "good"
    ]


def amount_of(joint: Joint, number: int, bolt: str) -> Typed | None:
    """How much: of the pass for this sort of bolt, or of a fastener pulled apart; None when still to look up."""
    fastener = joint.fastener(bolt)
    if fastener is None:
        return None
    if number >= 1:
        return joint.amount_for(number, fastener.bolt)
    return fastener.apart.amount if fastener.apart else None


def pause(joint: Joint, progress: Progress, now: str) -> tuple[Stop, str] | None:
    """The rule for a pause that has become too long, and the pause in words; None when one may go on."""
    upcoming = next_pull(joint, progress)
    begun = any(number != APART for number, _ in progress.pulled)
    if upcoming is None or not begun or progress.trouble is not None:
        return None
    number, _ = upcoming
    inside = inside_pass(joint, progress, number)
    stop = joint.interrupted.inside_pass if inside else joint.interrupted.between_passes
    seconds = (datetime.fromisoformat(now) - datetime.fromisoformat(progress.last)).total_seconds()
    if stop is None or seconds <= stop.longest.si:
        return None
    where = f"inside pass {number}" if inside else f"between pass {number - 1} and pass {number}"
    return stop, f"stopped {duration(seconds)} ago {where}"


def inside_pass(joint: Joint, progress: Progress, number: int) -> bool:
    """Whether a pass is begun and not complete."""
    return 0 < len(left_in_pass(joint, progress, number)) < len(joint.covered(number))


def duration(seconds: float) -> str:
    """A time in the largest unit that fits, rounded down: "25 minutes", "3 hours", "7 days"."""
    for size, word in ((86400, "day"), (3600, "hour"), (60, "minute")):
        if seconds >= size:
            count = int(seconds // size)
            return f"{count} {word}{'s' if count > 1 else ''}"
    return "less than a minute"


def outcome_of(check: Check, text: str, within: str) -> Outcome:
    """Good only when the reading lies inside the limit by what its gauge can tell; a look is good with yes."""
    if check.reads is None:
        return "good" if text == "yes" else "out"
    read = read_typed(text, kind=check.reads, place="")
    room = read_typed(within, kind=check.reads, place="") if within else None
    # An entry made under another description may be of another kind; it is then no answer to this check.
    if check.blank or not isinstance(read, Typed) or isinstance(room, Problem):
        return "close"
    half = float(room.decimal * room.unit.factor) if room else 0.0
    low = check.low.si if check.low else float("-inf")
    high = check.high.si if check.high else float("inf")
    if low + half <= read.si <= high - half:
        return "good"
    return "out" if not low - half <= read.si <= high + half else "close"


def done(joint: Joint, progress: Progress, deed: Deed) -> Progress:
    """The progress after a deed to which there is no objection."""
    return _standing(joint, _done(joint, progress, deed))


def way_back(joint: Joint, progress: Progress, now: str) -> WayBack | None:
    """The description's rule for what stops the joint at this time; None when nothing does, or it has no rule."""
    if progress.trouble is not None:
        return progress.trouble.way_back
    stopped = pause(joint, progress, now)
    return stopped[0] if stopped else None


def _done(joint: Joint, progress: Progress, deed: Deed) -> Progress:
    if isinstance(deed, Fit):
        return Progress(fitted=deed.name, attempt=progress.attempt + 1)
    if isinstance(deed, Pull):
        last = progress.last if deed.pass_number == APART else deed.at
        return replace(progress, pulled=(*progress.pulled, (deed.pass_number, deed.bolt)), last=last)
    if isinstance(deed, Condemn):
        where = f" in pass {deed.pass_number}" if deed.pass_number else ""
        what = f"bolt {deed.bolt} {FEELS[deed.feel]}{where}"
        trouble = Trouble(what, joint.way_back(deed.bolt, deed.feel), deed.pass_number, deed.bolt)
        kept = tuple(each for each in progress.pulled if each != (deed.pass_number, deed.bolt))
        return replace(progress, pulled=kept, trouble=trouble, attempt=progress.attempt + 1)
    if isinstance(deed, LookAt):
        return _looked_at(joint, progress, deed)
    if isinstance(deed, Undo):
        return _undone(joint, progress, deed)
    if isinstance(deed, Close):
        return replace(progress, closed=True)
    way = way_back(joint, progress, deed.at)
    kept = progress.pulled if way is None else _still_tight(progress, way)
    return replace(progress, pulled=kept, trouble=None, last=deed.at, attempt=progress.attempt + 1)


def _looked_at(joint: Joint, progress: Progress, deed: LookAt) -> Progress:
    check = joint.checks.get(deed.check)
    if check is None or deed.place not in check.at:
        return progress
    outcome = outcome_of(check, deed.text, deed.within)
    others = tuple(each for each in progress.checked if each[:2] != (deed.check, deed.place))
    progress = replace(progress, checked=(*others, (deed.check, deed.place, outcome)))
    if outcome != "out":
        return progress
    limit = f"; the limit is {check.limit}, page {check.page or 'not named'}" if check.reads else ""
    what = f"the check after pass {check.after_pass} failed at {deed.place}: {deed.text}{limit}"
    return replace(progress, trouble=Trouble(what, check.failed), attempt=progress.attempt + 1)


def _undone(joint: Joint, progress: Progress, deed: Undo) -> Progress:
    kept = tuple(each for each in progress.pulled if APART < each[0] < deed.first_pass)
    if deed.first_pass == APART or kept == progress.pulled:
        return replace(progress, closed=False, attempt=progress.attempt + 1)
    trouble = Trouble(f"the step that pulled pass {deed.first_pass} was undone", joint.undone)
    return replace(progress, pulled=kept, closed=False, trouble=trouble, attempt=progress.attempt + 1)


def _still_tight(progress: Progress, way: WayBack) -> tuple[tuple[int, str], ...]:
    if way.slacken == "none":
        return progress.pulled
    one = progress.trouble.bolt if progress.trouble and way.slacken == "this one" else None
    return tuple(
        (number, bolt)
        for number, bolt in progress.pulled
        if (one is not None and bolt != one) or APART < number < way.start_again_at
    )


def _standing(joint: Joint, progress: Progress) -> Progress:
    """A check stands as long as every bolt of its pass and of those before does."""
    kept = tuple(
        each
        for each in progress.checked
        if each[0] in joint.checks and _complete(joint, progress, joint.checks[each[0]].after_pass)
    )
    return progress if kept == progress.checked else replace(progress, checked=kept)


def _complete(joint: Joint, progress: Progress, number: int) -> bool:
    return number <= len(joint.passes) and not any(left_in_pass(joint, progress, each) for each in range(1, number + 1))
