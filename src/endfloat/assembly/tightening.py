"""One joint as it is tightened: which bolt, how much, next; and why a pull is refused.

Everything that differs between engines (sequence, passes, pauses, ways back, single use) is read from the
joint's description. Passes count from 1; fasteners pulled apart from the sequence have pass 0.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime

from endfloat.engine.joints import Feel, Joint, Stop, WayBack, listed
from endfloat.problems import Problem, quoted
from endfloat.quantities.typed_text import Typed

APART = 0
FEELS: dict[str, str] = {
    "no_rise": "turned with no rise",
    "stopped_short": "stopped short",
    "slipped": "slipped",
}


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
class GoBack:
    """The description's way back was carried out; `new_bolt` names the one that replaced a condemned one."""

    at: str
    new_bolt: str = ""


@dataclass(frozen=True, slots=True)
class Close:
    """A person looked at every pull line and calls the joint closed."""

    at: str


Deed = Fit | Pull | Condemn | GoBack | Close


@dataclass(frozen=True, slots=True)
class Condemned:
    """The bolt that felt wrong, and the way back when the description has one."""

    pass_number: int
    bolt: str
    feel: Feel
    way_back: WayBack | None


@dataclass(frozen=True, slots=True)
class Progress:
    """How far a joint is. `attempt` grows whenever earlier pulls stop counting or a bolt is condemned."""

    fitted: str = ""
    attempt: int = 0
    pulled: tuple[tuple[int, str], ...] = ()
    last: str = ""
    condemned: Condemned | None = None
    closed: bool = False

    def passes_of(self, bolt: str) -> list[int]:
        """The passes in which a bolt was pulled."""
        return [number for number, each in self.pulled if each == bolt]


def next_pull(joint: Joint, progress: Progress) -> tuple[int, str] | None:
    """The pass and the bolt of the sequence that come next; None when all are pulled."""
    for number in range(1, len(joint.passes) + 1):
        left = left_in_pass(joint, progress, number)
        if left:
            return number, left[0]
    return None


def left_in_pass(joint: Joint, progress: Progress, number: int) -> tuple[str, ...]:
    """Bolts not yet pulled in a pass, in sequence."""
    return tuple(bolt for bolt in joint.sequence if (number, bolt) not in progress.pulled)


def apart_left(joint: Joint, progress: Progress) -> tuple[str, ...]:
    """Bolts outside the sequence that are not yet pulled."""
    return tuple(each.number for each in joint.apart if (APART, each.number) not in progress.pulled)


def easily_missed_done(joint: Joint, progress: Progress) -> tuple[int, int]:
    """How many easily missed fasteners are finished, of how many."""
    last = len(joint.passes)
    every = joint.easily_missed
    done = [each for each in every if ((APART if each.apart else last), each.number) in progress.pulled]
    return len(done), len(every)


def everything_left(joint: Joint, progress: Progress) -> list[str]:
    """What keeps the joint open, in words, pass by pass."""
    left = [
        f"{listed(bolts)} in pass {number}"
        for number in range(1, len(joint.passes) + 1)
        if (bolts := left_in_pass(joint, progress, number))
    ]
    for number in apart_left(joint, progress):
        fastener = joint.fastener(number)
        where = f" {fastener.easily_missed}" if fastener and fastener.easily_missed else ""
        left.append(f"{listed([number])}{where}")
    return left


def amount_of(joint: Joint, number: int, bolt: str) -> Typed | None:
    """How much: of the pass, or of a fastener pulled apart; None when it is still to look up."""
    if number >= 1:
        return joint.passes[number - 1].amount
    fastener = joint.fastener(bolt)
    return fastener.apart.amount if fastener and fastener.apart else None


def pause(joint: Joint, progress: Progress, now: str) -> tuple[Stop, str] | None:
    """The rule for a pause that has become too long, and the pause in words; None when one may go on."""
    upcoming = next_pull(joint, progress)
    begun = any(number != APART for number, _ in progress.pulled)
    if upcoming is None or not begun or progress.condemned is not None:
        return None
    number, _ = upcoming
    inside = len(left_in_pass(joint, progress, number)) < len(joint.sequence)
    stop = joint.interrupted.inside_pass if inside else joint.interrupted.between_passes
    seconds = (datetime.fromisoformat(now) - datetime.fromisoformat(progress.last)).total_seconds()
    if stop is None or seconds <= stop.longest.si:
        return None
    where = f"inside pass {number}" if inside else f"between pass {number - 1} and pass {number}"
    return stop, f"stopped {duration(seconds)} ago {where}"


