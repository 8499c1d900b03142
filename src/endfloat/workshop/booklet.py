"""The build on paper: every step in the order laid out, to be followed and signed where no computer is at hand."""

from __future__ import annotations

from collections.abc import Sequence

from endfloat.engine.asks import HIDDEN_ANSWERS, asks_of
from endfloat.engine.joints import Joint
from endfloat.engine.operations import Operation
from endfloat.inspection.words import label
from endfloat.job.events import StepConfirmed, StepDoneAgainstAdvice
from endfloat.job.wire import Entry
from endfloat.problems import Problem
from endfloat.workshop.booklet_clocks import clock_lines, straight_on
from endfloat.workshop.booklet_proving import caution_words, proving_on_paper, with_page
from endfloat.workshop.build import Build, build_of
from endfloat.workshop.holds import places_of
from endfloat.workshop.joint_picture import joint_picture
from endfloat.workshop.tightening import JointView, joint_views
from endfloat.workshop.view import View

KIND = "booklet"


def booklet(seen: View, entries: Sequence[Entry]) -> dict[str, object] | Problem:
    """The plain values of the booklet; a Problem when no build order is laid out."""
    build = build_of(seen.state)
    if not build.order:
        remedy = "Lay out the order on the page Build, then print again."
        return Problem("no_order", seen.name, "no build order laid out", "one that is", remedy)
    views = joint_views(seen.state)
    pulled = list(dict.fromkeys(p.joint for s in build.order if (p := build.step(s).pulls)))
    signed = {e.operation: e for e in build.events if isinstance(e, StepConfirmed | StepDoneAgainstAdvice)}
    return {
        "name": f"{seen.name} (invented)" if seen.engine.invented else seen.name,
        "record": f"record {entries[-1].fingerprint[:16]}" if entries else "",
        "joints": [{"name": name, "picture": joint_picture(views[name], ring=False)} for name in pulled],
        "left_and_right": {"left", "right"} <= {bank for f in seen.engine.places.values() for bank in f.bank},
        "visits": _visits(build),
        "steps": [
            {
                **_step(seen, build, step),
                "pulls": _pulls(views, pulled, build.step(step)),
                "done": f"Done, {e.by}, {e.at[:16].replace('T', ' ')}"
                if step in build.done and (e := signed.get(step))
                else "",
            }
            for step in build.order
        ],
        "proving": proving_on_paper(seen.engine),
    }


def _visits(build: Build) -> list[str]:
    """Each call of a helper: from which step to which, and how long at most."""
    told = []
    for visit in build.engine.relations.second_person:
        numbers = sorted(build.number(step) for step in visit.operations)
        told.append(f"Steps {numbers[0]} to {numbers[-1]}, {visit.minutes} minutes at most: {visit.why}.")
    return sorted(told, key=lambda words: int(words.split()[1]))


def _step(seen: View, build: Build, name: str) -> dict[str, object]:
    step, banks, asks = build.step(name), _banks(seen), asks_of(build.engine, name)
    before = [build.step(each).attitude for each in build.order[: build.number(name) - 1]]
    hangs = next((each for each in reversed(before) if each), "")
    helper, may_go = _helper(build, name)
    return {
        "number": build.number(name),
        "title": step.title,
        "at": step.at,
        "bank": step.bank.upper(),
        "falling": step.bank in banks[1:],
        "turn": step.attitude if step.attitude != hangs else "",
        "set_up": _set_up(step),
        "cautions": [caution_words(each) for each in step.cautions],
        "why": step.why,
        "helper": helper,
        "may_go": may_go,
        "closes": step.closes,
        "alters": f"{step.alters.part}: {step.alters.where}. {step.alters.why}" if step.alters else "",
        "measures": [
            label(seen.engine, measured.of, place) for measured in step.measures for place in places_of(seen, measured)
        ],
        "compounds": [with_page(f"{each.what} on {each.on}", each.page) for each in step.compounds],
        "looks": [{"what": look.what, "two": look.second_person} for look in asks.looks],
        "two_names": any(look.second_person for look in asks.looks),
        "mark": asks.mark,
        "counts": [{"what": what, "wanted": wanted} for what, wanted in asks.counts.items()],
        "hides": [{"part": part, "answers": list(HIDDEN_ANSWERS.values())} for part in asks.hides],
        "clocks": clock_lines(build, name),
        "straight_on": straight_on(build, name),
    }


