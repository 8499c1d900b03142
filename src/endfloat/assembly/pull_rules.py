"""Why a deed may not be done at a joint now; every rule it quotes is one of the joint's description."""

from __future__ import annotations

from endfloat.assembly.tightening import (
    APART,
    FEELS,
    Condemn,
    Deed,
    Fit,
    GoBack,
    LookAt,
    Progress,
    Pull,
    Trouble,
    Undo,
    apart_left,
    checks_left,
    everything_left,
    left_in_pass,
    next_check,
    next_pull,
    pause,
    way_back,
)
from endfloat.engine.joints import Joint, listed
from endfloat.engine.passes import Check
from endfloat.problems import Problem, quoted
from endfloat.quantities.typed_text import read_typed


def objection(joint: Joint, progress: Progress, deed: Deed, *, pulled_before: frozenset[str]) -> Problem | None:
    """Why a deed may not be done now; None when it may.

    `pulled_before` holds the names of all sets and bolts that were ever pulled in this job.
    """
    if isinstance(deed, Fit):
        return _against_set(joint, deed.name, pulled_before)
    if not progress.fitted:
        return _no(joint, "no_bolt_set", "no bolts", "a named set of bolts", "Enter the set that is in.")
    if isinstance(deed, Undo):
        return None
    if progress.closed:
        return _no(joint, "joint_closed", "a closed joint", "an open one", "Opening it again needs bolts fitted anew.")
    if isinstance(deed, Pull):
        return _against_pull(joint, progress, deed)
    if isinstance(deed, Condemn):
        return _against_condemning(joint, progress, deed)
    if isinstance(deed, LookAt):
        return _against_looking(joint, progress, deed)
    if isinstance(deed, GoBack):
        return _against_going_back(joint, progress, deed, pulled_before)
    if progress.trouble is not None:
        return _rule_first(joint, progress.trouble)
    left = everything_left(joint, progress)
    if left:
        found = f"{'; '.join(left)}: not yet done"
        return _no(joint, "not_all_pulled", found, "every bolt pulled in every pass", "Do what is left first.")
    return None


def page_words(page: int | None) -> str:
    """The page of the service book, or that the description names none."""
    return f"page {page}" if page else "a page that your description does not name"


def blanks_of(joint: Joint, number: int, bolt: str) -> list[tuple[str, int | None]]:
    """What a pull still needs from the service book, each with its page: `amount`, `sequence` of the pass or joint."""
    if number == APART:
        fastener = joint.fastener(bolt)
        apart = fastener.apart if fastener else None
        return [("amount", apart.page)] if apart is not None and apart.amount is None else []
    described = joint.passes[number - 1]
    found: list[tuple[str, int | None]] = []
    if joint.order(number) is None:
        own = described.sequence is None
        found.append(("sequence of the pass", described.page) if own else ("sequence", joint.page))
    if any(joint.amount_for(number, sort) is None for sort in joint.sorts_in(number)):
        found.append(("amount", described.page))
    return found


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
    if fastener is None or apart is not (fastener.apart is not None) or not 0 <= deed.pass_number <= len(joint.passes):
        return _no(joint, "unknown_bolt", f"bolt {deed.bolt}", "a bolt of this joint", "Look at the drawing again.")
    if not apart and deed.bolt not in joint.covered(deed.pass_number):
        expected = f"a bolt of pass {deed.pass_number}: {', '.join(joint.covered(deed.pass_number))}"
        return _no(joint, "not_in_pass", f"bolt {deed.bolt}", expected, "This pass does not cover it. Leave it.")
    if progress.trouble is not None:
        return _rule_first(joint, progress.trouble)
    if (deed.pass_number, deed.bolt) in progress.pulled:
        found = f"bolt {deed.bolt} a second time in pass {deed.pass_number}"
        remedy = "Go on with the next bolt. If it was pulled twice on the engine, say so under `Felt wrong`."
        return _no(joint, "pulled_already", found, "each bolt once a pass", remedy)
    stopped = None if apart else pause(joint, progress, deed.at)
    if stopped:
        stop, words = stopped
        remedy = f"Your description says: {stop.words}. {stop.caution}".strip()
        return _no(joint, "stopped_too_long", words, f"a pause of at most {stop.longest.text}", remedy)
    return _blank(joint, deed) or _out_of_turn(joint, progress, deed)


def _blank(joint: Joint, deed: Pull) -> Problem | None:
    for what, page in blanks_of(joint, deed.pass_number, deed.bolt):
        where = f"bolt {deed.bolt}" if deed.pass_number == APART else f"pass {deed.pass_number}"
        code = "amount_missing" if what == "amount" else "sequence_missing"
        remedy = f"Look it up on {page_words(page)} and enter it; nothing is suggested."
        return _no(joint, code, f"no {what} for {where}", "what the service book says", remedy)
    return None


def _out_of_turn(joint: Joint, progress: Progress, deed: Pull) -> Problem | None:
    fastener = joint.fastener(deed.bolt)
    if fastener is not None and fastener.apart is not None:
        return _too_early(joint, progress, fastener.apart.after_pass + 1, f"bolt {deed.bolt}")
    early = _too_early(joint, progress, deed.pass_number, f"pass {deed.pass_number}")
    upcoming = next_pull(joint, progress)
    if early or upcoming is None or upcoming[1] == deed.bolt:
        return early
    found, expected = f"bolt {deed.bolt}", f"bolt {upcoming[1]}, which is next in the sequence"
    remedy = f"Pull bolt {upcoming[1]} first ({page_words(joint.page)}). If bolt {deed.bolt} was pulled, say so under"
    return _no(joint, "out_of_sequence", found, expected, f"{remedy} `Felt wrong`.")


