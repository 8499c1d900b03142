"""Work out a plan, try another, agree to one, and withdraw the agreement."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from importlib.metadata import version

from endfloat.decision.plan import Plan, Priced, decide, judged_plan, missing_needs, work_of
from endfloat.decision.rows import Solver
from endfloat.decision.void import renewal_of
from endfloat.decision.why import Question, why
from endfloat.engine.model import Choice
from endfloat.inspection.verdicts import Rule, Verdict
from endfloat.inspection.words import label
from endfloat.job.events import Event, PlanAgreed, PlanWithdrawn
from endfloat.job.state import State, after, refusal
from endfloat.problems import Problem
from endfloat.workshop.ports import Clock, Store
from endfloat.workshop.record import write
from endfloat.workshop.sheets import described
from endfloat.workshop.take_in_parts import work_come_in
from endfloat.workshop.view import View, view


@dataclass(frozen=True, slots=True)
class Planned:
    """A priced plan and the question that its reasons are asked of."""

    priced: Priced
    question: Question

    @property
    def plan(self) -> Plan:
        """The plan as known now."""
        return self.priced.plan


def no_prices(seen: View) -> Problem:
    """What is missing before anything can be planned."""
    return Problem("no_prices", seen.name, "no price list", "prices.yaml", "Add prices.yaml beside the engine.")


def work_out(seen: View, solver: Solver) -> Planned | Problem:
    """The cheapest plan of a job as it stands."""
    if seen.prices is None:
        return no_prices(seen)
    priced = decide(seen.engine, seen.found, seen.prices, solver)
    return Planned(priced, Question(seen.engine, seen.found, seen.prices, priced.rows, solver, Rule()))


def tried(seen: View, choice: Mapping[str, str]) -> Plan | Problem:
    """Any choice by hand, judged and priced; a Problem names what the engine does not know."""
    if seen.prices is None:
        return no_prices(seen)
    whole: Choice = {}
    for name, decision in seen.engine.decisions.items():
        key = choice.get(name) or decision.as_found or next(iter(decision.options))
        if key not in decision.options:
            known = ", ".join(decision.options)
            return Problem("unknown_option", decision.title, f"`{key}`", f"one of {known}", "Choose again.")
        whole[name] = key
    return judged_plan(seen.engine, seen.found, seen.prices, whole)


def open_findings(plan: Plan) -> int:
    """How many requirements of a plan are not yet Good."""
    return sum(finding.verdict is not Verdict.GOOD for finding in plan.findings)


def agree(
    store: Store, clock: Clock, solver: Solver, *, choice: Mapping[str, str], evidence: str, by: str
) -> Problem | None:
    """Record that a person agrees to a plan, with its reasons; refused when a reading changed since it was shown.

    What it buys and is in the house already is back with it.
    """

    def decided(state: State) -> list[Event] | Problem:
        seen = view(state)
        plan = tried(seen, choice)
        if isinstance(plan, Problem):
            return plan
        if (
            state.agreed is not None
            and not state.stale
            and state.agreed.choice == plan.choice
            and state.agreed.by == by
        ):
            return []
        if seen.evidence_hash != evidence:
            remedy = "Look at the plan again, then agree."
            return Problem("plan_went_stale", "the plan", "a reading changed since", "the plan you saw", remedy)
        if plan.out:
            found = f"{len(plan.out)} requirements predicted out of limits"
            return Problem(
                "does_not_fit", "the plan", found, "a plan that fits", "Change it, or take the one worked out."
            )
        missing = missing_needs(seen.engine, plan.choice)
        if missing:
            return Problem("does_not_fit", "the plan", "; ".join(missing), "both or neither", "Change one of the two.")
        planned = work_out(seen, solver)
        if isinstance(planned, Problem):
            return planned
        agreed = _agreed(seen, plan, planned, evidence, by)
        if refusal(state, agreed):
            return [agreed]
        key = f"agreed {len(state.bench)}"
        return [agreed, *work_come_in(after(state, agreed), key=key, by=by.strip(), at=clock())]

    return write(store, clock, decided)


def _agreed(seen: View, plan: Plan, planned: Planned, evidence: str, by: str) -> PlanAgreed:
    """What goes on the record: the plan worked out keeps its proof, any other choice is called one by hand."""
    worked_out = planned.plan if planned.plan.choice == plan.choice else plan
    worst = planned.priced.at_worst
    void = renewal_of(described(seen), planned.question.prices, plan.choice)
    return PlanAgreed(
        choice=plan.choice,
        cost=plan.cost,
        days=max(plan.days, void.days(planned.question.prices)),
        open_verdicts=open_findings(plan),
        status=worked_out.status,
        solver=worked_out.solver,
        program=f"endfloat {version('endfloat')}",
        evidence=evidence,
        by=by.strip(),
        reasons={item[0]: why(planned.question, plan, item) for item in work_of(seen.engine, plan.choice)},
        still_open=tuple(label(seen.engine, f.on, f.place) for f in plan.findings if f.verdict is not Verdict.GOOD),
        cost_at_worst=worst.cost if worst else None,
        void_cost=void.cost(planned.question.prices),
    )


def withdraw(store: Store, clock: Clock, *, by: str) -> Problem | None:
    """Record that the agreement no longer holds."""
    return write(store, clock, lambda state: [PlanWithdrawn(by.strip())])


def work_titles(seen: View, choice: Choice) -> list[str]:
    """The work items of a choice in words."""
    return [seen.engine.decisions[name].options[key].title for name, key in work_of(seen.engine, choice)]