def _banks(seen: View) -> list[str]:
    return list(dict.fromkeys(bank for family in seen.engine.places.values() for bank in family.bank))


def _set_up(step: Operation) -> str:
    people = "1 person" if step.persons == 1 else f"{step.persons} people"
    tools = [f"Tool: {', '.join(step.tools)}"] if step.tools else []
    page = [f"service book page {step.page}"] if step.page else []
    return " · ".join([*tools, people, f"about {step.minutes} {'minute' if step.minutes == 1 else 'minutes'}", *page])


def _helper(build: Build, name: str) -> tuple[str, bool]:
    """What a step says of a helper, and whether the helper may go after it."""
    for visit in build.engine.relations.second_person:
        steps = sorted(visit.operations, key=build.number)
        first, last = build.number(steps[0]), build.number(steps[-1])
        if first <= build.number(name) <= last:
            number = build.number(name)
            words = "Call the helper" if number == first else "The helper stays"
            until = "for this step" if number == last else f"until step {last}, {build.step(steps[-1]).title}"
            return f"{words} {until}.", number == last
    return "", False


def _pulls(views: dict[str, JointView], pulled: list[str], step: Operation) -> dict[str, object] | None:
    """What a step pulls: the joint, each pass with its bolts in order and amounts, and what stands apart."""
    if step.pulls is None:
        return None
    joint = views[step.pulls.joint].joint
    return {
        "index": pulled.index(step.pulls.joint),
        "title": joint.title,
        "cautions": [caution_words(each) for each in joint.cautions],
        "passes": [row for number in step.pulls.passes for row in _pass_rows(joint, number)],
        "apart": [
            {"bolt": f.number, "where": f.easily_missed, "amount": f.apart.amount.text if f.apart.amount else ""}
            for f in joint.apart
            if f.apart is not None and step.pulls.closed
        ],
        "checks": [
            f"After pass {check.after_pass}, at {', '.join(check.at)}: {check.asks}"
            + (f" {check.limit}" if check.limit else "")
            for check in joint.checks.values()
            if check.after_pass in step.pulls.passes
        ],
        "closed": step.pulls.closed,
        "single_use": joint.single_use,
    }


def _pass_rows(joint: Joint, number: int) -> list[dict[str, object]]:
    """One line an amount, so that sorts pulled alike keep their one order; what is not known is left to write in."""
    described, order = joint.passes[number - 1], joint.order(number)
    alike: dict[tuple[str, str], list[str]] = {}
    for sort in joint.sorts_in(number):
        amount = joint.amount_for(number, sort)
        # Two blanks may turn out to be two amounts.
        alike.setdefault((amount.text, "") if amount else ("", sort), []).append(sort)
    rows = []
    for (text, _), sorts in alike.items():
        mine = [bolt for bolt in order or () if (f := joint.fastener(bolt)) and f.bolt in sorts]
        rows.append(
            {
                "number": number,
                "sort": _sort_words(joint, sorts, mine),
                "bolts": ", ".join(mine),
                "amount": text,
                "note": described.note,
                "page": described.page or "",
            }
        )
    return rows


def _sort_words(joint: Joint, sorts: Sequence[str], bolts: Sequence[str]) -> str:
    """The sorts of a line; of those after the first, which bolts they are."""
    first, *others = (sort.replace("_", " ") for sort in sorts)
    told = [first]
    for sort, words in zip(sorts[1:], others, strict=True):
        told.append(f"{words} at {', '.join(bolt for bolt in bolts if (f := joint.fastener(bolt)) and f.bolt == sort)}")
    return "; ".join(told)