def _too_early(joint: Joint, progress: Progress, number: int, what: str) -> Problem | None:
    for earlier in range(1, number):
        left = left_in_pass(joint, progress, earlier)
        if left:
            found = f"{what} before pass {earlier} is complete"
            verb = "is" if len(left) == 1 else "are"
            words = listed(left)
            remedy = f"{words[0].upper()}{words[1:]} {verb} not yet pulled in pass {earlier}."
            return _no(joint, "pass_too_early", found, f"pass {earlier} complete", remedy)
        checks = checks_left(joint, progress, earlier)
        if checks:
            found = f"{what} before {checks[0]}"
            return _no(joint, "check_first", found, f"what stands after pass {earlier}", "Look first, then go on.")
    return None


def _rule_first(joint: Joint, trouble: Trouble) -> Problem:
    way = trouble.way_back
    remedy = f"Your description says: {way.words}." if way else "Your description has no rule. Fit a new set."
    return _no(joint, "rule_first", trouble.what, "the way back carried out first", remedy)


def _against_condemning(joint: Joint, progress: Progress, deed: Condemn) -> Problem | None:
    if progress.trouble is not None:
        return _rule_first(joint, progress.trouble)
    if deed.feel not in FEELS:
        return _no(joint, "unknown_feel", quoted(deed.feel), "one of those on the page", "Say what happened.")
    if not deed.bolt:
        return _no(joint, "no_bolt", "no bolt chosen", "the bolt in hand, or one already pulled", "Choose the bolt.")
    upcoming = next_pull(joint, progress)
    in_hand = [upcoming, *((APART, bolt) for bolt in apart_left(joint, progress)), *progress.pulled]
    if upcoming is not None and deed.feel == "out_of_turn":
        # A bolt that was skipped over is found only when a later one of the same pass was pulled.
        in_hand = [(upcoming[0], bolt) for bolt in left_in_pass(joint, progress, upcoming[0])[1:]]
    elif deed.feel in ("pulled_twice", "out_of_turn"):
        in_hand = [*progress.pulled]
    if (deed.pass_number, deed.bolt) not in in_hand:
        expected = {
            "pulled_twice": "a bolt that is pulled already",
            "out_of_turn": "a bolt of this pass whose turn has not come",
        }.get(deed.feel, "the bolt in hand, or one already pulled")
        return _no(joint, "unknown_bolt", f"bolt {deed.bolt} in pass {deed.pass_number}", expected, "Choose it again.")
    return None


def _against_looking(joint: Joint, progress: Progress, deed: LookAt) -> Problem | None:
    check = joint.checks.get(deed.check)
    if check is None or deed.place not in check.at:
        return _no(
            joint, "unknown_check", f"`{deed.check}` at {deed.place}", "a check of this joint", "Choose it again."
        )
    if progress.trouble is not None:
        return _rule_first(joint, progress.trouble)
    if check.blank:
        remedy = f"Look it up on {page_words(check.page)}, write it into your description and read that again."
        return _no(joint, "limit_missing", "no limit for this check", "what the service book says", remedy)
    early = _too_early(joint, progress, check.after_pass, "the check") or _pass_left(joint, progress, check.after_pass)
    if early:
        return early
    if progress.outcome(deed.check, deed.place) == "good":
        return _no(joint, "checked_already", f"{deed.place} a second time", "each place once", "Go on.")
    due = next_check(joint, progress)
    if due is not None and due != (deed.check, deed.place):
        return _no(joint, "other_check", f"{deed.check} at {deed.place}", f"{due[0]} at {due[1]} first", "Look again.")
    return _unreadable(joint, check, deed)


def _pass_left(joint: Joint, progress: Progress, number: int) -> Problem | None:
    left = left_in_pass(joint, progress, number)
    if not left:
        return None
    return _no(
        joint, "pass_too_early", "the check in the middle of a pass", f"pass {number} complete", f"{listed(left)}."
    )


def _unreadable(joint: Joint, check: Check, deed: LookAt) -> Problem | None:
    if check.reads is None:
        if deed.text in ("yes", "no"):
            return None
        return _no(joint, "no_answer", f"`{deed.text}`" if deed.text else "no answer", "yes or no", "Look and say it.")
    read = read_typed(deed.text, kind=check.reads, place=f"{joint.title}, {deed.place}")
    return read if isinstance(read, Problem) else None


def _against_going_back(joint: Joint, progress: Progress, deed: GoBack, spent: frozenset[str]) -> Problem | None:
    way = way_back(joint, progress, deed.at)
    if way is None:
        in_trouble = progress.trouble is not None
        found = "no rule in the description" if in_trouble else "nothing that calls for going back"
        remedy = "Fit a new set." if in_trouble else "Go on with the next bolt."
        return _no(joint, "no_way_back", found, "a rule of the description", remedy)
    if way.renew == "set":
        return _no(joint, "new_set_needed", "the old set", "a new set", f"{way.words}. Enter a new set.")
    if way.renew == "this one" and not deed.new_bolt.strip():
        return _no(joint, "no_new_bolt", "no name", "the new bolt", "Write a name on the new bolt's bag and type it.")
    if way.renew == "this one" and deed.new_bolt in spent:
        found = f"bolt {deed.new_bolt}, which was already pulled"
        return _no(joint, "set_pulled_before", found, "a bolt that was never pulled", "Enter a new bolt.")
    return None
