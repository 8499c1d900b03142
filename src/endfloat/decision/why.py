"""Why this work, why not cheaper, what else would do, and why there is no plan."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from endfloat.decision.plan import Plan, objections, solve, work_of
from endfloat.decision.prices import Prices
from endfloat.decision.rows import DAYS, Picked, Rows, Solver
from endfloat.engine.book_units import book_unit
from endfloat.engine.model import Choice, Engine
from endfloat.engine.sentences import capital
from endfloat.inspection.evaluate import evaluate
from endfloat.inspection.judge import Finding, judge_found
from endfloat.inspection.measured import Inputs
from endfloat.inspection.resolved import resolve
from endfloat.inspection.verdicts import Rule
from endfloat.inspection.words import place_words, sentence, thing_words
from endfloat.quantities.estimates import Estimate
from endfloat.quantities.shown_text import shown_number


@dataclass(frozen=True, slots=True)
class Question:
    """Everything an explanation is asked of."""

    engine: Engine
    found: Inputs
    prices: Prices
    rows: Rows
    solver: Solver
    rule: Rule

    def judged(self, choice: Choice) -> list[Finding]:
        """What lies outside its limit under a choice: first what is out just as found, then worst by
        share of its span."""
        as_found = {f.key: f.margin for f in objections(judge_found(self.engine, self.found, {}, self.rule))}
        findings = judge_found(self.engine, self.found, choice, self.rule)

        def order(finding: Finding) -> tuple[bool, float]:
            margin = finding.margin or 0
            return as_found.get(finding.key) != margin, margin / (_span(finding) or 1)

        return sorted(objections(findings), key=order)

    def solved(self, rows: Rows) -> Plan:
        """The best plan of changed rows."""
        return solve(self.engine, self.found, rows, self.solver, self.rule)


def _span(finding: Finding) -> float:
    low, high = finding.bounds.low, finding.bounds.high
    return (high - low) if low is not None and high is not None else abs(high or low or 1.0)


def why(question: Question, plan: Plan, item: Picked) -> str:
    """The reason for one work item: the finding that turns when it is left out, or what it needs."""
    engine = question.engine
    name, key = item
    decision = engine.decisions[name]
    if decision.as_found is None:
        cheaper = min(question.prices.of(option) for option in decision.options.values())
        if question.prices.of(decision.options[key]) <= cheaper:
            return "It is renewed whenever the engine is apart."
    turned = _turned(question, plan, item)
    if turned:
        cause = _goes_with(question, plan, item, turned[0])
        words = sentence(engine, turned[0])
        return f"It goes with: {cause}. Without it: {words}" if cause else words
    instead = question.solved(question.rows.without(item))
    if not instead.found:
        return "Nothing else fits in its place."
    return f"Without it the cheapest plan costs {question.prices.shown(instead.cost - plan.cost)} more."


def _goes_with(question: Question, plan: Plan, item: Picked, finding: Finding) -> str:
    """The other work item that makes this one needed: without both, the finding is as it was before the work."""
    found = {each.key: each.margin for each in judge_found(question.engine, question.found, {}, question.rule)}
    if found.get(finding.key) == finding.margin:
        return ""
    without = _left_out(question.engine, plan.choice, item)
    for other in work_of(question.engine, plan.choice):
        if other[0] != item[0] and question.engine.decisions[other[0]].as_found is not None:
            both = _left_out(question.engine, without, other)
            if finding.key not in {each.key for each in question.judged(both)} or found.get(finding.key) == next(
                each.margin for each in question.judged(both) if each.key == finding.key
            ):
                return question.engine.decisions[other[0]].options[other[1]].title
    return ""


def _left_out(engine: Engine, choice: Choice, item: Picked) -> Choice:
    decision = engine.decisions[item[0]]
    other = decision.as_found or next((key for key in decision.options if key != item[1]), item[1])
    return {**choice, item[0]: other}


def _turned(question: Question, plan: Plan, item: Picked) -> list[Finding]:
    """What falls out of limits when an item gives way to the cheapest other option."""
    name, key = item
    options = question.engine.decisions[name].options
    others = sorted(
        (other for other in options if other != key),
        key=lambda other: (options[other].sort != "as is", question.prices.of(options[other])),
    )
    # Pistons go with their bores: what an option needs is left out with it.
    for other in others:
        without = {**plan.choice, name: other}
        for need in options[key].needs:
            as_found = question.engine.decisions[need.decision].as_found
            if as_found is not None:
                without[need.decision] = as_found
        turned = question.judged(without)
        if turned:
            return turned
    return []


def why_not_cheaper(question: Question, plan: Plan) -> Iterator[str]:
    """Each cheaper option of each decision, and what it would put out of limits.

    One that needs something of a decision whose work is back is none any more.
    """
    engine = question.engine
    for name, key in plan.choice.items():
        paid = question.prices.of(engine.decisions[name].options[key])
        for other, option in engine.decisions[name].options.items():
            closed = any(need.option not in engine.decisions[need.decision].options for need in option.needs)
            if other == key or closed or question.prices.of(option) > paid:
                continue
            without = {**plan.choice, name: other}
            without |= {need.decision: need.option for need in option.needs}
            turned = question.judged(without)
            if turned:
                yield f"{capital(option.title)}: {sentence(engine, turned[0])}"


def variants(question: Question, plan: Plan) -> Iterator[tuple[Picked, Plan]]:
    """For each work item, the best plan that does it another way, or not at all; nothing where none fits."""
    for item in work_of(question.engine, plan.choice):
        other = question.solved(question.rows.without(item))
        if other.found:
            yield item, other


def next_best(question: Question, plan: Plan, count: int = 2) -> list[Plan]:
    """Plans that drop at least one work item of every better plan."""
    rows, plans = question.rows, [plan]
    while len(plans) <= count:
        rows = rows.without(*work_of(question.engine, plans[-1].choice), name="another plan")
        other = question.solved(rows)
        if not other.found:
            break
        plans.append(other)
    return plans[1:]


def money_against_days(question: Question) -> list[Plan]:
    """The cheapest plan for each time within which one is possible, quickest last."""
    curve: list[Plan] = []
    rows = question.rows
    while True:
        plan = question.solved(rows)
        if not plan.found:
            return curve
        curve.append(plan)
        slow = [item for item, days in rows.days.items() if days >= plan.days]
        for item in slow:
            rows = rows.without(item, name=DAYS)


def no_plan(question: Question) -> list[str]:
    """A smallest set of requirements that no plan meets together, each as a sentence.

    Requirements are tried in the order of the description, so the same data give the same sentences.
    """
    rows = question.rows
    names = list(dict.fromkeys(row.requirement for row in rows.forbidden))
    kept = list(names)
    for name in names:
        fewer = [other for other in kept if other != name]
        part = replace(rows, forbidden=tuple(row for row in rows.forbidden if row.requirement in set(fewer)))
        if not question.solver(part).choice:
            kept = fewer
    found = {finding.key: finding for finding in judge_found(question.engine, question.found, {}, question.rule)}
    return [_no_option(question.engine, name, found.get(name)) for name in kept]


def _no_option(engine: Engine, name: tuple[str, str, str], finding: Finding | None) -> str:
    if finding is not None:
        return f"No work makes this fit: {sentence(engine, finding)}"
    if name[0] == "needs":
        return f"{capital(engine.decisions[name[1]].options[name[2]].title)} needs other parts."
    _, decision, option = name[0].split()
    return f"{capital(engine.decisions[decision].options[option].title)} would not clean up {name[2]}."


def knock_ons(question: Question, plan: Plan) -> list[str]:
    """What the plan changes that a person might not expect, in the description's own words."""
    engine = question.engine
    told = [name for name, quantity in engine.quantities.items() if quantity.knock_on]
    before = evaluate(engine, resolve(engine, question.found, {}), told)
    after = evaluate(engine, resolve(engine, question.found, plan.choice), told)
    sentences: list[str] = []
    for name in told:
        unit = book_unit(engine, name)
        changes: dict[str, list[str]] = {}
        for place, answer in after[name].items():
            was = before[name][place]
            if isinstance(answer, Estimate) and isinstance(was, Estimate) and abs(answer.value - was.value) > 1e-9:
                change = f"from {shown_number(was.value, unit)} to {shown_number(answer.value, unit)} {unit.shown}"
                changes.setdefault(change, []).append(place_words(engine, name, place))
        for change, places in changes.items():
            where = " and ".join(word for word in places if word)
            what = f"{where}, {thing_words(name)}" if where else thing_words(name)
            sentences.append(f"{engine.quantities[name].knock_on} {capital(what)}: {change}.")
    return sentences
