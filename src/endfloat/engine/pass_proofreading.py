"""Do the passes of a joint hold together: each bolt in one of them, each order whole, each check answerable?"""

from __future__ import annotations

from collections.abc import Iterable

from endfloat.engine.joints import Joint, listed
from endfloat.engine.passes import WayBack
from endfloat.engine.positions import Located, Path
from endfloat.engine.references import unknown, wrong_kind
from endfloat.problems import Problem
from endfloat.quantities.typed_text import Typed
from endfloat.quantities.units import Kind


def pass_problems(located: Located, here: Path, joint: Joint) -> Iterable[Problem]:
    """Every problem of the joint's sequence, its passes and the checks between them."""
    wanted = [each.number for each in joint.fasteners if each.apart is None]
    if joint.sequence:
        yield from _without_page(located, here, joint.page)
        yield from _order(located, (*here, "sequence"), joint, joint.sequence, wanted)
    for index, described in enumerate(joint.passes):
        path: Path = (*here, "passes", index)
        if described.amount is not None or any(described.amounts.values()) or described.sequence:
            yield from _without_page(located, path, described.page)
        yield from pull_problems(located, (*path, "amount"), described.amount)
        for sort, amount in described.amounts.items():
            if sort not in joint.bolts:
                yield unknown(located, (*path, "amounts", sort), sort, joint.bolts, "bolt")
            yield from pull_problems(located, (*path, "amounts", sort), amount)
        for place, sort in enumerate(described.bolts):
            if sort not in joint.bolts:
                yield unknown(located, (*path, "bolts", place), sort, joint.bolts, "bolt")
        yield from _own_order(located, path, joint, index)
    yield from _left_out(located, here, joint, wanted)
    yield from _checks(located, here, joint)


def pull_problems(located: Located, path: Path, amount: Typed | None) -> Iterable[Problem]:
    """Whether an amount is a torque or an angle above nought."""
    if amount is not None and amount.unit.kind is not Kind.ANGLE:
        yield from wrong_kind(located, path, amount, Kind.TORQUE)
    if amount is not None and amount.unit.kind in (Kind.ANGLE, Kind.TORQUE) and amount.decimal <= 0:
        yield located.problem(
            "not_above_nought", path, found=amount.text, expected="more than nought", remedy="Correct the slip."
        )


def way_back_problems(located: Located, path: Path, joint: Joint, way: WayBack, *, one: bool) -> Iterable[Problem]:
    """Whether a way back can be walked; `one` says that it concerns one bolt, so that "this one" means something."""
    yield from pass_exists(located, (*path, "start_again_at"), joint, way.start_again_at)
    if not one and "this one" in (way.slacken, way.renew):
        remedy = "This concerns the whole joint, not one bolt."
        yield located.problem("no_one_bolt", path, found="`this one`", expected="`all`, `set` or `none`", remedy=remedy)
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


def pass_exists(located: Located, path: Path, joint: Joint, number: int) -> Iterable[Problem]:
    """Whether the joint has a pass of that number."""
    if number > len(joint.passes):
        yield located.problem(
            "unknown_pass",
            path,
            found=f"pass {number}",
            expected=f"a pass from 1 to {len(joint.passes)}",
            remedy="Correct the number, or describe the pass.",
        )


def _without_page(located: Located, path: Path, page: int | None) -> Iterable[Problem]:
    """A number of the service book carries its page; only a blank may be without."""
    if page is None:
        yield located.problem("missing", path, found="nothing", expected="`page`", remedy="Add a line `page:` here.")


def _own_order(located: Located, path: Path, joint: Joint, index: int) -> Iterable[Problem]:
    described = joint.passes[index]
    if not described.sequence:
        return
    if described.bolts:
        yield located.problem(
            "covered_twice",
            (*path, "sequence"),
            found="`bolts` and a `sequence` of its own",
            expected="one of the two",
            remedy="Remove `bolts`; the sequence says which bolts the pass covers.",
        )
    yield from _order(located, (*path, "sequence"), joint, described.sequence, described.sequence)


def _order(located: Located, here: Path, joint: Joint, order: list[str], wanted: list[str]) -> Iterable[Problem]:
    known = [each.number for each in joint.fasteners if each.apart is None]
    pulled_apart = {each.number for each in joint.apart}
    seen: set[str] = set()
    for index, number in enumerate(order):
        path: Path = (*here, index)
        if number in pulled_apart:
            yield located.problem(
                "pulled_apart",
                path,
                found=f"bolt {number}, which is pulled apart from the sequence",
                expected="bolts of the sequence",
                remedy="Take it out here, or remove its `apart`.",
            )
        elif number not in known:
            yield unknown(located, path, number, known, "fastener")
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
            here,
            found=f"a sequence without {listed(missed)}",
            expected=f"all {len(wanted)} bolts of the joint, each once",
            remedy="Put it in where the service book has it.",
        )


def _left_out(located: Located, here: Path, joint: Joint, wanted: list[str]) -> Iterable[Problem]:
    left = [number for number in wanted if joint.last_pass_of(number) == 0]
    if left:
        yield located.problem(
            "in_no_pass",
            (*here, "passes"),
            found=f"no pass for {listed(left)}",
            expected="each bolt in one pass at least",
            remedy="Name it in a pass, or say `apart` where it is pulled on its own.",
        )


def _checks(located: Located, here: Path, joint: Joint) -> Iterable[Problem]:
    for name, check in joint.checks.items():
        path: Path = (*here, "checks", name)
        yield from pass_exists(located, (*path, "after_pass"), joint, check.after_pass)
        if check.failed is not None:
            yield from way_back_problems(located, (*path, "failed"), joint, check.failed, one=False)
        if check.low is not None or check.high is not None:
            yield from _without_page(located, path, check.page)
        for word, bound in (("low", check.low), ("high", check.high)):
            if bound is None:
                continue
            if check.reads is not None:
                yield from wrong_kind(located, (*path, word), bound, check.reads)
                continue
            yield located.problem(
                "limit_of_a_look",
                (*path, word),
                found=f"a limit, {bound.text}, on a look",
                expected="`reads`, the kind of reading that the limit is for",
                remedy="Add `reads: length`, or take the limit out.",
            )
        if check.low is not None and check.high is not None and check.low.exact_si > check.high.exact_si:
            yield located.problem(
                "limits_reversed",
                (*path, "low"),
                found=f"{check.low.text} to {check.high.text}",
                expected="low below high",
                remedy="Exchange them, or correct the slip.",
            )