def duration(seconds: float) -> str:
    """A time in the largest unit that fits, rounded down: "25 minutes", "3 hours", "7 days"."""
    for size, word in ((86400, "day"), (3600, "hour"), (60, "minute")):
        if seconds >= size:
            count = int(seconds // size)
            return f"{count} {word}{'s' if count > 1 else ''}"
    return "less than a minute"


def objection(joint: Joint, progress: Progress, deed: Deed, *, pulled_before: frozenset[str]) -> Problem | None:
    """Why a deed may not be done now; None when it may.

    `pulled_before` holds the names of all sets and bolts that were ever pulled in this job.
    """
    if isinstance(deed, Fit):
        return _against_set(joint, deed.name, pulled_before)
    if not progress.fitted:
        return _no(joint, "no_bolt_set", "no bolts", "a named set of bolts", "Enter the set that is in.")
    if progress.closed:
        return _no(joint, "joint_closed", "a closed joint", "an open one", "Opening it again needs bolts fitted anew.")
    if isinstance(deed, Pull):
        return _against_pull(joint, progress, deed)
    if isinstance(deed, Condemn):
        return _against_condemning(joint, progress, deed)
    if isinstance(deed, GoBack):
        return _against_going_back(joint, progress, deed, pulled_before)
    if progress.condemned is not None:
        return _rule_first(joint, progress.condemned)
    left = everything_left(joint, progress)
    if left:
        found = f"{'; '.join(left)}: not yet pulled"
        return _no(joint, "not_all_pulled", found, "every bolt pulled in every pass", "Pull what is left first.")
    return None


def done(joint: Joint, progress: Progress, deed: Deed) -> Progress:
    """The progress after a deed to which there is no objection."""
    if isinstance(deed, Fit):
        return Progress(fitted=deed.name, attempt=progress.attempt + 1)
    if isinstance(deed, Pull):
        last = progress.last if deed.pass_number == APART else deed.at
        return replace(progress, pulled=(*progress.pulled, (deed.pass_number, deed.bolt)), last=last)
    if isinstance(deed, Condemn):
        condemned = Condemned(deed.pass_number, deed.bolt, deed.feel, joint.way_back(deed.bolt, deed.feel))
        kept = tuple(each for each in progress.pulled if each != (deed.pass_number, deed.bolt))
        return replace(progress, pulled=kept, condemned=condemned, attempt=progress.attempt + 1)
    if isinstance(deed, Close):
        return replace(progress, closed=True)
    way = _way_back(joint, progress, deed.at)
    kept = progress.pulled if way is None else _still_tight(progress, way)
    return replace(progress, pulled=kept, condemned=None, last=deed.at, attempt=progress.attempt + 1)


def _still_tight(progress: Progress, way: WayBack) -> tuple[tuple[int, str], ...]:
    if way.slacken == "none":
        return progress.pulled
    one = progress.condemned.bolt if progress.condemned and way.slacken == "this one" else None
    return tuple(
        (number, bolt)
        for number, bolt in progress.pulled
        if (one is not None and bolt != one) or APART < number < way.start_again_at
    )


def _way_back(joint: Joint, progress: Progress, now: str) -> WayBack | None:
    if progress.condemned is not None:
        return progress.condemned.way_back
    stopped = pause(joint, progress, now)
    return stopped[0] if stopped else None


def _no(joint: Joint, code: str, found: str, expected: str, remedy: str) -> Problem:
    return Problem(code, joint.title, found, expected, remedy)


def _against_set(joint: Joint, name: str, pulled_before: frozenset[str]) -> Problem | None:
    if not name.strip():
        return _no(joint, "no_set_name", "no name", "the name of the set", "Write a name on its bag and type it here.")
    if joint.single_use and name in pulled_before:
        found = f"bolt set {name}, which was already pulled. It is single use"
        return _no(joint, "set_pulled_before", found, "bolts that were never pulled", "Enter a new set.")
    return None


def _against_pull(joint: Joint, progress: Progress, deed: Pull) -> Problem | None:
    fastener = joint.fastener(deed.bolt)
    apart = deed.pass_number == APART
    if fastener is None or apart is not (fastener.apart is not None) or deed.pass_number > len(joint.passes):
        return _no(joint, "unknown_bolt", f"bolt {deed.bolt}", "a bolt of this joint", "Look at the drawing again.")
    if progress.condemned is not None:
        return _rule_first(joint, progress.condemned)
    if (deed.pass_number, deed.bolt) in progress.pulled:
        found = f"bolt {deed.bolt} a second time in pass {deed.pass_number}"
        return _no(joint, "pulled_already", found, "each bolt once a pass", "Go on with the next bolt.")
    stopped = None if apart else pause(joint, progress, deed.at)
    if stopped:
        stop, words = stopped
        remedy = f"Your description says: {stop.words}. {stop.caution}".strip()
        return _no(joint, "stopped_too_long", words, f"a pause of at most {stop.longest.text}", remedy)
    if amount_of(joint, deed.pass_number, deed.bolt) is None:
        found = f"no amount for pass {deed.pass_number}" if not apart else f"no amount for bolt {deed.bolt}"
        return _no(joint, "amount_missing", found, "a number of the service book", "Look it up and enter it.")
    if fastener.apart is not None:
        return _too_early(joint, progress, fastener.apart.after_pass + 1, f"bolt {deed.bolt}")
    early = _too_early(joint, progress, deed.pass_number, f"pass {deed.pass_number}")
    upcoming = next_pull(joint, progress)
    if early or upcoming is None or upcoming[1] == deed.bolt:
        return early
    found, expected = f"bolt {deed.bolt}", f"bolt {upcoming[1]}, which is next in the sequence"
    return _no(joint, "out_of_sequence", found, expected, f"Pull bolt {upcoming[1]} first (page {joint.page}).")


def _too_early(joint: Joint, progress: Progress, number: int, what: str) -> Problem | None:
    for earlier in range(1, number):
        left = left_in_pass(joint, progress, earlier)
        if left:
            found = f"{what} before pass {earlier} is complete"
            verb = "is" if len(left) == 1 else "are"
            words = listed(left)
            remedy = f"{words[0].upper()}{words[1:]} {verb} not yet pulled in pass {earlier}."
            return _no(joint, "pass_too_early", found, f"pass {earlier} complete", remedy)
    return None


def _rule_first(joint: Joint, condemned: Condemned) -> Problem:
    found = f"bolt {condemned.bolt}, which {FEELS[condemned.feel]}"
    way = condemned.way_back
    remedy = f"Your description says: {way.words}." if way else "Your description has no rule. Fit a new set."
    return _no(joint, "rule_first", found, "the way back carried out first", remedy)


def _against_condemning(joint: Joint, progress: Progress, deed: Condemn) -> Problem | None:
    if progress.condemned is not None:
        return _rule_first(joint, progress.condemned)
    if deed.feel not in FEELS:
        return _no(joint, "unknown_feel", quoted(deed.feel), "one of the three", "Say what happened.")
    if not deed.bolt:
        return _no(joint, "no_bolt", "no bolt chosen", "the bolt in hand, or one already pulled", "Choose the bolt.")
    in_hand = [next_pull(joint, progress), *((APART, bolt) for bolt in apart_left(joint, progress)), *progress.pulled]
    if (deed.pass_number, deed.bolt) not in in_hand:
        expected = "the bolt in hand, or one already pulled"
        return _no(joint, "unknown_bolt", f"bolt {deed.bolt} in pass {deed.pass_number}", expected, "Choose it again.")
    return None


def _against_going_back(joint: Joint, progress: Progress, deed: GoBack, spent: frozenset[str]) -> Problem | None:
    way = _way_back(joint, progress, deed.at)
    if way is None:
        condemned = progress.condemned is not None
        found = "no rule in the description" if condemned else "nothing that calls for going back"
        remedy = "Fit a new set." if condemned else "Go on with the next bolt."
        return _no(joint, "no_way_back", found, "a rule of the description", remedy)
    if way.renew == "set":
        return _no(joint, "new_set_needed", "the old set", "a new set", f"{way.words}. Enter a new set.")
    if way.renew == "this one" and not deed.new_bolt.strip():
        return _no(joint, "no_new_bolt", "no name", "the new bolt", "Write a name on the new bolt's bag and type it.")
    if way.renew == "this one" and deed.new_bolt in spent:
        found = f"bolt {deed.new_bolt}, which was already pulled"
        return _no(joint, "set_pulled_before", found, "a bolt that was never pulled", "Enter a new bolt.")
    return None
