"""The plan: solved, judged again, its objections turned into rows, and solved again."""

from __future__ import annotations

from dataclasses import dataclass, replace

from endfloat.decision.prices import Prices
from endfloat.decision.rows import COST, DAYS, Forbidden, Rows, Solution, Solver, rows_of, touching
from endfloat.engine.model import Choice, Engine
from endfloat.inspection.evaluate import spots_of
from endfloat.inspection.judge import Finding, judge_found
from endfloat.inspection.measured import Inputs
from endfloat.inspection.verdicts import Rule

ROUNDS = 20


@dataclass(frozen=True, slots=True)
class Plan:
    """A choice that fits, what it costs in hundredths, how long it takes, and how the judge sees it.

    `status` is "shown to be cheapest", "best found so far" or "no plan"; `rounds` counts how often
    the judge objected to a solved plan.
    """

    status: str
    choice: Choice
    cost: int
    days: int
    findings: tuple[Finding, ...]
    rounds: int
    solver: str

    @property
    def found(self) -> bool:
        """Is there a plan at all?"""
        return self.status != NO_PLAN

    @property
    def out(self) -> list[Finding]:
        """Findings predicted outside their limit: none, for a plan that was worked out."""
        return objections(self.findings)


CHEAPEST_SHOWN, BEST_FOUND, NO_PLAN, BY_HAND = "shown to be cheapest", "best found so far", "no plan", "by hand"


def work_of(engine: Engine, choice: Choice) -> list[tuple[str, str]]:
    """The work items of a choice, in the order of the description: everything but what is left as it is."""
    chosen = [(name, choice[name]) for name in engine.decisions if name in choice]
    return [(name, key) for name, key in chosen if engine.decisions[name].options[key].sort != "as is"]


def missing_needs(engine: Engine, choice: Choice) -> list[str]:
    """What the options of a choice need and do not get, in words."""
    options = [engine.decisions[name].options[key] for name, key in choice.items()]
    missing = []
    for option in options:
        for need in (need for need in option.needs if choice.get(need.decision) != need.option):
            decision = engine.decisions[need.decision]
            wanted = decision.options.get(need.option)
            # A decision whose work is back knows its one option only.
            told = wanted.title if wanted else f"another choice of {decision.title[0].lower()}{decision.title[1:]}"
            missing.append(f"{option.title} needs {told}")
    return missing


def objections(findings: tuple[Finding, ...]) -> list[Finding]:
    """Findings whose predicted value lies outside its limit."""
    return [finding for finding in findings if finding.margin is not None and finding.margin < 0]


def solve(engine: Engine, found: Inputs, rows: Rows, solver: Solver, rule: Rule) -> Plan:
    """The cheapest plan that the judge accepts.

    Each solved plan is the optimum of a relaxation; one that passes the judge is therefore the true optimum.
    """
    for rounds in range(ROUNDS):
        solution = solver(rows)
        if not solution.choice:
            return Plan(NO_PLAN, {}, 0, 0, (), rounds, solution.solver)
        findings = judge_found(engine, found, solution.choice, rule)
        new = [row for finding in objections(findings) if (row := _row(engine, solution.choice, finding))]
        known = {row.together for row in rows.forbidden}
        new = [row for row in new if row.together not in known]
        if not new:
            return _plan(solution, findings, rounds)
        rows = replace(rows, forbidden=(*rows.forbidden, *new))
    return replace(_plan(solution, findings, ROUNDS), status=BEST_FOUND)


def _plan(solution: Solution, findings: tuple[Finding, ...], rounds: int) -> Plan:
    status = CHEAPEST_SHOWN if solution.status == "optimal" else BEST_FOUND
    totals = solution.totals
    return Plan(status, solution.choice, totals[COST], totals[DAYS], findings, rounds, solution.solver)


def _row(engine: Engine, choice: Choice, finding: Finding) -> Forbidden | None:
    if finding.on in engine.quantities or finding.on in engine.characteristics:
        scope = touching(engine, spots_of(engine, finding.on, finding.place))
    else:
        scope = list(choice)
    return Forbidden(finding.key, tuple((name, choice[name]) for name in scope)) if scope else None


def judged_plan(engine: Engine, found: Inputs, prices: Prices, choice: Choice, rule: Rule | None = None) -> Plan:
    """Any choice by hand as a plan: priced and judged, whether it fits or not.

    What an option needs beside it is told by `missing_needs`.
    """
    findings = judge_found(engine, found, choice, rule or Rule())
    options = [engine.decisions[name].options[key] for name, key in choice.items()]
    cost = sum(prices.of(option) for option in options)
    days = max((prices.days(option) for option in options), default=0)
    return Plan(BY_HAND, choice, cost, days, findings, 0, "by hand")


@dataclass(frozen=True, slots=True)
class Priced:
    """A plan as known now, and the plan if everything unmeasured turns out badly; None when none would fit."""

    plan: Plan
    at_worst: Plan | None
    rows: Rows


def decide(engine: Engine, found: Inputs, prices: Prices, solver: Solver, rule: Rule | None = None) -> Priced:
    """The cheapest plan, and its price when what is not measured is planned the other way."""
    rule = rule or Rule()
    rows = rows_of(engine, found, prices)
    plan = solve(engine, found, rows, solver, rule)
    careful = rows_of(engine, found, prices, cautious=True)
    if not plan.found or careful.forbidden == rows.forbidden:
        return Priced(plan, plan if plan.found else None, rows)
    worst = solve(engine, found, careful, solver, rule)
    return Priced(plan, worst if worst.found else None, rows)
